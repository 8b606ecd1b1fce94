"""What a lake's gauge readings say, in sentences of the map's own table of texts."""

from lakemap.basis.records import Units
from lakemap.basis.wording import MINUS, Rounding, length_figure, length_unit
from lakemap.outputs.words.levels_and_dates import date_words
from lakemap.outputs.words.texts import ENGLISH, Texts
from lakemap.season.levels import LakeLevels


def level_figure(metres: float, units: Units, *, rounding: Rounding = "nearest") -> str:
    """Return a height on the gauge without its unit: `−1.5`, `+1`, `0`.

    Parameters
    ----------
    metres : float
        Height [m].
    units : {'ft-lb', 'm-kg'}
        What people use.
    rounding : {'nearest', 'up', 'down'}
        Low water rounds down, high water up: the side on which circles and lines are checked.

    Returns
    -------
    str
        With its sign, and without noughts that say nothing.
    """
    text = length_figure(metres, units, rounding=rounding).rstrip("0").rstrip(".")
    if text in {"", "0"}:
        return "0"
    return text if text.startswith(MINUS) else f"+{text}"


def level_text(metres: float, units: Units, *, rounding: Rounding = "nearest") -> str:
    """Return a height on the gauge with its unit: `−1.5 ft`.

    Parameters
    ----------
    metres : float
        Height [m].
    units : {'ft-lb', 'm-kg'}
        What people use.
    rounding : {'nearest', 'up', 'down'}
        Low water rounds down, high water up.

    Returns
    -------
    str
        Figure and unit.
    """
    return f"{level_figure(metres, units, rounding=rounding)} {length_unit(units)}"


def share_words(share: float) -> str:
    """Return a share of the time: `2 %`."""
    return f"{round(share * 100, 6):g} %"


def period_words(levels: LakeLevels, *, texts: Texts = ENGLISH) -> str:
    """Return the years that the readings are of: `2017 to 2025`, or the one."""
    first, last = levels.years[0].year, levels.years[-1].year
    if first == last:
        return str(first)
    return texts.of("gauge_told.years", first=str(first), last=str(last))


def lows_words(levels: LakeLevels, *, units: Units, texts: Texts = ENGLISH) -> str:
    """Return each year's lowest reading in one sentence, for those who can't see the plot."""
    lows = "; ".join(
        texts.of(
            "gauge_told.year_low", year=str(one.year), level=level_text(one.lowest.level_m, units)
        )
        for one in levels.years
    )
    return texts.of("gauge_told.lows", lows=lows)


def told_sentences(levels: LakeLevels, *, units: Units, texts: Texts = ENGLISH) -> list[str]:
    """Return what stands under the plot.

    Parameters
    ----------
    levels : LakeLevels
        Of a field.
    units : {'ft-lb', 'm-kg'}
        What people use.
    texts : Texts
        Of the language.

    Returns
    -------
    list of str
        How the lake stood, the lowest reading, what a short record has not seen.
    """
    asked = levels.asked
    stood = texts.of(
        "gauge_told.stood",
        normal=level_text(levels.normal_m, units),
        low=level_text(levels.low_m, units, rounding="down"),
        low_share=share_words(asked.low_share),
        high=level_text(levels.high_m, units, rounding="up"),
        high_share=share_words(1 - asked.high_share),
    )
    lowest = texts.of(
        "gauge_told.lowest",
        level=level_text(levels.lowest.level_m, units, rounding="down"),
        date=date_words(levels.lowest.on, texts=texts),
    )
    return [stood, f"{lowest} {texts.of('gauge_told.short', count=len(levels.years))}"]


def gauge_line(levels: LakeLevels, *, units: Units, texts: Texts = ENGLISH) -> str:
    """Return the readings in one sentence, for the sheet on paper.

    Parameters
    ----------
    levels : LakeLevels
        Of a field.
    units : {'ft-lb', 'm-kg'}
        What people use.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        Period, normal level, lowest reading.
    """
    return texts.of(
        "gauge_told.line",
        period=period_words(levels, texts=texts),
        normal=level_text(levels.normal_m, units),
        level=level_text(levels.lowest.level_m, units, rounding="down"),
        date=date_words(levels.lowest.on, texts=texts),
    )
