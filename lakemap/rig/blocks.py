"""Weights of the clusters: hollow blocks by net volume and density, dry and in water."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.published import FRESH_WATER_KG_M3, GRAVITY_M_S2, Published, exact
from lakemap.basis.quantities import FOOT_M, POUND_KG
from lakemap.basis.records import BoolArray, Float, FloatArray
from lakemap.basis.working import Formula, Term
from lakemap.rig.columns import column, filled
from lakemap.rig.practice import PracticeBlocks, practice_blocks
from lakemap.rig.records import Cluster

_FT3 = FOOT_M.value**3
_LB_FT3 = POUND_KG.value / _FT3
_C90 = "ASTM C90, standard specification for loadbearing concrete masonry units"

NET_VOLUME_FT3: Mapping[str, Published] = MappingProxyType(
    {
        "8-in hollow": Published(
            value=0.2786,
            unit="ft3",
            low=0.2629,
            high=0.3312,
            source="a block maker's table: 29.25 lb at 105 lb/ft3 and 34.83 lb at 125 lb/ft3",
            locator="both rows give the same net volume",
        ),
        "12-in hollow": Published(
            value=0.3903,
            unit="ft3",
            low=0.3903,
            high=0.3905,
            source="a block maker's table: 41.0 lb at 105 lb/ft3 and 56.6 lb at 145 lb/ft3",
            locator="secondary source; both rows give the same net volume",
        ),
        "solid": Published(
            value=0.75 * 7.625 * 7.625 * 15.625 / 1728,
            unit="ft3",
            low=0.75 * 7.625 * 7.625 * 15.625 / 1728,
            high=7.625 * 7.625 * 15.625 / 1728,
            source=f"{_C90}: a unit is solid from 75 % of its outside volume on",
            locator="outside of a nominal 8 by 8 by 16 in unit",
        ),
    }
)
DENSITY_LB_FT3 = Published(
    value=125.0,
    unit="lb/ft3",
    low=95.0,
    high=145.0,
    source=f"{_C90}: lightweight below 105, medium 105 to 125, normal weight from 125 on",
    locator="density classes; the ends are the range that makers list",
)
CAST_CONCRETE_LB_FT3 = exact(
    150.0, "lb/ft3", "NAVFAC DM 7.02, Foundations and Earth Structures, 1986", "plain concrete"
)
DEFAULT_BLOCK = "12-in hollow"
LIGHT_KG_M3 = DENSITY_LB_FT3.low * _LB_FT3
HEAVY_KG_M3 = DENSITY_LB_FT3.high * _LB_FT3


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockWeight:
    """Forces of one block [N]."""

    dry_n: FloatArray
    wet_n: FloatArray


def block_weight(
    volume_m3: ArrayLike, *, density_kg_m3: ArrayLike, absorbed_kg_m3: ArrayLike = 0.0
) -> BlockWeight:
    """Return a block's weight in air and in water.

    W_dry = g V rho and W_wet = g V (rho + a - rho_w): Archimedes on the flooded block, with V the
    net volume of ASTM C140 (pores included). With a = 0 it is the lower bound, the safe one for
    holding; blocks that soaked for long pull harder.

    Parameters
    ----------
    volume_m3 : array_like
        Net volume V [m3], >= 0.
    density_kg_m3 : array_like
        Oven-dry density rho of the concrete [kg/m3].
    absorbed_kg_m3 : array_like
        Water a absorbed per net volume [kg/m3].

    Returns
    -------
    BlockWeight
        Dry (oven-dry) and wet weight [N].
    """
    volume, rho, absorbed = (
        np.asarray(value, dtype=np.float64) for value in (volume_m3, density_kg_m3, absorbed_kg_m3)
    )
    g = GRAVITY_M_S2.value
    return BlockWeight(
        dry_n=g * volume * rho, wet_n=g * volume * (rho + absorbed - FRESH_WATER_KG_M3.value)
    )


def net_volume_m3(block: str, *, heavy: bool = False) -> float:
    """Return the net volume of one block.

    Parameters
    ----------
    block : str
        A key of `NET_VOLUME_FT3`.
    heavy : bool
        True takes a solid unit as full, for lifting.

    Returns
    -------
    float
        Volume [m3].
    """
    printed = NET_VOLUME_FT3[block]
    return (printed.high if heavy and block == "solid" else printed.value) * _FT3


def _in_water(dry_n: FloatArray, displaced_m3: FloatArray) -> FloatArray:
    return dry_n - FRESH_WATER_KG_M3.value * GRAVITY_M_S2.value * displaced_m3


def _wet_formula(key: str, name: str) -> Formula:
    return Formula(
        key=key,
        name=f"{name} in water",
        symbol="W",
        words="W = W_dry − ρ g V",
        unit="N",
        source=f"Archimedes; {_C90}, light end where no density is given; dry blocks, the least",
        terms={
            "dry_n": Term(symbol="W_dry", name=f"{name.lower()}, dry", unit="N"),
            "displaced_m3": Term(symbol="V", name="water that its blocks displace", unit="m3"),
        },
        law=_in_water,
    )


PRIMARY_WET: Final = _wet_formula("primary_wet", "The primary")
SECONDARY_WET: Final = _wet_formula("secondary_wet", "The secondary")


@dataclass(frozen=True, slots=True, kw_only=True)
class Clusters:
    """Both clusters of every float."""

    primary: Cluster
    secondary: Cluster


def unit_weights(floats: Sequence[Float]) -> BlockWeight:
    """Return what one block of each float's own kind weighs, at the light end.

    Parameters
    ----------
    floats : sequence of Float
        As read.

    Returns
    -------
    BlockWeight
        Arrays in file order.
    """
    given = column(one.block_density_kg_m3 for one in floats)
    volume = column(net_volume_m3(one.block or DEFAULT_BLOCK) for one in floats)
    return block_weight(volume, density_kg_m3=filled(given, LIGHT_KG_M3))


def clusters(
    floats: Sequence[Float], *, buoyancy_n: FloatArray, counts: PracticeBlocks | None = None
) -> Clusters:
    """Return the weights of both clusters of every float, blanks filled by practice.

    Parameters
    ----------
    floats : sequence of Float
        As read.
    buoyancy_n : ndarray, shape [n]
        All flotation under water [N], for the practice counts.
    counts : PracticeBlocks or None
        What blanks are filled with instead.

    Returns
    -------
    Clusters
        Arrays in file order.
    """
    practice = practice_blocks(buoyancy_n)
    chosen = practice if counts is None else counts
    return Clusters(
        primary=_cluster(
            floats,
            column(one.primary_blocks for one in floats),
            column(one.primary_weight_kg for one in floats),
            (practice.primary, chosen.primary),
        ),
        secondary=_cluster(
            floats,
            column(one.secondary_blocks for one in floats),
            column(one.secondary_weight_kg for one in floats),
            (practice.secondary, chosen.secondary),
        ),
    )


def _cluster(
    floats: Sequence[Float],
    blocks: FloatArray,
    weight_kg: FloatArray,
    fill: tuple[FloatArray, FloatArray],
) -> Cluster:
    """One kind of cluster; blanks take the second of the fills, the first is what practice has."""
    practice, choice = fill
    kinds = [one.block or DEFAULT_BLOCK for one in floats]
    given = column(one.block_density_kg_m3 for one in floats)
    chosen = np.isnan(blocks) & np.isnan(weight_kg)
    count = np.where(chosen, choice, blocks)
    light, heavy = filled(given, LIGHT_KG_M3), filled(given, HEAVY_KG_M3)
    volume = column(net_volume_m3(kind) for kind in kinds)
    one = block_weight(volume, density_kg_m3=light)
    # lifting: the heavy end, and solid units taken as full
    lifted = block_weight(
        column(net_volume_m3(kind, heavy=True) for kind in kinds), density_kg_m3=heavy
    )
    by_weight = np.isnan(count)
    weight_n = weight_kg * GRAVITY_M_S2.value
    dry = np.where(by_weight, weight_n, count * one.dry_n)
    return Cluster(
        blocks=count,
        dry_n=dry,
        wet_n=np.where(
            by_weight, weight_n * (1 - FRESH_WATER_KG_M3.value / light), count * one.wet_n
        ),
        dry_heavy_n=np.where(by_weight, weight_n, count * lifted.dry_n),
        practice_blocks=practice,
        enough_practice=_as_much(practice, count, dry, light, kinds),
        chosen=chosen,
    )


def _as_much(
    practice: FloatArray, count: FloatArray, dry: FloatArray, light: FloatArray, kinds: list[str]
) -> BoolArray:
    """Tell whether a cluster is as heavy as practice has it: by count, or by dry weight."""
    plain = np.array([kind == DEFAULT_BLOCK for kind in kinds], dtype=bool) & ~np.isnan(count)
    unit = block_weight(net_volume_m3(DEFAULT_BLOCK), density_kg_m3=light)
    by_weight = dry >= practice * unit.dry_n * (1 - 1e-9)
    return np.where(plain, count >= practice, by_weight)
