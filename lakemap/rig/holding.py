"""What a cluster of weights holds on its bed: by friction, and settled in as an estimate."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.published import FRESH_WATER_KG_M3
from lakemap.basis.quantities import INCH_M
from lakemap.basis.records import BoolArray, FloatArray
from lakemap.basis.working import Formula, Step, Term
from lakemap.rig.bed import DEFAULT_BOTTOM, DISTURBED, FORMED, HOLDING_FACTOR, RANKINE, SOILS
from lakemap.rig.line import segment_rise

BLOCK_FACE_M = (15.625 * INCH_M.value, 7.625 * INCH_M.value)  # long side and height of a unit
_LEAST_BLOCKS: Final = 1.0
_ROUNDS: Final = 60


def _guard(**given: ArrayLike) -> None:
    """Refuse what is below 0, naming every element; NaN is not known and stays."""
    arrays = np.broadcast_arrays(*(np.asarray(one, dtype=np.float64) for one in given.values()))
    below = np.any([one < 0 for one in arrays], axis=0)
    if below.any():
        raise RangeError(
            "\n".join(
                f"[{i}] "
                + ", ".join(f"{n} {one.flat[i]:g}" for n, one in zip(given, arrays, strict=True))
                + ": the holding of a weight needs numbers of 0 or more (Coulomb, Rankine)"
                for i in np.flatnonzero(below)
            )
        )


def passive_pressure(friction_deg: ArrayLike) -> FloatArray:
    """Return Rankine's coefficient of passive pressure: K_p = tan^2(45 + phi/2).

    Source: Rankine 1857, any text on soil mechanics (from memory).

    Parameters
    ----------
    friction_deg : array_like
        Angle phi [deg], 0 to below 90.

    Returns
    -------
    ndarray
        K_p.
    """
    half = np.radians(45.0 + np.asarray(friction_deg, dtype=np.float64) / 2)
    coefficient: FloatArray = np.tan(half) ** 2
    return coefficient


def passive_wedge(
    depth_m: ArrayLike,
    *,
    breadth_m: ArrayLike,
    weight_n_m3: ArrayLike,
    friction_deg: ArrayLike,
    shear_pa: ArrayLike,
) -> FloatArray:
    """Return the passive resistance of soil in front of a buried block, undisturbed.

    P = B (gamma' D^2 K_p/2 + 2 s_u D): sand with s_u = 0, clay with phi = 0. It needs a shift of
    some per cent of D, and scour takes it away. Source: Rankine, textbooks (from memory).

    Parameters
    ----------
    depth_m : array_like
        How deep the block lies D [m].
    breadth_m : array_like
        Breadth B of its face [m].
    weight_n_m3 : array_like
        Submerged unit weight gamma' [N/m3].
    friction_deg : array_like
        Angle phi [deg].
    shear_pa : array_like
        Undrained shear strength s_u [Pa].

    Returns
    -------
    ndarray
        Force [N].

    Raises
    ------
    RangeError
        If a number is below 0; one line for each such element.
    """
    _guard(depth=depth_m, breadth=breadth_m, weight=weight_n_m3, angle=friction_deg, shear=shear_pa)
    d = np.asarray(depth_m, dtype=np.float64)
    wedge = np.asarray(weight_n_m3) * d**2 / 2 * passive_pressure(friction_deg)
    force: FloatArray = np.asarray(breadth_m) * (wedge + 2 * np.asarray(shear_pa) * d)
    return force


def passive_step(bottoms: Sequence[str | None], *, blocks: FloatArray) -> Step:
    """Return what the soil adds to settled primaries, with its working: half a wedge.

    Ours: the cluster settled by the height of one block lying flat, two blocks side by side to the
    pull, the longer faces forward; halved for soil that the blocks have disturbed. A cluster given
    by weight counts as one block.

    Parameters
    ----------
    bottoms : sequence of str or None
        As the floats file names them; blank is silt.
    blocks : ndarray, shape [n]
        Count; NaN for a cluster given by weight.

    Returns
    -------
    Step
        Force [N], shape [n]; NaN on rock, where nothing settles.
    """
    soils = [SOILS.get(one or DEFAULT_BOTTOM) for one in bottoms]
    columns = {
        name: np.array([np.nan if one is None else getattr(one, name) for one in soils])
        for name in ("weight_n_m3", "friction_deg", "shear_pa")
    }
    abreast = np.clip(np.nan_to_num(blocks, nan=_LEAST_BLOCKS), 0.0, 2.0)
    long_face, height = BLOCK_FACE_M
    return PASSIVE(depth_m=height, breadth_m=abreast * long_face, **columns)


def passive_of(bottoms: Sequence[str | None], *, blocks: FloatArray) -> FloatArray:
    """Return what the soil adds to settled primaries, as `passive_step` without the working.

    Parameters
    ----------
    bottoms, blocks : sequence of str or None, and ndarray, shape [n]
        As in `passive_step`.

    Returns
    -------
    ndarray, shape [n]
        Force [N]; NaN on rock, where nothing settles.
    """
    return np.array(passive_step(bottoms, blocks=blocks).value)


def holding_unburied(wet_n: ArrayLike, *, uplift_n: ArrayLike, friction: ArrayLike) -> FloatArray:
    """Return what a weight lying on its bed holds: mu (W' - V0), not below 0.

    Source: Coulomb's friction; coefficients of NAVFAC DM 7.02, 1986, ch. 3 table 1.

    Parameters
    ----------
    wet_n : array_like
        Weight in water W' [N], >= 0.
    uplift_n : array_like
        Uplift V0 of its chain [N].
    friction : array_like
        Coefficient mu, >= 0.

    Returns
    -------
    ndarray
        Horizontal force [N].

    Raises
    ------
    RangeError
        If a number is below 0; one line for each such element.
    """
    _guard(wet=wet_n, uplift=uplift_n, friction=friction)
    left = np.asarray(wet_n, dtype=np.float64) - np.asarray(uplift_n, dtype=np.float64)
    force: FloatArray = np.asarray(friction, dtype=np.float64) * np.maximum(left, 0.0)
    return force


def holding_buried(
    wet_n: ArrayLike, *, uplift_n: ArrayLike, friction: ArrayLike, passive_n: ArrayLike
) -> FloatArray:
    """Return an estimate of what a settled weight holds: friction and half a passive wedge.

    Nothing where the uplift takes all of its weight. Source: as `holding_unburied` and
    `passive_wedge`.

    Parameters
    ----------
    wet_n, uplift_n, friction : array_like
        As in `holding_unburied`.
    passive_n : array_like
        What the soil adds [N]; NaN where nothing settles.

    Returns
    -------
    ndarray
        Horizontal force [N].

    Raises
    ------
    RangeError
        If a number is below 0; one line for each such element.
    """
    _guard(soil=passive_n)
    rubs = holding_unburied(wet_n, uplift_n=uplift_n, friction=friction)
    down = np.asarray(wet_n, dtype=np.float64) > np.asarray(uplift_n, dtype=np.float64)
    soil = np.asarray(passive_n, dtype=np.float64)
    force: FloatArray = rubs + np.where(down | np.isnan(soil), soil, 0.0)
    return force


def required_weight(
    pull_n: ArrayLike, *, uplift_n: ArrayLike, friction: ArrayLike, factor: ArrayLike
) -> FloatArray:
    """Return the weight in water that friction asks for: W' = V0 + n H/mu.

    The uplift comes off before friction. Source: as `holding_unburied`.

    Parameters
    ----------
    pull_n : array_like
        Steady pull H [N].
    uplift_n : array_like
        Uplift V0 [N].
    friction : array_like
        Coefficient mu; 0 asks for more than there is.
    factor : array_like
        Safety factor n on the pull.

    Returns
    -------
    ndarray
        Weight in water [N]; inf where mu is 0 and there is a pull.

    Raises
    ------
    RangeError
        If a number is below 0; one line for each such element.
    """
    _guard(pull=pull_n, uplift=uplift_n, friction=friction, factor=factor)
    pull = np.asarray(pull_n, dtype=np.float64) * np.asarray(factor, dtype=np.float64)
    mu = np.asarray(friction, dtype=np.float64)
    pull, mu = np.broadcast_arrays(pull, mu)
    asked = np.divide(pull, mu, out=np.where(pull > 0, np.inf, 0.0), where=mu > 0)
    weight: FloatArray = np.asarray(uplift_n, dtype=np.float64) + asked
    return weight


@dataclass(frozen=True, slots=True, kw_only=True)
class LineRig:
    """What the statics of a line take, apart from the pull; arrays of one shape."""

    drop_m: FloatArray
    ground_m: FloatArray
    riser_m: FloatArray
    ground_weight_n_m: FloatArray
    riser_weight_n_m: FloatArray
    secondary_wet_n: FloatArray


def slide_pull_primary(
    friction: ArrayLike, *, wet_n: ArrayLike, passive_n: ArrayLike, rig: LineRig
) -> FloatArray:
    """Return the pull at which a primary starts to slide: H = mu (W' - V0(H)) + P.

    One unknown, the uplift V0: it gives the pull, and both give the height of the hook, which
    rises with V0, so there is one root. Where the uplift takes all of the weight first, the soil
    has let go with it: the pull that lifts the primary. Source: Coulomb's friction with the statics
    of the line; ours.

    Parameters
    ----------
    friction : array_like
        Coefficient mu, finite, >= 0; so there is always a pull that it does not stand.
    wet_n : array_like
        Weight in water W' [N], >= 0.
    passive_n : array_like
        What the soil adds P [N]; 0 for a weight that lies on the bed, NaN where nothing settles.
    rig : LineRig
        Lines.

    Returns
    -------
    ndarray
        Pull [N]; NaN where the line has no solution or something is not known.

    Raises
    ------
    RangeError
        If a friction or weight is below 0; one line for each such element.
    """
    mu, weight, passive, *line = np.broadcast_arrays(
        *(np.asarray(value, dtype=np.float64) for value in (friction, wet_n, passive_n)),
        *(getattr(rig, name) for name in LineRig.__slots__),
    )
    _guard(friction=mu, wet=weight)
    rig = LineRig(**dict(zip(LineRig.__slots__, line, strict=True)))
    free = mu * weight + passive  # with no uplift at all
    uplift = _turn(
        lambda up: _rise_at(mu * (weight - up) + passive, up, rig) < rig.drop_m, high=weight
    )
    lifted = _turn(lambda level: _rise_at(level, weight, rig) > rig.drop_m, high=passive)
    under_uplift = np.where(uplift < weight, mu * (weight - uplift) + passive, lifted)
    pull = np.where(_rise_at(free, np.zeros(mu.shape), rig) < rig.drop_m, under_uplift, free)
    sound = np.isfinite(free) & (rig.drop_m > 0) & (rig.drop_m < rig.riser_m + rig.ground_m)
    found: FloatArray = np.where(sound, pull, np.nan)
    return found


def _turn(below: Callable[[FloatArray], BoolArray], *, high: FloatArray) -> FloatArray:
    """Where `below` ends, from 0 up, by halving; `high` itself where it holds all the way."""
    low = np.zeros(high.shape)
    for _ in range(_ROUNDS):
        middle = (low + high) / 2
        under = below(middle)
        low, high = np.where(under, middle, low), np.where(under, high, middle)
    return high


def _rise_at(pull: FloatArray, uplift: FloatArray, rig: LineRig) -> FloatArray:
    """How high the hook stands with all of the line off the bed and some uplift at the primary."""
    chain_top = uplift + rig.ground_weight_n_m * rig.ground_m
    foot = chain_top + rig.secondary_wet_n
    hook = foot + rig.riser_weight_n_m * rig.riser_m
    return segment_rise(pull, uplift, chain_top, rig.ground_m) + segment_rise(
        pull, foot, hook, rig.riser_m
    )


_RUB: Final = {
    "wet_n": Term(symbol="W", name="primary in water", unit="N"),
    "uplift_n": Term(symbol="V₀", name="uplift at the primary", unit="N"),
    "friction": Term(symbol="μ", name="friction on the bed", unit=""),
}
HOLDING_UNBURIED: Final = Formula(
    key="holding_unburied",
    name="The primary lying on the bed holds",
    symbol="R",
    words="R = μ (W − V₀)",
    unit="N",
    source=FORMED,
    terms=_RUB,
    law=holding_unburied,
    valid="nothing on soft mud",
    holds=lambda friction, **_: friction > 0,
)
PASSIVE: Final = Formula(
    key="passive",
    name="Soil in front of a settled primary, an estimate",
    symbol="P",
    words="P = ½ B (½ γ′ D² K_p + 2 s_u D), K_p = tan²(45° + φ/2)",
    unit="N",
    source=f"{RANKINE}; depth, breadth and the half for disturbed soil ours",
    terms={
        "depth_m": Term(symbol="D", name="settled by the height of one block", unit="m"),
        "breadth_m": Term(symbol="B", name="blocks side by side to the pull", unit="m"),
        "weight_n_m3": Term(symbol="γ′", name="unit weight of the soil in water", unit="N/m3"),
        "friction_deg": Term(symbol="φ", name="friction angle of the soil", unit="deg"),
        "shear_pa": Term(symbol="s_u", name="undrained shear strength", unit="Pa"),
    },
    law=lambda depth_m, **soil: DISTURBED.value * passive_wedge(depth_m, **soil),
    valid="a block that has settled by its own height; scour takes it away; not on rock",
    holds=lambda friction_deg, **_: ~np.isnan(friction_deg),
)
HOLDING_BURIED: Final = Formula(
    key="holding_buried",
    name="The primary settled in would hold, an estimate",
    symbol="R_b",
    words="R_b = μ (W − V₀) + ½ B (½ γ′ D² K_p + 2 s_u D)",
    unit="N",
    source=f"{FORMED}; {RANKINE}; depth and breadth ours",
    terms=_RUB | {"passive_n": Term(symbol="P", name="half the passive wedge", unit="N")},
    law=holding_buried,
    valid="a block that has settled by its own height; scour takes it away; not on rock",
    holds=lambda passive_n, **_: ~np.isnan(passive_n),
)
REQUIRED_WEIGHT: Final = Formula(
    key="required_weight",
    name="Weight in water that friction alone would ask for",
    symbol="W_req",
    words="W_req = V₀ + n F/μ",
    unit="N",
    source=f"{FORMED}; n: {HOLDING_FACTOR.source}",
    terms={
        "pull_n": Term(symbol="F", name="steady pull", unit="N"),
        "uplift_n": _RUB["uplift_n"],
        "friction": _RUB["friction"],
        "factor": Term(symbol="n", name="safety factor", unit=""),
    },
    law=required_weight,
)


def weight_in_water(dry: ArrayLike, *, density_kg_m3: ArrayLike) -> FloatArray:
    """Return a weight under water: W' = W (1 - rho_w/rho), in the unit it is given in.

    Source: Archimedes.

    Parameters
    ----------
    dry : array_like
        Weight in air.
    density_kg_m3 : array_like
        Of the stuff [kg/m3].

    Returns
    -------
    ndarray
        Weight in water.
    """
    rho = np.asarray(density_kg_m3, dtype=np.float64)
    wet: FloatArray = np.asarray(dry, dtype=np.float64) * (1 - FRESH_WATER_KG_M3.value / rho)
    return wet
