"""A bound on packings by a fractional cover of the region with discs: good where it is narrow."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from scipy.optimize import linprog
from scipy.sparse import coo_array, csr_array

from lakemap.basis.records import FloatArray, Geometry

COVER: Final = (
    "weak duality of linear programming (Gale, Kuhn, Tucker 1951, from memory), on a cover of the"
    " region with discs that hold one centre each"
)
_CELLS: Final = 2500  # of one part, at most about
_FINE: Final = 10.0  # cells across a disc's radius, where there are not too many
_MOST_RADII: Final = 60.0  # parts of more than so many radii squared are left to other bounds
_WIDE: Final = 4.0  # least radii across, from which on a hexagon's area bounds better
_TINY: Final = 1e-12


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cells:
    """Squares that together hold the region."""

    middle: FloatArray  # [n, 2]
    side_m: float
    rho: FloatArray  # [n], radius and half the gap that no centre in it is below


def cover_bound(part: Geometry, rho_low: Callable[[Geometry], float]) -> float:
    """Return a number of centres that no packing of a part of the region exceeds.

    Two centres whose distances from a point c are less than their own rho lie nearer than the sum
    of these: a disc about c holds one of them at most. Let weights y on such discs add up to 1 or
    more in every square of the region. Then each centre pays 1 or less, each disc is paid once at
    most, and the sum of y bounds the number of centres. The y are found by linear programming and
    scaled up by what is missing to 1 anywhere.

    Parameters
    ----------
    part : shapely Polygon
        Connected part of the region [m].
    rho_low : callable
        Piece of the region to a value that no centre's radius plus half the gap there is below [m].

    Returns
    -------
    float
        inf where the part is too large for this to pay.
    """
    least = rho_low(part)
    wide = part.length > 0 and 2 * part.area / part.length > _WIDE * least
    if wide or part.area > _MOST_RADII * 4 * least**2:
        return np.inf
    cells = _cells(part, least, rho_low)
    held = _held(cells)
    found = linprog(
        np.ones(held.shape[1]),
        A_ub=-held,
        b_ub=-np.ones(held.shape[0]),
        bounds=(0, None),
        method="highs",
    )
    if found.x is None:
        return np.inf
    weight = np.maximum(found.x, 0.0)
    worst = float((held @ weight).min())
    return np.inf if worst < _TINY else float(weight.sum()) / min(worst, 1.0)


def _cells(part: Geometry, least: float, rho_low: Callable[[Geometry], float]) -> _Cells:
    side = max(least / _FINE, float(np.sqrt(part.area / _CELLS)))
    west, south, east, north = part.bounds
    x, y = np.meshgrid(
        np.arange(west + side / 2, east + side, side),
        np.arange(south + side / 2, north + side, side),
    )
    middle = np.column_stack([x.ravel(), y.ravel()])
    squares = shapely.box(*(middle - side / 2).T, *(middle + side / 2).T)
    shapely.prepare(part)
    met = np.flatnonzero(shapely.intersects(part, squares))
    rho = np.array([rho_low(square) for square in squares[met]])
    return _Cells(middle=middle[met], side_m=side, rho=rho)


def _held(cells: _Cells) -> csr_array:
    """Which squares lie in the disc of one centre about each square's middle; [n, n]."""
    n, half = len(cells.rho), cells.side_m / 2
    rows, columns = [], []
    for k, at in enumerate(cells.middle):
        away = np.abs(cells.middle - at) + half  # to the farthest corner
        mine = np.flatnonzero(np.hypot(*away.T) < cells.rho * (1 - 1e-9))
        rows.append(mine)
        columns.append(np.full(len(mine), k))
    at = (np.concatenate(rows), np.concatenate(columns))
    return csr_array(coo_array((np.ones(len(at[0])), at), shape=(n, n)))
