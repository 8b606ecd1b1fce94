"""One function per kind of thing that floats are checked against; each yields clearances."""

from collections.abc import Iterator
from typing import Final

import numpy as np
import shapely

from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import FloatArray
from lakemap.clearances.circles import Circles
from lakemap.clearances.pairs import Pairs, near_pairs, same_wind_gap
from lakemap.clearances.records import CheckSubject, Clearance, PlacedZone
from lakemap.clearances.rules import Ask, ask_of, ask_of_zone, listing_limit
from lakemap.clearances.shapes import Shape, near_shapes
from lakemap.clearances.uncertainty import pair_uncertainty
from lakemap.lake.water import islands, nearest_on_shore

Found = Iterator[tuple[int, Clearance]]  # place in `Circles`, and one clearance
CLUSTER_HEIGHT_M: Final = FOOT_M.value  # ours: a block on edge, where a cluster may lie


def _spare(gap: float, ask: Ask) -> float | None:
    return None if ask.required_m is None else gap - ask.required_m


def against_floats(subject: CheckSubject, circles: Circles) -> Found:
    """Yield each float's clearances to other floats.

    Parameters
    ----------
    subject : CheckSubject
        All floats.
    circles : Circles
        Those that take part.

    Yields
    ------
    tuple of int and Clearance
        Twice per pair, once for each side.
    """
    yield from pair_clearances(subject, circles, listed_pairs(subject, circles))


def listed_pairs(subject: CheckSubject, circles: Circles) -> Pairs:
    """Return the pairs of floats that the check lists.

    Parameters
    ----------
    subject : CheckSubject
        With the rules.
    circles : Circles
        Those that take part.

    Returns
    -------
    Pairs
        Places in `circles`.
    """
    ask = ask_of(subject.settings.rules.get("neighbour"))
    return near_pairs(circles.xy, circles.radius_m, limit_m=listing_limit(ask))


def pair_clearances(subject: CheckSubject, circles: Circles, pairs: Pairs) -> Found:
    """Yield the clearances of pairs of floats.

    Parameters
    ----------
    subject : CheckSubject
        All floats.
    circles : Circles
        Those that take part.
    pairs : Pairs
        Places in `circles`.

    Yields
    ------
    tuple of int and Clearance
        Twice per pair, once for each side.
    """
    rule = subject.settings.rules.get("neighbour")
    ask = ask_of(rule)
    same_wind_decides = rule is not None and rule.mode == "same_wind"
    both = np.column_stack([pairs.first, pairs.second])
    in_one_wind = same_wind_gap(
        pairs.distance_m, reach_m=circles.reach_m[both], deck_m=circles.deck_m[both]
    )
    uncertainty = pair_uncertainty(circles.sigma.own2_m2[both], circles.sigma.level_m[both])
    names = [subject.floats[i].float_id for i in circles.index.tolist()]
    xy = circles.xy.tolist()
    rows = zip(
        pairs.first.tolist(),
        pairs.second.tolist(),
        pairs.gap_m.tolist(),
        in_one_wind.tolist(),
        uncertainty.tolist(),
        strict=True,
    )
    for first, second, gap, wind_gap, doubt in rows:
        spare = _spare(wind_gap if same_wind_decides else gap, ask)
        for me, other in ((first, second), (second, first)):
            yield (
                me,
                Clearance(
                    against=names[other],
                    kind="float",
                    gap_m=gap,
                    same_wind_gap_m=wind_gap,
                    required_m=ask.required_m,
                    spare_m=spare,
                    uncertainty_m=doubt,
                    rule=ask.source,
                    nearest_xy=(xy[other][0], xy[other][1]),
                ),
            )


def against_zones(subject: CheckSubject, circles: Circles) -> Found:
    """Yield each float's clearances to zones to keep out of.

    Parameters
    ----------
    subject : CheckSubject
        With the zones.
    circles : Circles
        Those that take part.

    Yields
    ------
    tuple of int and Clearance
        One per pair.
    """
    by_kind: dict[str, list[PlacedZone]] = {}
    for placed in subject.zones:
        by_kind.setdefault(placed.zone.kind, []).append(placed)
    by_kind.pop("frontage", None)  # to keep in, not out
    for kind, zones in by_kind.items():
        asks = [ask_of_zone(placed.zone, subject.settings) for placed in zones]
        shapes = [
            Shape(geometry=placed.shape, width_m=placed.zone.width_m or 0.0) for placed in zones
        ]
        labels = [placed.zone.label for placed in zones]
        yield from _against_shapes(circles, shapes, labels, asks, kind)


def against_islands(subject: CheckSubject, circles: Circles) -> Found:
    """Yield each float's clearances to islands.

    Parameters
    ----------
    subject : CheckSubject
        With the water.
    circles : Circles
        Those that take part.

    Yields
    ------
    tuple of int and Clearance
        One per pair.
    """
    rings = islands(subject.water)
    ask = ask_of(subject.settings.rules.get("shore"))
    yield from _against_shapes(
        circles,
        [Shape(geometry=ring) for ring in rings],
        [f"island {k}" for k in range(1, len(rings) + 1)],
        [ask] * len(rings),
        "island",
    )


def _against_shapes(
    circles: Circles, shapes: list[Shape], labels: list[str], asks: list[Ask], kind: str
) -> Found:
    """Yield the near pairs, and each float's nearest of the kind."""
    limit = listing_limit(Ask(), *asks)
    found = near_shapes(shapes, circles.xy, within_m=limit + circles.radius_m)
    gap = found.distance_m - circles.radius_m[found.point]
    rows = zip(
        found.point.tolist(),
        found.shape.tolist(),
        gap.tolist(),
        circles.layer_uncertainty_m[found.point].tolist(),
        found.nearest_xy.tolist(),
        strict=True,
    )
    for point, shape, free, doubt, nearest in rows:
        ask = asks[shape]
        yield (
            point,
            Clearance(
                against=labels[shape],
                kind=kind,
                gap_m=free,
                required_m=ask.required_m,
                spare_m=_spare(free, ask),
                uncertainty_m=doubt,
                rule=ask.source,
                nearest_xy=(nearest[0], nearest[1]),
            ),
        )


def against_shore(subject: CheckSubject, circles: Circles) -> Found:
    """Yield each float's clearance to the shore, and how far out it may reach.

    Parameters
    ----------
    subject : CheckSubject
        With the water.
    circles : Circles
        Those that take part.

    Yields
    ------
    tuple of int and Clearance
        Shore, and shore_max where there is such a rule.
    """
    rules = subject.settings.rules
    ask, farthest = ask_of(rules.get("shore")), ask_of(rules.get("shore_max"))
    distance, nearest = nearest_on_shore(subject.water, circles.xy)
    doubts = circles.layer_uncertainty_m.tolist()
    for k, (away, radius) in enumerate(
        zip(distance.tolist(), circles.radius_m.tolist(), strict=True)
    ):
        at = (float(nearest[k, 0]), float(nearest[k, 1]))
        yield (
            k,
            Clearance(
                against="lake",
                kind="shore",
                gap_m=away - radius,
                required_m=ask.required_m,
                spare_m=_spare(away - radius, ask),
                uncertainty_m=doubts[k],
                rule=ask.source,
                nearest_xy=at,
            ),
        )
        if farthest.required_m is not None:
            yield (
                k,
                Clearance(
                    against="lake",
                    kind="shore_max",
                    gap_m=away + radius,
                    required_m=farthest.required_m,
                    spare_m=farthest.required_m - (away + radius),
                    uncertainty_m=doubts[k],
                    rule=farthest.source,
                    nearest_xy=at,
                ),
            )


def shallowest(subject: CheckSubject, circles: Circles, radius_m: FloatArray) -> FloatArray:
    """Return the least depth at low water within circles.

    Parameters
    ----------
    subject : CheckSubject
        With the depth surface.
    circles : Circles
        Those that take part.
    radius_m : ndarray, shape [m]
        Radii about the primaries [m]; NaN is left unknown.

    Returns
    -------
    ndarray, shape [m]
        Depth [m]; NaN without soundings. A float's own depth counts too where it is less.
    """
    if subject.surface is None:
        return np.full(len(radius_m), np.nan)
    levels = subject.settings.levels
    least = subject.surface.least_within(circles.xy, radius_m)
    own = subject.placement.sounding_depth_m[circles.index]
    sounded: FloatArray = np.where(np.isnan(least), np.nan, np.fmin(least, own))
    return sounded + (levels.low_m - levels.soundings_m)


def against_depth(subject: CheckSubject, circles: Circles, least: FloatArray) -> Found:
    """Yield each float's depth checks where there is a rule and a depth.

    Parameters
    ----------
    subject : CheckSubject
        With the depth surface.
    circles : Circles
        Those that take part.
    least : ndarray, shape [m]
        Least depth at low water in the swing circle [m].

    Yields
    ------
    tuple of int and Clearance
        bed: depth less the draft with people aboard; jump_depth: the depth around the float, a
        foot less where a cluster may lie.
    """
    rules, at = subject.settings.rules, subject.placement
    known = ~at.no_depth[circles.index]
    depths: list[tuple[str, FloatArray]] = []
    if "bed" in rules:
        depths.append(("bed", least - subject.draft_people_m[circles.index]))
    if "jump_depth" in rules:
        around = shallowest(subject, circles, circles.radius_m + rules["jump_depth"].beyond_m)
        walk = at.walk_radius_m[circles.index]
        over = shallowest(subject, circles, walk) - CLUSTER_HEIGHT_M
        depths.append(("jump_depth", np.fmin(around, over)))
    for kind, depth in depths:
        ask = ask_of(rules[kind])
        for k in np.flatnonzero(known & ~np.isnan(depth)).tolist():
            gap = float(depth[k])
            yield (
                k,
                Clearance(
                    against="lake",
                    kind=kind,
                    gap_m=gap,
                    required_m=ask.required_m,
                    spare_m=_spare(gap, ask),
                    uncertainty_m=float(circles.depth_uncertainty_m[k]),
                    rule=ask.source,
                ),
            )


def against_deck_area(subject: CheckSubject, circles: Circles) -> Found:
    """Yield each float's deck area where there is a rule.

    Parameters
    ----------
    subject : CheckSubject
        With the floats.
    circles : Circles
        Those that take part.

    Yields
    ------
    tuple of int and Clearance
        In square metres, without uncertainty.
    """
    rule = subject.settings.rules.get("deck_area_max")
    if rule is None:
        return
    for k, i in enumerate(circles.index.tolist()):
        area = subject.floats[i].length_m * subject.floats[i].width_m
        yield (
            k,
            Clearance(
                against="deck",
                kind="deck_area_max",
                uncertainty_m=0.0,
                rule=rule.source,
                value_m2=area,
                required_m2=rule.limit,
                spare_m2=rule.limit - area,
            ),
        )


def low_water_near_shore(
    subject: CheckSubject, circles: Circles, shore_spare_m: FloatArray
) -> list[int]:
    """Return the floats that keep clear of the shore as drawn but not of the low-water line.

    Parameters
    ----------
    subject : CheckSubject
        With the depth surface.
    circles : Circles
        Those that take part.
    shore_spare_m : ndarray, shape [m]
        Least spare to shore and islands [m]; NaN: not asked.

    Returns
    -------
    list of int
        Places in `Circles`.
    """
    rule = subject.settings.rules.get("shore")
    if rule is None or subject.surface is None or not len(circles.index):
        return []
    least = shallowest(subject, circles, circles.radius_m + rule.limit)
    dry = (least <= 0) & (shore_spare_m >= 0)
    near: list[int] = np.flatnonzero(dry).tolist()
    return near


def union_of(zones: list[PlacedZone]) -> Shape:
    """Return the union of a lot's frontages.

    Parameters
    ----------
    zones : list of PlacedZone
        Areas of one lot.

    Returns
    -------
    Shape
        One area.
    """
    return Shape(geometry=shapely.union_all([placed.shape for placed in zones]))
