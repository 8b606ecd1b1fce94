"""Every rig of a field in its storm: loads, line, holding, strength, as arrays over the floats."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from lakemap.basis.records import Float, FloatArray, Settings
from lakemap.basis.working import Step
from lakemap.rig.bed import HOLDING_FACTOR, friction_of
from lakemap.rig.blocks import BlockWeight, clusters, unit_weights
from lakemap.rig.float_defaults import Flotation
from lakemap.rig.holding import passive_of, passive_step, required_weight
from lakemap.rig.parts import RigParts
from lakemap.rig.practice import PracticeBlocks, practice_blocks
from lakemap.rig.records import Buoyancy, Placement
from lakemap.rig.snatch import BUOYANCY_RULE, SINK_PULL
from lakemap.rig.stability import Stability
from lakemap.sizing.bounds import MOST_BLOCKS, SecondaryBounds, Strain, secondary_bounds
from lakemap.sizing.float_working import FloatFacts, float_working, hook_trim
from lakemap.sizing.hold import Ground, Holding, holding
from lakemap.sizing.loads import Moving, RigLoads, moving, rig_loads
from lakemap.sizing.rigs import Rigs, rigs_of
from lakemap.sizing.statics import NORMAL, RigStatics, rig_statics
from lakemap.sizing.strength import Strength, strength_of
from lakemap.sizing.weather import FieldStorms

_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class SizingQuestion:
    """What the sizing of a field's rigs rests on; arrays over the floats in file order."""

    floats: Sequence[Float]
    settings: Settings
    placement: Placement
    flotation: Flotation
    buoyancy: Buoyancy
    stability: Stability
    storms: FieldStorms
    parts: Sequence[RigParts]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sized:
    """Every rig of a field, sized; arrays over the floats in file order."""

    question: SizingQuestion
    rigs: Rigs
    ground: Ground
    unit: BlockWeight  # one block of each float's own kind
    jerked: Moving
    loads: RigLoads
    statics: RigStatics
    holding: Holding
    strength: Strength
    bounds: SecondaryBounds  # of the rigs with what practice has where the file is blank
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Strained:
    """Rigs with their clusters, and all that does not depend on the primary."""

    rigs: Rigs
    jerked: Moving
    loads: RigLoads
    statics: RigStatics
    strength: Strength
    steps: tuple[Step, ...]


def size_rigs(question: SizingQuestion) -> Sized:
    """Size every rig of a field.

    Blank clusters are filled as practice has it, or, where the settings say so, by what friction
    or an estimate of settled blocks asks of the primary, on the lightest secondary that leaves no
    uplift, if the line carries the snatch of that one.

    Parameters
    ----------
    question : SizingQuestion
        Floats in their places and their storm.

    Returns
    -------
    Sized
        Arrays in file order; NaN where something is not known.
    """
    q = question
    practice = practice_blocks(q.buoyancy.buoyancy_n)
    strained = _strain(q, practice)
    unit = unit_weights(q.floats)
    bounds = secondary_bounds(
        Strain(
            rigs=strained.rigs,
            storm=q.storms.storms,
            jerked=strained.jerked,
            wake_height_m=q.placement.wake_height_m,
            wake_period_s=q.settings.wake.period_s,
            unit=unit,
            working_n=strained.strength.weakest_working_n,
        )
    )
    if q.settings.holding != "practice":
        counts = PracticeBlocks(
            primary=practice.primary, secondary=_between(bounds, practice.secondary)
        )
        strained = _strain(q, counts)
        primary = needed_blocks(q, strained.statics, unit)
        possible = primary <= MOST_BLOCKS  # NaN compares false: practice stays
        counts = PracticeBlocks(
            primary=np.where(possible, primary, practice.primary),
            secondary=counts.secondary,
        )
        strained = _strain(q, counts)
    return _held(q, strained, unit=unit, bounds=bounds)


def _between(bounds: SecondaryBounds, practice: FloatArray) -> FloatArray:
    """The lightest secondary that leaves no uplift, where the line carries its snatch."""
    both = bounds.least <= bounds.most
    return np.where(both, np.maximum(bounds.least, 1.0), practice)


def needed_blocks(question: SizingQuestion, statics: RigStatics, unit: BlockWeight) -> FloatArray:
    """Return how many blocks the primary needs to hold 1.5 times the mean pull.

    By friction alone, or with the soil in front of it where the settings design by settled blocks.

    Parameters
    ----------
    question : SizingQuestion
        With the storm and the bottoms.
    statics : RigStatics
        With the uplift at normal level.
    unit : BlockWeight
        One block of each float's own kind.

    Returns
    -------
    ndarray, shape [n]
        Whole blocks; inf where no number does it, NaN where something is not known.
    """
    bottoms = [one.bottom for one in question.floats]
    pull = HOLDING_FACTOR.value * question.storms.storms.mean_n
    if question.settings.holding == "buried":
        full = np.full(len(bottoms), 2.0)
        pull = np.maximum(pull - np.nan_to_num(passive_of(bottoms, blocks=full)), 0.0)
    weight = required_weight(
        pull,
        uplift_n=statics.states[NORMAL].primary_uplift_n,
        friction=friction_of(bottoms),
        factor=1.0,
    )
    blocks = np.divide(weight, unit.wet_n, out=np.full(len(bottoms), np.inf), where=unit.wet_n > 0)
    # the soil is counted in front of two blocks abreast
    least = 2.0 if question.settings.holding == "buried" else 1.0
    whole: FloatArray = np.maximum(np.ceil(blocks - _ROUNDING), least)
    return whole


def _strain(q: SizingQuestion, counts: PracticeBlocks) -> _Strained:
    """Everything up to the strength of the line, for some counts where the file is blank."""
    weights = clusters(q.floats, buoyancy_n=q.buoyancy.buoyancy_n, counts=counts)
    rigs, stiffness = rigs_of(q.parts, q.placement, weights)
    storm = q.storms.storms
    jerked = moving(rigs, q.buoyancy, q.stability)
    loads = rig_loads(storm, jerked, wake=q.settings.wake, passing_m=q.placement.passing_m)
    beside = (
        BUOYANCY_RULE(buoyancy_n=q.buoyancy.buoyancy_n),
        SINK_PULL(buoyancy_n=q.buoyancy.buoyancy_n, weight_n=q.buoyancy.weight_n),
    )
    statics = rig_statics(
        rigs,
        q.placement,
        mean_n=storm.mean_n,
        friction=friction_of([one.bottom for one in q.floats]),
    )
    strength = strength_of(q.parts, peak_n=loads.peak_n, from_plumb_deg=statics.steepest_deg())
    return _Strained(
        rigs=rigs,
        jerked=jerked,
        loads=loads,
        statics=statics,
        strength=strength,
        steps=(*stiffness, *loads.steps, *beside, *statics.steps),
    )


def _held(
    q: SizingQuestion, strained: _Strained, *, unit: BlockWeight, bounds: SecondaryBounds
) -> Sized:
    bottoms = [one.bottom for one in q.floats]
    ground = Ground(
        friction=friction_of(bottoms),
        soil=passive_step(bottoms, blocks=strained.rigs.primary.blocks),
    )
    held = holding(strained.rigs, strained.statics, storm=q.storms.storms, ground=ground)
    facts = FloatFacts(
        floats=q.floats,
        flotation=q.flotation,
        buoyancy=q.buoyancy,
        stability=q.stability,
        placement=q.placement,
    )
    mean = q.storms.storms.mean_n
    return Sized(
        question=q,
        rigs=strained.rigs,
        ground=ground,
        unit=unit,
        jerked=strained.jerked,
        loads=strained.loads,
        statics=strained.statics,
        holding=held,
        strength=strained.strength,
        bounds=bounds,
        steps=(
            *float_working(facts, rigs=strained.rigs),
            *q.storms.steps,
            *strained.steps,
            hook_trim(facts, strained.statics.states[NORMAL], mean),
            *held.steps,
            *strained.strength.steps,
        ),
    )
