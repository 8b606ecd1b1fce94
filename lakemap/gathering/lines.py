"""A file's lines, one at a time and none too long, and a tally of what was not taken."""

from collections.abc import Iterator
from io import BufferedReader
from pathlib import Path
from typing import Final

from lakemap.basis.errors import BadInputError, Problem
from lakemap.gathering.records import Left

MOST_SIGNS: Final = 65_536  # no line of a log or a table is longer
_UTF16 = (b"\xff\xfe", b"\xfe\xff")
_MARK = b"\xef\xbb\xbf"
_COMMENTS: Final = ("#", "%", "//", "; ")


class Tally:
    """Counts what was left out by its reason, with the first place of each."""

    def __init__(self) -> None:
        self._left: dict[str, tuple[int, str]] = {}
        self.read = 0  # lines or points
        self.told: dict[str, int] = {}  # facts of the file and how often each was met
        self.said: list[str] = []  # what was seen of the file, a sentence each
        self.warned: list[str] = []  # what to take care of
        self.offsets_m: set[float] = set()  # of the transducer, as a log tells them

    def leave(self, words: str, first: str, count: int = 1) -> None:
        """Count something as left out.

        Parameters
        ----------
        words : str
            The reason.
        first : str
            Where; kept the first time.
        count : int
            How many at once.
        """
        if count:
            before, place = self._left.get(words, (0, first))
            self._left[words] = (before + count, place)

    def tell(self, fact: str, count: int = 1) -> None:
        """Count a fact of the file."""
        self.told[fact] = self.told.get(fact, 0) + count

    def left(self) -> tuple[Left, ...]:
        """Return what was left out, the commonest reason first."""
        items = sorted(self._left.items(), key=lambda item: -item[1][0])
        return tuple(Left(words=words, count=n, first=first) for words, (n, first) in items)


def byte_lines(path: Path) -> Iterator[bytes]:
    """Read a file's lines without ever holding more than one.

    Parameters
    ----------
    path : Path
        The file.

    Yields
    ------
    bytes
        Without its end (LF, CR LF or CR); a mark at the file's beginning is taken off. An overlong
        line comes in pieces, so that a file without any line end is read, too.

    Raises
    ------
    BadInputError
        If it can't be opened, is empty or UTF-16.
    """
    try:
        with path.open("rb") as file:
            head = file.peek(len(_MARK))[: len(_MARK)]
            if not head:
                raise refused(path, "file_empty", "the file is empty")
            if head.startswith(_UTF16):
                text = "the text is UTF-16; save it again as UTF-8"
                raise refused(path, "not_utf8", text)
            file.read(len(_MARK) if head == _MARK else 0)
            yield from _ended(file)
    except FileNotFoundError:
        text = f"there is no such file in {path.parent}; is its name right?"
        raise refused(path, "file_missing", text) from None
    except OSError as error:
        text = f"the file can't be read: {error.strerror}"
        raise refused(path, "file_unreadable", text) from None


def _ended(file: BufferedReader) -> Iterator[bytes]:
    """Lines that end in LF, CR LF or, as some loggers write them, in CR alone."""
    held = b""
    while piece := file.readline(MOST_SIGNS):
        has_end = piece.endswith(b"\n")
        body = held + (piece.rstrip(b"\r\n") if has_end else piece)
        *before, held = body.split(b"\r")
        yield from before
        if has_end or len(held) >= MOST_SIGNS:
            yield held
            held = b""
    if held:
        yield held


def text_lines(path: Path) -> Iterator[str]:
    """Read a UTF-8 text's lines, each with a line end.

    Parameters
    ----------
    path : Path
        The file.

    Yields
    ------
    str
        One line.

    Raises
    ------
    BadInputError
        As `byte_lines`; also where it is no UTF-8, or a line has no end.
    """
    for number, line in enumerate(byte_lines(path), start=1):
        if len(line) >= MOST_SIGNS - 1:
            text = f"line {number} has more than {MOST_SIGNS:,} signs; this is no table"
            raise refused(path, "not_text", text)
        try:
            yield line.decode("utf-8") + "\n"
        except UnicodeDecodeError:
            text = f"line {number} is not UTF-8; save the file again as UTF-8"
            raise refused(path, "not_utf8", text) from None


def is_comment(line: str) -> bool:
    """Tell a blank line, or one that begins with #, %, // or a semicolon and a blank."""
    bare = line.strip()
    return not bare or bare.startswith(_COMMENTS)


def refused(path: Path, code: str, text: str) -> BadInputError:
    """Return the error that refuses a whole file."""
    return BadInputError([Problem(code=code, text=text, file=path.name or str(path))])
