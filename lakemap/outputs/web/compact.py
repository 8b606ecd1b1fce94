"""The page's data made small: the same numbers and texts with fewer signs."""

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any, Final

CLEAR_KEYS: Final = (
    "name", "detail", "amount", "state", "kind", "against", "bar", "rule", "wind", "to", "gap",
    "pill", "sure",
)  # fmt: skip
_WORDS: Final = frozenset(
    {"name", "detail", "amount", "state", "kind", "against", "rule", "wind", "pill", "sure"}
)
_COMMENT_LINE: Final = re.compile(r"^\s*//.*\n", re.MULTILINE)
_CSS_COMMENT: Final = re.compile(r"/\*.*?\*/", re.DOTALL)
_CSS_SIGNS: Final = re.compile(r"\s*([{};,])\s*")
_CSS_COLON: Final = re.compile(r"(?<=[\w-]):\s+")
_INDENT: Final = re.compile(r"^[ \t]+", re.MULTILINE)
_EMPTY: Final = re.compile(r"\n{2,}")


def compact(data: Mapping[str, Any]) -> dict[str, Any]:
    """Return the page's data as the page's script unpacks it.

    Parameters
    ----------
    data : mapping
        As `page_data` returns it.

    Returns
    -------
    dict
        Floats as rows of `floatKeys`, clearances as rows of `clearKeys`; names, notes and words
        that come again as numbers into `names`; soundings as steps from one to the next; the grid's
        depths with a run of blanks as one negative number.
    """
    names = _Names(data["floats"])
    floats = [_float(one, names) for one in data["floats"]]
    keys = list(floats[0]) if floats else []
    return {
        **data,
        "clearKeys": CLEAR_KEYS,
        "floatKeys": keys,
        "floats": [[one[key] for key in keys] for one in floats],
        "names": names.known,
        "soundings": _soundings(data["soundings"]),
        "grid": _grid(data["grid"], data["noDepth"]),
    }


class _Names:
    """Words kept once; the blank one is the first, so that it packs to nothing."""

    def __init__(self, floats: Sequence[Mapping[str, Any]]) -> None:
        self._count = Counter(
            clearance[key]
            for one in floats
            for clearance in one.get("clear", ())
            for key in _WORDS & clearance.keys()
        )
        self._at = {"": 0}

    @property
    def known(self) -> list[str]:
        """All of them, by their number."""
        return list(self._at)

    def of(self, word: str) -> int:
        """Return the number of a word."""
        return self._at.setdefault(word, len(self._at))

    def again(self, word: str) -> int | str:
        """Return the number of a word of clearances, or the word where it comes only once."""
        return self.of(word) if self._count[word] > 1 or not word else word


def _float(one: Mapping[str, Any], names: _Names) -> dict[str, Any]:
    if "clear" not in one:
        return dict(one)
    tables = {
        table: [
            [names.of(cells[0]), cells[1], *(names.of(cell) for cell in cells[2:] if cell)]
            for cells in one[table]
        ]
        for table in ("rows", "floatRows")
    }
    return {
        **one,
        **tables,
        "clear": [_row(clearance, names) for clearance in one["clear"]],
        "cautions": [names.of(key) for key in one["cautions"]],
    }


def _row(clearance: Mapping[str, Any], names: _Names) -> list[Any]:
    """Values in the order of the keys; 0 stands for what a clearance has not got."""
    row = [
        names.again(clearance[key]) if key in _WORDS and key in clearance else clearance.get(key, 0)
        for key in CLEAR_KEYS
    ]
    while row and row[-1] == 0:
        row.pop()
    return row


def _soundings(soundings: Sequence[Sequence[Any]]) -> list[Any]:
    """Flat: step east, step north, figure; a figure that is a whole number without its quotes."""
    flat: list[Any] = []
    x = y = 0
    for east, north, figure in soundings:
        flat += [east - x, north - y, int(figure) if str(figure).isdecimal() else figure]
        x, y = east, north
    return flat


def _grid(grid: Mapping[str, Any] | None, blank: int) -> dict[str, Any] | None:
    if grid is None:
        return None
    depth: list[int] = []
    for value in grid["depth"]:
        if value != blank:
            depth.append(max(value, 0))
        elif depth and depth[-1] < 0:
            depth[-1] -= 1
        else:
            depth.append(-1)
    return {**grid, "depth": depth}


def small_script(text: str) -> str:
    """Return a script of ours without indents, lines of comment and empty lines.

    Parameters
    ----------
    text : str
        No text in it may run over a line's end.

    Returns
    -------
    str
        Does the same.
    """
    return _EMPTY.sub("\n", _INDENT.sub("", _COMMENT_LINE.sub("", text)))


def small_style(text: str) -> str:
    """Return a style sheet without comments and without blanks that mean nothing.

    Parameters
    ----------
    text : str
        CSS without braces, colons, commas or semicolons inside quotes.

    Returns
    -------
    str
        Means the same.
    """
    tight = _CSS_SIGNS.sub(r"\1", _CSS_COMMENT.sub("", text))
    return _CSS_COLON.sub(":", tight).replace(";}", "}").strip()
