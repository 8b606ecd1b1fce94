"""The member's page: where my float lies, its circle and rig, what to look at, the rules."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from lakemap.basis.wording import bar_text, figure, length_text
from lakemap.mapping import AssessedFloat
from lakemap.outputs.sheets.asked import SheetAsk, strip_facts
from lakemap.outputs.sheets.blocks import Beside, Block, Heading, Para, Rows, SheetPage, Steps
from lakemap.outputs.sheets.inspection import known_upkeep
from lakemap.outputs.sheets.numbers import SheetNumbers
from lakemap.outputs.sheets.page_figures import Figures
from lakemap.outputs.sheets.piece_words import piece_words
from lakemap.outputs.sheets.place_rows import about_float, place_rows
from lakemap.outputs.sheets.protected import rules_blocks
from lakemap.outputs.sheets.sheet_cautions import with_cautions
from lakemap.outputs.upkeep.part_texts import due_short
from lakemap.outputs.words.cautions import closing_line
from lakemap.outputs.words.texts import ENGLISH, Texts
from lakemap.outputs.words.verdicts import verdict_sentence
from lakemap.rig.wear import (
    CABLE_LIFE_AT_MOST_YEARS,
    CABLE_LIFE_YEARS,
    CHAIN_RETIRED,
    FITTING_RETIRED,
)
from lakemap.season.facts.place_facts import place_facts
from lakemap.season.facts.sheet_ground import SheetGround
from lakemap.season.rig_inventory import RigPiece, inventory

_MAP_SHARE: Final = 0.35
_SIDE_SHARE: Final = 0.4
_RIG_SHARE: Final = 0.45
_DUE_NOW: Final = frozenset({"replace now", "overdue", "due"})
_DUE_SHOWN: Final = 4
_ENDS: Final = frozenset({"clip", "sleeve", "thimble", "fitting"})


def member_page(
    ground: SheetGround,
    one: AssessedFloat,
    ask: SheetAsk,
    figures: Figures,
    *,
    texts: Texts = ENGLISH,
) -> SheetPage:
    """Return the page for the person whose float it is; no other owner is named on it.

    Parameters
    ----------
    ground : SheetGround
        The field.
    one : AssessedFloat
        Of it.
    ask : SheetAsk
        Whether owner, permit and note may be printed.
    figures : Figures
        That draw for its pages.
    texts : Texts
        Of the language.

    Returns
    -------
    SheetPage
        What is not known is said so.
    """
    numbers = SheetNumbers(assessment=ground.assessment, one=one, texts=texts)
    rows = (
        *_private(numbers, ask),
        *place_rows(place_facts(ground, one.record.float_id, level_m=ask.level_m), numbers),
        *_circle_rows(numbers),
    )
    around = replace(figures.surroundings(one, None), caption=texts.of("sheet_any.swings"))
    side = figures.side(one, ask.level_m, share=_SIDE_SHARE)
    here = (Rows(rows=rows),) if side is None else (Rows(rows=rows), side)
    page = SheetPage(
        kind="member",
        float_id=one.record.float_id,
        title=texts.of("sheet_member.title"),
        under=(about_float(numbers),),
        lake=ground.assessment.field.settings.name,
        facts=strip_facts(ground.assessment, ask, texts=texts),
        blocks=(
            Para(text=_verdict(numbers), look="strong"),
            Beside(left=(around,), right=here, share=_MAP_SHARE),
            Beside(left=_rig(numbers), right=_spring(numbers), share=_RIG_SHARE),
            Heading(text=texts.of("sheet_member.rules")),
            *rules_blocks(numbers),
        ),
        footer=closing_line(texts),
    )
    return with_cautions(page, ("member",), numbers)


def _verdict(numbers: SheetNumbers) -> str:
    """The word and the sentence that the map has of it too."""
    texts = numbers.texts
    begins = texts.of(f"verdict_begins.{numbers.one.verdict or 'retired'}")
    return f"{begins} {verdict_sentence(numbers.one, numbers.assessment, texts=texts)}"


def _private(numbers: SheetNumbers, ask: SheetAsk) -> Iterator[tuple[str, str]]:
    record = numbers.one.record
    said = (("owner", record.owner), ("permit", record.permit), ("note", record.note))
    if ask.owners:
        yield from ((numbers.texts.of(f"about.{name}"), value) for name, value in said if value)


def _circle_rows(numbers: SheetNumbers) -> Iterator[tuple[str, str]]:
    """How far it swings, and how near the next float's circle is."""
    texts, one, units = numbers.texts, numbers.one, numbers.units
    low, _, high = one.swing_radius_m
    if low is not None:
        ends = {"low": length_text(low, units, rounding="up")}
        form = "circle_low" if high is None else "circle_both"
        if high is not None:
            ends["high"] = length_text(high, units, rounding="up")
        yield texts.of("sheet_member.circle"), texts.of(f"sheet_member.{form}", **ends)
    near = [each for each in one.clearances if each.kind == "float" and each.gap_m is not None]
    if near and one.verdict != "unknown":
        nearest = min(near, key=lambda each: each.gap_m or 0.0)
        gap = nearest.gap_m or 0.0
        form = "neighbour_says" if gap >= 0 else "neighbour_overlap"
        far = length_text(abs(gap), units, rounding="down" if gap >= 0 else "up")
        says = texts.of(f"sheet_member.{form}", float=nearest.against, far=far)
        yield texts.of("sheet_member.neighbour"), says


def _rig(numbers: SheetNumbers) -> tuple[Block, ...]:
    """Every piece from the float down."""
    texts = numbers.texts
    pieces = inventory(numbers.one, numbers.units)
    words = ", ".join(piece_words(piece, numbers) for piece in pieces if piece.kind in _ENDS)
    main = tuple(_main_row(piece, numbers) for piece in pieces if piece.kind not in _ENDS)
    rows = ((texts.of("sheet_member.fittings"), words), *main)
    note: tuple[Block, ...] = ()
    if any(piece.origin == "assumed" for piece in pieces) or numbers.one.assumed:
        note = (Para(text=texts.of("sheet_member.chosen"), look="quiet"),)
    return (Heading(text=texts.of("sheet_member.rig")), Rows(rows=rows), *note)


def _main_row(piece: RigPiece, numbers: SheetNumbers) -> tuple[str, str]:
    name = numbers.texts.of(f"sheet_member.{piece.name.replace(' ', '_')}")
    return name, piece_words(piece, numbers, named=False)


def _spring(numbers: SheetNumbers) -> tuple[Block, ...]:
    """What to look at each spring, and what is due at this float."""
    texts = numbers.texts
    steps = tuple(_looks(numbers))
    return (
        Heading(text=texts.of("sheet_member.spring")),
        Steps(steps=steps),
        Para(text=texts.of("sheet_member.spring_before"), look="quiet"),
        *_due(numbers),
    )


def _looks(numbers: SheetNumbers) -> Iterator[str]:
    texts, one = numbers.texts, numbers.one
    pieces = inventory(one, numbers.units)
    freeboard = numbers.length(one.sizing.float.freeboard_m)
    yield texts.of("sheet_member.spring_float", freeboard=freeboard)
    share = figure(100 * FITTING_RETIRED.value, digits=0)
    yield texts.of("sheet_member.spring_hook", share=share)
    if any(piece.kind == "cable" for piece in pieces):
        form = "spring_cable"
        if any(piece.kind == "sleeve" for piece in pieces):
            form = "spring_cable_sleeves"
        yield texts.of(
            f"sheet_member.{form}",
            least=f"{CABLE_LIFE_YEARS.value:g}",
            most=f"{CABLE_LIFE_AT_MOST_YEARS.value:g}",
        )
    yield _chain(pieces, numbers)
    yield texts.of("sheet_member.spring_place")
    marking = numbers.assessment.field.settings.season.marking
    if marking:
        yield texts.of("sheet_member.spring_marking", marking=marking)


def _chain(pieces: tuple[RigPiece, ...], numbers: SheetNumbers) -> str:
    new = next(piece.new_diameter_m for piece in pieces if piece.name == "riser chain")
    if new is None:
        share = figure(100 * CHAIN_RETIRED.value, digits=0)
        return numbers.texts.of("sheet_member.spring_chain_unknown", share=share)
    out = bar_text(CHAIN_RETIRED.value * new, numbers.units)
    return numbers.texts.of("sheet_member.spring_chain", out=out)


def _due(numbers: SheetNumbers) -> tuple[Block, ...]:
    """What is known to be due, as of the data's own date."""
    texts, known = numbers.texts, known_upkeep(numbers)
    if known is None:
        return ()
    dated = numbers.assessment.field.dated
    said = [
        due_short(part.dues[0], part, on=dated or part.dues[0].by, units=numbers.units)
        for part in known.parts
        if part.dues and part.state in _DUE_NOW
    ]
    if not said:
        return () if known.seen else (Para(text=texts.of("sheet_member.never"), look="quiet"),)
    listed = "; ".join(said[:_DUE_SHOWN])
    return (Para(text=texts.of("sheet_member.due", what=listed), look="strong"),)
