"""What to buy for rigs: like pieces of all floats together, with what is lost in cutting."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final

from lakemap.assessment import AssessedFloat
from lakemap.basis.published import exact
from lakemap.basis.quantities import INCH_M
from lakemap.rig.chain import link_pitch
from lakemap.rig.clips import ClipRow, clip_row, turn_back
from lakemap.season.rig_inventory import PieceKind, RigPiece

# a chain is cut in the middle of a link, and comes out a whole link too long or too short
CHAIN_SPARE_LINKS: Final = exact(
    2.0, "links", "ours: one lost to the cut, one to come to a whole link", "each cut"
)
CABLE_TRIM_IN: Final = exact(3.0, "in", "ours", "trimmed off each end of a cable")
_ENDS: Final = 2
_CUT: Final = ("chain", "cable")
# the same thing to a shop, wherever in the rig it is
_SHOP_NAMES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "riser chain": "chain",
        "ground chain": "chain",
        "absorber cable": "cable",
        "cable clip": "clip",
        "primary blocks": "block",
        "secondary blocks": "block",
        "primary weight": "weight",
        "secondary weight": "weight",
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShoppingItem:
    """One thing to buy, for all floats that want it."""

    name: str  # as a shop knows it: chain, cable, shackle, block
    kind: PieceKind
    size: str
    grade: int | None  # of chain
    metal: str | None
    count: int  # pieces; of chain and cable the cuts
    cuts_m: tuple[float, ...]  # each with its allowance; empty for what is counted
    mass_kg: float | None  # of all of it, dry; None: not known
    floats: tuple[str, ...]
    assumed_on: tuple[str, ...]  # floats whose file doesn't say what lies there
    unknown_on: tuple[str, ...]  # floats where neither file nor table tells how many or how long

    @property
    def length_m(self) -> float | None:
        """All cuts together [m]; None for what is counted."""
        return sum(self.cuts_m) if self.kind in _CUT else None

    @property
    def clips(self) -> ClipRow | None:
        """The published row for clips of this size; None for anything else."""
        return clip_row(self.size) if self.kind == "clip" else None


@dataclass(slots=True)
class _Gathered:
    """What is known so far of one item."""

    piece: RigPiece
    count: int = 0
    cuts_m: list[float] = field(default_factory=list)
    masses_kg: list[float | None] = field(default_factory=list)
    floats: dict[str, None] = field(default_factory=dict)
    assumed_on: dict[str, None] = field(default_factory=dict)
    unknown_on: dict[str, None] = field(default_factory=dict)


def shop_name(piece: RigPiece) -> str:
    """Return what a shop calls a piece.

    Parameters
    ----------
    piece : RigPiece
        Of a rig.

    Returns
    -------
    str
        `chain` for riser and ground chain alike; a fitting's own name.
    """
    return _SHOP_NAMES.get(piece.name, piece.name)


def shopping_list(
    pieces: Iterable[tuple[AssessedFloat, RigPiece]], *, spare_m: float | None = None
) -> tuple[ShoppingItem, ...]:
    """Return what the pieces come to, like ones together.

    A cut of chain is two links longer than the chain (ours); a cable is one length laid to and
    fro, each end turned back as the table of clips has it and trimmed by 3 in (ours).

    Parameters
    ----------
    pieces : iterable of AssessedFloat and RigPiece
        In the order in which the list is to stand.
    spare_m : float or None
        Instead of our allowance, on each cut of chain and each end of a cable [m].

    Returns
    -------
    tuple of ShoppingItem
        In the order in which each came first.
    """
    found: dict[tuple[object, ...], _Gathered] = {}
    for one, piece in pieces:
        key = (shop_name(piece), piece.kind, piece.size, piece.grade, piece.metal)
        entry = found.setdefault(key, _Gathered(piece=piece))
        float_id = one.record.float_id
        entry.floats[float_id] = None
        if piece.origin == "assumed":
            entry.assumed_on[float_id] = None
        if not _add(entry, piece, spare_m):
            entry.unknown_on[float_id] = None
    return tuple(_item(entry) for entry in found.values())


def _add(entry: _Gathered, piece: RigPiece, spare_m: float | None) -> bool:
    """Add one piece; False where nobody knows how many or how long."""
    if piece.kind in _CUT:
        cut = cut_length(piece, spare_m=spare_m)
        if cut is None:
            return False
        if cut > 0:
            entry.cuts_m.append(cut)
            entry.count += 1
        return True
    if piece.count is None:
        return False
    entry.count += piece.count
    entry.masses_kg.append(None if piece.mass_kg is None else piece.mass_kg * piece.count)
    return True


def cut_length(piece: RigPiece, *, spare_m: float | None = None) -> float | None:
    """Return how long a piece of chain or cable is cut.

    Parameters
    ----------
    piece : RigPiece
        A chain or a cable.
    spare_m : float or None
        Instead of our allowance [m].

    Returns
    -------
    float or None
        With what is lost in cutting [m]; 0 where the piece has no length, None: not known.
    """
    length = piece.whole_length_m
    if not length:
        return length
    if piece.kind == "chain":
        links = CHAIN_SPARE_LINKS.value * link_pitch(piece.size)
        return length + (links if spare_m is None else spare_m)
    trim = CABLE_TRIM_IN.value * INCH_M.value if spare_m is None else spare_m
    return length + _ENDS * (turn_back(piece.size) + trim)


def _item(entry: _Gathered) -> ShoppingItem:
    piece = entry.piece
    known = [mass for mass in entry.masses_kg if mass is not None]
    whole = bool(known) and len(known) == len(entry.masses_kg) and not entry.unknown_on
    return ShoppingItem(
        name=shop_name(piece),
        kind=piece.kind,
        size=piece.size,
        grade=piece.grade,
        metal=piece.metal,
        count=entry.count,
        cuts_m=tuple(entry.cuts_m),
        mass_kg=sum(known) if whole else None,
        floats=tuple(entry.floats),
        assumed_on=tuple(entry.assumed_on),
        unknown_on=tuple(entry.unknown_on),
    )
