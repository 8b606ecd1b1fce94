"""A plan beside the saved field."""

from collections.abc import Mapping
from typing import Any

from lakemap.comparing import compare
from lakemap.outputs.compare.counts import headline
from lakemap.outputs.compare.words import compare_rows
from lakemap.planner.asked import changes_of
from lakemap.planner.reading import Reading


def compare_answer(reading: Reading, body: Mapping[str, Any]) -> dict[str, Any]:
    """Return what a plan changes and what that does, as `compare` tells it.

    Parameters
    ----------
    reading : Reading
        The field as saved.
    body : mapping
        `changes`.

    Returns
    -------
    dict
        JSON-able: `headline` and `rows`.

    Raises
    ------
    BadInputError
        If the body is not of that form.
    """
    made = reading.made(changes_of(body), sized=True)
    found = compare(reading.saved.assessment, made.plan.assessment)
    return {"headline": headline(found), "rows": compare_rows(found)}
