"""A float, secondary or primary that was seen elsewhere: what that means, what to look at first."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final, Literal

import numpy as np
import shapely

from lakemap.assessment import AssessedFloat, Assessment
from lakemap.rig.wear import worn_strength
from lakemap.season.upkeep.inspected import Seen
from lakemap.season.upkeep.part_records import PieceState

What = Literal["float", "secondary", "primary"]
Verdict = Literal["inside", "unsure", "outside"]
LookWhy = Literal["unfit", "holds nothing", "slides", "strength", "parted"]
_TWICE: Final = 2.0  # standard uncertainties, as in the check


@dataclass(frozen=True, slots=True, kw_only=True)
class LookFirst:
    """One part that may have given way."""

    name: str  # of the piece, or `primary`
    size: str
    why: LookWhy
    share: float | None  # what the design storm asks, over what it breaks or slides at


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """One sighting away from where a thing should lie; lengths in metres about the primary."""

    row: int
    on: date
    what: What
    lon: float
    lat: float
    distance_m: float  # from where the primary is thought to be
    bearing_deg: float  # from there
    allowed_m: float | None  # swing circle of a float, walk circle of a secondary, 0 of a primary
    uncertainty_m: float  # twice the standard uncertainty of the distance
    verdict: Verdict
    at_shore: bool  # where a loose float ends
    look_first: tuple[LookFirst, ...]  # empty where nothing need have moved

    @property
    def beyond_m(self) -> float | None:
        """How far beyond what is allowed; below 0 inside."""
        return None if self.allowed_m is None else self.distance_m - self.allowed_m


def moved(
    one: AssessedFloat,
    seen: Sequence[Seen],
    states: Sequence[PieceState],
    assessment: Assessment,
) -> Moved | None:
    """Return what the last sighting of a float that moved means.

    Within the circle nothing need have moved. Beyond it, by more than the positions are sure,
    either the primary was dragged or the line parted; which is likelier is told by what the design
    storm asks of each over what it breaks or slides at, after parts already found unfit.

    Parameters
    ----------
    one : AssessedFloat
        As its file has it.
    seen : sequence of Seen
        Its rows, by date.
    states : sequence of PieceState
        Of its parts.
    assessment : Assessment
        That it is of.

    Returns
    -------
    Moved or None
        None where it has not been seen to move since it was set, or was put right later.
    """
    rows = [row for row in seen if row.kind == "moved" and row.lonlat is not None]
    if not rows or _put_right(one, rows[-1], seen):
        return None
    row = rows[-1]
    lon, lat = row.lonlat or (np.nan, np.nan)
    x, y = (float(axis[0]) for axis in assessment.projection.to_xy([lon], [lat]))
    east, north = x - one.x_m, y - one.y_m
    distance = float(np.hypot(east, north))
    what: What = _what(row)
    allowed = {
        "float": one.swing_radius_m[0], "secondary": one.walk_radius_m, "primary": one.extra_m,
    }[what]  # fmt: skip
    accuracy = assessment.field.settings.accuracy
    unsure = _TWICE * float(np.hypot(np.sqrt(2.0) * accuracy.position_m, accuracy.line_m))
    verdict = _verdict(distance, allowed, unsure)
    at_shore = _at_shore((x, y), one, unsure, assessment)
    return Moved(
        row=row.row,
        on=row.on,
        what=what,
        lon=lon,
        lat=lat,
        distance_m=distance,
        bearing_deg=float(np.degrees(np.arctan2(east, north)) % 360.0),
        allowed_m=allowed,
        uncertainty_m=unsure,
        verdict=verdict,
        at_shore=at_shore,
        look_first=()
        if verdict == "inside"
        else _look_first(one, states, what=what, loose=at_shore and what == "float"),
    )


def _put_right(one: AssessedFloat, row: Seen, seen: Sequence[Seen]) -> bool:
    """Tell whether the float was set anew, or its primary or the whole rig seen to, later."""
    if one.record.set_on is not None and one.record.set_on > row.on:
        return True
    return any(
        later.on > row.on and later.group in {"primary", "whole rig"} and later.kind != "moved"
        for later in seen
    )


def _what(row: Seen) -> What:
    groups: dict[str | None, What] = {"primary": "primary", "secondary": "secondary"}
    return groups.get(row.group, "float")


def _verdict(distance_m: float, allowed_m: float | None, unsure_m: float) -> Verdict:
    if allowed_m is None:
        return "unsure"
    if distance_m <= allowed_m:
        return "inside"
    return "outside" if distance_m > allowed_m + unsure_m else "unsure"


def _at_shore(
    xy: tuple[float, float], one: AssessedFloat, unsure_m: float, assessment: Assessment
) -> bool:
    shore = shapely.boundary(assessment.water)
    return bool(shapely.distance(shore, shapely.points(xy)) <= one.corner_m + unsure_m)


def _look_first(
    one: AssessedFloat, states: Sequence[PieceState], *, what: What, loose: bool
) -> tuple[LookFirst, ...]:
    """What may have given way, the likeliest first."""
    unfit = [
        LookFirst(name=state.piece.name, size=state.piece.size, why="unfit", share=None)
        for state in states
        if state.state == "replace now" and state.piece.kind not in {"block", "weight"}
    ]
    parts, primary = list(_parts(one, states)), _primary(one)
    if what == "primary":
        return (*unfit, primary)
    if what == "secondary":  # what holds it is the ground chain and the primary
        parts = [part for part in parts if part.name == "ground chain"]
    named = {part.name for part in unfit}
    parts = [part for part in parts if part.name not in named][:1]
    # a primary that holds nothing we may count on goes before any part that still has strength
    both = sorted(
        [*parts, primary], key=lambda each: -np.inf if each.share is None else -each.share
    )
    rest = sorted(both, key=lambda each: each is primary) if loose else both
    return (*unfit, *rest)


def _parts(one: AssessedFloat, states: Sequence[PieceState]) -> Iterator[LookFirst]:
    """Parts by what the highest pull takes of their breaking strength, the worn ones weaker."""
    left = {
        state.piece.name: float(worn_strength(min(state.worn.least_m / state.worn.new_m, 1.0)))
        for state in states
        if state.worn is not None
    }
    found = [
        LookFirst(
            name=part.name,
            size=part.size,
            why="strength",
            share=part.load_n / (part.breaking_n * left.get(part.name, 1.0)),
        )
        for part in one.sizing.line.parts
        if part.load_n is not None and part.breaking_n
    ]
    yield from sorted(found, key=lambda each: -(each.share or 0.0))


def _primary(one: AssessedFloat) -> LookFirst:
    holding, mean = one.sizing.primary.holding_n.unburied, one.sizing.loads_n.mean
    if holding is None or mean is None or holding <= 0:
        return LookFirst(name="primary", size="", why="holds nothing", share=None)
    return LookFirst(name="primary", size="", why="slides", share=mean / holding)
