"""Sheets as one HTML file: readable on a phone, and it prints by itself, a float to a page."""

import re
from collections.abc import Callable, Mapping, Sequence
from html import escape
from types import MappingProxyType
from typing import Any, Final
from urllib.parse import quote

from lakemap.outputs.sheets import measures as m
from lakemap.outputs.sheets.blocks import (
    TICK,
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
from lakemap.outputs.sheets.layout import Part, lay_out, room_pt
from lakemap.outputs.sheets.measures import FITS, Fit
from lakemap.outputs.sheets.widths import beside_pt, number_em, rows_share, table_shares
from lakemap.outputs.typeset import Paper
from lakemap.outputs.web.page_frame import POLICY_SLOT, asset, policy
from lakemap.outputs.words.texts import ENGLISH, Texts

_TICK: Final = '<span class="tick"></span>'
_SHARE: Final = re.compile(r'class="block (?:w|beside b)(\d+)"')
_MANY: Final = 3  # columns, from which on a table is pushed sideways on a phone


def sheets_html(
    pages: Sequence[SheetPage], *, title: str, paper: Paper, texts: Texts = ENGLISH
) -> str:
    """Return pages as one HTML text without scripts, and nothing in it from elsewhere.

    Parameters
    ----------
    pages : sequence of SheetPage
        In order; their texts are escaped here.
    title : str
        Of the file.
    paper : Paper
        That they are printed on, upright.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        The same pages give the same text.
    """
    parts = [part for page in pages for part in lay_out(page, paper, texts=texts)]
    kinds = list(dict.fromkeys(page.kind for page in pages))
    body = "".join(
        _sheet(part, paper, texts, f"{_name(part.page, kinds)}={part.page.float_id}")
        for part in parts
    )
    text = (
        f'<!DOCTYPE html>\n<html lang="{escape(texts.code)}"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY_SLOT}">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{escape(title)}</title><style>{_style(paper, body)}</style></head>"
        f"<body>{_contents(pages, title)}<main>{body}</main></body></html>\n"
    )
    return text.replace(POLICY_SLOT, policy(text), 1)


def _style(paper: Paper, body: str) -> str:
    """The style sheet with what depends on the paper, on the measures and on the pages."""
    foot = m.FOOT_PT
    high = paper.height_pt - 2 * m.MARGIN_PT - m.SPARE_PT / 2
    sizes = "".join(
        f".t{k} {{ font-size: {fit.type_pt:g}pt; --figures: {fit.figures:g}; }}\n"
        for k, fit in enumerate(FITS)
    )
    shares = sorted({int(share) for share in _SHARE.findall(body)})
    wide = "".join(
        f".w{share} {{ width: calc({share}% * var(--figures, 1)); }}\n"
        f".b{share} {{ grid-template-columns: minmax(0, {share}fr) minmax(0, {100 - share}fr); }}\n"
        for share in shares
    )
    columns = "".join(
        f".c{count} {{ grid-template-columns: repeat({count}, minmax(0, 1fr)); }}\n"
        for count in range(1, 13)
    )
    numbers = "".join(f".n{k} b {{ font-size: {em:g}em; }}\n" for k, em in enumerate(m.NUMBERS))
    page = (
        f"@page {{ size: {paper.width_pt:g}pt {paper.height_pt:g}pt;"
        f" margin: {m.MARGIN_PT:g}pt; }}\n"
        f"@media print {{ .sheet {{ min-height: {high:g}pt; }} "
        f"footer {{ min-height: {foot:g}pt; box-sizing: border-box; }}\n{sizes}}}\n"
    )
    return wide + columns + numbers + asset("sheets.css", package="lakemap.outputs.sheets") + page


def _contents(pages: Sequence[SheetPage], title: str) -> str:
    """On a screen: a way to each page; never printed."""
    kinds = list(dict.fromkeys(page.kind for page in pages))
    parts = []
    for kind in kinds:
        own = [page for page in pages if page.kind == kind]
        links = "".join(
            f'<li><a href="#{_name(page, kinds)}={quote(page.float_id, safe="")}">'
            f"{escape(page.float_id)}</a></li>"
            for page in own
        )
        head = f"<h2>{escape(own[0].title)}</h2>" if len(kinds) > 1 else ""
        parts.append(f'{head}<ul aria-label="{escape(own[0].title)}">{links}</ul>')
    return f"<nav><h1>{escape(title)}</h1>{''.join(parts) if len(pages) > 1 else ''}</nav>"


def _name(page: SheetPage, kinds: Sequence[str]) -> str:
    """What a page's anchor begins with: `float`, as on the map, where a float has but one page."""
    return "float" if len(kinds) == 1 else page.kind


def _sheet(part: Part, paper: Paper, texts: Texts, anchor: str) -> str:
    page, fit = part.page, part.fit
    wide, _ = room_pt(paper)
    is_first = part.number == 1
    head = (
        _strip(page, texts, number_em(page, wide, fit))
        if is_first
        else f'<p class="more">{escape(part.name)}</p>'
    )
    name = f' id="{escape(anchor)}"' if is_first else ""
    of = f'<span class="of"> · {part.of}</span>' if part.of else ""
    return (
        f'<section class="sheet t{FITS.index(fit)}{"" if is_first else " on"}"{name}>{head}'
        f'<div class="body">{_blocks(part.blocks, wide, fit)}</div>'
        f"<footer>{escape(part.foot)}{of}</footer></section>\n"
    )


def _strip(page: SheetPage, texts: Texts, em: float) -> str:
    under = "".join(f"<p>{_words(line)}</p>" for line in page.under)
    facts = "".join(f"<p>{_words(line)}</p>" for line in (page.lake, *page.facts))
    size = m.NUMBERS.index(em)
    word = escape(texts.of("sheet_frame.float"))
    named = escape(texts.of("sheet_frame.named", title=page.title, float=page.float_id))
    return (
        '<header class="strip">'
        f'<p class="number n{size}"><small>{word}</small><b>{escape(page.float_id)}</b></p>'
        f'<div><h2 aria-label="{named}">{_words(page.title)}</h2>{under}</div>'
        f'<div class="facts">{facts}</div></header>'
    )


def _words(text: str) -> str:
    return escape(text).replace(TICK, _TICK)


def _blocks(blocks: Sequence[Block], wide: float, fit: Fit) -> str:
    return "".join(_WRITERS[type(block)](block, wide, fit) for block in blocks)


def _heading(block: Heading, _wide: float, _fit: Fit) -> str:
    return f'<h3 class="block">{_words(block.text)}</h3>'


def _para(block: Para, _wide: float, _fit: Fit) -> str:
    look = "" if block.look == "plain" else f" {block.look}"
    return f'<p class="block{look}">{_words(block.text)}</p>'


def _steps(block: Steps, _wide: float, _fit: Fit) -> str:
    items = "".join(
        f'<li value="{k}"><span class="tick lead"></span>{_words(step)}</li>'
        for k, step in enumerate(block.steps, start=block.first)
    )
    return f'<ol class="block steps" start="{block.first}">{items}</ol>'


def _columns(shares: Sequence[float]) -> str:
    # every share but the last, which takes what rounding leaves
    widths = "".join(f'<col width="{100 * share:.2f}%">' for share in shares[:-1])
    return f"<colgroup>{widths}<col></colgroup>"


def _rows(block: Rows, wide: float, fit: Fit) -> str:
    share = rows_share(block, wide, fit)
    rows = "".join(
        f'<tr><th scope="row">{_words(name)}</th><td>{_words(value)}</td></tr>'
        for name, value in block.rows
    )
    return f'<table class="block rows">{_columns((share, 1 - share))}<tbody>{rows}</tbody></table>'


def _table(block: Table, wide: float, fit: Fit) -> str:
    head = "".join(f'<th scope="col">{_words(text)}</th>' for text in block.header)
    rows = "".join(
        f"<tr>{''.join(f'<td>{_words(text)}</td>' for text in row)}</tr>" for row in block.rows
    )
    look = " ".join(
        name for name, is_so in (("tall", block.tall), ("many", len(block.header) > _MANY)) if is_so
    )
    # on a phone it is pushed sideways, with keys too
    named = f' tabindex="0" role="region" aria-label="{escape(", ".join(block.header))}"'
    return (
        f'<div class="block table"{named}><table class="{look}">'
        f"{_columns(table_shares(block, wide, fit))}"
        f"<thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table></div>"
    )


def _figure(block: Figure, _wide: float, _fit: Fit) -> str:
    share = round(100 * block.share)
    under = f"<figcaption>{_words(block.caption)}</figcaption>" if block.caption else ""
    alt = escape(block.alt)
    return (
        f'<figure class="block w{share}"><div role="img" aria-label="{alt}">{block.svg}</div>'
        f"{under}</figure>"
    )


def _fields(block: Fields, _wide: float, _fit: Fit) -> str:
    inside = "".join(_field(one) for one in block.fields)
    return f'<div class="block fields c{block.columns}">{inside}</div>'


def _field(one: Field) -> str:
    label = f'<span class="label">{_words(one.label)}</span>'
    if one.choices:
        boxes = " ".join(
            f'<span class="choice">{_TICK}{escape(choice)}</span>' for choice in one.choices
        )
        write = f"<div>{boxes}</div>"
    else:
        first = (
            f'<div class="write"><b>{_words(one.value)}</b><span>{escape(one.unit)}</span></div>'
        )
        write = first + '<div class="write"></div>' * (one.lines - 1)
    return f'<div class="field{" wide" if one.wide else ""}">{label}{write}</div>'


def _cautions(block: Cautions, _wide: float, _fit: Fit) -> str:
    items = "".join(f"<li>{_words(text)}</li>" for text in block.texts)
    look = " conflict" if block.look == "conflict" else ""
    return (
        f'<div class="block cautions{look}"><p class="strong">{_words(block.title)}</p>'
        f"<ul>{items}</ul></div>"
    )


def _beside(block: Beside, wide: float, fit: Fit) -> str:
    left, right = beside_pt(block, wide, fit)
    share = round(100 * block.share)
    return (
        f'<div class="block beside b{share}"><div>{_blocks(block.left, left, fit)}</div>'
        f"<div>{_blocks(block.right, right, fit)}</div></div>"
    )


_WRITERS: Final[Mapping[type, Callable[[Any, float, Fit], str]]] = MappingProxyType(
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
