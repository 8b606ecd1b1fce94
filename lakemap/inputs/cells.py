"""A table as read, and its cells as quantities, counts, choices and dates; every slip is told."""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from difflib import get_close_matches
from typing import TypeVar

import numpy as np

from lakemap.basis.errors import Problem, ProblemLog
from lakemap.basis.quantities import SUFFIXES, UNITS, parse_number, parse_quantity
from lakemap.basis.records import FloatArray, Geometry
from lakemap.inputs.one_cell import (
    Cell,
    as_date,
    has_unit,
    read_date,
    read_time,
    sane,
    shown,
    text_of,
    within,
)

T = TypeVar("T")
_MOST_TOLD = 20  # rows with the same slip in one column
_MOST_COUNT = 1_000_000
_CUT = 10  # characters of a Shapefile's column name


@dataclass(frozen=True, slots=True, kw_only=True)
class RawTable:
    """A table as it stands in a file.

    `row_numbers` are those of a spreadsheet (the header is row 1), or of the features from 1.
    """

    file: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    row_numbers: tuple[int, ...]
    decimal_comma: bool = False
    cut_names: bool = False  # a Shapefile: names end after ten characters
    geometry: Geometry = None  # array of shapely geometries in lon, lat; None for a plain table


def normal_name(written: str) -> str:
    """Return a column's name as it is compared: lower case, words joined by underscores."""
    return written.strip().lower().replace(" ", "_").replace("-", "_")


def is_blank(cell: Cell) -> bool:
    """Tell whether a cell holds nothing."""
    if cell is None or (isinstance(cell, float) and math.isnan(cell)):
        return True
    return isinstance(cell, str) and not cell.strip()


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a known column stands and the unit that its name carries."""

    index: int
    unit: str | None


class Sheet:
    """A table whose columns are known by name; reading a column tells every slip in it.

    Parameters
    ----------
    table : RawTable
        As read.
    known : mapping of str to str or None
        Base names; the value is the dimension of a measured column, else None.
    log : ProblemLog
        Gains a problem for every slip.
    """

    def __init__(self, table: RawTable, known: Mapping[str, str | None], log: ProblemLog) -> None:
        self.table = table
        self._known = known
        self._log = log
        self._places: dict[str, _Place] = {}
        self.unknown: list[str] = []
        for index, written in enumerate(table.columns):
            self._place(index, written)

    def __len__(self) -> int:
        """Return the number of rows."""
        return len(self.table.rows)

    def _place(self, index: int, written: str) -> None:
        """Find out which known column one is, if any."""
        name = normal_name(written)
        if not name:
            return
        found = self._whole(name)
        if found is None and self.table.cut_names and len(name) == _CUT:
            found = self._cut(name, written)
        if found is None:
            self.unknown.append(written)
            return
        base, unit = found
        if base in self._places:
            other = self.table.columns[self._places[base].index]
            self.tell(
                "column_doubled", f"{other} and {written} give the same thing; keep one", None
            )
            return
        self._places[base] = _Place(index, unit)

    def _whole(self, name: str) -> tuple[str, str | None] | None:
        """Match a whole name, with its unit."""
        if name in self._known:
            return name, None
        for base, dimension in self._known.items():
            suffix = name.removeprefix(f"{base}_")
            if dimension is None or suffix == name or suffix not in SUFFIXES:
                continue
            of, unit = SUFFIXES[suffix]
            if of == dimension:
                return base, unit
            self.tell(
                "wrong_unit",
                f"{suffix} measures no {dimension}; write {self.forms(base)}",
                None,
                name,
            )
            return base, unit  # told; its cells are not, too
        return None

    def _cut(self, name: str, written: str) -> tuple[str, str | None] | None:
        """Match a name cut to ten characters, where only one column begins so."""
        bases = []
        for base, dimension in self._known.items():
            forms = [base] + [
                f"{base}_{suffix}" for suffix, (of, _) in SUFFIXES.items() if of == dimension
            ]
            if any(form[:_CUT] == name for form in forms):
                bases.append(base)
        if len(bases) > 1:
            may = " or ".join(bases)
            text = f"the name was cut to ten characters and may be {may}; use another format"
            self.tell("cut_name", text, None, written)
        return (bases[0], None) if len(bases) == 1 else None

    def forms(self, base: str) -> str:
        """Return the names that a measured column may have, in words."""
        names = [f"{base}_{s}" for s, (of, _) in SUFFIXES.items() if of == self._known[base]]
        return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"

    def has(self, base: str) -> bool:
        """Tell whether a column is there."""
        return base in self._places

    def require(self, *bases: str) -> None:
        """Tell a problem for each column that is missing."""
        for base in bases:
            if base not in self._places:
                name = self.forms(base) if self._known[base] else base
                near = get_close_matches(base, [normal_name(one) for one in self.unknown], n=1)
                hint = f"; {near[0]!r} is near, but not the same" if near else ""
                text = f"the column is missing; add {name}{hint}"
                self._log.add(
                    Problem(code="column_missing", text=text, file=self.table.file, column=base)
                )

    def tell(self, code: str, text: str, row: int | None, column: str | None = None) -> None:
        """Keep a problem of this table.

        Parameters
        ----------
        code, text : str
            As in `Problem`.
        row : int or None
            Place in `rows`, from 0.
        column : str or None
            As written.
        """
        number = None if row is None else self.table.row_numbers[row]
        self._log.add(
            Problem(code=code, text=text, file=self.table.file, row=number, column=column)
        )

    def caution(self, code: str, text: str, row: int | None, column: str | None = None) -> None:
        """Keep a caution of this table; parameters as in `tell`."""
        number = None if row is None else self.table.row_numbers[row]
        self._log.add(
            Problem(
                code=code, text=text, file=self.table.file, row=number, column=column, fatal=False
            )
        )

    def written(self, base: str) -> str:
        """Return a column's name as the file writes it."""
        place = self._places.get(base)
        return base if place is None else self.table.columns[place.index]

    def cells(self, base: str) -> Iterator[Cell]:
        """Iterate over a column's cells; all None where it is missing."""
        place = self._places.get(base)
        for row in self.table.rows:
            yield None if place is None or place.index >= len(row) else row[place.index]

    def _read(self, base: str, read: Callable[[Cell], T], code: str) -> list[T | None]:
        """Read each cell that is not blank; tell the slips, the first twenty one by one."""
        values: list[T | None] = []
        slips = 0
        for row, cell in enumerate(self.cells(base)):
            if is_blank(cell):
                values.append(None)
                continue
            try:
                values.append(read(cell))
            except ValueError as error:
                values.append(None)
                slips += 1
                if slips <= _MOST_TOLD:
                    self.tell(code, str(error), row, self.written(base))
        if slips > _MOST_TOLD:
            text = f"and {slips - _MOST_TOLD:,} more like it"
            self.tell(code, text, None, self.written(base))
        return values

    def text(self, base: str) -> list[str | None]:
        """Read a column of text, outer blanks taken off."""
        return self._read(base, text_of, "bad_text")

    def measured(
        self, base: str, *, least: float | None = 0.0, above: bool = False
    ) -> list[float | None]:
        """Read a measured column in SI.

        Parameters
        ----------
        base : str
            Its name without the unit.
        least : float or None
            The least that may be; None: anything finite.
        above : bool
            True: it must be above `least`.

        Returns
        -------
        list of float or None
            One per row; None where blank or wrong.
        """
        dimension = self._known[base] or "length"
        place = self._places.get(base)
        if place is not None and place.unit is None:
            return self._with_own_units(base, dimension, least, above=above)
        unit = None if place is None else place.unit
        told = unit is not None and unit not in UNITS[dimension]  # a unit of something else
        factor = 1.0 if unit is None or told else parse_quantity(f"1 {unit}", dimension)

        def read(cell: Cell) -> float:
            if isinstance(cell, str) and any(sign.isalpha() or sign in "'\"′″" for sign in cell):
                value = self._quantity(cell, dimension)
            else:
                value = self._number(cell) * factor
            return sane(within(value, cell, least, above=above), cell, dimension)

        return self._read(base, read, "bad_number")

    def _with_own_units(
        self, base: str, dimension: str, least: float | None, *, above: bool
    ) -> list[float | None]:
        """Read a column whose name has no unit: each cell must carry its own."""
        bare = [
            row
            for row, cell in enumerate(self.cells(base))
            if not is_blank(cell) and not (isinstance(cell, str) and has_unit(cell))
        ]
        if bare:
            lost = " (the name was cut to ten characters)" if self.table.cut_names else ""
            text = f"no unit{lost}; write {self.forms(base)}, or a unit in each cell"
            self.tell("no_unit", text, bare[0], self.written(base))
            return [None] * len(self)
        return self._read(
            base,
            lambda cell: sane(
                within(self._quantity(str(cell), dimension), cell, least, above=above),
                cell,
                dimension,
            ),
            "bad_number",
        )

    def number(
        self, base: str, *, low: float = -math.inf, high: float = math.inf
    ) -> list[float | None]:
        """Read a column of plain numbers between two bounds, ends included."""

        def read(cell: Cell) -> float:
            value = self._number(cell)
            if not low <= value <= high:
                raise ValueError(f"{shown(cell)} is out of range; write {low:g} to {high:g}")
            return value

        return self._read(base, read, "bad_number")

    def numbers(self, base: str) -> FloatArray | None:
        """Read a long column of plain numbers at once; None where some cell is no plain number.

        Parameters
        ----------
        base : str
            Its name.

        Returns
        -------
        ndarray or None
            In the unit of the column's name, turned to SI; None: read it cell by cell.
        """
        place = self._places.get(base)
        if place is None or self.table.decimal_comma:
            return None
        unit, dimension = place.unit, self._known[base]
        if dimension is not None and unit not in UNITS[dimension]:
            return None
        try:
            values = np.array([row[place.index] for row in self.table.rows]).astype(np.float64)
        except (TypeError, ValueError, IndexError):
            return None
        if not np.isfinite(values).all():
            return None
        return (
            values
            if dimension is None or unit is None
            else values * parse_quantity(f"1 {unit}", dimension)
        )

    def whole_number(self, base: str, *, least: int = 0) -> list[int | None]:
        """Read a column of counts."""

        def read(cell: Cell) -> int:
            value = self._number(cell)
            if value != int(value) or value < least:
                raise ValueError(f"{shown(cell)} is no count; write a whole number from {least} on")
            if value > _MOST_COUNT:
                raise ValueError(f"{shown(cell)} is more than anybody has; write a smaller number")
            return int(value)

        return self._read(base, read, "bad_count")

    def choice(self, base: str, choices: Sequence[str]) -> list[str | None]:
        """Read a column whose cells are one of some words, in any case."""

        def read(cell: Cell) -> str:
            word = text_of(cell).lower()
            if word in choices:
                return word
            near = get_close_matches(word, choices, n=1)
            hint = f"; did you mean {near[0]}?" if near else ""
            raise ValueError(f"{shown(cell)} is none of {', '.join(choices)}{hint}")

        return self._read(base, read, "bad_choice")

    def checked_text(
        self, base: str, check: Callable[[str], object], code: str
    ) -> list[str | None]:
        """Read a column of text that another reader must be able to make sense of."""

        def read(cell: Cell) -> str:
            text = text_of(cell)
            check(text)
            return text

        return self._read(base, read, code)

    def iso_date(self, base: str) -> list[date | None]:
        """Read a column of dates, ISO 8601 or a spreadsheet's own."""
        return self._read(base, read_date, "bad_date")

    def iso_time(self, base: str) -> list[datetime | None]:
        """Read a column of moments, ISO 8601 or a spreadsheet's own; a time zone is taken off."""
        return self._read(base, read_time, "bad_time")

    def _number(self, cell: Cell) -> float:
        if isinstance(cell, bool):
            raise ValueError(f"{cell} is no number")  # noqa: TRY004 - a slip in a cell, not in code
        if isinstance(cell, (int, float)):
            if not math.isfinite(cell):
                raise ValueError(f"{cell} is no finite number")
            return float(cell)
        text = text_of(cell).replace("\u00a0", "").replace("\u202f", "")
        return parse_number(text, decimal_comma=self.table.decimal_comma)

    def _quantity(self, text: str, dimension: str) -> float:
        return parse_quantity(text, dimension, decimal_comma=self.table.decimal_comma)

    def latest_date(self) -> date | None:
        """Return the latest date in any cell."""
        found = [day for row in self.table.rows for cell in row if (day := as_date(cell))]
        return max(found, default=None)
