"""The lake's depth as a surface: linear on a triangulation of soundings and shore."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.records import BoolArray, FloatArray, Geometry, IntArray
from lakemap.lake.circle_extremes import least_in_circles
from lakemap.lake.triangulation import Triangulation, barycentric, locate, triangulate
from lakemap.lake.water import inside

_NAMED = 20  # points that one message names


@dataclass(frozen=True, slots=True, kw_only=True)
class DepthSurface:
    """Depths [m] at the level at which the soundings were taken."""

    mesh: Triangulation
    water: Geometry  # shapely polygon(s), metres
    shore_depth_m: float

    @classmethod
    def from_soundings(
        cls, xy: ArrayLike, depth_m: ArrayLike, water: Geometry, *, shore_depth_m: float = 0.0
    ) -> "DepthSurface":
        """Build the surface.

        Within blocks of 1 m soundings are thinned to the one with the median depth; beyond that
        nothing is smoothed.

        Parameters
        ----------
        xy : array_like, shape [n, 2]
            Soundings [m], inside the water.
        depth_m : array_like, shape [n]
            Their depths [m].
        water : shapely Polygon or MultiPolygon
            In metres.
        shore_depth_m : float
            Depth at the shore [m]: 0 where the shore was drawn at the soundings' level.

        Returns
        -------
        DepthSurface
            Ready to be asked.

        Raises
        ------
        RangeError
            If there is no sounding, one is no number, or one lies outside the water.
        """
        points = np.asarray(xy, dtype=np.float64).reshape(-1, 2)
        depths = np.asarray(depth_m, dtype=np.float64).reshape(-1)
        if not len(points):
            raise RangeError("no soundings; a depth surface needs at least one in the water")
        if len(points) != len(depths):
            raise RangeError(f"{len(points)} positions but {len(depths)} depths")
        wrong = ~np.isfinite(depths) | ~inside(water, points)
        _refuse(points, wrong, "no depth, or outside the water; leave it out first")
        mesh = triangulate(points, depths, water, shore_depth_m=shore_depth_m)
        return cls(mesh=mesh, water=water, shore_depth_m=float(shore_depth_m))

    def at(self, xy: ArrayLike) -> FloatArray:
        """Return the depth at points.

        Parameters
        ----------
        xy : array_like, shape [n, 2]
            Points [m] in the water, its edge included.

        Returns
        -------
        ndarray, shape [n]
            Depth [m]; NaN where nobody has sounded: all corners of the triangle lie on the shore,
            or the nearest sounding is far off compared with the gaps between soundings.

        Raises
        ------
        RangeError
            If a point lies outside the water; names each.
        """
        points = np.asarray(xy, dtype=np.float64).reshape(-1, 2)
        _refuse(points, ~inside(self.water, points), "outside the water; there is no depth")
        return self.at_wet(points)

    def at_wet(self, xy: FloatArray) -> FloatArray:
        """Return the depth at points that are known to lie in the water.

        Parameters
        ----------
        xy : ndarray, shape [n, 2]
            Points [m] in the water.

        Returns
        -------
        ndarray, shape [n]
            As `at`, without asking again whether they do.
        """
        mesh = self.mesh
        triangle = locate(mesh, xy)
        wet = (triangle >= 0) & mesh.wet[triangle]
        # a point in the water but in no triangle of it lies on the shore, but for rounding
        depth = np.full(len(xy), self.shore_depth_m)
        depth[wet] = _interpolate(mesh, triangle[wet], xy[wet])
        depth[wet & ~mesh.sounded[triangle]] = np.nan
        if np.isfinite(mesh.far_m):
            away, _ = mesh.tree.query(xy, distance_upper_bound=mesh.far_m)
            depth[np.isinf(away)] = np.nan
        return depth

    def least_within(self, xy: ArrayLike, radius_m: ArrayLike) -> FloatArray:
        """Return the least depth within circles, exact on the surface.

        Parameters
        ----------
        xy : array_like, shape [n, 2]
            Centres [m].
        radius_m : array_like, shape [n] or a number
            Radii [m], >= 0.

        Returns
        -------
        ndarray, shape [n]
            Depth [m] over the part of the circle in the water; NaN where there is none. Water that
            no sounding reaches counts as deep as the shore: the safe side.
        """
        return self._extreme(xy, radius_m, sign=1.0)

    def greatest_within(self, xy: ArrayLike, radius_m: ArrayLike) -> FloatArray:
        """Return the greatest depth within circles, exact on the surface.

        Parameters
        ----------
        xy : array_like, shape [n, 2]
            Centres [m].
        radius_m : array_like, shape [n] or a number
            Radii [m], >= 0.

        Returns
        -------
        ndarray, shape [n]
            Depth [m]; NaN where no part of the circle lies in the water.
        """
        return -self._extreme(xy, radius_m, sign=-1.0)

    def _extreme(self, xy: ArrayLike, radius_m: ArrayLike, *, sign: float) -> FloatArray:
        points = np.asarray(xy, dtype=np.float64).reshape(-1, 2)
        radius = np.broadcast_to(np.asarray(radius_m, dtype=np.float64), len(points))
        if (radius < 0).any():
            raise RangeError(f"radius {radius.min():g} m: need a radius >= 0")
        corners = self.mesh.corners[self.mesh.wet]
        return least_in_circles(
            self.mesh.xy[corners], sign * self.mesh.depth_m[corners], xy=points, radius_m=radius
        )


def _refuse(points: FloatArray, wrong: BoolArray, why: str) -> None:
    """Raise for every wrong point, naming the first of them."""
    index = np.flatnonzero(wrong)
    if not index.size:
        return
    named = [f"[{i}] {points[i, 0]:.2f}, {points[i, 1]:.2f} m: {why}" for i in index[:_NAMED]]
    more = [f"and {index.size - _NAMED:,} more"] if index.size > _NAMED else []
    raise RangeError("\n".join(named + more))


def _interpolate(mesh: Triangulation, triangle: IntArray, xy: FloatArray) -> FloatArray:
    """Linear interpolation in given triangles."""
    corners = mesh.corners[triangle]
    depth: FloatArray = np.einsum(
        "ij,ij->i", barycentric(mesh.xy[corners], xy), mesh.depth_m[corners]
    )
    return depth
