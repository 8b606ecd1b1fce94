"""Why a new float may not lie where somebody points, and the nearest place where it may."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, Final

import numpy as np

from lakemap.assessment import AssessedFloat
from lakemap.basis.records import Float, FloatArray
from lakemap.basis.wording import compass_text, length_text
from lakemap.lake.water import inside
from lakemap.outputs.words.verdicts import verdict_sentence
from lakemap.planner.asked import changes_of, number_of, text_of
from lakemap.planner.planned import DEGREE_DIGITS, kind_of
from lakemap.planner.reading import Reading
from lakemap.replanned import Plan, replanned
from lakemap.sites import lake_of, nearest_place
from lakemap.siting.spots import SpotField, spot_field

_FARTHEST_M: Final = 1e5
_NAME: Final = "\u0000new"  # no file can hold it


def why_answer(reading: Reading, body: Mapping[str, Any]) -> dict[str, Any]:
    """Return whether a new float may lie at a point, in one sentence.

    Parameters
    ----------
    reading : Reading
        The field as saved.
    body : mapping
        `changes`, `x`, `y`; `like`, the float whose kind it is of, else the commonest.

    Returns
    -------
    dict
        JSON-able.

    Raises
    ------
    BadInputError
        If the body is not of that form, or no deck is known to lay there.
    """
    plan = reading.made(changes_of(body), sized=False).plan
    here = np.array(
        [number_of(body, name, low=-_FARTHEST_M, high=_FARTHEST_M) for name in ("x", "y")]
    )
    like = kind_of(plan.assessment, text_of(body, "like"))
    if not inside(plan.assessment.water, here[None])[0]:
        says, allowed = "That is on land.", False
    else:
        one, says = _laid(plan, like, here)
        allowed = one.verdict not in {"conflict", "unknown"}
    near = None if allowed else _nearest(plan, like, here)
    return {"allowed": allowed, "says": says, "nearest": near}


def _laid(plan: Plan, like: Float, here: FloatArray) -> tuple[AssessedFloat, str]:
    """The float as the check of the plan finds it there."""
    lon, lat = plan.assessment.projection.to_lonlat(here[:1], here[1:])
    new = replace(
        like,
        float_id=_NAME,
        lot=None,
        lon=round(float(lon[0]), DEGREE_DIGITS),
        lat=round(float(lat[0]), DEGREE_DIGITS),
    )
    count = len(plan.assessment.floats)
    after = replanned(plan, {count: new}).assessment
    return after.floats[count], verdict_sentence(after.floats[count], after)


def _nearest(plan: Plan, like: Float, here: FloatArray) -> dict[str, Any] | None:
    if plan.assessment.surface is None:
        return None
    found = nearest_place(_met(plan, like), here)
    if found is None:
        return None
    (x, y), far = found[0].tolist(), found[1]
    units = plan.assessment.field.settings.units
    way = compass_text(float(np.degrees(np.arctan2(x - here[0], y - here[1])) % 360.0))
    return {"x": x, "y": y, "says": f"{length_text(far, units, rounding='up')} {way} it may lie."}


def _met(plan: Plan, like: Float) -> SpotField:
    """The plan as the new float meets it."""
    circles, floats = plan.standing.circles, plan.assessment.field.floats
    names = [floats[i].float_id for i in circles.index.tolist()]
    return spot_field(like, lake_of(plan.assessment), circles, names=names)
