"""What is drawn of a field, in metres; the page and the picture share it."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import FloatArray, Geometry, Units
from lakemap.basis.wording import figure, length_unit
from lakemap.lake.contours import (
    DepthGrid,
    depth_areas,
    depth_contours,
    depth_grid,
    unsounded,
)
from lakemap.mapping import AssessedFloat, Assessment

_BANDS: Final = 6
_STEPS_FT: Final = (5.0, 10.0, 20.0, 25.0, 50.0, 100.0)
_STEPS_M: Final = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0)
_SMOOTH_SHARE: Final = 1 / 2500  # of the lake's longer side: under half a pixel of a full screen
_MOST_SOUNDINGS: Final = 4000
CM: Final = 100.0


def cm(metres: float) -> int:
    """Return a length in whole centimetres, as the page stores it."""
    return round(metres * CM)


@dataclass(frozen=True, slots=True, kw_only=True)
class Contour:
    """One depth contour."""

    label: str
    lines: Geometry


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneDrawing:
    """One zone: a line with a width drawn as the area it covers."""

    kind: str
    name: str
    area: Geometry
    middle: Geometry  # the line itself, or None
    keep_m: float  # distance to keep; 0: none
    lot: str | None = None  # frontage only


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """All that is drawn behind the floats."""

    bounds: tuple[float, float, float, float]
    water: Geometry
    bands: tuple[Geometry, ...]  # the water at least so deep, shallow to deep, the first whole
    band_edges: tuple[str, ...]  # figures of the band edges, from 0
    contours: tuple[Contour, ...]
    bare: Geometry  # not sounded
    grid: DepthGrid | None
    zones: tuple[ZoneDrawing, ...]
    soundings_xy: FloatArray
    soundings_text: tuple[str, ...]


def build_scene(assessment: Assessment) -> Scene:
    """Return what is drawn behind the floats.

    Parameters
    ----------
    assessment : Assessment
        Of a field.

    Returns
    -------
    Scene
        In metres; depths at normal level.
    """
    water = assessment.water
    west, south, east, north = shapely.bounds(water).tolist()
    smooth = max(east - west, north - south) * _SMOOTH_SHARE
    units = assessment.field.settings.units
    bands: tuple[Geometry, ...] = (shapely.simplify(water, smooth / 2),)
    edges, contours, bare, grid = ["0"], [], shapely.Polygon(), None
    if assessment.surface is not None:
        levels = assessment.field.settings.levels
        rise = levels.normal_m - levels.soundings_m
        grid = depth_grid(assessment.surface)
        steps, unit_m = _steps(float(np.nanmax(grid.depth_m)) + rise, units)
        depths = [step * unit_m - rise for step in steps]
        areas = depth_areas(assessment.surface, grid, depths)
        bands += tuple(shapely.simplify(area, smooth) for area in areas)
        edges += [f"{step:g}" for step in steps]
        contours = [
            Contour(label=f"{step:g} {length_unit(units)}", lines=shapely.simplify(lines, smooth))
            for step, lines in zip(
                steps, depth_contours(assessment.surface, grid, depths), strict=True
            )
        ]
        bare = shapely.simplify(unsounded(assessment.surface), smooth)
    return Scene(
        bounds=(west, south, east, north),
        water=shapely.simplify(water, smooth / 4),
        bands=bands,
        band_edges=tuple(edges),
        contours=tuple(contours),
        bare=bare if assessment.surface is not None else water,
        grid=grid,
        zones=_zones(assessment),
        soundings_xy=assessment.soundings_xy[:: _stride(assessment)],
        soundings_text=_soundings_text(assessment),
    )


def _stride(assessment: Assessment) -> int:
    return max(1, len(assessment.soundings_m) // _MOST_SOUNDINGS)


def _soundings_text(assessment: Assessment) -> tuple[str, ...]:
    """Depths at normal level, whole feet or tenths of a metre."""
    levels = assessment.field.settings.levels
    depths = assessment.soundings_m[:: _stride(assessment)] + levels.normal_m - levels.soundings_m
    if assessment.field.settings.units == "ft-lb":
        return tuple(figure(depth / FOOT_M.value, digits=0) for depth in depths.tolist())
    return tuple(figure(depth, digits=1) for depth in depths.tolist())


def _steps(deepest_m: float, units: Units) -> tuple[list[float], float]:
    """Depths of the band edges in the user's unit: at most five, so at most six bands."""
    unit_m = FOOT_M.value if units == "ft-lb" else 1.0
    deepest = deepest_m / unit_m
    choices = _STEPS_FT if units == "ft-lb" else _STEPS_M
    step = next((s for s in choices if deepest / s <= _BANDS), choices[-1])
    count = max(0, min(_BANDS - 1, math.ceil(deepest / step) - 1))
    return [step * k for k in range(1, count + 1)], unit_m


def _zones(assessment: Assessment) -> tuple[ZoneDrawing, ...]:
    rules = assessment.field.settings.rules
    drawings = []
    for placed in assessment.zones:
        zone, shape = placed.zone, placed.shape
        is_line = int(shapely.get_dimensions(shape)) == 1
        rule = rules.get(zone.kind)
        keep = zone.clearance_m if zone.clearance_m is not None else (rule.limit if rule else 0.0)
        drawings.append(
            ZoneDrawing(
                kind=zone.kind,
                name=zone.label,
                area=shapely.buffer(shape, (zone.width_m or 0.0) / 2) if is_line else shape,
                middle=shape if is_line else None,
                keep_m=0.0 if zone.kind == "frontage" else keep,
                lot=zone.lot,
            )
        )
    return tuple(drawings)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lie:
    """How a float is drawn lying: its hook, and which way its long side points."""

    hook_xy: tuple[float, float]
    bearing_deg: float


def lie_of(one: AssessedFloat, wind_from_deg: float | None) -> Lie:
    """Return where a float is drawn: past its secondary, down the wind that is drawn.

    Parameters
    ----------
    one : AssessedFloat
        Of an assessment.
    wind_from_deg : float or None
        The wind drawn; None: each float in line with its own clusters.

    Returns
    -------
    Lie
        For drawing only; the circle is what is checked.
    """
    second = one.secondary
    own = second.bearing_deg if second is not None and second.bearing_deg is not None else 90.0
    bearing = own if wind_from_deg is None else (wind_from_deg + 180.0) % 360.0
    if second is None:
        return Lie(hook_xy=(one.x_m, one.y_m), bearing_deg=bearing)
    drop = (one.depth_m[1] or 0.0) - (one.hook_depth_m or 0.0)
    riser = one.riser_m or 0.0
    ahead = math.sqrt(max(riser * riser - drop * drop, 0.0))
    angle = math.radians(bearing)
    return Lie(
        hook_xy=(second.x_m + ahead * math.sin(angle), second.y_m + ahead * math.cos(angle)),
        bearing_deg=bearing,
    )


def wind_drawn(assessment: Assessment) -> float | None:
    """Return the bearing of the wind that the floats are drawn lying in; None: no one wind."""
    from_deg = assessment.field.settings.storm.from_deg
    return from_deg[0] if from_deg else None


def rings_of(area: Geometry) -> list[list[FloatArray]]:
    """Return polygons as rings of coordinates, the outer one first.

    Parameters
    ----------
    area : shapely geometry
        Areas; other parts are left out.

    Returns
    -------
    list of list of ndarray
        Per polygon its rings, shape [k, 2], first point repeated.
    """
    # in one order and from one corner on, whatever the geometry library's release
    area = shapely.normalize(area)
    parts = [part for part in shapely.get_parts(area) if part.geom_type == "Polygon"]
    return [
        [shapely.get_coordinates(ring) for ring in (part.exterior, *part.interiors)]
        for part in parts
        if not part.is_empty
    ]


def lines_of(lines: Geometry) -> list[FloatArray]:
    """Return lines as arrays of coordinates.

    Parameters
    ----------
    lines : shapely geometry
        Lines; other parts are left out.

    Returns
    -------
    list of ndarray
        Shape [k, 2] each.
    """
    merged = shapely.line_merge(lines) if lines.geom_type == "MultiLineString" else lines
    return [
        shapely.get_coordinates(part)
        for part in shapely.get_parts(shapely.normalize(merged))
        if part.geom_type == "LineString"
    ]
