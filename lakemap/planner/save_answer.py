"""Saving a plan: the changed floats go into the field's own floats file."""

from collections.abc import Iterator, Mapping
from typing import Any, Final

from lakemap.assessment import Assessment
from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.records import Float
from lakemap.outputs.words.verdicts import verdict_sentence
from lakemap.planner.asked import changes_of
from lakemap.planner.planned import FIELDS, Planned
from lakemap.planner.reading import Reading
from lakemap.saving.floats import save_floats
from lakemap.saving.records import FloatChange, Underneath

_MOST_NAMED: Final = 40  # conflicts
# what a move changes besides the position; a name of a column by the name in `Float`
_COLUMNS: Final = {
    "position_of": "position_of",
    "wind_from_deg": "wind_from_deg",
    "position_error": "position_error_m",
    **FIELDS,
}
_BLANK: Final = {"position_of": "primary"}  # as good as blank in a new row


def save_answer(reading: Reading, body: Mapping[str, Any]) -> dict[str, Any]:
    """Save a plan.

    Parameters
    ----------
    reading : Reading
        The field as it was when the page was opened.
    body : mapping
        `changes`.

    Returns
    -------
    dict
        JSON-able: `saved`, the file and the copy of it as it was, the plan's conflicts; or what
        changed underneath, and where the plan was kept.

    Raises
    ------
    BadInputError
        If a value can't be read, a float lies on land, or the file can't be written; then nothing
        was written.
    """
    made = reading.made(changes_of(body), sized=True)
    now = made.plan.assessment
    _refuse(made.planned, now)
    changes = list(_changes(reading, made.planned))
    done = save_floats(reading.folder, reading.base.field, changes, stamp=reading.stamp)
    if isinstance(done, Underneath):
        return {"saved": False, "underneath": list(done.says), "kept": done.kept, "file": done.file}
    return {
        "saved": True,
        "file": done.file,
        "kept": done.kept,
        "rows": len(changes),
        "notes": list(done.notes),
        "conflicts": _conflicts(now),
    }


def _refuse(planned: Planned, now: Assessment) -> None:
    wrong = [
        Problem(code="bad_value", text=f"float {one.float_id}, {one.column}: {one.text}")
        for one in planned.wrong
    ]
    wrong += [
        problem for one in now.floats for problem in one.problems if problem.code == "on_land"
    ]
    if wrong:
        raise BadInputError(wrong)


def _conflicts(now: Assessment) -> list[str]:
    bad = [one for one in now.floats if one.verdict == "conflict"]
    said = [f"Float {one.record.float_id}: {verdict_sentence(one, now)}" for one in bad]
    if len(said) > _MOST_NAMED:
        said = [*said[:_MOST_NAMED], f"and {len(said) - _MOST_NAMED} more"]
    return said


def _changes(reading: Reading, planned: Planned) -> Iterator[FloatChange]:
    """What differs from the file, float by float."""
    saved = reading.base.field.floats
    for i, one in planned.floats.items():
        old = saved[i] if i < len(saved) else None
        if old is None:
            yield FloatChange(
                float_id=one.float_id,
                values={
                    column: value
                    for column, value in _values(one).items()
                    if value != _BLANK.get(column)
                },
                position=(one.lon, one.lat),
                new=True,
            )
            continue
        before, after = _values(old), _values(one)
        yield FloatChange(
            float_id=one.float_id,
            values={column: v for column, v in after.items() if v != before[column]},
            position=(one.lon, one.lat) if (one.lon, one.lat) != (old.lon, old.lat) else None,
        )


def _values(one: Float) -> dict[str, Any]:
    return {column: getattr(one, name) for column, name in _COLUMNS.items()}
