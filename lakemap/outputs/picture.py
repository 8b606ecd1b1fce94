"""The field as one static picture: SVG without scripts, styles or anything from elsewhere."""

import math
from dataclasses import dataclass
from html import escape
from typing import Final

import numpy as np
import shapely

from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import FloatArray, Geometry
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.callouts import Callout, place_callouts
from lakemap.outputs.key import WATER
from lakemap.outputs.scene import Scene, lie_of, lines_of, rings_of, wind_drawn
from lakemap.outputs.words import island_name

INK, CONFLICT, TIGHT, AMBER, CLEAR = "#12232E", "#B3200C", "#6B4300", "#FFC44A", "#1D4A63"
UNKNOWN, ZONE, SHORE, CONTOUR, LAND = "#4A4760", "#2F4A45", "#3F525C", "#3E7391", "#F2F1EC"
_MARGIN: Final = 26.0
_LEAST_CIRCLE: Final = 7.0  # a circle smaller than this on paper becomes a mark
_PATTERNS: Final = {
    "swim_area": ("dots", 6, '<circle cx="3" cy="3" r="0.8" fill="#2F4A45"/>'),
    "intake": ("grid", 6, '<path d="M0 3H6M3 0V6" stroke="#2F4A45" stroke-width="0.8"/>'),
    "hazard": ("lines", 7, '<path d="M0 7L7 0" stroke="#2F4A45" stroke-width="0.8"/>'),
    "no_float": ("cross", 8, '<path d="M0 8L8 0M0 0L8 8" stroke="#2F4A45" stroke-width="0.8"/>'),
    "bare": ("bare", 9, '<path d="M0 9L9 0" stroke="#8B969C" stroke-width="0.8"/>'),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A picture's size and how metres become its pixels."""

    width: float
    height: float
    west: float
    north: float
    scale: float  # px per metre
    left: float
    top: float

    def xy(self, x_m: float, y_m: float) -> tuple[float, float]:
        """Return pixels, y down."""
        return (
            self.left + (x_m - self.west) * self.scale,
            self.top + (self.north - y_m) * self.scale,
        )


def _fit(scene: Scene, width: float, height: float) -> Sheet:
    west, south, east, north = scene.bounds
    scale = min(
        (width - 2 * _MARGIN) / max(east - west, 1e-9),
        (height - 2 * _MARGIN) / max(north - south, 1e-9),
    )
    return Sheet(
        width=width,
        height=height,
        west=west,
        north=north,
        scale=scale,
        left=(width - (east - west) * scale) / 2,
        top=(height - (north - south) * scale) / 2,
    )


def field_svg(
    assessment: Assessment, scene: Scene, *, width: float = 744.0, height: float = 412.0
) -> str:
    """Return the picture of a field.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    scene : Scene
        Of the same field.
    width, height : float
        Of the picture [px].

    Returns
    -------
    str
        One SVG element; the same assessment gives the same text.
    """
    sheet = _fit(scene, width, height)
    label = f"{escape(assessment.field.settings.name)}: the lake, every float on its swing circle"
    opening = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {height:g}" role="img"'
        f' aria-label="{label}" font-family="system-ui, sans-serif">'
    )
    parts = [
        opening,
        _defs(),
        f'<rect width="{width:g}" height="{height:g}" fill="{LAND}"/>',
        *_lake(scene, sheet),
        *_zones(scene, sheet),
        *_names(assessment, scene, sheet),
        *_floats(assessment, sheet),
        *_callouts(assessment, sheet),
        _scale_bar(sheet),
        _north(sheet),
        "</svg>",
    ]
    return "".join(parts)


def _defs() -> str:
    patterns = "".join(
        f'<pattern id="pic-{name}" width="{size}" height="{size}"'
        f' patternUnits="userSpaceOnUse">{inside}</pattern>'
        for name, size, inside in _PATTERNS.values()
    )
    return f"<defs>{patterns}</defs>"


def _path(rings: list[FloatArray], sheet: Sheet, *, close: bool) -> str:
    parts = []
    for ring in rings:
        x = sheet.left + (ring[:, 0] - sheet.west) * sheet.scale
        y = sheet.top + (sheet.north - ring[:, 1]) * sheet.scale
        steps = [f"{a:.1f} {b:.1f}" for a, b in zip(x.tolist(), y.tolist(), strict=True)]
        parts.append(f"M{'L'.join(steps)}{'Z' if close else ''}")
    return "".join(parts)


def _area(area: Geometry, sheet: Sheet, look: str) -> str:
    rings = [ring for polygon in rings_of(area) for ring in polygon]
    if not rings:
        return ""
    return f'<path d="{_path(rings, sheet, close=True)}" fill-rule="evenodd" {look}/>'


def _line(lines: Geometry, sheet: Sheet, look: str) -> str:
    found = lines_of(lines)
    if not found:
        return ""
    return f'<path d="{_path(found, sheet, close=False)}" fill="none" {look}/>'


def _lake(scene: Scene, sheet: Sheet) -> list[str]:
    parts = [_area(scene.water, sheet, f'fill="{WATER[0]}"')]
    parts += [
        _area(band, sheet, f'fill="{WATER[k]}"') for k, band in enumerate(scene.bands[1:], start=1)
    ]
    parts += [
        _line(contour.lines, sheet, f'stroke="{CONTOUR}" stroke-width="{1.0 if k % 2 else 0.7}"')
        for k, contour in enumerate(scene.contours)
    ]
    if not scene.bare.is_empty:
        parts.append(_area(scene.bare, sheet, 'fill="#E6E8E7"'))
        parts.append(_area(scene.bare, sheet, 'fill="url(#pic-bare)"'))
    return parts


def _zones(scene: Scene, sheet: Sheet) -> list[str]:
    parts = []
    line = f'stroke="{ZONE}"'
    for zone in scene.zones:
        if zone.kind == "frontage":
            look = f'fill="none" {line} stroke-width="0.8" stroke-dasharray="3 3" opacity="0.38"'
            parts.append(_area(zone.area, sheet, look))
            continue
        if zone.kind in {"ramp", "dock"}:
            parts.append(_area(zone.area, sheet, 'fill="#5C5750"'))
            continue
        if zone.keep_m > 0:
            keep = shapely.buffer(zone.area, zone.keep_m, quad_segs=8)
            look = f'fill="none" {line} stroke-dasharray="1 3.4" stroke-linecap="round"'
            parts.append(_area(keep, sheet, look))
        is_channel = zone.kind == "channel"
        wash = f'fill="#fff" fill-opacity="{0.38 if is_channel else 0.5}"'
        parts.append(_area(zone.area, sheet, wash))
        pattern = _PATTERNS.get(zone.kind)
        fill = "none" if pattern is None else f"url(#pic-{pattern[0]})"
        dash = ' stroke-dasharray="10 5"' if is_channel else ""
        parts.append(_area(zone.area, sheet, f'fill="{fill}" {line} stroke-width="1.5"{dash}'))
    parts.append(_area(scene.water, sheet, f'fill="none" stroke="{SHORE}" stroke-width="1.6"'))
    return parts


def text_svg(words: str, x: float, y: float, *, size: float = 11.0, look: str = "") -> str:
    """Return text with a white halo, middle at a point.

    Parameters
    ----------
    words : str
        Escaped here.
    x, y : float
        Where the middle of the base line stands [px].
    size : float
        Of the letters [px].
    look : str
        More attributes.

    Returns
    -------
    str
        SVG.
    """
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size:g}" text-anchor="middle"'
        f' paint-order="stroke" stroke="#fff" stroke-width="3" stroke-linejoin="round" {look}>'
        f"{escape(words)}</text>"
    )


def _names(assessment: Assessment, scene: Scene, sheet: Sheet) -> list[str]:
    look = f'font-weight="600" fill="{ZONE}"'
    parts = []
    for zone in scene.zones:
        if zone.kind in {"frontage", "dock"}:
            continue
        bodies = shapely.get_parts(zone.area)
        at = shapely.point_on_surface(bodies[int(np.argmax(shapely.area(bodies)))])
        x, y = sheet.xy(at.x, at.y)
        name = zone.name if len(zone.name) <= 24 else f"{zone.name[:23]}…"  # noqa: PLR2004 - fits
        parts.append(text_svg(name, x, y + 4, size=10.5, look=look))
    rings = [ring for part in shapely.get_parts(assessment.water) for ring in part.interiors]
    for k, ring in enumerate(rings, start=1):
        name = island_name(assessment.field, f"island {k}")
        at = shapely.point_on_surface(shapely.Polygon(ring))
        if not name.startswith("island "):
            x, y = sheet.xy(at.x, at.y)
            parts.append(text_svg(name, x, y + 4, size=10.5, look=look))
    return parts


def _floats(assessment: Assessment, sheet: Sheet) -> list[str]:
    late = {None: 0, "clear": 1, "unknown": 2, "tight": 3, "conflict": 4}
    wind = wind_drawn(assessment)
    order = sorted(assessment.floats, key=lambda one: late[one.verdict])
    parts = [_ring(one, sheet) for one in order if one.verdict is not None]
    parts += [_rig(one, sheet, wind) for one in order]
    parts += [_number(one, sheet, wind) for one in order]
    return parts


def _radius(one: AssessedFloat, sheet: Sheet) -> float:
    metres = one.swing_radius_m[0]
    return _LEAST_CIRCLE if metres is None else max(metres * sheet.scale, _LEAST_CIRCLE)


def _ring(one: AssessedFloat, sheet: Sheet) -> str:
    x, y = sheet.xy(one.x_m, one.y_m)
    at = f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{_radius(one, sheet):.1f}"'
    if one.verdict == "conflict":
        return (
            f'{at} fill="#FFE1DA" fill-opacity="0.78" stroke="#fff" stroke-width="5"/>'
            f'{at} fill="none" stroke="{CONFLICT}" stroke-width="2.8"/>'
        )
    if one.verdict == "tight":
        return (
            f'{at} fill="#FFF3D2" fill-opacity="0.6" stroke="{AMBER}" stroke-width="4"/>'
            f'{at} fill="none" stroke="{TIGHT}" stroke-width="1.9" stroke-dasharray="7 4.5"/>'
        )
    if one.verdict == "unknown":
        return (
            f'{at} fill="none" stroke="{UNKNOWN}" stroke-width="2.2" stroke-dasharray="0.1 4.6"'
            ' stroke-linecap="round"/>'
        )
    return (
        f'{at} fill="none" stroke="#fff" stroke-width="2.6"/>'
        f'{at} fill="none" stroke="{CLEAR}" stroke-width="1.15"/>'
    )


def _rig(one: AssessedFloat, sheet: Sheet, wind: float | None) -> str:
    x, y = sheet.xy(one.x_m, one.y_m)
    lie = lie_of(one, wind)
    hx, hy = sheet.xy(*lie.hook_xy)
    retired = one.verdict is None
    parts = []
    if one.secondary is not None and not retired:
        sx, sy = sheet.xy(one.secondary.x_m, one.secondary.y_m)
        dash = ' stroke-dasharray="3 2"' if one.secondary.assumed else ""
        parts.append(
            f'<path d="M{x:.1f} {y:.1f}L{sx:.1f} {sy:.1f}L{hx:.1f} {hy:.1f}" fill="none"'
            f' stroke="{INK}" stroke-width="1.1"{dash}/>'
        )
        parts.append(
            f'<rect x="{sx - 1.8:.1f}" y="{sy - 1.8:.1f}" width="3.6" height="3.6" fill="#fff"'
            f' stroke="{INK}"/>'
        )
    long_side = max(one.record.length_m, one.record.width_m) * sheet.scale
    short_side = min(one.record.length_m, one.record.width_m) * sheet.scale
    w, h = max(long_side, 7.0), max(short_side, 5.0)
    dash = {"proposed": ' stroke-dasharray="2.2 1.6"', "retired": ' stroke-dasharray="1 2"'}.get(
        one.record.status, ""
    )
    parts.append(
        f'<rect x="{hx - w / 2:.1f}" y="{hy - h / 2:.1f}" width="{w:.1f}" height="{h:.1f}"'
        f' fill="#fff" stroke="{INK}" stroke-width="1.2"{dash}'
        f' transform="rotate({lie.bearing_deg - 90:.1f} {hx:.1f} {hy:.1f})"/>'
    )
    if not retired:
        parts.append(
            f'<rect x="{x - 2.3:.1f}" y="{y - 2.3:.1f}" width="4.6" height="4.6" fill="{INK}"/>'
        )
    return f'<g opacity="{0.55 if retired else 1}">{"".join(parts)}</g>'


def _number(one: AssessedFloat, sheet: Sheet, wind: float | None) -> str:
    x, y = sheet.xy(one.x_m, one.y_m)
    way = math.radians(lie_of(one, wind).bearing_deg)
    off = max(_radius(one, sheet) * 0.5, 8.0)
    x, y = x + math.cos(way) * off, y + math.sin(way) * off + 4
    colour = {"conflict": CONFLICT, "tight": TIGHT, "unknown": UNKNOWN}.get(one.verdict or "", INK)
    name = one.record.float_id if len(one.record.float_id) <= 8 else one.record.float_id[:7] + "…"  # noqa: PLR2004 - fits
    if one.verdict is None:
        return text_svg(f"{name} retired", x, y, size=9.5, look=f'fill="{INK}" opacity="0.75"')
    return text_svg(name, x, y, look=f'font-weight="700" fill="{colour}"')


def _callouts(assessment: Assessment, sheet: Sheet) -> list[str]:
    rings = [
        (*sheet.xy(one.x_m, one.y_m), _radius(one, sheet))
        for one in assessment.floats
        if one.verdict is not None
    ]
    lake = shapely.transform(
        assessment.water,
        lambda xy: np.column_stack(
            [
                sheet.left + (xy[:, 0] - sheet.west) * sheet.scale,
                sheet.top + (sheet.north - xy[:, 1]) * sheet.scale,
            ]
        ),
    )
    placed = place_callouts(assessment, rings, lake, (sheet.width, sheet.height))
    return [_callout(one, sheet) for one in placed]


def _callout(one: Callout, sheet: Sheet) -> str:
    fx, fy = sheet.xy(*one.at_m)
    left, top, right, bottom = one.box
    mx, my = (left + right) / 2, (top + bottom) / 2
    away = math.hypot(mx - fx, my - fy) or 1.0
    r = one.radius_m * sheet.scale
    ex, ey = fx + (mx - fx) / away * r, fy + (my - fy) / away * r
    lines = "".join(
        f'<text x="{left + 8:.1f}" y="{top + 29 + 13 * k:.1f}" font-size="11" fill="{INK}">'
        f"{escape(line)}</text>"
        for k, line in enumerate(one.lines)
    )
    return (
        f'<path d="M{ex:.1f} {ey:.1f}L{mx:.1f} {my:.1f}" stroke="{CONFLICT}" stroke-width="1.6"/>'
        f'<circle cx="{ex:.1f}" cy="{ey:.1f}" r="3.2" fill="{CONFLICT}"/>'
        f'<rect x="{left:.1f}" y="{top:.1f}" width="{right - left:.1f}"'
        f' height="{bottom - top:.1f}" rx="6" fill="#fff" stroke="{CONFLICT}" stroke-width="1.6"/>'
        f'<text x="{left + 8:.1f}" y="{top + 15:.1f}" font-size="11.5" font-weight="700"'
        f' fill="{CONFLICT}">{escape(one.title)}</text>{lines}'
    )


def _scale_bar(sheet: Sheet) -> str:
    feet = _round_length(120 / (sheet.scale * FOOT_M.value))
    metres = _round_length(120 / sheet.scale)
    fw, mw = feet * FOOT_M.value * sheet.scale, metres * sheet.scale
    y = sheet.height - 40
    return (
        f'<g><rect x="8" y="{y - 14:g}" width="{max(fw, mw) + 62:.1f}" height="46" rx="6"'
        ' fill="#fff" fill-opacity="0.9"/>'
        f'<rect x="16" y="{y:g}" width="{fw / 2:.1f}" height="4" fill="{INK}"/>'
        f'<rect x="{16 + fw / 2:.1f}" y="{y:g}" width="{fw / 2:.1f}" height="4" fill="#fff"'
        f' stroke="{INK}" stroke-width="0.8"/>'
        f'<path d="M16 {y + 14:g}H{16 + mw:.1f}M16 {y + 11:g}v6M{16 + mw:.1f} {y + 11:g}v6"'
        f' stroke="{INK}" fill="none"/>'
        f'<text x="{20 + fw:.1f}" y="{y + 5:g}" font-size="11" fill="{INK}">{feet:g} ft</text>'
        f'<text x="{20 + mw:.1f}" y="{y + 18:g}" font-size="11" fill="{INK}">{metres:g} m</text>'
        "</g>"
    )


def _round_length(most: float) -> float:
    """The largest 1, 2 or 5 times a power of ten that is not above a length."""
    power = 10.0 ** math.floor(math.log10(most))
    return max(step * power for step in (1.0, 2.0, 5.0) if step * power <= most)


def _north(sheet: Sheet) -> str:
    x, y = sheet.width - 26, sheet.height - 46
    return (
        f'<path d="M{x} {y}l6 17-6-4-6 4z" fill="{INK}"/>'
        f'<text x="{x}" y="{y + 30}" font-size="11" font-weight="700" text-anchor="middle"'
        f' fill="{INK}">N</text>'
    )
