"""A way that was walked or boated around a shore, as a ring: without spikes, joined, thinned."""

from dataclasses import dataclass
from itertools import pairwise
from typing import Final, Literal

import numpy as np
import shapely

from lakemap.basis.records import FloatArray, Geometry
from lakemap.lake.water import nearest_on_segments

LEAST_POINTS: Final = 4
MOST_CORNERS: Final = 20_000  # ours: a lake of a hundred miles of shore has fewer
GAP_SHARE: Final = 0.1  # ours: of the way's length that start and end may lie apart
_LOST_SHARE: Final = 0.05  # ours: of the area, in loops where the way crosses itself
_NEAR: Final = 3.0  # standard deviations: points so near each other may be one place
_THIN: Final = 1.5  # standard deviations of mean width: two ways along one line lie so far apart
_JUMP: Final = 5.0  # standard deviations: a step so long, and back again, is a receiver's slip
_STEPS: Final = 8.0  # times the usual step
_MOST_AWAY: Final = 20  # points of one such slip
_SAME_M: Final = 0.05
_ENDS: Final = 0.25  # of the way, at its start and at its end, that may overlap

Why = Literal["few", "open", "crossed", "narrow"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """A ring [m]."""

    polygon: Geometry
    points: int  # of the way
    spikes: int  # points taken out
    overlap_m: float  # of the end on the start, cut off
    gap_m: float  # closed by a straight line
    longest_m: float  # from one point to the next
    thin_m: float  # to which it was thinned, more than asked for where corners are too many
    loops: int  # small ones where the way crosses itself, taken out


@dataclass(frozen=True, slots=True, kw_only=True)
class NoRing:
    """Why a way is no ring."""

    why: Why
    length_m: float
    far_m: float = 0.0  # open: start to end; narrow: mean width
    share: float = 0.0  # crossed: of the area, in loops


def ring_of(xy: FloatArray, *, sigma_m: float, thin_m: float, drawn: bool = False) -> Ring | NoRing:
    """Make a ring of a way around a shore.

    Parameters
    ----------
    xy : ndarray, shape [n, 2]
        The way [m].
    sigma_m : float
        Standard uncertainty of a position, one axis [m].
    thin_m : float
        No corner that is left out lies farther from the ring (Douglas and Peucker, 1973); doubled
        until 20,000 corners are left at most.
    drawn : bool
        True for corners that a person set, where one more side may close the ring.

    Returns
    -------
    Ring or NoRing
        The latter for fewer than four points, for ends farther apart than a tenth of the way,
        where the way crosses itself so that more than a twentieth of the area would be lost, and
        where it encloses next to nothing.
    """
    moved = _moving(xy)
    way, spikes = _without_spikes(moved, sigma_m)
    length = _length(way, _NEAR * sigma_m)
    if len(way) < LEAST_POINTS:
        return NoRing(why="few", length_m=length)
    ring, overlap = _joined(way, _NEAR * sigma_m)
    gap = float(np.hypot(*(ring[0] - ring[-1])))
    longest = float(_steps(way).max())
    most = max(_NEAR * sigma_m, GAP_SHARE * length, longest if drawn else 0.0)
    if len(ring) < LEAST_POINTS or gap > most:
        far = float(np.hypot(*(way[0] - way[-1])))
        return NoRing(why="open", length_m=length, far_m=far)
    line, thin_m = _thinned(np.vstack([ring, ring[:1]]), thin_m)
    area, loops, lost = _area(line)
    if lost > _LOST_SHARE:
        return NoRing(why="crossed", length_m=length, share=lost)
    width = 2.0 * float(shapely.area(area) / max(float(shapely.length(area)), _SAME_M))
    if width < _THIN * sigma_m:
        return NoRing(why="narrow", length_m=length, far_m=width)
    return Ring(
        polygon=area,
        points=len(xy),
        spikes=spikes,
        overlap_m=overlap,
        gap_m=gap,
        longest_m=longest,
        thin_m=thin_m,
        loops=loops,
    )


def _moving(xy: FloatArray) -> FloatArray:
    """The way without points at which it stood."""
    if not len(xy):
        return xy
    # by the way made, so that a slow walk of many small steps is one
    passed = np.floor(np.concatenate([[0.0], np.cumsum(_steps(xy))]) / _SAME_M)
    moving: FloatArray = xy[np.concatenate([[True], np.diff(passed) > 0])]
    return moving


def _steps(xy: FloatArray) -> FloatArray:
    steps: FloatArray = np.hypot(*np.diff(xy, axis=0).T)
    return steps


def _length(xy: FloatArray, near_m: float) -> float:
    """Length of the way without a receiver's trembling."""
    if len(xy) < 2:  # noqa: PLR2004 - a line
        return 0.0
    return float(shapely.length(_thinned(xy, near_m)[0]))


def _thinned(xy: FloatArray, thin_m: float) -> tuple[Geometry, float]:
    """The way with few enough corners, and to what it was thinned for that."""
    line = shapely.linestrings(xy)
    while True:
        thin = shapely.simplify(line, thin_m, preserve_topology=False)
        if len(shapely.get_coordinates(thin)) <= MOST_CORNERS:
            return thin, thin_m
        thin_m *= 2


def _without_spikes(xy: FloatArray, sigma_m: float) -> tuple[FloatArray, int]:
    """Take out points to which the way jumps and from which it jumps back."""
    if len(xy) < LEAST_POINTS:
        return xy, 0
    steps = _steps(xy)
    far = max(_JUMP * sigma_m, _STEPS * float(np.median(steps)))
    jumps = np.flatnonzero(steps > far).tolist()
    kept = np.ones(len(xy), dtype=bool)
    for start, back in pairwise(jumps):
        is_back = float(np.hypot(*(xy[back + 1] - xy[start]))) < min(steps[start], steps[back]) / 2
        if kept[start] and back - start <= _MOST_AWAY and is_back:
            kept[start + 1 : back + 1] = False
    return xy[kept], int((~kept).sum())


def _joined(xy: FloatArray, near_m: float) -> tuple[FloatArray, float]:
    """Cut off what overlaps at the ends, so that the end comes to the start."""
    along = np.concatenate([[0.0], np.cumsum(_steps(xy))])
    head = int(np.searchsorted(along, _ENDS * along[-1], side="right"))
    tail = int(np.searchsorted(along, (1.0 - _ENDS) * along[-1]))
    if head < 2 or tail >= len(xy):  # noqa: PLR2004 - two points are the least of a line
        return xy, 0.0
    far, all_meets = _beside(xy[:head], xy[tail:])
    apart = np.flatnonzero(far > near_m)
    first = tail + (int(apart[-1]) + 1 if apart.size else 0)
    meets = all_meets[first - tail :]
    abreast = np.flatnonzero(meets > 0)
    if not abreast.size:
        return xy, 0.0
    # where the way first comes abreast of its start it is round; the start before that is a spur
    end = first + int(abreast[0])
    begin = int(np.searchsorted(along[:head], float(meets[abreast[0]])))
    cut = _length(xy[end:], near_m) + _length(xy[: begin + 1], near_m)
    return xy[begin : end + 1], cut


def _beside(line: FloatArray, xy: FloatArray) -> tuple[FloatArray, FloatArray]:
    """How far points lie from a line, and how far along it the nearest place of it is."""
    tree = shapely.STRtree(shapely.linestrings(np.stack([line[:-1], line[1:]], axis=1)))
    _, index = tree.query_nearest(shapely.points(xy), all_matches=False)
    far, nearest = nearest_on_segments(line[index], line[index + 1], xy)
    along = np.concatenate([[0.0], np.cumsum(_steps(line))])
    return far, along[index] + np.hypot(*(nearest - line[index]).T)


def _area(line: Geometry) -> tuple[Geometry, int, float]:
    """The area inside, small loops taken out: how many, and what share of all lies in them."""
    faces = shapely.get_parts(shapely.polygonize([shapely.node(line)]))
    whole = shapely.get_parts(shapely.union_all(faces)) if len(faces) else []
    if not len(whole):
        return shapely.Polygon(), 0, 0.0
    areas = shapely.area(whole)
    best = int(np.argmax(areas))
    lost = float(1.0 - areas[best] / areas.sum())
    outer = shapely.polygons(shapely.get_exterior_ring(whole[best]))
    return outer, len(whole) - 1, lost
