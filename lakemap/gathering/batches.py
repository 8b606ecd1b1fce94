"""Soundings on their way: as read from a file, some ten thousand at a time."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np

from lakemap.basis.records import FloatArray, IntArray

BATCH: Final = 32_768  # soundings held at once, whatever the file's length


class Row(NamedTuple):
    """One reading; a plain tuple, for millions of them pass."""

    lon: float
    lat: float
    read_m: float  # as read; positive downward
    below_m: float  # of what it was measured from below the surface; NaN: the file doesn't say
    line: int  # or point
    day: int  # `date.toordinal`; 0: not known


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """Readings as arrays, shape [n] each."""

    lon: FloatArray  # WGS 84 degrees
    lat: FloatArray
    read_m: FloatArray
    below_m: FloatArray
    line: IntArray
    day: IntArray

    def __len__(self) -> int:
        """Return how many there are."""
        return len(self.lon)


def batches(rows: Iterable[Row], size: int = BATCH) -> Iterator[Batch]:
    """Put rows together as arrays.

    Parameters
    ----------
    rows : iterable of Row
        In the file's order.
    size : int
        Most rows of one batch.

    Yields
    ------
    Batch
        None of them empty.
    """
    held: list[Row] = []
    for row in rows:
        held.append(row)
        if len(held) >= size:
            yield _batch(held)
            held = []
    if held:
        yield _batch(held)


def _batch(rows: list[Row]) -> Batch:
    lon, lat, read, below, line, day = zip(*rows, strict=True)
    return Batch(
        lon=np.array(lon, dtype=np.float64),
        lat=np.array(lat, dtype=np.float64),
        read_m=np.array(read, dtype=np.float64),
        below_m=np.array(below, dtype=np.float64),
        line=np.array(line, dtype=np.int64),
        day=np.array(day, dtype=np.int64),
    )
