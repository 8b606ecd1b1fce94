"""What the drawing page starts from: the shapes, depths and floats that stand in the folder."""

from collections.abc import Iterator
from typing import Any, Final

import numpy as np
import shapely

from lakemap.assessment import Assessment
from lakemap.basis.quantities import FOOT_M, MILE_PER_HOUR_M_S
from lakemap.basis.records import FloatArray, Geometry, Settings, Units, Zone
from lakemap.basis.wording import length_unit
from lakemap.clearances.records import PlacedZone
from lakemap.lake.water import parts
from lakemap.outputs.words.texts import ENGLISH
from lakemap.planner.ground_drawing import KIND_NAMES, LINE_KINDS
from lakemap.planner.ground_effect import corner_lines, effect_json
from lakemap.planner.ground_picture import has_picture
from lakemap.planner.ground_reading import GroundReading

_MM: Final = 3  # decimals of a metre
_FIGURES: Final = 10  # of a typed length: none is lost on the way to the page and back


def ground_data(reading: GroundReading) -> dict[str, Any]:
    """Return all that the drawing page starts from.

    Parameters
    ----------
    reading : GroundReading
        The folder.

    Returns
    -------
    dict
        JSON-able; lengths on the ground in metres, typed texts in the field's units.
    """
    settings, found = reading.settings, reading.assessment
    units: Units = "ft-lb" if settings is None else settings.units
    start = {
        "language": ENGLISH.code,
        "text": ENGLISH.sections("map"),
        "place": reading.place,
        "folder": reading.folder_name,
        "stamp": reading.key,
        "mode": "new" if found is None else "field",
        "has_settings": settings is not None,
        "name": reading.name if settings is not None else "",
        "units": units,
        "levels": _levels(settings, units),
        "storm": _storm(settings, units),
        "kinds": [
            {"kind": kind, "name": name, "line": kind in LINE_KINDS}
            for kind, name in KIND_NAMES.items()
        ],
        "kept": has_picture(reading.folder),
    }
    if found is not None:
        return start | _of_field(found)
    return start | _EMPTY


_EMPTY: Final[dict[str, Any]] = {
    "middle": None, "shapes": [], "soundings": [], "floats": [], "effect": None, "notes": [],
}  # fmt: skip


def _of_field(found: Assessment) -> dict[str, Any]:
    """Shapes, soundings and floats of a field that stands."""
    field, where = found.field, found.projection
    shapes = list(_shore(found.water, field.island_names, rough=field.lake_is_rough))
    units = field.settings.units
    return {
        "middle": [where.lon0, where.lat0],
        "shapes": shapes + [_zone(placed, units) for placed in found.zones],
        "soundings": _soundings(found),
        "floats": [
            {
                "id": one.record.float_id,
                "x": round(one.x_m, 2),
                "y": round(one.y_m, 2),
                "r": None if one.swing_radius_m[0] is None else round(one.swing_radius_m[0], 2),
                "verdict": one.verdict,
            }
            for one in found.floats
        ],
        "effect": effect_json(found, found),
        "notes": [one.text for one in field.problems if one.code == "lake_is_rough"],
    }


def _shore(
    water: Geometry, island_names: tuple[str | None, ...], *, rough: bool
) -> Iterator[dict[str, Any]]:
    """Outlines and islands as shapes."""
    names = iter(island_names)
    for polygon in parts(water):
        yield _shape("outline", [_corners(polygon.exterior)]) | {"rough": rough}
        for ring in polygon.interiors:
            yield _shape("island", [_corners(ring)]) | {"name": next(names, None) or ""}


def _zone(placed: PlacedZone, units: Units) -> dict[str, Any]:
    zone: Zone = placed.zone
    named = "" if zone.label == f"zones row {zone.row}" else zone.label
    return _shape(zone.kind, [_rounded(line) for line in corner_lines(placed.shape)]) | {
        "line": int(shapely.get_dimensions(placed.shape)) == 1,
        "name": named,
        "width": _typed(zone.width_m, units),
        "clearance": _typed(zone.clearance_m, units),
        "lot": zone.lot or "",
        "source": zone.source or "",
        "row": zone.row,
    }


def _shape(kind: str, lines: list[list[list[float]]]) -> dict[str, Any]:
    return {
        "kind": kind, "line": False, "lines": lines, "name": "", "width": "", "clearance": "",
        "lot": "", "source": "", "row": None,
    }  # fmt: skip


def _corners(ring: Geometry) -> list[list[float]]:
    return _rounded(shapely.get_coordinates(ring)[:-1])


def _rounded(xy: FloatArray) -> list[list[float]]:
    found: list[list[float]] = np.round(xy, _MM).tolist()
    return found


def _soundings(found: Assessment) -> list[list[Any]]:
    """Depths as they are shown, at the soundings' level, and their rows."""
    filed = found.field.soundings
    if filed is None:
        return []
    per = FOOT_M.value if found.field.settings.units == "ft-lb" else 1.0
    x, y = found.projection.to_xy(filed.lon, filed.lat)
    xy = np.round(np.column_stack([x, y]), 2).tolist()
    rows = zip(xy, filed.depth_m.tolist(), filed.row.tolist(), strict=True)
    return [[*at, f"{depth / per:.1f}".removesuffix(".0"), row] for at, depth, row in rows]


def _typed(metres: float | None, units: Units) -> str:
    """A length as it would be typed."""
    if metres is None:
        return ""
    per = FOOT_M.value if units == "ft-lb" else 1.0
    return f"{metres / per:.{_FIGURES}g} {length_unit(units)}"


def _levels(settings: Settings | None, units: Units) -> dict[str, str]:
    if settings is None:
        return dict.fromkeys(("low", "normal", "high", "soundings"), "")
    levels = settings.levels
    return {
        "low": _typed(levels.low_m, units),
        "normal": _typed(levels.normal_m, units),
        "high": _typed(levels.high_m, units),
        "soundings": _typed(levels.soundings_m, units),
    }


def _storm(settings: Settings | None, units: Units) -> dict[str, str]:
    if settings is None:
        return {"wind": "", "gust": ""}
    per, unit = (MILE_PER_HOUR_M_S.value, "mph") if units == "ft-lb" else (1.0, "m/s")
    storm = settings.storm
    gust = "" if storm.gust_m_s is None else f"{storm.gust_m_s / per:.{_FIGURES}g} {unit}"
    return {"wind": f"{storm.wind_m_s / per:.{_FIGURES}g} {unit}", "gust": gust}
