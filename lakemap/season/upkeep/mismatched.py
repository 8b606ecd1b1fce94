"""Unlike metals that touch, and parts that do not match what the sizing asks."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final, Literal

from lakemap.assessment import AssessedFloat
from lakemap.rig.bed import HOLDING_FACTOR
from lakemap.rig.metals import POTENTIAL_V, Couple, couple
from lakemap.rig.wear import worn_strength
from lakemap.season.rig_inventory import RigPiece
from lakemap.season.upkeep.part_records import PieceState

_FULL: Final = 1.0
MisfitKind = Literal["fewer blocks", "overloaded", "slides", "slides settled"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Touching:
    """Two neighbours of unlike metal."""

    first: RigPiece
    second: RigPiece
    couple: Couple


@dataclass(frozen=True, slots=True, kw_only=True)
class Misfit:
    """One thing of a rig that is not as the sizing has it."""

    kind: MisfitKind
    name: str  # of the part or cluster
    size: str
    has: float  # blocks, share of the working strength used, or holding [N]
    asked: float  # blocks, 1, or 1.5 times the mean pull [N]
    worn: bool = False  # the share is reckoned with what is left of a worn part


def touching_metals(pieces: Sequence[RigPiece]) -> tuple[Touching, ...]:
    """Return the neighbours of unlike metals of one rig, each pair of metals once.

    Parameters
    ----------
    pieces : sequence of RigPiece
        Hook to primary.

    Returns
    -------
    tuple of Touching
        Those more than 200 mV apart; pieces whose metal nobody said are left out.
    """
    chained = [piece for piece in pieces if piece.metal in POTENTIAL_V]
    found: dict[tuple[str, str], Touching] = {}
    for upper, lower in pairwise(chained):
        both = _couple(upper, lower)
        if both.level != "good":
            found.setdefault(
                (both.goes, both.stays), Touching(first=upper, second=lower, couple=both)
            )
    return tuple(found.values())


def _couple(upper: RigPiece, lower: RigPiece) -> Couple:
    """What two neighbours do: each carries the whole load; beside a cable a fitting is small."""
    first, second = upper.metal or "", lower.metal or ""
    by_load = couple(first, second, goes_is_small=True)
    stays = upper if first == by_load.stays else lower
    by_size = couple(first, second, goes_is_small=stays.kind == "cable")
    return replace(by_size, level=by_load.level)


def unknown_ends(pieces: Sequence[RigPiece]) -> tuple[RigPiece, ...]:
    """Return the clips, sleeves and thimbles on stainless cable, whose metal no file tells.

    Parameters
    ----------
    pieces : sequence of RigPiece
        Hook to primary.

    Returns
    -------
    tuple of RigPiece
        They must be stainless, too.
    """
    stainless = any(piece.kind == "cable" and piece.metal == "stainless" for piece in pieces)
    ends = ("clip", "sleeve", "thimble")
    return tuple(piece for piece in pieces if stainless and piece.kind in ends)


def misfits(one: AssessedFloat, states: Sequence[PieceState]) -> tuple[Misfit, ...]:
    """Return what of a float's rig does not match its sizing in the design storm.

    Parameters
    ----------
    one : AssessedFloat
        With its sizing.
    states : sequence of PieceState
        Of its parts: what was measured thin carries less.

    Returns
    -------
    tuple of Misfit
        Fewer blocks than practice has; the part loaded most beyond its working strength, and each
        worn one; a primary that slides by its weight alone, or settled in too.
    """
    return (*_blocks(one), *_loads(one, states), *_holds(one))


def _blocks(one: AssessedFloat) -> Iterator[Misfit]:
    for name, cluster in (("primary", one.sizing.primary), ("secondary", one.sizing.secondary)):
        has, asked = cluster.blocks, cluster.practice_blocks
        plain = one.record.block in {None, "12-in hollow"}
        if plain and has is not None and has < asked:
            yield Misfit(
                kind="fewer blocks", name=name, size=one.record.block or "", has=has, asked=asked
            )


def _loads(one: AssessedFloat, states: Sequence[PieceState]) -> Iterator[Misfit]:
    left = {
        state.piece.name: float(worn_strength(min(state.worn.least_m / state.worn.new_m, _FULL)))
        for state in states
        if state.worn is not None
    }
    found = [
        Misfit(
            kind="overloaded",
            name=part.name,
            size=part.size,
            has=part.used / left.get(part.name, _FULL),
            asked=_FULL,
            worn=left.get(part.name, _FULL) < _FULL,
        )
        for part in one.sizing.line.parts
        if part.used is not None
    ]
    over = [each for each in found if each.has > _FULL]
    worst = max(over, key=lambda each: each.has, default=None)
    said = [each for each in over if each is worst or each.worn]
    yield from sorted(said, key=lambda each: -each.has)


def _holds(one: AssessedFloat) -> Iterator[Misfit]:
    primary, mean = one.sizing.primary, one.sizing.loads_n.mean
    if mean is None:
        return
    answers: tuple[tuple[MisfitKind, bool | None, float | None], ...] = (
        ("slides", primary.enough.unburied, primary.holding_n.unburied),
        ("slides settled", primary.enough.buried, primary.holding_n.buried),
    )
    for kind, holds, holding in answers:
        if holds is False and holding is not None:
            yield Misfit(
                kind=kind, name="primary", size="", has=holding, asked=HOLDING_FACTOR.value * mean
            )
