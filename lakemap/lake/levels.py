"""Depth at a lake level."""

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.records import FloatArray


def depth_at_level(
    sounding_depth_m: ArrayLike, *, level_m: ArrayLike, soundings_level_m: float
) -> FloatArray:
    """Return the depth when the lake stands at a level.

    depth = sounding + (level - level at which the soundings were taken).

    Parameters
    ----------
    sounding_depth_m : array_like
        Depth as sounded [m].
    level_m : array_like
        The lake's level on its own gauge [m], up is +; broadcast against the depth.
    soundings_level_m : float
        The gauge when the soundings were taken [m].

    Returns
    -------
    ndarray
        Depth [m]; negative above the water.
    """
    sounding = np.asarray(sounding_depth_m, dtype=np.float64)
    return sounding + (np.asarray(level_m, dtype=np.float64) - soundings_level_m)
