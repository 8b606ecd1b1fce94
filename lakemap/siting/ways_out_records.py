"""Records of the ways out of a conflict; metres and newtons."""

from dataclasses import dataclass
from typing import Literal

from lakemap.clearances.records import Clearance, Verdict

# why there is no such way: short stable names, for scripts; the sentences are the outputs'
NoMove = Literal[
    "primary_not_located",  # seen first, then moved
    "deck_too_large",  # wherever it lies
    "fix_alone",  # at the reckoned place itself every rule holds, once it is seen there
    "no_place",  # none within 300 m
]
NoShorten = Literal[
    "primary_not_fixed",  # where it is was reckoned from the line as it is
    "deck_too_large",
    "pulled_under",  # a longer line is needed
    "aground",
    "position",  # with no line at all the deck would reach too far
    "too_long",  # the shortest line that leaves the secondary on the bed reaches too far
]
NoSwap = Literal["no_deck"]
NoKnot = Literal["no_arrangement"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spoken:
    """A move as a sentence tells it: rounded, and checked as rounded."""

    distance_m: float  # whole tenths of a foot, or centimetres
    bearing_deg: float  # whole degrees
    lon: float
    lat: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """The primary laid elsewhere, by its own rig; blank lengths are designed there."""

    distance_m: float
    bearing_deg: float  # true, from where the primary is
    x_m: float
    y_m: float
    lon: float
    lat: float
    spoken: Spoken | None  # None: no rounded figures do it
    riser_m: float
    ground_m: float
    depth_m: float  # at normal water
    swing_radius_m: float
    verdict: Verdict  # of the float, there; tight, as nothing is left to spare


@dataclass(frozen=True, slots=True, kw_only=True)
class Shorten:
    """The line made shorter: the ground chain first, for that leaves the secondary on the bed."""

    riser_before_m: float
    ground_before_m: float
    riser_m: float
    ground_m: float
    uplift_before_n: float | None  # at the primary, in the storm
    uplift_n: float | None
    rise_high_m: float  # from bed to hook at high water: a riser no longer than that hangs
    hangs: bool  # the secondary hangs in calm high water, as it did before
    over_depth_before: float  # line over depth at normal water; practice has 2
    over_depth: float
    verdict: Verdict

    @property
    def shorter_m(self) -> float:
        """By how much the whole line is shorter [m]."""
        return self.riser_before_m + self.ground_before_m - self.riser_m - self.ground_m


@dataclass(frozen=True, slots=True, kw_only=True)
class Swap:
    """Two floats exchange decks with flotation, weight and hook; the rigs stay where they are."""

    with_id: str
    length_m: float  # of the deck that comes
    width_m: float
    verdict: Verdict
    with_verdict: Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class SmallerDeck:
    """The largest deck of the same shape that passes here, on tubes or billets as much shorter."""

    length_m: float
    width_m: float
    verdict: Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class KnotMoves:
    """Several floats that conflict with each other, moved together."""

    float_ids: tuple[str, ...]  # the whole knot, in file order
    moves: tuple[tuple[str, Move], ...]  # of those that move
    total_m: float
    single_m: float | None  # the best of moving one after the other; None: that ends nothing

    @property
    def saves_m(self) -> float:
        """How much less way that is than one after the other [m]."""
        return 0.0 if self.single_m is None else self.single_m - self.total_m


@dataclass(frozen=True, slots=True, kw_only=True)
class WaysOut:
    """How the conflicts of one float end; where one way is None, its `why` says why."""

    float_id: str
    conflicts: tuple[Clearance, ...]  # spare below 0
    broken: tuple[str, ...]  # pulled_under, aground
    located: bool
    extra_m: float  # what a primary that nobody has seen adds to the circle
    move: Move | None
    move_why: NoMove | None
    shorten: Shorten | None
    shorten_why: NoShorten | None
    swap: Swap | None
    smaller: SmallerDeck | None  # where no swap does it
    swap_why: NoSwap | None
    knot: KnotMoves | None  # None: no other float is in it
    knot_why: NoKnot | None
