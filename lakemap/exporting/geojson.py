"""GeoJSON: all layers in one collection, by RFC 7946."""

import json
from collections.abc import Iterator
from datetime import date
from typing import Any, Final

import numpy as np
import shapely
from shapely.geometry.polygon import orient

from lakemap.basis.records import Geometry
from lakemap.exporting.names import own_names
from lakemap.exporting.records import Export, Table
from lakemap.inputs.exported_kml import LAYER

DIGITS: Final = 7  # of a degree: 1 cm; RFC 7946, 11.2, holds six for enough


def geojson_bytes(export: Export) -> bytes:
    """Return all layers as one feature collection.

    Parameters
    ----------
    export : Export
        Of a field.

    Returns
    -------
    bytes
        UTF-8, one feature a line; each names its layer; rings turn by the right-hand rule.
    """
    features = [
        json.dumps(one, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
        for table in export.tables
        for one in _features(table)
    ]
    lines = ",\n".join(features)
    return f'{{"type":"FeatureCollection","features":[\n{lines}\n]}}\n'.encode()


def _features(table: Table) -> Iterator[dict[str, Any]]:
    names = own_names(table, taken=(LAYER,))
    for shape, row in zip(turned(rounded(table.shapes)).tolist(), table.rows, strict=True):
        values = {name: _plain(value) for name, value in zip(names, row, strict=True)}
        yield {
            "type": "Feature",
            "properties": {LAYER: table.name, **values},
            "geometry": _geometry(shape),
        }


def rounded(shapes: Any) -> Any:  # noqa: ANN401 - shapely is untyped
    """Return shapes with coordinates as they are written."""
    return shapely.transform(shapes, lambda lonlat: lonlat.round(DIGITS))


def _plain(value: object) -> object:
    return value.isoformat() if isinstance(value, date) else value


def turned(shapes: Any) -> Any:  # noqa: ANN401 - shapely is untyped
    """Return shapes whose outer rings go anticlockwise, their holes clockwise."""
    found = shapes.copy()
    for at in np.flatnonzero(shapely.get_dimensions(shapes) == 2):  # noqa: PLR2004 - areas
        found[at] = _turned(shapes[at])
    return found


def _turned(shape: Geometry) -> Geometry:
    if shape.geom_type == "Polygon":
        return orient(shape, sign=1.0)
    return shapely.MultiPolygon([orient(part, sign=1.0) for part in shape.geoms])


def _geometry(shape: Geometry) -> dict[str, Any]:
    """Return a shape as RFC 7946, 3.1, has it."""
    held: dict[str, Any] = shapely.geometry.mapping(shape)
    return {"type": held["type"], "coordinates": held["coordinates"]}
