"""The lake in metres: shore, zones and soundings about its centre, and the depths they make."""

from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from lakemap.assessment import Assessment
from lakemap.basis.errors import Problem
from lakemap.basis.records import Field, FloatArray, Geometry, IntArray
from lakemap.clearances.records import PlacedZone
from lakemap.lake.depth import DepthSurface
from lakemap.lake.projection import LakeProjection
from lakemap.lake.soundings import SortedSoundings, outlying_soundings, sort_soundings

_MOST_NAMED: Final = 12  # rows that one caution names before it says how many more


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidOut:
    """The lake in metres."""

    projection: LakeProjection
    water: Geometry
    zones: tuple[PlacedZone, ...]
    surface: DepthSurface | None
    soundings_xy: FloatArray
    soundings_m: FloatArray
    problems: tuple[Problem, ...]


def laid_out_of(assessment: Assessment) -> LaidOut:
    """Return the lake of an assessed field, as it was laid out.

    Parameters
    ----------
    assessment : Assessment
        Of the field.

    Returns
    -------
    LaidOut
        Its problems left out: they were told.
    """
    return LaidOut(
        projection=assessment.projection,
        water=assessment.water,
        zones=assessment.zones,
        surface=assessment.surface,
        soundings_xy=assessment.soundings_xy,
        soundings_m=assessment.soundings_m,
        problems=(),
    )


def lay_out(field: Field) -> LaidOut:
    """Project the lake, its zones and its soundings, and build the depth surface.

    Parameters
    ----------
    field : Field
        As read.

    Returns
    -------
    LaidOut
        With what is to be said of the soundings.
    """
    projection = LakeProjection.centred_on(field.lake)
    water = projection.project(field.lake)
    zones = tuple(
        PlacedZone(zone=zone, shape=projection.project(zone.geometry)) for zone in field.zones
    )
    xy, depth_m = np.empty((0, 2)), np.empty(0)
    surface: DepthSurface | None = None
    problems: tuple[Problem, ...] = ()
    if field.soundings is not None and field.soundings.depth_m.size:
        every_xy = np.column_stack(projection.to_xy(field.soundings.lon, field.soundings.lat))
        found = sort_soundings(every_xy, field.soundings.depth_m, water)
        xy, depth_m = found.xy, found.depth_m
        if depth_m.size:
            levels = field.settings.levels
            surface = DepthSurface.from_soundings(
                xy, depth_m, water, shore_depth_m=levels.soundings_m - levels.normal_m
            )
        problems = _sounding_problems(field, found, surface)
    shapely.prepare(water)
    return LaidOut(
        projection=projection,
        water=water,
        zones=zones,
        surface=surface,
        soundings_xy=xy,
        soundings_m=depth_m,
        problems=problems,
    )


def _sounding_problems(
    field: Field, found: SortedSoundings, surface: DepthSurface | None
) -> tuple[Problem, ...]:
    """Say which soundings were left out, and which look odd."""
    soundings = field.soundings
    if soundings is None:
        return ()
    none = np.empty(0, dtype=np.int64)
    odd = none if surface is None else found.index[outlying_soundings(surface)]
    said = (
        ("soundings_on_land", found.on_land, "on land, left out"),
        ("soundings_doubled", found.doubled, "at a place sounded before, left out"),
        (
            "soundings_outlying",
            odd,
            "far from what its neighbours say, kept; look again",
        ),
    )
    return tuple(
        Problem(
            code=code,
            text=f"{_plural(index.size, 'sounding')} {words}: {_rows(soundings.row[index])}",
            file=soundings.file,
            row=int(soundings.row[index[0]]),
            column="depth",
            fatal=False,
        )
        for code, index, words in said
        if index.size
    )


def _plural(count: int, noun: str) -> str:
    return f"{count:,} {noun}{'s' * (count != 1)}"


def _rows(rows: IntArray) -> str:
    named = ", ".join(str(row) for row in rows[:_MOST_NAMED])
    more = f" and {rows.size - _MOST_NAMED:,} more" if rows.size > _MOST_NAMED else ""
    return f"row{'s' * (rows.size > 1)} {named}{more}"
