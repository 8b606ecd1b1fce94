"""The numbered table of a poster: all floats in as many columns as there is room for."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from lakemap.outputs.drawn.letters import cut_to, width
from lakemap.outputs.drawn.marks import INK as VERDICT_INK
from lakemap.outputs.drawn.marks import mark_group
from lakemap.outputs.poster.blocks import INK_2, Block, line_of_text
from lakemap.outputs.poster.words import TableRow

TABLE_LETTERS: Final = 10.5  # px at scale 1
_HEAD_LETTERS, _NOTE = 9.0, 9.5
ROW: Final = 15.0
_HEAD, _OVER = 16.0, 15.0  # the columns' heads, and the line over the table
_GAP, _BETWEEN = 6.0, 18.0  # between the cells of a row, and between columns of rows
_MARK, _MARK_SCALE = 21.0, 0.78
_BOLD: Final = frozenset({"conflict", "tight"})
_SMALLEST: Final = 0.8  # of the letters, where a text is too long
_TINTS: Final = {"conflict": "#FDEBE7", "tight": "#FFF3D6"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One column of cells at scale 1."""

    name: str  # of the row's field that stands in it
    least: float  # px
    most: float
    is_right: bool = False
    is_bold: bool = False

    def of(self, row: TableRow) -> str:
        """Return what stands in it."""
        return str(getattr(row, self.name))


_CELLS: Final = (
    Cell(name="number", least=16, most=56, is_right=True, is_bold=True),
    Cell(name="word", least=0, most=90),
    Cell(name="lot", least=18, most=48, is_right=True),
    Cell(name="spare", least=30, most=90, is_right=True),
    Cell(name="thing", least=54, most=72),
    Cell(name="owner", least=40, most=100),
    Cell(name="swings", least=34, most=60, is_right=True),
)
_VERDICT, _WIDENS = "word", "thing"  # what has a mark, and what takes the room that is left
_MAY_LACK: Final = frozenset({"lot", "owner"})  # left out where no float has one


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows, and the columns of cells that they need."""

    rows: tuple[TableRow, ...]
    heads: Mapping[str, str]  # by the name of the cell
    cells: tuple[Cell, ...]
    widths: tuple[float, ...]  # at scale 1

    @property
    def least_width(self) -> float:
        """How wide one column of rows is at least, at scale 1 [px]."""
        return _MARK + sum(self.widths) + _GAP * (len(self.widths) - 1)

    def columns_in(self, room: float, scale: float) -> int:
        """Return how many columns of rows fit beside one another."""
        return int((room + _BETWEEN * scale) / ((self.least_width + _BETWEEN) * scale))

    def width_of(self, columns: int, scale: float) -> float:
        """Return how wide so many columns are at least [px]."""
        return (columns * (self.least_width + _BETWEEN) - _BETWEEN) * scale

    def rows_in(self, height: float, scale: float, *, notes: int = 1) -> int:
        """Return how many rows fit below one another, with heads and notes over them."""
        return int((height / scale - notes * _OVER - _HEAD - 3) / ROW)


def make_table(rows: Sequence[TableRow], heads: Mapping[str, str]) -> Table:
    """Return the table of rows.

    Parameters
    ----------
    rows : sequence of TableRow
        Of all floats.
    heads : mapping
        What stands over the cells, by their names.

    Returns
    -------
    Table
        Its cells are as wide as what stands in them, within bounds.
    """
    cells = tuple(
        cell for cell in _CELLS if cell.name not in _MAY_LACK or any(cell.of(row) for row in rows)
    )
    widths = tuple(_needed(cell, rows, heads[cell.name]) for cell in cells)
    return Table(rows=tuple(rows), heads=heads, cells=cells, widths=widths)


def _needed(cell: Cell, rows: Sequence[TableRow], words: str) -> float:
    head = width(words, _HEAD_LETTERS, bold=True)
    found = (width(cell.of(row), TABLE_LETTERS, bold=_is_bold(cell, row)) for row in rows)
    return min(max(cell.least, head, *found, 0.0), cell.most)


def _is_bold(cell: Cell, row: TableRow) -> bool:
    return cell.is_bold or (cell.name == _VERDICT and row.verdict in _BOLD)


def table_height(rows: int, columns: int, scale: float, *, notes: int = 1) -> float:
    """Return how high a table of so many rows is [px], with a line for each note over it."""
    return (notes * _OVER + _HEAD + math.ceil(rows / max(columns, 1)) * ROW + 3) * scale


def table_block(
    table: Table, notes: Sequence[str], room: float, *, columns: int, scale: float
) -> Block:
    """Return rows in columns, filled from above.

    Parameters
    ----------
    table : Table
        To be drawn, all its rows.
    notes : sequence of str
        Stand over it.
    room : float
        How wide it is [px].
    columns : int
        Of rows.
    scale : float
        Of letters and rows.

    Returns
    -------
    Block
        No cell runs into the next: what is too long is cut with ….
    """
    deep = math.ceil(len(table.rows) / columns)
    wide = (room / scale - _BETWEEN * (columns - 1)) / columns
    widths = _spread(table, wide)
    top = _OVER * len(notes)
    parts = [_note(note, _OVER * k, room / scale) for k, note in enumerate(notes)]
    parts.append(_rule(0, room / scale, top, "#6F8089"))
    for k in range(columns):
        x = k * (wide + _BETWEEN)
        rows = table.rows[k * deep : (k + 1) * deep]
        if rows:
            parts.append(_heads(table, widths, (x, top)))
        for j, row in enumerate(rows):
            y = top + _HEAD + j * ROW
            parts.append(_row(table, row, widths, (x, y, wide)))
    bottom = table_height(len(table.rows), columns, 1.0, notes=len(notes))
    parts.append(_rule(0, room / scale, bottom - 1, "#6F8089"))
    svg = (
        "".join(parts) if scale == 1 else f'<g transform="scale({scale:.4g})">{"".join(parts)}</g>'
    )
    return Block(width=room, height=bottom * scale, svg=svg)


def _spread(table: Table, wide: float) -> tuple[float, ...]:
    """Widths of the cells where a column is wider than it must be."""
    more = wide - table.least_width
    if more < 0:  # a sheet narrower than one column of rows: all cells give way
        share = 1 + more / sum(table.widths)
        return tuple(needed * max(share, 0.0) for needed in table.widths)
    return tuple(
        needed + (more if cell.name == _WIDENS else 0.0)
        for cell, needed in zip(table.cells, table.widths, strict=True)
    )


def _rule(x: float, wide: float, y: float, colour: str) -> str:
    return f'<path d="M{x:.1f} {y:.1f}h{wide:.1f}" stroke="{colour}" stroke-width="0.7"/>'


def _note(words: str, y: float, room: float) -> str:
    text, size = _fitted(words, room, _NOTE)
    return line_of_text(text, 0, y + _NOTE, size, look=f'fill="{INK_2}"')


def _heads(table: Table, widths: Sequence[float], at: tuple[float, float]) -> str:
    x, y = at
    parts = []
    for cell, wide in zip(table.cells, widths, strict=True):
        look = f'font-weight="700" fill="{INK_2}"'
        words, size = _fitted(table.heads[cell.name], wide, _HEAD_LETTERS, is_bold=True)
        parts.append(_in_cell(words, (x, y + 11.5, wide), size, cell, look))
        x += wide + _GAP + (_MARK if cell.name == _VERDICT else 0)
    return "".join(parts)


def _row(
    table: Table, row: TableRow, widths: Sequence[float], at: tuple[float, float, float]
) -> str:
    x, y, wide = at
    parts = [_rule(x, wide, y + ROW, "#E8ECED")]
    if row.verdict in _TINTS:
        box = f'x="{x - 3:.1f}" y="{y + 0.6:.1f}" width="{wide + 6:.1f}" height="{ROW - 0.8:.1f}"'
        parts.insert(0, f'<rect {box} rx="3" fill="{_TINTS[row.verdict]}"/>')
    for cell, room in zip(table.cells, widths, strict=True):
        is_bold = _is_bold(cell, row)
        look = 'font-weight="700"' if is_bold else ""
        if cell.name == _VERDICT:
            mark = mark_group(row.verdict, 0, 0)
            parts.append(
                f'<g transform="translate({x:.1f} {y + 2.2:.1f}) scale({_MARK_SCALE})">{mark}</g>'
            )
            look += f' fill="{VERDICT_INK[row.verdict]}"'
            x += _MARK
        text, size = _fitted(cell.of(row), room, TABLE_LETTERS, is_bold=is_bold)
        parts.append(_in_cell(text, (x, y + 11.3, room), size, cell, look))
        x += room + _GAP
    return "".join(parts)


def _fitted(text: str, room: float, letters: float, *, is_bold: bool = False) -> tuple[str, float]:
    """A text and the size of its letters: a little smaller before anything of it is cut."""
    wide = width(text, letters, bold=is_bold)
    size = letters * min(1.0, max(room / max(wide, 1e-9), _SMALLEST))
    return cut_to(text, room, size, bold=is_bold), size


def _in_cell(text: str, at: tuple[float, float, float], size: float, cell: Cell, look: str) -> str:
    if not text:
        return ""
    x, y, wide = at
    if cell.is_right:
        return line_of_text(text, x + wide, y, size, look=f'{look} text-anchor="end"')
    return line_of_text(text, x, y, size, look=look)
