"""The outline of allowed water through the squares that it crosses."""

from typing import Final

import numpy as np
import shapely

from lakemap.basis.records import BoolArray, FloatArray, Geometry, IntArray
from lakemap.siting.margins import margins
from lakemap.siting.spots import SpotField
from lakemap.siting.squares import UNIT_M, LatticePoints, Squares

_HALF_M: Final = 0.004  # a crossing is known when both sides of it at this distance differ
_IN_M, _OUT_M = 0.006, 0.02
_SHARES: Final = np.array([0.2, 0.5, 0.8])  # of the way between two crossings
_TWICE: Final = 2
_ROUNDS: Final = 10  # of halving, from 1 m to under twice that


def cut_squares(points: LatticePoints, squares: Squares) -> Geometry:
    """Return the allowed part of squares that the outline crosses.

    On each side with one end allowed the crossing is closed in on until less than 1 cm is left; its
    allowed end is taken.

    Parameters
    ----------
    points : LatticePoints
        The corners, asked before.
    squares : Squares
        With at least one corner allowed and one not.

    Returns
    -------
    ndarray of shapely Polygon
        One for each square, two where opposite corners are allowed.
    """
    if not len(squares.side):
        return np.empty(0, dtype=object)
    corner, least, within, crossed = _corners(points, squares)
    ring = np.empty((len(corner), 8, 2))
    ring[:, 0::2] = corner * UNIT_M
    ring[:, 1::2] = _crossings(points, corner, least, crossed)
    saddle = crossed.all(axis=1)
    keep = np.empty((len(corner), 8), dtype=bool)
    keep[:, 0::2], keep[:, 1::2] = within, crossed
    return np.concatenate(
        [_polygons(ring[~saddle], keep[~saddle]), _corners_only(ring[saddle], within[saddle])]
    )


def follows(points: LatticePoints, squares: Squares) -> BoolArray:
    """Tell in which squares a straight outline is right: allowed 6 mm inside it, not 2 cm outside.

    Parameters
    ----------
    points : LatticePoints
        The corners, asked before.
    squares : Squares
        With at least one corner allowed and one not.

    Returns
    -------
    ndarray of bool, shape [n]
        False where the outline crosses all four sides.
    """
    right = np.zeros(len(squares.side), dtype=bool)
    if not len(right):
        return right
    corner, least, within, crossed = _corners(points, squares)
    once = np.flatnonzero(crossed.sum(axis=1) == _TWICE)
    found = _crossings(points, corner[once], least[once], crossed[once])
    ends = found[crossed[once]].reshape(-1, 2, 2)
    held = corner[once, np.argmax(within[once], axis=1)] * UNIT_M
    right[once] = _straight(points, ends, held)
    return right


def _corners(
    points: LatticePoints, squares: Squares
) -> tuple[IntArray, FloatArray, BoolArray, BoolArray]:
    """Corners, what is left there, which are allowed, and which sides the outline crosses."""
    corner = squares.corners
    least = points.ask(corner.reshape(-1, 2)).least_m.reshape(-1, 4)
    within = least >= 0
    return corner, least, within, within != np.roll(within, -1, axis=1)


def _straight(points: LatticePoints, ends: FloatArray, held: FloatArray) -> BoolArray:
    """Whether the outline is straight between two crossings; `held` are allowed corners."""
    way = ends[:, 1] - ends[:, 0]
    across = np.column_stack([-way[:, 1], way[:, 0]])
    across /= np.maximum(np.hypot(*way.T), 1e-9)[:, None]
    across *= np.sign(np.einsum("ij,ij->i", across, held - ends[:, 0]))[:, None]
    along = ends[:, None, 0] + _SHARES[:, None] * way[:, None, :]
    asked = np.stack([along + _IN_M * across[:, None], along - _OUT_M * across[:, None]])
    found = margins(
        points.field, asked.reshape(-1, 2), least_radius_m=points.least_radius_m
    ).least_m.reshape(2, -1, len(_SHARES))
    straight: BoolArray = (found[0] >= 0).all(axis=1) & (found[1] < 0).all(axis=1)
    return straight


def _polygons(ring: FloatArray, keep: BoolArray) -> Geometry:
    if not len(ring):
        return np.empty(0, dtype=object)
    owner = np.repeat(np.arange(len(ring)), keep.sum(axis=1))
    return shapely.polygons(shapely.linearrings(ring[keep], indices=owner))


def _corners_only(ring: FloatArray, within: BoolArray) -> Geometry:
    """Two triangles where opposite corners are allowed: they may not be joined."""
    square, k = np.nonzero(within)
    if not len(square):
        return np.empty(0, dtype=object)
    three = np.stack([(2 * k - 1) % 8, 2 * k, 2 * k + 1], axis=1)
    return shapely.polygons(ring[square[:, None], three])


def _crossings(
    points: LatticePoints, corner: IntArray, least: FloatArray, crossed: BoolArray
) -> FloatArray:
    """Where the outline crosses each side, at its allowed end; [n, 4, 2], 0 where it does not."""
    square, k = np.nonzero(crossed)
    after = (k + 1) % 4
    ends = np.stack([corner[square, k], corner[square, after]], axis=1)
    values = np.stack([least[square, k], least[square, after]], axis=1)
    outside_first = values[:, 0] < 0
    ends[outside_first] = ends[outside_first, ::-1]
    values[outside_first] = values[outside_first, ::-1]
    side, first, of = np.unique(ends.reshape(-1, 4), axis=0, return_index=True, return_inverse=True)
    found = _closed_in(
        points.field,
        np.asarray(side.reshape(-1, 2, 2) * UNIT_M, dtype=np.float64),
        values[first],
        least_radius_m=points.least_radius_m,
    )
    crossing = np.zeros((*crossed.shape, 2))
    crossing[square, k] = found[of.ravel()]
    return crossing


def _closed_in(
    field: SpotField, ends: FloatArray, values: FloatArray, *, least_radius_m: float
) -> FloatArray:
    """The allowed end of each crossing; `ends` run from allowed to not allowed."""
    start, way = ends[:, 0], ends[:, 1] - ends[:, 0]
    length = np.hypot(*way.T)
    near, far = np.zeros(len(ends)), np.ones(len(ends))

    def allowed(share: FloatArray, which: IntArray) -> BoolArray:
        xy = start[which] + share[:, None] * way[which]
        inside: BoolArray = margins(field, xy, least_radius_m=least_radius_m).least_m >= 0
        return inside

    every = np.arange(len(ends))
    span = values[:, 0] - values[:, 1]
    told = np.isfinite(span)  # nothing to keep clear of leaves room without end
    guess = np.divide(values[:, 0], span, out=np.full(len(span), 0.5), where=told)
    step = _HALF_M / length
    for share in (np.maximum(guess - step, 0.0), np.minimum(guess + step, 1.0)):
        ok = allowed(share, every)
        near = np.where(ok, np.maximum(near, share), near)
        far = np.where(~ok, np.minimum(far, share), far)
    far = np.maximum(near, far)
    for _ in range(_ROUNDS):
        ask = np.flatnonzero((far - near) * length > 2 * _HALF_M * (1 + 1e-9))
        if not ask.size:
            break
        share = (near[ask] + far[ask]) / 2
        ok = allowed(share, ask)
        near[ask] = np.where(ok, share, near[ask])
        far[ask] = np.where(ok, far[ask], share)
    found: FloatArray = start + near[:, None] * way
    return found
