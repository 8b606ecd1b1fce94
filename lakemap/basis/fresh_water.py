"""Density of fresh water by its temperature; the sizing takes the round 1000 kg/m3."""

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.records import FloatArray

_WARMEST_C = 40.0


def water_density(celsius: ArrayLike) -> FloatArray:
    """Return the density of air-free water at one atmosphere.

    999.974950 [1 - (t + a1)^2 (t + a2)/(a3 (t + a4))]. Source: Tanaka, Girard, Davis, Peuto,
    Bignell, Recommended table for the density of water, Metrologia 38 (2001) 301-309.

    Parameters
    ----------
    celsius : array_like
        Temperature [degrees C], 0 to 40.

    Returns
    -------
    ndarray
        Density [kg/m3].

    Raises
    ------
    RangeError
        If a temperature is outside the table.
    """
    t = np.asarray(celsius, dtype=np.float64)
    if not ((t >= 0) & (t <= _WARMEST_C)).all():
        raise RangeError("water must have 0 to 40 degrees C (Tanaka et al., Metrologia 38, 2001)")
    fall = (t - 3.983035) ** 2 * (t + 301.797) / (522528.9 * (t + 69.34881))
    density: FloatArray = 999.974950 * (1 - fall)
    return density
