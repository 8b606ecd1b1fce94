"""Ends and bends of cable: what clips, sleeves, pins and thimbles leave of its strength."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.published import Published, exact
from lakemap.basis.records import BoolArray, FloatArray
from lakemap.basis.working import Formula, Term

_TM: Final = "US Army TM 5-3810-305-10, table 4, terminal efficiencies (approximate)"
_PIN: Final = "trade table of rope strength over D/d, widely reprinted; static, new rope"
_LIFE: Final = "trade table of relative bending life over D/d"
_STRAIGHT_DEG: Final = 180.0
_SLEEVE: Final = "ours: pressed and gauged; the Army's table for a spliced sleeve up to 1 in"


def _share(value: float, locator: str, source: str = _TM) -> Published:
    return exact(value, "", source, locator)


# share of the cable's strength that each end keeps, wire-rope core unless said
END_SHARE: Final[Mapping[str, Published]] = MappingProxyType(
    {
        "poured socket": _share(1.00, "spelter or resin"),
        "swaged socket": _share(0.95, "not established for fibre core"),
        "spliced sleeve": _share(0.95, "mechanical, up to 1 in"),
        "spliced sleeve, fibre core": _share(0.925, "mechanical, up to 1 in"),
        "hand-tucked splice": _share(0.86, "1/2 in, carbon steel"),
        "hand-tucked splice, stainless": _share(0.76, "1/2 in"),
        "wedge socket": Published(
            value=0.75, unit="", low=0.75, high=0.95, source=_TM, locator="the low end taken"
        ),
        "clips": _share(0.80, "right number, right way round, to their torque"),
        "sleeves": Published(
            value=0.95,
            unit="",
            low=0.95,
            high=1.00,
            source=_SLEEVE,
            locator="FAA AC 43.13-1B, 7-148, takes copper sleeves over thimbles as full strength",
        ),
    }
)
# D/d of pin or groove over rope, share left
BEND_SHARE: Final[Mapping[float, Published]] = MappingProxyType(
    {
        ratio: exact(share, "", _PIN, f"D/d {ratio:g}")
        for ratio, share in (
            (1.0, 0.50),
            (2.0, 0.65),
            (4.0, 0.75),
            (6.0, 0.79),
            (8.0, 0.83),
            (10.0, 0.86),
            (15.0, 0.89),
            (20.0, 0.91),
            (30.0, 0.93),
            (40.0, 0.95),
        )
    }
)
# nothing is in print below 12: no life can be told over a bare pin
BEND_LIFE: Final[Mapping[float, Published]] = MappingProxyType(
    {
        ratio: exact(life, "", _LIFE, f"D/d {ratio:g}")
        for ratio, life in (
            (12.0, 1.1),
            (14.0, 1.5),
            (16.0, 2.1),
            (18.0, 2.9),
            (20.0, 3.8),
            (25.0, 6.6),
            (30.0, 10.0),
        )
    }
)
THIMBLE_D_D: Final = exact(
    4.0, "D/d", "ours: a groove of 1 1/4 in for cable of 5/16 in, 32 mm for 8 mm", "thimble"
)
BARE_PIN_IN: Final = exact(3 / 8, "in", "ours: the thinnest pin that a rig hangs on", "bare pin")
COUNTED_PARTS: Final = exact(
    2.0,
    "parts",
    "US Navy training manuals 14080 (3-24) and 14081 (13-28), bridles on a stiff load",
    "of three or four legs two may carry nearly all, and two are counted",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bend:
    """What a bend leaves of a cable's strength; arrays of one shape."""

    share: FloatArray
    too_tight: BoolArray  # tighter than any bend in print


def bend_share(ratio: ArrayLike) -> Bend:
    """Return the share of its strength that cable keeps over a pin or in a thimble.

    Source: trade table of strength over D/d, static, new rope; linear between its rows (ours). The
    last row holds beyond 40; below 1 the first is kept and marked, for nothing is in print there.

    Parameters
    ----------
    ratio : array_like
        D/d, diameter of the pin or of the thimble's groove over that of the cable, > 0.

    Returns
    -------
    Bend
        Shares, and where the bend is tighter than the table.

    Raises
    ------
    RangeError
        If a ratio is not above 0.
    """
    given = np.asarray(ratio, dtype=np.float64)
    if not (given > 0).all():
        wrong = ", ".join(f"{one:g}" for one in given[~(given > 0)].ravel())
        raise RangeError(f"D/d {wrong}: need above 0 ({_PIN})")
    rows, shares = list(BEND_SHARE), [one.value for one in BEND_SHARE.values()]
    return Bend(share=np.interp(given, rows, shares), too_tight=given < rows[0])


def bend_life(ratio: ArrayLike) -> FloatArray:
    """Return the relative life of rope that runs over a bend again and again.

    Source: trade table of relative bending life over D/d; linear between its rows (ours).

    Parameters
    ----------
    ratio : array_like
        D/d, 12 to 30.

    Returns
    -------
    ndarray
        Life, 1.1 at D/d 12.

    Raises
    ------
    RangeError
        If a ratio is outside the table; a bare pin always is.
    """
    given = np.asarray(ratio, dtype=np.float64)
    rows, lives = list(BEND_LIFE), [one.value for one in BEND_LIFE.values()]
    sound = (given >= rows[0]) & (given <= rows[-1])
    if not sound.all():
        wrong = ", ".join(f"{one:g}" for one in given[~sound].ravel())
        raise RangeError(f"D/d {wrong}: need {rows[0]:g} to {rows[-1]:g} ({_LIFE})")
    return np.interp(given, rows, lives)


def leg_share(angle_deg: ArrayLike) -> FloatArray:
    """Return the pull in each of two legs from one pin: T/P = 1/(2 cos(theta/2)).

    Source: the parallelogram of forces.

    Parameters
    ----------
    angle_deg : array_like
        Angle theta between the legs [degrees], 0 to below 180.

    Returns
    -------
    ndarray
        Share of the line's pull.

    Raises
    ------
    RangeError
        If an angle is outside its range.
    """
    angle = np.asarray(angle_deg, dtype=np.float64)
    sound = (angle >= 0) & (angle < _STRAIGHT_DEG)
    if not sound.all():
        wrong = ", ".join(f"{one:g}" for one in angle[~sound].ravel())
        raise RangeError(f"{wrong} degrees between two legs: need 0 to below 180")
    share: FloatArray = 1 / (2 * np.cos(np.radians(angle) / 2))
    return share


def cable_loop(
    strength_n: ArrayLike, *, end_share: ArrayLike, bend_share: ArrayLike, legs: ArrayLike
) -> FloatArray:
    """Return the breaking strength of parallel legs of cable with ends and a bend.

    leg = min(end, bend) x strength, loop = n x leg: end and bend weaken the cable at different
    places, so the worse of the two counts and not their product. The product holds only for a clip
    within one cable's diameter of the bend. Ours, from the two tables.

    Parameters
    ----------
    strength_n : array_like
        Of one straight part of new cable [N].
    end_share : array_like
        What the end keeps, of `END_SHARE`.
    bend_share : array_like
        What the tightest bend keeps, of `bend_share`.
    legs : array_like
        Parts n that share the pull; count parts of unlike length as two at most.

    Returns
    -------
    ndarray
        Strength [N].
    """
    left = np.minimum(np.asarray(end_share, dtype=np.float64), bend_share)
    loop: FloatArray = np.asarray(legs, dtype=np.float64) * (left * strength_n)
    return loop


CABLE_LOOP: Final = Formula(
    key="cable_loop",
    name="Breaking strength of the absorber",
    symbol="B",
    words="B = n · min(η_end, η_bend) · S",
    unit="N",
    source=f"ours: the worse of two places; ends: {_TM}; bends: {_PIN}",
    terms={
        "strength_n": Term(symbol="S", name="strength of one straight part", unit="N"),
        "end_share": Term(symbol="η_end", name="what the cable's end keeps", unit=""),
        "bend_share": Term(symbol="η_bend", name="what the tightest bend keeps", unit=""),
        "legs": Term(symbol="n", name="parts that count", unit=""),
    },
    law=cable_loop,
    valid="one or two parallel parts; a clip more than one diameter away from the bend",
    holds=lambda legs, **_: legs <= COUNTED_PARTS.value,
)
