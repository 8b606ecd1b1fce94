"""Gaps between floats: pairs from a tree, never from a table of all against all."""

from dataclasses import dataclass

import numpy as np
from scipy.spatial import cKDTree

from lakemap.basis.records import BoolArray, FloatArray, IntArray

_FIRST_LOOK = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Pairs:
    """Pairs of floats, each once, first < second; shape [p]."""

    first: IntArray
    second: IntArray
    distance_m: FloatArray  # between the primaries
    gap_m: FloatArray  # between the swing circles

    def only(self, keep: BoolArray) -> "Pairs":
        """Return some of the pairs.

        Parameters
        ----------
        keep : ndarray of bool, shape [p]
            Which.

        Returns
        -------
        Pairs
            In the same order.
        """
        return Pairs(
            first=self.first[keep],
            second=self.second[keep],
            distance_m=self.distance_m[keep],
            gap_m=self.gap_m[keep],
        )


def near_pairs(xy: FloatArray, radius_m: FloatArray, *, limit_m: float) -> Pairs:
    """Return all pairs whose gap is below a limit, and each float's nearest other whatever its gap.

    gap = |P1 P2| - r1 - r2, exact.

    Parameters
    ----------
    xy : ndarray, shape [n, 2]
        Primaries [m], finite.
    radius_m : ndarray, shape [n]
        Swing radii [m], finite, >= 0.
    limit_m : float
        Pairs with a smaller gap are listed [m], >= 0.

    Returns
    -------
    Pairs
        In an order that depends on the positions only.
    """
    if len(xy) < 2:  # noqa: PLR2004 - a pair takes two
        none = np.empty(0, dtype=np.int64)
        return _measured(xy, radius_m, none, none)
    tree = cKDTree(xy)
    found = tree.query_pairs(limit_m + 2 * float(radius_m.max()), output_type="ndarray")
    pairs = _measured(xy, radius_m, found[:, 0], found[:, 1])  # the tree gives first < second
    near = pairs.gap_m < limit_m
    if not near.all():
        pairs = pairs.only(near)
    has_other = np.zeros(len(xy), dtype=bool)
    has_other[pairs.first] = True
    has_other[pairs.second] = True
    lonely = np.flatnonzero(~has_other)
    if not lonely.size:
        return pairs
    other = _nearest(tree, xy, radius_m, lonely)
    together = np.column_stack([np.minimum(lonely, other), np.maximum(lonely, other)])
    together = np.unique(together, axis=0)
    far = _measured(xy, radius_m, together[:, 0], together[:, 1])
    return Pairs(
        first=np.concatenate([pairs.first, far.first]),
        second=np.concatenate([pairs.second, far.second]),
        distance_m=np.concatenate([pairs.distance_m, far.distance_m]),
        gap_m=np.concatenate([pairs.gap_m, far.gap_m]),
    )


def _measured(xy: FloatArray, radius: FloatArray, first: IntArray, second: IntArray) -> Pairs:
    x, y = np.ascontiguousarray(xy.T) if len(xy) else np.empty((2, 0))
    # metres to kilometres: the root of squares loses nothing that hypot would keep
    distance = np.sqrt((x[first] - x[second]) ** 2 + (y[first] - y[second]) ** 2)
    return Pairs(
        first=first,
        second=second,
        distance_m=distance,
        gap_m=distance - (radius[first] + radius[second]),
    )


def _nearest(tree: cKDTree, xy: FloatArray, radius: FloatArray, lonely: IntArray) -> IntArray:
    """Return the float with the least gap to each lonely one, not always the nearest one."""
    count = min(_FIRST_LOOK, len(xy))
    distance, index = tree.query(xy[lonely], k=count)
    distance[index == lonely[:, None]] = np.inf
    excess = distance - radius[index]
    best = excess.argmin(axis=1)
    rows = np.arange(len(lonely))
    other: IntArray = index[rows, best].astype(np.int64)
    # anything farther than this cannot be nearer, however large its circle
    bound = excess[rows, best] + radius.max()
    unsure = np.flatnonzero((distance[:, -1] < bound) & (count < len(xy)))
    for k in unsure:
        near = np.array(tree.query_ball_point(xy[lonely[k]], bound[k] * (1 + 1e-12)))
        near = near[near != lonely[k]]
        gap = np.hypot(*(xy[near] - xy[lonely[k]]).T) - radius[near]
        other[k] = near[gap.argmin()]
    return other


def same_wind_gap(distance_m: FloatArray, *, reach_m: FloatArray, deck_m: FloatArray) -> FloatArray:
    """Return the least gap of two taut floats over all bearings of one steady wind.

    | |P1 P2| - |R1 - R2| | - (c1 + e1) - (c2 + e2): both hooks lie down the same wind from their
    primaries, so their offset is P2 - P1 + (R2 - R1) u with u any unit vector. Ours, by that.

    Parameters
    ----------
    distance_m : ndarray, shape [p]
        Between the primaries [m].
    reach_m : ndarray, shape [p, 2]
        Reaches R of both [m].
    deck_m : ndarray, shape [p, 2]
        Corner distance c and what a primary that is not located adds, e, of both [m].

    Returns
    -------
    ndarray, shape [p]
        Gap [m]. Holds for steady uniform wind only: wake, calm and gusts break it.
    """
    apart = np.abs(distance_m - np.abs(reach_m[:, 0] - reach_m[:, 1]))
    gap: FloatArray = apart - (deck_m[:, 0] + deck_m[:, 1])
    return gap
