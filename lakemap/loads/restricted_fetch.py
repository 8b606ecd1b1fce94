"""Fetches other than the straight ray, for long narrow lakes: averaged, and restricted."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.published import GRAVITY_M_S2
from lakemap.basis.records import FloatArray
from lakemap.loads.waves import WindWave

_G: Final = GRAVITY_M_S2.value
_ACES: Final = "ACES User's Guide, v. 1.07, USACE 1992, section 1-1"
_WINDOW: Final = 7  # degrees either side: a running mean over 15 values
_TURN: Final = 360


@dataclass(frozen=True, slots=True, kw_only=True)
class RestrictedFetch:
    """The fetch that makes the largest waves, and the bearing that they come from."""

    fetch_m: float
    from_deg: float
    off_wind_deg: float  # between wind and waves


def averaged_fetch(rays_m: ArrayLike, *, off_wind_deg: ArrayLike) -> float:
    """Return the cosine-averaged fetch: sum of x cos a over sum of cos a.

    Source: Saville 1954, Shore Protection Manual to 1977; the x are the lengths of the rays, not
    those projected on the wind. The Coastal Engineering Manual takes the straight ray instead.

    Parameters
    ----------
    rays_m : array_like, shape [k]
        Lengths of the rays [m].
    off_wind_deg : array_like, shape [k]
        Their angles from the wind [deg].

    Returns
    -------
    float
        Fetch [m].
    """
    cosine = np.cos(np.radians(np.asarray(off_wind_deg, dtype=np.float64)))
    return float((np.asarray(rays_m, dtype=np.float64) * cosine).sum() / cosine.sum())


def restricted_fetch(
    rays_m: ArrayLike, *, bearings_deg: ArrayLike, wind_from_deg: float
) -> RestrictedFetch:
    """Return the fetch along which a wind makes the largest waves, which may run off the wind.

    The rays are interpolated to whole degrees, smoothed over 15 of them, and the bearing taken
    that has the largest cos(phi)^0.44 F^0.28. Source: ACES User's Guide, v. 1.07, USACE 1992,
    section 1-1, after Smith, CERC-91-2, 1991.

    Parameters
    ----------
    rays_m : array_like, shape [k]
        Open water along some bearings [m].
    bearings_deg : array_like, shape [k]
        Those bearings [deg], rising, within one turn.
    wind_from_deg : float
        Where the wind comes from [deg].

    Returns
    -------
    RestrictedFetch
        Fetch and bearing to a whole degree.

    Raises
    ------
    RangeError
        If the bearings don't rise within one turn.
    """
    rays = np.asarray(rays_m, dtype=np.float64)
    bearings = np.asarray(bearings_deg, dtype=np.float64)
    if len(rays) != len(bearings) or (np.diff(bearings) <= 0).any() or np.ptp(bearings) > _TURN:
        raise RangeError(f"rays need rising bearings within one turn ({_ACES})")
    degrees = np.arange(np.ceil(bearings[0]), np.floor(bearings[-1]) + 1)
    whole = np.interp(degrees, bearings, rays)
    smooth = np.convolve(whole, np.ones(2 * _WINDOW + 1) / (2 * _WINDOW + 1), mode="valid")
    there = degrees[_WINDOW : len(degrees) - _WINDOW]
    cosine = np.cos(np.radians(there - wind_from_deg))
    strength = np.where(cosine > 0, np.maximum(cosine, 0.0) ** 0.44 * smooth**0.28, -1.0)
    best = int(np.argmax(strength))
    return RestrictedFetch(
        fetch_m=float(smooth[best]),
        from_deg=float(there[best]),
        off_wind_deg=float(there[best] - wind_from_deg),
    )


def restricted_wave(
    stress_m_s: ArrayLike, fetch_m: ArrayLike, *, off_wind_deg: ArrayLike
) -> WindWave:
    """Return the deep-water sea of a restricted fetch.

    With U = U_A cos(phi): H = 0.0015 (U^2/g)(gF/U^2)^(1/2), T = 0.3704 (U/g)(gF/U^2)^0.28. Source:
    Smith, CERC-91-2, US Army Corps of Engineers, 1991.

    Parameters
    ----------
    stress_m_s : array_like
        Wind-stress speed U_A [m/s], > 0.
    fetch_m : array_like
        Restricted fetch [m], >= 0.
    off_wind_deg : array_like
        Angle phi between wind and waves [deg].

    Returns
    -------
    WindWave
        Significant height and peak period.
    """
    along = np.asarray(stress_m_s) * np.cos(np.radians(np.asarray(off_wind_deg, dtype=np.float64)))
    x: FloatArray = _G * np.asarray(fetch_m, dtype=np.float64) / along**2
    return WindWave(
        height_m=0.0015 * along**2 / _G * np.sqrt(x), period_s=0.3704 * along / _G * x**0.28
    )


def restricted_duration(
    stress_m_s: ArrayLike, fetch_m: ArrayLike, *, off_wind_deg: ArrayLike
) -> FloatArray:
    """Return how long a wind must blow over a restricted fetch: t = 51.09 (U/g)(gF/U^2)^0.72.

    Source: Smith, CERC-91-2, US Army Corps of Engineers, 1991.

    Parameters
    ----------
    stress_m_s, fetch_m, off_wind_deg : array_like
        As in `restricted_wave`.

    Returns
    -------
    ndarray
        Duration [s].
    """
    along = np.asarray(stress_m_s) * np.cos(np.radians(np.asarray(off_wind_deg, dtype=np.float64)))
    x = _G * np.asarray(fetch_m, dtype=np.float64) / along**2
    seconds: FloatArray = 51.09 * along / _G * x**0.72
    return seconds
