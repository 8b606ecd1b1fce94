"""The pieces of a rig as a list to tick off: how many, of what size, how long."""

from collections.abc import Sequence
from dataclasses import replace

from lakemap.basis.wording import small_text, torque_text
from lakemap.outputs.sheets.numbers import SheetNumbers
from lakemap.rig.clips import ClipRow, clip_count, clip_row, clip_spacing, turn_back
from lakemap.rig.trade import trade_size
from lakemap.season.rig_inventory import RigPiece, inventory

_CUT = frozenset({"chain", "cable"})
_BLOCKS = frozenset({"block", "weight"})


def piece_words(
    piece: RigPiece, numbers: SheetNumbers, *, marked: bool = True, named: bool = True
) -> str:
    """Return one piece with its number, size and length.

    Parameters
    ----------
    piece : RigPiece
        Of an inventory.
    numbers : SheetNumbers
        That writes them.
    marked : bool
        Whether a piece that nobody gave is marked as designed or assumed.
    named : bool
        Whether its name stands before its size.

    Returns
    -------
    str
        Such as `2 × shackle 1/2 in`, `ground chain 3/8 in, 17 ft`.
    """
    said = _said(piece if named else replace(piece, name=""), numbers).replace("  ", " ").strip()
    if marked and piece.origin != "given":
        return f"{said} ({numbers.texts.of(f'chosen.{piece.origin}')})"
    if piece.kind in _CUT and piece.origin == "given" and piece.length_m is not None:
        return said + numbers.chosen(*piece.blank)
    return said


def _said(piece: RigPiece, numbers: SheetNumbers) -> str:
    texts = numbers.texts
    size = _size(piece)
    if piece.kind == "cable":
        return texts.of(
            "sheet_piece.legs",
            name=piece.name,
            size=size,
            count=piece.count,
            far=numbers.tape(piece.length_m),
        )
    if piece.kind == "chain":
        words = texts.of("sheet_piece.one", name=piece.name, size=size)
        return texts.of("sheet_piece.long", piece=words, far=numbers.tape(piece.length_m))
    if piece.count is None:
        return texts.of("sheet_piece.unknown_count", name=piece.name, size=size)
    sized = "_sized" if piece.kind in _BLOCKS and piece.name else ""
    form = ("one" if piece.count == 1 else "many") + sized
    return texts.of(f"sheet_piece.{form}", name=piece.name, size=size, count=piece.count)


def _size(piece: RigPiece) -> str:
    return f"{piece.size} {piece.metal}" if piece.kind == "cable" else piece.size


def parts_list(numbers: SheetNumbers) -> tuple[str, tuple[str, ...]]:
    """Return every piece of a float's rig, and the title that such a list has.

    Parameters
    ----------
    numbers : SheetNumbers
        Of the float.

    Returns
    -------
    str
        Title; it says so where all of them were designed or assumed.
    tuple of str
        Hook to primary.
    """
    pieces = inventory(numbers.one, numbers.units)
    origins = {piece.origin for piece in pieces}
    whole = origins.pop() if len(origins) == 1 else "given"
    form = "parts" if whole == "given" else f"parts_{whole}"
    said = tuple(piece_words(piece, numbers, marked=whole == "given") for piece in pieces)
    return numbers.texts.of(f"sheet_setting.{form}"), said


def clips_of(pieces: Sequence[RigPiece]) -> tuple[RigPiece, ClipRow] | None:
    """Return the clips of a rig with their row of the table; None where it has none."""
    for one in pieces:
        row = clip_row(one.size) if one.kind == "clip" else None
        if row is not None:
            return one, row
    return None


def clips_sentence(piece: RigPiece, row: ClipRow, numbers: SheetNumbers) -> str:
    """Return how clips go on: how many to an end, how far apart, how tight.

    Parameters
    ----------
    piece : RigPiece
        Clips.
    row : ClipRow
        Theirs.
    numbers : SheetNumbers
        That writes them.

    Returns
    -------
    str
        One sentence.
    """
    apart = float(clip_spacing(trade_size(piece.size).length_m))
    return numbers.texts.of(
        "sheet_setting.clips",
        count=clip_count(piece.size),
        apart=small_text(apart, numbers.units),
        back=small_text(turn_back(piece.size), numbers.units),
        torque=torque_text(row.torque.value, numbers.units),
    )
