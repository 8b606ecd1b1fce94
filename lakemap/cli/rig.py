"""`lakemap rig` answers one question: how do I moor this float."""

import argparse
import json
import sys
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Final, cast

from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.quantities import FOOT_M, parse_quantity
from lakemap.basis.records import Accuracy, Float, Levels, Season, Settings, Storm, Units, Wake
from lakemap.cli.dialogue import (
    BOTTOMS,
    Question,
    answer,
    read_bottom,
    read_change,
    read_fetch,
    read_length,
    read_weight,
    read_wind,
)
from lakemap.cli.out_files import file_problems
from lakemap.cli.terminal import say

if TYPE_CHECKING:
    from lakemap.advice import RigAdvice

_WIND: Final = "50 mph"
_DEPTH = Question(
    option="--depth",
    words="How deep is the water where the weights will lie, at normal level? (such as 10 ft)",
    read=read_length,
)
_LENGTH = Question(
    option="--length", words="How long is the deck's longer side? (such as 10 ft)", read=read_length
)
_WIDTH = Question(option="--width", words="And its shorter side? (such as 8 ft)", read=read_length)
_BOTTOM = Question(
    option="--bottom",
    words=f"What is the bottom: {', '.join(BOTTOMS)}? (Enter: not known)",
    read=read_bottom,
    default="",
)
_LOW = Question(
    option="--low",
    words="How far does the lake fall below normal in a dry year? (Enter: not at all)",
    read=read_change,
    default=0.0,
)
_HIGH = Question(
    option="--high",
    words="And how far does it rise above normal? (Enter: not at all)",
    read=read_change,
    default=0.0,
)


@dataclass(frozen=True, slots=True)
class _Answers:
    """What was given or asked, in SI."""

    depth: float
    length: float
    width: float
    bottom: str
    low: float
    high: float
    tube_diameter: float | None
    weight: float | None
    wind: float
    gust: float | None
    fetch: float
    wake: float


def run_rig(asked: argparse.Namespace) -> int:
    """Answer for one float, asking back on a terminal."""
    from lakemap.advice import advise  # noqa: PLC0415 - after the questions
    from lakemap.outputs.web.rig_page import rig_document, rig_lines  # noqa: PLC0415

    answers = _answers(asked)
    advice = advise(_float(asked, answers), _settings(asked, answers), fetch_m=answers.fetch)
    if asked.out is not None:
        _write(Path(asked.out), advice)
    if asked.json:
        say(json.dumps(rig_document(advice), indent=2, ensure_ascii=False, allow_nan=False))
    elif asked.working:
        from lakemap.outputs.words.working_lines import working_text  # noqa: PLC0415 - not with --json

        say(working_text(advice.assessment.floats[0], advice.assessment))
    else:
        say("\n".join(rig_lines(advice)))
    if asked.out is not None:
        what = "picture" if Path(asked.out).suffix.lower() == ".svg" else "page"
        say(f"{what}: {asked.out}", sys.stderr if asked.json else None)
    return 0


def _write(out: Path, advice: "RigAdvice") -> None:
    """Write the page, or the pictures."""
    from lakemap.outputs.atomic import write_atomic  # noqa: PLC0415 - only with --out
    from lakemap.outputs.web.rig_page import rig_html  # noqa: PLC0415
    from lakemap.outputs.web.size_sheet import size_sheet_svg  # noqa: PLC0415

    if out.suffix.lower() == ".svg":
        write_atomic(out, size_sheet_svg(advice.assessment.floats[0], advice.assessment))
    else:
        write_atomic(out, rig_html(advice))


def _answers(asked: argparse.Namespace) -> _Answers:
    """Gather all answers; every slip is told at once."""
    problems: list[Problem] = []
    values = {
        question.option: answer(question, given, problems)
        for question, given in (
            (_DEPTH, asked.depth),
            (_LENGTH, asked.length),
            (_WIDTH, asked.width),
            (_BOTTOM, asked.bottom),
            (_LOW, asked.low),
            (_HIGH, asked.high),
        )
    }
    for option, given, read in (
        ("--tube-diameter", asked.tube_diameter, read_length),
        ("--weight", asked.weight, read_weight),
        ("--wind", asked.wind, read_wind),
        ("--gust", asked.gust, read_wind),
        ("--fetch", asked.fetch, read_fetch),
        ("--wake", asked.wake, read_length),
    ):
        values[option] = None
        if given is not None:
            values[option] = answer(Question(option=option, words="", read=read), given, problems)
    if asked.out is not None:
        problems += _about_out(Path(asked.out))
    for option, count in (("--people", asked.people), ("--tubes", asked.tubes)):
        if count is not None and count < (0 if option == "--people" else 1):
            text = f"{count} is no count; write a whole number from {int(option == '--tubes')} on"
            problems.append(Problem(code="bad_option", text=text, column=option))
    if problems:
        raise BadInputError(problems)
    wind = cast("float | None", values["--wind"]) or parse_quantity(_WIND, "speed")
    gust = cast("float | None", values["--gust"])
    if gust is not None and gust < wind:
        text = f"{asked.gust!r} must not be below the mean wind"
        raise BadInputError([Problem(code="bad_option", text=text, column="--gust")])
    numbers = [values[name] for name in ("--depth", "--length", "--width")]
    depth, length, width = (cast("float", value) for value in numbers)
    return _Answers(
        depth=depth,
        length=length,
        width=width,
        bottom=cast("str", values["--bottom"]),
        low=cast("float", values["--low"]),
        high=cast("float", values["--high"]),
        tube_diameter=cast("float | None", values["--tube-diameter"]),
        weight=cast("float | None", values["--weight"]),
        wind=wind,
        gust=gust,
        fetch=cast("float | None", values["--fetch"]) or _default_fetch(asked),
        wake=cast("float | None", values["--wake"]) or 2 * FOOT_M.value,
    )


def _default_fetch(asked: argparse.Namespace) -> float:
    """Ours, where nobody says it: half a mile, or 800 m."""
    return parse_quantity("0.5 mi" if _units(asked) == "ft-lb" else "800 m", "length")


def _about_out(out: Path) -> list[Problem]:
    return file_problems(out, endings=(".html", ".htm", ".svg"), named=".html or .svg")


def _float(asked: argparse.Namespace, answers: _Answers) -> Float:
    return Float(
        float_id="new",
        row=0,
        lon=0.0,
        lat=0.0,
        status="proposed",
        length_m=answers.length,
        width_m=answers.width,
        depth_m=answers.depth,
        bottom=answers.bottom or None,
        tubes=asked.tubes,
        tube_diameter_m=answers.tube_diameter,
        float_weight_kg=answers.weight,
        hook=asked.hook,
    )


def _units(asked: argparse.Namespace) -> Units:
    """As said, else as the depth is written."""
    if asked.units is not None:
        return cast("Units", asked.units)
    written = (asked.depth or "").lower()
    metric = written.rstrip().endswith("m") and "ft" not in written and "in" not in written
    return "m-kg" if metric else "ft-lb"


def _settings(asked: argparse.Namespace, answers: _Answers) -> Settings:
    """A field of one float: its levels, and for the rest the defaults of a field."""
    foot = FOOT_M.value
    return Settings(
        name="one float",
        units=_units(asked),
        crs="EPSG:4326",
        levels=Levels(low_m=-answers.low, normal_m=0.0, high_m=answers.high, soundings_m=0.0),
        storm=Storm(
            wind_m_s=answers.wind,
            gust_m_s=answers.gust,
            current_m_s=0.0,
            from_deg=None,
            return_period_years=None,
        ),
        wake=Wake(height_m=answers.wake, period_s=2.2, at_m=100 * foot, nearest_m=50 * foot),
        accuracy=Accuracy(
            position_m=4.16,
            position_given=False,
            depth_m=foot / 2,
            level_m=foot / 4,
            line_m=foot / 2,
            layer_m=5 * foot,
        ),
        rules=MappingProxyType({}),
        season=Season(),
        site_weights=MappingProxyType({}),
        holding=asked.holding,
        people=asked.people,
    )
