"""Readings of a table as batches in degrees: which column is what, and which way depths count."""

import math
from collections.abc import Iterator
from itertools import islice
from pathlib import Path
from typing import Final

import numpy as np

from lakemap.basis.records import Field, FloatArray
from lakemap.gathering.batches import BATCH, Batch
from lakemap.gathering.lines import Tally, refused
from lakemap.gathering.records import Asked
from lakemap.gathering.table_rows import Table
from lakemap.inputs.positions import by_the_lake, turn_to_degrees

_MOST: Final = 0.5  # of the first readings must agree
_WAYS: Final = ("lon, lat", "lat, lon", "x, y")


def placed(
    table: Table, path: Path, field: Field, *, asked: Asked, tally: Tally
) -> Iterator[Batch]:
    """Turn a table's readings to degrees.

    Parameters
    ----------
    table : Table
        As it is read.
    path : Path
        For the message.
    field : Field
        Its lake tells which column is what; its coordinate system is that of x and y.
    asked : Asked
        Of `gather`.
    tally : Tally
        Gains what was seen of the table.

    Yields
    ------
    Batch
        Depths positive downward.

    Raises
    ------
    BadInputError
        If the coordinate system isn't known, or a plain text lies nowhere near the lake.
    """
    tally.said += table.said
    way, sign = {"degrees": "lon, lat", "xy": "x, y", "unknown": ""}[table.kind], 0.0
    below = math.nan if asked.transducer_depth_m is None else asked.transducer_depth_m
    while held := list(islice(table.rows, BATCH)):
        first, second, depth, line, day = (np.array(one) for one in zip(*held, strict=True))
        if not way:
            way = _way(first, second, path, field)
            tally.said.append(f"the first two columns are {way}")
        if not sign:
            sign = -1.0 if np.count_nonzero(depth < 0) > _MOST * np.count_nonzero(depth) else 1.0
            tally.said += ["depths count negative downward: their signs were turned"] * (sign < 0)
        lonlat = _degrees(way, first, second, path, field)
        yield Batch(
            lon=lonlat[:, 0],
            lat=lonlat[:, 1],
            read_m=sign * depth,
            below_m=np.full(len(depth), below),
            line=line.astype(np.int64),
            day=day.astype(np.int64),
        )


def _degrees(
    way: str, first: FloatArray, second: FloatArray, path: Path, field: Field
) -> FloatArray:
    """Degrees of two columns; what is no position is far off, and told as outside the lake."""
    if way == "lon, lat":
        return np.column_stack([first, second])
    if way == "lat, lon":
        return np.column_stack([second, first])
    turned = turn_to_degrees(first, second, field.settings.crs)
    if turned is None:
        text = f"crs {field.settings.crs!r} of field.toml is not known; write an EPSG code there"
        raise refused(path, "bad_crs", text)
    return turned


def _way(first: FloatArray, second: FloatArray, path: Path, field: Field) -> str:
    """Which way the first readings lie by the lake."""
    for way in _WAYS:
        lonlat = _degrees(way, first, second, path, field)
        if by_the_lake(field.lake, lonlat).mean() > _MOST:
            return way
    text = (
        f"the first two columns, as {first[0]:g} {second[0]:g}, lie by the lake neither as lon,"
        f" lat, nor as lat, lon, nor as x, y of {field.settings.crs} (crs in field.toml)"
    )
    raise refused(path, "off_map", text)
