"""Wind waves and wakes as formulas that show their working."""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.published import GRAVITY_M_S2
from lakemap.basis.records import BoolArray, FloatArray
from lakemap.basis.working import Formula, Term
from lakemap.loads.wakes import CUSP_DECAY, NEAREST_M
from lakemap.loads.wave_heights import HIGHEST_OF_1000, LONG_PERIOD, design_height
from lakemap.loads.waves import MODELS, least_duration, wind_stress_speed, wind_wave

_SPM: Final = MODELS["spm"].source
_WIND: Final = Term(symbol="U", name="wind, 10-minute mean at 10 m", unit="m/s")
_FETCH: Final = Term(symbol="F", name="open water to windward", unit="m")
_SEA: Final = {
    "wind_m_s": _WIND,
    "fetch_m": _FETCH,
    "depth_m": Term(symbol="d", name="mean depth along it at high water", unit="m"),
}
_DATA_FROM: Final = 100.0  # g F/U^2 from which on the laws rest on measurements
_G: Final = GRAVITY_M_S2.value


def _measured(wind_m_s: FloatArray, fetch_m: FloatArray, **_: FloatArray) -> BoolArray:
    ahead: BoolArray = _G * fetch_m >= _DATA_FROM * wind_m_s**2
    return ahead


_EXTRAPOLATED: Final = (
    "measured for gF/U² of 100 and more; a small lake in a storm lies below: an extrapolation, as"
    " with every published law"
)
WIND_STRESS: Final = Formula(
    key="wind_stress",
    name="Wind-stress speed",
    symbol="U_A",
    words="U_A = 0.71 U^1.23 (both in m/s)",
    unit="m/s",
    source=f"{_SPM} (coefficients from memory)",
    terms={"wind_m_s": _WIND},
    law=wind_stress_speed,
)
SEA_HEIGHT: Final = Formula(
    key="wave_height",
    name="Significant wave height",
    symbol="H",
    words=(
        "H = 0.283 (U_A²/g) A tanh[0.00565 (gF/U_A²)^½/A], A = tanh[0.530 (gd/U_A²)^¾],"
        " U_A = 0.71 U^1.23"
    ),
    unit="m",
    source=_SPM,
    terms=_SEA,
    law=lambda wind_m_s, fetch_m, depth_m: wind_wave(wind_m_s, fetch_m, depth_m).height_m,
    valid=_EXTRAPOLATED,
    holds=_measured,
)
SEA_PERIOD: Final = Formula(
    key="wave_period",
    name="Peak period",
    symbol="T",
    words=(
        "T = 7.54 (U_A/g) B tanh[0.0379 (gF/U_A²)^⅓/B], B = tanh[0.833 (gd/U_A²)^⅜],"
        " U_A = 0.71 U^1.23"
    ),
    unit="s",
    source=_SPM,
    terms=_SEA,
    law=lambda wind_m_s, fetch_m, depth_m: wind_wave(wind_m_s, fetch_m, depth_m).period_s,
    valid=_EXTRAPOLATED,
    holds=_measured,
)


def _beside(method: str, name: str) -> Formula:
    """The same sea by another published law, to be shown beside the default."""
    return Formula(
        key=f"wave_height_{method.replace('-', '_')}",
        name=f"Significant wave height by {name}: for comparison",
        symbol="H",
        words=f"H by the law of {name}: the same wind, open water and depth",
        unit="m",
        source=MODELS[method].source,
        terms=_SEA,
        law=lambda wind_m_s, fetch_m, depth_m: (
            wind_wave(wind_m_s, fetch_m, depth_m, method=method).height_m
        ),
        valid=_EXTRAPOLATED,
        holds=_measured,
    )


OTHER_HEIGHTS: Final = (
    _beside("spm-garratt", "SPM with Garratt's drag"),
    _beside("young-verhagen", "Young and Verhagen"),
    _beside("breugem-holthuijsen", "Breugem and Holthuijsen"),
)
LEAST_DURATION: Final = Formula(
    key="least_duration",
    name="How long the wind must blow for such waves",
    symbol="t",
    words="t = 68.8 (U_A/g) (gF/U_A²)^⅔, U_A = 0.71 U^1.23",
    unit="s",
    source="US Army CERC, Shore Protection Manual, 4th ed., 1984, vol. I, ch. 3, eq. 3-35",
    terms={"wind_m_s": _WIND, "fetch_m": _FETCH},
    law=lambda wind_m_s, fetch_m: np.where(
        wind_m_s > 0, least_duration(np.where(wind_m_s > 0, wind_m_s, 1.0), fetch_m), 0.0
    ),
)
DESIGN_HEIGHT: Final = Formula(
    key="highest_wave",
    name="Highest wave of the storm",
    symbol="H_max",
    words=(
        f"H_max = min({HIGHEST_OF_1000.value:.4f} H; 0.142 L tanh kd with L at"
        f" {LONG_PERIOD.value:g} T; 0.78 d)"
    ),
    unit="m",
    source=f"{HIGHEST_OF_1000.source}; Miche 1944; McCowan 1894; {LONG_PERIOD.source}",
    terms={
        "height_m": Term(symbol="H", name="significant wave height", unit="m"),
        "period_s": Term(symbol="T", name="peak period", unit="s"),
        "depth_m": Term(symbol="d", name="depth at the float at low water", unit="m"),
    },
    law=design_height,
    valid="the most probable highest of 1000 waves; exceeded in most such storms that last longer",
)


def _wake(distance_m: ArrayLike, *, height_m: ArrayLike, at_m: ArrayLike) -> FloatArray:
    """The wake's law over arrays: heights and distances may differ from float to float."""
    distance, height, at = (
        np.asarray(value, dtype=np.float64) for value in (distance_m, height_m, at_m)
    )
    found: FloatArray = height * (distance / at) ** CUSP_DECAY.value
    return found


WAKE_HEIGHT: Final = Formula(
    key="wake_height",
    name="Wake at the float",
    symbol="H_w",
    words="H_w = H₀ (x/x₀)^(−⅓)",
    unit="m",
    source=f"{CUSP_DECAY.source}, {CUSP_DECAY.locator}",
    terms={
        "distance_m": Term(symbol="x", name="how close boats pass", unit="m"),
        "height_m": Term(symbol="H₀", name="wake where it was seen", unit="m"),
        "at_m": Term(symbol="x₀", name="distance where it was seen", unit="m"),
    },
    law=_wake,
    valid="from 50 ft on, or from where the wake was seen",
    holds=lambda distance_m, at_m, **_: distance_m >= np.minimum(at_m, NEAREST_M) * (1 - 1e-9),
)
