"""Zones in a CSV file of one corner a row."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Any

import numpy as np
import shapely

from lakemap.basis.errors import BadInputError, Problem, ProblemLog
from lakemap.basis.records import FloatArray, Geometry, Units
from lakemap.inputs.cells import Sheet
from lakemap.inputs.positions import POSITION, read_positions
from lakemap.inputs.zones import COLUMNS
from lakemap.saving.coordinates import near
from lakemap.saving.places import places_in
from lakemap.saving.records import ZoneChange
from lakemap.saving.save import Held
from lakemap.saving.table_edits import RowChange
from lakemap.saving.whole_files import edited_table

_KNOWN: Mapping[str, str | None] = MappingProxyType({**COLUMNS, **POSITION})


def zone_rows(
    held: Held, changes: Sequence[ZoneChange], *, crs: str, units: Units
) -> tuple[bytes, tuple[str, ...]]:
    """Change a CSV file of zones.

    Parameters
    ----------
    held : Held
        The file.
    changes : sequence of ZoneChange
        What is to change.
    crs : str
        Of x, y columns.
    units : Units
        Where the file does not tell.

    Returns
    -------
    bytes
        The new file.
    tuple of str
        What people should know.

    Raises
    ------
    BadInputError
        If a shape has parts or holes, which a list of corners can't hold.
    """
    table = _Corners(held, crs)
    rows: list[RowChange] = []
    removed: list[int] = []
    for one in changes:
        if one.row is None:
            rows += table.new(one)
            continue
        own = table.rows_of(one.row)
        if one.removed:
            removed += own
            continue
        changed, gone = table.changed(own, one)
        rows += changed
        removed += gone
    return edited_table(held, _KNOWN, rows, units=units, removed=removed)


class _Corners:
    """A table of corners, asked for the changes of its rows."""

    def __init__(self, held: Held, crs: str) -> None:
        self._file, self._crs = held.name, crs
        self._numbers = held.table.row_numbers
        self._sheet = Sheet(held.table, _KNOWN, ProblemLog())
        self._keys = self._sheet.text("zone")
        self._lonlat = read_positions(self._sheet, crs=crs)
        self._taken = {key for key in self._keys if key}

    def rows_of(self, number: int) -> list[int]:
        """Rows of the zone that begins in one, first to last."""
        key = self._keys[self._numbers.index(number)]
        return [row for row, one in enumerate(self._keys) if one == key]

    def _free_key(self, wanted: str) -> str:
        """Return a name that no other zone has: corners of one name make one outline."""
        key, count = wanted, 1
        while key in self._taken:
            count += 1
            key = f"{wanted} {count}"
        self._taken.add(key)
        return key

    def _named(self, change: ZoneChange, own: Sequence[int]) -> tuple[dict[str, object], str]:
        """Values of the first row, and the zone's key."""
        values: dict[str, Any] = dict(change.values)
        key = self._keys[own[0]] if own else None
        if not self._sheet.has("name"):
            name = str(values.pop("name", None) or "").strip()
            if name and name != key:
                key = self._free_key(name)
        if key is None:
            key = self._free_key(str(values.get("name") or values.get("kind") or "zone").strip())
        return values, key

    def new(self, change: ZoneChange) -> list[RowChange]:
        """Rows of a new zone."""
        values, key = self._named(change, ())
        places = self._places(_corners(change.geometry, self._file))
        shape = _shape_word(change.geometry)
        first = RowChange(
            values={"zone": key, "shape": shape, **values, **places[0]},
            unsaid=frozenset({"shape"} if shape == "area" else ()),
        )
        return [first, *(RowChange(values={"zone": key, **place}) for place in places[1:])]

    def changed(
        self, own: Sequence[int], change: ZoneChange
    ) -> tuple[list[RowChange], Sequence[int]]:
        """Changes of a zone's rows, and those to take away."""
        values, key = self._named(change, own)
        cells: dict[int, dict[str, object]] = {row: {} for row in own}
        if key != self._keys[own[0]]:
            cells = {row: {"zone": key} for row in own}
        cells[own[0]] |= values
        more: list[RowChange] = []
        gone: Sequence[int] = ()
        if change.geometry is not None:
            corners = _corners(change.geometry, self._file)
            places = self._places(corners)
            for row, corner, place in zip(own, corners.tolist(), places, strict=False):
                if not near((corner[0], corner[1]), tuple(self._lonlat[row].tolist())):
                    cells[row] |= place
            cells[own[0]]["shape"] = _shape_word(change.geometry)
            more = [
                RowChange(values={"zone": key, **place}, after=own[-1])
                for place in places[len(own) :]
            ]
            gone = own[len(places) :]
        unsaid = frozenset({"shape"} if cells[own[0]].get("shape") == "area" else ())
        rows = [RowChange(row=row, values=held, unsaid=unsaid) for row, held in cells.items()]
        return [*rows, *more], gone

    def _places(self, corners: FloatArray) -> list[dict[str, object]]:
        return [dict(one) for one in places_in(self._sheet, corners, self._crs)]


def _shape_word(shape: Geometry) -> str:
    return "line" if int(shapely.get_dimensions(shape)) == 1 else "area"


def _corners(shape: Geometry, file: str) -> FloatArray:
    """Corners of an area or line, the first one not repeated."""
    parts = shapely.get_parts(shape)
    whole = len(parts) == 1 and not (
        parts[0].geom_type == "Polygon" and len(parts[0].interiors) > 0
    )
    if not whole:
        text = (
            "a zone of several parts or with a hole can't stand in a table of corners; draw it as"
            " several zones, or keep the zones as zones.geojson; nothing was written"
        )
        raise BadInputError([Problem(code="bad_zone_shape", text=text, file=file)])
    xy: FloatArray = np.asarray(shapely.get_coordinates(parts[0]), dtype=np.float64)
    return xy if parts[0].geom_type == "LineString" else xy[:-1]
