"""Which floats are not as they were, and for which the answers are not."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from operator import attrgetter
from typing import Any

import numpy as np

from lakemap.assessment import AssessedFloat, Assessment
from lakemap.changes.columns import column_changes, is_same_row
from lakemap.changes.gaps import are_same_gaps, gap_changes
from lakemap.changes.outlines import Outlines
from lakemap.changes.records import (
    SAME_M,
    ColumnChange,
    FloatChange,
    Kind,
    Moved,
    differs,
    weakest_of,
)

# what is looked at of a float's results; the rest follows from it
_RESULTS = attrgetter(
    "verdict", "x_m", "y_m", "extra_m", "riser_m", "ground_m", "swing_radius_m",
    "sizing.loads_n.mean", "sizing.loads_n.peak",
)  # fmt: skip
_SAME_SHARE = 1e-4  # of a load: a move that cannot be measured changes it by less


@dataclass(frozen=True, slots=True, kw_only=True)
class Versions:
    """The two versions, and what is asked once for all floats."""

    old: Assessment
    new: Assessment
    owners: bool
    outlines: Outlines

    @property
    def same_map(self) -> bool:
        """Whether both have one projection, so that places compare as they stand."""
        return self.old.projection == self.new.projection


def float_changes(versions: Versions) -> Iterator[FloatChange]:
    """Yield the floats that are not as they were, those taken away last.

    Parameters
    ----------
    versions : Versions
        Of one field; where two floats rest on the same records they are not looked at.

    Yields
    ------
    FloatChange
        Without a cause yet.
    """
    before = {one.record.float_id: one for one in versions.old.floats}
    known = set()
    pairs: list[tuple[AssessedFloat, AssessedFloat]] = []
    for after in versions.new.floats:
        name = after.record.float_id
        known.add(name)
        one = before.get(name)
        if one is None:
            pairs.append((after, after))
        elif one is not after and not _is_same(one, after, versions):
            pairs.append((one, after))
    gone = [one for one in versions.old.floats if one.record.float_id not in known]
    was = _places([one for one, _ in pairs] + gone, versions)
    for (one, after), xy in zip(pairs, was, strict=False):
        change = _added(after) if one is after else _changed(one, after, xy, versions)
        if change is not None:
            yield change
    for one, xy in zip(gone, was[len(pairs) :], strict=True):
        yield _plain("taken_away", before=one, was_xy=xy)


def _is_same(one: AssessedFloat, other: AssessedFloat, versions: Versions) -> bool:
    """Whether two records say the same without a closer look; False where that needs one."""
    if not is_same_row(one.record, other.record, owners=versions.owners):
        return False
    if not versions.same_map or versions.outlines.names:
        return False
    if _RESULTS(one) != _RESULTS(other) or weakest_of(one) != weakest_of(other):
        return False
    return are_same_gaps(one.clearances, other.clearances)


def _places(floats: Sequence[AssessedFloat], versions: Versions) -> list[tuple[float, float]]:
    """Where primaries were, in metres of the new version."""
    if versions.same_map:
        return [(one.x_m, one.y_m) for one in floats]
    lon, lat = np.array([(one.lon, one.lat) for one in floats]).reshape(-1, 2).T
    x, y = versions.new.projection.to_xy(lon, lat)
    return list(zip(x.tolist(), y.tolist(), strict=True))


def _plain(kind: Kind, **more: Any) -> FloatChange:  # noqa: ANN401 - fields of the record
    """A float that is in one version only."""
    given: dict[str, Any] = {"before": None, "after": None, "was_xy": None} | more
    one = given["before"] or given["after"]
    return FloatChange(
        float_id=one.record.float_id,
        kind=kind,
        moved=None,
        columns=(),
        gaps=(),
        cause=None,
        **given,
    )


def _added(after: AssessedFloat) -> FloatChange:
    return _plain("added", after=after)


def _changed(
    one: AssessedFloat, after: AssessedFloat, was: tuple[float, float], versions: Versions
) -> FloatChange | None:
    """How a float of both versions differs; None where it doesn't."""
    moved = _moved(one, after, was)
    columns = tuple(column_changes(one.record, after.record, owners=versions.owners))
    gaps = tuple(gap_changes(one, after, names=versions.outlines.names))
    kind = _kind(after, moved, columns)
    if kind == "affected" and not gaps and moved is None and not _differ(one, after):
        return None
    return FloatChange(
        float_id=after.record.float_id,
        kind=kind,
        before=one,
        after=after,
        was_xy=was,
        moved=moved,
        columns=columns,
        gaps=gaps,
        cause=None,
    )


def _kind(after: AssessedFloat, moved: Moved | None, columns: Sequence[ColumnChange]) -> Kind:
    names = {one.column for one in columns}
    if "status" in names and after.record.status == "retired":
        return "retired"
    if moved is not None and not moved.reckoned:
        return "moved"
    return "changed" if names else "affected"


def _moved(one: AssessedFloat, after: AssessedFloat, was: tuple[float, float]) -> Moved | None:
    east, north = after.x_m - was[0], after.y_m - was[1]
    far = math.hypot(east, north)
    if far <= SAME_M:
        return None
    a, b = one.record, after.record
    return Moved(
        distance_m=far,
        bearing_deg=math.degrees(math.atan2(east, north)) % 360.0,
        reckoned=(a.lon, a.lat) == (b.lon, b.lat),
    )


def _differ(one: AssessedFloat, other: AssessedFloat) -> bool:
    """Whether the answers for two floats differ, beside their gaps."""
    if one.verdict != other.verdict or weakest_of(one)[0] != weakest_of(other)[0]:
        return True
    lengths = (
        (one.riser_m, other.riser_m),
        (one.ground_m, other.ground_m),
        *zip(one.swing_radius_m, other.swing_radius_m, strict=True),
    )
    if any(differs(a, b) for a, b in lengths):
        return True
    loads = (
        (one.sizing.loads_n.mean, other.sizing.loads_n.mean),
        (one.sizing.loads_n.peak, other.sizing.loads_n.peak),
        (weakest_of(one)[1], weakest_of(other)[1]),
    )
    return any(differs(a, b, least=_SAME_SHARE * abs(b or 0.0)) for a, b in loads)
