"""Records that cross a border: what a field folder holds, frozen, in SI and WGS 84 degrees."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from lakemap.basis.errors import Problem

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]
Geometry = Any  # shapely is untyped

Units = Literal["ft-lb", "m-kg"]
Status = Literal["set", "proposed", "retired"]
PositionOf = Literal["primary", "secondary", "float"]
ZoneKind = Literal[
    "swim_area", "channel", "frontage", "intake", "hazard", "no_float", "ramp", "dock"
]
ZONE_KINDS: tuple[ZoneKind, ...] = (
    "swim_area",
    "channel",
    "frontage",
    "intake",
    "hazard",
    "no_float",
    "ramp",
    "dock",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Levels:
    """Lake levels [m], heights on the lake's own gauge; up is +."""

    low_m: float
    normal_m: float
    high_m: float
    soundings_m: float  # the gauge when the soundings were taken


@dataclass(frozen=True, slots=True, kw_only=True)
class Storm:
    """What the rigs are sized for."""

    wind_m_s: float  # 10-minute mean, 10 m above the water
    gust_m_s: float | None  # 3 s; None: from the mean by the published gust curve
    current_m_s: float
    from_deg: tuple[float, ...] | None  # true bearings the wind comes from; None: all
    return_period_years: float | None  # instead of wind and gust, with a wind file


@dataclass(frozen=True, slots=True, kw_only=True)
class Wake:
    """A passing boat's wake: height and period at a distance."""

    height_m: float
    period_s: float
    at_m: float
    nearest_m: float  # how close boats pass a float


@dataclass(frozen=True, slots=True, kw_only=True)
class Accuracy:
    """Standard uncertainties, one axis [m]."""

    position_m: float
    position_given: bool  # False: a phone's is taken, and the map says so
    depth_m: float | None  # None: from leaving soundings out
    level_m: float
    line_m: float
    layer_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One clearance rule with the text of its source."""

    kind: str  # neighbour, shore, shore_max, a zone kind, bed, jump_depth or deck_area_max
    limit: float  # m of distance or depth; m2 for deck_area_max
    source: str
    beyond_m: float = 0.0  # jump_depth only
    mode: Literal["full_circle", "same_wind"] = "full_circle"  # neighbour only


@dataclass(frozen=True, slots=True, kw_only=True)
class Season:
    """Dates and marking, as written (month and day)."""

    set_on: str | None = None
    lift_on: str | None = None
    marking: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """What field.toml holds, defaults filled in."""

    name: str
    units: Units
    crs: str  # of x, y columns
    levels: Levels
    storm: Storm
    wake: Wake
    accuracy: Accuracy
    rules: Mapping[str, Rule]
    season: Season
    site_weights: Mapping[str, float]
    holding: Literal["practice", "unburied", "buried"]
    people: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """One kind of fitting of a rig, as written."""

    name: str
    size: str
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Float:
    """One row of the floats file; None is blank. Lengths in m, weights as masses in kg."""

    float_id: str
    row: int  # as a spreadsheet numbers it
    lon: float  # WGS 84 degrees, of the thing that position_of names
    lat: float
    length_m: float
    width_m: float
    position_of: PositionOf = "primary"
    wind_from_deg: float | None = None
    position_error_m: float | None = None  # its standard uncertainty, one axis; None: the field's
    status: Status = "set"
    owner: str | None = None
    lot: str | None = None
    flotation: Literal["tubes", "billets"] | None = None
    tubes: int | None = None
    tube_diameter_m: float | None = None
    tube_length_m: float | None = None
    billets: int | None = None
    billet_length_m: float | None = None
    billet_width_m: float | None = None
    billet_height_m: float | None = None
    float_weight_kg: float | None = None
    hook: Literal["centre", "edge"] = "centre"
    hook_depth_m: float | None = None  # below the calm surface; may be negative
    depth_m: float | None = None  # at the primary, at the soundings' level
    riser_m: float | None = None
    ground_m: float | None = None
    absorber_length_m: float | None = None
    absorber_stiffness_n_m: float | None = None
    primary_blocks: int | None = None
    secondary_blocks: int | None = None
    block: str | None = None  # "8-in hollow", "12-in hollow", "solid"
    block_density_kg_m3: float | None = None
    primary_weight_kg: float | None = None  # dry
    secondary_weight_kg: float | None = None
    chain: str | None = None
    chain_grade: int | None = None
    cable: str | None = None
    cable_parts: int | None = None
    cable_ends: str | None = None
    fittings: tuple[Fitting, ...] = ()
    bearing_deg: float | None = None  # true, from primary to secondary
    bottom: str | None = None
    set_on: date | None = None
    permit: str | None = None
    note: str | None = None
    extra: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """One zone; the geometry is a shapely polygon, multipolygon, line or multiline in lon, lat."""

    kind: ZoneKind
    geometry: Any
    row: int
    label: str  # its name, or "zones row 7"
    width_m: float | None = None  # lines only, the whole width
    clearance_m: float | None = None  # overrides the rule
    source: str | None = None
    lot: str | None = None  # frontage only


@dataclass(frozen=True, slots=True, kw_only=True)
class Soundings:
    """Depths [m] at the soundings' level (a row's own gauge reading already taken off)."""

    lon: FloatArray
    lat: FloatArray
    depth_m: FloatArray
    row: IntArray
    file: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """A lake with its floats, as read from a folder."""

    folder: str  # the folder's own name
    settings: Settings
    lake: Any  # shapely MultiPolygon in lon, lat; holes are islands
    island_names: tuple[str | None, ...]  # polygons in order, holes in order
    floats: tuple[Float, ...]
    floats_file: str
    zones: tuple[Zone, ...] = ()
    soundings: Soundings | None = None
    inspections: tuple[Mapping[str, Any], ...] = ()
    fixes: tuple[Mapping[str, Any], ...] = ()
    gauge: tuple[Mapping[str, Any], ...] = ()  # the levels file
    prices: tuple[Mapping[str, Any], ...] = ()
    wind: tuple[Mapping[str, Any], ...] = ()
    dated: date | None = None  # latest date in any cell of its files
    soundings_dated: date | None = None
    lake_is_rough: bool = False  # the outline is the rough square that `start` drew
    problems: tuple[Problem, ...] = ()  # cautions only
