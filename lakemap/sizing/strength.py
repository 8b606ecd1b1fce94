"""What the highest pull asks of every part of every line, and which part is the weakest."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from lakemap.basis.records import FloatArray, IntArray
from lakemap.basis.working import Step
from lakemap.rig.ends_and_bends import CABLE_LOOP
from lakemap.rig.fitting_tables import EYE_BOLT_AT_ANGLE
from lakemap.rig.hardware import USED, WORKING_LOAD
from lakemap.rig.parts import RigParts, line_strength

_PLUMB_DEG: Final = 90.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Strength:
    """Strengths of n lines; `rows` has one array [parts] a float, as long as its line has parts."""

    breaking_n: tuple[FloatArray, ...]
    working_n: tuple[FloatArray, ...]
    used: tuple[FloatArray, ...]
    weakest: IntArray  # [n], which part; -1 not known
    weakest_working_n: FloatArray  # [n]
    steps: tuple[Step, ...]


def strength_of(
    parts: Sequence[RigParts], *, peak_n: FloatArray, from_plumb_deg: FloatArray
) -> Strength:
    """Return what the highest pull asks of every line; lines built alike are reckoned at once.

    Parameters
    ----------
    parts : sequence of RigParts
        One for each float.
    peak_n : ndarray, shape [n]
        Highest pull [N]; NaN not known.
    from_plumb_deg : ndarray, shape [n]
        Largest angle of the pull from plumb, which is the eye bolt's axis [deg].

    Returns
    -------
    Strength
        In the order of the floats.
    """
    count = len(parts)
    alike: dict[int, list[int]] = defaultdict(list)
    for i, one in enumerate(parts):
        alike[id(one)].append(i)
    rows: list[tuple[FloatArray, FloatArray, FloatArray]] = [()] * count  # type: ignore[list-item]
    weakest = np.full(count, -1, dtype=np.int64)
    angle = np.clip(from_plumb_deg, 0.0, _PLUMB_DEG)
    for mine in alike.values():
        found = line_strength(
            parts[mine[0]], peak_n=peak_n[mine], pull_angle_from_axis_deg=angle[mine]
        )
        weakest[mine] = found.weakest
        for place, i in enumerate(mine):
            rows[i] = (found.breaking_n[place], found.working_n[place], found.used[place])
    weak = np.array(
        [np.nan if k < 0 else row[1][k] for k, row in zip(weakest.tolist(), rows, strict=True)]
    )
    return Strength(
        breaking_n=tuple(row[0] for row in rows),
        working_n=tuple(row[1] for row in rows),
        used=tuple(row[2] for row in rows),
        weakest=weakest,
        weakest_working_n=weak,
        steps=_told(parts, rows, weakest, peak_n=peak_n, angle_deg=angle),
    )


def _told(
    parts: Sequence[RigParts],
    rows: Sequence[tuple[FloatArray, FloatArray, FloatArray]],
    weakest: IntArray,
    *,
    peak_n: FloatArray,
    angle_deg: FloatArray,
) -> tuple[Step, ...]:
    """The working of the absorber, the eye bolt and the weakest part of each line."""
    ropes = [one.absorber for one in parts]

    def rope(name: str) -> FloatArray:
        return np.array([np.nan if one is None else getattr(one, name) for one in ropes])

    eye = np.array(
        [next((part.breaking_n for part in one.parts if part.by_angle), np.nan) for one in parts]
    )
    weak = [max(k, 0) for k in weakest.tolist()]
    names = tuple(
        f"{one.parts[k].name} {one.parts[k].size}" for one, k in zip(parts, weak, strict=True)
    )
    breaking = np.array([row[0][k] for row, k in zip(rows, weak, strict=True)])
    factor = np.array([one.parts[k].factor for one, k in zip(parts, weak, strict=True)])
    working = WORKING_LOAD(breaking_n=breaking, factor=factor)
    used = USED(load_n=peak_n, working_n=working.value)
    loop = CABLE_LOOP(
        strength_n=rope("one_part_n"),
        end_share=rope("end_share"),
        bend_share=rope("bend_share"),
        legs=rope("counted_legs"),
    )
    turned = EYE_BOLT_AT_ANGLE(breaking_n=eye, angle_from_axis_deg=angle_deg)
    return (loop, turned, *(_about(step, names) for step in (working, used)))


def _about(step: Step, names: tuple[str, ...]) -> Step:
    return Step(
        formula=step.formula, given=step.given, value=step.value, inside=step.inside, of=names
    )
