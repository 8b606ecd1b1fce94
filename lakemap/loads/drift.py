"""The steady push of waves on a float that throws part of them back."""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.published import FRESH_WATER_KG_M3, GRAVITY_M_S2, Published, exact
from lakemap.basis.records import FloatArray
from lakemap.basis.working import Formula, Term
from lakemap.loads.dispersion import group_ratio, wave_length

_RHO_G: Final = FRESH_WATER_KG_M3.value * GRAVITY_M_S2.value
_DRIFT: Final = (
    "Longuet-Higgins, Proc. R. Soc. A 352 (1977) 463-480; Maruo, J. Ship Research 4 (1960) 1-10"
    " (from memory)"
)
_BOX: Final = "Macagno, La Houille Blanche 9 (1954), fixed shallow box (from memory)"
HEAVES = Published(
    value=0.7,
    unit="box/float",
    low=0.5,
    high=1.0,
    source="ours: a float that heaves throws back more than a fixed box near its own period",
    locator="R² = R²_box/0.7, at most 1",
)
LEAST_REFLECTION = exact(
    0.1, "R²", "ours: no float lets a wave pass without losing any of it", "at least"
)


def reflection_box(period_s: ArrayLike, *, breadth_m: ArrayLike, draft_m: ArrayLike) -> FloatArray:
    """Return the share R^2 of a wave's energy that a fixed shallow box throws back in deep water.

    K_T = [1 + (k B e^(k D)/2)^2]^(-1/2), R^2 = 1 - K_T^2. Source: Macagno 1954, as later texts on
    floating breakwaters have it (from memory).

    Parameters
    ----------
    period_s : array_like
        Period of the wave [s], > 0.
    breadth_m : array_like
        Breadth B along the wave [m], >= 0.
    draft_m : array_like
        Draft D [m], >= 0.

    Returns
    -------
    ndarray
        R^2, 0 to 1.
    """
    number = 2 * np.pi / wave_length(period_s, np.inf)
    depth = np.minimum(
        number * np.asarray(draft_m, dtype=np.float64), 50.0
    )  # exp overflows; all is thrown back long before
    blocked = number * np.asarray(breadth_m, dtype=np.float64) * np.exp(depth) / 2
    share: FloatArray = blocked**2 / (1 + blocked**2)
    return share


def reflection(period_s: ArrayLike, *, breadth_m: ArrayLike, draft_m: ArrayLike) -> FloatArray:
    """Return the share R^2 that a float is taken to throw back.

    min(1, R^2_box/0.7), not below 0.1. Ours: no measured figure for a swim float was found; a
    fixed box is no strict bound near the float's own heave period.

    Parameters
    ----------
    period_s : array_like
        Period of the waves [s]; 0 where there are none.
    breadth_m, draft_m : array_like
        As in `reflection_box`.

    Returns
    -------
    ndarray
        R^2, 0.1 to 1.
    """
    period = np.asarray(period_s, dtype=np.float64)
    box = reflection_box(np.where(period > 0, period, 1.0), breadth_m=breadth_m, draft_m=draft_m)
    share: FloatArray = np.clip(box / HEAVES.value, LEAST_REFLECTION.value, 1.0)
    return share


def drift_regular(
    height_m: ArrayLike, *, reflection2: ArrayLike, period_s: ArrayLike, depth_m: ArrayLike
) -> FloatArray:
    """Return the mean push of a regular wave, for each metre of breadth.

    F' = rho g H^2 R^2 f/8 with f = 1 + 2kd/sinh 2kd: no energy is lost. Source: Longuet-Higgins,
    Proc. R. Soc. A 352 (1977) 463-480; Maruo, J. Ship Research 4 (1960) 1-10 (from memory).

    Parameters
    ----------
    height_m : array_like
        Height H, crest to trough [m].
    reflection2 : array_like
        Share R^2 thrown back.
    period_s : array_like
        Period [s]; 0 where there is no wave.
    depth_m : array_like
        Depth [m], > 0; inf is deep.

    Returns
    -------
    ndarray
        Force by breadth [N/m].
    """
    period = np.asarray(period_s, dtype=np.float64)
    shallow = group_ratio(np.where(period > 0, period, 1.0), depth_m)
    push = _RHO_G * np.asarray(height_m, dtype=np.float64) ** 2 / 8
    force: FloatArray = np.where(period > 0, push * np.asarray(reflection2) * shallow, 0.0)
    return force


def mean_drift(
    height_m: ArrayLike,
    *,
    reflection2: ArrayLike,
    width_m: ArrayLike,
    period_s: ArrayLike,
    depth_m: ArrayLike,
) -> FloatArray:
    """Return the mean push of a sea on a float: F = rho g H_s^2 R^2 f b/16.

    Half of a regular wave's of the same height, for a sea carries half of its energy. A mean: the
    slow surge about it can double it. Source: as `drift_regular`.

    Parameters
    ----------
    height_m : array_like
        Significant height H_s [m].
    reflection2, period_s, depth_m : array_like
        As in `drift_regular`, at the peak period.
    width_m : array_like
        Breadth b across the waves [m].

    Returns
    -------
    ndarray
        Force [N].
    """
    regular = drift_regular(height_m, reflection2=reflection2, period_s=period_s, depth_m=depth_m)
    force: FloatArray = regular / 2 * np.asarray(width_m, dtype=np.float64)
    return force


def _all_thrown_back(
    height_m: ArrayLike, *, width_m: ArrayLike, period_s: ArrayLike, depth_m: ArrayLike
) -> FloatArray:
    return mean_drift(
        height_m, reflection2=1.0, width_m=width_m, period_s=period_s, depth_m=depth_m
    )


_SEA: Final = {
    "height_m": Term(symbol="H", name="significant wave height", unit="m"),
    "width_m": Term(symbol="b", name="breadth across the waves", unit="m"),
    "period_s": Term(symbol="T", name="peak period", unit="s"),
    "depth_m": Term(symbol="d", name="depth", unit="m"),
}
REFLECTION: Final = Formula(
    key="reflection",
    name="Share of the waves' energy thrown back",
    symbol="R²",
    words="R² = min(1, R²_box/0.7) ≥ 0.1, R²_box = x²/(1 + x²), x = ½ k B exp(k D), k = (2π/T)²/g",
    unit="",
    source=f"{_BOX}; ours: {HEAVES.source.removeprefix('ours: ')}",
    terms={
        "period_s": _SEA["period_s"],
        "breadth_m": Term(symbol="B", name="breadth along the waves", unit="m"),
        "draft_m": Term(symbol="D", name="draft", unit="m"),
    },
    law=reflection,
)
DRIFT: Final = Formula(
    key="drift",
    name="Waves pushing, mean",
    symbol="F_drift",
    words="F_drift = ρ g H² R² f b/16, f = 1 + 2kd/sinh 2kd",
    unit="N",
    source=_DRIFT,
    terms=_SEA | {"reflection2": Term(symbol="R²", name="share thrown back", unit="")},
    law=mean_drift,
)
DRIFT_BOUND: Final = Formula(
    key="drift_bound",
    name="Waves pushing, were they all thrown back: a bound",
    symbol="F_bound",
    words="F_bound = ρ g H² f b/16, f = 1 + 2kd/sinh 2kd",
    unit="N",
    source=_DRIFT,
    terms=_SEA,
    law=_all_thrown_back,
)
