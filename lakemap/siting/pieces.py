"""Straight pieces of outlines, and points, that belong to owners: distances to them."""

from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from lakemap.basis.records import BoolArray, FloatArray, Geometry, IntArray

_GROUPS: Final = 512  # measured at once: what the processor's own memory holds
_MANY: Final = 96  # pairs: enough to be measured by themselves


@dataclass(frozen=True, slots=True, kw_only=True)
class Pieces:
    """Straight pieces of all that there is; shape [s], and [k] by owner."""

    middle: FloatArray  # [s, 2]
    along: FloatArray  # [s, 2], unit vector
    half_m: FloatArray  # half of the length; 0: a point
    owner: IntArray  # ascending
    less_m: FloatArray  # [k], taken off the distance
    area: tuple[Geometry | None, ...]  # [k], whose edge it is; None: no area
    inside: BoolArray  # [k], of an area: the distance counts inside, and is negative outside


@dataclass(frozen=True, slots=True, kw_only=True)
class Pairs:
    """A block of points with a piece each; shape [p]."""

    row: IntArray  # of the block
    piece: IntArray
    less_m: FloatArray  # taken off the distance

    def at(self, index: IntArray) -> "Pairs":
        """Only some pairs."""
        return Pairs(row=self.row[index], piece=self.piece[index], less_m=self.less_m[index])


def distances(pieces: Pieces, piece: IntArray, xy: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return each point's distance to one piece, and the way from it.

    Parameters
    ----------
    pieces : Pieces
        All of them.
    piece : ndarray, shape [n]
        The piece of each point.
    xy : ndarray, shape [n, 2]
        Points [m].

    Returns
    -------
    tuple of ndarray, shapes [n] and [n, 2]
        Metres; unit vectors, by which the distance grows. On the piece 0.
    """
    off, half, along = xy - pieces.middle[piece], pieces.half_m[piece], pieces.along[piece]
    share = np.clip(off[:, 0] * along[:, 0] + off[:, 1] * along[:, 1], -half, half)
    off -= share[:, None] * along
    distance = np.sqrt(off[:, 0] ** 2 + off[:, 1] ** 2)
    off /= np.maximum(distance, np.finfo(np.float64).tiny)[:, None]
    return distance, off


def signs(pieces: Pieces, owner: IntArray, x: FloatArray, y: FloatArray) -> IntArray:
    """Return the sign of the distance to areas' edges.

    Parameters
    ----------
    pieces : Pieces
        All of them.
    owner : ndarray, shape [n]
        An area for each row of points.
    x, y : ndarray, shapes [n, ...]
        Points [m], to be broadcast.

    Returns
    -------
    ndarray, shape [n, ...]
        1 or -1; either on the edge.
    """
    sign = np.ones(np.broadcast_shapes(x.shape, y.shape), dtype=np.int64)
    for one in np.unique(owner):
        mine = owner == one
        within = shapely.contains_xy(pieces.area[one], x[mine], y[mine])
        sign[mine] = np.where(within == pieces.inside[one], 1, -1)
    return sign


def nearest(
    pieces: Pieces, xy: tuple[FloatArray, FloatArray], pairs: Pairs, first: IntArray
) -> tuple[FloatArray, IntArray]:
    """Return the least distance, less what is taken off it, at every point of blocks.

    Parameters
    ----------
    pieces : Pieces
        All of them.
    xy : tuple of ndarray, shapes [b, 1, k] and [b, j, k or 1]
        Points of the blocks [m].
    pairs : Pairs
        By group: pieces of one block.
    first : ndarray, shape [g]
        Where each group begins.

    Returns
    -------
    tuple of ndarray, shape [g, j, k]
        Metres, and the owner of the piece, the first of equals.
    """
    size = np.diff(first, append=len(pairs.row))
    order = np.argsort(-size, kind="stable")
    many = int(np.count_nonzero(size > _MANY))
    shape = (len(first), *np.broadcast_shapes(xy[0].shape, xy[1].shape)[1:])
    near, whose = np.empty(shape), np.empty(shape, dtype=np.int64)
    for begin in range(many, len(order), _GROUPS):
        mine = order[begin : begin + _GROUPS]
        near[mine], whose[mine] = _by_rank(pieces, xy, pairs, (first[mine], size[mine]))
    for group in order[:many]:
        these = pairs.at(first[group] + np.arange(size[group]))
        here = _measure(pieces, xy, these)
        which = here.argmin(axis=0)
        near[group] = here.min(axis=0)
        whose[group] = pieces.owner[these.piece[which]]
    return near, whose


def _by_rank(
    pieces: Pieces,
    xy: tuple[FloatArray, FloatArray],
    pairs: Pairs,
    groups: tuple[IntArray, IntArray],
) -> tuple[FloatArray, IntArray]:
    """Measure the first pair of every group, then the second; groups are first and falling size."""
    first, size = groups
    shape = (len(first), *np.broadcast_shapes(xy[0].shape, xy[1].shape)[1:])
    near, rank = np.full(shape, np.inf), np.zeros(shape, dtype=np.int32)
    for k in range(size[0]):
        have = slice(int(np.count_nonzero(size > k)))
        here = _measure(pieces, xy, pairs.at(first[have] + k))
        better = here < near[have]
        # far faster than a copy where it is better
        np.minimum(near[have], here, out=near[have])
        np.maximum(rank[have], np.multiply(better, np.int32(k)), out=rank[have])
    return near, pieces.owner[pairs.piece[first[:, None, None] + rank]]


def _measure(pieces: Pieces, xy: tuple[FloatArray, FloatArray], pairs: Pairs) -> FloatArray:
    """Measure all points of the pairs' blocks; [p, j, k].

    Beside and beyond a piece: of a grid, the products are of one column or one row.
    """
    middle, along = (of[pairs.piece][..., None, None] for of in (pieces.middle, pieces.along))
    x, y = xy[0][pairs.row] - middle[:, 0], xy[1][pairs.row] - middle[:, 1]
    beyond = x * along[:, 0] + y * along[:, 1]
    np.abs(beyond, out=beyond)
    beyond -= pieces.half_m[pairs.piece][:, None, None]
    np.maximum(beyond, 0, out=beyond)
    beyond *= beyond
    beside = x * along[:, 1] - y * along[:, 0]
    beside *= beside
    beyond += beside
    np.sqrt(beyond, out=beyond)
    beyond -= pairs.less_m[:, None, None]
    return beyond
