"""The state of every rig of a field on a day: what is worn, due, mismatched, never looked at."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

from lakemap.assessment import AssessedFloat, Assessment
from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.records import Storm
from lakemap.season.rig_inventory import RigPiece, inventory
from lakemap.season.upkeep.days import season_end
from lakemap.season.upkeep.inspected import FILE, Inspected, Seen, inspected
from lakemap.season.upkeep.mismatched import (
    Misfit,
    Touching,
    misfits,
    touching_metals,
    unknown_ends,
)
from lakemap.season.upkeep.moved import Moved, moved
from lakemap.season.upkeep.part_records import STATES, PieceState, State
from lakemap.season.upkeep.part_states import RigRecord, piece_states
from lakemap.season.upkeep.permits import Permit, permits
from lakemap.season.upkeep.season_tasks import SeasonTask, season_tasks
from lakemap.season.upkeep.storms_passed import AfterStorm, after_storm

_PUT_RIGHT: Final = frozenset({"good", "replaced", "moved"})


@dataclass(frozen=True, slots=True, kw_only=True)
class FloatUpkeep:
    """All that is known of the upkeep of one set float."""

    one: AssessedFloat
    state: State  # the gravest of its parts
    by: date | None  # the earliest of them
    parts: tuple[PieceState, ...]  # hook to primary
    seen: tuple[Seen, ...]  # every row of it, by date
    moved: Moved | None
    touching: tuple[Touching, ...]  # unlike metals
    unknown_ends: tuple[RigPiece, ...]  # on stainless cable, of a metal that nobody said
    misfits: tuple[Misfit, ...]

    @property
    def float_id(self) -> str:
        """Its number or name."""
        return self.one.record.float_id

    @property
    def has_record(self) -> bool:
        """Whether anything was ever written of it: the day it was set, or an inspection."""
        return bool(self.seen) or self.one.record.set_on is not None

    @property
    def remarks(self) -> tuple[Seen, ...]:
        """Rows that tell of no part of the rig and were not put right: a loose board, a slip."""
        return tuple(
            row
            for at, row in enumerate(self.seen)
            if not row.pieces
            and row.finding
            and row.kind not in _PUT_RIGHT
            and not any(
                later.kind in _PUT_RIGHT and later.part == row.part for later in self.seen[at + 1 :]
            )
        )

    @property
    def never_seen(self) -> tuple[PieceState, ...]:
        """The parts that no inspection names."""
        return tuple(part for part in self.parts if not part.seen)


@dataclass(frozen=True, slots=True, kw_only=True)
class Upkeep:
    """The upkeep of a field on a day."""

    assessment: Assessment
    on: date
    until: date  # what is due by then is due this season
    floats: tuple[FloatUpkeep, ...]  # set ones, in file order
    tasks: tuple[SeasonTask, ...]
    permits: tuple[Permit, ...]
    notes: tuple[Problem, ...]  # rows that count for nothing, or for less than they say
    storm: AfterStorm | None

    def only(self, float_id: str) -> "Upkeep":
        """Return the same with one float left.

        Parameters
        ----------
        float_id : str
            Its number or name, as in the floats file.

        Returns
        -------
        Upkeep
            With its rows, its permit and what the storm did to it alone.

        Raises
        ------
        BadInputError
            If there is no such float, or it is not set.
        """
        (one,) = self.assessment.only(float_id).floats
        name, status = one.record.float_id, one.record.status
        if status != "set":
            text = f"float {name} is {status}; only of floats that are set is something due"
            raise BadInputError([Problem(code="not_set", text=text, column="float_id")])
        (kept,) = (each for each in self.floats if each.float_id == name)
        rows = {
            row.get("row")
            for row in self.assessment.field.inspections
            if (row.get("float_id") or "").strip().casefold() == name.casefold()
        }
        return replace(
            self,
            floats=(kept,),
            permits=tuple(each for each in self.permits if each.float_id == name),
            notes=tuple(
                note
                for note in self.notes
                if note.row in rows or (note.row is None and any(row.unsure for row in kept.seen))
            ),
            storm=None if self.storm is None else self.storm.only(name),
        )


def upkeep(assessment: Assessment, *, on: date, storm: Storm | None = None) -> Upkeep:
    """Return the state of every rig of a field on a day.

    Parameters
    ----------
    assessment : Assessment
        Of a field.
    on : date
        The day.
    storm : Storm or None
        One that blew: which floats met more than they are sized for.

    Returns
    -------
    Upkeep
        Set floats alone: proposed ones are not there yet, of retired ones nothing is due.
    """
    field = assessment.field
    until = season_end(field.settings.season, on)
    rigs = [inventory(one, field.settings.units) for one in assessment.floats]
    rows = inspected(assessment, rigs, on=on)
    at = [i for i, one in enumerate(assessment.floats) if one.record.status == "set"]
    states = piece_states(
        [
            RigRecord(pieces=rigs[i], set_on=assessment.floats[i].record.set_on, seen=rows.seen[i])
            for i in at
        ],
        on=on,
        until=until,
    )
    floats = tuple(
        _float(assessment, assessment.floats[i], rows.seen[i], parts)
        for i, parts in zip(at, states, strict=True)
    )
    return Upkeep(
        assessment=assessment,
        on=on,
        until=until,
        floats=floats,
        tasks=season_tasks(field.settings.season, on=on),
        permits=permits(field.floats, on=on, until=until),
        notes=(*rows.notes, *_both_chains(rows), *_set_later(assessment, on)),
        storm=None if storm is None else after_storm(assessment, storm),
    )


def gravest(states: Sequence[State]) -> State:
    """Return the gravest of states; what has no record stands behind all others.

    Parameters
    ----------
    states : sequence of str
        Of parts.

    Returns
    -------
    str
        `no record` where there are none.
    """
    return min(states, key=STATES.index, default="no record")


def by_urgency(floats: Sequence[FloatUpkeep]) -> list[FloatUpkeep]:
    """Return floats with the most urgent first: by state, then by date, then in file order.

    Parameters
    ----------
    floats : sequence of FloatUpkeep
        Of an upkeep.

    Returns
    -------
    list of FloatUpkeep
        One that was seen outside its circle goes before all.
    """
    return sorted(
        floats,
        key=lambda one: (
            one.moved is None or one.moved.verdict == "inside",
            STATES.index(one.state),
            one.by or date.max,
        ),
    )


def _float(
    assessment: Assessment,
    one: AssessedFloat,
    seen: tuple[Seen, ...],
    parts: tuple[PieceState, ...],
) -> FloatUpkeep:
    state = gravest([part.state for part in parts])
    pieces = [part.piece for part in parts]
    days = [part.by for part in parts if part.state == state and part.by is not None]
    return FloatUpkeep(
        one=one,
        state=state,
        by=min(days, default=None),
        parts=parts,
        seen=seen,
        moved=moved(one, seen, parts, assessment),
        touching=touching_metals(pieces),
        unknown_ends=unknown_ends(pieces),
        misfits=misfits(one, parts),
    )


def _both_chains(rows: Inspected) -> list[Problem]:
    """Rows whose word means either of two parts: both were taken, and one line says so."""
    unsure = sorted({one.row for seen in rows.seen for one in seen if one.unsure})
    if not unsure:
        return []
    named = ", ".join(str(row) for row in unsure)
    text = (
        f"row{'s' * (len(unsure) > 1)} {named} may mean one part or another (chain: riser or ground"
        " chain; blocks: primary or secondary): both are taken; write which"
    )
    return [Problem(code="either_part", text=text, file=FILE, column="part", fatal=False)]


def _set_later(assessment: Assessment, on: date) -> list[Problem]:
    return [
        Problem(
            code="set_later",
            text=f"{one.set_on} is after {on}, for which this is: its age is not known",
            file=assessment.field.floats_file,
            row=one.row,
            column="set_on",
            fatal=False,
        )
        for one in assessment.field.floats
        if one.status == "set" and one.set_on is not None and one.set_on > on
    ]
