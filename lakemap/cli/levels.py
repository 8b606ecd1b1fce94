"""`lakemap levels`: what a lake's own gauge readings say, and what low water did to the circles."""

import argparse
import json
import re
import sys
from datetime import date

from lakemap.basis.errors import BadInputError, Problem
from lakemap.cli.terminal import Progress, say
from lakemap.inputs.folder import read_field
from lakemap.mapping import assess
from lakemap.season.levels import AskedLevels, read_levels

_HALF = 50.0  # per cent: normal
_YEAR = re.compile(r"\d{4}")


def run_levels(asked: argparse.Namespace) -> int:
    """Tell what the gauge readings say."""
    wanted = _read(asked)
    tell = Progress()
    try:
        tell("reading")
        field = read_field(asked.folder)
        levels = read_levels(field, asked=wanted)  # before the work: there may be no readings
        assessment = assess(field, tell=tell)
        tell("checking each year")
        from lakemap.season.low_water import low_water  # noqa: PLC0415 - after bad input is told

        low = low_water(assessment, levels)
    finally:
        tell.done()
    if asked.json:
        from lakemap.outputs.levels.document import levels_document  # noqa: PLC0415 - with --json

        document = levels_document(assessment, levels, low)
        say(json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False))
        for problem in assessment.problems:
            say(f"note: {problem.line()}", sys.stderr)
    else:
        from lakemap.outputs.levels.table import levels_table  # noqa: PLC0415 - not with --json

        say(levels_table(assessment, levels, low))
    return 0


def _read(asked: argparse.Namespace) -> AskedLevels:
    """Read every option before any file; every slip is told at once."""
    problems: list[Problem] = []
    since = _day(asked.since, "--since", (1, 1), problems)
    until = _day(asked.until, "--until", (12, 31), problems)
    if since is not None and until is not None and since > until:
        text = f"{since} is after --until {until}; the earlier day comes first"
        problems.append(Problem(code="bad_option", text=text, column="--since"))
    low = _share(asked.low_share, "--low-share", (0.0, _HALF), problems)
    high = _share(asked.high_share, "--high-share", (_HALF, 100.0), problems)
    if problems:
        raise BadInputError(problems)
    return AskedLevels(since=since, until=until, low_share=low / 100, high_share=high / 100)


def _day(
    given: str | None, option: str, month_day: tuple[int, int], problems: list[Problem]
) -> date | None:
    """A date, or the first or last day of a year."""
    if given is None:
        return None
    text = given.strip()
    try:
        return date(int(text), *month_day) if _YEAR.fullmatch(text) else date.fromisoformat(text)
    except ValueError:
        said = f"{given!r} is no date; write a year, as 2019, or a day, as 2019-05-15"
        problems.append(Problem(code="bad_option", text=said, column=option))
        return None


def _share(given: str, option: str, within: tuple[float, float], problems: list[Problem]) -> float:
    """Per cent of the time, on its side of the half."""
    low, high = within
    try:
        share = float(given.strip().removesuffix("%"))
    except ValueError:
        share = -1.0
    if low <= share <= high and share != _HALF:
        return share
    edge = (
        f"from {low:g} to less than {high:g}" if high == _HALF else f"over {low:g} up to {high:g}"
    )
    text = f"{given!r} must be per cent of the time, {edge}, as {2 if high == _HALF else 98}"
    problems.append(Problem(code="bad_option", text=text, column=option))
    return _HALF
