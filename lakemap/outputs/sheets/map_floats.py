"""Floats on a small map: the sheet's own in ink, its neighbours faint."""

import math
from typing import Final

from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.drawn.paper import INK, Ring, Sheet, cut
from lakemap.outputs.drawn.scene import lie_of, wind_drawn
from lakemap.outputs.sheets.map_words import Words

BLIND_M: Final = 8.0  # radius drawn about a float whose circle nobody knows
_FAINT: Final = "#46565F"


def own_ring(one: AssessedFloat, sheet: Sheet) -> Ring:
    """Return a float's low-water circle, middle and radius [px]; where none is known, a small one.

    Parameters
    ----------
    one : AssessedFloat
        Of an assessment.
    sheet : Sheet
        That it is drawn on.

    Returns
    -------
    tuple of float
        x, y, radius.
    """
    radius = one.swing_radius_m[0] if one.verdict is not None else one.corner_m
    return (*sheet.xy(one.x_m, one.y_m), (radius or BLIND_M) * sheet.scale)


def neighbours(assessment: Assessment, one: AssessedFloat, sheet: Sheet) -> list[AssessedFloat]:
    """Return the other floats of which something lies inside a map's frame, retired ones left out.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    one : AssessedFloat
        The map's own.
    sheet : Sheet
        The map inside its frame.

    Returns
    -------
    list of AssessedFloat
        In file order.
    """
    return [
        other
        for other in assessment.floats
        if other.at != one.at
        and other.verdict is not None
        and _is_seen(own_ring(other, sheet), sheet)
    ]


def _is_seen(ring: Ring, sheet: Sheet) -> bool:
    x, y, radius = ring
    return math.hypot(max(-x, x - sheet.width, 0.0), max(-y, y - sheet.height, 0.0)) < radius


def faint_svg(ring: Ring) -> str:
    """Return a neighbour's circle."""
    x, y, radius = ring
    return (
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius:.1f}" fill="none" stroke="{_FAINT}"'
        ' stroke-width="0.9"/>'
    )


def rig_svg(one: AssessedFloat, assessment: Assessment, sheet: Sheet) -> str:
    """Return a float's circles, clusters, chain and deck.

    Parameters
    ----------
    one : AssessedFloat
        Of the assessment.
    assessment : Assessment
        For the wind that floats are drawn lying in.
    sheet : Sheet
        That it is drawn on.

    Returns
    -------
    str
        SVG: swing circle at low water solid, walk circle dashed.
    """
    x, y, radius = own_ring(one, sheet)
    known = one.swing_radius_m[0] is not None
    dots = "" if known else ' stroke-dasharray="0.1 4.6" stroke-linecap="round"'
    middle = f'cx="{x:.1f}" cy="{y:.1f}"'
    parts = [
        f'<circle {middle} r="{radius:.1f}" fill="none" stroke="#fff" stroke-width="5"/>'
        f'<circle {middle} r="{radius:.1f}" fill="none" stroke="{INK}" stroke-width="2.2"{dots}/>'
    ]
    if one.walk_radius_m:
        parts.append(
            f'<circle {middle} r="{one.walk_radius_m * sheet.scale:.1f}" fill="none"'
            f' stroke="{INK}" stroke-dasharray="5 3"/>'
        )
    lie = lie_of(one, wind_drawn(assessment))
    hook = sheet.xy(*lie.hook_xy)
    sides = sorted((one.record.length_m * sheet.scale, one.record.width_m * sheet.scale))
    wide, high = max(sides[1], 9.0), max(sides[0], 6.0)
    parts.append(
        f'<rect x="{hook[0] - wide / 2:.1f}" y="{hook[1] - high / 2:.1f}" width="{wide:.1f}"'
        f' height="{high:.1f}" fill="#fff" fill-opacity="0.85" stroke="{INK}" stroke-width="1.2"'
        f' transform="rotate({lie.bearing_deg - 90:.1f} {hook[0]:.1f} {hook[1]:.1f})"/>'
    )
    if one.secondary is not None:
        sx, sy = sheet.xy(one.secondary.x_m, one.secondary.y_m)
        dash = ' stroke-dasharray="3 2"' if one.secondary.assumed else ""
        parts.append(
            f'<path d="M{x:.1f} {y:.1f}L{sx:.1f} {sy:.1f}L{hook[0]:.1f} {hook[1]:.1f}"'
            f' fill="none" stroke="{INK}" stroke-width="1.6"{dash}/>'
            f'<rect x="{sx - 3:.1f}" y="{sy - 3:.1f}" width="6" height="6" fill="#fff"'
            f' stroke="{INK}" stroke-width="1.3"/>'
        )
    parts.append(
        f'<rect x="{x - 4.5:.1f}" y="{y - 4.5:.1f}" width="9" height="9" fill="{INK}"'
        ' stroke="#fff" stroke-width="1.5"/>'
    )
    return "".join(parts)


def keep_off_rig(words: Words, one: AssessedFloat, assessment: Assessment) -> None:
    """Keep words off a float's clusters, chain and deck.

    Parameters
    ----------
    words : Words
        Of the map.
    one : AssessedFloat
        Of the assessment.
    assessment : Assessment
        For the wind that floats are drawn lying in.
    """
    sheet = words.sheet
    hook = sheet.xy(*lie_of(one, wind_drawn(assessment)).hook_xy)
    line = [sheet.xy(one.x_m, one.y_m), hook]
    if one.secondary is not None:
        line.insert(1, sheet.xy(one.secondary.x_m, one.secondary.y_m))
    words.keep_off_line(line)
    words.keep_off((*hook, max(one.corner_m * sheet.scale, 6.0)))


def own_number(words: Words, one: AssessedFloat) -> str:
    """Return the float's own number inside its circle, which no later word may enter.

    Parameters
    ----------
    words : Words
        Of the map; what the circle holds is kept off already.
    one : AssessedFloat
        The map's own.

    Returns
    -------
    str
        SVG; empty where the circle has no room for it.
    """
    x, y, radius = own_ring(one, words.sheet)
    off = 0.3 * radius
    number = words.about([cut(one.record.float_id)], (x, y), size=14.0, off=off, must=False)
    words.keep_off((x, y, radius))
    return number


def number_svg(words: Words, other: AssessedFloat) -> str:
    """Return a neighbour's number in the middle of its circle, where that is free."""
    x, y, _ = own_ring(other, words.sheet)
    return words.about([cut(other.record.float_id)], (x, y), size=11.0, must=False)
