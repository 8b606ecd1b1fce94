"""A triangulation of soundings and shore whose triangles stay on one side of the shore."""

from dataclasses import dataclass, field

import numpy as np
import shapely
from scipy.spatial import Delaunay, cKDTree

from lakemap.basis.records import BoolArray, FloatArray, Geometry, IntArray
from lakemap.lake.water import inside, segments

_BLOCK_M = 1.0  # soundings within one such block are one sounding: their median
_ON_SHORE_M = 1e-3  # a sounding this near the shore says nothing that the shore does not
_SHORTEST_M = 0.1  # shore pieces are not cut below this; only a needle-sharp cape needs it
_ROUNDS = 40
_INSIDE = 1e-12  # a share so little below 0 lies on the edge
# ours: farther from any sounding than four times the widest gaps between soundings nobody has
# sounded; fewer soundings than these say nothing of how wide their gaps are
_FAR_GAPS, _WIDE_SHARE, _LEAST_FOR_GAPS = 4.0, 90, 30


@dataclass(frozen=True, slots=True, kw_only=True)
class Triangulation:
    """Triangles over the water.

    `corners` has shape [t, 3]; the first `soundings` points are soundings, the rest shore.
    """

    delaunay: Delaunay
    xy: FloatArray  # [p, 2]
    depth_m: FloatArray  # [p]
    soundings: int
    kept: IntArray  # index of each of them among those given
    corners: IntArray  # [t, 3], all triangles of `delaunay`
    wet: BoolArray  # [t]: lies in the water
    sounded: BoolArray  # [t]: lies in the water and has a sounding for a corner
    tree: cKDTree  # of the soundings
    far_m: float  # farther than this from any sounding no depth is known
    # by sounding, what its neighbours say there less what was sounded: found when first asked for
    misses: dict[int, float] = field(default_factory=dict, compare=False, repr=False)


def triangulate(
    xy: FloatArray, depth_m: FloatArray, water: Geometry, *, shore_depth_m: float
) -> Triangulation:
    """Triangulate soundings and shore.

    Shore pieces are halved until no other point lies in the circle over each (then it is an edge
    of the Delaunay triangulation: Gabriel and Sokal, Systematic Zoology 18, 1969, 259-278), so no
    triangle reaches across the shore.

    Parameters
    ----------
    xy : ndarray, shape [n, 2]
        Soundings inside the water [m].
    depth_m : ndarray, shape [n]
        Their depths [m].
    water : shapely Polygon or MultiPolygon
        In metres.
    shore_depth_m : float
        Depth at the shore [m].

    Returns
    -------
    Triangulation
        With soundings first.
    """
    kept = _block_medians(xy, depth_m)
    inner, inner_depth = xy[kept], depth_m[kept]
    start, end = _split_shore(water, inner)
    shore = np.unique(np.concatenate([start, end]), axis=0)
    away, _ = cKDTree(shore).query(inner)
    off_shore = away > _ON_SHORE_M
    inner, inner_depth, kept = inner[off_shore], inner_depth[off_shore], kept[off_shore]
    points = np.concatenate([inner, shore])
    delaunay = Delaunay(points)
    corners = delaunay.simplices.astype(np.int64)
    shore_only = (corners >= len(inner)).all(axis=1)
    wet = np.ones(len(corners), dtype=bool)
    # a triangle with a sounding for a corner cannot lie on land: no edge crosses the shore
    wet[shore_only] = inside(water, points[corners[shore_only]].mean(axis=1))
    tree = cKDTree(inner)
    return Triangulation(
        delaunay=delaunay,
        xy=points,
        depth_m=np.concatenate([inner_depth, np.full(len(shore), float(shore_depth_m))]),
        soundings=len(inner),
        kept=kept,
        corners=corners,
        wet=wet,
        sounded=wet & ~shore_only,
        tree=tree,
        far_m=_far(points, corners[wet], len(inner)),
    )


def locate(mesh: Triangulation, xy: FloatArray) -> IntArray:
    """Find the triangle of each point by walking there from the nearest sounding.

    Each step crosses the edge that the point lies farthest beyond; in a Delaunay triangulation such
    a walk never comes back: Devillers, Pion, Teillaud, Walking in a triangulation, International
    Journal of Foundations of Computer Science 13 (2002) 181-199.

    Parameters
    ----------
    mesh : Triangulation
        Of the lake.
    xy : ndarray, shape [n, 2]
        Points [m].

    Returns
    -------
    ndarray of int, shape [n]
        Index of a triangle; -1 outside all.
    """
    found = np.full(len(xy), -1, dtype=np.int64)
    if not len(xy):
        return found
    _, start = mesh.tree.query(xy) if mesh.soundings else (None, np.zeros(len(xy), dtype=np.int64))
    at = mesh.delaunay.vertex_to_simplex[start].astype(np.int64)
    walking = np.arange(len(xy))
    for _ in range(len(mesh.corners)):
        shares = barycentric(mesh.xy[mesh.corners[at]], xy[walking])
        lowest = shares.argmin(axis=1)
        rows = np.arange(len(walking))
        arrived = shares[rows, lowest] >= -_INSIDE
        found[walking[arrived]] = at[arrived]
        onward = mesh.delaunay.neighbors[at, lowest].astype(np.int64)
        goes = ~arrived & (onward >= 0)
        walking, at = walking[goes], onward[goes]
        if not walking.size:
            break
    return found


def barycentric(corners: FloatArray, xy: FloatArray) -> FloatArray:
    """Return the shares of a triangle's three corners at points.

    Parameters
    ----------
    corners : ndarray, shape [n, 3, 2]
        One triangle per point [m].
    xy : ndarray, shape [n, 2]
        Points [m].

    Returns
    -------
    ndarray, shape [n, 3]
        Adding up to 1; one below 0 lies beyond the edge across from that corner.
    """
    e1, e2 = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    d = xy - corners[:, 0]
    area = e1[:, 0] * e2[:, 1] - e1[:, 1] * e2[:, 0]
    area = np.where(area == 0, 1e-300, area)  # a sliver without area holds no point: walk on
    s = (d[:, 0] * e2[:, 1] - d[:, 1] * e2[:, 0]) / area
    t = (d[:, 1] * e1[:, 0] - d[:, 0] * e1[:, 1]) / area
    return np.column_stack([1 - s - t, s, t])


def _far(xy: FloatArray, corners: IntArray, soundings: int) -> float:
    """Four times the circumradius that nine in ten triangles between soundings keep under."""
    if soundings < _LEAST_FOR_GAPS:
        return np.inf
    between = corners[(corners < soundings).sum(axis=1) >= 2]  # noqa: PLR2004 - two soundings
    p = xy[between]
    sides = np.hypot(*np.moveaxis(p - np.roll(p, 1, axis=1), 2, 0))
    e1, e2 = p[:, 1] - p[:, 0], p[:, 2] - p[:, 0]
    area = np.abs(e1[:, 0] * e2[:, 1] - e1[:, 1] * e2[:, 0]) / 2
    round_ = sides.prod(axis=1) / np.maximum(4 * area, 1e-12)
    return _FAR_GAPS * float(np.percentile(round_, _WIDE_SHARE))


def _block_medians(xy: FloatArray, depth_m: FloatArray) -> IntArray:
    """Index of one sounding per block: the one with the (lower) median depth, in row order."""
    block = np.floor(xy / _BLOCK_M).astype(np.int64)
    order = np.lexsort((depth_m, block[:, 0], block[:, 1]))
    sorted_block = block[order]
    first = np.ones(len(order), dtype=bool)
    first[1:] = (sorted_block[1:] != sorted_block[:-1]).any(axis=1)
    starts = np.flatnonzero(first)
    counts = np.diff(np.append(starts, len(order)))
    median: IntArray = order[starts + (counts - 1) // 2]
    return median


def _split_shore(water: Geometry, soundings: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Halve shore pieces until the circle over each holds no other point."""
    start, end = segments(water)
    inner = cKDTree(soundings) if len(soundings) else None
    for _ in range(_ROUNDS):
        middle, half = (start + end) / 2, np.hypot(*(end - start).T) / 2
        corners = cKDTree(np.unique(np.concatenate([start, end]), axis=0))
        # its own two ends lie on the circle itself, so anything nearer is another point
        nearest, _ = corners.query(middle)
        if inner is not None:
            nearest = np.minimum(nearest, inner.query(middle)[0])
        crowded = (nearest < half * (1 - 1e-9)) & (half > _SHORTEST_M)
        if not crowded.any():
            break
        start, end = (
            np.concatenate([start[~crowded], start[crowded], middle[crowded]]),
            np.concatenate([end[~crowded], middle[crowded], end[crowded]]),
        )
    return start, end


def unsounded_area(mesh: Triangulation, water: Geometry, *, least_width_m: float) -> Geometry:
    """Return the water whose depth nobody has sounded, slivers along the shore left out.

    Parameters
    ----------
    mesh : Triangulation
        Of the lake.
    water : shapely Polygon or MultiPolygon
        The lake, metres.
    least_width_m : float
        Parts narrower than this are left out [m].

    Returns
    -------
    shapely geometry
        Polygons in metres, possibly empty.
    """
    bare = [shapely.polygons(mesh.xy[mesh.corners[mesh.wet & ~mesh.sounded]])]
    if np.isfinite(mesh.far_m):
        soundings = mesh.xy[: mesh.soundings]
        cell = np.unique(np.floor(soundings / (mesh.far_m / 6)), axis=0, return_index=True)[1]
        near = shapely.buffer(shapely.points(soundings[cell]), mesh.far_m, quad_segs=8)
        bare.append(np.array([shapely.difference(water, shapely.union_all(near))]))
    half = least_width_m / 2
    area = shapely.union_all(np.concatenate(bare))
    return shapely.buffer(shapely.buffer(area, -half), half)
