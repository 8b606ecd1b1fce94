"""Rings as a lake: which is the shore, which are islands, and what of the old lake stays."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from lakemap.basis.records import Field, FloatArray, Geometry
from lakemap.lake.projection import LakeProjection
from lakemap.lake.water import nearest_on_lines

_SAMPLES: Final = 4000  # along a shore, where two are compared


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A lake from rings [m]."""

    outline: Geometry  # polygon, islands as holes
    islands: int
    outside: tuple[int, ...]  # places of rings that lie outside the shore or across it
    lost: int  # islands that were smaller than twice the boat's distance from them


@dataclass(frozen=True, slots=True, kw_only=True)
class Merged:
    """The lake as it will be, and what became of the old one's islands and basins."""

    outline: Geometry  # multipolygon, lon, lat
    names: tuple[str | None, ...]  # of its islands, polygons in order, holes in order
    kept: tuple[str | None, ...]
    dropped: tuple[str | None, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """How far two shores lie apart."""

    before_m2: float
    after_m2: float
    far_m: float
    lon: float  # where that is, on the one that lies outside the other's reach
    lat: float


def drawn_lake(rings: Sequence[Geometry], *, inside_m: float, thin_m: float) -> Drawn:
    """Put rings together: the largest is the shore, those inside it are islands.

    Parameters
    ----------
    rings : sequence of shapely Polygon
        In metres, at least one.
    inside_m : float
        How far from the shore, on the water, the rings were run.
    thin_m : float
        To what the shore is thinned, where it was moved out.

    Returns
    -------
    Drawn
        With the shore moved out, and islands moved in, by `inside_m`.
    """
    areas = [float(shapely.area(one)) for one in rings]
    shore = int(np.argmax(areas))
    holes: list[Geometry] = []
    outside = []
    for k, ring in enumerate(rings):
        if k == shore:
            continue
        apart = all(shapely.disjoint(ring, other) for other in holes)
        if apart and shapely.contains_properly(rings[shore], ring):
            holes.append(ring)
        else:
            outside.append(k)
    outline = shapely.Polygon(
        shapely.get_exterior_ring(rings[shore]), [shapely.get_exterior_ring(one) for one in holes]
    )
    if inside_m > 0:
        wider = shapely.simplify(shapely.buffer(outline, inside_m, quad_segs=16), thin_m)
        outline = max(shapely.get_parts(wider), key=shapely.area)
    left = int(shapely.get_num_interior_rings(outline))
    return Drawn(
        outline=outline, islands=left, outside=tuple(outside), lost=max(0, len(holes) - left)
    )


def merged_lake(drawn: Geometry, field: Field | None) -> Merged:
    """Put a new shore in an old one's place; islands within it and basins beside it stay.

    Parameters
    ----------
    drawn : shapely Polygon
        In lon, lat.
    field : Field or None
        With the old lake; None: there is none.

    Returns
    -------
    Merged
        An old island on which a new one lies gives it its name.
    """
    if field is None or field.lake_is_rough:
        count = int(shapely.get_num_interior_rings(drawn))
        return Merged(
            outline=shapely.MultiPolygon([drawn]), names=(None,) * count, kept=(), dropped=()
        )
    shore = shapely.Polygon(drawn.exterior)
    fresh = [shapely.Polygon(ring) for ring in drawn.interiors]
    names: list[str | None] = [None] * len(fresh)
    holes, beside = list(fresh), []
    kept: list[str | None] = []
    dropped: list[str | None] = []
    beside_names: list[str | None] = []
    for part, own in _basins(field):
        if shapely.disjoint(part, shore):
            beside.append(part)
            beside_names += own
            continue
        for ring, name in zip(part.interiors, own, strict=True):
            island = shapely.Polygon(ring)
            met = [k for k, other in enumerate(fresh) if shapely.intersects(island, other)]
            if met:
                names[met[0]] = names[met[0]] or name
            elif shapely.contains_properly(shore, island):
                holes.append(island)
                names.append(name)
                kept.append(name)
            else:
                dropped.append(name)
    whole = shapely.Polygon(drawn.exterior, [one.exterior for one in holes])
    return Merged(
        outline=shapely.MultiPolygon([whole, *beside]),
        names=(*names, *beside_names),
        kept=tuple(kept),
        dropped=tuple(dropped),
    )


def _basins(field: Field) -> list[tuple[Geometry, list[str | None]]]:
    """The old lake's polygons, each with its islands' names."""
    names = iter(field.island_names)
    return [
        (part, [next(names, None) for _ in part.interiors])
        for part in shapely.get_parts(field.lake).tolist()
    ]


def difference(before: Geometry, after: Geometry) -> Difference:
    """Compare two lakes by area and by how far their outer shores lie apart.

    Parameters
    ----------
    before, after : shapely MultiPolygon
        In lon, lat.

    Returns
    -------
    Difference
        The farthest that a place on one shore, of four thousand, lies from the other.
    """
    projection = LakeProjection.centred_on(after)
    old, new = projection.project(before), projection.project(after)
    shores = [shapely.get_exterior_ring(shapely.get_parts(lake)) for lake in (old, new)]
    found = [_farthest(one, other) for one, other in (shores, shores[::-1])]
    far, at = max(found, key=lambda one: one[0])
    lon, lat = projection.to_lonlat(at[:1], at[1:])
    return Difference(
        before_m2=float(shapely.area(old)),
        after_m2=float(shapely.area(new)),
        far_m=far,
        lon=float(lon[0]),
        lat=float(lat[0]),
    )


def _farthest(lines: Geometry, other: Geometry) -> tuple[float, FloatArray]:
    """The place on some lines that lies farthest from others."""
    step = float(shapely.length(lines).sum()) / _SAMPLES
    xy = shapely.get_coordinates(shapely.segmentize(lines, step))
    far, _ = nearest_on_lines(shapely.multilinestrings(list(other)), xy)
    worst = int(np.argmax(far))
    return float(far[worst]), xy[worst]
