"""Soundings: points with a depth, reduced to one lake level."""

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np

from lakemap.basis.errors import ProblemLog
from lakemap.basis.records import FloatArray, Geometry, Levels, Soundings
from lakemap.inputs.cells import RawTable, Sheet
from lakemap.inputs.positions import POSITION, near_lake, read_positions

COLUMNS: Mapping[str, str | None] = MappingProxyType(
    {"depth": "length", "level": "length", "quality": None, "date": None, "time": None}
)


def read_soundings(
    table: RawTable, log: ProblemLog, *, crs: str, levels: Levels | None, lake: Geometry
) -> Soundings | None:
    """Read the soundings.

    Parameters
    ----------
    table : RawTable
        As read.
    log : ProblemLog
        Gains every problem.
    crs : str
        Of x, y columns.
    levels : Levels or None
        A row's own `level` is taken off against the soundings' level.
    lake : shapely geometry or None
        To find positions whose latitude and longitude are swapped.

    Returns
    -------
    Soundings or None
        Depths at the soundings' level; None where there are none.
    """
    sheet = Sheet(table, {**COLUMNS, **POSITION}, log)
    sheet.require("depth")
    lonlat = near_lake(sheet, read_positions(sheet, crs=crs), lake)
    if not sheet.has("depth") or not len(sheet):
        return None
    depth = _depths(sheet)
    if sheet.has("level"):
        gauge = np.array(
            [np.nan if v is None else v for v in sheet.measured("level", least=None)],
            dtype=np.float64,
        )
        at = 0.0 if levels is None else levels.soundings_m
        depth = depth + (at - np.where(np.isnan(gauge), at, gauge))
    known = np.isfinite(lonlat).all(axis=1) & np.isfinite(depth)
    if not known.any():
        return None
    return Soundings(
        lon=lonlat[known, 0],
        lat=lonlat[known, 1],
        depth_m=depth[known],
        row=np.array(table.row_numbers, dtype=np.int64)[known],
        file=table.file,
    )


def _depths(sheet: Sheet) -> FloatArray:
    """Depths in m; NaN where blank or told."""
    quick = sheet.numbers("depth")
    if quick is not None and (quick >= 0).all():
        return quick
    if quick is not None and (quick <= 0).all() and (quick < 0).any():
        text = "all depths are below 0; depths are positive downward: take the minus signs away"
        sheet.tell("depths_upside_down", text, None, sheet.written("depth"))
        return np.full(len(quick), np.nan)
    return np.array([np.nan if v is None else v for v in sheet.measured("depth")], dtype=np.float64)
