"""A field as a new float meets it, and what its rig becomes at any place."""

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from typing import Final

import numpy as np

from lakemap.basis.records import BoolArray, Float, FloatArray, Geometry, IntArray, Settings
from lakemap.clearances.circles import Circles
from lakemap.clearances.records import PlacedZone, channels_of
from lakemap.lake.depth import DepthSurface
from lakemap.lake.exposure import fetch_lengths
from lakemap.lake.water import inside
from lakemap.loads.storm import Storms
from lakemap.loads.wave_heights import HIGHEST_OF_1000
from lakemap.loads.waves import wind_wave
from lakemap.rig.hydrostatics import float_buoyancy
from lakemap.rig.placement import PlacementQuestion, passing_wake, place
from lakemap.rig.records import Buoyancy, Placement
from lakemap.rig.swing import corner
from lakemap.siting.free_water import FreeWater
from lakemap.siting.layers import keep_clear_of
from lakemap.sizing.weather import Weather, Winds, storms_only

_SURELY: Final = 1.0001  # against rounding


@dataclass(frozen=True, slots=True, kw_only=True)
class Lake:
    """A field's water and what lies in it, in metres."""

    water: Geometry
    zones: tuple[PlacedZone, ...]
    surface: DepthSurface | None
    settings: Settings
    winds: Winds


@dataclass(frozen=True, slots=True, kw_only=True)
class SpotField:
    """A field as a float of one kind meets it that is to be laid somewhere."""

    like: Float
    lake: Lake
    there: Circles  # the floats that lie there
    names: tuple[str, ...]  # theirs
    free: FreeWater  # what its circle must keep clear of
    buoyancy: Buoyancy  # of one such float, shape [1]

    @property
    def corner_m(self) -> float:
        """Hook to the deck's farthest corner [m]."""
        one = self.like
        return float(corner([one.length_m], [one.width_m], at_edge=[one.hook == "edge"])[0])

    @property
    def same_wind(self) -> bool:
        """Whether neighbours are checked as lying to one wind."""
        rule = self.lake.settings.rules.get("neighbour")
        return rule is not None and rule.mode == "same_wind"


@dataclass(frozen=True, slots=True, kw_only=True)
class Spots:
    """The float's rig at n places, as the tool designs it there."""

    at: Placement
    works: BoolArray  # in the water, its depth known, neither pulled under nor aground
    highest_wave_m: FloatArray

    @property
    def radius_m(self) -> FloatArray:
        """Swing radius at low water [m], shape [n]; NaN where no rig works."""
        return np.where(self.works, self.at.swing_radius_m[:, 0], np.nan)


def spot_field(
    like: Float, lake: Lake, there: Circles, *, names: Sequence[str], lot: str | None = None
) -> SpotField:
    """Prepare a field for being asked about places.

    Parameters
    ----------
    like : Float
        What is to be laid; its position is not used.
    lake : Lake
        The water.
    there : Circles
        The floats that lie there already.
    names : sequence of str
        Their numbers or names.
    lot : str or None
        Keep inside this lot's frontage, which must exist.

    Returns
    -------
    SpotField
        Ready to be asked.
    """
    there_at = replace(
        like,
        status="proposed",
        position_of="primary",
        lot=lot,
        wind_from_deg=None,
        position_error_m=None,
    )
    rule = lake.settings.rules.get("neighbour")
    by_circle = rule is not None and rule.mode == "full_circle"
    weights = there.radius_m + (0.0 if rule is None else rule.limit)
    free = FreeWater.of(
        keep_clear_of(lake.water, lake.zones, lake.settings, lot=lot),
        circles_xy=there.xy if by_circle else np.empty((0, 2)),
        circles_m=weights if by_circle else np.empty(0),
    )
    return SpotField(
        like=there_at,
        lake=lake,
        there=there,
        names=tuple(names),
        free=free,
        buoyancy=float_buoyancy((there_at,), people=lake.settings.people),
    )


def spots_at(field: SpotField, xy: FloatArray) -> Spots:
    """Return the float's rig at places, as `place` designs it for a proposed float.

    Parameters
    ----------
    field : SpotField
        What is to be laid, and where.
    xy : ndarray, shape [n, 2]
        Places for the primary [m], finite.

    Returns
    -------
    Spots
        Shape [n].
    """
    question = placement_question(field, xy, (field.like,) * len(xy))
    waves = _waves_that_count(field, question)
    at = place(replace(question, highest_wave_m=waves))
    wrong = at.outside | at.no_depth | at.pulled_under | at.aground
    return Spots(at=at, works=~wrong & np.isfinite(at.swing_radius_m[:, 0]), highest_wave_m=waves)


def placement_question(
    field: SpotField, xy: FloatArray, floats: tuple[Float, ...]
) -> PlacementQuestion:
    """Ask where rigs lie whose primaries are at known places; the storm's waves left out.

    Parameters
    ----------
    field : SpotField
        The lake, and what carries such a float.
    xy : ndarray, shape [n, 2]
        Places for the primaries [m], finite.
    floats : tuple of Float, shape [n]
        Of the field's kind, whatever their lengths.

    Returns
    -------
    PlacementQuestion
        How sure the depths are is not asked for.
    """
    lake = field.lake
    return PlacementQuestion(
        floats=floats,
        fix_xy=xy,
        buoyancy=_repeated(field.buoyancy, len(xy)),
        water=lake.water,
        surface=lake.surface,
        channels=channels_of(lake.zones),
        settings=lake.settings,
        how_sure=False,
    )


def at_some(at: Placement, chosen: IntArray) -> Placement:
    """Return the rigs at some of the places.

    Parameters
    ----------
    at : Placement
        At n places.
    chosen : ndarray of int
        Index.

    Returns
    -------
    Placement
        Of the chosen.
    """
    return replace(at, **{one.name: getattr(at, one.name)[chosen] for one in fields(at)})


def _waves_that_count(field: SpotField, question: PlacementQuestion) -> FloatArray:
    """The storm's highest wave, which a blank riser rests on; NaN where the wake may be higher.

    The storm is reckoned only where the longest open water, in the strongest wind and over deep
    water, raises waves above the wake: shallower and shorter water makes lower ones.
    """
    xy, lake = question.fix_xy, field.lake
    highest = np.full(len(xy), np.nan)
    if field.like.riser_m is not None:
        return highest
    wet = np.flatnonzero(inside(lake.water, xy))
    _, wake = passing_wake(question, xy[wet])
    fetch = fetch_lengths(lake.water, xy[wet], lake.winds.from_deg).max(axis=1, initial=0.0)
    deep = wind_wave(lake.winds.wind_m_s.max(), fetch, np.inf).height_m
    ask = wet[HIGHEST_OF_1000.value * deep * _SURELY > wake]
    if ask.size:
        highest[ask] = storms_at(field, xy[ask]).highest_m
    return highest


def storms_at(field: SpotField, xy: FloatArray) -> Storms:
    """Return the storm at places, as the float there would meet it.

    Parameters
    ----------
    field : SpotField
        What is to be laid, and where.
    xy : ndarray, shape [n, 2]
        Places [m], finite.

    Returns
    -------
    Storms
        Shape [n]; NaN on land.
    """
    lake = field.lake
    weather = Weather(
        floats=(field.like,) * len(xy),
        buoyancy=_repeated(field.buoyancy, len(xy)),
        settings=lake.settings,
        winds=lake.winds,
        water=lake.water,
        surface=lake.surface,
    )
    depth = np.full(len(xy), np.nan)
    if lake.surface is not None:
        wet = inside(lake.water, xy)
        depth[wet] = lake.surface.at_wet(xy[wet])
    return storms_only(weather, xy, depth)


def _repeated(one: Buoyancy, n: int) -> Buoyancy:
    """The same float n times."""
    arrays = {
        name.name: np.repeat(value, n)
        for name in fields(one)
        if isinstance(value := getattr(one, name.name), np.ndarray)
    }
    return replace(one, **arrays, assumed=one.assumed * n)
