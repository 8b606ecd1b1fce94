"""What is told of a shore: the ring, the lake before and after, and what to take care of."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

import shapely

from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import Field, Geometry, Settings, Units
from lakemap.basis.wording import area_text, figure, length_text
from lakemap.gathering.level_then import level_then
from lakemap.gathering.shore_lake import Difference, Drawn, Merged
from lakemap.gathering.shore_ring import NoRing, Ring
from lakemap.lake.projection import LakeProjection

ACRE_M2: Final = 43_560.0 * FOOT_M.value**2  # a chain by a furlong, of 66 and 660 ft
_HECTARE_M2: Final = 10_000.0
_SMALL: Final = 0.1  # of an acre or a hectare
_LONG_SHARE: Final = 0.05  # of the way without one point


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What the words are about."""

    settings: Settings
    field: Field | None  # None: the folder has no lake yet
    drawn: Drawn
    merged: Merged
    compared: Difference | None  # None: there was no lake, or a rough square
    day: date | None
    inside_m: float
    thin_m: float


def lake_area_text(square_metres: float, units: Units) -> str:
    """Return an area as lakes are told: acres or hectares, small ones in square feet or metres."""
    unit, size = ("acres", ACRE_M2) if units == "ft-lb" else ("ha", _HECTARE_M2)
    if square_metres < _SMALL * size:
        return area_text(square_metres, units)
    return f"{figure(square_metres / size, digits=2)} {unit}"


def no_ring_words(found: NoRing, called: str, units: Units) -> str:
    """Return why a way is no ring.

    Parameters
    ----------
    found : NoRing
        Of the way.
    called : str
        Such as track 2.
    units : Units
        Of people.

    Returns
    -------
    str
        With what would be right.
    """
    long, far = length_text(found.length_m, units), length_text(found.far_m, units)
    return (
        f"{called} "
        + {
            "few": "has fewer than four different points; go all the way round",
            "open": (
                f"starts and ends {far} apart, on a way of {long}; go all the way round, or"
                " draw the rest in `lakemap plan`"
            ),
            "crossed": (
                f"crosses itself, and {figure(100 * found.share, digits=0)} % of the area would be"
                " lost; take what is no shore out of the track"
            ),
            "narrow": f"encloses next to nothing: {far} wide on average, on a way of {long}",
        }[found.why]
    )


def ring_lines(ring: Ring, called: str, units: Units) -> Iterator[str]:
    """Yield what was done to one way.

    Parameters
    ----------
    ring : Ring
        Of the way.
    called : str
        Such as track 2.
    units : Units
        Of people.

    Yields
    ------
    str
        A sentence each.
    """
    corners = len(shapely.get_coordinates(ring.polygon)) - 1
    yield f"{called}: {ring.points:,} points became a ring of {corners:,} corners"
    if ring.spikes:
        yield f"  {ring.spikes:,} points left out: the receiver jumped there and back"
    if ring.overlap_m > 0:
        yield f"  {length_text(ring.overlap_m, units)} cut off where end and start overlap"
    if ring.loops:
        small = "one small loop" if ring.loops == 1 else f"{ring.loops} small loops"
        yield f"  {small} left out where the way crosses itself"


def ring_cautions(ring: Ring, called: str, *, sigma_m: float, units: Units) -> Iterator[str]:
    """Yield what to look at in one way; parameters as in `ring_lines`."""
    if ring.gap_m > 3 * sigma_m:
        gap = length_text(ring.gap_m, units)
        yield f"{called} was closed by a straight line of {gap} from its end to its start"
    if ring.longest_m > _LONG_SHARE * float(shapely.length(ring.polygon)):
        long = length_text(ring.longest_m, units)
        yield f"{called} has a stretch of {long} without a point: the shore is straight there"


def lake_lines(told: Told) -> Iterator[str]:
    """Yield what the lake was and is.

    Parameters
    ----------
    told : Told
        The lake.

    Yields
    ------
    str
        A sentence each.
    """
    units = told.settings.units
    water = LakeProjection.centred_on(told.merged.outline).project(told.merged.outline)
    around = length_text(_around(water), units)
    islands = sum(int(shapely.get_num_interior_rings(one)) for one in shapely.get_parts(water))
    held = "" if not islands else ", one island" if islands == 1 else f", {islands} islands"
    area = lake_area_text(float(shapely.area(water)), units)
    yield f"the lake: {area} of water, {around} of shore{held}"
    thin = length_text(told.thin_m, units)
    if told.thin_m > 0:
        yield f"thinned: no corner that was left out lies farther than {thin} from the shore"
    if told.inside_m > 0:
        off = length_text(told.inside_m, units)
        yield f"the shore was moved out by {off}, as the way was kept so far inside it"
    if told.compared is not None:
        one = told.compared
        before, after = (lake_area_text(m2, units) for m2 in (one.before_m2, one.after_m2))
        share = figure(100 * (one.after_m2 / one.before_m2 - 1), digits=1)
        sign = "" if share.startswith("−") else "+"
        far = length_text(one.far_m, units)
        yield (
            f"before it had {before}, now {after} ({sign}{share} %); the shores lie {far} apart at"
            f" most, at {one.lat:.6f},{one.lon:.6f}"
        )
    if told.merged.kept:
        yield f"kept from the lake file: {_named(told.merged.kept)}"


def _named(islands: Sequence[str | None]) -> str:
    """Islands by name, those without one by count."""
    names = [name for name in islands if name]
    rest = len(islands) - len(names)
    unnamed = "an island without a name" if rest == 1 else f"{rest} islands without a name"
    return ", ".join([*names, unnamed] if rest else names)


def _around(water: Geometry) -> float:
    return float(shapely.length(shapely.get_exterior_ring(shapely.get_parts(water))).sum())


def lake_cautions(told: Told) -> Iterator[str]:
    """Yield what to look at in the lake; parameters as in `lake_lines`."""
    units, levels = told.settings.units, told.settings.levels
    said = (
        "the outline should be that of normal level"
        f" ({length_text(levels.normal_m, units)} on the gauge)"
    )
    if told.field is not None and told.day is not None:
        then = level_then(told.day, told.field)
        if then.is_read:
            apart = then.level_m - levels.normal_m
            way = "above" if apart > 0 else "below"
            said += (
                f"; on {told.day.isoformat()} the gauge stood {length_text(abs(apart), units)}"
                f" {way} it"
            )
    yield said
    if told.drawn.lost:
        count = "one island" if told.drawn.lost == 1 else f"{told.drawn.lost} islands"
        yield f"{count} left out: smaller than twice what the boat kept off"
    if told.merged.dropped:
        yield (
            "no island any more, as the new shore runs through or beside it:"
            f" {_named(told.merged.dropped)}"
        )
