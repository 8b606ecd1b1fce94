"""Bearings, and how well two of them fix a place: which pair of marks to sight on."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.published import Published
from lakemap.basis.records import FloatArray

SIGHT_DEG = Published(
    value=2.0,
    unit="deg",
    low=1.0,
    high=5.0,
    source="ours: a hand compass read from a boat; a phone's is no better",
    locator="standard error of one bearing",
)
_LEAST_CROSSING_DEG: Final = 30.0  # practice of navigators: a flatter cut is no fix
_FLAT_DEG: Final = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkPair:
    """Two marks, by their places in what was given."""

    first: int
    second: int
    crossing_deg: float  # 0 to 90
    fix_error_m: float


def convergence_deg(lon: ArrayLike, lat: ArrayLike, *, lon0: float) -> FloatArray:
    """Return the convergence of our grid: what turns a grid bearing into a true one.

    tan c = tan(lon - lon0) sin lat, on the sphere; at a lake the ellipsoid and the bend of a
    straight line on the grid change it by less than 0.001 degrees. Source: Snyder, Map
    Projections: A Working Manual, USGS Professional Paper 1395, 1987, chapter 8.

    Parameters
    ----------
    lon, lat : array_like
        Place, WGS 84 degrees.
    lon0 : float
        Middle meridian of the grid [degrees].

    Returns
    -------
    ndarray
        Degrees; true bearing = grid bearing + this.
    """
    east = np.radians(np.asarray(lon, dtype=np.float64) - lon0)
    angle = np.arctan(np.tan(east) * np.sin(np.radians(np.asarray(lat, dtype=np.float64))))
    found: FloatArray = np.degrees(angle)
    return found


def grid_bearing_deg(way_xy: ArrayLike) -> FloatArray:
    """Return the bearings of ways on the grid, clockwise from its north.

    Parameters
    ----------
    way_xy : array_like, shape [..., 2]
        East and north [m].

    Returns
    -------
    ndarray
        0 to 360 degrees.
    """
    way = np.asarray(way_xy, dtype=np.float64)
    bearing: FloatArray = np.degrees(np.arctan2(way[..., 0], way[..., 1])) % 360.0
    return bearing


def fix_error_m(
    distance_m: ArrayLike, crossing_deg: ArrayLike, *, sight_deg: float = SIGHT_DEG.value
) -> FloatArray:
    """Return how far off a fix by two bearings is: the root mean square of its distance.

    e = s sqrt(a^2 + b^2)/sin c: each bearing's standard error s moves its line by s times the
    distance, a and b, and the lines cross at c. Source: Bowditch, American Practical Navigator,
    NIMA Pub. 9, 2002, navigational errors: d_rms of two lines of position (from memory). Small,
    independent errors.

    Parameters
    ----------
    distance_m : array_like, shape [..., 2]
        To both marks [m], > 0.
    crossing_deg : array_like, shape [...]
        Angle between the sights [degrees], > 0 and < 180.
    sight_deg : float
        Standard error of one bearing [degrees].

    Returns
    -------
    ndarray, shape [...]
        Metres.

    Raises
    ------
    RangeError
        If sights do not cross, or a mark is at the place itself.
    """
    distance = np.asarray(distance_m, dtype=np.float64)
    crossing = np.asarray(crossing_deg, dtype=np.float64)
    if not ((distance > 0).all() and ((crossing > 0) & (crossing < 180)).all()):  # noqa: PLR2004
        raise RangeError("sights must cross at 0 to 180 degrees, from marks that are not the place")
    error: FloatArray = (
        np.radians(sight_deg)
        * np.hypot(distance[..., 0], distance[..., 1])
        / np.sin(np.radians(crossing))
    )
    return error


def best_pair(marks_xy: FloatArray, at_xy: ArrayLike, *, least_m: float = 1.0) -> MarkPair | None:
    """Return the two marks whose bearings fix a place best.

    The least `fix_error_m` among pairs that cross at 30 degrees or more; among all where no pair
    does.

    Parameters
    ----------
    marks_xy : ndarray, shape [n, 2]
        Marks [m].
    at_xy : array_like, shape [2]
        The place [m].
    least_m : float
        A mark nearer than this is the place itself, not a mark [m].

    Returns
    -------
    MarkPair or None
        None where no two marks lie in different directions.
    """
    way = marks_xy - np.asarray(at_xy, dtype=np.float64)
    away = np.hypot(*way.T)
    apart = np.flatnonzero(away >= least_m)
    first, second = (apart[index] for index in np.triu_indices(len(apart), 1))
    cross = np.abs(way[first, 0] * way[second, 1] - way[first, 1] * way[second, 0])
    dot = np.abs(np.einsum("ij,ij->i", way[first], way[second]))
    crossing = np.degrees(np.arctan2(cross, dot))
    some = np.flatnonzero(crossing >= min(_LEAST_CROSSING_DEG, crossing.max(initial=0.0)))
    some = some[crossing[some] > _FLAT_DEG]
    if not some.size:
        return None
    error = fix_error_m(np.column_stack([away[first[some]], away[second[some]]]), crossing[some])
    best = int(error.argmin())
    return MarkPair(
        first=int(first[some[best]]),
        second=int(second[some[best]]),
        crossing_deg=float(crossing[some[best]]),
        fix_error_m=float(error[best]),
    )
