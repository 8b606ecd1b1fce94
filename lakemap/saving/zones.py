"""`save_zones`: zones redrawn, changed, added or taken away in the zones file."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from os import PathLike
from pathlib import Path
from types import MappingProxyType
from typing import Final

import shapely

from lakemap.basis.errors import BadInputError, Problem, ProblemLog
from lakemap.basis.records import Field, Zone
from lakemap.inputs.cells import RawTable
from lakemap.inputs.positions import POSITION
from lakemap.inputs.zones import COLUMNS, read_zones
from lakemap.saving.coordinates import same_shape, shape_in_crs
from lakemap.saving.differences import zone_differences
from lakemap.saving.geojson import EMPTY, FeatureChange, edited_geojson, features_of
from lakemap.saving.layer_settings import LayerSettings, layer_settings
from lakemap.saving.outlines import drawn_zone, least
from lakemap.saving.records import Saved, Stamp, Underneath, ZoneChange
from lakemap.saving.save import Held, Job, run
from lakemap.saving.whole_files import features_in, property_names
from lakemap.saving.zone_rows import zone_rows

KNOWN: Mapping[str, str | None] = MappingProxyType({**COLUMNS, **POSITION})
_VALUES: Final = ("kind", "name", "width", "clearance", "source", "lot", "note")
_SI_NAMES: Final = ("kind", "name", "width_m", "clearance_m", "source", "lot", "note")
_FILE: Final = "zones.geojson"
_REMEDY: Final = "save that file as zones.geojson first and take it away"


def save_zones(
    folder: str | PathLike[str],
    field: Field | None,
    changes: Sequence[ZoneChange],
    *,
    stamp: Stamp,
) -> Saved | Underneath:
    """Write changed zones into a field's zones file: GeoJSON, or CSV with a corner a row.

    Only what differs is written; where there is no zones file, zones.geojson is made.

    Parameters
    ----------
    folder : str or path
        Of the field.
    field : Field or None
        As read from there; None: it can't be read yet.
    changes : sequence of ZoneChange
        One per zone at most; new ones come at the end.
    stamp : Stamp
        Of the folder when it was read.

    Returns
    -------
    Saved or Underneath
        The latter if the zones or the settings changed since; then the plan's version of all
        zones stands beside as `zones.geojson.plan`.

    Raises
    ------
    BadInputError
        If something can't be written as it is meant; then nothing was written.
    """
    path = Path(folder)
    own = layer_settings(path, field)
    old = () if field is None else field.zones
    sound = _sound(changes)
    held_zones: list[tuple[Zone, ...]] = []

    def edited(held: Held) -> tuple[bytes, tuple[str, ...]]:
        there = _read(held.table, own)
        held_zones.append(there)
        planned_zones(there, sound)  # tells what is wrong with it
        if held.table.geometry is None:
            return zone_rows(held, sound, crs=own.crs, units=own.units)
        return _in_features(held, sound, own), ()

    def whole() -> tuple[str, str]:
        return _FILE, zones_text(planned_zones(old, sound), own)

    job = Job(
        stem="zones",
        stamp=stamp,
        also=(),
        formats=(".geojson", ".json", ".csv"),
        remedy=_REMEDY,
        differs=lambda state: zone_differences(state, old, own.crs),
        whole=whole,
        edited=edited,
        check=lambda table: _check(table, held_zones[0] if held_zones else old, sound, own),
    )
    return run(path, job)


def _sound(changes: Sequence[ZoneChange]) -> tuple[ZoneChange, ...]:
    """Changes with their shapes made ready; raises where one is no shape or no value is known."""
    log = ProblemLog()
    found = []
    seen: set[int] = set()
    for number, one in enumerate(changes, start=1):
        what = f"zone {one.values.get('name') or one.row or f'{number} of the drawing'}"
        for text in _strange(one, seen):
            log.add(Problem(code="bad_change", text=f"{what}: {text}", file="zones"))
        if one.row is not None:
            seen.add(one.row)
        try:
            drawn = one.geometry is not None or (one.row is None and not one.removed)
            shape = drawn_zone(one.geometry, what, "zones") if drawn else None
        except BadInputError as error:
            log.add(error.problems[0])
            continue
        found.append(replace(one, geometry=shape))
    log.raise_if_fatal()
    return tuple(found)


def _strange(one: ZoneChange, seen: set[int]) -> list[str]:
    wrong = [f"{name} is no column of zones" for name in sorted(set(one.values) - set(_VALUES))]
    if one.row is None and one.removed:
        wrong.append("a new zone can't be taken away")
    if one.row in seen:
        wrong.append("it is changed twice; give its changes together")
    return wrong


def _read(table: RawTable, own: LayerSettings) -> tuple[Zone, ...]:
    log = ProblemLog()
    zones = read_zones(table, log, crs=own.crs)
    log.raise_if_fatal()
    return zones


def planned_zones(old: Sequence[Zone], changes: Sequence[ZoneChange]) -> tuple[Zone, ...]:
    """Return all zones after some changes, checked as if they had been read.

    Parameters
    ----------
    old : sequence of Zone
        As read.
    changes : sequence of ZoneChange
        New ones come at the end.

    Returns
    -------
    tuple of Zone
        In the order of the file.

    Raises
    ------
    BadInputError
        If a zone lacks what its kind needs, or is not there.
    """
    by_row = {one.row: one for one in changes if one.row is not None}
    lost = sorted(set(by_row) - {one.row for one in old})
    if lost:
        text = f"there is no zone in row {lost[0]}; nothing was written"
        raise BadInputError([Problem(code="bad_change", text=text, file="zones")])
    kept = [one for one in old if not (one.row in by_row and by_row[one.row].removed)]
    rows: list[tuple[Zone | None, ZoneChange | None]] = [
        *((one, by_row.get(one.row)) for one in kept),
        *((None, one) for one in changes if one.row is None),
    ]
    if not rows:
        return ()
    next_row = max((one.row for one in old), default=0) + 1
    numbers = [next_row + n if one is None else one.row for n, (one, _) in enumerate(rows)]
    table = RawTable(
        file="zones",
        columns=_SI_NAMES,
        rows=tuple(_cells(one, change) for one, change in rows),
        row_numbers=tuple(numbers),
        geometry=[_shape(one, change) for one, change in rows],
    )
    return _read(table, LayerSettings())


def _cells(old: Zone | None, change: ZoneChange | None) -> tuple[object, ...]:
    said: dict[str, object] = {} if old is None else said_of(old)
    if change is not None:
        said |= change.values
    return tuple(said.get(name) for name in _VALUES)


def _shape(old: Zone | None, change: ZoneChange | None) -> object:
    if change is not None and change.geometry is not None:
        return change.geometry
    return None if old is None else old.geometry


def said_of(zone: Zone) -> dict[str, object]:
    """What a zone's row has to say, by column; a label that is only its row is no name."""
    return {
        "kind": zone.kind,
        "name": None if _unnamed(zone) else zone.label,
        "width": zone.width_m,
        "clearance": zone.clearance_m,
        "source": zone.source,
        "lot": zone.lot,
    }


def _unnamed(zone: Zone) -> bool:
    return zone.label == f"zones row {zone.row}"


def zones_text(zones: Sequence[Zone], own: LayerSettings) -> str:
    """Return zones as the text of a new zones.geojson."""
    table = RawTable(file=_FILE, columns=(), rows=(), row_numbers=())
    changes = [
        FeatureChange(
            properties=property_names(table, KNOWN, _not_blank(one), units=own.units),
            geometry=least(one.geometry),
        )
        for one in zones
    ]
    # each as the first one would stand in an empty file: with the keys that it needs
    lines = [_one_feature(one) for one in changes]
    inner = "\n" + ",\n".join(lines) + "\n" if lines else ""
    return f'{{"type": "FeatureCollection", "features": [{inner}]}}\n'


def _one_feature(change: FeatureChange) -> str:
    text = edited_geojson(features_of(EMPTY, _FILE), [change])
    return text.split("\n")[1]


def _not_blank(zone: Zone) -> dict[str, object]:
    return {name: value for name, value in said_of(zone).items() if value is not None}


def _in_features(held: Held, changes: Sequence[ZoneChange], own: LayerSettings) -> bytes:
    """Change a GeoJSON file."""
    features, mark = features_in(held)
    made = []
    for one in changes:
        if one.removed:
            continue
        shape, digits = None, 0
        if one.geometry is not None:
            shape, digits = shape_in_crs(least(one.geometry), features.crs, held.name)
        names = property_names(held.table, KNOWN, one.values, units=own.units)
        made.append(
            FeatureChange(
                row=None if one.row is None else one.row - 1,
                properties=names,
                geometry=shape,
                digits=digits,
            )
        )
    gone = [one.row - 1 for one in changes if one.removed and one.row is not None]
    return (mark + edited_geojson(features, made, removed=gone)).encode("utf-8")


def _check(
    table: RawTable, old: Sequence[Zone], changes: Sequence[ZoneChange], own: LayerSettings
) -> None:
    """Raise if the new file is not read as it is meant."""
    meant = planned_zones(old, changes)
    drawn = [one for one in changes if one.geometry is not None]
    rows = {one.row for one in drawn if one.row is not None}
    read = _read(table, own)
    if len(read) == len(meant):
        pairs = zip(read, meant, strict=True)
        new_from = len(meant) - sum(one.row is None for one in changes)
        if all(
            _as_meant(one, other, drawn=n >= new_from or other.row in rows)
            for n, (one, other) in enumerate(pairs)
        ):
            return
    text = "the file would not be read as it is meant; nothing was written"
    raise BadInputError([Problem(code="not_written", text=text, file=table.file)])


def _as_meant(read: Zone, meant: Zone, *, drawn: bool) -> bool:
    one, other = said_of(read), said_of(meant)
    if not all(_same(name, one[name], value) for name, value in other.items()):
        return False
    if drawn:
        return same_shape(read.geometry, meant.geometry)
    return bool(shapely.equals_exact(read.geometry, meant.geometry))


def _same(name: str, read: object, meant: object) -> bool:
    """Tell whether a value was read as it is meant; a table of corners names every zone, once."""
    if isinstance(read, float) and isinstance(meant, float):
        return math.isclose(read, meant, rel_tol=1e-9)
    return read == meant or (name == "name" and str(read).startswith(str(meant or "")))
