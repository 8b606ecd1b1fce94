"""Days of the season: years gone by, the next set or lift day, the end of a season."""

import calendar
from datetime import date, timedelta
from typing import Final

from lakemap.basis.records import Season

DAYS_A_YEAR: Final = 365.25
_FAR_YEARS: Final = 200.0  # beyond, a date says nothing


def years_between(first: date, last: date) -> float:
    """Return the years from one day to another, 365.25 days each.

    Parameters
    ----------
    first, last : date
        Days; below 0 where the second is the earlier.

    Returns
    -------
    float
        Years.
    """
    return (last - first).days / DAYS_A_YEAR


def years_after(day: date, years: float) -> date | None:
    """Return the day some years later: the same day of the year for whole years.

    Parameters
    ----------
    day : date
        From.
    years : float
        At least 0; NaN is not known.

    Returns
    -------
    date or None
        The last day that is not later; None where it is not known or too far off to say.
    """
    if not 0 <= years <= _FAR_YEARS:
        return None
    if years == int(years):
        return _in_year(day.year + int(years), day.month, day.day)
    return day + timedelta(days=int(years * DAYS_A_YEAR))


def next_day(month_day: str | None, on: date) -> date | None:
    """Return the next such day of the year, today included.

    Parameters
    ----------
    month_day : str or None
        As `05-15`.
    on : date
        From.

    Returns
    -------
    date or None
        None where none is given.
    """
    if month_day is None:
        return None
    month, day = (int(part) for part in month_day.split("-"))
    this_year = _in_year(on.year, month, day)
    return this_year if this_year >= on else _in_year(on.year + 1, month, day)


def season_end(season: Season, on: date) -> date:
    """Return the day until which something is due this season: the next lift day.

    Parameters
    ----------
    season : Season
        Of the settings.
    on : date
        From.

    Returns
    -------
    date
        The end of the year where no lift day is given.
    """
    return next_day(season.lift_on, on) or date(on.year, 12, 31)


def _in_year(year: int, month: int, day: int) -> date:
    """That day, or the last of its month where the year has no such day."""
    return date(year, month, min(day, calendar.monthrange(year, month)[1]))
