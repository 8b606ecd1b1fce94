"""Lengths that the tool chooses where the floats file is blank."""

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.published import exact
from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import FloatArray, Units

GROUND_OVER_DEPTH = exact(
    1.0, "ground chain/depth", "common practice, no published source", "about one water depth"
)
_STEP_M = {"ft-lb": FOOT_M.value / 2, "m-kg": 0.1}
_ROUNDING = 1e-9  # a whole number of steps, but for rounding, stays as it is


def round_up(length_m: ArrayLike, units: Units) -> FloatArray:
    """Round a length up to half a foot or 10 cm.

    Parameters
    ----------
    length_m : array_like
        Lengths [m]; NaN stays NaN.
    units : {'ft-lb', 'm-kg'}
        What the people of the field use.

    Returns
    -------
    ndarray
        Lengths [m].
    """
    step = _STEP_M[units]
    whole: FloatArray = np.ceil(np.asarray(length_m, dtype=np.float64) / step - _ROUNDING) * step
    return whole


def ground_length(depth_normal_m: ArrayLike, units: Units) -> FloatArray:
    """Return a ground chain of one water depth at normal level, rounded up.

    Source: common practice, no published source.

    Parameters
    ----------
    depth_normal_m : array_like
        Depth at the primary at normal level [m]; NaN stays NaN.
    units : {'ft-lb', 'm-kg'}
        What the people of the field use.

    Returns
    -------
    ndarray
        Length [m], at least one step.
    """
    depth = GROUND_OVER_DEPTH.value * np.asarray(depth_normal_m, dtype=np.float64)
    least: FloatArray = np.maximum(round_up(depth, units), _STEP_M[units])
    return least


def riser_length(
    deepest_high_m: ArrayLike, *, hook_depth_m: ArrayLike, wave_m: ArrayLike, units: Units
) -> FloatArray:
    """Return a riser that leaves the secondary on the bed in calm high water.

    Greatest depth within the walk circle at high water, less the hook's depth with nobody aboard,
    and half the height of the wave; rounded up. Ours: the secondary may lie anywhere within the
    walk circle, and the crest must not lift it.

    Parameters
    ----------
    deepest_high_m : array_like
        Greatest depth at high water within the walk circle [m].
    hook_depth_m : array_like
        Hook below the calm surface with nobody aboard [m]; negative above it.
    wave_m : array_like
        The larger of wake and storm wave height [m].
    units : {'ft-lb', 'm-kg'}
        What the people of the field use.

    Returns
    -------
    ndarray
        Length [m]; at least one step.
    """
    deepest, hook, wave = (
        np.asarray(value, dtype=np.float64) for value in (deepest_high_m, hook_depth_m, wave_m)
    )
    least: FloatArray = np.maximum(round_up(deepest - hook + wave / 2, units), _STEP_M[units])
    return least
