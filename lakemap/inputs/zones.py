"""Zones: areas, or lines with a width, each of a kind."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import cast

import numpy as np
import shapely

from lakemap.basis.errors import ProblemLog
from lakemap.basis.records import ZONE_KINDS, Geometry, Zone, ZoneKind
from lakemap.inputs.cells import RawTable, Sheet, is_blank
from lakemap.inputs.outlines import Corners, group_corners, mend_area, ring_of
from lakemap.inputs.positions import POSITION, read_positions

COLUMNS: Mapping[str, str | None] = MappingProxyType(
    {
        "kind": None,
        "name": None,
        "width": "length",
        "clearance": "length",
        "source": None,
        "lot": None,
        "zone": None,
        "shape": None,
        "note": None,
    }
)
_SHAPES = ("area", "line")


def read_zones(table: RawTable, log: ProblemLog, *, crs: str) -> tuple[Zone, ...]:
    """Read the zones.

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
    tuple of Zone
        Those without a problem.
    """
    sheet = Sheet(table, {**COLUMNS, **POSITION}, log)
    if not len(sheet):
        return ()
    sheet.require("kind")
    if sheet.unknown and table.geometry is None:
        sheet.caution("unknown_column", f"not used: {', '.join(sheet.unknown)}", None)
    if table.geometry is None:
        shapes = _from_corners(sheet, crs)
    else:
        shapes = {row: _checked(sheet, row, shape) for row, shape in enumerate(table.geometry)}
    return _zones(sheet, shapes)


def _zones(sheet: Sheet, shapes: dict[int, Geometry | None]) -> tuple[Zone, ...]:
    """Records for the rows that a zone begins on."""
    kinds, names, lots = sheet.choice("kind", ZONE_KINDS), sheet.text("name"), sheet.text("lot")
    widths, clearances = sheet.measured("width"), sheet.measured("clearance")
    sources, keys = sheet.text("source"), sheet.text("zone")
    written = list(sheet.cells("kind"))
    zones = []
    for row, shape in shapes.items():
        number = sheet.table.row_numbers[row]
        label = names[row] or (keys[row] if sheet.has("zone") else None) or f"zones row {number}"
        kind = kinds[row]
        if kind is None:
            if sheet.has("kind") and is_blank(written[row]):
                sheet.tell("no_kind", f"write one of {', '.join(ZONE_KINDS)}", row, "kind")
            continue
        if shape is None or not _sound(sheet, row, shape, kind, (lots[row], widths[row])):
            continue
        is_line = int(shapely.get_dimensions(shape)) == 1
        zones.append(
            Zone(
                kind=cast("ZoneKind", kind),
                geometry=shape,
                row=number,
                label=label,
                width_m=widths[row] if is_line else None,
                clearance_m=clearances[row],
                source=sources[row],
                lot=lots[row],
            )
        )
    return tuple(zones)


def _sound(
    sheet: Sheet, row: int, shape: Geometry, kind: str, given: tuple[str | None, float | None]
) -> bool:
    """Tell what a zone of its kind and shape lacks."""
    lot, width = given
    is_line = int(shapely.get_dimensions(shape)) == 1
    if is_line and width is None:
        text = f"a line needs its whole width; fill in {sheet.forms('width')}, or draw an area"
        sheet.tell("no_width", text, row, "width")
        return False
    if kind == "frontage" and is_line:
        sheet.tell("frontage_line", "a frontage is an area of water; draw it as one", row)
        return False
    if kind == "frontage" and lot is None:
        sheet.tell("no_lot", "a frontage belongs to a lot; fill in its name", row, "lot")
        return False
    return True


def _checked(sheet: Sheet, row: int, shape: Geometry) -> Geometry | None:
    """A shape of a vector layer, mended if need be."""
    if shape.geom_type in {"Polygon", "MultiPolygon"}:
        return mend_area(shape, sheet, row, "the zone")
    if shape.geom_type in {"LineString", "MultiLineString"} and shapely.length(shape) > 0:
        return shape
    kind = shape.geom_type.lower()
    sheet.tell("bad_zone_shape", f"a {kind} is no zone; draw an area, or a line with a width", row)
    return None


def _from_corners(sheet: Sheet, crs: str) -> dict[int, Geometry | None]:
    """Shapes by first row, from a table of corners."""
    sheet.require("zone")
    lonlat = read_positions(sheet, crs=crs)
    if not sheet.has("zone"):
        return {}
    keys = sheet.text("zone")
    for row in [row for row, key in enumerate(keys) if key is None][:20]:
        sheet.tell("no_zone", "write the zone that this corner belongs to", row, "zone")
    shapes = sheet.choice("shape", _SHAPES)
    groups = group_corners(keys, lonlat)
    groups.pop(None, None)
    made: dict[int, Geometry | None] = {}
    for key, corners in groups.items():
        what = f"zone {key!r}"
        if shapes[corners.row] == "line":
            made[corners.row] = _line_of(corners, sheet, what)
        else:
            ring = ring_of(corners, sheet, what)
            area = None if ring is None else shapely.polygons(ring)
            made[corners.row] = None if area is None else mend_area(area, sheet, corners.row, what)
    return made


def _line_of(corners: Corners, sheet: Sheet, what: str) -> Geometry | None:
    xy = corners.lonlat
    if not np.isfinite(xy).all():
        return None
    if len(np.unique(xy, axis=0)) < 2:  # noqa: PLR2004 - a line has two ends
        sheet.tell("few_corners", f"{what} is a line of one point; it needs two", corners.row)
        return None
    return shapely.linestrings(xy)
