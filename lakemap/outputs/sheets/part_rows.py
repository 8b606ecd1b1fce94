"""Rows of the inspection sheet: each piece of a rig, what to look at, its wear, what is due."""

from collections.abc import Mapping
from datetime import date
from types import MappingProxyType
from typing import Final

from lakemap.basis.wording import bar_text
from lakemap.outputs.sheets.numbers import SheetNumbers
from lakemap.outputs.sheets.piece_words import piece_words
from lakemap.outputs.upkeep.part_texts import due_short
from lakemap.rig.part_records import kind_of
from lakemap.season.rig_inventory import RigPiece, inventory
from lakemap.season.upkeep.inspected import Seen
from lakemap.season.upkeep.part_records import Due, PieceState
from lakemap.season.upkeep.upkeep import FloatUpkeep
from lakemap.season.upkeep.wear_seen import retired_share

Row = tuple[str, ...]
# what to look at goes by the kind of a piece; of fittings by their table, of others by their name
_AT: Final[Mapping[str, str]] = MappingProxyType(
    {
        "eye bolt": "at_eye_bolt",
        "shackle": "at_shackle",
        "master link": "at_link",
        "swivel": "at_swivel",
        "turnbuckle": "at_turnbuckle",
        "fitting": "at_fitting",
        "cable": "at_cable",
        "clip": "at_clip",
        "sleeve": "at_sleeve",
        "thimble": "at_thimble",
        "riser chain": "at_riser",
        "ground chain": "at_ground",
        "secondary blocks": "at_secondary",
        "primary blocks": "at_primary",
        "weight": "at_weight",
    }
)
_NOW: Final = frozenset({"found", "size", "wires"})
_AGAIN: Final = frozenset({"wires few", "doubt", "worn"})
_DASH: Final = "–"


def part_rows(numbers: SheetNumbers, known: FloatUpkeep | None) -> tuple[Row, ...]:
    """Return a row for the float itself and for each piece of its rig, hook to primary.

    Parameters
    ----------
    numbers : SheetNumbers
        Of the float.
    known : FloatUpkeep or None
        What was found; None for a float that is not set.

    Returns
    -------
    tuple of tuple of str
        Part, what to look at, new and least diameter, last seen and due, two blanks.
    """
    pieces = inventory(numbers.one, numbers.units)
    states = (None,) * len(pieces) if known is None else known.parts
    rows = (_row(piece, state, numbers) for piece, state in zip(pieces, states, strict=True))
    return (_float_row(numbers), *rows)


def _float_row(numbers: SheetNumbers) -> Row:
    texts, one = numbers.texts, numbers.one
    form = "at_float_billets" if one.record.flotation == "billets" else "at_float"
    freeboard = numbers.length(one.sizing.float.freeboard_m)
    assumed = numbers.chosen("float_weight", "flotation", "tubes", "tube_diameter", "billets")
    look = texts.of(f"sheet_inspection.{form}", freeboard=f"{freeboard}{assumed}")
    return (texts.of("sheet_inspection.float_part"), look, _DASH, "", "", "")


def _row(piece: RigPiece, state: PieceState | None, numbers: SheetNumbers) -> Row:
    look = numbers.texts.of(f"sheet_inspection.{_at(piece)}")
    known = f"{_last(state, numbers)} {_due(state, numbers)}".strip()
    return (piece_words(piece, numbers), look, _sizes(piece, numbers), known, "", "")


def _sizes(piece: RigPiece, numbers: SheetNumbers) -> str:
    """New and least diameter, without their unit."""
    new, share = piece.new_diameter_m, retired_share(piece.kind)
    if new is None or share is None:
        return _DASH
    new_text, out_text = (bar_text(size, numbers.units).split()[0] for size in (new, share * new))
    return numbers.texts.of("sheet_inspection.new_out", new=new_text, out=out_text)


def _at(piece: RigPiece) -> str:
    if piece.kind == "fitting":
        kind = kind_of(piece.name) or _last_word(piece.name)
        return _AT.get(kind, _AT["fitting"])
    return _AT.get(piece.name) or _AT[piece.kind]


def _last_word(name: str) -> str:
    """`stainless shackle` has no table, and is looked at as a shackle."""
    return next((kind for kind in ("shackle", "swivel", "eye bolt") if name.endswith(kind)), name)


def _last(state: PieceState | None, numbers: SheetNumbers) -> str:
    """What was found last, when, and how thick it was then."""
    texts = numbers.texts
    if state is None or not state.seen:
        return texts.of("sheet_inspection.never")
    row = state.seen[-1]
    found = _found(row, numbers)
    return texts.of("sheet_inspection.last_found", date=row.on, finding=found)


def _found(row: Seen, numbers: SheetNumbers) -> str:
    said = [row.finding or ""]
    if row.diameter_m is not None:
        said.append(bar_text(row.diameter_m, numbers.units))
    if row.broken_wires is not None:
        said.append(numbers.texts.of("sheet_inspection.wires", count=row.broken_wires))
    return ", ".join(part for part in said if part)


def _due(state: PieceState | None, numbers: SheetNumbers) -> str:
    """What is due first; else when it is to be looked at again."""
    if state is None:
        return ""
    if state.dues:
        return _due_words(state.dues[0], state, numbers)
    if state.look_by is None:
        return ""
    return numbers.texts.of("sheet_inspection.look_by", date=_month(state.look_by))


def _due_words(due: Due, state: PieceState, numbers: SheetNumbers) -> str:
    texts = numbers.texts
    if due.why in _NOW:
        on = numbers.assessment.field.dated or due.by
        why = due_short(due, state, on=on, units=numbers.units).partition(": ")[2]
        return texts.of("sheet_inspection.now", why=why)
    if due.why in _AGAIN:
        return texts.of(f"sheet_inspection.look_{due.why.replace(' ', '_')}")
    return texts.of(f"sheet_inspection.{due.what}_by", date=_month(due.by))


def _month(day: date) -> str:
    """No wear is known to a day."""
    return f"{day:%Y-%m}"
