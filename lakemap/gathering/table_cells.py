"""A sounder's table, in a text or a workbook, as rows of cells; texts line by line."""

import csv
import re
from collections.abc import Iterator, Sequence
from datetime import date
from itertools import chain, islice
from pathlib import Path
from typing import Final, Literal, NamedTuple

from lakemap.basis.errors import ProblemLog
from lakemap.gathering.lines import is_comment, text_lines
from lakemap.inputs.cells import is_blank
from lakemap.inputs.one_cell import Cell

_DECIMAL_COMMA: Final = re.compile(r"\s*[-+]?\d+,\d+\s*")
_LOOKED_AT: Final = 50  # rows that show whether a file has decimal commas


class Cells(NamedTuple):
    """A table as it stands in a file."""

    row: int  # of the header
    header: list[str]
    rows: Iterator[tuple[int, Sequence[str]]]
    comma: bool  # decimal commas
    said: tuple[str, ...]  # what was seen of it


def cells_of(path: Path, kind: Literal["csv", "xlsx"]) -> Cells:
    """Open a table.

    Parameters
    ----------
    path : Path
        The file.
    kind : {'csv', 'xlsx'}
        Text parted by commas, semicolons, tabs or (where its header has none of them) blanks; or
        a workbook, of which the first sheet is read.

    Returns
    -------
    Cells
        Its rows are read as they are taken, if it is a text.

    Raises
    ------
    BadInputError
        If it can't be read.
    """
    return _of_workbook(path) if kind == "xlsx" else _of_text(path)


def _of_text(path: Path) -> Cells:
    lines = ((n, line) for n, line in enumerate(text_lines(path), 1) if not is_comment(line))
    row, top = next(lines, (1, ""))
    delimiter = max(";\t,", key=top.count)
    sign = delimiter if delimiter in top else " "
    ahead = list(islice(lines, _LOOKED_AT))
    comma = sign == ";" and any(
        _DECIMAL_COMMA.fullmatch(cell) for _, line in ahead for cell in line.split(";")
    )
    return Cells(
        row=row,
        header=[name.strip() for name in _cells(top, sign)],
        rows=((number, _cells(line, sign)) for number, line in chain(ahead, lines)),
        comma=comma,
        said=("read with decimal commas",) if comma else (),
    )


def _cells(line: str, sign: str) -> list[str]:
    return line.split() if sign == " " else next(csv.reader([line], delimiter=sign), [])


def _of_workbook(path: Path) -> Cells:
    from lakemap.inputs.tables import read_xlsx  # noqa: PLC0415 - few need it

    log = ProblemLog()
    table = read_xlsx(path, log)
    log.raise_if_fatal()
    if table is None:
        raise AssertionError("what can't be read was told")  # pragma: no cover
    rows = zip(table.row_numbers, table.rows, strict=True)
    return Cells(
        row=1,
        header=list(table.columns),
        rows=((number, [_text(cell) for cell in row]) for number, row in rows),
        comma=False,
        said=tuple(one.text for one in log),
    )


def _text(cell: Cell) -> str:
    if is_blank(cell):
        return ""
    return cell.isoformat() if isinstance(cell, date) else str(cell)
