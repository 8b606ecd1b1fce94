"""How many circles can never be exceeded: proven bounds, the least of several.

Centres of circles with radius plus half the gap rho lie at least the sum of their rhos apart. Over
a piece of the region whose rho is nowhere under some value, centres keep twice that value.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import shapely

from lakemap.basis.errors import RangeError
from lakemap.basis.records import FloatArray, Geometry
from lakemap.siting.packing_cover import COVER, cover_bound
from lakemap.siting.packing_hexagons import hexagon_bound
from lakemap.siting.records import Bound

SLACK = 1e-9  # added before a bound is cut to a whole number, against rounding
OVERCUT_M = 1e-3  # cuts reach beyond both shores, so that they part the region
TOUCH_M = 1e-6  # a piece must be narrower than a diameter by this to hold one centre only
OLER = (
    "N. Oler, A finite packing problem, Canad. Math. Bull. 4 (1961) 153-155, on convex hulls of "
    "the region or of pieces of it"
)
HEXAGONS = (
    "L. Fejes Toth's least area of a circle's cell, a hexagon's (1940, from memory), on cells cut "
    "to discs"
)
ONE = "pieces narrower than one diameter, each with one centre at most"
SPANS = (
    0.6,
    0.7,
    0.75,
    0.8,
    0.85,
    0.9,
    0.95,
    0.99,
    2.0,
    4.0,
    8.0,
    16.0,
)  # of a diameter, along a narrow region
NARROW = 3.0  # widths under so many diameters are cut along the shore
STRIPS = 2  # a face is covered with
SMALL = 4.0  # boxes under so many diameters are cut no more, unless narrow
PIECES = 400  # along a shore at most


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """A bound and what it rests on."""

    most: int
    sources: frozenset[str]


def oler_bound(
    area_m2: FloatArray | float, *, perimeter_m: FloatArray | float, apart_m: FloatArray | float
) -> FloatArray:
    """Return how many points of a convex region keep a distance, before cutting to whole numbers.

    Parameters
    ----------
    area_m2, perimeter_m : float or array
        Of the compact convex region [m2, m]; a segment counts its length twice.
    apart_m : float or array
        Least distance between points [m], above 0.

    Returns
    -------
    FloatArray
        2 A / (sqrt(3) d^2) + P / (2 d) + 1. Source: N. Oler, A finite packing problem, Canad. Math.
        Bull. 4 (1961) 153-155.

    Raises
    ------
    RangeError
        If a distance is not above 0.
    """
    apart = np.asarray(apart_m, dtype=float)
    if not (apart > 0).all():
        raise RangeError(f"distance between points {apart_m} m; {OLER} asks for one above 0")
    area, perimeter = np.asarray(area_m2, dtype=float), np.asarray(perimeter_m, dtype=float)
    return np.asarray(2 * area / (np.sqrt(3) * apart**2) + perimeter / (2 * apart) + 1)


def whole(bound: float) -> int:
    """Return a bound as a whole number, rounding forgiven upwards."""
    return int(np.floor(bound * (1 + 1e-12) + SLACK))


def upper_bound(
    region: Geometry,
    *,
    radius_low: Callable[[Geometry], float],
    gap_m: float = 0.0,
    covers: bool = False,
) -> Bound:
    """Return a number of circles that no packing of the region exceeds.

    Parameters
    ----------
    region : Geometry
        Where centres may lie: any geometry [m]; holes never raise the bound.
    radius_low : callable
        Piece of the region to a radius [m] that none in the piece is below; above 0.
    gap_m : float
        Distance kept between circles.
    covers : bool
        Also cover narrow and small parts with discs: some seconds, and less of a bound there.

    Returns
    -------
    Bound
        The least of the theorems tried on the whole, on its parts and on pieces of them.

    Raises
    ------
    RangeError
        If a radius and half the gap are not above 0.
    """
    parts = [one for one in shapely.get_parts(shapely.get_parts(region)) if not one.is_empty]
    if not parts:
        return Bound(most=0, source="no centre can lie anywhere")

    def rho_low(piece: Geometry) -> float:
        rho = float(radius_low(piece)) + gap_m / 2
        if not rho > 0:
            raise RangeError(f"radius and half the gap {rho} m; a bound needs them above 0")
        return rho

    found = [_part(part, rho_low) for part in parts]
    best = _summed(found)
    if covers:
        best = _less(best, _summed(_covered(parts, found, rho_low)))
    best = _less(best, _whole_hull(region, rho_low(region)))
    best = _less(best, Found(most=whole(hexagon_bound(region, rho_low)), sources=_named(HEXAGONS)))
    return Bound(most=best.most, source="; ".join(sorted(best.sources)))


def _covered(
    parts: list[Geometry], found: list[Found], rho_low: Callable[[Geometry], float]
) -> list[Found]:
    """Each large part with the small ones that lie nearest to it, by a cover where that is less."""
    large = [k for k, part in enumerate(parts) if part.area >= rho_low(part) ** 2]
    if not large:
        return found
    tree = shapely.STRtree([parts[k] for k in large])
    groups: dict[int, list[int]] = {k: [k] for k in large}
    for k, part in enumerate(parts):
        if k not in groups:
            groups[large[int(tree.nearest(part))]].append(k)
    best = []
    for members in groups.values():
        group = shapely.union_all([parts[k] for k in members])
        apart = _summed([found[k] for k in members])
        cover = cover_bound(group, rho_low) if apart.most > 1 else np.inf
        most = whole(cover) if np.isfinite(cover) else apart.most
        best.append(_less(apart, Found(most=most, sources=_named(COVER))))
    return best


def _named(source: str) -> frozenset[str]:
    return frozenset([source])


def _summed(found: list[Found]) -> Found:
    """The bound of all pieces together."""
    return Found(
        most=sum(one.most for one in found),
        sources=frozenset().union(*(one.sources for one in found)),
    )


def _less(one: Found, other: Found) -> Found:
    """The lower bound, the first where equal."""
    return other if other.most < one.most else one


def _whole_hull(piece: Geometry, rho: float) -> Found:
    """Oler's bound on the convex hull, or one centre where the hull is narrow."""
    hull = shapely.convex_hull(piece)
    corners = shapely.get_coordinates(hull)
    around = hull.length * (2 if hull.geom_type == "LineString" else 1)
    if around < 4 * rho - TOUCH_M or _diameter(corners) < 2 * rho - TOUCH_M:
        return Found(most=1, sources=_named(ONE))
    bound = oler_bound(hull.area, perimeter_m=around, apart_m=2 * rho)
    return Found(most=whole(float(bound)), sources=_named(OLER))


def _face(face: Geometry, rho: float) -> Found:
    """The bound on a face's hull, or as many centres as the fewest narrow strips that cover it."""
    best = _whole_hull(face, rho)
    box = shapely.get_coordinates(shapely.oriented_envelope(face))
    if best.most <= 1 or len(box) < 4:  # noqa: PLR2004 - a box
        return best
    for start, end, side in ((box[0], box[1], box[3]), (box[1], box[2], box[0])):
        for count in range(2, min(best.most, STRIPS + 1)):
            cuts = np.linspace(0, 1, count + 1)[:, None] * (end - start)
            lines = np.stack([start + cuts, side + cuts], axis=1)
            strips = [
                shapely.intersection(face, shapely.convex_hull(shapely.multipoints(pair)))
                for pair in np.concatenate([lines[:-1], lines[1:]], axis=1)
            ]
            if all(_diameter(shapely.get_coordinates(one)) < 2 * rho - TOUCH_M for one in strips):
                best = _less(best, Found(most=count, sources=_named(ONE)))
    return best


def _diameter(corners: FloatArray) -> float:
    """Largest distance between corners of a hull, or more where they are many."""
    if len(corners) > 500:  # noqa: PLR2004 - pairs of them fit in memory
        return float(np.hypot(*np.ptp(corners, axis=0)))
    return float(np.hypot(*(corners[:, None] - corners[None]).transpose(2, 0, 1)).max())


def _part(part: Geometry, rho_low: Callable[[Geometry], float]) -> Found:
    """The least bound of one connected part, whole or in pieces."""
    rho = rho_low(part)
    best = _halved(part, rho_low)
    if part.area == 0 or 2 * part.area / part.length > NARROW * 2 * rho:
        return best
    for span in SPANS:
        pieces = _along_shore(part, 2 * rho * span)
        if pieces:
            best = _less(best, _summed([_face(one, rho_low(one)) for one in pieces]))
    return best


def _halved(piece: Geometry, rho_low: Callable[[Geometry], float]) -> Found:
    """The least bound of a piece, whole or as the sum of its halves, halved again and again."""
    rho = rho_low(piece)
    best = _whole_hull(piece, rho)
    low, high = np.reshape(piece.bounds, (2, 2))
    side = float(np.max(high - low))
    share = piece.area / (np.sqrt(12) * rho**2)
    wide = best.most > NARROW * share + 1  # the hull is mostly not region
    if best.most == 1 or side < rho or (side < SMALL * 2 * rho and not wide):
        return best
    halves = _halves(piece, low, high)
    return _less(best, _summed([_halved(one, rho_low) for one in halves]))


def _halves(piece: Geometry, low: FloatArray, high: FloatArray) -> list[Geometry]:
    """The connected parts on both sides of the middle of the longer side."""
    axis = int(np.argmax(high - low))
    middle = (low + high) / 2
    first, second = high.copy(), low.copy()
    first[axis] = second[axis] = middle[axis]
    found = [
        shapely.intersection(piece, shapely.box(*low, *first)),
        shapely.intersection(piece, shapely.box(*second, *high)),
    ]
    parts = [part for one in found for part in shapely.get_parts(shapely.get_parts(one))]
    return [part for part in parts if not part.is_empty]


def _along_shore(part: Geometry, span_m: float) -> list[Geometry]:
    """The faces of a region cut straight inwards at places spread along its outer edge."""
    edge = part.exterior if part.geom_type == "Polygon" else None
    if edge is None or not 2 * span_m < edge.length < span_m * PIECES:
        return []
    at = np.arange(0.5, np.ceil(edge.length / span_m)) * edge.length / np.ceil(edge.length / span_m)
    place = _xy(edge, at)
    ahead = _xy(edge, at + span_m / 50) - _xy(edge, at - span_m / 50)
    inward = np.column_stack([-ahead[:, 1], ahead[:, 0]]) * (1 if edge.is_ccw else -1)
    inward /= np.maximum(np.hypot(*inward.T), 1e-9)[:, None]
    far = 2 * part.area / part.length * 4
    rays = shapely.linestrings(np.stack([place - inward * 1e-6, place + far * inward], axis=1))
    cuts = shapely.get_parts(shapely.intersection(rays, part))
    cuts = cuts[(shapely.distance(cuts, edge) < TOUCH_M) & (shapely.length(cuts) > 0)]
    ends = shapely.get_coordinates(cuts).reshape(-1, 2, 2)
    over = ends[:, 1] - ends[:, 0]
    over *= OVERCUT_M / np.hypot(*over.T)[:, None]
    cuts = shapely.linestrings(ends + np.stack([-over, over], axis=1))
    lines = shapely.union_all([part.boundary, *cuts])
    faces = shapely.get_parts(shapely.polygonize(shapely.get_parts(lines)))
    faces = faces[shapely.contains(part, shapely.point_on_surface(faces))]
    return list(faces) if abs(shapely.area(faces).sum() - part.area) < 1e-9 * part.area else []


def _xy(edge: Geometry, at_m: FloatArray) -> FloatArray:
    """Places along a ring, round and round; shape [n, 2]."""
    xy = shapely.get_coordinates(shapely.line_interpolate_point(edge, np.mod(at_m, edge.length)))
    return np.asarray(xy, dtype=float)
