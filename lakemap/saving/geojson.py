"""GeoJSON: some features changed, added or taken away; every other sign as it was."""

import json
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from types import MappingProxyType
from typing import Any, Final

import shapely

from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.records import Geometry
from lakemap.saving.cells import Written
from lakemap.saving.json_text import Group, Layout, as_json, first_value, group_at, layout_of
from lakemap.saving.splices import Splice, spliced

DEGREE_DIGITS: Final = 9  # 0.1 mm
EMPTY: Final = '{"type": "FeatureCollection", "features": []}\n'
_COUNT = re.compile(r"0|-?[1-9][0-9]{0,14}")


@dataclass(frozen=True, slots=True, kw_only=True)
class FeatureChange:
    """New properties or a new shape of one feature."""

    row: int | None = None  # place among the features; None: a new one
    properties: Mapping[str, Written] = field(default_factory=lambda: MappingProxyType({}))
    geometry: Geometry = None  # in the file's coordinates; None: as it is
    digits: int = DEGREE_DIGITS


@dataclass(frozen=True, slots=True, kw_only=True)
class Features:
    """A collection's text and where its features stand in it."""

    text: str
    array: Group
    features: tuple[Group, ...]
    crs: str | None  # as the file declares it; None: WGS 84


def features_of(text: str, file: str) -> Features:
    """Find the features of a GeoJSON text.

    Parameters
    ----------
    text : str
        Without a mark.
    file : str
        For the message.

    Returns
    -------
    Features
        In the order in which they stand.

    Raises
    ------
    BadInputError
        If it is no collection of features.
    """
    try:
        whole = json.loads(text)
        top = group_at(text, first_value(text))
        held = top.get("features")
        if whole.get("type") != "FeatureCollection" or held is None:
            raise ValueError("no collection")  # noqa: TRY301 - told below with the rest
        array = group_at(text, held.start)
        features = tuple(group_at(text, item.start) for item in array.items)
        crs = None if whole.get("crs") is None else str(whole["crs"]["properties"]["name"])
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        said = (
            "the file is no FeatureCollection that can be changed in place; export it as one;"
            " nothing was written"
        )
        raise BadInputError([Problem(code="bad_layer", text=said, file=file)]) from None
    return Features(text=text, array=array, features=features, crs=crs)


def edited_geojson(
    held: Features, changes: Sequence[FeatureChange], *, removed: Iterable[int] = ()
) -> str:
    """Return the text with some features changed.

    Parameters
    ----------
    held : Features
        As found.
    changes : sequence of FeatureChange
        New features come at the end, in this order, set out as the last one is.
    removed : iterable of int
        Places of features to take away.

    Returns
    -------
    str
        The new text.
    """
    text, gone = held.text, set(removed)
    changed = {
        one.row: _changed(text, held.features[one.row], one)
        for one in changes
        if one.row is not None
    }
    made = [_new(held, one) for one in changes if one.row is None]
    if not gone and not made:
        flat = [splice for splices in changed.values() for splice in splices]
        return spliced(text, flat)
    layout = layout_of(text, held.array)
    if not held.features:
        layout = Layout(opening="\n", parting=",\n", closing="\n")
    gaps = ["", *(text[a.end : b.start] for a, b in pairwise(held.features))]
    pieces: list[str] = []
    for row, one in enumerate(held.features):
        if row not in gone:
            piece = _piece(text, one, changed.get(row, []))
            pieces.append((gaps[row] or layout.parting) * bool(pieces) + piece)
    pieces += [layout.parting * bool(pieces or n) + one for n, one in enumerate(made)]
    inner = layout.opening + "".join(pieces) + layout.closing if pieces else ""
    return f"{text[: held.array.start]}[{inner}]{text[held.array.end :]}"


def _piece(text: str, group: Group, splices: Sequence[Splice[str]]) -> str:
    moved = [Splice(one.start - group.start, one.end - group.start, one.new) for one in splices]
    return spliced(text[group.start : group.end], moved)


def _changed(text: str, feature: Group, change: FeatureChange) -> list[Splice[str]]:
    """Splices of one feature."""
    splices = _properties(text, feature, change.properties)
    geometry = feature.get("geometry")
    if change.geometry is not None:
        new = _geometry(text, feature, change)
        if geometry is None:
            splices.append(_more(text, feature, [(as_json("geometry"), new)]))
        else:
            splices.append(Splice(geometry.start, geometry.end, new))
    return splices


def _properties(text: str, feature: Group, new: Mapping[str, Written]) -> list[Splice[str]]:
    """Splices of a feature's properties."""
    held = feature.get("properties")
    if held is None or text[held.start] != "{":
        members = [(as_json(key), _value(cell, None)) for key, cell in new.items() if cell.text]
        if not members:
            return []
        shown = Layout().of_object(members)
        if held is None:
            return [_more(text, feature, [(as_json("properties"), shown)])]
        return [Splice(held.start, held.end, shown)]
    group = group_at(text, held.start)
    splices = []
    added = []
    for key, cell in new.items():
        item = group.get(key)
        if item is not None:
            old = json.loads(text[item.start : item.end])
            splices.append(Splice(item.start, item.end, _value(cell, old)))
        elif cell.text:
            added.append((as_json(key), _value(cell, None)))
    return [*splices, _more(text, group, added)] if added else splices


def _more(text: str, group: Group, members: Sequence[tuple[str, str]]) -> Splice[str]:
    """Put members at an object's end."""
    layout = layout_of(text, group)
    if not group.items:
        return Splice(group.start, group.end, layout.of_object(members))
    shown = "".join(f"{layout.parting}{key}{layout.colon}{value}" for key, value in members)
    return Splice(group.items[-1].end, group.items[-1].end, shown)


def _value(cell: Written, old: object) -> str:
    """Return a property's value, a number where one stood or where it is measured."""
    numeric = isinstance(old, (int, float)) and not isinstance(old, bool)
    if not cell.text:
        return "null"
    if cell.kind == "number" and not isinstance(old, str):
        return cell.text
    if numeric and cell.kind == "text" and _COUNT.fullmatch(cell.text):
        return cell.text  # a float's or a lot's number
    return as_json(cell.text)


def _geometry(text: str, feature: Group, change: FeatureChange) -> str:
    """Return a shape's text; a point's is set out as the old one, what is no x or y kept."""
    shape, item = change.geometry, feature.get("geometry")
    if shape.geom_type == "Point" and item is not None and text[item.start] == "{":
        old = group_at(text, item.start)
        at = old.get("coordinates")
        if json.loads(text[item.start : item.end]).get("type") == "Point" and at is not None:
            held = group_at(text, at.start).items
            kept = held[2:] if change.row is not None else ()  # another one's height is not its own
            new = [f"{value:.{change.digits}f}" for value in (shape.x, shape.y)]
            shown = layout_of(text, group_at(text, at.start)).parting.join(
                [*new, *(text[one.start : one.end] for one in kept)]
            )
            splice = Splice(held[0].start - item.start, held[-1].end - item.start, shown)
            return spliced(text[item.start : item.end], [splice])
    return geometry_text(shape, change.digits)


def geometry_text(shape: Geometry, digits: int = DEGREE_DIGITS) -> str:
    """Return a shape as GeoJSON on one line."""
    coordinates = _coordinates(shapely.geometry.mapping(shape)["coordinates"], digits)
    return f'{{"type": "{shape.geom_type}", "coordinates": {coordinates}}}'


def _coordinates(held: Any, digits: int) -> str:  # noqa: ANN401 - numbers, nested at will
    if isinstance(held, (int, float)):
        return f"{held:.{digits}f}"
    return "[" + ", ".join(_coordinates(one, digits) for one in held) + "]"


def _new(held: Features, change: FeatureChange) -> str:
    """Return a new feature, set out as the last one is."""
    text = held.text
    if not held.features:
        shown = [
            (as_json(key), _value(cell, None))
            for key, cell in change.properties.items()
            if cell.text
        ]
        members = {
            "type": '"Feature"',
            "properties": Layout().of_object(shown),
            "geometry": geometry_text(change.geometry, change.digits),
        }
        return Layout().of_object([(as_json(key), value) for key, value in members.items()])
    pattern = held.features[-1]
    made = {
        "type": '"Feature"',
        "properties": _like_the_last(held, change.properties),
        "geometry": _geometry(text, pattern, change),
    }
    order = [one.key for one in pattern.items if one.key in made]
    keys = [key for key in dict.fromkeys([*order, *made]) if key is not None]
    return layout_of(text, pattern).of_object([(as_json(key), made[key]) for key in keys])


def _like_the_last(held: Features, new: Mapping[str, Written]) -> str:
    """Return properties in the last feature's order; keys that all have stand there, too."""
    text, item = held.text, held.features[-1].get("properties")
    if item is None or text[item.start] != "{":
        shown = [(as_json(key), _value(cell, None)) for key, cell in new.items() if cell.text]
        return Layout().of_object(shown)
    group = group_at(text, item.start)
    everywhere = set.intersection(*(_keys(text, one) for one in held.features))
    members = {}
    for one in group.items:
        key = str(one.key)
        old = json.loads(text[one.start : one.end])
        if key in new or key in everywhere:
            members[key] = _value(new[key], old) if key in new else "null"
    members |= {
        key: _value(cell, None) for key, cell in new.items() if key not in members and cell.text
    }
    return layout_of(text, group).of_object([(as_json(k), v) for k, v in members.items()])


def _keys(text: str, feature: Group) -> set[str | None]:
    """Keys of a feature's properties."""
    item = feature.get("properties")
    if item is None or text[item.start] != "{":
        return set()
    return {one.key for one in group_at(text, item.start).items}
