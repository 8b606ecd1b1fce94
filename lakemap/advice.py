"""One float from a few numbers: how to moor it, what to buy, how to lay it, what is not sure."""

from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final

import shapely

from lakemap.assessment import AssessedFloat, Assessment
from lakemap.basis.errors import RangeError
from lakemap.basis.records import Field, Float, Settings
from lakemap.basis.wording import (
    figure,
    force_text,
    length_text,
    measure_text,
    speed_text,
    weight_text,
)
from lakemap.lake.projection import LakeProjection
from lakemap.mapping import assess
from lakemap.rig.bed import DEFAULT_BOTTOM
from lakemap.rig.blocks import DEFAULT_BLOCK
from lakemap.sizing.records import Answers, Sizing

# the invented water that the one float lies in: open to the west as far as the wind is to blow
_FROM_DEG: Final = 270.0
_ROOM_M: Final = 2000.0
_LON, _LAT = -37.0, 41.0
GREATEST_FETCH_M: Final = 100_000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class RigAdvice:
    """How to moor one float; triples are at low, normal and high water."""

    record: Float
    settings: Settings
    fetch_m: float
    assessment: Assessment  # of a field of this float alone, in an invented water
    depth_m: tuple[float, float, float]
    hook_depth_m: float
    riser_m: float
    ground_m: float
    corner_m: float
    reach_m: tuple[float | None, float | None, float | None]
    swing_radius_m: tuple[float | None, float | None, float | None]
    walk_radius_m: float
    height_m: float  # of the flotation
    problems: tuple[str, ...]  # a rig that cannot work
    sizing: Sizing
    answers: Answers
    storm: tuple[str, ...]  # what the storm does and what the line carries
    buy: tuple[tuple[str, str], ...]  # what, how much
    lay: tuple[str, ...]  # ordered steps
    unsure: tuple[str, ...]
    watch: tuple[str, ...]  # of this rig; what may hurt people is said wherever it is shown


def advise(record: Float, settings: Settings, *, fetch_m: float) -> RigAdvice:
    """Design the rig of one float at a known depth.

    Parameters
    ----------
    record : Float
        `proposed`, its depth given; blanks are designed.
    settings : Settings
        Levels, storm, wake, units and people.
    fetch_m : float
        Open water to windward [m].

    Returns
    -------
    RigAdvice
        From the same code that places and sizes a whole field.

    Raises
    ------
    RangeError
        If the depth is missing or not above 0, or the fetch is not above 0 or above 100 km.
    """
    if record.depth_m is None or not record.depth_m > 0:
        raise RangeError(f"depth {record.depth_m}: give the depth at the primary, above 0 m")
    if not 0 < fetch_m <= GREATEST_FETCH_M:
        raise RangeError(f"open water of {fetch_m:g} m: need above 0 to 100,000 m")
    assessment = assess(_alone(record, settings, fetch_m))
    one = assessment.floats[0]
    answers = assessment.answers(one)
    low, normal, high = (value or 0.0 for value in one.depth_m)
    return RigAdvice(
        record=record,
        settings=settings,
        fetch_m=fetch_m,
        assessment=assessment,
        depth_m=(low, normal, high),
        hook_depth_m=one.hook_depth_m or 0.0,
        riser_m=one.riser_m or 0.0,
        ground_m=one.ground_m or 0.0,
        corner_m=one.corner_m,
        reach_m=one.reach_m,
        swing_radius_m=one.swing_radius_m,
        walk_radius_m=one.walk_radius_m or 0.0,
        height_m=one.sizing.float.draft_m + one.sizing.float.freeboard_m,
        problems=_broken(one),
        sizing=one.sizing,
        answers=answers,
        storm=_storm(one, settings, fetch_m),
        buy=_buy(one, settings),
        lay=_lay(one, settings),
        unsure=_unsure(record, answers),
        watch=one.sizing.cautions,
    )


def _alone(record: Float, settings: Settings, fetch_m: float) -> Field:
    """A field of one float, its water open to the west as far as the fetch."""
    here = LakeProjection(lon0=_LON, lat0=_LAT)
    water = shapely.box(-fetch_m, -_ROOM_M, _ROOM_M, _ROOM_M)
    storm = replace(settings.storm, from_deg=(_FROM_DEG,), return_period_years=None)
    return Field(
        folder="one-float",
        settings=replace(settings, storm=storm, rules=MappingProxyType({})),
        lake=shapely.multipolygons([here.unproject(water)]),
        island_names=(),
        floats=(replace(record, lon=_LON, lat=_LAT),),
        floats_file="",
        lake_is_rough=True,
    )


def _broken(one: AssessedFloat) -> tuple[str, ...]:
    said = {
        "aground": "At low water no depth is left under the hook: the float lies aground.",
        "pulled_under": "The line is too short for high water: the float is pulled under.",
    }
    codes = [problem.code for problem in one.problems]
    return tuple(text for code, text in said.items() if code in codes)


def _storm(one: AssessedFloat, settings: Settings, fetch_m: float) -> tuple[str, ...]:
    """What the storm does at the float, and what the line then carries."""
    units, storm, loads = settings.units, one.sizing.storm, one.sizing.loads_n
    if storm.wind_m_s is None or loads.mean is None:
        return ()
    wind = speed_text(storm.wind_m_s, units)
    waves = length_text(storm.wave_height_m or 0.0, units)
    pull = force_text(loads.mean, units, rounding="up")
    said = [
        f"{wind} over {length_text(fetch_m, units)} of open water: waves of {waves}, a steady pull"
        f" of {pull}"
    ]
    if loads.peak is not None:
        weak = one.sizing.line.weakest
        used = None if weak is None else weak.used
        share = "" if used is None else f" ({figure(100 * used, digits=0, rounding='up')} % used)"
        part = "" if weak is None else f"; weakest part: {weak.name}{share}"
        peak = force_text(loads.peak, units, rounding="up")
        said.append(f"highest pull, with the snatch of a wave, an upper bound: {peak}{part}")
    return tuple(said)


def _buy(one: AssessedFloat, settings: Settings) -> tuple[tuple[str, str], ...]:
    """Shopping list; chain and fittings in the sizes that practice takes."""
    units, kind = settings.units, one.record.block or DEFAULT_BLOCK
    rows = []
    for name, cluster in (("primary", one.sizing.primary), ("secondary", one.sizing.secondary)):
        wet = force_text(cluster.wet_n or 0.0, units, rounding="down")
        weight = f"{weight_text(cluster.dry_n or 0.0, units, rounding='down')} dry"
        if cluster.blocks is None:  # a weight was given instead
            rows.append((f"weight, {name}", f"{weight}, only {wet} in water"))
        else:
            figures = f"{cluster.blocks}  ({weight}, only {wet} in water)"
            rows.append((f"{kind} blocks, {name}", figures))
    parts = {part.name: part.size for part in one.sizing.line.parts}
    chain = parts["riser chain"].partition(",")[0]
    absorber = parts.get("absorber cable", "")
    riser, ground = (measure_text(length or 0.0, units) for length in (one.riser_m, one.ground_m))
    top = f"{absorber} cable on top, " if absorber else ""
    rows.append(("riser, hook to secondary", f"{riser}: {top}{chain} chain below"))
    rows.append(("ground chain, secondary to primary", f"{ground} of {chain} chain"))
    rest = ("riser chain", "ground chain", "absorber cable")
    fittings = [f"{name} {size}" for name, size in parts.items() if name not in rest]
    rows.append(("fittings, hook to absorber", ", ".join(fittings)))
    return tuple(rows)


def _lay(one: AssessedFloat, settings: Settings) -> tuple[str, ...]:
    units = settings.units
    ground = measure_text(one.ground_m or 0.0, units)
    radius = one.swing_radius_m[0]
    swing = "its circle" if radius is None else length_text(radius, units, rounding="up")
    return (
        f"Choose a spot with {swing} free all round: shore, floats, swim areas, channels.",
        "Lower the primary there, chain first made up; note its position.",
        f"Run the ground chain straight out, {ground}, down the usual wind; lower the secondary.",
        "Make the riser fast to the secondary, then to the float; look after the first blow.",
    )


def _unsure(record: Float, answers: Answers) -> tuple[str, ...]:
    bottom = record.bottom
    said = [
        f"Practice: {answers.practice}",
        f"Unburied: {answers.unburied}",
        f"Buried: {answers.buried}",
    ]
    if bottom is None:
        said.append(f"The bottom was not given: {DEFAULT_BOTTOM} is taken; mud and rock hold less.")
    elif bottom == "rock":
        said.append("On rock blocks can slide: nothing but friction holds them.")
    elif bottom in {"mud", "silt", "clay"}:
        said.append(f"On {bottom} blocks settle in and hold better, and are hard to lift.")
    return tuple(said)
