"""What the rules leave a new float in a square of water at least, and at most."""

from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from lakemap.basis.records import BoolArray, FloatArray
from lakemap.clearances.against import CLUSTER_HEIGHT_M
from lakemap.lake.depth import DepthSurface
from lakemap.lake.levels import depth_at_level
from lakemap.lake.water import nearest_on_shore
from lakemap.rig.lengths import ground_length, riser_length
from lakemap.rig.records import Placement
from lakemap.siting.margins import wind_spares
from lakemap.siting.spots import SpotField, spots_at

_AT_ONCE: Final = 5_000  # squares, to bound the memory
_WAVE_CHANGES: Final = 1.25  # ours: of the wave from the middle of a square to its corners


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """Least and greatest value in every square; shape [n]."""

    low: FloatArray
    high: FloatArray


def radius_range(field: SpotField, xy: FloatArray, half_m: float) -> Range:
    """Return the least and the greatest swing radius in circles about places.

    Parameters
    ----------
    field : SpotField
        What is to be laid, in a lake with soundings.
    xy : ndarray, shape [n, 2]
        Places [m], in the lake or near it.
    half_m : float
        Radius of the circles [m].

    Returns
    -------
    Range
        Metres; a corner of the deck at least.
    """
    surface = field.lake.surface
    if surface is None:
        return Range(low=np.full(len(xy), field.corner_m), high=np.full(len(xy), np.inf))
    radius = _rig(field, surface, xy, half_m).radius
    return Range(low=np.fmax(radius.low, field.corner_m), high=radius.high)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rig:
    """The rig in every square."""

    works: BoolArray  # everywhere
    fails: BoolArray  # everywhere
    radius: Range
    walk: Range
    middle: Placement  # at the squares' middles


def spare_range(field: SpotField, xy: FloatArray, half_m: float) -> Range:
    """Return what the rules leave in circles about the middles of squares.

    Distances change by no more than the way from the middle; depths by what the surface holds
    there; lengths by what the shallowest and the deepest water there ask for.

    Parameters
    ----------
    field : SpotField
        What is to be laid, and where.
    xy : ndarray, shape [n, 2]
        Middles of the squares [m], in the lake or near it.
    half_m : float
        From the middle of a square to its corners [m].

    Returns
    -------
    Range
        Of the sign: below 0 at most, and no float may lie in the square; not below 0 at least, and
        one may lie anywhere in it.
    """
    parts = [
        _spare_range(field, xy[first : first + _AT_ONCE], half_m)
        for first in range(0, max(len(xy), 1), _AT_ONCE)
    ]
    return Range(
        low=np.concatenate([part.low for part in parts]),
        high=np.concatenate([part.high for part in parts]),
    )


def _spare_range(field: SpotField, xy: FloatArray, half_m: float) -> Range:
    surface = field.lake.surface
    room, _ = field.free.room(xy)
    if surface is None:
        return Range(low=np.full(len(xy), -np.inf), high=np.full(len(xy), -np.inf))
    rig = _rig(field, surface, xy, half_m)
    low = [room - half_m - rig.radius.high]
    high = [room + half_m - rig.radius.low]
    for part in (*_beside(field, xy, half_m, rig), *_depths(field, surface, xy, half_m, rig)):
        low.append(part.low)
        high.append(part.high)
    sure = rig.works & _sounded(surface, xy, half_m)
    return Range(
        low=np.where(sure, np.min(low, axis=0), -np.inf),
        high=np.where(rig.fails, -np.inf, np.min(high, axis=0)),
    )


def _rig(field: SpotField, surface: DepthSurface, xy: FloatArray, half_m: float) -> _Rig:
    lake, like = field.lake, field.like
    units, spots = lake.settings.units, spots_at(field, xy)
    middle = spots.at
    hook = Range(low=middle.hook_depth_empty_m, high=middle.hook_depth_m)  # empty, with people
    wave = np.fmax(middle.wake_height_m, np.nan_to_num(spots.highest_wave_m))
    depth = Range(low=surface.least_within(xy, half_m), high=surface.greatest_within(xy, half_m))
    ground = _lengths(like.ground_m, ground_length(_at(field, depth, "normal_m"), units))
    deep_low = surface.greatest_within(xy, _shared(ground.low, half_m))
    deep = Range(
        low=np.fmax(deep_low, depth.low),
        high=surface.greatest_within(xy, np.nan_to_num(ground.high) + half_m),
    )
    asked = np.stack([wave / _WAVE_CHANGES, wave * _WAVE_CHANGES])
    riser = _lengths(
        like.riser_m,
        riser_length(_at(field, deep, "high_m"), hook_depth_m=hook.low, wave_m=asked, units=units),
    )
    line = Range(low=ground.low + riser.low, high=ground.high + riser.high)
    low, high = _at(field, depth, "low_m"), _at(field, depth, "high_m")
    drop = Range(low=low[0] - hook.high, high=low[1] - hook.high)
    rise = high - hook.low
    return _Rig(
        works=(drop.low > 0) & (line.low > rise[1]),
        fails=~(drop.high > 0) | (line.high <= rise[0]),
        radius=Range(
            low=_reach(line.low, np.maximum(drop.high, 0.0)) + field.corner_m,
            high=_reach(line.high, np.maximum(drop.low, 0.0)) + field.corner_m,
        ),
        walk=ground,
        middle=middle,
    )


def _at(field: SpotField, depth: Range, level: str) -> FloatArray:
    """Depths at one lake level, [2, n]."""
    levels = field.lake.settings.levels
    return depth_at_level(
        np.stack([depth.low, depth.high]),
        level_m=getattr(levels, level),
        soundings_level_m=levels.soundings_m,
    )


def _lengths(given: float | None, designed: FloatArray) -> Range:
    if given is None:
        return Range(low=designed[0], high=designed[1])
    same = np.full(designed.shape[1], given)
    return Range(low=same, high=same)


def _reach(line: FloatArray, drop: FloatArray) -> FloatArray:
    reach: FloatArray = np.sqrt(np.maximum(line**2 - drop**2, 0.0))
    return reach


def _beside(field: SpotField, xy: FloatArray, half_m: float, rig: _Rig) -> list[Range]:
    """Rules that are neither layers nor depths."""
    rules, found = field.lake.settings.rules, []
    if "shore_max" in rules:
        left = rules["shore_max"].limit - nearest_on_shore(field.lake.water, xy)[0]
        found.append(
            Range(low=left - half_m - rig.radius.high, high=left + half_m - rig.radius.low)
        )
    if "deck_area_max" in rules:
        area = field.like.length_m * field.like.width_m
        same = np.full(len(xy), rules["deck_area_max"].limit - area)
        found.append(Range(low=same, high=same))
    if field.same_wind:
        spare = wind_spares(field, rig.middle).min(axis=1, initial=np.inf)
        doubt = half_m + rig.radius.high - rig.radius.low
        found.append(Range(low=spare - doubt, high=spare + doubt))
    return found


def _depths(
    field: SpotField, surface: DepthSurface, xy: FloatArray, half_m: float, rig: _Rig
) -> list[Range]:
    rules, levels = field.lake.settings.rules, field.lake.settings.levels
    shift = levels.low_m - levels.soundings_m

    def least(within: Range, more_m: float = 0.0) -> Range:
        wide = np.nan_to_num(within.high, nan=0.0) + more_m + half_m
        narrow = _shared(within.low + more_m, half_m)
        return Range(
            low=surface.least_within(xy, wide) + shift,
            high=surface.least_within(xy, narrow) + shift,
        )

    found = []
    if "bed" in rules:
        asked = rules["bed"].limit + field.buoyancy.draft_people_m[0]
        under = least(rig.radius)
        found.append(Range(low=under.low - asked, high=under.high - asked))
    if "jump_depth" in rules:
        rule = rules["jump_depth"]
        around, over = least(rig.radius, rule.beyond_m), least(rig.walk)
        found.append(
            Range(
                low=np.fmin(around.low, over.low - CLUSTER_HEIGHT_M) - rule.limit,
                high=np.fmin(around.high, over.high - CLUSTER_HEIGHT_M) - rule.limit,
            )
        )
    return [
        Range(low=np.nan_to_num(r.low, nan=-np.inf), high=_unknown_is_free(r.high)) for r in found
    ]


def _shared(radius_m: FloatArray, half_m: float) -> FloatArray:
    """The circle about the middle that lies in those about every place; NaN: there is none."""
    left = radius_m - half_m
    return np.where(left >= 0, left, np.nan)


def _unknown_is_free(high: FloatArray) -> FloatArray:
    """Where no water is in all circles, nothing is known at most."""
    return np.where(np.isnan(high), np.inf, high)


def _sounded(surface: DepthSurface, xy: FloatArray, half_m: float) -> BoolArray:
    """Squares in which every depth is known."""
    mesh = surface.mesh
    known = np.ones(len(xy), dtype=bool)
    if np.isfinite(mesh.far_m):
        away, _ = mesh.tree.query(xy)
        known &= away + half_m <= mesh.far_m
    bare = mesh.wet & ~mesh.sounded
    if bare.any():
        tree = shapely.STRtree(shapely.polygons(mesh.xy[mesh.corners[bare]]))
        square = shapely.box(*(xy - half_m).T, *(xy + half_m).T)
        known[np.unique(tree.query(square, predicate="intersects")[0])] = False
    return known
