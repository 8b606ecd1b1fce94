"""The layers of a map: lake, zones, floats, clusters, circles and soundings, in SI."""

from collections.abc import Callable, Sequence
from typing import Any, Final

import numpy as np
import shapely
from numpy.typing import NDArray

from lakemap.assessment import AssessedFloat
from lakemap.exporting.floats_table import float_rows, twelve
from lakemap.exporting.records import Column, Kind, Table
from lakemap.exporting.words import (
    circle_words,
    float_words,
    lake_words,
    primary_words,
    secondary_words,
    zone_words,
)
from lakemap.frames import SIDES, circle_polygons
from lakemap.inputs.lake_shape import ROUGH_NOTE
from lakemap.mapping import Assessment

# seven decimals of a degree move a corner by 8 mm at most, the projection a side by 0.1 mm
CIRCLE_MARGIN_M: Final = 0.01
OUTLINE: Final = f"{SIDES} sides outside the true circle"
_Get = Callable[[AssessedFloat], object]


def _least_spare(one: AssessedFloat) -> float | None:
    return min((c.spare_m for c in one.clearances if c.spare_m is not None), default=None)


_WHO: Final[tuple[tuple[str, Kind, _Get], ...]] = (
    ("float_id", "name", lambda one: one.record.float_id),
    ("status", "text", lambda one: one.record.status),
    ("lot", "name", lambda one: one.record.lot),
)
_PRIMARY: Final[tuple[tuple[str, Kind, _Get], ...]] = (
    *_WHO,
    ("verdict", "text", lambda one: one.verdict),
    ("located", "flag", lambda one: one.located),
    ("not_located_by_m", "number", lambda one: one.extra_m),
    ("depth_low_m", "number", lambda one: one.depth_m[0]),
    ("depth_normal_m", "number", lambda one: one.depth_m[1]),
    ("depth_high_m", "number", lambda one: one.depth_m[2]),
    ("riser_m", "number", lambda one: one.riser_m),
    ("ground_m", "number", lambda one: one.ground_m),
    ("reach_m", "number", lambda one: one.reach_m[0]),
    ("swing_radius_m", "number", lambda one: one.swing_radius_m[0]),
    ("walk_radius_m", "number", lambda one: one.walk_radius_m),
    ("least_spare_m", "number", _least_spare),
    ("blocks", "count", lambda one: one.sizing.primary.blocks),
    ("dry_weight_n", "number", lambda one: one.sizing.primary.dry_n),
    ("peak_pull_n", "number", lambda one: one.sizing.loads_n.peak),
    ("weak_link", "text", lambda one: one.sizing.line.weak_link),
)
_SECONDARY: Final[tuple[tuple[str, Kind, _Get], ...]] = (
    *_WHO,
    ("blocks", "count", lambda one: one.sizing.secondary.blocks),
    ("dry_weight_n", "number", lambda one: one.sizing.secondary.dry_n),
    ("bearing_deg", "number", lambda one: one.secondary and one.secondary.bearing_deg),
    ("bearing_assumed", "flag", lambda one: one.secondary and one.secondary.assumed),
)
_CIRCLE: Final[tuple[tuple[str, Kind, _Get], ...]] = (
    *_WHO,
    ("verdict", "text", lambda one: one.verdict),
    ("level", "text", lambda _one: "low"),
    ("swing_radius_m", "number", lambda one: one.swing_radius_m[0]),
    ("outline", "text", lambda _one: OUTLINE),
)


def map_layers(assessment: Assessment, *, owners: bool) -> tuple[Table, ...]:
    """Return all layers of a field.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    owners : bool
        True keeps owners, permits and notes.

    Returns
    -------
    tuple of Table
        Lake, zones, floats, primaries, secondaries, circles, soundings; shapes in lon, lat.
    """
    return (
        _lake(assessment),
        _zones(assessment),
        _floats(assessment, owners=owners),
        _primaries(assessment),
        _secondaries(assessment),
        _circles(assessment),
        _soundings(assessment),
    )


def _shaped(shapes: Sequence[object]) -> NDArray[Any]:
    found = np.empty(len(shapes), dtype=object)
    found[:] = list(shapes)
    return found


def _lake(assessment: Assessment) -> Table:
    field = assessment.field
    levels = field.settings.levels
    parts = shapely.get_parts(field.lake).tolist()
    heights = (levels.low_m, levels.normal_m, levels.high_m)
    note = ROUGH_NOTE if field.lake_is_rough else None
    row = (field.settings.name, *(twelve(height) for height in heights), note)
    names = ("level_low_m", "level_normal_m", "level_high_m")
    return Table(
        name="lake",
        about="The shore at normal level; holes are islands. Levels are heights on its gauge.",
        columns=(
            Column(name="name"),
            *(Column(name=name, kind="number") for name in names),
            Column(name="note"),
        ),
        rows=(row,) * len(parts),
        shapes=_shaped(parts),
        titles=(field.settings.name,) * len(parts),
        says=(lake_words(assessment),) * len(parts),
    )


def _zones(assessment: Assessment) -> Table:
    zones = assessment.field.zones
    return Table(
        name="zones",
        about="Areas, and lines with a whole width; clearance_m takes the place of the rule.",
        columns=(
            Column(name="kind"),
            Column(name="name"),
            Column(name="width_m", kind="number"),
            Column(name="clearance_m", kind="number"),
            Column(name="source"),
            Column(name="lot", kind="name"),
        ),
        rows=tuple(
            (
                zone.kind,
                zone.label,
                twelve(zone.width_m),
                twelve(zone.clearance_m),
                zone.source,
                zone.lot,
            )
            for zone in zones
        ),
        shapes=_shaped([zone.geometry for zone in zones]),
        titles=tuple(zone.label for zone in zones),
        says=tuple(zone_words(zone, assessment) for zone in zones),
    )


def _floats(assessment: Assessment, *, owners: bool) -> Table:
    floats = assessment.floats
    records = [one.record for one in floats]
    written = float_rows(records, units=None, owners=owners, place=False)
    return Table(
        name="floats",
        about="The floats file: each where position_of says that it was fixed.",
        columns=written.columns,
        rows=written.rows,
        shapes=_points([(one.lon, one.lat) for one in records]),
        titles=tuple(one.float_id for one in records),
        says=tuple(float_words(one, assessment, owners=owners) for one in floats),
    )


def _primaries(assessment: Assessment) -> Table:
    floats = assessment.floats
    about = "Where the primaries lie, or what was fixed where that is not known."
    return _told_table(
        ("primaries", about, _PRIMARY),
        floats,
        [(one.lon, one.lat) for one in floats],
        says=[primary_words(one, assessment) for one in floats],
    )


def _secondaries(assessment: Assessment) -> Table:
    lying = [(one, one.secondary) for one in assessment.floats if one.secondary is not None]
    about = "Where the secondaries lie in calm water, last seen or assumed."
    return _told_table(
        ("secondaries", about, _SECONDARY),
        [one for one, _ in lying],
        [(second.lon, second.lat) for _, second in lying],
        says=[secondary_words(one, assessment) for one, _ in lying],
    )


def _circles(assessment: Assessment) -> Table:
    swinging = [
        one
        for one in assessment.floats
        if one.record.status != "retired" and one.swing_radius_m[0] is not None
    ]
    return Table(
        name="circles",
        about="Swing circles at low water, as polygons that contain the true circle:"
        f" {SIDES} sides, a corner at most 2 cm and 0.04 % of the radius outside it.",
        columns=_columns(_CIRCLE),
        rows=_rows(_CIRCLE, swinging),
        shapes=circle_polygons(assessment, swinging, margin_m=CIRCLE_MARGIN_M),
        titles=tuple(f"{one.record.float_id} circle" for one in swinging),
        says=tuple(circle_words(one, assessment) for one in swinging),
    )


def _soundings(assessment: Assessment) -> Table:
    found = assessment.field.soundings
    lonlat = np.empty((0, 2)) if found is None else np.column_stack([found.lon, found.lat])
    depths = [] if found is None else found.depth_m.tolist()
    return Table(
        name="soundings",
        about="Depths when the lake stands at the level of the soundings.",
        columns=(Column(name="depth_m", kind="number"),),
        rows=tuple((twelve(depth),) for depth in depths),
        shapes=shapely.points(lonlat),
    )


def _told_table(
    what: tuple[str, str, Sequence[tuple[str, Kind, _Get]]],
    floats: Sequence[AssessedFloat],
    places: Sequence[tuple[float, float]],
    *,
    says: Sequence[str],
) -> Table:
    """Points of clusters, one to a float."""
    name, about, told = what
    cluster = {"primaries": "primary", "secondaries": "secondary"}[name]
    return Table(
        name=name,
        about=about,
        columns=_columns(told),
        rows=_rows(told, floats),
        shapes=_points(places),
        titles=tuple(f"{one.record.float_id} {cluster}" for one in floats),
        says=tuple(says),
    )


def _points(places: Sequence[tuple[float, float]]) -> NDArray[Any]:
    return _shaped(shapely.points(np.array(places, dtype=np.float64).reshape(-1, 2)).tolist())


def _columns(told: Sequence[tuple[str, Kind, _Get]]) -> tuple[Column, ...]:
    return tuple(Column(name=name, kind=kind) for name, kind, _ in told)


def _rows(
    told: Sequence[tuple[str, Kind, _Get]], floats: Sequence[AssessedFloat]
) -> tuple[tuple[object, ...], ...]:
    return tuple(
        tuple(twelve(get(one)) if kind == "number" else get(one) for _, kind, get in told)
        for one in floats
    )
