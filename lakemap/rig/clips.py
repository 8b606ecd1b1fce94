"""Wire rope clips: how many, how far apart, how tight."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.published import Published, exact
from lakemap.basis.quantities import INCH_M
from lakemap.basis.records import FloatArray
from lakemap.rig.trade import row_of, trade_size

_SMALL: Final = "a maker's table for small clips (secondary source)"
_CLIPS: Final = "WorkSafeNB, wire rope cable clips; California 8 CCR 8497, table 1"
_FEDERAL: Final = "29 CFR 1918, appendix II, table 1"
_NAVY: Final = "US Navy NAVEDTRA 14026, p. 1-8"

LEAST_CLIPS: Final = exact(
    3, "clips", "ours: the federal table has no smaller row, and one loose clip leaves two", "least"
)
METRIC_NEAR: Final = exact(0.06, "share", "ours", "a cable in mm and the inch size it is taken for")
CLIP_SPACING_D: Final = exact(6.0, "diameters", _NAVY, "between clips")


@dataclass(frozen=True, slots=True, kw_only=True)
class ClipRow:
    """U-bolt clips, forged, on one size of cable with a thimble."""

    size: str
    count: Published
    turn_back: Published  # in
    torque: Published  # ft lbf


@dataclass(frozen=True, slots=True, kw_only=True)
class FederalClipRow:
    """Fewest clips for marine cargo gear, and how far apart."""

    size: str
    forged: Published
    other: Published
    spacing: Published  # in


def _clip_row(size: str, count: int, turn_back: float, torque: float) -> ClipRow:
    source = _SMALL if trade_size(size).number < trade_size("5/16 in").number else _CLIPS
    # the two sources differ here: 5 1/4 and 5 1/2 in
    low = 5.25 if size == "5/16 in" else turn_back
    return ClipRow(
        size=size,
        count=exact(count, "clips", source, size),
        turn_back=Published(
            value=turn_back, unit="in", low=low, high=turn_back, source=source, locator=size
        ),
        torque=exact(torque, "ft lbf", source, size),
    )


CLIPS: Final[Mapping[str, ClipRow]] = MappingProxyType(
    {
        row[0]: _clip_row(*row)
        for row in (
            ("1/8 in", 2, 3.75, 4.5),
            ("3/16 in", 2, 3.75, 7.5),
            ("1/4 in", 2, 4.75, 15.0),
            ("5/16 in", 2, 5.5, 30.0),
            ("3/8 in", 2, 6.5, 45.0),
            ("7/16 in", 2, 7.0, 65.0),
            ("1/2 in", 3, 11.5, 65.0),
            ("9/16 in", 3, 12.0, 95.0),
            ("5/8 in", 3, 12.0, 95.0),
            ("3/4 in", 4, 18.0, 130.0),
            ("7/8 in", 4, 19.0, 225.0),
            ("1 in", 5, 26.0, 225.0),
        )
    }
)
# the first row holds for every smaller size too
FEDERAL_CLIPS: Final[Mapping[str, FederalClipRow]] = MappingProxyType(
    {
        size: FederalClipRow(
            size=size,
            forged=exact(forged, "clips", _FEDERAL, size),
            other=exact(other, "clips", _FEDERAL, size),
            spacing=exact(spacing, "in", _FEDERAL, size),
        )
        for size, forged, other, spacing in (
            ("1/2 in", 3, 4, 3.0),
            ("5/8 in", 3, 4, 3.75),
            ("3/4 in", 4, 5, 4.5),
            ("7/8 in", 4, 5, 5.25),
            ("1 in", 5, 6, 6.0),
        )
    }
)


def clip_row(size: str) -> ClipRow | None:
    """Return the table's row for a size of cable.

    A size in mm takes the row of the inch size that it is nearest to, within 6 % of its diameter
    (ours): the same clips are sold for both, 8 mm with 5/16 in, 10 mm with 3/8 in.

    Parameters
    ----------
    size : str
        Of the cable, as written.

    Returns
    -------
    ClipRow or None
        None where the table has none.

    Raises
    ------
    RangeError
        If it is no size.
    """
    named = trade_size(size)
    if named.unit == "in":
        return CLIPS.get(named.name)
    off = {name: abs(trade_size(name).length_m / named.length_m - 1) for name in CLIPS}
    near = min(off, key=off.__getitem__)
    return CLIPS[near] if off[near] <= METRIC_NEAR.value else None


def clip_count(size: str) -> int:
    """Return how many clips an end takes: the table's count, and at least three.

    Parameters
    ----------
    size : str
        Of the cable, as written.

    Returns
    -------
    int
        Forged U-bolt clips.

    Raises
    ------
    RangeError
        If the table has no such size; names those that exist.
    """
    row = clip_row(size) or row_of(CLIPS, size, what="clips for cable")
    return int(max(row.count.value, LEAST_CLIPS.value))


def navy_clip_count(diameter_m: float) -> int:
    """Return the Navy's count of clips: 3 D + 1, D in inches, rounded up.

    Source: US Navy NAVEDTRA 14026, p. 1-8.

    Parameters
    ----------
    diameter_m : float
        Diameter of the cable [m].

    Returns
    -------
    int
        Clips.
    """
    return math.ceil(3 * diameter_m / INCH_M.value + 1 - 1e-9)


def clip_spacing(diameter_m: ArrayLike) -> FloatArray:
    """Return the space between clips: 6 D.

    Source: US Navy NAVEDTRA 14026, p. 1-8; the federal table prints the same from 1/2 in on.

    Parameters
    ----------
    diameter_m : array_like
        Diameter D of the cable [m].

    Returns
    -------
    ndarray
        Space [m].
    """
    return np.asarray(CLIP_SPACING_D.value * np.asarray(diameter_m, dtype=np.float64))


def turn_back(size: str) -> float:
    """Return how much cable is turned back at an end that is held by clips.

    Source: the table of `CLIPS`; for a size that it has not, as many diameters as its row with
    the most has (ours).

    Parameters
    ----------
    size : str
        Of the cable, as written.

    Returns
    -------
    float
        Length from the thimble's bight to the cable's end [m].

    Raises
    ------
    RangeError
        If it is no size.
    """
    named, row = trade_size(size), clip_row(size)
    if row is not None:
        return row.turn_back.value * INCH_M.value
    most = max(
        one.turn_back.value * INCH_M.value / trade_size(one.size).length_m for one in CLIPS.values()
    )
    return most * named.length_m
