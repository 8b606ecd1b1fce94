"""Where a poster's pieces stand: the arrangement in which the map comes out largest."""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import product
from typing import Final

from lakemap.outputs.drawn.paper import MARGIN
from lakemap.outputs.poster.blocks import Block
from lakemap.outputs.poster.table import TABLE_LETTERS, Table, table_height
from lakemap.outputs.typeset import Paper

EDGE: Final = 30.0  # px from the sheet's edge
GAP: Final = 10.0  # px from one piece to the next
_SIDE_GAP: Final = 20.0
_SCALES: Final = (1.3, 1.2, 1.1, 1.0, 0.95, 0.9, 0.85, 0.8, 0.75, 0.7)
_READABLE_PT: Final = 6.2  # letters of the table on a picture of one page
_COMFORTABLE_PT: Final = 7.0  # the same where the table may stand on further pages instead
_LEAST_MAP: Final = 0.34  # of the height between the margins
_LEAST_WIDE: Final = 0.45  # of the width between the margins, beside a table
_MOST_BESIDE: Final = 3  # columns of rows
_NOTES_BESIDE: Final = 250.0  # px, where no table stands over them
_WIDER: Final = (0.0, 40.0, 80.0)  # px that a table gets more, for the notes below it
_AIR: Final = 14.0  # px between table or key and the notes below
_CUT_NOTES: Final = 2  # lines over a table that has not all floats
_NOTES: Final = (1.2, 1.1, 1.0)  # scales of the notes


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """What is to be laid out on the sheet, each piece as high as its width makes it."""

    head: Callable[[float], Block]
    key: Callable[[float], Block]
    notes: Callable[[float, float], Block]  # by width and scale
    table: Table
    lake_m: tuple[float, float]  # how wide and how high the lake is


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A place on the page [px]."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """Where everything stands on the first page; the table may stand elsewhere."""

    map: Box
    key: Box
    notes: Box
    notes_scale: float
    table: Box | None
    columns: int
    scale: float  # of the table
    rows: int  # that it has room for

    def score(self, lake_m: tuple[float, float]) -> float:
        """Tell how large the lake and the letters come out together."""
        wide, high = lake_m
        lake = min(
            (self.map.width - 2 * MARGIN) / max(wide, 1e-9),
            (self.map.height - 2 * MARGIN) / max(high, 1e-9),
        )
        return lake * self.scale * self.notes_scale


def page_size(paper: Paper) -> tuple[float, float]:
    """Return how wide and high a page of this paper is [px]."""
    return paper.width_pt / paper.unit_pt, paper.height_pt / paper.unit_pt


def inner(paper: Paper) -> Box:
    """Return the page without its margins."""
    wide, high = page_size(paper)
    return Box(x=EDGE, y=EDGE, width=wide - 2 * EDGE, height=high - 2 * EDGE)


def lay_out(parts: Parts, paper: Paper, *, further_pages: bool) -> Layout:
    """Return where a poster's pieces stand.

    Parameters
    ----------
    parts : Parts
        To be laid out.
    paper : Paper
        The sheet.
    further_pages : bool
        True: a table that would make the map small goes on pages of its own; else it has as many
        rows as there is room for.

    Returns
    -------
    Layout
        Of the first page.
    """
    room = inner(paper)
    points = _COMFORTABLE_PT if further_pages else _READABLE_PT
    scales = [s for s in _SCALES if s * TABLE_LETTERS * paper.unit_pt >= points]
    found = [
        layout
        for scale in scales
        for layout in (*_stacked(parts, room, scale), *_beside(parts, room, scale))
        if layout.map.height >= _least_map(parts, room, layout.map.width)
    ]
    if found:
        return max(found, key=lambda layout: layout.score(parts.lake_m))
    if further_pages:
        return _without_table(parts, room)
    return _cut(parts, room, scales[-1])


def _least_map(parts: Parts, room: Box, wide: float) -> float:
    """How high a map must be; a long narrow lake needs less."""
    lake_wide, lake_high = parts.lake_m
    enough = (wide - 2 * MARGIN) * lake_high / max(lake_wide, 1e-9) + 2 * MARGIN
    return min(enough, _LEAST_MAP * room.height)


def _stacked(parts: Parts, room: Box, scale: float) -> Iterator[Layout]:
    """Head, map, key, table and notes below one another."""
    count = len(parts.table.rows)
    columns = max(1, min(parts.table.columns_in(room.width, scale), count))
    for larger in _NOTES:
        yield _below(parts, room, _Grid(columns=columns, scale=scale, rows=count), larger)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Grid:
    """How the table's rows stand."""

    columns: int
    scale: float
    rows: int
    notes: int = 1  # lines over it

    @property
    def height(self) -> float:
        """How high the table is [px]; 0 without rows."""
        if not self.rows:
            return 0.0
        return table_height(self.rows, self.columns, self.scale, notes=self.notes)


_NO_TABLE: Final = _Grid(columns=1, scale=1.0, rows=0)


def _below(parts: Parts, room: Box, grid: _Grid, larger: float) -> Layout:
    """The map takes all that the other pieces leave."""
    key, notes = parts.key(room.width), parts.notes(room.width, larger)
    top = room.y + parts.head(room.width).height + GAP
    notes_y = room.y + room.height - notes.height
    table_y = notes_y - (grid.height + GAP if grid.rows else 0.0)
    key_y = table_y - key.height - GAP
    table = Box(x=room.x, y=table_y, width=room.width, height=grid.height)
    return Layout(
        map=Box(x=room.x, y=top, width=room.width, height=key_y - GAP - top),
        key=Box(x=room.x, y=key_y, width=room.width, height=key.height),
        table=table if grid.rows else None,
        notes=Box(x=room.x, y=notes_y, width=room.width, height=notes.height),
        notes_scale=larger,
        columns=grid.columns,
        scale=grid.scale,
        rows=grid.rows,
    )


def _beside(parts: Parts, room: Box, scale: float) -> Iterator[Layout]:
    """Map and key on the left; the table on the right; the notes below the one or the other."""
    count = len(parts.table.rows)
    for columns in range(1, _MOST_BESIDE + 1):
        grid = _Grid(columns=columns, scale=scale, rows=count)
        right = parts.table.width_of(columns, scale) if count else _NOTES_BESIDE * scale
        if room.width - right - _SIDE_GAP < _LEAST_WIDE * room.width:
            return
        for larger in _NOTES:
            yield from _two_sides(parts, room, grid, (right, larger))


def _two_sides(
    parts: Parts, room: Box, grid: _Grid, sizes: tuple[float, float]
) -> Iterator[Layout]:
    """Notes on the left where a table stands on the right, and on the right if they fit there."""
    right, larger = sizes
    left = room.width - right - _SIDE_GAP
    top = room.y + parts.head(room.width).height + GAP
    bottom, x = room.y + room.height, room.x + left + _SIDE_GAP
    key, table_end = parts.key(left), top + grid.height
    low, beside = parts.notes(left, larger), parts.notes(right, larger)
    beside_y = table_end + (_AIR if grid.rows else 0.0)
    places = [
        Box(x=room.x, y=bottom - low.height, width=left, height=low.height),
        Box(x=x, y=beside_y, width=right, height=beside.height),
    ]
    ends = [bottom - low.height - _AIR, bottom]
    for notes, end in zip(places, ends, strict=True):
        is_left = notes.x == room.x
        if max(table_end, notes.y + notes.height) > bottom + 1e-6 or (is_left and not grid.rows):
            continue
        yield Layout(
            map=Box(x=room.x, y=top, width=left, height=end - key.height - GAP - top),
            key=Box(x=room.x, y=end - key.height, width=left, height=key.height),
            table=Box(x=x, y=top, width=right, height=grid.height) if grid.rows else None,
            notes=notes,
            notes_scale=larger,
            columns=grid.columns,
            scale=grid.scale,
            rows=grid.rows,
        )


def _without_table(parts: Parts, room: Box) -> Layout:
    """The first page of several: no table on it, and larger notes where the map allows it."""
    choices = [_below(parts, room, _NO_TABLE, larger) for larger in _NOTES]
    choices += [one for larger in _NOTES for one in _without_table_beside(parts, room, larger)]
    return max(choices, key=lambda layout: layout.score(parts.lake_m))


def _without_table_beside(parts: Parts, room: Box, larger: float) -> Iterator[Layout]:
    if room.width - _NOTES_BESIDE - _SIDE_GAP >= _LEAST_WIDE * room.width:
        yield from _two_sides(parts, room, _NO_TABLE, (_NOTES_BESIDE, larger))


def _cut(parts: Parts, room: Box, scale: float) -> Layout:
    """As many rows as a map that is large enough leaves."""
    found = [_cut_below(parts, room, scale), *_cut_beside(parts, room, scale)]
    return max(found, key=lambda layout: layout.rows * layout.score(parts.lake_m))


def _cut_below(parts: Parts, room: Box, scale: float) -> Layout:
    """One row to a column at least."""
    columns = max(1, parts.table.columns_in(room.width, scale))
    bare = _below(parts, room, _NO_TABLE, 1.0)
    spare = bare.map.height - _least_map(parts, room, room.width) - GAP
    deep = max(parts.table.rows_in(spare, scale, notes=_CUT_NOTES), 1)
    rows = min(deep * columns, len(parts.table.rows))
    grid = _Grid(columns=columns, scale=scale, rows=rows, notes=_CUT_NOTES)
    return _below(parts, room, grid, 1.0)


def _cut_beside(parts: Parts, room: Box, scale: float) -> Iterator[Layout]:
    """The whole height for the table, or what notes below it leave."""
    high = room.height - parts.head(room.width).height - GAP
    for columns, more in product(range(1, _MOST_BESIDE + 1), _WIDER):
        right = parts.table.width_of(columns, scale) + more
        if room.width - right - _SIDE_GAP < _LEAST_WIDE * room.width:
            continue
        for free in (high, high - _AIR - parts.notes(right, 1.0).height):
            rows = min(
                columns * parts.table.rows_in(free, scale, notes=_CUT_NOTES), len(parts.table.rows)
            )
            if rows < 1:
                continue
            grid = _Grid(columns=columns, scale=scale, rows=rows, notes=_CUT_NOTES)
            for layout in _two_sides(parts, room, grid, (right, 1.0)):
                if layout.map.height >= _least_map(parts, room, layout.map.width):
                    yield layout


def pages_of_rows(parts: Parts, room: Box, head: float) -> tuple[int, int, float]:
    """Return columns, rows to a column and scale of the pages that hold only the table.

    Parameters
    ----------
    parts : Parts
        With the table.
    room : Box
        The page without its margins.
    head : float
        How high the page's head is [px].

    Returns
    -------
    tuple
        Columns, rows and scale.
    """
    scale = 1.1 if parts.table.columns_in(room.width, 1.1) else 1.0
    columns = max(1, parts.table.columns_in(room.width, scale))
    deep = max(1, parts.table.rows_in(room.height - head - GAP, scale))
    pages = math.ceil(len(parts.table.rows) / (columns * deep))
    even = math.ceil(len(parts.table.rows) / (pages * columns))
    return columns, min(deep, even) if pages == 1 else deep, scale
