"""Records of the state of each part: what is due, why, on whose word, and how far it is worn."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from lakemap.season.rig_inventory import RigPiece
from lakemap.season.upkeep.inspected import Seen

State = Literal["replace now", "overdue", "due", "later", "good", "no record"]
# by rising ease; `no record` stands last, for nobody knows
STATES: tuple[State, ...] = ("replace now", "overdue", "due", "later", "good", "no record")
Why = Literal["found", "doubt", "size", "wires", "wires few", "age", "wear", "worn"]
What = Literal["replace", "measure", "look"]
Basis = Literal["published", "common practice", "ours"]
Since = Literal["replaced", "set", "first seen"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """One reason for which a part is due."""

    what: What
    why: Why
    by: date
    at_most: date | None  # from then on it is overdue; None: from `by` on
    basis: Basis
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Worn:
    """How far a part is worn, and when it comes to the size at which it is retired."""

    new_m: float
    least_m: float  # measured last
    measured_on: date
    measured: int  # on how many days
    retired_m: float
    rate_m_a: float | None  # loss in a year; None: not known
    rate_error_m_a: float | None  # its standard uncertainty
    since_new: bool  # the rate counts from the new size by the table, not between measurements
    likely_on: date | None  # at that rate; None: not known, or too far off to say
    safe_on: date | None  # at a rate one standard uncertainty higher


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceState:
    """The state of one part of a rig on a day."""

    piece: RigPiece
    state: State
    by: date | None  # of the reason that decides; None: none
    dues: tuple[Due, ...]  # the earliest first
    since: date | None  # how old it is at least
    since_what: Since | None
    seen: tuple[Seen, ...]  # rows about it since then, by date
    look_by: date | None  # to be looked at again; None: never inspected
    worn: Worn | None  # None: never measured

    @property
    def seen_on(self) -> date | None:
        """The day it was last looked at, if ever."""
        return self.seen[-1].on if self.seen else None

    @property
    def unsure(self) -> bool:
        """Whether a row that decides may be about another part as well."""
        return any(one.unsure for one in self.seen)
