"""The lake: polygons with islands, a closed track, or corners in a table."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np
import shapely

from lakemap.basis.errors import ProblemLog
from lakemap.basis.records import Geometry
from lakemap.inputs.cells import RawTable, Sheet
from lakemap.inputs.outlines import group_corners, mend_area, ring_of
from lakemap.inputs.positions import POSITION, read_positions

COLUMNS: Mapping[str, None] = MappingProxyType({"part": None, "island": None, "note": None})
ROUGH_NOTE: Final = "rough square"
_MOST_DEGREES = 10.0  # no lake that floats are moored in is wider
_GAP_SHARE = 0.2  # of the outline's length: a track that ends so far from its start is no outline


@dataclass(frozen=True, slots=True, kw_only=True)
class LakeShape:
    """The lake's outline in lon, lat."""

    outline: Geometry  # MultiPolygon
    island_names: tuple[str | None, ...]
    rough: bool


def read_lake(table: RawTable, log: ProblemLog, *, crs: str) -> LakeShape | None:
    """Read the lake.

    Parameters
    ----------
    table : RawTable
        As read.
    log : ProblemLog
        Gains every problem.
    crs : str
        Of x, y columns.

    Returns
    -------
    LakeShape or None
        None where a problem was told.
    """
    sheet = Sheet(table, {**COLUMNS, **POSITION}, log)
    found = _from_corners(sheet, crs) if table.geometry is None else _from_shapes(sheet)
    if found is None:
        return None
    outline, names = found
    west, south, east, north = shapely.bounds(outline).tolist()
    if abs(south) > 90 or abs(north) > 90 or abs(west) > 180 or abs(east) > 180:  # noqa: PLR2004
        text = (
            f"the lake reaches from {west:g}, {south:g} to {east:g}, {north:g}: lon, lat is wanted"
        )
        sheet.tell("off_map", text, None)
        return None
    if max(east - west, north - south) > _MOST_DEGREES:
        text = "the lake is over ten degrees wide; are lon and lat mixed up in some rows?"
        sheet.tell("too_wide", text, None)
        return None
    rough = any(note == ROUGH_NOTE for note in sheet.text("note"))
    if rough:
        text = "the outline is only a rough square; draw the real shore before you rely on a gap"
        sheet.caution("lake_is_rough", text, None)
    return LakeShape(outline=outline, island_names=names, rough=rough)


def _from_corners(sheet: Sheet, crs: str) -> tuple[Geometry, tuple[str | None, ...]] | None:
    """Rings from a table of corners: one outline per part, its islands as holes."""
    lonlat = read_positions(sheet, crs=crs)
    if not len(sheet):
        sheet.tell("no_corners", "no corners yet; write one corner of the shore a row", None)
        return None
    parts = [(text or "").lower() for text in sheet.text("part")]
    islands = sheet.text("island")
    groups = group_corners(list(zip(parts, islands, strict=True)), lonlat)
    rings = {
        key: ring_of(corners, sheet, _called(key[1]))  # type: ignore[index]
        for key, corners in groups.items()
    }
    if any(ring is None for ring in rings.values()):
        return None
    outlines = {key[0]: ring for key, ring in rings.items() if key[1] is None}  # type: ignore[index]
    holes = [(key[1], ring, groups[key].row) for key, ring in rings.items() if key[1] is not None]  # type: ignore[index]
    bodies = _with_holes(sheet, list(outlines.values()), holes)
    if bodies is None:
        return None
    names = tuple(name for _, held in bodies for name, _ in held)
    mended = [
        mend_area(shapely.Polygon(outline, [ring for _, ring in held]), sheet, 0, "the lake")
        for outline, held in bodies
    ]
    if any(area is None for area in mended):
        return None
    return _joined(sheet, mended, names)


def _called(island: str | None) -> str:
    return "the shore" if island is None else f"island {island!r}"


def _with_holes(
    sheet: Sheet, outlines: list[Geometry], holes: list[tuple[str, Geometry, int]]
) -> list[tuple[Geometry, list[tuple[str, Geometry]]]] | None:
    """Give each island to the outline that holds it."""
    if not outlines:
        sheet.tell(
            "no_shore", "all corners belong to islands; leave `island` blank on the shore", 0
        )
        return None
    bodies: list[tuple[Geometry, list[tuple[str, Geometry]]]] = [(one, []) for one in outlines]
    sound = True
    for name, ring, row in holes:
        island = shapely.polygons(ring)
        for outline, held in bodies:
            if shapely.covers(shapely.make_valid(shapely.polygons(outline)), island):
                held.append((name, ring))
                break
        else:
            sheet.tell("island_outside", f"island {name!r} reaches outside the shore", row)
            sound = False
    return bodies if sound else None


def _from_shapes(sheet: Sheet) -> tuple[Geometry, tuple[str | None, ...]] | None:
    """Areas of a vector layer, closed lines among them."""
    areas = [_area_of(sheet, row, shape) for row, shape in enumerate(sheet.table.geometry)]
    if not areas:
        sheet.tell("no_features", "the file holds no outline", None)
        return None
    if any(area is None for area in areas):
        return None
    mended = [mend_area(area, sheet, row, "the lake") for row, area in enumerate(areas)]
    if any(area is None for area in mended):
        return None
    return _joined(sheet, mended, None)


def _area_of(sheet: Sheet, row: int, shape: Geometry) -> Geometry | None:
    """An area as it is; a line closed to one, where it nearly is."""
    if shape.geom_type in {"Polygon", "MultiPolygon"}:
        return shape
    if shape.geom_type not in {"LineString", "LinearRing", "MultiLineString"}:
        kind = shape.geom_type.lower()
        sheet.tell("not_an_outline", f"a {kind} is no outline; draw the shore as an area", row)
        return None
    merged = shapely.line_merge(shape)
    line = merged if merged.geom_type == "LineString" else shapely.get_parts(merged)[0]
    xy = shapely.get_coordinates(line)
    gap = float(np.hypot(*(xy[0] - xy[-1])))
    if merged.geom_type != "LineString" or len(xy) < 4 or gap > _GAP_SHARE * shapely.length(line):  # noqa: PLR2004
        text = "the line does not come back to its start; walk or draw the whole shore"
        sheet.tell("open_outline", text, row)
        return None
    if gap > 0:
        text = f"the line was closed over a gap of about {gap * 111_000:.0f} m"
        sheet.caution("outline_closed", text, row)
    return shapely.polygons(np.vstack([xy, xy[:1]]) if gap > 0 else xy)


def _joined(
    sheet: Sheet, areas: list[Geometry], names: tuple[str | None, ...] | None
) -> tuple[Geometry, tuple[str | None, ...]]:
    """All parts as one multipolygon; overlapping ones are joined, and that is told."""
    parts = shapely.get_parts(shapely.get_parts(areas))
    outline = shapely.MultiPolygon(list(parts))
    if not shapely.is_valid(outline):
        sheet.caution("parts_joined", "parts of the lake overlap or touch; they were joined", None)
        outline = shapely.MultiPolygon(list(shapely.get_parts(shapely.union_all(parts))))
        names = None
    count = int(sum(shapely.get_num_interior_rings(part) for part in shapely.get_parts(outline)))
    if names is None or len(names) != count:
        names = (None,) * count
    return outline, names
