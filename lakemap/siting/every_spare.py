"""What every rule leaves one float, side by side: for searches that lean on more than the worst."""

from dataclasses import fields, replace
from typing import Final

import numpy as np

from lakemap.basis.records import FloatArray
from lakemap.clearances.against import CLUSTER_HEIGHT_M
from lakemap.clearances.pairs import same_wind_gap
from lakemap.lake.water import nearest_on_shore
from lakemap.rig.placement import PlacementQuestion, place
from lakemap.rig.records import Placement
from lakemap.siting.spots import SpotField, spots_at

_HAIR_M: Final = 1e-9  # a drop of nought is aground, a line as long as the drop is pulled under
_UNKNOWN_M: Final = -0.05  # of a place whose depth nobody knows: how far it is not can't be told


def rig_at(field: SpotField, xy: FloatArray) -> Placement:
    """Return the float's rig at places.

    Parameters
    ----------
    field : SpotField
        What is to be laid, and where.
    xy : ndarray, shape [n, 2]
        Places for the primary [m], finite.

    Returns
    -------
    Placement
        As `spots_at` has it; the storm is asked for only where the riser is blank and rests on it.
    """
    if field.like.riser_m is None:
        return spots_at(field, xy).at
    return rigs_at(field, xy, ((field.like.riser_m, field.like.ground_m),) * len(xy))


def rigs_at(
    field: SpotField, xy: FloatArray, lengths_m: tuple[tuple[float, float | None], ...]
) -> Placement:
    """Return rigs of given lengths at places.

    Parameters
    ----------
    field : SpotField
        What is to be laid, and where.
    xy : ndarray, shape [n, 2]
        Places for the primary [m], finite.
    lengths_m : tuple of pairs, shape [n]
        Riser and ground chain at each place [m]; a blank ground chain is designed.

    Returns
    -------
    Placement
        Shape [n].
    """
    lake, n = field.lake, len(xy)
    arrays = {
        one.name: np.repeat(value, n)
        for one in fields(field.buoyancy)
        if isinstance(value := getattr(field.buoyancy, one.name), np.ndarray)
    }
    return place(
        PlacementQuestion(
            floats=tuple(
                replace(field.like, riser_m=riser, ground_m=ground) for riser, ground in lengths_m
            ),
            fix_xy=xy,
            buoyancy=replace(field.buoyancy, **arrays, assumed=field.buoyancy.assumed * n),
            water=lake.water,
            surface=lake.surface,
            channels=(),  # a wake only lengthens a blank riser
            settings=lake.settings,
            how_sure=False,
        )
    )


def every_spare(field: SpotField, at: Placement) -> FloatArray:
    """Return what each rule leaves.

    Parameters
    ----------
    field : SpotField
        What is to be laid, and where.
    at : Placement
        Its rig at n places.

    Returns
    -------
    ndarray, shape [n, k]
        Metres (square metres for the deck's area), below 0 a conflict; always the same columns in
        the same order: layers, neighbours, the rig itself, then what else there is a rule for.
    """
    radius = at.swing_radius_m[:, 0]
    rooms = field.free.rooms(at.primary_xy) - radius[:, None]
    columns = np.column_stack([rooms, *_besides(field, at)])
    return np.where(np.isnan(columns), _UNKNOWN_M, columns)


def least_spare(field: SpotField, at: Placement) -> FloatArray:
    """Return what the strictest rule leaves.

    Parameters
    ----------
    field : SpotField
        What is to be laid, and where.
    at : Placement
        Its rig at n places.

    Returns
    -------
    ndarray, shape [n]
        The least of `every_spare`, quicker for many places.
    """
    room, _ = field.free.room(at.primary_xy)
    columns = np.column_stack([room - at.swing_radius_m[:, 0], *_besides(field, at)])
    least: FloatArray = np.where(np.isnan(columns), _UNKNOWN_M, columns).min(axis=1)
    return least


def _besides(field: SpotField, at: Placement) -> list[FloatArray]:
    """What is neither a layer nor a full circle."""
    rules, radius = field.lake.settings.rules, at.swing_radius_m[:, 0]
    found = [_rig(field, at)]
    if field.same_wind and len(field.there.xy):
        found.append(_winds(field, at))
    if "shore_max" in rules:
        away, _ = nearest_on_shore(field.lake.water, at.primary_xy)
        found.append(rules["shore_max"].limit - away - radius)
    if "deck_area_max" in rules:
        spare = rules["deck_area_max"].limit - field.like.length_m * field.like.width_m
        found.append(np.full(len(radius), spare))
    return [*found, *_depths(field, at)]


def _rig(field: SpotField, at: Placement) -> FloatArray:
    """By how much the rig works: water under the hook at low, line to spare at high water."""
    drop = at.depth_m[:, 0] - at.hook_depth_m
    line = at.riser_m + at.ground_m - (at.depth_m[:, 2] - at.hook_depth_empty_m)
    spare = np.minimum(drop, line) - _HAIR_M
    spare[at.no_depth] = _UNKNOWN_M
    if at.outside.any():
        away, _ = nearest_on_shore(field.lake.water, at.primary_xy[at.outside])
        spare[at.outside] = -away - _HAIR_M
    return spare


def _winds(field: SpotField, at: Placement) -> FloatArray:
    """Spares to the floats that lie there, all in the same wind, [n, c]."""
    there, required = field.there, field.lake.settings.rules["neighbour"].limit
    away = at.primary_xy[:, None, :] - there.xy
    distance = np.hypot(away[..., 0], away[..., 1])
    reach, deck = np.nan_to_num(at.reach_m[:, 0]), at.corner_m + at.extra_m
    gap = same_wind_gap(
        distance.ravel(),
        reach_m=_both(reach, there.reach_m),
        deck_m=_both(deck, there.deck_m),
    )
    spares: FloatArray = gap.reshape(distance.shape) - required
    return spares


def _both(mine: FloatArray, theirs: FloatArray) -> FloatArray:
    return np.column_stack([np.repeat(mine, len(theirs)), np.tile(theirs, len(mine))])


def _depths(field: SpotField, at: Placement) -> list[FloatArray]:
    """Depths in the circles; all circles are asked for at once, for it is the asking that takes."""
    rules, surface = field.lake.settings.rules, field.lake.surface
    levels = field.lake.settings.levels
    wanted = [name for name in ("bed", "jump_depth") if name in rules]
    if surface is None or not wanted:
        return []
    radius, jump = np.nan_to_num(at.swing_radius_m[:, 0]), rules.get("jump_depth")
    within = [radius] if "bed" in rules else []
    if jump is not None:
        within += [radius + jump.beyond_m, np.nan_to_num(at.walk_radius_m)]
    least = surface.least_within(np.tile(at.primary_xy, (len(within), 1)), np.concatenate(within))
    own = np.fmin(least, np.tile(at.sounding_depth_m, len(within)))
    depth = np.where(np.isnan(least), np.inf, own) + (levels.low_m - levels.soundings_m)
    deep = list(depth.reshape(len(within), -1))
    found = []
    if "bed" in rules:
        found.append(deep.pop(0) - rules["bed"].limit - field.buoyancy.draft_people_m[0])
    if jump is not None:
        found.append(np.fmin(deep[0], deep[1] - CLUSTER_HEIGHT_M) - jump.limit)
    return found
