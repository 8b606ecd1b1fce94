"""What is said after a storm: which floats met more than they are sized for."""

import textwrap
from collections.abc import Iterator
from typing import Final

from lakemap.basis.records import Units
from lakemap.basis.wording import compass_text, speed_text
from lakemap.outputs.tables.grid import grid
from lakemap.outputs.words.pulls import pull_text, used_text
from lakemap.season.upkeep.storms_passed import AfterStorm, StormPassed
from lakemap.season.upkeep.upkeep import Upkeep

_WIDTH: Final = 96
_SHOWN: Final = 15


def storm_lines(told: Upkeep) -> Iterator[str]:
    """Yield what a storm did, as lines: the wind, the floats to look at first, what it means.

    Parameters
    ----------
    told : Upkeep
        With a storm.

    Yields
    ------
    str
        Lines.
    """
    storm, units = told.storm, told.assessment.field.settings.units
    if storm is None:
        return
    yield from textwrap.wrap(_title(storm, units), _WIDTH)
    above = [one for one in storm.floats if one.above_sized]
    yield (
        f"{len(above)} of {len(storm.floats)} floats met more than their rigs are sized for;"
        " look at these first:"
        if above
        else "No float met more than its rig is sized for. What it asked, most first:"
    )
    header = [
        "float", "steady pull", "highest", "sized for", "weakest part", "used", "secondary",
        "primary may have slid",
    ]  # fmt: skip
    shown = storm.floats[: max(_SHOWN, len(above))]
    yield from grid(header, [_row(one, units) for one in shown], right={1, 2, 3, 5})
    if len(shown) < len(storm.floats):
        yield f"and {len(storm.floats) - len(shown)} more that met less"
    yield "Highest: with a wave's snatch, an upper bound. Settled in: an estimate."
    yield "After a storm that moved a secondary, look at all of its rig (ours)."


def _title(storm: AfterStorm, units: Units) -> str:
    gust = "" if storm.gust_m_s is None else f", gusts of {speed_text(storm.gust_m_s, units)}"
    where = (
        "from any side" if storm.from_deg is None else f"from the {compass_text(storm.from_deg[0])}"
    )
    stronger = "stronger than" if storm.stronger else "not stronger than"
    return (
        f"After a storm of {speed_text(storm.wind_m_s, units)}{gust} {where}, {stronger} the one"
        " that the rigs are sized for"
    )


def _row(one: StormPassed, units: Units) -> list[str]:
    return [
        f"{one.float_id}{'!' if one.above_sized else ''}",
        _force(one.mean_n, units),
        _force(one.peak_n, units),
        _force(one.sized_peak_n, units),
        "?" if one.part is None else f"{one.part} {one.size}",
        used_text(one.used, unknown="?"),
        {True: "lifted", False: "stayed", None: "?"}[one.lifts],
        _slid(one),
    ]


def _slid(one: StormPassed) -> str:
    if one.slides is None and one.slides_settled is None:
        return "?"
    if one.slides_settled:
        return "settled in too"
    return "by weight alone" if one.slides else "no"


def _force(newtons: float | None, units: Units) -> str:
    return pull_text(newtons, units, unknown="?")
