"""A GPX file with depths in its points' extensions, as soundings."""

import math
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from lakemap.basis.quantities import FOOT_M, parse_quantity
from lakemap.gathering.batches import Row
from lakemap.gathering.lines import Tally
from lakemap.gathering.records import Asked
from lakemap.gathering.xml_points import Point, gpx_points

_UNITS: Final = {
    "ft": FOOT_M.value, "feet": FOOT_M.value, "foot": FOOT_M.value,
    "m": 1.0, "metre": 1.0, "metres": 1.0, "meter": 1.0, "meters": 1.0,
}  # fmt: skip


def gpx_rows(path: Path, asked: Asked, tally: Tally) -> Iterator[Row]:
    """Read the depths of a GPX file.

    Parameters
    ----------
    path : Path
        The file.
    asked : Asked
        Of `gather`; `depth_unit` overrides the metres that GPX is written in.
    tally : Tally
        Gains what is left out.

    Yields
    ------
    Row
        One for each point with a depth.
    """
    below = math.nan if asked.transducer_depth_m is None else asked.transducer_depth_m
    if asked.transducer_depth_m is None:
        tally.tell("no offset")
    for number, point in enumerate(gpx_points(path), start=1):
        tally.read = number
        if not point.depth:
            tally.leave("a point without a depth", f"point {number}")
            continue
        try:
            lon, lat = degrees_of(point)
            read_m = _depth_m(point, asked)
        except ValueError as error:
            tally.leave("a point that can't be read", f"point {number}: {error}")
            continue
        yield Row(lon, lat, read_m, below, number, _day(point.time, asked))


def degrees_of(point: Point) -> tuple[float, float]:
    """Return a point's position.

    Parameters
    ----------
    point : Point
        As written.

    Returns
    -------
    tuple of float
        lon, lat, WGS 84 degrees.

    Raises
    ------
    ValueError
        If it is on no map; the text shows it.
    """
    try:
        lon, lat = float(point.lon), float(point.lat)
    except ValueError:
        lon = lat = math.nan
    if not (abs(lat) <= 90 and abs(lon) <= 180):  # noqa: PLR2004 - NaN compares false
        raise ValueError(f"lat {point.lat!r}, lon {point.lon!r} is no position")
    return lon, lat


def moment_of(text: str) -> datetime | None:
    """Return a point's time, in UTC where it names its zone; None where there is none."""
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        return None
    return moment if moment.tzinfo is None else moment.astimezone(UTC)


def _day(text: str, asked: Asked) -> int:
    moment = moment_of(text)
    if moment is not None:
        return moment.toordinal()
    return 0 if asked.day is None else asked.day.toordinal()


def _depth_m(point: Point, asked: Asked) -> float:
    try:
        value = float(point.depth)
    except ValueError:
        return _with_unit(point.depth)
    unit = asked.depth_unit or point.unit.lower() or "m"
    if unit not in _UNITS:
        raise ValueError(f"unit {point.unit!r} of the depth is none of ft, m")
    if not math.isfinite(value):
        raise ValueError(f"depth {point.depth!r} is no number")
    return value * _UNITS[unit]


def _with_unit(text: str) -> float:
    """Read a depth that carries its own unit [m]."""
    try:
        return parse_quantity(text, "length")
    except ValueError:
        raise ValueError(f"depth {text!r} is no number") from None
