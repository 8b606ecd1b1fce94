"""Sheets as PDF: the blocks as data for a typesetting template, so that text stays text."""

import json
import re
from collections.abc import Sequence
from dataclasses import asdict
from importlib.resources import files
from typing import Any, Final

from lakemap.outputs.sheets import measures as m
from lakemap.outputs.sheets.blocks import (
    Beside,
    Block,
    Fields,
    Figure,
    Rows,
    SheetPage,
    Table,
)
from lakemap.outputs.sheets.layout import Part, lay_out, room_pt
from lakemap.outputs.sheets.measures import Fit
from lakemap.outputs.sheets.widths import (
    beside_pt,
    field_rows,
    figure_width_pt,
    number_em,
    rows_share,
    strip_widths,
    table_shares,
)
from lakemap.outputs.typeset import FONT, Paper, Template, set_pages
from lakemap.outputs.words.texts import ENGLISH, Texts

_LONG: Final = re.compile(r"\S{25,}")  # a word that may have to be broken
_ANY: Final = re.compile(r"(?<=\S)(?=\S)")
_SVG: Final = re.compile(r"<svg(?![^>]*\bxmlns=)")
_BREAKS: Final = re.compile(r"[\t\n\v\f\r]+")


def sheets_pdf(
    pages: Sequence[SheetPage], *, title: str, paper: Paper, texts: Texts = ENGLISH
) -> bytes:
    """Return pages as PDF, text as text; the same pages give the same bytes.

    Parameters
    ----------
    pages : sequence of SheetPage
        In order.
    title : str
        Of the file.
    paper : Paper
        Upright.
    texts : Texts
        Of the language.

    Returns
    -------
    bytes
        One file, without a date.

    Raises
    ------
    BadInputError
        If the extra for paper is not installed.
    """
    made = sheets_template(pages, title=title, paper=paper, texts=texts)
    return set_pages(made, kind="pdf")


def sheets_template(
    pages: Sequence[SheetPage], *, title: str, paper: Paper, texts: Texts = ENGLISH
) -> Template:
    """Return pages ready to be set: a template of ours, and all they show as data for it.

    Parameters
    ----------
    pages : sequence of SheetPage
        In order.
    title : str
        Of the file.
    paper : Paper
        Upright.
    texts : Texts
        Of the language.

    Returns
    -------
    Template
        Nothing that people wrote is in its source.
    """
    drawings: dict[str, str] = {}
    parts = [
        _part(part, paper, drawings) for page in pages for part in lay_out(page, paper, texts=texts)
    ]
    data = {
        "title": title,
        "font": FONT,
        "lang": texts.code,
        "float": texts.of("sheet_frame.float"),
        "width_pt": paper.width_pt,
        "height_pt": paper.height_pt,
        "margin_pt": m.MARGIN_PT,
        "foot_pt": m.FOOT_PT,
        "parts": parts,
    }
    template = files("lakemap.outputs.sheets").joinpath("assets", "sheets.typ")
    return Template(
        source=template.read_text(encoding="utf-8"),
        texts={"data.json": json.dumps(data, ensure_ascii=False, allow_nan=False)},
        drawings=drawings,
    )


def _part(part: Part, paper: Paper, drawings: dict[str, str]) -> dict[str, Any]:
    page, fit = part.page, part.fit
    wide, _ = room_pt(paper)
    return {
        "first": part.number == 1,
        "float_id": _breakable(page.float_id),
        "title": _breakable(page.title),
        "under": [_breakable(line) for line in page.under],
        "facts": [_breakable(line) for line in (page.lake, *page.facts)],
        "name": _breakable(part.name),
        "foot": _breakable(" · ".join(text for text in (part.foot, part.of) if text)),
        "type_pt": fit.type_pt,
        "number_em": number_em(page, wide, fit),
        "number_pt": strip_widths(page, wide, fit)[0],
        "blocks": [_block(block, wide, fit, drawings) for block in part.blocks],
    }


def _block(block: Block, wide: float, fit: Fit, drawings: dict[str, str]) -> dict[str, Any]:
    """A block as data: its kind, its texts, and what the layout made of its widths."""
    match block:
        case Beside():
            sides = zip(("left", "right"), (block.left, block.right),
                        beside_pt(block, wide, fit), strict=True)  # fmt: skip
            own: dict[str, Any] = {"share": block.share} | {
                name: [_block(one, room, fit, drawings) for one in blocks]
                for name, blocks, room in sides
            }
        case Figure():
            own = {
                "file": _kept(block.svg, drawings),
                "width": figure_width_pt(block, wide, fit),
                "alt": block.alt,
                "caption": _breakable(block.caption),
            }
        case _:
            own = _texts(asdict(block))
            own |= _shares(block, wide, fit)
    return {"kind": type(block).__name__.lower(), **own}


def _shares(block: Block, wide: float, fit: Fit) -> dict[str, Any]:
    match block:
        case Rows():
            return {"share": rows_share(block, wide, fit)}
        case Fields():
            return {"rows": _texts([[asdict(one) for one in row] for row in field_rows(block)])}
        case Table():
            return {"shares": table_shares(block, wide, fit)}
        case _:
            return {}


def _kept(svg: str, drawings: dict[str, str]) -> str:
    """The name of a drawing's file; equal drawings share one."""
    whole = _SVG.sub('<svg xmlns="http://www.w3.org/2000/svg"', svg, count=1)
    for name, known in drawings.items():
        if known == whole:
            return name
    name = f"{len(drawings) + 1}.svg"
    drawings[name] = whole
    return name


def _texts(value: Any) -> Any:  # noqa: ANN401 - whatever a block holds
    """The same with every text ready to be set."""
    match value:
        case str():
            return _breakable(value)
        case dict():
            return {key: _texts(one) for key, one in value.items()}
        case list() | tuple():
            return [_texts(one) for one in value]
        case _:
            return value


def _breakable(text: str) -> str:
    """A text on one line; a very long word gets places to break, which nobody sees."""
    flat = _BREAKS.sub(" ", text)
    return _LONG.sub(lambda found: _ANY.sub("\N{ZERO WIDTH SPACE}", found[0]), flat)
