"""How many more floats of one kind fit, and what no arrangement can exceed."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final

import numpy as np
import shapely

from lakemap.basis.records import FloatArray, Geometry, Rule
from lakemap.clearances.circles import Circles
from lakemap.siting.allowed import allowed_water
from lakemap.siting.cell_bounds import radius_range
from lakemap.siting.margins import least_reach, margins
from lakemap.siting.packing import BUDGET, PackingQuestion, pack
from lakemap.siting.packing_bounds import upper_bound
from lakemap.siting.packing_grow import grow
from lakemap.siting.records import NEIGHBOURS, Bound, Packing, Variant
from lakemap.siting.spots import SpotField, spot_field, spots_at

ONE_BY_ONE: Final = "laid one by one, none moved later"
_MOST_GROWN: Final = 400  # floats
SHORTENED: Final = "every rig no longer than designed"
_ROUGH: Final = 16  # 32nds of a metre: variants are counted on a region right to 25 cm
_DOUBT_M: Final = 0.05  # of a region's outline
_SQUARE_M: Final = 4.0
_MOST_SQUARES: Final = 8000  # that the least radius is known in
_TIMES: Final = (0.0, 2.0, 4.0)  # of the neighbour rule's distance
_NO_RULE_M: Final = (2.0, 5.0)  # where there is none
_LESS: Final = 0.08  # of the effort, for a variant


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """How many fit, and what bounds it."""

    packing: Packing
    bound: Bound


def between_circles(field: SpotField) -> float:
    """Return the distance that the circles of two new floats keep from each other.

    That of the neighbour rule, 0 without one. Where neighbours are checked as lying to one wind
    circles still don't overlap: then two hooks are two reaches apart at least, and the rule asks
    for what is missing to its distance.

    Parameters
    ----------
    field : SpotField
        With the rules.

    Returns
    -------
    float
        Metres, >= 0.
    """
    rule = field.lake.settings.rules.get("neighbour")
    if rule is None:
        return 0.0
    if not field.same_wind:
        return rule.limit
    return max(rule.limit - 2 * least_reach(field), 0.0)


def count(
    field: SpotField, region: Geometry, *, seed: int, effort: float = 1.0, covers: bool = True
) -> Count:
    """Return how many floats fit into allowed water.

    Parameters
    ----------
    field : SpotField
        What is to be laid, and where.
    region : shapely MultiPolygon
        Where the primaries may lie [m], right to 5 cm.
    seed : int
        Of the search.
    effort : float
        Of the search; 1 is the usual one.
    covers : bool
        As in `upper_bound`.

    Returns
    -------
    Count
        The packing passes the exact check; the bound is proven, for a region 5 cm wider.
    """
    question = _question(field, region, seed)
    if region.is_empty:
        return Count(
            packing=question.packing(np.empty((0, 2))), bound=upper_bound(region, radius_low=float)
        )
    packing = pack(question, budget=int(effort * BUDGET))
    wide = shapely.buffer(region, _DOUBT_M)
    bound = upper_bound(
        wide, radius_low=_least_radii(field, wide), gap_m=question.gap_m, covers=covers
    )
    return Count(packing=packing, bound=bound)


def one_by_one(field: SpotField, region: Geometry, now: Count, *, seed: int) -> tuple[Variant, ...]:
    """Return how many fit if each is laid in the snuggest place and none is moved later.

    Parameters
    ----------
    field : SpotField
        What is to be laid, and where.
    region : shapely MultiPolygon
        Where the primaries may lie [m].
    now : Count
        How many fit when all are planned together.
    seed : int
        Of the search.

    Returns
    -------
    tuple of Variant
        None where so many fit that this takes minutes.
    """
    if len(now.packing.radius_m) > _MOST_GROWN:
        return ()
    grown = grow(_question(field, region, seed)) if not region.is_empty else now.packing
    found = Variant(
        name=ONE_BY_ONE,
        fits=len(grown.radius_m),
        most=now.bound.most,
        neighbour_m=between_circles(field),
    )
    return (found,)


def _question(field: SpotField, region: Geometry, seed: int) -> PackingQuestion:
    return PackingQuestion(
        region=region,
        radius_at=_radii(field),
        gap_m=between_circles(field),
        allowed=lambda xy: margins(field, xy).least_m >= 0,
        seed=seed,
    )


def _radii(field: SpotField) -> Callable[[FloatArray], FloatArray]:
    """Swing radii; where no rig works, which is nowhere allowed, the least of any."""
    least = least_reach(field) + field.corner_m

    def radii(xy: FloatArray) -> FloatArray:
        found = spots_at(field, xy).radius_m
        return np.where(np.isnan(found), least, found)

    return radii


def _least_radii(field: SpotField, region: Geometry) -> Callable[[Geometry], float]:
    """From a piece of the region to a radius that no rig in it swings less than."""
    west, south, east, north = region.bounds
    side = max(_SQUARE_M, float(np.sqrt(region.area / _MOST_SQUARES)))
    x, y = np.meshgrid(np.arange(west, east + side, side), np.arange(south, north + side, side))
    middle = np.column_stack([x.ravel(), y.ravel()])
    squares = shapely.box(*(middle - side / 2).T, *(middle + side / 2).T)
    shapely.prepare(region)
    met = shapely.intersects(region, squares)
    tree = shapely.STRtree(squares[met])
    # the square may hold shallower water, where none is allowed
    anywhere = least_reach(field) + field.corner_m
    least = np.maximum(radius_range(field, middle[met], side / np.sqrt(2)).low, anywhere)

    def lowest(piece: Geometry) -> float:
        return float(least[tree.query(piece, predicate="intersects")].min())

    return lowest


def variants(
    field: SpotField, now: Count, *, shortest: Circles, seed: int, effort: float = 1.0
) -> tuple[Variant, ...]:
    """Return how many would fit if something were otherwise, on a region right to 25 cm.

    The neighbour rule from nothing to four times its distance, and every rig that lies there
    shortened to the line that the tool would design for it. What fits with more between circles
    fits with less; what can't be exceeded with less can't be with more.

    Parameters
    ----------
    field : SpotField
        What is to be laid, and where.
    now : Count
        As things are.
    shortest : Circles
        The floats that lie there, no line longer than the tool would design it.
    seed : int
        Of the search.
    effort : float
        As in `count`.

    Returns
    -------
    tuple of Variant
        Ascending distances first, the shorter lines last.
    """
    rule = field.lake.settings.rules.get("neighbour")
    asked = 0.0 if rule is None else rule.limit
    others = _NO_RULE_M if asked == 0 else tuple(share * asked for share in _TIMES)
    found = [
        _variant(_with_neighbours(field, metres), NEIGHBOURS, metres, seed=seed, effort=effort)
        for metres in others
    ]
    found.append(_as_variant(now, NEIGHBOURS, asked))
    found.sort(key=lambda one: one.neighbour_m)
    shorter = spot_field(field.like, field.lake, shortest, names=field.names, lot=field.like.lot)
    least = _variant(shorter, SHORTENED, between_circles(field), seed=seed, effort=effort)
    # lesser circles leave room for all that fits now
    return (*_in_step(found), replace(least, fits=max(least.fits, len(now.packing.radius_m))))


def _in_step(found: list[Variant]) -> list[Variant]:
    """Counts that never rise with the distance, bounds neither."""
    fits = np.maximum.accumulate([one.fits for one in reversed(found)])[::-1]
    most = np.minimum.accumulate([one.most for one in found])
    return [
        replace(one, fits=int(more), most=int(less))
        for one, more, less in zip(found, fits, most, strict=True)
    ]


def _as_variant(counted: Count, name: str, metres: float) -> Variant:
    return Variant(
        name=name,
        fits=len(counted.packing.radius_m),
        most=counted.bound.most,
        neighbour_m=metres,
    )


def _variant(field: SpotField, name: str, metres: float, *, seed: int, effort: float) -> Variant:
    region = allowed_water(field, finest=_ROUGH)
    counted = count(field, region, seed=seed, effort=_LESS * effort, covers=False)
    return _as_variant(counted, name, metres)


def _with_neighbours(field: SpotField, metres: float) -> SpotField:
    """The same field with another neighbour rule."""
    settings = field.lake.settings
    rule = settings.rules.get("neighbour") or Rule(kind="neighbour", limit=metres, source="")
    rules = MappingProxyType({**settings.rules, "neighbour": replace(rule, limit=metres)})
    lake = replace(field.lake, settings=replace(settings, rules=rules))
    return spot_field(field.like, lake, field.there, names=field.names, lot=field.like.lot)
