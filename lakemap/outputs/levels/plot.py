"""The lake's level over time, as an SVG: the readings, low, normal and high, each year's lowest."""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from html import escape
from typing import Final

import numpy as np
import shapely

from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import FloatArray, Units
from lakemap.basis.wording import MINUS, Rounding, length_unit
from lakemap.lake.gauge import Readings, runs_of
from lakemap.outputs.drawn.axes import round_steps
from lakemap.outputs.drawn.placer import HALO, INK, Anchor, Placer, Point
from lakemap.outputs.levels.words import level_figure, lows_words, period_words
from lakemap.outputs.words.texts import ENGLISH, Texts
from lakemap.season.levels import LakeLevels

_WIDTH, _HEIGHT = 396.0, 220.0
_LEFT, _TOP, _BOTTOM = 34.0, 22.0, 26.0
_BASE: Final = _HEIGHT - _BOTTOM
_POINTER: Final = 11.0  # from the plot to a name at its right
_LETTER: Final = 7.4  # a letter's width, on the wide side
_LINE: Final = 14.0  # between texts at the right
_SEEN: Final = 0.5  # px: a bend of the line smaller than this is not
_LEAST_DAYS, _LEAST_M = 30.0, 0.3  # of the axes, however few the readings
_YEARS_FROM: Final = 800  # days from which the axis has years, not months
_INK2: Final = "#46565F"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Frame:
    """Where days and levels stand on the picture."""

    first: float  # days since 1970-01-01
    last: float
    low_m: float
    high_m: float
    end: float  # px, where the plot ends at the right

    def x(self, day: float) -> float:
        """Across."""
        return _LEFT + (day - self.first) / (self.last - self.first) * (self.end - _LEFT)

    def y(self, level_m: float) -> float:
        """Down."""
        return _BASE - (level_m - self.low_m) / (self.high_m - self.low_m) * (_BASE - _TOP)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Name:
    """A level, and what is written at it."""

    level_m: float
    text: str


def level_plot_svg(levels: LakeLevels, *, units: Units, texts: Texts = ENGLISH) -> str:
    """Return the plot; no line crosses a time that nobody looked at the gauge.

    Parameters
    ----------
    levels : LakeLevels
        Of the field.
    units : {'ft-lb', 'm-kg'}
        What people use.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        SVG.
    """
    names = _named(levels, units, texts)
    frame = _frame(levels, max(len(one.text) for one in names))
    lines = [_pixels(levels.readings, part, frame) for part in runs_of(levels.readings)]
    high, normal, low = (frame.y(m) for m in (levels.high_m, levels.normal_m, levels.low_m))
    title = escape(texts.of("gauge_plot.title", period=period_words(levels, texts=texts)))
    says = escape(lows_words(levels, units=units, texts=texts))
    return "".join(
        [
            f'<svg class="side" viewBox="0 0 {_WIDTH:g} {_HEIGHT:g}" role="img" fill="none"'
            f' font-family="system-ui, sans-serif"><title>{title}</title><desc>{says}</desc>',
            f'<rect width="{_WIDTH:g}" height="{_HEIGHT:g}" fill="#F7FAFB"/>',
            f'<rect x="{_LEFT:g}" y="{high:.1f}" width="{frame.end - _LEFT:.1f}"'
            f' height="{low - high:.1f}" fill="#CDE4EA"/>',
            f'<path d="M{_LEFT:g} {normal:.1f}H{frame.end:.1f}" stroke="#3E7391"'
            ' stroke-width="1.4"/>',
            *_axes(frame, units),
            *_names(names, levels, frame),
            f'<path d="{"".join(_line(line) for line in lines)}" stroke="{INK}"'
            ' stroke-width="1.5" stroke-linejoin="round" stroke-linecap="round"/>',
            *_lows(levels, frame, lines, units),
            "</svg>",
        ]
    )


def _frame(levels: LakeLevels, longest: int) -> _Frame:
    """Room at the right for the longest name, above and below for the figures of lows."""
    day = levels.readings.day
    spare = max(_LEAST_DAYS - float(day[-1] - day[0]), 0.0) / 2
    heights = [
        levels.lowest.level_m, levels.highest.level_m, levels.settings.low_m,
        levels.settings.high_m,
    ]  # fmt: skip
    low, high = min(heights), max(heights)
    range_m = max(high - low, _LEAST_M)
    return _Frame(
        first=float(day[0]) - spare,
        last=float(day[-1]) + spare,
        low_m=(low + high) / 2 - range_m * 0.68,
        high_m=(low + high) / 2 + range_m * 0.55,
        end=_WIDTH - min(longest * _LETTER + _POINTER + 2, _WIDTH / 2),
    )


def _pixels(readings: Readings, part: slice, frame: _Frame) -> FloatArray:
    """A stretch of readings, without what nobody sees: small bends, many in one half pixel."""
    day, level = readings.day[part], readings.level_m[part]
    xy = np.column_stack([[frame.x(one) for one in day], [frame.y(one) for one in level]])
    if len(xy) == 1:
        return xy
    column = np.floor(xy[:, 0] / _SEEN)
    by_height = np.lexsort([xy[:, 1], column])
    edge = np.flatnonzero(np.diff(column)) + 1  # where a half pixel ends
    ends = [by_height[np.append(0, edge)], by_height[np.append(edge, len(xy)) - 1]]
    kept = np.unique(np.concatenate([*ends, [0, len(xy) - 1]]))
    thin: FloatArray = shapely.get_coordinates(
        shapely.simplify(shapely.linestrings(xy[kept]), _SEEN)
    )
    return thin


def _line(xy: FloatArray) -> str:
    """Steps from point to point, in tenths; one reading alone is a dot of the line's width."""
    whole = np.round(xy * 10).astype(int)
    steps = np.diff(whole, axis=0) if len(whole) > 1 else np.zeros((1, 2), dtype=int)
    return f"M{_tenths(whole[0])}l" + " ".join(_tenths(step) for step in steps)


def _tenths(pair: np.ndarray) -> str:
    return " ".join(f"{value / 10:g}" for value in pair.tolist())


def _named(levels: LakeLevels, units: Units, texts: Texts) -> list[_Name]:
    """What is written at the right, from the top down."""
    given = levels.settings
    said: list[tuple[str, float, Rounding]] = [
        ("map_high", given.high_m, "nearest"),
        ("high", levels.high_m, "up"),
        ("normal", levels.normal_m, "nearest"),
        ("low", levels.low_m, "down"),
        ("map_low", given.low_m, "nearest"),
    ]
    named = [
        _Name(
            level_m=level,
            text=texts.of(f"gauge_plot.{key}", level=level_figure(level, units, rounding=rounding)),
        )
        for key, level, rounding in said
    ]
    return sorted(named, key=lambda one: -one.level_m)  # stable: of equal levels as listed


def _names(names: list[_Name], levels: LakeLevels, frame: _Frame) -> Iterator[str]:
    """The map's own levels dashed; every name with a pointer to its height."""
    for level in (levels.settings.high_m, levels.settings.low_m):
        yield (
            f'<path d="M{_LEFT:g} {frame.y(level):.1f}H{frame.end:.1f}" stroke="{INK}"'
            ' stroke-dasharray="5 3"/>'
        )
    stand = _apart([frame.y(one.level_m) for one in names])
    pointers = "".join(
        f"M{frame.end:.1f} {frame.y(one.level_m):.1f}L{frame.end + _POINTER - 3:.1f} {at:.1f}"
        for one, at in zip(names, stand, strict=True)
    )
    yield f'<path d="{pointers}" stroke="#46565F"/><g font-size="12" fill="{INK}">'
    for one, at in zip(names, stand, strict=True):
        yield f'<text x="{frame.end + _POINTER:.1f}" y="{at + 4:.1f}">{escape(one.text)}</text>'
    yield "</g>"


def _apart(heights: list[float]) -> list[float]:
    """The nearest heights at which texts don't touch, kept on the picture."""
    at = list(heights)
    for k in range(1, len(at)):
        at[k] = max(at[k], at[k - 1] + _LINE)
    over = at[-1] - (_HEIGHT - 8)
    if over > 0:
        at[-1] -= over
    for k in range(len(at) - 2, -1, -1):
        at[k] = min(at[k], at[k + 1] - _LINE)
    return at


def _lows(
    levels: LakeLevels, frame: _Frame, lines: list[FloatArray], units: Units
) -> Iterator[str]:
    """A ring at each year's lowest; its figure where there is room, the lowest first."""
    lows = sorted((year.lowest for year in levels.years), key=lambda one: one.level_m)
    at = [_at(frame, one.on, one.level_m) for one in lows]
    yield f'<g fill="#fff" stroke="{INK}" stroke-width="1.6">'
    yield from (f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3.2"/>' for x, y in at)
    yield f'</g><g text-anchor="middle" font-size="12" fill="{INK}"{HALO}>'
    texts = Placer(_LEFT, 0, frame.end - _LEFT, _BASE)
    for line in lines:
        texts.take_line([(float(x), float(y)) for x, y in line], 4.0)
    texts.take(*((x - 4, y - 4, 8, 8) for x, y in at))
    dashed = (levels.settings.low_m, levels.settings.high_m)  # a minus would pass for a dash
    texts.take(*((_LEFT, frame.y(level) - 1, frame.end - _LEFT, 2) for level in dashed))
    for one, (x, y) in zip(lows, at, strict=True):
        places: list[tuple[float, float, Anchor]] = [(x, y + 13, "middle"), (x, y + 19, "middle")]
        places += [(x + 7, y, "start"), (x - 7, y, "end"), (x, y - 13, "middle")]
        text = level_figure(one.level_m, units)
        found, (left, top, wide, _) = texts.put([text], places, must=False)
        if found:
            yield f'<text x="{left + wide / 2:.1f}" y="{top + 12:.1f}">{escape(text)}</text>'
    yield "</g>"


def _at(frame: _Frame, day: date, level_m: float) -> Point:
    return frame.x((day - date(1970, 1, 1)).days), frame.y(level_m)


def _axes(frame: _Frame, units: Units) -> Iterator[str]:
    per_m = 1 / FOOT_M.value if units == "ft-lb" else 1.0
    yield f'<g font-size="11" fill="{_INK2}" text-anchor="end">'
    yield f'<text x="{_LEFT - 6:g}" y="13">{length_unit(units)}</text>'
    ticks = []
    for value in round_steps(frame.low_m * per_m, frame.high_m * per_m, 6):
        y = frame.y(value / per_m)
        ticks.append(f"M{_LEFT:g} {y:.1f}h-4")
        text = f"{value:g}".replace("-", MINUS)
        yield f'<text x="{_LEFT - 6:g}" y="{y + 4:.1f}">{text}</text>'
    yield f'</g><g font-size="11" fill="{_INK2}" text-anchor="middle">'
    for at, text in _times(frame, ticks):
        yield f'<text x="{at:.1f}" y="{_BASE + 16:g}">{text}</text>'
    yield (
        f'</g><path d="{"".join(ticks)}" stroke="{_INK2}"/>'
        f'<path d="M{_LEFT:g} {_TOP:g}V{_BASE:g}H{frame.end:.1f}" stroke="{INK}"'
        ' stroke-width="1.2"/>'
    )


def _times(frame: _Frame, ticks: list[str]) -> Iterator[tuple[float, str]]:
    """Years with their number in the middle; of a short record months, as 2025-06."""
    starts = list(_starts(frame))
    is_years = frame.last - frame.first >= _YEARS_FROM
    wide = frame.end - _LEFT
    every = max(1, math.ceil(len(starts) * (40 if is_years else 62) / wide))
    for k, (day, name) in enumerate(starts):
        x = frame.x(day)
        if x >= _LEFT:
            ticks.append(f"M{x:.1f} {_BASE:g}v4")
        end = starts[k + 1][0] if k + 1 < len(starts) else frame.last
        at = (max(x, _LEFT) + frame.x(min(end, frame.last))) / 2 if is_years else x
        if k % every == 0 and _LEFT + 10 <= at <= frame.end - 10:
            yield at, name


def _starts(frame: _Frame) -> Iterator[tuple[float, str]]:
    """First days of years, or of months, from the one that the plot begins in."""
    zero = date(1970, 1, 1)
    is_years = frame.last - frame.first >= _YEARS_FROM
    step: Callable[[date], date] = _next_year if is_years else _next_month
    day = zero + timedelta(days=int(frame.first))
    day = day.replace(month=1, day=1) if is_years else day.replace(day=1)
    while (day - zero).days <= frame.last:
        yield float((day - zero).days), str(day.year) if is_years else f"{day:%Y-%m}"
        day = step(day)


def _next_year(day: date) -> date:
    return day.replace(year=day.year + 1)


def _next_month(day: date) -> date:
    return (day.replace(day=28) + timedelta(days=4)).replace(day=1)
