"""First sizing of every float: what carries it, what its clusters weigh, where practice differs."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from lakemap.basis.records import Float, Settings, Units
from lakemap.basis.wording import length_text, measure_text, weight_text
from lakemap.rig.blocks import Clusters, clusters
from lakemap.rig.practice import TOTAL_LINE_OVER_DEPTH
from lakemap.rig.records import Buoyancy, Cluster, Placement
from lakemap.sizing.records import (
    Enough,
    FloatSizing,
    LinePart,
    LineSizing,
    Loads,
    PrimarySizing,
    SecondarySizing,
    Sizing,
    StormSizing,
)

_PRACTICE = "common practice, no published source"
# ours: how far from practice's figure a length may be before it is said
_LINE_LOW, _LINE_HIGH = 0.85, 1.5
_GROUND_LOW, _GROUND_HIGH = 0.7, 1.5


@dataclass(frozen=True, slots=True)
class _One:
    """One float with the stages' arrays and its place in them."""

    record: Float
    at: int
    placement: Placement
    buoyancy: Buoyancy
    weights: Clusters
    units: Units


def size_floats(
    floats: Sequence[Float], placement: Placement, buoyancy: Buoyancy, *, settings: Settings
) -> tuple[Sizing, ...]:
    """Size every float as far as statics without loads goes.

    Parameters
    ----------
    floats : sequence of Float
        As read.
    placement : Placement
        Of the same floats.
    buoyancy : Buoyancy
        Of the same floats.
    settings : Settings
        Of the field.

    Returns
    -------
    tuple of Sizing
        In file order; what is not computed yet is None.
    """
    weights = clusters(floats, buoyancy_n=buoyancy.buoyancy_n)
    return tuple(
        _size_one(_One(record, i, placement, buoyancy, weights, settings.units))
        for i, record in enumerate(floats)
    )


def _size_one(one: _One) -> Sizing:
    i, buoyancy = one.at, one.buoyancy
    primary, secondary = one.weights.primary, one.weights.secondary
    return Sizing(
        float=FloatSizing(
            weight_n=float(buoyancy.weight_n[i]),
            draft_m=float(buoyancy.draft_m[i]),
            freeboard_m=float(buoyancy.freeboard_m[i]),
            buoyancy_n=float(buoyancy.buoyancy_n[i]),
            reserve_n=float(buoyancy.reserve_n[i]),
        ),
        storm=StormSizing(wake_height_m=float(one.placement.wake_height_m[i])),
        loads_n=Loads(),
        primary=PrimarySizing(
            blocks=_count(primary, i),
            dry_n=float(primary.dry_n[i]),
            wet_n=float(primary.wet_n[i]),
            practice_blocks=int(primary.practice_blocks[i]),
            enough=Enough(
                practice=bool(primary.enough_practice[i] and secondary.enough_practice[i])
            ),
        ),
        secondary=SecondarySizing(
            blocks=_count(secondary, i),
            dry_n=float(secondary.dry_n[i]),
            wet_n=float(secondary.wet_n[i]),
            practice_blocks=int(secondary.practice_blocks[i]),
        ),
        line=LineSizing(parts=_parts(one.record)),
        cautions=tuple(_cautions(one)),
    )


def _count(cluster: Cluster, i: int) -> int | None:
    return None if np.isnan(cluster.blocks[i]) else int(cluster.blocks[i])


def _parts(record: Float) -> tuple[LinePart, ...]:
    """Parts of the line as the floats file names them, hook to primary; strengths come later."""
    parts = [
        LinePart(name=fitting.name, size=fitting.size)
        for fitting in record.fittings
        for _ in range(fitting.count)
    ]
    if record.cable:
        parts.append(LinePart(name="cable", size=record.cable))
    if record.chain:
        grade = f", grade {record.chain_grade}" if record.chain_grade else ""
        parts.append(LinePart(name="chain", size=f"{record.chain}{grade}"))
    return tuple(parts)


def _cautions(one: _One) -> list[str]:
    """Where the rig departs from practice, and what the sizing rests on; whole sentences."""
    said = [*_about_float(one), *_about_clusters(one), *_about_line(one)]
    return [text for text in said if text]


def _about_float(one: _One) -> list[str]:
    i, buoyancy = one.at, one.buoyancy
    said = []
    if buoyancy.assumed[i]:
        names = ", ".join(name.replace("_", " ") for name in buoyancy.assumed[i])
        said.append(f"Float assumed: {names} not given, ours taken instead.")
    if buoyancy.weight_n[i] >= buoyancy.buoyancy_n[i]:
        said.append("The float is heavier than its flotation can carry: it sinks by itself.")
    elif buoyancy.sunk_by_people[i]:
        left = float(buoyancy.buoyancy_n[i] - buoyancy.weight_n[i])
        said.append(
            "With the people reckoned with aboard the flotation is under water: it carries only"
            f" {weight_text(left, one.units, rounding='down')} of them."
        )
    return said


def _about_clusters(one: _One) -> list[str]:
    i, weights = one.at, one.weights
    said = []
    for name, cluster in (("primary", weights.primary), ("secondary", weights.secondary)):
        if not cluster.enough_practice[i]:
            has = (
                weight_text(float(cluster.dry_n[i]), one.units)
                if np.isnan(cluster.blocks[i])
                else f"{int(cluster.blocks[i])} blocks"
            )
            said.append(
                f"The {name} has {has}; practice puts {int(cluster.practice_blocks[i])}"
                f" 12-in hollow blocks there ({_PRACTICE})."
            )
    if min(weights.primary.wet_n[i], weights.secondary.wet_n[i]) < 0:
        said.append("Blocks as light as given float in water: they hold nothing.")
    elif weights.secondary.wet_n[i] > weights.primary.wet_n[i]:
        said.append("The secondary is heavier than the primary: the wrong way round.")
    return said


def _about_line(one: _One) -> list[str]:
    at, i, units = one.placement, one.at, one.units
    depth, riser, ground = float(at.depth_m[i, 1]), float(at.riser_m[i]), float(at.ground_m[i])
    said: list[str] = []
    if np.isnan(depth + riser + ground) or depth <= 0:
        return said
    total = riser + ground
    share = total / (TOTAL_LINE_OVER_DEPTH.value * depth)
    if not _LINE_LOW <= share <= _LINE_HIGH:
        said.append(
            f"Riser and ground chain are {measure_text(total, units)} together in"
            f" {length_text(depth, units)} of water; practice takes about twice the depth"
            f" ({_PRACTICE})."
        )
    if not _GROUND_LOW <= ground / depth <= _GROUND_HIGH:
        said.append(
            f"The ground chain is {measure_text(ground, units)} in {length_text(depth, units)} of"
            f" water; practice takes about one depth ({_PRACTICE})."
        )
    if at.hung[i]:
        high = float(at.depth_m[i, 2] - at.hook_depth_empty_m[i])
        said.append(
            f"The riser, {measure_text(riser, units)}, is no longer than the"
            f" {length_text(high, units)} from bed to hook at high water: the secondary hangs off"
            " the bed even in calm water."
        )
    return said
