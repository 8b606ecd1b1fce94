"""CSV: the floats alone, as a floats file."""

import re
from datetime import date
from typing import Final

from lakemap.exporting.records import Column, Export, Table
from lakemap.inputs.cells import is_blank
from lakemap.inputs.tables import MARKED_TEXT
from lakemap.saving.cells import in_quotes, plain

_QUOTED: Final = re.compile('[,;"\t\n\r]|^\\s|\\s$')
_FORMULA: Final = re.compile("[=+@\t-]")


def csv_bytes(export: Export) -> bytes:
    """Return the floats as a floats file.

    Parameters
    ----------
    export : Export
        Of a field.

    Returns
    -------
    bytes
        UTF-8. A text that a spreadsheet would take for a formula has an apostrophe before it, as
        in a spreadsheet's own cell; the reader takes it off again.
    """
    return table_csv(ids_not_first(export.table("floats")))


def table_csv(table: Table) -> bytes:
    """Return any table as CSV.

    Parameters
    ----------
    table : Table
        To write.

    Returns
    -------
    bytes
        UTF-8, formulas disarmed as in the floats file.
    """
    lines = [[_header(column) for column in table.columns]]
    lines += [[_cell(value) for value in row] for row in table.rows]
    return "".join(",".join(line) + "\n" for line in lines).encode("utf-8")


def ids_not_first(table: Table) -> Table:
    """Return the same with the names behind the position where one begins as a comment does."""
    if not any(str(row[0]).startswith("#") for row in table.rows):
        return table
    columns = (*table.columns[1:3], table.columns[0], *table.columns[3:])
    rows = tuple((*row[1:3], row[0], *row[3:]) for row in table.rows)
    return Table(name=table.name, about=table.about, columns=columns, rows=rows)


def _header(column: Column) -> str:
    name = column.name
    return _quoted(f"'{name}" if _FORMULA.match(name) else name)


def _cell(value: object) -> str:
    if is_blank(value):
        return ""
    if isinstance(value, str):
        return _quoted(f"'{value}" if MARKED_TEXT.match(f"'{value}") else value)
    if isinstance(value, date):
        return value.isoformat()
    return plain(value) if isinstance(value, float) else str(value)


def _quoted(text: str) -> str:
    return in_quotes(text) if _QUOTED.search(text) else text
