"""Positions of a table's rows: lon, lat, or x, y in the field's coordinate system, or geometry."""

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np
import shapely

from lakemap.basis.errors import ProblemLog
from lakemap.basis.records import BoolArray, FloatArray
from lakemap.inputs.cells import RawTable, Sheet, is_blank
from lakemap.lake.projection import CRS_ERRORS

POSITION: Mapping[str, None] = MappingProxyType(dict.fromkeys(("lon", "lat", "x", "y")))
_LAT, _LON = 90.0, 180.0


def read_positions(sheet: Sheet, *, crs: str) -> FloatArray:
    """Return lon, lat of every row.

    Parameters
    ----------
    sheet : Sheet
        With the columns of `POSITION`, or a vector layer of points.
    crs : str
        Of x, y columns.

    Returns
    -------
    ndarray, shape [n, 2]
        WGS 84 degrees; NaN where a problem was told.
    """
    table = sheet.table
    if table.geometry is not None:
        return _of_points(sheet)
    if sheet.has("x") and sheet.has("y") and not (sheet.has("lon") or sheet.has("lat")):
        return _of_xy(sheet, crs)
    if sheet.has("x") or sheet.has("y"):
        if sheet.has("lon") or sheet.has("lat"):
            sheet.tell("two_positions", "give lon and lat, or x and y, not both", None)
        else:
            sheet.require("x", "y")
        return np.full((len(table.rows), 2), np.nan)
    sheet.require("lon", "lat")
    return _of_lonlat(sheet)


def _of_points(sheet: Sheet) -> FloatArray:
    """Positions of a vector layer's points."""
    geometry = sheet.table.geometry
    is_point = shapely.get_type_id(geometry) == shapely.GeometryType.POINT
    for row in np.flatnonzero(~is_point).tolist():
        kind = geometry[row].geom_type.lower()
        sheet.tell("not_a_point", f"a {kind} stands here; draw a point", row)
    lonlat = np.full((len(geometry), 2), np.nan)
    lonlat[is_point] = shapely.get_coordinates(geometry[is_point])
    return _on_map(sheet, lonlat)


def _of_lonlat(sheet: Sheet) -> FloatArray:
    lon, lat = sheet.numbers("lon"), sheet.numbers("lat")
    if lon is None or lat is None:
        lon, lat = (
            np.array([np.nan if v is None else v for v in sheet.number(name)], dtype=np.float64)
            for name in ("lon", "lat")
        )
        _tell_blank(sheet, "lon", "lat")
    return _on_map(sheet, np.column_stack([lon, lat]))


def _tell_blank(sheet: Sheet, *names: str) -> None:
    for name in names:
        if sheet.has(name):
            for row, cell in enumerate(sheet.cells(name)):
                if is_blank(cell):
                    sheet.tell("no_position", "the position is missing; fill it in", row, name)


def _on_map(sheet: Sheet, lonlat: FloatArray) -> FloatArray:
    """Take out positions that are on no map, telling those that look swapped."""
    lon, lat = lonlat.T
    off = (np.abs(lat) > _LAT) | (np.abs(lon) > _LON)
    for row in np.flatnonzero(off).tolist()[:20]:
        swapped = abs(lon[row]) <= _LAT and abs(lat[row]) <= _LON
        why = (
            "latitude and longitude look swapped: latitude is -90 to 90"
            if swapped
            else "it is on no map: latitude is -90 to 90, longitude -180 to 180"
        )
        sheet.tell("off_map", f"lon {lon[row]:g}, lat {lat[row]:g}: {why}", row, "lat")
    return np.where(off[:, None], np.nan, lonlat)


def _of_xy(sheet: Sheet, crs: str) -> FloatArray:
    """Positions in the field's own coordinate system, turned to degrees."""
    x, y = (
        np.array([np.nan if v is None else v for v in sheet.number(name)], dtype=np.float64)
        for name in ("x", "y")
    )
    _tell_blank(sheet, "x", "y")
    known = np.isfinite(x) & np.isfinite(y)
    lonlat = np.full((len(x), 2), np.nan)
    if not known.any():
        return lonlat
    turned = turn_to_degrees(x[known], y[known], crs)
    if turned is None:
        text = f"crs {crs!r} is not known; write an EPSG code, as EPSG:26918"
        sheet.tell("bad_crs", text, None, "x")
        return lonlat
    lonlat[known] = turned
    lost = known & ~np.isfinite(lonlat).all(axis=1)
    for row in np.flatnonzero(lost).tolist()[:20]:
        text = f"x {x[row]:g}, y {y[row]:g} is on no map of {crs}; does `crs` in field.toml fit?"
        sheet.tell("off_map", text, row, "x")
    lonlat[lost] = np.nan
    return _on_map(sheet, lonlat)


def turn_to_degrees(x: FloatArray, y: FloatArray, crs: str) -> FloatArray | None:
    """Turn coordinates of a coordinate system to WGS 84 degrees.

    Parameters
    ----------
    x, y : ndarray, shape [n]
        In the units of `crs`.
    crs : str
        Anything the projection library knows, such as EPSG:26918.

    Returns
    -------
    ndarray, shape [n, 2], or None
        lon, lat, not finite where it has none; None where `crs` is not known.
    """
    import geopandas as gpd  # noqa: PLC0415 - slow to import, and lon, lat do without

    try:
        points = gpd.GeoSeries(gpd.points_from_xy(x, y), crs=crs).to_crs("EPSG:4326")
    except CRS_ERRORS:
        return None
    return np.column_stack([points.x.to_numpy(), points.y.to_numpy()])


def by_the_lake(lake: object, lonlat: FloatArray) -> BoolArray:
    """Tell which positions lie no farther from a lake than it is long.

    Parameters
    ----------
    lake : shapely geometry
        In lon, lat.
    lonlat : ndarray, shape [n, 2]
        Degrees.

    Returns
    -------
    ndarray of bool, shape [n]
        By the lake's bounds.
    """
    west, south, east, north = shapely.bounds(lake).tolist()
    margin = max(east - west, north - south)
    low, high = np.array([west, south]) - margin, np.array([east, north]) + margin
    by: BoolArray = ((lonlat >= low) & (lonlat <= high)).all(axis=1)
    return by


def near_lake(sheet: Sheet, lonlat: FloatArray, lake: object) -> FloatArray:
    """Tell positions that would lie at the lake if latitude and longitude were swapped.

    Parameters
    ----------
    sheet : Sheet
        For the messages.
    lonlat : ndarray, shape [n, 2]
        Degrees.
    lake : shapely geometry or None
        In lon, lat.

    Returns
    -------
    ndarray, shape [n, 2]
        NaN where one was told.
    """
    if lake is None:
        return lonlat
    swapped = ~by_the_lake(lake, lonlat) & by_the_lake(lake, lonlat[:, ::-1])
    for row in np.flatnonzero(swapped).tolist()[:20]:
        lon, lat = lonlat[row].tolist()
        text = f"lon {lon:g}, lat {lat:g}: the two look swapped; the lake lies there the other way"
        sheet.tell("swapped", text, row, "lon")
    return np.where(swapped[:, None], np.nan, lonlat)


def as_sheet(table: RawTable, known: Mapping[str, str | None], log: ProblemLog) -> Sheet:
    """Return a sheet whose known columns include the position's."""
    return Sheet(table, {**known, **POSITION}, log)
