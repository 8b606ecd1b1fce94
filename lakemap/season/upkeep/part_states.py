"""The state of every part of every rig on a day: what is to be replaced, measured, looked at."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType
from typing import Final

from lakemap.basis.published import Published
from lakemap.rig.wear import (
    BROKEN_AT_AN_END,
    BROKEN_OF_A_STRAND,
    CABLE_LIFE_AT_MOST_YEARS,
    CABLE_LIFE_YEARS,
    CABLE_RETIRED,
    CHAIN_LIFE_YEARS,
    CHAIN_RETIRED,
    FITTING_RETIRED,
    LOOK_BED_YEARS,
    LOOK_YEARS,
    OUT_BY_LOOK,
    broken_wire_limits,
)
from lakemap.season.rig_inventory import RigPiece
from lakemap.season.upkeep.days import years_after, years_between
from lakemap.season.upkeep.inspected import Seen
from lakemap.season.upkeep.part_records import STATES, Basis, Due, PieceState, State, Worn
from lakemap.season.upkeep.wear_seen import Clock, worn_parts

_PRACTICE: Final = "common practice, no published source"
_ROUNDING: Final = 1e-9
_NOW: Final = frozenset({"found", "size", "wires"})
_MEASURED: Final = frozenset({"chain", "fitting"})
_RETIRED: Final[Mapping[str, Published]] = MappingProxyType(
    {"chain": CHAIN_RETIRED, "fitting": FITTING_RETIRED, "cable": CABLE_RETIRED}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class RigRecord:
    """One rig with all that was written of it."""

    pieces: tuple[RigPiece, ...]
    set_on: date | None
    seen: tuple[Seen, ...]  # by date


def piece_states(
    rigs: Sequence[RigRecord], *, on: date, until: date
) -> tuple[tuple[PieceState, ...], ...]:
    """Return the state of every part of rigs.

    What is worn is judged by published rules, what is old by common practice; the earliest decides.

    Parameters
    ----------
    rigs : sequence of RigRecord
        Of any floats.
    on : date
        The day.
    until : date
        What is due by then is `due`, what is due after it `later`.

    Returns
    -------
    tuple of tuple of PieceState
        For each rig its parts, hook to primary.
    """
    flat = [(piece, _clock(rig, i, on)) for rig in rigs for i, piece in enumerate(rig.pieces)]
    worn = iter(worn_parts([piece for piece, _ in flat], [clock for _, clock in flat]))
    clocks = iter(clock for _, clock in flat)
    return tuple(
        tuple(_state(piece, next(clocks), next(worn), on=on, until=until) for piece in rig.pieces)
        for rig in rigs
    )


def _clock(rig: RigRecord, at: int, on: date) -> Clock:
    """From when a part counts: its replacement, else the first day it is known to be there."""
    rows = tuple(one for one in rig.seen if at in one.pieces)
    new = [i for i, one in enumerate(rows) if one.kind == "replaced"]
    if new:
        return Clock(since=rows[new[-1]].on, what="replaced", rows=rows[new[-1] :])
    set_on = rig.set_on if rig.set_on is not None and rig.set_on <= on else None
    if rows and (set_on is None or rows[0].on < set_on):
        return Clock(since=rows[0].on, what="first seen", rows=rows)
    return Clock(since=set_on, what=None if set_on is None else "set", rows=rows)


def _state(
    piece: RigPiece, clock: Clock, worn: Worn | None, *, on: date, until: date
) -> PieceState:
    dues = sorted(
        (
            *_by_look(piece, clock),
            *_by_wires(piece, clock),
            *_by_size(piece, worn),
            *_by_wear(piece, worn),
            *_by_age(piece, clock),
        ),
        key=lambda one: (one.why not in _NOW, one.by),
    )
    state: State = "no record" if not clock.rows else "good"
    if dues:
        state = _of_dues(dues, on=on, until=until)
    return PieceState(
        piece=piece,
        state=state,
        by=dues[0].by if dues else None,
        dues=tuple(dues),
        since=clock.since,
        since_what=clock.what,
        seen=clock.rows,
        look_by=_look_by(piece, clock, worn),
        worn=worn,
    )


def _of_dues(dues: Sequence[Due], *, on: date, until: date) -> State:
    return min((due_state(due, on=on, until=until) for due in dues), key=STATES.index)


def due_state(due: Due, *, on: date, until: date) -> State:
    """Return how urgent one reason is.

    Parameters
    ----------
    due : Due
        Of a part.
    on : date
        The day.
    until : date
        What is due by then is `due`.

    Returns
    -------
    str
        `replace now`, `overdue`, `due` or `later`.
    """
    if due.why in _NOW:
        return "replace now"
    if (due.at_most or due.by) < on:
        return "overdue"
    return "due" if due.by <= until else "later"


def _by_look(piece: RigPiece, clock: Clock) -> Iterator[Due]:
    """Broken, bent, gone, a rusted cable: out; worn without a measure: to be measured."""
    bad = [i for i, row in enumerate(clock.rows) if _is_out(piece, row)]
    if bad:
        row, later = clock.rows[bad[-1]], clock.rows[bad[-1] + 1 :]
        source = OUT_BY_LOOK.get(piece.kind, OUT_BY_LOOK["other"])
        basis: Basis = "published" if piece.kind in OUT_BY_LOOK else "ours"
        if any(one.kind == "good" for one in later):
            # a bent shackle does not unbend: another one, or replaced and not written down
            yield Due(
                what="look", why="doubt", by=row.on, at_most=_year_on(row.on), basis="ours",
                source="ours: found unfit once, good later, and no row says replaced",
            )  # fmt: skip
        else:
            yield Due(
                what="replace", why="found", by=row.on, at_most=None, basis=basis, source=source
            )
    worn = [i for i, row in enumerate(clock.rows) if _is_worn_unmeasured(row)]
    if worn and not any(
        row.kind == "good" or row.diameter_m is not None for row in clock.rows[worn[-1] + 1 :]
    ):
        row = clock.rows[worn[-1]]
        yield Due(
            what="measure" if piece.kind in _MEASURED and piece.new_diameter_m else "look",
            why="worn",
            by=row.on,
            at_most=_year_on(row.on),
            basis="ours",
            source="ours: found worn, and not measured",
        )


def _year_on(day: date) -> date | None:
    return years_after(day, LOOK_YEARS.value)


def _is_worn_unmeasured(row: Seen) -> bool:
    return row.kind == "worn" and row.diameter_m is None and not row.broken_wires


def _is_out(piece: RigPiece, row: Seen) -> bool:
    return row.kind == "out" or (piece.kind == "cable" and row.corroded)


def _by_wires(piece: RigPiece, clock: Clock) -> Iterator[Due]:
    """Broken wires never mend: the most that anybody counted."""
    rows = [row for row in clock.rows if row.broken_wires]
    if piece.kind != "cable" or not rows:
        return
    most = max(rows, key=lambda row: row.broken_wires or 0)
    _, of_a_strand = broken_wire_limits()
    if (most.broken_wires or 0) >= of_a_strand:
        yield Due(
            what="replace", why="wires", by=most.on, at_most=None, basis="published",
            source=BROKEN_OF_A_STRAND.source,
        )  # fmt: skip
    else:
        yield Due(
            what="look", why="wires few", by=most.on, at_most=_year_on(most.on),
            basis="published", source=BROKEN_AT_AN_END.source,
        )  # fmt: skip


def _by_size(piece: RigPiece, worn: Worn | None) -> Iterator[Due]:
    # of a cable more than 6 % must be gone, of the others their last share is too little
    slack = -_ROUNDING if piece.kind == "cable" else _ROUNDING
    if worn is not None and worn.least_m <= worn.retired_m * (1 + slack):
        yield Due(
            what="replace", why="size", by=worn.measured_on, at_most=None, basis="published",
            source=_RETIRED[piece.kind].source,
        )  # fmt: skip


def _by_wear(piece: RigPiece, worn: Worn | None) -> Iterator[Due]:
    if worn is None or worn.safe_on is None or worn.least_m <= worn.retired_m:
        return
    yield Due(
        what="measure" if worn.likely_on is None else "replace",
        why="wear",
        by=worn.safe_on,
        at_most=worn.likely_on,
        basis="published",
        source=_RETIRED[piece.kind].source,
    )


def _by_age(piece: RigPiece, clock: Clock) -> Iterator[Due]:
    lives = {
        "cable": (CABLE_LIFE_YEARS.value, CABLE_LIFE_AT_MOST_YEARS.value),
        "chain": (CHAIN_LIFE_YEARS.value, CHAIN_LIFE_YEARS.value),
    }
    if clock.since is None or piece.kind not in lives:
        return
    least, most = lives[piece.kind]
    by = years_after(clock.since, least)
    if by is not None:
        yield Due(
            what="replace", why="age", by=by, at_most=years_after(clock.since, most),
            basis="common practice", source=_PRACTICE,
        )  # fmt: skip


def _look_by(piece: RigPiece, clock: Clock, worn: Worn | None) -> date | None:
    """When it is to be looked at again; halfway to its last size at the latest."""
    if not clock.rows:
        return None
    on_the_bed = piece.name == "ground chain" or piece.kind in {"block", "weight"}
    again = years_after(clock.rows[-1].on, LOOK_BED_YEARS.value if on_the_bed else LOOK_YEARS.value)
    if worn is None or worn.safe_on is None:
        return again
    half = years_after(worn.measured_on, years_between(worn.measured_on, worn.safe_on) / 2)
    return min(day for day in (again, half) if day is not None)
