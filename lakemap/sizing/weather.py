"""From a field's storm and lake to the storm at every float."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from lakemap.basis.records import Float, FloatArray, Geometry, Settings
from lakemap.basis.working import Step
from lakemap.lake.depth import DepthSurface
from lakemap.lake.exposure import fetch_lengths, mean_depths
from lakemap.lake.levels import depth_at_level
from lakemap.lake.water import inside
from lakemap.loads.gusts import HOUR_S, TEN_MINUTES_S, gust_from_mean
from lakemap.loads.return_wind import ReturnWind
from lakemap.loads.storm import StormQuestion, Storms, storms
from lakemap.rig.columns import column
from lakemap.rig.placement import PlacementQuestion, primaries
from lakemap.rig.records import Buoyancy
from lakemap.rig.stability import DECK_M
from lakemap.sizing.narrow_lake import narrow_lake

_ALL_ROUND: Final = np.arange(0.0, 360.0, 5.0)
_BESIDE_DEG: Final = (-15.0, -10.0, -5.0, 5.0, 10.0, 15.0)
_SECTOR_DEG: Final = 22.5
_ROUNDS: Final = 5  # of asking storm and place in turn; two are enough but for floats seen alone


@dataclass(frozen=True, slots=True, kw_only=True)
class Winds:
    """The winds that the rigs are sized for, by bearing; shape [k]."""

    from_deg: FloatArray
    wind_m_s: FloatArray  # 10-minute mean
    gust_m_s: FloatArray  # 3 s


@dataclass(frozen=True, slots=True, kw_only=True)
class Weather:
    """What the storm at a field's floats rests on."""

    floats: Sequence[Float]
    buoyancy: Buoyancy
    settings: Settings
    winds: Winds
    water: Geometry  # metres
    surface: DepthSurface | None


def winds_of(settings: Settings, blown: ReturnWind | None = None) -> Winds:
    """Return the winds that the rigs are sized for.

    Parameters
    ----------
    settings : Settings
        Its storm: bearings, wind and gust.
    blown : ReturnWind or None
        From a record of hourly wind, for the return period asked for; None takes the storm's own.

    Returns
    -------
    Winds
        The bearings listed, or every 5 degrees; a bearing takes its sector's wind where the record
        has enough of it, else the wind of all bearings together. The record's hourly means become
        10-minute means by the gust curve.
    """
    storm = settings.storm
    bearings = _ALL_ROUND if storm.from_deg is None else np.array(storm.from_deg)
    if blown is None:
        wind = np.full(len(bearings), storm.wind_m_s)
    else:
        sector = np.round(bearings / _SECTOR_DEG).astype(np.int64) % len(blown.sector_speed_m_s)
        wind = blown.sector_speed_m_s[sector]
        hourly = np.where(np.isnan(wind), blown.speed_m_s, wind)
        wind = gust_from_mean(hourly, mean_s=HOUR_S, gust_s=TEN_MINUTES_S)
    gust = gust_from_mean(wind)
    if storm.gust_m_s is not None and blown is None:
        gust = np.full(len(bearings), storm.gust_m_s)
    return Winds(from_deg=bearings, wind_m_s=wind, gust_m_s=gust)


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldStorms:
    """The storm at every float, and what is worth knowing beside it; shape [n]."""

    storms: Storms
    longer_m: FloatArray  # the longest open water within 15 degrees of a listed bearing, else NaN
    deep_assumed: FloatArray  # 1 where no depth along the ray is known
    aslant_height_m: FloatArray  # of waves that run up a longer arm, off the wind
    steps: tuple[Step, ...]  # the storm, then what is published for narrow lakes


def field_storms(
    weather: Weather, xy: FloatArray, sounding_m: FloatArray, *, beside: bool = True
) -> FieldStorms:
    """Return the storm at every float of a field.

    Parameters
    ----------
    weather : Weather
        Lake, winds and floats.
    xy : ndarray, shape [n, 2]
        Where they are moored [m].
    sounding_m : ndarray, shape [n]
        Depth there at the soundings' level [m]; NaN unknown.
    beside : bool
        False leaves out what stands beside the storm: NaN there, and no steps.

    Returns
    -------
    FieldStorms
        NaN for a float that lies on land.
    """
    found, along = _storms(weather, xy, sounding_m)
    nothing = np.full(len(xy), np.nan)
    narrow = narrow_lake(weather.water, xy, found) if beside else ()
    return FieldStorms(
        storms=found,
        longer_m=_longest_beside(weather, xy, found) if beside else nothing,
        deep_assumed=np.isnan(along[np.arange(len(xy)), found.worst]).astype(np.float64),
        aslant_height_m=narrow[-1].value if narrow else nothing,
        steps=(*found.steps, *narrow),
    )


def settled(
    weather: Weather, question: PlacementQuestion, *, beside: bool = True
) -> tuple[PlacementQuestion, FieldStorms]:
    """Return the placement asked in the storm at the primaries, and that storm.

    A blank riser rests on the storm's wave, the wave on where the primary is, and a primary that is
    reckoned from its float on the riser: they are asked in turn until they agree.

    Parameters
    ----------
    weather : Weather
        Of the same floats.
    question : PlacementQuestion
        With the fixes.
    beside : bool
        False leaves out what stands beside the storm, which decides nothing.

    Returns
    -------
    tuple of PlacementQuestion and FieldStorms
        The question with the storm's waves and bearings in it.
    """
    xy = question.fix_xy
    for _ in range(_ROUNDS):
        found = field_storms(weather, xy, sounded(weather, xy), beside=beside)
        question = replace(
            question,
            highest_wave_m=found.storms.highest_m,
            worst_from_deg=found.storms.from_deg,
        )
        there = primaries(question)
        if np.array_equal(there, xy):
            break
        xy = there
    return question, found


def storms_only(weather: Weather, xy: FloatArray, sounding_m: FloatArray) -> Storms:
    """Return the storm at every float, as `field_storms` without what stands beside it.

    Parameters
    ----------
    weather, xy, sounding_m : Weather, and ndarray, shapes [n, 2] and [n]
        As in `field_storms`.

    Returns
    -------
    Storms
        NaN for a float that lies on land.
    """
    return _storms(weather, xy, sounding_m)[0]


def _storms(weather: Weather, xy: FloatArray, sounding_m: FloatArray) -> tuple[Storms, FloatArray]:
    """The storm, and the mean depth along every ray."""
    bearings = weather.winds.from_deg
    fetch = _fetches(weather.water, xy, bearings)
    along = _along(weather, xy, fetch, sounding_m)
    found = storms(
        StormQuestion(
            from_deg=bearings,
            wind_m_s=weather.winds.wind_m_s,
            gust_m_s=weather.winds.gust_m_s,
            current_m_s=weather.settings.storm.current_m_s,
            fetch_m=fetch,
            along_m=np.where(np.isnan(along), np.inf, along),
            depth_low_m=_deep(_at(weather.settings, sounding_m, "low")),
            depth_m=_deep(_at(weather.settings, sounding_m, "normal")),
            long_m=_sides(weather.floats).max(axis=1, initial=0.0),
            short_m=_sides(weather.floats).min(axis=1, initial=np.inf),
            at_edge=np.array([one.hook == "edge" for one in weather.floats], dtype=bool),
            above_m=weather.buoyancy.freeboard_m + DECK_M.value,
            draft_m=weather.buoyancy.draft_m,
        )
    )
    return found, along


def _sides(floats: Sequence[Float]) -> FloatArray:
    """Both sides of every deck, [n, 2]."""
    return np.array([(one.length_m, one.width_m) for one in floats]).reshape(-1, 2)


def sounded(weather: Weather, xy: FloatArray) -> FloatArray:
    """Return the depth at places at the soundings' level: the float's own, else the surface's.

    Parameters
    ----------
    weather : Weather
        Floats and surface.
    xy : ndarray, shape [n, 2]
        Places [m].

    Returns
    -------
    ndarray, shape [n]
        Depth [m]; NaN unknown.
    """
    depth = column(one.depth_m for one in weather.floats)
    if weather.surface is not None:
        ask = np.flatnonzero(np.isnan(depth) & inside(weather.water, xy))
        depth[ask] = weather.surface.at_wet(xy[ask])
    return depth


def _at(settings: Settings, sounding_m: FloatArray, level: str) -> FloatArray:
    levels = settings.levels
    height = {"low": levels.low_m, "normal": levels.normal_m, "high": levels.high_m}[level]
    return depth_at_level(sounding_m, level_m=height, soundings_level_m=levels.soundings_m)


def _deep(depth_m: FloatArray) -> FloatArray:
    """Depth for the waves: deep water where nobody knows it, none where it has fallen dry."""
    return np.where(np.isnan(depth_m), np.inf, np.maximum(depth_m, 1e-3))


def _fetches(water: Geometry, xy: FloatArray, bearings: FloatArray) -> FloatArray:
    """Open water towards each bearing; NaN for what lies on land."""
    fetch = np.full((len(xy), len(bearings)), np.nan)
    wet = inside(water, xy)
    if wet.any():
        fetch[wet] = fetch_lengths(water, xy[wet], bearings)
    return fetch


def _along(
    weather: Weather, xy: FloatArray, fetch: FloatArray, sounding_m: FloatArray
) -> FloatArray:
    """Mean depth along the rays at high water: of the soundings there, else the float's own."""
    along = np.full(fetch.shape, np.nan)
    wet = ~np.isnan(fetch[:, 0])
    if weather.surface is not None and wet.any():
        bearings = weather.winds.from_deg
        along[wet] = mean_depths(weather.surface, xy[wet], bearings, fetch[wet])
    along = np.where(np.isnan(along), sounding_m[:, None], along)
    high = _at(weather.settings, along, "high")
    return np.where(high > 0, high, np.where(np.isnan(high), np.nan, 1e-3))


def _longest_beside(weather: Weather, xy: FloatArray, found: Storms) -> FloatArray:
    """The longest open water within 15 degrees of each float's listed bearing."""
    longest = np.full(len(xy), np.nan)
    if weather.settings.storm.from_deg is None:
        return longest
    for k in np.unique(found.worst):
        mine = np.flatnonzero((found.worst == k) & ~np.isnan(found.fetch_m))
        if mine.size:
            beside = weather.winds.from_deg[k] + np.array(_BESIDE_DEG)
            longest[mine] = fetch_lengths(weather.water, xy[mine], beside).max(axis=1)
    return longest
