"""Which columns of a sounder's table hold position, depth and time, by their plain names."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from lakemap.basis.quantities import FOOT_M

_WORDS: Final = re.compile(r"[a-z]+")
_CAMEL: Final = re.compile(r"(?<=[a-z])(?=[A-Z])")
_LAT: Final = frozenset({"lat", "latitude"})
_LON: Final = frozenset({"lon", "lng", "long", "longitude"})
_X: Final = frozenset({"x", "easting", "east"})
_Y: Final = frozenset({"y", "northing", "north"})
_DEPTH: Final = frozenset({"depth", "depths", "waterdepth", "sounding"})
_OTHER: Final = frozenset(  # words that make a depth one of something else
    {"transducer", "keel", "offset", "temperature", "temp", "quality", "scale", "min", "max"}
)
_TIME: Final = frozenset({"date", "time", "datetime", "timestamp", "utc", "day"})
_LEVEL: Final = frozenset({"level", "gauge", "stage"})
_UNITS: Final = {
    "ft": FOOT_M.value, "feet": FOOT_M.value, "foot": FOOT_M.value,
    "m": 1.0, "meter": 1.0, "meters": 1.0, "metre": 1.0, "metres": 1.0,
    "cm": 0.01, "mm": 0.001, "fathom": 6 * FOOT_M.value, "fathoms": 6 * FOOT_M.value,
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """Places of the columns in a row."""

    kind: Literal["degrees", "xy"]
    first: int  # lon or x
    second: int  # lat or y
    depth: int
    depth_name: str
    depth_unit_m: float | None  # of the header; None: it names none
    time: int | None  # date, or date and time
    others: tuple[str, ...]  # other columns that would be a depth, too
    level_name: str | None  # a column of the lake's level


def find_columns(header: Sequence[str]) -> Columns:
    """Find the columns of a table of soundings.

    Parameters
    ----------
    header : sequence of str
        Names as written, such as `Latitude`, `lng`, `Water Depth (ft)`.

    Returns
    -------
    Columns
        Of several depths the first whose name has a unit, else the first.

    Raises
    ------
    ValueError
        If position or depth is not there; the text says what would be right.
    """
    words = [_words_of(name) for name in header]
    lat, lon = _first(words, _LAT), _first(words, _LON)
    x, y = _first(words, _X), _first(words, _Y)
    depths = [k for k, one in enumerate(words) if one & _DEPTH and not one & _OTHER]
    missing = []
    is_xy = (lat is None or lon is None) and x is not None and y is not None
    if (lat is None or lon is None) and not is_xy:
        missing.append("position (lat and lon, or x and y)")
    if not depths:
        missing.append("depth (depth_ft or depth_m)")
    if missing:
        shown = ", ".join(header)[:200]
        raise ValueError(f"the header names no {' and no '.join(missing)}; it has: {shown}")
    depth = next((k for k in depths if words[k] & _UNITS.keys()), depths[0])
    unit = min(words[depth] & _UNITS.keys(), default=None)
    level = next((k for k, one in enumerate(words) if one & _LEVEL and k not in depths), None)
    dates = [k for k, one in enumerate(words) if one & _TIME]
    dated = next((k for k in dates if words[k] & {"date", "datetime", "timestamp"}), None)
    first, second = (x, y) if is_xy else (lon, lat)
    if first is None or second is None:
        raise AssertionError("a missing position was told")  # pragma: no cover
    return Columns(
        kind="xy" if is_xy else "degrees",
        first=first,
        second=second,
        depth=depth,
        depth_name=header[depth],
        depth_unit_m=None if unit is None else _UNITS[unit],
        time=dated if dated is not None else next(iter(dates), None),
        others=tuple(header[k] for k in depths if k != depth),
        level_name=None if level is None else header[level],
    )


def _words_of(name: str) -> frozenset[str]:
    """Words of a name: `WaterDepth_ft`, `Depth (Feet)` and `depth ft` say the same."""
    return frozenset(_WORDS.findall(_CAMEL.sub(" ", name).lower()))


def _first(words: Sequence[frozenset[str]], wanted: frozenset[str]) -> int | None:
    return next((k for k, one in enumerate(words) if one & wanted), None)
