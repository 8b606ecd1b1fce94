"""What a poster says: its title, what was checked when, its notes and its table."""

from dataclasses import dataclass
from typing import Final

from lakemap.basis.wording import length_unit
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.poster.blocks import HeadWords
from lakemap.outputs.web.field_sheet import good_to, short_names, to_put_right
from lakemap.outputs.web.page_data import footer
from lakemap.outputs.words.cautions import cautions_for
from lakemap.outputs.words.levels_and_dates import date_words
from lakemap.outputs.words.texts import Texts
from lakemap.outputs.words.verdicts import headline, row_words, verdict_counts

_FACTS: Final = 3  # of the footer: levels, storm, wind drawn


@dataclass(frozen=True, slots=True, kw_only=True)
class TableRow:
    """One float in the table; figures in the units of its head."""

    number: str
    verdict: str  # or `retired`
    word: str  # the same in the language of the poster
    lot: str
    spare: str
    thing: str
    swings: str
    owner: str


def head_words(assessment: Assessment, texts: Texts) -> HeadWords:
    """Return title and what stands under it; dates are those of the data.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    texts : Texts
        Of the language.

    Returns
    -------
    HeadWords
        Never with today's date.
    """
    field, counts = assessment.field, verdict_counts(assessment)
    numbers = [texts.of(f"count.{word}", count=number) for word, number in counts.items() if number]
    under = headline(assessment, texts=texts)
    if numbers:
        first = under.removesuffix(".")
        under = texts.of("sheet.under", headline=first, counts=", ".join(numbers))
    facts = (
        texts.of("sheet.fact", name=name, value=value)
        for name, value in footer(assessment, texts=texts)[:_FACTS]
    )
    dates = (("head.dated", field.dated), ("sheet.soundings", field.soundings_dated))
    return HeadWords(
        title=" ".join(field.settings.name.split()),
        under=under,
        facts=" · ".join(facts),
        dates=tuple(
            texts.of(key, date=date_words(day, texts=texts))
            for key, day in dates
            if day is not None
        ),
    )


def notes_words(assessment: Assessment, texts: Texts) -> list[tuple[str, list[str]]]:
    """Return the lists on the first page: what is in conflict, and the cautions."""
    care = [
        good_to(assessment, texts=texts),
        *(caution.said(texts) for caution in cautions_for(assessment)),
    ]
    notes = [(texts.of("sheet.care"), care)]
    if assessment.floats:
        put_right = to_put_right(assessment, texts=texts)
        notes.insert(0, (texts.of("sheet.put_right"), put_right))
    return notes


def table_notes(assessment: Assessment, texts: Texts, *, listed: int) -> list[str]:
    """Return the lines over the table: its units, and how many floats are not in it.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    texts : Texts
        Of the language.
    listed : int
        Floats that the table has room for.

    Returns
    -------
    list of str
        The second only where some are not.
    """
    notes = [texts.of("sheet.about", unit=length_unit(assessment.field.settings.units))]
    left = len(assessment.floats) - listed
    if left:
        notes.append(texts.of("poster.unlisted", shown=listed, count=left))
    return notes


def table_row(
    one: AssessedFloat, assessment: Assessment, texts: Texts, *, owners: bool
) -> TableRow:
    """Return what the table says of a float.

    Parameters
    ----------
    one : AssessedFloat
        Of the assessment.
    assessment : Assessment
        For units and names.
    texts : Texts
        Of the language.
    owners : bool
        True names the owner.

    Returns
    -------
    TableRow
        Without the owner unless asked.
    """
    spare, thing, swings = row_words(one, assessment, texts=texts)
    verdict = one.verdict or "retired"
    return TableRow(
        number=one.record.float_id,
        verdict=verdict,
        word=texts.of(f"verdict.{verdict}"),
        lot=one.record.lot or "",
        spare=spare,
        thing=short_names(texts).get(thing, thing),
        swings=swings,
        owner=(one.record.owner or "") if owners else "",
    )


def table_heads(texts: Texts) -> dict[str, str]:
    """Return the heads of the table's columns by what stands in them."""
    return {
        "number": texts.of("sheet.number"),
        "word": "",
        "lot": texts.of("poster.lot"),
        "spare": texts.of("sheet.spare"),
        "thing": texts.of("sheet.nearest"),
        "owner": texts.of("poster.owner"),
        "swings": texts.of("sheet.swings"),
    }


def page_words(number: int, pages: int, texts: Texts) -> str:
    """Return which page of how many this is."""
    return texts.of("poster.page", number=number, pages=pages)
