"""Depth areas, contours and a coarse grid, for drawing; never for checking."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import contourpy
import numpy as np
import shapely

from lakemap.basis.records import FloatArray, Geometry
from lakemap.lake.depth import DepthSurface
from lakemap.lake.triangulation import unsounded_area
from lakemap.lake.water import inside

_NODES = 360  # along the longer side: a cell is a pixel or two of a lake that fills a screen
_SLIVER_M = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class DepthGrid:
    """Depths at the nodes of a grid."""

    x_m: FloatArray  # [columns]
    y_m: FloatArray  # [rows]
    depth_m: FloatArray  # [rows, columns]; NaN on land and where no sounding reaches


def depth_grid(surface: DepthSurface, *, nodes: int = _NODES) -> DepthGrid:
    """Ask the surface at the nodes of a grid.

    Parameters
    ----------
    surface : DepthSurface
        Of the lake.
    nodes : int
        Along the longer side.

    Returns
    -------
    DepthGrid
        Over the lake's bounds.
    """
    west, south, east, north = shapely.bounds(surface.water).tolist()
    step = max(east - west, north - south) / (nodes - 1)
    x = west + step * np.arange(int((east - west) / step) + 2)
    y = south + step * np.arange(int((north - south) / step) + 2)
    xy = np.column_stack([np.tile(x, len(y)), np.repeat(y, len(x))])
    depth = np.full(len(xy), np.nan)
    wet = inside(surface.water, xy)
    depth[wet] = surface.at_wet(xy[wet])
    return DepthGrid(x_m=x, y_m=y, depth_m=depth.reshape(len(y), len(x)))


def depth_areas(
    surface: DepthSurface, grid: DepthGrid, depths_m: Sequence[float]
) -> list[Geometry]:
    """Return the water at least so deep, for each depth; to be painted shallow to deep.

    Parameters
    ----------
    surface : DepthSurface
        Of the lake.
    grid : DepthGrid
        Of the same surface.
    depths_m : sequence of float
        Depths at the soundings' level [m].

    Returns
    -------
    list of shapely MultiPolygon
        In metres, clipped to the water, possibly empty.
    """
    filled = _with_shore(surface, grid)
    generator = contourpy.contour_generator(
        grid.x_m, grid.y_m, filled, fill_type=contourpy.FillType.OuterOffset
    )
    deepest = float(filled.max()) + 1.0
    areas = []
    for depth in depths_m:
        found: Any = generator.filled(depth, max(deepest, depth + 1.0))
        rings = [
            [points[start:end] for start, end in pairwise(offsets)]
            for points, offsets in zip(*found, strict=True)
        ]
        polygons = [shapely.Polygon(outer, holes) for outer, *holes in rings]
        area = shapely.make_valid(shapely.union_all(polygons))
        areas.append(_polygons_of(shapely.intersection(area, surface.water)))
    return areas


def depth_contours(
    surface: DepthSurface, grid: DepthGrid, depths_m: Sequence[float]
) -> list[Geometry]:
    """Return the contour of each depth, clipped to the sounded water.

    Parameters
    ----------
    surface : DepthSurface
        Of the lake.
    grid : DepthGrid
        Of the same surface.
    depths_m : sequence of float
        Depths at the soundings' level [m].

    Returns
    -------
    list of shapely MultiLineString
        In metres, possibly empty.
    """
    generator = contourpy.contour_generator(
        grid.x_m, grid.y_m, _with_shore(surface, grid), line_type=contourpy.LineType.Separate
    )
    bare = unsounded(surface)
    contours = []
    for depth in depths_m:
        found: Any = generator.lines(depth)
        lines = [line for line in found if len(line) > 1]
        kept = shapely.difference(shapely.MultiLineString(lines), bare)
        contours.append(shapely.intersection(kept, surface.water))
    return contours


def unsounded(surface: DepthSurface) -> Geometry:
    """Return the water that no sounding reaches and that is wide enough to show.

    Parameters
    ----------
    surface : DepthSurface
        Of the lake.

    Returns
    -------
    shapely geometry
        In metres, possibly empty.
    """
    return unsounded_area(surface.mesh, surface.water, least_width_m=_SLIVER_M)


def _with_shore(surface: DepthSurface, grid: DepthGrid) -> FloatArray:
    """Depths with land and unsounded water as deep as the shore, so that no contour ends there."""
    return np.where(np.isnan(grid.depth_m), surface.shore_depth_m, grid.depth_m)


def _polygons_of(geometry: Geometry) -> Geometry:
    """Return the polygons of a geometry as one multipolygon."""
    parts = shapely.get_parts(geometry)
    return shapely.MultiPolygon([p for p in parts if p.geom_type == "Polygon" and p.area > 0])
