"""The front door of the ways out: for each float in conflict the least changes that end it."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from lakemap.assessment import AssessedFloat, Assessment
from lakemap.basis.records import Float, Soundings
from lakemap.knot_moves import knot_moves, move_record, way_of
from lakemap.mapping import assess
from lakemap.rechecked import Ground, Rechecked, ends_it, ground_of, laid_at, met_by, recheck
from lakemap.siting.ways_out import (
    by_likeness,
    nearest_move,
    passes,
    shorter_lines,
    shortest_cut,
    smaller_decks,
    spares_at,
    spoken_move,
    too_large_a_deck,
    with_deck,
)
from lakemap.siting.ways_out_records import (
    KnotMoves,
    Move,
    NoMove,
    NoShorten,
    Shorten,
    SmallerDeck,
    Swap,
    WaysOut,
)
from lakemap.sizing.size_rigs import size_rigs
from lakemap.sizing.statics import NORMAL
from lakemap.sizing.to_records import known

__all__ = ["ways_out"]
_LEAST_DEPTH_M = 0.01  # a hook above the water may hang over none
Tell = Callable[[str], None]


def _no_telling(_step: str) -> None:
    """Tell nobody."""


def ways_out(assessment: Assessment, *, tell: Tell = _no_telling) -> tuple[WaysOut, ...]:
    """Find for each float in conflict the least changes that end it.

    Each way is verified by the exact check of the changed field: the float is no longer in
    conflict, and no other is worse off.

    Parameters
    ----------
    assessment : Assessment
        Of a whole field.
    tell : callable, optional
        Is told in a word or two what the work is at.

    Returns
    -------
    tuple of WaysOut
        In file order; none without a conflict.
    """
    bad = [one for one in assessment.floats if one.verdict == "conflict"]
    if not bad:
        return ()
    ground = ground_of(assessment)
    moving = _own_depths_sounded(ground, bad)
    tell("looking at knots")
    knots = knot_moves(moving)
    found = []
    for one in bad:
        tell(f"looking for a way out for float {one.record.float_id}")
        found.append(_ways_of(ground, moving, one, knots))
    return tuple(found)


def _own_depths_sounded(ground: Ground, bad: list[AssessedFloat]) -> Ground:
    """Draw the floats' own depths among the soundings: elsewhere than at the float they fade.

    A float's own depth overrides the soundings where it lies; carried along with it, it would make
    deep water shallow, and left behind, shallow water deep.
    """
    assessment = ground.assessment
    own = [one for one in bad if one.record.depth_m is not None]
    if not own or assessment.surface is None or assessment.field.soundings is None:
        return ground
    field, had = assessment.field, assessment.field.soundings
    ids = {one.at for one in own}
    return ground_of(
        assess(
            replace(
                field,
                floats=tuple(
                    replace(one, depth_m=None) if i in ids else one
                    for i, one in enumerate(field.floats)
                ),
                soundings=Soundings(
                    lon=np.append(had.lon, [one.lon for one in own]),
                    lat=np.append(had.lat, [one.lat for one in own]),
                    depth_m=np.append(had.depth_m, [one.record.depth_m or 0.0 for one in own]),
                    row=np.append(had.row, [one.record.row for one in own]),
                    file=had.file,
                ),
            )
        )
    )


def _ways_of(
    ground: Ground, moving: Ground, one: AssessedFloat, knots: dict[int, KnotMoves | None]
) -> WaysOut:
    move, no_move = _move(moving, one)
    shorten, no_shorten = _shorten(ground, one)
    swap = _swap(ground, one)
    smaller = None if swap is not None else _smaller(ground, one)
    knot = knots.get(one.at)
    return WaysOut(
        float_id=one.record.float_id,
        conflicts=tuple(c for c in one.clearances if c.spare is not None and c.spare < 0),
        broken=tuple(p.code for p in one.problems if p.code in {"pulled_under", "aground"}),
        located=one.located,
        extra_m=one.extra_m,
        move=move,
        move_why=no_move,
        shorten=shorten,
        shorten_why=no_shorten,
        swap=swap,
        smaller=smaller,
        swap_why=None if swap is not None else "no_deck",
        knot=knot,
        knot_why="no_arrangement" if one.at in knots and knot is None else None,
    )


def _move(ground: Ground, one: AssessedFloat) -> tuple[Move | None, NoMove | None]:
    """Move the primary to the nearest place where every rule holds."""
    i, record = one.at, ground.floats[one.at]
    if not one.located:
        return None, "primary_not_located"
    if too_large_a_deck(record, ground.lake.settings):
        return None, "deck_too_large"
    start = ground.placement.primary_xy[i]
    field = met_by(ground, record, without=[i])
    found = nearest_move(field, start)
    if found is None:
        return None, "no_place"
    if np.array_equal(found, start):
        return None, "fix_alone"
    after = _tried(ground, i, laid_at(ground, record, found))
    if after is None:
        return None, "no_place"
    spoken = spoken_move(spares_at(field), start, found, ground.lake.settings.units)
    if spoken is not None:
        there = laid_at(ground, record, start + way_of(*spoken))
        spoken = None if _tried(ground, i, there) is None else spoken
    return move_record(ground, i, found, after=after, spoken=spoken), None


def _tried(ground: Ground, i: int, record: Float) -> Rechecked | None:
    """The field with one float changed, if that ends its conflict and harms no other."""
    after = recheck(ground, {i: record})
    return after if ends_it(ground, after, [i]) else None


def _shorten(ground: Ground, one: AssessedFloat) -> tuple[Shorten | None, NoShorten | None]:
    """Shorten the ground chain, then the riser, until every rule holds."""
    i, record, at = one.at, one.record, ground.placement
    why = _no_shortening(ground, one)
    if why is not None:
        return None, why
    units = ground.lake.settings.units
    riser, chain = float(at.riser_m[i]), float(at.ground_m[i])
    rise = float(at.depth_m[i, 2] - at.hook_depth_empty_m[i])
    lines = shorter_lines(riser, chain, rise_high_m=rise, units=units)
    field = met_by(ground, record, without=[i])
    line = shortest_cut(field, at.primary_xy[i], lines)
    after = None
    if line is not None:
        record = replace(record, riser_m=line[0], ground_m=line[1])
        after = _tried(ground, i, record)
    if line is None or after is None:
        room, _ = field.free.room(at.primary_xy[[i]])
        return None, "position" if room[0] < at.corner_m[i] else "too_long"
    depth = max(float(at.depth_m[i, 1]), _LEAST_DEPTH_M)
    return Shorten(
        riser_before_m=riser,
        ground_before_m=chain,
        riser_m=line[0],
        ground_m=line[1],
        uplift_before_n=one.sizing.primary.uplift_n,
        uplift_n=_uplift(ground, i, record, after),
        rise_high_m=rise,
        hangs=bool(after.placement.hung[i]),
        over_depth_before=(riser + chain) / depth,
        over_depth=sum(line) / depth,
        verdict=after.floats[i].verdict or "unknown",
    ), None


def _no_shortening(ground: Ground, one: AssessedFloat) -> NoShorten | None:
    codes = {problem.code for problem in one.problems}
    if "pulled_under" in codes:
        return "pulled_under"
    if "aground" in codes:
        return "aground"
    if too_large_a_deck(one.record, ground.lake.settings):
        return "deck_too_large"
    return None if one.record.position_of == "primary" else "primary_not_fixed"


def _uplift(ground: Ground, i: int, record: Float, after: Rechecked) -> float | None:
    """The uplift at the primary in the storm, the rigs sized again."""
    question = ground.assessment.sized.question
    floats = tuple(record if k == i else one for k, one in enumerate(question.floats))
    sized = size_rigs(replace(question, floats=floats, placement=after.placement))
    return known(sized.statics.states[NORMAL].primary_uplift_n[i])


def _swap(ground: Ground, one: AssessedFloat) -> Swap | None:
    """Exchange decks with the float whose deck differs least, such that both pass."""
    i, at = one.at, ground.placement
    others = [k for k in ground.circles.index.tolist() if k != i and not at.no_depth[k]]
    for n in by_likeness(one.record, [ground.floats[k] for k in others]):
        k = others[n]
        mine, theirs = (with_deck(ground.floats[a], ground.floats[b]) for a, b in ((i, k), (k, i)))
        if not all(_passes(ground, j, record, [i, k]) for j, record in ((i, mine), (k, theirs))):
            continue
        after = recheck(ground, {i: mine, k: theirs})
        if ends_it(ground, after, [i, k]):
            return Swap(
                with_id=theirs.float_id,
                length_m=mine.length_m,
                width_m=mine.width_m,
                verdict=after.floats[i].verdict or "unknown",
                with_verdict=after.floats[k].verdict or "unknown",
            )
    return None


def _passes(ground: Ground, i: int, record: Float, without: list[int]) -> bool:
    """Whether a float's place suits it with another deck, some floats taken as away."""
    return passes(met_by(ground, record, without=without), ground.placement.primary_xy[i])


def _smaller(ground: Ground, one: AssessedFloat) -> SmallerDeck | None:
    """The largest deck of the same shape that passes; a smaller one passes where a larger does."""
    i = one.at
    decks = smaller_decks(one.record, ground.lake.settings.units)
    low, high = 0, len(decks)
    while low < high:
        middle = (low + high) // 2
        if _passes(ground, i, decks[middle], [i]):
            high = middle
        else:
            low = middle + 1
    if low == len(decks):
        return None
    after = _tried(ground, i, decks[low])
    if after is None:
        return None
    return SmallerDeck(
        length_m=decks[low].length_m,
        width_m=decks[low].width_m,
        verdict=after.floats[i].verdict or "unknown",
    )
