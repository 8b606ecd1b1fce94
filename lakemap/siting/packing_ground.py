"""Where the centres of a packing may lie, made quick to ask: inside, nearest place, radius."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import shapely
from scipy.ndimage import binary_dilation, map_coordinates
from scipy.spatial import cKDTree

from lakemap.basis.records import BoolArray, FloatArray, Geometry, IntArray

NODES = 24_000  # of the radius grid inside the region: radii may cost 10 us each
ALL_NODES = 250_000  # of the grid, outside too
INSET_M = 1e-6  # a point pulled to the shrunk edge stays inside the true one despite rounding
PROBES = 64  # radii asked for to learn the scale


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """The region of one packing; `rho` is the radius plus half the gap."""

    region: Geometry  # shrunk by a hair, prepared
    edges: Geometry  # tree of the boundary's pieces
    start: FloatArray  # [k, 2] of each piece
    along: FloatArray  # [k, 2]
    rho_at: Callable[[FloatArray], FloatArray]  # exact
    corner: FloatArray  # [2] of the grid
    cell_m: float
    grid: FloatArray  # rho at the nodes
    deep: BoolArray  # the cell after the node holds no boundary and is inside
    spots: FloatArray  # [s, 2] all over the region, for new centres
    spots_rho: FloatArray
    least_rho: float

    def rho(self, xy: FloatArray) -> FloatArray:
        """Return rho between the nodes of the grid; shape [n]."""
        at = (xy - self.corner).T / self.cell_m
        return np.asarray(map_coordinates(self.grid, at, order=1, mode="nearest"), dtype=float)

    def inside(self, xy: FloatArray) -> BoolArray:
        """Tell which points lie in the region; shape [n]."""
        shape = np.array(self.deep.shape)
        cells = np.clip(np.floor((xy - self.corner) / self.cell_m).astype(int), 0, shape - 1)
        within: BoolArray = self.deep[cells[:, 0], cells[:, 1]].copy()
        ask = np.flatnonzero(~within)
        within[ask] = shapely.intersects_xy(self.region, xy[ask, 0], xy[ask, 1])
        return within

    def pull_in(self, xy: FloatArray, piece: IntArray) -> FloatArray:
        """Return the points, those outside moved to the nearest place of a piece of the boundary.

        `piece` [n] says which; where it is negative the nearest is looked up and written there.
        """
        out = np.flatnonzero(~self.inside(xy))
        if not out.size:
            return xy
        new = out[piece[out] < 0]
        piece[new] = self.edges.query_nearest(shapely.points(xy[new]), all_matches=False)[1]
        start, along = self.start[piece[out]], self.along[piece[out]]
        square = np.maximum((along**2).sum(axis=1), 1e-30)
        share = np.clip(((xy[out] - start) * along).sum(axis=1) / square, 0.0, 1.0)
        pulled = xy.copy()
        pulled[out] = start + share[:, None] * along
        return pulled


def areas_of(region: Geometry) -> list[Geometry]:
    """Return the polygons of a region."""
    parts = shapely.get_parts(shapely.get_parts(region))
    return [one for one in parts if one.geom_type == "Polygon" and not one.is_empty]


def crumbs(region: Geometry, shrunk: Geometry) -> FloatArray:
    """Return one point of each part too thin to shrink; shape [n, 2]."""
    parts = shapely.get_parts(shapely.get_parts(region))
    lost = parts[~shapely.is_empty(parts) & ~shapely.intersects(parts, shrunk)]
    return np.asarray(shapely.get_coordinates(shapely.point_on_surface(lost)), dtype=float)


def _pieces(region: Geometry) -> tuple[FloatArray, FloatArray]:
    """Start and course of every piece of the boundary."""
    rings = shapely.get_rings(shapely.get_parts(region))
    xy, ring = shapely.get_coordinates(rings, return_index=True)
    same = ring[1:] == ring[:-1]
    return xy[:-1][same], (xy[1:] - xy[:-1])[same]


def walk(start: FloatArray, along: FloatArray, pitch_m: float) -> FloatArray:
    """Return points on all pieces, none farther than the pitch from the next; shape [n, 2]."""
    count = np.maximum(np.ceil(np.hypot(*along.T) / pitch_m), 1).astype(int)
    piece = np.repeat(np.arange(len(count)), count)
    first = np.repeat(np.cumsum(count) - count, count)
    share = (np.arange(len(piece)) - first) / count[piece]
    return np.asarray(start[piece] + share[:, None] * along[piece], dtype=float)


def _probe(region: Geometry) -> FloatArray:
    """Some points of the region, from its corners and parts."""
    corners = shapely.get_coordinates(region)
    some = corners[:: max(1, len(corners) // PROBES)]
    parts = shapely.get_coordinates(shapely.point_on_surface(shapely.get_parts(region)))
    return np.concatenate([some, parts[:PROBES]])


def _cell(region: Geometry, scale: float) -> float:
    """Width of the grid's cells: fine against the circles, yet few."""
    low, high = np.reshape(region.bounds, (2, 2))
    few = max(region.area / NODES, float(np.prod(high - low)) / ALL_NODES)
    return max(float(np.sqrt(few)), min(scale / 4, float(np.max(high - low)) / 8))


def survey(region: Geometry, rho_at: Callable[[FloatArray], FloatArray]) -> Ground:
    """Make the ground of a region that has an area.

    Parameters
    ----------
    region : Geometry
        Polygon or multipolygon [m], shrunk by `INSET_M` at least.
    rho_at : callable
        Points [n, 2] to radius plus half the gap [m], exact.

    Returns
    -------
    Ground
        With the radii at its nodes worked out.
    """
    shapely.prepare(region)
    start, along = _pieces(region)
    low, high = np.reshape(region.bounds, (2, 2))
    scale = float(np.min(rho_at(_probe(region))))
    cell = _cell(region, scale)
    corner = low - 2 * cell
    count = np.ceil((high - corner) / cell).astype(int) + 3
    axes = (corner[k] + cell * np.arange(count[k]) for k in (0, 1))
    nodes = np.stack(np.meshgrid(*axes, indexing="ij"), -1).reshape(-1, 2)
    within = shapely.intersects_xy(region, nodes[:, 0], nodes[:, 1])
    spots = np.concatenate([nodes[within], walk(start, along, max(cell, scale / 3))])
    rho = np.asarray(rho_at(spots), dtype=float)
    edge = np.zeros(count, dtype=bool)
    edge[tuple(np.floor((walk(start, along, cell / 2) - corner) / cell).astype(int).T)] = True
    edge = binary_dilation(edge, np.ones((3, 3)))
    grid = np.full(len(nodes), rho.min())
    grid[within] = rho[: np.count_nonzero(within)]
    beside = ~within & binary_dilation(edge, np.ones((3, 3))).ravel()
    grid[beside] = rho[cKDTree(spots).query(nodes[beside])[1]]
    return Ground(
        region=region,
        edges=shapely.STRtree(shapely.linestrings(np.stack([start, start + along], axis=1))),
        start=start,
        along=along,
        rho_at=rho_at,
        corner=corner,
        cell_m=cell,
        grid=grid.reshape(count),
        deep=within.reshape(count) & ~edge,
        spots=spots,
        spots_rho=rho,
        least_rho=float(rho.min()),
    )
