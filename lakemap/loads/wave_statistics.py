"""How heights are spread in a sea: Rayleigh's distribution, and what shallow water makes of it."""

import math
from typing import Final

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import erfc

from lakemap.basis.errors import RangeError
from lakemap.basis.published import exact
from lakemap.basis.records import FloatArray

_RAYLEIGH: Final = "Longuet-Higgins, Journal of Marine Research 11 (1952) 245-266"
EULER_HALF: Final = 0.28860783245  # half of Euler's constant
CREST_SHARE = exact(
    0.8, "crest/H_max", "Coastal Engineering Manual, part II ch. 8, after CIRIA 1991", "at most"
)


def exceeded_height(share: ArrayLike) -> FloatArray:
    """Return the height that a share of the waves exceeds, over H_m0.

    P(H > h) = exp(-2 h^2), so h = sqrt(ln(1/P)/2). Source: Longuet-Higgins, Journal of Marine
    Research 11 (1952) 245-266.

    Parameters
    ----------
    share : array_like
        Share P of the waves, above 0 to 1.

    Returns
    -------
    ndarray
        Height over the significant height.

    Raises
    ------
    RangeError
        If a share is not above 0 and at most 1.
    """
    p = np.asarray(share, dtype=np.float64)
    if not ((p > 0) & (p <= 1)).all():
        raise RangeError(f"shares of waves must lie above 0 to 1 ({_RAYLEIGH})")
    height: FloatArray = np.sqrt(np.log(1 / p) / 2)
    return height


def mean_of_highest(share: ArrayLike) -> FloatArray:
    """Return the mean of the highest share of the waves, over 4 sqrt(m0).

    The part of Rayleigh's mean beyond `exceeded_height`: h + sqrt(pi/8) erfc(sqrt 2 h)/P. Source:
    Longuet-Higgins, Journal of Marine Research 11 (1952) 245-266.

    Parameters
    ----------
    share : array_like
        Share P, above 0 to 1; a third gives the significant wave.

    Returns
    -------
    ndarray
        Height over 4 sqrt(m0).

    Raises
    ------
    RangeError
        As `exceeded_height`.
    """
    p = np.asarray(share, dtype=np.float64)
    height = exceeded_height(p)
    mean: FloatArray = height + math.sqrt(math.pi / 8) * erfc(math.sqrt(2) * height) / p
    return mean


def mean_highest_of(waves: ArrayLike) -> FloatArray:
    """Return the mean highest of N waves, over 4 sqrt(m0): [sqrt(ln N) + 0.2886/sqrt(ln N)]/sqrt 2.

    Source: Longuet-Higgins, Journal of Marine Research 11 (1952) 245-266.

    Parameters
    ----------
    waves : array_like
        Number of waves N, > 1.

    Returns
    -------
    ndarray
        Ratio.

    Raises
    ------
    RangeError
        If there is no more than one wave.
    """
    many = np.asarray(waves, dtype=np.float64)
    if not (many > 1).all():
        raise RangeError(f"the highest of waves needs more than one of them ({_RAYLEIGH})")
    log = np.sqrt(np.log(many))
    ratio: FloatArray = (log + EULER_HALF / log) / math.sqrt(2)
    return ratio


def highest_with_risk(waves: ArrayLike, *, risk: ArrayLike) -> FloatArray:
    """Return the height that the highest of N waves exceeds with some risk, over 4 sqrt(m0).

    1 - (1 - exp(-2 h^2))^N = risk. Source: Rayleigh's distribution, waves independent.

    Parameters
    ----------
    waves : array_like
        Number of waves N, 1 or more.
    risk : array_like
        Share of such storms, 0 to 1 exclusive.

    Returns
    -------
    ndarray
        Ratio.

    Raises
    ------
    RangeError
        If a number of waves or a risk is outside its range.
    """
    many, chance = np.asarray(waves, dtype=np.float64), np.asarray(risk, dtype=np.float64)
    if not ((many >= 1).all() and ((chance > 0) & (chance < 1)).all()):
        raise RangeError(f"need one wave or more and a risk between 0 and 1 ({_RAYLEIGH})")
    return exceeded_height(-np.expm1(np.log1p(-chance) / many))


def shallow_exceeded(height_m: ArrayLike, *, depth_m: ArrayLike) -> tuple[FloatArray, FloatArray]:
    """Return the heights that 1 % and 0.1 % of the waves exceed in shallow water.

    1.517 H/(1 + H/d)^(1/3) and 1.859 H/(1 + H/d)^(1/2). Source: CIRIA/CUR 1991 as printed in the
    Coastal Engineering Manual, EM 1110-2-1100, part II ch. 8, 2003.

    Parameters
    ----------
    height_m : array_like
        Significant height H [m], >= 0.
    depth_m : array_like
        Depth d [m], > 0; inf is deep.

    Returns
    -------
    tuple of ndarray
        Both heights [m].

    Raises
    ------
    RangeError
        If a height is below 0 or a depth is not above 0.
    """
    h, d = np.asarray(height_m, dtype=np.float64), np.asarray(depth_m, dtype=np.float64)
    if not ((h >= 0).all() and (d > 0).all()):
        raise RangeError("heights must be 0 or more and depths above 0 (CIRIA/CUR 1991)")
    return 1.517 * h / (1 + h / d) ** (1 / 3), 1.859 * h / np.sqrt(1 + h / d)
