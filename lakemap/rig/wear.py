"""How far chain, cable and fittings are worn, and when to take them out of use."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.published import exact
from lakemap.basis.records import FloatArray

_MO_124 = "NAVFAC MO-124, Mooring Maintenance, 1987, 6.2.1 and 6.2.2"
_B30_26 = "ASME B30.26, Rigging Hardware, 26-1.8, as quoted by makers"
_SLINGS = "29 CFR 1910.184 (f)(5), wire rope slings"
_HOISTS = "30 CFR 56.19024, wire ropes of hoists"
_PRACTICE = "common practice, no published source"
_OURS_LOOK = (
    "ours, after ASME B30.26, 26-1.8 (at least yearly where hard to reach) and towns that ask for"
    " every year to every second"
)
# of the bar's diameter when new, at the thinnest place where links bear on each other
CHAIN_GOOD: Final = exact(0.90, "d/d0", _MO_124, "down to this the chain is good")
CHAIN_RETIRED: Final = exact(0.80, "d/d0", _MO_124, "at this or less it is not used again")
FITTING_RETIRED: Final = exact(0.90, "d/d0", _B30_26, "10 % loss of the bow's or pin's diameter")
CABLE_RETIRED: Final = exact(0.94, "d/d0", f"{_HOISTS} (g)", "more than 6 % of the diameter lost")
# 7x19: 133 wires, 19 to a strand
WIRES: Final = exact(133, "wires", "the rope's name", "7 strands of 19 wires")
WIRES_OF_A_STRAND: Final = exact(19, "wires", "the rope's name", "7 strands of 19 wires")
BROKEN_OF_ALL: Final = exact(
    0.05, "share", f"{_HOISTS} (a)", "more than this of all wires broken in one lay"
)
BROKEN_OF_A_STRAND: Final = exact(
    0.15, "share", "30 CFR 56.19024 (a)", "more than this of one strand's wires broken in one lay"
)
BROKEN_AT_AN_END: Final = exact(
    1,
    "wires",
    "FAA AC 43.13-1B, 7-149",
    "any broken wire where the cable bends, rubs, or within 1 ft of a pressed fitting",
)
CABLE_LIFE_YEARS: Final = exact(9, "years", _PRACTICE, "absorber cable in the water, 9 to 10 years")
CABLE_LIFE_AT_MOST_YEARS: Final = exact(10, "years", _PRACTICE, "the same, at the longest")
CHAIN_LIFE_YEARS: Final = exact(30, "years", _PRACTICE, "chain, about 30 years")
CALIPER_M: Final = exact(1e-4, "m", "ours", "standard uncertainty of one caliper reading")
NEW_BAR_SHARE: Final = exact(
    0.02, "d/d0", "ours: half of the 4 to 5 % that bars are rolled to", "new, where nobody measured"
)
LOOK_YEARS: Final = exact(1, "years", _OURS_LOOK, "fittings, absorber and its ends, riser")
LOOK_BED_YEARS: Final = exact(2, "years", _OURS_LOOK, "ground chain and blocks")
# what takes a part out by its look alone, whatever it measures
OUT_BY_LOOK: Final[Mapping[str, str]] = MappingProxyType(
    {
        "chain": f"{_MO_124}: cracked or deformed links are not used again",
        "fitting": f"{_B30_26}: bent, twisted, stretched or cracked",
        "cable": f"{_SLINGS}: kinked, crushed, birdcaged, corroded, worn or cracked at its ends",
        "other": "ours: what is broken or gone holds nothing",
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class WearRate:
    """Wear between two measurements, or since new; NaN is unknown."""

    rate_m_a: FloatArray  # loss of diameter in a year
    rate_error_m_a: FloatArray  # its standard uncertainty
    years_left: FloatArray  # from the later measurement, to the diameter it is retired at
    safe_years_left: FloatArray  # the same at a rate one standard uncertainty higher


def worn_strength(share: ArrayLike) -> FloatArray:
    """Return what is left of a worn link's strength.

    S/S0 = (d/d0)^2: by the section that is left where it is worn all round. Ours, by geometry; a
    link worn flat on one side has more left, pits, cracks and bending are not counted.

    Parameters
    ----------
    share : array_like
        Least bar thickness over the new one, d/d0, above 0 and at most 1.

    Returns
    -------
    ndarray
        Share of the new strength.

    Raises
    ------
    RangeError
        If a share is outside its range.
    """
    ratio = _shares(share)
    left: FloatArray = ratio * ratio
    return left


def worn_flat_strength(share: ArrayLike) -> FloatArray:
    """Return what is left of the strength of a link that is worn flat on one side.

    With x = 1 - d/d0 the segment cut off a round bar is (acos(1 - 2x) - (1 - 2x) 2 sqrt(x - x^2))
    / pi of its section. Ours, by geometry.

    Parameters
    ----------
    share : array_like
        Least bar thickness over the new one, d/d0, above 0 and at most 1.

    Returns
    -------
    ndarray
        Share of the new strength.

    Raises
    ------
    RangeError
        If a share is outside its range.
    """
    x = 1.0 - _shares(share)
    cut = np.arccos(1 - 2 * x) - (1 - 2 * x) * 2 * np.sqrt(np.maximum(x - x * x, 0.0))
    left: FloatArray = 1.0 - cut / np.pi
    return left


def _shares(share: ArrayLike) -> FloatArray:
    ratio = np.asarray(share, dtype=np.float64)
    if not ((ratio > 0) & (ratio <= 1)).all():
        raise RangeError(f"a worn part is above 0 and at most its new size: {ratio.tolist()}")
    return ratio


def wear_rate(
    new_m: ArrayLike,
    before_m: ArrayLike,
    after_m: ArrayLike,
    *,
    years: ArrayLike,
    error_m: float = CALIPER_M.value,
) -> WearRate:
    """Return the wear between two measurements, and how long the part lasts at that rate.

    r = (d1 - d2) / (t2 - t1), its uncertainty sqrt(2) sigma / (t2 - t1), years left
    (d2 - 0.8 d0) / r, on the safe side (d2 - 0.8 d0) / (r + sigma_r). Ours: a straight line, which
    holds only once the zinc is off; the limit is that of NAVFAC MO-124.

    Parameters
    ----------
    new_m, before_m, after_m : array_like
        Bar diameter when new, at the first and at the second measurement [m], > 0. Where there is
        one measurement only, the first is the new diameter at its age 0.
    years : array_like
        Between the two measurements, > 0.
    error_m : float
        Standard uncertainty of one measurement [m].

    Returns
    -------
    WearRate
        Years left are NaN where nothing was lost: that is unknown, not for ever; 0 where the part
        is at its limit.

    Raises
    ------
    RangeError
        If a diameter or the time between is not above 0.
    """
    given = (np.asarray(value, dtype=np.float64) for value in (new_m, before_m, after_m, years))
    new, before, after, time = np.broadcast_arrays(*given)
    if not ((new > 0) & (before > 0) & (after > 0) & (time > 0)).all():
        raise RangeError("diameters and the time between measurements are above 0")
    rate = (before - after) / time
    rate_error = np.broadcast_to(np.sqrt(2.0) * error_m / time, rate.shape).copy()
    return years_to(CHAIN_RETIRED.value * new, after, rate_m_a=rate, rate_error_m_a=rate_error)


def years_to(
    limit_m: ArrayLike, now_m: ArrayLike, *, rate_m_a: ArrayLike, rate_error_m_a: ArrayLike
) -> WearRate:
    """Return how long a part lasts at a rate of wear, to any diameter that it is retired at.

    Years left (d - d_R) / r, on the safe side (d - d_R) / (r + sigma_r). Ours: a straight line.

    Parameters
    ----------
    limit_m : array_like
        Diameter d_R that it is retired at [m].
    now_m : array_like
        Measured last [m].
    rate_m_a : array_like
        Loss of diameter in a year [m].
    rate_error_m_a : array_like
        Its standard uncertainty [m].

    Returns
    -------
    WearRate
        Years left are NaN where nothing was lost; 0 where the part is at its limit.
    """
    given = (
        np.asarray(value, dtype=np.float64) for value in (limit_m, now_m, rate_m_a, rate_error_m_a)
    )
    limit, now, rate, error = np.broadcast_arrays(*given)
    spare = np.maximum(now - limit, 0.0)
    done = spare <= 0
    return WearRate(
        rate_m_a=rate.copy(),
        rate_error_m_a=error.copy(),
        years_left=_years(spare, rate, done),
        safe_years_left=_years(spare, np.maximum(rate, 0.0) + error, done),
    )


def wear_line(
    years: ArrayLike, diameters_m: ArrayLike, *, error_m: float = CALIPER_M.value
) -> tuple[float, float]:
    """Return the loss of diameter in a year through several measurements of one part.

    The straight line of least squares; of two measurements it is their difference over the time
    between, of uncertainty sqrt(2) sigma / (t2 - t1). Source: the method of least squares, slope of
    n readings of one uncertainty: sigma / sqrt(sum (t - mean)^2).

    Parameters
    ----------
    years : array_like, shape [n]
        When, not all at once.
    diameters_m : array_like, shape [n]
        What was measured [m].
    error_m : float
        Standard uncertainty of one measurement [m].

    Returns
    -------
    float
        Loss in a year [m]; below 0 where it seems to have grown.
    float
        Its standard uncertainty [m].

    Raises
    ------
    RangeError
        If there are no two times.
    """
    at, found = np.asarray(years, dtype=np.float64), np.asarray(diameters_m, dtype=np.float64)
    off = at - at.mean()
    spread = float(off @ off)
    if not spread > 0:
        raise RangeError(f"measured at {at.tolist()} years: wear needs two times")
    return float(-(off @ found) / spread), error_m / float(np.sqrt(spread))


def new_to_worn(new_m: float, worn_m: float, *, years: float) -> tuple[float, float]:
    """Return the loss of diameter in a year since a part was new, where nobody measured it then.

    r = (d0 - d1) / t; the new diameter is a table's, known to `NEW_BAR_SHARE` of it, the other to a
    caliper reading. Ours: a straight line.

    Parameters
    ----------
    new_m : float
        By the table [m].
    worn_m : float
        Measured [m].
    years : float
        Since it was new, > 0.

    Returns
    -------
    float
        Loss in a year [m]; below 0 where it seems to have grown.
    float
        Its standard uncertainty [m].

    Raises
    ------
    RangeError
        If no time has passed.
    """
    if not years > 0:
        raise RangeError(f"measured {years:g} years after it was new: need above 0")
    error = float(np.hypot(NEW_BAR_SHARE.value * new_m, CALIPER_M.value))
    return (new_m - worn_m) / years, error / years


def _years(spare_m: FloatArray, rate_m_a: FloatArray, done: np.ndarray) -> FloatArray:
    left = np.full(spare_m.shape, np.nan)
    np.divide(spare_m, rate_m_a, out=left, where=rate_m_a > 0)
    left[done] = 0.0
    return left


def broken_wire_limits(
    wires: int = int(WIRES.value), of_a_strand: int = int(WIRES_OF_A_STRAND.value)
) -> tuple[int, int]:
    """Return how many broken wires in one lay take a cable out of use.

    Source: 30 CFR 56.19024 (a): more than 5 % of all wires, or more than 15 % of one strand's.

    Parameters
    ----------
    wires, of_a_strand : int
        Of the rope and of one strand, > 0.

    Returns
    -------
    tuple of int
        Of all, and of one strand: the first number at which it is retired.

    Raises
    ------
    RangeError
        If a count is not above 0.
    """
    if wires < 1 or of_a_strand < 1:
        raise RangeError("a rope has wires")
    return (
        int(np.floor(wires * BROKEN_OF_ALL.value)) + 1,
        int(np.floor(of_a_strand * BROKEN_OF_A_STRAND.value)) + 1,
    )
