"""How a float swings by itself: up and down, and from side to side."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.published import FRESH_WATER_KG_M3, GRAVITY_M_S2, Published, exact
from lakemap.basis.records import FloatArray
from lakemap.basis.working import Formula, Step, Term
from lakemap.rig.float_defaults import Flotation
from lakemap.rig.layout import Layout

_G, _RHO = GRAVITY_M_S2.value, FRESH_WATER_KG_M3.value
_DNV: Final = "DNV-RP-C205, Environmental conditions and environmental loads, 2010 (from memory)"
_PLATES: Final = "added mass of rectangular plates moving normal to themselves"
_TOUCHING: Final = 0.99  # of a side that billets fill: they act as one plate

TUBE_ADDED = Published(
    value=0.75,
    unit="",
    low=0.5,
    high=1.0,
    source="ours: the middle of what half-immersed cylinders show (from memory)",
    locator="added mass over that of the displaced half circle; it depends on the frequency",
)
ROLL_RADIUS = Published(
    value=0.4,
    unit="of the breadth",
    low=0.35,
    high=0.45,
    source="common practice, no published source: T = 0.8 B/sqrt(GM), in metres",
    locator="radius of gyration, the water's share counted in",
)
# side ratio, long over short: coefficient; an endless strip has 1
PLATES: Final[Mapping[float, Published]] = MappingProxyType(
    {
        ratio: exact(value, "", _DNV, f"{_PLATES}, b/a = {ratio:g}")
        for ratio, value in (
            (1.0, 0.579),
            (1.25, 0.642),
            (1.5, 0.690),
            (2.0, 0.757),
            (2.5, 0.801),
            (3.0, 0.830),
            (4.0, 0.871),
            (5.0, 0.897),
            (np.inf, 1.0),
        )
    }
)


def plate_coefficient(side_ratio: ArrayLike) -> FloatArray:
    """Return the added-mass coefficient of a rectangular plate that moves normal to itself.

    Straight between the rows of `PLATES` in the short side over the long (ours). Source:
    DNV-RP-C205, Environmental conditions and environmental loads, 2010, added mass of rectangular
    plates (from memory).

    Parameters
    ----------
    side_ratio : array_like
        Long side over short, >= 1; inf is an endless strip.

    Returns
    -------
    ndarray
        C in A = C rho (pi/4) short^2 long, for water on both sides.

    Raises
    ------
    RangeError
        If a ratio is below 1 or no number.
    """
    ratio = np.asarray(side_ratio, dtype=np.float64)
    wrong = ~(ratio >= 1)
    if wrong.any():
        listed = "; ".join(f"[{i}] {ratio.flat[i]:g}" for i in np.flatnonzero(wrong))
        raise RangeError(f"side ratio {listed}: need long over short, >= 1 ({_DNV})")
    rows = sorted(PLATES, reverse=True)
    coefficient: FloatArray = np.interp(
        1 / ratio, [1 / row for row in rows], [PLATES[row].value for row in rows]
    )
    return coefficient


def _tube_added(
    coefficient: FloatArray, diameter_m: FloatArray, length_m: FloatArray
) -> FloatArray:
    mass: FloatArray = coefficient * _RHO * np.pi / 8 * diameter_m**2 * length_m
    return mass


def _plate_added(
    coefficient: FloatArray, short_m: FloatArray, long_m: FloatArray, plates: FloatArray
) -> FloatArray:
    mass: FloatArray = plates * coefficient * _RHO * np.pi / 8 * short_m**2 * long_m
    return mass


def heave_period(
    mass_kg: ArrayLike, *, added_kg: ArrayLike, waterplane_m2: ArrayLike
) -> FloatArray:
    """Return the period in which a float swings up and down by itself.

    T = 2 pi sqrt((m + a)/(rho g A_w)), no damping. Source: any text on ships in waves, such as
    Lewis (ed.), Principles of Naval Architecture, 2nd rev., SNAME 1989, vol. III, ch. 8.

    Parameters
    ----------
    mass_kg : array_like
        Mass m afloat [kg].
    added_kg : array_like
        Mass a of the water that goes along [kg].
    waterplane_m2 : array_like
        Area A_w of the flotation at the water's surface [m2], > 0.

    Returns
    -------
    ndarray
        Period [s].
    """
    stiffness = _RHO * _G * np.asarray(waterplane_m2, dtype=np.float64)
    mass = np.asarray(mass_kg, dtype=np.float64) + np.asarray(added_kg, dtype=np.float64)
    period: FloatArray = 2 * np.pi * np.sqrt(mass / stiffness)
    return period


def roll_period(
    breadth_m: ArrayLike, *, gm_m: ArrayLike, radius: ArrayLike = ROLL_RADIUS.value
) -> FloatArray:
    """Return the period in which a float swings from side to side by itself.

    T = 2 pi sqrt(I/(rho g V GM)) with I = rho V (c B)^2, so T = 2 pi c B/sqrt(g GM); an estimate.

    Parameters
    ----------
    breadth_m : array_like
        The deck's side B across the axis [m].
    gm_m : array_like
        Metacentric height GM [m].
    radius : array_like
        Radius of gyration c over B, the water's share counted in.

    Returns
    -------
    ndarray
        Period [s]; NaN where GM is not above 0.
    """
    breadth, gm, share = np.broadcast_arrays(
        *(np.asarray(value, dtype=np.float64) for value in (breadth_m, gm_m, radius))
    )
    stiff = gm > 0
    period: FloatArray = np.where(
        stiff, 2 * np.pi * share * breadth / np.sqrt(_G * np.where(stiff, gm, 1.0)), np.nan
    )
    return period


TUBE_ADDED_MASS: Final = Formula(
    key="tube_added_mass",
    name="Water that goes along with the tubes",
    symbol="a",
    words="a = c ρ (π D²/8) L",
    unit="kg",
    source="ours: strips of the half-immersed cylinder; the coefficient depends on the period",
    terms={
        "coefficient": Term(symbol="c", name="added-mass coefficient", unit=""),
        "diameter_m": Term(symbol="D", name="tube diameter", unit="m"),
        "length_m": Term(symbol="L", name="length of all tubes together", unit="m"),
    },
    law=_tube_added,
)
PLATE_ADDED_MASS: Final = Formula(
    key="plate_added_mass",
    name="Water that goes along with the billets",
    symbol="a",
    words="a = ½ C ρ (π/4) b² l, each; half of a plate's, which has water on both sides",
    unit="kg",
    source=f"{_DNV}, {_PLATES}",
    terms={
        "coefficient": Term(symbol="C", name="plate's added-mass coefficient", unit=""),
        "short_m": Term(symbol="b", name="short side", unit="m"),
        "long_m": Term(symbol="l", name="long side", unit="m"),
        "plates": Term(symbol="k", name="plates: billets that touch count as one", unit=""),
    },
    law=_plate_added,
)
HEAVE_PERIOD: Final = Formula(
    key="heave_period",
    name="Period of heave",
    symbol="T",
    words="T = 2π √((m + a)/(ρ g A_w))",
    unit="s",
    source="Lewis (ed.), Principles of Naval Architecture, SNAME 1989, vol. III, ch. 8",
    terms={
        "mass_kg": Term(symbol="m", name="weight of the float", unit="kg"),
        "added_kg": Term(symbol="a", name="water that goes along", unit="kg"),
        "waterplane_m2": Term(symbol="A_w", name="area at the water's surface", unit="m2"),
    },
    law=heave_period,
)
ROLL_PERIOD: Final = Formula(
    key="roll_period",
    name="Period of roll",
    symbol="T",
    words="T = 2π c B/√(g GM)",
    unit="s",
    source=ROLL_RADIUS.source,
    terms={
        "radius": Term(symbol="c", name="radius of gyration over breadth", unit=""),
        "breadth_m": Term(symbol="B", name="breadth of the deck", unit="m"),
        "gm_m": Term(symbol="GM", name="metacentric height", unit="m"),
    },
    law=roll_period,
)


def added_mass(flotation: Flotation, laid: Layout) -> tuple[FloatArray, tuple[Step, Step]]:
    """Return the mass of the water that goes along with floats in heave.

    Tubes: c rho (pi D^2/8) L. Billets: half of a plate's; those that touch, in a row or row to
    row, act as one plate (ours).

    Parameters
    ----------
    flotation : Flotation
        Of n floats.
    laid : Layout
        Where it lies.

    Returns
    -------
    added_kg : ndarray, shape [n]
        Mass [kg].
    steps : tuple of Step
        Of tubes and of billets; NaN where a float has none.
    """
    pairs = np.maximum(flotation.count // 2, 1)
    row = np.where(pairs * flotation.length_m >= _TOUCHING * laid.long_m, pairs, 1)
    both = (flotation.count > 1) & (2 * flotation.breadth_m >= _TOUCHING * laid.short_m)
    rows = np.where(both, 2, 1)
    sides = np.stack([row * flotation.length_m, rows * flotation.breadth_m])
    long_side, short_side = sides.max(axis=0), sides.min(axis=0)
    tubes = TUBE_ADDED_MASS(
        coefficient=TUBE_ADDED.value,
        diameter_m=flotation.breadth_m,
        length_m=flotation.count * flotation.length_m,
    )
    plates = PLATE_ADDED_MASS(
        coefficient=plate_coefficient(long_side / short_side),
        short_m=short_side,
        long_m=long_side,
        plates=flotation.count / (row * rows),
    )
    steps = (tubes.where(flotation.tubes), plates.where(~flotation.tubes))
    return np.where(flotation.tubes, tubes.value, plates.value), steps
