"""`save_soundings`: soundings put to the soundings file, or taken away from it."""

from collections.abc import Collection, Mapping, Sequence
from os import PathLike
from pathlib import Path
from types import MappingProxyType
from typing import Final

import numpy as np

from lakemap.basis.errors import BadInputError, Problem, ProblemLog
from lakemap.basis.records import Field, Soundings, Units
from lakemap.inputs.cells import RawTable, Sheet
from lakemap.inputs.positions import POSITION
from lakemap.inputs.soundings import COLUMNS, read_soundings
from lakemap.saving.coordinates import near
from lakemap.saving.differences import sounding_differences
from lakemap.saving.layer_settings import LayerSettings, layer_settings
from lakemap.saving.places import places_in
from lakemap.saving.records import NewSounding, Saved, Stamp, Underneath
from lakemap.saving.save import Held, Job, run
from lakemap.saving.table_edits import RowChange
from lakemap.saving.whole_files import edited_table, table_text

KNOWN: Mapping[str, str | None] = MappingProxyType({**COLUMNS, **POSITION})
_FILE: Final = "soundings.csv"
_REMEDY: Final = "save that file as soundings.csv first and take it away"
_REL: Final = 1e-9


def save_soundings(
    folder: str | PathLike[str],
    field: Field | None,
    added: Sequence[NewSounding],
    *,
    stamp: Stamp,
    removed: Collection[int] = (),
) -> Saved | Underneath:
    """Put soundings to a field's soundings.csv, or take some away.

    Where there is no soundings file, soundings.csv is made.

    Parameters
    ----------
    folder : str or path
        Of the field.
    field : Field or None
        As read from there; None: it can't be read yet.
    added : sequence of NewSounding
        New rows at the end.
    stamp : Stamp
        Of the folder when it was read.
    removed : collection of int
        Rows to take away, numbers as in `Soundings.row`.

    Returns
    -------
    Saved or Underneath
        The latter if the soundings or the settings changed since; then all soundings of the plan
        stand beside as `soundings.csv.plan`.

    Raises
    ------
    BadInputError
        If something can't be written as it is meant; then nothing was written.
    """
    path = Path(folder)
    own = layer_settings(path, field)
    _refuse_strange(added)
    before: list[Soundings | None] = []

    def edited(held: Held) -> tuple[bytes, tuple[str, ...]]:
        before.append(_read(held.table, own))
        places = {number: row for row, number in enumerate(held.table.row_numbers)}
        lost = sorted(set(removed) - set(places))
        if lost:
            text = f"there is no sounding in row {lost[0]}; nothing was written"
            raise BadInputError([Problem(code="bad_change", text=text, file=held.name)])
        rows = _rows(Sheet(held.table, KNOWN, ProblemLog()), added, own)
        gone = [places[number] for number in removed]
        return edited_table(held, KNOWN, rows, units=own.units, removed=gone)

    def whole() -> tuple[str, str]:
        old = None if field is None else field.soundings
        return _FILE, soundings_text([*_kept(old, removed), *added], units=own.units)

    job = Job(
        stem="soundings",
        stamp=stamp,
        also=(),
        formats=(".csv",),
        remedy=_REMEDY,
        differs=lambda state: sounding_differences(state, field, own.crs),
        whole=whole,
        edited=edited,
        check=lambda table: _check(
            table, [*_kept(before[0] if before else None, removed), *added], own
        ),
    )
    return run(path, job)


def soundings_text(soundings: Sequence[NewSounding], *, units: Units) -> str:
    """Return soundings as the text of a new soundings.csv.

    Parameters
    ----------
    soundings : sequence of NewSounding
        In order.
    units : Units
        Of the depths.

    Returns
    -------
    str
        With a header and one row each.
    """
    unit = "ft" if units == "ft-lb" else "m"
    header = f"date,lon,lat,depth_{unit},level_{unit}\n"
    sheet = Sheet(RawTable(file=_FILE, columns=(), rows=(), row_numbers=()), KNOWN, ProblemLog())
    rows = _rows(sheet, soundings, LayerSettings(units=units))
    return table_text(header, _FILE, KNOWN, rows, units=units)


def _refuse_strange(added: Sequence[NewSounding]) -> None:
    log = ProblemLog()
    for number, one in enumerate(added, start=1):
        if not (np.isfinite([one.lon, one.lat, one.depth_m]).all() and one.depth_m >= 0):
            text = f"new sounding {number}: {one.depth_m:g} m is no depth; write 0 or more"
            log.add(Problem(code="bad_number", text=text, file="soundings"))
    log.raise_if_fatal()


def _rows(sheet: Sheet, added: Sequence[NewSounding], own: LayerSettings) -> list[RowChange]:
    lonlat = np.array([[one.lon, one.lat] for one in added]).reshape(-1, 2)
    return [
        RowChange(values={"date": one.day, "depth": one.depth_m, "level": one.level_m, **place})
        for one, place in zip(added, places_in(sheet, lonlat, own.crs), strict=True)
    ]


def _read(table: RawTable, own: LayerSettings) -> Soundings | None:
    log = ProblemLog()
    read = read_soundings(table, log, crs=own.crs, levels=own.levels, lake=own.lake)
    log.raise_if_fatal()
    return read


def _kept(old: Soundings | None, removed: Collection[int]) -> list[NewSounding]:
    if old is None:
        return []
    columns = (old.lon, old.lat, old.depth_m, old.row)
    return [
        NewSounding(lon=lon, lat=lat, depth_m=depth)
        for lon, lat, depth, row in zip(*(one.tolist() for one in columns), strict=True)
        if row not in set(removed)
    ]


def _check(table: RawTable, meant: Sequence[NewSounding], own: LayerSettings) -> None:
    """Raise if the new file is not read as it is meant."""
    read = _kept(_read(table, own), ())
    if len(read) == len(meant) and all(
        near((one.lon, one.lat), (other.lon, other.lat))
        and abs(one.depth_m - _reduced(other, own)) <= _REL * max(1.0, abs(other.depth_m))
        for one, other in zip(read, meant, strict=True)
    ):
        return
    text = "the file would not be read as it is meant; nothing was written"
    raise BadInputError([Problem(code="not_written", text=text, file=table.file)])


def _reduced(one: NewSounding, own: LayerSettings) -> float:
    """Depth at the soundings' level, as it will be read [m]."""
    if one.level_m is None:
        return one.depth_m
    return one.depth_m + ((0.0 if own.levels is None else own.levels.soundings_m) - one.level_m)
