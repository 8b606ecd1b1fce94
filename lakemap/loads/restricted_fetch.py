"""Waves of long narrow lakes: averages of many fetches, and waves that run aslant to the wind.

Options beside the straight-line fetch, for lakes where the longer arm upwind decides.
"""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.published import GRAVITY_M_S2, exact
from lakemap.basis.records import BoolArray, FloatArray
from lakemap.basis.working import Formula, Term
from lakemap.loads.waves import WindWave

_G: Final = GRAVITY_M_S2.value
_ACES: Final = "ACES User's Guide 1.07 and Technical Reference, USACE 1992, section 1-1"
_SMITH: Final = (
    "Smith, Wind-wave generation on restricted fetches, CERC-91-2, US Army Corps of Engineers, 1991"
)
_SPREAD: Final = "Saville 1954; Shore Protection Manual, US Army CERC, 1973-77"
# the fan of rays of the older average, from the wind
FAN_DEG: Final = np.arange(-42.0, 43.0, 6.0)
_WINDOW: Final = 7  # degrees either side: a running mean over 15 values
_TURN_DEG: Final = 360.0
_RIGHT_DEG: Final = 90.0
# the exponents of what the waves' direction makes greatest
COSINE_POWER = exact(0.44, "exponent", _ACES, "restricted fetch")
FETCH_POWER = exact(0.28, "exponent", _ACES, "restricted fetch")
HEIGHT_FACTOR = exact(0.0015, "", _SMITH, "deep, fetch-limited height")
PERIOD_FACTOR = exact(0.3704, "", _SMITH, "deep, fetch-limited period")
DURATION_FACTOR = exact(51.09, "", _SMITH, "least duration")
DURATION_POWER = exact(0.72, "exponent", _SMITH, "least duration")
BLOWN_FACTOR = exact(0.000103, "", _SMITH, "deep, duration-limited height")
BLOWN_POWER = exact(0.69, "exponent", _SMITH, "deep, duration-limited height")


@dataclass(frozen=True, slots=True, kw_only=True)
class RestrictedFetch:
    """The fetch that makes the largest waves, and the bearing that they come from."""

    fetch_m: FloatArray
    from_deg: FloatArray  # 0 to 360, whole
    off_wind_deg: FloatArray  # from wind to waves, -90 to 90


def averaged_fetch(rays_m: ArrayLike, *, off_wind_deg: ArrayLike) -> FloatArray:
    """Return the cosine-averaged fetch: sum of x cos a over sum of cos a.

    Older practice takes 15 rays, at -42 to 42 degrees by 6. Source: Saville 1954, Shore Protection
    Manual to 1977; the x are the lengths of the rays, not those projected on the wind. The Coastal
    Engineering Manual takes the straight ray instead.

    Parameters
    ----------
    rays_m : array_like, shape [..., k]
        Lengths of the rays [m], >= 0.
    off_wind_deg : array_like, shape [k]
        Their angles from the wind [deg], under 90 either way.

    Returns
    -------
    ndarray, shape [...]
        Fetch [m].

    Raises
    ------
    RangeError
        If a ray or an angle is outside its range; names each.
    """
    rays = np.asarray(rays_m, dtype=np.float64)
    off = np.asarray(off_wind_deg, dtype=np.float64)
    _refuse(rays, np.isfinite(rays) & (rays >= 0), f"ray, m: need >= 0 ({_SPREAD})")
    _refuse(off, np.abs(off) < _RIGHT_DEG, f"deg off the wind: need under 90 ({_SPREAD})")
    cosine = np.cos(np.radians(off))
    mean: FloatArray = np.asarray((rays * cosine).sum(axis=-1) / cosine.sum())
    return mean


def restricted_fetch(
    rays_m: ArrayLike, *, bearings_deg: ArrayLike, wind_from_deg: float
) -> RestrictedFetch:
    """Return the fetch along which a wind makes the largest waves, which may run off the wind.

    The rays are interpolated to whole degrees, smoothed over 15 of them, and the bearing taken
    that has the largest cos(phi)^0.44 F^0.28, phi being its angle from the wind, under 90 degrees.
    Source: ACES User's Guide, v. 1.07, USACE 1992, section 1-1, after Smith, CERC-91-2, 1991.

    Parameters
    ----------
    rays_m : array_like, shape [..., k]
        Open water along some bearings [m], >= 0.
    bearings_deg : array_like, shape [k]
        Those bearings [deg], rising, within one turn. Where the gap between the last and the first
        is no wider than the others they close into a circle; else the bearings that have rays
        seven degrees to either side are asked.
    wind_from_deg : float
        Where the wind comes from [deg].

    Returns
    -------
    RestrictedFetch
        Shape [...]; bearings to a whole degree.

    Raises
    ------
    RangeError
        If the bearings don't rise within one turn, a ray is negative or not finite, or no rays
        stand about the wind.
    """
    rays = np.asarray(rays_m, dtype=np.float64)
    bearings = np.asarray(bearings_deg, dtype=np.float64)
    step = np.diff(bearings)
    rising = bool((step > 0).all()) and len(step) > 0 and bearings[-1] - bearings[0] <= _TURN_DEG
    if not rising or rays.shape[-1:] != bearings.shape:
        raise RangeError(f"rays need rising bearings within one turn ({_ACES})")
    _refuse(rays, np.isfinite(rays) & (rays >= 0), f"ray, m: need >= 0 ({_ACES})")
    bearings, rays = _closed(bearings, rays)
    degrees = np.arange(np.ceil(bearings[0]), np.floor(bearings[-1]) + 1)
    there = degrees[_WINDOW : len(degrees) - _WINDOW]
    off = (there - wind_from_deg + _TURN_DEG / 2) % _TURN_DEG - _TURN_DEG / 2
    asked = np.abs(off) < _RIGHT_DEG
    if not asked.any():
        raise RangeError(f"no rays about the wind from {wind_from_deg:g} degrees ({_ACES})")
    whole = _between(rays, bearings, degrees)
    smooth = sliding_window_view(whole, 2 * _WINDOW + 1, axis=-1).mean(axis=-1)[..., asked]
    there, off = there[asked], off[asked]
    cosine = np.cos(np.radians(off))
    best = np.argmax(cosine**COSINE_POWER.value * smooth**FETCH_POWER.value, axis=-1)
    return RestrictedFetch(
        fetch_m=np.take_along_axis(smooth, best[..., None], axis=-1)[..., 0],
        from_deg=there[best] % _TURN_DEG,
        off_wind_deg=off[best],
    )


def _closed(bearings: FloatArray, rays: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Three turns of rays that stand all round, so that none is the first or the last."""
    gap = _TURN_DEG - (bearings[-1] - bearings[0])
    if gap > np.diff(bearings).max() * (1 + 1e-9):
        return bearings, rays
    turns = bearings + _TURN_DEG * np.array([[-1.0], [0.0], [1.0]])
    # 0 and 360 are one bearing
    once = np.append(True, np.diff(turns.ravel()) > 0)
    return turns.ravel()[once], np.concatenate([rays] * 3, axis=-1)[..., once]


def _between(values: FloatArray, at: FloatArray, ask: FloatArray) -> FloatArray:
    """Linear interpolation along the last axis."""
    right = np.clip(np.searchsorted(at, ask, side="right"), 1, len(at) - 1)
    share = (ask - at[right - 1]) / (at[right] - at[right - 1])
    found: FloatArray = values[..., right - 1] * (1 - share) + values[..., right] * share
    return found


def restricted_wave(
    stress_m_s: ArrayLike, fetch_m: ArrayLike, *, off_wind_deg: ArrayLike
) -> WindWave:
    """Return the deep-water sea of a restricted fetch.

    With U = U_A cos phi: H = 0.0015 (U^2/g) (gF/U^2)^(1/2), T = 0.3704 (U/g) (gF/U^2)^0.28.
    Source: Smith, CERC-91-2, US Army Corps of Engineers, 1991.

    Parameters
    ----------
    stress_m_s : array_like
        Wind-stress speed U_A [m/s], >= 0; the source takes it as U sqrt(0.75 + 0.067 U).
    fetch_m : array_like
        Restricted fetch F [m], >= 0.
    off_wind_deg : array_like
        Angle phi between wind and waves [deg], under 90 either way.

    Returns
    -------
    WindWave
        Significant height and peak period; 0 where wind or fetch is 0.

    Raises
    ------
    RangeError
        If a number is outside its range; names each.
    """
    wind, fetch = _along_the_waves(stress_m_s, fetch_m, off_wind_deg)
    reduced = _G * fetch / np.where(wind == 0, 1.0, wind) ** 2
    height = HEIGHT_FACTOR.value * wind**2 / _G * np.sqrt(reduced)
    period = PERIOD_FACTOR.value * wind / _G * reduced**FETCH_POWER.value
    return WindWave(height_m=height, period_s=period)


def restricted_duration(
    stress_m_s: ArrayLike, fetch_m: ArrayLike, *, off_wind_deg: ArrayLike
) -> FloatArray:
    """Return how long the wind must blow before a restricted fetch limits the waves.

    t = 51.09 (U/g) (gF/U^2)^0.72, U = U_A cos phi. Source: Smith, CERC-91-2, 1991.

    Parameters
    ----------
    stress_m_s : array_like
        Wind-stress speed U_A [m/s], > 0.
    fetch_m, off_wind_deg : array_like
        As in `restricted_wave`.

    Returns
    -------
    ndarray
        Duration [s]; inf without wind.

    Raises
    ------
    RangeError
        If a number is outside its range; names each.
    """
    wind, fetch = _along_the_waves(stress_m_s, fetch_m, off_wind_deg)
    still = wind == 0
    blowing = np.where(still, 1.0, wind)
    reduced = (_G * fetch / blowing**2) ** DURATION_POWER.value
    return np.where(still, np.inf, DURATION_FACTOR.value * blowing / _G * reduced)


def restricted_duration_height(
    stress_m_s: ArrayLike, *, duration_s: ArrayLike, off_wind_deg: ArrayLike
) -> FloatArray:
    """Return the height of waves that a wind has raised in a while, however long the fetch.

    H = 0.000103 (U^2/g) (gt/U)^0.69, U = U_A cos phi. Source: Smith, CERC-91-2, 1991.

    Parameters
    ----------
    stress_m_s : array_like
        Wind-stress speed U_A [m/s], >= 0.
    duration_s : array_like
        How long it has blown [s], >= 0.
    off_wind_deg : array_like
        As in `restricted_wave`.

    Returns
    -------
    ndarray
        Significant height [m].

    Raises
    ------
    RangeError
        If a number is outside its range; names each.
    """
    wind, duration = _along_the_waves(stress_m_s, duration_s, off_wind_deg)
    blown = _G * duration / np.where(wind == 0, 1.0, wind)
    height: FloatArray = BLOWN_FACTOR.value * wind**2 / _G * blown**BLOWN_POWER.value
    return height


def _along_the_waves(
    stress_m_s: ArrayLike, extent: ArrayLike, off_wind_deg: ArrayLike
) -> tuple[FloatArray, FloatArray]:
    """Wind along the waves, and the fetch or duration, both checked and of one shape."""
    given = (np.asarray(value, dtype=np.float64) for value in (stress_m_s, extent, off_wind_deg))
    stress, much, off = np.broadcast_arrays(*given)
    right = "stress speed, fetch or duration: need >= 0 and finite"
    _refuse(stress, np.isfinite(stress) & (stress >= 0), f"{right} ({_SMITH})")
    _refuse(much, np.isfinite(much) & (much >= 0), f"{right} ({_SMITH})")
    aslant = "deg between wind and waves: need under 90 either way"
    _refuse(off, np.abs(off) < _RIGHT_DEG, f"{aslant} ({_SMITH})")
    return stress * np.cos(np.radians(off)), much


def _refuse(values: FloatArray, sound: BoolArray, why: str) -> None:
    """Raise for every element that is not sound."""
    wrong = np.flatnonzero(~sound)
    if wrong.size:
        raise RangeError("\n".join(f"[{i}] {values.flat[i]:g} {why}" for i in wrong))


RESTRICTED_HEIGHT: Final = Formula(
    key="restricted_height",
    name="Significant wave height of a narrow lake",
    symbol="H",
    words="H = 0.0015 (U²/g) √(g F/U²), U = U_A cos φ",
    unit="m",
    source=_SMITH,
    terms={
        "stress_m_s": Term(symbol="U_A", name="wind-stress speed", unit="m/s"),
        "fetch_m": Term(symbol="F", name="restricted fetch", unit="m"),
        "off_wind_deg": Term(symbol="φ", name="angle between wind and waves", unit="deg"),
    },
    law=lambda **given: restricted_wave(**given).height_m,
    valid="deep water; waves within 90° of the wind",
)
RESTRICTED_PERIOD: Final = replace(
    RESTRICTED_HEIGHT,
    key="restricted_period",
    name="Peak wave period of a narrow lake",
    symbol="T",
    words="T = 0.3704 (U/g) (g F/U²)^0.28, U = U_A cos φ",
    unit="s",
    law=lambda **given: restricted_wave(**given).period_s,
)
