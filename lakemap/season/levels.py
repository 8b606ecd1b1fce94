"""Low, normal and high water by a lake's own gauge readings, beside those of its settings."""

from dataclasses import dataclass
from datetime import date

import numpy as np

from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.records import Field, Levels
from lakemap.basis.wording import length_unit
from lakemap.lake.gauge import (
    Gap,
    Reading,
    Readings,
    YearRead,
    highest_of,
    longest_gap,
    lowest_of,
    readings_of,
    years_read,
)
from lakemap.lake.gauge_time import covered_days, levels_stood, likely_slips, usual_interval

_SAME_M = 1e-9  # a reading in feet that is the level of the settings is neither above nor below it


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedLevels:
    """Which readings count, and which shares of the time low and high stand for."""

    since: date | None = None
    until: date | None = None
    low_share: float = 0.02  # the lake stood at or below low for this share of the time
    high_share: float = 0.98


@dataclass(frozen=True, slots=True, kw_only=True)
class LakeLevels:
    """What the readings say."""

    asked: AskedLevels
    settings: Levels
    readings: Readings
    low_m: float
    normal_m: float
    high_m: float
    lowest: Reading
    highest: Reading
    years: tuple[YearRead, ...]
    covered_days: float
    usual_days: float  # between readings
    gap: Gap | None
    below: int  # readings below the settings' low
    above: int  # readings above the settings' high
    slips: tuple[Reading, ...]  # that look like slips of the pen


def read_levels(field: Field, *, asked: AskedLevels) -> LakeLevels:
    """Return what a field's gauge readings say.

    Parameters
    ----------
    field : Field
        With a levels file.
    asked : AskedLevels
        The period and the shares.

    Returns
    -------
    LakeLevels
        Of the readings in the period.

    Raises
    ------
    BadInputError
        If the field has no reading, or none in the period.
    """
    readings = _within(_all_of(field), asked)
    low, normal, high = levels_stood(readings, [asked.low_share, 0.5, asked.high_share]).tolist()
    given = field.settings.levels
    below, above = _beyond(readings, given)
    return LakeLevels(
        asked=asked,
        settings=given,
        readings=readings,
        low_m=low,
        normal_m=normal,
        high_m=high,
        lowest=lowest_of(readings),
        highest=highest_of(readings),
        years=years_read(readings),
        covered_days=covered_days(readings),
        usual_days=usual_interval(readings),
        gap=longest_gap(readings),
        below=below,
        above=above,
        slips=tuple(
            Reading(on=readings.date_of(k), level_m=float(readings.level_m[k]))
            for k in likely_slips(readings).tolist()
        ),
    )


def has_readings(field: Field) -> bool:
    """Tell whether a field has gauge readings.

    Parameters
    ----------
    field : Field
        As read.

    Returns
    -------
    bool
        False without a levels file, and where it holds its header alone.
    """
    return any(_is_whole(row["date"], row["level_m"]) for row in field.gauge)


def readings_beyond(field: Field) -> tuple[int, int]:
    """Return how many gauge readings lie outside the levels of the settings.

    Parameters
    ----------
    field : Field
        As read.

    Returns
    -------
    tuple of int
        Below low and above high.
    """
    if not has_readings(field):
        return 0, 0
    return _beyond(_all_of(field), field.settings.levels)


def _beyond(readings: Readings, given: Levels) -> tuple[int, int]:
    below = readings.level_m < given.low_m - _SAME_M
    above = readings.level_m > given.high_m + _SAME_M
    return int(below.sum()), int(above.sum())


def _is_whole(day: date | None, level_m: float | None) -> bool:
    return day is not None and level_m is not None


def _all_of(field: Field) -> Readings:
    """Every reading, or one problem that says how to write some."""
    rows = [row for row in field.gauge if _is_whole(row["date"], row["level_m"])]
    if not rows:
        unit = length_unit(field.settings.units)
        text = (
            f"there are no gauge readings; write one a row under `date,level_{unit}`, such as"
            " `2025-06-12,-0.3`"
        )
        raise BadInputError([Problem(code="no_levels", text=text, file="levels.csv")])
    return readings_of([row["date"] for row in rows], [row["level_m"] for row in rows])


def _within(readings: Readings, asked: AskedLevels) -> Readings:
    """The readings of a period, its ends included."""
    days = [readings.date_of(k) for k in range(len(readings.day))]
    since, until = asked.since or date.min, asked.until or date.max
    kept = np.array([since <= day <= until for day in days])
    if not kept.any():
        text = f"no reading in this period; the readings run from {days[0]} to {days[-1]}"
        column = "--until" if asked.since is None else "--since"
        raise BadInputError([Problem(code="no_levels", text=text, column=column)])
    return Readings(day=readings.day[kept], level_m=readings.level_m[kept])
