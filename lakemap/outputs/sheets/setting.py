"""The setting sheet: all that two people need to lay one float's rig where it is planned."""

from collections.abc import Iterator
from dataclasses import replace

from lakemap.basis.wording import length_text, torque_text
from lakemap.mapping import AssessedFloat
from lakemap.outputs.sheets.asked import SheetAsk, strip_facts
from lakemap.outputs.sheets.blocks import (
    Beside,
    Field,
    Fields,
    Figure,
    Heading,
    Para,
    Rows,
    SheetPage,
    Steps,
)
from lakemap.outputs.sheets.numbers import SheetNumbers
from lakemap.outputs.sheets.page_figures import Figures
from lakemap.outputs.sheets.piece_words import clips_of, parts_list
from lakemap.outputs.sheets.place_rows import (
    about_float,
    bearings_note,
    first_box,
    first_texts,
    place_rows,
)
from lakemap.outputs.sheets.setting_steps import setting_steps
from lakemap.outputs.sheets.sheet_cautions import with_cautions
from lakemap.outputs.words.cautions import closing_line
from lakemap.outputs.words.levels_and_dates import compass_words
from lakemap.outputs.words.texts import ENGLISH, Texts
from lakemap.season.facts.lifting import cluster_weights
from lakemap.season.facts.setting import FreeWay, SettingFacts, setting_facts
from lakemap.season.facts.sheet_ground import SheetGround
from lakemap.season.rig_inventory import inventory

_TWICE = 2.0  # standard errors, as the facts count them
_MAP_SHARE = 0.33


def setting_page(
    ground: SheetGround,
    one: AssessedFloat,
    ask: SheetAsk,
    figures: Figures,
    *,
    texts: Texts = ENGLISH,
) -> SheetPage:
    """Return the sheet by which a crew of two sets one float.

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
        Blanks where a number is not known.
    """
    facts = setting_facts(ground, one.record.float_id, level_m=ask.level_m)
    numbers = SheetNumbers(assessment=ground.assessment, one=one, texts=texts)
    primary, secondary = cluster_weights(ground, one)
    weights, side = (primary, secondary), figures.side(one, ask.level_m)
    page = SheetPage(
        kind="setting",
        float_id=one.record.float_id,
        title=texts.of("sheet_setting.title"),
        under=(about_float(numbers),),
        lake=ground.assessment.field.settings.name,
        facts=strip_facts(ground.assessment, ask, texts=texts),
        blocks=(
            *first_box(tuple(_first(facts, numbers)), numbers),
            _where(facts, numbers, (figures.surroundings(one, facts), side), primary.dry_n),
            Heading(text=texts.of("sheet_setting.steps")),
            Steps(steps=setting_steps(facts, numbers, weights)),
            Para(text=texts.of("sheet_setting.stop_when"), look="strong"),
            _fields(numbers),
        ),
        footer=closing_line(texts),
    )
    return with_cautions(page, ("setting",), numbers)


def _first(facts: SettingFacts, numbers: SheetNumbers) -> list[str]:
    said = list(first_texts(numbers, laying=True))
    if facts.secondary is not None and facts.secondary.on_land:
        said.append(numbers.texts.of("sheet_first.on_land"))
    return said


def _where(
    facts: SettingFacts,
    numbers: SheetNumbers,
    drawn: tuple[Figure, Figure | None],
    primary_n: float,
) -> Beside:
    """Small map and side view left; the same in numbers, parts and tools right."""
    around, side = drawn
    left = (replace(around, caption=numbers.texts.of("sheet_any.filled")), side)
    rows = (*place_rows(facts.place, numbers, lettered=True), *_laid_rows(facts, numbers))
    note = Para(text=" ".join(_sure(facts, numbers)), look="quiet")
    right = (Rows(rows=rows), note, _gear(facts, numbers, primary_n))
    return Beside(left=tuple(one for one in left if one), right=right, share=_MAP_SHARE)


def _laid_rows(facts: SettingFacts, numbers: SheetNumbers) -> list[tuple[str, str]]:
    """Where the secondary goes, and how exactly the primary must lie."""
    texts, second = numbers.texts, facts.secondary
    rows = []
    if second is not None:
        sight = texts.of(
            "sheet_any.sight",
            bearing=numbers.bearing(second.bearing_deg),
            far=numbers.tape(facts.ground_m),
        )
        rows = [
            (texts.of(f"sheet_place.{'suggested' if second.suggested else 'on_bearing'}"), sight),
            (texts.of("sheet_place.second_spot"), numbers.spot(second.lon, second.lat)),
        ]
    if facts.place.located:
        rows.append((texts.of("sheet_place.off"), _off(facts, numbers)))
    return rows


def _off(facts: SettingFacts, numbers: SheetNumbers) -> str:
    texts, found = numbers.texts, facts.tolerance
    if found is None:
        return texts.of("sheet_place.off_unknown")
    if found.conflict:
        return texts.of("sheet_place.off_none")
    far = numbers.length(found.radius_m, rounding="down")
    tightest = found.tightest
    if tightest.beyond or tightest.kind is None:
        return texts.of("sheet_place.off_beyond", far=far)
    return texts.of(
        "sheet_place.off_tightest",
        far=far,
        point=compass_words(tightest.bearing_deg, texts=texts, form="compass_letters"),
        thing=_binds(tightest, numbers),
    )


def _binds(way: FreeWay, numbers: SheetNumbers) -> str:
    """What is met first in the tightest direction."""
    texts, kind = numbers.texts, way.kind or ""
    if kind == "float":
        return texts.of("thing.float", float=way.against)
    if kind in {"shore", "bed", "jump_depth", "shore_max", "frontage"}:
        return texts.of(f"thing.{kind}")
    return way.against or kind


def _sure(facts: SettingFacts, numbers: SheetNumbers) -> Iterator[str]:
    """What bearings count from and are good for, and how sure a fix is where that is too coarse."""
    texts, place, found = numbers.texts, facts.place, facts.tolerance
    yield bearings_note(place, numbers)
    if place.fix_error_m is not None:
        far = numbers.far(place.fix_error_m)
        degrees = f"{place.sight_error_deg:g}"
        yield texts.of("sheet_place.fix_error", degrees=degrees, far=far)
    if found is not None and not found.fits_fix and not found.conflict:
        sure = _TWICE * numbers.assessment.field.settings.accuracy.position_m
        yield texts.of("sheet_place.coarse", far=length_text(sure, numbers.units, rounding="up"))


def _gear(facts: SettingFacts, numbers: SheetNumbers, primary_n: float) -> Fields:
    """Parts and tools, each with a box to tick."""
    texts = numbers.texts
    title, parts = parts_list(numbers)
    return Fields(
        fields=(
            Field(label=title, choices=parts, wide=True),
            Field(
                label=texts.of("sheet_setting.tools"),
                choices=_tools(facts, numbers, primary_n),
                wide=True,
            ),
        ),
        columns=1,
    )


def _tools(facts: SettingFacts, numbers: SheetNumbers, primary_n: float) -> tuple[str, ...]:
    texts = numbers.texts
    clips = clips_of(inventory(numbers.one, numbers.units))
    spanner = texts.of("sheet_setting.tool_spanner_plain")
    if clips is not None:
        torque = torque_text(clips[1].torque.value, numbers.units)
        spanner = texts.of("sheet_setting.tool_spanner", torque=torque)
    lines = texts.of(
        "sheet_setting.tool_lines",
        primary=numbers.tape(facts.primary_line_m),
        secondary=numbers.tape(facts.secondary_line_m),
    )
    names = ("tool_sound", "tool_place", "tool_wire", "tool_cutter")
    return (
        texts.of("sheet_setting.tool_lower", weight=numbers.weight(primary_n)),
        lines,
        spanner,
        *(texts.of(f"sheet_setting.{name}") for name in names),
    )


def _fields(numbers: SheetNumbers) -> Fields:
    """What goes back into the files, the column in brackets."""
    texts = numbers.texts
    small, length = ("in", "ft") if numbers.units == "ft-lb" else ("mm", "m")
    blanks = (
        ("date", ""),
        ("crew", ""),
        ("gauge", length),
        ("depth", length),
        ("lat", ""),
        ("lon", ""),
        ("bearing", "°"),
        ("apart", length),
        ("ground", length),
        ("riser", length),
        ("primary", ""),
        ("secondary", ""),
        ("bar", small),
        ("compass", "°"),
        ("bottom", ""),
        ("notes", ""),
    )
    return Fields(
        fields=tuple(
            Field(label=texts.of(f"sheet_field.{name}"), unit=unit) for name, unit in blanks
        ),
        columns=6,
    )
