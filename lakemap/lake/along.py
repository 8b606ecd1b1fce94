"""Depth along straight ways, exact on the surface."""

from dataclasses import dataclass
from functools import cached_property
from typing import Any, Final

import numpy as np
import shapely

from lakemap.basis.records import FloatArray, IntArray
from lakemap.lake.depth import DepthSurface
from lakemap.lake.triangulation import barycentric, locate

_ON: Final = 1e-9  # of a length: so little past an end is on it
_EDGES: Final = 6.0  # of middling length, for each piece of a way
_AT_ONCE: Final = 50_000  # ways, to bound the memory


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossings:
    """Where ways begin, cross an edge of the surface, and end; in no order."""

    way: IntArray  # [k]
    share: FloatArray  # [k], of the way gone: 0 to 1
    depth_m: FloatArray  # [k], at the soundings' level


@dataclass(frozen=True, kw_only=True)
class AlongWays:
    """A depth surface made ready for being asked along ways."""

    surface: DepthSurface

    @cached_property
    def edges(self) -> IntArray:
        """Edges of the triangles in the water, each once, by their end points; shape [e, 2]."""
        mesh = self.surface.mesh
        corners = mesh.corners[mesh.wet]
        every = np.concatenate([corners[:, [0, 1]], corners[:, [1, 2]], corners[:, [2, 0]]])
        unique: IntArray = np.unique(np.sort(every, axis=1), axis=0)
        return unique

    @cached_property
    def _tree(self) -> Any:  # noqa: ANN401 - shapely is untyped
        return shapely.STRtree(shapely.linestrings(self.surface.mesh.xy[self.edges]))

    @cached_property
    def _piece_m(self) -> float:
        """Length of pieces that long ways are cut into: few edges lie beside each."""
        edges = self.surface.mesh.xy[self.edges]
        return _EDGES * float(np.median(np.hypot(*(edges[:, 1] - edges[:, 0]).T)))

    def depths_at(self, xy: FloatArray) -> FloatArray:
        """Return the depth at points in the water.

        Parameters
        ----------
        xy : ndarray, shape [n, 2]
            Points [m].

        Returns
        -------
        ndarray, shape [n]
            As the surface has it, but where nobody has sounded as deep as the shore.
        """
        mesh = self.surface.mesh
        triangle = locate(mesh, xy)
        wet = (triangle >= 0) & mesh.wet[triangle]
        corners = mesh.corners[triangle[wet]]
        shares = barycentric(mesh.xy[corners], xy[wet])
        depth = np.full(len(xy), self.surface.shore_depth_m)
        depth[wet] = np.einsum("ij,ij->i", shares, mesh.depth_m[corners])
        return self.sounded(xy, depth)

    def sounded(self, xy: FloatArray, depth_m: FloatArray) -> FloatArray:
        """Return depths, but no deeper than the shore where no sounding is near.

        Parameters
        ----------
        xy : ndarray, shape [n, 2]
            Points in the water [m].
        depth_m : ndarray, shape [n]
            What the surface has there [m].

        Returns
        -------
        ndarray, shape [n]
            Metres at the soundings' level.
        """
        mesh = self.surface.mesh
        if not np.isfinite(mesh.far_m) or not len(xy):
            return depth_m
        away, _ = mesh.tree.query(xy, distance_upper_bound=mesh.far_m)
        return np.where(np.isinf(away), np.minimum(depth_m, self.surface.shore_depth_m), depth_m)

    def crossings(self, start: FloatArray, end: FloatArray) -> Crossings:
        """Return the depth wherever the surface bends along straight ways; between them it is even.

        Parameters
        ----------
        start, end : ndarray, shape [n, 2]
            Ends of the ways [m], in the water.

        Returns
        -------
        Crossings
            Both ends of every way among them.
        """
        pieces = np.maximum(np.ceil(np.hypot(*(end - start).T) / self._piece_m), 1).astype(np.int64)
        way = np.repeat(np.arange(len(start)), pieces)
        first = np.arange(len(way)) - np.repeat(np.cumsum(pieces) - pieces, pieces)
        along, size = (end - start)[way], (1 / pieces)[way]
        here = start[way] + (first * size)[:, None] * along
        there = start[way] + ((first + 1) * size)[:, None] * along
        parts = [
            self._some(here[k : k + _AT_ONCE], there[k : k + _AT_ONCE], k)
            for k in range(0, max(len(way), 1), _AT_ONCE)
        ]
        piece = np.concatenate([part.way for part in parts])
        share = np.concatenate([part.share for part in parts])
        return Crossings(
            way=way[piece],
            share=np.clip((first[piece] + share) * size[piece], 0.0, 1.0),
            depth_m=np.concatenate([part.depth_m for part in parts]),
        )

    def least(self, start: FloatArray, end: FloatArray) -> FloatArray:
        """Return the least depth along straight ways in the water.

        Parameters
        ----------
        start, end : ndarray, shape [n, 2]
            Ends of the ways [m].

        Returns
        -------
        ndarray, shape [n]
            Depth [m] at the soundings' level; where nobody has sounded as deep as the shore.
        """
        found = self.crossings(start, end)
        least = np.full(len(start), np.inf)
        np.minimum.at(least, found.way, found.depth_m)
        return least

    def _some(self, start: FloatArray, end: FloatArray, first: int) -> Crossings:
        n = len(start)
        way, edge = self._tree.query(shapely.linestrings(np.stack([start, end], axis=1)))
        here, there = self.surface.mesh.xy[self.edges[edge].T]
        along, across, apart = (end - start)[way], there - here, here - start[way]
        turn = _cross(along, across)
        straight = np.abs(turn) <= np.finfo(np.float64).tiny  # ends of such edges end others too
        turn = np.where(straight, 1.0, turn)
        share, of_edge = _cross(apart, across) / turn, _cross(apart, along) / turn
        met = ~straight & (np.abs(share - 0.5) <= 0.5 + _ON) & (np.abs(of_edge - 0.5) <= 0.5 + _ON)
        low, high = self.surface.mesh.depth_m[self.edges[edge[met]].T]
        depth = low + of_edge[met] * (high - low)
        at = start[way[met]] + share[met, None] * along[met]
        return Crossings(
            way=first + np.concatenate([way[met], np.arange(n), np.arange(n)]),
            share=np.concatenate([np.clip(share[met], 0.0, 1.0), np.zeros(n), np.ones(n)]),
            depth_m=np.concatenate(
                [self.sounded(at, depth), self.depths_at(start), self.depths_at(end)]
            ),
        )


def _cross(one: FloatArray, other: FloatArray) -> FloatArray:
    product: FloatArray = one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]
    return product
