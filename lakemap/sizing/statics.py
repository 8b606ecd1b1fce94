"""The line of every rig in the storm, at three lake levels, and the pulls at which it changes."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from lakemap.basis.records import FloatArray
from lakemap.basis.working import Step
from lakemap.rig.holding import LineRig
from lakemap.rig.line import LinePulls, LineState
from lakemap.rig.line_formulas import (
    HOOK_TENSION,
    LIFT_CREST,
    PULL_ANGLE,
    REACH_IN_STORM,
    SECONDARY_LIFTS,
    SECONDARY_SLIDES,
    UPLIFT,
    UPLIFT_BEGINS,
)
from lakemap.rig.records import Placement
from lakemap.sizing.lines import at_rest, pulls, slides
from lakemap.sizing.rigs import Rigs

NORMAL: Final = 1
LEVELS: Final = (0, 1, 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class RigStatics:
    """The lines of n rigs; NaN where a line has no solution."""

    states: tuple[LineState, LineState, LineState]  # under the mean pull: low, normal, high
    pulls: LinePulls  # at normal level
    slide_n: FloatArray  # the secondary slides
    crest_m: FloatArray  # above calm water, that lifts the secondary
    steps: tuple[Step, ...]

    def steepest_deg(self) -> FloatArray:
        """Return the angle from plumb at the hook, the largest of the three levels."""
        angles = np.stack([90.0 - state.hook_angle_deg for state in self.states])
        steepest: FloatArray = np.fmax.reduce(angles, axis=0)
        return steepest


def rig_statics(
    rigs: Rigs, placement: Placement, *, mean_n: FloatArray, friction: FloatArray
) -> RigStatics:
    """Solve the lines of all rigs.

    Parameters
    ----------
    rigs : Rigs
        Of n floats.
    placement : Placement
        Of the same floats.
    mean_n : ndarray, shape [n]
        Mean pull in the storm [N].
    friction : ndarray, shape [n]
        Of the secondary on the bed.

    Returns
    -------
    RigStatics
        With the working at normal level.
    """
    low, normal, high = (at_rest(mean_n, rigs.line(level)) for level in LEVELS)
    line = rigs.line(NORMAL)
    changes = pulls(line)
    slide = slides(friction, line)
    # a crest lifts the hook from where it floats with nobody aboard
    empty_drop = placement.depth_m[:, NORMAL] - placement.hook_depth_empty_m
    crest = LIFT_CREST(riser_m=rigs.riser_m, drop_m=empty_drop)
    return RigStatics(
        states=(low, normal, high),
        pulls=changes,
        slide_n=slide,
        crest_m=crest.value,
        steps=(
            *_changes(line, changes, slide, friction),
            crest,
            *_storm(line, normal, mean_n),
        ),
    )


def _terms(line: LineRig) -> dict[str, FloatArray]:
    return {
        "drop_m": line.drop_m,
        "ground_m": line.ground_m,
        "riser_m": line.riser_m,
        "ground_weight_n_m": line.ground_weight_n_m,
        "riser_weight_n_m": line.riser_weight_n_m,
        "secondary_wet_n": line.secondary_wet_n,
    }


def _changes(
    line: LineRig, changes: LinePulls, slide: FloatArray, friction: FloatArray
) -> tuple[Step, ...]:
    terms = _terms(line)
    riser = {name: terms[name] for name in SECONDARY_SLIDES.terms if name != "friction"}
    return (
        SECONDARY_SLIDES.told(slide, friction=friction, **riser),
        SECONDARY_LIFTS.told(changes.lift_n, **{k: terms[k] for k in SECONDARY_LIFTS.terms}),
        UPLIFT_BEGINS.told(changes.full_n, **{k: terms[k] for k in UPLIFT_BEGINS.terms}),
    )


def _storm(line: LineRig, state: LineState, mean_n: FloatArray) -> tuple[Step, ...]:
    terms = {"pull_n": mean_n} | _terms(line)
    return (
        REACH_IN_STORM.told(state.reach_m, **terms),
        HOOK_TENSION.told(state.hook_tension_n, **terms),
        UPLIFT.told(state.primary_uplift_n, **terms),
        PULL_ANGLE.told(state.primary_angle_deg, **terms),
    )
