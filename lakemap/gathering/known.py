"""New soundings beside those that the folder has: the same again, or another depth there."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.spatial import cKDTree

from lakemap.basis.records import BoolArray, FloatArray, IntArray

SAME_PLACE_M: Final = 0.01
_SAME_DEPTH_M: Final = 0.005  # what is written is rounded to less
_LEAST: Final = 10  # pairs that tell of how two surveys agree


@dataclass(frozen=True, slots=True, kw_only=True)
class There:
    """Soundings that are there already, shape [n]; depths at the soundings' level."""

    xy: FloatArray
    depth_m: FloatArray
    day: IntArray  # ordinal; 0: not known

    def only(self, wanted: BoolArray) -> "There":
        """Return some of them."""
        return There(xy=self.xy[wanted], depth_m=self.depth_m[wanted], day=self.day[wanted])

    def with_more(self, more: "There") -> "There":
        """Return them with others put to them."""
        return There(
            xy=np.vstack([self.xy, more.xy]),
            depth_m=np.append(self.depth_m, more.depth_m),
            day=np.append(self.day, more.day),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Agreement:
    """How new soundings agree with old ones near them; + is deeper."""

    count: int
    median_m: float
    half_within_m: float  # of that median


@dataclass(frozen=True, slots=True, kw_only=True)
class Met:
    """New soundings held against the old ones; shape [n]."""

    again: BoolArray  # the same place and depth is there
    other: BoolArray  # another depth of the same day is at that place
    differ_m: FloatArray  # of those; NaN elsewhere
    agreement: Agreement | None  # None: too few lie near old ones


def meet(old: There, new: There, *, near_m: float) -> Met:
    """Hold new soundings against old ones.

    Parameters
    ----------
    old, new : There
        At one lake level.
    near_m : float
        So near to each other they are taken to be of the same bed [m].

    Returns
    -------
    Met
        Of the new ones. Another depth counts only where the day is the same.
    """
    count = len(new.xy)
    again, other = np.zeros(count, dtype=bool), np.zeros(count, dtype=bool)
    differ = np.full(count, np.nan)
    if not len(old.xy) or not count:
        return Met(again=again, other=other, differ_m=differ, agreement=None)
    tree = cKDTree(old.xy)
    for k, near in enumerate(tree.query_ball_point(new.xy, SAME_PLACE_M)):
        if near:
            apart = new.depth_m[k] - old.depth_m[near]
            least = int(np.argmin(np.abs(apart)))
            differ[k] = apart[least]
            again[k] = abs(differ[k]) <= _SAME_DEPTH_M
            other[k] = not again[k] and old.day[near[least]] == new.day[k]
    rest = ~again & ~other
    agreement = _agreement(tree, old.depth_m, new.xy[rest], new.depth_m[rest], near_m=near_m)
    return Met(again=again, other=other, differ_m=differ, agreement=agreement)


def _agreement(
    tree: cKDTree, old_m: FloatArray, new_xy: FloatArray, new_m: FloatArray, *, near_m: float
) -> Agreement | None:
    if not len(new_xy):
        return None
    _, index = tree.query(new_xy, distance_upper_bound=near_m)
    near = index < len(old_m)
    if near.sum() < _LEAST:
        return None
    apart = new_m[near] - old_m[index[near]]
    middle = float(np.median(apart))
    return Agreement(
        count=int(near.sum()),
        median_m=middle,
        half_within_m=float(np.median(np.abs(apart - middle))),
    )
