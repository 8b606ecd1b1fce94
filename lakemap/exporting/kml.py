"""KML 2.2: the field in folders for viewers, its columns in it so that it can come in again."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from html import escape as escape_html
from types import MappingProxyType
from typing import Any, Final

from lakemap.basis.records import ZONE_KINDS, Geometry
from lakemap.exporting.geojson import DIGITS, turned
from lakemap.exporting.kml_styles import style_names, style_xml
from lakemap.exporting.names import own_names
from lakemap.exporting.records import Export, Kind, Table
from lakemap.exporting.words import ZONE_WORDS
from lakemap.exporting.xml_text import DECLARATION, element, text_element
from lakemap.inputs.exported_kml import LAYER
from lakemap.inputs.layers import KML_OWN

_SPACE: Final = "http://www.opengis.net/kml/2.2"
_ON_WATER: Final = "<tessellate>1</tessellate>"
_TYPES: Mapping[Kind, str] = MappingProxyType(
    {
        "text": "string",
        "name": "string",
        "number": "double",
        "count": "int",
        "flag": "bool",
        "date": "string",
    }
)
_FOLDERS: Final = (
    ("lake", "Lake"),
    ("circles", "Swing circles at low water"),
    ("primaries", "Primaries"),
    ("secondaries", "Secondaries"),
    ("floats", "Floats"),
)


def kml_bytes(export: Export) -> bytes:
    """Return the field in folders: lake, zones by kind, circles, clusters, floats.

    Parameters
    ----------
    export : Export
        Of a field.

    Returns
    -------
    bytes
        UTF-8; elements in the order of the KML 2.2 schema.
    """
    tables = {table.name: table for table in export.tables}
    shown = [tables["zones"], *(tables[name] for name, _ in _FOLDERS)]
    about = " ".join((export.about, *export.cautions))
    inside = (
        text_element("name", export.name),
        text_element("description", escape_html(about, quote=False)),
        *style_xml(),
        *(_schema(table) for table in shown),
        *_folders(tables),
    )
    root = element("kml", element("Document", (f"{line}\n" for line in inside)), xmlns=_SPACE)
    return f"{DECLARATION}{root}\n".encode()


def _folders(tables: Mapping[str, Table]) -> Iterator[str]:
    marks = {name: list(_placemarks(tables[name])) for name, _ in _FOLDERS}
    names = dict(_FOLDERS)
    yield _folder(names["lake"], marks["lake"])
    yield from _zones(tables["zones"])
    yield _folder(names["circles"], marks["circles"])
    clusters = [_folder(names[name], marks[name]) for name in ("primaries", "secondaries")]
    yield _folder("Clusters", clusters)
    yield _folder(names["floats"], marks["floats"])


def _folder(name: str, inside: Iterable[str]) -> str:
    return element("Folder", (text_element("name", name), "\n", *inside))


def _zones(table: Table) -> Iterator[str]:
    """One folder, in it one for each kind that there is."""
    kinds = table.column("kind")
    marks = list(_placemarks(table))
    pairs = list(zip(marks, kinds, strict=True))
    folders = [
        _folder(ZONE_WORDS[kind][1], [mark for mark, of in pairs if of == kind])
        for kind in ZONE_KINDS
        if kind in kinds
    ]
    if folders:
        yield _folder("Zones", folders)


def _schema(table: Table) -> str:
    """Return names and types of a layer's columns."""
    typed = [(LAYER, "string"), *((name, _TYPES[kind]) for _, name, kind in _told(table))]
    fields = (element("SimpleField", "", type=kind, name=name) for name, kind in typed)
    return element("Schema", fields, name=table.name, id=f"columns-{table.name}")


def _told(table: Table) -> list[tuple[int, str, Kind]]:
    """Place, name and kind of the columns that a placemark's own name does not tell."""
    names = own_names(table, taken=(LAYER, *KML_OWN))
    return [
        (at, names[at], column.kind)
        for at, column in enumerate(table.columns)
        if column.name != "name"
    ]


def _placemarks(table: Table) -> Iterator[str]:
    told, looks = _told(table), style_names(table)
    for at, (row, shape) in enumerate(zip(table.rows, turned(table.shapes), strict=True)):
        cells = [(LAYER, table.name), *((name, row[place]) for place, name, _ in told)]
        data = (
            text_element("SimpleData", _text(value), name=name)
            for name, value in cells
            if value is not None
        )
        held = (
            text_element("name", table.titles[at]),
            # a viewer reads a description as HTML
            text_element("description", escape_html(table.says[at], quote=False)),
            text_element("styleUrl", looks[at]),
            element(
                "ExtendedData", element("SchemaData", data, schemaUrl=f"#columns-{table.name}")
            ),
            _geometry(shape),
        )
        yield element("Placemark", held) + "\n"


def _text(value: Any) -> str:  # noqa: ANN401 - a cell
    if isinstance(value, bool):
        return "1" if value else "0"
    return value.isoformat() if isinstance(value, date) else str(value)


def _geometry(shape: Geometry) -> str:
    if shape.geom_type == "Point":
        return element("Point", _coordinates(shape))
    if shape.geom_type == "LineString":
        return element("LineString", _ON_WATER + _coordinates(shape))
    if shape.geom_type == "Polygon":
        holes = (element("innerBoundaryIs", _ring(ring)) for ring in shape.interiors)
        return element(
            "Polygon",
            (_ON_WATER, element("outerBoundaryIs", _ring(shape.exterior)), *holes),
        )
    return element("MultiGeometry", (_geometry(part) for part in shape.geoms))


def _ring(ring: Geometry) -> str:
    return element("LinearRing", _coordinates(ring))


def _coordinates(line: Geometry) -> str:
    pairs = (f"{lon:.{DIGITS}f},{lat:.{DIGITS}f}" for lon, lat, *_ in line.coords)
    return element("coordinates", " ".join(pairs))
