"""Open water round a place: how far to the first shore or island, and how deep along the way."""

from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Final

import numpy as np
import shapely
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.records import BoolArray, FloatArray, Geometry, IntArray
from lakemap.lake.depth import DepthSurface
from lakemap.lake.water import inside, segments

_CHUNK: Final = 20_000  # points at once
_PAIRS: Final = 1_000_000  # pairs of ray and shore at once: both bound the memory
_ON_SHORE_M: Final = 1e-6  # nearer than this a point lies on the shore itself
_AHEAD_M: Final = 1e-3  # from the shore, how far ahead a ray is looked at to see if it has water
_ALONG_M: Final = 1e-9  # a ray that is no farther off the shore there runs along it
_NODES: Final = 256  # along the longer side of the grid of depths
_FINEST_M: Final = 1.0  # its least spacing: soundings are thinned to blocks of that
_SAMPLES: Final = 24  # of depth along a ray
_FINER: Final = 4  # times, the cells that rays look their depths up in
_SHORT_NODES: Final = 2.0  # on a ray of fewer spacings the grid knows too little
_SHORT_SAMPLES: Final = 4
_KNOWN: Final = 0.5  # of a place's nodes, by their weight, must be sounded


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shore:
    start: FloatArray  # [s, 2], both ends of every piece, from `origin`
    end: FloatArray
    origin: FloatArray  # the middle of the lake: small numbers turn with the least rounding
    tree: shapely.STRtree  # of the pieces where they stand


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
        True bearings that the wind comes from [deg]; any finite number.

    Returns
    -------
    ndarray, shape [n, k]
        Fetch [m]; 0 for a point on the shore whose ray does not enter the water. A ray that just
        touches a corner may stop there or pass.

    Raises
    ------
    RangeError
        If a point lies on land, or a bearing is not finite; names all such.
    """
    points = np.asarray(points_xy, dtype=np.float64).reshape(-1, 2)
    bearings = np.asarray(bearings_deg, dtype=np.float64).reshape(-1)
    if not np.isfinite(bearings).all():
        named = ", ".join(f"[{k}] {bearings[k]:g}" for k in np.flatnonzero(~np.isfinite(bearings)))
        raise RangeError(f"bearings {named}: need finite degrees")
    shore = _shore(water)
    touching = _touching(shore, points, _ON_SHORE_M)
    _refuse_land(points, ~inside(water, points) & ~np.isin(np.arange(len(points)), touching[0]))
    fetch = np.empty((len(points), len(bearings)))
    for first in range(0, len(points), _CHUNK):
        part = slice(first, first + _CHUNK)
        mine = touching[:, (touching[0] >= first) & (touching[0] < first + _CHUNK)]
        on = mine - np.array([[first], [0]])
        for k, bearing in enumerate(bearings):
            ray = _heading(bearing)
            fetch[part, k] = _one_bearing(shore, points[part], ray, on)
            _stop_at_once(water, shore, points[part], ray, on[0], fetch[part, k])
    return fetch


def _shore(water: Geometry) -> _Shore:
    start, end = segments(water)
    tree = shapely.STRtree(shapely.linestrings(np.stack([start, end], axis=1)))
    west, south, east, north = water.bounds
    origin = np.array([west + east, south + north]) / 2
    return _Shore(start=start - origin, end=end - origin, origin=origin, tree=tree)


def _touching(shore: _Shore, points: FloatArray, within_m: float) -> IntArray:
    """Pairs of a point and a piece of shore that it lies on, [2, m]."""
    known = np.flatnonzero(np.isfinite(points).all(axis=1))
    found = shore.tree.query(shapely.points(points[known]), predicate="dwithin", distance=within_m)
    return np.stack([known[found[0]], found[1]])


def _refuse_land(points: FloatArray, land: BoolArray) -> None:
    if land.any():
        named = [f"[{i}] {points[i, 0]:.2f}, {points[i, 1]:.2f} m" for i in np.flatnonzero(land)]
        raise RangeError("\n".join([*named, "on land: there is no fetch; move them"]))


def _heading(bearing_deg: float) -> FloatArray:
    """Unit vector east, north."""
    angle = np.radians(bearing_deg % 360.0)
    return np.array([np.sin(angle), np.cos(angle)])


def _turned(xy: FloatArray, ray: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Coordinates along and across the rays.

    Written out: a matrix product may round one corner in two ways, and a ray slip between.
    """
    return xy[:, 0] * ray[0] + xy[:, 1] * ray[1], xy[:, 0] * ray[1] - xy[:, 1] * ray[0]


def _one_bearing(
    shore: _Shore, points: FloatArray, ray: FloatArray, touching: IntArray
) -> FloatArray:
    """Distances along one bearing, pieces that a point lies on left out; inf: nothing ahead."""
    here, height = _turned(points - shore.origin, ray)
    (a, a_height), (b, b_height) = _turned(shore.start, ray), _turned(shore.end, ray)
    order = np.argsort(height, kind="stable")
    low, high = np.minimum(a_height, b_height), np.maximum(a_height, b_height)
    # a piece holds its lower end only, so a ray through a corner meets one piece there, not both
    first = np.searchsorted(height[order], low, side="left")
    count = np.searchsorted(height[order], high, side="left") - first
    own = np.sort(touching[0] * len(low) + touching[1])
    on_shore = np.zeros(len(points), dtype=bool)
    on_shore[touching[0]] = True
    nearest = np.full(len(points), np.inf)
    for block in _blocks(count):
        within, piece = _spread(count[block], block.start)
        point = order[first[piece] + within]
        share = (height[point] - a_height[piece]) / (b_height[piece] - a_height[piece])
        ahead = a[piece] + share * (b[piece] - a[piece]) - here[point]
        meets = ahead > 0
        asked = np.flatnonzero(meets & on_shore[point])
        meets[asked] = ~np.isin(point[asked] * len(low) + piece[asked], own)
        np.minimum.at(nearest, point[meets], ahead[meets])
    return nearest


def _blocks(count: IntArray) -> list[slice]:
    """Cut the pieces of shore so that no block has many more pairs than `_PAIRS`."""
    block = np.cumsum(count) // _PAIRS
    cuts = np.flatnonzero(np.diff(block)) + 1
    return [slice(*ends) for ends in pairwise([0, *cuts.tolist(), len(count)])]


def _spread(count: IntArray, start: int) -> tuple[IntArray, IntArray]:
    """Running number within its piece, and the piece, of every pair."""
    within = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count)
    return within, np.repeat(np.arange(start, start + len(count)), count)


def _stop_at_once(  # noqa: PLR0913, PLR0917 - one ray's start, its shore and its result
    water: Geometry,
    shore: _Shore,
    points: FloatArray,
    ray: FloatArray,
    on_shore: IntArray,
    fetch: FloatArray,
) -> None:
    """Set the fetch of points on the shore to 0 in place where the ray does not enter the water."""
    index = np.unique(on_shore)
    if not index.size:
        return
    step = points[index] + _AHEAD_M * ray
    wet = inside(water, step)
    wet[_touching(shore, step, _ALONG_M)[0]] = False
    fetch[index[~wet]] = 0.0


def mean_depths(
    surface: DepthSurface, points_xy: ArrayLike, bearings_deg: ArrayLike, fetch_m: ArrayLike
) -> FloatArray:
    """Return the mean depth along each ray.

    The surface is read once at the nodes of a square grid, 256 along the longer side of the water
    (but no closer than 1 m), with the shore's depth on the land beside it. Linear between nodes,
    it fills cells a quarter as wide, where each ray looks up 24 places: within some 2 % of the mean
    along the ray itself, or a few cm in the shallows, on a bed that is smooth over a few nodes. A
    ray shorter than two spacings asks the surface itself, at 4 places.

    Parameters
    ----------
    surface : DepthSurface
        Of the same water.
    points_xy : array_like, shape [n, 2]
        Points in the water [m].
    bearings_deg : array_like, shape [k]
        True bearings [deg].
    fetch_m : array_like, shape [n, k]
        Lengths of the rays [m], as `fetch_lengths` gives them.

    Returns
    -------
    ndarray, shape [n, k]
        Depth [m] at the soundings' level, over what has been sounded; NaN where nothing has.
    """
    points = np.asarray(points_xy, dtype=np.float64).reshape(-1, 2)
    bearings = np.asarray(bearings_deg, dtype=np.float64).reshape(-1)
    fetch = np.asarray(fetch_m, dtype=np.float64).reshape(len(points), len(bearings))
    grid = _grid_of(_Same(surface))
    mean = np.empty(fetch.shape)
    for k, bearing in enumerate(bearings):
        ray = _heading(bearing)
        short = fetch[:, k] < _SHORT_NODES * grid.node_m
        for first in range(0, len(points), _CHUNK):
            some = first + np.flatnonzero(~short[first : first + _CHUNK])
            xy = _along(points[some], ray, fetch[some, k], _SAMPLES)
            mean[some, k] = _mean_known(grid.at(xy))
        xy = _along(points[short], ray, fetch[short, k], _SHORT_SAMPLES)
        mean[short, k] = _mean_known(surface.at_wet(xy.reshape(-1, 2)).reshape(xy.shape[:2]))
    return mean


def _along(points: FloatArray, ray: FloatArray, fetch: FloatArray, samples: int) -> FloatArray:
    """Places along each ray, in the middles of equal parts; [n, samples, 2]."""
    share = (np.arange(samples) + 0.5) / samples
    xy: FloatArray = points[:, None, :] + (fetch[:, None] * share)[:, :, None] * ray
    return xy


def _mean_known(depth: FloatArray) -> FloatArray:
    """Mean of each row over what is known."""
    known = ~np.isnan(depth)
    count = known.sum(axis=1)
    total = np.where(known, depth, 0.0).sum(axis=1)
    mean: FloatArray = np.divide(total, count, out=np.full(len(depth), np.nan), where=count > 0)
    return mean


class _Same:
    """A surface, equal to itself alone."""

    def __init__(self, surface: DepthSurface) -> None:
        self.surface = surface

    def __hash__(self) -> int:
        return id(self.surface)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.surface is self.surface


@lru_cache(maxsize=1)
def _grid_of(same: _Same) -> "_DepthGrid":
    """The grid of the surface that was asked last; it is asked again and again about new places."""
    return _DepthGrid.read(same.surface)


@dataclass(frozen=True, slots=True, kw_only=True)
class _DepthGrid:
    """The depth surface, read at the nodes of a square grid, on cells a quarter as wide."""

    corner: FloatArray
    node_m: float
    depth_m: FloatArray  # [rows, columns], of the cells; NaN where it is not known

    @classmethod
    def read(cls, surface: DepthSurface) -> "_DepthGrid":
        west, south, east, north = surface.water.bounds
        node_m = max(_FINEST_M, max(east - west, north - south) / (_NODES - 1))
        columns, rows = (int(side / node_m) + 2 for side in (east - west, north - south))
        x, y = west + node_m * np.arange(columns), south + node_m * np.arange(rows)
        xy = np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)
        wet = inside(surface.water, xy)
        read = np.full(len(xy), np.nan)
        read[wet] = surface.at_wet(xy[wet])
        depth, water = read.reshape(rows, columns), wet.reshape(rows, columns)
        # the shore's own depth on the land beside it, but not where nobody has sounded off it
        beside = _near(water & ~np.isnan(depth)) & ~_near(water & np.isnan(depth))
        depth[~water & beside] = surface.shore_depth_m
        known = ~np.isnan(depth)
        weight = _finer(known.astype(np.float64))
        total = _finer(np.where(known, depth, 0.0))
        fine = np.divide(total, weight, out=np.full(total.shape, np.nan), where=weight >= _KNOWN)
        return cls(corner=np.array([west, south]), node_m=node_m, depth_m=fine)

    def at(self, xy: FloatArray) -> FloatArray:
        """Depth of the cells that places lie in."""
        place = ((xy - self.corner) * (_FINER / self.node_m)).astype(np.int64)
        rows, columns = self.depth_m.shape
        row, column = np.clip(place[..., 1], 0, rows - 1), np.clip(place[..., 0], 0, columns - 1)
        depth: FloatArray = self.depth_m[row, column]
        return depth


def _finer(nodes: FloatArray) -> FloatArray:
    """Linear between nodes, both ways, at the middles of cells a quarter as wide."""
    share = (np.arange(_FINER) + 0.5) / _FINER
    for _ in range(2):
        between = nodes[:-1, None] * (1 - share)[:, None] + nodes[1:, None] * share[:, None]
        nodes = between.reshape(-1, nodes.shape[1]).T
    return nodes


def _near(mask: BoolArray) -> BoolArray:
    """True at a node and at the eight around each that is True."""
    wide = np.pad(mask, 1)
    tall = wide[:, :-2] | wide[:, 1:-1] | wide[:, 2:]
    near: BoolArray = tall[:-2] | tall[1:-1] | tall[2:]
    return near
