"""What every rule leaves one float, side by side: for searches that lean on more than the worst."""

from dataclasses import replace
from typing import Final

import numpy as np

from lakemap.basis.records import FloatArray
from lakemap.lake.water import nearest_on_shore
from lakemap.rig.placement import place
from lakemap.rig.records import Placement
from lakemap.siting.margins import beside, depth_spares, wind_spares
from lakemap.siting.spots import SpotField, placement_question, spots_at

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
    floats = tuple(
        replace(field.like, riser_m=riser, ground_m=ground) for riser, ground in lengths_m
    )
    return place(placement_question(field, xy, floats))


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
    depths = (spare for _, spare in depth_spares(field, at))
    return [
        _rig(field, at),
        wind_spares(field, at),
        *(spare for _, spare in beside(field, at)),
        # a circle without water says nothing: that the float is on land does
        *(np.where(np.isnan(spare), np.inf, spare) for spare in depths),
    ]


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
