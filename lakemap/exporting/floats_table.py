"""The floats file's own columns, so that what went out can come in again."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields
from types import MappingProxyType
from typing import Any, Final

from lakemap.basis.quantities import SUFFIXES, UNITS
from lakemap.basis.records import Field, Float, Units
from lakemap.exporting.records import Column, Kind
from lakemap.inputs.floats import COLUMNS
from lakemap.saving.cells import SI, cell_of
from lakemap.saving.coordinates import DEGREE_DIGITS
from lakemap.saving.float_rows import field_name, told
from lakemap.saving.table_edits import column_name

PRIVATE: Final = ("owner", "permit", "note")
_FIELDS: Final = tuple(one.name for one in fields(Float))
_IN_ORDER: Final = tuple(sorted(COLUMNS, key=lambda base: _FIELDS.index(field_name(base))))
_ALWAYS: Final = ("float_id", "length", "width")
_IN_INCHES: Final = ("tube_diameter", "billet_height", "hook_depth")  # as people measure them
_COUNTS: Final = frozenset(
    {"tubes", "billets", "primary_blocks", "secondary_blocks", "cable_parts", "chain_grade"}
)
_KINDS: Mapping[str, Kind] = MappingProxyType(
    {
        "float_id": "name",
        "lot": "name",
        "set_on": "date",
        "wind_from_deg": "number",
        "bearing_deg": "number",
        **dict.fromkeys(_COUNTS, "count"),
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FloatRows:
    """The floats file as columns and rows."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[object, ...], ...]


def float_rows(
    floats: Iterable[Float], *, units: Units | None, owners: bool, place: bool
) -> FloatRows:
    """Return floats in the columns of a floats file; a column that no float fills is left out.

    Parameters
    ----------
    floats : iterable of Float
        In file order.
    units : {'ft-lb', 'm-kg'} or None
        Of the measured columns; None is SI.
    owners : bool
        True keeps owners, permits, notes, and columns that are not known.
    place : bool
        True puts lon and lat among the columns.

    Returns
    -------
    FloatRows
        Columns and their rows.
    """
    every = tuple(floats)
    said = [dict(told(one)) for one in every]
    bases = [
        base
        for base in _IN_ORDER
        if (base in _ALWAYS or any(base in row for row in said)) and (owners or base not in PRIVATE)
    ]
    names = {base: _named(base, units) for base in bases}
    others = list(dict.fromkeys(name for one in every for name in one.extra)) if owners else []
    columns = [_column(base, names[base]) for base in bases]
    columns += [Column(name=" ".join(name.split())) for name in others]
    rows = []
    for one, row in zip(every, said, strict=True):
        cells = [_value(row.get(base), base, names[base]) for base in bases]
        cells += [one.extra.get(name) for name in others]
        rows.append(cells)
    if place:
        columns[1:1] = [Column(name=name, kind="number") for name in ("lon", "lat")]
        for one, cells in zip(every, rows, strict=True):
            cells[1:1] = [round(one.lon, DEGREE_DIGITS), round(one.lat, DEGREE_DIGITS)]
    return FloatRows(columns=tuple(columns), rows=tuple(tuple(row) for row in rows))


def left_out(field: Field) -> tuple[str, ...]:
    """Return the columns that hold something but go out only where owners are asked for."""
    known = [name for name in PRIVATE if any(getattr(one, name) for one in field.floats)]
    return (*known, *dict.fromkeys(name for one in field.floats for name in one.extra))


def _named(base: str, units: Units | None) -> str:
    if units is None:
        return f"{base}{SI[COLUMNS[base]]}"
    if units == "ft-lb" and base in _IN_INCHES:
        return f"{base}_in"
    return column_name(base, COLUMNS, (), units)


def _column(base: str, name: str) -> Column:
    measured: Kind = "number" if COLUMNS[base] is not None else "text"
    return Column(name=name, kind=_KINDS.get(base, measured))


def _value(value: object, base: str, name: str) -> object:
    """Return a value in the unit that its column's name carries."""
    if isinstance(value, tuple):
        return cell_of(value, name, base=base, dimension=None, units="m-kg").text
    dimension = COLUMNS[base]
    if dimension is None or not isinstance(value, (int, float)):
        return value
    unit = SUFFIXES[name.removeprefix(f"{base}_")][1]
    return twelve(value / UNITS[dimension][unit])


def twelve(value: Any) -> float | None:  # noqa: ANN401 - a number of any library, or None
    """Return a number's first twelve figures; more are the noise of units turned."""
    return None if value is None else float(f"{value:.12g}")
