"""How much every rule leaves a new float at many places: the exact check, for arrays of places."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from lakemap.basis.records import BoolArray, FloatArray, IntArray
from lakemap.clearances.against import CLUSTER_HEIGHT_M
from lakemap.clearances.pairs import same_wind_gap
from lakemap.lake.levels import depth_at_level
from lakemap.lake.water import nearest_on_shore
from lakemap.rig.lengths import ground_length, riser_length
from lakemap.rig.records import Placement
from lakemap.siting.spots import SpotField, Spots, at_some, spots_at

# what binds where it is no layer and no float's circle
RIG, BED, JUMP, FAR, DECK, WIND = range(-2, -8, -1)
KINDS: Final = {
    RIG: "depth",
    BED: "bed",
    JUMP: "jump_depth",
    FAR: "shore_max",
    DECK: "deck_area_max",
    WIND: "float",
}
_BIN_M: Final = 0.01
_AT_ONCE: Final = 5_000  # places, to bound the memory
_NOTHING_M: Final = -1.0  # of a place where no rig works


@dataclass(frozen=True, slots=True, kw_only=True)
class Margins:
    """What is left at n places.

    Below 0 a float may not lie there; other rules than the one named may then ask for more.
    """

    least_m: FloatArray  # spare of the rule that binds
    which: IntArray  # a layer of `free`, then a circle of it, or one of the numbers above
    lengths_m: FloatArray  # [n, 2], riser and ground chain; NaN where not asked for


def kind_of(field: SpotField, which: int) -> str:
    """Return the kind of thing that binds.

    Parameters
    ----------
    field : SpotField
        That was asked.
    which : int
        As `Margins` has it.

    Returns
    -------
    str
        A kind of clearance; `depth` where no rig works or no depth is known.
    """
    layers = field.free.layers
    if which < 0:
        return KINDS.get(which, "depth")
    return layers[which].kind if which < len(layers) else "float"


def margins(
    field: SpotField, xy: FloatArray, *, least_radius_m: float = 0.0, wholly: bool = False
) -> Margins:
    """Return what the rules leave a float at places.

    Parameters
    ----------
    field : SpotField
        What is to be laid, and where.
    xy : ndarray, shape [n, 2]
        Places for the primary [m], finite.
    least_radius_m : float
        No rig in this lake swings less; a place with less room is not looked at any further.
    wholly : bool
        Look at every rule everywhere, so that the one that leaves least is named; slower.

    Returns
    -------
    Margins
        Its sign is that of the exact check.
    """
    room, which = field.free.room(xy)
    least = room - least_radius_m
    lengths = np.full((len(xy), 2), np.nan)
    every = np.flatnonzero((least >= 0) | wholly)
    for first in range(0, every.size, _AT_ONCE):
        ask = every[first : first + _AT_ONCE]
        spots = spots_at(field, xy[ask])
        lengths[ask] = np.column_stack([spots.at.riser_m, spots.at.ground_m])
        least[ask], which[ask] = _with_rig(field, spots, room[ask], which[ask], wholly=wholly)
    return Margins(least_m=least, which=which, lengths_m=lengths)


def _with_rig(
    field: SpotField, spots: Spots, room: FloatArray, which: IntArray, *, wholly: bool
) -> tuple[FloatArray, IntArray]:
    """Every rule in turn; depths are asked only where nothing else forbids."""
    ashore = spots.at.outside & (room < 0)
    nothing = np.where(ashore, np.minimum(room, _NOTHING_M), _NOTHING_M)
    least = np.where(spots.works, room - spots.radius_m, nothing)
    which = np.where(spots.works | ashore, which, RIG)
    one_wind = (WIND, wind_spares(field, spots.at).min(axis=1, initial=np.inf))
    for name, spare in (*beside(field, spots.at), one_wind):
        less = spots.works & (spare < least)
        least, which = np.where(less, spare, least), np.where(less, name, which)
    ask = np.flatnonzero((least >= 0) | (spots.works & wholly))
    for name, spare in depth_spares(field, at_some(spots.at, ask), sign_only=not wholly):
        less = spare < least[ask]
        least[ask] = np.where(less, spare, least[ask])
        which[ask] = np.where(less, name, which[ask])
    return least, which


def beside(field: SpotField, at: Placement) -> list[tuple[int, FloatArray]]:
    """Return what the rules leave that are about neither a layer nor a neighbour nor a depth.

    Parameters
    ----------
    field : SpotField
        What is to be laid, and where.
    at : Placement
        Its rig at n places.

    Returns
    -------
    list of tuple
        Which rule, and its spare, shape [n]; square metres for the deck's area.
    """
    rules, found = field.lake.settings.rules, []
    if "shore_max" in rules:
        away, _ = nearest_on_shore(field.lake.water, at.primary_xy)
        found.append((FAR, rules["shore_max"].limit - away - at.swing_radius_m[:, 0]))
    if "deck_area_max" in rules:
        spare = rules["deck_area_max"].limit - field.like.length_m * field.like.width_m
        found.append((DECK, np.full(len(at.riser_m), spare)))
    return found


def wind_spares(field: SpotField, at: Placement) -> FloatArray:
    """Return the spares to the floats that lie there, all to one wind.

    Parameters
    ----------
    field : SpotField
        What is to be laid, and where.
    at : Placement
        Its rig at n places.

    Returns
    -------
    ndarray, shape [n, c]
        Metres, for each float there; c is 0 where full circles decide.
    """
    there = field.there
    if not field.same_wind:
        return np.empty((len(at.riser_m), 0))
    away = at.primary_xy[:, None, :] - there.xy
    distance = np.hypot(away[..., 0], away[..., 1])
    gap = same_wind_gap(
        distance.ravel(),
        reach_m=_both(np.nan_to_num(at.reach_m[:, 0]), there.reach_m),
        deck_m=_both(at.corner_m + at.extra_m, there.deck_m),
    )
    spares: FloatArray = gap.reshape(distance.shape)
    return spares - field.lake.settings.rules["neighbour"].limit


def _both(mine: FloatArray, theirs: FloatArray) -> FloatArray:
    return np.column_stack([np.repeat(mine, len(theirs)), np.tile(theirs, len(mine))])


def jump_spare(field: SpotField, spots: Spots) -> FloatArray:
    """Return what the jumping depth leaves; the depth at low water where nothing asks for one.

    Parameters
    ----------
    field : SpotField
        What is to be laid, and where.
    spots : Spots
        Its rig at n places, where it works.

    Returns
    -------
    ndarray, shape [n]
        Metres.
    """
    asked = dict(depth_spares(field, spots.at))
    found: FloatArray = asked.get(JUMP, spots.at.depth_m[:, 0])
    return found


def depth_spares(
    field: SpotField, at: Placement, *, sign_only: bool = False
) -> list[tuple[int, FloatArray]]:
    """Return what the rules about the depth in the circles leave.

    Parameters
    ----------
    field : SpotField
        What is to be laid, and where.
    at : Placement
        Its rig at n places.
    sign_only : bool
        Don't look into the inner circles where the outer one says already that they are deep
        enough: less may then be said to be left than there is, but its sign is right.

    Returns
    -------
    list of tuple
        Which rule, and its spare [m], shape [n]; NaN where the circles hold no water.
    """
    rules, surface = field.lake.settings.rules, field.lake.surface
    if surface is None or not len(at.riser_m):
        return []
    levels = field.lake.settings.levels
    radius, walk = np.nan_to_num(at.swing_radius_m[:, 0]), np.nan_to_num(at.walk_radius_m)

    def shallowest(within_m: FloatArray, outer: FloatArray, enough: BoolArray) -> FloatArray:
        depth, ask = outer.copy(), np.flatnonzero(~(enough & sign_only))
        least = surface.least_within(at.primary_xy[ask], within_m[ask])
        own = np.fmin(least, at.sounding_depth_m[ask])
        depth[ask] = np.where(np.isnan(least), np.nan, own) + (levels.low_m - levels.soundings_m)
        return depth

    found, under = [], np.full(len(radius), -np.inf)  # no less than this lies in the circle
    if "jump_depth" in rules:
        rule, around = rules["jump_depth"], radius + rules["jump_depth"].beyond_m
        under = shallowest(around, under, np.zeros(len(radius), dtype=bool))
        enough = (under - CLUSTER_HEIGHT_M >= rule.limit) & (walk <= around)
        over = shallowest(walk, under, enough) - CLUSTER_HEIGHT_M
        found.append((JUMP, np.fmin(under, over) - rule.limit))
    if "bed" in rules:
        asked = rules["bed"].limit + field.buoyancy.draft_people_m[0]
        found.append((BED, shallowest(radius, under, under >= asked) - asked))
    return found


def least_radius(field: SpotField) -> float:
    """Return a radius that no rig of this kind swings less than, wherever it lies in the lake.

    Parameters
    ----------
    field : SpotField
        What is to be laid, and where.

    Returns
    -------
    float
        Metres; inf where there is no depth to lie in.
    """
    return least_reach(field) + field.corner_m


def least_reach(field: SpotField) -> float:
    """Return a reach that no rig of this kind has less than, wherever it lies in the lake.

    For every centimetre of depth from the least that the rules leave to the deepest: the line that
    its upper end asks for at least, with the drop of its lower end.

    Parameters
    ----------
    field : SpotField
        What is to be laid, and where.

    Returns
    -------
    float
        Metres; inf where there is no depth to lie in.
    """
    surface, settings = field.lake.surface, field.lake.settings
    if surface is None:
        return np.inf
    somewhere = field.lake.water.representative_point()
    bare = spots_at(field, np.array([[somewhere.x, somewhere.y]])).at
    levels = settings.levels
    shift = levels.low_m - levels.soundings_m
    asked = [rule.limit for name, rule in settings.rules.items() if name in {"bed", "jump_depth"}]
    depth = np.arange(max([0.0, *asked]) - shift, surface.mesh.depth_m.max() + _BIN_M, _BIN_M)
    if not depth.size:
        return np.inf
    normal, high = (
        depth_at_level(depth, level_m=level, soundings_level_m=levels.soundings_m)
        for level in (levels.normal_m, levels.high_m)
    )
    hook = bare.hook_depth_empty_m[0]
    ground, riser = field.like.ground_m, field.like.riser_m
    line = (ground_length(normal, settings.units) if ground is None else ground) + (
        riser_length(high, hook_depth_m=hook, wave_m=0.0, units=settings.units)
        if riser is None
        else riser
    )
    drop = np.maximum(depth + _BIN_M + shift - bare.hook_depth_m[0], 0.0)
    reach = np.sqrt(np.maximum(line**2 - drop**2, 0.0))
    return float(reach.min())
