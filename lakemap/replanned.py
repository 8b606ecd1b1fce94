"""A field with some floats changed, assessed anew only where the change can be felt.

What comes out is what `assess` of the changed field gives, float by float: the changed floats are
placed, checked and sized by the same functions, and of the others only what lies between them and
the changed ones is checked again.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from lakemap.assessment import AssessedFloat, Assessment, Stages, gather
from lakemap.basis.errors import Problem
from lakemap.basis.records import Field, Float, FloatArray
from lakemap.clearances.recheck import Standing, checked_again, put, spliced, standing
from lakemap.clearances.records import CheckResult, CheckSubject, FloatCheck
from lakemap.laid_out import LaidOut, laid_out_of
from lakemap.loads.return_wind import ReturnWind
from lakemap.mapping import place_floats, size_floats
from lakemap.rig.hydrostatics import float_buoyancy
from lakemap.rig.records import Buoyancy, Placement
from lakemap.sites import subject_of
from lakemap.sizing.weather import FieldStorms
from lakemap.sizing.wind_record import record_of_wind

_ON_LAND = "lies on land: move its primary into the water"


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """A field with changes, assessed; `assessment.sized` stays that of the field as it was."""

    assessment: Assessment
    standing: Standing
    laid: LaidOut
    blown: ReturnWind | None
    unsized: frozenset[int]  # changed floats whose rigs were not sized again


def plan_of(assessment: Assessment) -> Plan:
    """Make an assessed field ready for changes.

    Parameters
    ----------
    assessment : Assessment
        Of a whole field.

    Returns
    -------
    Plan
        Without a change.
    """
    return Plan(
        assessment=assessment,
        standing=standing(subject_of(assessment)),
        laid=laid_out_of(assessment),
        blown=record_of_wind(assessment.field),
        unsized=frozenset(),
    )


def replanned(plan: Plan, changed: Mapping[int, Float], *, sized: bool = True) -> Plan:
    """Change some floats of a plan.

    Parameters
    ----------
    plan : Plan
        As it is; it stays as it is.
    changed : mapping of int to Float
        By index into the field's floats; indices from their count on, in order, add new ones.
    sized : bool
        False leaves the sizing of changed rigs as it was, which a moving hand does not wait for.

    Returns
    -------
    Plan
        With the changes. A float whose primary lies on land is in conflict and says so.

    Raises
    ------
    BadInputError
        If a part has a size that is none.
    """
    if not changed:
        return plan
    index = sorted(changed)
    field = _with(plan.assessment.field, changed)
    part = replace(field, floats=tuple(changed[i] for i in index))
    buoyancy = float_buoyancy(part.floats, people=field.settings.people)
    must = sized or index[-1] >= len(plan.assessment.floats)
    placement, storms = place_floats(part, plan.laid, buoyancy, plan.blown, beside=must)
    stand = _checked(plan, field, index, placement, buoyancy.draft_people_m)
    new = _assessed(plan, part, (placement, storms, buoyancy), index, sized=must)
    floats = _floats(plan, stand, dict(zip(index, new, strict=True)))
    old = len(plan.standing.problems)
    problems = plan.assessment.problems
    unsized = plan.unsized - set(index) if must else plan.unsized | set(index)
    return replace(
        plan,
        assessment=replace(
            plan.assessment,
            field=field,
            floats=floats,
            problems=(*problems[: len(problems) - old], *stand.problems),
        ),
        standing=stand,
        unsized=frozenset(unsized),
    )


def _with(field: Field, changed: Mapping[int, Float]) -> Field:
    floats: list[Float] = list(field.floats)
    for i in sorted(changed):
        floats[i : i + 1] = [changed[i]]
    return replace(field, floats=tuple(floats))


def _checked(
    plan: Plan, field: Field, index: Sequence[int], placement: Placement, draft: FloatArray
) -> Standing:
    """Check the changed floats; those on land take no part."""
    before = plan.standing
    wet = placement if not placement.outside.any() else _without_circles(placement)
    subject: CheckSubject = replace(
        before.subject,
        floats=field.floats,
        placement=spliced(before.subject.placement, wet, index),
        draft_people_m=put(before.subject.draft_people_m, draft, index),
    )
    return checked_again(before, subject, index)


def _without_circles(placement: Placement) -> Placement:
    """Take the circles of floats on land out of the check, where no distance means anything."""
    radius = placement.swing_radius_m.copy()
    radius[placement.outside] = np.nan
    return replace(placement, swing_radius_m=radius)


def _assessed(
    plan: Plan,
    part: Field,
    found: tuple[Placement, FieldStorms, Buoyancy],
    index: Sequence[int],
    *,
    sized: bool,
) -> tuple[AssessedFloat, ...]:
    """The changed floats' records, not checked yet."""
    placement, storms, buoyancy = found
    known = plan.assessment.floats
    whole = size_floats(part, placement, buoyancy, storms) if sized else None
    nothing = FloatCheck(verdict=None, shallowest_m=None, clearances=(), problems=())
    stages = Stages(
        part,
        plan.assessment.projection,
        placement,
        buoyancy,
        CheckResult(floats=(nothing,) * len(index), problems=()),
        whole,
    )
    old = None if sized else tuple(known[i].sizing for i in index)
    return gather(stages, sizings=old)


def _floats(
    plan: Plan, stand: Standing, new: Mapping[int, AssessedFloat]
) -> tuple[AssessedFloat, ...]:
    """All floats with what the check now says of them; those it says nothing new of as they are."""
    before = plan.standing.floats
    kept = plan.assessment.floats
    floats = []
    for i, one in enumerate(stand.floats):
        if i in new:
            floats.append(_told(new[i], one, outside=_on_land(stand, i), at=i))
        elif one is before[i]:
            floats.append(kept[i])
        else:
            floats.append(_told(kept[i], one, outside=False, at=i))
    return tuple(floats)


def _on_land(stand: Standing, i: int) -> bool:
    placement = stand.subject.placement
    return bool(placement.outside[i]) and stand.subject.floats[i].status != "retired"


def _told(one: AssessedFloat, found: FloatCheck, *, outside: bool, at: int) -> AssessedFloat:
    problems = found.problems
    if outside:
        said = Problem(code="on_land", text=f"float {one.record.float_id} {_ON_LAND}", fatal=False)
        problems = (said, *problems)
    return replace(
        one,
        verdict="conflict" if outside else found.verdict,
        shallowest_m=found.shallowest_m,
        clearances=found.clearances,
        problems=problems,
        at=at,
    )
