"""Exact least and greatest of a piecewise linear surface within circles."""

from dataclasses import dataclass

import numpy as np
import shapely

from lakemap.basis.records import BoolArray, FloatArray, IntArray

_CELLS = 512  # of the raster that tells which triangles come near any circle
_FEW = 8  # circles, up to which no raster is worth its making
_PAIRS = 2_000_000  # circle-triangle pairs worked on at a time, to bound the memory


@dataclass(frozen=True, slots=True)
class _Pairs:
    """Circle and triangle, pair by pair."""

    centre: FloatArray  # [p, 2]
    radius: FloatArray  # [p]
    corner: FloatArray  # [p, 3, 2]
    height: FloatArray  # [p, 3]


def least_in_circles(
    corners_xy: FloatArray, heights: FloatArray, *, xy: FloatArray, radius_m: FloatArray
) -> FloatArray:
    """Return the least height over each circle, exact on the linear triangles.

    Over the part of a triangle in a circle a linear function is least at a corner, where an edge
    crosses the circle, where its gradient meets the circle, or anywhere if it is level.

    Parameters
    ----------
    corners_xy : ndarray, shape [t, 3, 2]
        Corners of the triangles [m].
    heights : ndarray, shape [t, 3]
        Heights at the corners.
    xy : ndarray, shape [n, 2]
        Centres [m].
    radius_m : ndarray, shape [n]
        Radii [m], >= 0.

    Returns
    -------
    ndarray, shape [n]
        NaN where no triangle meets the circle, or centre or radius is NaN.
    """
    least = np.full(len(xy), np.inf)
    known = np.flatnonzero(np.isfinite(xy).all(axis=1) & np.isfinite(radius_m))
    near = np.flatnonzero(_near_any(corners_xy, xy[known], radius_m[known]))
    if near.size and known.size:
        circle, triangle = _overlapping(corners_xy[near], xy[known], radius_m[known])
        circle, triangle = known[circle], near[triangle]
        for at in range(0, circle.size, _PAIRS):
            c, t = circle[at : at + _PAIRS], triangle[at : at + _PAIRS]
            np.minimum.at(least, c, _least_corner(xy[c], radius_m[c], corners_xy[t], heights[t]))
            # a triangle is nowhere lower than at its lowest corner
            lower = heights[t].min(axis=1) < least[c]
            c, t = c[lower], t[lower]
            if not c.size:
                continue
            pairs = _Pairs(xy[c], radius_m[c], corners_xy[t], heights[t])
            np.minimum.at(least, c, _least_of_pairs(pairs))
    return np.where(np.isfinite(least), least, np.nan)


def _near_any(corners_xy: FloatArray, xy: FloatArray, radius: FloatArray) -> BoolArray:
    """Tell which triangles' boxes meet a raster cell that some circle's box touches."""
    if len(xy) <= _FEW:
        return _near_few(corners_xy, xy, radius)
    low, high = (xy - radius[:, None]).min(axis=0), (xy + radius[:, None]).max(axis=0)
    size = np.maximum(high - low, 1e-9) / _CELLS

    def cell(points: FloatArray) -> IntArray:
        cells: IntArray = np.clip((points - low) // size, -1, _CELLS).astype(np.int64) + 1
        return cells

    touched = np.zeros((_CELLS + 3, _CELLS + 3), dtype=np.int64)
    first, last = cell(xy - radius[:, None]), cell(xy + radius[:, None])
    for corner_x, corner_y, sign in (
        (first[:, 0], first[:, 1], 1),
        (last[:, 0] + 1, first[:, 1], -1),
        (first[:, 0], last[:, 1] + 1, -1),
        (last[:, 0] + 1, last[:, 1] + 1, 1),
    ):
        np.add.at(touched, (corner_x, corner_y), sign)
    covered = touched.cumsum(axis=0).cumsum(axis=1) > 0
    count = np.zeros((_CELLS + 4, _CELLS + 4), dtype=np.int64)
    count[1:, 1:] = covered.cumsum(axis=0).cumsum(axis=1)
    box_low, box_high = cell(corners_xy.min(axis=1)), cell(corners_xy.max(axis=1)) + 1
    inside = (
        count[box_high[:, 0], box_high[:, 1]]
        - count[box_low[:, 0], box_high[:, 1]]
        - count[box_high[:, 0], box_low[:, 1]]
        + count[box_low[:, 0], box_low[:, 1]]
    )
    near: BoolArray = inside > 0
    return near


def _near_few(corners_xy: FloatArray, xy: FloatArray, radius: FloatArray) -> BoolArray:
    """Tell which triangles' boxes meet the box of one of a few circles."""
    low, high = corners_xy.min(axis=1), corners_xy.max(axis=1)
    near = np.zeros(len(corners_xy), dtype=bool)
    for centre, reach in zip(xy, radius, strict=True):
        near |= ((low <= centre + reach) & (high >= centre - reach)).all(axis=1)
    return near


def _overlapping(
    corners_xy: FloatArray, xy: FloatArray, radius: FloatArray
) -> tuple[IntArray, IntArray]:
    """Return circle and triangle of all pairs whose boxes overlap."""
    low, high = corners_xy.min(axis=1), corners_xy.max(axis=1)
    tree = shapely.STRtree(shapely.box(*low.T, *high.T))
    boxes = shapely.box(*(xy - radius[:, None]).T, *(xy + radius[:, None]).T)
    circle, triangle = tree.query(boxes)
    return circle, triangle


def _least_corner(
    centre: FloatArray, radius: FloatArray, corner: FloatArray, height: FloatArray
) -> FloatArray:
    """Least height of the corners that lie in each pair's circle; inf where none does."""
    x, y = np.moveaxis(corner - centre[:, None, :], 2, 0)
    within = x * x + y * y <= (radius * radius)[:, None]
    least: FloatArray = np.where(within, height, np.inf).min(axis=1)
    return least


def _least_of_pairs(pairs: _Pairs) -> FloatArray:
    """Least height over each pair's common part but for its corners; inf where there is none."""
    offset = pairs.corner - pairs.centre[:, None, :]
    found = [_on_edge(pairs, offset, k) for k in range(3)]
    found.append(_inner_point(pairs, offset))
    least: FloatArray = np.concatenate(
        [f.reshape(len(pairs.radius), -1) for f in found], axis=1
    ).min(axis=1)
    return least


def _on_edge(pairs: _Pairs, offset: FloatArray, k: int) -> FloatArray:
    """Heights where edge k crosses the circle; inf where it does not."""
    start, end = offset[:, k], offset[:, (k + 1) % 3]
    along = end - start
    a = np.einsum("ij,ij->i", along, along)
    b = np.einsum("ij,ij->i", start, along)
    c = np.einsum("ij,ij->i", start, start) - pairs.radius**2
    root = np.sqrt(np.maximum(b * b - a * c, 0.0))
    crosses = (b * b >= a * c) & (a > 0)
    low, high = pairs.height[:, k], pairs.height[:, (k + 1) % 3]
    heights = []
    for sign in (-1.0, 1.0):
        share = np.divide(-b + sign * root, a, out=np.full_like(a, -1.0), where=a > 0)
        on = crosses & (share >= 0) & (share <= 1)
        heights.append(np.where(on, low + share * (high - low), np.inf))
    return np.column_stack(heights)


def _inner_point(pairs: _Pairs, offset: FloatArray) -> FloatArray:
    """Heights at the circle's lowest point and at its centre, where they lie in the triangle."""
    e1, e2 = offset[:, 1] - offset[:, 0], offset[:, 2] - offset[:, 0]
    z1, z2 = pairs.height[:, 1] - pairs.height[:, 0], pairs.height[:, 2] - pairs.height[:, 0]
    area = e1[:, 0] * e2[:, 1] - e1[:, 1] * e2[:, 0]
    sound = area != 0
    safe = np.where(sound, area, 1.0)
    gx = (z1 * e2[:, 1] - z2 * e1[:, 1]) / safe
    gy = (z2 * e1[:, 0] - z1 * e2[:, 0]) / safe
    slope = np.hypot(gx, gy)
    steep = np.where(slope > 0, slope, 1.0)
    heights = []
    for px, py in (
        (-pairs.radius * gx / steep, -pairs.radius * gy / steep),
        (np.zeros_like(gx), np.zeros_like(gy)),
    ):
        dx, dy = px - offset[:, 0, 0], py - offset[:, 0, 1]
        s = (dx * e2[:, 1] - dy * e2[:, 0]) / safe
        t = (dy * e1[:, 0] - dx * e1[:, 1]) / safe
        within = sound & (s >= 0) & (t >= 0) & (s + t <= 1)
        heights.append(np.where(within, pairs.height[:, 0] + s * z1 + t * z2, np.inf))
    return np.column_stack(heights)
