"""What clusters weigh when they are lifted: the heavy end, soaked; and how high they hang."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np

from lakemap.basis.published import FRESH_WATER_KG_M3, GRAVITY_M_S2, Published, exact
from lakemap.basis.quantities import FOOT_M, INCH_M, POUND_KG
from lakemap.basis.records import Float
from lakemap.rig.blocks import DEFAULT_BLOCK, HEAVY_KG_M3, LIGHT_KG_M3, net_volume_m3

_LB_FT3: Final = POUND_KG.value / FOOT_M.value**3
_C90: Final = "ASTM C90, standard specification for loadbearing concrete masonry units"
# the most water that a lot of blocks may soak up, by density from which it holds
ABSORBED_LB_FT3: Final[tuple[tuple[float, Published], ...]] = (
    (125.0, exact(13.0, "lb/ft3", _C90, "maximum average absorption, normal weight")),
    (105.0, exact(15.0, "lb/ft3", _C90, "maximum average absorption, medium weight")),
    (0.0, exact(18.0, "lb/ft3", _C90, "maximum average absorption, lightweight")),
)
OUTSIDE_IN: Final[Mapping[str, tuple[float, float, float]]] = MappingProxyType(
    {
        "8-in hollow": (7.625, 7.625, 15.625),
        "12-in hollow": (11.625, 7.625, 15.625),
        "solid": (7.625, 7.625, 15.625),
    }
)  # ASTM C90: nominal 8 or 12 by 8 by 16 in less a joint of 3/8 in
BUNCHED: Final = exact(0.6, "of its room", "ours: boxes thrown together fill about so much", "")


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftWeight:
    """The most that one cluster may weigh: heavy end of its density, soaked through."""

    air_n: float  # just out of the water, dripping; mud and weed come on top
    water_n: float
    dry_n: float  # as it was carried in
    block_air_n: float  # one block, soaked; NaN where a weight was given instead of blocks


def absorbed_kg_m3(density_kg_m3: float) -> float:
    """Return the most water that blocks of a density may have soaked up, per net volume.

    Parameters
    ----------
    density_kg_m3 : float
        Oven-dry density of the concrete [kg/m3].

    Returns
    -------
    float
        kg/m3, by ASTM C90's classes.
    """
    pounds = density_kg_m3 / _LB_FT3
    at_least = next(most for least, most in ABSORBED_LB_FT3 if pounds >= least - 1e-9)
    return at_least.value * _LB_FT3


def lift_weight(record: Float, *, blocks: float, weight_kg: float | None) -> LiftWeight:
    """Return the most that a cluster may weigh when it is lifted.

    By count: n V (rho + a) in air and n V (rho + a - rho_w) in water, at the heavy end of the
    density where none is given, V the net volume (a solid unit taken as full), a the most water
    that ASTM C90 lets it soak up. By a dry weight W: W (1 + a/rho) and W (1 + (a - rho_w)/rho),
    the larger of both ends each: light blocks soak up more, heavy ones lose less under water.

    Parameters
    ----------
    record : Float
        For its kind and density of blocks.
    blocks : float
        How many; not used where a weight is given.
    weight_kg : float or None
        Dry weight given instead of blocks [kg].

    Returns
    -------
    LiftWeight
        In newtons.
    """
    given = record.block_density_kg_m3
    ends = (LIGHT_KG_M3, HEAVY_KG_M3) if given is None else (given,)
    g, water = GRAVITY_M_S2.value, FRESH_WATER_KG_M3.value
    if weight_kg is not None:
        soaked = [weight_kg * (1 + absorbed_kg_m3(rho) / rho) for rho in ends]
        wet = [weight_kg * (1 + (absorbed_kg_m3(rho) - water) / rho) for rho in ends]
        return LiftWeight(
            air_n=g * max(soaked), water_n=g * max(wet), dry_n=g * weight_kg, block_air_n=np.nan
        )
    volume = net_volume_m3(record.block or DEFAULT_BLOCK, heavy=True)
    soaked_kg_m3 = max(rho + absorbed_kg_m3(rho) for rho in ends)
    return LiftWeight(
        air_n=g * blocks * volume * soaked_kg_m3,
        water_n=g * blocks * volume * (soaked_kg_m3 - water),
        dry_n=g * blocks * volume * max(ends),
        block_air_n=g * volume * soaked_kg_m3,
    )


def bunch_m(record: Float, *, dry_n: float) -> float:
    """Return how high a cluster is that hangs on its chain.

    Ours: blocks threaded on a chain hang in a bunch about as high as wide, three fifths of it
    blocks as they measure outside; never less than one block on end.

    Parameters
    ----------
    record : Float
        For its kind and density of blocks.
    dry_n : float
        Weight of the cluster, dry [N].

    Returns
    -------
    float
        Metres.
    """
    kind = record.block or DEFAULT_BLOCK
    density = record.block_density_kg_m3 or LIGHT_KG_M3
    outside = float(np.prod(OUTSIDE_IN[kind])) * INCH_M.value**3
    count = dry_n / (GRAVITY_M_S2.value * density * net_volume_m3(kind))
    tall = max(OUTSIDE_IN[kind]) * INCH_M.value
    return max(tall, float(np.cbrt(count * outside / BUNCHED.value)))
