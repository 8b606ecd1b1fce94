"""Water where a float may not lie, by the kind of rule that binds there."""

from typing import Final

import numpy as np
import shapely

from lakemap.basis.records import FloatArray, Geometry
from lakemap.siting.margins import kind_of, margins
from lakemap.siting.records import ClosedWater
from lakemap.siting.spots import SpotField

_MOST_CELLS: Final = 8_000
_LEAST_CELL_M: Final = 2.0


def closed_water(field: SpotField, allowed: Geometry) -> tuple[ClosedWater, ...]:
    """Return the water that is not allowed, in classes by the rule that leaves least.

    Squares of some metres, cut by the lake's outline and by what is allowed: to be looked at, not
    to be measured.

    Parameters
    ----------
    field : SpotField
        What is to be laid, and where.
    allowed : shapely MultiPolygon
        Where it may lie [m].

    Returns
    -------
    tuple of ClosedWater
        By kind, in alphabetical order; together with `allowed` the whole lake.
    """
    water = field.lake.water
    side = max(_LEAST_CELL_M, float(np.sqrt(water.area / _MOST_CELLS)))
    middle = _middles(water, side)
    found = margins(field, middle, wholly=True)
    kinds = {which: kind_of(field, which) for which in np.unique(found.which).tolist()}
    kind = np.array([kinds[which] for which in found.which.tolist()])
    rest = shapely.difference(water, allowed)
    half = side / 2
    boxes = shapely.box(*(middle - half).T, *(middle + half).T)
    classes = []
    for name in sorted(set(kinds.values())):
        # floats of lengths differ in the last digit: squares would not meet
        part = shapely.union_all(boxes[kind == name], grid_size=1e-3)
        shape = shapely.intersection(part, rest)
        areas = [one for one in shapely.get_parts(shape) if one.area > 0]
        if areas:
            classes.append(ClosedWater(kind=name, geometry=shapely.multipolygons(_flat(areas))))
    return tuple(classes)


def _flat(areas: list[Geometry]) -> list[Geometry]:
    return [one for area in areas for one in shapely.get_parts(area) if one.geom_type == "Polygon"]


def _middles(water: Geometry, side: float) -> FloatArray:
    """Middles of the squares that the lake has a part in."""
    west, south, east, north = water.bounds
    columns = np.arange(np.floor(west / side), np.ceil(east / side)) + 0.5
    rows = np.arange(np.floor(south / side), np.ceil(north / side)) + 0.5
    middle = np.stack(np.meshgrid(columns, rows), axis=-1).reshape(-1, 2) * side
    boxes = shapely.box(*(middle - side / 2).T, *(middle + side / 2).T)
    shapely.prepare(water)
    met: FloatArray = middle[shapely.intersects(water, boxes)]
    return met
