"""What is to be saved, and what came of it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType
from typing import Any

from lakemap.basis.records import PositionOf

Value = object  # float or int in SI, text, date, fittings, or None for a blank cell


@dataclass(frozen=True, slots=True, kw_only=True)
class FloatChange:
    """One float that was moved, changed or added.

    `values` holds a value by column without its unit (`riser_length`): SI for what is measured
    (or text with a unit), text, a count, a date, or None to blank the cell. A float is retired by
    its `status`. A new one is `proposed` unless its values say otherwise.
    """

    float_id: str
    values: Mapping[str, Value] = field(default_factory=lambda: MappingProxyType({}))
    position: tuple[float, float] | None = None  # lon, lat of what `position_of` names
    new: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneChange:
    """One zone that was redrawn, changed, added or taken away.

    `values` as in `FloatChange`, by the columns `kind`, `name`, `width`, `clearance`, `source`,
    `lot` and `note`.
    """

    row: int | None  # `Zone.row`; None: a new zone
    geometry: Any = None  # shapely, lon, lat; None: as it is
    values: Mapping[str, Value] = field(default_factory=lambda: MappingProxyType({}))
    removed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class NewSounding:
    """One sounding to be added."""

    lon: float
    lat: float
    depth_m: float  # at the soundings' level, or at `level_m`
    day: date | None = None
    level_m: float | None = None  # the gauge at that time


@dataclass(frozen=True, slots=True, kw_only=True)
class NewFix:
    """One position that a phone saw, to be added."""

    float_id: str
    lon: float
    lat: float
    day: date
    position_of: PositionOf
    wind_from_deg: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stamp:
    """What a folder's files held when they were read: a digest by file name."""

    files: Mapping[str, str]

    def with_file(self, name: str, digest: str) -> "Stamp":
        """Return the stamp with one file as it is now."""
        return Stamp(files=MappingProxyType({**self.files, name: digest}))


@dataclass(frozen=True, slots=True, kw_only=True)
class Saved:
    """It was written."""

    file: str
    kept: str | None  # the file that holds the version before; None: there was none
    stamp: Stamp  # for the next save
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Underneath:
    """The files had changed underneath; they stay as they are."""

    file: str
    says: tuple[str, ...]  # what differs, a sentence each
    kept: str  # the file beside it that holds the plan's version
