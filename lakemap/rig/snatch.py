"""The jerk when a slack riser comes taut: with its foot fixed, and with a secondary that gives."""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.published import FRESH_WATER_KG_M3, Published, exact
from lakemap.basis.records import FloatArray
from lakemap.basis.working import Formula, Term

# Symbols: m mass of float and water moved along, v its speed when the slack is gone, k stiffness,
# P steady pull, m_s inertia of the secondary, W2 its weight in water.

_OURS: Final = "ours: conservation of energy and momentum; no damping, so an upper bound"
BUOYANCY_FACTOR = exact(
    2.5, "line load/total buoyancy", "common practice, no published source", "in a steep wave"
)
ADDED_WATER = Published(
    value=0.5,
    unit="of the water displaced",
    low=0.5,
    high=1.0,
    source="added mass of a block in open water (from memory)",
    locator="a sphere has 0.5 exactly",
)


def take_up_speed(height_m: ArrayLike, *, period_s: ArrayLike) -> FloatArray:
    """Return the greatest speed of a float that follows a wave up: v = pi H/T.

    Source: Airy's linear theory, a float much shorter than the wave. An upper bound: a float that
    lags behind takes up its slack more slowly.

    Parameters
    ----------
    height_m : array_like
        Height of the wave, crest to trough [m], >= 0.
    period_s : array_like
        Its period [s]; 0 where there is no wave.

    Returns
    -------
    ndarray
        Speed [m/s].
    """
    height, period = np.broadcast_arrays(
        np.asarray(height_m, dtype=np.float64), np.asarray(period_s, dtype=np.float64)
    )
    speed: FloatArray = np.divide(
        np.pi * height, period, out=np.zeros_like(height), where=~(period <= 0)
    )
    return speed


def series_stiffness(*stiffness_n_m: ArrayLike) -> FloatArray:
    """Return the stiffness of springs one after another: 1/k = sum of 1/k_i.

    Parameters
    ----------
    *stiffness_n_m : array_like
        Of each [N/m], > 0; inf is rigid.

    Returns
    -------
    ndarray
        Stiffness [N/m].
    """
    gives = sum(1.0 / np.asarray(one, dtype=np.float64) for one in stiffness_n_m)
    with np.errstate(divide="ignore"):  # nothing gives: rigid
        stiffness: FloatArray = 1.0 / np.asarray(gives, dtype=np.float64)
    return stiffness


def line_stiffness(
    cable_ea_n: ArrayLike, *, absorber_m: ArrayLike, chain_ea_n: ArrayLike, chain_m: ArrayLike
) -> FloatArray:
    """Return the stiffness of a taut riser: cable and chain one after the other.

    1/k = l_a/EA_a + l_c/EA_c. Source: Hooke's law. A straight doubled cable is hardly a spring;
    what softness its slack bow gives is not counted, for no stiffness of it is in print.

    Parameters
    ----------
    cable_ea_n, chain_ea_n : array_like
        Axial stiffness EA of all parts of the cable, and of the chain [N].
    absorber_m, chain_m : array_like
        Lengths [m], >= 0.

    Returns
    -------
    ndarray
        Stiffness [N/m].
    """
    absorber, chain = np.asarray(absorber_m, dtype=np.float64), np.asarray(chain_m, dtype=float)
    gives = absorber / np.asarray(cable_ea_n) + chain / np.asarray(chain_ea_n)
    with np.errstate(divide="ignore"):  # no length: rigid
        stiffness: FloatArray = 1.0 / gives
    return stiffness


def secondary_inertia(dry_kg: ArrayLike, *, volume_m3: ArrayLike) -> FloatArray:
    """Return the inertia of a cluster under water: its dry mass and half of the water it displaces.

    Parameters
    ----------
    dry_kg : array_like
        Dry mass [kg].
    volume_m3 : array_like
        Water it displaces [m3].

    Returns
    -------
    ndarray
        Mass [kg].
    """
    moved = ADDED_WATER.value * FRESH_WATER_KG_M3.value * np.asarray(volume_m3, dtype=np.float64)
    inertia: FloatArray = np.asarray(dry_kg, dtype=np.float64) + moved
    return inertia


def snatch_fixed(
    speed_m_s: ArrayLike, *, stiffness_n_m: ArrayLike, mass_kg: ArrayLike, pull_n: ArrayLike = 0.0
) -> FloatArray:
    """Return the snatch of a float on a line whose far end is fixed: F = P + sqrt(P^2 + k m v^2).

    Ours, from the energy at the greatest stretch: m v^2/2 + P x = k x^2/2. Massless line, no
    damping: an upper bound.

    Parameters
    ----------
    speed_m_s : array_like
        Speed v when the slack is gone [m/s], >= 0.
    stiffness_n_m : array_like
        Stiffness k [N/m], >= 0.
    mass_kg : array_like
        Moving mass m [kg], >= 0.
    pull_n : array_like
        Steady pull P that keeps on [N], >= 0.

    Returns
    -------
    ndarray
        Force F [N].

    Raises
    ------
    RangeError
        If a number is below 0; one line for each such element.
    """
    v, k, m, pull = _checked(speed=speed_m_s, stiffness=stiffness_n_m, mass=mass_kg, pull=pull_n)
    k = np.where(v == 0, 0.0, k)  # a rigid line jerks nothing that stands still
    force: FloatArray = pull + np.sqrt(pull**2 + k * m * v**2)
    return force


def snatch_yielding(
    speed_m_s: ArrayLike,
    *,
    stiffness_n_m: ArrayLike,
    mass_kg: ArrayLike,
    secondary_kg: ArrayLike,
    secondary_wet_n: ArrayLike,
) -> FloatArray:
    """Return the snatch of a float on a secondary that is lifted off the bed by it.

    Where v sqrt(k m) <= W2 the secondary does not stir and F = v sqrt(k m). Else, with the reduced
    mass mu = m m_s/(m + m_s) and v1^2 = v^2 - W2^2/(k m):
    F = W2 m/(m + m_s) + sqrt([W2 m_s/(m + m_s)]^2 + k mu v1^2). Ours: two masses on a spring, one
    of them resting until the pull equals its weight in water. No damping: an upper bound.

    Parameters
    ----------
    speed_m_s, stiffness_n_m, mass_kg : array_like
        As in `snatch_fixed`.
    secondary_kg : array_like
        Inertia m_s of the secondary [kg], >= 0.
    secondary_wet_n : array_like
        Its weight in water W2 [N], >= 0.

    Returns
    -------
    ndarray
        Force F [N].

    Raises
    ------
    RangeError
        If a number is below 0; one line for each such element.
    """
    v, k, m, ms, w = _checked(
        speed=speed_m_s,
        stiffness=stiffness_n_m,
        mass=mass_kg,
        secondary=secondary_kg,
        weight=secondary_wet_n,
    )
    k = np.where(v == 0, 0.0, k)  # a rigid line jerks nothing that stands still
    fixed = v * np.sqrt(k * m)
    both = m + ms
    share = np.divide(m, both, out=np.zeros_like(both), where=both > 0)
    km = np.where(k * m > 0, k * m, 1.0)
    left = np.maximum(v**2 - w**2 / km, 0.0)
    stirred = w * share + np.sqrt((w * (1 - share)) ** 2 + k * share * ms * left)
    return np.where(fixed <= w, fixed, stirred)


def sink_pull(buoyancy_n: ArrayLike, *, weight_n: ArrayLike) -> FloatArray:
    """Return the steady pull straight down that puts a float under: lift less its own weight.

    It caps nothing: a snatch lasts too short to put a float under. Source: Archimedes.

    Parameters
    ----------
    buoyancy_n : array_like
        Lift of all flotation under water [N].
    weight_n : array_like
        Weight of the float [N].

    Returns
    -------
    ndarray
        Pull [N]; 0 where it sinks by itself.
    """
    spare: FloatArray = np.maximum(
        np.asarray(buoyancy_n, dtype=np.float64) - np.asarray(weight_n, dtype=np.float64), 0.0
    )
    return spare


def _checked(**given: ArrayLike) -> list[FloatArray]:
    """Broadcast, and refuse what is below 0, naming every element; NaN is not known and stays."""
    arrays = np.broadcast_arrays(*(np.asarray(one, dtype=np.float64) for one in given.values()))
    below = np.any([one < 0 for one in arrays], axis=0)
    if not below.any():
        return list(arrays)
    raise RangeError(
        "\n".join(
            f"[{i}] "
            + ", ".join(f"{name} {one.flat[i]:g}" for name, one in zip(given, arrays, strict=True))
            + f": a snatch needs numbers of 0 or more ({_OURS})"
            for i in np.flatnonzero(below)
        )
    )


_SPEED: Final = Term(symbol="v", name="take-up speed", unit="m/s")
_STIFF: Final = Term(symbol="k", name="stiffness of the taut riser", unit="N/m")
_MASS: Final = Term(symbol="m", name="float and the water that moves with it", unit="kg")
TAKE_UP_SPEED: Final = Formula(
    key="take_up_speed",
    name="Take-up speed",
    symbol="v",
    words="v = π H/T",
    unit="m/s",
    source="Airy's linear theory of waves; a float that follows the wave, so a bound",
    terms={
        "height_m": Term(symbol="H", name="height of the wave", unit="m"),
        "period_s": Term(symbol="T", name="its period", unit="s"),
    },
    law=take_up_speed,
)
LINE_STIFFNESS: Final = Formula(
    key="line_stiffness",
    name="Stiffness of the taut riser",
    symbol="k",
    words="1/k = l_a/EA_a + l_c/EA_c",
    unit="N/m",
    source="Hooke's law; the slack bow of the cable is not counted: no stiffness of it is in print",
    terms={
        "cable_ea_n": Term(symbol="EA_a", name="all parts of the cable", unit="N"),
        "absorber_m": Term(symbol="l_a", name="shock absorber", unit="m"),
        "chain_ea_n": Term(symbol="EA_c", name="chain", unit="N"),
        "chain_m": Term(symbol="l_c", name="chain of the riser", unit="m"),
    },
    law=line_stiffness,
)
SNATCH: Final = Formula(
    key="snatch",
    name="Snatch",
    symbol="S",
    words=(
        "S = W₂ m/(m+m_s) + √{[W₂ m_s/(m+m_s)]² + k μ v₁²}, μ = m m_s/(m+m_s),"
        " v₁² = v² − W₂²/(k m); S = v √(k m) where that is no more than W₂"
    ),
    unit="N",
    source=_OURS,
    terms={
        "speed_m_s": _SPEED,
        "stiffness_n_m": _STIFF,
        "mass_kg": _MASS,
        "secondary_kg": Term(symbol="m_s", name="inertia of the secondary", unit="kg"),
        "secondary_wet_n": Term(symbol="W₂", name="secondary in water", unit="N"),
    },
    law=snatch_yielding,
)
SNATCH_FIXED: Final = Formula(
    key="snatch_fixed",
    name="Snatch, were the riser's foot fixed: for comparison",
    symbol="S_f",
    words="S_f = P + √(P² + k m v²)",
    unit="N",
    source=_OURS,
    terms={
        "speed_m_s": _SPEED,
        "stiffness_n_m": _STIFF,
        "mass_kg": _MASS,
        "pull_n": Term(symbol="P", name="steady pull that keeps on", unit="N"),
    },
    law=snatch_fixed,
)
SINK_PULL: Final = Formula(
    key="sink_pull",
    name="Steady pull that would put the float under: caps nothing",
    symbol="P_s",
    words="P_s = B − W",
    unit="N",
    source="Archimedes, On Floating Bodies, book I",
    terms={
        "buoyancy_n": Term(symbol="B", name="lift of all flotation", unit="N"),
        "weight_n": Term(symbol="W", name="weight of the float", unit="N"),
    },
    law=sink_pull,
)
BUOYANCY_RULE: Final = Formula(
    key="buoyancy_rule",
    name="Total buoyancy times 2.5: for comparison",
    symbol="P_b",
    words="P_b = 2.5 B",
    unit="N",
    source="common practice, no published source",
    terms={"buoyancy_n": Term(symbol="B", name="lift of all flotation", unit="N")},
    law=lambda buoyancy_n: BUOYANCY_FACTOR.value * buoyancy_n,
)
