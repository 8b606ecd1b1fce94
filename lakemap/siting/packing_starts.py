"""Where a search for a packing begins: lattices, and rows along the shore."""

import numpy as np
import shapely

from lakemap.basis.records import FloatArray, Geometry
from lakemap.siting.packing_ground import Ground, areas_of

LOOKED_AT = 8  # lattices for each one that is taken
EDGES, HAIR = 6, 1e-9  # edges that lattices follow; how far they stand inside, as a share
EFFORT, CALL = 3_000_000, 500  # points of lattices looked at; what one more box costs in points
STEP, CLASSES = 0.02, 12  # radii within this ratio share a lattice; lattices at most
VARIED, SPREAD = 0.005, 1.025  # where radii vary so much, lattices start wider, to be squeezed
PITCHES = (1.0, 0.82, 0.91, 0.75)  # of a diameter, along a row; closer ones buckle into zigzags
RINGS = 40  # rows along the shore at most


def lattice_starts(ground: Ground, rng: np.random.Generator, count: int) -> list[FloatArray]:
    """Return the hexagonal lattices that hold the most points.

    Parameters
    ----------
    ground : Ground
        Region and radii; where the radii vary, each class of them has its own pitch.
    rng : Generator
        Of turns and phases; every second lattice lies along a long edge of the convex hull instead.
    count : int
        Lattices asked for.

    Returns
    -------
    list of FloatArray
        Points [n, 2] of each, the fullest first.
    """
    boxes = shapely.area(shapely.envelope(shapely.get_parts(ground.region))) / ground.least_rho**2
    each = CALL * len(boxes) * (CLASSES if _varied(ground) else 1) + float(boxes.sum())
    looked = max(count, int(min(LOOKED_AT * count, EFFORT / each)))
    found = []
    edges = _long_edges(ground.region)
    for k in range(looked):
        turn, origin = rng.uniform(0, np.pi / 3), rng.uniform(0, 2 * ground.spots_rho.max(), 2)
        if k % 2:
            start, end = edges[k // 2 % len(edges)][:: 1 if k // 4 % 2 else -1]
            turn, origin = np.arctan2(*(end - start)[::-1]) + k // 2 % 3 // 2 * np.pi / 6, start
        found.append(_lattice(ground, float(turn), origin))
    if _varied(ground):
        return found[:count]
    return sorted(found, key=lambda xy: -len(xy))[:count]


def _long_edges(region: Geometry) -> list[FloatArray]:
    """The longest edges of the convex hull, a hair inside; each [2, 2], the longest first."""
    corners = shapely.get_coordinates(shapely.convex_hull(region))
    corners = corners + HAIR * (corners.mean(axis=0) - corners)
    edges = np.stack([corners[:-1], corners[1:]], axis=1)
    length = np.hypot(*(edges[:, 1] - edges[:, 0]).T)
    return list(edges[np.argsort(-length, kind="stable")[:EDGES]])


def _varied(ground: Ground) -> bool:
    """Tell whether the radii differ enough to ask for several lattices."""
    return bool(ground.spots_rho.max() > (1 + VARIED) * ground.spots_rho.min())


def _lattice(ground: Ground, turn: float, origin: FloatArray) -> FloatArray:
    """Points of one hexagonal lattice a class of radii, each where its class is."""
    least, most = float(ground.spots_rho.min()), float(ground.spots_rho.max())
    classes = int(np.clip(np.ceil(np.log(most / least) / STEP), 1, CLASSES))
    borders = np.geomspace(least, most, classes + 1)
    pitches = (
        2 * np.sqrt(borders[:-1] * borders[1:]) * SPREAD
        if _varied(ground)
        else np.array([2 * most])
    )
    found = []
    for k, pitch in enumerate(pitches):
        xy = _lattice_points(ground.region, turn, origin, float(pitch) * (1 + 1e-8))
        xy = xy[ground.inside(xy)]
        rank = np.searchsorted(borders[1:-1], ground.rho(xy)) if len(pitches) > 1 else 0
        found.append(xy[np.broadcast_to(rank == k, len(xy))])
    return np.concatenate(found)


def _lattice_points(region: Geometry, turn: float, origin: FloatArray, pitch: float) -> FloatArray:
    """Points of a hexagonal lattice in the boxes of the region's parts; shape [n, 2]."""
    rows = pitch * np.array([1.0, np.sqrt(0.75)])
    cos, sin = np.cos(turn), np.sin(turn)
    found = []
    for west, south, east, north in shapely.bounds(shapely.get_parts(region)):
        x, y = np.array([west, west, east, east]), np.array([south, north, north, south])
        x, y = x - origin[0], y - origin[1]
        turned = np.column_stack([cos * x + sin * y, cos * y - sin * x]) / rows
        first, last = np.floor(turned.min(axis=0)) - 1, np.ceil(turned.max(axis=0)) + 1
        i, j = np.meshgrid(*(np.arange(first[k], last[k] + 1) for k in (0, 1)))
        along, up = (i + j % 2 / 2) * rows[0], j * rows[1]
        xy = np.column_stack([(cos * along - sin * up).ravel(), (sin * along + cos * up).ravel()])
        xy += origin
        found.append(xy[((xy >= (west, south)) & (xy <= (east, north))).all(axis=1)])
    return np.concatenate(found)


def rim_starts(ground: Ground, rng: np.random.Generator, count: int) -> list[FloatArray]:
    """Return rows of points along the shore and along lines ever farther from it.

    Parameters
    ----------
    ground : Ground
        Region and radii.
    rng : Generator
        Of where each row begins.
    count : int
        Starts asked for.

    Returns
    -------
    list of FloatArray
        Points [n, 2] of each.
    """
    rows: list[Geometry] = []
    rest, row_m = ground.region, np.sqrt(3) * float(np.median(ground.spots_rho))
    for _ in range(RINGS):
        rings = [one.exterior for one in areas_of(rest)]
        if not rings:
            break
        rows += rings
        rest = shapely.difference(rest, shapely.buffer(shapely.union_all(rings), row_m))
    found = []
    for k in range(count):
        pitch = PITCHES[k % len(PITCHES)]
        xy = np.concatenate([_row(ground, ring, rng.uniform(), pitch) for ring in rows])
        found.append(xy + rng.normal(0, ground.least_rho / 10, xy.shape))
    return found


def _row(ground: Ground, ring: Geometry, phase: float, pitch: float) -> FloatArray:
    """Points evenly on a ring, a share of the diameter after another; shape [n, 2]."""
    fine = max(8, int(ring.length / ground.least_rho * 4))
    at = np.linspace(0, ring.length, fine + 1)
    rho = ground.rho(shapely.get_coordinates(shapely.line_interpolate_point(ring, at)))
    passed = np.concatenate([[0.0], np.cumsum(np.diff(at) / (rho[1:] + rho[:-1]))])
    count = max(1, int(passed[-1] / pitch))
    places = np.interp((phase + np.arange(count)) * passed[-1] / count, passed, at)
    xy = shapely.get_coordinates(shapely.line_interpolate_point(ring, places))
    return np.asarray(xy, dtype=float)
