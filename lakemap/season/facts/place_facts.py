"""Where a float is: grid, bearings and distances to two marks, depths at the level of the day."""

from dataclasses import dataclass

import numpy as np

from lakemap.assessment import AssessedFloat
from lakemap.basis.errors import RangeError
from lakemap.basis.records import FloatArray
from lakemap.lake.shore_marks import SIGHT_DEG, convergence_deg, grid_bearing_deg
from lakemap.lake.water import inside
from lakemap.rig.records import Placement
from lakemap.season.facts.marks import Mark, marks_for
from lakemap.season.facts.sheet_ground import SheetGround


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkSight:
    """A mark on the shore that can be seen, or stood at, and how the primary lies from it."""

    name: str  # such as "outer end of dock 3"
    kind: str  # dock, ramp, a zone kind, island, shore
    lon: float
    lat: float
    x_m: float
    y_m: float
    from_mark_deg: float  # true bearing from the mark to the primary
    to_mark_deg: float  # true bearing from the primary to the mark
    distance_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DayDepths:
    """Depths at the level of the day; None is not known."""

    level_m: float  # on the lake's own gauge
    is_normal: bool  # the normal level, as no other was given
    primary_m: float | None
    secondary_m: float | None
    least_m: float | None  # in the swing circle at that level


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceFacts:
    """Where one float's primary is."""

    float_id: str
    lon: float
    lat: float
    x_m: float  # east and north of the grid's origin
    y_m: float
    grid_lon: float  # the grid's origin, the middle of the lake's bounds
    grid_lat: float
    convergence_deg: float  # of the grid here: true bearing less grid bearing
    located: bool  # False: lon, lat are a fix, the primary is not known
    marks: tuple[MarkSight, ...]  # two; fewer only where the lake has no other
    crossing_deg: float | None  # angle at which the two sights cross, 0 to 90
    sight_error_deg: float  # standard error of one bearing that fix_error_m counts with
    fix_error_m: float | None  # root mean square of a fix by the two bearings
    depths: DayDepths


def place_facts(ground: SheetGround, float_id: str, *, level_m: float | None = None) -> PlaceFacts:
    """Return where one float's primary is: grid, two marks, depths at the level of the day.

    Bearings are true: those of the grid and its convergence at the place that one looks from.

    Parameters
    ----------
    ground : SheetGround
        The field.
    float_id : str
        Its number or name.
    level_m : float or None
        Level of the day on the lake's own gauge [m]; None: normal.

    Returns
    -------
    PlaceFacts
        Of the primary, or of the fix where that is not located.
    """
    one, where = ground.float_of(float_id), ground.assessment.projection
    at = np.array([one.x_m, one.y_m])
    marks, pair = marks_for(at, ground.assessment.water, *ground.marks)
    turned = float(convergence_deg(one.lon, one.lat, lon0=where.lon0))
    return PlaceFacts(
        float_id=one.record.float_id,
        lon=one.lon,
        lat=one.lat,
        x_m=one.x_m,
        y_m=one.y_m,
        grid_lon=where.lon0,
        grid_lat=where.lat0,
        convergence_deg=turned,
        located=one.located,
        marks=tuple(_sight(ground, mark, at, turned) for mark in marks),
        crossing_deg=None if pair is None else pair.crossing_deg,
        sight_error_deg=SIGHT_DEG.value,
        fix_error_m=None if pair is None else pair.fix_error_m,
        depths=day_depths(ground, one, level_m=level_m),
    )


def _sight(ground: SheetGround, mark: Mark, at: FloatArray, turned_deg: float) -> MarkSight:
    where = ground.assessment.projection
    lon, lat = (float(one[0]) for one in where.to_lonlat([mark.xy[0]], [mark.xy[1]]))
    way = at - np.array(mark.xy)
    there = float(convergence_deg(lon, lat, lon0=where.lon0))
    return MarkSight(
        name=mark.name,
        kind=mark.kind,
        lon=lon,
        lat=lat,
        x_m=mark.xy[0],
        y_m=mark.xy[1],
        from_mark_deg=(float(grid_bearing_deg(way)) + there) % 360.0,
        to_mark_deg=(float(grid_bearing_deg(-way)) + turned_deg) % 360.0,
        distance_m=float(np.hypot(*way)),
    )


def day_depths(
    ground: SheetGround, one: AssessedFloat, *, level_m: float | None = None
) -> DayDepths:
    """Return the depths at one float at the level of the day.

    Parameters
    ----------
    ground : SheetGround
        The field.
    one : AssessedFloat
        Of it.
    level_m : float or None
        On the lake's own gauge [m]; None: normal.

    Returns
    -------
    DayDepths
        The least is that of the swing circle at that level.

    Raises
    ------
    RangeError
        If the level is no number.
    """
    levels = ground.assessment.field.settings.levels
    level = levels.normal_m if level_m is None else level_m
    if not np.isfinite(level):
        raise RangeError(f"level {level} m: need a height on the lake's gauge")
    shift = level - levels.soundings_m
    placement, surface = ground.assessment.sized.question.placement, ground.surface
    primary = float(placement.sounding_depth_m[one.at]) + shift
    second, least = np.nan, np.nan
    if surface is not None:
        second = _second_depth(ground, one) + shift
        least = float(
            surface.least_within([[one.x_m, one.y_m]], _radius(placement, one, primary))[0]
        )
        least = float(np.fmin(least + shift, primary))
    return DayDepths(
        level_m=level,
        is_normal=level_m is None,
        primary_m=_known(primary),
        secondary_m=_known(second),
        least_m=_known(least) if np.isfinite(primary) else None,
    )


def _second_depth(ground: SheetGround, one: AssessedFloat) -> float:
    if one.secondary is None or ground.surface is None:
        return np.nan
    at = np.array([[one.secondary.x_m, one.secondary.y_m]])
    if not inside(ground.assessment.water, at)[0]:
        return np.nan
    return float(ground.surface.at_wet(at)[0])


def _radius(placement: Placement, one: AssessedFloat, depth_m: float) -> float:
    """Swing radius at the depth of the day; at a depth that is not known, of the whole line."""
    line = float(placement.riser_m[one.at] + placement.ground_m[one.at])
    drop = max(float(np.nan_to_num(depth_m - placement.hook_depth_m[one.at])), 0.0)
    reach = np.sqrt(max(line**2 - drop**2, 0.0)) if np.isfinite(line) else 0.0
    return float(reach + one.corner_m + one.extra_m)


def _known(value: float) -> float | None:
    return None if np.isnan(value) else float(value)
