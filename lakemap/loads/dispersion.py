"""Linear waves: length for a period and depth, and how high a wave can be before it breaks."""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.published import GRAVITY_M_S2, exact
from lakemap.basis.records import FloatArray

_G = GRAVITY_M_S2.value
STEEPEST = exact(0.142, "H/L", "Miche, Annales des Ponts et Chaussées, 1944", "limiting steepness")
DEPTH_BREAKS = exact(0.78, "H/d", "McCowan, Philosophical Magazine, 1894", "solitary wave")
_ROUNDS: Final = 50


def wave_length(period_s: ArrayLike, depth_m: ArrayLike) -> FloatArray:
    """Return the length of a small wave.

    Root k of (2 pi/T)^2 = g k tanh(k d); L = 2 pi/k. Source: Airy's linear theory; Coastal
    Engineering Manual, EM 1110-2-1100, part II ch. 1, 2002 (with its example II-1-1).

    Parameters
    ----------
    period_s : array_like
        Period T [s], > 0.
    depth_m : array_like
        Depth d [m], > 0; inf is deep water.

    Returns
    -------
    ndarray
        Length L [m].

    Raises
    ------
    RangeError
        If a period or a depth is not above 0.
    """
    given = (np.asarray(value, dtype=np.float64) for value in (period_s, depth_m))
    period, depth = np.broadcast_arrays(*given)
    if not ((period > 0) & (depth > 0)).all():
        raise RangeError("a wave's length needs a period and a depth above 0")
    deep = (2 * np.pi / period) ** 2 / _G  # wave number in deep water
    # k d of deep water; at least its shallow root, from which Newton's steps only come down
    number = np.maximum(deep, np.sqrt(deep / depth))
    for _ in range(_ROUNDS):
        with np.errstate(
            invalid="ignore"
        ):  # inf depth: tanh is 1, its slope times inf is no number
            shallow = np.tanh(number * depth)
            slope = np.where(np.isinf(depth), 0.0, number * depth * (1 - shallow**2))
        step = (number * shallow - deep) / (shallow + slope)
        number = number - step
        if (np.abs(step) <= 1e-14 * number).all():
            break
    length: FloatArray = 2 * np.pi / number
    return length


def group_ratio(period_s: ArrayLike, depth_m: ArrayLike) -> FloatArray:
    """Return 1 + 2kd/sinh 2kd: twice the group speed over the wave speed.

    Source: Airy's linear theory; Coastal Engineering Manual, EM 1110-2-1100, part II ch. 1, 2002.

    Parameters
    ----------
    period_s, depth_m : array_like
        As in `wave_length`.

    Returns
    -------
    ndarray
        1 in deep water to 2 in shallow water.
    """
    depth = np.asarray(depth_m, dtype=np.float64)
    twice = np.minimum(4 * np.pi * depth / wave_length(period_s, depth_m), 700.0)  # sinh overflows
    ratio: FloatArray = 1 + twice / np.sinh(twice)
    return ratio


def breaking_height(period_s: ArrayLike, depth_m: ArrayLike) -> FloatArray:
    """Return the height above which a single wave breaks.

    The lesser of 0.142 L tanh kd (Miche 1944) and 0.78 d (McCowan 1894). An upper bound for one
    wave; not for a significant height.

    Parameters
    ----------
    period_s, depth_m : array_like
        As in `wave_length`.

    Returns
    -------
    ndarray
        Height [m].
    """
    length, depth = wave_length(period_s, depth_m), np.asarray(depth_m, dtype=np.float64)
    steep = STEEPEST.value * length * np.tanh(2 * np.pi * depth / length)
    height: FloatArray = np.minimum(steep, DEPTH_BREAKS.value * depth)
    return height
