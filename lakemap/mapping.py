"""The front door: read, place, check, size one field; the result as one frozen assessment."""

from dataclasses import dataclass
from typing import Any

from lakemap.basis.errors import Problem
from lakemap.basis.records import Field, Float, FloatArray
from lakemap.clearances.records import Clearance, PlacedZone, Verdict
from lakemap.lake.depth import DepthSurface
from lakemap.lake.projection import LakeProjection
from lakemap.rig.sizing import Sizing


@dataclass(frozen=True, slots=True, kw_only=True)
class Secondary:
    """Where the secondary lies; bearing is true, from the primary."""

    x_m: float
    y_m: float
    lon: float
    lat: float
    bearing_deg: float | None
    assumed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class AssessedFloat:
    """All that is known of one float. Triples are at low, normal and high water; None unknown."""

    record: Float
    verdict: Verdict | None  # None: retired
    lon: float  # of the primary, or of the fix where that is not located
    lat: float
    x_m: float
    y_m: float
    located: bool
    extra_m: float
    designed: tuple[str, ...]  # names of what the tool chose, on a proposed float
    assumed: tuple[str, ...]  # the same, on a set one
    depth_m: tuple[float | None, float | None, float | None]
    depth_error_m: float | None
    hook_depth_m: float | None
    riser_m: float | None
    ground_m: float | None
    corner_m: float
    reach_m: tuple[float | None, float | None, float | None]
    swing_radius_m: tuple[float | None, float | None, float | None]
    walk_radius_m: float | None
    shallowest_m: float | None
    secondary: Secondary | None
    clearances: tuple[Clearance, ...]  # least spare first
    problems: tuple[Problem, ...]
    sizing: Sizing


@dataclass(frozen=True, slots=True, kw_only=True)
class Assessment:
    """A field, placed, checked and sized."""

    field: Field
    projection: LakeProjection
    water: Any  # shapely MultiPolygon, x_m, y_m
    zones: tuple[PlacedZone, ...]
    surface: DepthSurface | None  # None: no soundings
    soundings_xy: FloatArray  # [k, 2], those kept
    soundings_m: FloatArray  # [k], at the soundings' level
    floats: tuple[AssessedFloat, ...]  # in file order, retired ones too
    problems: tuple[Problem, ...]  # of the field; cautions only
