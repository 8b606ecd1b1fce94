"""GeoPackage: every layer with typed fields, the same bytes from the same field."""

import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final

import numpy as np
import shapely

from lakemap.exporting.geojson import turned
from lakemap.exporting.names import own_names
from lakemap.exporting.records import Column, Export, Kind, Table

_TAKEN: Final = ("fid", "geom")
_CLOCK: Final = "OGR_CURRENT_DATE"  # stands in the file as the time of its last change
_NO_DATE: Final = "1970-01-01"
_SHAPES: Mapping[str, str] = MappingProxyType(
    {"lake": "Polygon", "circles": "Polygon"}
    | dict.fromkeys(("floats", "primaries", "secondaries", "soundings"), "Point")
)
_TYPES: Mapping[Kind, Any] = MappingProxyType(
    {
        "text": np.object_,
        "name": np.object_,
        "number": np.float64,
        "count": np.int32,
        "flag": np.bool_,
        "date": "datetime64[D]",
    }
)


def geopackage_bytes(export: Export) -> bytes:
    """Return all layers as one GeoPackage.

    Parameters
    ----------
    export : Export
        Of a field.

    Returns
    -------
    bytes
        The time of change in it is the date of the data.
    """
    with tempfile.TemporaryDirectory(prefix="lakemap-") as folder, _clock(export.dated):
        path = Path(folder) / "field.gpkg"
        for table in export.tables:
            _write(path, table)
        return path.read_bytes()


@contextmanager
def _clock(dated: str) -> Iterator[None]:
    """Let the writer take the data's date for the present."""
    import pyogrio  # noqa: PLC0415 - slow to import

    before = pyogrio.get_gdal_config_option(_CLOCK)
    pyogrio.set_gdal_config_options({_CLOCK: f"{dated or _NO_DATE}T00:00:00.000Z"})
    try:
        yield
    finally:
        pyogrio.set_gdal_config_options({_CLOCK: before})


def _write(path: Path, table: Table) -> None:
    from pyogrio import raw  # noqa: PLC0415 - slow to import

    columns = zip(*table.rows, strict=True) if table.rows else ((),) * len(table.columns)
    fields = [_field(column, held) for column, held in zip(table.columns, columns, strict=True)]
    raw.write(
        str(path),
        shapely.to_wkb(turned(table.shapes)),
        [values for values, _ in fields],
        np.array(own_names(table, taken=_TAKEN), dtype=object),
        field_mask=[blank for _, blank in fields],
        layer=table.name,
        driver="GPKG",
        geometry_type=_SHAPES.get(table.name, "Unknown"),
        crs="EPSG:4326",
        layer_options={"DESCRIPTION": table.about, "GEOMETRY_NAME": "geom", "FID": "fid"},
    )


def _field(column: Column, values: Sequence[object]) -> tuple[Any, Any]:
    """Values of a column as an array, and which of them are blank; None: none is marked."""
    dtype = _TYPES[column.kind]
    if column.kind in {"text", "name"}:
        return np.array(values, dtype=object), None
    if column.kind == "number":
        return np.array(values, dtype=np.float64), None  # None becomes not-a-number, and that blank
    if column.kind == "date":
        return np.array(values, dtype=dtype), None
    blank = np.array([value is None for value in values], dtype=bool)
    held = np.array([0 if value is None else value for value in values], dtype=dtype)
    return held, blank
