"""`save_lake`: the lake's outline and its islands, drawn anew in the lake file."""

from collections.abc import Iterator, Mapping, Sequence
from os import PathLike
from pathlib import Path
from types import MappingProxyType
from typing import Final

import numpy as np
import shapely

from lakemap.basis.errors import BadInputError, Problem, ProblemLog
from lakemap.basis.records import Field, FloatArray, Geometry
from lakemap.inputs.cells import RawTable, Sheet
from lakemap.inputs.lake_shape import COLUMNS, ROUGH_NOTE, LakeShape, read_lake
from lakemap.inputs.positions import POSITION
from lakemap.inputs.scaffold import start_texts
from lakemap.saving.cells import BLANK, Written
from lakemap.saving.coordinates import same_shape, shape_in_crs
from lakemap.saving.differences import lake_differences
from lakemap.saving.geojson import EMPTY, FeatureChange, edited_geojson, features_of
from lakemap.saving.layer_settings import LayerSettings, layer_settings
from lakemap.saving.outlines import drawn_area, least
from lakemap.saving.places import places_in
from lakemap.saving.records import Saved, Stamp, Underneath
from lakemap.saving.save import Held, Job, run
from lakemap.saving.table_edits import RowChange
from lakemap.saving.whole_files import edited_table, features_in

KNOWN: Mapping[str, str | None] = MappingProxyType({**COLUMNS, **POSITION})
_FILE: Final = "lake.geojson"
_REMEDY: Final = "save that file as lake.geojson first and take it away"
_ANY_ROUGH: Final = LakeShape(
    outline=shapely.multipolygons([shapely.box(0, 0, 1, 1)]), island_names=(), rough=True
)
# no comma, semicolon or quote: a spreadsheet would put the line in quotes
_DRAWN: Final = """\
# The shore as it was drawn. One corner a row in walking order.
# An island: its corners with its name under island. Lines that begin with # are not read.
"""


def save_lake(
    folder: str | PathLike[str],
    field: Field | None,
    outline: Geometry,
    *,
    stamp: Stamp,
    island_names: Sequence[str | None] = (),
) -> Saved | Underneath:
    """Write a lake that was drawn anew into a field's lake file: GeoJSON, or a CSV of corners.

    Where there is no lake file, lake.geojson is made.

    Parameters
    ----------
    folder : str or path
        Of the field.
    field : Field or None
        As read from there; None: it can't be read yet.
    outline : shapely Polygon or MultiPolygon
        In lon, lat; its holes are islands.
    stamp : Stamp
        Of the folder when it was read.
    island_names : sequence of str or None
        Polygons in order, holes in order; a CSV file keeps them.

    Returns
    -------
    Saved or Underneath
        The latter if the lake or the settings changed since; then the outline that was drawn
        stands beside as `lake.geojson.plan`.

    Raises
    ------
    BadInputError
        If it can't be written as it is meant, or a float would lie on land; then nothing was
        written.
    """
    path = Path(folder)
    own = layer_settings(path, field)
    drawn = drawn_area(outline, "the lake", "lake")
    names = _names(drawn, island_names)

    def edited(held: Held) -> tuple[bytes, tuple[str, ...]]:
        if held.table.geometry is None:
            return _in_rows(held, drawn, names, own)
        return _in_features(held, drawn)

    job = Job(
        stem="lake",
        stamp=stamp,
        also=(),
        formats=(".geojson", ".json", ".csv"),
        remedy=_REMEDY,
        differs=lambda state: lake_differences(
            state, None if field is None else field.lake, own.crs
        ),
        whole=lambda: (_FILE, lake_text(drawn, name=None)),
        edited=edited,
        check=lambda table: _check(table, drawn, own),
    )
    return run(path, job)


def _names(drawn: Geometry, given: Sequence[str | None]) -> tuple[str, ...]:
    """A name for each island, none of them twice: corners of one name make one ring."""
    count = sum(len(part.interiors) for part in shapely.get_parts(drawn))
    names: list[str] = []
    for number in range(1, count + 1):
        name = (given[number - 1] if number <= len(given) else None) or ""
        name = name.strip()
        own = name if name and name not in names else f"island {number}"
        names.append(own if own not in names else f"island {number} ({number})")
    return tuple(names)


def lake_text(drawn: Geometry, *, name: str | None) -> str:
    """Return a lake as the text of a new lake.geojson."""
    named = {} if name is None else {"name": Written(text=name)}
    change = FeatureChange(properties=named, geometry=least(drawn))
    return edited_geojson(features_of(EMPTY, _FILE), [change])


def _in_features(held: Held, drawn: Geometry) -> tuple[bytes, tuple[str, ...]]:
    """Change a GeoJSON file: the first feature takes the whole outline."""
    features, mark = features_in(held)
    shape, digits = shape_in_crs(least(drawn), features.crs, held.name)
    there = len(features.features)
    change = FeatureChange(
        row=0 if there else None, geometry=shape, digits=digits, properties=_no_rough(held.table)
    )
    text = edited_geojson(features, [change], removed=range(1, there))
    notes = (f"{there} shapes of {held.name} became one",) if there > 1 else ()
    return (mark + text).encode("utf-8"), notes


def _no_rough(table: RawTable) -> dict[str, Written]:
    """Take the mark of a rough square off."""
    sheet = Sheet(table, KNOWN, ProblemLog())
    if ROUGH_NOTE not in sheet.text("note")[:1]:
        return {}
    return {sheet.written("note"): BLANK}


def _in_rows(
    held: Held, drawn: Geometry, names: Sequence[str], own: LayerSettings
) -> tuple[bytes, tuple[str, ...]]:
    """Change a CSV file: new corners in place of all the old ones."""
    sheet = Sheet(held.table, KNOWN, ProblemLog())
    rows = [
        RowChange(values={"part": part, "island": island, **place})
        for part, island, corners in _rings(drawn, names)
        for place in places_in(sheet, corners, own.crs)
    ]
    gone = range(len(held.table.rows))
    data, notes = edited_table(held, KNOWN, rows, units=own.units, removed=gone)
    return _other_comment(data), notes


def _other_comment(data: bytes) -> bytes:
    """Take away what `start` wrote about a rough square, which is one no more."""
    lines = start_texts("", lake=_ANY_ROUGH)["lake.csv"].splitlines(keepends=True)
    rough = "".join(line for line in lines if line.startswith("#"))
    return data.replace(rough.encode("utf-8"), _DRAWN.encode("utf-8"), 1)


def _rings(
    drawn: Geometry, names: Sequence[str]
) -> Iterator[tuple[str | None, str | None, FloatArray]]:
    """Part, island and corners of each ring, the first corner not repeated."""
    parts = shapely.get_parts(drawn).tolist()
    islands = iter(names)
    for number, polygon in enumerate(parts, start=1):
        part = str(number) if len(parts) > 1 else None
        yield part, None, np.asarray(polygon.exterior.coords)[:-1]
        for ring in polygon.interiors:
            yield part, next(islands), np.asarray(ring.coords)[:-1]


def _check(table: RawTable, drawn: Geometry, own: LayerSettings) -> None:
    """Raise if the new file is not read as it is meant."""
    log = ProblemLog()
    read = read_lake(table, log, crs=own.crs)
    log.raise_if_fatal()
    if read is None or read.rough or not same_shape(read.outline, drawn):
        text = "the file would not be read as it is meant; nothing was written"
        raise BadInputError([Problem(code="not_written", text=text, file=table.file)])
