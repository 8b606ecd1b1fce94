"""The waves of a boat that does not plane: which way they run, how fast, with what period."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.published import GRAVITY_M_S2
from lakemap.basis.records import FloatArray
from lakemap.loads.dispersion import wave_length

_CEM: Final = "Coastal Engineering Manual, EM 1110-2-1100, part II ch. 7, 2002"
_G: Final = GRAVITY_M_S2.value
_DEEP_DEG: Final = 35.27
_DEEP_KD: Final = 50.0  # tanh is 1 from here on
_ROUNDS: Final = 80


@dataclass(frozen=True, slots=True, kw_only=True)
class WakePattern:
    """The diverging waves; arrays of the speeds' shape."""

    froude: FloatArray  # depth Froude number
    direction_deg: FloatArray  # against the sailing line
    celerity_m_s: FloatArray
    period_s: FloatArray


def wake_pattern(speed_m_s: ArrayLike, *, depth_m: ArrayLike) -> WakePattern:
    """Return direction, speed and period of a boat's diverging waves.

    theta = 35.27 (1 - exp[12 (F_d - 1)]) degrees, C = V cos(theta), T from the dispersion relation,
    with F_d = V/sqrt(g d). Source: Coastal Engineering Manual, EM 1110-2-1100, part II ch. 7, 2002,
    eqs II-7-21 and II-7-23.

    Parameters
    ----------
    speed_m_s : array_like
        Speed of the boat V [m/s], > 0.
    depth_m : array_like
        Depth d [m], > 0; inf is deep.

    Returns
    -------
    WakePattern
        Arrays.

    Raises
    ------
    RangeError
        If a boat is as fast as the shallow water's waves or faster, or a number is not above 0.
    """
    speed, depth = np.broadcast_arrays(
        np.asarray(speed_m_s, dtype=np.float64), np.asarray(depth_m, dtype=np.float64)
    )
    froude = speed / np.sqrt(_G * depth)
    if not ((speed > 0) & (depth > 0) & (froude < 1)).all():
        raise RangeError(f"boats must run slower than sqrt(g d): a planing one does not ({_CEM})")
    angle = _DEEP_DEG * -np.expm1(12 * (froude - 1))
    celerity = speed * np.cos(np.radians(angle))
    return WakePattern(
        froude=froude, direction_deg=angle, celerity_m_s=celerity, period_s=_period(celerity, depth)
    )


def _period(celerity: FloatArray, depth: FloatArray) -> FloatArray:
    """Period of waves of some speed: halving finds the x = kd of tanh(x) = C^2/(g d) x."""
    share = celerity**2 / (_G * depth)
    low, high = np.zeros(celerity.shape), 1 / np.maximum(share, 1 / _DEEP_KD)
    for _ in range(_ROUNDS):
        middle = (low + high) / 2
        under = np.tanh(middle) > share * middle
        low, high = np.where(under, middle, low), np.where(under, high, middle)
    period: FloatArray = 2 * np.pi * celerity / (_G * np.tanh(high))
    return period


def steepness(height_m: ArrayLike, *, period_s: ArrayLike) -> FloatArray:
    """Return height over length of a wave in deep water; none stands above 0.142.

    Source: Airy's linear theory; Miche 1944 for the limit.

    Parameters
    ----------
    height_m : array_like
        Height [m].
    period_s : array_like
        Period [s], > 0.

    Returns
    -------
    ndarray
        H/L.
    """
    ratio: FloatArray = np.asarray(height_m, dtype=np.float64) / wave_length(period_s, np.inf)
    return ratio
