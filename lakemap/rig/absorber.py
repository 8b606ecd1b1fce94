"""The absorber cable on top of a riser: its legs, its ends and bends, its strength both ways."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np

from lakemap.basis.errors import RangeError
from lakemap.basis.published import Published
from lakemap.basis.quantities import INCH_M
from lakemap.rig.cable_tables import Finish, cable_compliance, cable_mass, cable_stiffness
from lakemap.rig.ends_and_bends import (
    BARE_PIN_IN,
    COUNTED_PARTS,
    END_SHARE,
    THIMBLE_D_D,
    bend_share,
    cable_loop,
)
from lakemap.rig.hardware import ABSORBER_FACTOR, CABLE_CONSTRUCTION, cable_strength
from lakemap.rig.part_records import Part
from lakemap.rig.trade import trade_size

# what the cell says -> what holds the end. Clips and sleeves go over thimbles, as their tables
# have it; a loop on a bare pin has its ends lapped and clipped
_HELD_BY: Final[Mapping[str, str]] = MappingProxyType(
    {"clips": "clips", "sleeves": "sleeves", "bare pin": "clips"}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Absorber:
    """The absorber of one rig."""

    size: str
    finish: Finish
    ends: str  # clips, sleeves or bare pin
    legs: int  # all parts of the cable
    counted_legs: int  # two at most: parts of unlike length don't share a pull
    diameter_m: float
    length_m: float
    one_part_n: float  # strength of one straight part; NaN where none is published
    end_share: float
    bend_d_d: float  # at its tightest
    bend_share: float
    bend_too_tight: bool  # tighter than any bend in print
    breaking_n: float  # by the legs that count
    breaking_all_n: float  # by all legs
    compliance_1_pa: float
    stiffness_ea_n: float  # EA of all legs, straight
    given_stiffness_n_m: float | None  # of the whole absorber, where its owner knows it
    mass_kg_m: float  # of all legs
    source: str  # of the strength; blank where none is published
    assumed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class AbsorberQuestion:
    """An absorber as it stands in the floats file, blanks filled."""

    cable: str  # size and finish
    legs: int
    ends: str
    length_m: float
    given_stiffness_n_m: float | None
    assumed: bool


def cable_words(cable: str) -> tuple[str, Finish]:
    """Return size and finish of a cable as written.

    Parameters
    ----------
    cable : str
        Such as `5/16 in galvanised`; without a finish it is galvanised.

    Returns
    -------
    str
        The size.
    str
        The finish.
    """
    words = cable.split()
    if words and words[-1].lower() == "stainless":
        return " ".join(words[:-1]), "stainless"
    if words and words[-1].lower() in {"galvanised", "galvanized"}:
        words = words[:-1]
    return " ".join(words), "galvanised"


def bend_of(ends: str, diameter_m: float) -> float:
    """Return D/d at the tightest end of a cable.

    Parameters
    ----------
    ends : str
        `clips`, `sleeves` or `bare pin`.
    diameter_m : float
        Of the cable [m].

    Returns
    -------
    float
        That of a thimble, or of the thinnest pin that a rig hangs on.
    """
    if ends == "bare pin":
        return BARE_PIN_IN.value * INCH_M.value / diameter_m
    return THIMBLE_D_D.value


def end_of(ends: str) -> Published:
    """Return what a cable's end keeps of its strength.

    Parameters
    ----------
    ends : str
        `clips`, `sleeves` or `bare pin`.

    Returns
    -------
    Published
        A row of `END_SHARE`.

    Raises
    ------
    RangeError
        If there is no such end.
    """
    if ends not in _HELD_BY:
        raise RangeError(f"no ends {ends!r}; there are {', '.join(_HELD_BY)}")
    return END_SHARE[_HELD_BY[ends]]


def absorber_of(asked: AbsorberQuestion) -> Absorber:
    """Return an absorber's strength and stiffness.

    The loop of `cable_loop`, counted twice: by all parts of the cable, and by two at most.

    Parameters
    ----------
    asked : AbsorberQuestion
        As written.

    Returns
    -------
    Absorber
        Without a strength where none is published for the cable.

    Raises
    ------
    RangeError
        If the size is none, or there are no such ends.
    """
    size, finish = cable_words(asked.cable)
    diameter = trade_size(size).length_m
    ratio = bend_of(asked.ends, diameter)
    bend = bend_share(ratio)
    end = end_of(asked.ends).value
    try:
        strength = cable_strength(size, CABLE_CONSTRUCTION, finish)
    except RangeError:
        strength = None
    one_part = np.nan if strength is None else strength.value
    counted = min(asked.legs, int(COUNTED_PARTS.value))
    per_leg = float(cable_loop(one_part, end_share=end, bend_share=bend.share, legs=1))
    compliance = cable_compliance(finish)
    return Absorber(
        size=size,
        finish=finish,
        ends=asked.ends,
        legs=asked.legs,
        counted_legs=counted,
        diameter_m=diameter,
        length_m=asked.length_m,
        one_part_n=one_part,
        end_share=end,
        bend_d_d=ratio,
        bend_share=float(bend.share),
        bend_too_tight=bool(bend.too_tight),
        breaking_n=counted * per_leg,
        breaking_all_n=asked.legs * per_leg,
        compliance_1_pa=compliance,
        stiffness_ea_n=float(
            cable_stiffness(diameter, compliance_1_pa=compliance, legs=asked.legs)
        ),
        given_stiffness_n_m=asked.given_stiffness_n_m,
        mass_kg_m=asked.legs * float(cable_mass(diameter)),
        source="" if strength is None else f"{strength.source}, {strength.locator}",
        assumed=asked.assumed,
    )


def absorber_part(absorber: Absorber) -> Part:
    """Return an absorber as a part of the line, by the legs that count.

    Parameters
    ----------
    absorber : Absorber
        As reckoned.

    Returns
    -------
    Part
        Its reductions already in its strength.
    """
    one = absorber
    over = "a bare pin" if one.ends == "bare pin" else "a thimble"
    held = END_SHARE[_HELD_BY[one.ends]].value
    parts = "1 part" if one.legs == 1 else f"{one.legs} parts"
    counted = (
        f"; {one.counted_legs} of {one.legs} parts counted" if one.legs > one.counted_legs else ""
    )
    known = bool(np.isfinite(one.breaking_n))
    return Part(
        name="absorber cable",
        size=f"{one.size} {one.finish}, {parts}",
        metal=one.finish,
        breaking_n=one.breaking_n,
        factor=ABSORBER_FACTOR.value,
        reductions=(
            f"{_HELD_BY[one.ends]} keep {held:.0%}, the bend over {over} (D/d {one.bend_d_d:.3g})"
            f" {one.bend_share:.0%}: the smaller counts{counted}"
        ).replace("%", " %"),
        source=one.source,
        known=known,
        assumed=one.assumed,
    )
