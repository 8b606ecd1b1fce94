"""How sure a gap is: standard uncertainties of radii and gaps."""

from dataclasses import dataclass

import numpy as np

from lakemap.basis.published import exact
from lakemap.basis.records import Accuracy, BoolArray, FloatArray

_ASSUMED_SHARE = exact(
    0.15, "of the length", "ours: nobody measured it; half of twice that either way", ""
)
COVERAGE = 2.0  # the uncertainty shown is twice the standard one (JCGM 100:2008, 6.3.3: k = 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class CircleInputs:
    """What a swing circle rests on; shape [n]. Unknown depth: drop 0, reach the whole line."""

    drop_m: FloatArray
    riser_m: FloatArray
    ground_m: FloatArray
    riser_assumed: BoolArray  # on a set float: nobody measured it
    ground_assumed: BoolArray
    depth_sigma_m: FloatArray
    position_sigma_m: FloatArray  # one axis; NaN: the field's


@dataclass(frozen=True, slots=True, kw_only=True)
class CircleSigma:
    """Uncertainty of a swing circle's edge; shape [n]."""

    own2_m2: FloatArray  # variance of what is the float's own: position, depth, line
    level_m: FloatArray  # effect of the lake's level, shared by all floats


def circle_sigma(circles: CircleInputs, accuracy: Accuracy) -> CircleSigma:
    """Return how sure each swing circle's edge is.

    With R(S, d) = sqrt(S^2 - max(d, 0)^2) and finite steps of one standard uncertainty:
    delta_d = R(S, d - s_d) - R(S, d), delta_S = R(S + s_S, d) - R(S, d),
    lambda = R(S, d - s_level) - R(S, d); s_S^2 = line^2 + (0.15 x each assumed part)^2 and
    own^2 = position^2 + delta_d^2 + delta_S^2, the float's own position where it is known how good
    that is, else the field's. Independent parts add in squares: JCGM 100:2008,
    Guide to the Expression of Uncertainty in Measurement, 5.1.2; the finite step takes the place
    of the slope, which is endless at R = 0.

    Parameters
    ----------
    circles : CircleInputs
        Of all floats.
    accuracy : Accuracy
        Of the field.

    Returns
    -------
    CircleSigma
        Arrays of shape [n].
    """
    total, drop = circles.riser_m + circles.ground_m, circles.drop_m
    at = _reach(total, drop)
    line2 = (
        accuracy.line_m**2
        + np.where(circles.riser_assumed, _ASSUMED_SHARE.value * circles.riser_m, 0.0) ** 2
        + np.where(circles.ground_assumed, _ASSUMED_SHARE.value * circles.ground_m, 0.0) ** 2
    )
    by_depth = _reach(total, drop - circles.depth_sigma_m) - at
    by_line = _reach(total + np.sqrt(line2), drop) - at
    known = np.isfinite(circles.position_sigma_m)
    position = np.where(known, circles.position_sigma_m, accuracy.position_m)
    return CircleSigma(
        own2_m2=position**2 + by_depth**2 + by_line**2,
        level_m=_reach(total, drop - accuracy.level_m) - at,
    )


def _reach(total: FloatArray, drop: FloatArray) -> FloatArray:
    """R(S, d), 0 where the line is too short."""
    d = np.maximum(drop, 0.0)
    radius: FloatArray = np.sqrt(np.maximum((total - d) * (total + d), 0.0))
    return radius


def pair_uncertainty(own2_m2: FloatArray, level_m: FloatArray) -> FloatArray:
    """Return the uncertainty of gaps between two floats.

    2 sqrt(own1^2 + own2^2 + (lambda1 + lambda2)^2): the level moves both circles at once.

    Parameters
    ----------
    own2_m2, level_m : ndarray, shape [p, 2]
        Of both floats, from `CircleSigma`.

    Returns
    -------
    ndarray, shape [p]
        Twice the standard uncertainty [m].
    """
    uncertainty: FloatArray = COVERAGE * np.sqrt(own2_m2.sum(axis=1) + level_m.sum(axis=1) ** 2)
    return uncertainty


def layer_uncertainty(sigma: CircleSigma, accuracy: Accuracy) -> FloatArray:
    """Return the uncertainty of gaps to zones and shore: own, layer and level in squares.

    Parameters
    ----------
    sigma : CircleSigma
        Of all floats.
    accuracy : Accuracy
        Of the field.

    Returns
    -------
    ndarray, shape [n]
        Twice the standard uncertainty [m].
    """
    uncertainty: FloatArray = COVERAGE * np.sqrt(
        sigma.own2_m2 + accuracy.layer_m**2 + sigma.level_m**2
    )
    return uncertainty


def depth_uncertainty(depth_sigma_m: FloatArray, accuracy: Accuracy) -> FloatArray:
    """Return the uncertainty of a depth at a lake level: depth and level in squares.

    Parameters
    ----------
    depth_sigma_m : ndarray, shape [n]
        Standard uncertainty of the depth [m].
    accuracy : Accuracy
        Of the field.

    Returns
    -------
    ndarray, shape [n]
        Twice the standard uncertainty [m].
    """
    uncertainty: FloatArray = COVERAGE * np.sqrt(depth_sigma_m**2 + accuracy.level_m**2)
    return uncertainty
