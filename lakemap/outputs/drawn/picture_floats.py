"""The floats on the picture: circle, clusters, deck and number; the callouts of the worst."""

import math
from collections.abc import Sequence
from html import escape
from typing import Final

from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.drawn.callouts import Callout
from lakemap.outputs.drawn.marks import INK as VERDICT_INK
from lakemap.outputs.drawn.marks import MARK_WIDTH, mark_group
from lakemap.outputs.drawn.paper import INK, Box, Ring, Sheet, box_about, text_svg, text_width
from lakemap.outputs.drawn.scene import lie_of, wind_drawn
from lakemap.outputs.words.texts import ENGLISH, Texts

CONFLICT, TIGHT, AMBER = VERDICT_INK["conflict"], VERDICT_INK["tight"], "#FFC44A"
_LEAST_CIRCLE: Final = 7.0  # px; a smaller one is drawn so large
_LONGEST_NUMBER: Final = 8
_RETIRED: Final = 9.5  # px, letters of the words at a retired float
_LATE: Final = {None: 0, "clear": 1, "unknown": 2, "tight": 3, "conflict": 4}


def ring_of(one: AssessedFloat, sheet: Sheet) -> Ring:
    """Return a float's low-water circle, middle and radius [px]; of a retired one its room."""
    metres = None if one.verdict is None else one.swing_radius_m[0]
    radius = _LEAST_CIRCLE if metres is None else max(metres * sheet.scale, _LEAST_CIRCLE)
    return (*sheet.xy(one.x_m, one.y_m), radius)


def floats_svg(
    assessment: Assessment,
    shown: Sequence[AssessedFloat],
    sheet: Sheet,
    *,
    texts: Texts = ENGLISH,
) -> list[str]:
    """Return the floats, the worst drawn last, so on top.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    shown : sequence of AssessedFloat
        Those to be drawn.
    sheet : Sheet
        That they are drawn on.
    texts : Texts
        Of the language.

    Returns
    -------
    list of str
        SVG: all circles, then all rigs, then all numbers.
    """
    wind = wind_drawn(assessment)
    order = sorted(shown, key=lambda one: _LATE[one.verdict])
    parts = [_ring(one, sheet) for one in order if one.verdict is not None]
    parts += [_rig(one, sheet, wind) for one in order]
    parts += [_number(one, sheet, wind, texts) for one in order]
    return parts


def _ring(one: AssessedFloat, sheet: Sheet) -> str:
    x, y, radius = ring_of(one, sheet)
    at = f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius:.1f}"'
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
            f'{at} fill="none" stroke="{VERDICT_INK["unknown"]}" stroke-width="2.2"'
            ' stroke-dasharray="0.1 4.6" stroke-linecap="round"/>'
        )
    return (
        f'{at} fill="none" stroke="#fff" stroke-width="2.6"/>'
        f'{at} fill="none" stroke="{VERDICT_INK["clear"]}" stroke-width="1.15"/>'
    )


def _rig(one: AssessedFloat, sheet: Sheet, wind: float | None) -> str:
    x, y = sheet.xy(one.x_m, one.y_m)
    hx, hy = sheet.xy(*lie_of(one, wind).hook_xy)
    if one.verdict is None:
        return f'<g opacity="0.55">{_deck(one, sheet, wind)}</g>'
    primary = f'<rect x="{x - 2.3:.1f}" y="{y - 2.3:.1f}" width="4.6" height="4.6" fill="{INK}"/>'
    if one.secondary is None:
        return _deck(one, sheet, wind) + primary
    sx, sy = sheet.xy(one.secondary.x_m, one.secondary.y_m)
    dash = ' stroke-dasharray="3 2"' if one.secondary.assumed else ""
    line = (
        f'<path d="M{x:.1f} {y:.1f}L{sx:.1f} {sy:.1f}L{hx:.1f} {hy:.1f}" fill="none"'
        f' stroke="{INK}" stroke-width="1.1"{dash}/>'
    )
    second = (
        f'<rect x="{sx - 1.8:.1f}" y="{sy - 1.8:.1f}" width="3.6" height="3.6" fill="#fff"'
        f' stroke="{INK}"/>'
    )
    return line + second + _deck(one, sheet, wind) + primary


def _deck(one: AssessedFloat, sheet: Sheet, wind: float | None) -> str:
    """The deck to scale, never too small to be seen, turned to lie in the wind drawn."""
    lie = lie_of(one, wind)
    x, y = sheet.xy(*lie.hook_xy)
    sides = sorted((one.record.length_m * sheet.scale, one.record.width_m * sheet.scale))
    w, h = max(sides[1], 7.0), max(sides[0], 5.0)
    dash = {"proposed": ' stroke-dasharray="2.2 1.6"', "retired": ' stroke-dasharray="1 2"'}.get(
        one.record.status, ""
    )
    return (
        f'<rect x="{x - w / 2:.1f}" y="{y - h / 2:.1f}" width="{w:.1f}" height="{h:.1f}"'
        f' fill="#fff" stroke="{INK}" stroke-width="1.2"{dash}'
        f' transform="rotate({lie.bearing_deg - 90:.1f} {x:.1f} {y:.1f})"/>'
    )


def retired_boxes(
    assessment: Assessment,
    shown: Sequence[AssessedFloat],
    sheet: Sheet,
    *,
    texts: Texts = ENGLISH,
) -> list[Box]:
    """Return the room that the words at retired floats take.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    shown : sequence of AssessedFloat
        Those that are drawn.
    sheet : Sheet
        That they are drawn on.
    texts : Texts
        Of the language.

    Returns
    -------
    list of tuple
        Boxes [px].
    """
    wind, boxes = wind_drawn(assessment), []
    for one in shown:
        if one.verdict is None:
            x, y = _number_place(one, sheet, wind)
            wide = text_width(texts.of("map.retired", float=one.record.float_id), _RETIRED)
            boxes.append(box_about(x, y - _RETIRED / 3, wide, _RETIRED + 4))
    return boxes


def _number_place(one: AssessedFloat, sheet: Sheet, wind: float | None) -> tuple[float, float]:
    """Beside the rig, at a right angle to it; the middle of the base line."""
    x, y, radius = ring_of(one, sheet)
    way = math.radians(lie_of(one, wind).bearing_deg)
    off = max(radius * 0.5, 8.0)
    return x + math.cos(way) * off, y + math.sin(way) * off + 4


def _number(one: AssessedFloat, sheet: Sheet, wind: float | None, texts: Texts) -> str:
    x, y = _number_place(one, sheet, wind)
    name = one.record.float_id
    if len(name) > _LONGEST_NUMBER:
        name = name[: _LONGEST_NUMBER - 1] + "…"
    if one.verdict is None:
        gone = texts.of("map.retired", float=name)
        return text_svg(gone, x, y, size=_RETIRED, look=f'fill="{INK}" opacity="0.75"')
    colour = INK if one.verdict == "clear" else VERDICT_INK[one.verdict]
    return text_svg(name, x, y, look=f'font-weight="700" fill="{colour}"')


def callout_svg(one: Callout) -> str:
    """Return a callout: a dot where the trouble is, a leader, a box with mark, name and length.

    Parameters
    ----------
    one : Callout
        Placed.

    Returns
    -------
    str
        SVG.
    """
    left, top, right, bottom = one.box
    ex, ey = one.points_at
    mx, my = (left + right) / 2, (top + bottom) / 2
    lines = "".join(
        f'<text x="{left + 8:.1f}" y="{top + 29 + 13 * k:.1f}" font-size="11" fill="{INK}">'
        f"{escape(line)}</text>"
        for k, line in enumerate(one.lines)
    )
    return (
        f'<path d="M{ex:.1f} {ey:.1f}L{mx:.1f} {my:.1f}" stroke="#fff" stroke-width="3.6"/>'
        f'<path d="M{ex:.1f} {ey:.1f}L{mx:.1f} {my:.1f}" stroke="{CONFLICT}" stroke-width="1.6"/>'
        f'<circle cx="{ex:.1f}" cy="{ey:.1f}" r="3.2" fill="{CONFLICT}"/>'
        f'<rect x="{left:.1f}" y="{top:.1f}" width="{right - left:.1f}"'
        f' height="{bottom - top:.1f}" rx="6" fill="#fff" stroke="{CONFLICT}" stroke-width="1.6"/>'
        f"{mark_group('conflict', left + 6, top + 4)}"
        f'<text x="{left + 10 + MARK_WIDTH:.1f}" y="{top + 15:.1f}" font-size="11.5"'
        f' font-weight="700" fill="{CONFLICT}">{escape(one.title)}</text>{lines}'
    )
