"""Where a primary lies by all its float's fixes: their mean, a fitted circle, or by the bearing."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from lakemap.basis.records import FloatArray, PositionOf, Units
from lakemap.basis.wording import length_text
from lakemap.gathering.fixes_mean import MeanFix, mean_fix
from lakemap.gathering.fixes_rigs import Rigs
from lakemap.rig.circle_residuals import WIND_SIGMA_DEG, FloatFixes
from lakemap.rig.fitted_circle import (
    LEAST_FIXES,
    LEAST_SPAN_DEG,
    FittedCircle,
    NotFitted,
    fit_circle,
)
from lakemap.saving.records import NewFix

_FAR: Final = 5.0  # standard deviations of a fix from the circle of the others
_SURE_ENOUGH: Final = 0.5  # of the field's accuracy: what the fixes of one day never tell


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """Where a primary lies."""

    float_id: str
    by: PositionOf  # which of the fixes it is from
    x_m: float
    y_m: float
    error_m: float | None  # standard uncertainty, one axis; None: that of one fix, the field's
    basis: str  # such as mean of 4 fixes on 3 days
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class NoEstimate:
    """Why some fixes name no primary; they are kept."""

    float_id: str
    why: str


def estimates_of(
    float_id: str, fixes: Sequence[NewFix], rigs: Rigs
) -> tuple[tuple[Estimate, ...], tuple[NoEstimate, ...]]:
    """Estimate where one primary lies, from each kind of fix by itself.

    Parameters
    ----------
    float_id : str
        Whose.
    fixes : sequence of NewFix
        All of that float.
    rigs : Rigs
        Of the field.

    Returns
    -------
    tuple of Estimate
        The surest first.
    tuple of NoEstimate
        What can't be said, and why.
    """
    found: list[Estimate] = []
    open_: list[NoEstimate] = []
    for by, estimate in (("primary", _by_primary), ("float", _by_float), ("secondary", _by_second)):
        mine = [one for one in fixes if one.position_of == by]
        if not mine:
            continue
        one = estimate(float_id, mine, rigs)
        if isinstance(one, Estimate) and not rigs.is_wet(np.array([one.x_m, one.y_m])):
            why = f"{one.basis}: that place is on land; look at the fixes"
            one = NoEstimate(float_id=float_id, why=why)
        if isinstance(one, Estimate):
            found.append(one)
        else:
            open_.append(one)
    found.sort(key=lambda one: rigs.sigma_m if one.error_m is None else one.error_m)
    return tuple(found), tuple(open_)


def _xy(fixes: Sequence[NewFix], rigs: Rigs) -> FloatArray:
    return rigs.xy(np.array([[one.lon, one.lat] for one in fixes]))


def _counted(count: int, noun: str = "fix") -> str:
    plural = f"{noun}es" if noun.endswith("x") else f"{noun}s"
    return f"{count} {noun if count == 1 else plural}"


def _shown(fix: NewFix) -> str:
    return f"the fix of {fix.day.isoformat()} at {fix.lat:.6f}, {fix.lon:.6f}"


def _by_primary(float_id: str, fixes: Sequence[NewFix], rigs: Rigs) -> Estimate:
    units, sigma = rigs.field.settings.units, rigs.sigma_m
    mean = mean_fix(_xy(fixes, rigs), [one.day for one in fixes], sigma_m=sigma)
    notes = [*_slips(mean, fixes, units)]
    if mean.error_m is not None and mean.days == 1 and mean.error_m < _SURE_ENOUGH * sigma:
        notes.append(
            "they are all of one day, whose errors they share: fix it again on another day"
            " before you rely on that ±"
        )
    return Estimate(
        float_id=float_id,
        by="primary",
        x_m=mean.x_m,
        y_m=mean.y_m,
        error_m=mean.error_m,
        basis=_mean_words(mean, "primary", units),
        notes=tuple(notes),
    )


def _mean_words(mean: MeanFix, what: str, units: Units) -> str:
    if mean.scatter_m is None:
        return f"one fix of the {what}"
    days = "one day" if mean.days == 1 else f"{mean.days} days"
    one = length_text(mean.scatter_m, units)
    return f"mean of {_counted(mean.count)} of the {what} on {days}, each ± {one}"


def _slips(mean: MeanFix, fixes: Sequence[NewFix], units: Units) -> Iterator[str]:
    for i, far in zip(mean.far, mean.far_m, strict=True):
        yield (
            f"{_shown(fixes[i])} lies {length_text(far, units)} from the mean of the others and is"
            " not in it; if it is wrong, take its row out of the fixes file"
        )


def _by_float(float_id: str, fixes: Sequence[NewFix], rigs: Rigs) -> Estimate | NoEstimate:
    units, band = rigs.field.settings.units, rigs.band(float_id)
    kept = f"{_counted(len(fixes))} of the float kept as such"
    if band is None:
        return NoEstimate(float_id=float_id, why=f"{kept}: riser and ground chain are not known")
    asked = FloatFixes(
        xy=_xy(fixes, rigs),
        wind_from_deg=np.array(
            [np.nan if one.wind_from_deg is None else one.wind_from_deg for one in fixes]
        ),
        sigma_m=rigs.sigma_m,
        calm_m=band[0],
        taut_m=band[1],
    )
    found, slip = _fitted(asked)
    if isinstance(found, NotFitted):
        return NoEstimate(float_id=float_id, why=f"{kept}: {_not_fitted(found, units)}")
    far = f"{length_text(band[0], units)} to {length_text(band[1], units)}"
    radius = length_text(found.radius_m, units)
    return Estimate(
        float_id=float_id,
        by="float",
        x_m=found.x_m,
        y_m=found.y_m,
        error_m=found.error_m,
        basis=f"circle of {_counted(len(found.off_m))} of the float, radius {radius} (of {far})",
        notes=tuple(_circle_notes(found, None if slip is None else fixes[slip])),
    )


def _not_fitted(found: NotFitted, units: Units) -> str:
    if found.why == "few":
        return f"a circle needs {LEAST_FIXES} or more in different winds"
    if found.why == "one_side":
        return (
            f"they lie within {found.span_deg or 0.0:.0f}° of bearing, and a centre needs more than"
            f" {LEAST_SPAN_DEG:.0f}°: fix it again in another wind"
        )
    error = length_text(found.error_m or 0.0, units)
    return (
        f"the centre would be ± {error}, more than the circle is wide; note the wind with each"
        " fix, and fix it again in other winds"
    )


def _circle_notes(found: FittedCircle, slip: NewFix | None) -> Iterator[str]:
    if slip is not None:
        yield (
            f"{_shown(slip)} lies far from the circle of the others and is not in it; if it is"
            " wrong, take its row out of the fixes file"
        )
    if found.grown:
        yield (
            f"the fixes disagree {found.misfit:.1f} times as much as they should, so the ± was"
            " grown; look at riser, ground chain, winds and fixes"
        )


def _fitted(asked: FloatFixes) -> tuple[FittedCircle | NotFitted, int | None]:
    """Fit all fixes, or all but one that lies far from the circle of the others."""
    found = fit_circle(asked)
    disagree = isinstance(found, NotFitted) or found.grown
    if len(asked.xy) <= LEAST_FIXES or not disagree:
        return found, None
    best: tuple[FittedCircle, int] | None = None
    for i in range(len(asked.xy)):
        rest = replace(
            asked,
            xy=np.delete(asked.xy, i, axis=0),
            wind_from_deg=np.delete(asked.wind_from_deg, i),
        )
        one = fit_circle(rest)
        if isinstance(one, FittedCircle) and _is_far(asked, i, one):
            if best is not None:
                return found, None  # two that may be wrong: nobody knows which
            best = one, i
    return (found, None) if best is None else best


def _is_far(asked: FloatFixes, i: int, circle: FittedCircle) -> bool:
    if circle.grown:
        return False
    away = float(np.hypot(*(asked.xy[i] - (circle.x_m, circle.y_m)))) - circle.radius_m
    return abs(away) > _FAR * float(np.hypot(asked.sigma_m, circle.error_m))


def _by_second(float_id: str, fixes: Sequence[NewFix], rigs: Rigs) -> Estimate | NoEstimate:
    """One ground chain back along the bearing last seen, from the latest day's fixes."""
    units, sigma = rigs.field.settings.units, rigs.sigma_m
    bearing, one = rigs.record(float_id).bearing_deg, rigs.placed.get(float_id)
    kept = f"{_counted(len(fixes))} of the secondary kept as such"
    if bearing is None:
        why = f"{kept}: the floats file has no bearing_deg from the primary to it"
        return NoEstimate(float_id=float_id, why=why)
    if one is None or one.ground_m is None:
        return NoEstimate(float_id=float_id, why=f"{kept}: the ground chain's length is not known")
    latest = max(fix.day for fix in fixes)  # it is moved about, and the bearing is the last
    mine = [fix for fix in fixes if fix.day == latest]
    mean = mean_fix(_xy(mine, rigs), [fix.day for fix in mine], sigma_m=sigma)
    angle = np.radians(bearing)
    by_turn = one.ground_m * np.sin(np.radians(WIND_SIGMA_DEG.value))
    far = length_text(one.ground_m, units)
    return Estimate(
        float_id=float_id,
        by="secondary",
        x_m=mean.x_m - one.ground_m * float(np.sin(angle)),
        y_m=mean.y_m - one.ground_m * float(np.cos(angle)),
        error_m=float(np.hypot(max(mean.error_m or 0.0, sigma), by_turn)),
        basis=f"{far} back from the secondary of {latest.isoformat()}, bearing {bearing:.0f}°",
        notes=tuple(_slips(mean, mine, units)),
    )
