"""The inspection sheet: every piece of one rig, hook to primary, with boxes to write in."""

from dataclasses import replace
from datetime import date
from typing import Final

from lakemap.basis.published import Published
from lakemap.basis.wording import figure
from lakemap.mapping import AssessedFloat
from lakemap.outputs.sheets.asked import SheetAsk, strip_facts
from lakemap.outputs.sheets.blocks import (
    Beside,
    Field,
    Fields,
    Para,
    Rows,
    SheetPage,
    Table,
)
from lakemap.outputs.sheets.numbers import SheetNumbers
from lakemap.outputs.sheets.page_figures import Figures
from lakemap.outputs.sheets.part_rows import part_rows
from lakemap.outputs.sheets.place_rows import (
    about_float,
    bearings_note,
    first_box,
    first_texts,
    place_rows,
)
from lakemap.outputs.sheets.sheet_cautions import with_cautions
from lakemap.outputs.words.cautions import closing_line
from lakemap.outputs.words.texts import ENGLISH, Texts
from lakemap.rig.wear import CABLE_RETIRED, CHAIN_RETIRED, FITTING_RETIRED, broken_wire_limits
from lakemap.season.facts.place_facts import place_facts
from lakemap.season.facts.sheet_ground import SheetGround
from lakemap.season.upkeep.upkeep import FloatUpkeep, upkeep

_SIDE_SHARE: Final = 0.35
_WIDTHS: Final = (0.2, 0.2, 0.13, 0.22, 0.1, 0.15)
_NEVER: Final = date(1, 1, 1)  # a field without any date has no row that could be later


def inspection_page(
    ground: SheetGround,
    one: AssessedFloat,
    ask: SheetAsk,
    figures: Figures,
    *,
    texts: Texts = ENGLISH,
) -> SheetPage:
    """Return the sheet by which a crew of two inspects one float.

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
        What was found last and what is due stand as of the latest date in the field's files.
    """
    numbers = SheetNumbers(assessment=ground.assessment, one=one, texts=texts)
    place = place_facts(ground, one.record.float_id, level_m=ask.level_m)
    side = figures.side(one, ask.level_m)
    here = (
        Rows(rows=place_rows(place, numbers)),
        Para(text=bearings_note(place, numbers), look="quiet"),
    )
    above = here if side is None else (Beside(left=(side,), right=here, share=_SIDE_SHARE),)
    page = SheetPage(
        kind="inspection",
        float_id=one.record.float_id,
        title=texts.of("sheet_inspection.title"),
        under=(about_float(numbers),),
        lake=ground.assessment.field.settings.name,
        facts=strip_facts(ground.assessment, ask, texts=texts),
        blocks=(
            *first_box(tuple(first_texts(numbers, laying=False)), numbers),
            *above,
            Para(text=texts.of("sheet_inspection.order")),
            _table(numbers),
            Para(text=texts.of("sheet_inspection.write")),
            Para(text=limits_text(numbers), look="quiet"),
            _fields(numbers),
        ),
        footer=closing_line(texts),
    )
    return with_cautions(page, ("inspecting",), numbers)


def _table(numbers: SheetNumbers) -> Table:
    """The parts; sizes in thousandths of an inch or tenths of a millimetre."""
    header = ("part", "where", "size", "known", "measured", "found")
    unit = "in" if numbers.units == "ft-lb" else "mm"
    return Table(
        header=tuple(numbers.texts.of(f"sheet_inspection.{name}", unit=unit) for name in header),
        rows=part_rows(numbers, known_upkeep(numbers)),
        widths=_WIDTHS,
        tall=True,
    )


def known_upkeep(numbers: SheetNumbers) -> FloatUpkeep | None:
    """Return what is known of a float's upkeep as of the latest date in the field's files.

    Parameters
    ----------
    numbers : SheetNumbers
        Of the float.

    Returns
    -------
    FloatUpkeep or None
        None for one that is not set.
    """
    assessment = numbers.assessment
    alone = replace(assessment, floats=(numbers.one,))
    told = upkeep(alone, on=assessment.field.dated or _NEVER)
    return told.floats[0] if told.floats else None


def _fields(numbers: SheetNumbers) -> Fields:
    """The day, the level, and where the float lies to the wind: a fix."""
    texts = numbers.texts
    length = "ft" if numbers.units == "ft-lb" else "m"
    blanks = (
        ("date", ""),
        ("crew", ""),
        ("gauge", length),
        ("wind", "°"),
        ("float_lat", ""),
        ("float_lon", ""),
    )
    fields = tuple(Field(label=texts.of(f"sheet_field.{name}"), unit=unit) for name, unit in blanks)
    notes = Field(label=texts.of("sheet_field.notes"), wide=True)
    return Fields(fields=(*fields, notes), columns=6)


def limits_text(numbers: SheetNumbers) -> str:
    """Return at what wear each kind of part is out of use, and on whose word."""
    strands, of_all = broken_wire_limits()[::-1]
    return numbers.texts.of(
        "sheet_inspection.limits",
        chain=_percent(CHAIN_RETIRED),
        chain_source=CHAIN_RETIRED.source,
        fitting=_percent(FITTING_RETIRED),
        fitting_source=FITTING_RETIRED.source,
        strand=strands,
        all=of_all,
        cable=_percent(CABLE_RETIRED),
        cable_source=CABLE_RETIRED.source,
    )


def _percent(share: Published) -> str:
    return figure(100 * share.value, digits=0)
