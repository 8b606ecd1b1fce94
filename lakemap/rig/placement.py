"""Where every float's clusters lie, what its blanks become, and how far it swings."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from lakemap.basis.records import BoolArray, Float, FloatArray, Geometry, Settings
from lakemap.lake.depth import DepthSurface
from lakemap.lake.levels import depth_at_level
from lakemap.lake.soundings import leave_out_error
from lakemap.lake.water import inside, nearest_on_shore
from lakemap.loads.wakes import wake_height
from lakemap.rig.columns import column, filled
from lakemap.rig.lengths import ground_length, riser_length
from lakemap.rig.records import Buoyancy, Placement
from lakemap.rig.swing import corner, reach

_ROUNDS = 20  # a ground chain that follows its own primary's depth settles in two or three
_LAST = 10  # of those; longer than any ring of lengths seen on a rough bed


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacementQuestion:
    """What the placement of a field's floats rests on."""

    floats: Sequence[Float]
    fix_xy: FloatArray  # [n, 2], of the thing that position_of names
    buoyancy: Buoyancy
    water: Geometry  # metres
    surface: DepthSurface | None
    channels: Sequence[tuple[Geometry, float | None]]  # shape in metres, width of a line
    settings: Settings
    highest_wave_m: FloatArray | None = None  # [n], of the design storm; NaN or None: not known
    worst_from_deg: FloatArray | None = None  # [n], bearing of the storm that pulls hardest
    how_sure: bool = True  # whether the depths' errors are asked for, which takes longest


@dataclass(frozen=True, slots=True, kw_only=True)
class _Given:
    """The floats' columns as arrays; NaN is blank."""

    own_depth: FloatArray
    riser: FloatArray
    ground: FloatArray
    bearing: FloatArray
    wind: FloatArray
    of_secondary: BoolArray
    of_float: BoolArray
    hook_empty: FloatArray
    hook_people: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """Where the primaries are."""

    xy: FloatArray
    located: BoolArray
    extra: FloatArray  # NaN: one reach, not known yet
    ground: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class _Line:
    """The line at the primary."""

    sounding: FloatArray
    depth: FloatArray  # [n, 3]
    riser: FloatArray
    ground: FloatArray
    passing: FloatArray  # how close boats pass
    wake: FloatArray


def place(question: PlacementQuestion) -> Placement:
    """Place every float: primary, secondary, chosen lengths, circles at three lake levels.

    Parameters
    ----------
    question : PlacementQuestion
        Floats with their projected fixes, and the lake.

    Returns
    -------
    Placement
        Arrays in file order.
    """
    given = _columns(question)
    found = _locate(question, given)
    line = _line_at(question, given, found)
    total = line.riser + line.ground
    drop = line.depth - given.hook_people[:, None]
    reaches = _reaches(drop, total)
    extra = filled(found.extra, _farthest(drop, total))
    no_depth = np.isnan(line.sounding)
    corners = _corners(question.floats)
    swing = np.where(np.isnan(reaches), 0.0, reaches) + (corners + extra)[:, None]
    high_empty = line.depth[:, 2] - given.hook_empty
    pulled_under = ~no_depth & (total <= high_empty)
    bearing, assumed = _bearings(question, given, found)
    return Placement(
        primary_xy=found.xy,
        located=found.located,
        extra_m=np.where(np.isnan(total), np.nan_to_num(extra), extra),
        secondary_xy=_secondaries(question, given, found, bearing, line.ground),
        bearing_deg=bearing,
        bearing_assumed=assumed,
        sounding_depth_m=line.sounding,
        depth_m=line.depth,
        depth_error_m=_depth_error(question, found.xy),
        hook_depth_m=given.hook_people,
        hook_depth_empty_m=given.hook_empty,
        riser_m=line.riser,
        ground_m=line.ground,
        riser_chosen=np.isnan(given.riser),
        ground_chosen=np.isnan(given.ground),
        corner_m=corners,
        reach_m=reaches,
        swing_radius_m=np.where(np.isnan(total)[:, None], np.nan, swing),
        walk_radius_m=line.ground + extra,
        no_depth=no_depth,
        pulled_under=pulled_under,
        aground=drop[:, 0] <= 0,
        hung=~no_depth & ~pulled_under & (line.riser <= high_empty),
        outside=~inside(question.water, found.xy),
        passing_m=line.passing,
        wake_height_m=line.wake,
    )


def primaries(question: PlacementQuestion) -> FloatArray:
    """Find where the primaries are, as `place` does, without placing the rest.

    Parameters
    ----------
    question : PlacementQuestion
        Floats with their projected fixes, and the lake.

    Returns
    -------
    ndarray, shape [n, 2]
        The primaries, or the fixes where they are not located [m].
    """
    return _locate(question, _columns(question)).xy


def _columns(question: PlacementQuestion) -> _Given:
    floats, buoyancy = question.floats, question.buoyancy
    hook = column(one.hook_depth_m for one in floats)
    return _Given(
        own_depth=column(one.depth_m for one in floats),
        riser=column(one.riser_m for one in floats),
        ground=column(one.ground_m for one in floats),
        bearing=column(one.bearing_deg for one in floats),
        wind=column(one.wind_from_deg for one in floats),
        of_secondary=np.array([one.position_of == "secondary" for one in floats], dtype=bool),
        of_float=np.array([one.position_of == "float" for one in floats], dtype=bool),
        # a blank hook is at the underside of the deck, on top of the flotation
        hook_empty=filled(hook, buoyancy.draft_m - buoyancy.height_m),
        hook_people=filled(hook, buoyancy.draft_people_m - buoyancy.height_m),
    )


def _corners(floats: Sequence[Float]) -> FloatArray:
    return corner(
        column(one.length_m for one in floats),
        column(one.width_m for one in floats),
        at_edge=np.array([one.hook == "edge" for one in floats], dtype=bool),
    )


def _sounded(question: PlacementQuestion, given: _Given, xy: FloatArray) -> FloatArray:
    """Depth at the soundings' level: the float's own, else the surface's, else NaN."""
    depth = given.own_depth.copy()
    if question.surface is not None:
        ask = np.flatnonzero(np.isnan(depth) & inside(question.water, xy))
        depth[ask] = question.surface.at_wet(xy[ask])
    return depth


def _at_levels(question: PlacementQuestion, sounding: FloatArray) -> FloatArray:
    """Depths at low, normal and high water, shape [n, 3]."""
    levels = question.settings.levels
    return depth_at_level(
        sounding[:, None],
        level_m=[levels.low_m, levels.normal_m, levels.high_m],
        soundings_level_m=levels.soundings_m,
    )


def _unit(bearing_deg: FloatArray) -> FloatArray:
    """Return unit vectors east, north; 0 where the bearing is NaN."""
    angle = np.radians(np.nan_to_num(bearing_deg))
    vector = np.column_stack([np.sin(angle), np.cos(angle)])
    return np.where(np.isnan(bearing_deg)[:, None], 0.0, vector)


def _blank_ground(question: PlacementQuestion, given: _Given, xy: FloatArray) -> FloatArray:
    """Return the ground chain given, or one depth at normal level at a place."""
    normal = _at_levels(question, _sounded(question, given, xy))[:, 1]
    return filled(given.ground, ground_length(normal, question.settings.units))


def _locate(question: PlacementQuestion, given: _Given) -> _Found:
    """Find the primaries from what was fixed."""
    xy, ground = _back_from_secondary(question, given)
    by_bearing = given.of_secondary & ~np.isnan(given.bearing)
    by_wind = given.of_float & ~np.isnan(given.wind)
    offset, half = _back_from_float(question, given, ground)
    by_wind &= ~np.isnan(offset)
    xy = np.where(by_wind[:, None], xy + np.nan_to_num(offset)[:, None] * _unit(given.wind), xy)
    located = (~given.of_secondary & ~given.of_float) | (by_bearing & ~np.isnan(ground)) | by_wind
    extra = np.zeros(len(ground))
    extra = np.where(by_wind, half, extra)
    extra = np.where(given.of_secondary & ~located, ground, extra)
    extra = np.where(given.of_float & ~located, np.nan, extra)
    return _Found(xy=xy, located=located, extra=extra, ground=ground)


def _back_from_secondary(
    question: PlacementQuestion, given: _Given
) -> tuple[FloatArray, FloatArray]:
    """One ground chain back from a secondary; a blank one follows the depth at the primary."""
    back = given.of_secondary & ~np.isnan(given.bearing)
    along = np.where(back[:, None], _unit(given.bearing), 0.0)
    tried = [_blank_ground(question, given, question.fix_xy)]
    while len(tried) <= _ROUNDS:
        xy = question.fix_xy - np.nan_to_num(tried[-1])[:, None] * along
        again = _blank_ground(question, given, xy)
        if np.array_equal(again, tried[-1], equal_nan=True):
            return xy, again
        tried.append(again)
    # some flip between lengths: the longest is the safe one; the others stay as they settled
    ground: FloatArray = np.fmax.reduce(tried[-_LAST:])
    return question.fix_xy - np.nan_to_num(ground)[:, None] * along, ground


def _back_from_float(
    question: PlacementQuestion, given: _Given, ground: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """How far to windward of a float its primary lies, and half the doubt about it."""
    nowhere = np.full(len(ground), np.nan)
    if not given.of_float.any():
        return nowhere, nowhere
    there = _Found(
        xy=question.fix_xy, located=given.of_float, extra=np.zeros(len(ground)), ground=ground
    )
    line = _line_at(question, given, there)
    total = line.riser + line.ground
    calm = np.maximum(0.0, total - (line.depth[:, 2] - given.hook_empty))
    far = _reaches(line.depth - given.hook_people[:, None], total)[:, 0]
    return (calm + far) / 2, np.abs(far - calm) / 2


def _line_at(question: PlacementQuestion, given: _Given, found: _Found) -> _Line:
    """Depth, chosen lengths and wake at the primaries."""
    sounding = _sounded(question, given, found.xy)
    depth = _at_levels(question, sounding)
    ground = filled(given.ground, ground_length(depth[:, 1], question.settings.units))
    # one ground chain lies between a secondary that was fixed and the primary reckoned from it
    ground = np.where(given.of_secondary | np.isnan(ground), found.ground, ground)
    passing, wake = passing_wake(question, found.xy)
    bare = _Line(
        sounding=sounding,
        depth=depth,
        riser=given.riser,
        ground=ground,
        passing=passing,
        wake=wake,
    )
    return replace(bare, riser=_risers(question, given, found, bare))


def _risers(question: PlacementQuestion, given: _Given, found: _Found, bare: _Line) -> FloatArray:
    """Return the risers given, and for blank ones what the deepest water in the walk circle asks.

    Where the walk circle takes in one reach, a longer riser widens it: both grow until they agree,
    which they do, as lengths come in steps and no bed is deeper than its deepest point.
    """
    drop = bare.depth - given.hook_people[:, None]
    storm = question.highest_wave_m
    wave = bare.wake if storm is None else np.fmax(bare.wake, storm)
    ask = np.isnan(given.riser)
    by_reach = ask & np.isnan(found.extra)
    walk = bare.ground + np.nan_to_num(found.extra)
    riser = given.riser
    while ask.any():
        deepest = _deepest(question, found.xy, walk, ask)
        high = _at_levels(question, np.fmax(deepest, bare.sounding))[:, 2]
        asked = riser_length(
            high, hook_depth_m=given.hook_empty, wave_m=wave, units=question.settings.units
        )
        known = ask & ~np.isnan(bare.sounding)
        longer = known & ~(asked <= riser)  # NaN, a riser not chosen yet, lands here too
        riser = np.where(longer, asked, riser)
        ask = by_reach & longer
        walk = np.where(by_reach, bare.ground + _farthest(drop, riser + bare.ground), walk)
    return riser


def _deepest(
    question: PlacementQuestion, xy: FloatArray, walk: FloatArray, ask: BoolArray
) -> FloatArray:
    """Greatest sounded depth within the walk circles asked for; NaN for the others."""
    deepest = np.full(len(xy), np.nan)
    known = ask & ~np.isnan(walk)
    if question.surface is not None and known.any():
        deepest[known] = question.surface.greatest_within(xy[known], walk[known])
    return deepest


def passing_wake(question: PlacementQuestion, xy: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return how close boats pass places, and how high their wake then is.

    Parameters
    ----------
    question : PlacementQuestion
        With the channels and the wake.
    xy : ndarray, shape [n, 2]
        Places [m].

    Returns
    -------
    tuple of ndarray, shape [n]
        Distance and height [m].
    """
    passing, wake = _passing(question, xy), question.settings.wake
    height = wake_height(passing, height_m=wake.height_m, at_m=wake.at_m, extrapolate=True)
    return passing, height


def _passing(question: PlacementQuestion, xy: FloatArray) -> FloatArray:
    """How close boats pass each primary: `nearest`, or the channel's edge if that is farther."""
    nearest = question.settings.wake.nearest_m
    distance = np.full(len(xy), np.inf)
    points = shapely.points(xy)
    for shape, width in question.channels:
        edge = shapely.distance(shape, points) - (width or 0.0) / 2
        distance = np.minimum(distance, np.maximum(edge, 0.0))
    return np.maximum(nearest, np.where(np.isinf(distance), 0.0, distance))


def _reaches(drop: FloatArray, total: FloatArray) -> FloatArray:
    """Reach at each level: the line where depth is unknown or 0, NaN where it is too short."""
    line = np.broadcast_to(total[:, None], drop.shape)
    depth = np.clip(np.nan_to_num(drop), 0.0, None)
    short = np.isnan(line) | (line <= depth)
    depth, line_ = np.where(short, 0.0, depth), np.where(short, 1.0, line)
    return np.where(short, np.nan, reach(depth, line_m=line_))


def _farthest(drop: FloatArray, total: FloatArray) -> FloatArray:
    """Reach at low water, and the whole line where it is too short to have one."""
    return filled(_reaches(drop, total)[:, 0], total)


def _bearings(
    question: PlacementQuestion, given: _Given, found: _Found
) -> tuple[FloatArray, BoolArray]:
    """Bearing from primary to secondary; assumed down the storm wind, or towards the shore."""
    nowhere = ~found.located
    from_deg, worst = question.settings.storm.from_deg, question.worst_from_deg
    if from_deg:
        guess = np.full(len(found.xy), (from_deg[0] + 180.0) % 360.0)
    else:
        _, nearest = nearest_on_shore(question.water, found.xy)
        east, north = (nearest - found.xy).T
        guess = np.degrees(np.arctan2(east, north)) % 360.0
        if worst is not None:
            guess = filled((worst + 180.0) % 360.0, guess)
    assumed = np.isnan(given.bearing) & ~nowhere
    return np.where(nowhere, np.nan, filled(given.bearing, guess)), assumed


def _secondaries(
    question: PlacementQuestion,
    given: _Given,
    found: _Found,
    bearing: FloatArray,
    ground: FloatArray,
) -> FloatArray:
    """Where the secondaries lie; NaN where nobody knows."""
    along = np.where(np.isnan(bearing)[:, None], np.nan, _unit(bearing))
    xy = found.xy + ground[:, None] * along
    return np.where(given.of_secondary[:, None], question.fix_xy, xy)


def _depth_error(question: PlacementQuestion, xy: FloatArray) -> FloatArray:
    if question.surface is None or not question.how_sure:
        return np.full(len(xy), np.nan)
    return leave_out_error(question.surface, xy)
