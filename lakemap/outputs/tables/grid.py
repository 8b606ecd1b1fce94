"""Rows and columns of plain text for the terminal."""

import sys
from collections.abc import Sequence


def plain(text: str) -> str:
    """Signs that the terminal can't write become those it can."""
    encoding = getattr(sys.stdout, "encoding", None) or "utf-8"
    try:
        text.encode(encoding)
    except (UnicodeEncodeError, LookupError):
        signs = (("−", "-"), ("·", "-"), ("²", "2"), ("≥", ">="), ("→", "->"), ("×", "x"))
        for sign, stand_in in signs:
            text = text.replace(sign, stand_in)
    return text


def grid(header: Sequence[str], rows: Sequence[Sequence[str]], *, right: set[int]) -> list[str]:
    """Lines of a table, columns as wide as they need."""
    widths = [max(len(line[k]) for line in (header, *rows)) for k in range(len(header))]

    def line(cells: Sequence[str]) -> str:
        parts = [
            cell.rjust(width) if k in right else cell.ljust(width)
            for k, (cell, width) in enumerate(zip(cells, widths, strict=True))
        ]
        return "  ".join(parts).rstrip()

    return [line(header), line(["-" * width for width in widths]), *(line(row) for row in rows)]
