"""Every rig of a field in its storm: loads, line, holding, strength, as arrays and as records."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np

from lakemap.basis.records import Float, FloatArray, Settings
from lakemap.basis.working import Step
from lakemap.rig.blocks import BlockWeight, Clusters, clusters, unit_weights
from lakemap.rig.holding import friction_of, passive_resistance
from lakemap.rig.practice import PracticeBlocks
from lakemap.rig.records import Buoyancy, Placement
from lakemap.rig.stability import Stability
from lakemap.sizing.bounds import SecondaryBounds, Strain, secondary_bounds
from lakemap.sizing.hold import Ground, Holding, holding
from lakemap.sizing.loads import Moving, RigLoads, moving, rig_loads
from lakemap.sizing.rigs import Rigs, rigs_of
from lakemap.sizing.statics import NORMAL, RigStatics, rig_statics
from lakemap.sizing.strength import Strength, strength_of
from lakemap.sizing.weather import FieldStorms

_DEFAULT_BOTTOM: Final = "silt"


@dataclass(frozen=True, slots=True, kw_only=True)
class SizingQuestion:
    """What the sizing of a field's rigs rests on; arrays over the floats in file order."""

    floats: Sequence[Float]
    settings: Settings
    placement: Placement
    buoyancy: Buoyancy
    stability: Stability
    storms: FieldStorms


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
    bounds: SecondaryBounds  # with the secondaries as practice has them, where they are blank
    steps: tuple[Step, ...]
