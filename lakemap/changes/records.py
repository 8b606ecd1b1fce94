"""Records of a comparison of two versions of a field."""

from dataclasses import dataclass
from typing import Literal

from lakemap.assessment import AssessedFloat, Assessment
from lakemap.clearances.records import Clearance

Kind = Literal["added", "taken_away", "retired", "moved", "changed", "affected"]
What = Literal["changed", "added", "taken_away"]
Did = Literal[
    "made_room", "came_nearer", "swings_farther", "added", "taken_away", "retired", "in_use_again",
    "changed",
]  # fmt: skip
CauseKind = Literal["float", "zone", "shore", "island", "field"]
Value = float | str | tuple[float, ...] | None
SAME_M = 1e-3  # two projections of one place, and two readings of one length, may differ by less


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """How far the primary lies from where it was; the bearing is true, from old to new."""

    distance_m: float
    bearing_deg: float
    reckoned: bool  # nobody gave another position: its length, bearing or level put it there


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnChange:
    """One cell of the floats file. None is blank."""

    column: str  # as the file names it, without a unit
    unit: str | None  # m, kg, kg/m3, N/m, deg; None: a word, a count or a date
    old: Value
    new: Value


@dataclass(frozen=True, slots=True, kw_only=True)
class GapChange:
    """A clearance that is not what it was; None: not listed in that version."""

    kind: str
    against: str  # as the new version names it, or the old one where it is gone
    old: Clearance | None
    new: Clearance | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """What changed the answer for a float that nobody changed."""

    kind: CauseKind
    names: tuple[str, ...]  # floats, zones, islands, or topics of the field
    did: Did


@dataclass(frozen=True, slots=True, kw_only=True)
class FloatChange:
    """One float that is not as it was, or for which the answers are not."""

    float_id: str
    kind: Kind  # affected: nothing of its own
    before: AssessedFloat | None  # None: added
    after: AssessedFloat | None  # None: taken away
    was_xy: tuple[float, float] | None  # where its primary was, in metres of the new version
    moved: Moved | None
    columns: tuple[ColumnChange, ...]
    gaps: tuple[GapChange, ...]  # least spare of either version first
    cause: Cause | None  # of an affected one


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldChange:
    """One thing of the field, beside its floats, that is not as it was; SI."""

    topic: str  # levels, storm, wake, accuracy, rules, zones, lake, soundings, ...
    name: str  # which rule, zone or island; blank where the topic has none
    part: str  # what of it, as field.toml or the file names it; blank: all of it
    what: What
    unit: str | None
    old: Value
    new: Value
    gained: float | None = None  # of an outline: m2; of soundings: a count
    lost: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Two versions of a field, and what is not the same."""

    old: Assessment
    new: Assessment
    floats: tuple[FloatChange, ...]  # in the new version's order, those taken away last
    field: tuple[FieldChange, ...]
    owners: bool = False  # whether it holds changed owners, permits and notes

    @property
    def is_alike(self) -> bool:
        """Whether nothing changed."""
        return not self.floats and not self.field


def spare_of(one: AssessedFloat | None) -> Clearance | None:
    """Return the clearance with the least spare in metres.

    Parameters
    ----------
    one : AssessedFloat or None
        Of either version.

    Returns
    -------
    Clearance or None
        None where nothing is asked, and where a depth is missing: its gaps are guesses.
    """
    if one is None or one.verdict in {None, "unknown"}:
        return None
    return next((c for c in one.clearances if c.spare_m is not None), None)


def weakest_of(one: AssessedFloat | None) -> tuple[str | None, float | None]:
    """Return the weakest part of a float's line, and what share of its strength is used.

    Parameters
    ----------
    one : AssessedFloat or None
        Of either version.

    Returns
    -------
    tuple
        Name and share; None where it is not known.
    """
    part = None if one is None else one.sizing.line.weakest
    return (None, None) if part is None else (part.name, part.used)


def differs(one: float | None, other: float | None, *, least: float = SAME_M) -> bool:
    """Tell whether two figures are not the same.

    Parameters
    ----------
    one, other : float or None
        None: not known; it differs from every figure.
    least : float
        What is no difference yet.

    Returns
    -------
    bool
        True where they differ by more.
    """
    if one is None or other is None:
        return one is not other
    return abs(one - other) > least
