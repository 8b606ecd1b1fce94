"""Rows of a sheet as XML: typed cells, texts as texts.

The spreadsheet library builds each cell as an object, which takes ten times as long.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from datetime import date
from functools import partial
from typing import Any, Final, Literal
from xml.sax.saxutils import escape

from lakemap.exporting.records import Column, Table

Look = Literal["plain", "formula-like", "number", "degrees", "date"]

_COUNT: Final = re.compile(r"0|[1-9][0-9]{0,14}")  # a spreadsheet keeps fifteen figures
_FORMULA: Final = ("=", "+", "-", "@", "\t")
_DAY_0: Final = date(1899, 12, 30)  # of the days that a spreadsheet counts
_MOST: Final = 32_767  # characters of a cell
_Write = Callable[[Any], str]


def rows_xml(table: Table, letters: tuple[str, ...], looks: Mapping[Look, int]) -> Iterator[str]:
    """Yield a table's rows, the second of the sheet the first of them.

    Parameters
    ----------
    table : Table
        Without control characters.
    letters : tuple of str
        Of the columns.
    looks : mapping of str to int
        The book's styles.

    Yields
    ------
    str
        One row.
    """
    writers = [_writer(column, looks) for column in table.columns]
    for number, row in enumerate(table.rows, start=2):
        cells = (
            f'<c r="{letter}{number}"{write(value)}</c>'
            for letter, write, value in zip(letters, writers, row, strict=True)
            if value is not None
        )
        yield f'<row r="{number}">{"".join(cells)}</row>'


def _writer(column: Column, looks: Mapping[Look, int]) -> _Write:
    """Return what writes the cells of a column, from behind their place on."""
    if column.kind == "number":
        look: Look = "degrees" if column.name in {"lon", "lat"} else "number"
        return partial(_number, look=looks[look])
    if column.kind == "count":
        return partial(_number, look=looks["plain"])
    if column.kind == "flag":
        return _flag
    if column.kind == "date":
        return partial(_date, look=looks["date"])
    return partial(_name if column.kind == "name" else _text, looks=looks)


def _number(value: float, *, look: int) -> str:
    return f' s="{look}"><v>{value!r}</v>'


def _flag(value: object) -> str:
    return f' t="b"><v>{1 if value else 0}</v>'


def _date(value: date, *, look: int) -> str:
    return _number((value - _DAY_0).days, look=look)


def _name(value: str, *, looks: Mapping[Look, int]) -> str:
    """Return a name; one that is a plain count is a number, so that it sorts as one."""
    return f"><v>{value}</v>" if _COUNT.fullmatch(value) else _text(value, looks=looks)


def _text(value: str, *, looks: Mapping[Look, int]) -> str:
    """Return a text that stays one, also once somebody edits its cell."""
    look: Look = "formula-like" if value.startswith(_FORMULA) else "plain"
    held = escape(value[:_MOST])
    return f' s="{looks[look]}" t="inlineStr"><is><t xml:space="preserve">{held}</t></is>'
