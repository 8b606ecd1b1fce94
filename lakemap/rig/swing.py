"""How far a float swings: reach, swing radius and walk radius from lengths and drop."""

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.records import FloatArray


def reach(drop_m: ArrayLike, *, line_m: ArrayLike) -> FloatArray:
    """Return how far the hook gets from the point above the primary with the line taut.

    R = sqrt(S^2 - d^2) for a straight weightless line S over a level bed. Sag and a seated
    secondary only shorten it: a bound for clearances, not an estimate. Source: Euclid, Elements,
    book I, proposition 47; put together for this rig by us.

    Parameters
    ----------
    drop_m : array_like, shape [n]
        Height d from primary to hook [m], 0 <= d <= S. Take the lowest level: R grows as d falls.
    line_m : array_like, shape [n]
        Riser and ground chain S [m], finite, >= 0.

    Returns
    -------
    ndarray, shape [n]
        R [m].

    Raises
    ------
    RangeError
        If any number is outside its range; one line for each such float.
    """
    given = (np.asarray(value, dtype=np.float64) for value in (drop_m, line_m))
    d, s = np.broadcast_arrays(*given)
    sound = np.isfinite(s) & (d >= 0) & (d <= s)
    if not sound.all():  # NaN compares false, so a missing depth lands here too
        rule = "need 0 <= drop <= riser + ground, finite"
        raise RangeError(
            "\n".join(
                f"[{i}] drop {d.flat[i]:g} m, line {s.flat[i]:g} m: {rule}"
                for i in np.flatnonzero(~sound)
            )
        )
    radius: FloatArray = np.sqrt((s - d) * (s + d))  # keeps its digits where the line is upright
    return radius


def corner(length_m: ArrayLike, width_m: ArrayLike, *, at_edge: ArrayLike) -> FloatArray:
    """Return the distance from the hook to the deck's farthest corner.

    Parameters
    ----------
    length_m, width_m : array_like, shape [n]
        Deck [m], > 0.
    at_edge : array_like of bool, shape [n]
        True: the hook is in the middle of a short side; False: in the deck's centre.

    Returns
    -------
    ndarray, shape [n]
        Distance [m].
    """
    sides = np.stack([np.asarray(side, dtype=np.float64) for side in (length_m, width_m)])
    long_side, short_side = sides.max(axis=0), sides.min(axis=0)
    far = np.where(np.asarray(at_edge), long_side, long_side / 2)
    distance: FloatArray = np.hypot(far, short_side / 2)
    return distance
