"""What a setting sheet says of one float: where to drop it, how exactly, how to check it."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from lakemap.assessment import AssessedFloat
from lakemap.basis.published import exact
from lakemap.basis.quantities import FOOT_M
from lakemap.lake.water import inside
from lakemap.rechecked import laid_at, met_by
from lakemap.season.facts.place_facts import DayDepths, PlaceFacts, place_facts
from lakemap.season.facts.sheet_ground import SheetGround
from lakemap.siting.off_spot import OffSpot, off_spot

MARKER_SLACK_M: Final = exact(
    2 * FOOT_M.value, "m", "ours: so that wind and wake don't drown a marker", "over the depth"
)
PLUMB_M: Final = exact(
    FOOT_M.value / 2, "m", "ours: standard error of a line held plumb from a boat", "level"
)
_COVERAGE: Final = 2.0  # twice the standard error (JCGM 100:2008, 6.3.3: k = 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class SecondaryPoint:
    """Where to lower the secondary."""

    lon: float
    lat: float
    x_m: float
    y_m: float
    bearing_deg: float  # true, from the primary
    suggested: bool  # nobody saw a bearing: it is laid down the storm wind, or towards the shore
    on_land: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FreeWay:
    """How far the primary may lie off in one direction before some check turns to conflict."""

    bearing_deg: float  # true
    free_m: float
    beyond: bool  # True: free at least so far; it was not looked at farther
    kind: str | None  # of what then binds; None where nothing does
    against: str | None  # its name: a float, a zone, "lake", "island 2"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tolerance:
    """How exactly the primary must lie; None where it cannot be told."""

    radius_m: float  # off in any direction by this, and every check still holds; 0: none
    ways: tuple[FreeWay, ...]  # every 22.5 degrees from north, clockwise
    tightest: FreeWay
    freest: FreeWay
    conflict: bool  # it is in conflict where it is planned
    fits_fix: bool  # twice the field's own accuracy of positions stays inside the radius


@dataclass(frozen=True, slots=True, kw_only=True)
class Separation:
    """How to check that the chain lies straight: two marker lines held plumb over the clusters."""

    apart_m: float  # level distance between the lines over a straight chain
    tolerance_m: float  # more than this shorter, and the chain lies slack
    deeper_m: float  # the secondary lies so much deeper than the primary; negative: shallower
    slack_off_m: float  # how far a marker on a slack line may lie off its cluster


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingFacts:
    """The setting of one float."""

    place: PlaceFacts  # of the primary: the point to drop it at
    secondary: SecondaryPoint | None  # None: no ground chain is known
    ground_m: float | None
    ground_assumed: bool  # nobody measured it: measure before it goes in
    riser_m: float | None
    riser_assumed: bool
    primary_line_m: float | None  # marker line: depth and slack
    secondary_line_m: float | None
    tolerance: Tolerance | None
    separation: Separation | None


def setting_facts(
    ground: SheetGround, float_id: str, *, level_m: float | None = None
) -> SettingFacts:
    """Return what a setting sheet says of one float.

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
    SettingFacts
        Nothing rounded.
    """
    one = ground.float_of(float_id)
    place = place_facts(ground, float_id, level_m=level_m)
    depths = place.depths
    return SettingFacts(
        place=place,
        secondary=_secondary(ground, one),
        ground_m=one.ground_m,
        ground_assumed="ground_length" in one.assumed,
        riser_m=one.riser_m,
        riser_assumed="riser_length" in one.assumed,
        primary_line_m=_marker(depths.primary_m),
        secondary_line_m=_marker(depths.secondary_m),
        tolerance=_tolerance(ground, one, turned_deg=place.convergence_deg),
        separation=_separation(ground, one, depths),
    )


def _secondary(ground: SheetGround, one: AssessedFloat) -> SecondaryPoint | None:
    lies = one.secondary
    if lies is None or lies.bearing_deg is None:
        return None
    at = np.array([[lies.x_m, lies.y_m]])
    return SecondaryPoint(
        lon=lies.lon,
        lat=lies.lat,
        x_m=lies.x_m,
        y_m=lies.y_m,
        bearing_deg=lies.bearing_deg,
        suggested=lies.assumed,
        on_land=not inside(ground.assessment.water, at)[0],
    )


def _marker(depth_m: float | None) -> float | None:
    return None if depth_m is None or depth_m <= 0 else depth_m + MARKER_SLACK_M.value


def _tolerance(ground: SheetGround, one: AssessedFloat, *, turned_deg: float) -> Tolerance | None:
    """None for a float that has no rig to lay, or whose depth nobody knows."""
    if one.riser_m is None or one.ground_m is None or one.depth_m[0] is None:
        return None
    at = np.array([one.x_m, one.y_m])
    laid = laid_at(ground.rules, one.record, at)
    record = replace(laid, riser_m=one.riser_m, ground_m=one.ground_m)
    found = off_spot(met_by(ground.rules, record, without=[one.at]), at)
    ways = _ways(found, turned_deg)
    accuracy = ground.assessment.field.settings.accuracy
    return Tolerance(
        radius_m=found.radius_m,
        ways=ways,
        tightest=min(ways, key=lambda way: way.free_m),
        freest=max(ways, key=lambda way: way.free_m),
        conflict=found.spare_m < 0,
        fits_fix=_COVERAGE * accuracy.position_m <= found.radius_m,
    )


def _ways(found: OffSpot, turned_deg: float) -> tuple[FreeWay, ...]:
    return tuple(
        FreeWay(
            bearing_deg=(bearing + turned_deg) % 360.0,
            free_m=free,
            beyond=bool(found.beyond[k]),
            kind=found.kind[k],
            against=found.against[k],
        )
        for k, (bearing, free) in enumerate(
            zip(found.bearing_deg.tolist(), found.free_m.tolist(), strict=True)
        )
    )


def _separation(ground: SheetGround, one: AssessedFloat, depths: DayDepths) -> Separation | None:
    """None where a depth is not known, or the bed falls by more than the chain is long."""
    if one.ground_m is None or depths.primary_m is None or depths.secondary_m is None:
        return None
    deeper = depths.secondary_m - depths.primary_m
    if abs(deeper) > one.ground_m:
        return None
    line = ground.assessment.field.settings.accuracy.line_m
    return Separation(
        apart_m=float(np.sqrt(one.ground_m**2 - deeper**2)),
        tolerance_m=_COVERAGE * float(np.sqrt(line**2 + 2 * PLUMB_M.value**2)),
        deeper_m=deeper,
        slack_off_m=marker_off_m(max(depths.primary_m, 0.0)),
    )


def marker_off_m(depth_m: float) -> float:
    """Return how far a marker on a line with our slack may lie off what it marks.

    sqrt((d + s)^2 - d^2), d the depth and s the slack. Source: Euclid, Elements, I.47.

    Parameters
    ----------
    depth_m : float
        Depth [m], >= 0.

    Returns
    -------
    float
        Metres, level.
    """
    slack = MARKER_SLACK_M.value
    return float(np.sqrt(slack * (2 * depth_m + slack)))
