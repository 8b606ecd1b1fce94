"""How the lake stood on the day of a sounding, by the readings of its gauge."""

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, Final

from lakemap.basis.records import Field

MOST_DAYS: Final = 14  # ours: from the nearest reading; gauges are read about so often


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelThen:
    """The level on one day."""

    level_m: float  # on the lake's own gauge
    by: tuple[date, ...]  # of the readings it is from
    is_read: bool  # False: nobody read the gauge near that day; the normal level is taken


def level_then(day: date | None, field: Field) -> LevelThen:
    """Return the lake's level on a day.

    Between two readings the level runs straight. The nearest reading must lie within 14 days; else,
    and without a day, the normal level is taken, and said not to be read.

    Parameters
    ----------
    day : date or None
        Of the soundings; None: not known.
    field : Field
        With the readings of its `levels` file.

    Returns
    -------
    LevelThen
        On the field's gauge.
    """
    readings = _by_day(field.gauge)
    if day is None or not readings:
        return _unread(field)
    days = sorted(readings)
    at = bisect_left(days, day)
    before, after = days[max(at - 1, 0)], days[min(at, len(days) - 1)]
    if day in readings:
        before = after = day
    near = (before, after)
    share = 0.0 if before == after else (day - before) / (after - before)
    if min(abs((day - one).days) for one in near) > MOST_DAYS:
        return _unread(field)
    level = readings[near[0]] + share * (readings[near[1]] - readings[near[0]])
    return LevelThen(level_m=level, by=tuple(dict.fromkeys(near)), is_read=True)


def _unread(field: Field) -> LevelThen:
    return LevelThen(level_m=field.settings.levels.normal_m, by=(), is_read=False)


def _by_day(gauge: Sequence[Mapping[str, Any]]) -> dict[date, float]:
    """Readings by day; the mean of several on one."""
    found: dict[date, list[float]] = {}
    for row in gauge:
        if row["date"] is not None and row["level_m"] is not None:
            found.setdefault(row["date"], []).append(row["level_m"])
    return {day: sum(levels) / len(levels) for day, levels in found.items()}
