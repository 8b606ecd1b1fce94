"""Points sorted into blocks of blocks: each holds up to four smaller ones."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from lakemap.basis.records import FloatArray, IntArray

_SIDE: Final = 8  # cells along a grid's smallest blocks
_MOST: Final = 64  # points of a smallest block, where they are scattered


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """Blocks of one size; shape [b]."""

    centre: FloatArray  # [b, 2], of the box round the points
    half_m: FloatArray  # half of that box's diagonal
    within: IntArray  # [b, 4], the blocks of the next level; -1: none


@dataclass(frozen=True, slots=True, kw_only=True)
class Blocks:
    """All levels, from the block that holds all points to the smallest ones."""

    levels: tuple[Level, ...]
    x: FloatArray  # [b, 1, k], of the points of the smallest
    y: FloatArray  # [b, k, 1] of a grid, [b, 1, k] of scattered points
    place: IntArray  # [b, k, k] or [b, 1, k], of the points among all, a grid's row by row


def grid_blocks(x: FloatArray, y: FloatArray) -> Blocks:
    """Sort a grid's cells into blocks of as many rows as columns.

    Parameters
    ----------
    x, y : ndarray, shapes [nx] and [ny]
        Columns and rows [m], at least one of each; in order, or blocks are large.

    Returns
    -------
    Blocks
        The last column and row stand again in blocks that reach beyond the grid.
    """
    columns, rows = _runs(len(x)), _runs(len(y))
    wide, high = _ends(x[columns]), _ends(y[rows])
    levels = [_level(_boxes(wide, high), np.full((len(wide) * len(high), 4), -1))]
    while len(wide) * len(high) > 1:
        within = _quarters(len(wide), len(high))
        wide, high = _ends(_pairs(wide)), _ends(_pairs(high))
        levels.insert(0, _level(_boxes(wide, high), within))
    column = np.tile(columns, (len(rows), 1))[:, None, :]
    row = np.repeat(rows, len(columns), axis=0)[:, :, None]
    return Blocks(levels=tuple(levels), x=x[column], y=y[row], place=row * len(x) + column)


def point_blocks(xy: FloatArray) -> Blocks:
    """Sort scattered points into blocks of equally many, halved along their longer side.

    Parameters
    ----------
    xy : ndarray, shape [n, 2]
        Points [m], at least one.

    Returns
    -------
    Blocks
        Some points stand more than once.
    """
    order = np.arange(len(xy))[None, :]
    fours = 0
    while order.shape[1] > _MOST:
        full = np.minimum(np.arange(-(-order.shape[1] // 4) * 4), order.shape[1] - 1)
        order = _halved(xy, _halved(xy, order[:, full]))
        fours += 1
    held = xy[order]
    boxes = np.concatenate([held.min(axis=1), held.max(axis=1)], axis=1)
    levels = [_level(boxes, np.full((len(boxes), 4), -1))]
    for _ in range(fours):
        four = boxes.reshape(-1, 4, 4)
        boxes = np.concatenate([four[:, :, :2].min(axis=1), four[:, :, 2:].max(axis=1)], axis=1)
        levels.insert(0, _level(boxes, np.arange(4 * len(boxes)).reshape(-1, 4)))
    held = held[:, None]
    return Blocks(levels=tuple(levels), x=held[..., 0], y=held[..., 1], place=order[:, None])


def _level(boxes: FloatArray, within: IntArray) -> Level:
    low, high = boxes[:, :2], boxes[:, 2:]
    return Level(centre=(low + high) / 2, half_m=np.hypot(*(high - low).T) / 2, within=within)


def _halved(xy: FloatArray, order: IntArray) -> IntArray:
    """Cut each row of points into two of equally many, across its longer side."""
    x, y = xy[:, 0][order], xy[:, 1][order]
    wider = np.ptp(x, axis=1, keepdims=True) > np.ptp(y, axis=1, keepdims=True)
    middle = order.shape[1] // 2
    sides = np.argpartition(np.where(wider, x, y), middle, axis=1)
    return np.take_along_axis(order, sides, axis=1).reshape(-1, middle)


def _runs(count: int) -> IntArray:
    """Cut a grid's columns, or rows, into runs; the last one stands again until all are full."""
    runs = -(-count // _SIDE)
    return np.minimum(np.arange(runs * _SIDE), count - 1).reshape(runs, _SIDE)


def _ends(of: FloatArray) -> FloatArray:
    return np.column_stack([of.min(axis=1), of.max(axis=1)])


def _pairs(ends: FloatArray) -> FloatArray:
    """Every two stretches together, an odd last one alone."""
    last = ends[-1:] if len(ends) % 2 else ends[:0]
    return np.concatenate([ends, last]).reshape(-1, 4)


def _boxes(wide: FloatArray, high: FloatArray) -> FloatArray:
    """Low and high corners of all blocks, row by row."""
    across, up = np.tile(wide, (len(high), 1)), np.repeat(high, len(wide), axis=0)
    return np.column_stack([across[:, 0], up[:, 0], across[:, 1], up[:, 1]])


def _quarters(wide: int, high: int) -> IntArray:
    """Blocks of a level that lie within each block of the level above."""
    padded = np.full((high + high % 2, wide + wide % 2), -1)
    padded[:high, :wide] = np.arange(wide * high).reshape(high, wide)
    fours = (
        padded.reshape(len(padded) // 2, 2, -1, 2) if padded.size else padded.reshape(0, 2, 0, 2)
    )
    return fours.swapaxes(1, 2).reshape(-1, 4)
