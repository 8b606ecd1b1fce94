"""The lines that a device recorded: tracks and routes of a GPX file, the way of an NMEA log."""

from array import array
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Final, Literal

import numpy as np

from lakemap.basis.records import FloatArray
from lakemap.gathering.gpx_track import degrees_of, moment_of
from lakemap.gathering.kinds import format_of
from lakemap.gathering.lines import Tally, byte_lines, refused
from lakemap.gathering.nmea import FIXES, WrongSum, fix_of, sentences
from lakemap.gathering.xml_points import gpx_points

MOST_POINTS: Final = 500_000  # ours: one a second for nearly six days


@dataclass(frozen=True, slots=True, kw_only=True)
class Track:
    """One line."""

    of: Literal["track", "route", "log"]
    number: int  # among the file's lines, from 1
    lonlat: FloatArray  # [n, 2], as recorded; none doubled at once
    day: date | None  # of its first point with a time

    @property
    def called(self) -> str:
        """How it is named in a sentence."""
        return "the log" if self.of == "log" else f"{self.of} {self.number}"


class _Line:
    """A line while it is read."""

    def __init__(self, of: Literal["track", "route", "log"], number: int) -> None:
        self.of = of
        self.number = number
        self.flat = array("d")
        self.day: date | None = None

    def add(self, lon: float, lat: float, day: date | None) -> None:
        if self.day is None:
            self.day = day
        if len(self.flat) < 2 or self.flat[-2] != lon or self.flat[-1] != lat:  # noqa: PLR2004
            self.flat.extend((lon, lat))

    def whole(self) -> Track:
        lonlat = np.frombuffer(self.flat, dtype=np.float64).reshape(-1, 2).copy()
        return Track(of=self.of, number=self.number, lonlat=lonlat, day=self.day)


def tracks_in(path: Path, *, tally: Tally) -> list[Track]:
    """Read the lines of a file.

    Parameters
    ----------
    path : Path
        GPX, or an NMEA log, whose positions are one line.
    tally : Tally
        Gains what is left out.

    Returns
    -------
    list of Track
        In the file's order; all segments of a GPX track are one line.

    Raises
    ------
    BadInputError
        If the file can't be read, or holds more than 500,000 points.
    """
    found: dict[int, _Line] = {}
    points = _log(path, tally) if format_of(path) == "nmea" else _gpx(path, tally)
    for count, (line, lon, lat, day) in enumerate(points, start=1):
        if count > MOST_POINTS:
            text = f"there are more than {MOST_POINTS:,} points in it; export it with fewer"
            raise refused(path, "too_long", text)
        found.setdefault(line.number, line).add(lon, lat, day)
    return [line.whole() for line in found.values()]


def _gpx(path: Path, tally: Tally) -> Iterator[tuple[_Line, float, float, date | None]]:
    line = _Line("track", 0)
    for number, point in enumerate(gpx_points(path), start=1):
        if point.of == "waypoint":
            continue
        if point.line != line.number:
            line = _Line(point.of, point.line)
        try:
            lon, lat = degrees_of(point)
        except ValueError as error:
            tally.leave("a point that can't be read", f"point {number}: {error}")
            continue
        day = None
        if line.day is None and (moment := moment_of(point.time)) is not None:
            day = moment.date()
        yield line, lon, lat, day


def _log(path: Path, tally: Tally) -> Iterator[tuple[_Line, float, float, date | None]]:
    line = _Line("log", 1)
    for number, text in enumerate(byte_lines(path), start=1):
        for one in sentences(text, FIXES):
            if isinstance(one, WrongSum):
                tally.leave("a sentence whose checksum is wrong", f"line {number}: {one.kind}")
                continue
            try:
                fix = fix_of(one)
            except ValueError as error:
                tally.leave("a sentence that can't be read", f"line {number}: {error}")
                continue
            if fix is not None:
                yield line, fix.lon, fix.lat, fix.day
