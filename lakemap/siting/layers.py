"""What the circle of a new float must keep clear of, or stay inside, as layers."""

from collections.abc import Iterator, Sequence

import shapely

from lakemap.basis.records import Geometry, Settings
from lakemap.clearances.frontages import frontage_of
from lakemap.clearances.records import PlacedZone
from lakemap.clearances.rules import ask_of_zone
from lakemap.lake.water import islands, parts
from lakemap.siting.records import Layer


def keep_clear_of(
    water: Geometry, zones: Sequence[PlacedZone], settings: Settings, *, lot: str | None = None
) -> tuple[Layer, ...]:
    """Return what a circle must keep its distance from; what nothing asks for is left out.

    Parameters
    ----------
    water : shapely Polygon or MultiPolygon
        The lake [m].
    zones : sequence of PlacedZone
        In it.
    settings : Settings
        With the rules.
    lot : str or None
        Keep inside this lot's frontage too.

    Returns
    -------
    tuple of Layer
        Shore, islands, zones, frontage.
    """
    return (*_shores(water, settings), *_zones(zones, settings), *_frontage(zones, settings, lot))


def _shores(water: Geometry, settings: Settings) -> Iterator[Layer]:
    rule = settings.rules.get("shore")
    # a circle about a place on land is refused without a rule, too: by the rig that has no depth
    if rule is None:
        return
    shells = [shapely.polygons(shapely.get_exterior_ring(part)) for part in parts(water)]
    yield Layer(
        name="lake",
        kind="shore",
        geometry=shapely.multipolygons(shells),
        required_m=rule.limit,
        inside=True,
    )
    for k, island in enumerate(islands(water), start=1):
        yield Layer(
            name=f"island {k}",
            kind="island",
            geometry=shapely.polygons(island),
            required_m=rule.limit,
        )


def _zones(zones: Sequence[PlacedZone], settings: Settings) -> Iterator[Layer]:
    for placed in zones:
        ask = ask_of_zone(placed.zone, settings)
        if placed.zone.kind != "frontage" and ask.required_m is not None:
            yield Layer(
                name=placed.zone.label,
                kind=placed.zone.kind,
                geometry=placed.shape,
                required_m=ask.required_m,
                width_m=placed.zone.width_m or 0.0,
            )


def _frontage(zones: Sequence[PlacedZone], settings: Settings, lot: str | None) -> Iterator[Layer]:
    found = None if lot is None else frontage_of(zones, settings, lot)
    if found is not None:
        yield Layer(
            name=found.label,
            kind="frontage",
            geometry=found.shape.geometry,
            required_m=found.ask.required_m or 0.0,
            inside=True,
        )
