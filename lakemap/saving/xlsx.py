"""XLSX: some cells of the first sheet changed, every other part of the book as it was."""

import io
import posixpath
import re
import zipfile
from collections.abc import Mapping
from copy import copy
from typing import Final
from xml.sax.saxutils import escape

from defusedxml import DefusedXmlException
from defusedxml.ElementTree import fromstring

from lakemap.basis.errors import BadInputError, Problem
from lakemap.inputs.cells import RawTable, is_blank
from lakemap.inputs.tables import MOST_BYTES
from lakemap.saving.cells import BLANK, Written
from lakemap.saving.sheet_spans import (
    CellSpan,
    RowSpan,
    SheetSpans,
    column_and_row,
    column_letters,
    sheet_spans,
)
from lakemap.saving.splices import Splice, spliced
from lakemap.saving.table_edits import TableEdits

FORMULAS_NOTE: Final = (
    "the sheet holds formulas; open and save it in the spreadsheet to have them worked out anew"
)
_NO_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_COUNT = re.compile(r"0|-?[1-9][0-9]{0,14}")
_SPANS = re.compile(rb"\sspans=(\"[^\"]*\"|'[^']*')")


def edited_xlsx(data: bytes, table: RawTable, edits: TableEdits) -> tuple[bytes, tuple[str, ...]]:
    """Return a book with some cells of its first sheet changed.

    Parameters
    ----------
    data : bytes
        The file's.
    table : RawTable
        As read from it.
    edits : TableEdits
        Cells, new columns, and new rows at the end; no row is taken away.

    Returns
    -------
    bytes
        The new file: every other part of the book has its bytes.
    tuple of str
        What people should know.

    Raises
    ------
    BadInputError
        If a cell to change is a formula, or the sheet is written in an unusual way.
    """
    with zipfile.ZipFile(io.BytesIO(data)) as book:
        _refuse_hostile(book, table.file)
        name = _first_sheet(book, table.file)
        sheet = book.read(name)
        spans = sheet_spans(sheet, table.file)
        cells = _cells(data, table, edits, spans)
        new = spliced(sheet, _splices(sheet, spans, cells, table.file))
        whole = _with_part(book, name, new)
    formulas = any(cell.formula for row in spans.rows for cell in row.cells)
    return whole, (FORMULAS_NOTE,) if formulas else ()


def _problem(file: str, code: str, text: str) -> BadInputError:
    return BadInputError([Problem(code=code, text=f"{text}; nothing was written", file=file)])


def _refuse_hostile(book: zipfile.ZipFile, file: str) -> None:
    names = book.namelist()
    size = sum(info.file_size for info in book.infolist())
    if len(set(names)) != len(names) or size > MOST_BYTES:
        text = "the spreadsheet is too large or oddly packed to be changed; save it as CSV UTF-8"
        raise _problem(file, "bad_xlsx", text)


def _first_sheet(book: zipfile.ZipFile, file: str) -> str:
    """Name of the part that holds the first sheet, the one that is read."""
    try:
        main = next(
            target for kind, target in _links(book, "").values() if kind == "officeDocument"
        )
        links = _links(book, main)
        for element in fromstring(book.read(main), forbid_dtd=True).iter():
            if element.tag.rsplit("}", 1)[-1] != "sheet":
                continue
            own = next(value for key, value in element.attrib.items() if key.endswith("}id"))
            if links[own][0] == "worksheet":
                return links[own][1]
    except (KeyError, StopIteration, SyntaxError, DefusedXmlException):
        pass
    raise _problem(file, "bad_xlsx", "the first sheet can't be found; save it as CSV UTF-8")


def _links(book: zipfile.ZipFile, part: str) -> dict[str, tuple[str, str]]:
    """Kind and target of each link of a part, by its name."""
    folder, name = posixpath.split(part)
    root = fromstring(book.read(posixpath.join(folder, "_rels", f"{name}.rels")), forbid_dtd=True)
    return {
        one.attrib["Id"]: (
            one.attrib["Type"].rsplit("/", 1)[-1],
            posixpath.normpath(posixpath.join("/", folder, one.attrib["Target"])).lstrip("/"),
        )
        for one in root
    }


def _cells(
    data: bytes, table: RawTable, edits: TableEdits, spans: SheetSpans
) -> dict[int, dict[int, Written]]:
    """Cells by row and column, both from 1."""
    found: dict[int, dict[int, Written]] = {}
    for (row, index), cell in edits.cells.items():
        as_it_was = _as_before(cell, _at(table, row, index))
        found.setdefault(table.row_numbers[row], {})[index + 1] = as_it_was
    if edits.new_columns:
        names = {index + 1: Written(text=name) for index, name in edits.new_columns.items()}
        found[_header_row(data)] = names
    filled = [row.number for row in spans.rows if any(cell.filled for cell in row.cells)]
    number = max(filled, default=0)
    for _, cells in edits.added:
        number += 1
        last = len(table.rows) - 1
        found[number] = {
            index + 1: _as_before(cell, _at(table, last, index))
            for index, cell in cells.items()
            if cell.text
        }
    return found


def _at(table: RawTable, row: int, index: int) -> object:
    held = table.rows[row] if 0 <= row < len(table.rows) else ()
    return held[index] if index < len(held) else None


def _as_before(cell: Written, old: object) -> Written:
    """Return a text that is a count as a number, where a number stood (a float's, a lot's)."""
    numeric = isinstance(old, (int, float)) and not isinstance(old, bool)
    if numeric and cell.kind == "text" and _COUNT.fullmatch(cell.text):
        return Written(text=cell.text, kind="number")
    return cell


def _header_row(data: bytes) -> int:
    """Number of the row that holds the columns' names."""
    import openpyxl  # noqa: PLC0415 - slow to import

    book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=True)
    for number, row in enumerate(book.worksheets[0].iter_rows(values_only=True), start=1):
        if any(not is_blank(cell) for cell in row) and not str(row[0] or "").lstrip().startswith(
            "#"
        ):
            return number
    raise AssertionError("a table that was read has a header")  # pragma: no cover


def _splices(
    sheet: bytes, spans: SheetSpans, cells: Mapping[int, Mapping[int, Written]], file: str
) -> list[Splice[bytes]]:
    """All changes of the sheet."""
    rows = {row.number: row for row in spans.rows}
    splices: list[Splice[bytes]] = []
    new_rows: dict[int, bytes] = {}  # by place
    for number in sorted(cells):
        row = rows.get(number)
        if row is not None:
            splices += _in_row(sheet, spans.prefix, row, cells[number], file)
            continue
        at = next((one.start for one in spans.rows if one.number > number), spans.data_close)
        new = _new_row(spans.prefix, number, cells[number], file)
        new_rows[at] = new_rows.get(at, b"") + new
    closed = spans.data_close < 0
    for at, text in new_rows.items():
        if closed:
            opened = sheet[spans.data_start : spans.data_tag_end].removesuffix(b"/>") + b">"
            whole = opened + text + b"</" + spans.prefix + b"sheetData>"
            splices.append(Splice(spans.data_start, spans.data_tag_end, whole))
        else:
            splices.append(Splice(at, at, text))
    return splices + _wider(sheet, spans, cells)


def _in_row(
    sheet: bytes, prefix: bytes, row: RowSpan, cells: Mapping[int, Written], file: str
) -> list[Splice[bytes]]:
    """Changes within a row that is there."""
    splices: list[Splice[bytes]] = []
    new: dict[int, bytes] = {}
    held = {cell.column: cell for cell in row.cells}
    for column in sorted(cells):
        name = f"{column_letters(column)}{row.number}"
        cell = held.get(column)
        if cell is not None:
            _refuse_formula(cell, name, file)
            text = _cell_xml(prefix, name, cells[column], cell.style, file)
            splices.append(Splice(cell.start, cell.end, text))
        elif cells[column].text:
            at = next((one.start for one in row.cells if one.column > column), row.close)
            new[at] = new.get(at, b"") + _cell_xml(prefix, name, cells[column], None, file)
    if not new:
        return splices
    tag = _SPANS.sub(b"", sheet[row.start : row.tag_end])  # no longer true
    if row.closed:
        body = tag.removesuffix(b"/>") + b">" + b"".join(new.values())
        return [Splice(row.start, row.tag_end, body + b"</" + prefix + b"row>")]
    splices.append(Splice(row.start, row.tag_end, tag))
    return splices + [Splice(at, at, text) for at, text in new.items()]


def _refuse_formula(cell: CellSpan, name: str, file: str) -> None:
    if cell.formula:
        text = f"cell {name} is a formula; change it in the spreadsheet, or put a value there"
        raise _problem(file, "formula", text)


def _new_row(prefix: bytes, number: int, cells: Mapping[int, Written], file: str) -> bytes:
    made = b"".join(
        _cell_xml(prefix, f"{column_letters(column)}{number}", cells[column], None, file)
        for column in sorted(cells)
    )
    return b'<%srow r="%d">%s</%srow>' % (prefix, number, made, prefix)


def _cell_xml(prefix: bytes, name: str, cell: Written, style: str | None, file: str) -> bytes:
    """Return one cell; texts stand in it, not in the book's list of them."""
    bad = _NO_XML.search(cell.text)
    if bad is not None:
        text = f"{bad[0]!r} can't stand in a spreadsheet (cell {name}); take it out"
        raise _problem(file, "bad_text", text)
    p = prefix.decode()
    shown = f'<{p}c r="{name}"' + ("" if style is None else f' s="{escape(style)}"')
    if cell is BLANK or not cell.text:
        return f"{shown}/>".encode()
    if cell.kind == "number":
        return f"{shown}><{p}v>{cell.text}</{p}v></{p}c>".encode()
    text = escape(cell.text, {"\r": "&#13;"})
    inner = f'<{p}is><{p}t xml:space="preserve">{text}</{p}t></{p}is>'
    return f'{shown} t="inlineStr">{inner}</{p}c>'.encode()


def _wider(
    sheet: bytes, spans: SheetSpans, cells: Mapping[int, Mapping[int, Written]]
) -> list[Splice[bytes]]:
    """Let the sheet's stated size hold what was added; readers go by it."""
    if spans.dimension is None:
        return []
    start, end, ref = spans.dimension
    first, _, last = ref.partition(":")
    left, top = column_and_row(first)
    right, bottom = column_and_row(last or first)
    columns = [column for row in cells.values() for column in row]
    if not left or not right or not columns:
        return []
    new = (
        f"{column_letters(min(left, *columns))}{min(top, *cells)}"
        f":{column_letters(max(right, *columns))}{max(bottom, *cells)}"
    )
    whole = f"{first}:{last or first}"
    if new == whole:
        return []
    tag = sheet[start:end].replace(ref.encode(), new.encode(), 1)
    return [Splice(start, end, tag)]


def _with_part(book: zipfile.ZipFile, name: str, new: bytes) -> bytes:
    """Return the book with one part's bytes replaced."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as made:
        made.comment = book.comment
        for info in book.infolist():
            made.writestr(copy(info), new if info.filename == name else book.read(info))
    return out.getvalue()
