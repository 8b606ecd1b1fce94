"""A drawing's shapes as geometry in metres: what crosses, what lies outside, how large it is."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely

from lakemap.basis.records import FloatArray, Geometry
from lakemap.lake.water import inside
from lakemap.planner.ground_drawing import KIND_NAMES, Drawing, DrawnShape, Finding

_LEAST_CORNERS: Final = {True: 2, False: 3}
_STEPS: Final = {"outline": "outline", "island": "islands"}
_WIDEST_M: Final = 200_000.0  # ours: no lake with swim floats is longer
_PLACE: Final = re.compile(r"\[([-+\d.e]+) ([-+\d.e]+)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembled:
    """The drawing's geometry, all in metres."""

    water: Geometry | None  # multipolygon; None: no sound outline yet
    island_names: tuple[str | None, ...]  # polygons in order, holes in order
    zones: tuple[tuple[DrawnShape, Geometry], ...]  # those that are sound
    sizes: dict[str, dict[str, float]]  # area_m2 and length_m by a shape's key
    findings: tuple[Finding, ...]


def assemble(drawing: Drawing) -> Assembled:
    """Make geometry of a drawing and say what is wrong with it.

    Parameters
    ----------
    drawing : Drawing
        As the page sent it.

    Returns
    -------
    Assembled
        Findings that stop a save, and cautions.
    """
    found: list[Finding] = list(drawing.findings)
    made: dict[str, Geometry] = {}
    sizes: dict[str, dict[str, float]] = {}
    for shape in drawing.shapes:
        told = list(_form(shape))
        found += told
        if not told:
            made[shape.key] = _geometry(shape)
        sizes[shape.key] = _size(shape, made.get(shape.key))
    water: Geometry | None = None
    names: tuple[str | None, ...] = ()
    outlines, islands = drawing.of_kind("outline"), drawing.of_kind("island")
    if all(one.key in made for one in (*outlines, *islands)):
        told = [*_outlines_wrong(outlines, made), *_islands_wrong(outlines, islands, made)]
        found += told
        if outlines and not told:
            water, names = _water(outlines, islands, made)
    found += _zones(drawing, made, water)
    found += _depths(drawing, water)
    return Assembled(
        water=water,
        island_names=names,
        zones=tuple((one, made[one.key]) for one in drawing.zones if one.key in made),
        sizes=sizes,
        findings=tuple(found),
    )


def called(shape: DrawnShape) -> str:
    """Return what a sentence calls a shape.

    Parameters
    ----------
    shape : DrawnShape
        With or without a name.

    Returns
    -------
    str
        Its name, or what it is.
    """
    return shape.name or f"the {KIND_NAMES.get(shape.kind, shape.kind)}"


def _step(shape: DrawnShape) -> str:
    return _STEPS.get(shape.kind, "areas")


def _form(shape: DrawnShape) -> Iterator[Finding]:
    """What a shape lacks by itself."""
    name, step = called(shape), _step(shape)
    if not shape.lines:
        yield Finding(text=f"{name} has no corners", step=step, shape=shape.key)
    for line in shape.lines:
        count, least = len(np.unique(line, axis=0)), _LEAST_CORNERS[shape.is_line]
        if count < least:
            many = f"{count} corner{'s' * (count != 1)}"
            text = f"{name} has {many} at different places; it needs {least} at least"
            yield Finding(text=text, step=step, shape=shape.key)
        elif not shape.is_line:
            yield from _crossing(shape, line)


def _crossing(shape: DrawnShape, line: FloatArray) -> Iterator[Finding]:
    """Where a ring crosses or touches itself."""
    area = shapely.polygons(line)
    if shapely.is_valid(area) and area.area > 0:
        return
    where = _PLACE.search(str(shapely.is_valid_reason(area)))
    at = None if where is None else (float(where.group(1)), float(where.group(2)))
    said = "crosses or touches itself; move a corner so that it runs around once"
    if shapely.convex_hull(area).area == 0:
        said = "has no area: its corners lie on one line"
    yield Finding(text=f"{called(shape)} {said}", step=_step(shape), shape=shape.key, at=at)


def _geometry(shape: DrawnShape) -> Geometry:
    """Lines as they are; rings as an area, a ring within another as its hole."""
    if shape.is_line:
        return shapely.linestrings(shape.lines[0]) if len(shape.lines) == 1 else _lines(shape)
    if len(shape.lines) == 1:
        return shapely.polygons(shape.lines[0])
    rings = [shapely.linearrings(line) for line in shape.lines]
    area = shapely.build_area(shapely.geometrycollections(rings))
    return area if area.geom_type == "MultiPolygon" else shapely.multipolygons([area])


def _lines(shape: DrawnShape) -> Geometry:
    return shapely.multilinestrings([shapely.linestrings(line) for line in shape.lines])


def _size(shape: DrawnShape, made: Geometry | None) -> dict[str, float]:
    closed = [
        line if shape.is_line or not len(line) else np.vstack([line, line[:1]])
        for line in shape.lines
    ]
    length = sum(float(np.hypot(*np.diff(line, axis=0).T).sum()) for line in closed)
    area = 0.0 if made is None else float(made.area)
    return {"area_m2": area, "length_m": length}


def _outlines_wrong(outlines: list[DrawnShape], made: dict[str, Geometry]) -> Iterator[Finding]:
    """Outlines that overlap, or are larger than any lake."""
    for k, one in enumerate(outlines):
        west, south, east, north = made[one.key].bounds
        if max(east - west, north - south) > _WIDEST_M:
            text = f"{called(one)} is over {_WIDEST_M / 1e3:.0f} km long; is the scale right?"
            yield Finding(text=text, step="outline", shape=one.key)
        for other in outlines[:k]:
            if shapely.intersects(made[one.key], made[other.key]):
                text = "two outlines overlap or touch; draw one lake as one outline"
                yield Finding(text=text, step="outline", shape=one.key)


def _islands_wrong(
    outlines: list[DrawnShape], islands: list[DrawnShape], made: dict[str, Geometry]
) -> Iterator[Finding]:
    """Islands outside the shore, or on one another."""
    for k, one in enumerate(islands):
        if not any(shapely.contains_properly(made[out.key], made[one.key]) for out in outlines):
            text = f"{called(one)} reaches the shore or lies outside it; move it into the lake"
            yield Finding(text=text, step="islands", shape=one.key)
        for other in islands[:k]:
            if shapely.intersects(made[one.key], made[other.key]):
                text = f"{called(one)} and {called(other)} overlap or touch; draw them as one"
                yield Finding(text=text, step="islands", shape=one.key)


def _water(
    outlines: list[DrawnShape], islands: list[DrawnShape], made: dict[str, Geometry]
) -> tuple[Geometry, tuple[str | None, ...]]:
    parts, names = [], []
    for out in outlines:
        held = [one for one in islands if shapely.contains(made[out.key], made[one.key])]
        parts.append(shapely.Polygon(out.lines[0], [one.lines[0] for one in held]))
        names += [one.name or None for one in held]
    return shapely.multipolygons(parts), tuple(names)


def _zones(
    drawing: Drawing, made: dict[str, Geometry], water: Geometry | None
) -> Iterator[Finding]:
    """What zones lack for their kind, and what looks odd."""
    names = [shape.name.casefold() for shape in drawing.zones if shape.name]
    for shape in drawing.zones:
        for text in _lacks(drawing, shape):
            yield Finding(text=text, step="areas", shape=shape.key)
        if shape.name and names.count(shape.name.casefold()) > 1:
            text = f"{shape.name} is the name of two areas; messages won't tell them apart"
            yield Finding(text=text, step="areas", shape=shape.key, stops=False)
        if water is not None and shape.key in made and not _near(shape, made[shape.key], water):
            text = f"{called(shape)} lies on land altogether; nothing can come near it there"
            yield Finding(text=text, step="areas", shape=shape.key, stops=False)


def _lacks(drawing: Drawing, shape: DrawnShape) -> Iterator[str]:
    name = called(shape)
    told = any(one.shape == shape.key for one in drawing.findings)
    if shape.is_line and not shape.width_m and not told:
        yield f"{name} is a line: type its whole width"
    if shape.kind == "frontage" and shape.is_line:
        yield f"{name} is drawn as a line; a frontage is an area of water"
    elif shape.kind == "frontage" and not shape.lot:
        yield f"{name} belongs to a lot: type its number or name"


def _near(shape: DrawnShape, made: Geometry, water: Geometry) -> bool:
    return bool(shapely.dwithin(made, water, (shape.width_m or 0.0) / 2 + 1e-6))


def _depths(drawing: Drawing, water: Geometry | None) -> Iterator[Finding]:
    """Depth points on land, or twice at one place."""
    xy, known = drawing.depth_xy, np.isfinite(drawing.depth_m)
    if water is not None and known.any():
        for k in np.flatnonzero(known & ~inside(water, xy)).tolist():
            text = "a depth point lies on land; it will not be used"
            yield Finding(text=text, step="depths", at=(xy[k, 0], xy[k, 1]), stops=False)
    _, first, count = np.unique(xy, axis=0, return_index=True, return_counts=True)
    for k in first[count > 1].tolist():
        text = "two depth points lie at one place; take one away"
        yield Finding(text=text, step="depths", at=(xy[k, 0], xy[k, 1]))
