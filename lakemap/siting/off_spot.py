"""How far off its place a float's primary may lie before some rule is broken."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from lakemap.basis.errors import RangeError
from lakemap.basis.records import BoolArray, FloatArray, IntArray
from lakemap.clearances.pairs import same_wind_gap
from lakemap.siting.cell_bounds import spare_range
from lakemap.siting.every_spare import least_spare, rig_at
from lakemap.siting.margins import WIND, kind_of, margins
from lakemap.siting.spots import SpotField

WITHIN_M: Final = 12.0  # ours: nobody drops a primary farther off than that
_STEPS: Final = 24  # of the first look along a way
_PARTS: Final = 8  # of each step that may hide a conflict
_HALVINGS: Final = 6  # of 6 cm
_CIRCLES: Final = 7  # halvings of the radius
_STEEPEST: Final = 2.0  # ours: metres of spare that a metre of way changes at most
_PAST_M: Final = 0.01  # so far into the conflict the rule that binds is asked for
_BEARINGS_DEG: Final = np.arange(0.0, 360.0, 22.5)  # points of the compass


@dataclass(frozen=True, slots=True, kw_only=True)
class OffSpot:
    """How far one primary may lie off; ways of shape [b]."""

    spare_m: float  # of the strictest rule at the place itself; below 0 a conflict
    radius_m: float  # off by this in any direction, and every rule still holds
    bearing_deg: FloatArray  # on the grid
    free_m: FloatArray  # how far off in that direction, at most 12 m
    beyond: BoolArray  # True: free for all of these 12 m
    kind: tuple[str | None, ...]  # of what binds there; None where nothing does
    against: tuple[str | None, ...]  # its name


def off_spot(field: SpotField, at_xy: FloatArray) -> OffSpot:
    """Return how far off its place a float's primary may lie before some rule is broken.

    The rig stays as it was made for its place, the depth is that of where it lies. The radius for
    any direction is a bound, found by halving: within it distances change by no more than the way,
    depths are those that the surface holds there, so it is never too large. Along single bearings
    the exact rules are asked every half metre, and every 6 cm where a conflict may hide between (no
    spare changes faster than 2 m per metre of way), then the first conflict is closed in on.

    Parameters
    ----------
    field : SpotField
        The float, riser and ground chain given, and the others where they are.
    at_xy : ndarray, shape [2]
        Its place [m].

    Returns
    -------
    OffSpot
        Every 22.5 degrees.

    Raises
    ------
    RangeError
        If riser or ground chain is blank: there is no rig to lay.
    """
    if field.like.riser_m is None or field.like.ground_m is None:
        raise RangeError("riser and ground chain must be given: what is laid has its lengths")
    spare = float(least_spare(field, rig_at(field, at_xy[None]))[0])
    angle = np.radians(_BEARINGS_DEG)
    unit = np.column_stack([np.sin(angle), np.cos(angle)])
    free = np.zeros(len(unit)) if spare < 0 else _first_conflicts(field, at_xy, unit)
    beyond = free >= WITHIN_M
    bound = np.flatnonzero(~beyond)
    past = at_xy + (free[bound, None] + _PAST_M) * unit[bound]
    named = dict(zip(bound.tolist(), _binding(field, past), strict=True))
    binds = [named.get(k, (None, None)) for k in range(len(unit))]
    return OffSpot(
        spare_m=spare,
        radius_m=_sure_radius(field, at_xy, spare, float(free.min())),
        bearing_deg=_BEARINGS_DEG,
        free_m=free,
        beyond=beyond,
        kind=tuple(kind for kind, _ in binds),
        against=tuple(name for _, name in binds),
    )


def _spares(field: SpotField, xy: FloatArray) -> FloatArray:
    found: FloatArray = least_spare(field, rig_at(field, xy.reshape(-1, 2))).reshape(xy.shape[:-1])
    return found


def _first_conflicts(field: SpotField, at: FloatArray, unit: FloatArray) -> FloatArray:
    """Way to the first conflict along each bearing; the whole way where there is none."""
    step = WITHIN_M / _STEPS
    way = np.arange(_STEPS + 1) * step
    spare = _spares(field, at + way[None, :, None] * unit[:, None, :])
    known = spare >= 0
    # before its first conflict a bearing's steps are looked into where one may hide
    before = np.logical_and.accumulate(known, axis=1)
    near = spare[:, :-1] + np.maximum(spare[:, 1:], 0.0) < _STEEPEST * step
    may = before[:, :-1] & (near | ~known[:, 1:])
    ray, at_step = np.nonzero(may)
    parts = np.arange(1, _PARTS + 1) * (step / _PARTS)
    fine = way[at_step, None] + parts
    inner = _spares(field, at + fine[..., None] * unit[ray][:, None, :])
    last = np.full(len(unit), np.inf)
    row, part = np.nonzero(inner < 0)
    np.minimum.at(last, ray[row], fine[row, part])
    return _closed_in(field, at, unit, last)


def _closed_in(field: SpotField, at: FloatArray, unit: FloatArray, last: FloatArray) -> FloatArray:
    """Halve the part before each first conflict that was met."""
    ask = np.flatnonzero(np.isfinite(last))
    high, some = last[ask], unit[ask]
    low = np.maximum(high - WITHIN_M / _STEPS / _PARTS, 0.0)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        holds = _spares(field, at + middle[:, None] * some) >= 0
        low, high = np.where(holds, middle, low), np.where(holds, high, middle)
    free = np.full(len(unit), WITHIN_M)
    free[ask] = low
    return free


def _sure_radius(field: SpotField, at: FloatArray, spare: float, most: float) -> float:
    """The greatest circle that the bounds of cells prove free, or nearly."""
    if field.lake.surface is None:  # on a level bed every spare changes by the way at most
        return min(max(spare, 0.0), most)
    low, high = 0.0, most
    for _ in range(_CIRCLES if most > 0 else 0):
        middle = (low + high) / 2
        holds = spare_range(field, at[None], middle).low[0] >= 0
        low, high = (middle, high) if holds else (low, middle)
    return low


def _binding(field: SpotField, xy: FloatArray) -> list[tuple[str, str]]:
    """Kind and name of what leaves least at places."""
    which = margins(field, xy, wholly=True).which
    layers, names = field.free.layers, field.names
    by_wind = _windward(field, xy, which)
    found = []
    for k, one in enumerate(which.tolist()):
        kind = kind_of(field, one)
        if 0 <= one < len(layers):
            name = layers[one].name
        elif one >= len(layers):
            name = names[one - len(layers)]
        else:
            name = names[by_wind[k]] if one == WIND else "lake"
        found.append((kind, name))
    return found


def _windward(field: SpotField, xy: FloatArray, which: IntArray) -> IntArray:
    """The neighbour that leaves least in the same wind; 0 where none is asked."""
    nearest = np.zeros(len(xy), dtype=np.int64)
    there = field.there
    for k in np.flatnonzero(which == WIND).tolist():
        at = rig_at(field, xy[k][None])
        reach = np.full(len(there.xy), np.nan_to_num(at.reach_m[0, 0]))
        deck = np.full(len(there.xy), float(at.corner_m[0] + at.extra_m[0]))
        gap = same_wind_gap(
            np.hypot(*(there.xy - xy[k]).T),
            reach_m=np.column_stack([reach, there.reach_m]),
            deck_m=np.column_stack([deck, there.deck_m]),
        )
        nearest[k] = int(gap.argmin())
    return nearest
