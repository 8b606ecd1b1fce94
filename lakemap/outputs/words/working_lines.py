"""The working of a float's sizing: every number with its formula, inputs, source and range."""

import math
import textwrap
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, Final

import numpy as np

from lakemap.basis.quantities import FOOT_M, MILE_PER_HOUR_M_S, POUND_FORCE_N, POUND_KG
from lakemap.basis.records import FloatArray, IntArray, Units
from lakemap.basis.working import Step, Term
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.words.formula_numbers import with_numbers

_WIDTH: Final = 96
_INDENT: Final = "    "
_FT, _LBF, _LB = FOOT_M.value, POUND_FORCE_N.value, POUND_KG.value
# SI unit -> unit that people of a ft-lb field use, and how much of it is one of SI
OTHER_UNITS: Final[Mapping[str, tuple[str, float]]] = MappingProxyType(
    {
        "m": ("ft", 1 / _FT),
        "m2": ("ft²", 1 / _FT**2),
        "m3": ("ft³", 1 / _FT**3),
        "m/s": ("mph", 1 / MILE_PER_HOUR_M_S.value),
        "N": ("lb", 1 / _LBF),
        "N/m": ("lb/ft", _FT / _LBF),
        "kg": ("lb", 1 / _LB),
        "kg/m": ("lb/ft", _FT / _LB),
    }
)
SHOWN_UNITS: Final[Mapping[str, str]] = MappingProxyType(
    {"m2": "m²", "m3": "m³", "m4": "m⁴", "deg": "°", "kg/m3": "kg/m³", "N/m3": "N/m³"}
)
_DIGITS: Final = 4
# pulls are shown in whole pounds: five digits of newtons are not enough
_TENTHS: Final = (1e4, 1e5)


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkedNumber:
    """One number of one float with its working; numbers as they are, in SI."""

    name: str
    symbol: str
    words: str
    unit: str
    value: float
    inputs: tuple[tuple[Term, float], ...]
    source: str
    valid: str
    inside: bool


def worked_numbers(one: AssessedFloat, assessment: Assessment) -> list[WorkedNumber]:
    """Return every number of a float's sizing that is known, with its working.

    Parameters
    ----------
    one : AssessedFloat
        Of the assessment.
    assessment : Assessment
        Of the field.

    Returns
    -------
    list of WorkedNumber
        In the order of reading.
    """
    found = []
    for step in assessment.working:
        value = float(step.value[one.at])
        if math.isnan(value):
            continue
        formula, about = step.formula, step.of[one.at] if step.of else ""
        found.append(
            WorkedNumber(
                name=f"{formula.name}, {about}" if about else formula.name,
                symbol=formula.symbol,
                words=formula.words,
                unit=formula.unit,
                value=value,
                inputs=tuple(
                    (term, float(step.given[key][one.at])) for key, term in formula.terms.items()
                ),
                source=formula.source,
                valid=formula.valid,
                inside=bool(step.inside[one.at]),
            )
        )
    return found


def number_text(value: float, unit: str, units: Units) -> str:
    """Return a number with its SI unit, and for ft-lb fields the user's unit beside it.

    Parameters
    ----------
    value : float
        In SI; inf is told as such.
    unit : str
        SI unit as the formulas write it.
    units : {'ft-lb', 'm-kg'}
        What people use.

    Returns
    -------
    str
        Such as `22.35 m/s (50 mph)`.
    """
    if math.isinf(value):
        return "without end" if value > 0 else "without end, negative"
    shown = SHOWN_UNITS.get(unit, unit)
    text = significant(value) + (shown if shown == "°" else f" {shown}" if shown else "")
    if units != "ft-lb" or unit not in OTHER_UNITS:
        return text
    other, factor = OTHER_UNITS[unit]
    return f"{text} ({significant(value * factor)} {other})"


def significant(value: float) -> str:
    """Return a number with four significant digits, no noughts that say nothing."""
    if value == 0:
        return "0"
    digits = _DIGITS - 1 - math.floor(math.log10(abs(value)))
    whole = round(value, digits)
    text = f"{whole:,.{max(digits, 0)}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return text.replace("-", "−")


def working_text(one: AssessedFloat, assessment: Assessment) -> str:
    """Return the working of one float's sizing for a terminal.

    Parameters
    ----------
    one : AssessedFloat
        Of the assessment.
    assessment : Assessment
        Of the field.

    Returns
    -------
    str
        Lines, each number before what rests on it.
    """
    units = assessment.field.settings.units
    lines = [
        f"The working of float {one.record.float_id}, at normal level unless it says otherwise."
    ]
    for worked in worked_numbers(one, assessment):
        lines += ["", *_lines(worked, units)]
    return "\n".join(lines)


def _lines(worked: WorkedNumber, units: Units) -> list[str]:
    inputs = "; ".join(
        f"{term.symbol} = {number_text(value, term.unit, units)}, {term.name}"
        for term, value in worked.inputs
    )
    value = number_text(worked.value, worked.unit, units)
    doubt = "" if worked.inside else "outside: "
    put_in = with_numbers(
        worked.words,
        worked.symbol,
        {term.symbol: number_text(given, term.unit, "m-kg") for term, given in worked.inputs},
    )
    told = [worked.words, f"= {put_in}", f"with {inputs}", f"source: {worked.source}"]
    if not put_in:
        told.pop(1)
    if worked.valid:
        told.append(f"range: {doubt}{worked.valid}")
    lines = textwrap.wrap(f"{worked.name}: {worked.symbol} = {value}", _WIDTH)
    for text in told:
        lines += textwrap.wrap(
            text, _WIDTH, initial_indent=_INDENT, subsequent_indent=_INDENT + "  "
        )
    return lines


class _Slots:
    """Columns of numbers over the floats, each kept once; those that never vary stand apart."""

    def __init__(self, at: IntArray) -> None:
        self._at = at
        self._known: dict[tuple[str, bytes], int] = {}
        self.columns: list[list[Any]] = []

    def of(self, array: FloatArray, unit: str) -> int:
        """Return the slot of a column."""
        mine = np.ascontiguousarray(array[self._at], dtype=np.float64)
        found = self._known.setdefault((unit, mine.tobytes()), len(self.columns))
        if found == len(self.columns):
            self.columns.append([_number(value) for value in mine.tolist()])
        return found


def page_working(assessment: Assessment) -> tuple[dict[str, Any], list[list[Any]]]:
    """Return the working as the page takes it: what is common once, and the numbers by float.

    Parameters
    ----------
    assessment : Assessment
        Of a field.

    Returns
    -------
    dict
        `steps`: for each its name, symbol, words, unit, source, range, the slots of its value, of
        whether it is inside its range and of what it is about, and its terms with their slots;
        `same`: slots that hold one number for all floats; `vary`: the other slots, in the order of
        the rows; `about`: names; `sources`: texts that steps share.
    list of list
        One row of numbers for each float.
    """
    slots = _Slots(np.array([one.at for one in assessment.floats], dtype=np.int64))
    names, sources = Once(), Once()
    steps = [_page_step(step, slots, names, sources) for step in assessment.working]
    same = {k: column[0] for k, column in enumerate(slots.columns) if len(set(column)) == 1}
    vary = [k for k in range(len(slots.columns)) if k not in same]
    rows = [[slots.columns[k][i] for k in vary] for i in range(len(assessment.floats))]
    common = {
        "steps": steps,
        "same": same,
        "vary": vary,
        "about": names.texts,
        "sources": sources.texts,
    }
    return common, rows


class Once:
    """Texts, each kept once."""

    def __init__(self) -> None:
        self.texts: list[str] = []
        self._known: dict[str, int] = {}

    def of(self, text: str) -> int:
        """Return where a text stands."""
        found = self._known.setdefault(text, len(self.texts))
        if found == len(self.texts):
            self.texts.append(text)
        return found


def _page_step(step: Step, slots: _Slots, names: Once, sources: Once) -> list[Any]:
    formula = step.formula
    about = -1
    if step.of:
        codes = np.array([names.of(name) for name in step.of], dtype=np.float64)
        about = slots.of(codes, "name")
    return [
        formula.key,
        formula.name,
        formula.symbol,
        formula.words,
        formula.unit,
        sources.of(formula.source),
        sources.of(formula.valid),
        slots.of(step.value, formula.unit),
        slots.of(step.inside.astype(np.float64), "inside") if formula.holds else -1,
        about,
        [
            [term.symbol, term.name, term.unit, slots.of(step.given[key], term.unit)]
            for key, term in formula.terms.items()
        ],
    ]


def _number(value: float) -> float | int | str | None:
    """Five significant digits, tenths of what is under 100,000; JSON knows no inf."""
    if math.isnan(value):
        return None
    if math.isinf(value):
        return "inf"
    rounded = float(f"{value:.6g}" if _TENTHS[0] <= abs(value) < _TENTHS[1] else f"{value:.5g}")
    return int(rounded) if rounded.is_integer() else rounded
