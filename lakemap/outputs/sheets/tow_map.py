"""The way from a float to the ramp, with both clusters under the float: where it is shallowest."""

from typing import Final

import numpy as np

from lakemap.basis.records import FloatArray
from lakemap.basis.wording import length_text
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.drawn.paper import INK, Sheet, cut, north
from lakemap.outputs.drawn.scene import Scene
from lakemap.outputs.sheets.map_floats import (
    BLIND_M,
    faint_svg,
    keep_off_rig,
    neighbours,
    number_svg,
    own_number,
    own_ring,
    rig_svg,
)
from lakemap.outputs.sheets.map_grid import framed_svg
from lakemap.outputs.sheets.map_view import (
    ground_svg,
    margin_boxes,
    north_box,
    view_about,
    zone_rings,
)
from lakemap.outputs.sheets.map_words import Words
from lakemap.outputs.sheets.small_map import HEIGHT, WIDTH, names_svg
from lakemap.outputs.words.texts import Texts
from lakemap.season.facts.tow import Tow

_AIR: Final = 1.25
_LEAST_M: Final = 30.0
_WORDS: Final = 11.0  # px


def tow_svg(
    assessment: Assessment, scene: Scene, one: AssessedFloat, tow: Tow, *, texts: Texts
) -> str:
    """Return the map of a float's way to the ramp.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    scene : Scene
        Of the same field.
    one : AssessedFloat
        That is towed.
    tow : Tow
        Its way.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        One SVG element; texts of files are escaped in it.
    """
    view = view_about(scene, _seen(one, tow), width=WIDTH, height=HEIGHT, prefix=f"tow{one.at}")
    sheet, units = view.sheet, assessment.field.settings.units
    near = neighbours(assessment, one, sheet)
    rings = [own_ring(other, sheet) for other in near]
    way = [sheet.xy(*point) for point in tow.route_xy]
    corner = north_box(
        sheet, [own_ring(one, sheet), *rings, *zone_rings(view), *((*point, 12.0) for point in way)]
    )
    words = Words(sheet, [corner, *margin_boxes(sheet, 3.0)])
    keep_off_rig(words, one, assessment)
    words.keep_off_line(way)
    told = [own_number(words, one)]
    told += _told(words, tow, sheet, shallow=_shallow(tow, assessment, texts))
    told += [number_svg(words, other) for other in near]
    inside = [
        ground_svg(view),
        *map(faint_svg, rings),
        _way_svg(way),
        rig_svg(one, assessment, sheet),
        _shallow_svg(tow, sheet),
        *names_svg(assessment, view, words),
        *told,
        north(sheet, box=corner),
    ]
    return framed_svg(
        view, "".join(inside), units=units, says=texts.of("sheet_frame.tow_short"), texts=texts
    )


def _seen(one: AssessedFloat, tow: Tow) -> FloatArray:
    radius = one.swing_radius_m[0] or BLIND_M
    box = np.array(
        [
            *tow.route_xy,
            (one.x_m - radius, one.y_m - radius),
            (one.x_m + radius, one.y_m + radius),
        ]
    )
    low, high = box.min(axis=0), box.max(axis=0)
    half = np.maximum((high - low) / 2 * _AIR, _LEAST_M)
    seen: FloatArray = np.array([(low + high) / 2 - half, (low + high) / 2 + half])
    return seen


def _shallow(tow: Tow, assessment: Assessment, texts: Texts) -> str:
    depth = length_text(
        max(tow.shallowest_m, 0.0), assessment.field.settings.units, rounding="down"
    )
    return texts.of("sheet_frame.shallowest", depth=depth)


def _told(words: Words, tow: Tow, sheet: Sheet, *, shallow: str) -> list[str]:
    """Where the way is shallowest, and where it ends."""
    told = []
    at = sheet.xy(*tow.shallowest_xy)
    words.keep_off((*at, 8.0))
    told.append(words.about([shallow], at, size=_WORDS, off=10.0))
    end = sheet.xy(*tow.route_xy[-1])
    told.append(words.about([cut(tow.target)], end, size=_WORDS, off=9.0))
    return told


def _way_svg(way: list[tuple[float, float]]) -> str:
    """The way as a thick dashed line on white, with a bar where it ends."""
    d = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in way)
    x, y = way[-1]
    return (
        f'<path d="{d}" fill="none" stroke="#fff" stroke-width="5" stroke-linejoin="round"/>'
        f'<path d="{d}" fill="none" stroke="{INK}" stroke-width="2.4" stroke-dasharray="8 4"'
        ' stroke-linejoin="round"/>'
        f'<rect x="{x - 4:.1f}" y="{y - 4:.1f}" width="8" height="8" fill="#fff" stroke="{INK}"'
        f' stroke-width="2" transform="rotate(45 {x:.1f} {y:.1f})"/>'
    )


def _shallow_svg(tow: Tow, sheet: Sheet) -> str:
    x, y = sheet.xy(*tow.shallowest_xy)
    return (
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="6" fill="#fff" fill-opacity="0.7" stroke="{INK}"'
        ' stroke-width="2"/>'
        f'<path d="M{x - 3.5:.1f} {y:.1f}h7" stroke="{INK}" stroke-width="2"/>'
    )
