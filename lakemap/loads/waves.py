"""Wind waves at the end of a fetch: published growth models side by side, each with its range."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.published import GRAVITY_M_S2
from lakemap.basis.records import FloatArray

# Symbols: U wind speed 10 m above the water, U_A wind-stress speed, F fetch, d mean depth along it.

_G = GRAVITY_M_S2.value
_SPM = "US Army CERC, Shore Protection Manual, 4th ed., 1984, vol. I, ch. 3"
# the fully developed sea, SPM 1984 eqs 3-36 and 3-37: g H/U_A^2 and g T/U_A
_GROWN_HEIGHT, _GROWN_PERIOD = 0.2433, 8.134


@dataclass(frozen=True, slots=True, kw_only=True)
class WindWave:
    """A sea; arrays of the broadcast shape."""

    height_m: FloatArray  # significant height, H_m0
    period_s: FloatArray  # peak period


@dataclass(frozen=True, slots=True, kw_only=True)
class GrowthModel:
    """One published model of wave growth."""

    law: Callable[[FloatArray, FloatArray, FloatArray], tuple[FloatArray, FloatArray]]
    wind_max_m_s: float  # nothing faster is in print behind the law
    source: str
    when: str


def wind_stress_speed(wind_m_s: ArrayLike) -> FloatArray:
    """Return the wind-stress speed that the SPM's growth law asks for.

    U_A = 0.71 U^1.23, U and U_A in m/s (the formula has a unit in it). It stands in for stress and
    is never a wind: the drag of a float takes the wind itself. Source: Shore Protection Manual,
    US Army CERC, 1984, eq. 3-28a (coefficients from memory).

    Parameters
    ----------
    wind_m_s : array_like
        Wind speed U 10 m above the water [m/s], >= 0.

    Returns
    -------
    ndarray
        U_A [m/s].

    Raises
    ------
    RangeError
        If a speed is negative or no number.
    """
    wind = np.asarray(wind_m_s, dtype=np.float64)
    if not (wind >= 0).all():
        raise RangeError(f"wind {wind[~(wind >= 0)].flat[0]:g} m/s: need a speed >= 0")
    speed: FloatArray = 0.71 * wind**1.23
    return speed


def garratt_speed(wind_m_s: ArrayLike) -> FloatArray:
    """Return the wind-stress speed with Garratt's drag: U_A = U sqrt(0.75 + 0.067 U), m/s.

    Source: ACES Technical Reference, USACE 1992, section 1-1.

    Parameters
    ----------
    wind_m_s : array_like
        Mean wind at 10 m [m/s], >= 0.

    Returns
    -------
    ndarray
        Wind-stress speed [m/s].
    """
    wind = np.asarray(wind_m_s, dtype=np.float64)
    speed: FloatArray = wind * np.sqrt(0.75 + 0.067 * wind)
    return speed


def _spm(stress: FloatArray, fetch: FloatArray, depth: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Depth-limited pair, SPM 1984 eqs 3-39 and 3-40, no more than the fully developed sea."""
    x, d = _G * fetch / stress**2, _G * depth / stress**2
    a, b = np.tanh(0.530 * d**0.75), np.tanh(0.833 * d**0.375)
    height = 0.283 * stress**2 / _G * a * np.tanh(0.00565 * np.sqrt(x) / a)
    period = 7.54 * stress / _G * b * np.tanh(0.0379 * np.cbrt(x) / b)
    return (
        np.minimum(height, _GROWN_HEIGHT * stress**2 / _G),
        np.minimum(period, _GROWN_PERIOD * stress / _G),
    )


def _spm_power(
    wind: FloatArray, fetch: FloatArray, depth: FloatArray
) -> tuple[FloatArray, FloatArray]:
    return _spm(wind_stress_speed(wind), fetch, depth)


def _spm_garratt(
    wind: FloatArray, fetch: FloatArray, depth: FloatArray
) -> tuple[FloatArray, FloatArray]:
    return _spm(garratt_speed(wind), fetch, depth)


def _young_verhagen(
    wind: FloatArray, fetch: FloatArray, depth: FloatArray
) -> tuple[FloatArray, FloatArray]:
    x, d = _G * fetch / wind**2, _G * depth / wind**2
    a1, b1 = np.tanh(0.493 * d**0.75), 3.13e-3 * x**0.57
    energy = 3.64e-3 * (a1 * np.tanh(b1 / a1)) ** 1.74
    a2, b2 = np.tanh(0.331 * d**1.01), 5.215e-4 * x**0.73
    frequency = 0.133 * (a2 * np.tanh(b2 / a2)) ** -0.37
    return 4 * np.sqrt(energy) * wind**2 / _G, wind / (_G * frequency)


def _breugem_holthuijsen(
    wind: FloatArray, fetch: FloatArray, depth: FloatArray
) -> tuple[FloatArray, FloatArray]:
    x, d = _G * fetch / wind**2, _G * depth / wind**2
    a, b = np.tanh(0.343 * d**1.14), 4.41e-4 * x**0.79
    c, e = np.tanh(0.10 * d**2.01), 2.77e-7 * x**1.45
    height = 0.24 * wind**2 / _G * (a * np.tanh(b / a)) ** 0.572
    return height, 7.69 * wind / _G * (c * np.tanh(e / c)) ** 0.187


MODELS: Mapping[str, GrowthModel] = MappingProxyType(
    {
        "spm": GrowthModel(
            law=_spm_power,
            wind_max_m_s=60.0,
            source=f"{_SPM}, eqs 3-28a, 3-39, 3-40",
            when="the default: one law for deep and shallow, on the high side of the models",
        ),
        "spm-garratt": GrowthModel(
            law=_spm_garratt,
            wind_max_m_s=60.0,
            source=f"{_SPM}, with U_A of the ACES Technical Reference, USACE 1992, section 1-1",
            when="the same growth with a drag law that was measured; higher above 20 m/s",
        ),
        "young-verhagen": GrowthModel(
            law=_young_verhagen,
            wind_max_m_s=60.0,
            source="Young and Verhagen, Coastal Engineering 29 (1996) 47-78",
            when="measured on a lake 2 m deep; 20 to 37 % lower on short fetches",
        ),
        "breugem-holthuijsen": GrowthModel(
            law=_breugem_holthuijsen,
            wind_max_m_s=60.0,
            source=(
                "Breugem and Holthuijsen, J. Waterway, Port, Coastal and Ocean Engineering 133"
                " (2007) 44-47"
            ),
            when="the same lake's data refitted; longer periods than the default",
        ),
    }
)


def wind_wave(
    wind_m_s: ArrayLike, fetch_m: ArrayLike, depth_m: ArrayLike, *, method: str = "spm"
) -> WindWave:
    """Return the sea that a steady wind raises at the end of a fetch.

    SPM, with A = tanh[0.530 (g d/U_A^2)^0.75] and B = tanh[0.833 (g d/U_A^2)^0.375]:
    H = 0.283 (U_A^2/g) A tanh[0.00565 (gF/U_A^2)^(1/2)/A],
    T = 7.54 (U_A/g) B tanh[0.0379 (gF/U_A^2)^(1/3)/B]. The other laws stand in `MODELS` with their
    sources. All are extrapolated on a small lake in a storm (gF/U^2 of 5 to 80; the data begin near
    100): an estimate, some 25 % either way on the height and 20 % on the period.

    Parameters
    ----------
    wind_m_s : array_like
        Wind speed U, 10-minute mean 10 m above the water [m/s], 0 to the model's greatest.
    fetch_m : array_like
        Fetch F [m], >= 0.
    depth_m : array_like
        Mean depth d along the fetch [m], >= 0; inf is deep water.
    method : str
        A key of `MODELS`.

    Returns
    -------
    WindWave
        Significant height and peak period; both 0 where wind, fetch or depth is 0.

    Raises
    ------
    RangeError
        If a number is outside its range; names the range, the source and each such element.
    """
    if method not in MODELS:
        raise RangeError(f"no wave model {method!r}; there are {', '.join(MODELS)}")
    model = MODELS[method]
    given = (np.asarray(value, dtype=np.float64) for value in (wind_m_s, fetch_m, depth_m))
    wind, fetch, depth = np.broadcast_arrays(*given)
    _guard(model, wind, fetch, depth)
    still = (wind == 0) | (fetch == 0) | (depth == 0)
    height, period = model.law(
        np.where(still, 1.0, wind), np.where(still, 1.0, fetch), np.where(still, 1.0, depth)
    )
    return WindWave(height_m=np.where(still, 0.0, height), period_s=np.where(still, 0.0, period))


def _guard(model: GrowthModel, wind: FloatArray, fetch: FloatArray, depth: FloatArray) -> None:
    sound = (wind >= 0) & (wind <= model.wind_max_m_s) & np.isfinite(fetch) & (fetch >= 0)
    sound &= depth >= 0
    if sound.all():  # NaN compares false, so it lands here too
        return
    rule = f"need wind 0 to {model.wind_max_m_s:g} m/s, fetch and depth >= 0 ({model.source})"
    raise RangeError(
        "\n".join(
            f"[{i}] wind {wind.flat[i]:g} m/s, fetch {fetch.flat[i]:g} m, depth"
            f" {depth.flat[i]:g} m: {rule}"
            for i in np.flatnonzero(~sound)
        )
    )


def least_duration(wind_m_s: ArrayLike, fetch_m: ArrayLike) -> FloatArray:
    """Return how long the wind must blow before fetch limits the waves, in deep water.

    t = 68.8 (U_A/g) (gF/U_A^2)^(2/3). Source: Shore Protection Manual, US Army CERC, 1984,
    eq. 3-35. The depth-limited law 537 (U_A/g) (gT/U_A)^(7/3) gives about half of it on a lake;
    take this one to ask whether a storm is long enough.

    Parameters
    ----------
    wind_m_s : array_like
        Wind speed U [m/s], > 0.
    fetch_m : array_like
        Fetch F [m], >= 0.

    Returns
    -------
    ndarray
        Duration [s].
    """
    stress = wind_stress_speed(wind_m_s)
    duration: FloatArray = (
        68.8 * stress / _G * (_G * np.asarray(fetch_m, dtype=np.float64) / stress**2) ** (2 / 3)
    )
    return duration


def least_duration_shallow(wind_m_s: ArrayLike, period_s: ArrayLike) -> FloatArray:
    """Return the SPM's depth-limited least duration, a lower bound.

    t = 537 (U_A/g) (gT/U_A)^(7/3). Source: Shore Protection Manual, US Army CERC, 1984, eq. 3-41.

    Parameters
    ----------
    wind_m_s : array_like
        Wind speed U [m/s], > 0.
    period_s : array_like
        Peak period T of the SPM's depth-limited law [s].

    Returns
    -------
    ndarray
        Duration [s].
    """
    stress = wind_stress_speed(wind_m_s)
    period = np.asarray(period_s, dtype=np.float64)
    duration: FloatArray = 537 * stress / _G * (_G * period / stress) ** (7 / 3)
    return duration


def duration_limited_wave(wind_m_s: ArrayLike, duration_s: ArrayLike) -> WindWave:
    """Return the deep-water sea after a wind has blown for a while over endless water.

    With t = g t/U_A and U_A = U sqrt(0.75 + 0.067 U): H = 0.0000851 (U_A^2/g) t^(5/7),
    T = 0.0702 (U_A/g) t^0.411. Source: ACES Technical Reference, USACE 1992, section 1-1; not the
    inverse of `least_duration`.

    Parameters
    ----------
    wind_m_s : array_like
        Wind speed U [m/s], > 0.
    duration_s : array_like
        How long it has blown [s], >= 0.

    Returns
    -------
    WindWave
        Significant height and peak period.
    """
    stress = garratt_speed(np.asarray(wind_m_s, dtype=np.float64))
    blown = _G * np.asarray(duration_s, dtype=np.float64) / stress
    return WindWave(
        height_m=8.51e-5 * stress**2 / _G * blown ** (5 / 7),
        period_s=0.0702 * stress / _G * blown**0.411,
    )


def model_spread(wind_m_s: ArrayLike, fetch_m: ArrayLike, depth_m: ArrayLike) -> FloatArray:
    """Return the lowest and highest height of all models over that of the default.

    Parameters
    ----------
    wind_m_s, fetch_m, depth_m : array_like
        As in `wind_wave`, all above 0.

    Returns
    -------
    ndarray
        Shape [2, ...]: least and greatest ratio, the default itself counted as 1.
    """
    heights = np.stack(
        [wind_wave(wind_m_s, fetch_m, depth_m, method=name).height_m for name in MODELS]
    )
    ratios = heights / heights[0]
    return np.stack([ratios.min(axis=0), ratios.max(axis=0)])
