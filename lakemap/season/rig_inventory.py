"""Every physical piece of one rig, from hook to primary: what it is, how many, and who said so."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

from lakemap.assessment import AssessedFloat
from lakemap.basis.published import GRAVITY_M_S2
from lakemap.basis.records import Fitting, Units
from lakemap.basis.wording import weight_text
from lakemap.rig.absorber import Absorber
from lakemap.rig.blocks import DEFAULT_BLOCK
from lakemap.rig.chain_tables import CHAIN_UNMARKED_GRADE
from lakemap.rig.clips import clip_count, clip_row
from lakemap.rig.part_records import kind_of, metal_of
from lakemap.rig.parts import PRACTICE_FITTINGS, RigParts, rig_parts
from lakemap.rig.trade import trade_size
from lakemap.sizing.records import PrimarySizing, SecondarySizing

PieceKind = Literal["fitting", "cable", "clip", "sleeve", "thimble", "chain", "block", "weight"]
Origin = Literal["given", "designed", "assumed"]
# fittings whose size is the diameter of the bar that wears; a swivel's or turnbuckle's is a name
_BAR_BY_NAME: Final = ("shackle", "eye bolt", "master link")
_ENDS: Final = 2  # one length of cable laid to and fro has two ends, however many legs it makes


@dataclass(frozen=True, slots=True, kw_only=True)
class RigPiece:
    """One kind of piece at one place of a rig; equal pieces side by side are counted."""

    name: str  # as an inspection may call it: shackle, absorber cable, riser chain, primary blocks
    kind: PieceKind
    size: str  # by the trade's name: 1/2 in, 10 mm, 12-in hollow; of a weight what it weighs
    origin: Origin  # of what the piece is: a blank is designed on a proposed float, else assumed
    count: int | None = 1  # of a cable its legs; None: nobody knows
    length_m: float | None = None  # of one; None: it has none, or it is not known
    new_diameter_m: float | None = None  # of the bar or cable that wears; None: no print tells it
    metal: str | None = "galvanised"  # a key of the galvanic series; concrete; None: nobody said
    grade: int | None = None  # of chain
    mass_kg: float | None = None  # of one block or weight, dry
    blank: tuple[str, ...] = ()  # columns of the floats file that it wants and that are blank

    @property
    def whole_length_m(self) -> float | None:
        """All of it together [m]: of a cable its legs times their length."""
        if self.length_m is None or self.count is None:
            return None
        return self.count * self.length_m


def inventory(one: AssessedFloat, units: Units) -> tuple[RigPiece, ...]:
    """Return every physical piece of a float's rig in order from hook to primary.

    Fittings as the floats file lists them, the absorber's cable with what holds its ends, the
    riser's chain, the secondary, the ground chain, the primary. The chains' lengths are those
    that the float is placed with; the riser's absorber is taken off its chain. How many clips,
    sleeves and thimbles there are stands in no file: they are counted as one length of cable with
    two ends, clips by their table, and marked as designed or assumed. What joins chain to blocks
    is counted only where the file lists it under `fittings`.

    Parameters
    ----------
    one : AssessedFloat
        Of an assessment.
    units : {'ft-lb', 'm-kg'}
        Which sizes a blank takes, as in the sizing.

    Returns
    -------
    tuple of RigPiece
        Given by the file, designed on a proposed float, or assumed.
    """
    parts = rig_parts(one.record, units=units)
    riser = None if one.riser_m is None else max(one.riser_m - _absorber_m(one, parts.absorber), 0)
    return (
        *_fittings(one),
        *_absorber(one, parts),
        _chain(one, parts, "riser", riser),
        _cluster(one, "secondary", one.sizing.secondary, units),
        _chain(one, parts, "ground", one.ground_m),
        _cluster(one, "primary", one.sizing.primary, units),
    )


def _origin(one: AssessedFloat, *, given: bool) -> Origin:
    if given:
        return "given"
    return "designed" if one.record.status == "proposed" else "assumed"


def _blank(**columns: object) -> tuple[str, ...]:
    return tuple(name for name, value in columns.items() if value in {None, ()})


def _fittings(one: AssessedFloat) -> Iterator[RigPiece]:
    listed = one.record.fittings
    for fitting in listed or PRACTICE_FITTINGS:
        yield RigPiece(
            name=fitting.name,
            kind="fitting",
            size=trade_size(fitting.size).name,
            origin=_origin(one, given=bool(listed)),
            count=fitting.count,
            new_diameter_m=_bar_m(fitting),
            metal=metal_of(fitting.name),
            blank=_blank(fittings=listed),
        )


def _bar_m(fitting: Fitting) -> float | None:
    named = kind_of(fitting.name) in _BAR_BY_NAME
    return trade_size(fitting.size).length_m if named else None


def _absorber_m(one: AssessedFloat, absorber: Absorber | None) -> float:
    """Length of the absorber; none is longer than its riser, as in the sizing."""
    length = 0.0 if absorber is None else absorber.length_m
    return length if one.riser_m is None else min(length, one.riser_m)


def _absorber(one: AssessedFloat, parts: RigParts) -> Iterator[RigPiece]:
    absorber, record = parts.absorber, one.record
    if absorber is None:
        return
    size = trade_size(absorber.size).name
    yield RigPiece(
        name="absorber cable",
        kind="cable",
        size=size,
        origin=_origin(one, given=record.cable is not None),
        count=absorber.legs,
        length_m=_absorber_m(one, absorber),
        new_diameter_m=absorber.diameter_m,
        metal=absorber.finish,
        blank=_blank(
            cable=record.cable,
            cable_parts=record.cable_parts,
            absorber_length=record.absorber_length_m,
        ),
    )
    yield from _ends(one, absorber, size)


def _ends(one: AssessedFloat, absorber: Absorber, size: str) -> Iterator[RigPiece]:
    blank = _blank(cable_ends=one.record.cable_ends)
    origin = _origin(one, given=not blank)
    if absorber.ends == "sleeves":
        yield RigPiece(
            name="sleeve",
            kind="sleeve",
            size=size,
            origin=origin,
            count=_ENDS,
            metal=None,
            blank=blank,
        )
    else:
        known = clip_row(size) is not None
        yield RigPiece(
            name="cable clip",
            kind="clip",
            size=size,
            origin=origin,
            count=_ENDS * clip_count(size) if known else None,
            metal=None,
            blank=blank,
        )
    if absorber.ends != "bare pin":
        yield RigPiece(
            name="thimble", kind="thimble", size=size, origin=origin, count=_ENDS, metal=None,
            blank=blank,
        )  # fmt: skip


def _chain(one: AssessedFloat, parts: RigParts, where: str, length_m: float | None) -> RigPiece:
    record = one.record
    # the part's own words are size and grade, as the sizing shows them
    size = next(part.size for part in parts.parts if part.name == f"{where} chain")
    length = {"riser": record.riser_m, "ground": record.ground_m}[where]
    return RigPiece(
        name=f"{where} chain",
        kind="chain",
        size=trade_size(size.partition(",")[0]).name,
        origin=_origin(one, given=record.chain is not None),
        length_m=length_m,
        new_diameter_m=parts.chain.bar_m,
        grade=record.chain_grade or int(CHAIN_UNMARKED_GRADE.value),
        blank=_blank(
            **{"chain": record.chain, "chain_grade": record.chain_grade, f"{where}_length": length}
        ),
    )


def _cluster(
    one: AssessedFloat, where: str, sized: PrimarySizing | SecondarySizing, units: Units
) -> RigPiece:
    record = one.record
    blocks, weight = {
        "primary": (record.primary_blocks, record.primary_weight_kg),
        "secondary": (record.secondary_blocks, record.secondary_weight_kg),
    }[where]
    mass = None if sized.dry_n is None else sized.dry_n / GRAVITY_M_S2.value
    if weight is not None:
        return RigPiece(
            name=f"{where} weight",
            kind="weight",
            size=f"{weight_text(weight * GRAVITY_M_S2.value, units)} dry",
            origin="given",
            mass_kg=weight,
            metal="concrete",
        )
    return RigPiece(
        name=f"{where} blocks",
        kind="block",
        size=record.block or DEFAULT_BLOCK,
        origin=_origin(one, given=blocks is not None),
        count=sized.blocks,
        mass_kg=mass / sized.blocks if mass is not None and sized.blocks else None,
        metal="concrete",
        blank=_blank(**{f"{where}_blocks": blocks, "block": record.block}),
    )
