"""Which pieces of which rigs a shopping list is about: all, what is due, what new floats take."""

from collections.abc import Iterator
from typing import Literal

from lakemap.assessment import AssessedFloat
from lakemap.season.rig_inventory import RigPiece, inventory
from lakemap.season.upkeep.part_records import PieceState
from lakemap.season.upkeep.part_states import due_state
from lakemap.season.upkeep.upkeep import Upkeep

Wanted = Literal["all", "due", "new"]
WANTED: tuple[Wanted, ...] = ("all", "due", "new")
_ENDS = frozenset({"clip", "sleeve", "thimble"})


def pieces_to_buy(
    told: Upkeep, wanted: Wanted, *, float_id: str | None = None
) -> tuple[tuple[AssessedFloat, RigPiece], ...]:
    """Return the pieces that a shopping list is about.

    Parameters
    ----------
    told : Upkeep
        Of the whole field.
    wanted : {'all', 'due', 'new'}
        Every rig, set or proposed; what is to be replaced this season; proposed rigs alone.
    float_id : str or None
        Only this float.

    Returns
    -------
    tuple of AssessedFloat and RigPiece
        In file order, each rig from hook to primary. Retired floats need nothing.

    Raises
    ------
    BadInputError
        If there is no such float.
    """
    found = tuple(_due(told) if wanted == "due" else _whole(told, wanted))
    if float_id is None:
        return found
    (only,) = told.assessment.only(float_id).floats
    return tuple(pair for pair in found if pair[0].record.float_id == only.record.float_id)


def _whole(told: Upkeep, wanted: Wanted) -> Iterator[tuple[AssessedFloat, RigPiece]]:
    statuses = {"proposed"} if wanted == "new" else {"set", "proposed"}
    units = told.assessment.field.settings.units
    for one in told.assessment.floats:
        if one.record.status in statuses:
            yield from ((one, piece) for piece in inventory(one, units))


def _due(told: Upkeep) -> Iterator[tuple[AssessedFloat, RigPiece]]:
    for each in told.floats:
        kinds = {part.piece.kind for part in each.parts if _is_due(part, told)}
        # a new cable takes new ends: sleeves are pressed once, thimbles wear with it
        ends = _ENDS if "cable" in kinds else frozenset()
        for part in each.parts:
            if part.piece.kind in ends or _is_due(part, told):
                yield each.one, part.piece


def _is_due(part: PieceState, told: Upkeep) -> bool:
    """Whether a part is to be replaced this season; what is to be looked at first is not."""
    return any(
        due.what == "replace" and due_state(due, on=told.on, until=told.until) != "later"
        for due in part.dues
    )
