"""The lightest row of each table whose working load carries a load."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lakemap.basis.errors import RangeError
from lakemap.basis.records import FloatArray, Units
from lakemap.rig.absorber import bend_of, end_of
from lakemap.rig.cable_tables import CABLE, Finish
from lakemap.rig.chain_tables import CHAIN
from lakemap.rig.ends_and_bends import COUNTED_PARTS, bend_share, cable_loop
from lakemap.rig.fitting_tables import FITTINGS, eye_bolt_breaking, fitting_breaking
from lakemap.rig.hardware import ABSORBER_FACTOR, CABLE_CONSTRUCTION, cable_strength, chain_strength
from lakemap.rig.trade import trade_size


@dataclass(frozen=True, slots=True, kw_only=True)
class Lightest:
    """One row for each load; arrays of the loads' shape."""

    size: NDArray[np.str_]  # blank where no row carries the load, or the load is not known
    working_n: FloatArray  # of that row; NaN where there is none


def lightest_chain(load_n: ArrayLike, *, grade: int, units: Units) -> Lightest:
    """Return the lightest chain whose working load carries a load.

    Parameters
    ----------
    load_n : array_like
        Highest pull [N], >= 0; NaN is not known.
    grade : int
        30, 43 or 70.
    units : {'ft-lb', 'm-kg'}
        Whose trade sizes; in mm there is Grade 30 alone.

    Returns
    -------
    Lightest
        Sizes of the chain.

    Raises
    ------
    RangeError
        If a load is negative.
    """
    rows = CHAIN.get(("inch" if units == "ft-lb" else "short", grade), {})
    sizes = tuple(rows)
    return _lightest(load_n, sizes, [chain_strength(size, grade).working for size in sizes])


def lightest_cable(
    load_n: ArrayLike, *, finish: Finish, units: Units, ends: str = "clips", legs: int = 2
) -> Lightest:
    """Return the lightest absorber cable whose loop carries a load by ten to one.

    Parameters
    ----------
    load_n : array_like
        Highest pull [N], >= 0; NaN is not known.
    finish : {'galvanised', 'stainless'}
        Of the cable.
    units : {'ft-lb', 'm-kg'}
        Whose sizes; in mm there is galvanised alone.
    ends : {'clips', 'sleeves', 'bare pin'}
        Of the cable.
    legs : int
        Parts of the cable; two at most count.

    Returns
    -------
    Lightest
        Sizes of the cable.

    Raises
    ------
    RangeError
        If a load is negative, or there are no such ends.
    """
    sizes = tuple(CABLE["in" if units == "ft-lb" else "mm", finish])
    ratios = [bend_of(ends, trade_size(size).length_m) for size in sizes]
    loops = cable_loop(
        np.array([cable_strength(size, CABLE_CONSTRUCTION, finish).value for size in sizes]),
        end_share=end_of(ends).value,
        bend_share=bend_share(np.array(ratios)).share,
        legs=min(legs, COUNTED_PARTS.value),
    )
    return _lightest(load_n, sizes, loops / ABSORBER_FACTOR.value)


def lightest_shackle(load_n: ArrayLike) -> Lightest:
    """Return the lightest shackle whose working load carries a load, pulled straight.

    Parameters
    ----------
    load_n : array_like
        Highest pull [N], >= 0; NaN is not known.

    Returns
    -------
    Lightest
        Sizes of the shackle, by its bow.

    Raises
    ------
    RangeError
        If a load is negative.
    """
    rows = FITTINGS["shackle"]
    return _lightest(
        load_n, tuple(rows), [fitting_breaking(row) / row.factor for row in rows.values()]
    )


def lightest_link(load_n: ArrayLike) -> Lightest:
    """Return the lightest master link whose working load carries a load, on one leg.

    Parameters
    ----------
    load_n : array_like
        Highest pull [N], >= 0; NaN is not known.

    Returns
    -------
    Lightest
        Sizes of the link's bar.

    Raises
    ------
    RangeError
        If a load is negative.
    """
    rows = FITTINGS["master link"]
    return _lightest(
        load_n, tuple(rows), [fitting_breaking(row) / row.factor for row in rows.values()]
    )


def lightest_eye_bolt(load_n: ArrayLike, *, angle_from_axis_deg: ArrayLike) -> Lightest:
    """Return the lightest forged shoulder eye bolt that carries a load at its angle.

    Parameters
    ----------
    load_n : array_like
        Highest pull [N], >= 0; NaN is not known.
    angle_from_axis_deg : array_like
        Of the pull, from the bolt's axis [degrees], 0 to 90; NaN is not known.

    Returns
    -------
    Lightest
        Sizes of the thread.

    Raises
    ------
    RangeError
        If a load is negative, or an angle is outside the table.
    """
    rows = FITTINGS["eye bolt"]
    load, angle = np.broadcast_arrays(
        np.asarray(load_n, dtype=np.float64), np.asarray(angle_from_axis_deg, dtype=np.float64)
    )
    straight = np.array([fitting_breaking(row) / row.factor for row in rows.values()])
    return _lightest(
        load, tuple(rows), eye_bolt_breaking(straight, angle_from_axis_deg=angle[..., None])
    )


def _lightest(load_n: ArrayLike, sizes: Sequence[str], working_n: ArrayLike) -> Lightest:
    """The first row that carries the load; the tables rise in weight."""
    load = np.asarray(load_n, dtype=np.float64)
    if (load < 0).any():
        wrong = ", ".join(f"{one:g}" for one in load[load < 0].ravel())
        raise RangeError(f"load {wrong} N: need >= 0")
    working = np.broadcast_to(np.asarray(working_n), (*load.shape, len(sizes)))
    carries = working >= load[..., None]  # NaN compares false, so nothing carries it
    none = np.ones((*load.shape, 1), dtype=bool)
    row = np.concatenate([carries, none], axis=-1).argmax(axis=-1)
    padded = np.concatenate([working, np.full((*load.shape, 1), np.nan)], axis=-1)
    return Lightest(
        size=np.array([*sizes, ""])[row],
        working_n=np.take_along_axis(padded, row[..., None], axis=-1)[..., 0],
    )
