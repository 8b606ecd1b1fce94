"""Positions as people paste them from a phone: latitude first, in degrees or with minutes."""

import re
from typing import Final

_NUMBER = r"\d+(?:\.\d+)?"
_PART = (
    rf"([-+−]?)({_NUMBER})\s*°?\s*"
    rf"(?:({_NUMBER})\s*['′’]\s*)?(?:({_NUMBER})\s*(?:[\"″”]|''|′′)\s*)?"
)
_HALF = "([NSEW])"
_PAIRS: Final = tuple(
    re.compile(rf"\s*{one}\s*[,;\s]\s*{one}\s*", re.IGNORECASE)
    for one in (rf"{_HALF}\s*{_PART}()", rf"(){_PART}{_HALF}?")
)
_COMMAS: Final = re.compile(r"\s*([-+−]?\d+),(\d+)\s*[,;\s]\s*([-+−]?\d+),(\d+)\s*")
_LAT, _LON = 90.0, 180.0
_EXAMPLE: Final = "write LAT,LON: latitude, then longitude, as 44.0123, -72.0456"


def read_position(text: str) -> tuple[float, float]:
    """Read a position as a phone or a web page gives it.

    Parameters
    ----------
    text : str
        Such as `44.0123, -72.0456`, `44.0123° N 72.0456° W` or `44°00'44.3"N 72°02'44.2"W`.

    Returns
    -------
    tuple of float
        Latitude and longitude, WGS 84 degrees.

    Raises
    ------
    ValueError
        If it is no such pair, or on no map; the text says what would be right.
    """
    if not text.strip():
        raise ValueError(f"no position yet; {_EXAMPLE}")
    decimal_commas = _COMMAS.fullmatch(text)
    plain = "{}.{}, {}.{}".format(*decimal_commas.groups()) if decimal_commas else text
    found = next(filter(None, (pair.fullmatch(plain) for pair in _PAIRS)), None)
    if found is None:
        raise ValueError(f"{text.strip()!r} is no position; {_EXAMPLE}")
    (lat, first), (lon, second) = _degrees(*found.groups()[:6]), _degrees(*found.groups()[6:])
    if first in {"E", "W"} and second in {"N", "S"}:
        lat, lon = lon, lat
    elif (first and first not in {"N", "S"}) or (second and second not in {"E", "W"}):
        raise ValueError(f"{text.strip()!r} names no latitude and longitude; {_EXAMPLE}")
    if abs(lat) > _LAT and abs(lon) <= _LAT:
        raise ValueError(f"{text.strip()!r} looks swapped; write latitude first, as phones do")
    if abs(lat) > _LAT or abs(lon) > _LON:
        raise ValueError(
            f"{text.strip()!r} is on no map; latitude is -90 to 90, longitude -180 to 180"
        )
    return lat, lon


def _degrees(*parts: str | None) -> tuple[float, str]:
    """Return degrees and the letter of one half."""
    before, sign, degrees, minutes, seconds, after = (part or "" for part in parts)
    value = float(degrees) + float(minutes or 0) / 60 + float(seconds or 0) / 3600
    letter = (before or after).upper()
    down = sign in {"-", "−"} or letter in {"S", "W"}
    return (-value if down else value), letter
