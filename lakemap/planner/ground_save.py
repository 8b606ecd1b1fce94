"""Saving a drawing: a new field's files, or what has changed in those of one that stands."""

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any, Final

import numpy as np

from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.records import Geometry, Levels, Zone
from lakemap.clearances.records import PlacedZone
from lakemap.planner.ground_check import Checked, look_through
from lakemap.planner.ground_drawing import Drawing, DrawnShape, Finding
from lakemap.planner.ground_effect import is_same
from lakemap.planner.ground_reading import GroundReading
from lakemap.saving.lake import save_lake
from lakemap.saving.new_field import Drawing as NewField
from lakemap.saving.new_field import make_field
from lakemap.saving.records import NewSounding, Saved, Stamp, Underneath, ZoneChange
from lakemap.saving.soundings import save_soundings
from lakemap.saving.zones import save_zones

_SAME: Final = 1e-9  # of a typed length
_DIGITS: Final = 8  # of a degree: a millimetre
Save = Callable[[Stamp], Saved | Underneath]


def save_drawing(reading: GroundReading, drawing: Drawing) -> dict[str, Any]:
    """Write a drawing into its folder.

    Parameters
    ----------
    reading : GroundReading
        The folder as it was when the page was loaded.
    drawing : Drawing
        As the page sent it.

    Returns
    -------
    dict
        `saved`; then `written` (file names) and `says`; or `underneath` and `kept`, as the planner
        page's own save tells it.

    Raises
    ------
    BadInputError
        With all that has to be mended first, or what can't be written.
    """
    checked = look_through(drawing, reading.assessment)
    if checked.stops:
        raise BadInputError([_problem(one) for one in checked.stops])
    if reading.assessment is None and not _begun(reading):
        return _made(reading.folder, checked)
    return _written(list(_saves(reading, checked)), reading.stamp)


def _problem(one: Finding) -> Problem:
    return Problem(code="bad_drawing", text=f"{one.text[:1].upper()}{one.text[1:]}")


def _begun(reading: GroundReading) -> bool:
    """Tell whether files of a field stand there already, as `start` makes them."""
    return reading.settings is not None


def _made(folder: Path, checked: Checked) -> dict[str, Any]:
    """A new field, all its files or none."""
    drawing = checked.drawing
    levels = drawing.levels_m
    heights = None
    if levels.keys() >= {"low", "normal", "high"}:
        heights = Levels(
            low_m=levels["low"],
            normal_m=levels["normal"],
            high_m=levels["high"],
            soundings_m=levels.get("soundings", levels["normal"]),
        )
    stamp = make_field(
        folder,
        NewField(
            name=drawing.name or folder.resolve().name,
            units=drawing.units,
            lake=_lonlat(drawing, checked.assembled.water),
            island_names=checked.assembled.island_names,
            levels=heights,
            storm_m_s=drawing.storm_m_s,
            zones=[_new_zone(shape, drawing, made) for shape, made in checked.assembled.zones],
            soundings=_soundings(drawing),
        ),
    )
    says = [] if heights else ["The levels in field.toml are guesses; write your gauge's readings."]
    return {"saved": True, "written": sorted(stamp.files), "says": says}


def _saves(reading: GroundReading, checked: Checked) -> Iterator[Save]:
    """What there is to write, file by file."""
    folder, drawing, found = reading.folder, checked.drawing, checked.assembled
    before = reading.assessment
    field = None if before is None else before.field
    is_same_lake = field is not None and not checked.lake_changed
    if not is_same_lake or (field is not None and found.island_names != field.island_names):
        lake = field.lake if field and is_same_lake else _lonlat(drawing, found.water)
        yield lambda stamp: save_lake(
            folder, field, lake, stamp=stamp, island_names=found.island_names
        )
    changes = list(_zone_changes(() if before is None else before.zones, checked))
    if changes:
        yield lambda stamp: save_zones(folder, field, changes, stamp=stamp)
    soundings = _soundings(drawing)
    if soundings or drawing.gone:
        yield lambda stamp: save_soundings(
            folder, field, soundings, stamp=stamp, removed=drawing.gone
        )


def _written(saves: Sequence[Save], stamp: Stamp) -> dict[str, Any]:
    """Write one file after the other; what was written before a fault is told with it."""
    written: list[str] = []
    says: list[str] = []
    for save in saves:
        try:
            done = save(stamp)
        except BadInputError as error:
            if not written:
                raise
            text = f"{' and '.join(written)} were written before that; load the page again"
            raise BadInputError([*error.problems, Problem(code="in_part", text=text)]) from error
        if isinstance(done, Underneath):
            before = [f"{name} was written before that." for name in written]
            return {"saved": False, "underneath": [*done.says, *before], "kept": done.kept}
        stamp = done.stamp
        written.append(done.file)
        says += [note for note in done.notes if note != "nothing was changed"]
        if done.kept is not None:
            says.append(f"{done.file} as it was is kept as {done.kept}.")
    return {"saved": True, "written": written, "says": says}


def _lonlat(drawing: Drawing, geometry: Geometry) -> Geometry:
    return drawing.middle.unproject(geometry)


def _new_zone(shape: DrawnShape, drawing: Drawing, made: Geometry) -> ZoneChange:
    values = {name: value for name, value in _said(shape).items() if value is not None}
    return ZoneChange(row=None, geometry=_lonlat(drawing, made), values=values)


def _said(shape: DrawnShape) -> dict[str, Any]:
    """The columns of a zone as drawn; None is blank."""
    return {
        "kind": shape.kind,
        "name": shape.name or None,
        "width": shape.width_m if shape.is_line else None,
        "clearance": shape.clearance_m,
        "source": shape.source or None,
        "lot": shape.lot or None,
    }


def _said_of(zone: Zone) -> dict[str, Any]:
    """The same as it stands in the file."""
    return {
        "kind": zone.kind,
        "name": None if zone.label == f"zones row {zone.row}" else zone.label,
        "width": zone.width_m,
        "clearance": zone.clearance_m,
        "source": zone.source,
        "lot": zone.lot,
    }


def _zone_changes(before: Sequence[PlacedZone], checked: Checked) -> Iterator[ZoneChange]:
    """What differs from the zones file, zone by zone."""
    drawing = checked.drawing
    old = {placed.zone.row: placed for placed in before}
    kept: set[int] = set()
    for shape, made in checked.assembled.zones:
        placed = None if shape.row is None else old.get(shape.row)
        if placed is None:
            yield _new_zone(shape, drawing, made)
            continue
        kept.add(placed.zone.row)
        now, was = _said(shape), _said_of(placed.zone)
        values = {name: now[name] for name in now if not _same(now[name], was[name])}
        geometry = None if is_same(shape, placed.shape) else _lonlat(drawing, made)
        if values or geometry is not None:
            yield ZoneChange(row=placed.zone.row, geometry=geometry, values=values)
    for row in sorted(old.keys() - kept):
        yield ZoneChange(row=row, removed=True)


def _same(one: object, other: object) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return abs(one - other) <= _SAME * max(1.0, abs(other))
    return one == other


def _soundings(drawing: Drawing) -> list[NewSounding]:
    known = np.isfinite(drawing.depth_m)
    lon, lat = drawing.middle.to_lonlat(*drawing.depth_xy[known].T)
    return [
        NewSounding(lon=round(x, _DIGITS), lat=round(y, _DIGITS), depth_m=depth)
        for x, y, depth in zip(
            lon.tolist(), lat.tolist(), drawing.depth_m[known].tolist(), strict=True
        )
    ]
