"""KML files that `lakemap export` wrote: the columns of one of their layers.

Of a placemark's own columns the general reader knows nothing in some builds, and what it knows it
mixes with columns of its own; so files of ours are read here.
"""

from collections.abc import Iterator
from typing import Any, Final

import numpy as np
import shapely

from lakemap.basis.records import FloatArray, Geometry
from lakemap.inputs.cells import RawTable

# what a file that holds several layers calls them; each feature names its own
EXPORTED: Final = frozenset(
    {"lake", "zones", "floats", "primaries", "secondaries", "circles", "soundings"}
)
LAYER: Final = "layer"
_NAME: Final = "name"
_SHAPES: Final = frozenset({"Point", "LineString", "Polygon", "MultiGeometry"})
_NO_SHAPE: Final = (
    ValueError, TypeError, AttributeError, IndexError, StopIteration, shapely.errors.ShapelyError,
)  # fmt: skip
_KML: Final = "{http://www.opengis.net/kml/2.2}"


def read_exported(root: Any, *, file: str, stem: str) -> RawTable | None:  # noqa: ANN401 - an element
    """Read one layer of a file of ours.

    Parameters
    ----------
    root : element
        Of the file, parsed with entities refused.
    file : str
        Its name.
    stem : str
        Of the layer.

    Returns
    -------
    RawTable or None
        None where the file is not ours, or not as it was written.
    """
    marks = list(root.iter(f"{_KML}Placemark"))
    cells = [dict(_cells(mark)) for mark in marks]
    layers = {one.get(LAYER) for one in cells}
    if not layers or not layers <= EXPORTED:
        return None
    kept = [pair for pair in zip(marks, cells, strict=True) if pair[1][LAYER] == stem]
    try:
        shapes = [_shape(mark) for mark, _ in kept]
    except _NO_SHAPE:
        return None  # somebody's hand was in it: the general reader says what is wrong
    named = "float_id" not in {name for _, one in kept for name in one}
    rows = [({_NAME: mark.findtext(f"{_KML}name")} if named else {}) | one for mark, one in kept]
    columns = [
        name for name in dict.fromkeys(name for row in rows for name in row) if name != LAYER
    ]
    return RawTable(
        file=file,
        columns=tuple(columns),
        rows=tuple(tuple(row.get(name) for name in columns) for row in rows),
        row_numbers=tuple(range(1, len(rows) + 1)),
        geometry=shapely.from_wkb(shapely.to_wkb(shapes)) if shapes else shapely.points([], []),
    )


def _cells(mark: Any) -> Iterator[tuple[str, str]]:  # noqa: ANN401 - an element
    for data in mark.iter(f"{_KML}SimpleData"):
        yield data.get("name", ""), data.text or ""


def _shape(mark: Any) -> Geometry:  # noqa: ANN401 - an element
    return _made(next(one for one in mark if _tag(one) in _SHAPES))


def _tag(one: Any) -> str:  # noqa: ANN401 - an element
    return str(one.tag).removeprefix(_KML)


def _made(one: Any) -> Geometry:  # noqa: ANN401 - an element
    """Return the shape of an element, several of one kind as one."""
    kind = _tag(one)
    if kind == "Point":
        return shapely.Point(_places(one)[0])
    if kind == "LineString":
        return shapely.LineString(_places(one))
    if kind == "Polygon":
        holes = [_places(hole) for hole in one.findall(f"{_KML}innerBoundaryIs")]
        return shapely.Polygon(_places(one.find(f"{_KML}outerBoundaryIs")), holes)
    parts = [_made(part) for part in one]
    areas = all(part.geom_type == "Polygon" for part in parts)
    return shapely.MultiPolygon(parts) if areas else shapely.MultiLineString(parts)


def _places(held: Any) -> FloatArray:  # noqa: ANN401 - an element
    text = held.findtext(f".//{_KML}coordinates") or ""
    return np.array([[float(v) for v in one.split(",")[:2]] for one in text.split()])
