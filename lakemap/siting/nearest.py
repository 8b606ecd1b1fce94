"""The nearest place where every rule holds: squares about a place, split where it matters."""

from collections.abc import Callable
from typing import Final

import numpy as np

from lakemap.basis.records import FloatArray

Spare = Callable[[FloatArray], FloatArray]  # places [n, 2] to what the strictest rule leaves [n]
_RINGS_M: Final = (20.0, 80.0)  # looked into first
_ACROSS: Final = 16  # squares across the first look
_SPLIT: Final = 4
_FINEST_M: Final = 0.04
_STEEPEST: Final = 2.0  # ours: metres of spare that a metre of way changes at most
_MOST: Final = 400  # squares of one size that are split; those that come nearest to allowed
_SURE_M: Final = 1e-4  # left over, so that the way to degrees and back turns no sign
_POLISH_M: Final = (0.3, 0.1, 0.03, 0.01, 0.003)
_PULLS: Final = 40  # of one reach at most
_SPOKES: Final = np.linspace(0.0, 2 * np.pi, 24, endpoint=False)
_ALONG: Final = 80


def nearest_allowed(
    spare: Spare, origin_xy: FloatArray, *, within_m: float, slack_m: float = 0.0
) -> FloatArray | None:
    """Return the nearest place where no rule is broken.

    Squares about the origin are split for as long as they may hold a nearer place than the best
    that is known; what is found is then pulled towards the origin. Right to a few centimetres, if
    no spare changes faster than 2 m per metre of way, beside jumps of `slack_m`.

    Parameters
    ----------
    spare : callable
        Places [n, 2] in metres to what the strictest rule leaves there [n], below 0 forbidden.
    origin_xy : ndarray, shape [2]
        From where [m].
    within_m : float
        Not farther than this [m].
    slack_m : float
        How much a length that comes in steps may change a spare at once [m].

    Returns
    -------
    ndarray, shape [2], or None
        The place, or None where there is none.
    """

    def sure(xy: FloatArray) -> FloatArray:
        return spare(xy) - _SURE_M

    if sure(origin_xy[None])[0] >= 0:
        return origin_xy
    for ring in (*(ring for ring in _RINGS_M if ring < within_m), within_m):
        found = _split_down(sure, origin_xy, ring, slack_m)
        if found is not None:
            return _polished(sure, origin_xy, found)
    return None


def _split_down(
    spare: Spare, origin: FloatArray, within_m: float, slack_m: float
) -> FloatArray | None:
    """The nearest place met while squares get smaller."""
    side = 2 * within_m / _ACROSS
    steps = (np.arange(_ACROSS) + 0.5) * side - within_m
    middles = np.stack(np.meshgrid(steps, steps), axis=-1).reshape(-1, 2)
    best, best_m = None, within_m
    while len(middles):
        near = _nearest_points(middles, side)
        away = np.hypot(*near.T)
        order = np.argsort(away, kind="stable")
        keep = order[away[order] < best_m]
        middles, near, away = middles[keep], near[keep], away[keep]
        left = spare(origin + np.concatenate([middles, near]))
        found = np.concatenate([middles, near])[left >= 0]
        if len(found):
            far = np.hypot(*found.T)
            if far.min() < best_m:
                best_m, best = float(far.min()), found[far.argmin()]
        if side <= _FINEST_M:
            break
        here = left[: len(middles)]
        may = (here + _STEEPEST * side / np.sqrt(2) + slack_m >= 0) & (away < best_m)
        split = np.flatnonzero(may)[np.argsort(-here[may], kind="stable")[:_MOST]]
        middles, side = _parts(middles[split], side), side / _SPLIT
    return None if best is None else origin + best


def _nearest_points(middles: FloatArray, side: float) -> FloatArray:
    """The point of each square that is nearest to the origin."""
    nearest: FloatArray = np.sign(middles) * np.maximum(np.abs(middles) - side / 2, 0.0)
    return nearest


def _parts(middles: FloatArray, side: float) -> FloatArray:
    """The middles of the smaller squares that squares are split into."""
    steps = ((np.arange(_SPLIT) + 0.5) / _SPLIT - 0.5) * side
    offsets = np.stack(np.meshgrid(steps, steps), axis=-1).reshape(-1, 2)
    return (middles[:, None, :] + offsets).reshape(-1, 2)


def _polished(spare: Spare, origin: FloatArray, found: FloatArray) -> FloatArray:
    """Pull a place towards the origin, and along the edge of what is allowed."""
    best = found
    ring = np.column_stack([np.cos(_SPOKES), np.sin(_SPOKES)])
    for reach in _POLISH_M:
        rings = np.concatenate([part * reach * ring for part in (0.25, 0.5, 1.0)])
        for _ in range(_PULLS):
            nearer = _nearer(spare, origin, best, best + rings)
            gained = float(np.hypot(*(best - origin)) - np.hypot(*(nearer - origin)))
            best = nearer
            if gained < reach / 20:
                break
    length = float(np.hypot(*(best - origin)))
    back = np.linspace(max(0.0, 1 - 2 * _FINEST_M / max(length, _FINEST_M)), 1.0, _ALONG)
    return _nearer(spare, origin, best, origin + back[:, None] * (best - origin))


def _nearer(spare: Spare, origin: FloatArray, best: FloatArray, around: FloatArray) -> FloatArray:
    far = np.hypot(*(around - origin).T)
    some = around[far < np.hypot(*(best - origin))]
    if not len(some):
        return best
    allowed = some[spare(some) >= 0]
    if not len(allowed):
        return best
    nearest: FloatArray = allowed[np.hypot(*(allowed - origin).T).argmin()]
    return nearest
