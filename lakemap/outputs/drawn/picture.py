"""The field as one static picture: SVG without scripts, styles or anything from elsewhere."""

from collections.abc import Sequence
from html import escape
from typing import Final

import shapely

from lakemap.mapping import Assessment
from lakemap.outputs.drawn.callouts import place_callouts
from lakemap.outputs.drawn.key import WATER
from lakemap.outputs.drawn.paper import (
    INK,
    Box,
    Sheet,
    area_svg,
    corner_boxes,
    fit,
    line_svg,
    north,
    scale_bar,
)
from lakemap.outputs.drawn.picture_floats import callout_svg, floats_svg, retired_boxes, ring_of
from lakemap.outputs.drawn.picture_names import write_depths, write_names
from lakemap.outputs.drawn.scene import Scene, ZoneDrawing
from lakemap.outputs.words.texts import ENGLISH, Texts
from lakemap.outputs.words.verdicts import worst_floats

MOST_FLOATS: Final = 400  # on paper more are a blot; the worst are shown
_WIDTH: Final = 744.0  # px, of the picture
_ZONE, _SHORE, _CONTOUR, _LAND = "#2F4A45", "#3F525C", "#3E7391", "#F2F1EC"
_PATTERNS: Final = {
    "swim_area": (6, f'<circle cx="3" cy="3" r="0.8" fill="{_ZONE}"/>'),
    "intake": (6, f'<path d="M0 3H6M3 0V6" stroke="{_ZONE}" stroke-width="0.8"/>'),
    "hazard": (7, f'<path d="M0 7L7 0" stroke="{_ZONE}" stroke-width="0.8"/>'),
    "no_float": (8, f'<path d="M0 8L8 0M0 0L8 8" stroke="{_ZONE}" stroke-width="0.8"/>'),
    "bare": (9, '<path d="M0 9L9 0" stroke="#8B969C" stroke-width="0.8"/>'),
}


def field_svg(
    assessment: Assessment,
    scene: Scene,
    *,
    height: float = 400.0,
    prefix: str = "pic",
    texts: Texts = ENGLISH,
) -> str:
    """Return the picture of a field.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    scene : Scene
        Of the same field.
    height : float
        Of the picture [px]; it is 744 px wide.
    prefix : str
        Of the names of its patterns: letters; two pictures in one page take different ones.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        One SVG element; the same assessment gives the same text.
    """
    sheet = fit(scene, width=_WIDTH, height=height, prefix=prefix)
    return sheet_svg(assessment, scene, sheet, texts=texts)


def sheet_svg(assessment: Assessment, scene: Scene, sheet: Sheet, *, texts: Texts = ENGLISH) -> str:
    """Return the picture of a field on a sheet of any size.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    scene : Scene
        Of the same field.
    sheet : Sheet
        With the picture's size, and where the lake lies on it.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        One SVG element; the same assessment gives the same text.
    """
    size = f"{sheet.width:g}", f"{sheet.height:g}"
    corners = corner_boxes(sheet, [ring_of(one, sheet) for one in assessment.floats])
    label = escape(texts.of("sheet.picture", field=assessment.field.settings.name))
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size[0]} {size[1]}" role="img"'
        f' aria-label="{label}" font-family="system-ui, sans-serif">',
        patterns_svg(sheet),
        f'<rect width="{size[0]}" height="{size[1]}" fill="{_LAND}"/>',
        *lake_svg(scene, sheet),
        *(zone_svg(zone, sheet) for zone in scene.zones),
        area_svg(scene.water, sheet, f'fill="none" stroke="{_SHORE}" stroke-width="1.6"'),
        *_floats_and_words(assessment, scene, sheet, texts, corners),
        scale_bar(sheet, corners[0]),
        north(sheet, letter=texts.of("map.north"), box=corners[1]),
        "</svg>",
    ]
    return "".join(parts)


def patterns_svg(sheet: Sheet) -> str:
    """Return the patterns that zones are filled with.

    Parameters
    ----------
    sheet : Sheet
        With the prefix of their names.

    Returns
    -------
    str
        SVG.
    """
    patterns = "".join(
        f'<pattern id="{sheet.prefix}-{name}" width="{size}" height="{size}"'
        f' patternUnits="userSpaceOnUse">{inside}</pattern>'
        for name, (size, inside) in _PATTERNS.items()
    )
    return f"<defs>{patterns}</defs>"


def lake_svg(scene: Scene, sheet: Sheet) -> list[str]:
    """Return water, depth colours, contours, and what was not sounded.

    Parameters
    ----------
    scene : Scene
        Of the field.
    sheet : Sheet
        That it is drawn on.

    Returns
    -------
    list of str
        SVG.
    """
    parts = [area_svg(scene.water, sheet, f'fill="{WATER[0]}"')]
    parts += [
        area_svg(band, sheet, f'fill="{WATER[k]}"')
        for k, band in enumerate(scene.bands[1:], start=1)
    ]
    parts += [
        line_svg(
            contour.lines, sheet, f'stroke="{_CONTOUR}" stroke-width="{1.0 if k % 2 else 0.7}"'
        )
        for k, contour in enumerate(scene.contours)
    ]
    if not scene.bare.is_empty:
        parts.append(area_svg(scene.bare, sheet, 'fill="#E6E8E7"'))
        parts.append(area_svg(scene.bare, sheet, f'fill="url(#{sheet.prefix}-bare)"'))
    return parts


def zone_svg(zone: ZoneDrawing, sheet: Sheet) -> str:
    """Return one zone by its kind, with the line of the distance to keep from it.

    Parameters
    ----------
    zone : ZoneDrawing
        Of a scene.
    sheet : Sheet
        That it is drawn on.

    Returns
    -------
    str
        SVG.
    """
    line = f'stroke="{_ZONE}"'
    if zone.kind == "frontage":
        look = f'fill="none" {line} stroke-width="0.8" stroke-dasharray="3 3" opacity="0.38"'
        return area_svg(zone.area, sheet, look)
    if zone.kind in {"ramp", "dock"}:
        return area_svg(zone.area, sheet, 'fill="#5C5750"')
    parts = []
    if zone.keep_m > 0:
        keep = shapely.buffer(zone.area, zone.keep_m, quad_segs=8)
        look = f'fill="none" {line} stroke-dasharray="1 3.4" stroke-linecap="round"'
        parts.append(area_svg(keep, sheet, look))
    is_channel = zone.kind == "channel"
    wash = f'fill="#fff" fill-opacity="{0.38 if is_channel else 0.5}"'
    parts.append(area_svg(zone.area, sheet, wash))
    fill = f"url(#{sheet.prefix}-{zone.kind})" if zone.kind in _PATTERNS else "none"
    dash = ' stroke-dasharray="10 5"' if is_channel else ""
    parts.append(area_svg(zone.area, sheet, f'fill="{fill}" {line} stroke-width="1.5"{dash}'))
    return "".join(parts)


def _floats_and_words(
    assessment: Assessment, scene: Scene, sheet: Sheet, texts: Texts, corners: Sequence[Box]
) -> list[str]:
    """Names under the floats, callouts over them; what is written later takes the room left."""
    shown = worst_floats(assessment, MOST_FLOATS)
    place = {id(one): ring_of(one, sheet) for one in shown}
    rings = list(place.values())
    fixed = [*corners, *retired_boxes(assessment, shown, sheet, texts=texts)]
    names = write_names(assessment.field, scene, sheet, taken=fixed, rings=rings)
    taken = [*fixed, *(one.box for one in names)]
    callouts = place_callouts(assessment, place, sheet, taken, texts=texts)
    taken += [one.box for one in callouts]
    depths = write_depths(scene, sheet, taken=taken, rings=rings)
    return [
        f'<g fill="{INK}">{"".join(one.svg for one in depths)}</g>',
        *(one.svg for one in names),
        *floats_svg(assessment, shown, sheet, texts=texts),
        *(callout_svg(one) for one in callouts),
    ]
