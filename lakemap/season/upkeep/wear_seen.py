"""How far the parts that somebody measured are worn, and when they come to their last size."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

import numpy as np

from lakemap.rig.wear import (
    CABLE_RETIRED,
    CHAIN_RETIRED,
    FITTING_RETIRED,
    new_to_worn,
    wear_line,
    years_to,
)
from lakemap.season.rig_inventory import PieceKind, RigPiece
from lakemap.season.upkeep.days import years_after, years_between
from lakemap.season.upkeep.inspected import Seen
from lakemap.season.upkeep.part_records import Since, Worn

# ours: over a shorter time a caliper's error is larger than the wear
_LEAST_YEARS: Final = 0.75
_STILL_NEW: Final = 0.95  # ours: of the table's size; thinner is no new part


@dataclass(frozen=True, slots=True, kw_only=True)
class Clock:
    """How old a part is at least, and the rows about it since then."""

    since: date | None
    what: Since | None
    rows: tuple[Seen, ...]  # by date


@dataclass(frozen=True, slots=True, kw_only=True)
class _Measured:
    """What is known of one part before its dates are reckoned."""

    new_m: float
    by_day: tuple[tuple[date, float], ...]
    limit_m: float
    rate: tuple[float, float] | None
    since_new: bool


def retired_share(kind: PieceKind) -> float | None:
    """Return the share of its new diameter at which a part is retired; None: no rule is in print.

    Parameters
    ----------
    kind : str
        Of the piece.

    Returns
    -------
    float or None
        Chain 0.80, fittings 0.90, cable 0.94.
    """
    rules = {"chain": CHAIN_RETIRED, "fitting": FITTING_RETIRED, "cable": CABLE_RETIRED}
    return rules[kind].value if kind in rules else None


def worn_parts(pieces: Sequence[RigPiece], clocks: Sequence[Clock]) -> list[Worn | None]:
    """Return how far parts are worn.

    The rate is that of the straight line through the measurements since the part was new or was
    replaced; with one alone, from its new size. Between measurements, and since new, at least nine
    months must lie. A cable's rate is not reckoned: wires break long before it is thin.

    Parameters
    ----------
    pieces : sequence of RigPiece
        Of any floats.
    clocks : sequence of Clock
        Of the same pieces.

    Returns
    -------
    list of Worn or None
        None where nobody measured, or no new size is known.
    """
    found = [_measured(piece, clock) for piece, clock in zip(pieces, clocks, strict=True)]
    at = [i for i, one in enumerate(found) if one is not None]
    known = [one for one in found if one is not None]
    rates = [one.rate or (np.nan, np.nan) for one in known]
    left = years_to(
        [one.limit_m for one in known],
        [one.by_day[-1][1] for one in known],
        rate_m_a=[rate for rate, _ in rates],
        rate_error_m_a=[error for _, error in rates],
    )
    worn: list[Worn | None] = [None] * len(found)
    dates = zip(left.years_left.tolist(), left.safe_years_left.tolist(), strict=True)
    for i, one, (likely, safe) in zip(at, known, dates, strict=True):
        worn[i] = _worn(one, likely_years=likely, safe_years=safe)
    return worn


def _worn(one: _Measured, *, likely_years: float, safe_years: float) -> Worn:
    last, least_m = one.by_day[-1]
    return Worn(
        new_m=one.new_m,
        least_m=least_m,
        measured_on=last,
        measured=len(one.by_day),
        retired_m=one.limit_m,
        rate_m_a=None if one.rate is None else one.rate[0],
        rate_error_m_a=None if one.rate is None else one.rate[1],
        since_new=one.since_new,
        likely_on=years_after(last, likely_years),
        safe_on=years_after(last, safe_years),
    )


def _measured(piece: RigPiece, clock: Clock) -> _Measured | None:
    share = retired_share(piece.kind)
    new_m, rows = _new_size(piece, clock)
    days: dict[date, float] = {}
    for row in rows:
        if row.diameter_m is not None:  # the thinnest place of a day counts
            days[row.on] = min(row.diameter_m, days.get(row.on, np.inf))
    if share is None or new_m is None or not days:
        return None
    by_day = tuple(sorted(days.items()))
    rate, since_new = (None, False) if piece.kind == "cable" else _rate(new_m, by_day, clock)
    return _Measured(
        new_m=new_m, by_day=by_day, limit_m=share * new_m, rate=rate, since_new=since_new
    )


def _new_size(piece: RigPiece, clock: Clock) -> tuple[float | None, Sequence[Seen]]:
    """The size when new, as measured on the day it was replaced or by the table; the rows after."""
    if clock.what != "replaced" or not clock.rows:
        return piece.new_diameter_m, clock.rows
    first, *rest = clock.rows
    new, by_table = first.diameter_m, piece.new_diameter_m
    # "worn, replaced, 0.30 in" measured the old one
    if new is None or (by_table is not None and new < _STILL_NEW * by_table):
        return by_table, rest
    return new, clock.rows


def _rate(
    new_m: float, by_day: tuple[tuple[date, float], ...], clock: Clock
) -> tuple[tuple[float, float] | None, bool]:
    """Loss in a year with its uncertainty, and whether it counts from the size when new."""
    first, last = by_day[0][0], by_day[-1][0]
    if years_between(first, last) >= _LEAST_YEARS:
        at = [years_between(first, day) for day, _ in by_day]
        return wear_line(at, [diameter for _, diameter in by_day]), False
    if clock.since is None or clock.what == "first seen":
        return None, False
    years = years_between(clock.since, last)
    if years < _LEAST_YEARS:
        return None, False
    return new_to_worn(new_m, by_day[-1][1], years=years), True
