"""A field with some floats changed: the exact check again, without sizing the rigs again."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from lakemap.assessment import Assessment
from lakemap.basis.records import Float, FloatArray
from lakemap.clearances.circles import Circles
from lakemap.clearances.frontages import frontage_of
from lakemap.clearances.recheck import (
    Standing,
    checked_again,
    put,
    spliced,
    standing,
    taken,
)
from lakemap.clearances.records import Clearance, FloatCheck
from lakemap.laid_out import laid_out_of
from lakemap.mapping import placement_asked, weather_of
from lakemap.rig.hydrostatics import float_buoyancy
from lakemap.rig.placement import place
from lakemap.rig.records import Placement
from lakemap.sites import lake_of, subject_of
from lakemap.siting.spots import Lake, SpotField, spot_field
from lakemap.sizing.weather import settled

_ROUNDING_M = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """An assessed field, ready to be asked about changes."""

    assessment: Assessment
    lake: Lake
    standing: Standing

    @property
    def circles(self) -> Circles:
        """The circles that take part."""
        return self.standing.circles

    @property
    def before(self) -> tuple[FloatCheck, ...]:
        """The check of its floats."""
        return self.standing.floats

    @property
    def placement(self) -> Placement:
        """Where the floats are."""
        return self.assessment.sized.question.placement

    @property
    def floats(self) -> tuple[Float, ...]:
        """All floats of the field."""
        return self.assessment.field.floats


@dataclass(frozen=True, slots=True, kw_only=True)
class Rechecked:
    """The check of a changed field."""

    floats: tuple[FloatCheck, ...]  # in file order
    placement: Placement  # of all floats
    circles: Circles


def ground_of(assessment: Assessment) -> Ground:
    """Prepare an assessed field.

    Parameters
    ----------
    assessment : Assessment
        Of a whole field.

    Returns
    -------
    Ground
        Ready to be asked.
    """
    return Ground(
        assessment=assessment,
        lake=lake_of(assessment),
        standing=standing(subject_of(assessment)),
    )


def met_by(
    ground: Ground, record: Float, *, without: Sequence[int], circles: Circles | None = None
) -> SpotField:
    """Return the field as one of its own floats meets it.

    Parameters
    ----------
    ground : Ground
        The field.
    record : Float
        The float, with what is changed of it.
    without : sequence of int
        Floats that are taken as away: itself among them; index into the field's.
    circles : Circles or None
        Instead of those of the field, as where some have moved.

    Returns
    -------
    SpotField
        Its own frontage counts where a rule asks for it.
    """
    there = ground.circles if circles is None else circles
    kept = np.flatnonzero(~np.isin(there.index, without))
    lot = record.lot
    if lot is not None:
        found = frontage_of(ground.lake.zones, ground.lake.settings, lot)
        lot = None if found is None or found.ask.required_m is None else lot
    return spot_field(
        record,
        ground.lake,
        there.only(kept),
        names=[ground.floats[i].float_id for i in there.index[kept].tolist()],
        lot=lot,
    )


def laid_at(ground: Ground, record: Float, xy: FloatArray) -> Float:
    """Return a float with its primary laid at a known place.

    Parameters
    ----------
    ground : Ground
        For the projection.
    record : Float
        As it is.
    xy : ndarray, shape [2]
        The place [m].

    Returns
    -------
    Float
        Its own depth, which held elsewhere, left out where there are soundings.
    """
    lon, lat = ground.assessment.projection.to_lonlat(xy[:1], xy[1:])
    depth = record.depth_m if ground.lake.surface is None else None
    return replace(
        record,
        lon=float(lon[0]),
        lat=float(lat[0]),
        position_of="primary",
        wind_from_deg=None,
        position_error_m=None,
        depth_m=depth,
    )


def recheck(ground: Ground, changed: Mapping[int, Float]) -> Rechecked:
    """Check the field again with some floats changed.

    Parameters
    ----------
    ground : Ground
        The field.
    changed : mapping of int to Float
        By index into the field's floats.

    Returns
    -------
    Rechecked
        As `assess` would find it, but for what the depths' uncertainty adds to a moved float.
    """
    index = sorted(changed)
    part, draft = _placed(ground, tuple(changed[i] for i in index))
    subject = ground.standing.subject
    floats = list(subject.floats)
    for i, record in changed.items():
        floats[i] = record
    old = taken(subject.placement, index)
    # how sure a depth is takes long, and decides nothing but what counts as tight
    part = replace(part, depth_error_m=old.depth_error_m)
    after = checked_again(
        ground.standing,
        replace(
            subject,
            floats=tuple(floats),
            placement=spliced(subject.placement, part, index),
            draft_people_m=put(subject.draft_people_m, draft, index),
        ),
        index,
    )
    return Rechecked(floats=after.floats, placement=after.subject.placement, circles=after.circles)


def _placed(ground: Ground, records: tuple[Float, ...]) -> tuple[Placement, FloatArray]:
    """Place some floats, in their storms where a riser rests on them; and their drafts."""
    part = replace(ground.assessment.field, floats=records)
    laid = laid_out_of(ground.assessment)
    buoyancy = float_buoyancy(records, people=part.settings.people)
    question = placement_asked(part, laid, buoyancy, how_sure=False)
    if any(one.riser_m is None for one in records):
        weather = weather_of(part, laid, buoyancy, ground.lake.winds)
        question, _ = settled(weather, question, beside=False)
    return place(question), buoyancy.draft_people_m


def ends_it(ground: Ground, after: Rechecked, ended: Sequence[int]) -> bool:
    """Tell whether some floats are out of conflict, and no other is worse off than before.

    Parameters
    ----------
    ground : Ground
        The field as it was.
    after : Rechecked
        As it would be.
    ended : sequence of int
        Whose conflicts must be gone; index into the field's floats.

    Returns
    -------
    bool
        False where a rig that worked no longer does, or a spare below 0 is new or less.
    """
    if any(after.floats[i].verdict in {"conflict", "unknown"} for i in ended):
        return False
    return not any(_worse(b, a) for b, a in zip(ground.before, after.floats, strict=True))


def _worse(before: FloatCheck, after: FloatCheck) -> bool:
    had = {(one.kind, one.against): one.spare or 0.0 for one in before.clearances if _short(one)}
    for one in after.clearances:
        if _short(one):
            key = (one.kind, one.against)
            if key not in had or (one.spare or 0.0) < had[key] - _ROUNDING_M:
                return True
    codes = {"pulled_under", "aground"}
    new = {one.code for one in after.problems} - {one.code for one in before.problems}
    return bool(codes & new)


def _short(one: Clearance) -> bool:
    return one.spare is not None and one.spare < 0
