"""How high each block of a page comes out at most, by the letters of a wide sans."""

from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from types import MappingProxyType
from typing import Any, Final

from lakemap.outputs.drawn.letters import width, wrap
from lakemap.outputs.sheets import measures as m
from lakemap.outputs.sheets.blocks import (
    Beside,
    Block,
    Cautions,
    Field,
    Fields,
    Figure,
    Heading,
    Para,
    Rows,
    SheetPage,
    Steps,
    Table,
)
from lakemap.outputs.sheets.measures import Fit
from lakemap.outputs.sheets.widths import (
    WIDER,
    beside_pt,
    choices_text,
    field_rows,
    figure_width_pt,
    measured,
    number_em,
    rows_share,
    strip_widths,
    table_shares,
    view_size,
)


@lru_cache(maxsize=2**15)
def lines(text: str, room_pt: float, size_pt: float, *, bold: bool = False) -> int:
    """Return how many lines a text takes; an empty one takes one.

    Parameters
    ----------
    text : str
        Plain text.
    room_pt : float
        How wide a line may be.
    size_pt : float
        Of the letters.
    bold : bool
        Whether they are bold.

    Returns
    -------
    int
        At least 1.
    """
    return max(1, len(wrap(measured(text), room_pt / WIDER, size_pt, bold=bold)))


def _text_pt(text: str, room_pt: float, size_pt: float, *, bold: bool = False) -> float:
    return lines(text, room_pt, size_pt, bold=bold) * size_pt * m.LINE


def block_pt(block: Block, room_pt: float, fit: Fit) -> float:
    """Return how high a block is, with the air below it.

    Parameters
    ----------
    block : Block
        Of a page.
    room_pt : float
        The width of its column.
    fit : Fit
        How large the page is set.

    Returns
    -------
    float
        Points.
    """
    return _HEIGHTS[type(block)](block, room_pt, fit) + m.GAP * fit.type_pt


def blocks_pt(blocks: Sequence[Block], room_pt: float, fit: Fit) -> float:
    """Return how high blocks are below one another.

    Parameters
    ----------
    blocks : sequence of Block
        Of one column.
    room_pt : float
        Its width.
    fit : Fit
        How large the page is set.

    Returns
    -------
    float
        Points.
    """
    return sum(block_pt(block, room_pt, fit) for block in blocks)


def strip_pt(page: SheetPage, room_pt: float, fit: Fit) -> float:
    """Return how high the strip at the head of a page is.

    Parameters
    ----------
    page : SheetPage
        With number, title, lines under it and facts.
    room_pt : float
        The page's width between its margins.
    fit : Fit
        How large the page is set.

    Returns
    -------
    float
        Points, with the rule below it.
    """
    em, size = fit.type_pt, number_em(page, room_pt, fit) * fit.type_pt
    wide, middle, facts = strip_widths(page, room_pt, fit)
    number = _text_pt(page.float_id, wide, size, bold=True) + m.SMALL * m.LINE * em
    titles = _text_pt(page.title, middle, m.TITLE * em, bold=True) + sum(
        _text_pt(line, middle, em) for line in page.under
    )
    right = sum(_text_pt(line, facts, m.SMALL * em) for line in (page.lake, *page.facts))
    return max(number, titles, right) + m.STRIP_BELOW * em


def shrunk_strip_pt(fit: Fit) -> float:
    """Return how high the strip of a further page is: one line and its rule."""
    return (m.TITLE * m.LINE + m.STRIP_BELOW) * fit.type_pt


def _heading(block: Heading, room_pt: float, fit: Fit) -> float:
    em = fit.type_pt
    words = _text_pt(block.text, room_pt, m.HEAD * em, bold=True)
    return words + (m.HEAD_ABOVE + m.HEAD_BELOW - m.GAP) * em


def _para(block: Para, room_pt: float, fit: Fit) -> float:
    size = fit.type_pt * (m.SMALL if block.look == "quiet" else 1.0)
    return _text_pt(block.text, room_pt, size, bold=block.look == "strong")


def _steps(block: Steps, room_pt: float, fit: Fit) -> float:
    em = fit.type_pt
    room = room_pt - m.STEP_INDENT * em
    return sum(_text_pt(step, room, em) + m.STEP_GAP * em for step in block.steps)


def _rows(block: Rows, room_pt: float, fit: Fit) -> float:
    share = rows_share(block, room_pt, fit)
    return sum(
        _row_pt(row, (share, 1 - share), room_pt, fit, bold=(False, True)) for row in block.rows
    )


def _row_pt(
    row: Sequence[str],
    shares: Sequence[float],
    room_pt: float,
    fit: Fit,
    *,
    bold: Sequence[bool],
) -> float:
    em = fit.type_pt
    cells = [
        _text_pt(text, share * room_pt - 2 * m.CELL_X * em, em, bold=is_bold)
        for text, share, is_bold in zip(row, shares, bold, strict=True)
    ]
    return max(cells, default=0.0) + (2 * m.CELL_Y + m.RULE) * em


def _table(block: Table, room_pt: float, fit: Fit) -> float:
    shares = table_shares(block, room_pt, fit)
    head = _row_pt(block.header, shares, room_pt, fit, bold=(True,) * len(block.header))
    plain = (False,) * len(block.header)
    least = (m.TALL + m.RULE) * fit.type_pt if block.tall else 0.0
    return head + sum(
        max(_row_pt(row, shares, room_pt, fit, bold=plain), least) for row in block.rows
    )


def _figure(block: Figure, room_pt: float, fit: Fit) -> float:
    wide, high = view_size(block)
    drawn = figure_width_pt(block, room_pt, fit) * high / wide
    size = m.SMALL * fit.type_pt
    return drawn + (_text_pt(block.caption, room_pt, size) if block.caption else 0.0)


def _fields(block: Fields, room_pt: float, fit: Fit) -> float:
    em, high = fit.type_pt, 0.0
    for row in field_rows(block):
        count = 1 if row[0].wide else block.columns
        room = (room_pt - (count - 1) * m.COLUMN_GAP * em) / count
        high += max(_field_pt(one, room, fit) for one in row) + m.FIELD_GAP * em
    return high


def _field_pt(one: Field, room_pt: float, fit: Fit) -> float:
    em = fit.type_pt
    label = _text_pt(one.label, room_pt, m.SMALL * em)
    if one.choices:
        return label + _text_pt(choices_text(one), room_pt, em) + m.CELL_Y * em
    room = room_pt - width(one.unit, em) - 0.4 * em
    value = lines(one.value, room, em, bold=True) if one.value else 1
    return label + max(one.lines * m.WRITE, value * m.LINE + m.CELL_Y) * em


def _cautions(block: Cautions, room_pt: float, fit: Fit) -> float:
    em = m.CARE * fit.type_pt
    room = room_pt - 2 * m.FRAME_X * em
    words = sum(_text_pt(text, room - m.BULLET * em, em) + m.STEP_GAP * em for text in block.texts)
    return _text_pt(block.title, room, em, bold=True) + words + 2 * m.FRAME_Y * em


def _beside(block: Beside, room_pt: float, fit: Fit) -> float:
    left, right = beside_pt(block, room_pt, fit)
    below = m.GAP * fit.type_pt  # the last block's own air is the pair's
    return max(blocks_pt(block.left, left, fit), blocks_pt(block.right, right, fit)) - below


_HEIGHTS: Final[Mapping[type, Callable[[Any, float, Fit], float]]] = MappingProxyType(
    {
        Heading: _heading,
        Para: _para,
        Steps: _steps,
        Rows: _rows,
        Table: _table,
        Figure: _figure,
        Fields: _fields,
        Cautions: _cautions,
        Beside: _beside,
    }
)
