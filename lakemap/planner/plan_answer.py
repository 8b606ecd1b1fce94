"""The answer while a plan is made: the floats that it changes, and what that did."""

from collections.abc import Mapping
from typing import Any, Final

from lakemap.assessment import AssessedFloat, Assessment
from lakemap.comparing import compare
from lakemap.outputs.compare.words import compare_rows
from lakemap.outputs.drawn.scene import wind_drawn
from lakemap.outputs.web.page_floats import float_data, float_summary, is_short
from lakemap.outputs.words.texts import ENGLISH
from lakemap.outputs.words.verdicts import sorted_floats, verdict_counts
from lakemap.planner.asked import changes_of, text_of
from lakemap.planner.form import form_of
from lakemap.planner.reading import Reading

_FEW: Final = ("None", "One")  # the map's own sentences have forms of their own for these
_SPELLED: Final = 12
# of the rig, which a moving hand does not wait for
_OF_THE_RIG: Final = ("rows", "floatRows", "tiles", "cautions")


def plan_answer(reading: Reading, body: Mapping[str, Any]) -> dict[str, Any]:
    """Return what a plan does to the field.

    Parameters
    ----------
    reading : Reading
        The field as it is saved.
    body : mapping
        `changes`; `quick` while the hand moves; `chosen`, the float whose form is open.

    Returns
    -------
    dict
        JSON-able.

    Raises
    ------
    BadInputError
        If the body is not of that form.
    """
    quick = body.get("quick") is True
    made = reading.made(changes_of(body), sized=not quick)
    saved, now = reading.saved.assessment, made.plan.assessment
    old = {id(one) for one in saved.floats}
    differing = [one for one in now.floats if id(one) not in old]
    chosen = text_of(body, "chosen")
    counts = verdict_counts(now)
    return {
        "floats": {one.record.float_id: _float(one, now, quick=quick) for one in differing},
        "order": [one.record.float_id for one in sorted_floats(now)],
        "counts": counts,
        "headline": plan_headline(counts, changed=bool(differing)),
        "was": _was(verdict_counts(saved), counts, changed=bool(differing)),
        "changed": compare_rows(compare(saved, now)),
        "wrong": [
            {"id": one.float_id, "column": one.column, "text": one.text}
            for one in made.planned.wrong
        ],
        "form": None if chosen is None else form_of(reading, made, chosen, quick=quick),
        "notes": [problem.line() for problem in now.problems],
    }


def _float(one: AssessedFloat, assessment: Assessment, *, quick: bool) -> dict[str, Any]:
    data = float_data(one, assessment, wind_drawn(assessment), owners=False)
    if is_short(assessment):
        data |= float_summary(one, assessment)
    if quick:
        for key in _OF_THE_RIG:
            data.pop(key, None)
    return data


def count_word(count: int) -> str:
    """Return a count as a sentence begins with it: spelled where it is small.

    Parameters
    ----------
    count : int
        From 0 on.

    Returns
    -------
    str
        `Two`, `17`.
    """
    if count < len(_FEW):
        return _FEW[count]
    return ENGLISH.of(f"number.{count}") if count <= _SPELLED else f"{count:,}"


def plan_headline(counts: Mapping[str, int], *, changed: bool) -> str:
    """Return the sentence that is seen first.

    Parameters
    ----------
    counts : mapping
        Floats by verdict.
    changed : bool
        Whether the plan changes anything.

    Returns
    -------
    str
        How many conflicts there are, or are left.
    """
    bad = counts["conflict"]
    left = " left" if changed else ""
    if bad:
        return f"{count_word(bad)} conflict{'s' * (bad != 1)}{left}"
    checked = sum(counts[verdict] for verdict in ("tight", "unknown", "clear"))
    if not checked:
        return "No floats yet"
    return f"No conflict{left}"


def _was(before: Mapping[str, int], now: Mapping[str, int], *, changed: bool) -> str:
    others = [f"{now[v]} {v}" for v in ("tight", "unknown", "clear", "retired") if now[v]]
    was = [f"was {count_word(before['conflict']).lower()}"] if changed else []
    return "; ".join([*was, ", ".join(others)]) if others else "".join(was)
