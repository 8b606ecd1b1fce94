"""Names and depths written on the picture where there is room for them."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from lakemap.basis.records import Field, Geometry
from lakemap.outputs.drawn.paper import (
    Box,
    Ring,
    Sheet,
    box_about,
    box_is_free,
    cut,
    text_svg,
    text_width,
)
from lakemap.outputs.drawn.scene import Scene, ZoneDrawing, lines_of
from lakemap.outputs.words.clearances import island_name

_NAME: Final = 10.5  # px, letters of names
_LINE: Final = 12.0  # px, from one line of a name to the next
_ONE_LINE: Final = 11  # letters; a longer name of several words takes two lines
_DEPTH: Final = 10.0  # px, letters of depths
_APART: Final = 250.0  # px from one depth to the next along a contour
_CLEAR: Final = 15.0  # px from a depth to any circle
_SHORTEST: Final = 90.0  # px of contour that takes a depth
_LOOK: Final = 'font-weight="600" fill="#2F4A45"'


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """One name or depth and the room that it takes."""

    svg: str
    box: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wanted:
    """A name and where it may stand, best place first."""

    lines: tuple[str, ...]
    places: tuple[tuple[float, float], ...]
    must: bool  # stands on the last place even where that isn't free


def write_names(
    field: Field, scene: Scene, sheet: Sheet, *, taken: Sequence[Box], rings: Sequence[Ring]
) -> list[Written]:
    """Return the names of zones and islands, clear of circles and of one another.

    Parameters
    ----------
    field : Field
        With the islands' names.
    scene : Scene
        Of the same field.
    sheet : Sheet
        That they are written on.
    taken : sequence of tuple
        Boxes that are not free [px].
    rings : sequence of tuple
        Swing circles, middle and radius [px].

    Returns
    -------
    list of Written
        A name that finds no room is left out; a swim area's and an intake's never is.
    """
    written: list[Written] = []
    for wanted in _wanted_names(field, scene, sheet):
        full = [*taken, *(one.box for one in written)]
        width = max(text_width(line, _NAME) for line in wanted.lines) + 4
        height = _LINE * len(wanted.lines) + 2
        boxes = [(place, box_about(*place, width, height)) for place in wanted.places]
        free = [pair for pair in boxes if box_is_free(pair[1], full, rings, sheet)]
        if not free and not wanted.must:
            continue
        place, box = (free or boxes[-1:])[0]
        written.append(Written(svg=_lines_svg(wanted.lines, *place), box=box))
    return written


def _lines_svg(lines: tuple[str, ...], x: float, y: float) -> str:
    first = y + 4 - (len(lines) - 1) * _LINE / 2
    return "".join(
        text_svg(line, x, first + k * _LINE, size=_NAME, look=_LOOK) for k, line in enumerate(lines)
    )


def _wanted_names(field: Field, scene: Scene, sheet: Sheet) -> Iterator[_Wanted]:
    for zone in scene.zones:
        if zone.kind in {"frontage", "dock"}:
            continue
        places = _along(zone, sheet) if zone.middle is not None else _about(zone, scene, sheet)
        must = zone.kind in {"swim_area", "intake"}
        yield _Wanted(lines=two_lines(cut(zone.name)), places=tuple(places), must=must)
    islands = [ring for part in shapely.get_parts(scene.water) for ring in part.interiors]
    for k, ring in enumerate(islands, start=1):
        name = island_name(field, f"island {k}")
        if not name.startswith("island "):
            at = shapely.point_on_surface(shapely.Polygon(ring))
            x, y = sheet.xy(at.x, at.y)
            yield _Wanted(
                lines=two_lines(cut(name)), places=((x, y), (x, y + 22), (x, y - 22)), must=False
            )


def two_lines(name: str) -> tuple[str, ...]:
    """Return a name as it stands on a picture: a long one in two lines of like length.

    Parameters
    ----------
    name : str
        Of a zone or an island.

    Returns
    -------
    tuple of str
        One or two lines.
    """
    gaps = [k for k, sign in enumerate(name) if sign == " " and k > 0]
    if len(name) <= _ONE_LINE or not gaps:
        return (name,)
    best = min(gaps, key=lambda k: abs(k - len(name) / 2))
    return name[:best], name[best + 1 :]


def _along(zone: ZoneDrawing, sheet: Sheet) -> list[tuple[float, float]]:
    """Places on a line's own middle, from its half outwards."""
    lines = [shapely.LineString(line) for line in lines_of(sheet.shape(zone.middle))]
    longest = max(lines, key=shapely.length)
    shares = sorted(np.linspace(0.1, 0.9, 17), key=lambda share: abs(share - 0.5))
    points = [shapely.line_interpolate_point(longest, share, normalized=True) for share in shares]
    return [(point.x, point.y) for point in points]


def _about(zone: ZoneDrawing, scene: Scene, sheet: Sheet) -> list[tuple[float, float]]:
    """Places in a zone and beside it, those on land first."""
    bodies = shapely.get_parts(sheet.shape(zone.area))
    body = bodies[int(np.argmax(shapely.area(bodies)))]
    at = shapely.point_on_surface(body)
    left, top, right, bottom = shapely.bounds(body).tolist()
    lines = two_lines(cut(zone.name))
    half = max(text_width(line, _NAME) for line in lines) / 2 + 6
    high = _LINE * len(lines) / 2 + 4
    beside = [(at.x, top - high), (at.x, bottom + high), (right + half, at.y), (left - half, at.y)]
    water = sheet.shape(scene.water)
    beside.sort(key=lambda place: bool(shapely.intersects_xy(water, *place)))
    fits = right - left > 1.3 * half and bottom - top > 1.6 * high
    return [(at.x, at.y), *beside] if fits else [*beside, (at.x, at.y)]


def write_depths(
    scene: Scene, sheet: Sheet, *, taken: Sequence[Box], rings: Sequence[Ring]
) -> list[Written]:
    """Return the depths along the contours, clear of circles, names and callouts.

    Parameters
    ----------
    scene : Scene
        Of the field.
    sheet : Sheet
        That they are written on.
    taken : sequence of tuple
        Boxes that are not free [px].
    rings : sequence of tuple
        Swing circles, middle and radius [px].

    Returns
    -------
    list of Written
        About one in 250 px of contour; none where there is no room.
    """
    wide = [(x, y, r + _CLEAR) for x, y, r in rings]
    written: list[Written] = []
    for contour in scene.contours:
        for steps in lines_of(sheet.shape(contour.lines)):
            line = shapely.LineString(steps)
            for tries in _runs(float(shapely.length(line))):
                full = [*taken, *(one.box for one in written)]
                spots = [_depth(contour.label, line, run) for run in tries]
                free = [one for one in spots if box_is_free(one.box, full, wide, sheet)]
                written += free[:1]
    return written


def _runs(length: float) -> list[list[float]]:
    """Where on a line of a length its depths are tried [px from its start]."""
    count = int(length // _APART) if length >= _APART else int(length >= _SHORTEST)
    middles = [(k + 0.5) * length / count for k in range(count)]
    return [
        [min(max(middle + shift, 0.0), length) for shift in (0, 35, -35, 70, -70)]
        for middle in middles
    ]


def _depth(label: str, line: Geometry, run: float) -> Written:
    """One depth that lies along its contour, head up."""
    before, at, behind = (
        shapely.line_interpolate_point(line, max(run + step, 0.0)) for step in (-12, 0, 12)
    )
    turn = math.degrees(math.atan2(behind.y - before.y, behind.x - before.x))
    turn = (turn + 90.0) % 180.0 - 90.0  # never upside down
    width = text_width(label, _DEPTH)
    along, across = abs(math.cos(math.radians(turn))), abs(math.sin(math.radians(turn)))
    look = f'fill="#1A4560" transform="rotate({turn:.0f} {at.x:.1f} {at.y:.1f})"'
    svg = text_svg(label, at.x, at.y + 3.5, size=_DEPTH, look=look)
    box = box_about(
        at.x, at.y, along * width + across * _DEPTH + 4, across * width + along * _DEPTH + 4
    )
    return Written(svg=svg, box=box)
