"""One float from a few numbers: how to moor it, what to buy, how to lay it, what is not sure."""

from dataclasses import dataclass

import numpy as np
import shapely

from lakemap.basis.errors import RangeError
from lakemap.basis.records import Float, Settings
from lakemap.basis.wording import force_text, length_text, measure_text, weight_text
from lakemap.rig.blocks import DEFAULT_BLOCK, Clusters, clusters
from lakemap.rig.hydrostatics import float_buoyancy
from lakemap.rig.placement import PlacementQuestion, place
from lakemap.rig.records import Placement
from lakemap.sizing.first_sizing import size_floats
from lakemap.sizing.records import Sizing

_POND_M = 1e4  # half the side of the empty water that the one float lies in


@dataclass(frozen=True, slots=True, kw_only=True)
class RigAdvice:
    """How to moor one float; triples are at low, normal and high water."""

    record: Float
    settings: Settings
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
    buy: tuple[tuple[str, str], ...]  # what, how much
    lay: tuple[str, ...]  # ordered steps
    unsure: tuple[str, ...]
    cautions: tuple[str, ...]


def advise(record: Float, settings: Settings) -> RigAdvice:
    """Design the rig of one float at a known depth.

    Parameters
    ----------
    record : Float
        `proposed`, its depth given; blanks are designed.
    settings : Settings
        Levels, wake, units and people.

    Returns
    -------
    RigAdvice
        From the same code that places and sizes a whole field.

    Raises
    ------
    RangeError
        If the depth is missing or not above 0.
    """
    if record.depth_m is None or not record.depth_m > 0:
        raise RangeError(f"depth {record.depth_m}: give the depth at the primary, above 0 m")
    buoyancy = float_buoyancy([record], people=settings.people)
    placement = place(
        PlacementQuestion(
            floats=[record],
            fix_xy=np.zeros((1, 2)),
            buoyancy=buoyancy,
            water=shapely.box(-_POND_M, -_POND_M, _POND_M, _POND_M),
            surface=None,
            channels=(),
            settings=settings,
        )
    )
    sizing = size_floats([record], placement, buoyancy, settings=settings)[0]
    weights = clusters([record], buoyancy_n=buoyancy.buoyancy_n)
    return RigAdvice(
        record=record,
        settings=settings,
        depth_m=_triple(placement.depth_m[0].tolist()),
        hook_depth_m=float(placement.hook_depth_m[0]),
        riser_m=float(placement.riser_m[0]),
        ground_m=float(placement.ground_m[0]),
        corner_m=float(placement.corner_m[0]),
        reach_m=_known(placement.reach_m[0].tolist()),
        swing_radius_m=_known(placement.swing_radius_m[0].tolist()),
        walk_radius_m=float(placement.walk_radius_m[0]),
        height_m=float(buoyancy.height_m[0]),
        problems=_broken(placement),
        sizing=sizing,
        buy=_buy(record, settings, placement, weights),
        lay=_lay(settings, placement),
        unsure=_unsure(record),
        cautions=_plain_cautions(sizing),
    )


def _triple(row: list[float]) -> tuple[float, float, float]:
    low, normal, high = row
    return low, normal, high


def _known(row: list[float]) -> tuple[float | None, float | None, float | None]:
    low, normal, high = (None if np.isnan(value) else value for value in row)
    return low, normal, high


def _broken(placement: Placement) -> tuple[str, ...]:
    said = []
    if placement.aground[0]:
        said.append("At low water no depth is left under the hook: the float lies aground.")
    if placement.pulled_under[0]:
        said.append("The line is too short for high water: the float is pulled under.")
    return tuple(said)


def _buy(
    record: Float, settings: Settings, placement: Placement, weights: Clusters
) -> tuple[tuple[str, str], ...]:
    """Shopping list; chain and fittings in the sizes that practice takes."""
    units, kind = settings.units, record.block or DEFAULT_BLOCK
    rows = []
    for name, cluster in (("primary", weights.primary), ("secondary", weights.secondary)):
        dry, wet = float(cluster.dry_n[0]), float(cluster.wet_n[0])
        in_water = f"only {force_text(wet, units, rounding='down')} in water"
        weight = f"{weight_text(dry, units, rounding='down')} dry"
        if np.isnan(cluster.blocks[0]):  # a weight was given instead
            rows.append((f"weight, {name}", f"{weight}, {in_water}"))
        else:
            count = int(cluster.blocks[0])
            rows.append((f"{kind} blocks, {name}", f"{count}  ({weight}, {in_water})"))
    absorber = "doubled 5/16 in cable" if units == "ft-lb" else "doubled 8 mm cable"
    chain = "3/8 in" if units == "ft-lb" else "10 mm"
    riser = measure_text(float(placement.riser_m[0]), units)
    ground = measure_text(float(placement.ground_m[0]), units)
    rows.append(("riser, hook to secondary", f"{riser}: {absorber} on top, {chain} chain below"))
    rows.append(("ground chain, secondary to primary", f"{ground} of {chain} chain"))
    return tuple(rows)


def _lay(settings: Settings, placement: Placement) -> tuple[str, ...]:
    units = settings.units
    ground = measure_text(float(placement.ground_m[0]), units)
    radius = placement.swing_radius_m[0, 0]
    swing = "its circle" if np.isnan(radius) else length_text(float(radius), units, rounding="up")
    return (
        f"Choose a spot with {swing} free all round: shore, floats, swim areas, channels.",
        "Lower the primary there, chain first made up; note its position.",
        f"Run the ground chain straight out, {ground}, down the usual wind; lower the secondary.",
        "Make the riser fast to the secondary, then to the float; look after the first blow.",
    )


def _unsure(record: Float) -> tuple[str, ...]:
    bottom = record.bottom
    said = ["Block counts are common practice, no published source; no storm is computed yet."]
    if bottom is None:
        said.append("The bottom was not given: soft mud holds by weight alone, rock may not hold.")
    elif bottom in {"mud", "silt", "clay"}:
        said.append(f"On {bottom} blocks settle in and hold better, and are hard to lift.")
    elif bottom == "rock":
        said.append("On rock blocks can slide: nothing but friction holds them.")
    return tuple(said)


def _plain_cautions(sizing: Sizing) -> tuple[str, ...]:
    return (
        *sizing.cautions,
        "Lines under load recoil; lifting and diving hurt people; cold water kills.",
        "Local codes, permits and licensed practice decide.",
    )
