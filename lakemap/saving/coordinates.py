"""Positions in degrees as coordinates of a file's own system."""

import math
from typing import Final

import numpy as np
import shapely

from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.records import FloatArray, Geometry
from lakemap.lake.projection import CRS_ERRORS

DEGREE_DIGITS: Final = 9  # 0.1 mm
NEAR_M: Final = 1e-4  # what is written must be read back this close
_M_PER_DEGREE: Final = 111_700.0  # no degree is longer, of latitude or along the equator


def in_crs(lonlat: FloatArray, crs: str, file: str) -> tuple[FloatArray, int]:
    """Turn degrees to a coordinate system.

    Parameters
    ----------
    lonlat : ndarray, shape [n, 2]
        WGS 84.
    crs : str
        Anything the projection library knows, such as EPSG:26918.
    file : str
        Where `crs` stands, for the message.

    Returns
    -------
    ndarray, shape [n, 2]
        x, y.
    int
        Decimals that hold 0.1 mm.

    Raises
    ------
    BadInputError
        If `crs` is not known.
    """
    import geopandas as gpd  # noqa: PLC0415 - slow to import, and lon, lat do without

    try:
        points = gpd.GeoSeries(gpd.points_from_xy(*lonlat.T), crs="EPSG:4326").to_crs(crs)
    except CRS_ERRORS:
        text = f"crs {crs!r} is not known; write an EPSG code, as EPSG:26918; nothing was written"
        raise BadInputError([Problem(code="bad_crs", text=text, file=file)]) from None
    digits = DEGREE_DIGITS
    if not points.crs.is_geographic:
        metres = points.crs.axis_info[0].unit_conversion_factor
        digits = max(0, math.ceil(math.log10(metres / NEAR_M)))
    return np.column_stack([points.x.to_numpy(), points.y.to_numpy()]), digits


def shape_in_crs(shape: Geometry, crs: str | None, file: str) -> tuple[Geometry, int]:
    """Turn a shape in degrees to a coordinate system; parameters as in `in_crs`, None: degrees."""
    if crs is None:
        return shape, DEGREE_DIGITS
    xy, digits = in_crs(shapely.get_coordinates(shape), crs, file)
    return shapely.set_coordinates(shapely.from_wkb(shapely.to_wkb(shape)), xy), digits


def near(one: tuple[float, float], other: tuple[float, float]) -> bool:
    """Tell whether two positions, lon and lat, are within 0.1 mm of each other."""
    east = (one[0] - other[0]) * math.cos(math.radians(other[1]))
    return math.hypot(east, one[1] - other[1]) * _M_PER_DEGREE <= NEAR_M


def distance_m(one: tuple[float, float], other: tuple[float, float]) -> float:
    """Return a distance in words' exactness, not for a check [m]."""
    east = (one[0] - other[0]) * math.cos(math.radians(other[1]))
    return math.hypot(east, one[1] - other[1]) * 111_195.0


def same_shape(one: Geometry, other: Geometry) -> bool:
    """Tell whether two shapes have the same parts and corners, each within 0.1 mm."""
    if one.geom_type != other.geom_type or _build(one) != _build(other):
        return False
    pairs = zip(
        shapely.get_coordinates(one).tolist(), shapely.get_coordinates(other).tolist(), strict=True
    )
    return all(near((a[0], a[1]), (b[0], b[1])) for a, b in pairs)


def _build(shape: Geometry) -> list[list[int]]:
    """Corners of each ring of each part."""
    parts = shapely.get_parts(shape).tolist()
    if int(shapely.get_dimensions(shape)) == 1:
        return [[len(shapely.get_coordinates(part))] for part in parts]
    return [[len(ring.coords) for ring in (part.exterior, *part.interiors)] for part in parts]
