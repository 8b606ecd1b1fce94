"""Records of the check."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from lakemap.basis.errors import Problem
from lakemap.basis.records import Float, FloatArray, Geometry, Settings, Zone
from lakemap.lake.depth import DepthSurface
from lakemap.rig.records import Placement

Verdict = Literal["conflict", "tight", "unknown", "clear"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedZone:
    """A zone with its geometry in metres."""

    zone: Zone
    shape: Geometry  # x_m, y_m


def channels_of(zones: Iterable[PlacedZone]) -> tuple[tuple[Geometry, float | None], ...]:
    """Return the channels among zones, which boats keep to.

    Parameters
    ----------
    zones : iterable of PlacedZone
        Of any kind.

    Returns
    -------
    tuple of tuple
        Shape [m] and width of a line [m].
    """
    return tuple(
        (placed.shape, placed.zone.width_m) for placed in zones if placed.zone.kind == "channel"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Clearance:
    """One thing that a float was checked against. None is unknown, or not asked.

    `gap_m` is what the check compares: a free distance, or a depth for `bed` and `jump_depth`,
    or the distance of the circle's far side from the shore for `shore_max`.
    """

    against: str  # float_id, zone label, "lake" or "island 2"
    kind: str  # float, a zone kind, shore, island, bed, jump_depth, shore_max, deck_area_max
    gap_m: float | None = None
    same_wind_gap_m: float | None = None  # floats only
    required_m: float | None = None
    spare_m: float | None = None
    uncertainty_m: float | None = None
    rule: str | None = None  # the text of the rule's source; None where nothing is asked
    value_m2: float | None = None  # deck_area_max only
    required_m2: float | None = None
    spare_m2: float | None = None
    nearest_xy: tuple[float, float] | None = None  # of the other thing: its nearest point

    @property
    def spare(self) -> float | None:
        """The spare that decides: metres, or square metres for the deck area."""
        return self.spare_m2 if self.kind == "deck_area_max" else self.spare_m


@dataclass(frozen=True, slots=True, kw_only=True)
class FloatCheck:
    """The check of one float."""

    verdict: Verdict | None  # None: retired
    shallowest_m: float | None  # least depth at low water in the swing circle
    clearances: tuple[Clearance, ...]  # least spare first
    problems: tuple[Problem, ...]  # of this float


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckSubject:
    """What is checked."""

    floats: tuple[Float, ...]
    placement: Placement
    draft_people_m: FloatArray  # [n], with people aboard
    water: Geometry  # metres
    zones: tuple[PlacedZone, ...]
    surface: DepthSurface | None
    settings: Settings


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckResult:
    """The check of a field."""

    floats: tuple[FloatCheck, ...]  # in file order
    problems: tuple[Problem, ...]  # of the field; cautions
    near_low_water: frozenset[int] = frozenset()  # floats too near the shore at low water
