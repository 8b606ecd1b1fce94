"""What a sizing warns of, in whole sentences: practice departed from, doubts, loads too high."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from lakemap.basis.records import Float, Units
from lakemap.basis.wording import (
    compass_text,
    figure,
    force_text,
    length_text,
    measure_text,
    speed_text,
    weight_text,
)
from lakemap.rig.practice import TOTAL_LINE_OVER_DEPTH
from lakemap.sizing.size_rigs import Sized

_PRACTICE: Final = "common practice, no published source"
# ours: how far from practice's figure a length may be before it is said
_LINE_LOW, _LINE_HIGH = 0.85, 1.5
_GROUND_LOW, _GROUND_HIGH = 0.7, 1.5
_SPREAD: Final = 0.25  # ours: of the wave's height, beyond which the models' spread is said
_LONGER: Final = 1.5  # ours: times the fetch, beyond which a longer ray beside it is said
_HANGING: Final = 0.1  # ours: of the lift left, beyond which the rig's own weight is said
_NEAR: Final = 0.25  # ours: of the wave's period, within which a heave period meets it


@dataclass(frozen=True, slots=True)
class _One:
    """One float of a sizing."""

    sized: Sized
    at: int

    @property
    def record(self) -> Float:
        return self.sized.question.floats[self.at]

    @property
    def units(self) -> Units:
        return self.sized.question.settings.units


def cautions_of(sized: Sized, i: int) -> list[str]:
    """Return what to know of one float's sizing.

    Parameters
    ----------
    sized : Sized
        Of a field.
    i : int
        Which float.

    Returns
    -------
    list of str
        Whole sentences, the gravest kinds first.
    """
    one = _One(sized, i)
    said: list[str] = []
    for about in _ABOUT:
        said += about(one)
    return [*said, *sized.rigs.parts[i].cautions]


def _float(one: _One) -> Iterator[str]:
    i, buoyancy = one.at, one.sized.question.buoyancy
    if buoyancy.assumed[i]:
        names = ", ".join(name.replace("_", " ") for name in buoyancy.assumed[i])
        yield f"Float assumed: {names} not given, ours taken instead."
    if buoyancy.weight_n[i] >= buoyancy.buoyancy_n[i]:
        yield "The float is heavier than its flotation can carry: it sinks by itself."
    elif buoyancy.sunk_by_people[i]:
        left = float(buoyancy.buoyancy_n[i] - buoyancy.weight_n[i])
        yield (
            "With the people reckoned with aboard the flotation is under water: it carries only"
            f" {weight_text(left, one.units, rounding='down')} of them."
        )


def _people(one: _One) -> Iterator[str]:
    stability, people = one.sized.question.stability, one.sized.question.settings.people
    buoyancy = one.sized.question.buoyancy
    most, half = int(stability.edge_people_max[one.at]), -(-people // 2)
    if most >= people or buoyancy.weight_n[one.at] >= buoyancy.buoyancy_n[one.at]:
        return
    crowd = f"{_count(most + 1, 'person', 'people')} at one edge"
    under = "puts" if most == 0 else "put"
    tail = f": fewer than half of the {people} reckoned with" if most < half else ""
    yield f"{crowd} {under} that edge under water{tail}."


def _clusters(one: _One) -> Iterator[str]:
    i, rigs = one.at, one.sized.rigs
    for name, cluster in (("primary", rigs.primary), ("secondary", rigs.secondary)):
        if not cluster.enough_practice[i]:
            has = (
                weight_text(float(cluster.dry_n[i]), one.units)
                if np.isnan(cluster.blocks[i])
                else _count(int(cluster.blocks[i]), "block", "blocks")
            )
            yield (
                f"The {name} has {has}; practice puts {int(cluster.practice_blocks[i])}"
                f" 12-in hollow blocks there ({_PRACTICE})."
            )
    if min(rigs.primary.wet_n[i], rigs.secondary.wet_n[i]) < 0:
        yield "Blocks as light as given float in water: they hold nothing."
    elif rigs.secondary.wet_n[i] > rigs.primary.wet_n[i]:
        yield "The secondary is heavier than the primary: the wrong way round."


def _secondary(one: _One) -> Iterator[str]:
    """Where no secondary both spares the primary and stays light enough for the line."""
    bounds, i, units = one.sized.bounds, one.at, one.units
    least, most = bounds.least[i], bounds.most[i]
    if np.isnan(one.sized.question.storms.storms.mean_n[i]) or least <= most:
        return
    if np.isnan(one.sized.strength.weakest_working_n[i]) or np.isnan(one.sized.rigs.riser_m[i]):
        return
    needs = (
        "no number of blocks leaves the primary without uplift"
        if np.isnan(least)
        else f"{_count(int(least), 'block', 'blocks')} would leave the primary without uplift"
    )
    bears = (
        "the line carries the snatch of not even one"
        if np.isnan(most)
        else f"the line carries the snatch of {int(most)} at most"
    )
    lifts = _wind_words(bounds.uplift_from_m_s[i], "lifts at the primary", units)
    jerks = _wind_words(bounds.snatch_from_m_s[i], "snatches harder than the line may carry", units)
    yield (
        f"No secondary does both: {needs}, but {bears}. With the secondary as practice has it"
        f" {lifts}, and {jerks}."
    )


def _wind_words(wind_m_s: float, does: str, units: Units) -> str:
    if wind_m_s == 0:
        return f"a passing boat's wake alone {does}"
    if not np.isfinite(wind_m_s):
        return f"no wind we have laws for {does}"
    return f"a wind of {speed_text(float(wind_m_s), units)} {does}"


def _strength(one: _One) -> Iterator[str]:
    i, sized = one.at, one.sized
    shares = sized.strength.used[i].tolist()
    over = [
        (used, part)
        for used, part in zip(shares, sized.rigs.parts[i].parts, strict=True)
        if used > 1
    ]
    if not over:
        return
    used, part = max(over, key=lambda pair: pair[0])
    rest, share = len(over) - 1, figure(100 * used, digits=0, rounding="up")
    more = "" if not rest else f"; {rest} more part{'s are' if rest > 1 else ' is'} too"
    yield (
        f"The {part.name} {part.size} is loaded to {share} % of its working strength by the highest"
        f" pull{more}. The pull is an upper bound: no damping is counted."
    )


def _line(one: _One) -> Iterator[str]:
    at, i, units = one.sized.question.placement, one.at, one.units
    depth, riser, ground = float(at.depth_m[i, 1]), float(at.riser_m[i]), float(at.ground_m[i])
    if np.isnan(depth + riser + ground) or depth <= 0:
        return
    total = riser + ground
    share = total / (TOTAL_LINE_OVER_DEPTH.value * depth)
    if not _LINE_LOW <= share <= _LINE_HIGH:
        yield (
            f"Riser and ground chain are {measure_text(total, units)} together in"
            f" {length_text(depth, units)} of water; practice takes about twice the depth"
            f" ({_PRACTICE})."
        )
    if not _GROUND_LOW <= ground / depth <= _GROUND_HIGH:
        yield (
            f"The ground chain is {measure_text(ground, units)} in {length_text(depth, units)} of"
            f" water; practice takes about one depth ({_PRACTICE})."
        )
    if at.hung[i]:
        high = float(at.depth_m[i, 2] - at.hook_depth_empty_m[i])
        yield (
            f"The riser, {measure_text(riser, units)}, is no longer than the"
            f" {length_text(high, units)} from bed to hook at high water: the secondary hangs off"
            " the bed even in calm water."
        )


def _storm(one: _One) -> Iterator[str]:
    i, units = one.at, one.units
    beside, storm = one.sized.question.storms, one.sized.question.storms.storms
    fetch = storm.fetch_m[i]
    if np.isnan(fetch):
        return
    if beside.deep_assumed[i]:
        yield "No depth is known to windward: the waves are reckoned as in deep water."
    low, high = storm.least_ratio[i], storm.greatest_ratio[i]
    height, aslant = float(storm.height_m[i]), float(beside.aslant_height_m[i])
    if low < 1 - _SPREAD or high > 1 + _SPREAD:
        yield (
            f"Published models differ here: waves of {length_text(low * height, units)} to"
            f" {length_text(high * height, units)}, where {length_text(height, units)} is taken."
        )
    if aslant > (1 + _SPREAD) * max(high * height, height):
        yield (
            f"Waves may run aslant up a longer arm of the lake: {length_text(aslant, units)} by"
            f" restricted fetch, where {length_text(height, units)} is taken."
        )
    longer = beside.longer_m[i]
    if longer > _LONGER * fetch:
        yield (
            f"Within 15° of the {compass_text(float(storm.from_deg[i]))} there is"
            f" {length_text(float(longer), units)} of open water, against"
            f" {length_text(float(fetch), units)} taken."
        )


def _hanging(one: _One) -> Iterator[str]:
    """Where the rig takes a good part of what the float can carry."""
    i, rigs, buoyancy = one.at, one.sized.rigs, one.sized.question.buoyancy
    drop, riser = float(rigs.drop_m[i, 1]), float(rigs.riser_m[i])
    if np.isnan(drop + riser) or drop <= 0:
        return
    hangs = float(rigs.riser_weight_n_m[i]) * min(drop, riser)
    if riser < drop:
        hangs += max(float(rigs.secondary.wet_n[i]), 0.0)
    left = float(buoyancy.buoyancy_n[i] - buoyancy.weight_n[i])
    if hangs > _HANGING * max(left, 0.0):
        weight = force_text(hangs, one.units, rounding="up")
        yield (
            f"The rig hangs on the float with {weight} even in calm: it sinks in deeper than said."
        )


def _heave(one: _One) -> Iterator[str]:
    i, question = one.at, one.sized.question
    heave = question.stability.heave_period_s[i]
    wake = question.settings.wake
    storm = question.storms.storms
    for name, period, height in (
        ("the storm's waves", storm.period_s[i], storm.height_m[i]),
        ("a passing boat's wake", wake.period_s, question.placement.wake_height_m[i]),
    ):
        if height > 0 and abs(period / heave - 1) <= _NEAR:
            yield (
                f"The float heaves by itself in {figure(float(heave))} s, near the"
                f" {figure(float(period))} s of {name}: it may rise higher than the waves do."
            )


def _count(number: int, one: str, more: str) -> str:
    return f"{number} {one if number == 1 else more}"


_ABOUT: Final = (
    _float, _people, _hanging, _clusters, _secondary, _strength, _line, _storm, _heave,
)  # fmt: skip
