"""Which soundings to use, and how well they tell the depth."""

from dataclasses import dataclass

import numpy as np
from scipy.spatial import Delaunay, QhullError, cKDTree

from lakemap.basis.records import FloatArray, Geometry, IntArray
from lakemap.lake.depth import DepthSurface
from lakemap.lake.triangulation import barycentric
from lakemap.lake.water import inside

_SAME_PLACE_M = 0.01
_OUTLYING_SPREADS = 6.0  # ours: beyond its neighbours by six robust spreads, and by 1 m
_OUTLYING_M = 1.0
_MAD_TO_SIGMA = 1.4826  # of a normal distribution
_NEAREST = 12  # soundings left out for the error at one place
_MOST_LEFT_OUT = 4000  # beyond that a regular sample of them, to bound the time
_LEAST_FOR_ERROR = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class SortedSoundings:
    """Soundings to use, and indices into those given that were left out."""

    xy: FloatArray  # [k, 2]
    depth_m: FloatArray  # [k]
    on_land: IntArray  # left out
    doubled: IntArray  # left out; the first at that place has the median depth of all there
    index: IntArray  # [k], of those to use among those given


def sort_soundings(xy: FloatArray, depth_m: FloatArray, water: Geometry) -> SortedSoundings:
    """Leave out soundings on land, and second ones at one place.

    Parameters
    ----------
    xy : ndarray, shape [n, 2]
        Positions [m].
    depth_m : ndarray, shape [n]
        Depths [m].
    water : shapely Polygon or MultiPolygon
        In metres.

    Returns
    -------
    SortedSoundings
        In the order given.
    """
    wet = inside(water, xy)
    index = np.flatnonzero(wet)
    place = np.round(xy[index] / _SAME_PLACE_M).astype(np.int64)
    _, first, group = np.unique(place, axis=0, return_index=True, return_inverse=True)
    group = group.reshape(-1)
    kept = np.sort(first)
    depth = depth_m[index].copy()
    if len(kept) < len(index):
        depth[first] = _medians(depth, group, len(first))
    doubled = np.setdiff1d(np.arange(len(index)), kept)
    return SortedSoundings(
        xy=xy[index[kept]],
        depth_m=depth[kept],
        on_land=np.flatnonzero(~wet),
        doubled=index[doubled],
        index=index[kept],
    )


def _medians(depth: FloatArray, group: IntArray, groups: int) -> FloatArray:
    """Lower median of each group."""
    order = np.lexsort((depth, group))
    counts = np.bincount(group, minlength=groups)
    starts = np.concatenate([[0], np.cumsum(counts)[:-1]])
    medians: FloatArray = depth[order[starts + (counts - 1) // 2]]
    return medians


def outlying_soundings(surface: DepthSurface) -> IntArray:
    """Find soundings that lie far from what their neighbours say; they are kept all the same.

    Rule of ours: beyond the range of its neighbours in the triangulation, the shore among them, by
    more than 1 m and more than 6 robust spreads of all soundings about their neighbours' mean.

    Parameters
    ----------
    surface : DepthSurface
        Of the lake.

    Returns
    -------
    ndarray of int
        Indices into the soundings that the surface was built from, ascending.
    """
    mesh = surface.mesh
    if mesh.soundings < _LEAST_FOR_ERROR:
        return np.empty(0, dtype=np.int64)
    first, neighbours = mesh.delaunay.vertex_neighbor_vertices
    around = mesh.depth_m[neighbours]
    starts = first[: mesh.soundings]
    high = np.maximum.reduceat(around, starts)
    low = np.minimum.reduceat(around, starts)
    count = np.diff(first[: mesh.soundings + 1])
    mean = np.add.reduceat(around, starts)[: mesh.soundings] / count
    depth = mesh.depth_m[: mesh.soundings]
    # the last group would run on into the shore's neighbours
    last = around[first[mesh.soundings - 1] : first[mesh.soundings]]
    high[-1], low[-1], mean[-1] = last.max(), last.min(), last.mean()
    spread = _MAD_TO_SIGMA * float(np.median(np.abs(depth - mean)))
    slack = max(_OUTLYING_M, _OUTLYING_SPREADS * spread)
    odd = (depth > high + slack) | (depth < low - slack)
    return np.sort(mesh.kept[np.flatnonzero(odd)])


def leave_out_error(surface: DepthSurface, at_xy: FloatArray) -> FloatArray:
    """Estimate the standard error of the depth at places by leaving soundings out.

    Each of the 12 nearest soundings is left out and found again from its neighbours in the
    triangulation; the root mean square of the misses is the estimate. It holds the soundings' own
    noise and what lies between them.

    Parameters
    ----------
    surface : DepthSurface
        Of the lake.
    at_xy : ndarray, shape [n, 2]
        Places [m]; NaN is left unknown.

    Returns
    -------
    ndarray, shape [n]
        Standard error [m]; NaN where fewer than three soundings tell.
    """
    mesh = surface.mesh
    error = np.full(len(at_xy), np.nan)
    known = np.isfinite(at_xy).all(axis=1)
    if mesh.soundings < _LEAST_FOR_ERROR or not known.any():
        return error
    xy = mesh.xy[: mesh.soundings]
    count = min(_NEAREST, mesh.soundings)
    _, near = mesh.tree.query(at_xy[known], k=count)
    wanted = np.unique(near)
    if len(wanted) > _MOST_LEFT_OUT:
        wanted = wanted[:: len(wanted) // _MOST_LEFT_OUT + 1]
    miss = _misses(surface, wanted)
    told = np.isfinite(miss)
    if told.sum() < _LEAST_FOR_ERROR:
        return error
    count = min(_NEAREST, int(told.sum()))
    _, near = cKDTree(xy[wanted[told]]).query(at_xy[known], k=count)
    error[known] = np.sqrt(np.mean(miss[told][near.reshape(-1, count)] ** 2, axis=1))
    return error


def _misses(surface: DepthSurface, index: IntArray) -> FloatArray:
    """Depth found from the neighbours less the depth sounded; NaN at the rim."""
    known = surface.mesh.misses
    for vertex in index.tolist():
        if vertex not in known:
            known[vertex] = _miss(surface, vertex)
    return np.array([known[vertex] for vertex in index.tolist()])


def _miss(surface: DepthSurface, vertex: int) -> float:
    mesh = surface.mesh
    first, neighbours = mesh.delaunay.vertex_neighbor_vertices
    around = neighbours[first[vertex] : first[vertex + 1]]
    # about the sounding itself: far from 0 the small triangles would lose their digits
    points = mesh.xy[around] - mesh.xy[vertex]
    try:
        local = Delaunay(points)
    except QhullError:  # all neighbours on one line
        return np.nan
    triangle = int(local.find_simplex(np.zeros((1, 2)))[0])
    if triangle < 0:
        return np.nan
    corners = local.simplices[triangle]
    weights = barycentric(points[corners][None], np.zeros((1, 2)))[0]
    return float(weights @ mesh.depth_m[around[corners]] - mesh.depth_m[vertex])
