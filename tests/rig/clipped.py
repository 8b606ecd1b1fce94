"""A tipped float by another way: its pieces as polygons, turned and clipped at the water by shapely.

Tubes seen end on are polygons of many corners. A tube tipped lengthwise is cut into upright slices
along its length, each of them a rectangle.
"""

import numpy as np
import shapely
from scipy.optimize import brentq, minimize

CORNERS = 900
SLICES = 60


def sections(profile, i=0):
    """The float's pieces as (polygon, breadth along the axis), in the plane that tips."""
    found = []
    height, extent, span = (
        float(a[i]) for a in (profile.height_m, profile.extent_m, profile.span_m)
    )
    for out, count in zip(profile.offset_m[i], profile.pieces[i], strict=True):
        if count == 0:
            continue
        if profile.kind == "box":
            found.append((shapely.box(out - extent / 2, 0, out + extent / 2, height), span * count))
        elif profile.kind == "end on":
            at = np.linspace(0, 2 * np.pi, CORNERS, endpoint=False)
            r = height / 2
            # corners a little outside, so that the polygon has the circle's area
            r_out = r * np.sqrt(2 * np.pi / (CORNERS * np.sin(2 * np.pi / CORNERS)))
            ring = np.column_stack([out + r_out * np.cos(at), r + r_out * np.sin(at)])
            found.append((shapely.Polygon(ring), span * count))
        else:
            r = height / 2
            edges = np.linspace(0, np.pi, SLICES + 1)
            middle, width = (edges[1:] + edges[:-1]) / 2, r * -np.diff(np.cos(edges))
            for at, thick in zip(middle, width, strict=True):
                half = r * np.sin(at)
                found.append(
                    (
                        shapely.box(out - extent / 2, r - half, out + extent / 2, r + half),
                        thick * count,
                    )
                )
    return found


def wet(profile, angle, level, i=0):
    """Volume under water, its moment outwards, and its moment below the surface."""
    c, s = np.cos(angle), np.sin(angle)
    polygons, spans = zip(*sections(profile, i), strict=True)
    turned = shapely.transform(np.array(polygons), lambda yz: yz @ np.array([[c, -s], [s, c]]))
    water = shapely.box(-100, -100, 100, level)
    parts = shapely.intersection(turned, water)
    volumes = shapely.area(parts) * np.array(spans)
    keep = volumes > 0
    at = shapely.centroid(parts[keep])
    volumes = volumes[keep]
    out, up = shapely.get_x(at), shapely.get_y(at)
    return volumes.sum(), (volumes * out).sum(), (volumes * (level - up)).sum()


def level_at(profile, angle, mass, i=0):
    return brentq(lambda at: wet(profile, angle, at, i)[0] * 1000 - mass, -6, 6, xtol=1e-12)


def arm(tipping, angle, people_kg, i=0):
    """Righting arm and the edge's height above the water."""
    own = float(tipping.weight_kg[i])
    level = level_at(tipping.profile, angle, own + people_kg, i)
    volume, moment, _ = wet(tipping.profile, angle, level, i)
    c, s = np.cos(angle), np.sin(angle)
    people = tipping.stand_m[i] * c + tipping.person_centre_m[i] * s
    weights = (own * tipping.centre_m[i] * s + people_kg * people) / (own + people_kg)
    edge = tipping.deck_top_m[i] * c - tipping.edge_m[i] * s - level
    return moment / volume - weights, edge


def rest(tipping, people_kg, start, i=0):
    """Angle of rest [rad] and the edge's height there: the least potential energy near a start."""
    own = float(tipping.weight_kg[i])

    def energy(at):
        angle, level = at
        c, s = np.cos(angle), np.sin(angle)
        people = tipping.person_centre_m[i] * c - tipping.stand_m[i] * s
        heights = own * (tipping.centre_m[i] * c - level) + people_kg * (people - level)
        return (heights + 1000 * wet(tipping.profile, angle, level, i)[2]) / 100

    found = minimize(
        energy,
        [start, level_at(tipping.profile, start, own + people_kg, i)],
        method="Nelder-Mead",
        options={"xatol": 1e-8, "fatol": 1e-13, "initial_simplex": None, "maxiter": 400},
    )
    angle, level = found.x
    return angle, tipping.deck_top_m[i] * np.cos(angle) - tipping.edge_m[i] * np.sin(angle) - level
