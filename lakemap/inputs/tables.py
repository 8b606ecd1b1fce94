"""CSV and XLSX files as raw tables."""

import csv
import io
import re
import zipfile
from collections import Counter
from pathlib import Path

from lakemap.basis.errors import Problem, ProblemLog
from lakemap.inputs.cells import RawTable, is_blank, normal_name
from lakemap.inputs.one_cell import Cell

MOST_BYTES = 200_000_000
_DECIMAL_COMMA = re.compile(r"\s*[-+−]?\d+,\d+\s*")
UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")
_OLD_OR_LOCKED = (
    b"\xd0\xcf\x11\xe0"  # an OLE container: spreadsheets before XLSX, or behind a password
)
# a spreadsheet's mark that a text is no formula
MARKED_TEXT = re.compile("'+[=+@\t\r-]")
_OPENING = 200  # bytes that tell a web page
_WEB_PAGE = (b"<!doctype html", b"<html")
_ERRORS = ("#N/A", "#REF!", "#VALUE!", "#DIV/0!", "#NAME?", "#NUM!", "#NULL!")


def read_bytes(path: Path, log: ProblemLog) -> bytes | None:
    """Read a file's bytes, or tell why not.

    Parameters
    ----------
    path : Path
        The file.
    log : ProblemLog
        Gains a problem if it is empty, too large, a web page or cannot be opened.

    Returns
    -------
    bytes or None
        None where a problem was told.
    """
    try:
        size = path.stat().st_size
        if size == 0:
            text = "the file is empty; give it a header row at least, or take it away"
            return _no(log, path, "file_empty", text)
        if size > MOST_BYTES:
            most = f"{MOST_BYTES / 1e6:,.0f} MB"
            text = f"the file has {size / 1e6:,.0f} MB; the most that is read is {most}"
            return _no(log, path, "file_too_large", text)
        data = path.read_bytes()
    except PermissionError:
        text = (
            "the file can't be opened; close it in the other program (a spreadsheet?) and try again"
        )
        return _no(log, path, "file_held", text)
    except OSError as error:
        return _no(log, path, "file_unreadable", f"the file can't be read: {error.strerror}")
    if data[:_OPENING].lstrip(b"\xef\xbb\xbf \t\r\n").lower().startswith(_WEB_PAGE):
        text = (
            "this is a web page, as a link or a sign-in gives it, not the file itself; open the"
            " page in a browser and download or export the file from there"
        )
        return _no(log, path, "web_page", text)
    return data


def _no(log: ProblemLog, path: Path, code: str, text: str, row: int | None = None) -> None:
    log.add(Problem(code=code, text=text, file=path.name, row=row))


def decode(data: bytes, path: Path, log: ProblemLog) -> str | None:
    """Decode UTF-8 text, with or without a mark, or tell the remedy.

    Parameters
    ----------
    data : bytes
        The file's bytes.
    path : Path
        For the message.
    log : ProblemLog
        Gains a problem for any other encoding.

    Returns
    -------
    str or None
        None where a problem was told.
    """
    if data[:2] in UTF16_MARKS:
        text = "the text is UTF-16; save it again as UTF-8 (in a spreadsheet: CSV UTF-8)"
        return _no(log, path, "not_utf8", text)
    if b"\0" in data:
        return _no(log, path, "not_text", "this is no text file; save it as CSV UTF-8")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        row = data[: error.start].count(b"\n") + 1
        shown = data[error.start : error.start + 1].decode("cp1252", errors="replace")
        text = (
            f"the text is not UTF-8 (near {shown!r}; it looks like Windows text, cp1252); save it"
            " again as UTF-8 (in a spreadsheet: CSV UTF-8)"
        )
        return _no(log, path, "not_utf8", text, row)


def read_table(path: Path, log: ProblemLog) -> RawTable | None:
    """Read a CSV or XLSX file.

    Parameters
    ----------
    path : Path
        The file.
    log : ProblemLog
        Gains every problem.

    Returns
    -------
    RawTable or None
        None where it can't be read.
    """
    return read_xlsx(path, log) if path.suffix.lower() == ".xlsx" else read_csv(path, log)


def read_csv(path: Path, log: ProblemLog) -> RawTable | None:
    """Read a CSV file; commas, semicolons or tabs; lines that begin with # are comments.

    Parameters
    ----------
    path : Path
        The file.
    log : ProblemLog
        Gains every problem.

    Returns
    -------
    RawTable or None
        None where it can't be read.
    """
    data = read_bytes(path, log)
    text = None if data is None else decode(data, path, log)
    if text is None:
        return None
    delimiter = _delimiter(text)
    try:
        records = list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=False))
    except csv.Error as error:
        return _no(log, path, "bad_csv", f"the table can't be read: {error}")
    numbered = [
        (number, [cell.strip() for cell in record])
        for number, record in enumerate(records, start=1)
        if any(cell.strip() for cell in record) and not record[0].lstrip().startswith("#")
    ]
    if not numbered:
        return _no(log, path, "no_header", "the table has no header row")
    (_, header), *rows = numbered
    comma = delimiter == ";" and any(
        _DECIMAL_COMMA.fullmatch(cell) for _, row in rows for cell in row
    )
    if delimiter == ";":
        told = "semicolons and decimal commas" if comma else "semicolons"
        log.add(
            Problem(
                code="semicolons_read",
                text=f"read with {told}, as a spreadsheet writes them",
                file=path.name,
                fatal=False,
            )
        )
    cells = [(n, [_unmarked(cell) for cell in row]) for n, row in rows]
    return _table(path, log, header, cells, decimal_comma=comma)


def _unmarked(cell: str) -> Cell:
    """Take off the apostrophe by which a spreadsheet keeps a text from being a formula."""
    return cell[1:] if cell[:1] == "'" and MARKED_TEXT.match(cell) else cell


def _delimiter(text: str) -> str:
    """Find the sign that parts the header's cells."""
    lines = (
        line for line in text.splitlines() if line.strip() and not line.lstrip().startswith("#")
    )
    header = re.sub(r'"[^"]*"', "", next(lines, ""))
    counts = {sign: header.count(sign) for sign in (";", "\t", ",")}
    return max(counts, key=lambda sign: counts[sign]) if any(counts.values()) else ","


def _table(
    path: Path,
    log: ProblemLog,
    header: list[str],
    rows: list[tuple[int, list[Cell]]],
    *,
    decimal_comma: bool = False,
) -> RawTable | None:
    """Make the table, telling doubled columns and rows that are too long."""
    names = Counter(normal_name(name) for name in header if name)
    for name, count in names.items():
        if count > 1:
            text = f"the column stands {count} times; keep one"
            log.add(Problem(code="column_doubled", text=text, file=path.name, column=name))
    for number, row in rows:
        if any(not is_blank(cell) for cell in row[len(header) :]):
            text = f"the row has {len(row)} cells, the header {len(header)}; is a comma too many?"
            _no(log, path, "row_too_long", text, number)
    return RawTable(
        file=path.name,
        columns=tuple(header),
        rows=tuple(tuple(row[: len(header)]) for _, row in rows),
        row_numbers=tuple(number for number, _ in rows),
        decimal_comma=decimal_comma,
    )


def _no_spreadsheet(data: bytes) -> str:
    if data.startswith(_OLD_OR_LOCKED):
        return (
            "the file is locked with a password, or an old XLS; take the password off and save it"
            " as XLSX or CSV UTF-8"
        )
    return "this is no spreadsheet that can be read; save it again as XLSX or CSV UTF-8"


def read_xlsx(path: Path, log: ProblemLog) -> RawTable | None:
    """Read the first sheet of an XLSX file: values, not formulas.

    Parameters
    ----------
    path : Path
        The file.
    log : ProblemLog
        Gains every problem.

    Returns
    -------
    RawTable or None
        None where it can't be read.
    """
    import openpyxl  # noqa: PLC0415 - slow to import, and few fields need it
    from openpyxl.utils.exceptions import InvalidFileException  # noqa: PLC0415

    data = read_bytes(path, log)
    if data is None:
        return None
    try:
        book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=True)
        records = [list(row) for row in book.worksheets[0].iter_rows(values_only=True)]
        sheets = book.sheetnames
    except (
        zipfile.BadZipFile,
        InvalidFileException,
        KeyError,
        ValueError,
        IndexError,
        SyntaxError,
    ):
        text = _no_spreadsheet(data)
        return _no(log, path, "bad_xlsx", text)
    if len(sheets) > 1:
        text = f"the first sheet, {sheets[0]!r}, is read; {len(sheets) - 1} more left aside"
        log.add(Problem(code="first_sheet", text=text, file=path.name, fatal=False))
    numbered = [
        (number, record)
        for number, record in enumerate(records, start=1)
        if any(not is_blank(cell) for cell in record)
        and not str(record[0] or "").lstrip().startswith("#")
    ]
    if not numbered:
        return _no(log, path, "no_header", "the table has no header row")
    (_, first), *rows = numbered
    header = ["" if cell is None else str(cell).strip() for cell in first]
    for number, row in rows:
        for name, cell in zip(header, row, strict=False):
            if cell in _ERRORS:
                text = f"the cell shows {cell}; mend its formula"
                log.add(
                    Problem(code="cell_error", text=text, file=path.name, row=number, column=name)
                )
    return _table(path, log, header, rows)
