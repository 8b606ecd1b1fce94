"""CSV text: where its cells stand, and the same text with some of them changed."""

import csv
import io
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lakemap.inputs.cells import RawTable
from lakemap.saving.cells import BLANK, Style, Written, in_quotes
from lakemap.saving.splices import Splice, spliced
from lakemap.saving.table_edits import TableEdits

_BLANKS = ("", '""')
_LINE_END = re.compile(r"\r\n|\r|\n")


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """One row of the text."""

    cells: tuple[tuple[int, int], ...]  # from, to; with their quotes and blanks
    end: int  # where its line end begins
    next: int  # where the next row begins

    @property
    def start(self) -> int:
        """Where it begins."""
        return self.cells[0][0]


def records_of(text: str, delimiter: str) -> list[Record]:
    """Find the rows and cells of a CSV text, as the general reader counts them.

    Parameters
    ----------
    text : str
        Without a mark.
    delimiter : str
        Parts the cells.

    Returns
    -------
    list of Record
        Blank lines and comments are rows too.
    """
    sign = re.escape(delimiter)
    cell = re.compile(rf'(?:"[^"]*(?:""[^"]*)*(?:"|\Z))?[^{sign}\r\n]*')
    found = []
    at = 0
    while at < len(text):
        cells = []
        while True:
            match = cell.match(text, at)
            if match is None:
                raise AssertionError("the pattern matches anything")  # pragma: no cover
            cells.append(match.span())
            at = match.end()
            if not text.startswith(delimiter, at):
                break
            at += len(delimiter)
        line_end = _LINE_END.match(text, at)
        after = at if line_end is None else line_end.end()
        found.append(Record(cells=tuple(cells), end=at, next=after))
        at = after
    return found


def edited_csv(text: str, table: RawTable, style: Style, edits: TableEdits) -> str:
    """Return a CSV text with some cells, rows or columns changed; the rest stays sign by sign.

    Parameters
    ----------
    text : str
        The file's text without a mark.
    table : RawTable
        As read from it.
    style : Style
        How it is written.
    edits : TableEdits
        What is to change.

    Returns
    -------
    str
        The new text, without a mark.
    """
    records = records_of(text, style.delimiter)
    width = max([len(table.columns), *(index + 1 for index in edits.new_columns)])
    splices: list[Splice[str]] = []
    by_record: dict[int, dict[int, Written]] = {}
    for (row, index), cell in edits.cells.items():
        by_record.setdefault(table.row_numbers[row] - 1, {})[index] = cell
    if edits.new_columns:
        for number in (number - 1 for number in table.row_numbers):
            cells = by_record.setdefault(number, {})
            cells.setdefault(width - 1, BLANK)  # every row gets as many cells as the header
        names = {index: Written(text=name) for index, name in edits.new_columns.items()}
        by_record[_header_at(text, records, style.delimiter)] = names
    removed = {table.row_numbers[row] - 1 for row in edits.removed}
    for number, new_cells in by_record.items():
        if number not in removed:
            splices += _changed_row(text, records[number], style, new_cells)
    splices += [Splice(records[n].start, records[n].next, "") for n in sorted(removed)]
    splices += _added_rows(text, table, records, style, (edits.added, width))
    return spliced(text, splices)


def _header_at(text: str, records: Sequence[Record], delimiter: str) -> int:
    for number, record in enumerate(records):
        shown = io.StringIO(text[record.start : record.end], newline="")
        cells = next(csv.reader(shown, delimiter=delimiter), [])
        if any(cell.strip() for cell in cells) and not cells[0].lstrip().startswith("#"):
            return number
    raise AssertionError("a table that was read has a header")  # pragma: no cover


def _changed_row(
    text: str, record: Record, style: Style, cells: Mapping[int, Written]
) -> list[Splice[str]]:
    """Splices of one row; cells past its end are put on it."""
    splices = []
    for index, cell in cells.items():
        if index < len(record.cells):
            start, end = record.cells[index]
            if cell.text or text[start:end].strip() not in _BLANKS:
                splices.append(Splice(start, end, _fitted(text[start:end], style, cell)))
    if (past := max(cells) + 1) > (held := len(record.cells)):
        tail = [style.text(cells.get(index, BLANK)) for index in range(held, past)]
        splices.append(Splice(record.end, record.end, style.delimiter + style.delimiter.join(tail)))
    return splices


def _fitted(old: str, style: Style, cell: Written) -> str:
    """Return a new cell as the old one was written: in quotes, or with the blanks about it."""
    new = style.text(cell)
    if old.startswith('"'):
        return new if new.startswith('"') else in_quotes(new)
    if new.startswith('"'):  # a quote must be the first sign
        return new
    bare = old.strip()
    lead = old[: len(old) - len(old.lstrip())] if bare else old
    tail = old[len(lead) + len(bare) :]
    return f"{lead}{new}{tail}"


def _added_rows(
    text: str,
    table: RawTable,
    records: Sequence[Record],
    style: Style,
    added: tuple[Sequence[tuple[int | None, Mapping[int, Written]]], int],
) -> list[Splice[str]]:
    """Splices of new rows, each after its row or at the end of the text."""
    rows, width = added
    lines: dict[int, list[str]] = {}
    for after, cells in rows:
        at = len(text) if after is None else records[table.row_numbers[after] - 1].next
        shown = [style.text(cells.get(index, BLANK)) for index in range(width)]
        lines.setdefault(at, []).append(style.delimiter.join(shown) + style.ending)
    splices = []
    for at, new in lines.items():
        begin = "" if not at or text[at - 1] in "\r\n" else style.ending
        splices.append(Splice(at, at, begin + "".join(new)))
    return splices
