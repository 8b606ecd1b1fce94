"""Readings of the lake's gauge: their order, their gaps, each year's lowest and highest."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.records import FloatArray, IntArray

GAP_DAYS: Final = 60.0  # ours: two months, in which a lake may well have fallen and risen again
_DAY_ZERO: Final = date(1970, 1, 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Readings:
    """Gauge readings in order of time; shape [n], n >= 1."""

    day: IntArray  # days since 1970-01-01
    level_m: FloatArray  # on the lake's own gauge, up is +

    def date_of(self, index: int) -> date:
        """Return when one was read.

        Parameters
        ----------
        index : int
            Which.

        Returns
        -------
        date
            Its day.
        """
        return _DAY_ZERO + timedelta(days=int(self.day[index]))


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One reading."""

    on: date
    level_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """Time between two readings."""

    days: int
    start: date
    end: date


@dataclass(frozen=True, slots=True, kw_only=True)
class YearRead:
    """What was read in one calendar year."""

    year: int
    count: int
    lowest: Reading
    highest: Reading


def readings_of(dates: Sequence[date], level_m: ArrayLike) -> Readings:
    """Put readings in order of time.

    Parameters
    ----------
    dates : sequence of date
        When each was read.
    level_m : array_like, shape [n]
        What was read [m].

    Returns
    -------
    Readings
        Those of one day in the order given.

    Raises
    ------
    RangeError
        If there is none, or a level is not finite.
    """
    level = np.asarray(level_m, dtype=np.float64)
    if level.size == 0 or not np.isfinite(level).all():
        raise RangeError("need one reading or more, each a finite level")
    day = np.array([(one - _DAY_ZERO).days for one in dates], dtype=np.int64)
    order = np.argsort(day, kind="stable")
    return Readings(day=day[order], level_m=level[order])


def longest_gap(readings: Readings) -> Gap | None:
    """Return the longest time without a reading.

    Parameters
    ----------
    readings : Readings
        In order.

    Returns
    -------
    Gap or None
        The first of equal ones; None where all were read on one day.
    """
    apart = np.diff(readings.day)
    if not apart.size or apart.max() == 0:
        return None
    k = int(np.argmax(apart))
    return Gap(days=int(apart[k]), start=readings.date_of(k), end=readings.date_of(k + 1))


def lowest_of(readings: Readings) -> Reading:
    """Return the lowest reading, the first of equal ones.

    Parameters
    ----------
    readings : Readings
        In order.

    Returns
    -------
    Reading
        With its day.
    """
    k = int(np.argmin(readings.level_m))
    return Reading(on=readings.date_of(k), level_m=float(readings.level_m[k]))


def highest_of(readings: Readings) -> Reading:
    """Return the highest reading, the first of equal ones.

    Parameters
    ----------
    readings : Readings
        In order.

    Returns
    -------
    Reading
        With its day.
    """
    k = int(np.argmax(readings.level_m))
    return Reading(on=readings.date_of(k), level_m=float(readings.level_m[k]))


def years_read(readings: Readings) -> tuple[YearRead, ...]:
    """Return the lowest and the highest of each calendar year.

    Parameters
    ----------
    readings : Readings
        In order.

    Returns
    -------
    tuple of YearRead
        Years with a reading, in order.
    """
    year = np.array([readings.date_of(k).year for k in range(len(readings.day))])
    found = []
    for one in np.unique(year).tolist():
        kept = year == one
        part = Readings(day=readings.day[kept], level_m=readings.level_m[kept])
        found.append(
            YearRead(
                year=one,
                count=int(kept.sum()),
                lowest=lowest_of(part),
                highest=highest_of(part),
            )
        )
    return tuple(found)


def runs_of(readings: Readings) -> tuple[slice, ...]:
    """Return the stretches of readings without a gap longer than `GAP_DAYS`.

    Parameters
    ----------
    readings : Readings
        In order.

    Returns
    -------
    tuple of slice
        Into the readings, in order; together all of them.
    """
    ends = [0, *(np.flatnonzero(np.diff(readings.day) > GAP_DAYS) + 1).tolist(), len(readings.day)]
    return tuple(slice(a, b) for a, b in pairwise(ends))
