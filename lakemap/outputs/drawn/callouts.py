"""Callouts: the worst conflicts named on the picture, on land or empty water."""

import math
import re
import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from lakemap.basis.records import FloatArray, Geometry
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.drawn.letters import width
from lakemap.outputs.drawn.marks import MARK_WIDTH
from lakemap.outputs.drawn.paper import Box, Ring, Sheet, text_width
from lakemap.outputs.words.clearances import clearance_line, short_sentence
from lakemap.outputs.words.texts import ENGLISH, Texts
from lakemap.outputs.words.verdicts import sorted_floats, verdict_sentence

MOST: Final = 6
# letters to a line and lines at most: the next where a box of the one before finds no room
_SHAPES: Final = ((26, 3), (20, 4), (40, 2))
_STEP: Final = 6.0  # px between the places that are tried
_CELL: Final = 4.0  # px, the squares by which covered water is counted
_EDGE: Final = 4.0  # px from the picture's edge
_AIR: Final = 1.0  # px between a box and a circle
_FARTHEST: Final = 240.0  # px of leader; a longer one would lead nobody
_NEAREST: Final = 12.0  # px of leader that cost nothing more than less
# What a place costs: a px of leader; to cover a zone, water; to cross a circle.
_LONG, _HIDES, _WET, _CROSSES = 1.5, 500.0, 140.0, 120.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Callout:
    """One callout and where it stands."""

    title: str
    lines: tuple[str, ...]
    points_at: tuple[float, float]  # [px]
    box: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class _Room:
    """What stands on the sheet already."""

    rings: FloatArray  # [n, 3]
    wet: FloatArray  # cells of water, summed from the corner
    zones: FloatArray  # the same for zones


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wanted:
    """A conflict that is to be named."""

    one: AssessedFloat
    other: str  # the second float's number, where two share the callout
    title: str
    shapes: tuple[tuple[str, ...], ...]  # its lines, the first shape best


def place_callouts(
    assessment: Assessment,
    place: Mapping[int, Ring],
    sheet: Sheet,
    taken: Sequence[Box],
    *,
    texts: Texts = ENGLISH,
) -> list[Callout]:
    """Return at most six callouts, worst conflict first; a pair of floats shares one.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    place : mapping
        Middle and radius of every swing circle shown [px], by the float's identity; not to be
        covered.
    sheet : Sheet
        That they stand on.
    taken : sequence of tuple
        Boxes that are not free [px].
    texts : Texts
        Of the language.

    Returns
    -------
    list of Callout
        Those that found room.
    """
    room = _room(assessment, list(place.values()), sheet)
    numbers = {one.record.float_id: place.get(id(one)) for one in assessment.floats}
    full, placed = list(taken), list[Callout]()
    for wanted in _wanted(assessment, texts):
        ring, other = place[id(wanted.one)], numbers.get(wanted.other)
        found = [
            (*_best(ring, _boxes(_size(wanted.title, lines), sheet, full), room, placed), lines)
            for lines in wanted.shapes
        ]
        # the first shape, unless a later one spares a crossing or is the only one with room
        _, box, lines = min(found, key=lambda one: one[0])
        if box is None:
            continue
        full.append(box)
        at = _towards_box(ring, box) if other is None else _between(ring, other)
        placed.append(Callout(title=wanted.title, lines=lines, points_at=at, box=box))
    return placed


def _size(title: str, lines: Sequence[str]) -> tuple[float, float]:
    """A box's width as most fonts ask for it, more where a wide one would run over; its height."""
    usual = [
        text_width(title, 11.5) + MARK_WIDTH,
        *(text_width(line, 9.5) for line in lines),
    ]
    wide = [
        width(title, 11.5, bold=True) + MARK_WIDTH + 2,
        *(width(line, 11) for line in lines),
    ]
    return max(max(usual) + 16, max(wide) + 12), 22.0 + 13 * len(lines)


def _wanted(assessment: Assessment, texts: Texts) -> list[_Wanted]:
    """The worst conflicts with their words."""
    wanted: list[_Wanted] = []
    seen: set[frozenset[str]] = set()
    for one in sorted_floats(assessment):
        if one.verdict != "conflict" or len(wanted) >= MOST:
            continue
        worst = one.clearances[0] if one.clearances else None
        number, other = one.record.float_id, ""
        title, says = (
            texts.of("call.float", float=number),
            verdict_sentence(one, assessment, texts=texts),
        )
        if worst is not None and worst.kind == "float":
            other, pair = worst.against, frozenset((number, worst.against))
            if pair in seen:
                continue
            seen.add(pair)
            title = texts.of("call.floats", float=number, other=other)
            says = clearance_line(worst, assessment.field, texts=texts).detail
        short = short_sentence(says, texts=texts)
        # a figure and its unit stay on one line
        whole = re.sub(r"(?<=\d) (?=[a-z])", "\N{NO-BREAK SPACE}", short)
        shapes = tuple(
            tuple(textwrap.wrap(whole, wide, max_lines=deep, placeholder=" …"))
            for wide, deep in _SHAPES
        )
        wanted.append(_Wanted(one=one, other=other, title=title, shapes=shapes))
    return wanted


def _room(assessment: Assessment, rings: Sequence[Ring], sheet: Sheet) -> _Room:
    # islands count as water: a box would hide their shore
    lake = [shapely.Polygon(part.exterior) for part in shapely.get_parts(assessment.water)]
    plain = {"frontage", "channel"}  # wide water, no worse to cover than any other
    zones = [placed.shape for placed in assessment.zones if placed.zone.kind not in plain]
    return _Room(
        rings=np.array(rings, dtype=float).reshape(-1, 3),
        wet=_sums(sheet.shape(shapely.union_all(lake)), sheet),
        zones=_sums(sheet.shape(shapely.union_all(zones)), sheet),
    )


def _sums(shape: Geometry, sheet: Sheet) -> FloatArray:
    """How many cells, from the sheet's corner up to each, lie in a shape; [rows, columns]."""
    x = np.arange(_CELL / 2, sheet.width, _CELL)
    y = np.arange(_CELL / 2, sheet.height, _CELL)
    shapely.prepare(shape)
    inside = shapely.intersects_xy(shape, *(axis.ravel() for axis in np.meshgrid(x, y)))
    table = np.cumsum(np.cumsum(inside.reshape(len(y), len(x)), axis=0), axis=1)
    return np.pad(table, ((1, 0), (1, 0))).astype(float)


def _share(sums: FloatArray, boxes: FloatArray) -> FloatArray:
    """The share of each box that lies in a shape, shape [k]."""
    left, top, right, bottom = np.rint(boxes / _CELL).astype(int).T
    last = np.array(sums.shape) - 1
    right, bottom = np.minimum(right, last[1]), np.minimum(bottom, last[0])
    inside = sums[bottom, right] - sums[top, right] - sums[bottom, left] + sums[top, left]
    share: FloatArray = inside / ((right - left) * (bottom - top))
    return share


def _boxes(size: tuple[float, float], sheet: Sheet, taken: Sequence[Box]) -> FloatArray:
    """All boxes of a size that lie free on the sheet, shape [k, 4]."""
    left = np.arange(_EDGE, sheet.width - _EDGE - size[0], _STEP)
    top = np.arange(_EDGE, sheet.height - _EDGE - size[1], _STEP)
    x, y = (axis.ravel() for axis in np.meshgrid(left, top))
    boxes = np.column_stack([x, y, x + size[0], y + size[1]])
    for box in taken:
        meets = (boxes[:, 0] < box[2]) & (boxes[:, 2] > box[0])
        boxes = boxes[~(meets & (boxes[:, 1] < box[3]) & (boxes[:, 3] > box[1]))]
    return boxes


def _best(
    ring: Ring, boxes: FloatArray, room: _Room, placed: Sequence[Callout]
) -> tuple[float, Box | None]:
    """The box that hides little and lies near its circle, and how many callouts it crosses.

    None, and infinitely many, where every box covers a circle or lies too far off.
    """
    far = _apart(boxes, np.array([ring]))[:, 0] - ring[2]
    free = np.all(_apart(boxes, room.rings) >= room.rings[:, 2] + _AIR, axis=1)
    fit = np.asarray(free & (far <= _FARTHEST))
    if not fit.any():
        return math.inf, None
    boxes, far = boxes[fit], far[fit]
    tangles = _tangles(ring, boxes, placed)
    boxes, far = boxes[tangles == tangles.min()], far[tangles == tangles.min()]
    others = room.rings[np.any(room.rings != np.array(ring), axis=1)]
    crossed = np.sum(_off_leader(ring, boxes, others) < others[:, 2], axis=1)
    costs = (
        _LONG * np.maximum(far, _NEAREST)
        + _CROSSES * crossed
        + _WET * _share(room.wet, boxes)
        + _HIDES * _share(room.zones, boxes)
    )
    left, top, right, bottom = boxes[int(np.argmin(costs))].tolist()
    return float(tangles.min()), (left, top, right, bottom)


def _tangles(ring: Ring, boxes: FloatArray, placed: Sequence[Callout]) -> FloatArray:
    """How many of the callouts that stand already each box or its leader would cross, shape [k]."""
    middles = (boxes[:, :2] + boxes[:, 2:]) / 2
    starts = np.broadcast_to(np.array(ring[:2]), middles.shape)
    leaders = shapely.linestrings(np.stack([starts, middles], axis=1))
    bodies, count = shapely.box(*boxes.T), np.zeros(len(boxes))
    for one in placed:
        left, top, right, bottom = one.box
        middle = ((left + right) / 2, (top + bottom) / 2)
        leader, body = shapely.LineString([one.points_at, middle]), shapely.box(*one.box)
        meets = shapely.intersects(leaders, body) | shapely.intersects(leaders, leader)
        count += meets | shapely.intersects(bodies, leader)
    return count


def _apart(boxes: FloatArray, rings: FloatArray) -> FloatArray:
    """From boxes to the middles of circles, shape [k, n]."""
    x, y = rings[:, 0], rings[:, 1]
    dx = np.maximum(np.maximum(boxes[:, [0]] - x, x - boxes[:, [2]]), 0.0)
    dy = np.maximum(np.maximum(boxes[:, [1]] - y, y - boxes[:, [3]]), 0.0)
    return np.hypot(dx, dy)


def _off_leader(ring: Ring, boxes: FloatArray, rings: FloatArray) -> FloatArray:
    """From straight leaders, circle to box, to the middles of other circles, shape [k, n]."""
    dx = (boxes[:, [0]] + boxes[:, [2]]) / 2 - ring[0]
    dy = (boxes[:, [1]] + boxes[:, [3]]) / 2 - ring[1]
    x, y = rings[:, 0] - ring[0], rings[:, 1] - ring[1]
    share = np.clip((x * dx + y * dy) / np.maximum(dx * dx + dy * dy, 1e-9), 0.0, 1.0)
    return np.hypot(x - share * dx, y - share * dy)


def _towards_box(ring: Ring, box: Box) -> tuple[float, float]:
    """The point of a circle's edge that is nearest to the middle of a box."""
    x, y, r = ring
    dx, dy = (box[0] + box[2]) / 2 - x, (box[1] + box[3]) / 2 - y
    share = r / max(math.hypot(dx, dy), r)
    return x + dx * share, y + dy * share


def _between(ring: Ring, other: Ring) -> tuple[float, float]:
    """The middle between the edges of two circles, on the line of their middles."""
    dx, dy = other[0] - ring[0], other[1] - ring[1]
    apart = max(math.hypot(dx, dy), 1e-9)
    share = (ring[2] + (apart - other[2])) / 2 / apart
    return ring[0] + dx * share, ring[1] + dy * share
