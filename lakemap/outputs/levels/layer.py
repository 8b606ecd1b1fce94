"""The lake's levels on the map page: a plot and what it says, for the panel and without scripts."""

from collections.abc import Iterator
from html import escape
from typing import Final

from lakemap.basis.wording import length_text
from lakemap.mapping import Assessment
from lakemap.outputs.levels.plot import level_plot_svg
from lakemap.outputs.levels.words import (
    gauge_line,
    level_figure,
    level_text,
    period_words,
    told_sentences,
)
from lakemap.outputs.words.levels_and_dates import date_words
from lakemap.outputs.words.texts import ENGLISH, Texts
from lakemap.season.levels import AskedLevels, LakeLevels, has_readings, read_levels
from lakemap.season.low_water import circles_at
from lakemap.sites import subject_of

_MOST_YEARS: Final = 12  # in the table; the command tells all


def page_levels(assessment: Assessment) -> LakeLevels | None:
    """Return what the page tells of the lake's levels.

    Parameters
    ----------
    assessment : Assessment
        Of a field.

    Returns
    -------
    LakeLevels or None
        Of all readings; None where there are none.
    """
    field = assessment.field
    return read_levels(field, asked=AskedLevels()) if has_readings(field) else None


def levels_html(assessment: Assessment, levels: LakeLevels, *, texts: Texts = ENGLISH) -> str:
    """Return the part of the page that tells of the lake's levels.

    It stands after the sheet for readers without scripts; the panel shows the same.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    levels : LakeLevels
        Of the same field.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        HTML, no scripts and no inline styles.
    """
    units = assessment.field.settings.units
    read = texts.of(
        "gauge_told.read",
        count=len(levels.readings.day),
        period=period_words(levels, texts=texts),
    )
    said = [
        *told_sentences(levels, units=units, texts=texts),
        *_map_sentences(assessment, levels, texts),
    ]
    return (
        f'<section class="sheet gauge" id="gauge"><h2>{escape(texts.of("gauge_told.title"))}</h2>'
        f'<div class="told"><p class="about">{escape(read)}</p>'
        f"{level_plot_svg(levels, units=units, texts=texts)}"
        f"{''.join(f'<p>{escape(text)}</p>' for text in said)}"
        f"{_years(assessment, levels, texts)}</div></section>"
    )


def sheet_line(assessment: Assessment, *, texts: Texts = ENGLISH) -> str:
    """Return the line on paper: one sentence, or nothing where there are no readings.

    Parameters
    ----------
    assessment : Assessment
        Of a field.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        Not escaped.
    """
    levels = page_levels(assessment)
    if levels is None:
        return ""
    return gauge_line(levels, units=assessment.field.settings.units, texts=texts)


def _map_sentences(assessment: Assessment, levels: LakeLevels, texts: Texts) -> Iterator[str]:
    """What the map's circles are drawn for, and where the lake has been outside of that."""
    units, given = assessment.field.settings.units, levels.settings
    low, high = level_text(given.low_m, units), level_text(given.high_m, units)
    yield texts.of("gauge_told.map", low=low, high=high)
    if levels.below:
        subject, lowest = subject_of(assessment), levels.lowest
        grown = circles_at(subject, lowest.level_m).growth_from(circles_at(subject, given.low_m))
        yield texts.of(
            "gauge_told.below",
            low=low,
            level=level_text(lowest.level_m, units, rounding="down"),
            date=date_words(lowest.on, texts=texts),
            far=length_text(0.0 if grown is None else grown.radius_m, units, rounding="up"),
        )
    if levels.above:
        yield texts.of(
            "gauge_told.above",
            high=high,
            level=level_text(levels.highest.level_m, units, rounding="up"),
            date=date_words(levels.highest.on, texts=texts),
        )


def _years(assessment: Assessment, levels: LakeLevels, texts: Texts) -> str:
    """Each year's lowest water, and by how much a circle was then larger."""
    units, subject = assessment.field.settings.units, subject_of(assessment)
    normal = circles_at(subject, levels.settings.normal_m)
    rows = []
    for year in levels.years[-_MOST_YEARS:]:
        grown = circles_at(subject, year.lowest.level_m).growth_from(normal)
        more = "" if grown is None else length_text(max(grown.radius_m, 0.0), units, rounding="up")
        level = level_figure(year.lowest.level_m, units, rounding="down")
        rows.append(f'<tr><th scope="row">{year.year}</th><td>{level}</td><td>{more}</td></tr>')
    earlier = len(levels.years) - len(rows)
    notes = [texts.of("gauge_told.lows_note")]
    if earlier:
        notes.append(texts.of("gauge_told.earlier", count=earlier))
    head = "".join(
        f'<th scope="col">{escape(texts.of(f"gauge_told.{name}"))}</th>'
        for name in ("year", "lowest_read", "grown")
    )
    return (
        f"<h3>{escape(texts.of('gauge_told.lows_head'))}</h3>"
        f'<table class="ways"><thead><tr>{head}</tr></thead><tbody>{"".join(rows)}</tbody></table>'
        f'<p class="note">{escape(" ".join(notes))}</p>'
    )
