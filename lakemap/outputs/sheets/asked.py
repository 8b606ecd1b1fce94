"""What was asked of the sheets, and what stands in the strip at the head of every page."""

from dataclasses import dataclass

from lakemap.mapping import Assessment
from lakemap.outputs.words.levels_and_dates import date_words, signed_text
from lakemap.outputs.words.texts import ENGLISH, Texts


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetAsk:
    """How the sheets are wanted."""

    level_m: float | None = None  # the lake on its own gauge that day; None: normal level
    owners: bool = False  # True: owner, permit and note may be printed, each on its own float's


def strip_facts(
    assessment: Assessment, ask: SheetAsk, *, texts: Texts = ENGLISH
) -> tuple[str, ...]:
    """Return the level that a page reckons with, and the date of the data.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    ask : SheetAsk
        For the level of the day.
    texts : Texts
        Of the language.

    Returns
    -------
    tuple of str
        A line each; without a date where the field's files hold none.
    """
    field = assessment.field
    levels, day = field.settings.levels, ask.level_m
    name = "level_normal" if day is None else "level_day"
    height = signed_text(levels.normal_m if day is None else day, assessment)
    level = texts.of(f"sheet_frame.{name}", level=height)
    if field.dated is None:
        return (level,)
    return level, texts.of("sheet_frame.dated", date=date_words(field.dated, texts=texts))
