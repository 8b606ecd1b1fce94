"""What was asked of `gather`, what came of each file, and what every kind of file gives back."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from types import MappingProxyType
from typing import Final, Literal, Protocol

from lakemap.basis.records import PositionOf, Units
from lakemap.saving.records import Saved, Stamp, Underneath

Kind = Literal["soundings", "fixes", "shore"]
KINDS: Final[tuple[Kind, ...]] = ("soundings", "fixes", "shore")
# side of a square that keeps one sounding, ours: the depth surface itself thins to blocks of 1 m
EVERY_M: Final[Mapping[Units, float]] = MappingProxyType({"ft-lb": 3.048, "m-kg": 3.0})
SOUNDER_SPEED_M_S: Final = 1500.0  # what sounders reckon with unless told otherwise


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """What was not taken for one reason."""

    words: str  # the reason, such as "the checksum is wrong"
    count: int
    first: str  # the first place, such as "line 14: checksum says 5A, is 5B"


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """What came of one file."""

    file: str
    kind: Kind
    taken: int
    lines: tuple[str, ...] = ()  # what people should know, a sentence each
    left: tuple[Left, ...] = ()
    table: tuple[tuple[str, ...], ...] = ()  # rows of cells, the header first
    table_title: str = ""
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What was asked of `gather`; None is not asked."""

    preview: bool = False  # nothing is written
    kind: Kind | None = None  # None: by what stands in each file
    day: date | None = None  # where the file names none
    # soundings
    depth_unit: Literal["ft", "m"] | None = None  # where the file names none
    transducer_depth_m: float | None = None  # below the surface; added to what the sounder read
    sound_speed_m_s: float | None = None  # the true one; None: readings stay as they are
    sounder_speed_m_s: float = SOUNDER_SPEED_M_S  # what the sounder reckoned with
    level_m: float | None = None  # the gauge at the time
    every_m: float | None = None  # thinning; 0: none; None: 10 ft or 3 m
    keep_outliers: bool = False
    # fixes
    float_id: str | None = None
    position_of: PositionOf | None = None
    wind_from_deg: float | None = None
    place: bool = False  # the estimated primaries go into the floats file
    # shore
    inside_m: float = 0.0  # how far from the shore, on the water, the track was kept


class Gathered(Protocol):
    """What was read from all files of one kind, ready to be put into a folder.

    Each kind has one function, `gather_fixes(paths, *, field, folder, asked)` and so on, that
    returns this, or raises every problem of its files as one `BadInputError`; it writes nothing.
    """

    @property
    def reports(self) -> tuple[Report, ...]:
        """One for each file, in order."""
        ...

    def save(
        self, folder: Path, *, stamp: Stamp
    ) -> Saved | Underneath | tuple[Saved | Underneath, ...] | None:
        """Merge it into the folder's own files; None: there was nothing to write."""
        ...
