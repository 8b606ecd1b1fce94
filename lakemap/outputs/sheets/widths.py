"""How wide the parts of each block are: both writers and the layout take them from here."""

import re
from typing import Final

from lakemap.outputs.drawn.letters import width
from lakemap.outputs.sheets import measures as m
from lakemap.outputs.sheets.blocks import (
    TICK,
    Beside,
    Field,
    Fields,
    Figure,
    Rows,
    SheetPage,
    Table,
)
from lakemap.outputs.sheets.measures import Fit

WIDER: Final = 1.01  # what devices' rounding may add to a line
_VIEW_BOX: Final = re.compile(r'<svg\b[^>]*\bviewBox="([^"]*)"')
_ROWS_LABEL: Final = 0.42  # of the width that the names of `Rows` take at most


def measured(text: str) -> str:
    """Return a text to measure: letters as wide as a tick box, and as blanks that do not break.

    Parameters
    ----------
    text : str
        Plain text.

    Returns
    -------
    str
        Of letters that `width` knows.
    """
    return text.replace(TICK, "MM").replace("\N{NO-BREAK SPACE}", "n")


def strip_widths(page: SheetPage, room_pt: float, fit: Fit) -> tuple[float, float, float]:
    """Return how wide number, title and facts are in the strip [pt].

    Parameters
    ----------
    page : SheetPage
        With its float's number or name.
    room_pt : float
        The page's width between its margins.
    fit : Fit
        How large the page is set.

    Returns
    -------
    tuple of float
        The number as wide as it needs, up to a share.
    """
    gap = m.COLUMN_GAP * fit.type_pt
    size = number_em(page, room_pt, fit) * fit.type_pt
    asks = width(page.float_id, size, bold=True) * WIDER + 1
    word = width("float", m.SMALL * fit.type_pt) * WIDER + 1
    number = min(max(asks, word), m.NUMBER_SHARE * room_pt)
    facts = m.FACTS_SHARE * room_pt
    return number, room_pt - number - facts - 2 * gap, facts


def number_em(page: SheetPage, room_pt: float, fit: Fit) -> float:
    """Return how large a float's number or name is written in the strip.

    Parameters
    ----------
    page : SheetPage
        With its float's number or name.
    room_pt : float
        The page's width between its margins.
    fit : Fit
        How large the page is set.

    Returns
    -------
    float
        Of the page's type: the largest that keeps it on one line, else the smallest.
    """
    room = m.NUMBER_SHARE * room_pt / WIDER - 1
    sizes = (size for size in m.NUMBERS
             if width(page.float_id, size * fit.type_pt, bold=True) <= room)  # fmt: skip
    return next(sizes, m.NUMBERS[-1])


def rows_share(block: Rows, room_pt: float, fit: Fit) -> float:
    """Return the share of the width that the names of rows take.

    Parameters
    ----------
    block : Rows
        Names and values.
    room_pt : float
        The column's width.
    fit : Fit
        How large the page is set.

    Returns
    -------
    float
        Above 0, at most 0.42.
    """
    em = fit.type_pt
    widest = max((width(name, em) for name, _ in block.rows), default=0.0)
    return min(_ROWS_LABEL, (widest * WIDER + 2 * m.CELL_X * em + 1) / room_pt)


def table_shares(block: Table, room_pt: float, fit: Fit) -> tuple[float, ...]:
    """Return the widths of a table's columns as shares.

    Parameters
    ----------
    block : Table
        Its own widths count where it has some.
    room_pt : float
        The table's width.
    fit : Fit
        How large the page is set.

    Returns
    -------
    tuple of float
        Together 1: each column as wide as its longest word, and what is left by the words' need.
    """
    if block.widths:
        whole = sum(block.widths)
        return tuple(share / whole for share in block.widths)
    em, air = fit.type_pt, 2 * m.CELL_X * fit.type_pt + 1
    columns = list(zip(block.header, *block.rows, strict=True))
    least = [
        max((width(word, em, bold=True) for text in column for word in measured(text).split()),
            default=em) * WIDER + air
        for column in columns
    ]  # fmt: skip
    asks = [
        max(width(measured(text), em, bold=True) for text in column) + air for column in columns
    ]
    left = room_pt - sum(least)
    more = [max(ask - low, 0.0) + 0.1 * em for ask, low in zip(asks, least, strict=True)]
    if left <= 0:
        return tuple(low / sum(least) for low in least)
    wide = [low + left * extra / sum(more) for low, extra in zip(least, more, strict=True)]
    return tuple(one / sum(wide) for one in wide)


def figure_width_pt(block: Figure, room_pt: float, fit: Fit) -> float:
    """Return how wide a drawing is printed.

    Parameters
    ----------
    block : Figure
        With the share that it asks for.
    room_pt : float
        The column's width.
    fit : Fit
        How large the page is set.

    Returns
    -------
    float
        Points.
    """
    return room_pt * round(block.share, 2) * fit.figures


def view_size(block: Figure) -> tuple[float, float]:
    """Return a drawing's own width and height.

    Parameters
    ----------
    block : Figure
        With a viewBox.

    Returns
    -------
    tuple of float
        In its own px.
    """
    found = _VIEW_BOX.search(block.svg)
    if found is None:
        raise ValueError("a figure's SVG has no viewBox")
    _, _, wide, high = (float(number) for number in found[1].split())
    return wide, high


def field_rows(block: Fields) -> list[list[Field]]:
    """Return fields as they stand side by side.

    Parameters
    ----------
    block : Fields
        In order.

    Returns
    -------
    list of list of Field
        Rows; a wide field has one to itself.
    """
    rows: list[list[Field]] = []
    for one in block.fields:
        fresh = not rows or one.wide or rows[-1][0].wide or len(rows[-1]) >= block.columns
        if fresh:
            rows.append([])
        rows[-1].append(one)
    return rows


def choices_text(one: Field) -> str:
    """Return a field's choices as one text, a tick box before each.

    Parameters
    ----------
    one : Field
        With choices.

    Returns
    -------
    str
        Each choice keeps to one line, where it can.
    """
    kept = (choice.replace(" ", "\N{NO-BREAK SPACE}") for choice in one.choices)
    return " ".join(f"{TICK}\N{NO-BREAK SPACE}{choice}" for choice in kept)


def beside_pt(block: Beside, room_pt: float, fit: Fit) -> tuple[float, float]:
    """Return how wide two columns are.

    Parameters
    ----------
    block : Beside
        With the left one's share.
    room_pt : float
        The width of both and what parts them.
    fit : Fit
        How large the page is set.

    Returns
    -------
    tuple of float
        Points.
    """
    room = room_pt - m.COLUMN_GAP * fit.type_pt
    share = round(block.share, 2)
    return room * share, room * (1 - share)
