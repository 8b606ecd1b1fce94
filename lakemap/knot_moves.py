"""Knots of floats that conflict with each other, moved together: found, compared, verified."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from lakemap.basis.records import Float, FloatArray
from lakemap.clearances.records import FloatCheck
from lakemap.rechecked import Ground, Rechecked, ends_it, laid_at, met_by, recheck
from lakemap.siting.knots import Mover, knots_of, least_moves, who_may_move
from lakemap.siting.ways_out import (
    WITHIN_M,
    bearing_of,
    nearest_move,
    spares_at,
    spoken_move,
    too_large_a_deck,
)
from lakemap.siting.ways_out_records import KnotMoves, Move, Spoken

_WORTH_M: Final = 0.01  # moving one float more must save that much
Places = Mapping[int, FloatArray]  # where floats are laid, by index into the field's


@dataclass(frozen=True, slots=True, kw_only=True)
class _Knot:
    members: tuple[int, ...]
    pairs: tuple[tuple[int, int], ...]
    movable: tuple[int, ...]
    must: frozenset[int]  # in conflict with something else too


def knot_moves(ground: Ground) -> dict[int, KnotMoves | None]:
    """Return for each float of a knot the least moves that end all its conflicts.

    Parameters
    ----------
    ground : Ground
        The field.

    Returns
    -------
    dict
        By index into the field's floats; None where no arrangement was found.
    """
    found: dict[int, KnotMoves | None] = {}
    pairs = _pairs(ground)
    for members in knots_of(pairs):
        mine = tuple(pair for pair in pairs if pair[0] in members)
        moves = _of_knot(ground, _knot(ground, members, mine))
        found.update(dict.fromkeys(members, moves))
    return found


def _pairs(ground: Ground) -> list[tuple[int, int]]:
    """Floats in conflict with each other, each pair once."""
    index = {one.float_id: i for i, one in enumerate(ground.floats) if one.status != "retired"}
    pairs = {
        (min(i, index[one.against]), max(i, index[one.against]))
        for i, checked in enumerate(ground.before)
        for one in checked.clearances
        if one.kind == "float" and one.spare is not None and one.spare < 0
    }
    return sorted(pairs)


def _knot(ground: Ground, members: tuple[int, ...], pairs: tuple[tuple[int, int], ...]) -> _Knot:
    at = ground.placement
    movable = tuple(
        i
        for i in members
        if at.located[i]
        and not at.no_depth[i]
        and not too_large_a_deck(ground.floats[i], ground.lake.settings)
    )
    must = frozenset(i for i in movable if _otherwise_in_conflict(ground.before[i]))
    return _Knot(members=members, pairs=pairs, movable=movable, must=must)


def _otherwise_in_conflict(checked: FloatCheck) -> bool:
    short = any(
        one.kind != "float" and one.spare is not None and one.spare < 0
        for one in checked.clearances
    )
    return short or any(one.code in {"pulled_under", "aground"} for one in checked.problems)


def _of_knot(ground: Ground, knot: _Knot) -> KnotMoves | None:
    """The least of moving one after the other and of moving some at once."""
    known = tuple(i for i in knot.members if ground.before[i].verdict != "unknown")
    best: tuple[float, Places, Rechecked] | None = None
    single_m: float | None = None
    for places, one_by_one in _arrangements(ground, knot):
        total = _total(ground, places)
        after = recheck(ground, _laid(ground, places))
        if not ends_it(ground, after, known):
            continue
        if one_by_one and (single_m is None or total < single_m):
            single_m = total
        if best is None or total < best[0] - _WORTH_M:
            best = (total, places, after)
    if best is None:
        return None
    total, places, after = best
    return KnotMoves(
        float_ids=tuple(ground.floats[i].float_id for i in knot.members),
        moves=_told(ground, places, after, known),
        total_m=total,
        single_m=single_m,
    )


def _arrangements(ground: Ground, knot: _Knot) -> Iterator[tuple[Places, bool]]:
    """Places of floats that may end a knot; whether they are found one after the other."""
    for order in (knot.movable, knot.movable[::-1]):
        places = _one_by_one(ground, order)
        if places:
            yield places, True
    rule = ground.lake.settings.rules.get("neighbour")
    for chosen in who_may_move(knot.movable, knot.pairs, knot.must):
        if len(chosen) > 1:
            movers = [
                Mover(
                    field=met_by(ground, ground.floats[i], without=chosen), from_xy=_from(ground, i)
                )
                for i in chosen
            ]
            xy = least_moves(
                movers, required_m=None if rule is None else rule.limit, within_m=WITHIN_M
            )
            if xy is not None:
                yield dict(zip(chosen, xy, strict=True)), False


def _one_by_one(ground: Ground, order: Sequence[int]) -> Places | None:
    """Move each float that is still in conflict to its nearest place, in an order."""
    places: dict[int, FloatArray] = {}
    for i in order:
        after = recheck(ground, _laid(ground, places)) if places else None
        checked = ground.before if after is None else after.floats
        if checked[i].verdict == "conflict":
            circles = None if after is None else after.circles
            field = met_by(ground, ground.floats[i], without=[i], circles=circles)
            found = nearest_move(field, _from(ground, i))
            if found is None:
                return None
            places[i] = found
    return places


def _from(ground: Ground, i: int) -> FloatArray:
    primary: FloatArray = ground.placement.primary_xy[i]
    return primary


def _laid(ground: Ground, places: Places) -> dict[int, Float]:
    return {i: laid_at(ground, ground.floats[i], xy) for i, xy in places.items()}


def _total(ground: Ground, places: Places) -> float:
    return float(sum(np.hypot(*(xy - _from(ground, i))) for i, xy in places.items()))


def _told(
    ground: Ground, places: Places, after: Rechecked, known: Sequence[int]
) -> tuple[tuple[str, Move], ...]:
    """The moves as records; rounded one after the other, the others where they come to lie."""
    rounded, spoken = dict(places), {}
    now = after
    for i in places:
        field = met_by(ground, ground.floats[i], without=[i], circles=now.circles)
        found = spoken_move(
            spares_at(field), _from(ground, i), places[i], ground.lake.settings.units
        )
        if found is not None:
            rounded[i] = _from(ground, i) + way_of(*found)
            spoken[i] = found
            now = recheck(ground, _laid(ground, rounded))
    said = len(spoken) == len(places) and ends_it(ground, now, known)
    return tuple(
        (
            ground.floats[i].float_id,
            move_record(ground, i, xy, after=after, spoken=spoken[i] if said else None),
        )
        for i, xy in places.items()
    )


def way_of(distance_m: float, bearing_deg: float) -> FloatArray:
    """Return a way as metres east and north."""
    angle = np.radians(bearing_deg)
    return distance_m * np.array([np.sin(angle), np.cos(angle)])


def move_record(
    ground: Ground,
    i: int,
    xy: FloatArray,
    *,
    after: Rechecked,
    spoken: tuple[float, float] | None,
) -> Move:
    """Return a move as a record.

    Parameters
    ----------
    ground : Ground
        The field as it was.
    i : int
        Which float moves; index into the field's.
    xy : ndarray, shape [2]
        Whereto [m].
    after : Rechecked
        The field with it there.
    spoken : tuple of float, or None
        Distance [m] and bearing as a sentence gives them.

    Returns
    -------
    Move
        With what the rig is there.
    """
    projection, at = ground.assessment.projection, after.placement
    start = _from(ground, i)
    ends = np.array([xy, xy if spoken is None else start + way_of(*spoken)])
    lon, lat = (part.tolist() for part in projection.to_lonlat(*ends.T))
    said = None
    if spoken is not None:
        said = Spoken(distance_m=spoken[0], bearing_deg=spoken[1], lon=lon[1], lat=lat[1])
    return Move(
        distance_m=float(np.hypot(*(xy - start))),
        bearing_deg=bearing_of(xy - start),
        x_m=float(xy[0]),
        y_m=float(xy[1]),
        lon=lon[0],
        lat=lat[0],
        spoken=said,
        riser_m=float(at.riser_m[i]),
        ground_m=float(at.ground_m[i]),
        depth_m=float(at.depth_m[i, 1]),
        swing_radius_m=float(at.swing_radius_m[i, 0]),
        verdict=after.floats[i].verdict or "unknown",
    )
