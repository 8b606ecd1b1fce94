"""`save_fixes`: positions that phones saw, put to the fixes file."""

from collections.abc import Mapping, Sequence
from os import PathLike
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final

import numpy as np
import shapely

from lakemap.basis.errors import BadInputError, Problem, ProblemLog
from lakemap.basis.records import Field
from lakemap.inputs.cells import RawTable, Sheet
from lakemap.inputs.positions import POSITION
from lakemap.inputs.side_tables import FIX_COLUMNS, read_fixes
from lakemap.saving.coordinates import near, shape_in_crs
from lakemap.saving.geojson import FeatureChange, edited_geojson
from lakemap.saving.places import places_in
from lakemap.saving.records import NewFix, Saved, Stamp, Underneath
from lakemap.saving.save import Held, Job, run
from lakemap.saving.table_edits import RowChange
from lakemap.saving.whole_files import edited_table, features_in, property_names, table_text

KNOWN: Mapping[str, str | None] = MappingProxyType({**FIX_COLUMNS, **POSITION})
_FILE: Final = "fixes.csv"
_HEADER: Final = "date,float_id,lon,lat,position_of,wind_from_deg\n"
_REMEDY: Final = "save that file as fixes.csv first and take it away"


def save_fixes(
    folder: str | PathLike[str], field: Field, added: Sequence[NewFix], *, stamp: Stamp
) -> Saved | Underneath:
    """Put fixes to a field's fixes file: CSV, XLSX or GeoJSON.

    Where there is none, fixes.csv is made.

    Parameters
    ----------
    folder : str or path
        Of the field.
    field : Field
        As read from there.
    added : sequence of NewFix
        New rows at the end.
    stamp : Stamp
        Of the folder when it was read.

    Returns
    -------
    Saved or Underneath
        The latter if the fixes or the settings changed since; then the new ones stand beside as
        `fixes.csv.plan`.

    Raises
    ------
    BadInputError
        If something can't be written as it is meant; then nothing was written.
    """
    before: list[tuple[Mapping[str, Any], ...]] = [()]

    def edited(held: Held) -> tuple[bytes, tuple[str, ...]]:
        before.append(_read(held.table, field))
        if held.table.geometry is not None:
            return _in_features(held, field, added), ()
        rows = _rows(Sheet(held.table, KNOWN, ProblemLog()), field, added)
        return edited_table(held, KNOWN, rows, units=field.settings.units)

    job = Job(
        stem="fixes",
        stamp=stamp,
        also=(),
        formats=(".csv", ".xlsx", ".geojson", ".json"),
        remedy=_REMEDY,
        differs=lambda state: (f"{state.name_of('fixes')} has changed since it was read",),
        whole=lambda: (_FILE, _new_text(field, added)),
        edited=edited,
        check=lambda table: _check(table, field, before[-1], added),
    )
    return run(Path(folder), job)


def _new_text(field: Field, added: Sequence[NewFix]) -> str:
    sheet = Sheet(RawTable(file=_FILE, columns=(), rows=(), row_numbers=()), KNOWN, ProblemLog())
    rows = _rows(sheet, field, added)
    return table_text(_HEADER, _FILE, KNOWN, rows, units=field.settings.units)


def _values(one: NewFix) -> dict[str, object]:
    return {
        "date": one.day,
        "float_id": one.float_id,
        "position_of": one.position_of,
        "wind_from_deg": one.wind_from_deg,
    }


def _rows(sheet: Sheet, field: Field, added: Sequence[NewFix]) -> list[RowChange]:
    lonlat = np.array([[one.lon, one.lat] for one in added]).reshape(-1, 2)
    places = places_in(sheet, lonlat, field.settings.crs)
    return [
        RowChange(values={**_values(one), **place})
        for one, place in zip(added, places, strict=True)
    ]


def _in_features(held: Held, field: Field, added: Sequence[NewFix]) -> bytes:
    features, mark = features_in(held)
    changes = []
    for one in added:
        point, digits = shape_in_crs(shapely.Point(one.lon, one.lat), features.crs, held.name)
        written = property_names(held.table, KNOWN, _values(one), units=field.settings.units)
        changes.append(FeatureChange(properties=written, geometry=point, digits=digits))
    return (mark + edited_geojson(features, changes)).encode("utf-8")


def _read(table: RawTable, field: Field) -> tuple[Mapping[str, Any], ...]:
    log = ProblemLog()
    rows = read_fixes(table, log, crs=field.settings.crs)
    log.raise_if_fatal()
    return rows


def _check(
    table: RawTable,
    field: Field,
    before: Sequence[Mapping[str, Any]],
    added: Sequence[NewFix],
) -> None:
    """Raise if the new file is not read as it is meant."""
    read = _read(table, field)
    old, new = read[: len(before)], read[len(before) :]
    if old == tuple(before) and len(new) == len(added):
        pairs = zip(new, added, strict=True)
        if all(
            near((row["lon"], row["lat"]), (one.lon, one.lat))
            and all(row[name] == value for name, value in _values(one).items())
            for row, one in pairs
        ):
            return
    text = "the file would not be read as it is meant; nothing was written"
    raise BadInputError([Problem(code="not_written", text=text, file=table.file)])
