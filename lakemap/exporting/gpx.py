"""GPX 1.1: primaries and secondaries as waypoints, to find them on the water."""

from collections.abc import Iterator
from typing import Final

import numpy as np
import shapely

from lakemap import __version__
from lakemap.exporting.geojson import rounded
from lakemap.exporting.records import Export, Table
from lakemap.exporting.xml_text import DECLARATION, element, text_element

_SPACE: Final = "http://www.topografix.com/GPX/1/1"
_ABOUT: Final = "Primaries and secondaries of swim floats."
_LAYERS: Final = ("primaries", "secondaries")


def gpx_bytes(export: Export) -> bytes:
    """Return the clusters as waypoints.

    Parameters
    ----------
    export : Export
        Of a field.

    Returns
    -------
    bytes
        UTF-8; elements in the order of the GPX 1.1 schema.
    """
    tables = [export.table(name) for name in _LAYERS]
    body = _metadata(export, tables) + "".join(
        point for table in tables for point in _waypoints(table)
    )
    creator = f"lakemap {__version__}"
    root = element("gpx", f"\n{body}", xmlns=_SPACE, version="1.1", creator=creator)
    return f"{DECLARATION}{root}\n".encode()


def _metadata(export: Export, tables: list[Table]) -> str:
    """Name, description, time and bounds, in this order."""
    about = " ".join((_ABOUT, *export.cautions))
    held = [text_element("name", export.name), text_element("desc", about)]
    if export.dated:
        held.append(text_element("time", f"{export.dated}T00:00:00Z"))
    shapes = [shape for table in tables for shape in _shapes(table)]
    if shapes:
        west, south, east, north = shapely.total_bounds(np.array(shapes, dtype=object)).tolist()
        degrees = {"minlat": south, "minlon": west, "maxlat": north, "maxlon": east}
        held.append(element("bounds", "", **{name: _degrees(v) for name, v in degrees.items()}))
    return element("metadata", held) + "\n"


def _shapes(table: Table) -> list[shapely.Point]:
    found: list[shapely.Point] = rounded(table.shapes).tolist()
    return found


def _degrees(value: float) -> str:
    return f"{value:.7f}"


def _waypoints(table: Table) -> Iterator[str]:
    kind = {"primaries": "primary", "secondaries": "secondary"}[table.name]
    for shape, title, said in zip(_shapes(table), table.titles, table.says, strict=True):
        held = (
            text_element("name", title),
            text_element("desc", said),
            text_element("type", kind),
        )
        yield element("wpt", held, lat=_degrees(shape.y), lon=_degrees(shape.x)) + "\n"
