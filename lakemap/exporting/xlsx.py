"""XLSX: typed cells, one sheet to a table, nothing that is worked out, the same bytes each time."""

import io
import re
import zipfile
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any, Final

from lakemap.exporting.csv_table import ids_not_first
from lakemap.exporting.records import Export, Table
from lakemap.exporting.sheet_rows import Look, rows_xml

_CHANGED: Final = re.compile(rb"(<dcterms:(?:created|modified)[^>]*>)[^<]*")
_SHEET: Final = re.compile(r"xl/worksheets/sheet(\d+)\.xml")
_SIZE: Final = re.compile(rb'<dimension ref="[^"]*"')
_NO_DATE: Final = "1980-01-01"  # the first that a ZIP archive can bear
_FIGURE: Final = 9
_WIDEST: Final = 48
_FORMATS: Mapping[Look, str] = MappingProxyType(
    {"number": "0.00", "degrees": "0.0000000", "date": "yyyy-mm-dd"}
)


def xlsx_bytes(export: Export) -> bytes:
    """Return the sheets as a book.

    Parameters
    ----------
    export : Export
        Of a field.

    Returns
    -------
    bytes
        Texts are texts, whatever they begin with; names that are plain counts are numbers.
    """
    from openpyxl.utils import get_column_letter  # noqa: PLC0415 - slow to import

    tables = [ids_not_first(table) if table.name == "floats" else table for table in export.tables]
    data, looks = _empty_book(tables)
    rows = []
    for table in tables:
        letters = tuple(get_column_letter(at + 1) for at in range(len(table.columns)))
        size = f"A1:{letters[-1]}{len(table.rows) + 1}"
        # the floats' figures are the user's own; the rest is computed to twelve
        shown = {**looks, "number": looks["plain"]} if table.name == "floats" else looks
        rows.append((size, "".join(rows_xml(table, letters, shown))))
    return _filled(data, rows, export.dated or _NO_DATE)


def _empty_book(tables: list[Table]) -> tuple[bytes, Mapping[Look, int]]:
    """Return a book with the sheets' headers and styles alone, and the styles' numbers."""
    import openpyxl  # noqa: PLC0415 - slow to import
    from openpyxl.styles import Font  # noqa: PLC0415 - the same

    book = openpyxl.Workbook()
    book.remove(book.active)
    book.properties.creator = "lakemap"
    for table in tables:
        sheet = book.create_sheet(table.name)
        sheet.freeze_panes = "B2"
        for at, (column, width) in enumerate(zip(table.columns, _widths(table), strict=True), 1):
            cell = sheet.cell(1, at)
            cell.value = column.name
            cell.data_type = "s"  # whatever it begins with
            cell.font = Font(bold=True)
            sheet.column_dimensions[cell.column_letter].width = width
        sheet.auto_filter.ref = f"A1:{cell.column_letter}{max(len(table.rows), 1) + 1}"
    looks = _looks(book)
    raw = io.BytesIO()
    book.save(raw)
    return raw.getvalue(), looks


def _looks(book: Any) -> Mapping[Look, int]:  # noqa: ANN401 - openpyxl is untyped
    """Let the book know the styles of its cells, and return their numbers."""
    from openpyxl.cell import Cell  # noqa: PLC0415 - slow to import

    found: dict[Look, int] = {"plain": 0}
    for name, shown in _FORMATS.items():
        cell = Cell(book.worksheets[0])
        cell.number_format = shown
        found[name] = cell.style_id
    cell = Cell(book.worksheets[0])
    cell.quotePrefix = True  # no formula once somebody edits it
    found["formula-like"] = cell.style_id
    return found


def _widths(table: Table) -> Iterator[float]:
    for at, column in enumerate(table.columns):
        longest = max((len(str(row[at])) for row in table.rows[:200]), default=0)
        numeric = column.kind in {"number", "count", "flag"}
        yield min(max(len(column.name), _FIGURE if numeric else longest) + 3, _WIDEST)


def _filled(data: bytes, rows: list[tuple[str, str]], dated: str) -> bytes:
    """Put rows into the sheets, and the data's date in the place of the present."""
    year, month, day = (int(part) for part in max(dated, _NO_DATE).split("-"))
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as book, zipfile.ZipFile(out, "w") as made:
        for info in book.infolist():
            part = book.read(info)
            sheet = _SHEET.fullmatch(info.filename)
            if sheet is not None:
                size, text = rows[int(sheet[1]) - 1]
                part = _SIZE.sub(f'<dimension ref="{size}"'.encode(), part, count=1)
                part = part.replace(b"</sheetData>", text.encode() + b"</sheetData>", 1)
            elif info.filename == "docProps/core.xml":
                part = _CHANGED.sub(rb"\g<1>%sT00:00:00Z" % dated.encode(), part)
            still = zipfile.ZipInfo(info.filename, (year, month, day, 0, 0, 0))
            still.compress_type = zipfile.ZIP_DEFLATED
            made.writestr(still, part)
    return out.getvalue()
