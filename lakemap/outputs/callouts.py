"""Callouts: the worst conflicts named on the picture, on land or empty water."""

import math
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import shapely

from lakemap.basis.records import Geometry
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.words import clearance_line, sorted_floats, verdict_sentence

MOST: Final = 6
_LETTERS: Final = 30
_Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Callout:
    """One callout and where it stands."""

    title: str
    lines: tuple[str, ...]
    at_m: tuple[float, float]  # the float's primary
    radius_m: float
    box: _Box  # left, top, right, bottom [px]


def place_callouts(
    assessment: Assessment,
    rings: Sequence[tuple[float, float, float]],
    lake: Geometry,
    size: tuple[float, float],
) -> list[Callout]:
    """Return at most six callouts, worst conflict first; a pair of floats shares one.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    rings : sequence of tuple
        Middle and radius of every swing circle [px], not to be covered.
    lake : shapely geometry
        The water in pixels.
    size : tuple of float
        Width and height of the picture [px].

    Returns
    -------
    list of Callout
        Those that found room.
    """
    taken: list[_Box] = [(0, size[1] - 60, 190, size[1]), (size[0] - 50, size[1] - 60, *size)]
    place = {
        id(one): ring
        for one, ring in zip(
            [one for one in assessment.floats if one.verdict is not None], rings, strict=True
        )
    }
    placed = []
    for one, title, lines in _wanted(assessment):
        width = max(len(title) * 6.6, *(len(line) * 5.7 for line in lines)) + 18
        height = 22.0 + 13 * len(lines)
        box = _best(place[id(one)], (width, height), (rings, taken, lake), size)
        if box is None:
            continue
        taken.append(box)
        placed.append(
            Callout(
                title=title,
                lines=lines,
                at_m=(one.x_m, one.y_m),
                radius_m=one.swing_radius_m[0] or 0.0,
                box=box,
            )
        )
    return placed


def _wanted(assessment: Assessment) -> list[tuple[AssessedFloat, str, tuple[str, ...]]]:
    """The worst conflicts with their words."""
    wanted: list[tuple[AssessedFloat, str, tuple[str, ...]]] = []
    seen: set[frozenset[str]] = set()
    for one in sorted_floats(assessment):
        if one.verdict != "conflict" or len(wanted) >= MOST:
            continue
        worst = one.clearances[0] if one.clearances else None
        title, says = f"float {one.record.float_id}", verdict_sentence(one, assessment)
        if worst is not None and worst.kind == "float":
            pair = frozenset((one.record.float_id, worst.against))
            if pair in seen:
                continue
            seen.add(pair)
            title = f"floats {one.record.float_id} and {worst.against}"
            says = clearance_line(worst, assessment.field).detail
        short = says.removesuffix(".").removesuffix(" at low water")
        wanted.append((one, title, tuple(textwrap.wrap(short, _LETTERS)[:3])))
    return wanted


def _best(
    ring: tuple[float, float, float],
    size: tuple[float, float],
    room: tuple[Sequence[tuple[float, float, float]], list[_Box], Geometry],
    sheet: tuple[float, float],
) -> _Box | None:
    """The place around a circle that covers least; None if there is no room."""
    rings, taken, lake = room
    x, y, r = ring
    best: tuple[float, _Box] | None = None
    for step in range(24):
        angle = 2 * math.pi * step / 24
        for far in (22.0, 50.0, 90.0, 140.0):
            mx = x + math.cos(angle) * (r + far + size[0] / 2 * abs(math.cos(angle)))
            my = y + math.sin(angle) * (r + far + size[1] / 2)
            box = (mx - size[0] / 2, my - size[1] / 2, mx + size[0] / 2, my + size[1] / 2)
            if box[0] < 4 or box[1] < 4 or box[2] > sheet[0] - 4 or box[3] > sheet[1] - 4:  # noqa: PLR2004 - the picture's edge
                continue
            if any(_meet(box, other) for other in taken):
                continue
            covered = sum(_covers(box, other) for other in rings)
            wet = 60.0 if shapely.intersects_xy(lake, mx, my) else 0.0
            cost = far * 0.6 + 400.0 * covered + wet
            if best is None or cost < best[0]:
                best = cost, box
    return None if best is None else best[1]


def _meet(a: _Box, b: _Box) -> bool:
    return a[0] < b[2] and a[2] > b[0] and a[1] < b[3] and a[3] > b[1]


def _covers(box: _Box, ring: tuple[float, float, float]) -> bool:
    x, y, r = ring
    dx, dy = max(box[0] - x, 0.0, x - box[2]), max(box[1] - y, 0.0, y - box[3])
    return math.hypot(dx, dy) < r
