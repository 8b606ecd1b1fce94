"""Places for new floats in order of a score whose parts are shown."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np
import shapely

from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import FloatArray, Geometry, IntArray
from lakemap.lake.water import nearest_on_shore
from lakemap.siting.margins import jump_spare, wind_spares
from lakemap.siting.spots import SpotField, Spots, spots_at, storms_at

# ours: of each part, the figure that gives half of its points
HALF_SPARE_M: Final = 10 * FOOT_M.value
HALF_WAVE_M: Final = 1 * FOOT_M.value
HALF_FETCH_M: Final = 1000 * FOOT_M.value
HALF_DEPTH_M: Final = 4 * FOOT_M.value
HALF_WAY_M: Final = 200 * FOOT_M.value
HALF_LINE_M: Final = 50 * FOOT_M.value
_MOST_PLACES: Final = 6000
_LEAST_STEP_M: Final = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Places:
    """Allowed places and what speaks for each; shape [n]."""

    spots: Spots
    spare_m: FloatArray  # least distance to spare, circles and zones
    fetch_m: FloatArray
    wave_height_m: FloatArray
    shore_m: FloatArray
    way_m: FloatArray  # from the lot, else the nearest ramp, else the shore
    parts: Mapping[str, FloatArray]  # of the score, each 0 to 1
    score: FloatArray  # 0 to 1

    def only(self, chosen: IntArray) -> FloatArray:
        """Return the places' positions [m].

        Parameters
        ----------
        chosen : ndarray
            Index.

        Returns
        -------
        ndarray, shape [m, 2]
            East, north.
        """
        xy: FloatArray = self.spots.at.primary_xy[chosen]
        return xy


def candidates(allowed: Geometry) -> FloatArray:
    """Return a grid of places over allowed water, and at least one in each of its pieces.

    Parameters
    ----------
    allowed : shapely MultiPolygon
        In metres.

    Returns
    -------
    ndarray, shape [n, 2]
        Some thousands at most.
    """
    pieces = [part for part in shapely.get_parts(allowed) if part.area > 0]
    if not pieces:
        return np.empty((0, 2))
    step = max(_LEAST_STEP_M, float(np.sqrt(allowed.area / _MOST_PLACES)))
    west, south, east, north = allowed.bounds
    x, y = np.meshgrid(np.arange(west, east, step), np.arange(south, north, step))
    shapely.prepare(allowed)
    within = shapely.contains_xy(allowed, x.ravel(), y.ravel())
    middles = shapely.get_coordinates(shapely.point_on_surface(pieces))
    return np.concatenate([np.column_stack([x.ravel(), y.ravel()])[within], middles])


def judged(field: SpotField, xy: FloatArray, weights: Mapping[str, float]) -> Places:
    """Return what speaks for places, each part from 0 to 1, and the score, their weighted mean.

    spare s/(s + 10 ft); shelter the mean of 1 ft/(1 ft + H) and 1000 ft/(1000 ft + F) in the
    storm; depth s/(s + 4 ft) over the jumping depth; way 200 ft/(200 ft + d); line
    50 ft/(50 ft + l), the shorter the easier to handle. All ours.

    Parameters
    ----------
    field : SpotField
        What is to be laid, and where.
    xy : ndarray, shape [n, 2]
        Allowed places [m].
    weights : mapping of str to float
        Of the parts; at least one above 0.

    Returns
    -------
    Places
        In the order of `xy`.
    """
    spots, room = spots_at(field, xy), field.free.room(xy)[0]
    storm = storms_at(field, xy)
    spare = np.minimum(
        room - spots.radius_m, wind_spares(field, spots.at).min(axis=1, initial=np.inf)
    )
    shore, _ = nearest_on_shore(field.lake.water, xy)
    way = _way(field, xy, shore)
    line = spots.at.riser_m + spots.at.ground_m
    depth = jump_spare(field, spots)
    parts = {
        "spare": _more(np.where(np.isinf(spare), shore, spare), HALF_SPARE_M),
        "shelter": (_less(storm.height_m, HALF_WAVE_M) + _less(storm.fetch_m, HALF_FETCH_M)) / 2,
        "depth": _more(depth, HALF_DEPTH_M),
        "way": _less(way, HALF_WAY_M),
        "line": _less(line, HALF_LINE_M),
    }
    total = sum(weights.get(name, 0.0) for name in parts) or 1.0
    score = sum(weights.get(name, 0.0) * part for name, part in parts.items()) / total
    return Places(
        spots=spots,
        spare_m=spare,
        fetch_m=storm.fetch_m,
        wave_height_m=storm.height_m,
        shore_m=shore,
        way_m=way,
        parts=MappingProxyType(parts),
        score=np.asarray(score),
    )


def _more(value: FloatArray, half: float) -> FloatArray:
    """0 for nothing, half a point at `half`, 1 for very much."""
    above = np.maximum(np.nan_to_num(value), 0.0)
    share: FloatArray = above / (above + half)
    return share


def _less(value: FloatArray, half: float) -> FloatArray:
    """1 for nothing, half a point at `half`, 0 for very much."""
    share: FloatArray = half / (half + np.maximum(np.nan_to_num(value), 0.0))
    return share


def _way(field: SpotField, xy: FloatArray, shore: FloatArray) -> FloatArray:
    """How far it is to walk or swim from: the lot's frontage, else a ramp, else the shore."""
    lake = field.lake
    lot = [zone.geometry for zone in field.free.layers if zone.kind == "frontage"]
    ramps = [placed.shape for placed in lake.zones if placed.zone.kind == "ramp"]
    if lot:
        # a frontage is water: its way to the land is that of its part of the shore
        ashore = shapely.intersection(lake.water.boundary, shapely.buffer(lot[0], 1.0))
        if not ashore.is_empty:
            return np.asarray(shapely.distance(ashore, shapely.points(xy)))
        return shore
    if ramps:
        return np.asarray(shapely.distance(shapely.union_all(ramps), shapely.points(xy)))
    return shore


def best_apart(places: Places, *, gap_m: float, count: int) -> IntArray:
    """Return the best places of which no two circles come nearer than a gap.

    Parameters
    ----------
    places : Places
        With their scores.
    gap_m : float
        Between two circles [m].
    count : int
        At most so many.

    Returns
    -------
    ndarray of int
        Index into the places, best first.
    """
    xy, radius = places.spots.at.primary_xy, places.spots.radius_m
    left = np.isfinite(radius) & np.isfinite(places.score)
    order = np.lexsort((xy[:, 1], xy[:, 0], -places.score))
    chosen: list[int] = []
    for k in order.tolist():
        if len(chosen) == count:
            break
        if left[k]:
            chosen.append(k)
            left &= np.hypot(*(xy - xy[k]).T) >= radius + radius[k] + gap_m
    return np.array(chosen, dtype=np.int64)
