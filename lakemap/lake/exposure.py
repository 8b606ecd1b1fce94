"""Open water round a place: how far to the first shore or island, and how deep along the way."""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.records import FloatArray, Geometry, IntArray
from lakemap.lake.depth import DepthSurface
from lakemap.lake.water import inside, segments

_NAMED: Final = 20  # points that one message names
_CHUNK: Final = 20_000  # points at once, which bounds the memory
_ON_SHORE_M: Final = 1e-7  # nearer than this a point lies on the shore itself
_AHEAD_M: Final = 1e-3  # from the shore, how far ahead a ray is looked at to see if it has water
_CELLS: Final = 128  # along the longer side of the grid of depths
_SAMPLES: Final = 24  # of depth along a ray


def fetch_lengths(water: Geometry, points_xy: ArrayLike, bearings_deg: ArrayLike) -> FloatArray:
    """Return the open water from each point towards each bearing.

    Exact: the ray to the first shore or island. For one bearing all rays go at once: turned so
    that they run level, each meets just the pieces of shore that stand at its height. No correction
    for the width of the water. Source: Coastal Engineering Manual, EM 1110-2-1100, part II ch. 2,
    2003, narrow fetches: straight line, no correction.

    Parameters
    ----------
    water : shapely Polygon or MultiPolygon
        In metres, east and north; holes are islands.
    points_xy : array_like, shape [n, 2]
        Points in the water, its edge included [m].
    bearings_deg : array_like, shape [k]
        True bearings that the wind comes from [deg].

    Returns
    -------
    ndarray, shape [n, k]
        Fetch [m]; 0 for a point on the shore whose ray leaves the water at once.

    Raises
    ------
    RangeError
        If a point lies on land; names all such.
    """
    points = np.asarray(points_xy, dtype=np.float64).reshape(-1, 2)
    bearings = np.asarray(bearings_deg, dtype=np.float64).reshape(-1)
    _refuse_land(water, points)
    start, end = segments(water)
    fetch = np.empty((len(points), len(bearings)))
    for first in range(0, len(points), _CHUNK):
        part = slice(first, first + _CHUNK)
        for k, bearing in enumerate(bearings):
            fetch[part, k] = _one_bearing(water, points[part], bearing, (start, end))
    return fetch


def _refuse_land(water: Geometry, points: FloatArray) -> None:
    land = np.flatnonzero(~inside(water, points))
    if not land.size:
        return
    named = [f"[{i}] {points[i, 0]:.2f}, {points[i, 1]:.2f} m" for i in land[:_NAMED]]
    more = [f"and {land.size - _NAMED:,} more"] if land.size > _NAMED else []
    raise RangeError("\n".join([*named, *more, "on land: there is no fetch; move them"]))


def _one_bearing(
    water: Geometry, points: FloatArray, bearing: float, shore: tuple[FloatArray, FloatArray]
) -> FloatArray:
    """Distances along one bearing: x runs along the rays, y across them."""
    angle = np.radians(bearing)
    turn = np.array([[np.sin(angle), np.cos(angle)], [np.cos(angle), -np.sin(angle)]]).T
    here, (a, b) = points @ turn, (end @ turn for end in shore)
    point, piece = _pieces_at_heights(here[:, 1], a[:, 1], b[:, 1])
    share = (here[point, 1] - a[piece, 1]) / (b[piece, 1] - a[piece, 1])
    ahead = a[piece, 0] + share * (b[piece, 0] - a[piece, 0]) - here[point, 0]
    nearest = np.full(len(points), np.inf)
    beyond = ahead > _ON_SHORE_M
    np.minimum.at(nearest, point[beyond], ahead[beyond])
    on_shore = np.unique(point[np.abs(ahead) <= _ON_SHORE_M])
    if on_shore.size:
        step = _AHEAD_M * np.array([np.sin(angle), np.cos(angle)])
        away = on_shore[~inside(water, points[on_shore] + step)]
        nearest[away] = 0.0
    nearest[np.isinf(nearest)] = 0.0  # on the very tip of a shore: nothing lies ahead
    return nearest


def _pieces_at_heights(
    height: FloatArray, low_end: FloatArray, high_end: FloatArray
) -> tuple[IntArray, IntArray]:
    """Pairs of point and piece of shore at one height; a piece holds its lower end only."""
    order = np.argsort(height, kind="stable")
    sorted_height = height[order]
    low, high = np.minimum(low_end, high_end), np.maximum(low_end, high_end)
    first = np.searchsorted(sorted_height, low, side="left")
    count = np.searchsorted(sorted_height, high, side="left") - first
    piece = np.repeat(np.arange(len(low)), count)
    within = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count)
    return order[np.repeat(first, count) + within], piece


def mean_depths(
    surface: DepthSurface, points_xy: ArrayLike, bearings_deg: ArrayLike, fetch_m: ArrayLike
) -> FloatArray:
    """Return the mean depth along each ray.

    The surface is read once on a grid of at most 128 cells a side, and the rays look their samples
    up there: within a few per cent of the mean along the ray itself, which is finer than the laws
    of waves that take it.

    Parameters
    ----------
    surface : DepthSurface
        Of the same water.
    points_xy : array_like, shape [n, 2]
        Points in the water [m].
    bearings_deg : array_like, shape [k]
        True bearings [deg].
    fetch_m : array_like, shape [n, k]
        Lengths of the rays [m].

    Returns
    -------
    ndarray, shape [n, k]
        Depth [m] at the soundings' level, over what has been sounded; NaN where nothing has.
    """
    points = np.asarray(points_xy, dtype=np.float64).reshape(-1, 2)
    fetch = np.asarray(fetch_m, dtype=np.float64)
    angle = np.radians(np.asarray(bearings_deg, dtype=np.float64))
    grid = _DepthGrid(surface)
    share = (np.arange(_SAMPLES) + 0.5) / _SAMPLES
    mean = np.empty(fetch.shape)
    for k, (east, north) in enumerate(zip(np.sin(angle), np.cos(angle), strict=True)):
        along = fetch[:, k, None] * share
        depth = grid.at(points[:, 0, None] + along * east, points[:, 1, None] + along * north)
        known = ~np.isnan(depth)
        count = known.sum(axis=1)
        total = np.where(known, depth, 0.0).sum(axis=1)
        mean[:, k] = np.divide(total, count, out=np.full(len(points), np.nan), where=count > 0)
    return mean


class _DepthGrid:
    """The depth surface read at the middles of square cells."""

    def __init__(self, surface: DepthSurface) -> None:
        west, south, east, north = surface.water.bounds
        self._cell = max(east - west, north - south) / _CELLS
        self._corner = np.array([west, south])
        columns, rows = (
            int(np.ceil(side / self._cell)) + 1 for side in (east - west, north - south)
        )
        x = west + (np.arange(columns) + 0.5) * self._cell
        y = south + (np.arange(rows) + 0.5) * self._cell
        xy = np.column_stack([grid.ravel() for grid in np.meshgrid(x, y)])
        depth = np.full(len(xy), np.nan)
        wet = inside(surface.water, xy)
        depth[wet] = surface.at_wet(xy[wet])
        self._depth = depth.reshape(rows, columns)

    def at(self, x: FloatArray, y: FloatArray) -> FloatArray:
        """Depth of the cells that points lie in; NaN on land and where nobody has sounded."""
        column = ((x - self._corner[0]) / self._cell).astype(np.int64)
        row = ((y - self._corner[1]) / self._cell).astype(np.int64)
        rows, columns = self._depth.shape
        depth: FloatArray = self._depth[np.clip(row, 0, rows - 1), np.clip(column, 0, columns - 1)]
        return depth
