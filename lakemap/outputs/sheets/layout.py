"""How a page goes on paper: in the largest letters that keep it on one sheet, else on several."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from lakemap.outputs.drawn.paper import cut
from lakemap.outputs.sheets import measures as m
from lakemap.outputs.sheets.blocks import (
    Beside,
    Block,
    Cautions,
    Fields,
    Figure,
    Heading,
    SheetPage,
    Steps,
    Table,
)
from lakemap.outputs.sheets.blocks import Rows as RowsBlock
from lakemap.outputs.sheets.heights import block_pt, blocks_pt, shrunk_strip_pt, strip_pt
from lakemap.outputs.sheets.measures import SIZES, Fit, fits_of
from lakemap.outputs.sheets.widths import field_rows
from lakemap.outputs.typeset import Paper
from lakemap.outputs.words.texts import ENGLISH, Texts

_LEAST_PT: Final = 60.0  # no block is begun in less


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One sheet of paper of a float's page."""

    page: SheetPage
    blocks: tuple[Block, ...]
    fit: Fit
    number: int  # 1: the first sheet of paper, with the strip
    of: str  # which sheet of paper it is; nothing where there is but one
    name: str  # the float, and which sheet of paper of it this is
    foot: str  # what stands at its foot, `of` left out


def room_pt(paper: Paper) -> tuple[float, float]:
    """Return how wide and how high a page is between its margins, its footer left out.

    Parameters
    ----------
    paper : Paper
        Upright.

    Returns
    -------
    tuple of float
        Points.
    """
    wide = paper.width_pt - 2 * m.MARGIN_PT
    return wide, paper.height_pt - 2 * m.MARGIN_PT - m.FOOT_PT - m.SPARE_PT


def lay_out(page: SheetPage, paper: Paper, *, texts: Texts = ENGLISH) -> tuple[Part, ...]:
    """Return the sheets of paper that a page takes.

    Parameters
    ----------
    page : SheetPage
        Of one float.
    paper : Paper
        Upright.
    texts : Texts
        Of the language.

    Returns
    -------
    tuple of Part
        One wherever letters of 8 pt make it fit; nothing is ever left out.
    """
    fit = _one_sheet(page, paper)
    if fit is None:
        sheets, fit = _several(page, paper)
    else:
        sheets = [list(page.blocks)]
    return tuple(
        _part(page, tuple(blocks), fit, (k, len(sheets)), texts)
        for k, blocks in enumerate(sheets, start=1)
    )


def _part(
    page: SheetPage,
    blocks: tuple[Block, ...],
    fit: Fit,
    place: tuple[int, int],
    texts: Texts,
) -> Part:
    number, count = place
    float_ = texts.of("sheet_frame.name", float=cut(page.float_id))
    of = texts.of("sheet_frame.page", number=number, count=count) if count > 1 else ""
    foot = (page.footer, float_, page.title.lower(), cut(page.lake))
    return Part(
        page=page,
        blocks=blocks,
        fit=fit,
        number=number,
        of=of,
        name=f"{float_}, {of}" if of else float_,
        foot=" · ".join(text for text in foot if text),
    )


def _one_sheet(page: SheetPage, paper: Paper) -> Fit | None:
    """The largest letters that keep a page on one sheet, with the largest drawings they leave."""
    wide, high = room_pt(paper)

    def holds(fit: Fit) -> bool:
        return strip_pt(page, wide, fit) + blocks_pt(page.blocks, wide, fit) <= high

    # smaller letters come out lower: the first size that fits is looked for by halves
    at = bisect_left(SIZES, True, key=lambda size: holds(fits_of(size)[-1]))  # noqa: FBT003
    if at == len(SIZES):
        return None
    return next(fit for fit in fits_of(SIZES[at]) if holds(fit))


def _several(page: SheetPage, paper: Paper) -> tuple[list[list[Block]], Fit]:
    """As few sheets as the smallest letters need, in the largest that need no more."""
    least = fits_of(SIZES[-1])[-1]
    few = _split(page, paper, least)
    larger = (fits_of(size)[0] for size in SIZES)
    for fit in larger:
        sheets = _split(page, paper, fit)
        if len(sheets) <= len(few):
            return sheets, fit
    return few, least


def _split(page: SheetPage, paper: Paper, fit: Fit) -> list[list[Block]]:
    """Blocks by sheets of paper; a heading stays with what it heads."""
    wide, high = room_pt(paper)
    sheets: list[list[Block]] = [[]]
    left = high - strip_pt(page, wide, fit)
    whole = high - shrunk_strip_pt(fit)
    waiting = list(page.blocks)
    while waiting:
        block = waiting.pop(0)
        asks = block_pt(block, wide, fit)
        if asks <= left:
            sheets[-1].append(block)
            left -= asks
            continue
        if isinstance(block, Beside) and asks > whole:
            waiting[:0] = _below_one_another(block)
            continue
        head, tail = _cut(block, wide, left, fit)
        if head is not None:
            sheets[-1].append(head)
        elif not sheets[-1]:  # higher than a whole sheet: it runs over the edge to the next one
            sheets[-1].append(block)
            tail = None
        headings = _taken_headings(sheets[-1]) if head is None else []
        waiting[:0] = [*headings, *([] if tail is None else [tail])]
        if waiting:
            sheets.append([])
            left = whole
    return sheets


def _taken_headings(blocks: list[Block]) -> list[Block]:
    """Headings at the end of a sheet, taken off it; a sheet of nothing else keeps them."""
    taken: list[Block] = []
    while len(blocks) > 1 and isinstance(blocks[-1], Heading):
        taken.insert(0, blocks.pop())
    return taken


def _below_one_another(block: Beside) -> list[Block]:
    """Two columns as one, their drawings no wider than they were."""
    sides = ((block.left, block.share), (block.right, 1 - block.share))
    return [
        replace(one, share=_step(one.share * share)) if isinstance(one, Figure) else one
        for blocks, share in sides
        for one in blocks
    ]


def _step(share: float) -> float:
    return max(round(share * 100), 1) / 100


def _cut(block: Block, wide: float, left: float, fit: Fit) -> tuple[Block | None, Block | None]:
    """What of a block still goes on this sheet, and what is left of it."""
    items = _items(block)
    if left < _LEAST_PT or len(items) < 2:  # noqa: PLR2004 - one can't be parted
        return None, block
    counts = range(1, len(items))
    count = bisect_right(
        counts, left, key=lambda count: block_pt(_some(block, 0, count), wide, fit)
    )
    if not count:
        return None, block
    return _some(block, 0, count), _some(block, count, len(items))


def _items(block: Block) -> Sequence[object]:
    match block:
        case Steps():
            return block.steps
        case Table() | RowsBlock():
            return block.rows
        case Cautions():
            return block.texts
        case Fields():
            return field_rows(block)
        case _:
            return ()


def _some(block: Block, start: int, stop: int) -> Block:
    match block:
        case Steps():
            return replace(block, steps=block.steps[start:stop], first=block.first + start)
        case Table():
            return replace(block, rows=block.rows[start:stop])
        case RowsBlock():
            return replace(block, rows=block.rows[start:stop])
        case Cautions():
            return replace(block, texts=block.texts[start:stop])
        case Fields():
            rows = field_rows(block)[start:stop]
            return replace(block, fields=tuple(one for row in rows for one in row))
        case _:
            return block
