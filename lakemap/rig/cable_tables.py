"""Cable of 7x19 wires: breaking strength by size and finish, area, stiffness, weight, stretch."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.published import Published, exact
from lakemap.basis.quantities import INCH_M, POUND_FORCE_N
from lakemap.basis.records import FloatArray
from lakemap.basis.working import Formula, Term

Finish = Literal["galvanised", "stainless"]
_FAA: Final = "FAA AC 43.13-1B, 1998, after MIL-W-83420"
_AS: Final = "a catalogue of 7x19 cable to AS 3569"
_STRETCH: Final = "rope makers' stretch factors for 7x19, % = W G/D²"

# size, pounds galvanised, pounds stainless; from 7/16 in on the construction is another one
_INCH: Final = (
    ("1/8 in", 2000, 1760),
    ("5/32 in", 2800, 2400),
    ("3/16 in", 4200, 3700),
    ("7/32 in", 5600, 5000),
    ("1/4 in", 7000, 6400),
    ("9/32 in", 8000, 7800),
    ("5/16 in", 9800, 9000),
    ("11/32 in", 12500, None),
    ("3/8 in", 14400, 12000),
)
# size, kN, kg per 100 m
_METRIC: Final = (
    ("3 mm", 7.8, 3.68),
    ("3.2 mm", 8.9, 4.2),
    ("3.5 mm", 8.4, 4.6),
    ("4 mm", 11.2, 6.1),
    ("5 mm", 17.4, 9.5),
    ("6 mm", 25.0, 13.7),
    ("8 mm", 43.9, 24.4),
    ("10 mm", 68.6, 38.1),
    ("12 mm", 98.9, 54.8),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class CableRow:
    """One size of cable of one finish."""

    size: str
    finish: Finish
    breaking: Published
    weight: Published | None  # kg per 100 m; None: the table prints strengths alone


def _inch_rows(finish: Finish, column: int) -> Mapping[str, CableRow]:
    composition = "A, coated carbon steel" if finish == "galvanised" else "B, stainless steel"
    return MappingProxyType(
        {
            row[0]: CableRow(
                size=row[0],
                finish=finish,
                breaking=exact(
                    float(pounds), "lbf", _FAA, f"table 7-3, composition {composition}, {row[0]}"
                ),
                weight=None,
            )
            for row in _INCH
            if isinstance(pounds := row[column], int)
        }
    )


# by unit of the size and finish; 7x19 only
CABLE: Final[Mapping[tuple[str, Finish], Mapping[str, CableRow]]] = MappingProxyType(
    {
        ("in", "galvanised"): _inch_rows("galvanised", 1),
        ("in", "stainless"): _inch_rows("stainless", 2),
        ("mm", "galvanised"): MappingProxyType(
            {
                size: CableRow(
                    size=size,
                    finish="galvanised",
                    breaking=exact(force, "kN", _AS, f"{size}, galvanised"),
                    weight=exact(mass, "kg/100 m", _AS, f"{size}, galvanised"),
                )
                for size, force, mass in _METRIC
            }
        ),
        ("mm", "stainless"): MappingProxyType({}),
    }
)
CABLE_WIRES: Final = exact(133, "wires", "7 strands of 19 wires", "the name")
CABLE_WIRES_ACROSS: Final = exact(15, "wires", "ours: counted across a 7x19 section", "5 by 3")
CABLE_MASS_KG_M_MM2: Final = exact(
    0.00381, "kg/m/mm2", f"ours: fitted to {_AS}, within 0.3 % from 4 mm on", "mass over d²"
)
# one printed table has lost a nought in a neighbouring row; these two check against a worked case
STRETCH_FACTOR: Final[Mapping[Finish, Published]] = MappingProxyType(
    {
        "galvanised": Published(
            value=1.40e-5,
            unit="% in2/lbf",
            low=0.9 * 1.40e-5,
            high=1.1 * 1.40e-5,
            source=_STRETCH,
            locator="7x19 galvanised",
        ),
        "stainless": Published(
            value=1.62e-5,
            unit="% in2/lbf",
            low=0.9 * 1.62e-5,
            high=1.1 * 1.62e-5,
            source=_STRETCH,
            locator="7x19 stainless",
        ),
    }
)
_PER_PASCAL: Final = INCH_M.value**2 / POUND_FORCE_N.value / 100  # of "% in2/lbf"


def _diameter(diameter_m: ArrayLike) -> FloatArray:
    diameter = np.asarray(diameter_m, dtype=np.float64)
    if not (diameter > 0).all():
        wrong = ", ".join(f"{one:g}" for one in diameter[~(diameter > 0)].ravel())
        raise RangeError(f"cable diameter {wrong} m: need above 0")
    return diameter


def cable_area(diameter_m: ArrayLike) -> FloatArray:
    """Return the metal in a 7x19 cable's section: 133 (pi/4) (d/15)^2.

    Ours, from the construction: 133 wires, 15 of them across; 59 % of the circle.

    Parameters
    ----------
    diameter_m : array_like
        Diameter d of the cable [m], > 0.

    Returns
    -------
    ndarray
        Area [m2].

    Raises
    ------
    RangeError
        If a diameter is not above 0.
    """
    wire = _diameter(diameter_m) / CABLE_WIRES_ACROSS.value
    area: FloatArray = CABLE_WIRES.value * np.pi / 4 * wire**2
    return area


def cable_mass(diameter_m: ArrayLike) -> FloatArray:
    """Return the mass of 7x19 cable: 0.00381 d^2, kg/m with d in mm.

    Parameters
    ----------
    diameter_m : array_like
        Diameter d of the cable [m], > 0.

    Returns
    -------
    ndarray
        Mass [kg/m].

    Raises
    ------
    RangeError
        If a diameter is not above 0.
    """
    mass: FloatArray = CABLE_MASS_KG_M_MM2.value * (_diameter(diameter_m) * 1e3) ** 2
    return mass


def cable_compliance(finish: Finish) -> float:
    """Return the trade's stretch factor in SI: c of the strain W c/D^2.

    Parameters
    ----------
    finish : {'galvanised', 'stainless'}
        Of 7x19 cable.

    Returns
    -------
    float
        c [1/Pa].
    """
    return STRETCH_FACTOR[finish].value * _PER_PASCAL


def cable_stiffness(
    diameter_m: ArrayLike, *, compliance_1_pa: ArrayLike, legs: ArrayLike = 1
) -> FloatArray:
    """Return the axial stiffness of straight 7x19 cable: EA = n D^2/c.

    Source: the trade's formula, stretch in % = W G/D^2 (W lbf, D in), turned round; within 10 %,
    and new cable also settles by up to 1 %. A straight cable hardly stretches: it is no spring.

    Parameters
    ----------
    diameter_m : array_like
        Diameter D of the cable [m], > 0.
    compliance_1_pa : array_like
        c of `cable_compliance` [1/Pa].
    legs : array_like
        How many parts n lie side by side.

    Returns
    -------
    ndarray
        EA [N].

    Raises
    ------
    RangeError
        If a diameter is not above 0.
    """
    stiffness: FloatArray = (
        np.asarray(legs, dtype=np.float64)
        * _diameter(diameter_m) ** 2
        / np.asarray(compliance_1_pa, dtype=np.float64)
    )
    return stiffness


CABLE_STIFFNESS: Final = Formula(
    key="cable_stiffness",
    name="Stiffness of the cable",
    symbol="EA",
    words="EA = n D²/c",
    unit="N",
    source=f"{_STRETCH}; within 10 %",
    terms={
        "diameter_m": Term(symbol="D", name="diameter of the cable", unit="m"),
        "compliance_1_pa": Term(symbol="c", name="stretch factor of 7×19", unit="1/Pa"),
        "legs": Term(symbol="n", name="parts of the cable, all of them", unit=""),
    },
    law=cable_stiffness,
    valid="straight cable; a bowed one is softer, by how much is not published",
)


def cable_strain(load_n: ArrayLike, *, diameter_m: ArrayLike, finish: Finish) -> FloatArray:
    """Return the elastic stretch of one part of 7x19 cable: load over EA.

    Parameters
    ----------
    load_n : array_like
        Pull in that part [N].
    diameter_m : array_like
        Diameter of the cable [m], > 0.
    finish : {'galvanised', 'stainless'}
        Its finish.

    Returns
    -------
    ndarray
        Stretch per length.

    Raises
    ------
    RangeError
        If a diameter is not above 0.
    """
    stiffness = cable_stiffness(diameter_m, compliance_1_pa=cable_compliance(finish))
    strain: FloatArray = np.asarray(load_n, dtype=np.float64) / stiffness
    return strain
