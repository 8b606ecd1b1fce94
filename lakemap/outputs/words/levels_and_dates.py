"""Lake levels, dates and compass points, in words."""

from datetime import date

from lakemap.mapping import Assessment
from lakemap.outputs.words.clearances import asked_text
from lakemap.outputs.words.texts import ENGLISH, Texts


def signed_text(metres: float, assessment: Assessment) -> str:
    """Return a height on the gauge with its sign: `−1.5 ft`, `+1 ft`, `0 ft`."""
    text = asked_text(abs(metres), assessment.field.settings.units)
    sign = "−" if metres < 0 else "+" if metres > 0 else ""
    return f"{sign}{text}"


def level_names(assessment: Assessment, *, texts: Texts = ENGLISH) -> list[str]:
    """Return the words on the level switch: low, normal, high.

    Parameters
    ----------
    assessment : Assessment
        Of a field.
    texts : Texts
        Of the language.

    Returns
    -------
    list of str
        Three, with the gauge's figures.
    """
    return _levels(assessment, texts, "switch")


def level_words(assessment: Assessment, *, texts: Texts = ENGLISH) -> list[str]:
    """Return the three levels as a sentence names them: `low water −1.5 ft`, `normal water`.

    Parameters
    ----------
    assessment : Assessment
        Of a field.
    texts : Texts
        Of the language.

    Returns
    -------
    list of str
        Low, normal, high.
    """
    return _levels(assessment, texts, "level")


def _levels(assessment: Assessment, texts: Texts, form: str) -> list[str]:
    levels = assessment.field.settings.levels
    normal = "normal" if levels.normal_m == 0 else "normal_at"
    heights = {"low": levels.low_m, normal: levels.normal_m, "high": levels.high_m}
    return [
        texts.of(f"{form}.{name}", level=signed_text(height, assessment))
        for name, height in heights.items()
    ]


def date_words(day: date | None, *, texts: Texts = ENGLISH) -> str:
    """Return a date in words, `14 June 2025`; empty for none."""
    if day is None:
        return ""
    month = texts.of(f"month.{day.month}")
    return texts.of("date.day", day=day.day, month=month, year=str(day.year))


def compass_words(bearing_deg: float, *, texts: Texts = ENGLISH, form: str = "compass") -> str:
    """Return a bearing as one of sixteen points, in words or (`compass_letters`) in letters."""
    return texts.of(f"{form}.{round(bearing_deg % 360 / 22.5) % 16}")
