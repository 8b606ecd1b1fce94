"""Vector files as raw tables with geometries in WGS 84 degrees."""

import warnings
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import shapely

from lakemap.basis.errors import Problem, ProblemLog
from lakemap.inputs.cells import RawTable, is_blank
from lakemap.inputs.exported_kml import EXPORTED, LAYER, read_exported
from lakemap.inputs.tables import UTF16_MARKS, decode, read_bytes, read_table
from lakemap.lake.projection import CRS_ERRORS

if TYPE_CHECKING:
    from lakemap.basis.records import Geometry

TABLES = (".csv", ".xlsx")
VECTORS = (".geojson", ".json", ".gpkg", ".shp", ".kml", ".gpx")
_XML = (".kml", ".gpx")
_JSON = (".geojson", ".json")
_WGS84 = "EPSG:4326"
# columns that the KML reader adds to every feature, whether the file has them or not
KML_OWN: Final = frozenset({
    "id", "description", "timestamp", "begin", "end", "altitudemode", "tessellate", "extrude",
    "visibility", "draworder", "icon", "snippet", "layer",
})  # fmt: skip


def read_layer(path: Path, log: ProblemLog) -> RawTable | None:
    """Read a table or a vector file, by its ending.

    Parameters
    ----------
    path : Path
        The file.
    log : ProblemLog
        Gains every problem.

    Returns
    -------
    RawTable or None
        With geometries where it is a vector file; None where it can't be read.
    """
    ending = path.suffix.lower()
    if ending in TABLES:
        return read_table(path, log)
    data = read_bytes(path, log)
    wide = data is not None and ending in _JSON and data[:2] in UTF16_MARKS
    if data is None or (wide and decode(data, path, log) is None):  # which tells the remedy
        return None
    if ending not in _XML:
        return _read_vector(path, log)
    root = _safe_xml(path, data, log)
    if root is None:
        return None
    if ending == ".gpx":
        return _read_gpx(path, data, log)
    ours = read_exported(root, file=path.name, stem=path.stem.lower())
    return _read_vector(path, log) if ours is None else ours


def _tell(log: ProblemLog, path: Path, code: str, text: str, row: int | None = None) -> None:
    log.add(Problem(code=code, text=text, file=path.name, row=row))


def _safe_xml(path: Path, data: bytes, log: ProblemLog) -> Any:  # noqa: ANN401 - an element
    """Parse XML; None where it is broken, or defines entities (they can blow up or read files)."""
    from xml.etree.ElementTree import ParseError  # noqa: PLC0415 - the name of an error only

    from defusedxml import DefusedXmlException  # noqa: PLC0415 - only for XML
    from defusedxml.ElementTree import fromstring  # noqa: PLC0415

    try:
        return fromstring(data, forbid_dtd=True)
    except DefusedXmlException:
        text = "the file defines entities or a document type, which is refused; export it again"
        _tell(log, path, "unsafe_xml", text)
        return None
    except ParseError as error:
        _tell(log, path, "bad_xml", f"the file is broken XML: {error}; export it again")
        return None


def _read_gpx(path: Path, data: bytes, log: ProblemLog) -> RawTable | None:
    """Tracks, routes and waypoints of a GPX file; each track is one line."""
    import gpxpy  # noqa: PLC0415 - few fields need it

    text = decode(data, path, log)
    if text is None:
        return None
    try:
        gpx = gpxpy.parse(text)
    except gpxpy.gpx.GPXException as error:
        _tell(log, path, "bad_gpx", f"the track can't be read: {error}; export it again")
        return None
    rows: list[tuple[object, ...]] = []
    shapes: list[Geometry] = []
    tracks: list[tuple[Any, list[Any]]] = [
        (track.name, [point for part in track.segments for point in part.points])
        for track in gpx.tracks
    ]
    for name, points in [*tracks, *((route.name, route.points) for route in gpx.routes)]:
        if len(points) > 1:
            times = [point.time for point in points if point.time is not None]
            rows.append((name, max(times) if times else None))
            shapes.append(shapely.LineString([(p.longitude, p.latitude) for p in points]))
    for point in gpx.waypoints:
        rows.append((point.name, point.time))
        shapes.append(shapely.Point(point.longitude, point.latitude))
    if not rows:
        _tell(log, path, "no_features", "the file holds no track, route or waypoint")
        return None
    return RawTable(
        file=path.name,
        columns=("name", "time"),
        rows=tuple(rows),
        row_numbers=tuple(range(1, len(rows) + 1)),
        geometry=shapely.from_wkb(shapely.to_wkb(shapes)),
    )


def _read_vector(path: Path, log: ProblemLog) -> RawTable | None:
    """Read what the general vector library knows, turned to WGS 84."""
    import geopandas as gpd  # noqa: PLC0415 - slow to import, and tables do without
    from pyogrio.errors import DataLayerError, DataSourceError, FieldError  # noqa: PLC0415

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # the library's asides are no word to a volunteer
            frames = [
                gpd.read_file(path, layer=layer, engine="pyogrio", force_2d=True, **_options(path))
                for layer in _layer_names(path, log)
            ]
            frames = [frame for frame in frames if "geometry" in frame]
            frames = [_in_degrees(frame, path, log) for frame in frames]
    except (DataSourceError, DataLayerError, FieldError, UnicodeDecodeError, ValueError) as error:
        detail = str(error).splitlines()[0][:120] if str(error) else "unknown reason"
        _tell(log, path, "bad_layer", f"the file can't be read ({detail}); export it again")
        return None
    except CRS_ERRORS as error:
        _tell(log, path, "bad_crs", f"its coordinate system is not known: {error}")
        return None
    if any(frame is None for frame in frames):
        return None
    return _to_table(path, _of_stem(path, frames), log)


def _options(path: Path) -> dict[str, str]:
    """Keep a text a text: 1/2/3 in a note is no date."""
    return {"DATE_AS_STRING": "YES"} if path.suffix.lower() in {".geojson", ".json"} else {}


def _of_stem(path: Path, frames: list[Any]) -> list[Any]:
    """Features of the file's stem, where all name layers of ours that stand in it together."""
    filled = [frame for frame in frames if len(frame)]
    if not filled or not all(LAYER in frame for frame in filled):
        return frames
    if not {name for frame in filled for name in frame[LAYER]} <= EXPORTED:
        return frames
    kept = [frame[frame[LAYER] == path.stem.lower()] for frame in filled]
    # what the other layers fill is blank in all of it
    return [one.drop(columns=LAYER).dropna(axis="columns", how="all") for one in kept if len(one)]


def _layer_names(path: Path, log: ProblemLog) -> list[str | None]:
    """Layers to read: all folders of a KML, the one of the file's stem in a GeoPackage."""
    import pyogrio  # noqa: PLC0415 - slow to import

    names = [str(name) for name in pyogrio.list_layers(path)[:, 0]]
    if path.suffix.lower() == ".kml":
        return list(names)
    if path.suffix.lower() == ".gpkg" and len(names) > 1:
        if path.stem in names:
            return [path.stem]
        text = f"the file holds the layers {', '.join(names)}; name the one to read {path.stem}"
        _tell(log, path, "many_layers", text)
        return []
    return [None]


def _in_degrees(frame: Any, path: Path, log: ProblemLog) -> Any:  # noqa: ANN401 - untyped library
    """Turn a frame to WGS 84; None where it declares no coordinate system."""
    if frame.crs is None:
        if path.suffix.lower() == ".shp":
            text = f"no coordinate system is declared; put {path.stem}.prj beside it"
            _tell(log, path, "no_crs", text)
            return None
        return frame.set_crs(_WGS84)
    return frame.to_crs(_WGS84)


def _to_table(path: Path, frames: list[Any], log: ProblemLog) -> RawTable | None:
    """Put the layers' features together, rows counted from 1."""
    columns = list(dict.fromkeys(name for frame in frames for name in _columns_of(path, frame)))
    rows: list[tuple[object, ...]] = []
    shapes: list[Geometry] = []
    for frame in frames:
        held = {name: frame[name].tolist() for name in frame.columns if name != "geometry"}
        blank = [None] * len(frame)
        rows += list(zip(*(held.get(name, blank) for name in columns), strict=True)) or [()] * len(
            frame
        )
        shapes += list(frame.geometry)
    for number, shape in enumerate(shapes, start=1):
        if shape is None or shape.is_empty:
            _tell(
                log,
                path,
                "no_geometry",
                "the feature has no shape; draw it or take it away",
                number,
            )
    if any(shape is None or shape.is_empty for shape in shapes):
        return None
    return RawTable(
        file=path.name,
        columns=tuple(columns),
        rows=tuple(tuple(None if is_blank(cell) else _plain(cell) for cell in row) for row in rows),
        row_numbers=tuple(range(1, len(rows) + 1)),
        cut_names=path.suffix.lower() == ".shp",
        geometry=shapely.from_wkb(shapely.to_wkb(shapes)) if shapes else shapely.points([], []),
    )


def _plain(cell: Any) -> object:  # noqa: ANN401 - whatever the file holds
    """Return a cell as a plain Python value; a library's time stamp as date and time."""
    to_python = getattr(cell, "to_pydatetime", None)
    if to_python is not None:
        return to_python() if cell == cell else None  # noqa: PLR0124 - not-a-time differs from itself
    return cell


def _columns_of(path: Path, frame: Any) -> list[str]:  # noqa: ANN401 - untyped library
    """Columns of a frame that the file itself holds."""
    names = [str(name) for name in frame.columns if name != "geometry"]
    if path.suffix.lower() != ".kml":
        return names
    return [name for name in names if name.lower() not in KML_OWN or frame[name].notna().any()]
