"""Exact distances from points to zones and shores; inside is negative."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from lakemap.basis.records import FloatArray, Geometry, IntArray
from lakemap.lake.water import nearest_on_lines

_AREA = 2  # dimension of an area


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """A zone's shape: an area, or a line with a width."""

    geometry: Geometry
    width_m: float = 0.0  # of a line; its ends are round


@dataclass(frozen=True, slots=True, kw_only=True)
class Distances:
    """Distances from points to shapes, pair by pair; shape [p]."""

    point: IntArray
    shape: IntArray
    distance_m: FloatArray  # negative inside
    nearest_xy: FloatArray  # [p, 2], on the shape's edge; on the middle line of a line


def is_area(geometry: Geometry) -> bool:
    """Tell whether a geometry is an area rather than a line."""
    return int(shapely.get_dimensions(geometry)) == _AREA


def signed_distance(shape: Shape, xy: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the distance from points to one shape.

    Outside an area the distance to it; inside, minus the distance to its edge. To a line with a
    width the distance less half the width, inside too.

    Parameters
    ----------
    shape : Shape
        Area or line, in metres.
    xy : ndarray, shape [n, 2]
        Points [m], finite.

    Returns
    -------
    tuple of ndarray, shapes [n] and [n, 2]
        Distances [m] and the nearest points.
    """
    distance, nearest = nearest_on_lines(shape.geometry, xy)
    if not is_area(shape.geometry):
        return distance - shape.width_m / 2, nearest
    shapely.prepare(shape.geometry)
    within = shapely.contains_xy(shape.geometry, xy[:, 0], xy[:, 1])
    return np.where(within, -distance, distance), nearest


def near_shapes(shapes: Sequence[Shape], xy: FloatArray, *, within_m: FloatArray) -> Distances:
    """Return the distances of all pairs nearer than a limit, and each point's nearest shape.

    Parameters
    ----------
    shapes : sequence of Shape
        Of one kind.
    xy : ndarray, shape [n, 2]
        Points [m], finite.
    within_m : ndarray, shape [n]
        Pairs with a smaller distance are listed [m].

    Returns
    -------
    Distances
        In ascending order of point, shape.
    """
    if not shapes or not len(xy):
        return _pack(np.empty((0, 2), dtype=np.int64), shapes, xy)
    half = np.array([shape.width_m / 2 for shape in shapes])
    boxes = shapely.box(*(xy - within_m[:, None]).T, *(xy + within_m[:, None]).T)
    grown = _grown_boxes(shapes, half)
    near = np.column_stack(shapely.STRtree(grown).query(boxes)).astype(np.int64)
    nearest = [_nearest_of(shapes, np.flatnonzero(half == w), xy) for w in np.unique(half)]
    pairs = np.unique(np.concatenate([near, *nearest]), axis=0)
    found = _pack(pairs, shapes, xy)
    keep = found.distance_m < within_m[found.point]
    keep[_least_of_each(found)] = True
    return Distances(
        point=found.point[keep],
        shape=found.shape[keep],
        distance_m=found.distance_m[keep],
        nearest_xy=found.nearest_xy[keep],
    )


def _grown_boxes(shapes: Sequence[Shape], half: FloatArray) -> Geometry:
    """Bounding boxes of the shapes, lines with their width."""
    low_x, low_y, high_x, high_y = shapely.bounds([shape.geometry for shape in shapes]).T
    return shapely.box(low_x - half, low_y - half, high_x + half, high_y + half)


def _nearest_of(shapes: Sequence[Shape], chosen: IntArray, xy: FloatArray) -> IntArray:
    """Point and nearest shape by its edge, for shapes of one width."""
    edges = [_edges(shapes[k].geometry) for k in chosen]
    owner = np.repeat(chosen, [len(edge) for edge in edges])
    tree = shapely.STRtree(np.concatenate(edges))
    point, edge = tree.query_nearest(shapely.points(xy), all_matches=False)
    return np.column_stack([point, owner[edge]]).astype(np.int64)


def _edges(geometry: Geometry) -> Geometry:
    """Segments of a shape's edge as lines."""
    line = shapely.boundary(geometry) if is_area(geometry) else geometry
    xy, of = shapely.get_coordinates(shapely.get_parts(line), return_index=True)
    same = of[1:] == of[:-1]
    return shapely.linestrings(np.stack([xy[:-1][same], xy[1:][same]], axis=1))


def _pack(pairs: IntArray, shapes: Sequence[Shape], xy: FloatArray) -> Distances:
    """Measure given pairs, shape by shape."""
    distance, nearest = np.empty(len(pairs)), np.empty((len(pairs), 2))
    for k in np.unique(pairs[:, 1]):
        mine = pairs[:, 1] == k
        distance[mine], nearest[mine] = signed_distance(shapes[k], xy[pairs[mine, 0]])
    return Distances(point=pairs[:, 0], shape=pairs[:, 1], distance_m=distance, nearest_xy=nearest)


def _least_of_each(found: Distances) -> IntArray:
    """Index of the least distance of each point."""
    order = np.lexsort((found.distance_m, found.point))
    first = np.ones(len(order), dtype=bool)
    first[1:] = found.point[order][1:] != found.point[order][:-1]
    least: IntArray = order[first]
    return least
