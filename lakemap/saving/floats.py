"""`save_floats`: changes of floats in the floats file, whose other bytes stay as they are."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from os import PathLike
from pathlib import Path

import numpy as np
import shapely

from lakemap.basis.errors import BadInputError, Problem, ProblemLog
from lakemap.basis.records import Field, Float
from lakemap.inputs.cells import RawTable, Sheet
from lakemap.inputs.floats import COLUMNS, read_floats
from lakemap.inputs.positions import POSITION
from lakemap.saving.cells import Written, fixed
from lakemap.saving.coordinates import DEGREE_DIGITS, near, shape_in_crs
from lakemap.saving.differences import float_differences
from lakemap.saving.float_rows import (
    DEFAULTS,
    changed_columns,
    field_name,
    moved,
    planned,
    same_values,
)
from lakemap.saving.floats_text import floats_csv_text
from lakemap.saving.geojson import FeatureChange, edited_geojson
from lakemap.saving.places import places_in
from lakemap.saving.records import FloatChange, Saved, Stamp, Underneath
from lakemap.saving.save import Held, Job, run
from lakemap.saving.stamps import FolderState
from lakemap.saving.table_edits import RowChange
from lakemap.saving.whole_files import edited_table, features_in, property_names

KNOWN: Mapping[str, str | None] = {**COLUMNS, **POSITION}
_REMEDY = (
    "keep the plan as floats.csv (it holds all floats, changed ones too) and take the other file"
    " away, or save that one as CSV, XLSX or GeoJSON first"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """One float that is to be written."""

    row: int | None  # place in the file; None: a new one
    meant: Float
    values: Mapping[str, object]
    moved: bool


def save_floats(
    folder: str | PathLike[str], field: Field, changes: Sequence[FloatChange], *, stamp: Stamp
) -> Saved | Underneath:
    """Write changed floats into a field's floats file: CSV, XLSX or GeoJSON.

    Only the cells that differ are written, in the file's own names, units and manner; new floats
    are put at the end. A column that is missing for a value is added. The version before is kept
    beside the file as `<file>.before`.

    Parameters
    ----------
    folder : str or path
        Of the field.
    field : Field
        As read from there.
    changes : sequence of FloatChange
        One per float at most.
    stamp : Stamp
        Of the folder when it was read.

    Returns
    -------
    Saved or Underneath
        The latter if the floats, the lake or the settings changed since; then the plan's version
        of all floats stands beside as `floats.csv.plan`.

    Raises
    ------
    BadInputError
        If something can't be written as it is meant; then nothing was written.
    """
    meant = planned(field, changes)
    rows = _rows(field, meant, changes)

    def edited(held: Held) -> tuple[bytes, tuple[str, ...]]:
        _refuse_other_field(held, field)
        if held.table.geometry is not None:
            return _in_features(held, field, rows), ()
        return _in_table(held, field, rows)

    job = Job(
        stem="floats",
        stamp=stamp,
        also=("lake",),
        formats=(".csv", ".xlsx", ".geojson", ".json"),
        remedy=_REMEDY,
        differs=lambda state: _differs(state, field),
        whole=lambda: ("floats.csv", floats_csv_text(meant, units=field.settings.units)),
        edited=edited,
        check=lambda table: _check(table, field, meant, rows),
    )
    return run(Path(folder), job)


def _rows(field: Field, meant: Sequence[Float], changes: Sequence[FloatChange]) -> tuple[_Row, ...]:
    """What is to be written, new floats in their order."""
    place = {one.float_id: row for row, one in enumerate(field.floats)}
    by_id = {one.float_id: one for one in meant}
    found = []
    for change in changes:
        row = place.get(change.float_id)
        old = None if row is None else field.floats[row]
        one = by_id[change.float_id]
        values, is_moved = changed_columns(old, one, change), moved(old, change)
        if values or is_moved:
            found.append(_Row(row=row, meant=one, values=values, moved=is_moved))
    return tuple(found)


def _refuse_other_field(held: Held, field: Field) -> None:
    """The rows to change are found by their places, so the field must be this file's."""
    if _read(held.table, field) != field.floats:
        text = "the field is not the one that this file holds; read it again; nothing was written"
        raise BadInputError([Problem(code="file_changed", text=text, file=held.name)])


def _read(table: RawTable, field: Field) -> tuple[Float, ...]:
    log = ProblemLog()
    floats = read_floats(table, log, crs=field.settings.crs, lake=field.lake)
    log.raise_if_fatal()
    return floats


def _differs(state: FolderState, field: Field) -> Sequence[str]:
    return float_differences(state, field)


def _in_table(held: Held, field: Field, rows: Sequence[_Row]) -> tuple[bytes, tuple[str, ...]]:
    """Change a CSV or XLSX file."""
    sheet = Sheet(held.table, KNOWN, ProblemLog())
    degrees = np.array([[one.meant.lon, one.meant.lat] for one in rows])
    places = places_in(sheet, degrees, field.settings.crs)
    changes = [
        RowChange(
            row=one.row,
            values={**one.values, **_place_of(one, place, field)},
            unsaid=_unsaid(one),
        )
        for one, place in zip(rows, places, strict=True)
    ]
    return edited_table(held, KNOWN, changes, units=field.settings.units)


def _place_of(one: _Row, place: Mapping[str, Written], field: Field) -> Mapping[str, Written]:
    """Cells of a position; of lon and lat only the one that differs."""
    if not one.moved:
        return {}
    if one.row is None or "x" in place:
        return place
    old = field.floats[one.row]
    was = {"lon": fixed(old.lon, DEGREE_DIGITS), "lat": fixed(old.lat, DEGREE_DIGITS)}
    return {name: cell for name, cell in place.items() if cell != was[name]}


def _unsaid(one: _Row) -> frozenset[str]:
    """Columns of a new float that need not be there, as a blank means the same."""
    if one.row is not None:
        return frozenset()
    return frozenset(
        base for base, value in one.values.items() if value == DEFAULTS.get(field_name(base))
    )


def _in_features(held: Held, field: Field, rows: Sequence[_Row]) -> bytes:
    """Change a GeoJSON file."""
    features, mark = features_in(held)
    changes = []
    for one in rows:
        point, digits = None, DEGREE_DIGITS
        if one.moved:
            degrees = shapely.Point(one.meant.lon, one.meant.lat)
            point, digits = shape_in_crs(degrees, features.crs, held.name)
        written = property_names(held.table, KNOWN, one.values, units=field.settings.units)
        changes.append(
            FeatureChange(row=one.row, properties=written, geometry=point, digits=digits)
        )
    return (mark + edited_geojson(features, changes)).encode("utf-8")


def _check(table: RawTable, field: Field, meant: Sequence[Float], rows: Sequence[_Row]) -> None:
    """Raise if the new file is not read as it is meant: the other floats as they were."""
    read = _read(table, field)
    changed = {one.meant.float_id: one for one in rows}
    if len(read) == len(meant):
        pairs = zip(read, meant, strict=True)
        if all(_as_meant(one, other, changed.get(other.float_id), field) for one, other in pairs):
            return
    text = (
        "the file would not be read as it is meant (is a quote left open in it, or does a float's"
        " name begin with #?); nothing was written"
    )
    raise BadInputError([Problem(code="not_written", text=text, file=table.file)])


def _as_meant(read: Float, meant: Float, row: _Row | None, field: Field) -> bool:
    if row is None:
        return read == next(one for one in field.floats if one.float_id == meant.float_id)
    loose = [field_name(base) for base in row.values]
    at = (read.lon, read.lat)
    placed = near(at, (meant.lon, meant.lat)) if row.moved else at == (meant.lon, meant.lat)
    extra = row.row is None or read.extra == meant.extra
    return (
        placed and extra and same_values(replace(read, row=0), replace(meant, row=0), loose=loose)
    )
