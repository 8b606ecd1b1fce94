"""What a poster is put together from: head, key and notes, each as high as its width makes it."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape
from typing import Final

from lakemap.outputs.drawn.letters import cut_to, width, wrap
from lakemap.outputs.drawn.paper import INK

INK_2: Final = "#46565F"
_TITLES: Final = (26.0, 23.0, 20.0, 17.0)  # the largest that fits on one line
_TITLE_LINES: Final = 2
_UNDER, _FACTS, _DATES = 11.5, 10.5, 10.5
_GAP: Final = 16.0
_SWATCH, _SWATCH_GAP = 34.0, 7.0  # a key's drawing and the room behind it
_KEY, _KEY_ROW = 10.0, 17.0
_SCALE_WIDTH: Final = 172.0
_NOTE, _NOTE_LINE, _BULLET = 9.0, 11.6, 9.0
_NOTE_COLUMN, _NOTE_GAP = 235.0, 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A piece of a page, drawn from its upper left corner on."""

    width: float
    height: float
    svg: str

    def at(self, x: float, y: float) -> str:
        """Return it in its place."""
        return f'<g transform="translate({x:.1f} {y:.1f})">{self.svg}</g>' if self.svg else ""


def line_of_text(words: str, x: float, y: float, size: float, *, look: str = "") -> str:
    """Return a line of text; its words are escaped here.

    Parameters
    ----------
    words : str
        One line.
    x, y : float
        Where its base line begins [px].
    size : float
        Of the letters [px].
    look : str
        More attributes; without any the ink is the usual one.

    Returns
    -------
    str
        SVG.
    """
    look = look if "fill=" in look else f'fill="{INK}" {look}'.rstrip()
    return f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size:.4g}" {look}>{escape(words)}</text>'


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadWords:
    """What stands over the map."""

    title: str
    under: str
    facts: str
    dates: tuple[str, ...]


def head_block(words: HeadWords, room: float) -> Block:
    """Return title, lines under it and the dates of the data.

    Parameters
    ----------
    words : HeadWords
        To be written.
    room : float
        How wide it may be [px].

    Returns
    -------
    Block
        With the rule below it.
    """
    right = max((width(day, _DATES) for day in words.dates), default=-_GAP)
    lines, size = _title_lines(words.title, room - right - _GAP)
    parts = [
        line_of_text(line, 0, size + k * size * 1.15, size, look='font-weight="700"')
        for k, line in enumerate(lines)
    ]
    y = size * (1 + 1.15 * (len(lines) - 1))
    first = max(y - (len(words.dates) - 1) * (_DATES + 4), _DATES)
    look = f'fill="{INK_2}" text-anchor="end"'
    parts += [
        line_of_text(day, room, first + k * (_DATES + 4), _DATES, look=look)
        for k, day in enumerate(words.dates)
    ]
    y = max(y, first + (len(words.dates) - 1) * (_DATES + 4)) + 5
    for text, letters, colour in ((words.under, _UNDER, INK), (words.facts, _FACTS, INK_2)):
        for line in wrap(text, room, letters):
            y += letters * 1.35
            parts.append(line_of_text(line, 0, y, letters, look=f'fill="{colour}"'))
    y += 8
    parts.append(f'<path d="M0 {y:.1f}H{room:.1f}" stroke="{INK}" stroke-width="2"/>')
    return Block(width=room, height=y + 1, svg="".join(parts))


def _title_lines(title: str, room: float) -> tuple[list[str], float]:
    """A title in the largest letters that keep it on a line; else on two, cut if it must be."""
    for size in _TITLES:
        if width(title, size, bold=True) <= room:
            return [title], size
    size = _TITLES[-1]
    return wrap(title, room, size, bold=True, most=_TITLE_LINES), size


def small_head_block(title: str, page: str, room: float) -> Block:
    """Return the head of a further page.

    Parameters
    ----------
    title : str
        Of the poster; cut where it is too long.
    page : str
        Which page this is.
    room : float
        How wide it may be [px].

    Returns
    -------
    Block
        With the rule below it.
    """
    left = cut_to(title, room - width(page, _DATES) - _GAP, 14, bold=True)
    look = f'fill="{INK_2}" text-anchor="end"'
    svg = (
        line_of_text(left, 0, 14, 14, look='font-weight="700"')
        + line_of_text(page, room, 14, _DATES, look=look)
        + f'<path d="M0 21H{room:.1f}" stroke="{INK}" stroke-width="1.5"/>'
    )
    return Block(width=room, height=22, svg=svg)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Entry:
    """One entry of the key; the depth colours take three rows."""

    width: float
    rows: int
    svg: str


def key_block(rows: Sequence[tuple[str, str]], scale: Block, room: float) -> Block:
    """Return what each line, mark and colour means, in columns as wide as their words.

    Parameters
    ----------
    rows : sequence of tuple
        Words, and the inside of an SVG of 34 by 16.
    scale : Block
        Of depth colours; empty where no depth is known.
    room : float
        How wide it may be [px].

    Returns
    -------
    Block
        As low as there is room for columns, filled from above, the depth colours last.
    """
    entries = [_entry(words, drawing) for words, drawing in rows]
    if scale.svg:
        tall = math.ceil(scale.height / _KEY_ROW)
        entries.append(_Entry(width=scale.width, rows=tall, svg=scale.svg))
    deep = max(entry.rows for entry in entries)
    while True:
        columns = _key_columns(entries, deep)
        wide = [max(entry.width for entry in column) for column in columns]
        if sum(wide) + _GAP * (len(wide) - 1) <= room or len(columns) == 1:
            break
        deep += 1
    # what is left stands between the columns, but no wide gaps
    gap = _GAP + min((room - sum(wide)) / max(len(wide) - 1, 1) - _GAP, _GAP)
    parts = list(_key_parts(columns, wide, gap))
    height = _KEY_ROW * max(sum(entry.rows for entry in column) for column in columns)
    return Block(width=room, height=height, svg="".join(parts))


def _entry(words: str, drawing: str) -> _Entry:
    svg = f'<g fill="none">{drawing}</g>' + line_of_text(words, _SWATCH + _SWATCH_GAP, 11.5, _KEY)
    return _Entry(width=_SWATCH + _SWATCH_GAP + width(words, _KEY), rows=1, svg=svg)


def _key_columns(entries: Sequence[_Entry], deep: int) -> list[list[_Entry]]:
    columns: list[list[_Entry]] = [[]]
    for entry in entries:
        if sum(one.rows for one in columns[-1]) + entry.rows > deep:
            columns.append([])
        columns[-1].append(entry)
    return columns


def _key_parts(
    columns: Sequence[Sequence[_Entry]], wide: Sequence[float], gap: float
) -> Iterator[str]:
    x = 0.0
    for column, room in zip(columns, wide, strict=True):
        row = 0
        for entry in column:
            yield f'<g transform="translate({x:.1f} {row * _KEY_ROW:.1f})">{entry.svg}</g>'
            row += entry.rows
        x += room + gap


def scale_block(svg: str, title: str) -> Block:
    """Return the depth colours under their title; nothing for no colours."""
    if not svg:
        return Block(width=0, height=0, svg="")
    body = line_of_text(title, 4, 10, _KEY) + f'<g transform="translate(0 12)">{svg}</g>'
    wide = max(_SCALE_WIDTH, width(title, _KEY) + 4)
    return Block(width=wide, height=48, svg=body)


def notes_block(
    notes: Sequence[tuple[str, Sequence[str]]], room: float, *, scale: float = 1.0
) -> Block:
    """Return lists of sentences under headings, in columns of like height.

    Parameters
    ----------
    notes : sequence of tuple
        Headings, and the sentences under each.
    room : float
        How wide it may be [px].
    scale : float
        Of the letters.

    Returns
    -------
    Block
        As low as its columns can be made without breaking a sentence over two of them.
    """
    count = max(1, int((room + _NOTE_GAP) / (_NOTE_COLUMN * scale + _NOTE_GAP)))
    wide = (room - _NOTE_GAP * (count - 1)) / count
    pieces = list(_note_pieces(notes, wide, scale))
    deep = max((len(lines) for lines in pieces), default=0)
    while len(columns := _note_columns(pieces, deep)) > count:
        deep += 1
    parts = []
    for k, column in enumerate(columns):
        for j, (words, is_first, is_head) in enumerate(column):
            x = k * (wide + _NOTE_GAP)
            y = (j * _NOTE_LINE + _NOTE) * scale
            size = _NOTE * scale * (1.1 if is_head else 1.0)
            look = 'font-weight="700"' if is_head else ""
            if is_first and not is_head:
                parts.append(line_of_text("•", x, y, size))
            parts.append(
                line_of_text(words, x if is_head else x + _BULLET * scale, y, size, look=look)
            )
    height = max(map(len, columns), default=0) * _NOTE_LINE * scale
    return Block(width=room, height=height, svg="".join(parts))


_Line = tuple[str, bool, bool]  # its words, whether it begins a sentence, whether it is a heading


def _note_pieces(
    notes: Sequence[tuple[str, Sequence[str]]], wide: float, scale: float
) -> Iterator[list[_Line]]:
    """Sentences as lines; a heading stays with its first sentence."""
    for title, sentences in notes:
        heads: list[_Line] = [
            (line, True, True) for line in wrap(title, wide, _NOTE * scale * 1.1, bold=True)
        ]
        for sentence in sentences:
            lines = wrap(sentence, wide - _BULLET * scale, _NOTE * scale)
            yield heads + [(line, k == 0, False) for k, line in enumerate(lines)]
            heads = []


def _note_columns(pieces: Sequence[list[_Line]], deep: int) -> list[list[_Line]]:
    """Pieces in columns of so many lines at most; a heading inside one gets a line of air."""
    columns: list[list[_Line]] = []
    for piece in pieces:
        air: list[_Line] = [("", False, True)] if piece[0][2] and columns else []
        if columns and len(columns[-1]) + len(air) + len(piece) <= deep:
            columns[-1] += [*air, *piece]
        else:
            columns.append(list(piece))
    return columns
