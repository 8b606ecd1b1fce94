"""Where the flotation lies under the deck."""

from dataclasses import dataclass

import numpy as np

from lakemap.basis.records import FloatArray
from lakemap.rig.float_defaults import Flotation


@dataclass(frozen=True, slots=True, kw_only=True)
class Rows:
    """Pieces of flotation by their distance from the deck's middle; shape [n, m].

    Only one direction is told, and how many pieces lie at each distance; rows that a float does
    not have hold 0 pieces at 0.
    """

    offset_m: FloatArray  # of the pieces' centres, signed
    pieces: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """How the flotation of n floats lies: its rows across and along, its deck."""

    across: Rows  # offsets along the deck's shorter side
    along: Rows  # offsets along its longer side
    long_m: FloatArray  # [n], the deck's longer side
    short_m: FloatArray


def layout(flotation: Flotation, *, length_m: FloatArray, width_m: FloatArray) -> Layout:
    """Return where the flotation lies; ours, for want of a column that says it.

    Tubes and billets lie along the deck's longer side. Tubes are spread evenly across it, the
    outermost flush with the deck's edges; one lies in the middle. Billets lie in two rows, flush
    with the edges and spread evenly along them; an odd one lies in the middle of the deck. Nothing
    lies closer than touching, so that what is too wide for the deck stands out.

    Parameters
    ----------
    flotation : Flotation
        Of n floats.
    length_m, width_m : ndarray, shape [n]
        The deck's sides [m].

    Returns
    -------
    Layout
        Arrays of shape [n] and [n, m].
    """
    long_side, short_side = np.maximum(length_m, width_m), np.minimum(length_m, width_m)
    pairs, odd = flotation.count // 2, flotation.count % 2
    across = _spread(
        np.where(flotation.tubes, flotation.count, 2 + odd), flotation.breadth_m, short_side
    )
    along = _spread(np.where(flotation.tubes, 1, pairs), flotation.length_m, long_side)
    tubes, middle = flotation.tubes[:, None], np.arange(across.offset_m.shape[1]) == 1
    in_row = np.where(middle & (odd[:, None] == 1), 1.0, pairs[:, None])
    in_file = np.where(tubes, flotation.count[:, None], 2.0)
    alone = np.where(flotation.tubes, 0.0, odd)[:, None]
    return Layout(
        across=_rows(across.offset_m, across.pieces * np.where(tubes, 1.0, in_row)),
        along=_rows(
            np.hstack([along.offset_m, np.zeros_like(alone)]),
            np.hstack([along.pieces * in_file, alone]),
        ),
        long_m=long_side,
        short_m=short_side,
    )


def _spread(count: FloatArray, size: FloatArray, side: FloatArray) -> Rows:
    """Evenly over a side, the outer faces flush with its ends; one in the middle."""
    place = np.arange(max(int(count.max(initial=1)), 1))
    step = np.maximum((side - size) / np.maximum(count - 1, 1), size)
    offset = (place - (count[:, None] - 1) / 2) * step[:, None]
    return _rows(offset, (place < count[:, None]).astype(np.float64))


def _rows(offset: FloatArray, pieces: FloatArray) -> Rows:
    used = (pieces > 0).any(axis=0) if len(pieces) else np.ones(pieces.shape[1], dtype=bool)
    return Rows(
        offset_m=np.where(pieces > 0, offset, 0.0)[:, used],
        pieces=np.ascontiguousarray(pieces[:, used]),
    )
