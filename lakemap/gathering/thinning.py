"""Tracks thinned: of all soundings in one square of the lake and one day, one or two are kept.

Rule of ours. The sounding with the middle depth stands for its square: one echo more or less
changes it little, where the shallowest of many would pile up the sounder's noise and make every
lake too shallow. But a rock must not be lost: where the shallowest lies above the middle by more
than the sounder's own error, it is kept as well.
"""

from collections.abc import Iterator
from typing import Final, NamedTuple

import numpy as np

from lakemap.basis.records import FloatArray, IntArray
from lakemap.gathering.odd_ones import sounder_spread

_EACH: Final = 0.0  # every sounding is kept


class Kept(NamedTuple):
    """One sounding that is kept, as measured."""

    lon: float
    lat: float
    depth_m: float
    line: int
    day: int


class _Square(NamedTuple):
    """What is known of one square on one day."""

    number: int  # of the soundings that `middle` is the middle of
    middle: Kept
    shallowest: Kept


class Thinner:
    """Keeps one or two soundings a square; its memory follows the lake's size, not the log's.

    Parameters
    ----------
    every_m : float
        Side of a square; 0: every sounding is kept.
    """

    def __init__(self, every_m: float) -> None:
        self._every_m = every_m
        self._squares: dict[tuple[int, int, int], _Square] = {}
        self._each: list[Kept] = []

    def take(self, xy: FloatArray, soundings: list[Kept]) -> None:
        """Add soundings.

        Parameters
        ----------
        xy : ndarray, shape [n, 2]
            Positions from the lake's centre [m]: the squares are those of the lake, not of the log.
        soundings : list of Kept
            The same.
        """
        if self._every_m == _EACH:
            self._each += soundings
            return
        if not soundings:
            return
        at = np.floor(xy / self._every_m).astype(np.int64)
        day = np.array([one.day for one in soundings], dtype=np.int64)
        depth = np.array([one.depth_m for one in soundings])
        squares, group = np.unique(np.column_stack([day, at]), axis=0, return_inverse=True)
        first, middle, count = _first_and_middle(group.reshape(-1), depth)
        for key, low, mid, many in zip(
            squares.tolist(), first.tolist(), middle.tolist(), count.tolist(), strict=True
        ):
            self._merge(tuple(key), _Square(many, soundings[mid], soundings[low]))

    def _merge(self, key: tuple[int, int, int], new: _Square) -> None:
        """Put parts of one square together: the fuller one's middle, the shallowest of all."""
        old = self._squares.get(key)
        if old is None:
            self._squares[key] = new
            return
        fuller = new if new.number > old.number else old
        low = new if new.shallowest.depth_m < old.shallowest.depth_m else old
        self._squares[key] = _Square(fuller.number, fuller.middle, low.shallowest)

    def kept(self) -> Iterator[tuple[Kept, bool]]:
        """Return what is kept, in the order of the file.

        Yields
        ------
        tuple of Kept and bool
            True: a shoal that is kept beside its square's middle.
        """
        found = [(one, False) for one in self._each]
        for square in self._squares.values():
            found.append((square.middle, False))
            rise = square.middle.depth_m - square.shallowest.depth_m
            if rise > float(sounder_spread(square.middle.depth_m)):
                found.append((square.shallowest, True))
        yield from sorted(found, key=lambda item: item[0].line)


def _first_and_middle(group: IntArray, depth_m: FloatArray) -> tuple[IntArray, IntArray, IntArray]:
    """Index of the shallowest and of the (lower) middle of each group, and its count."""
    order = np.lexsort((depth_m, group))
    count = np.bincount(group)
    start = np.concatenate([[0], np.cumsum(count)[:-1]])
    return order[start], order[start + (count - 1) // 2], count
