"""Records of the siting; metres, east and north, unless a name says otherwise."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from lakemap.basis.records import Float, FloatArray, Geometry, IntArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One thing that a circle must keep clear of, or stay inside; shapely geometry in metres."""

    name: str  # its label, or "the shore"
    kind: str  # a zone kind, shore, island, frontage
    geometry: Geometry  # area or line
    required_m: float
    width_m: float = 0.0  # of a line
    inside: bool = False  # the circle must stay inside the area


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteAsk:
    """What is looked for."""

    like: Float  # a `proposed` float; its blanks are designed at each place
    lot: str | None = None  # only within this lot's frontage
    count: int = 10  # sites at most
    seed: int = 1
    effort: float = 1.0  # of the search for what fits; 1 takes some seconds


@dataclass(frozen=True, slots=True, kw_only=True)
class Hindrance:
    """One rule at one point."""

    against: str
    kind: str
    spare_m: float  # below 0: not allowed; square metres for the deck's area
    rule: str | None  # the text of the rule's source


@dataclass(frozen=True, slots=True, kw_only=True)
class WhyNot:
    """Every rule at one point, the binding one first."""

    x_m: float
    y_m: float
    lon: float
    lat: float
    in_water: bool
    depth_m: float | None  # at normal water
    swing_radius_m: float | None
    riser_m: float | None
    ground_m: float | None
    hindrances: tuple[Hindrance, ...]  # least spare first
    problems: tuple[str, ...]  # a rig that cannot work here, no depth known
    nearest: tuple[float, float, float, float] | None  # allowed: x, y, lon, lat
    nearest_m: float | None  # how far that is

    @property
    def allowed(self) -> bool:
        """Whether a float may lie here."""
        worst = min((one.spare_m for one in self.hindrances), default=0.0)
        return self.in_water and not self.problems and worst >= 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """One place for one float, which passes every check."""

    rank: int
    x_m: float
    y_m: float
    lon: float
    lat: float
    depth_m: float  # at normal water
    swing_radius_m: float
    riser_m: float
    ground_m: float
    least_spare_m: float
    limited_by: str
    fetch_m: float
    wave_height_m: float
    shore_m: float  # from primary to shore
    score: float  # 0 to 1
    parts: Mapping[str, float]  # of the score, each 0 to 1: spare, shelter, depth, way, line


@dataclass(frozen=True, slots=True, kw_only=True)
class Packing:
    """Floats that fit together; shape [n]."""

    xy: FloatArray
    radius_m: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """What no arrangement can exceed."""

    most: int
    source: str  # the theorem


NEIGHBOURS: Final = "neighbour rule"  # the variants of its distance


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """How many would fit if something were otherwise."""

    name: str  # plain words
    fits: int
    most: int
    neighbour_m: float  # distance asked between circles


@dataclass(frozen=True, slots=True, kw_only=True)
class Capacity:
    """How many more floats of one kind fit."""

    packing: Packing
    lon: FloatArray
    lat: FloatArray
    bound: Bound
    variants: tuple[Variant, ...]

    @property
    def by_distance(self) -> tuple[Variant, ...]:
        """The variants of the distance between circles, ascending."""
        return tuple(one for one in self.variants if one.name == NEIGHBOURS)

    @property
    def others(self) -> tuple[Variant, ...]:
        """The variants of something else."""
        return tuple(one for one in self.variants if one.name != NEIGHBOURS)

    @property
    def spare_m(self) -> FloatArray:
        """Distance between circles asked for [m], shape [k] ..."""
        return np.array([one.neighbour_m for one in self.by_distance])

    @property
    def fits(self) -> IntArray:
        """... against how many then fit, shape [k]."""
        return np.array([one.fits for one in self.by_distance], dtype=np.int64)


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosedWater:
    """Water where a float may not lie, by the rule that binds there."""

    kind: str  # of the rule
    geometry: Geometry


@dataclass(frozen=True, slots=True, kw_only=True)
class Sites:
    """Where new floats of one kind may go."""

    ask: SiteAsk
    allowed: Geometry  # multipolygon: where the primary may lie
    closed: tuple[ClosedWater, ...]  # the rest of the lake
    sites: tuple[Site, ...]
    capacity: Capacity
