"""The lifting sheet: weights at each stage, the float under them, the steps, the tow."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from lakemap.basis.wording import figure
from lakemap.mapping import AssessedFloat
from lakemap.outputs.sheets.asked import SheetAsk, strip_facts
from lakemap.outputs.sheets.blocks import (
    Beside,
    Block,
    Field,
    Fields,
    Heading,
    Para,
    Rows,
    SheetPage,
    Steps,
    Table,
)
from lakemap.outputs.sheets.lifting_steps import Carries, carries, lifting_steps
from lakemap.outputs.sheets.numbers import SheetNumbers
from lakemap.outputs.sheets.page_figures import Figures
from lakemap.outputs.sheets.place_rows import (
    about_float,
    first_box,
    first_texts,
    place_rows,
)
from lakemap.outputs.sheets.sheet_cautions import with_cautions
from lakemap.outputs.words.cautions import closing_line
from lakemap.outputs.words.texts import ENGLISH, Texts
from lakemap.season.facts.lifting import Hung, LiftingFacts, lifting_facts
from lakemap.season.facts.sheet_ground import SheetGround

_MAP_SHARE: Final = 0.33
_LEVEL_DEG: Final = 0.05  # a lesser tilt is not written
_STAGES: Final = {
    "secondary up": "secondary_up",
    "chain upright": "chain_upright",
    "primary up": "primary_up",
    "both under the float": "both",
    "ashore": "ashore",
}


def lifting_page(
    ground: SheetGround,
    one: AssessedFloat,
    ask: SheetAsk,
    figures: Figures,
    *,
    texts: Texts = ENGLISH,
) -> SheetPage:
    """Return the sheet by which a crew of two lifts one float and brings it ashore.

    Parameters
    ----------
    ground : SheetGround
        The field.
    one : AssessedFloat
        Of it.
    ask : SheetAsk
        The level of the day.
    figures : Figures
        That draw for its pages.
    texts : Texts
        Of the language.

    Returns
    -------
    SheetPage
        Blanks where a number is not known; what the float cannot carry is said first.
    """
    facts = lifting_facts(ground, one.record.float_id, level_m=ask.level_m)
    numbers = SheetNumbers(assessment=ground.assessment, one=one, texts=texts)
    first = (*first_texts(numbers, laying=False), *_too_much(facts, numbers))
    page = SheetPage(
        kind="lifting",
        float_id=one.record.float_id,
        title=texts.of("sheet_lifting.title"),
        under=(about_float(numbers),),
        lake=ground.assessment.field.settings.name,
        facts=strip_facts(ground.assessment, ask, texts=texts),
        blocks=(
            *first_box(first, numbers),
            _where(facts, numbers, figures),
            Heading(text=texts.of("sheet_lifting.steps")),
            Steps(steps=lifting_steps(facts, numbers)),
            Para(text=texts.of("sheet_lifting.stop_when"), look="strong"),
            _fields(numbers),
        ),
        footer=closing_line(texts),
    )
    return with_cautions(page, ("lifting", "towing"), numbers)


def _too_much(facts: LiftingFacts, numbers: SheetNumbers) -> Iterator[str]:
    """What must not be hung under this float."""
    texts, block = numbers.texts, numbers.block(facts.primary)
    told = carries(facts)
    if told is Carries.NOTHING:
        yield texts.of("sheet_lifting.carries_none", block=block)
    elif told in {Carries.PRIMARY, Carries.SECONDARY}:
        which = texts.of(f"rig.{told.value}").lower()
        yield texts.of("sheet_lifting.carries_one", which=which, block=block)
    elif told is Carries.BOTH_ALONE:
        yield texts.of("sheet_lifting.carries_nobody")


def _where(facts: LiftingFacts, numbers: SheetNumbers, figures: Figures) -> Beside:
    """The way to the ramp and the float under its load left; places and weights right."""
    one = numbers.one
    way = figures.tow(one, facts) or replace(
        figures.surroundings(one, None), caption=numbers.texts.of("sheet_any.swings")
    )
    hung = figures.hung(one, facts)
    left: tuple[Block, ...] = (way,) if hung is None else (way, hung)
    rows = Rows(rows=place_rows(facts.place, numbers))
    right = (rows, *_weights(facts, numbers), *_afloat(facts, numbers))
    return Beside(left=left, right=right, share=_MAP_SHARE)


def _weights(facts: LiftingFacts, numbers: SheetNumbers) -> tuple[Block, ...]:
    texts = numbers.texts
    if not facts.stages:
        primary, secondary = facts.primary, facts.secondary
        said = texts.of(
            "sheet_lifting.weights_only",
            primary_air=numbers.weight(primary.air_n),
            primary_water=numbers.weight(primary.water_n),
            secondary_air=numbers.weight(secondary.air_n),
            secondary_water=numbers.weight(secondary.water_n),
        )
        return (Para(text=said, look="strong"),)
    header = ("stage", "air", "water", "hoist")
    rows = tuple(
        (
            texts.of(f"sheet_lifting.stage_{_STAGES[stage.name]}"),
            numbers.weight(stage.air_n),
            numbers.weight(stage.water_n) if stage.water_n else "–",
            numbers.weight(stage.hoist_n) if stage.hoist_n else "–",
        )
        for stage in facts.stages
    )
    head = tuple(texts.of(f"sheet_lifting.{name}") for name in header)
    note = Para(text=texts.of("sheet_lifting.weights_note"), look="quiet")
    return (Table(header=head, rows=rows), note)


def _afloat(facts: LiftingFacts, numbers: SheetNumbers) -> tuple[Block, ...]:
    """How the float lies with the clusters under it: exact hydrostatics in calm water."""
    if not facts.hung:
        return ()
    texts = numbers.texts
    header = ("under", "aboard", "deck", "left")
    rows = tuple(
        (
            texts.of(f"sheet_lifting.hung_{each.under}"),
            str(each.crew),
            _edge(each, numbers),
            _left(each, numbers),
        )
        for each in _told(facts)
    )
    head = tuple(texts.of(f"sheet_lifting.{name}") for name in header)
    assumed = Para(text=texts.of("sheet_lifting.float_assumed"))
    return Table(header=head, rows=rows), *((assumed,) if facts.float_assumed else ())


def _told(facts: LiftingFacts) -> tuple[Hung, ...]:
    """With both clusters; each alone only where both are too much."""
    if carries(facts) in {Carries.BOTH, Carries.BOTH_ALONE}:
        return tuple(each for each in facts.hung if each.under == "both")
    return facts.hung


def _edge(each: Hung, numbers: SheetNumbers) -> str:
    texts = numbers.texts
    if not each.floats or each.freeboard_m is None:
        return texts.of("sheet_lifting.goes_under")
    deck = numbers.tape(each.freeboard_m)
    if not each.steady:
        return texts.of("sheet_lifting.tips", deck=deck)
    if each.tilt_deg is not None and each.tilt_deg >= _LEVEL_DEG:
        return texts.of("sheet_lifting.tilted", deck=deck, degrees=figure(each.tilt_deg, digits=0))
    return deck


def _left(each: Hung, numbers: SheetNumbers) -> str:
    if each.reserve_n < 0:
        force = numbers.weight(-each.reserve_n)
        return numbers.texts.of("sheet_lifting.short", force=force)
    return numbers.weight_at_least(each.reserve_n)


def _fields(numbers: SheetNumbers) -> Fields:
    """What goes back into the files, and where things are left."""
    texts = numbers.texts
    small, length = ("in", "ft") if numbers.units == "ft-lb" else ("mm", "m")
    blanks = (
        ("date", ""),
        ("crew", ""),
        ("gauge", length),
        ("wind", "°"),
        ("float_lat", ""),
        ("float_lon", ""),
        ("lat", ""),
        ("lon", ""),
        ("primary", ""),
        ("secondary", ""),
        ("thinnest", small),
        ("freeboard_hung", length),
    )
    fields = tuple(Field(label=texts.of(f"sheet_field.{name}"), unit=unit) for name, unit in blanks)
    notes = Field(label=texts.of("sheet_field.where_now"), wide=True)
    return Fields(fields=(*fields, notes), columns=6)
