"""The poster: the field on paper for a notice board or a newsletter, as SVG, PNG or PDF."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from html import escape
from pathlib import Path
from typing import Final

from lakemap.basis.wording import length_unit
from lakemap.mapping import Assessment
from lakemap.outputs.drawn.key import depth_scale, key_rows
from lakemap.outputs.drawn.paper import fit
from lakemap.outputs.drawn.picture import sheet_svg
from lakemap.outputs.drawn.scene import Scene, build_scene
from lakemap.outputs.poster.blocks import (
    HeadWords,
    head_block,
    key_block,
    notes_block,
    scale_block,
    small_head_block,
)
from lakemap.outputs.poster.layout import (
    GAP,
    Box,
    Layout,
    Parts,
    inner,
    lay_out,
    page_size,
    pages_of_rows,
)
from lakemap.outputs.poster.table import Table, make_table, table_block
from lakemap.outputs.poster.words import (
    head_words,
    notes_words,
    page_words,
    table_heads,
    table_notes,
    table_row,
)
from lakemap.outputs.typeset import Pages, Paper, to_pdf, to_png
from lakemap.outputs.words.texts import ENGLISH, Texts
from lakemap.outputs.words.verdicts import worst_floats
from lakemap.saving.atomic import write_whole

PICTURES: Final = (".svg", ".png", ".pdf")
# what XML cannot hold, whatever a file says
_NO_XML: Final = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What a poster is to be like."""

    paper: Paper
    dpi: int = 200  # of a PNG
    owners: bool = False  # True puts the owners into the table
    texts: Texts = ENGLISH


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """What was written."""

    pages: int
    unlisted: int  # floats that the table had no room for


@dataclass(frozen=True, slots=True, kw_only=True)
class _Poster:
    """All that the pages are drawn from."""

    assessment: Assessment
    scene: Scene
    wish: Wish
    head: HeadWords
    parts: Parts
    layout: Layout


def draw_picture(assessment: Assessment, path: Path, wish: Wish) -> Drawn:
    """Write the picture of a field on paper, whole or not at all.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    path : Path
        Ends in .svg, .png or .pdf; its folder must exist.
    wish : Wish
        What it is to be like.

    Returns
    -------
    Drawn
        How many pages a PDF got, and how many floats did not fit into the table of the others.

    Raises
    ------
    BadInputError
        If it is a PNG or PDF and the extra for them is not installed.
    """
    kind = path.suffix.lower()
    poster = _poster(assessment, wish, further_pages=kind == ".pdf")
    pages = _pages(poster)
    if kind == ".svg":
        data = pages.pictures[0].encode("utf-8")
    else:
        data = to_pdf(pages) if kind == ".pdf" else to_png(pages, dpi=wish.dpi)
    write_whole(path, data)
    unlisted = 0 if kind == ".pdf" else len(assessment.floats) - poster.layout.rows
    return Drawn(pages=len(pages.pictures), unlisted=unlisted)


def poster_pages(assessment: Assessment, wish: Wish, *, further_pages: bool = False) -> Pages:
    """Return the pages of a poster; the same assessment gives the same text.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    wish : Wish
        What it is to be like.
    further_pages : bool
        True puts a table that leaves the map no room on pages of its own.

    Returns
    -------
    Pages
        SVG without scripts, styles or anything from elsewhere.
    """
    return _pages(_poster(assessment, wish, further_pages=further_pages))


def _poster(assessment: Assessment, wish: Wish, *, further_pages: bool) -> _Poster:
    scene, head = build_scene(assessment), head_words(assessment, wish.texts)
    parts = _parts(assessment, scene, wish, head)
    layout = lay_out(parts, wish.paper, further_pages=further_pages)
    return _Poster(
        assessment=assessment, scene=scene, wish=wish, head=head, parts=parts, layout=layout
    )


def _parts(assessment: Assessment, scene: Scene, wish: Wish, head: HeadWords) -> Parts:
    unit, texts = length_unit(assessment.field.settings.units), wish.texts
    colours = depth_scale(scene, unit, texts=texts)
    scale = scale_block(colours, texts.of("key.depths", unit=unit))
    rows, notes = key_rows(scene, texts=texts), notes_words(assessment, texts)
    west, south, east, north = scene.bounds
    return Parts(
        head=cache(lambda room: head_block(head, room)),
        key=cache(lambda room: key_block(rows, scale, room)),
        notes=cache(lambda room, larger: notes_block(notes, room, scale=larger)),
        table=_table(assessment, wish, len(assessment.floats)),
        lake_m=(east - west, north - south),
    )


def _table(assessment: Assessment, wish: Wish, most: int) -> Table:
    """Floats by number, the way that people look for theirs; the worst if not all have room."""
    rows = [
        table_row(one, assessment, wish.texts, owners=wish.owners)
        for one in worst_floats(assessment, most)
    ]
    return make_table(rows, table_heads(wish.texts))


def _pages(poster: _Poster) -> Pages:
    head = poster.head
    says = poster.wish.texts.of("poster.says", title=head.title, under=head.under, facts=head.facts)
    return Pages(
        paper=poster.wish.paper,
        title=head.title,
        says=says,
        pictures=[_first(poster), *_further(poster)],
    )


def _first(poster: _Poster) -> str:
    """Title, map, key and notes; the table too, or as much of it as there is room for."""
    layout, parts, room = poster.layout, poster.parts, inner(poster.wish.paper)
    pieces = [
        parts.head(room.width).at(room.x, room.y),
        _map(poster, layout.map),
        parts.key(layout.key.width).at(layout.key.x, layout.key.y),
        parts.notes(layout.notes.width, layout.notes_scale).at(layout.notes.x, layout.notes.y),
    ]
    if layout.table is not None:
        pieces.append(_first_table(poster, layout.table))
    return _page(poster, "".join(pieces))


def _map(poster: _Poster, box: Box) -> str:
    sheet = fit(poster.scene, width=box.width, height=box.height, prefix="map")
    picture = sheet_svg(poster.assessment, poster.scene, sheet, texts=poster.wish.texts)
    place = (
        f'<svg x="{box.x:.1f}" y="{box.y:.1f}" width="{box.width:.1f}" height="{box.height:.1f}" '
    )
    frame = (
        f'<rect x="{box.x:.1f}" y="{box.y:.1f}" width="{box.width:.1f}" height="{box.height:.1f}"'
        ' fill="none" stroke="#6F8089"/>'
    )
    return picture.replace("<svg ", place, 1) + frame


def _first_table(poster: _Poster, box: Box) -> str:
    layout, table = poster.layout, poster.parts.table
    if layout.rows < len(table.rows):
        table = _table(poster.assessment, poster.wish, layout.rows)
    notes = table_notes(poster.assessment, poster.wish.texts, listed=layout.rows)
    block = table_block(table, notes, box.width, columns=layout.columns, scale=layout.scale)
    return block.at(box.x, box.y)


def _further(poster: _Poster) -> Iterator[str]:
    """Pages of rows, where the first page has no table."""
    table, room = poster.parts.table, inner(poster.wish.paper)
    if poster.layout.table is not None or not table.rows:
        return
    title = poster.head.title
    bare = small_head_block(title, "", room.width)
    columns, deep, scale = pages_of_rows(poster.parts, room, bare.height)
    per_page = columns * deep
    count = -(-len(table.rows) // per_page) + 1
    notes = table_notes(poster.assessment, poster.wish.texts, listed=len(table.rows))
    for k in range(1, count):
        head = small_head_block(title, page_words(k + 1, count, poster.wish.texts), room.width)
        rows = table.rows[(k - 1) * per_page : k * per_page]
        part = replace(table, rows=rows)
        block = table_block(part, notes, room.width, columns=columns, scale=scale)
        yield _page(poster, head.at(room.x, room.y) + block.at(room.x, room.y + head.height + GAP))


def _page(poster: _Poster, inside: str) -> str:
    """One sheet as a whole SVG file of its size."""
    wide, high = page_size(poster.wish.paper)
    title = escape(poster.head.title)
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide:.2f} {high:.2f}"'
        f' width="{poster.wish.paper.width_pt:.2f}pt" height="{poster.wish.paper.height_pt:.2f}pt"'
        f' font-family="system-ui, sans-serif"><title>{title}</title>'
        f'<rect width="{wide:.2f}" height="{high:.2f}" fill="#fff"/>{inside}</svg>\n'
    )
    return _NO_XML.sub("\ufffd", svg)
