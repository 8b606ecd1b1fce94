"""A value as a cell: in the unit that its column's name carries, in the manner of its file."""

import csv
import io
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from types import MappingProxyType
from typing import Final, Literal

from lakemap.basis.quantities import SUFFIXES, UNITS
from lakemap.basis.records import Units
from lakemap.inputs.cells import RawTable, normal_name
from lakemap.inputs.tables import MARKED_TEXT

SI: Mapping[str | None, str] = MappingProxyType(
    {None: "", "length": "_m", "mass": "_kg", "density": "_kg_m3", "stiffness": "_n_m"}
)
_FORMULA = ("=", "+", "-", "@", "\t", "\r")  # how a formula begins in a spreadsheet
_MUCH_SHORTER: Final = 2  # signs


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """A cell's text; numbers and quantities have a decimal point."""

    text: str
    kind: Literal["number", "quantity", "text"] = "text"


BLANK: Final = Written(text="")


def cell_of(
    value: object, written: str, *, base: str, dimension: str | None, units: Units
) -> Written:
    """Return a value as it is written into its column.

    Parameters
    ----------
    value : object
        SI for what is measured, text, a count, a date, fittings, or None; a `Written` stays.
    written : str
        The column's name in the file.
    base : str
        The column's name without a unit.
    dimension : str or None
        What the column measures.
    units : Units
        For cells whose column names no unit.

    Returns
    -------
    Written
        A number where the column's name carries the unit, else with a unit of its own.
    """
    if isinstance(value, Written):
        return value
    if not isinstance(value, (int, float)):
        return Written(text=_text(value))
    if dimension is None:
        return Written(text=plain(value), kind="number")
    factors = UNITS[dimension]
    suffix = normal_name(written).removeprefix(f"{base}_")
    if suffix in SUFFIXES:
        return Written(text=plain(value / factors[SUFFIXES[suffix][1]]), kind="number")
    first, *others = (f"{plain(value / factors[unit])} {unit}" for unit in _units(dimension, units))
    # 11 in is no 0.916666666667 ft, but 20.5 ft is no 246 in
    short = (text for text in others if len(text) + _MUCH_SHORTER < len(first))
    return Written(text=next(short, first), kind="quantity")


def _text(value: object) -> str:
    if isinstance(value, tuple):
        counted = (f"{one.name} {one.size} {one.count}" for one in value)
        return "; ".join(text.removesuffix(" 1") for text in counted)
    if isinstance(value, date):
        return value.isoformat()
    return "" if value is None else str(value)


def _units(dimension: str, units: Units) -> tuple[str, ...]:
    """Return the units that a cell may carry where its column's name has none."""
    if units == "m-kg":
        return tuple(unit for unit, factor in UNITS[dimension].items() if factor == 1.0)
    return ("ft", "in") if dimension == "length" else (next(iter(UNITS[dimension])),)


def plain(value: float) -> str:
    """Return twelve figures without an exponent."""
    return f"{Decimal(f'{value:.12g}'):f}"


def fixed(value: float, digits: int) -> Written:
    """Return a number with so many decimals."""
    return Written(text=f"{value:.{digits}f}", kind="number")


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """How a CSV file is written."""

    delimiter: str
    decimal: str
    ending: str

    def text(self, cell: Written) -> str:
        """Return a cell's text in the file."""
        if cell.kind != "text":
            return cell.text.replace(".", self.decimal)
        return self.quoted(cell.text)

    def quoted(self, text: str) -> str:
        """Quote a text as CSV needs it; one that would be a formula gets a spreadsheet's mark."""
        if text.startswith(_FORMULA) or MARKED_TEXT.match(text):
            return in_quotes(f"'{text}")
        needed = (self.delimiter, '"', "\r", "\n")
        return in_quotes(text) if any(sign in text for sign in needed) else text


def in_quotes(text: str) -> str:
    """Return a text in quotes."""
    return '"' + text.replace('"', '""') + '"'


def style_of(text: str, table: RawTable) -> Style:
    """See how a CSV file is written; where no number tells, semicolons go with decimal commas.

    Parameters
    ----------
    text : str
        The file's text without a mark.
    table : RawTable
        As read from it.

    Returns
    -------
    Style
        Of the file.
    """
    delimiter = next(sign for sign in ";\t," if _header(text, sign) == table.columns)
    comma = table.decimal_comma or (delimiter == ";" and not table.rows)
    return Style(
        delimiter=delimiter, decimal="," if comma else ".", ending=_ending(text, delimiter)
    )


def _header(text: str, delimiter: str) -> tuple[str, ...]:
    for record in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter):
        cells = tuple(cell.strip() for cell in record)
        if any(cells) and not cells[0].startswith("#"):
            return cells
    return ()


def _ending(text: str, delimiter: str) -> str:
    """Return what most rows end with; a line end within a quoted cell ends no row."""
    lines = io.StringIO(text, newline="").readlines()
    reader = csv.reader(lines, delimiter=delimiter)
    last = (lines[reader.line_num - 1] for _ in reader)
    ends = Counter(line[len(line.rstrip("\r\n")) :] for line in last)
    found = [end for end, _ in ends.most_common() if end in {"\r\n", "\n", "\r"}]
    return found[0] if found else "\n"
