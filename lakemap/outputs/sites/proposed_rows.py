"""Sites as `proposed` rows at the end of a floats file, whose other bytes stay as they are."""

import os
import re
import tempfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType
from typing import Final

import numpy as np

from lakemap.basis.errors import BadInputError, Problem, ProblemLog
from lakemap.basis.records import Field, Float, Units
from lakemap.inputs.cells import RawTable, Sheet
from lakemap.inputs.floats import COLUMNS, read_floats
from lakemap.inputs.positions import POSITION
from lakemap.inputs.tables import read_bytes, read_csv
from lakemap.outputs.atomic import write_atomic
from lakemap.saving.cells import Style, Written, cell_of, style_of
from lakemap.saving.coordinates import near
from lakemap.saving.float_rows import DEFAULTS, field_name, same_values, told
from lakemap.saving.locks import saving_lock
from lakemap.saving.places import places_in
from lakemap.saving.targets import mode_of, spreadsheet_locks
from lakemap.siting.records import Site, SiteAsk

_KNOWN: Mapping[str, str | None] = MappingProxyType({**COLUMNS, **POSITION})
_LOOSE: Final = tuple(field_name(base) for base in COLUMNS)
_ID = re.compile(r"[0-9]{1,18}")


def add_proposed(
    folder: Path, field: Field, sites: Sequence[Site], ask: SiteAsk
) -> tuple[str, ...]:
    """Add sites to the field's floats.csv as `proposed` floats, all or none.

    Rows are added at the end; the rest of the file stays as it is, byte for byte. What `ask.like`
    tells of the kind of float is written; a blank stays blank, to be designed. What belongs to
    one float only stays blank: depth, bearing, owner, permit, date, note; the lot is `ask.lot`.

    Parameters
    ----------
    folder : Path
        Of the field.
    field : Field
        As read from there.
    sites : sequence of Site
        In the order of the new rows.
    ask : SiteAsk
        What was looked for.

    Returns
    -------
    tuple of str
        The new floats' numbers: they go on from the greatest whole number that is a float's, or was
        once, as inspections and fixes tell.

    Raises
    ------
    BadInputError
        If the floats stand in no CSV file, the file changed since it was read, a column is missing
        for what has to be said, or the file can't be written; then nothing was written.
    """
    if not sites:
        return ()
    path = _floats_csv(folder, field)
    with saving_lock(folder):
        return _add(path, field, sites, ask)


def _add(path: Path, field: Field, sites: Sequence[Site], ask: SiteAsk) -> tuple[str, ...]:
    """Compose the new file, read it back and write it."""
    data = _bytes_of(path)
    table, known = _read(data, field)
    if known != field.floats:
        _refuse(field, "file_changed", "the file has changed since it was read; run this again")
    meant = _new_floats(field, sites, ask)
    sheet = Sheet(table, _KNOWN, ProblemLog())
    text = data.decode("utf-8")
    style = style_of(text.removeprefix("\ufeff"), table)
    _require(field, table, meant)
    degrees = np.array([[one.lon, one.lat] for one in meant])
    places = places_in(sheet, degrees, field.settings.crs)
    rows = _rows(sheet, style, places, meant, units=field.settings.units)
    whole = text + ("" if text.endswith(("\n", "\r")) else style.ending) + rows
    _check(whole.encode("utf-8"), field, meant)
    _write(path, whole)
    return tuple(one.float_id for one in meant)


def _refuse(field: Field, code: str, text: str, *why: Problem) -> None:
    """Raise what is wrong, and say that the file is as it was."""
    said = Problem(code=code, text=f"{text}; nothing was written", file=field.floats_file)
    raise BadInputError([*why, said])


def _floats_csv(folder: Path, field: Field) -> Path:
    """Where the floats stand, past a link to them."""
    path = folder / field.floats_file
    if path.suffix.lower() != ".csv":
        text = (
            "only a floats.csv can be added to; this field keeps its floats in"
            f" {field.floats_file}: add the rows there"
        )
        _refuse(field, "not_csv", text)
    return path.resolve()


def _bytes_of(path: Path) -> bytes:
    log = ProblemLog()
    data = read_bytes(path, log)
    log.raise_if_fatal()
    return data or b""


def _read(data: bytes, field: Field) -> tuple[RawTable, tuple[Float, ...]]:
    """Read a floats file's bytes as the field is read; raises what is wrong with them."""
    log = ProblemLog()
    with tempfile.TemporaryDirectory() as made:
        path = Path(made) / field.floats_file
        path.write_bytes(data)
        table = read_csv(path, log)
    log.raise_if_fatal()
    if table is None:
        raise AssertionError("a table that can't be read is a fatal problem")  # pragma: no cover
    floats = read_floats(table, log, crs=field.settings.crs, lake=field.lake)
    log.raise_if_fatal()
    return table, floats


def _new_floats(field: Field, sites: Sequence[Site], ask: SiteAsk) -> tuple[Float, ...]:
    """Make the floats as they are to be read back; rows are counted by the reader."""
    common = replace(
        ask.like,
        position_of="primary",
        wind_from_deg=None,
        position_error_m=None,
        status="proposed",
        owner=None,
        lot=(ask.lot or "").strip() or None,
        depth_m=None,
        bearing_deg=None,
        set_on=None,
        permit=None,
        note=None,
        extra=MappingProxyType({}),
    )
    return tuple(
        replace(common, float_id=name, lon=site.lon, lat=site.lat)
        for name, site in zip(new_ids(field), sites, strict=False)
    )


def new_ids(field: Field, taken: Iterable[str] = ()) -> Iterator[str]:
    """Go on with the numbers of a field's floats; an old inspection must not become a new float's.

    Parameters
    ----------
    field : Field
        With its floats, and those that were once, as inspections and fixes tell.
    taken : iterable of str
        Numbers that are given already beside these.

    Yields
    ------
    str
        From one more than the greatest whole number on.
    """
    used = {one.float_id for one in field.floats} | set(taken)
    used |= {str(row.get("float_id")) for row in (*field.inspections, *field.fixes)}
    number = max((int(name) for name in used if _ID.fullmatch(name)), default=0)
    while True:
        number += 1
        yield str(number)


def _require(field: Field, table: RawTable, meant: Sequence[Float]) -> None:
    """Tell every column that is missing for what the new rows say."""
    log = ProblemLog()
    sheet = Sheet(table, _KNOWN, log)
    needed = {
        base
        for one in meant
        for base, value in told(one).items()
        if value != DEFAULTS.get(field_name(base))
    }
    sheet.require(*(base for base in COLUMNS if base in needed))
    if log.any_fatal():
        without = "" if sheet.has("status") else "; without status they would count as set"
        text = f"the new rows need every column named here{without}"
        _refuse(field, "not_written", text, *log)


def _rows(
    sheet: Sheet,
    style: Style,
    places: Sequence[Mapping[str, Written]],
    meant: Sequence[Float],
    *,
    units: Units,
) -> str:
    """Return the new rows' text."""
    columns = sheet.table.columns
    lines = []
    for one, place in zip(meant, places, strict=True):
        cells = [""] * len(columns)
        for base, value in {**told(one), **place}.items():
            if sheet.has(base):
                written = sheet.written(base)
                cell = cell_of(value, written, base=base, dimension=_KNOWN[base], units=units)
                cells[columns.index(written)] = style.text(cell)
        lines.append(style.delimiter.join(cells) + style.ending)
    return "".join(lines)


def _check(data: bytes, field: Field, meant: Sequence[Float]) -> None:
    """Read the file back before it is one: old floats as they were, new ones as they are meant."""
    why: tuple[Problem, ...] = ()
    try:
        _, floats = _read(data, field)
        count = len(field.floats)
        if floats[:count] == field.floats and len(floats) == count + len(meant):
            pairs = zip(floats[count:], meant, strict=True)
            if all(_same(one, other) for one, other in pairs):
                return
    except BadInputError as error:
        why = tuple(problem for problem in error.problems if problem.fatal)
    hint = "" if why else "; is a quote left open in the file, or does one of them begin with #?"
    _refuse(field, "not_written", f"the new rows would not be read as they are meant{hint}", *why)


def _same(one: Float, meant: Float) -> bool:
    """Tell whether a float was read back as it was meant."""
    placed = near((one.lon, one.lat), (meant.lon, meant.lat))
    return placed and same_values(one, meant, loose=_LOOSE)


def _write(path: Path, text: str) -> None:
    """Put the new file in the old one's place, as readable for others as it was."""
    lock = next((one for one in spreadsheet_locks(path) if one.exists()), None)
    held = "the file can't be written; close it in the other program or allow writing to it"
    if lock is not None:
        held = f"the file is open in a spreadsheet ({lock.name} stands beside it); close it"
    problem = Problem(
        code="file_held", text=f"{held}, then try again; nothing was written", file=path.name
    )
    if lock is not None or not os.access(path, os.W_OK):
        raise BadInputError([problem])
    try:
        write_atomic(path, text, mode_of(path))
    except PermissionError:
        raise BadInputError([problem]) from None
    except OSError as error:
        why = f"the file can't be written: {error.strerror}; nothing was written"
        raise BadInputError([Problem(code="not_written", text=why, file=path.name)]) from None
