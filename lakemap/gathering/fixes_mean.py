"""The mean of repeated fixes of one thing, how sure it is, and which fix lies far off."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

import numpy as np

from lakemap.basis.records import FloatArray
from lakemap.clearances.uncertainty import COVERAGE

FAR: Final = (
    5.0  # a fix off by so many standard deviations, of the scatter and of the field, is far
)
LEAST_ERROR_M: Final = 0.3  # ours: no phone is surer, however alike its fixes are
_LEAST_TO_DOUBT: Final = 3  # of two fixes nobody knows which is the wrong one


@dataclass(frozen=True, slots=True, kw_only=True)
class MeanFix:
    """The mean, and its standard uncertainty on one axis."""

    x_m: float
    y_m: float
    count: int  # of the fixes in it
    days: int
    scatter_m: float | None  # of one fix, one axis; None: there is one fix only
    error_m: float | None  # of the mean; None: one fix has no scatter
    far: tuple[int, ...]  # places of fixes that were left out
    far_m: tuple[float, ...]  # how far each lies from the mean of the others


def mean_fix(xy: FloatArray, days: Sequence[date], *, sigma_m: float) -> MeanFix:
    """Average fixes, one gross slip left out and named.

    Scatter on one axis: s = sqrt(sum |f - mean|^2 / (2 (n - 1))). Fixes of one day share the errors
    of sky and receiver, so days are what is independent: over k days
    u = sqrt(k/(k - 1) sum over days |sum of (f - mean)|^2 / 2) / n, which for one fix a day is
    s / sqrt(n); where all fixes are of one day u is s itself. As a scatter of few is itself unsure,
    u is grown by Student's t, so that 2 u holds 95 % as everywhere here; 0.3 m is the least.
    A fix is far off if it alone lies more than five standard deviations (the larger of the others'
    scatter and the field's accuracy) from the mean of the others.

    Sources: JCGM 100:2008, 4.2 (scatter of repeated observations) and G.3 (Student's t); Liang
    and Zeger, Biometrika 73 (1986) 13-22 (sums within clusters, here with one axis of two).

    Parameters
    ----------
    xy : ndarray, shape [n, 2]
        Fixes [m], at least one.
    days : sequence of date
        Of each.
    sigma_m : float
        Standard uncertainty of one fix, as the field has it [m].

    Returns
    -------
    MeanFix
        Of those that are not far off.
    """
    kept, far, far_m = _without_slip(xy, sigma_m)
    mine, when = xy[kept], np.array([days[i].toordinal() for i in kept])
    n, middle = len(mine), mine.mean(axis=0)
    off = mine - middle
    count = len(np.unique(when))
    scatter = None if n == 1 else float(np.sqrt((off**2).sum() / (2 * (n - 1))))
    error = scatter
    if count > 1:
        sums = np.array([off[when == day].sum(axis=0) for day in np.unique(when)])
        error = float(np.sqrt(count / (count - 1) * (sums**2).sum() / 2) / n)
    if error is not None:
        error = max(error * _by_student(2 * ((count if count > 1 else n) - 1)), LEAST_ERROR_M)
    return MeanFix(
        x_m=float(middle[0]),
        y_m=float(middle[1]),
        count=n,
        days=count,
        scatter_m=scatter,
        error_m=error,
        far=far,
        far_m=far_m,
    )


def _by_student(free: int) -> float:
    """How much a standard uncertainty grows for the few observations that it is from."""
    from scipy.stats import t  # noqa: PLC0415 - slow to import

    return max(1.0, float(t.ppf(0.975, free)) / COVERAGE)


def _without_slip(
    xy: FloatArray, sigma_m: float
) -> tuple[list[int], tuple[int, ...], tuple[float, ...]]:
    """Places of the fixes that are kept, of one that is far off, and how far it is."""
    n = len(xy)
    everyone = list(range(n))
    if n < _LEAST_TO_DOUBT:
        return everyone, (), ()
    off = []
    for i in everyone:
        others = np.delete(xy, i, axis=0)
        middle = others.mean(axis=0)
        scatter = np.sqrt(((others - middle) ** 2).sum() / (2 * (n - 2)))
        far_m = float(np.hypot(*(xy[i] - middle)))
        off.append((far_m / max(float(scatter), sigma_m), far_m))
    beyond = [i for i in everyone if off[i][0] > FAR]
    if len(beyond) != 1:
        return everyone, (), ()
    return [i for i in everyone if i != beyond[0]], (beyond[0],), (off[beyond[0]][1],)
