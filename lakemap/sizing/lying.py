"""Where every float lies in one steady wind at one lake level."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from lakemap.basis.records import FloatArray
from lakemap.lake.levels import depth_at_level
from lakemap.loads.gusts import BEAUFORT
from lakemap.rig.holding import LineRig
from lakemap.rig.records import Placement
from lakemap.sizing.lines import at_rest, slides
from lakemap.sizing.weather import Weather, Winds, sounded, storms_only

_CALM_M_S: Final = BEAUFORT[1].from_m_s  # below it is calm; that no float is pushed then is ours


@dataclass(frozen=True, slots=True, kw_only=True)
class Hung:
    """What hangs between float and primary; shape [n]. NaN is unknown."""

    ground_weight_n_m: FloatArray  # in water
    riser_weight_n_m: FloatArray
    secondary_wet_n: FloatArray
    friction: FloatArray  # of the secondary on the bed


@dataclass(frozen=True, slots=True, kw_only=True)
class Lying:
    """Where floats lie; shape [n] or [n, 2]. NaN where nobody knows."""

    hook_xy: FloatArray
    secondary_xy: FloatArray
    radius_m: FloatArray  # of the swing circle at that level
    pull_n: FloatArray
    dragged: np.ndarray  # bool: the secondary was dragged down the wind


def steady_pull(
    weather: Weather, xy: FloatArray, *, wind_m_s: float, from_deg: float
) -> FloatArray:
    """Return the steady pull on every float in one wind: wind, waves and current together.

    Parameters
    ----------
    weather : Weather
        Lake and floats; its own winds are not used.
    xy : ndarray, shape [n, 2]
        Where they are moored [m].
    wind_m_s : float
        10-minute mean, 10 m above the water [m/s].
    from_deg : float
        True bearing the wind comes from.

    Returns
    -------
    ndarray, shape [n]
        Pull [N] by the design storm's own formulas; 0 in a calm, NaN on land.
    """
    if wind_m_s < _CALM_M_S:
        return np.zeros(len(xy))
    one = np.array([wind_m_s])
    winds = Winds(from_deg=np.array([from_deg % 360.0]), wind_m_s=one, gust_m_s=one)
    found = storms_only(replace(weather, winds=winds), xy, sounded(weather, xy))
    return found.mean_n


def lying(
    placement: Placement,
    hung: Hung,
    pull_n: FloatArray,
    *,
    from_deg: float,
    rise_m: float,
) -> Lying:
    """Return where floats lie under a steady pull.

    The secondary stays where it lies until the pull is enough to drag it over the bed; from then on
    it lies down the wind from the primary with its ground chain straight, and is lifted as the line
    tightens. The float lies down the wind from its secondary. Put together by us from
    `lakemap.rig.line` and the friction of the secondary; on a level bed.

    Parameters
    ----------
    placement : Placement
        Of n floats.
    hung : Hung
        Of the same floats.
    pull_n : ndarray, shape [n]
        Steady pull [N], >= 0.
    from_deg : float
        True bearing the wind comes from.
    rise_m : float
        The lake's level above the one that soundings were taken at [m].

    Returns
    -------
    Lying
        A float whose line is too short for the level lies above its primary.
    """
    down = np.radians(from_deg + 180.0)
    ahead = np.array([np.sin(down), np.cos(down)])
    depth = depth_at_level(placement.sounding_depth_m, level_m=rise_m, soundings_level_m=0.0)
    line = LineRig(
        drop_m=depth - placement.hook_depth_empty_m,
        ground_m=placement.ground_m,
        riser_m=placement.riser_m,
        ground_weight_n_m=hung.ground_weight_n_m,
        riser_weight_n_m=hung.riser_weight_n_m,
        secondary_wet_n=np.maximum(hung.secondary_wet_n, 0.0),
    )
    state = at_rest(pull_n, line)
    slide = slides(hung.friction, line)
    # a secondary that nobody has seen lies where the wind would have taken it
    seen = np.isfinite(placement.secondary_xy).all(axis=1)
    rests = seen & np.isfinite(slide) & (pull_n < slide)
    second = placement.primary_xy + state.secondary_x_m[:, None] * ahead
    second = np.where(rests[:, None], placement.secondary_xy, second)
    past = np.where(rests, state.reach_m - state.secondary_x_m, state.reach_m)
    start = np.where(rests[:, None], placement.secondary_xy, placement.primary_xy)
    hook = start + past[:, None] * ahead
    unsolved = np.isnan(state.reach_m)
    hook[unsolved] = placement.primary_xy[unsolved]
    second[unsolved] = placement.secondary_xy[unsolved]
    return Lying(
        hook_xy=hook,
        secondary_xy=second,
        radius_m=radius_at(placement, rise_m=rise_m),
        pull_n=pull_n,
        dragged=~rests & ~unsolved,
    )


def radius_at(placement: Placement, *, rise_m: float) -> FloatArray:
    """Return the swing radius of every float at one lake level.

    Parameters
    ----------
    placement : Placement
        Of n floats.
    rise_m : float
        The level above the one that soundings were taken at [m].

    Returns
    -------
    ndarray, shape [n]
        As the check takes it, with people aboard [m]; NaN where no length is known. Where the line
        is too short for the level it is that of the deck alone.
    """
    total = placement.riser_m + placement.ground_m
    depth = depth_at_level(placement.sounding_depth_m, level_m=rise_m, soundings_level_m=0.0)
    drop = np.clip(np.nan_to_num(depth - placement.hook_depth_m), 0.0, None)
    far = np.sqrt(np.clip((total - drop) * (total + drop), 0.0, None))
    return far + placement.corner_m + placement.extra_m
