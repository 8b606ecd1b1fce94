"""Wind by averaging time, height and name: gusts, masts that are not 10 m high, Beaufort."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.published import exact
from lakemap.basis.quantities import FOOT_M, MILE_PER_HOUR_M_S
from lakemap.basis.records import BoolArray, FloatArray
from lakemap.basis.working import Formula, Term

_CEM: Final = "Coastal Engineering Manual, EM 1110-2-1100, part II ch. 2, 2003"
HOUR_S: Final = 3600.0
TEN_MINUTES_S: Final = 600.0
GUST_S: Final = 3.0
_LONGEST_S: Final = 36_000.0
SEVENTH = exact(1 / 7, "exponent", _CEM, "eq. II-2-9, near-neutral air, 8 to 12 m")
OPEN_WATER_M = exact(2e-4, "m", "roughness of open water (from memory)", "log law")


def speed_ratio(seconds: ArrayLike) -> FloatArray:
    """Return the wind averaged over some seconds, over the hourly mean.

    1.277 + 0.296 tanh[0.9 log10(45/t)] up to an hour, 1.5334 - 0.15 log10 t beyond; the two do not
    meet, so both are held at 1 there. For strong winds over open land; the gusts of thunderstorms
    pass it. Source: Coastal Engineering Manual, EM 1110-2-1100, part II ch. 2, 2003, figure II-2-1.

    Parameters
    ----------
    seconds : array_like
        Averaging time [s], 1 to 36,000.

    Returns
    -------
    ndarray
        Ratio.

    Raises
    ------
    RangeError
        If a time is outside the curve; names each.
    """
    t = np.asarray(seconds, dtype=np.float64)
    rule = f"s: averaging times must lie between 1 and 36,000 s ({_CEM}, fig. II-2-1)"
    _refuse(t, (t >= 1) & (t <= _LONGEST_S), rule)
    short = np.maximum(1.0, 1.277 + 0.296 * np.tanh(0.9 * np.log10(45 / t)))
    long_ = np.minimum(1.0, 1.5334 - 0.15 * np.log10(t))
    return np.where(t <= HOUR_S, short, long_)


def gust_from_mean(
    wind_m_s: ArrayLike, *, mean_s: ArrayLike = TEN_MINUTES_S, gust_s: ArrayLike = GUST_S
) -> FloatArray:
    """Return the gust that goes with a mean wind, or any other change of averaging time.

    U_t = U r(t)/r(t_mean) with `speed_ratio`. Source: as there.

    Parameters
    ----------
    wind_m_s : array_like
        Mean wind [m/s].
    mean_s, gust_s : array_like
        Averaging times from and to [s].

    Returns
    -------
    ndarray
        Wind [m/s].

    Raises
    ------
    RangeError
        If a wind is negative or not finite, or a time outside the curve; names each.
    """
    wind = _wind(wind_m_s)
    gust: FloatArray = wind * (speed_ratio(gust_s) / speed_ratio(mean_s))
    return gust


def fastest_mile_s(wind_m_s: ArrayLike) -> FloatArray:
    """Return how long the fastest mile of a wind takes to pass: t = 3600/U, U in mph.

    Source: Coastal Engineering Manual, EM 1110-2-1100, part II ch. 2, 2003.

    Parameters
    ----------
    wind_m_s : array_like
        The fastest-mile wind [m/s], > 0.

    Returns
    -------
    ndarray
        Averaging time [s].

    Raises
    ------
    RangeError
        If a wind is not above 0; names each.
    """
    wind = np.asarray(wind_m_s, dtype=np.float64)
    _refuse(wind, np.isfinite(wind) & (wind > 0), f"m/s: need a wind above 0 ({_CEM})")
    seconds: FloatArray = HOUR_S / (wind / MILE_PER_HOUR_M_S.value)
    return seconds


def to_ten_metres(
    wind_m_s: ArrayLike, *, height_m: ArrayLike, roughness_m: float | None = None
) -> FloatArray:
    """Return the wind 10 m above the water from one at another height.

    U10 = U (10/z)^(1/7), or U ln(10/z0)/ln(z/z0) with a roughness. Source: Coastal Engineering
    Manual, EM 1110-2-1100, part II ch. 2, 2003, eq. II-2-9; log law of the wall.

    Parameters
    ----------
    wind_m_s : array_like
        Wind [m/s].
    height_m : array_like
        Its height z [m], above the roughness.
    roughness_m : float or None
        Roughness z0 [m]; None takes the power law.

    Returns
    -------
    ndarray
        Wind at 10 m [m/s].

    Raises
    ------
    RangeError
        If a height is not above 0 and the roughness, the roughness not between 0 and 10 m, or a
        wind is negative; names each.
    """
    z = np.asarray(height_m, dtype=np.float64)
    if roughness_m is not None and not 0 < roughness_m < 10:  # noqa: PLR2004 - the height sought
        raise RangeError(f"roughness {roughness_m:g} m: must lie between 0 and 10 m ({_CEM})")
    rule = f"m: a height must be above 0 and the roughness ({_CEM})"
    _refuse(z, np.isfinite(z) & (z > (roughness_m or 0.0)), rule)
    ratio = (
        (10 / z) ** SEVENTH.value
        if roughness_m is None
        else np.log(10 / roughness_m) / np.log(z / roughness_m)
    )
    wind: FloatArray = _wind(wind_m_s) * ratio
    return wind


def _wind(wind_m_s: ArrayLike) -> FloatArray:
    wind = np.asarray(wind_m_s, dtype=np.float64)
    _refuse(wind, np.isfinite(wind) & (wind >= 0), f"m/s: need a wind of 0 or more ({_CEM})")
    return wind


def _refuse(values: FloatArray, sound: BoolArray, why: str) -> None:
    """Raise for every element that is not sound."""
    wrong = np.flatnonzero(~sound)
    if wrong.size:
        raise RangeError("\n".join(f"[{i}] {values.flat[i]:g} {why}" for i in wrong))


@dataclass(frozen=True, slots=True, kw_only=True)
class Beaufort:
    """One row of the Beaufort scale, winds at 10 m; the greatest of the last row is inf."""

    force: int
    name: str
    from_m_s: float
    to_m_s: float
    from_kn: int
    to_kn: float


_WMO: Final = (
    ("calm", 0.0, 0.2, 0, 0),
    ("light air", 0.3, 1.5, 1, 3),
    ("light breeze", 1.6, 3.3, 4, 6),
    ("gentle breeze", 3.4, 5.4, 7, 10),
    ("moderate breeze", 5.5, 7.9, 11, 16),
    ("fresh breeze", 8.0, 10.7, 17, 21),
    ("strong breeze", 10.8, 13.8, 22, 27),
    ("near gale", 13.9, 17.1, 28, 33),
    ("gale", 17.2, 20.7, 34, 40),
    ("strong gale", 20.8, 24.4, 41, 47),
    ("storm", 24.5, 28.4, 48, 55),
    ("violent storm", 28.5, 32.6, 56, 63),
    ("hurricane", 32.7, np.inf, 64, np.inf),
)
BEAUFORT: Final = tuple(
    Beaufort(force=force, name=name, from_m_s=low, to_m_s=high, from_kn=low_kn, to_kn=high_kn)
    for force, (name, low, high, low_kn, high_kn) in enumerate(_WMO)
)


def beaufort(wind_m_s: float) -> Beaufort:
    """Return the Beaufort force of a wind at 10 m.

    Rounded to 0.1 m/s first, for the rows leave gaps of that. Source: World Meteorological
    Organization, Manual on Codes, WMO-No. 306, volume I.1, part A, section E: the Beaufort scale,
    equivalent speeds at 10 m (by way of tables that copy it).

    Parameters
    ----------
    wind_m_s : float
        10-minute mean [m/s], >= 0.

    Returns
    -------
    Beaufort
        Its row.

    Raises
    ------
    RangeError
        If it is below 0 or no number.
    """
    if not wind_m_s >= 0:
        raise RangeError(f"wind {wind_m_s:g} m/s: need a speed of 0 or more (Beaufort scale)")
    shown = round(wind_m_s, 1)
    return next(row for row in BEAUFORT if shown <= row.to_m_s)


def wind_setup(wind_m_s: ArrayLike, *, fetch_m: ArrayLike, depth_m: ArrayLike) -> FloatArray:
    """Return how far wind piles up the water at the lee end: S = U^2 F/(1400 D), mph, miles, ft.

    Source: the Zuider Zee rule (from memory). Lost in a small lake's range of levels.

    Parameters
    ----------
    wind_m_s, fetch_m : array_like
        Wind [m/s] and fetch [m], >= 0.
    depth_m : array_like
        Mean depth [m], > 0.

    Returns
    -------
    ndarray
        Height [m].

    Raises
    ------
    RangeError
        If a number is outside its range; names each.
    """
    fetch, depth = (np.asarray(value, dtype=np.float64) for value in (fetch_m, depth_m))
    _refuse(fetch, np.isfinite(fetch) & (fetch >= 0), "m: need a fetch of 0 or more")
    _refuse(depth, depth > 0, "m: need a depth above 0")
    mph = _wind(wind_m_s) / MILE_PER_HOUR_M_S.value
    miles, feet = fetch / (5280 * FOOT_M.value), depth / FOOT_M.value
    height: FloatArray = mph**2 * miles / (1400 * feet) * FOOT_M.value
    return height


GUST: Final = Formula(
    key="gust",
    name="Gust of 3 s",
    symbol="U_g",
    words="U_g = U r(3 s)/r(10 min), r(t) = 1.277 + 0.296 tanh[0.9 log₁₀(45/t)]",
    unit="m/s",
    source=f"{_CEM}, figure II-2-1",
    terms={"wind_m_s": Term(symbol="U", name="wind, 10-minute mean", unit="m/s")},
    law=gust_from_mean,
    valid="strong winds over open land; gusts of thunderstorms pass it",
)
