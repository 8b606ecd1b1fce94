"""Which cells of a float's row are not what they were."""

from collections.abc import Iterator, Mapping
from operator import attrgetter
from types import MappingProxyType
from typing import Any, Final

from lakemap.basis.records import Float
from lakemap.changes.records import ColumnChange, Value

# of a float's record: the column of the floats file and its unit
COLUMNS: Final[Mapping[str, tuple[str, str | None]]] = MappingProxyType(
    {
        "status": ("status", None),
        "position_of": ("position_of", None),
        "wind_from_deg": ("wind_from_deg", "deg"),
        "position_error_m": ("position_error", "m"),
        "bearing_deg": ("bearing_deg", "deg"),
        "riser_m": ("riser_length", "m"),
        "ground_m": ("ground_length", "m"),
        "primary_blocks": ("primary_blocks", None),
        "secondary_blocks": ("secondary_blocks", None),
        "primary_weight_kg": ("primary_weight", "kg"),
        "secondary_weight_kg": ("secondary_weight", "kg"),
        "block": ("block", None),
        "block_density_kg_m3": ("block_density", "kg/m3"),
        "depth_m": ("depth", "m"),
        "hook": ("hook", None),
        "hook_depth_m": ("hook_depth", "m"),
        "length_m": ("length", "m"),
        "width_m": ("width", "m"),
        "flotation": ("flotation", None),
        "tubes": ("tubes", None),
        "tube_diameter_m": ("tube_diameter", "m"),
        "tube_length_m": ("tube_length", "m"),
        "billets": ("billets", None),
        "billet_length_m": ("billet_length", "m"),
        "billet_width_m": ("billet_width", "m"),
        "billet_height_m": ("billet_height", "m"),
        "float_weight_kg": ("float_weight", "kg"),
        "absorber_length_m": ("absorber_length", "m"),
        "absorber_stiffness_n_m": ("absorber_stiffness", "N/m"),
        "chain": ("chain", None),
        "chain_grade": ("chain_grade", None),
        "cable": ("cable", None),
        "cable_parts": ("cable_parts", None),
        "cable_ends": ("cable_ends", None),
        "fittings": ("fittings", None),
        "bottom": ("bottom", None),
        "lot": ("lot", None),
        "set_on": ("set_on", None),
    }
)
_PRIVATE: Final = ("owner", "permit", "note")
_PUBLIC_CELLS = attrgetter("lon", "lat", *COLUMNS)


def is_same_row(one: Float, other: Float, *, owners: bool) -> bool:
    """Tell whether two rows of the floats file say the same, wherever they stand.

    Parameters
    ----------
    one, other : Float
        Of two versions.
    owners : bool
        True looks at owners, permits, notes and unknown columns too.

    Returns
    -------
    bool
        Their position counts.
    """
    if one is other:
        return True
    if _PUBLIC_CELLS(one) != _PUBLIC_CELLS(other):
        return False
    return not owners or not any(_private_changes(one, other))


def column_changes(one: Float, other: Float, *, owners: bool) -> Iterator[ColumnChange]:
    """Yield the cells that are not what they were; the position is told elsewhere.

    Parameters
    ----------
    one, other : Float
        Of two versions.
    owners : bool
        True yields owners, permits, notes and unknown columns too.

    Yields
    ------
    ColumnChange
        In the order of what matters.
    """
    if one is other:
        return
    for name, (column, unit) in COLUMNS.items():
        old, new = getattr(one, name), getattr(other, name)
        if old != new:
            yield ColumnChange(column=column, unit=unit, old=_value(old), new=_value(new))
    if owners:
        yield from _private_changes(one, other)


def _private_changes(one: Float, other: Float) -> Iterator[ColumnChange]:
    pairs = [(name, getattr(one, name), getattr(other, name)) for name in _PRIVATE]
    # a column that we don't know may hold anything: a telephone number too
    extra = dict.fromkeys((*one.extra, *other.extra))
    pairs += [(name, one.extra.get(name), other.extra.get(name)) for name in extra]
    for name, old, new in pairs:
        if old != new:
            yield ColumnChange(column=name, unit=None, old=_value(old), new=_value(new))


def _value(cell: Any) -> Value:  # noqa: ANN401 - any cell
    """A cell as plain text or number: fittings as the file writes them, dates in ISO 8601."""
    if isinstance(cell, tuple):
        parts = (f"{one.name} {one.size}{f' {one.count}' * (one.count > 1)}" for one in cell)
        return "; ".join(parts) or None
    return cell if cell is None or isinstance(cell, int | float | str) else str(cell)
