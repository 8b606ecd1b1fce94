"""The parts of an ask's body, each of the kind that it has to be."""

import math
from collections.abc import Mapping
from typing import Any

from lakemap.basis.errors import BadInputError, Problem


def changes_of(body: Mapping[str, Any]) -> Mapping[str, Any]:
    """Return the changes that a page counts from the saved field.

    Parameters
    ----------
    body : mapping
        Of an ask.

    Returns
    -------
    mapping
        By float.

    Raises
    ------
    BadInputError
        If they are no set of changes.
    """
    changes = body.get("changes", {})
    if not isinstance(changes, Mapping):
        raise _no(f"changes: {changes!r} is no set of changes")
    return changes


def number_of(body: Mapping[str, Any], name: str, *, low: float, high: float) -> float:
    """Return a number between two bounds.

    Parameters
    ----------
    body : mapping
        Of an ask.
    name : str
        Of the number.
    low, high : float
        Ends included.

    Returns
    -------
    float
        Finite.

    Raises
    ------
    BadInputError
        If it is missing, no number, or outside.
    """
    value = body.get(name)
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise _no(f"{name}: {value!r} is no number")
    if not (math.isfinite(value) and low <= value <= high):
        raise _no(f"{name}: {value:g} is out of range; {low:g} to {high:g} can be asked")
    return float(value)


def text_of(body: Mapping[str, Any], name: str) -> str | None:
    """Return a text, or None where it is left out.

    Parameters
    ----------
    body : mapping
        Of an ask.
    name : str
        Of the text.

    Returns
    -------
    str or None
        As sent.

    Raises
    ------
    BadInputError
        If it is something else.
    """
    value = body.get(name)
    if value is not None and not isinstance(value, str):
        raise _no(f"{name}: {value!r} is no text")
    return value


def _no(text: str) -> BadInputError:
    return BadInputError([Problem(code="bad_ask", text=text)])
