"""How a lake stood over time, by the readings of its gauge.

Readings come when somebody walks past the gauge. So each counts for the time it stands for, not
once: the level is taken to run straight between readings up to `GAP_DAYS` apart; across a longer
gap, such as a winter, nobody knows it, and that time counts for nothing. A reading beside such a
gap, the first and the last stand for half the usual interval on that side.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.records import FloatArray, IntArray
from lakemap.lake.gauge import GAP_DAYS, Readings

_SAME_M: Final = 1e-6  # levels nearer than this are one
_SLIP_LEAST_M: Final = 0.3  # ours: no lake's slip of the pen below this can be told from weather
_SLIP_SPANS: Final = 3.0  # ours: times what the lake does in eight tenths of its time


@dataclass(frozen=True, slots=True, kw_only=True)
class _Spans:
    """Pieces of time in which the level runs straight from one height to another."""

    days: FloatArray
    low_m: FloatArray
    high_m: FloatArray


def usual_interval(readings: Readings) -> float:
    """Return the median of the days between readings of different days.

    Parameters
    ----------
    readings : Readings
        In order.

    Returns
    -------
    float
        Days, at most `GAP_DAYS`; 1 where all were read on one day.
    """
    apart = np.diff(readings.day)
    apart = apart[apart > 0]
    return min(float(np.median(apart)), GAP_DAYS) if apart.size else 1.0


def covered_days(readings: Readings) -> float:
    """Return the time that readings stand for.

    Parameters
    ----------
    readings : Readings
        In order.

    Returns
    -------
    float
        Days, > 0.
    """
    return float(_spans(readings).days.sum())


def levels_stood(readings: Readings, shares: ArrayLike) -> FloatArray:
    """Return the levels at or below which the lake stood for shares of the time.

    The level runs straight between readings, so that the time below a level is a sum of pieces of
    straight lines, and the answer is exact: no sampling. A steady level counts with all its time
    at once.

    Parameters
    ----------
    readings : Readings
        In order.
    shares : array_like, shape [k]
        Of the time that the readings cover, 0 to 1.

    Returns
    -------
    ndarray, shape [k]
        Levels [m]: 0 gives the lowest reading, 0.5 the level below which the lake stood for half
        the time, 1 the highest.

    Raises
    ------
    RangeError
        If a share is not from 0 to 1.
    """
    asked = np.asarray(shares, dtype=np.float64)
    if not ((asked >= 0) & (asked <= 1)).all():
        raise RangeError(f"a share of the time must be from 0 to 1, not {asked.tolist()}")
    level, before, after = _time_below(_spans(readings))
    target = asked * after[-1]
    rounding = 1e-12 * after[-1]
    at = np.minimum(np.searchsorted(after, target - rounding), len(level) - 1)
    # between two breaks the time below grows evenly; at a break it may jump, where a level stood
    last = np.maximum(at - 1, 0)
    rise = before[at] - after[last]
    part = np.clip((target - after[last]) / np.where(rise > 0, rise, 1.0), 0.0, 1.0)
    between = level[last] + part * (level[at] - level[last])
    stood: FloatArray = np.where(rise > 0, between, level[at])
    return stood


def likely_slips(readings: Readings) -> IntArray:
    """Return readings that stick out so far from those before and after that they look like slips.

    Ours: on the same side of both neighbours by more than three times what the lake's level spans
    in eight tenths of the time, and by more than 0.3 m. A drawdown that more than one reading saw
    is none.

    Parameters
    ----------
    readings : Readings
        In order.

    Returns
    -------
    ndarray of int
        Index of each.
    """
    level = readings.level_m
    if len(level) < 3:  # noqa: PLR2004 - itself and two to compare with
        return np.empty(0, dtype=np.int64)
    low, high = levels_stood(readings, [0.1, 0.9])
    step = np.diff(level)
    # the first and the last have one neighbour: it counts for both sides
    back = np.concatenate([[-step[0]], step])
    ahead = np.concatenate([-step, [step[-1]]])
    out = np.where(np.sign(back) == np.sign(ahead), np.minimum(np.abs(back), np.abs(ahead)), 0.0)
    return np.flatnonzero(out > max(_SLIP_LEAST_M, _SLIP_SPANS * float(high - low)))


def _spans(readings: Readings) -> _Spans:
    """The time that readings stand for, in pieces."""
    apart = np.diff(readings.day).astype(np.float64)
    half = usual_interval(readings) / 2
    straight = apart <= GAP_DAYS
    broken = np.concatenate([[True], ~straight, [True]])
    beside = half * (broken[:-1].astype(np.float64) + broken[1:])  # held on the sides of a gap
    first, second = readings.level_m[:-1][straight], readings.level_m[1:][straight]
    return _Spans(
        days=np.concatenate([apart[straight], beside]),
        low_m=np.concatenate([np.minimum(first, second), readings.level_m]),
        high_m=np.concatenate([np.maximum(first, second), readings.level_m]),
    )


def _time_below(spans: _Spans) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Levels where the time below them bends or jumps, and that time just below and at them."""
    level = np.unique(np.concatenate([spans.low_m, spans.high_m]))
    run = spans.high_m - spans.low_m
    steady = run <= _SAME_M
    first, last = np.searchsorted(level, spans.low_m), np.searchsorted(level, spans.high_m)
    count = len(level)
    jump = np.bincount(first[steady], weights=spans.days[steady], minlength=count)
    pace = spans.days[~steady] / run[~steady]  # days a metre
    bend = np.bincount(first[~steady], weights=pace, minlength=count)
    bend -= np.bincount(last[~steady], weights=pace, minlength=count)
    grown = np.cumsum(bend)[:-1] * np.diff(level)
    before = np.concatenate([[0.0], np.cumsum(np.maximum(grown, 0.0) + jump[:-1])])
    return level, before, before + jump
