"""The water body in metres: inside or on land, distances to its shore and islands."""

import numpy as np
import shapely

from lakemap.basis.records import BoolArray, FloatArray, Geometry


def parts(water: Geometry) -> list[Geometry]:
    """Return the polygons of a water body, in order.

    Parameters
    ----------
    water : shapely Polygon or MultiPolygon
        In metres; holes are islands.

    Returns
    -------
    list of shapely Polygon
        At least one.
    """
    return list(shapely.get_parts(water))


def islands(water: Geometry) -> list[Geometry]:
    """Return the islands' outlines: polygons in order, holes in order.

    Parameters
    ----------
    water : shapely Polygon or MultiPolygon
        In metres; holes are islands.

    Returns
    -------
    list of shapely LinearRing
        Possibly none.
    """
    return [ring for part in parts(water) for ring in part.interiors]


def inside(water: Geometry, xy: FloatArray) -> BoolArray:
    """Tell which points lie in the water; its edge counts as water.

    Parameters
    ----------
    water : shapely Polygon or MultiPolygon
        In metres.
    xy : ndarray, shape [n, 2]
        Points [m].

    Returns
    -------
    ndarray of bool, shape [n]
        False for NaN.
    """
    shapely.prepare(water)
    known = np.isfinite(xy).all(axis=1)
    within = np.zeros(len(xy), dtype=bool)
    within[known] = shapely.intersects_xy(water, xy[known, 0], xy[known, 1])
    return within


def nearest_on_shore(water: Geometry, xy: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return distance and nearest point of the shore that each point belongs to.

    The shore is the outer ring of the polygon that holds the point, or of the nearest one; islands
    are not shore.

    Parameters
    ----------
    water : shapely Polygon or MultiPolygon
        In metres.
    xy : ndarray, shape [n, 2]
        Points [m], finite.

    Returns
    -------
    tuple of ndarray, shapes [n] and [n, 2]
        Distances and nearest points [m].
    """
    bodies = parts(water)
    if len(bodies) == 1:
        return nearest_on_lines(shapely.get_exterior_ring(bodies[0]), xy)
    points = shapely.points(xy)
    tree = shapely.STRtree(bodies)
    point_index, body_index = tree.query_nearest(points, all_matches=False)
    distance, nearest = np.empty(len(xy)), np.empty((len(xy), 2))
    for k in np.unique(body_index):
        mine = point_index[body_index == k]
        distance[mine], nearest[mine] = nearest_on_lines(
            shapely.get_exterior_ring(bodies[k]), xy[mine]
        )
    return distance, nearest


def nearest_on_lines(lines: Geometry, xy: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return distance and nearest point of a line, ring or multiline for each point.

    Parameters
    ----------
    lines : shapely line geometry
        In metres.
    xy : ndarray, shape [n, 2]
        Points [m], finite.

    Returns
    -------
    tuple of ndarray, shapes [n] and [n, 2]
        Distances and nearest points [m]; exact, from the nearest segment.
    """
    a, b = segments(lines)
    if len(xy) == 0:
        return np.empty(0), np.empty((0, 2))
    tree = shapely.STRtree(shapely.linestrings(np.stack([a, b], axis=1)))
    _, index = tree.query_nearest(shapely.points(xy), all_matches=False)
    return nearest_on_segments(a[index], b[index], xy)


def segments(lines: Geometry) -> tuple[FloatArray, FloatArray]:
    """Return both ends of every segment of a line geometry.

    Parameters
    ----------
    lines : shapely geometry or array of them
        Lines, rings or polygons (whose boundary is taken).

    Returns
    -------
    tuple of ndarray, shape [k, 2]
        Starts and ends.
    """
    rings = shapely.get_parts(np.atleast_1d(np.asarray(lines, dtype=object)))
    areal = shapely.get_dimensions(rings) == 2  # noqa: PLR2004 - the dimension of an area
    rings = np.where(areal, shapely.boundary(rings), rings)
    xy, of = shapely.get_coordinates(shapely.get_parts(rings), return_index=True)
    same = of[1:] == of[:-1]
    return xy[:-1][same], xy[1:][same]


def nearest_on_segments(
    start: FloatArray, end: FloatArray, xy: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Return distance and nearest point of one segment for each point.

    Parameters
    ----------
    start, end : ndarray, shape [n, 2]
        The segment for each point.
    xy : ndarray, shape [n, 2]
        Points.

    Returns
    -------
    tuple of ndarray, shapes [n] and [n, 2]
        Distances and nearest points.
    """
    along = end - start
    length2 = np.einsum("ij,ij->i", along, along)
    share = np.einsum("ij,ij->i", xy - start, along)
    share = np.clip(np.divide(share, length2, out=np.zeros_like(share), where=length2 > 0), 0, 1)
    nearest = start + share[:, None] * along
    return np.hypot(*(xy - nearest).T), nearest
