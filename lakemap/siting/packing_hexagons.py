"""The hexagon bound for any region and unequal radii: every centre claims an area of its own.

Give each centre its Voronoi cell, cut to the disc of radius R = 2 s / sqrt(3) about it, where s is
the least rho of the centres within 2 R of it, its own included. Where a corner of the cell is
nearer than R, it lies as near to two more centres, and the three, at least 2 s apart, would fit a
circle smaller than the circle about a triangle of side 2 s: impossible. So the parts that the
neighbours cut off the disc do not meet: they are segments of a circle, each at least
h = (own rho + s) / 2 from the centre, thus of half an angle under t = arccos(h / R) <= 30 degrees,
and together of at most the full turn. A segment's area R^2 (a - sin a cos a) is convex in its half
angle a, so at most pi / t full ones are cut off, and the cell keeps pi R^2 sin(2 t) / (2 t). Where
all rhos are equal that is sqrt(12) rho^2, the hexagon of L. Fejes Toth. Cells do not meet and lie
within R of the region, so the count is at most that area, each part of it divided by the least cell
of a centre that may claim it.
"""

from collections.abc import Callable

import numpy as np
import shapely
from scipy.ndimage import minimum_filter

from lakemap.basis.records import FloatArray, Geometry, IntArray

CELLS = 3000  # pieces of the region at most
WIDTH = 1.0  # of a piece, in rhos, if they are not too many
GROUP = 1.1  # own values within this ratio look as far about
LEVELS = 24  # of the area a cell keeps
CORNERS = 16  # of a buffer's quarter turn


def least_cell(own_rho: FloatArray, *, near_rho: FloatArray) -> FloatArray:
    """Return the least area that a centre's cut cell keeps.

    Parameters
    ----------
    own_rho : FloatArray
        Radius plus half the gap of the centre itself [m].
    near_rho : FloatArray
        The least among it and the centres within 4 / sqrt(3) times this value [m].

    Returns
    -------
    FloatArray
        Area [m2]; sqrt(12) rho^2 where both are equal. Source: the module's text.
    """
    own, near = np.asarray(own_rho, dtype=float), np.asarray(near_rho, dtype=float)
    share = np.minimum((own + near) / 2 / (2 * near / np.sqrt(3)), 1.0)
    turn = 2 * np.arccos(share)
    return np.asarray(4 / 3 * np.pi * near**2 * np.sinc(turn / np.pi), dtype=float)


def hexagon_bound(region: Geometry, rho_low: Callable[[Geometry], float]) -> float:
    """Return how many circles the area within reach of a region can hold.

    Parameters
    ----------
    region : Geometry
        Where centres may lie [m].
    rho_low : callable
        Piece of the region to a value that radius plus half the gap is nowhere below there [m].

    Returns
    -------
    float
        The bound, before it is cut to a whole number.
    """
    rho = rho_low(region)
    width = max(WIDTH * rho, float(np.sqrt(region.area / CELLS)))
    pieces, place = _checkered(region, width)
    own = np.maximum([rho_low(piece) for piece in pieces], rho)
    table = np.full(place.max(axis=0) + 1, np.inf)
    table[tuple(place.T)] = own
    near = _least_near(own, place, width)
    cell = least_cell(own, near_rho=near)
    level = np.floor(
        np.log(cell / cell.min()) / max(np.log(cell.max() / cell.min()), 1e-3) * LEVELS
    )
    bound, covered, before = 0.0, shapely.Polygon(), 0.0
    for one in np.unique(level):
        here = level == one
        reach = 2 / np.sqrt(3) * float(near[here].max())
        covered = shapely.union(covered, _grown(shapely.union_all(pieces[here]), reach))
        bound += (covered.area - before) / float(cell[here].min())
        before = covered.area
    return bound


def _least_near(own: FloatArray, place: IntArray, width: float) -> FloatArray:
    """The least own value within 4 / sqrt(3) of it, of squares that are as near; shape [n]."""
    table = np.full(place.max(axis=0) + 1, np.inf)
    table[tuple(place.T)] = own
    near = np.empty(len(own))
    group = np.floor(np.log(own / own.min()) / np.log(GROUP))
    for one in np.unique(group):
        here = group == one
        far = 4 / np.sqrt(3) * float(own[here].max()) / width
        gap = np.maximum(np.abs(np.arange(-np.ceil(far), np.ceil(far) + 1)) - 1, 0)
        footprint = np.hypot(*np.meshgrid(gap, gap)) <= far
        low = minimum_filter(table, footprint=footprint, mode="constant", cval=np.inf)
        near[here] = low[tuple(place[here].T)]
    return near


def _grown(region: Geometry, reach_m: float) -> Geometry:
    """All within reach, corners of the arcs outside them."""
    outer = reach_m / np.cos(np.pi / (4 * CORNERS)) + 1e-6
    return shapely.buffer(region, outer, quad_segs=CORNERS)


def _checkered(region: Geometry, width_m: float) -> tuple[FloatArray, IntArray]:
    """The region cut into squares: pieces [n] and their column and row [n, 2]."""
    low, high = np.reshape(region.bounds, (2, 2))
    count = np.maximum(np.ceil((high - low) / width_m).astype(int), 1)
    found: list[Geometry] = []
    place: list[tuple[int, int]] = []
    todo = [(region, np.zeros(2, dtype=int), count)]
    while todo:
        piece, first, size = todo.pop()
        if piece.is_empty:
            continue
        if size.max() == 1:
            found.append(piece)
            place.append((int(first[0]), int(first[1])))
            continue
        axis = int(np.argmax(size))
        half, step = size.copy(), np.zeros(2, dtype=int)
        half[axis] = step[axis] = size[axis] // 2
        for start, many in ((first, half), (first + step, size - step)):
            box = np.concatenate([low + start * width_m, low + (start + many) * width_m])
            todo.append((shapely.intersection(piece, shapely.box(*box)), start, many))
    return np.array(found, dtype=object), np.array(place)
