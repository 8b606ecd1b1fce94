"""Fixes of a float against a circle about its primary: what is expected, residuals, slopes."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from lakemap.basis.published import exact
from lakemap.basis.records import FloatArray

# Symbols as in `fitted_circle`: m and w mean and standard deviation of a radius in the band,
# s the standard uncertainty of a position, t that of a wind's bearing.

WIND_SIGMA_DEG: Final = exact(
    20.0,
    "deg",
    "ours: a wind told by one of sixteen points, which swings, and a float that shears about it",
    "",
)
NARROW_M: Final = 0.01  # a band that has no width is taken to be so wide


@dataclass(frozen=True, slots=True, kw_only=True)
class FloatFixes:
    """Fixes of one float, and what its line allows."""

    xy: FloatArray  # [n, 2] metres
    wind_from_deg: FloatArray  # [n], true; NaN: not noted
    sigma_m: float  # of a position, one axis
    calm_m: float  # the reach of the line in calm at high water: the least
    taut_m: float  # at low water: the greatest


@dataclass(frozen=True, slots=True)
class Weights:
    """What is expected: m, w, s, and the standard deviations that residuals are divided by."""

    middle: float
    width: float
    sigma: float
    off: float  # across the circle, wind not known
    shorter: float  # mean of the cosine of a wind's error
    along: float  # down the wind
    across: float


def weights_of(fixes: FloatFixes) -> Weights:
    """Return what is expected of the residuals, by the moments that `fit_circle` tells.

    Parameters
    ----------
    fixes : FloatFixes
        Of one float.

    Returns
    -------
    Weights
        In metres.
    """
    middle = (fixes.calm_m + fixes.taut_m) / 2
    width = max((fixes.taut_m - fixes.calm_m) / np.sqrt(12.0), NARROW_M)
    turn2 = np.radians(WIND_SIGMA_DEG.value) ** 2
    s2, r2 = fixes.sigma_m**2, middle**2 + width**2
    along2 = r2 * (1 + np.exp(-2 * turn2)) / 2 - middle**2 * np.exp(-turn2)
    return Weights(
        middle=middle,
        width=float(width),
        sigma=fixes.sigma_m,
        off=float(np.sqrt(s2 + width**2)),
        shorter=float(np.exp(-turn2 / 2)),
        along=float(np.sqrt(s2 + along2)),
        across=float(np.sqrt(s2 + r2 * (1 - np.exp(-2 * turn2)) / 2)),
    )


def _lee(fixes: FloatFixes) -> tuple[FloatArray, FloatArray]:
    """Ways down the wind and to the right of it, where it is known; shape [k, 2] each."""
    known = np.isfinite(fixes.wind_from_deg)
    way = np.radians(fixes.wind_from_deg[known] + 180.0)
    east, north = np.sin(way), np.cos(way)
    return np.column_stack([east, north]), np.column_stack([north, -east])


def residuals(at: FloatArray, fixes: FloatFixes, weights: Weights) -> FloatArray:
    """Return residuals over what is expected of them.

    Parameters
    ----------
    at : ndarray, shape [..., 3]
        Centre and radius: x, y, R [m].
    fixes : FloatFixes
        Of one float.
    weights : Weights
        Of these fixes.

    Returns
    -------
    ndarray, shape [..., k]
        Fixes without wind, fixes down and across their winds, the radius itself.
    """
    known = np.isfinite(fixes.wind_from_deg)
    away = fixes.xy - at[..., None, :2]
    down, right = _lee(fixes)
    radius = at[..., 2:]
    bare = np.hypot(away[..., ~known, 0], away[..., ~known, 1])
    along = (away[..., known, :] * down).sum(axis=-1) - weights.shorter * radius
    across = (away[..., known, :] * right).sum(axis=-1)
    return np.concatenate(
        [
            (bare - np.hypot(radius, weights.sigma)) / weights.off,
            along / weights.along,
            across / weights.across,
            (radius - weights.middle) / weights.width,
        ],
        axis=-1,
    )


def slopes(at: FloatArray, fixes: FloatFixes, weights: Weights) -> FloatArray:
    """Return the residuals' slopes by x, y and R, shape [k, 3]; parameters as in `residuals`."""
    known = np.isfinite(fixes.wind_from_deg)
    away = fixes.xy[~known] - at[:2]
    far = np.maximum(np.hypot(*away.T), NARROW_M)
    shared = np.full(len(far), -at[2] / np.hypot(at[2], weights.sigma))
    down, right = _lee(fixes)
    shorter = np.full(len(down), -weights.shorter)
    return np.vstack(
        [
            np.column_stack([-away / far[:, None], shared]) / weights.off,
            np.column_stack([-down, shorter]) / weights.along,
            np.column_stack([-right, np.zeros(len(right))]) / weights.across,
            [[0.0, 0.0, 1.0 / weights.width]],
        ]
    )
