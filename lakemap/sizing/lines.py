"""The line of many rigs at once; NaN where a rig has no solution or something is not known."""

from collections.abc import Callable
from dataclasses import fields
from typing import Any, TypeVar

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.records import BoolArray, FloatArray
from lakemap.rig.holding import LineRig, slide_pull_primary
from lakemap.rig.line import LinePulls, LineState, line_pulls, slide_pull, two_cluster_line

_Record = TypeVar("_Record")


def solvable(rig: LineRig) -> BoolArray:
    """Tell which rigs have a line to solve: known, in water, and long enough.

    Parameters
    ----------
    rig : LineRig
        Arrays of one shape.

    Returns
    -------
    ndarray of bool
        Of that shape.
    """
    known = np.isfinite(
        rig.drop_m + rig.ground_m + rig.riser_m + rig.secondary_wet_n
        + rig.ground_weight_n_m + rig.riser_weight_n_m
    )  # fmt: skip
    return (
        known
        & (rig.drop_m > 0)
        & (rig.riser_m > 0)
        & (rig.ground_m >= 0)
        & (rig.drop_m < rig.riser_m + rig.ground_m)
        & (rig.secondary_wet_n >= 0)
    )


def at_rest(pull_n: ArrayLike, rig: LineRig) -> LineState:
    """Return the line under a pull.

    Parameters
    ----------
    pull_n : array_like
        Horizontal pull at the hook [N]; NaN unknown.
    rig : LineRig
        Arrays; all broadcast together.

    Returns
    -------
    LineState
        NaN where there is no solution.
    """
    pull, *arrays = np.broadcast_arrays(np.asarray(pull_n, dtype=np.float64), *_values(rig))
    spread = LineRig(**dict(zip(_names(rig), arrays, strict=True)))
    solved = solvable(spread) & np.isfinite(pull)
    return _scattered(
        LineState, solved, lambda kept: two_cluster_line(pull[kept], **_kept(spread, kept))
    )


def pulls(rig: LineRig) -> LinePulls:
    """Return the pulls at which the line changes its state.

    Parameters
    ----------
    rig : LineRig
        Arrays of one shape.

    Returns
    -------
    LinePulls
        NaN where there is no solution.
    """
    solved = solvable(rig)
    return _scattered(LinePulls, solved, lambda kept: line_pulls(**_kept(rig, kept)))


def slides(friction: FloatArray, rig: LineRig) -> FloatArray:
    """Return the pull at which the secondary slides.

    Parameters
    ----------
    friction : ndarray
        Coefficient; 0 where there is none to count on.
    rig : LineRig
        Arrays of one shape.

    Returns
    -------
    ndarray
        Pull [N]; NaN where there is no solution.
    """
    solved = solvable(rig)
    found = np.full(rig.drop_m.shape, np.nan)
    found[solved] = 0.0
    rubs = solved & (friction > 0)
    if rubs.any():
        found[rubs] = slide_pull(
            friction[rubs],
            drop_m=rig.drop_m[rubs],
            riser_m=rig.riser_m[rubs],
            riser_weight_n_m=rig.riser_weight_n_m[rubs],
            secondary_wet_n=rig.secondary_wet_n[rubs],
        )
    return found


def primary_slides(
    friction: FloatArray, rig: LineRig, *, wet_n: FloatArray, passive_n: FloatArray
) -> FloatArray:
    """Return the pull at which the primary slides.

    Parameters
    ----------
    friction : ndarray
        Coefficient.
    rig : LineRig
        Arrays of one shape.
    wet_n : ndarray
        The primary's weight in water [N].
    passive_n : ndarray
        What the soil adds [N]; NaN where nothing settles.

    Returns
    -------
    ndarray
        Pull [N]; NaN where there is no solution.
    """
    solved = solvable(rig) & np.isfinite(passive_n + wet_n)
    found = np.full(rig.drop_m.shape, np.nan)
    if solved.any():
        found[solved] = slide_pull_primary(
            friction[solved],
            wet_n=wet_n[solved],
            passive_n=passive_n[solved],
            rig=LineRig(**_kept(rig, solved)),
        )
    return found


def _names(rig: LineRig) -> list[str]:
    return [field.name for field in fields(rig)]


def _values(rig: LineRig) -> list[FloatArray]:
    return [getattr(rig, name) for name in _names(rig)]


def _kept(rig: LineRig, kept: BoolArray) -> dict[str, FloatArray]:
    return {name: getattr(rig, name)[kept] for name in _names(rig)}


def _scattered(
    kind: type[_Record], solved: BoolArray, solve: Callable[[BoolArray], Any]
) -> _Record:
    """Solve where it can be solved, and put NaN everywhere else."""
    names = [field.name for field in fields(kind)]  # type: ignore[arg-type]
    found = {name: np.full(solved.shape, np.nan) for name in names}
    if solved.any():
        part = solve(solved)
        for name in names:
            found[name][solved] = getattr(part, name)
    return kind(**found)
