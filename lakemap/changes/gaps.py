"""Which clearances of a float are not what they were."""

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from operator import attrgetter

from lakemap.assessment import AssessedFloat
from lakemap.changes.records import GapChange, differs
from lakemap.clearances.records import Clearance

_FIGURES = (
    "gap_m",
    "required_m",
    "spare_m",
    "uncertainty_m",
    "value_m2",
    "required_m2",
    "spare_m2",
)
# enough to tell that two are the same: what is asked is the gap less the spare
_GAP = attrgetter("kind", "against", "gap_m", "spare_m", "uncertainty_m", "spare_m2")
_Key = tuple[str, str, int]


def are_same_gaps(one: Sequence[Clearance], other: Sequence[Clearance]) -> bool:
    """Tell whether two lists of clearances say the same to the last digit."""
    return one is other or (
        len(one) == len(other) and list(map(_GAP, one)) == list(map(_GAP, other))
    )


def gap_changes(
    one: AssessedFloat, other: AssessedFloat, *, names: Mapping[tuple[str, str], str]
) -> Iterator[GapChange]:
    """Yield every clearance that is not what it was, least spare first.

    Parameters
    ----------
    one, other : AssessedFloat
        Of two versions; nothing is yielded where one of them is not checked.
    names : mapping
        Old kind and name of a thing -> its new name, where that is another.

    Yields
    ------
    GapChange
        Clearances that only one version lists too.
    """
    if one.clearances is other.clearances or None in {one.verdict, other.verdict}:
        return
    old, new = _keyed(one.clearances, names), _keyed(other.clearances, {})
    found = []
    for key in (*new, *(key for key in old if key not in new)):
        before, after = old.get(key), new.get(key)
        last = after or before
        if last is not None and _is_changed(before, after):
            found.append(GapChange(kind=key[0], against=last.against, old=before, new=after))
    yield from sorted(found, key=_least)


def _keyed(
    clearances: Sequence[Clearance], names: Mapping[tuple[str, str], str]
) -> dict[_Key, Clearance]:
    """Clearances by what they are to, as the new version names it; namesakes by their order."""
    seen: Counter[tuple[str, str]] = Counter()
    keyed = {}
    for one in clearances:
        name = one.kind, names.get((one.kind, one.against), one.against)
        keyed[*name, seen[name]] = one
        seen[name] += 1
    return keyed


def _is_changed(one: Clearance | None, other: Clearance | None) -> bool:
    if one is None or other is None:
        return True
    if one is other or _GAP(one) == _GAP(other):
        return False
    return any(differs(getattr(one, name), getattr(other, name)) for name in _FIGURES)


def _least(change: GapChange) -> float:
    spares = (c.spare for c in (change.old, change.new) if c is not None and c.spare is not None)
    return min(spares, default=math.inf)
