"""A log of NMEA sentences as soundings: each depth between the fixes before and after it.

Depth sentences carry no time. They are taken to be spread evenly over the time between the fixes
that they stand between; the position follows by a straight line.
"""

import math
from collections.abc import Iterator
from pathlib import Path
from typing import Final, NamedTuple

from lakemap.gathering.batches import Row
from lakemap.gathering.lines import Tally, byte_lines
from lakemap.gathering.nmea import (
    DEPTHS,
    FIXES,
    Fix,
    Sentence,
    Sounded,
    WrongSum,
    depth_of,
    fix_of,
    sentences,
)
from lakemap.gathering.records import Asked

MOST_GAP_S: Final = 10.0  # ours: in it a boat at 5 mph goes 22 m, and may well turn
_MOST_WAITING: Final = 2_000  # depths without a fix that are remembered
_MOST_OFFSETS: Final = 5  # different ones that are named
_JUMP_M: Final = 30.0  # ours: with the speed, what a receiver's unrest and its last digit explain
_FASTEST_M_S: Final = 25.0  # ours: no boat sounds at 56 mph
_DEGREE_M: Final = 111_320.0  # of the equator; good to a hundredth everywhere
_DAY_S: Final = 86_400
_WANTED: Final = FIXES | DEPTHS


class _Last(NamedTuple):
    """The fix before."""

    at_s: float  # since the log's first midnight
    lon: float
    lat: float


class NmeaLog:
    """Turns the sentences of one log into soundings.

    Parameters
    ----------
    asked : Asked
        Of `gather`.
    tally : Tally
        Gains what is left out and what the log says of its sounder.
    """

    def __init__(self, asked: Asked, tally: Tally) -> None:
        self._asked = asked
        self._tally = tally
        self._last: _Last | None = None
        self._first_day: int | None = None  # of the log, by its RMC; a date's ordinal
        self._days = 0  # midnights since
        self._clock_s = -1.0
        self._waiting: list[tuple[int, Sounded]] = []
        self._has_sums = False
        self._offset_m: float | None = None  # the last that led to the surface

    def rows(self, path: Path) -> Iterator[Row]:
        """Read the log line by line.

        Parameters
        ----------
        path : Path
            The file.

        Yields
        ------
        Row
            In order.
        """
        for number, line in enumerate(byte_lines(path), start=1):
            self._tally.read = number
            for one in sentences(line, _WANTED) if b"$" in line or b"!" in line else ():
                yield from self._take(one, number)
        self._forget("no position after it, within 10 seconds")

    def _take(self, one: Sentence | WrongSum, number: int) -> Iterator[Row]:
        if isinstance(one, WrongSum):
            self._has_sums = True
            says = f"line {number}: {one.kind} says {one.says}, is {one.summed}"
            self._tally.leave("the checksum is wrong: damaged on its way", says)
            return
        if self._has_sums and not one.checked:
            self._tally.leave("no checksum, where others have one: cut short", f"line {number}")
            return
        self._has_sums |= one.checked
        try:
            if one.kind in FIXES:
                yield from self._fix(fix_of(one), number)
            else:
                self._depth(depth_of(one), one.kind, number)
        except ValueError as error:
            self._tally.leave(
                "a sentence that can't be read", f"line {number}: {one.kind}, {error}"
            )

    def _depth(self, sounded: Sounded | None, kind: str, number: int) -> None:
        if sounded is None:
            self._tally.leave("no depth in it: the sounder had lost the bottom", f"line {number}")
        elif kind == "DBK" and self._asked.transducer_depth_m is None:
            words = (
                "depth below the keel (DBK), which tells nothing of the surface; give the keel's"
                " depth as --transducer-depth"
            )
            self._tally.leave(words, f"line {number}")
        else:
            self._waiting.append((number, sounded))
            if len(self._waiting) >= _MOST_WAITING:
                self._forget("no position before and after it, within 10 seconds")

    def _fix(self, fix: Fix | None, number: int) -> Iterator[Row]:
        if fix is None:
            words = "a position that the receiver itself doesn't vouch for (no fix)"
            self._tally.leave(words, f"line {number}")
            return
        at_s = self._moment(fix)
        last = self._last
        if last is not None and at_s == last.at_s:  # GGA and RMC of one moment
            return
        self._last = _Last(at_s, fix.lon, fix.lat)
        if last is None or not 0 < at_s - last.at_s <= MOST_GAP_S:
            self._forget("no position before and after it, within 10 seconds")
            return
        if _way_m(last, self._last) > _JUMP_M + _FASTEST_M_S * (at_s - last.at_s):
            self._forget("between two positions so far apart that one of them is wrong")
            return
        yield from self._between(last, self._last)

    def _moment(self, fix: Fix) -> float:
        """Seconds since the log's first midnight; a clock that falls back by half a day went on."""
        if fix.day is not None:
            if self._first_day is None:
                self._first_day = fix.day.toordinal() - self._days
            self._days = fix.day.toordinal() - self._first_day
        elif fix.seconds < self._clock_s - _DAY_S / 2:
            self._days += 1
        self._clock_s = fix.seconds
        return self._days * _DAY_S + fix.seconds

    def _between(self, before: _Last, after: _Last) -> Iterator[Row]:
        """Depths that stand between two fixes, the best sentence of the sounder only."""
        waiting, self._waiting = self._waiting, []
        if not waiting:
            return
        best = min(self._rank(one) for _, one in waiting)
        chosen = [(line, one) for line, one in waiting if self._rank(one) == best]
        if len(chosen) < len(waiting):
            self._tally.tell("doubled", len(waiting) - len(chosen))
        day = self._day()
        for k, (line, one) in enumerate(chosen, start=1):
            share = k / (len(chosen) + 1)
            yield Row(
                lon=before.lon + share * (after.lon - before.lon),
                lat=before.lat + share * (after.lat - before.lat),
                read_m=one.depth_m,
                below_m=self._below(one),
                line=line,
                day=day,
            )

    def _day(self) -> int:
        """Ordinal of the date; 0 where neither log nor user tells it."""
        if self._first_day is not None:
            return self._first_day + self._days
        return 0 if self._asked.day is None else self._asked.day.toordinal() + self._days

    def _rank(self, one: Sounded) -> int:
        """Which sentence to trust where the sounder tells a depth in several; 0 is the best."""
        if one.kind == "DPT" and (self._asked.transducer_depth_m is not None or _is_up(one)):
            return 0
        return {"DBS": 1, "DPT": 2, "DBT": 3, "DBK": 4}[one.kind]

    def _below(self, one: Sounded) -> float:
        """How far below the surface this depth was measured from; NaN: nobody said."""
        if one.kind == "DBS":
            self._tally.tell("DBS")
            return 0.0
        given = self._asked.transducer_depth_m
        if _is_up(one):
            self._offset_m = one.offset_m
        if one.offset_m and len(self._tally.offsets_m) < _MOST_OFFSETS:
            self._tally.offsets_m.add(one.offset_m)
        if given is not None:
            return given
        if self._offset_m is not None:  # of the same sounder, in whichever sentence
            return self._offset_m
        self._tally.tell("no offset")
        return math.nan

    def _forget(self, words: str) -> None:
        if self._waiting:
            self._tally.leave(words, f"line {self._waiting[0][0]}", len(self._waiting))
            self._waiting = []


def _way_m(before: _Last, after: _Last) -> float:
    east = (after.lon - before.lon) * math.cos(math.radians(after.lat))
    return _DEGREE_M * math.hypot(east, after.lat - before.lat)


def _is_up(one: Sounded) -> bool:
    return one.offset_m is not None and one.offset_m > 0
