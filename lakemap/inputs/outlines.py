"""Outlines as drawn, mended where that changes next to nothing."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from lakemap.basis.records import FloatArray, Geometry
from lakemap.inputs.cells import Sheet

_MOST_CHANGE = 1e-3  # of the area
_LEAST_CORNERS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Corners:
    """Corners of one outline, in walking order."""

    lonlat: FloatArray  # [k, 2]
    row: int  # of the first, place in the table


def group_corners(keys: Sequence[object], lonlat: FloatArray) -> dict[object, Corners]:
    """Group the corners of a table by outline, in the order of the rows.

    Parameters
    ----------
    keys : sequence
        Which outline each row belongs to.
    lonlat : ndarray, shape [n, 2]
        WGS 84 degrees.

    Returns
    -------
    dict
        Corners by key, in the order in which the keys come first.
    """
    rows: dict[object, list[int]] = {}
    for row, key in enumerate(keys):
        rows.setdefault(key, []).append(row)
    return {key: Corners(lonlat=lonlat[held], row=held[0]) for key, held in rows.items()}


def ring_of(corners: Corners, sheet: Sheet, what: str) -> Geometry | None:
    """Make a closed ring of corners.

    Parameters
    ----------
    corners : Corners
        First corner not repeated; a repeated one does no harm.
    sheet : Sheet
        For the messages.
    what : str
        What the ring is, in words.

    Returns
    -------
    shapely LinearRing or None
        None where a problem was told.
    """
    xy = corners.lonlat
    if not np.isfinite(xy).all():
        return None  # told where the position was read
    xy = xy[np.append(True, (xy[1:] != xy[:-1]).any(axis=1))]
    if len(xy) > 1 and (xy[0] == xy[-1]).all():
        xy = xy[:-1]
    if len(xy) < _LEAST_CORNERS:
        text = f"{what} has {len(xy)} corner{'s' * (len(xy) != 1)}; an outline needs three at least"
        sheet.tell("few_corners", text, corners.row)
        return None
    return shapely.linearrings(xy)


def mend_area(area: Geometry, sheet: Sheet, row: int, what: str) -> Geometry | None:
    """Return an area that is valid, mended where that changes next to nothing.

    Parameters
    ----------
    area : shapely Polygon or MultiPolygon
        As drawn.
    sheet : Sheet
        For the messages.
    row : int
        Place in the table.
    what : str
        What the area is, in words.

    Returns
    -------
    shapely MultiPolygon or None
        None where a mend would change its area by more than 0.1 %; that is told.
    """
    if shapely.is_valid(area):
        return _as_multi(area)
    reason = str(shapely.is_valid_reason(area)).split("[", maxsplit=1)[0].strip().lower()
    mended = _as_multi(shapely.make_valid(area))
    drawn = _area_as_drawn(area)
    change = abs(mended.area - drawn) / max(drawn, mended.area, 1e-300)
    if mended.is_empty or change > _MOST_CHANGE:
        text = (
            f"{what} crosses itself or has no area ({reason}); a mend would change its area by"
            f" {change * 100:.2g} %: draw its corners in walking order"
        )
        sheet.tell("bad_outline", text, row)
        return None
    text = f"{what} was not a sound outline ({reason}); mended, its area changes by {change:.1e}"
    sheet.caution("outline_mended", text, row)
    return mended


def _area_as_drawn(area: Geometry) -> float:
    """Area by the corners' order, holes taken off: a loop run the other way counts against it."""

    def ring_area(ring: Geometry) -> float:
        x, y = shapely.get_coordinates(ring).T
        return abs(float(np.sum(x[:-1] * y[1:] - x[1:] * y[:-1]))) / 2

    return sum(
        ring_area(part.exterior) - sum(ring_area(hole) for hole in part.interiors)
        for part in shapely.get_parts(area)
    )


def _as_multi(area: Geometry) -> Geometry:
    parts = [part for part in shapely.get_parts(shapely.get_parts(area)) if part.area > 0]
    return shapely.MultiPolygon(list(parts))
