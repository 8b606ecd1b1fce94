"""Texts without the characters that no table or XML file can hold."""

import re
from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from lakemap.exporting.records import Column, Export, Table

# Extensible Markup Language (XML) 1.0, W3C, 5th edition, 2008, production 2: Char
_NO_CHARACTER: Final = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_LINE_END: Final = re.compile("\r\n?")
_MOST_NAMED: Final = 6


def cleaned(export: Export) -> Export:
    """Return what goes out without control characters; which texts had them is noted.

    Parameters
    ----------
    export : Export
        As made from the field.

    Returns
    -------
    Export
        Line ends within a text are plain ones.
    """
    dropped: dict[str, None] = {}
    tables = tuple(_table(table, dropped) for table in export.tables)
    notes = export.notes
    if dropped:
        named = ", ".join(list(dropped)[:_MOST_NAMED])
        more = len(dropped) - _MOST_NAMED
        also = f" and {more:,} more" if more > 0 else ""
        notes += (f"control characters were dropped from {named}{also}",)
    return replace(
        export, name=clean(export.name), about=clean(export.about), tables=tables, notes=notes
    )


def clean(text: str) -> str:
    """Return a text without control characters."""
    return _LINE_END.sub("\n", _NO_CHARACTER.sub("", text))


def _table(table: Table, dropped: dict[str, None]) -> Table:
    columns = tuple(Column(name=clean(one.name), kind=one.kind) for one in table.columns)
    rows = []
    for number, row in enumerate(table.rows, start=1):
        cells: list[object] = []
        for column, value in zip(columns, row, strict=True):
            if isinstance(value, str):
                if _NO_CHARACTER.search(value):
                    dropped[f"{table.name} {column.name} (row {number})"] = None
                cells.append(clean(value))
            else:
                cells.append(value)
        rows.append(tuple(cells))
    return replace(
        table,
        columns=columns,
        rows=tuple(rows),
        titles=_all(table.titles),
        says=_all(table.says),
    )


def _all(texts: Iterable[str]) -> tuple[str, ...]:
    return tuple(clean(text) for text in texts)
