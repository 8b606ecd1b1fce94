"""What the pictures of rigs are drawn from: shapes of the line, pull against reach, open water."""

from collections.abc import Sequence
from typing import Final

import numpy as np

from lakemap.basis.records import FloatArray, IntArray
from lakemap.rig.holding import LineRig
from lakemap.rig.line import LineState as SolvedLine
from lakemap.rig.line import two_cluster_line
from lakemap.rig.line_shape import line_shapes
from lakemap.rig.swing import reach
from lakemap.sizing.lines import at_rest, pulls, solvable
from lakemap.sizing.records import LineState, PullCurve, RigPictures, Rose
from lakemap.sizing.size_rigs import Sized
from lakemap.sizing.statics import LEVELS, NORMAL

_POINTS: Final = 8  # on each of ground chain and riser
_CURVE: Final = 22  # points of pull against reach
_BEYOND: Final = 1.6  # how far past the storm the curve is drawn

_Triple = tuple[LineState | None, LineState | None, LineState | None]


def pictures_of(sized: Sized, floats: Sequence[int]) -> tuple[RigPictures, ...]:
    """Return what some floats' pictures are drawn from.

    Parameters
    ----------
    sized : Sized
        Of a field.
    floats : sequence of int
        Which of its floats.

    Returns
    -------
    tuple of RigPictures
        In the order asked.
    """
    at = np.asarray(floats, dtype=np.int64)
    mean = sized.question.storms.storms.mean_n[at]
    calm = [_states(sized, at, level, np.zeros(len(at))) for level in LEVELS]
    storm = [_states(sized, at, level, mean) for level in LEVELS]
    curves = _curves(sized, at, mean)
    return tuple(
        RigPictures(
            calm=_triple(calm, k), storm=_triple(storm, k), curve=curves[k], rose=_rose(sized, i)
        )
        for k, i in enumerate(at.tolist())
    )


def _triple(states: list[list[LineState | None]], k: int) -> _Triple:
    low, normal, high = (of_level[k] for of_level in states)
    return low, normal, high


def _rig(sized: Sized, at: IntArray, level: int) -> LineRig:
    line = sized.rigs.line(level)
    return LineRig(**{name: getattr(line, name)[at] for name in LineRig.__slots__})


def _kept(rig: LineRig, kept: IntArray) -> LineRig:
    return LineRig(**{name: getattr(rig, name)[kept] for name in LineRig.__slots__})


def _states(sized: Sized, at: IntArray, level: int, pull: FloatArray) -> list[LineState | None]:
    rig = _rig(sized, at, level)
    kept = np.flatnonzero(solvable(rig) & np.isfinite(pull))
    found: list[LineState | None] = [None] * len(at)
    if not kept.size:
        return found
    shapes = line_shapes(pull[kept], rig=_kept(rig, kept), points=_POINTS)
    solved: SolvedLine = at_rest(pull[kept], _kept(rig, kept))
    for place, k in enumerate(kept.tolist()):
        found[k] = LineState(
            x_m=tuple(shapes.x_m[place].tolist()),
            z_m=tuple(shapes.z_m[place].tolist()),
            secondary=shapes.secondary,
            hook_tension_n=float(solved.hook_tension_n[place]),
            hook_angle_deg=float(solved.hook_angle_deg[place]),
            primary_uplift_n=float(solved.primary_uplift_n[place]),
        )
    return found


def _curves(sized: Sized, at: IntArray, mean: FloatArray) -> list[PullCurve | None]:
    """Pull against reach at normal level, evenly spaced along the curve's own bends."""
    rig = _rig(sized, at, NORMAL)
    kept = np.flatnonzero(solvable(rig) & np.isfinite(mean))
    found: list[PullCurve | None] = [None] * len(at)
    if not kept.size:
        return found
    line, storm = _kept(rig, kept), mean[kept]
    changes = pulls(line)
    top = _BEYOND * np.maximum(storm, changes.full_n)
    share = np.linspace(0.0, 1.0, _CURVE) ** 3  # the curve bends where the pull is small
    pull = top[:, None] * share
    spread = {name: getattr(line, name)[:, None] for name in LineRig.__slots__}
    reached = two_cluster_line(pull, **spread).reach_m
    taut = reach(line.drop_m, line_m=line.riser_m + line.ground_m)
    at_storm = two_cluster_line(storm, **{n: getattr(line, n) for n in LineRig.__slots__}).reach_m
    for place, k in enumerate(kept.tolist()):
        found[k] = PullCurve(
            pull_n=tuple(pull[place].tolist()),
            reach_m=tuple(reached[place].tolist()),
            lifts_n=float(changes.lift_n[place]),
            uplift_n=float(changes.full_n[place]),
            taut_m=float(taut[place]),
            storm_n=float(storm[place]),
            storm_reach_m=float(at_storm[place]),
        )
    return found


def _rose(sized: Sized, i: int) -> Rose | None:
    storm = sized.question.storms.storms
    q = storm.question
    if np.isnan(q.fetch_m[i]).any():
        return None
    return Rose(
        from_deg=tuple(q.from_deg.tolist()),
        fetch_m=tuple(q.fetch_m[i].tolist()),
        wave_height_m=tuple(storm.height_by_bearing_m[i].tolist()),
        worst=int(storm.worst[i]),
    )
