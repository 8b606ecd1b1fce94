"""What has changed in a field's files since it was read, in sentences."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Final

import shapely

from lakemap.basis.errors import BadInputError, Problem, ProblemLog
from lakemap.basis.records import Field, Float, Units, Zone
from lakemap.basis.wording import length_text
from lakemap.inputs.cells import RawTable
from lakemap.inputs.floats import COLUMNS, read_floats
from lakemap.inputs.lake_shape import read_lake
from lakemap.inputs.soundings import read_soundings
from lakemap.inputs.zones import read_zones
from lakemap.saving.cells import cell_of, plain
from lakemap.saving.coordinates import distance_m, near
from lakemap.saving.float_rows import field_name
from lakemap.saving.reading_back import read_as
from lakemap.saving.stamps import FolderState

_MOST_TOLD: Final = 20
_SHOWN: Final = 60  # signs of a cell
_PROBLEMS: Final = 3


def _table(
    state: FolderState, stem: str, tell: Callable[[RawTable, ProblemLog], Sequence[str]]
) -> Sequence[str]:
    """Read a file as it is now and let it be compared; or say why it can't be read."""
    name = state.name_of(stem)
    if name is None:
        return (f"the {stem} file was taken away",)
    log = ProblemLog()
    if not state.files[name]:
        return (f"{name} is empty now",)
    table = read_as(name, state.files[name], log)
    try:
        says = [] if table is None else list(tell(table, log))
    except BadInputError as error:
        for problem in error.problems:
            log.add(problem)
        says = []
    if log.any_fatal():
        return _unreadable(name, tuple(log))
    if len(says) > _MOST_TOLD:
        says = [*says[:_MOST_TOLD], f"and {len(says) - _MOST_TOLD} more changes"]
    return says or (f"{name} was written anew, though nothing that is read from it differs",)


def _unreadable(name: str, problems: Sequence[Problem]) -> Sequence[str]:
    fatal = [one.line() for one in problems if one.fatal]
    more = len(fatal) - _PROBLEMS
    rest = (f"and {more} more problems",) if more > 0 else ()
    return (f"{name} can't be read as it is now", *fatal[:_PROBLEMS], *rest)


def float_differences(state: FolderState, field: Field) -> Sequence[str]:
    """Say what has changed in the floats file.

    Parameters
    ----------
    state : FolderState
        The files now.
    field : Field
        As it was read.

    Returns
    -------
    sequence of str
        A sentence per float and cell.
    """

    def tell(table: RawTable, log: ProblemLog) -> Sequence[str]:
        now = read_floats(table, log, crs=field.settings.crs, lake=field.lake)
        old = {one.float_id: one for one in field.floats}
        new = {one.float_id: one for one in now}
        says = [f"float {name} was taken away" for name in old if name not in new]
        says += [f"float {name} was added" for name in new if name not in old]
        for name in (name for name in old if name in new):
            says += _of_float(old[name], new[name], field.settings.units)
        return says

    return _table(state, "floats", tell)


def _of_float(old: Float, new: Float, units: Units) -> list[str]:
    says = []
    at, was = (new.lon, new.lat), (old.lon, old.lat)
    if not near(at, was):
        says.append(f"float {old.float_id} was moved by {length_text(distance_m(at, was), units)}")
    for base in COLUMNS:
        before, after = getattr(old, field_name(base)), getattr(new, field_name(base))
        if before != after:
            shown = [_cell(base, value, units) for value in (before, after)]
            words = base.removesuffix("_deg").replace("_", " ")
            says.append(f"float {old.float_id}: {words} {shown[0]} → {shown[1]}")
    for name in dict.fromkeys([*old.extra, *new.extra]):
        before, after = old.extra.get(name), new.extra.get(name)
        if before != after:
            says.append(f"float {old.float_id}: {name} {_short(before)} → {_short(after)}")
    return says


def _cell(base: str, value: object, units: Units) -> str:
    """A cell as it is told: six figures do."""
    dimension = COLUMNS[base]
    cell = cell_of(value, base, base=base, dimension=dimension, units=units)
    number, _, unit = cell.text.partition(" ")
    return _short(
        cell.text if cell.kind == "text" else f"{plain(float(f'{float(number):.6g}'))} {unit}"
    )


def _short(text: str | None) -> str:
    even = " ".join((text or "").split())
    if not even:
        return "blank"
    return even if len(even) <= _SHOWN else f"{even[:_SHOWN]}…"


def zone_differences(state: FolderState, zones: Sequence[Zone], crs: str) -> Sequence[str]:
    """Say what has changed in the zones file.

    Parameters
    ----------
    state : FolderState
        The files now.
    zones : sequence of Zone
        As they were read.
    crs : str
        Of x, y columns.

    Returns
    -------
    sequence of str
        A sentence per zone.
    """

    def tell(table: RawTable, log: ProblemLog) -> Sequence[str]:
        now = read_zones(table, log, crs=crs)
        old, new = _by_label(zones), _by_label(now)
        says = [f"zone {key[0]} was taken away" for key in old if key not in new]
        says += [f"zone {key[0]} was added" for key in new if key not in old]
        for key in (key for key in old if key in new):
            one, other = old[key], new[key]
            if not shapely.equals_exact(one.geometry, other.geometry):
                says.append(f"zone {key[0]} was drawn anew")
            if replace(one, geometry=None, row=0) != replace(other, geometry=None, row=0):
                says.append(f"zone {key[0]} has other values")
        return says

    return _table(state, "zones", tell)


def _by_label(zones: Sequence[Zone]) -> dict[tuple[str, int], Zone]:
    """Zones by label; a second one of a label by its count."""
    found: dict[tuple[str, int], Zone] = {}
    for one in zones:
        count = sum(label == one.label for label, _ in found)
        found[one.label, count] = one
    return found


def lake_differences(state: FolderState, lake: object, crs: str) -> Sequence[str]:
    """Say whether the lake has changed; parameters as in `zone_differences`."""

    def tell(table: RawTable, log: ProblemLog) -> Sequence[str]:
        now = read_lake(table, log, crs=crs)
        if now is None or (lake is not None and shapely.equals_exact(now.outline, lake)):
            return ()
        return (f"the lake in {table.file} was drawn anew",)

    return _table(state, "lake", tell)


def sounding_differences(state: FolderState, field: Field | None, crs: str) -> Sequence[str]:
    """Say what has changed in the soundings file; parameters as in `zone_differences`."""

    def tell(table: RawTable, log: ProblemLog) -> Sequence[str]:
        lake, levels = (None, None) if field is None else (field.lake, field.settings.levels)
        now = read_soundings(table, log, crs=crs, levels=levels, lake=lake)
        was = None if field is None else field.soundings
        counts = [0 if one is None else len(one.row) for one in (was, now)]
        if counts[0] == counts[1]:
            return (f"soundings in {table.file} have changed",)
        return (f"there are {counts[1]:,} soundings now, not {counts[0]:,}",)

    return _table(state, "soundings", tell)
