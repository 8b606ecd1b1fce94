"""The storm's open water and waves as published for narrow lakes, beside what is taken."""

from dataclasses import replace
from typing import Final

import numpy as np

from lakemap.basis.records import BoolArray, FloatArray, Geometry
from lakemap.basis.working import Formula, Step, Term, read_off
from lakemap.lake.exposure import fetch_lengths
from lakemap.loads.restricted_fetch import (
    FAN_DEG,
    RESTRICTED_HEIGHT,
    averaged_fetch,
    restricted_fetch,
    restricted_wave,
)
from lakemap.loads.storm import Storms
from lakemap.loads.waves import garratt_speed

_ABOUT_DEG: Final = np.arange(-100.0, 101.0, 5.0)  # rays for waves up to 90 degrees off the wind
_FROM: Final = {"from_deg": Term(symbol="β", name="bearing the wind comes from", unit="deg")}
AVERAGED: Final = Formula(
    key="averaged_fetch",
    name="Open water by the older average of 15 rays: for comparison",
    symbol="F_a",
    words="F_a = Σ x cos α/Σ cos α, α = −42° to 42° from the wind by 6°, x the rays' lengths",
    unit="m",
    source="Saville 1954; Shore Protection Manual, US Army CERC, 1973-77",
    terms=_FROM,
    law=read_off,
)
RESTRICTED: Final = Formula(
    key="restricted_fetch",
    name="Restricted fetch: for comparison",
    symbol="F_r",
    words="F_r = the mean of 15° of rays that makes cos^0.44 φ F^0.28 largest, φ from the wind",
    unit="m",
    source="ACES User's Guide 1.07 and Technical Reference, USACE 1992, section 1-1",
    terms=_FROM,
    law=read_off,
)
NARROW_HEIGHT: Final = replace(
    RESTRICTED_HEIGHT,
    key="narrow_lake_height",
    name="Significant wave height by restricted fetch: for comparison",
    words="H = 0.0015 (U_φ²/g) √(g F_r/U_φ²), U_φ = U √(0.75 + 0.067 U) cos φ",
    terms={
        "wind_m_s": Term(symbol="U", name="wind, 10-minute mean at 10 m", unit="m/s"),
        "fetch_m": Term(symbol="F_r", name="restricted fetch", unit="m"),
        "off_wind_deg": Term(symbol="φ", name="angle between wind and waves", unit="deg"),
    },
    law=lambda wind_m_s, fetch_m, off_wind_deg: (
        restricted_wave(garratt_speed(wind_m_s), fetch_m, off_wind_deg=off_wind_deg).height_m
    ),
)


def narrow_lake(water: Geometry, xy: FloatArray, storm: Storms) -> tuple[Step, ...]:
    """Return averaged and restricted fetch towards each float's storm, and the waves of the second.

    For comparison only: the storm is sized with the straight ray. Sources: as the formulas say.

    Parameters
    ----------
    water : shapely Polygon or MultiPolygon
        The lake [m].
    xy : ndarray, shape [n, 2]
        Where the floats are moored [m].
    storm : Storms
        At the same floats; a NaN fetch is a float on land.

    Returns
    -------
    tuple of Step
        Values of shape [n]; NaN on land.
    """
    wet = ~np.isnan(storm.fetch_m)
    averaged, restricted = np.full((2, len(xy)), np.nan)
    off = np.zeros(len(xy))
    for bearing in np.unique(storm.from_deg[wet]):
        mine = _those(wet, storm.from_deg, bearing)
        averaged[mine] = averaged_fetch(
            fetch_lengths(water, xy[mine], bearing + FAN_DEG), off_wind_deg=FAN_DEG
        )
        found = restricted_fetch(
            fetch_lengths(water, xy[mine], bearing + _ABOUT_DEG),
            bearings_deg=_ABOUT_DEG,
            wind_from_deg=0.0,
        )
        restricted[mine], off[mine] = found.fetch_m, found.off_wind_deg
    reached = np.nan_to_num(restricted)
    height = NARROW_HEIGHT(wind_m_s=storm.wind_m_s, fetch_m=reached, off_wind_deg=off)
    return (
        AVERAGED.told(averaged, from_deg=storm.from_deg),
        RESTRICTED.told(restricted, from_deg=storm.from_deg),
        height.where(wet),
    )


def _those(wet: BoolArray, from_deg: FloatArray, bearing: float) -> BoolArray:
    mine: BoolArray = wet & (from_deg == bearing)
    return mine
