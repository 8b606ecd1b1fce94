"""Our own projection, centred on the lake; the only place that knows pyproj."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely
from numpy.typing import ArrayLike
from pyproj import Transformer
from pyproj.exceptions import CRSError, ProjError

from lakemap.basis.errors import RangeError
from lakemap.basis.records import FloatArray, Geometry

# what a coordinate system that nobody knows raises, wherever a library projects for us
CRS_ERRORS = (CRSError, ProjError)


@lru_cache(maxsize=64)
def _transformer(text: str) -> Transformer:
    # from the datum's own degrees, so that no datum shift can creep in
    return Transformer.from_crs("EPSG:4326", text, always_xy=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class LakeProjection:
    """Transverse Mercator centred on the lake with scale 1 there.

    The scale grows as 1 + x^2/(2 R^2): a gap of 500 m is right to 1 mm within 10 km of the centre.
    Source: Snyder, Map Projections: A Working Manual, USGS Professional Paper 1395, 1987, eq. 8-11.

    Parameters
    ----------
    lon0, lat0 : float
        The centre, WGS 84 degrees.
    """

    lon0: float
    lat0: float

    @classmethod
    def centred_on(cls, lake: Geometry) -> "LakeProjection":
        """Return the projection about the middle of a lake's bounds.

        Parameters
        ----------
        lake : shapely geometry
            In lon, lat, WGS 84 degrees.

        Returns
        -------
        LakeProjection
            Centred on the middle of its bounds.

        Raises
        ------
        RangeError
            If the geometry is empty or lies on no map.
        """
        west, south, east, north = shapely.bounds(lake).tolist()
        on_map = -180 <= west <= east <= 180 and -90 < south <= north < 90  # noqa: PLR2004
        if not on_map:  # NaN of an empty geometry compares false
            raise RangeError(f"a lake with bounds {west}, {south}, {east}, {north} is on no map")
        return cls(lon0=(west + east) / 2, lat0=(south + north) / 2)

    @property
    def text(self) -> str:
        """The projection as PROJ text."""
        return (
            f"+proj=tmerc +lat_0={self.lat0!r} +lon_0={self.lon0!r} +k=1 +x_0=0 +y_0=0"
            " +datum=WGS84 +units=m +no_defs"
        )

    def to_xy(self, lon: ArrayLike, lat: ArrayLike) -> tuple[FloatArray, FloatArray]:
        """Project degrees to metres east and north of the centre.

        Parameters
        ----------
        lon, lat : array_like, shape [n]
            WGS 84 degrees.

        Returns
        -------
        tuple of ndarray, shape [n]
            x_m, y_m.
        """
        x, y = _transformer(self.text).transform(
            np.asarray(lon, dtype=np.float64), np.asarray(lat, dtype=np.float64)
        )
        return np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64)

    def to_lonlat(self, x_m: ArrayLike, y_m: ArrayLike) -> tuple[FloatArray, FloatArray]:
        """Turn metres back into degrees; NaN stays NaN.

        Parameters
        ----------
        x_m, y_m : array_like, shape [n]
            Metres east and north of the centre.

        Returns
        -------
        tuple of ndarray, shape [n]
            lon, lat, WGS 84 degrees.
        """
        x = np.asarray(x_m, dtype=np.float64)
        known = np.isfinite(x)
        lon, lat = _transformer(self.text).transform(
            np.where(known, x, 0.0),
            np.where(known, np.asarray(y_m, dtype=np.float64), 0.0),
            direction="INVERSE",
        )
        return np.where(known, lon, np.nan), np.where(known, lat, np.nan)

    def project(self, geometry: Geometry) -> Geometry:
        """Project a shapely geometry, or an array of them, from lon, lat to metres."""
        return shapely.transform(
            geometry, lambda lonlat: np.column_stack(self.to_xy(lonlat[:, 0], lonlat[:, 1]))
        )

    def unproject(self, geometry: Geometry) -> Geometry:
        """Turn a shapely geometry, or an array of them, from metres back to lon, lat."""
        return shapely.transform(
            geometry, lambda xy: np.column_stack(self.to_lonlat(xy[:, 0], xy[:, 1]))
        )
