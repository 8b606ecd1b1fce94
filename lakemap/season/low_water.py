"""What each year's low water did to the swing circles, as if the lake had fallen no lower."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from lakemap.assessment import Assessment
from lakemap.basis.records import FloatArray
from lakemap.clearances.at_level import as_if_lowest
from lakemap.clearances.check import check
from lakemap.clearances.records import CheckSubject, Verdict
from lakemap.lake.gauge import YearRead
from lakemap.lake.levels import depth_at_level
from lakemap.season.levels import LakeLevels
from lakemap.sites import subject_of
from lakemap.sizing.lying import radius_at

_RANK: Final = {"clear": 0, "tight": 1, "conflict": 2}


@dataclass(frozen=True, slots=True, kw_only=True)
class Growth:
    """How much a swing circle grew."""

    float_id: str
    radius_m: float  # by which its radius is larger


@dataclass(frozen=True, slots=True, kw_only=True)
class CirclesAt:
    """The swing circles at a level, with people aboard as the check takes them."""

    level_m: float
    names: tuple[str, ...]  # of all floats, in file order
    radius_m: FloatArray  # [n]; NaN: not known, or retired

    def growth_from(self, other: "CirclesAt") -> Growth | None:
        """Return the circle that is larger than at another level by most.

        Parameters
        ----------
        other : CirclesAt
            Of the same floats.

        Returns
        -------
        Growth or None
            The first of equal ones; below 0 where all are smaller. None without a known circle.
        """
        grown = self.radius_m - other.radius_m
        if not np.isfinite(grown).any():
            return None
        k = int(np.nanargmax(grown))
        return Growth(float_id=self.names[k], radius_m=float(grown[k]))


@dataclass(frozen=True, slots=True, kw_only=True)
class AtLevel:
    """The floats if a level were the lowest."""

    circles: CirclesAt
    verdicts: tuple[Verdict | None, ...]  # None: retired

    def count(self, verdict: Verdict) -> int:
        """Return how many floats have a verdict.

        Parameters
        ----------
        verdict : {'conflict', 'tight', 'unknown', 'clear'}
            One of four.

        Returns
        -------
        int
            Floats.
        """
        return self.verdicts.count(verdict)

    def worse_than(self, other: "AtLevel") -> tuple[str, ...]:
        """Return the floats whose verdict is worse than at another level.

        Parameters
        ----------
        other : AtLevel
            Of the same floats.

        Returns
        -------
        tuple of str
            Their numbers, in file order; one whose depth nobody knows is never among them.
        """
        both = zip(self.circles.names, self.verdicts, other.verdicts, strict=True)
        return tuple(
            name
            for name, mine, theirs in both
            if mine in _RANK and theirs in _RANK and _RANK[mine] > _RANK[theirs]
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class LowWater:
    """What low water did."""

    normal: AtLevel  # of the settings
    low: AtLevel  # of the settings: what the map shows
    years: tuple[tuple[YearRead, AtLevel], ...]
    lowest: AtLevel  # of all readings
    pulled_under: tuple[str, ...]  # floats whose line is too short for the highest reading


def low_water(assessment: Assessment, levels: LakeLevels) -> LowWater:
    """Check the floats at the lowest reading of every year.

    Parameters
    ----------
    assessment : Assessment
        Of the whole field.
    levels : LakeLevels
        Its readings.

    Returns
    -------
    LowWater
        Verdicts and circles, each level checked once.
    """
    subject = subject_of(assessment)
    given = levels.settings
    lows = [year.lowest.level_m for year in levels.years]
    at = _at_levels(subject, [given.normal_m, given.low_m, *lows])
    return LowWater(
        normal=at[given.normal_m],
        low=at[given.low_m],
        years=tuple((year, at[year.lowest.level_m]) for year in levels.years),
        lowest=at[levels.lowest.level_m],
        pulled_under=_pulled_under(subject, levels.highest.level_m),
    )


def circles_at(subject: CheckSubject, level_m: float) -> CirclesAt:
    """Return the swing circles at a level; primaries and lengths stay as they lie.

    Parameters
    ----------
    subject : CheckSubject
        Floats, placed.
    level_m : float
        On the lake's own gauge [m].

    Returns
    -------
    CirclesAt
        Of all floats.
    """
    retired = np.array([one.status == "retired" for one in subject.floats], dtype=bool)
    rise = level_m - subject.settings.levels.soundings_m
    return CirclesAt(
        level_m=level_m,
        names=tuple(one.float_id for one in subject.floats),
        radius_m=np.where(retired, np.nan, radius_at(subject.placement, rise_m=rise)),
    )


def _at_levels(subject: CheckSubject, levels_m: Iterable[float]) -> Mapping[float, AtLevel]:
    """The floats at levels; equal levels are checked once."""
    return {
        level: AtLevel(
            circles=circles_at(subject, level),
            verdicts=tuple(one.verdict for one in check(as_if_lowest(subject, level)).floats),
        )
        for level in dict.fromkeys(levels_m)
    }


def _pulled_under(subject: CheckSubject, level_m: float) -> tuple[str, ...]:
    """Floats whose riser and ground chain are too short for a level."""
    at = subject.placement
    depth = depth_at_level(
        at.sounding_depth_m,
        level_m=level_m,
        soundings_level_m=subject.settings.levels.soundings_m,
    )
    under = at.riser_m + at.ground_m <= depth - at.hook_depth_empty_m  # NaN is never under
    return tuple(
        one.float_id
        for one, short in zip(subject.floats, under.tolist(), strict=True)
        if short and one.status != "retired"
    )
