"""The least of many weighted distances at many points: block by block, and never all of them.

A weighted distance changes by no more than the way one goes. So what exceeds the least at a
block's centre by more than the block's diagonal is nowhere the least in that block. Each block
begins with what the block round it has left; the smallest measure what remains at every point.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from lakemap.basis.records import FloatArray, IntArray
from lakemap.siting.blocks import Blocks, Level
from lakemap.siting.pieces import Pairs, Pieces, distances, nearest, signs

_PAIRS: Final = 100_000  # of block and piece at once: bounds the memory
_SLACK_M: Final = 1e-6  # for rounding: rather too many pieces than too few


@dataclass(frozen=True, slots=True, kw_only=True)
class _Front:
    """Blocks of one level with the pieces that count there; pairs by block, then piece."""

    level: int
    block: IntArray  # [b]
    count: IntArray  # [b], of pieces
    piece: IntArray  # [p]
    sign: IntArray  # [p], of the owner's distance all over the block; 0: not known

    def row(self) -> IntArray:
        """Place of each pair's block in `block`."""
        return np.repeat(np.arange(len(self.block)), self.count)


def least(pieces: Pieces, blocks: Blocks) -> tuple[FloatArray, IntArray]:
    """Return the least of distance less what is taken off it, and whose it is.

    Parameters
    ----------
    pieces : Pieces
        At least one.
    blocks : Blocks
        The points.

    Returns
    -------
    tuple of ndarray, shape [n]
        Metres, and the owner, the first of equals.
    """
    size = int(blocks.place.max()) + 1
    value, whose = np.empty(size), np.empty(size, dtype=np.int64)
    ahead = [_whole(pieces)]
    while ahead:
        front = ahead.pop()
        if len(front.piece) > _PAIRS and len(front.block) > 1:
            ahead.extend(_halves(front))
            continue
        level = blocks.levels[front.level]
        front = _fewer(pieces, level, front)
        if front.level + 1 < len(blocks.levels):
            ahead.append(_closer(level, front))
            continue
        at = front.block
        place = blocks.place[at]
        value[place], whose[place] = _measured(pieces, (blocks.x[at], blocks.y[at]), front)
    return value, whose


def _whole(pieces: Pieces) -> _Front:
    areal = np.array([area is not None for area in pieces.area])
    return _Front(
        level=0,
        block=np.zeros(1, dtype=np.int64),
        count=np.array([len(pieces.owner)]),
        piece=np.arange(len(pieces.owner)),
        sign=np.where(areal, 0, 1)[pieces.owner],
    )


def _halves(front: _Front) -> list[_Front]:
    """Cut in two, at about half of the pairs."""
    ends = np.cumsum(front.count)
    cut = max(int(np.searchsorted(ends, ends[-1] / 2)), 1)
    pairs = (slice(None, ends[cut - 1]), slice(ends[cut - 1], None))
    return [
        _Front(
            level=front.level,
            block=front.block[blocks],
            count=front.count[blocks],
            piece=front.piece[mine],
            sign=front.sign[mine],
        )
        for blocks, mine in zip((slice(None, cut), slice(cut, None)), pairs, strict=True)
    ]


def _closer(level: Level, front: _Front) -> _Front:
    """The blocks within, each with all that the block round it has."""
    within = level.within[front.block]
    row, which = np.nonzero(within >= 0)
    count = front.count[row]
    first = (np.cumsum(front.count) - front.count)[row]
    take = np.arange(count.sum()) + np.repeat(first - (np.cumsum(count) - count), count)
    return _Front(
        level=front.level + 1,
        block=within[row, which],
        count=count,
        piece=front.piece[take],
        sign=front.sign[take],
    )


def _fewer(pieces: Pieces, level: Level, front: _Front) -> _Front:
    """Leave out what is the least nowhere in a block, and learn where signs are the same."""
    row, half, centre = front.row(), level.half_m[front.block], level.centre[front.block]
    distance, away = distances(pieces, front.piece, centre[row])
    first = _firsts(row, pieces.owner[front.piece])  # of each owner in each block
    size = np.diff(first, append=len(row))
    of, owner, sign = row[first], pieces.owner[front.piece[first]], front.sign[first]
    near = _leasts(distance, first)
    open_ = np.flatnonzero(sign == 0)
    sign[open_] = signs(pieces, owner[open_], *centre[of[open_]].T)
    value = sign * distance[near] - pieces.less_m[owner]
    best = _leasts(value, _firsts(of))
    crossed = open_[distance[near[open_]] <= half[of[open_]] + _SLACK_M]
    sign[crossed] = 0
    other = np.repeat(near, size)
    keep = distance - distance[other] <= _spread(half[row], away, other, distance)
    plain = np.repeat(sign > 0, size)
    over = np.repeat(value, size)
    over[plain] = distance[plain] - pieces.less_m[pieces.owner[front.piece[plain]]]
    spread = _spread(half[row], away, near[best][row], distance)
    both = plain & (sign[best] > 0)[row]
    keep &= over - value[best][row] <= np.where(both, spread, 2 * half[row] + _SLACK_M)
    return _Front(
        level=front.level,
        block=front.block,
        count=np.bincount(row[keep], minlength=len(front.block)),
        piece=front.piece[keep],
        sign=np.repeat(sign, size)[keep],
    )


def _spread(
    half: FloatArray, away: FloatArray, other: IntArray, distance: FloatArray
) -> FloatArray:
    """By how much a distance may exceed another's at a block's centre, and not all over it.

    A distance to a straight piece is convex: nowhere below its slope. The other is at most that to
    its nearest point, which rises above its slope by no more than half the way squared over it.
    """
    turn = away - away[other]
    turned = np.sqrt(turn[:, 0] ** 2 + turn[:, 1] ** 2)
    rise = half / np.maximum(2 * distance[other], half / 2 + np.finfo(np.float64).tiny)
    spread: FloatArray = half * np.minimum(turned + rise, 2) + _SLACK_M
    return spread


def _leasts(of: FloatArray, first: IntArray) -> IntArray:
    """Where each run has its least, the first of equals."""
    size = np.diff(first, append=len(of))
    at = np.flatnonzero(of == np.repeat(np.minimum.reduceat(of, first), size))
    run = np.repeat(np.arange(len(first)), size)[at]
    return at[_firsts(run)]


def _firsts(*keys: IntArray) -> IntArray:
    """Where a run of equal keys begins."""
    begins = np.ones(len(keys[0]), dtype=bool)
    begins[1:] = np.logical_or.reduce([key[1:] != key[:-1] for key in keys])
    return np.flatnonzero(begins)


def _measured(
    pieces: Pieces, xy: tuple[FloatArray, FloatArray], front: _Front
) -> tuple[FloatArray, IntArray]:
    """Least and owner at every point of the smallest blocks.

    Of what no point is inside, all pieces are measured together; of any other area by itself.
    """
    apart = front.sign <= 0
    order = np.argsort(apart, kind="stable")
    row, piece, apart = front.row()[order], front.piece[order], apart[order]
    owner = pieces.owner[piece]
    first = _firsts(row, np.where(apart, owner, -1))
    less = np.where(apart, 0, pieces.less_m[owner])
    near, whose = nearest(pieces, xy, Pairs(row=row, piece=piece, less_m=less), first)
    row, owner, sign = row[first], owner[first], front.sign[order][first]
    areas = slice(int(np.searchsorted(apart[first], True)), None)  # noqa: FBT003 - what is looked for
    near[areas] = _signed(pieces, xy, near[areas], (row[areas], owner[areas], sign[areas]))
    turn = np.zeros(len(first), dtype=np.int64)
    turn[areas] = 1 + _rank(row[areas])
    value = np.full((len(front.block), *near.shape[1:]), np.inf)
    of = np.full(value.shape, -1)
    for k in range(turn.max() + 1):
        mine = turn == k
        old, here = value[row[mine]], near[mine]
        better = (here < old) | ((here == old) & (whose[mine] < of[row[mine]]))
        value[row[mine]] = np.where(better, here, old)
        of[row[mine]] = np.where(better, whose[mine], of[row[mine]])
    return value, of


def _signed(
    pieces: Pieces,
    xy: tuple[FloatArray, FloatArray],
    near: FloatArray,
    of: tuple[IntArray, IntArray, IntArray],
) -> FloatArray:
    """Distances to areas' edges with their signs, less what is taken off; row, owner, sign."""
    row, owner, known = of
    sign = np.empty(near.shape)
    sign[:] = known[:, None, None]
    open_ = np.flatnonzero(known == 0)
    sign[open_] = signs(pieces, owner[open_], *(axis[row[open_]] for axis in xy))
    signed: FloatArray = sign * near - pieces.less_m[owner][:, None, None]
    return signed


def _rank(row: IntArray) -> IntArray:
    """Place of each within its run of equal rows."""
    first = _firsts(row) if len(row) else row
    return np.arange(len(row)) - np.repeat(first, np.diff(first, append=len(row)))
