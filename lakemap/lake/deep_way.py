"""Ways through water that is deep enough: the widest by a spanning tree, the shortest by Dijkstra.

The net has the corners of the depth surface for nodes, and the points of a square lattice. Along
its edges the least depth is exact. On a surface that is linear on triangles the water deeper than
any depth hangs together as the corners that lie in it do along the triangles' edges, so the depth
of the deepest way between two places is exact too, whatever the lattice. The lattice makes ways
short: with eight directions they are up to 8 % longer than need be (1/cos 22.5 degrees) before
they are pulled straight, and the wrong side of an island is taken at most for so little.
"""

from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, Final

import numpy as np
import shapely
from scipy.sparse import coo_array
from scipy.sparse.csgraph import (
    breadth_first_order,
    connected_components,
    dijkstra,
    minimum_spanning_tree,
)

from lakemap.basis.records import BoolArray, FloatArray, IntArray
from lakemap.lake.along import AlongWays

_HAIR_M: Final = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A way over the water, pulled straight."""

    xy: FloatArray  # [k, 2]; both ends the same where there is no way to go
    length_m: float
    along_m: FloatArray  # [p], way gone where the depth's slope changes
    depth_m: FloatArray  # [p], at the soundings' level
    least_m: float
    least_xy: FloatArray  # [2]


@dataclass(frozen=True, kw_only=True)
class WayNet:
    """Nodes and edges over the water of a lake."""

    along: AlongWays
    xy: FloatArray  # [n, 2]; the points asked for come last
    depth_m: FloatArray  # [n], at the soundings' level
    ends: IntArray  # [m, 2]
    least_m: FloatArray  # [m], least depth along each edge
    length_m: FloatArray  # [m]
    points: IntArray  # [k], nodes of the points asked for
    step_m: float  # of the lattice
    # by node, how far all others lie from it: found when first asked for
    away: dict[int, FloatArray] = field(default_factory=dict, compare=False, repr=False)

    def only(self, deep: BoolArray, weight: FloatArray | None = None) -> Any:  # noqa: ANN401 - scipy
        """Return some edges as a sparse matrix.

        Parameters
        ----------
        deep : ndarray of bool, shape [m]
            Which.
        weight : ndarray, shape [m], or None
            Their weights, > 0; None takes the lengths.

        Returns
        -------
        scipy.sparse array
            Shape [n, n], each edge once.
        """
        size = len(self.xy)
        weights = self.length_m if weight is None else weight
        ends = self.ends[deep]
        row, column = ends.astype(np.int32).T  # older graph routines take no wider indices
        return coo_array((weights[deep], (row, column)), shape=(size, size)).tocsr()

    @cached_property
    def _spanning(self) -> tuple[IntArray, IntArray, FloatArray]:
        """Each node's parent in the tree of deepest edges, its rank, the edge's depth.

        Kruskal's tree of least weights, a depth counted from the deepest: between any two nodes it
        holds a way whose shallowest edge is as deep as on any way (Hu, The maximum capacity route
        problem, Operations Research 9, 1961, 898-900).
        """
        top = float(self.least_m.max(initial=0.0)) + 1.0
        tree = minimum_spanning_tree(
            self.only(np.ones(len(self.ends), dtype=bool), top - self.least_m)
        )
        both = (tree + tree.T).tocsr()
        size = len(self.xy)
        parent, rank = np.full(size, -1), np.zeros(size, dtype=np.int64)
        depth = np.full(size, np.inf)
        count, label = connected_components(both, directed=False)
        firsts = np.unique(label, return_index=True)[1][:count]
        for root in firsts.tolist():
            order, before = breadth_first_order(both, root, directed=False)
            for node in order[1:].tolist():
                parent[node], rank[node] = before[node], rank[before[node]] + 1
        edges = tree.tocoo()
        child = np.where(parent[edges.row] == edges.col, edges.row, edges.col)
        depth[child] = top - edges.data
        return parent, rank, depth

    def deepest_way_m(self, one: int, other: int) -> float:
        """Return the depth that the deepest way between two nodes has at least; exact.

        Parameters
        ----------
        one, other : int
            Nodes.

        Returns
        -------
        float
            Metres at the soundings' level; -inf where no water joins them.
        """
        parent, rank, depth = self._spanning
        least = min(float(self.depth_m[one]), float(self.depth_m[other]))
        while one != other:
            if rank[one] < rank[other]:
                one, other = other, one
            if parent[one] < 0:
                return -np.inf
            least = min(least, float(depth[one]))
            one = int(parent[one])
        return least

    def distances_m(self, one: int) -> FloatArray:
        """Return how far all nodes lie from one by water, however shallow.

        Parameters
        ----------
        one : int
            Node.

        Returns
        -------
        ndarray, shape [n]
            Metres; inf where no water joins them.
        """
        if one not in self.away:
            every = self.only(np.ones(len(self.ends), dtype=bool))
            self.away[one] = dijkstra(every, directed=False, indices=one)
        return self.away[one]

    def reached(self, one: int, *, least_m: float) -> BoolArray:
        """Tell which nodes a way joins to one that is nowhere shallower.

        Parameters
        ----------
        one : int
            Node.
        least_m : float
            Depth at the soundings' level [m].

        Returns
        -------
        ndarray of bool, shape [n]
            All False where that node is shallower itself.
        """
        deep = self.least_m >= least_m
        _, label = connected_components(self.only(deep), directed=False)
        same: BoolArray = (label == label[one]) & (self.depth_m >= least_m)
        return np.asarray(same & same[one], dtype=bool)

    def shortest(self, one: int, other: int, *, least_m: float) -> Way | None:
        """Return the shortest way that is nowhere shallower, pulled straight.

        Parameters
        ----------
        one, other : int
            Nodes.
        least_m : float
            Depth at the soundings' level [m].

        Returns
        -------
        Way or None
            None where there is none.
        """
        deep = self.least_m >= least_m - _HAIR_M
        length, before = dijkstra(
            self.only(deep), directed=False, indices=one, return_predecessors=True
        )
        if not np.isfinite(length[other]):
            return None
        path = [other]
        while path[-1] != one:
            path.append(int(before[path[-1]]))
        return self.way(self._pulled(self.xy[path[::-1]], least_m))

    def way(self, xy: FloatArray) -> Way:
        """Return a way along given points, with its depths.

        Parameters
        ----------
        xy : ndarray, shape [k, 2]
            In the water; two at least, or one that is its own end.

        Returns
        -------
        Way
            Exact on the surface.
        """
        line = np.concatenate([xy, xy]) if len(xy) == 1 else xy
        found = self.along.crossings(line[:-1], line[1:])
        pieces = np.hypot(*np.diff(line, axis=0).T)
        gone = np.concatenate([[0.0], np.cumsum(pieces)])
        along = gone[found.way] + found.share * pieces[found.way]
        order = np.argsort(along, kind="stable")
        at = int(found.depth_m.argmin())
        step = line[found.way[at] + 1] - line[found.way[at]]
        return Way(
            xy=line,
            length_m=float(gone[-1]),
            along_m=along[order],
            depth_m=found.depth_m[order],
            least_m=float(found.depth_m[at]),
            least_xy=line[found.way[at]] + found.share[at] * step,
        )

    def _pulled(self, xy: FloatArray, least_m: float) -> FloatArray:
        """Leave out points for as long as the straight way past them is deep enough, on water.

        From either end: the second time it may take a corner that the first one had to keep.
        """
        once = self._pulled_once(xy, least_m)
        return self._pulled_once(once[::-1], least_m)[::-1]

    def _pulled_once(self, xy: FloatArray, least_m: float) -> FloatArray:
        kept, at = [0], 0
        while at < len(xy) - 1:
            at = self._farthest(xy, at, least_m)
            kept.append(at)
        return xy[kept]

    def _farthest(self, xy: FloatArray, at: int, least_m: float) -> int:
        """Try points each half as far as the one before; lengthen the best way by halving."""
        left = len(xy) - 1 - at
        tried = np.unique(at + np.maximum(left >> np.arange(left.bit_length()), 1))
        clear = self._clear(xy[at], xy[tried], least_m)
        clear[0] = True  # an edge of the net
        best = int(np.flatnonzero(clear)[-1])
        near = int(tried[best])
        far = int(tried[best + 1]) if best + 1 < len(tried) else near + 1
        while far - near > 1:
            middle = (near + far) // 2
            if self._clear(xy[at], xy[middle][None], least_m)[0]:
                near = middle
            else:
                far = middle
        return near

    def _clear(self, here: FloatArray, there: FloatArray, least_m: float) -> BoolArray:
        """Which straight ways lie on the water and are deep enough."""
        start = np.repeat(here[None], len(there), axis=0)
        lines = shapely.linestrings(np.stack([start, there], axis=1))
        clear = np.asarray(shapely.covers(self.along.surface.water, lines), dtype=bool)
        asked = np.flatnonzero(clear)
        if asked.size:
            least = self.along.least(start[asked], there[asked])
            clear[asked] = least >= least_m - _HAIR_M
        return clear
