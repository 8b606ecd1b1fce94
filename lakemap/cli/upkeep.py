"""`lakemap upkeep`: what is worn, due, mismatched and never looked at, on a day."""

import argparse
import json
import sys
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from lakemap.assessment import Assessment
from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.quantities import parse_quantity
from lakemap.basis.records import Storm
from lakemap.cli.out_files import file_problems
from lakemap.cli.shopping import shopping_of, shopping_problems, shopping_text, write_shopping
from lakemap.cli.terminal import Progress, say
from lakemap.inputs.folder import read_field
from lakemap.loads.waves import MODELS
from lakemap.mapping import assess
from lakemap.season.buying.prices import Shopping
from lakemap.season.upkeep.storms_passed import storm_of
from lakemap.season.upkeep.upkeep import Upkeep, upkeep

_FULL_TURN = 360.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """What was asked for, in SI."""

    on: date
    wind_m_s: float | None
    gust_m_s: float | None
    from_deg: float | None
    calendar: Path | None


def run_upkeep(asked: argparse.Namespace) -> int:
    """Tell the state of every rig, or what to buy; write the files that were asked for."""
    wanted = _asked(asked)
    whole = _told(asked, wanted)
    # a list can be about a proposed float, of whose rig there is no state to tell
    list_alone = asked.shopping is not None and not asked.json and wanted.calendar is None
    told = whole if asked.float_id is None or list_alone else whole.only(asked.float_id)
    buy = None if asked.shopping is None else shopping_of(whole, asked)
    written = [] if buy is None else write_shopping(buy, whole, asked)
    if wanted.calendar is not None:
        written.append(_write_calendar(told, asked, wanted.calendar))
    if asked.json:
        _say_document(told, asked, buy)
    elif buy is not None:
        say(shopping_text(buy, whole, asked))
    else:
        from lakemap.outputs.upkeep.upkeep_table import upkeep_table  # noqa: PLC0415

        say(upkeep_table(told, owners=asked.owners, colour=sys.stdout.isatty()))
    for line in written:
        say(line, sys.stderr if asked.json else None)
    return 0


def _say_document(told: Upkeep, asked: argparse.Namespace, buy: Shopping | None) -> None:
    from lakemap.outputs.upkeep.upkeep_document import upkeep_document  # noqa: PLC0415

    document = upkeep_document(told, owners=asked.owners, shopping=buy)
    say(json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False))
    for note in told.notes:
        say(f"note: {note.line()}", sys.stderr)


def _told(asked: argparse.Namespace, wanted: _Asked) -> Upkeep:
    tell = Progress()
    try:
        tell("reading")
        assessment = assess(read_field(asked.folder), tell=tell)
        if wanted.wind_m_s is not None:
            tell("sizing the rigs in the storm that blew")
        told = upkeep(assessment, on=wanted.on, storm=_storm(assessment, wanted))
    finally:
        tell.done()
    return told


def _storm(assessment: Assessment, wanted: _Asked) -> Storm | None:
    if wanted.wind_m_s is None:
        return None
    return storm_of(
        assessment,
        wind_m_s=wanted.wind_m_s,
        gust_m_s=wanted.gust_m_s,
        from_deg=wanted.from_deg,
    )


def _write_calendar(told: Upkeep, asked: argparse.Namespace, out: Path) -> str:
    """Write the calendar; what was written, in words."""
    from lakemap.outputs.atomic import write_atomic  # noqa: PLC0415 - only with --calendar
    from lakemap.outputs.upkeep.calendar_file import calendar_text  # noqa: PLC0415

    text = calendar_text(told, owners=asked.owners)
    if text is None:
        return "no calendar: nothing has a day in the next ten years"
    write_atomic(out, text)
    return f"calendar: {out} ({text.count('BEGIN:VEVENT'):,} entries)"


def _asked(asked: argparse.Namespace) -> _Asked:
    """Read the options; every slip is told at once, before anything is read."""
    problems = shopping_problems(asked)
    wind = _speed(asked.after_storm, "--after-storm", problems)
    gust = _speed(asked.gust, "--gust", problems)
    if wind is not None and gust is not None and gust < wind:
        problems.append(_bad("--gust", f"{asked.gust!r} must not be below the mean wind"))
    for option, value in (("--gust", asked.gust), ("--from", asked.from_deg)):
        if value is not None and asked.after_storm is None:
            text = 'belongs to a storm; add --after-storm "45 mph"'
            problems.append(_bad(option, text))
    wanted = _Asked(
        on=_day(asked.on, problems),
        wind_m_s=wind,
        gust_m_s=gust,
        from_deg=_bearing(asked.from_deg, problems),
        calendar=_calendar(asked.calendar, problems),
    )
    if problems:
        raise BadInputError(problems)
    return wanted


def _bad(option: str, text: str) -> Problem:
    return Problem(code="bad_option", text=text, column=option)


def _day(given: str | None, problems: list[Problem]) -> date:
    if given is None:
        return date.today()  # noqa: DTZ011 - the day where the user is; the output names it
    try:
        return date.fromisoformat(given.strip())
    except ValueError:
        text = f"{given!r} is no date; write year-month-day, as 2026-04-20"
        problems.append(_bad("--on", text))
        return date.min


def _speed(given: str | None, option: str, problems: list[Problem]) -> float | None:
    if given is None:
        return None
    try:
        speed = parse_quantity(given, "speed")
    except ValueError as error:
        problems.append(_bad(option, str(error)))
        return None
    if not 0 < speed <= MODELS["spm"].wind_max_m_s and option == "--after-storm":
        text = (
            f"{given!r}: need above 0 and at most 134 mph (60 m/s), as far as the laws of waves go"
        )
        problems.append(_bad(option, text))
    return speed


def _bearing(given: str | None, problems: list[Problem]) -> float | None:
    if given is None:
        return None
    try:
        bearing = float(given)
    except ValueError:
        bearing = -1.0
    if not 0 <= bearing <= _FULL_TURN:
        text = f"{given!r} is no bearing; write true degrees the wind came from, 0 to 360, as 270"
        problems.append(_bad("--from", text))
    return bearing


def _calendar(given: str | None, problems: list[Problem]) -> Path | None:
    if given is None:
        return None
    out = Path(given)
    problems += file_problems(out, endings=(".ics",), named=".ics", option="--calendar")
    return out
