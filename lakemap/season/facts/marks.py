"""Marks to stand at or to sight on: ends of docks, the ramp, tips of islands, ends of zones."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from lakemap.assessment import Assessment
from lakemap.basis.records import FloatArray, Geometry, ZoneKind
from lakemap.clearances.records import PlacedZone
from lakemap.lake.shore_marks import MarkPair, best_pair
from lakemap.lake.water import islands, nearest_on_lines

# zones whose corners on the shore can be seen or shown; a lot's corners nobody sees from a boat
_ON_SHORE: Final[tuple[ZoneKind, ...]] = ("swim_area", "no_float", "hazard", "intake")
_AT_SHORE_M: Final = 3.0  # ours: so near it, a zone's corner is on the shore
_SAME_M: Final = 3.0  # marks nearer than that are one
_LAST_M: Final = 2.0  # of a sight: may lie on land, as the mark does
_DRAWN_M: Final = 1.0  # what a drawn shore may stick out into a sight
_CAPES: Final = 60.0  # ours: the shore is smoothed by this part of the lake's size
_GOOD_DEG: Final = 30.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """One mark."""

    name: str
    kind: str
    xy: tuple[float, float]


def named_marks(assessment: Assessment) -> tuple[Mark, ...]:
    """Return the marks of a field that have a name, those first that are surest.

    Parameters
    ----------
    assessment : Assessment
        Of the field.

    Returns
    -------
    tuple of Mark
        None nearer than 3 m to one before it.
    """
    water, zones = assessment.water, assessment.zones
    shore = shapely.boundary(water)
    found = [
        *_docks(zones, water),
        *_ramps(zones, shore),
        *_islands(assessment),
        *_zone_ends(zones, shore),
    ]
    return _apart(found)


def shore_points(assessment: Assessment) -> tuple[Mark, ...]:
    """Return points at which the shore stands out into the lake, for want of better marks.

    Parameters
    ----------
    assessment : Assessment
        Of the field.

    Returns
    -------
    tuple of Mark
        Corners of the smoothed outer shore, named by their place.
    """
    west, south, east, north = assessment.water.bounds
    smooth = max(east - west, north - south) / _CAPES
    points = []
    for part in shapely.get_parts(assessment.water):
        ring = shapely.get_coordinates(shapely.simplify(part.exterior, smooth))[:-1]
        points.append(ring[_standing_out(ring)] if len(ring) > 4 else ring)  # noqa: PLR2004
    xy = np.concatenate(points)
    lon, lat = assessment.projection.to_lonlat(*xy.T)
    named = (
        Mark(name=f"shore at {y:.5f}, {x:.5f}", kind="shore", xy=(at[0], at[1]))
        for x, y, at in zip(lon.tolist(), lat.tolist(), xy.tolist(), strict=True)
    )
    return _apart(list(named))


def marks_for(
    at_xy: FloatArray, water: Geometry, named: Sequence[Mark], spare: Sequence[Mark]
) -> tuple[tuple[Mark, ...], MarkPair | None]:
    """Return the marks to sight on for a place, the nearer first.

    Parameters
    ----------
    at_xy : ndarray, shape [2]
        The place [m].
    water : shapely geometry
        The lake [m]: no sight goes over land.
    named : sequence of Mark
        The best pair of these that cross at 30 degrees or more.
    spare : sequence of Mark
        Taken in where there is no such pair.

    Returns
    -------
    tuple of Mark
        Two; one or none only where no more can be seen.
    MarkPair or None
        How they cross; its places are those in the tuple.
    """
    for choice in (_seen(at_xy, water, named), _seen(at_xy, water, [*named, *spare])):
        pair = _pair(choice, at_xy)
        if pair is not None and pair.crossing_deg >= _GOOD_DEG:
            break
    if pair is None:
        return tuple(choice[:1]), None
    two = sorted((choice[pair.first], choice[pair.second]), key=lambda one: _away(one, at_xy))
    return tuple(two), _pair(two, at_xy)


def _pair(marks: Sequence[Mark], at_xy: FloatArray) -> MarkPair | None:
    return best_pair(np.array([one.xy for one in marks], dtype=np.float64).reshape(-1, 2), at_xy)


def _away(mark: Mark, at_xy: FloatArray) -> float:
    return float(np.hypot(*(np.array(mark.xy) - at_xy)))


def _seen(at_xy: FloatArray, water: Geometry, marks: Sequence[Mark]) -> list[Mark]:
    """Marks to which no land is in the way."""
    if not marks:
        return []
    xy = np.array([one.xy for one in marks])
    way = xy - at_xy
    away = np.hypot(*way.T)
    share = np.maximum(1 - _LAST_M / np.maximum(away, _LAST_M), 0.0)
    ends = at_xy + share[:, None] * way
    sights = shapely.linestrings(np.stack([np.broadcast_to(at_xy, ends.shape), ends], axis=1))
    over = shapely.length(shapely.difference(sights, water))
    return [one for one, land in zip(marks, over.tolist(), strict=True) if land <= _DRAWN_M]


def _docks(zones: Iterable[PlacedZone], water: Geometry) -> Iterator[Mark]:
    land = shapely.boundary(water)
    for placed in zones:
        if placed.zone.kind != "dock":
            continue
        xy = shapely.get_coordinates(placed.shape)
        away, _ = nearest_on_lines(land, xy)
        wet = shapely.intersects_xy(water, xy[:, 0], xy[:, 1])
        out = np.where(wet, away, -away)
        for word, k in (("outer", int(out.argmax())), ("shore", int(out.argmin()))):
            at = (float(xy[k, 0]), float(xy[k, 1]))
            yield Mark(name=f"{word} end of {placed.zone.label}", kind="dock", xy=at)


def _ramps(zones: Iterable[PlacedZone], shore: Geometry) -> Iterator[Mark]:
    """Where the ramp meets the shore: its lower end is under water."""
    for placed in zones:
        if placed.zone.kind == "ramp":
            point = shapely.shortest_line(shore, placed.shape).coords[0]
            yield Mark(name=placed.zone.label, kind="ramp", xy=(point[0], point[1]))


def _islands(assessment: Assessment) -> Iterator[Mark]:
    names = assessment.field.island_names
    for k, ring in enumerate(islands(assessment.water)):
        given = names[k] if k < len(names) else None
        name = given or f"island {k + 1}"
        xy = shapely.get_coordinates(ring)
        for word, values in (
            ("north", xy[:, 1]),
            ("south", -xy[:, 1]),
            ("east", xy[:, 0]),
            ("west", -xy[:, 0]),
        ):
            x, y = xy[int(values.argmax())].tolist()
            yield Mark(name=f"{word} tip of {name}", kind="island", xy=(x, y))


def _zone_ends(zones: Iterable[PlacedZone], shore: Geometry) -> Iterator[Mark]:
    """The two corners on the shore that lie farthest apart."""
    for placed in zones:
        if placed.zone.kind not in _ON_SHORE:
            continue
        xy = shapely.get_coordinates(placed.shape)
        away, _ = nearest_on_lines(shore, xy)
        xy = xy[away <= _AT_SHORE_M]
        if len(xy) < 2:  # noqa: PLR2004 - two ends
            continue
        apart = np.hypot(*(xy[:, None] - xy).transpose(2, 0, 1))
        first, second = np.unravel_index(int(apart.argmax()), apart.shape)
        for one, other in ((first, second), (second, first)):
            word = _side(xy[one] - xy[other])
            x, y = xy[one].tolist()
            name = f"{word} end of {placed.zone.label}"
            yield Mark(name=name, kind=placed.zone.kind, xy=(x, y))


def _side(way: FloatArray) -> str:
    east, north = way.tolist()
    if abs(east) >= abs(north):
        return "east" if east >= 0 else "west"
    return "north" if north >= 0 else "south"


def _standing_out(ring: FloatArray) -> FloatArray:
    """Corners of a ring at which the land is inside the turn."""
    before, after = ring - np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0) - ring
    turn = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    area = np.einsum("i,i->", ring[:, 0], np.roll(ring[:, 1], -1)) - np.einsum(
        "i,i->", ring[:, 1], np.roll(ring[:, 0], -1)
    )
    out = np.asarray(turn * area < 0)
    return out if out.any() else np.ones(len(ring), dtype=bool)


def _apart(marks: Sequence[Mark]) -> tuple[Mark, ...]:
    kept: list[Mark] = []
    for one in marks:
        if all(np.hypot(*np.subtract(one.xy, other.xy)) >= _SAME_M for other in kept):
            kept.append(one)
    return tuple(kept)
