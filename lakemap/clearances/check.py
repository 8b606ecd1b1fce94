"""The check: every float against everything, with verdicts and what to say about them."""

from collections.abc import Iterator, Sequence
from itertools import chain

import numpy as np

from lakemap.basis.errors import Problem
from lakemap.basis.records import FloatArray
from lakemap.basis.wording import length_text
from lakemap.clearances.against import (
    against_deck_area,
    against_depth,
    against_floats,
    against_islands,
    against_shore,
    against_zones,
    low_water_near_shore,
    shallowest,
)
from lakemap.clearances.circles import FALLBACK_DEPTH_SIGMA_M, Circles, checked_circles
from lakemap.clearances.frontages import against_frontage, frontage_cautions
from lakemap.clearances.records import CheckResult, CheckSubject, Clearance, FloatCheck, Verdict
from lakemap.clearances.rules import missing_rules

_NAMED = 12  # floats that one caution names


def check(subject: CheckSubject) -> CheckResult:
    """Check every set and proposed float against everything.

    All distances are exact: from the primary's point to the other geometry, minus the radius at
    low water. Nothing is rounded.

    Parameters
    ----------
    subject : CheckSubject
        Floats, placed, and the lake.

    Returns
    -------
    CheckResult
        One record per float in file order, and cautions of the field.
    """
    circles = checked_circles(subject)
    least = shallowest(subject, circles, circles.radius_m)
    listed: list[list[Clearance]] = [[] for _ in circles.index]
    for k, clearance in chain(
        against_floats(subject, circles),
        against_zones(subject, circles),
        against_frontage(subject, circles),
        against_shore(subject, circles),
        against_islands(subject, circles),
        against_depth(subject, circles, least),
        against_deck_area(subject, circles),
    ):
        listed[k].append(clearance)
    cautions: dict[int, list[Problem]] = {}
    for k, problem in frontage_cautions(subject, circles):
        cautions.setdefault(k, []).append(problem)
    place = {i: k for k, i in enumerate(circles.index.tolist())}
    floats = tuple(
        _one(subject, i, listed, least, place.get(i), cautions) for i in range(len(subject.floats))
    )
    near = _near_low_water(subject, circles, floats)
    return CheckResult(
        floats=floats, problems=field_cautions(subject, circles, near), near_low_water=near
    )


def _one(  # noqa: PLR0913, PLR0917 - one float out of the arrays
    subject: CheckSubject,
    i: int,
    listed: list[list[Clearance]],
    least: FloatArray,
    k: int | None,
    cautions: dict[int, list[Problem]],
) -> FloatCheck:
    if subject.floats[i].status == "retired":
        return FloatCheck(verdict=None, shallowest_m=None, clearances=(), problems=())
    clearances = () if k is None else tuple(sorted(listed[k], key=least_spare_first))
    problems = [*_of_rig(subject, i), *(cautions.get(k, ()) if k is not None else ())]
    verdict, by_wind = verdict_of(subject, i, clearances)
    problems += by_wind
    shallow = None if k is None or np.isnan(least[k]) else float(least[k])
    return FloatCheck(
        verdict=verdict, shallowest_m=shallow, clearances=clearances, problems=tuple(problems)
    )


def least_spare_first(one: Clearance) -> tuple[bool, float, str, str]:
    """Return what a float's clearances are sorted by.

    Parameters
    ----------
    one : Clearance
        Of the float.

    Returns
    -------
    tuple
        What nothing is asked of comes last.
    """
    spare = one.spare
    free = one.gap_m if one.gap_m is not None else np.inf
    return spare is None, free if spare is None else spare, one.kind, one.against


def verdict_of(
    subject: CheckSubject, i: int, clearances: tuple[Clearance, ...]
) -> tuple[Verdict, tuple[Problem, ...]]:
    """Return the verdict of a float, and what to say where it rests on the wind.

    Parameters
    ----------
    subject : CheckSubject
        Of the field.
    i : int
        Which float.
    clearances : tuple of Clearance
        All of it.

    Returns
    -------
    tuple of Verdict and tuple of Problem
        A caution where it is tight only because of the same-wind rule.
    """
    verdict, tight_only = _verdict(subject, i, clearances)
    if not tight_only:
        return verdict, ()
    text = (
        "clear only if both lie to the same steady wind: their full circles overlap, and unlike"
        " rigs and calm break it"
    )
    return verdict, (Problem(code="same_wind_only", text=text, fatal=False),)


def _verdict(
    subject: CheckSubject, i: int, clearances: tuple[Clearance, ...]
) -> tuple[Verdict, bool]:
    """Return the verdict, and whether it is tight only because of the same-wind rule."""
    at = subject.placement
    if at.pulled_under[i] or at.aground[i]:
        return "conflict", False
    if at.no_depth[i]:
        return "unknown", False
    asked = [one for one in clearances if one.spare is not None]
    if any((one.spare or 0.0) < 0 for one in asked):
        return "conflict", False
    if any((one.spare or 0.0) < (one.uncertainty_m or 0.0) for one in asked):
        return "tight", _same_wind_only(subject, asked)
    overlap = _same_wind_only(subject, asked)
    return ("tight", True) if overlap else ("clear", False)


def _same_wind_only(subject: CheckSubject, asked: list[Clearance]) -> bool:
    """Tell whether some full circles overlap where the same-wind gap decides."""
    rule = subject.settings.rules.get("neighbour")
    if rule is None or rule.mode != "same_wind":
        return False
    return any(one.kind == "float" and (one.gap_m or 0.0) < 0 for one in asked)


def _of_rig(subject: CheckSubject, i: int) -> Iterator[Problem]:
    """Say what the placement itself tells of a float."""
    at, units = subject.placement, subject.settings.units
    record = subject.floats[i]
    total = float(at.riser_m[i] + at.ground_m[i])
    if at.pulled_under[i]:
        rise = float(at.depth_m[i, 2] - at.hook_depth_empty_m[i])
        text = (
            f"riser and ground chain are {length_text(total, units)} together, but from bed to hook"
            f" it is {length_text(rise, units)} at high water: the float is pulled under"
        )
        yield Problem(code="pulled_under", text=text, fatal=False)
    if at.aground[i]:
        text = "at low water there is no depth left under its hook: the float lies aground"
        yield Problem(code="aground", text=text, fatal=False)
    if at.hung[i]:
        text = (
            f"the riser, {length_text(float(at.riser_m[i]), units)}, is too short for high water:"
            " the secondary hangs off the bed even in calm"
        )
        yield Problem(code="hung_at_high_water", text=text, fatal=False)
    if at.no_depth[i]:
        text = (
            "no depth is known here, so its circle is a guess: sound it, or fill in `depth`"
            if np.isfinite(total)
            else "neither depth nor lengths are known, so nothing can be checked: sound it, or"
            " fill in `depth`"
        )
        yield Problem(code="no_depth", text=text, fatal=False)
    if not at.located[i]:
        seen = "its bearing_deg" if record.position_of == "secondary" else "its wind_from_deg"
        extra = float(at.extra_m[i])
        wider = f", which makes its circle {length_text(extra, units)} wider" if extra > 0 else ""
        text = (
            f"primary not located: only the {record.position_of} was fixed, without {seen}{wider}"
        )
        yield Problem(code="primary_not_located", text=text, fatal=False)


def _near_low_water(
    subject: CheckSubject, circles: Circles, floats: Sequence[FloatCheck]
) -> frozenset[int]:
    """Floats that keep clear of the shore as drawn but not of the low-water line."""
    spare = np.array([_shore_spare(floats[i].clearances) for i in circles.index.tolist()])
    near = low_water_near_shore(subject, circles, spare)
    return frozenset(circles.index[near].tolist())


def field_cautions(
    subject: CheckSubject, circles: Circles, near: frozenset[int]
) -> tuple[Problem, ...]:
    """Return the cautions that are said once for the field.

    Parameters
    ----------
    subject : CheckSubject
        Of the field.
    circles : Circles
        Those that take part.
    near : frozenset of int
        Floats near the low-water line.

    Returns
    -------
    tuple of Problem
        None of them fatal.
    """
    said = [*missing_rules(subject.settings)]
    if circles.guessed_sigma:
        text = (
            "how sure the depths are can't be told from the soundings;"
            f" {length_text(FALLBACK_DEPTH_SIGMA_M, subject.settings.units)} is taken: set"
            " accuracy.depth"
        )
        said.append(Problem(code="depth_accuracy_guessed", text=text, fatal=False))
    if near:
        names = [subject.floats[i].float_id for i in sorted(near)]
        more = f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
        text = (
            "at low water the water's edge comes nearer than the shore rule asks to float"
            f"{'s' * (len(names) > 1)} {', '.join(names[:_NAMED])}{more}; gaps are taken to the"
            " shore as drawn"
        )
        said.append(Problem(code="low_water_line", text=text, fatal=False))
    return tuple(said)


def _shore_spare(clearances: Sequence[Clearance]) -> float:
    spares = [
        one.spare_m
        for one in clearances
        if one.kind in {"shore", "island"} and one.spare_m is not None
    ]
    return min(spares, default=np.nan)
