"""Soundings that lie far from what those around them say: fish, weeds, lost echoes.

Rule of ours. A sounding is held against the median of up to 12 others within 30 m. It is odd if it
differs by more than five spreads, where a spread holds the sounder's own error and how much the
neighbours differ among themselves (by the median of their deviations), so that a steep bed forgives
more. A sounding that is too shallow may be a rock, and a rock must not be lost: it is odd only if
none of its neighbours rises at least half as far. One that is too deep has no such excuse.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike
from scipy.spatial import cKDTree

from lakemap.basis.published import Published, exact
from lakemap.basis.records import BoolArray, FloatArray

_S44 = "IHO Standards for Hydrographic Surveys, Special Publication 44, 5th edition, 2008"
STEADY_M: Final[Published] = exact(0.5, "m", _S44, "table 1, order 1a, a")
PER_DEPTH: Final[Published] = exact(0.013, "m/m", _S44, "table 1, order 1a, b")
_SPREADS: Final = 5.0  # ours
_NEIGHBOURS: Final = 12
_LEAST_NEIGHBOURS: Final = 5
_WITHIN_M: Final = 30.0
_RISES: Final = 0.5  # of the way from the neighbours to a shallow one
_IN_95_PERCENT: Final = 1.959964  # standard deviations, of a normal distribution
_MAD_TO_SIGMA: Final = 1.4826  # of a normal distribution


@dataclass(frozen=True, slots=True, kw_only=True)
class Odd:
    """Which soundings are odd, and what is around each; shape [n]."""

    odd: BoolArray
    around_m: FloatArray  # median of the neighbours; NaN: too few to tell


def sounder_spread(depth_m: ArrayLike) -> FloatArray:
    """Return the 95 % error of a depth that a survey of order 1a allows.

    sqrt(a^2 + (b d)^2) with a = 0.5 m, b = 0.013. Source: IHO Special Publication 44, 5th edition,
    2008, table 1.

    Parameters
    ----------
    depth_m : array_like
        Depth d [m].

    Returns
    -------
    ndarray
        Error [m], 95 %.
    """
    deep = np.asarray(depth_m, dtype=np.float64)
    error: FloatArray = np.hypot(STEADY_M.value, PER_DEPTH.value * deep)
    return error


def odd_ones(xy: FloatArray, depth_m: FloatArray, *, tested: int) -> Odd:
    """Find the odd ones among soundings.

    Parameters
    ----------
    xy : ndarray, shape [n, 2]
        Positions [m].
    depth_m : ndarray, shape [n]
        Depths [m].
    tested : int
        So many at the end are tested; those before are neighbours only.

    Returns
    -------
    Odd
        Of the tested ones.
    """
    start = len(xy) - tested
    if len(xy) <= _LEAST_NEIGHBOURS:
        return Odd(odd=np.zeros(tested, dtype=bool), around_m=np.full(tested, np.nan))
    count = min(_NEIGHBOURS + 1, len(xy))
    _, index = cKDTree(xy).query(xy[start:], k=count, distance_upper_bound=_WITHIN_M)
    own = index == np.arange(start, len(xy))[:, None]
    around = np.append(depth_m, np.nan)[np.where(own, len(xy), index)]
    known = np.isfinite(around)
    enough = known.sum(axis=1) >= _LEAST_NEIGHBOURS
    odd, middle = np.zeros(tested, dtype=bool), np.full(tested, np.nan)
    if enough.any():
        odd[enough], middle[enough] = _against(depth_m[start:][enough], around[enough])
    return Odd(odd=odd, around_m=middle)


def _against(depth_m: FloatArray, around_m: FloatArray) -> tuple[BoolArray, FloatArray]:
    """Hold depths against their neighbours, some of which are NaN."""
    middle = np.nanmedian(around_m, axis=1)
    differ = np.nanmedian(np.abs(around_m - middle[:, None]), axis=1)
    own = sounder_spread(middle) / _IN_95_PERCENT
    limit = _SPREADS * np.hypot(own, _MAD_TO_SIGMA * differ)
    off = depth_m - middle
    is_backed = (around_m <= (middle + _RISES * off)[:, None]).any(axis=1)  # NaN compares false
    return (off > limit) | ((off < -limit) & ~is_backed), middle
