"""From a sea's significant height to its highest wave."""

import math

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.published import Published, exact
from lakemap.basis.records import FloatArray
from lakemap.loads.dispersion import breaking_height

HIGHEST_OF_1000 = exact(
    math.sqrt(math.log(1000) / 2),
    "H_max/H_m0",
    "Rayleigh's distribution: Longuet-Higgins, Journal of Marine Research 11 (1952) 245-266",
    "most probable highest of 1000 waves, sqrt(ln 1000 / 2)",
)
LONG_PERIOD = Published(
    value=1.3,
    unit="T/T_SPM",
    low=1.08,
    high=1.31,
    source="ours: the long end of the periods that the published growth models give",
    locator="ratio of the Breugem-Holthuijsen period to the SPM's on lakes",
)


def highest_over_significant(waves: ArrayLike) -> FloatArray:
    """Return the most probable highest of N waves over the significant height 4 sqrt(m0).

    sqrt(ln N / 2), from Rayleigh's distribution P(H > h) = exp[-2 (h/H_m0)^2]: Longuet-Higgins,
    Journal of Marine Research 11 (1952) 245-266. Exceeded in 63 % of such storms; no bound.

    Parameters
    ----------
    waves : array_like
        Number of waves N, > 1.

    Returns
    -------
    ndarray
        Ratio.
    """
    ratio: FloatArray = np.sqrt(np.log(np.asarray(waves, dtype=np.float64)) / 2)
    return ratio


def design_height(height_m: ArrayLike, period_s: ArrayLike, depth_m: ArrayLike) -> FloatArray:
    """Return the height of the one wave that a rig is sized for.

    min(1.8585 H; 0.142 L tanh kd with L at 1.3 T; 0.78 d): the most probable highest of 1000 waves,
    unless it would break at the long end of the period's spread.

    Parameters
    ----------
    height_m, period_s : array_like
        Significant height H [m] and peak period T [s] of the sea, >= 0.
    depth_m : array_like
        Depth at the float [m], > 0.

    Returns
    -------
    ndarray
        Height [m]; 0 where the period is 0.
    """
    given = (np.asarray(value, dtype=np.float64) for value in (height_m, period_s, depth_m))
    height, period, depth = np.broadcast_arrays(*given)
    still = period == 0
    cap = breaking_height(np.where(still, 1.0, period) * LONG_PERIOD.value, depth)
    return np.where(still, 0.0, np.minimum(HIGHEST_OF_1000.value * height, cap))
