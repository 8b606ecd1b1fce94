"""The tow to the ramp: how deep the load hangs, and a way through water that is deep enough."""

from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from lakemap.assessment import AssessedFloat
from lakemap.basis.published import exact
from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import FloatArray, IntArray
from lakemap.lake.deep_way import Way, WayNet
from lakemap.season.facts.sheet_ground import Landing, SheetGround

TETHER_M: Final = exact(FOOT_M.value, "m", "ours: as close as a hook and two links let it", "")
UNDER_M: Final = exact(
    FOOT_M.value, "m", "ours: waves, and depths right to half a foot", "free water"
)
NEAR_M: Final = exact(
    30.0, "m", "ours: what a line from the shore reaches", "farther round a bar than over it"
)
_HAIR_M: Final = 1e-6

Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class TowAsk:
    """What is towed, in water of the day."""

    under: str  # which clusters: both, primary, secondary
    float_draft_m: float
    hook_depth_m: float  # below the water; negative: above
    bunch_m: float  # height of the taller cluster that hangs
    shift_m: float  # level of the day less the level of the soundings


@dataclass(frozen=True, slots=True, kw_only=True)
class Tow:
    """The way to the ramp with clusters under the float, depths at the level of the day.

    The route ends where the clusters come near the bed: that is as near to the ramp as they float.
    """

    under: str  # which clusters: both, primary, secondary
    draft_m: float  # lowest point of float and clusters
    hang_m: float  # lowest point below the hook
    needs_m: float  # draft and free water under it
    to_ramp: bool  # False: no ramp is drawn; it is the shore nearest to the float
    target: str  # name of the ramp, or "the nearest shore"
    deep_enough: bool
    spare_m: float  # least depth on the route less what it needs; negative: haul higher by as much
    route_xy: tuple[Point, ...]  # from the primary
    route_lonlat: tuple[Point, ...]
    length_m: float
    left_m: float  # from the end of the route on to the ramp, by water
    profile: tuple[Point, ...]  # way gone and depth, wherever the slope of the bed changes
    shallowest_m: float
    shallowest_xy: Point
    shallowest_lonlat: Point
    unsounded: bool  # some of it nobody has sounded: taken as deep as the shore
    swim_areas: tuple[str, ...]  # names of those it passes through
    step_m: float  # of the lattice that ways are found on


@dataclass(frozen=True, slots=True, kw_only=True)
class _Choice:
    landing: Landing
    end: int  # node at which the route ends
    least_m: float  # depth that the route keeps, at the soundings' level
    left_m: float


def tow_of(ground: SheetGround, one: AssessedFloat, ask: TowAsk) -> Tow | None:
    """Return the way to the ramp for a float with clusters under it.

    It leads to the water nearest to the ramp that is deep enough. Where a bar lies between, and
    there is no such water within 30 m of that on this side, it leads over the bar at its deepest:
    the way whose shallowest point is deepest, exact on the depth surface. Of several ramps the one
    that is deep enough and nearest, or that lacks least.

    Parameters
    ----------
    ground : SheetGround
        The field.
    one : AssessedFloat
        Of it.
    ask : TowAsk
        What is towed.

    Returns
    -------
    Tow or None
        None without soundings, or where no water joins float and ramp.
    """
    tow = ground.tow
    if tow is None:
        return None
    hang = TETHER_M.value + ask.bunch_m
    draft = max(ask.float_draft_m, ask.hook_depth_m + hang)
    needs = draft + UNDER_M.value
    start = tow.node_of[one.at]
    wanted = needs - ask.shift_m
    choices = [
        choice
        for landing in tow.landings_of[one.at]
        if (choice := _choice(tow.net, start, landing, wanted)) is not None
    ]
    if not choices:
        return None
    best = min(choices, key=lambda choice: (max(wanted - choice.least_m, 0.0), choice.left_m))
    way = tow.net.shortest(start, best.end, least_m=min(best.least_m, wanted))
    if way is None:
        return None
    return _told(ground, ask, best, way, Lengths(draft_m=draft, hang_m=hang, needs_m=needs))


@dataclass(frozen=True, slots=True, kw_only=True)
class Lengths:
    """How deep a tow goes."""

    draft_m: float
    hang_m: float
    needs_m: float


def _choice(net: WayNet, start: int, landing: Landing, wanted_m: float) -> _Choice | None:
    """Where the route to one landing ends."""
    away = net.distances_m(landing.node)
    if not np.isfinite(away[start]):
        return None
    here = _nearest(away, np.flatnonzero(net.reached(start, least_m=wanted_m)))
    there = _nearest(away, np.flatnonzero(net.depth_m >= wanted_m))
    if there is None or not np.isfinite(away[there]):
        there = landing.node  # nowhere deep enough: the whole way, as deep as it gets
    if here is not None and away[here] <= away[there] + NEAR_M.value:
        return _Choice(landing=landing, end=here, least_m=wanted_m, left_m=float(away[here]))
    least = net.deepest_way_m(start, there)
    return _Choice(landing=landing, end=there, least_m=least, left_m=float(away[there]))


def _nearest(away_m: FloatArray, nodes: IntArray) -> int | None:
    return int(nodes[away_m[nodes].argmin()]) if nodes.size else None


def _told(ground: SheetGround, ask: TowAsk, best: _Choice, way: Way, deep: Lengths) -> Tow:
    where = ground.assessment.projection
    lon, lat = where.to_lonlat(*np.concatenate([way.xy, way.least_xy[None]]).T)
    lonlat = tuple(zip(lon.tolist(), lat.tolist(), strict=True))
    spare = way.least_m + ask.shift_m - deep.needs_m
    return Tow(
        under=ask.under,
        draft_m=deep.draft_m,
        hang_m=deep.hang_m,
        needs_m=deep.needs_m,
        to_ramp=best.landing.is_ramp,
        target=best.landing.name,
        deep_enough=spare >= -_HAIR_M,
        spare_m=spare,
        route_xy=tuple((x, y) for x, y in way.xy.tolist()),
        route_lonlat=lonlat[:-1],
        length_m=way.length_m,
        left_m=best.left_m,
        profile=tuple(zip(way.along_m.tolist(), (way.depth_m + ask.shift_m).tolist(), strict=True)),
        shallowest_m=way.least_m + ask.shift_m,
        shallowest_xy=(float(way.least_xy[0]), float(way.least_xy[1])),
        shallowest_lonlat=lonlat[-1],
        unsounded=_unsounded(ground, way),
        swim_areas=_swim_areas(ground, way),
        step_m=ground.tow.net.step_m if ground.tow is not None else 0.0,
    )


def _unsounded(ground: SheetGround, way: Way) -> bool:
    """Whether depths that the route rests on are the shore's, for want of soundings."""
    surface = ground.surface
    if surface is None:
        return True
    pieces = np.hypot(*np.diff(way.xy, axis=0).T)
    gone = np.concatenate([[0.0], np.cumsum(pieces)])
    at = np.column_stack([np.interp(way.along_m, gone, axis) for axis in way.xy.T])
    return bool(np.isnan(surface.at_wet(at)).any())


def _swim_areas(ground: SheetGround, way: Way) -> tuple[str, ...]:
    line = shapely.linestrings(way.xy)
    return tuple(
        placed.zone.label
        for placed in ground.assessment.zones
        if placed.zone.kind == "swim_area" and shapely.intersects(placed.shape, line)
    )
