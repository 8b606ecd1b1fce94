"""Where the rows and cells of a spreadsheet's sheet stand in its XML."""

import re
from dataclasses import dataclass, field
from xml.parsers import expat

from lakemap.basis.errors import BadInputError, Problem

_TAG = re.compile(rb"<(?:\"[^\"]*\"|'[^']*'|[^>\"'])*>")
_REF = re.compile(r"([A-Z]{1,3})([0-9]+)")
_IN_CELL = ("f", "v", "is")


@dataclass(slots=True)
class CellSpan:
    """One cell."""

    column: int  # from 1
    start: int
    end: int = 0
    style: str | None = None
    formula: bool = False
    filled: bool = False


@dataclass(slots=True)
class RowSpan:
    """One row."""

    number: int
    start: int
    tag_end: int
    closed: bool  # its tag has no end tag
    close: int = 0  # where its end tag begins
    cells: list[CellSpan] = field(default_factory=list)


@dataclass(slots=True)
class SheetSpans:
    """What was found."""

    prefix: bytes = b""
    data_start: int = -1
    data_tag_end: int = -1
    data_close: int = -1  # where the end tag of all rows begins; -1: there is none
    dimension: tuple[int, int, str] | None = None  # the tag, and what it says
    rows: list[RowSpan] = field(default_factory=list)


def column_letters(column: int) -> str:
    """Return a column's letters, 1 being A."""
    letters = ""
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def column_and_row(ref: str) -> tuple[int, int]:
    """Return the numbers of a cell's name such as B12; zeros where it is none."""
    found = _REF.fullmatch(ref)
    if found is None:
        return 0, 0
    column = 0
    for letter in found[1]:
        column = column * 26 + ord(letter) - ord("A") + 1
    return column, int(found[2])


def sheet_spans(data: bytes, file: str) -> SheetSpans:
    """Find the rows and cells in a sheet's XML.

    Parameters
    ----------
    data : bytes
        Of the sheet, UTF-8.
    file : str
        For the message.

    Returns
    -------
    SheetSpans
        Places are counted in bytes.

    Raises
    ------
    BadInputError
        If it is not plain XML in UTF-8.
    """
    finder = _Finder(data)
    try:
        if not data.lstrip(b"\xef\xbb\xbf").startswith(b"<"):  # UTF-16 would begin otherwise
            raise _UnreadableError  # noqa: TRY301 - told with the rest
        finder.parser.Parse(data, True)  # noqa: FBT003 - a flag of that library
    except (expat.ExpatError, _UnreadableError):
        finder.found.data_start = -1
    if finder.found.data_start < 0:
        text = "the sheet is written in a way that can't be changed in place; save it as CSV UTF-8"
        raise BadInputError([Problem(code="bad_xlsx", text=text, file=file)])
    return finder.found


class _UnreadableError(Exception):
    pass


class _Finder:
    """Follows the general XML parser through a sheet."""

    def __init__(self, data: bytes) -> None:
        self.found = SheetSpans()
        self._data = data
        self._path: list[str] = []
        self.parser = expat.ParserCreate(encoding="utf-8", namespace_separator=" ")
        self.parser.StartDoctypeDeclHandler = self._refuse
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end

    @staticmethod
    def _refuse(*_: object) -> None:
        raise _UnreadableError

    def _tag(self) -> tuple[int, int, bool]:
        """Where the tag stands, and whether it needs no end tag."""
        start = self.parser.CurrentByteIndex
        match = _TAG.match(self._data, start)
        if match is None:
            raise _UnreadableError
        return start, match.end(), match[0].endswith(b"/>")

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        local = name.rsplit(" ", 1)[-1]
        self._path.append(local)
        match self._path[1:]:
            case ["dimension"]:
                start, end, _ = self._tag()
                self.found.dimension = (start, end, attributes.get("ref", ""))
            case ["sheetData"]:
                start, end, closed = self._tag()
                found = self.found
                found.data_start, found.data_tag_end = start, end
                found.data_close = -1 if closed else 0
                name_of = self._data[start + 1 : end].split(b"sheetData")[0]
                found.prefix = name_of
            case ["sheetData", "row"]:
                self._start_row(attributes)
            case ["sheetData", "row", "c"]:
                self._start_cell(attributes)
            case ["sheetData", "row", "c", inner] if inner in _IN_CELL:
                cell = self.found.rows[-1].cells[-1]
                cell.filled = True
                cell.formula = cell.formula or inner == "f"

    def _start_row(self, attributes: dict[str, str]) -> None:
        rows = self.found.rows
        start, end, closed = self._tag()
        last = rows[-1].number if rows else 0
        number = int(attributes["r"]) if attributes.get("r", "").isdecimal() else last + 1
        if number <= last:
            raise _UnreadableError
        rows.append(RowSpan(number=number, start=start, tag_end=end, closed=closed, close=end))

    def _start_cell(self, attributes: dict[str, str]) -> None:
        row = self.found.rows[-1]
        start, end, _ = self._tag()
        column = column_and_row(attributes.get("r", ""))[0]
        last = row.cells[-1].column if row.cells else 0
        column = column or last + 1
        if column <= last:
            raise _UnreadableError
        row.cells.append(CellSpan(column=column, start=start, end=end, style=attributes.get("s")))

    def _end(self, name: str) -> None:
        del name
        path = self._path[1:]
        self._path.pop()
        at = self.parser.CurrentByteIndex
        match path:
            case ["sheetData"] if self.found.data_close == 0:
                self.found.data_close = at
            case ["sheetData", "row"] if not self.found.rows[-1].closed:
                self.found.rows[-1].close = at
            case ["sheetData", "row", "c"]:
                cell = self.found.rows[-1].cells[-1]
                tag = _TAG.match(self._data, cell.start)
                if tag is not None and not tag[0].endswith(b"/>"):
                    cell.end = self._data.index(b">", at) + 1
