"""A passing boat's wake at a distance."""

from enum import Enum

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.published import exact
from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import FloatArray

_HAVELOCK = (
    "Havelock, Proc. R. Soc. A 81 (1908) 398-430, as given in the Coastal Engineering Manual,"
    " EM 1110-2-1100, part II ch. 7, 2002"
)
CUSP_DECAY = exact(-1 / 3, "exponent", _HAVELOCK, "cusp waves, H ~ x^(-1/3)")
TRANSVERSE_DECAY = exact(-1 / 2, "exponent", _HAVELOCK, "transverse waves, H ~ x^(-1/2)")
# ours: two or three boat lengths, within which the pattern has not formed
NEAREST_M = 50 * FOOT_M.value


class Decay(Enum):
    """Which part of the wake is followed."""

    CUSP = CUSP_DECAY
    TRANSVERSE = TRANSVERSE_DECAY


def wake_height(
    distance_m: ArrayLike,
    *,
    height_m: float,
    at_m: float,
    decay: Decay = Decay.CUSP,
    extrapolate: bool = False,
) -> FloatArray:
    """Return a wake's height at distances from the boat's line.

    H(x) = H_ref (x/x_ref)^n, n = -1/3 for the cusp waves, the safe law outward of x_ref. Inward of
    x_ref a measured wake falls faster than that, so the law errs to the unsafe side there and is
    not to be used nearer than 50 ft. Source: Havelock 1908; Coastal Engineering Manual part II
    ch. 7.

    Parameters
    ----------
    distance_m : array_like
        Distance x from the sailing line [m], > 0.
    height_m : float
        Height H_ref at `at_m` [m], >= 0.
    at_m : float
        Distance x_ref [m], > 0.
    decay : Decay
        Cusp or transverse waves.
    extrapolate : bool
        The caller's word that distances inside both `at_m` and 50 ft are wanted all the same.

    Returns
    -------
    ndarray
        Height [m].

    Raises
    ------
    RangeError
        If a number is out of range, or a distance is too near and `extrapolate` is not said.
    """
    distance = np.asarray(distance_m, dtype=np.float64)
    if not (height_m >= 0 and at_m > 0 and (distance > 0).all()):
        raise RangeError(
            f"wake {height_m:g} m at {at_m:g} m, asked at {distance.min():g} m: need a height >= 0"
            " and distances > 0"
        )
    near = (distance < min(at_m, NEAREST_M)) & ~np.isclose(distance, min(at_m, NEAREST_M))
    if near.any() and not extrapolate:
        raise RangeError(
            f"wake asked at {distance[near].min():g} m, inside both {at_m:g} m and"
            f" {NEAREST_M:g} m (50 ft): state its height at that distance ({_HAVELOCK})"
        )
    height: FloatArray = height_m * (distance / at_m) ** decay.value.value
    return height
