"""Every float in one wind at one lake level: where it lies, how far it swings, what it meets."""

from collections.abc import Mapping, Sequence
from typing import Any, Final

import numpy as np

from lakemap.basis.records import Float, FloatArray
from lakemap.clearances.at_level import as_if_lowest
from lakemap.clearances.check import check
from lakemap.outputs.drawn.scene import cm
from lakemap.outputs.words.levels_and_dates import signed_text
from lakemap.planner.asked import changes_of, number_of
from lakemap.planner.plan_answer import count_word
from lakemap.planner.reading import Made, Reading
from lakemap.replanned import Plan
from lakemap.rig.bed import friction_of
from lakemap.rig.columns import column
from lakemap.rig.hydrostatics import float_buoyancy
from lakemap.rig.parts import rig_parts
from lakemap.sizing.lying import Hung, lying, steady_pull
from lakemap.sizing.rigs import line_weights
from lakemap.sizing.weather import Weather, winds_of

_STRONGEST_M_S: Final = 60.0  # as far as the wave formulas go
_FARTHEST_M: Final = 100.0  # from normal level


def lie_answer(reading: Reading, body: Mapping[str, Any]) -> dict[str, Any]:
    """Return how every float lies.

    Parameters
    ----------
    reading : Reading
        The field as saved.
    body : mapping
        `changes`; `level_m` on the lake's gauge, `wind_m_s`, `from_deg`; `quick` leaves the
        verdicts out.

    Returns
    -------
    dict
        JSON-able; lengths in whole centimetres.

    Raises
    ------
    BadInputError
        If the body is not of that form.
    """
    made = reading.made(changes_of(body), sized=True)
    normal = reading.base.field.settings.levels.normal_m
    level = number_of(body, "level_m", low=normal - _FARTHEST_M, high=normal + _FARTHEST_M)
    wind = number_of(body, "wind_m_s", low=0.0, high=_STRONGEST_M_S)
    from_deg = number_of(body, "from_deg", low=0.0, high=360.0)
    plan = made.plan
    placement, floats = plan.standing.subject.placement, plan.assessment.field.floats
    rise = level - plan.assessment.field.settings.levels.soundings_m
    pull = steady_pull(
        _weather(reading, plan), placement.primary_xy, wind_m_s=wind, from_deg=from_deg
    )
    found = lying(placement, _hung(plan), pull, from_deg=from_deg, rise_m=rise)
    answer: dict[str, Any] = {
        "lies": _lies(floats, found.hook_xy, found.secondary_xy, (from_deg + 180.0) % 360.0),
        "r": {
            one.float_id: None if np.isnan(radius) else cm(radius)
            for one, radius in zip(floats, found.radius_m.tolist(), strict=True)
        },
    }
    if body.get("quick") is True:
        return answer
    return answer | _verdicts(made, level)


def _lies(
    floats: Sequence[Float], hook: FloatArray, second: FloatArray, bearing: float
) -> dict[str, list[float | None]]:
    rows = np.round(np.column_stack([hook, second]) * 100.0)
    told = {}
    for one, row in zip(floats, rows.tolist(), strict=True):
        hx, hy, sx, sy = (None if v != v else int(v) for v in row)  # noqa: PLR0124 - NaN
        told[one.float_id] = [hx, hy, round(bearing, 1), sx, sy]
    return told


def _weather(reading: Reading, plan: Plan) -> Weather:
    field, assessment = plan.assessment.field, plan.assessment
    return Weather(
        floats=field.floats,
        buoyancy=float_buoyancy(field.floats, people=0),
        settings=field.settings,
        winds=winds_of(field.settings, reading.saved.blown),
        water=assessment.water,
        surface=assessment.surface,
    )


def _hung(plan: Plan) -> Hung:
    """What hangs between each float and its primary."""
    floats, placement = plan.assessment.floats, plan.standing.subject.placement
    parts = [rig_parts(one.record, units=plan.assessment.field.settings.units) for one in floats]
    ground, riser = line_weights(parts, placement)
    return Hung(
        ground_weight_n_m=ground,
        riser_weight_n_m=riser,
        secondary_wet_n=column(one.sizing.secondary.wet_n for one in floats),
        friction=friction_of([one.record.bottom for one in floats]),
    )


def _verdicts(made: Made, level_m: float) -> dict[str, Any]:
    """What the check says if the lake fell no lower than this level."""
    assessment = made.plan.assessment
    checked = check(as_if_lowest(made.plan.standing.subject, level_m))
    says = {
        record.float_id: one.verdict or "retired"
        for record, one in zip(assessment.field.floats, checked.floats, strict=True)
    }
    bad = sum(verdict == "conflict" for verdict in says.values())
    many = f"{count_word(bad).lower()} conflict{'s' * (bad != 1)}" if bad else "no conflict"
    return {"says": says, "headline": f"At {signed_text(level_m, assessment)}: {many}"}
