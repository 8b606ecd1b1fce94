"""Allowed water: where a new float may lie, its outline right to 5 cm."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from lakemap.basis.records import BoolArray, FloatArray, Geometry, IntArray
from lakemap.siting.cell_bounds import spare_range
from lakemap.siting.margins import BED, DECK, JUMP, RIG, Margins, least_radius
from lakemap.siting.outline import cut_squares, follows
from lakemap.siting.spots import SpotField
from lakemap.siting.squares import UNIT_M, LatticePoints, Squares, joined, squares_over

_COARSE: Final = 512  # units: 16 m
_FINE: Final = 32  # 1 m: from here on corners decide, not bounds
_STRAIGHT: Final = 16  # 50 cm, through which an arc of 5 m bends by 6 mm
_STEEPEST: Final = 2.0  # ours: metres of spare that a metre of way changes at most
_WIDER: Final = 1.25  # ours: what a metre of line adds to a radius at most, at twice the drop
LENGTHS_STEP_M: Final = (
    0.5  # ours: what a riser and a ground chain longer by one step add to a radius
)
_PULL_IN_M: Final = 0.006  # the outline lies this far inside what was found
_CLOSE_M: Final = 0.001  # what is left between squares of different size
_PLAIN_M: Final = 0.001  # corners that matter less are left out
_NOT_METRES: Final = (RIG, BED, JUMP, DECK)


def allowed_water(
    field: SpotField, *, within: Sequence[float] | None = None, finest: int = 1
) -> Geometry:
    """Return where a float's primary may lie.

    Squares of 16 m are split for as long as the rules forbid a part of one and not another; below
    1 m the outline is followed through them, and they are split on where more than one rule binds
    or a length changes. It is pulled in by 6 mm, so that all of what is left is allowed.

    Parameters
    ----------
    field : SpotField
        What is to be laid, and where.
    within : sequence of float or None
        West, south, east, north [m]: only there, but for what squares of 16 m take in besides.
    finest : int
        Side of the finest squares, in 32nds of a metre; a power of 2 up to 32. Corners are cut by
        up to half of it: 1 is right to 5 cm.

    Returns
    -------
    shapely MultiPolygon
        Metres; empty where there is no such water.
    """
    least = least_radius(field)
    if not np.isfinite(least):
        return shapely.MultiPolygon()
    points = LatticePoints(field, least)
    start = squares_over(field.lake.water.bounds if within is None else within, _COARSE)
    whole, mixed = _coarse(field, start, least)
    inner, cut = _fine(points, mixed, finest)
    parts = np.concatenate([whole.boxes, inner.boxes, cut_squares(points, cut)])
    found = shapely.union_all(parts)
    closed = shapely.buffer(found, _CLOSE_M, quad_segs=2)
    plain = shapely.simplify(closed, _PLAIN_M)
    drawn = shapely.buffer(plain, -(_CLOSE_M + _PULL_IN_M), quad_segs=2)
    return shapely.MultiPolygon([part for part in shapely.get_parts(drawn) if part.area > 0])


def _coarse(field: SpotField, left: Squares, least_radius_m: float) -> tuple[Squares, Squares]:
    """Squares that are allowed whole, and those of 1 m that may hold an edge."""
    water = field.lake.water
    shapely.prepare(water)
    whole, side = [], _COARSE
    while side > _FINE:
        left = left.only(_may_hold(field, left, least_radius_m))
        if len(left.side):
            spare = spare_range(field, left.middles_m, _half_m(side))
            inside = (spare.low >= 0) & shapely.contains(water, left.boxes)
            whole.append(left.only(inside))
            left = left.only(~inside & (spare.high >= 0))
        left, side = left.quarters(), side // 2
    return joined(whole), left.only(_may_hold(field, left, least_radius_m))


def _half_m(side: int) -> float:
    """From the middle of a square to its corners."""
    return side * UNIT_M / float(np.sqrt(2))


def _may_hold(field: SpotField, squares: Squares, least_radius_m: float) -> BoolArray:
    """Squares on the water with room for the smallest circle."""
    if not len(squares.side):
        return np.empty(0, dtype=bool)
    room, _ = field.free.room(squares.middles_m)
    may: BoolArray = room + _half_m(int(squares.side[0])) >= least_radius_m
    may[may] = shapely.intersects(field.lake.water, squares.only(may).boxes)
    return may


def _fine(points: LatticePoints, squares: Squares, finest: int) -> tuple[Squares, Squares]:
    """Small squares that are allowed whole, and those that the outline runs through."""
    inner: list[Squares] = []
    cut: list[Squares] = []
    while len(squares.side):
        side = int(squares.side[0])
        four = _Four.of(points.ask(squares.corners.reshape(-1, 2)))
        within = four.least_m >= 0
        every, none, last = within.all(axis=1), ~within.any(axis=1), side <= finest
        whole = every & (last | four.surely_allowed)
        runs = ~every & ~none & (last | (four.alike & (side <= _STRAIGHT)))
        tried = np.flatnonzero(runs & ~np.array(last))
        runs[tried] = follows(points, squares.only(tried))
        inner.append(squares.only(whole))
        cut.append(squares.only(runs))
        if last:
            break
        unsure = ~every & ~none & ~runs
        across = 2 * _half_m(side)
        # an outline that is not straight may leave its square between two forbidden corners
        beside = squares.touches(squares.only(unsure)) & ~four.far_off(across)
        hopeless = none & four.surely_not(across) & ~beside
        squares = squares.only(~whole & ~runs & ~hopeless).quarters()
    return joined(inner), joined(cut)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Four:
    """What was found at the four corners of squares; shape [n, 4]."""

    least_m: FloatArray
    which: IntArray
    radius_less_m: FloatArray  # how much the shortest line met at any corner would take off
    radius_more_m: FloatArray  # how much the longest riser and ground chain together would add

    @classmethod
    def of(cls, found: Margins) -> "_Four":
        lengths = found.lengths_m.reshape(-1, 4, 2)
        line = lengths.sum(axis=2)
        shortest, longest = lengths.min(axis=1).sum(axis=1), lengths.max(axis=1).sum(axis=1)
        return cls(
            least_m=found.least_m.reshape(-1, 4),
            which=found.which.reshape(-1, 4),
            radius_less_m=_WIDER * (line - shortest[:, None]),
            radius_more_m=_WIDER * (longest[:, None] - line),
        )

    @property
    def alike(self) -> BoolArray:
        """Squares at whose corners the same rule binds with the same lengths."""
        same: BoolArray = np.asarray((self.which == self.which[:, :1]).all(axis=1))
        # NaN: lengths were not asked for, as there is no room even for the least
        return same & ~(self.radius_more_m > 0).any(axis=1) & self._asked_alike

    @property
    def _asked_alike(self) -> BoolArray:
        asked = np.isfinite(self.radius_more_m)
        alike: BoolArray = np.asarray(asked.all(axis=1) | ~asked.any(axis=1))
        return alike

    @property
    def surely_allowed(self) -> BoolArray:
        """Squares that are allowed whole if all corners are: with the longest lengths too."""
        sure: BoolArray = np.asarray((self.least_m >= self.radius_more_m).all(axis=1))
        return sure

    def far_off(self, across_m: float) -> BoolArray:
        """Squares of which some corner is too far from being allowed for any place in them."""
        metres = ~np.isin(self.which, _NOT_METRES)
        gain = np.where(np.isnan(self.radius_less_m), 0.0, self.radius_less_m)
        step = np.where(self._asked_alike[:, None], gain, LENGTHS_STEP_M)
        best = self.least_m + _STEEPEST * across_m + step
        far: BoolArray = np.asarray((metres & (best < 0)).any(axis=1))
        return far

    def surely_not(self, across_m: float) -> BoolArray:
        """Squares of which no part is allowed if no corner is."""
        return self.far_off(across_m) | (self.alike & (self.least_m < 0).all(axis=1))
