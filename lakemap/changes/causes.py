"""What changed the answer for a float that nobody changed."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from lakemap.assessment import AssessedFloat
from lakemap.changes.records import Cause, Did, FloatChange, GapChange, What, differs, spare_of
from lakemap.clearances.records import Clearance

_WORST_FIRST: Final = ("conflict", "tight", "unknown", "clear", None)
_SHORT, _TIGHT, _FREE = range(3)


@dataclass(frozen=True, slots=True, kw_only=True)
class Grounds:
    """All that may have caused something."""

    changed: Mapping[str, FloatChange]  # floats with a change of their own
    zones: Mapping[tuple[str, str], What]  # by kind and label
    lake: bool  # its outline
    topics: tuple[str, ...]  # of the field, those that answers rest on


def with_cause(change: FloatChange, grounds: Grounds) -> FloatChange:
    """Return an affected float with what affected it, where that can be told.

    A neighbour or a zone is named only where the float's own circle and what is asked are as they
    were, so that nothing else can have changed the gap.

    Parameters
    ----------
    change : FloatChange
        Of a float without a change of its own.
    grounds : Grounds
        What changed beside it.

    Returns
    -------
    FloatChange
        The same, with its cause.
    """
    before, after = change.before, change.after
    if before is None or after is None:
        return change
    worse = is_worse(before, after)
    deciding = _deciding(change, worse=worse)
    alone = deciding and _is_same_circle(change) and not any(map(_asks_else, deciding))
    cause = _of_others(deciding, grounds, worse=worse) if alone else None
    mixed = any(_has_moved(gap, grounds) for gap in deciding)
    if cause is None and grounds.topics and not mixed:
        cause = Cause(kind="field", names=grounds.topics, did="changed")
    return replace(change, cause=cause)


def _has_moved(gap: GapChange, grounds: Grounds) -> bool:
    """Whether the other thing has a change of its own, so that the field alone is not the cause."""
    return gap.kind == "float" and gap.against in grounds.changed


def is_worse(before: AssessedFloat, after: AssessedFloat) -> bool:
    """Tell whether a float's verdict is a worse one, or its spare less under the same verdict."""
    was, now = (_WORST_FIRST.index(one.verdict) for one in (before, after))
    if was != now:
        return now < was
    old, new = (None if c is None else c.spare_m for c in (spare_of(before), spare_of(after)))
    return new is not None and (old is None or new < old)


def _deciding(change: FloatChange, *, worse: bool) -> list[GapChange]:
    """The changed clearances that the verdict, or the least spare, hangs on."""
    before, after = change.before, change.after
    if before is None or after is None:
        return []
    if before.verdict != after.verdict:
        sign = -1 if worse else 1
        return [g for g in change.gaps if sign * (_state(g.new) - _state(g.old)) > 0]
    least = spare_of(after if worse else before)
    return [g for g in change.gaps if least is not None and (g.new if worse else g.old) is least]


def _state(one: Clearance | None) -> int:
    if one is None or one.spare is None:
        return _FREE
    if one.spare < 0:
        return _SHORT
    return _TIGHT if one.spare < (one.uncertainty_m or 0.0) else _FREE


def _is_same_circle(change: FloatChange) -> bool:
    if change.moved is not None or change.before is None or change.after is None:
        return False
    return not differs(change.before.swing_radius_m[0], change.after.swing_radius_m[0])


def _asks_else(gap: GapChange) -> bool:
    """Whether the rule is another."""
    old, new = gap.old, gap.new
    return old is not None and new is not None and differs(old.required_m, new.required_m)


def _of_others(deciding: Sequence[GapChange], grounds: Grounds, *, worse: bool) -> Cause | None:
    """One kind of thing that alone changed."""
    kinds = {gap.kind for gap in deciding}
    names = tuple(dict.fromkeys(gap.against for gap in deciding))
    if kinds == {"float"}:
        others = [grounds.changed[name] for name in names if name in grounds.changed]
        if len(others) < len(names):
            return None
        return Cause(kind="float", names=names, did=_common(others, worse=worse))
    if kinds <= {"shore", "shore_max"} and grounds.lake:
        return Cause(kind="shore", names=(), did="changed")
    if kinds == {"island"} and grounds.lake:
        return Cause(kind="island", names=names, did="changed")
    zones = [grounds.zones.get((gap.kind, gap.against)) for gap in deciding]
    if None in zones:
        return None
    did = {zone for zone in zones if zone is not None}
    return Cause(kind="zone", names=names, did=did.pop() if len(did) == 1 else "changed")


def _common(others: Iterable[FloatChange], *, worse: bool) -> Did:
    """What all of some floats did, in one word."""
    did = {_did(one, worse=worse) for one in others}
    if len(did) == 1:
        return did.pop()
    return "came_nearer" if worse else "made_room"


def _did(one: FloatChange, *, worse: bool) -> Did:
    if one.before is None or one.after is None:
        return "added" if one.before is None else "taken_away"
    if one.kind == "retired":
        return "retired"
    if one.before.verdict is None:
        return "in_use_again"
    if not worse:
        return "made_room"
    if one.moved is not None:
        return "came_nearer"
    was, now = one.before.swing_radius_m[0] or 0.0, one.after.swing_radius_m[0] or 0.0
    return "swings_farther" if now > was else "changed"
