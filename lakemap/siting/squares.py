"""Squares of a fine lattice, and what is asked at its points, each once."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from lakemap.basis.records import BoolArray, FloatArray, Geometry, IntArray
from lakemap.siting.margins import Margins, margins
from lakemap.siting.spots import SpotField

UNIT_M: Final = 1 / 32  # the finest square
CORNERS: Final[IntArray] = np.array(
    [(0, 0), (1, 0), (1, 1), (0, 1)], dtype=np.int64
)  # in the order of a ring
_SHIFT: Final = 2**31


@dataclass(frozen=True, slots=True, kw_only=True)
class Squares:
    """Squares by their lower left corner and side, in units; shapes [n, 2] and [n]."""

    corner: IntArray
    side: IntArray

    @property
    def boxes(self) -> Geometry:
        """The squares as polygons [m], shape [n]."""
        low = self.corner * UNIT_M
        return shapely.box(*low.T, *(low + self.side[:, None] * UNIT_M).T)

    @property
    def middles_m(self) -> FloatArray:
        """Their middles [m], shape [n, 2]."""
        middle: FloatArray = (self.corner + self.side[:, None] / 2) * UNIT_M
        return middle

    @property
    def corners(self) -> IntArray:
        """All four corners in the order of a ring, in units; shape [n, 4, 2]."""
        ring: IntArray = self.corner[:, None, :] + CORNERS * self.side[:, None, None]
        return ring

    def only(self, chosen: IntArray | np.ndarray) -> "Squares":
        """Return some of them.

        Parameters
        ----------
        chosen : ndarray
            Index, or which.

        Returns
        -------
        Squares
            Those.
        """
        return Squares(corner=self.corner[chosen], side=self.side[chosen])

    def touches(self, others: "Squares") -> BoolArray:
        """Tell which squares lie beside or across a corner from others of their own size.

        Parameters
        ----------
        others : Squares
            All of one size.

        Returns
        -------
        ndarray of bool, shape [n]
            True for one of the others itself, too.
        """
        if not len(others.side):
            return np.zeros(len(self.side), dtype=bool)
        step = np.arange(-1, 2, dtype=np.int64)
        around: IntArray = np.stack(np.meshgrid(step, step), axis=-1).reshape(-1, 2)
        near: IntArray = (others.corner[:, None, :] + around * others.side[:, None, None]).reshape(
            -1, 2
        )
        beside: BoolArray = np.isin(_key(self.corner), np.unique(_key(near)))
        return beside

    def quarters(self) -> "Squares":
        """Return the four quarters of each."""
        half = self.side // 2
        corner: IntArray = self.corner[:, None, :] + CORNERS * half[:, None, None]
        return Squares(corner=corner.reshape(-1, 2), side=np.repeat(half, 4))


def squares_over(bounds_m: Sequence[float], side: int) -> Squares:
    """Return the squares of one size that cover a box.

    Parameters
    ----------
    bounds_m : sequence of float
        West, south, east, north [m].
    side : int
        In units.

    Returns
    -------
    Squares
        Aligned to the lattice.
    """
    west, south, east, north = (np.array(bounds_m) / (UNIT_M * side)).tolist()
    columns = np.arange(int(np.floor(west)), int(np.ceil(east)), dtype=np.int64)
    rows = np.arange(int(np.floor(south)), int(np.ceil(north)), dtype=np.int64)
    corner: IntArray = np.stack(np.meshgrid(columns, rows), axis=-1).reshape(-1, 2) * side
    return Squares(corner=corner, side=np.full(len(corner), side))


def _key(at: IntArray) -> IntArray:
    """One number for a point of the lattice."""
    key: IntArray = at[:, 0] * _SHIFT + at[:, 1]
    return key


def joined(some: Sequence[Squares]) -> Squares:
    """Return all squares of several lots of them."""
    none = Squares(corner=np.empty((0, 2), dtype=np.int64), side=np.empty(0, dtype=np.int64))
    every = [none, *some]
    return Squares(
        corner=np.concatenate([one.corner for one in every]),
        side=np.concatenate([one.side for one in every]),
    )


class LatticePoints:
    """Margins at the lattice's points; each is asked for once."""

    def __init__(self, field: SpotField, least_radius_m: float) -> None:
        self.field = field
        self.least_radius_m = least_radius_m
        self._key = np.empty(0, dtype=np.int64)
        self._found = margins(field, np.empty((0, 2)), least_radius_m=least_radius_m)

    def ask(self, at: IntArray) -> Margins:
        """Return the margins at points.

        Parameters
        ----------
        at : ndarray, shape [n, 2]
            In units.

        Returns
        -------
        Margins
            Shape [n].
        """
        key = _key(at)
        new = np.setdiff1d(key, self._key)
        if new.size:
            column, row = np.divmod(new + _SHIFT // 2, _SHIFT)
            xy = np.column_stack([column, row - _SHIFT // 2]) * UNIT_M
            self._add(new, margins(self.field, xy, least_radius_m=self.least_radius_m))
        return _taken(self._found, np.searchsorted(self._key, key))

    def _add(self, new: IntArray, found: Margins) -> None:
        order = np.argsort(np.concatenate([self._key, new]))
        self._key = np.concatenate([self._key, new])[order]
        both = Margins(
            least_m=np.concatenate([self._found.least_m, found.least_m]),
            which=np.concatenate([self._found.which, found.which]),
            lengths_m=np.concatenate([self._found.lengths_m, found.lengths_m]),
        )
        self._found = _taken(both, order)


def _taken(found: Margins, chosen: IntArray) -> Margins:
    return Margins(
        least_m=found.least_m[chosen],
        which=found.which[chosen],
        lengths_m=found.lengths_m[chosen],
    )
