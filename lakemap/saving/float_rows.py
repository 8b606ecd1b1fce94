"""Floats as they are meant after a change, checked as if they had been read from a file."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import MISSING, fields, replace
from types import MappingProxyType
from typing import Final

from lakemap.basis.errors import Problem, ProblemLog
from lakemap.basis.records import Field, Float
from lakemap.inputs.cells import RawTable, is_blank
from lakemap.inputs.floats import COLUMNS, read_floats
from lakemap.saving.cells import SI, cell_of
from lakemap.saving.coordinates import near
from lakemap.saving.records import FloatChange

_NAMED_SHORT: Mapping[str, str] = MappingProxyType(
    {"riser_length": "riser_m", "ground_length": "ground_m"}
)
DEFAULTS: Mapping[str, object] = MappingProxyType(
    {one.name: one.default for one in fields(Float) if one.default is not MISSING}
)
_REL: Final = 1e-9  # twelve figures are written
_NOT_VALUES: Final = ("lon", "lat", "row", "extra")


def field_name(base: str) -> str:
    """Return a column's name in `Float`."""
    return _NAMED_SHORT.get(base, f"{base}{SI[COLUMNS[base]]}")


def told(one: Float) -> dict[str, object]:
    """What a row has to say, by column; what goes without saying may stand in its column too."""
    named = {base: getattr(one, field_name(base)) for base in COLUMNS}
    return {base: value for base, value in named.items() if value not in (None, ())}


def same_values(one: Float, meant: Float, *, loose: Sequence[str]) -> bool:
    """Tell whether a float was read as it is meant.

    Parameters
    ----------
    one, meant : Float
        As read, and as meant.
    loose : sequence of str
        Names of the record's fields that were written; the others must be the same to the bit.

    Returns
    -------
    bool
        Whether all values but row and unknown columns agree.
    """
    for name in (each.name for each in fields(Float)):
        if name in _NOT_VALUES:
            continue
        read, asked = getattr(one, name), getattr(meant, name)
        numbers = isinstance(read, (int, float)) and isinstance(asked, (int, float))
        close = numbers and name in loose and math.isclose(read, asked, rel_tol=_REL)
        if not close and read != asked:
            return False
    return True


def planned(field: Field, changes: Sequence[FloatChange]) -> tuple[Float, ...]:
    """Return a field's floats as they are after some changes.

    Parameters
    ----------
    field : Field
        As read.
    changes : sequence of FloatChange
        One per float at most.

    Returns
    -------
    tuple of Float
        All of them; new ones at the end, in the order of the changes.

    Raises
    ------
    BadInputError
        If a value can't stand in its column, a primary lies on land, a float is not there, or a
        new one is.
    """
    _refuse_strange(field, changes)
    old = {one.float_id: one for one in field.floats}
    next_row = max((one.row for one in field.floats), default=1) + 1
    columns = ("float_id", "lon", "lat", *(_si_name(base) for base in _OTHERS))
    rows = [_row(old.get(one.float_id), one) for one in changes]
    numbers = [next_row + n if one.new else old[one.float_id].row for n, one in enumerate(changes)]
    table = RawTable(
        file=field.floats_file, columns=columns, rows=tuple(rows), row_numbers=tuple(numbers)
    )
    log = ProblemLog()
    read = read_floats(table, log, crs="EPSG:4326", lake=field.lake)
    log.raise_if_fatal()
    new = {one.float_id: one for one in read}
    kept = [
        replace(new[one.float_id], extra=one.extra) if one.float_id in new else one
        for one in field.floats
    ]
    return (*kept, *(one for one in read if one.float_id not in old))


_OTHERS: Final = tuple(base for base in COLUMNS if base != "float_id")


def _si_name(base: str) -> str:
    return f"{base}{SI[COLUMNS[base]]}"


def _row(old: Float | None, change: FloatChange) -> tuple[object, ...]:
    """Cells of one float in SI, the new values over the old ones."""
    said: dict[str, object] = {"status": "proposed"} if old is None else dict(told(old))
    said |= change.values
    said = {base: _raw(value) for base, value in said.items()}
    at = change.position or (None if old is None else (old.lon, old.lat))
    place = (None, None) if at is None else at
    return (change.float_id, *place, *(said.get(base) for base in _OTHERS))


def _raw(value: object) -> object:
    """Return fittings as their text; the rest stays."""
    if isinstance(value, tuple):
        return cell_of(value, "fittings", base="fittings", dimension=None, units="m-kg").text
    return value


def _refuse_strange(field: Field, changes: Sequence[FloatChange]) -> None:
    """Tell what is no change of this field."""
    log = ProblemLog()
    there = {one.float_id for one in field.floats}
    seen: set[str] = set()
    for one in changes:
        for text in _strange(one, there, seen):
            shown = f"float {one.float_id!r}: {text}; nothing was written"
            log.add(Problem(code="bad_change", text=shown, file=field.floats_file))
        seen.add(one.float_id)
    log.raise_if_fatal()


def _strange(one: FloatChange, there: set[str], seen: set[str]) -> list[str]:
    wrong = []
    if one.float_id in seen:
        wrong.append("it is changed twice; give its changes together")
    if one.new and one.float_id in there:
        wrong.append("there is such a float already; give the new one another number")
    if not one.new and one.float_id not in there:
        wrong.append("there is no such float")
    if one.float_id != one.float_id.strip() or not one.float_id:
        wrong.append("a float's name has no blanks about it")
    unknown = sorted(set(one.values) - set(_OTHERS))
    wrong += [f"{name} is no column that can be changed" for name in unknown]
    for base, value in one.values.items():
        if isinstance(value, str) and any(sign == "\0" or _alone(sign) for sign in value):
            wrong.append(f"{base} holds a sign that can't be written")
    return wrong


def _alone(sign: str) -> bool:
    """Tell half of a pair, which is no letter."""
    return "\ud800" <= sign <= "\udfff"


def changed_columns(old: Float | None, meant: Float, change: FloatChange) -> dict[str, object]:
    """Return what is to be written of a changed float, by column.

    Parameters
    ----------
    old : Float or None
        As it was; None: it is new.
    meant : Float
        As it is meant.
    change : FloatChange
        What was asked.

    Returns
    -------
    dict of str to object
        None for a blank; of an old float only what differs.
    """
    if old is None:
        return dict(told(meant))
    found: dict[str, object] = {}
    for base, asked in change.values.items():
        name = field_name(base)
        was, value = getattr(old, name), getattr(meant, name)
        numbers = isinstance(was, float) and isinstance(value, float)
        if was == value or (numbers and math.isclose(was, value, rel_tol=_REL)):
            continue
        blank = is_blank(asked) or asked == ()
        found[base] = None if blank else value
    return found


def moved(old: Float | None, change: FloatChange) -> bool:
    """Tell whether a float's position is to be written."""
    if old is None or change.position is None:
        return old is None
    return not near(change.position, (old.lon, old.lat))
