"""What a drawing does to the floats of a field that stands already: the check with it in place."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any, Final, cast

import numpy as np
import shapely

from lakemap.assessment import AssessedFloat, Assessment
from lakemap.basis.records import FloatArray, Geometry, Zone, ZoneKind
from lakemap.clearances.records import PlacedZone
from lakemap.mapping import assess
from lakemap.outputs.words.verdicts import headline, sorted_floats, verdict_counts, verdict_sentence
from lakemap.planner.ground_drawing import Drawing, DrawnShape
from lakemap.planner.ground_shapes import Assembled, called
from lakemap.rechecked import ground_of, recheck

_SAME_M: Final = 2e-3  # the page has corners to the millimetre
_LISTED: Final = 12


def zones_of(
    assembled: Assembled, drawing: Drawing, before: Sequence[PlacedZone]
) -> tuple[PlacedZone, ...]:
    """Return the drawn zones as the check takes them.

    Parameters
    ----------
    assembled : Assembled
        Their geometry.
    drawing : Drawing
        For its middle.
    before : sequence of PlacedZone
        Those of the field; a corner that was not moved keeps its place to the last digit.

    Returns
    -------
    tuple of PlacedZone
        In the drawing's order.
    """
    old = {placed.zone.row: placed for placed in before}
    made = []
    for shape, drawn in assembled.zones:
        placed = None if shape.row is None else old.get(shape.row)
        same = placed is not None and is_same(shape, placed.shape)
        geometry = placed.shape if placed is not None and same else drawn
        lonlat = placed.zone.geometry if placed is not None and same else None
        made.append(
            PlacedZone(
                zone=Zone(
                    kind=cast("ZoneKind", shape.kind),
                    geometry=drawing.middle.unproject(drawn) if lonlat is None else lonlat,
                    row=shape.row or 0,
                    label=shape.name or _label(shape, placed),
                    width_m=shape.width_m if shape.is_line else None,
                    clearance_m=shape.clearance_m,
                    source=shape.source or None,
                    lot=shape.lot or None,
                ),
                shape=geometry,
            )
        )
    return tuple(made)


def _label(shape: DrawnShape, placed: PlacedZone | None) -> str:
    return called(shape) if placed is None else placed.zone.label


def corner_lines(geometry: Geometry) -> list[FloatArray]:
    """Return the rings or lines of a geometry, as the page has them.

    Parameters
    ----------
    geometry : shapely geometry
        Areas or lines, in metres.

    Returns
    -------
    list of ndarray, each of shape [k, 2]
        A ring's first corner stands once.
    """
    if shapely.get_dimensions(geometry) == 1:
        return [shapely.get_coordinates(line) for line in shapely.get_parts(geometry)]
    parts = shapely.get_parts(geometry)
    rings = [ring for part in parts for ring in (part.exterior, *part.interiors)]
    return [shapely.get_coordinates(ring)[:-1] for ring in rings]


def is_same(shape: DrawnShape, geometry: Geometry) -> bool:
    """Tell whether a shape has come back from the page as it went there.

    Parameters
    ----------
    shape : DrawnShape
        From the page, which has corners to the millimetre.
    geometry : shapely geometry
        What the page was given [m].

    Returns
    -------
    bool
        No corner was moved, added or taken away.
    """
    before = corner_lines(geometry)
    return len(before) == len(shape.lines) and all(
        len(one) == len(other) and bool((np.abs(one - other) < _SAME_M).all())
        for one, other in zip(before, shape.lines, strict=True)
    )


def with_zones(assessment: Assessment, zones: tuple[PlacedZone, ...]) -> Assessment:
    """Return a field's assessment with other zones: placed anew where they decide, and checked.

    Parameters
    ----------
    assessment : Assessment
        Of the field as it is.
    zones : tuple of PlacedZone
        As drawn.

    Returns
    -------
    Assessment
        Verdicts and clearances as `assess` would find them; its sizing is that of before.
    """
    field = replace(assessment.field, zones=tuple(placed.zone for placed in zones))
    altered = replace(assessment, field=field, zones=zones)
    channels = [
        [
            (placed.shape.wkb, placed.zone.width_m)
            for placed in held
            if placed.zone.kind == "channel"
        ]
        for held in (assessment.zones, zones)
    ]
    blank = {i: one for i, one in enumerate(field.floats) if one.riser_m is None}
    ground = ground_of(altered)
    # where boats pass elsewhere, a designed riser may differ
    is_moved = bool(blank) and channels[0] != channels[1]
    checked = recheck(ground, blank).floats if is_moved else ground.before
    floats = tuple(
        replace(one, verdict=now.verdict, clearances=now.clearances, problems=now.problems)
        for one, now in zip(assessment.floats, checked, strict=True)
    )
    return replace(altered, floats=floats)


def with_lake(assessment: Assessment, drawing: Drawing, assembled: Assembled) -> Assessment:
    """Return the assessment of a field whose shore or islands were drawn otherwise.

    Parameters
    ----------
    assessment : Assessment
        Of the field as it is.
    drawing : Drawing
        For its middle.
    assembled : Assembled
        With water.

    Returns
    -------
    Assessment
        All of it anew.

    Raises
    ------
    BadInputError
        If a float would lie outside the lake.
    """
    zones = zones_of(assembled, drawing, assessment.zones)
    return assess(
        replace(
            assessment.field,
            lake=drawing.middle.unproject(assembled.water),
            island_names=assembled.island_names,
            zones=tuple(placed.zone for placed in zones),
        )
    )


def effect_json(before: Assessment, after: Assessment) -> dict[str, Any]:
    """Return what a drawing does to the floats, in words.

    Parameters
    ----------
    before, after : Assessment
        Without and with it; the same floats.

    Returns
    -------
    dict
        `headline`, `was`, `counts`, `verdicts` by float, `changed` and `conflicts`.
    """
    was = {one.record.float_id: one.verdict for one in before.floats}
    counts = verdict_counts(after)
    said = ", ".join(f"{counts[v]} {v}" for v in ("tight", "unknown", "clear") if counts[v])
    old = headline(before)
    return {
        "headline": headline(after),
        "was": said if old == headline(after) else f"was: {old[:1].lower()}{old[1:]}; now {said}",
        "counts": counts,
        "verdicts": {one.record.float_id: one.verdict for one in after.floats},
        "changed": [
            _row(one, after, was)
            for one in sorted_floats(after)
            if one.verdict != was[one.record.float_id]
        ][:_LISTED],
        "conflicts": [
            _row(one, after, was) for one in sorted_floats(after) if one.verdict == "conflict"
        ][:_LISTED],
    }


def _row(one: AssessedFloat, after: Assessment, was: Mapping[str, str | None]) -> dict[str, Any]:
    name = one.record.float_id
    return {
        "id": name,
        "verdict": one.verdict,
        "then": f"{was[name]} → {one.verdict}" if was[name] != one.verdict else "",
        "text": verdict_sentence(one, after),
    }
