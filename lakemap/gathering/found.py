"""What was found in one sounder's file."""

from collections.abc import Mapping
from dataclasses import dataclass

from lakemap.gathering.kinds import Format
from lakemap.gathering.known import Met
from lakemap.gathering.level_then import LevelThen
from lakemap.gathering.lines import Tally
from lakemap.gathering.sieve import Sieve
from lakemap.gathering.thinning import Kept


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What was found in one file."""

    file: str
    format: Format
    tally: Tally
    sieve: Sieve
    kept: list[Kept]
    shoals: int
    levels: Mapping[int, LevelThen]  # by the day's ordinal; 0: no day
    met: Met
    taken: int
