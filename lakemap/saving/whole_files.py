"""What the saves share: tables changed in place, features found, names of properties."""

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from lakemap.basis.errors import ProblemLog
from lakemap.basis.records import Units
from lakemap.inputs.cells import RawTable, Sheet
from lakemap.saving.cells import Written, cell_of, style_of
from lakemap.saving.csv_text import edited_csv
from lakemap.saving.geojson import Features, features_of
from lakemap.saving.save import Held, table_of
from lakemap.saving.table_edits import RowChange, column_name, edits_of

MARK = "\ufeff"


def edited_table(
    held: Held,
    known: Mapping[str, str | None],
    changes: Sequence[RowChange],
    *,
    units: Units,
    removed: Iterable[int] = (),
) -> tuple[bytes, tuple[str, ...]]:
    """Change a CSV or XLSX file.

    Parameters
    ----------
    held : Held
        The file.
    known : mapping of str to str or None
        The columns and what they measure.
    changes : sequence of RowChange
        What is to change.
    units : Units
        Where the file does not tell.
    removed : iterable of int
        Rows to take away (CSV only).

    Returns
    -------
    bytes
        The new file.
    tuple of str
        What people should know.
    """
    sheet = Sheet(held.table, known, ProblemLog())
    edits = edits_of(sheet, known, changes, units=units, removed=removed)
    notes = tuple(
        f"{held.name} had no column for it: {name} was added" for name in edits.new_columns.values()
    )
    if Path(held.name).suffix.lower() == ".xlsx":
        from lakemap.saving.xlsx import edited_xlsx  # noqa: PLC0415 - few fields need it

        data, more = edited_xlsx(held.data, held.table, edits)
        return data, (*notes, *more)
    text = held.data.decode("utf-8")
    mark = MARK if text.startswith(MARK) else ""
    bare = text.removeprefix(MARK)
    new = edited_csv(bare, held.table, style_of(bare, held.table), edits)
    return (mark + new).encode("utf-8"), notes


def table_text(
    text: str,
    name: str,
    known: Mapping[str, str | None],
    changes: Sequence[RowChange],
    *,
    units: Units,
) -> str:
    """Return a new CSV file's text, its header and comments given, with rows put to it."""
    data = text.encode("utf-8")
    held = Held(name=name, data=data, table=table_of(name, data))
    return edited_table(held, known, changes, units=units)[0].decode("utf-8")


def features_in(held: Held) -> tuple[Features, str]:
    """Find the features of a file, and the mark that its text begins with, if any."""
    text = held.data.decode("utf-8")
    mark = MARK if text.startswith(MARK) else ""
    return features_of(text.removeprefix(MARK), held.name), mark


def property_names(
    table: RawTable,
    known: Mapping[str, str | None],
    values: Mapping[str, object],
    *,
    units: Units,
) -> dict[str, Written]:
    """Return values by the names that a vector file has for them.

    Parameters
    ----------
    table : RawTable
        As read from it.
    known : mapping of str to str or None
        The columns and what they measure.
    values : mapping of str to object
        By column without unit.
    units : Units
        Where the file does not tell.

    Returns
    -------
    dict of str to Written
        A name that the file lacks is made as its others are.
    """
    sheet = Sheet(table, known, ProblemLog())
    found = {}
    for base, value in values.items():
        has = sheet.has(base)
        name = sheet.written(base) if has else column_name(base, known, table.columns, units)
        dimension = known[base]
        found[name] = cell_of(value, name, base=base, dimension=dimension, units=units)
    return found
