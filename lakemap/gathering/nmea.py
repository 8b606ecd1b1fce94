"""NMEA 0183 sentences: checksum, position and depth; pure functions of one line.

Layout of the sentences: NMEA 0183 as its fields are printed in the format notes of public archives
(National Centers for Environmental Information, file format scs_dpt, 2019, for DPT and its offset).
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import reduce
from operator import xor
from types import MappingProxyType
from typing import Final, Literal

from lakemap.basis.quantities import FOOT_M

FIXES: Final = frozenset({"GGA", "RMC", "GLL"})
DEPTHS: Final = frozenset({"DPT", "DBT", "DBS", "DBK"})
# any sentence, behind whatever a logger put before it on the line
SENTENCE: Final = re.compile(rb"[$!]([A-Z0-9]{4,6},[^$!*\r\n]*)(?:\*([0-9A-Fa-f]{2}))?")
_NO_FIX: Final = frozenset({"0", "6", "7", "8"})  # GGA: none, estimated, typed in, simulated
_NO_MODE: Final = frozenset({"N", "E", "M", "S"})  # the same of RMC and GLL
_UNITS: Mapping[str, float] = MappingProxyType({"f": FOOT_M.value, "M": 1.0, "F": 6 * FOOT_M.value})
_NUMBER: Final = re.compile(r"[-+]?\d+\.?\d*")
_CLOCK: Final = re.compile(r"\d{6}(?:\.\d*)?")
_PLACE: Final = re.compile(r"(\d{2,3})(\d{2}(?:\.\d+)?)")
_CENTURY_TURNS: Final = 80  # two digits of a year from here on are of the last century
_MOST_MINUTES: Final = 60.0
_DAY_S: Final = 86_400.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Sentence:
    """One sentence, its checksum seen to be right, or none there."""

    kind: str  # such as GGA
    fields: tuple[str, ...]  # those after the address
    checked: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class WrongSum:
    """One sentence that was damaged on its way."""

    kind: str
    says: str
    summed: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Fix:
    """One position."""

    seconds: float  # since midnight, UTC
    lon: float
    lat: float
    day: date | None  # RMC only


@dataclass(frozen=True, slots=True, kw_only=True)
class Sounded:
    """One depth as the sounder tells it."""

    kind: Literal["DPT", "DBT", "DBS", "DBK"]
    depth_m: float
    offset_m: float | None  # DPT: + from the transducer to the waterline, - to the keel


def checksum(body: bytes) -> int:
    """Return the exclusive-or of all signs between the dollar and the star.

    Parameters
    ----------
    body : bytes
        Without either.

    Returns
    -------
    int
        0 to 255.
    """
    return reduce(xor, body, 0)


def sentences(line: bytes, wanted: frozenset[str]) -> list[Sentence | WrongSum]:
    """Find the sentences of some kinds in one line of a log.

    Parameters
    ----------
    line : bytes
        With or without a time or a number that a logger put in front.
    wanted : frozenset of str
        Such as GGA, DPT; the rest isn't looked at.

    Returns
    -------
    list of Sentence or WrongSum
        In order; mostly one or none.
    """
    found: list[Sentence | WrongSum] = []
    for match in SENTENCE.finditer(line):
        body, told = match.groups()
        address, _, rest = body.partition(b",")
        kind = address[-3:].decode("ascii")
        if kind not in wanted or address.startswith(b"P"):  # P: a maker's own
            continue
        if told is not None and (summed := checksum(body)) != int(told, 16):
            says = told.decode("ascii").upper()
            found.append(WrongSum(kind=kind, says=says, summed=f"{summed:02X}"))
            continue
        fields = tuple(rest.decode("latin-1").strip().split(","))
        found.append(Sentence(kind=kind, fields=fields, checked=told is not None))
    return found


def fix_of(sentence: Sentence) -> Fix | None:
    """Read the position of a GGA, RMC or GLL sentence.

    Parameters
    ----------
    sentence : Sentence
        One of them.

    Returns
    -------
    Fix or None
        None where the receiver had no position of its own (GGA quality 0, estimated, typed in or
        simulated; RMC or GLL status V).

    Raises
    ------
    ValueError
        If a field is not what it should be; the text shows it.
    """
    f = sentence.fields
    place, clock, is_good, day = _PARTS[sentence.kind](f)
    if not is_good:
        return None
    if len(place) < 4:  # noqa: PLR2004 - latitude, its half, longitude, its half
        raise ValueError("the sentence is cut short")
    return Fix(
        seconds=_seconds(clock),
        lat=_degrees(place[0], place[1], "NS", 90.0),
        lon=_degrees(place[2], place[3], "EW", 180.0),
        day=_day(day) if day else None,
    )


def _gga(f: tuple[str, ...]) -> tuple[tuple[str, ...], str, bool, str]:
    return f[1:5], f[0], _at(f, 5) not in {*_NO_FIX, ""}, ""


def _rmc(f: tuple[str, ...]) -> tuple[tuple[str, ...], str, bool, str]:
    return f[2:6], f[0], _at(f, 1) == "A" and _at(f, 11) not in _NO_MODE, _at(f, 8)


def _gll(f: tuple[str, ...]) -> tuple[tuple[str, ...], str, bool, str]:
    return f[0:4], _at(f, 4), _at(f, 5) == "A" and _at(f, 6) not in _NO_MODE, ""


_PARTS = MappingProxyType({"GGA": _gga, "RMC": _rmc, "GLL": _gll})


def _at(fields: tuple[str, ...], index: int) -> str:
    return fields[index].strip() if index < len(fields) else ""


def depth_of(sentence: Sentence) -> Sounded | None:
    """Read the depth of a DPT, DBT, DBS or DBK sentence.

    Parameters
    ----------
    sentence : Sentence
        One of them.

    Returns
    -------
    Sounded or None
        None where the sounder had no depth; of feet, metres and fathoms that with the finest step.

    Raises
    ------
    ValueError
        If a field is not what it should be; the text shows it.
    """
    f = sentence.fields
    if sentence.kind == "DPT":
        if not _at(f, 0):
            return None
        offset = _number(_at(f, 1)) if _at(f, 1) else None
        return Sounded(kind="DPT", depth_m=_number(_at(f, 0)), offset_m=offset)
    told = [
        (_UNITS[unit] * 10.0 ** -len(text.partition(".")[2]), _number(text) * _UNITS[unit])
        for text, unit in ((_at(f, k), _at(f, k + 1)) for k in (0, 2, 4))
        if text and unit in _UNITS
    ]
    if not told:
        return None
    kind: Literal["DBT", "DBS", "DBK"] = (
        "DBT" if sentence.kind == "DBT" else "DBS" if sentence.kind == "DBS" else "DBK"
    )
    return Sounded(kind=kind, depth_m=min(told)[1], offset_m=None)


def _number(text: str) -> float:
    if _NUMBER.fullmatch(text) is None:
        raise ValueError(f"{text!r} is no number")
    return float(text)


def _degrees(text: str, half: str, halves: str, most: float) -> float:
    """Degrees of ddmm.mmmm or dddmm.mmmm."""
    found = _PLACE.fullmatch(text.strip())
    sign = half.strip()
    if found is None or sign not in set(halves):
        raise ValueError(f"{text!r} {half!r} is no position")
    value = int(found[1]) + float(found[2]) / 60
    if float(found[2]) >= _MOST_MINUTES or value > most:
        raise ValueError(f"{text!r} {half!r} is no position")
    return value if sign == halves[0] else -value


def _seconds(text: str) -> float:
    """Seconds since midnight of hhmmss.ss."""
    digits = text.strip()
    if _CLOCK.fullmatch(digits) is None:
        raise ValueError(f"{text!r} is no time of day")
    value = int(digits[:2]) * 3600 + int(digits[2:4]) * 60 + float(digits[4:])
    if value > _DAY_S:
        raise ValueError(f"{text!r} is no time of day")
    return value


def _day(text: str) -> date:
    """Date of ddmmyy."""
    if len(text) != 6 or not text.isdigit():  # noqa: PLR2004
        raise ValueError(f"{text!r} is no date")
    year = int(text[4:])
    century = 1900 if year >= _CENTURY_TURNS else 2000
    try:
        return date(century + year, int(text[2:4]), int(text[:2]))
    except ValueError:
        raise ValueError(f"{text!r} is no date") from None
