"""Lifting a rig: what hangs at each stage, and what the hoist carries."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.records import FloatArray
from lakemap.rig.lift_weights import LiftWeight

StageName = Literal["secondary up", "chain upright", "primary up", "both under the float", "ashore"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftRig:
    """A rig as it is lifted: depths at the level of the day, lines in water and in air."""

    primary: LiftWeight
    secondary: LiftWeight
    primary_depth_m: float
    secondary_depth_m: float
    ground_m: float
    riser_m: float
    chain_water_n_m: float  # ground chain
    chain_air_n_m: float
    riser_water_n_m: float  # riser with its absorber spread over its length
    riser_air_n_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """One stage of lifting; all that hangs then, and the most that the hoist carries."""

    name: StageName
    air_n: float  # weight in air of all that hangs
    water_n: float  # the same in water; 0 ashore, where nothing is in it
    hoist_n: float  # the greatest pull of the hoist during the stage
    height_m: float  # of the thing being lifted above the bed, where the pull is greatest


def secondary_pull_n(rig: LiftRig, height_m: ArrayLike) -> FloatArray:
    """Return what a hoist at the surface carries while it brings up the secondary by the riser.

    T(h) = w_r (d - h) + W_2 + w_c min(h, g), and W_1 more once h passes g: with h the secondary's
    height above the bed, d the depth there, g the ground chain. For a boat that is free to lie
    above what it lifts; one that is held off pulls the chain aslant and harder. Source: statics.

    Parameters
    ----------
    rig : LiftRig
        To be lifted.
    height_m : array_like
        Height h of the secondary above the bed [m], 0 to the depth.

    Returns
    -------
    ndarray
        Pull [N].

    Raises
    ------
    RangeError
        If a height lies outside.
    """
    h = _heights(height_m, rig.secondary_depth_m)
    pull: FloatArray = (
        rig.riser_water_n_m * np.minimum(rig.secondary_depth_m - h, rig.riser_m)
        + rig.secondary.water_n
        + rig.chain_water_n_m * np.minimum(h, rig.ground_m)
        + np.where(h > rig.ground_m, rig.primary.water_n, 0.0)
    )
    return pull


def primary_pull_n(rig: LiftRig, height_m: ArrayLike) -> FloatArray:
    """Return what a hoist at the surface carries while it brings up the primary by its chain.

    T(k) = w_c min(d - k, g) + W_1, with k the primary's height above the bed, d the depth there and
    g the ground chain, the secondary already made fast under the float. Without what it takes to
    free a buried one, which nobody can promise. Source: statics.

    Parameters
    ----------
    rig : LiftRig
        To be lifted.
    height_m : array_like
        Height k of the primary above the bed [m], 0 to the depth.

    Returns
    -------
    ndarray
        Pull [N].

    Raises
    ------
    RangeError
        If a height lies outside.
    """
    k = _heights(height_m, rig.primary_depth_m)
    chain = rig.chain_water_n_m * np.minimum(rig.primary_depth_m - k, rig.ground_m)
    pull: FloatArray = chain + rig.primary.water_n
    return pull


def hung_n(rig: LiftRig) -> float:
    """Return the weight in water of both clusters, ground chain and riser under the float [N]."""
    line = rig.chain_water_n_m * rig.ground_m + rig.riser_water_n_m * rig.riser_m
    return rig.primary.water_n + rig.secondary.water_n + line


def lifting_stages(rig: LiftRig) -> tuple[Stage, ...]:
    """Return the stages of lifting, from the secondary on its bed to all of it ashore.

    The pulls are straight between the heights where something joins or ends, so the greatest is at
    one of these. Where the ground chain is shorter than the depth, the primary leaves the bed
    before the secondary is up, and both hang on the riser.

    Parameters
    ----------
    rig : LiftRig
        Depths above 0.

    Returns
    -------
    tuple of Stage
        Five of them.

    Raises
    ------
    RangeError
        If a depth or a length is none.
    """
    wrong = [
        f"{name.removesuffix('_m').replace('_', ' ')} {value:g} m"
        for name in ("primary_depth_m", "secondary_depth_m", "ground_m", "riser_m")
        if not (value := getattr(rig, name)) > 0
    ]
    if wrong:
        raise RangeError(f"{', '.join(wrong)}: need depths and lengths above 0 to lift from")
    return (
        _secondary_up(rig),
        _chain_upright(rig),
        _primary_up(rig),
        _both_hung(rig),
        Stage(
            name="ashore",
            air_n=_air(rig),
            water_n=0.0,
            hoist_n=max(rig.primary.air_n, rig.secondary.air_n),
            height_m=rig.primary_depth_m,
        ),
    )


def _short(rig: LiftRig) -> bool:
    """Whether the primary leaves the bed while the secondary is still under water."""
    return rig.ground_m < rig.secondary_depth_m


def _secondary_up(rig: LiftRig) -> Stage:
    top = min(rig.ground_m, rig.secondary_depth_m)
    heights = np.array([0.0, max(rig.secondary_depth_m - rig.riser_m, 0.0), top])
    heights = heights[heights <= top]
    pull = secondary_pull_n(rig, heights)
    at = float(heights[pull.argmax()])
    riser = min(rig.secondary_depth_m - at, rig.riser_m)
    return Stage(
        name="secondary up",
        air_n=rig.secondary.air_n + rig.riser_air_n_m * riser + rig.chain_air_n_m * at,
        water_n=float(pull.max()),
        hoist_n=float(pull.max()),
        height_m=at,
    )


def _upright_line(rig: LiftRig) -> tuple[float, float]:
    """What of the riser and of the ground chain hangs when the chain stands upright [m]."""
    if _short(rig):
        return min(rig.secondary_depth_m - rig.ground_m, rig.riser_m), rig.ground_m
    return 0.0, min(rig.primary_depth_m, rig.ground_m)


def _chain_upright(rig: LiftRig) -> Stage:
    riser, chain = _upright_line(rig)
    short = _short(rig)
    air = rig.riser_air_n_m * riser + rig.chain_air_n_m * chain
    wet = rig.riser_water_n_m * riser + rig.chain_water_n_m * chain
    wet += rig.secondary.water_n if short else 0.0
    return Stage(
        name="chain upright",
        air_n=air + (rig.secondary.air_n if short else 0.0),
        water_n=wet,
        hoist_n=wet,
        height_m=0.0,
    )


def _primary_up(rig: LiftRig) -> Stage:
    upright = _chain_upright(rig)
    wet = upright.water_n + rig.primary.water_n
    later = float(primary_pull_n(rig, 0.0)) if not _short(rig) else wet
    return Stage(
        name="primary up",
        air_n=upright.air_n + rig.primary.air_n,
        water_n=wet,
        hoist_n=max(wet, later),
        height_m=0.0,
    )


def _both_hung(rig: LiftRig) -> Stage:
    return Stage(
        name="both under the float",
        air_n=_air(rig),
        water_n=hung_n(rig),
        hoist_n=0.0,
        height_m=rig.primary_depth_m,
    )


def _air(rig: LiftRig) -> float:
    line = rig.chain_air_n_m * rig.ground_m + rig.riser_air_n_m * rig.riser_m
    return rig.primary.air_n + rig.secondary.air_n + line


def _heights(height_m: ArrayLike, depth_m: float) -> FloatArray:
    heights = np.asarray(height_m, dtype=np.float64)
    wrong = ~((heights >= 0) & (heights <= depth_m))
    if wrong.any():
        listed = ", ".join(f"{one:g}" for one in heights[wrong].ravel())
        raise RangeError(f"{listed} m above the bed: need 0 to the depth, {depth_m:g} m")
    return heights
