"""Chain by formula: breaking force of a measured bar, weight of its links, stiffness."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.published import FRESH_WATER_KG_M3, GRAVITY_M_S2, Published, exact
from lakemap.basis.quantities import FOOT_M, POUND_KG
from lakemap.basis.records import FloatArray
from lakemap.basis.working import Formula, Term
from lakemap.rig.chain_tables import CHAIN, LINK_PITCH, LINK_WIDTH, LINKS, STEEL_KG_M3, LinkRow
from lakemap.rig.trade import TradeSize, newtons, trade_size

_A413: Final = "ASTM A413/A413M-21, carbon steel chain"
_LB_100_FT: Final = POUND_KG.value / (100 * FOOT_M.value)
# E = (5.40 - 0.0040 d) 1e10 Pa, d in mm; fitted for bars of 60 to 200 mm, so extrapolated here
CHAIN_E_PA: Final = Published(
    value=5.40e10,
    unit="Pa",
    low=0.7 * 5.40e10,
    high=1.3 * 5.40e10,
    source="DNV-OS-E301, Position mooring, 2010 to 2015, studless chain of grade R3 (secondary"
    " source); 30 % either way is ours, for the small bars",
    locator="constant term",
)
CHAIN_E_PER_BAR_PA_M: Final = exact(0.0040e13, "Pa/m", CHAIN_E_PA.source, "term in the bar")
_BAR_LOW_M, _BAR_HIGH_M = 0.060, 0.200


@dataclass(frozen=True, slots=True, kw_only=True)
class ChainBuild:
    """What a chain of some size is made of."""

    bar_m: float
    mass_kg_m: float
    source: str  # of the mass
    printed: bool  # False: reckoned from the links that such chain usually has


def break_of_bar(diameter_m: ArrayLike, *, grade: ArrayLike) -> FloatArray:
    """Return the breaking force of chain from its measured bar and its grade.

    MBF = 2 (pi/4) d^2 (10 Grade), N with d in mm: the grade is the stress over two sections of the
    bar. Source: ASTM A413/A413M-21, 1.3 and 1.4. For a measured bar only: the trade size in inches
    is a name, and put in here it loses 3 to 25 %.

    Parameters
    ----------
    diameter_m : array_like
        Diameter d of the bar [m], > 0.
    grade : array_like
        Such as 30.

    Returns
    -------
    ndarray
        Force [N].

    Raises
    ------
    RangeError
        If a diameter or a grade is not above 0.
    """
    bar, stress = np.broadcast_arrays(
        np.asarray(diameter_m, dtype=np.float64), np.asarray(grade, dtype=np.float64) * 1e7
    )
    if not ((bar > 0) & (stress > 0)).all():
        bad = np.flatnonzero(~((bar > 0) & (stress > 0)))
        raise RangeError(
            "\n".join(
                f"[{i}] bar {bar.flat[i]:g} m, grade {stress.flat[i] / 1e7:g}: need both above 0"
                f" ({_A413}, 1.3)"
                for i in bad
            )
        )
    force: FloatArray = np.pi / 2 * bar**2 * stress
    return force


def link_mass(diameter_m: ArrayLike, *, pitch_m: ArrayLike, width_m: ArrayLike) -> FloatArray:
    """Return the mass of open-link chain per metre.

    m = rho (pi/4) d^2 [2 (p - b) + pi (b + d)]/p: the centre line of a link is two straights and
    two half circles. Ours, within 3 % of ten catalogue weights to DIN 766 and DIN 763.

    Parameters
    ----------
    diameter_m : array_like
        Diameter d of the bar [m].
    pitch_m : array_like
        Inside length p of a link [m], at least its inside width.
    width_m : array_like
        Inside width b [m], > 0.

    Returns
    -------
    ndarray
        Mass [kg/m].

    Raises
    ------
    RangeError
        If the three are no open link.
    """
    bar, pitch, width = np.broadcast_arrays(
        *(np.asarray(value, dtype=np.float64) for value in (diameter_m, pitch_m, width_m))
    )
    sound = (bar > 0) & (width > 0) & (pitch >= width)
    if not sound.all():
        raise RangeError(
            "\n".join(
                f"[{i}] bar {bar.flat[i]:g} m, pitch {pitch.flat[i]:g} m, width"
                f" {width.flat[i]:g} m: need 0 < bar and 0 < inside width <= pitch"
                for i in np.flatnonzero(~sound)
            )
        )
    centre_line = 2 * (pitch - width) + np.pi * (width + bar)
    mass: FloatArray = STEEL_KG_M3.value * np.pi / 4 * bar**2 * centre_line / pitch
    return mass


def submerged_fraction(density_kg_m3: ArrayLike) -> FloatArray:
    """Return what is left in fresh water of a solid part's weight: 1 - rho_w/rho (Archimedes).

    Parameters
    ----------
    density_kg_m3 : array_like
        Density rho of the part [kg/m3]; negative results float.

    Returns
    -------
    ndarray
        Share of its weight in air.
    """
    left: FloatArray = 1 - FRESH_WATER_KG_M3.value / np.asarray(density_kg_m3, dtype=np.float64)
    return left


def weight_in_water(mass_kg_m: ArrayLike) -> FloatArray:
    """Return the weight of steel chain or cable in fresh water: w = g m (1 - rho_w/rho_steel).

    Parameters
    ----------
    mass_kg_m : array_like
        Mass m in air [kg/m].

    Returns
    -------
    ndarray
        Weight [N/m].
    """
    mass = np.asarray(mass_kg_m, dtype=np.float64)
    weight: FloatArray = GRAVITY_M_S2.value * mass * submerged_fraction(STEEL_KG_M3.value)
    return weight


CHAIN_WEIGHT: Final = Formula(
    key="chain_weight",
    name="Weight of the chain in water",
    symbol="w",
    words="w = g m (1 − ρ_w/ρ_steel)",
    unit="N/m",
    source="Archimedes; steel 7850 kg/m³, fresh water 1000 kg/m³",
    terms={"mass_kg_m": Term(symbol="m", name="mass of the chain in air", unit="kg/m")},
    law=weight_in_water,
)


def chain_stiffness(bar_m: ArrayLike) -> FloatArray:
    """Return the axial stiffness EA of studless chain.

    EA = E pi d^2/2 with E = (5.40 - 0.0040 d[mm]) 1e10 Pa: both legs of a link. Source:
    DNV-OS-E301, Position mooring, 2010 to 2015 (secondary source); fitted for bars of 60 to
    200 mm, on a lake an estimate within 30 %.

    Parameters
    ----------
    bar_m : array_like
        Diameter d of the bar [m], > 0.

    Returns
    -------
    ndarray
        EA [N].

    Raises
    ------
    RangeError
        If a diameter is not above 0 or past the law's end.
    """
    bar = np.asarray(bar_m, dtype=np.float64)
    if not ((bar > 0) & (bar <= _BAR_HIGH_M)).all():
        wrong = bar[~((bar > 0) & (bar <= _BAR_HIGH_M))].ravel()
        raise RangeError(
            f"bar {', '.join(f'{one:g}' for one in wrong)} m: need above 0 to {_BAR_HIGH_M:g} m"
            f" ({CHAIN_E_PA.source})"
        )
    modulus = CHAIN_E_PA.value - CHAIN_E_PER_BAR_PA_M.value * bar
    stiffness: FloatArray = modulus * np.pi / 2 * bar**2
    return stiffness


CHAIN_STIFFNESS: Final = Formula(
    key="chain_stiffness",
    name="Stiffness of the chain",
    symbol="EA",
    words="EA = E π d²/2,  E = (5.40 − 0.0040 d[mm]) · 10¹⁰ Pa",
    unit="N",
    source=CHAIN_E_PA.source,
    terms={"bar_m": Term(symbol="d", name="bar of the chain", unit="m")},
    law=chain_stiffness,
    valid="bars of 60 to 200 mm; smaller ones are extrapolated, 30 % either way",
    holds=lambda bar_m: (bar_m >= _BAR_LOW_M) & (bar_m <= _BAR_HIGH_M),
)


def chain_build(size: str) -> ChainBuild:
    """Return bar and mass of a chain of some size, whatever its grade.

    The usual catalogue weight where there is one (short link for sizes in mm); else the link
    formula with pitch 3.3 d and inside width 1.4 d. Within 8 % unless it was weighed.

    Parameters
    ----------
    size : str
        As written.

    Returns
    -------
    ChainBuild
        Its bar is the one sold under that name; for a size in no table the bar that the grade
        formula asks for, or what the name says.

    Raises
    ------
    RangeError
        If it is no size.
    """
    named = trade_size(size)
    links = LINKS["inch" if named.unit == "in" else "short"].get(named.name)
    if links is not None:
        return _printed_build(links)
    bar = _bar_of_name(named)
    mass = link_mass(bar, pitch_m=LINK_PITCH.value * bar, width_m=LINK_WIDTH.value * bar)
    shape = f"{LINK_PITCH.value:g} by {LINK_WIDTH.value:g} bars"
    source = f"ours: no catalogue weight; links of {shape}"
    return ChainBuild(bar_m=bar, mass_kg_m=float(mass), source=source, printed=False)


def _printed_build(links: LinkRow) -> ChainBuild:
    bar = links.bar.value * 1e-3
    if links.weight is None:
        mass = float(
            link_mass(bar, pitch_m=links.pitch.value * 1e-3, width_m=links.width.value * 1e-3)
        )
        source = f"lightest chain that the specification allows; {links.pitch.source}"
        return ChainBuild(bar_m=bar, mass_kg_m=mass, source=source, printed=True)
    scale = _LB_100_FT if links.weight.unit == "lb/100 ft" else 1.0
    return ChainBuild(
        bar_m=bar,
        mass_kg_m=links.weight.value * scale,
        source=f"{links.weight.source}, {links.weight.locator}",
        printed=True,
    )


def _bar_of_name(named: TradeSize) -> float:
    row = CHAIN["inch", 30].get(named.name)
    if row is None:
        return named.length_m
    return float(np.sqrt(newtons(row.breaking) / (np.pi / 2 * row.grade * 1e7)))


def link_pitch(size: str) -> float:
    """Return the length that one link adds to a chain of some size.

    The largest inside length that is in print, for sizes in mm that of short links; else 3.3 bars.

    Parameters
    ----------
    size : str
        As written.

    Returns
    -------
    float
        Inside length of a link [m].

    Raises
    ------
    RangeError
        If it is no size.
    """
    named = trade_size(size)
    links = LINKS["inch" if named.unit == "in" else "short"].get(named.name)
    if links is not None:
        return links.pitch.value * 1e-3
    return LINK_PITCH.value * _bar_of_name(named)
