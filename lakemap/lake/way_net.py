"""Lay a net of ways over a lake: the corners of its depth surface and the points of a lattice."""

from collections.abc import Sequence
from typing import Final

import numpy as np
import shapely
from scipy.spatial import cKDTree

from lakemap.basis.records import BoolArray, FloatArray, IntArray
from lakemap.lake.along import AlongWays
from lakemap.lake.deep_way import WayNet
from lakemap.lake.depth import DepthSurface
from lakemap.lake.triangulation import locate
from lakemap.lake.water import inside, segments

_NODES: Final = 20_000  # of the lattice
_FINEST_M: Final = 1.0


def way_net(surface: DepthSurface, points_xy: Sequence[tuple[float, float]] | FloatArray) -> WayNet:
    """Lay a net over a lake.

    Parameters
    ----------
    surface : DepthSurface
        Of the lake.
    points_xy : sequence of pairs
        Places that ways begin or end at [m]; one on land takes the nearest node.

    Returns
    -------
    WayNet
        Shared by all ways over the lake.
    """
    along = AlongWays(surface=surface)
    step = max(_FINEST_M, float(np.sqrt(surface.water.area / _NODES)))
    column, row, lattice = _lattice(surface, step)
    points = np.asarray(points_xy, dtype=np.float64).reshape(-1, 2)
    wet = inside(surface.water, points)
    mesh = surface.mesh
    xy = np.concatenate([mesh.xy, lattice, points[wet]])
    first = len(mesh.xy)
    depth = np.concatenate([mesh.depth_m, along.depths_at(xy[first:])])
    triangle = locate(mesh, xy[first:])
    held = np.flatnonzero((triangle >= 0) & mesh.wet[triangle])
    ties: IntArray = np.column_stack(
        [np.repeat(first + held, 3), mesh.corners[triangle[held]].reshape(-1)]
    ).astype(np.int64)
    beside = first + _beside(column, row)
    beside = beside[~_over_land(surface, xy, beside)]
    plain = np.concatenate([along.edges, ties])
    plain = plain[(xy[plain[:, 0]] != xy[plain[:, 1]]).any(axis=1)]
    ends = np.concatenate([plain, beside])
    least = np.concatenate(
        [_least_of_plain(along, xy, depth, plain), along.least(*np.moveaxis(xy[beside], 1, 0))]
    )
    nodes = np.empty(len(points), dtype=np.int64)
    nodes[wet] = first + len(lattice) + np.arange(wet.sum())
    used = np.unique(ends)
    nodes[~wet] = used[cKDTree(xy[used]).query(points[~wet])[1]]
    return WayNet(
        along=along,
        xy=xy,
        depth_m=depth,
        ends=ends,
        least_m=least,
        length_m=np.hypot(*(xy[ends[:, 0]] - xy[ends[:, 1]]).T),
        points=nodes,
        step_m=step,
    )


def _least_of_plain(
    along: AlongWays, xy: FloatArray, depth_m: FloatArray, ends: IntArray
) -> FloatArray:
    """Least depth of edges within one triangle: at an end, or where nobody sounded between."""
    middle = xy[ends].mean(axis=1)
    return along.sounded(middle, depth_m[ends].min(axis=1))


def _lattice(surface: DepthSurface, step: float) -> tuple[IntArray, IntArray, FloatArray]:
    """Columns, rows and places of the lattice's points in the water."""
    west, south, east, north = surface.water.bounds
    columns = np.arange(int((east - west) / step) + 1, dtype=np.int64)
    rows = np.arange(int((north - south) / step) + 1, dtype=np.int64)
    column, row = (grid.ravel() for grid in np.meshgrid(columns, rows))
    xy = np.array([west, south]) + (np.column_stack([column, row]) + 0.5) * step
    wet = inside(surface.water, xy)
    return column[wet], row[wet], xy[wet]


def _beside(column: IntArray, row: IntArray) -> IntArray:
    """Pairs of the lattice's points that lie beside or across a corner from each other."""
    wide = int(column.max(initial=0)) + 2
    key = row * wide + column
    order = np.argsort(key)
    pairs = []
    for east, north in ((1, 0), (0, 1), (1, 1), (-1, 1)):
        sought = key + north * wide + east
        found = np.searchsorted(key[order], sought)
        found = np.minimum(found, len(key) - 1)
        there = (key[order][found] == sought) & (column + east >= 0)
        pairs.append(np.column_stack([np.flatnonzero(there), order[found[there]]]))
    joined: IntArray = np.concatenate(pairs).astype(np.int64)
    return joined


def _over_land(surface: DepthSurface, xy: FloatArray, ends: IntArray) -> BoolArray:
    """Edges that meet the shore or an island's."""
    lines = shapely.linestrings(np.stack([xy[ends[:, 0]], xy[ends[:, 1]]], axis=1))
    shore = shapely.linestrings(np.stack(segments(surface.water), axis=1))
    met = shapely.STRtree(shore).query(lines, predicate="intersects")[0]
    over = np.zeros(len(ends), dtype=bool)
    over[met] = True
    return over
