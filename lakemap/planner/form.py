"""The chosen float's form: what can be typed, and what that gives."""

from collections.abc import Callable
from typing import Any, Final

from lakemap.assessment import AssessedFloat, Assessment
from lakemap.basis.records import Units
from lakemap.basis.wording import length_text, measure_text
from lakemap.outputs.drawn.scene import cm
from lakemap.outputs.words.cautions import cautions_for_task
from lakemap.outputs.words.clearances import clearance_line
from lakemap.outputs.words.pulls import pull_text, weakest_text
from lakemap.outputs.words.verdicts import nearest_to_call
from lakemap.planner.planned import FIELDS
from lakemap.planner.reading import Made, Reading

_LABELS: Final = {
    "length": "Deck length",
    "width": "Deck width",
    "depth": "Depth here",
    "riser_length": "Riser",
    "ground_length": "Ground chain",
    "primary_blocks": "Primary",
    "secondary_blocks": "Secondary",
    "lot": "Lot",
    "status": "Status",
}
_UNKNOWN: Final = "not known"
_BLOCKS: Final = ("primary_blocks", "secondary_blocks")


def form_of(reading: Reading, made: Made, float_id: str, *, quick: bool) -> dict[str, Any] | None:
    """Return the form of one float.

    Parameters
    ----------
    reading : Reading
        The field as saved.
    made : Made
        The plan.
    float_id : str
        Which float.
    quick : bool
        True leaves out what rests on the sizing, which was not done.

    Returns
    -------
    dict or None
        None where the plan has no such float.
    """
    now = _named(made.plan.assessment, float_id)
    if now is None:
        return None
    was = _named(reading.saved.assessment, float_id)
    units = reading.base.field.settings.units
    return {
        "id": float_id,
        "fields": [_field(column, now, was, units) for column in FIELDS],
        "gives": _gives(now, was, made.plan.assessment, quick=quick),
        "saved": _place(was),
        "care": list(cautions_for_task("planner", made.plan.assessment, now)),
    }


def _named(assessment: Assessment, float_id: str) -> AssessedFloat | None:
    return next((one for one in assessment.floats if one.record.float_id == float_id), None)


def _place(one: AssessedFloat | None) -> dict[str, Any] | None:
    if one is None:
        return None
    radius = one.swing_radius_m[0]
    return {"x": cm(one.x_m), "y": cm(one.y_m), "r": None if radius is None else cm(radius)}


def _field(
    column: str, now: AssessedFloat, was: AssessedFloat | None, units: Units
) -> dict[str, str]:
    """One line of the form; a blank one shows what the tool takes in its place."""
    value = _written(column, now, units)
    hint = "" if value else _taken(column, now, units)
    chosen = ""
    if not value and hint:
        kind = "designed" if column in now.designed else "assumed" if column in now.assumed else ""
        chosen = kind or ("by the soundings" if column == "depth" else "")
    before = "" if was is None else _written(column, was, units) or _taken(column, was, units)
    return {
        "column": column,
        "label": _LABELS[column],
        "value": value,
        "chosen": chosen,
        "was": "" if was is None or before == (value or hint) else before or "blank",
        "hint": hint,
    }


def _written(column: str, one: AssessedFloat, units: Units) -> str:
    """What the float's row says, as a person would type it."""
    value = getattr(one.record, FIELDS[column])
    if value is None:
        return ""
    return measure_text(value, units) if isinstance(value, float) else str(value)


def _taken(column: str, one: AssessedFloat, units: Units) -> str:
    """What stands in for a blank."""
    if column in _BLOCKS:
        cluster = one.sizing.primary if column == "primary_blocks" else one.sizing.secondary
        return "" if cluster.blocks is None else str(cluster.blocks)
    length = {
        "depth": one.depth_m[1],
        "riser_length": one.riser_m,
        "ground_length": one.ground_m,
    }.get(column)
    return "" if length is None else measure_text(length, units)


def _gives(
    now: AssessedFloat, was: AssessedFloat | None, assessment: Assessment, *, quick: bool
) -> list[list[str]]:
    """Rows of name, value now, and what it was where that differs."""
    units = assessment.field.settings.units
    told: list[tuple[str, Callable[[AssessedFloat], str]]] = [
        ("Swings", lambda one: _length(one.swing_radius_m[0], units, "up")),
        ("Least to spare", lambda one: _spare(one, assessment)),
        ("Depth at the primary", lambda one: _length(one.depth_m[1], units, "down")),
        ("Least depth in its circle", lambda one: _length(one.shallowest_m, units, "down")),
    ]
    if not quick:
        told += [
            ("Steady storm pull", lambda one: _pull(one.sizing.loads_n.mean, units)),
            ("Highest pull", lambda one: _pull(one.sizing.loads_n.peak, units)),
            ("Weakest part", lambda one: weakest_text(one.sizing.line, unknown=_UNKNOWN)),
            ("Does the primary hold?", _holds),
        ]
    return [_row(name, says, now, was) for name, says in told]


def _row(
    name: str, says: Callable[[AssessedFloat], str], now: AssessedFloat, was: AssessedFloat | None
) -> list[str]:
    value = says(now)
    before = value if was is None else says(was)
    return [name, value, "" if before == value else f"was {before}"]


def _pull(value: float | None, units: Units) -> str:
    return pull_text(value, units, unknown=_UNKNOWN)


def _length(value: float | None, units: Units, rounding: Any) -> str:  # noqa: ANN401 - a literal
    return _UNKNOWN if value is None else length_text(value, units, rounding=rounding)


def _spare(one: AssessedFloat, assessment: Assessment) -> str:
    nearest = nearest_to_call(one)
    if nearest is None:
        return "nothing asked"
    line = clearance_line(nearest, assessment.field)
    return f"{line.amount.removesuffix(' to spare')}, {line.name[:1].lower()}{line.name[1:]}"


def _holds(one: AssessedFloat) -> str:
    enough = one.sizing.primary.enough
    words = {True: "yes", False: "no", None: _UNKNOWN}
    return (
        f"by practice {words[enough.practice]}, lying on the bed {words[enough.unburied]},"
        f" settled in {words[enough.buried]}"
    )
