"""Three ways to build one rig side by side: as practice has it, without uplift, by the snatch."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from lakemap.basis.published import GRAVITY_M_S2
from lakemap.basis.records import FloatArray
from lakemap.rig.bed import HOLDING_FACTOR
from lakemap.rig.holding import LineRig, passive_of, required_weight
from lakemap.rig.lightest import (
    Lightest,
    lightest_cable,
    lightest_chain,
    lightest_eye_bolt,
    lightest_link,
    lightest_shackle,
)
from lakemap.rig.snatch import secondary_inertia
from lakemap.sizing.bounds import MOST_BLOCKS
from lakemap.sizing.lines import at_rest
from lakemap.sizing.loads import CASES, Moving, snap
from lakemap.sizing.records import Candidate, Choice
from lakemap.sizing.rigs import displaced_m3
from lakemap.sizing.size_rigs import Sized
from lakemap.sizing.statics import LEVELS, NORMAL

_PRACTICE: Final = "common practice, no published source"
_MEANS: Final = {
    "practice": f"Blocks as practice has them ({_PRACTICE}).",
    "no uplift": "The lightest secondary that leaves no uplift at the primary, at any lake level.",
    "snatch": "The heaviest secondary whose snatch the weakest part of the line still carries.",
}
_NONE: Final = "no row of the table does"


@dataclass(frozen=True, slots=True)
class _Ways:
    """The three candidates of one float as arrays; shape [3], NaN where there is none."""

    blocks: FloatArray  # in the secondary
    uplift_n: FloatArray  # [3 levels, 3]
    steepest_deg: FloatArray
    snap_n: FloatArray
    peak_n: FloatArray
    case: tuple[str, str, str]


def candidates_of(sized: Sized, i: int) -> tuple[Candidate, ...]:
    """Return the three ways to build one rig.

    Parameters
    ----------
    sized : Sized
        Of a field.
    i : int
        Which float.

    Returns
    -------
    tuple of Candidate
        Practice, no uplift, snatch; none where the storm or the line is not known.
    """
    q = sized.question
    if np.isnan(q.storms.storms.mean_n[i]) or np.isnan(sized.rigs.stiffness_n_m[i]):
        return ()
    practice = float(sized.rigs.secondary.practice_blocks[i])
    blocks = np.array([practice, sized.bounds.least[i], sized.bounds.most[i]])
    ways = _ways(sized, i, blocks)
    built = sized.rigs.secondary.blocks[i]
    return tuple(
        Candidate(
            name=name,
            means=means,
            secondary_blocks=None if np.isnan(blocks[k]) else int(blocks[k]),
            uplift_n=_triple(ways.uplift_n[:, k]),
            snap_n=_known(ways.snap_n[k]),
            peak_n=_known(ways.peak_n[k]),
            choices=() if np.isnan(blocks[k]) else _choices(sized, i, ways, k),
            chosen=bool(blocks[k] == built),
        )
        for k, (name, means) in enumerate(_MEANS.items())
    )


def _triple(values: FloatArray) -> tuple[float | None, float | None, float | None]:
    low, normal, high = (_known(value) for value in values)
    return low, normal, high


def _known(value: float) -> float | None:
    return float(value) if np.isfinite(value) else None


def _ways(sized: Sized, i: int, blocks: FloatArray) -> _Ways:
    """Statics and loads of one float on three secondaries."""
    q, unit = sized.question, sized.unit
    storm = q.storms.storms
    wet = blocks * max(float(unit.wet_n[i]), 0.0)
    states = [at_rest(storm.mean_n[i], _line(sized, i, level, wet)) for level in LEVELS]
    inertia = secondary_inertia(unit.dry_n[i] / GRAVITY_M_S2.value, volume_m3=displaced_m3(unit)[i])
    jerked = Moving(
        mass_kg=sized.jerked.mass_kg[i],
        stiffness_n_m=sized.jerked.stiffness_n_m[i],
        secondary_kg=np.nan_to_num(blocks) * inertia,
        secondary_wet_n=np.nan_to_num(wet),
    )
    known = np.where(np.isnan(blocks), np.nan, 1.0)
    storm_snap = snap(np.full(3, storm.highest_m[i]), storm.period_s[i], jerked) * known
    wake = q.placement.wake_height_m[i]
    wake_snap = snap(np.full(3, wake), q.settings.wake.period_s, jerked) * known
    gust = storm.gust_n[i] + storm.drift_n[i] + storm.current_n[i]
    of_case = np.stack([storm.mean_n[i] + storm_snap, gust * known, wake_snap])
    worst = np.argmax(np.nan_to_num(of_case, nan=-1.0), axis=0)
    first, second, third = (CASES[k] for k in worst)
    return _Ways(
        blocks=blocks,
        uplift_n=np.stack([state.primary_uplift_n for state in states]),
        steepest_deg=np.fmax.reduce([90.0 - state.hook_angle_deg for state in states]),
        snap_n=np.fmax(storm_snap, wake_snap),
        peak_n=of_case.max(axis=0),
        case=(first, second, third),
    )


def _line(sized: Sized, i: int, level: int, wet_n: FloatArray) -> LineRig:
    rigs, ones = sized.rigs, np.ones(len(wet_n))
    return LineRig(
        drop_m=rigs.drop_m[i, level] * ones,
        ground_m=rigs.ground_m[i] * ones,
        riser_m=rigs.riser_m[i] * ones,
        ground_weight_n_m=rigs.ground_weight_n_m[i] * ones,
        riser_weight_n_m=rigs.riser_weight_n_m[i] * ones,
        secondary_wet_n=wet_n,
    )


def _choices(sized: Sized, i: int, ways: _Ways, k: int) -> tuple[Choice, ...]:
    """The lightest of each table that satisfies one candidate, and what asks for it."""
    peak, units = float(ways.peak_n[k]), sized.question.settings.units
    because = f"the highest pull, from {ways.case[k]}"
    turned = f"{because}, at {ways.steepest_deg[k]:.0f}° from plumb"
    grade = sized.question.floats[i].chain_grade or 30
    cable = lightest_cable(peak, finish="galvanised", units=units)
    found = (
        ("eye bolt", lightest_eye_bolt(peak, angle_from_axis_deg=ways.steepest_deg[k]), turned),
        ("shackle", lightest_shackle(peak), because),
        ("master link", lightest_link(peak), because),
        ("absorber cable, doubled", cable, because),
        (f"chain, grade {grade}", lightest_chain(peak, grade=grade, units=units), because),
    )
    return (
        _primary(sized, i, ways, k),
        *(Choice(what=what, size=_size(row), because=why) for what, row, why in found),
    )


def _size(row: Lightest) -> str:
    return str(np.asarray(row.size)[()]) or _NONE


def _primary(sized: Sized, i: int, ways: _Ways, k: int) -> Choice:
    """The primary of one candidate: as practice has it, or what holds 1.5 times the mean pull."""
    if k == 0:
        count = int(sized.rigs.primary.practice_blocks[i])
        return Choice(what="primary", size=_blocks(count), because=_PRACTICE)
    settled = sized.question.settings.holding == "buried"
    pull = HOLDING_FACTOR.value * float(sized.question.storms.storms.mean_n[i])
    if settled:
        two = passive_of([sized.question.floats[i].bottom], blocks=np.full(1, 2.0))[0]
        pull = max(pull - float(np.nan_to_num(two)), 0.0)
    weight = required_weight(
        pull,
        uplift_n=ways.uplift_n[NORMAL, k],
        friction=sized.ground.friction[i],
        factor=1.0,
    )
    unit = float(sized.unit.wet_n[i])
    needed = np.ceil(weight / unit - 1e-9) if unit > 0 else np.inf
    why = "1.5 times the steady pull, " + ("settled in, an estimate" if settled else "by friction")
    if not needed <= MOST_BLOCKS:
        return Choice(what="primary", size=f"more than {MOST_BLOCKS} blocks", because=why)
    return Choice(what="primary", size=_blocks(max(int(needed), 2 if settled else 1)), because=why)


def _blocks(count: int) -> str:
    return f"{count} block{'' if count == 1 else 's'}"
