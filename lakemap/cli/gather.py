"""`lakemap gather`: what phones, sounders and loggers recorded, merged into a field's folder."""

import argparse
import json
import re
from collections.abc import Callable
from datetime import date
from typing import Final, TypeVar

from lakemap.basis.errors import BadInputError, Problem, RangeError
from lakemap.basis.quantities import parse_number, parse_quantity
from lakemap.cli.terminal import Progress, say
from lakemap.gathering.fixes_names import bearing_of
from lakemap.gathering.records import SOUNDER_SPEED_M_S, Asked
from lakemap.lake.sound_speed import fresh_water_sound_speed

T = TypeVar("T")
_TEMPERATURE: Final = re.compile(r"\s*(.+?)\s*°?\s*([FfCc])\s*")
_SLOWEST_M_S, _FASTEST_M_S = 1300.0, 1700.0  # ours: no water carries sound slower or faster
_DEEPEST_M: Final = 10.0  # ours: no transducer of a small boat hangs deeper
_FARTHEST_M: Final = 100.0  # ours: who keeps farther off traces no shore
_FAILED: Final = 2


def run_gather(asked: argparse.Namespace) -> int:
    """Gather the files, and say what came of each."""
    from lakemap.cli.gather_words import gather_document, gather_text  # noqa: PLC0415 - only here
    from lakemap.gathering.gather import gather  # noqa: PLC0415 - slow to import
    from lakemap.saving.records import Underneath  # noqa: PLC0415 - only here

    wanted = asked_of(asked)
    tell = Progress()
    try:
        tell("reading")
        outcome = gather(asked.folder, asked.files, wanted)
    finally:
        tell.done()
    if asked.json:
        document = gather_document(outcome, wanted)
        say(json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False))
    else:
        say(gather_text(outcome, wanted))
    return _FAILED if any(isinstance(one, Underneath) for one in outcome.written) else 0


def asked_of(given: argparse.Namespace) -> Asked:
    """Read the options of `gather`.

    Parameters
    ----------
    given : argparse.Namespace
        As typed.

    Returns
    -------
    Asked
        In SI.

    Raises
    ------
    BadInputError
        With every option that is wrong.
    """
    problems: list[Problem] = []

    def read(option: str, text: str | None, reader: Callable[[str], T], otherwise: T) -> T:
        try:
            return otherwise if text is None else reader(text)
        except ValueError as error:
            problems.append(Problem(code="bad_option", text=str(error), column=option))
            return otherwise

    if given.water_temperature is not None and given.sound_speed is not None:
        text = "say the water's temperature or the speed of sound, not both"
        problems.append(Problem(code="bad_option", text=text, column="--sound-speed"))
    no_float: float | None = None
    by_temperature = read("--water-temperature", given.water_temperature, _sound_in, no_float)
    asked = Asked(
        preview=given.preview,
        kind=given.kind,
        day=read("--date", given.date, _day, None),
        depth_unit=given.depth_unit,
        transducer_depth_m=read("--transducer-depth", given.transducer_depth, _hanging, no_float),
        sound_speed_m_s=read("--sound-speed", given.sound_speed, _speed, by_temperature),
        sounder_speed_m_s=read("--sounder-speed", given.sounder_speed, _speed, SOUNDER_SPEED_M_S),
        level_m=read("--level", given.level, lambda text: parse_quantity(text, "length"), no_float),
        every_m=read("--every", given.every, _side, no_float),
        keep_outliers=given.keep_outliers,
        float_id=given.float_id,
        position_of=given.position_of,
        wind_from_deg=read("--wind-from", given.wind_from, _bearing, no_float),
        place=given.place,
        inside_m=read("--inside", given.inside, _inside, 0.0),
    )
    if problems:
        raise BadInputError(problems)
    return asked


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise ValueError(f"{text!r} is no date; write year-month-day, as 2025-06-14") from None


def _hanging(text: str) -> float:
    value = parse_quantity(text, "length")
    if not 0 <= value <= _DEEPEST_M:
        raise ValueError(f"{text!r}: write how far below the surface it hangs, as 1.5 ft")
    return value


def _inside(text: str) -> float:
    value = parse_quantity(text, "length")
    if not 0 <= value <= _FARTHEST_M:
        raise ValueError(f"{text!r}: write how far from the shore the track was kept, as 15 ft")
    return value


def _side(text: str) -> float:
    if text.strip() == "0":
        return 0.0
    value = parse_quantity(text, "length")
    if value < 0:
        raise ValueError(f"{text!r}: write the side of a square, as 10 ft, or 0 to keep all")
    return value


def _sound_in(text: str) -> float:
    """Speed of sound in water of a temperature such as 68 F or 20 °C [m/s]."""
    found = _TEMPERATURE.fullmatch(text)
    if found is None:
        raise ValueError(f"{text!r} is no temperature; write it with its unit, as 68 F or 20 C")
    value = parse_number(found[1])
    celsius = (value - 32) * 5 / 9 if found[2].upper() == "F" else value
    try:
        return float(fresh_water_sound_speed(celsius))
    except RangeError:
        raise ValueError(
            f"{text!r}: no lake is that cold or hot; write it as 68 F or 20 C"
        ) from None


def _speed(text: str) -> float:
    """Speed of sound of m/s, or of feet a second [m/s]."""
    bare = text.strip()
    if re.search(r"(ft|feet)\s*/\s*s(ec)?$", bare, re.IGNORECASE):
        value = parse_quantity(re.sub(r"\s*/\s*s(ec)?$", "", bare, flags=re.IGNORECASE), "length")
    else:
        value = parse_quantity(bare, "speed")
    if not _SLOWEST_M_S <= value <= _FASTEST_M_S:
        raise ValueError(
            f"{text!r} is no speed of sound in water; write 1,400 to 1,550 m/s, or 4,600 to"
            " 5,100 ft/s"
        )
    return value


def _bearing(text: str) -> float:
    value = bearing_of(text)
    if value is None:
        raise ValueError(
            f"{text!r} is no bearing; write where the wind comes from: 0 to 360, or a point as SSW"
        )
    return value
