"""Where the primary lies, from fixes of its float in different winds: a circle of known size."""

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.records import FloatArray
from lakemap.rig.circle_residuals import FloatFixes, Weights, residuals, slopes, weights_of

# Symbols in the formulas: P the primary, f a fix, R the circle's radius, a and b the calm and the
# taut reach, m and w mean and standard deviation of a radius anywhere between them, s the standard
# uncertainty of a position on one axis, t that of a wind's bearing, u the way down the wind.

LEAST_FIXES: Final = 3
LEAST_SPAN_DEG: Final = 90.0
# 95 % of chi-squared with 2 degrees of freedom, whose distribution is 1 - exp(-x/2)
CHI2_95: Final = float(-2.0 * np.log(0.05))
_STARTS: Final = 8  # directions in which the centre is looked for, besides the fixes' own middle
_ONCE_IN: Final = 0.05

Why = Literal["few", "one_side", "loose"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedCircle:
    """The circle that fits best."""

    x_m: float
    y_m: float
    radius_m: float
    covariance_m2: FloatArray  # [2, 2], of the centre, from the slopes at the solution
    error_m: float  # standard error of the centre along its worst axis
    off_m: FloatArray  # [n], distance from the centre less the radius
    bearing_deg: FloatArray  # [n], of each fix from the centre
    span_deg: float  # the least sector that holds all fixes
    misfit: float  # root mean square of the residuals over what was expected of them; near 1
    grown: bool  # the error was multiplied by `misfit`, as the fixes disagree more than chance has


@dataclass(frozen=True, slots=True, kw_only=True)
class NotFitted:
    """Why the fixes name no centre."""

    why: Why
    span_deg: float | None = None
    error_m: float | None = None


def fit_circle(fixes: FloatFixes) -> FittedCircle | NotFitted:
    """Fit a circle of a known band of radii to fixes of one float in different winds.

    Least squares over P and R of
    (|f - P| - sqrt(R^2 + s^2)) / sqrt(s^2 + w^2) for a fix without its wind;
    for a fix in a known wind of f - P - R exp(-t^2/2) u, down the wind and across it, each over the
    standard deviation of r (cos e, sin e) + position for r with mean m and deviation w, e normal
    with t: variances s^2 + (m^2 + w^2)(1 + exp(-2 t^2))/2 - m^2 exp(-t^2) and
    s^2 + (m^2 + w^2)(1 - exp(-2 t^2))/2; and of (R - m) / w.
    m = (a + b)/2, w = (b - a)/sqrt(12). w counts twice on purpose: fixes in winds of like strength
    share one radius, fixes in calm and in gales don't, and nobody noted which. sqrt(R^2 + s^2) is
    how far a fix lies from P on average, as an error across the line makes it longer.

    The covariance is (J'J)^-1 at the solution. Where the residuals are larger than chance has it
    once in twenty times, it is multiplied by their mean square (the Birge ratio). The standard
    error is that of its worst axis, or, where more, the farthest place that fits within 95 %
    (sum of squares up by 5.99) over sqrt(5.99): for fixes as unsure as the circle is large, slopes
    tell too little. Sources: Gauss, Theoria combinationis, 1821; put together for this rig by us.

    Parameters
    ----------
    fixes : FloatFixes
        Of one float.

    Returns
    -------
    FittedCircle or NotFitted
        The latter for fewer than three fixes, for fixes all within 90 degrees of bearing (from the
        centre, or by their winds), and where the standard error is larger than the circle.

    Raises
    ------
    RangeError
        If a number is not finite, the band is none, or the uncertainty is not above 0.
    """
    _refuse(fixes)
    if len(fixes.xy) < LEAST_FIXES:
        return NotFitted(why="few")
    by_wind = span_of(fixes.wind_from_deg)
    if np.isfinite(fixes.wind_from_deg).all() and by_wind <= LEAST_SPAN_DEG:
        return NotFitted(why="one_side", span_deg=by_wind)
    weights = weights_of(fixes)
    found = _told(fixes, weights, _solved(fixes, weights))
    if found.span_deg <= LEAST_SPAN_DEG:
        return NotFitted(why="one_side", span_deg=found.span_deg)
    if found.error_m > max(found.radius_m, weights.middle, weights.sigma):
        return NotFitted(why="loose", error_m=found.error_m)
    return found


def reach_band(
    line_m: float, *, drop_high_m: float | None, reach_low_m: float | None
) -> tuple[float, float]:
    """Return how near and how far a float may lie from its primary: calm and taut.

    In calm the float lies over the slack: line - drop, not below 0, at high water, where that is
    least; taut at low water it lies at its reach.

    Parameters
    ----------
    line_m : float
        Riser and ground chain [m].
    drop_high_m : float or None
        From the hook of the empty float to the primary at high water [m]; None: not known.
    reach_low_m : float or None
        At low water [m]; None: the line is too short for the depth, or it is not known.

    Returns
    -------
    tuple of float
        Calm and taut reach [m].
    """
    taut = line_m if reach_low_m is None else reach_low_m
    calm = 0.0 if drop_high_m is None else max(0.0, line_m - max(drop_high_m, 0.0))
    return min(calm, taut), taut


def span_of(bearing_deg: ArrayLike) -> float:
    """Return the width of the least sector that holds all bearings.

    Parameters
    ----------
    bearing_deg : array_like, shape [n]
        Bearings [degrees]; NaN is left out.

    Returns
    -------
    float
        0 to below 360 degrees.
    """
    all_ = np.asarray(bearing_deg, dtype=np.float64)
    known = np.sort(all_[np.isfinite(all_)] % 360.0)
    if known.size == 0:
        return 0.0
    gaps = np.diff(known, append=known[0] + 360.0)
    return float(360.0 - gaps.max())


def _refuse(fixes: FloatFixes) -> None:
    sound = (
        bool(np.isfinite(fixes.xy).all())
        and 0 <= fixes.calm_m <= fixes.taut_m < np.inf
        and 0 < fixes.sigma_m < np.inf
    )
    if not sound:
        raise RangeError(
            f"fixes on a band of {fixes.calm_m:g} to {fixes.taut_m:g} m with an uncertainty of"
            f" {fixes.sigma_m:g} m: need 0 <= calm <= taut, all finite, and an uncertainty above 0"
        )


def _solved(fixes: FloatFixes, weights: Weights) -> FloatArray:
    """Return the best solution from several starts: x, y, radius."""
    from scipy.optimize import least_squares  # noqa: PLC0415 - only where fixes are fitted

    found = [
        least_squares(residuals, start, jac=slopes, args=(fixes, weights), x_scale="jac")
        for start in _starts(fixes, weights)
    ]
    best: FloatArray = min(found, key=lambda one: float(one.cost)).x
    return best


def _starts(fixes: FloatFixes, weights: Weights) -> list[FloatArray]:
    """Return places to begin at: among the fixes and all about them."""
    middle = fixes.xy.mean(axis=0)
    if np.isfinite(fixes.wind_from_deg).all():  # then all is linear, and any start will do
        return [np.array([*middle, weights.middle])]
    around = np.radians(np.arange(_STARTS) * 360.0 / _STARTS)
    ring = middle + weights.middle * np.column_stack([np.sin(around), np.cos(around)])
    return [np.array([*place, weights.middle]) for place in (middle, *ring)]


def _farthest(at: FloatArray, fixes: FloatFixes, weights: Weights, mean_square: float) -> float:
    """Return how far the farthest place lies whose sum of squares is up by 5.99 at most [m]."""
    least = float((residuals(at, fixes, weights) ** 2).sum())
    reach = 3.0 * (weights.middle + weights.off)
    way = np.radians(np.arange(0.0, 360.0, 10.0))
    far = np.linspace(0.0, reach, 121)
    # the radius that suits each place best, by trying: 15 within two deviations of the middle
    radius = np.maximum(weights.middle + weights.width * np.linspace(-2.0, 2.0, 15), 0.0)
    tried = np.empty((way.size, far.size, radius.size + 1, 3))
    tried[..., 0] = at[0] + (np.sin(way)[:, None] * far)[..., None]
    tried[..., 1] = at[1] + (np.cos(way)[:, None] * far)[..., None]
    tried[..., 2] = [*radius, at[2]]
    squares = (residuals(tried, fixes, weights) ** 2).sum(axis=-1).min(axis=-1)
    fits = squares - least <= CHI2_95 * mean_square
    return float(np.where(fits, far, 0.0).max())


def _told(fixes: FloatFixes, weights: Weights, at: FloatArray) -> FittedCircle:
    """Turn a solution into its record."""
    from scipy.stats import chi2  # noqa: PLC0415 - only where fixes are fitted

    off, steep = residuals(at, fixes, weights), slopes(at, fixes, weights)
    free = len(off) - 3
    mean_square = float(off @ off) / free
    grown = bool(chi2.sf(mean_square * free, free) < _ONCE_IN)
    by = mean_square if grown else 1.0
    inverse: FloatArray = np.asarray(np.linalg.pinv(steep.T @ steep), dtype=np.float64)
    covariance = inverse[:2, :2] * by
    worst = float(np.sqrt(max(np.linalg.eigvalsh(covariance).max(), 0.0)))
    far = _farthest(at, fixes, weights, by) / np.sqrt(CHI2_95)
    east, north = (fixes.xy - at[:2]).T
    bearing = np.degrees(np.arctan2(east, north)) % 360.0
    return FittedCircle(
        x_m=float(at[0]),
        y_m=float(at[1]),
        radius_m=float(abs(at[2])),
        covariance_m2=covariance,
        error_m=max(worst, float(far)),
        off_m=np.hypot(east, north) - float(abs(at[2])),
        bearing_deg=bearing,
        span_deg=span_of(bearing),
        misfit=float(np.sqrt(mean_square)),
        grown=grown,
    )
