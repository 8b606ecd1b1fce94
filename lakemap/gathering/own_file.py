"""The folder's own soundings: where, how deep, which day, and in what steps they are written."""

from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np

from lakemap.basis.errors import ProblemLog
from lakemap.basis.quantities import SUFFIXES, UNITS
from lakemap.basis.records import Field
from lakemap.gathering.known import There
from lakemap.gathering.sieve import Lake
from lakemap.inputs.cells import Sheet
from lakemap.inputs.layers import read_layer
from lakemap.saving.soundings import KNOWN

_STEPS: Final = {"ft": 2, "in": 1, "m": 3, "mm": 0}  # decimals: finer than any sounder


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """To what the numbers of a column are rounded."""

    unit_m: float
    digits: int

    def rounded(self, metres: float) -> float:
        """Return a length as it will be written and read again [m]."""
        return round(metres / self.unit_m, self.digits) * self.unit_m


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnFile:
    """What new soundings are put to."""

    there: There
    depth_step: Step
    level_step: Step


def own_file(lake: Lake, folder: Path) -> OwnFile:
    """Look at the folder's soundings.

    Parameters
    ----------
    lake : Lake
        Of the field.
    folder : Path
        Of the field.

    Returns
    -------
    OwnFile
        Empty where there are none; steps in the field's units then.
    """
    own = lake.field.soundings
    sheet = None
    if own is not None:
        table = read_layer(folder / own.file, ProblemLog())
        sheet = None if table is None else Sheet(table, KNOWN, ProblemLog())
    return OwnFile(
        there=_there(lake, sheet),
        depth_step=_step(lake.field, sheet, "depth"),
        level_step=_step(lake.field, sheet, "level"),
    )


def _there(lake: Lake, sheet: Sheet | None) -> There:
    own = lake.field.soundings
    if own is None:
        none = np.empty(0)
        return There(xy=np.empty((0, 2)), depth_m=none, day=none.astype(np.int64))
    days = {} if sheet is None else _days(sheet)
    return There(
        xy=np.column_stack(lake.projection.to_xy(own.lon, own.lat)),
        depth_m=own.depth_m,
        day=np.array([days.get(row, 0) for row in own.row.tolist()], dtype=np.int64),
    )


def _days(sheet: Sheet) -> dict[int, int]:
    """Ordinals of the days by the rows' numbers."""
    return {
        number: day.toordinal()
        for number, day in zip(sheet.table.row_numbers, sheet.iso_date("date"), strict=True)
        if day is not None
    }


def _step(field: Field, sheet: Sheet | None, base: str) -> Step:
    unit = "ft" if field.settings.units == "ft-lb" else "m"
    if sheet is not None:
        base = base if sheet.has(base) else "depth"  # in the unit of which a new column is made
        suffix = sheet.written(base).strip().lower().rpartition("_")[2]
        unit = suffix if suffix in SUFFIXES and suffix in _STEPS else unit
    return Step(unit_m=UNITS["length"][unit], digits=_STEPS[unit])
