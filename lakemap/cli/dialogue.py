"""Asks on a terminal for what was left out, in plain words, and asks again after a slip."""

import sys
from collections.abc import Callable
from dataclasses import dataclass

from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.quantities import parse_quantity

_GREATEST_WIND_M_S = 60.0
_GREATEST_FETCH_M = 100_000.0
BOTTOMS = ("sand", "gravel", "silt", "mud", "clay", "rock")


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One thing to ask.

    Parameters
    ----------
    option : str
        The option that answers it, such as `--depth`.
    words : str
        The question in plain words.
    read : callable
        Turns the answer into a value; raises ValueError with what would be right.
    default : object
        Taken for an empty answer; None asks again.
    """

    option: str
    words: str
    read: Callable[[str], object]
    default: object = None


def read_length(text: str) -> float:
    """Read a length above 0.

    Parameters
    ----------
    text : str
        Such as `10 ft 6 in` or `3.2 m`.

    Returns
    -------
    float
        In m.

    Raises
    ------
    ValueError
        If it is none; the text says what would be right.
    """
    value = parse_quantity(text, "length")
    if value <= 0:
        raise ValueError(f"{text!r} must be above 0")
    return value


def read_change(text: str) -> float:
    """Read how far the lake rises or falls: a length, its sign left aside.

    Parameters
    ----------
    text : str
        Such as `1.5 ft`.

    Returns
    -------
    float
        In m, 0 or more.
    """
    return abs(parse_quantity(text, "length"))


def read_weight(text: str) -> float:
    """Read a weight above 0 as a mass.

    Parameters
    ----------
    text : str
        Such as `900 lb`.

    Returns
    -------
    float
        In kg.

    Raises
    ------
    ValueError
        If it is none; the text says what would be right.
    """
    value = parse_quantity(text, "mass")
    if value <= 0:
        raise ValueError(f"{text!r} must be above 0")
    return value


def read_wind(text: str) -> float:
    """Read a wind that the laws of waves cover.

    Parameters
    ----------
    text : str
        Such as `50 mph`.

    Returns
    -------
    float
        In m/s.

    Raises
    ------
    ValueError
        If it is none, or no law of waves covers it.
    """
    value = parse_quantity(text, "speed")
    if not 0 < value <= _GREATEST_WIND_M_S:
        raise ValueError(f"{text!r} must be above 0 and no more than 134 mph (60 m/s)")
    return value


def read_fetch(text: str) -> float:
    """Read how much open water there is to windward.

    Parameters
    ----------
    text : str
        Such as `0.5 mi` or `800 m`.

    Returns
    -------
    float
        In m.

    Raises
    ------
    ValueError
        If it is none, or more than a lake has.
    """
    value = read_length(text)
    if value > _GREATEST_FETCH_M:
        raise ValueError(f"{text!r} must be no more than 100 km (62 mi)")
    return value


def read_bottom(text: str) -> str:
    """Read the kind of bottom.

    Parameters
    ----------
    text : str
        One of `BOTTOMS`, in any case.

    Returns
    -------
    str
        In lower case.

    Raises
    ------
    ValueError
        If it is none of them.
    """
    named = text.strip().lower()
    if named not in BOTTOMS:
        raise ValueError(f"{text!r} is no bottom we know; write one of {', '.join(BOTTOMS)}")
    return named


def answer(question: Question, given: str | None, problems: list[Problem]) -> object:
    """Return the value for one question: from its option, a terminal, or its default.

    Parameters
    ----------
    question : Question
        What to ask.
    given : str or None
        The option's text; None where it was left out.
    problems : list of Problem
        Gains one where the option's text is wrong, or missing with no terminal to ask at.

    Returns
    -------
    object
        The value; None where a problem was added.
    """
    if given is not None:
        try:
            return question.read(given)
        except ValueError as error:
            problems.append(Problem(code="bad_option", text=str(error), column=question.option))
            return None
    if not sys.stdin.isatty():
        if question.default is None:
            problems.append(
                Problem(
                    code="missing_option",
                    text=f"is missing; {question.words}",
                    column=question.option,
                )
            )
        return question.default
    return _ask(question)


def _ask(question: Question) -> object:
    """Ask until an answer can be read."""
    while True:
        try:
            text = input(f"{question.words} ").strip()
        except EOFError:
            raise BadInputError(
                [Problem(code="no_answer", text="is missing", column=question.option)]
            ) from None
        if not text and question.default is not None:
            return question.default
        try:
            return question.read(text)
        except ValueError as error:
            sys.stderr.write(f"{error}\n")
