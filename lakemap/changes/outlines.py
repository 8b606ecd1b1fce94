"""What of the lake and its zones is not as it was, and which outline is which."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import shapely

from lakemap.assessment import Assessment
from lakemap.basis.records import Geometry, Zone
from lakemap.changes.records import SAME_M, FieldChange, Value, What
from lakemap.clearances.records import PlacedZone

_SAME_DEG = 1e-9  # 0.1 mm
_Match = tuple[PlacedZone | None, PlacedZone | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlines:
    """The lake and the zones of both versions, matched."""

    changes: tuple[FieldChange, ...]
    lake_changed: bool
    zones_changed: Mapping[tuple[str, str], What]  # by kind and label
    names: Mapping[tuple[str, str], str]  # old kind and name -> the new name, where they differ


def outline_changes(old: Assessment, new: Assessment) -> Outlines:
    """Return what of the lake and its zones changed.

    Parameters
    ----------
    old, new : Assessment
        Of one lake.

    Returns
    -------
    Outlines
        Areas in square metres of the new version's projection.
    """
    lake = tuple(_of_lake(old, new))
    matched = [] if old.field.zones is new.field.zones else list(_matched(old, new))
    told = [(pair, tuple(_of_zone(*pair, old, new))) for pair in matched]
    changed: dict[tuple[str, str], What] = {
        (one.zone.kind, one.zone.label): changes[0].what
        for pair, changes in told
        if changes
        for one in pair
        if one is not None
    }
    names: dict[tuple[str, str], str] = {
        (a.zone.kind, a.zone.label): b.zone.label
        for a, b in matched
        if a is not None and b is not None and a.zone.label != b.zone.label
    }
    if any(change.part == "outline" for change in lake):
        names |= _islands(old, new)
    return Outlines(
        changes=(*lake, *(change for _, changes in told for change in changes)),
        lake_changed=any(change.part == "outline" for change in lake),
        zones_changed=changed,
        names=names,
    )


def _of_lake(old: Assessment, new: Assessment) -> Iterator[FieldChange]:
    before, after = old.field, new.field
    if not _is_same(before.lake, after.lake):
        change = _outline("lake", "", new.projection.project(before.lake), new.water)
        if change is not None:
            yield change
    if before.island_names != after.island_names:
        names = [", ".join(filter(None, one.island_names)) or None for one in (before, after)]
        if names[0] != names[1]:
            yield _change("lake", "", "islands", *names)


def _is_same(a: Geometry, b: Geometry) -> bool:
    """Whether two outlines have the same corners, wherever their rings begin."""
    if a is b:
        return True
    one, other = shapely.normalize(a), shapely.normalize(b)
    return bool(shapely.equals_exact(one, other, tolerance=_SAME_DEG))


def _outline(topic: str, name: str, before: Geometry, after: Geometry) -> FieldChange | None:
    """How two areas differ; None where no eye could tell."""
    gained = float(shapely.area(shapely.difference(after, before)))
    lost = float(shapely.area(shapely.difference(before, after)))
    if gained + lost <= SAME_M * float(shapely.length(after)):
        return None
    return FieldChange(
        topic=topic,
        name=name,
        part="outline",
        what="changed",
        unit="m2",
        old=float(shapely.area(before)),
        new=float(shapely.area(after)),
        gained=gained,
        lost=lost,
    )


def _change(topic: str, name: str, part: str, old: Value, new: Value) -> FieldChange:
    unit = "m" if part in {"clearance", "width"} else None
    return FieldChange(
        topic=topic, name=name, part=part, what="changed", unit=unit, old=old, new=new
    )


def _matched(old: Assessment, new: Assessment) -> Iterator[_Match]:
    """Zones of one kind and name belong together; one without a name is known by its outline."""
    groups: dict[tuple[str, str, str], tuple[list[PlacedZone], list[PlacedZone]]] = defaultdict(
        lambda: ([], [])
    )
    for side, zones in enumerate((old.zones, new.zones)):
        for placed in zones:
            zone = placed.zone
            own = "" if _is_unnamed(zone) else zone.label
            groups[zone.kind, own, (zone.lot or "").strip().casefold()][side].append(placed)
    for (_, name, _), (before, after) in groups.items():
        yield from _paired(before, after, must_touch=not name)


def _is_unnamed(zone: Zone) -> bool:
    return zone.label == f"zones row {zone.row}"


def _paired(
    before: Sequence[PlacedZone], after: Sequence[PlacedZone], *, must_touch: bool
) -> Iterator[_Match]:
    """The same outlines first, then the rest in their order."""
    rest = list(after)
    left = []
    for one in before:
        same = next((b for b in rest if _is_same(one.zone.geometry, b.zone.geometry)), None)
        if same is None:
            left.append(one)
        else:
            rest.remove(same)
            yield one, same
    for one in left:
        near = next((b for b in rest if not must_touch or _touch(one, b)), None)
        if near is not None:
            rest.remove(near)
        yield one, near
    for one in rest:
        yield None, one


def _touch(one: PlacedZone, other: PlacedZone) -> bool:
    return bool(shapely.intersects(one.zone.geometry, other.zone.geometry))


def _of_zone(
    before: PlacedZone | None, after: PlacedZone | None, old: Assessment, new: Assessment
) -> Iterator[FieldChange]:
    if before is None or after is None:
        one = after or before
        if one is not None:
            yield FieldChange(
                topic="zones",
                name=one.zone.label,
                part="",
                what="taken_away" if after is None else "added",
                unit=None,
                old=before.zone.kind if before is not None else None,
                new=after.zone.kind if after is not None else None,
            )
        return
    a, b = before.zone, after.zone
    if not _is_same(a.geometry, b.geometry):
        shape = before.shape
        if old.projection != new.projection:
            shape = new.projection.project(a.geometry)
        change = _outline("zones", b.label, _area(shape, a), _area(after.shape, b))
        if change is not None:
            yield change
    for part, was, now in (
        ("width", a.width_m, b.width_m),
        ("clearance", a.clearance_m, b.clearance_m),
        ("source", a.source, b.source),
    ):
        if was != now:
            yield _change("zones", b.label, part, was, now)


def _area(shape: Geometry, zone: Zone) -> Geometry:
    """The water that a zone covers: of a line, its width; the same for both if it has changed."""
    return shape if zone.width_m is None else shapely.buffer(shape, zone.width_m / 2)


def _islands(old: Assessment, new: Assessment) -> dict[tuple[str, str], str]:
    """Old islands as the new version numbers them: those that they share ground with."""
    before, after = _holes(new.projection.project(old.field.lake)), _holes(new.water)
    tree = shapely.STRtree(after)
    names = {}
    for k, hole in enumerate(before, start=1):
        found = tree.query(hole, predicate="intersects").tolist()
        to = f"island {min(found) + 1}" if found else f"island {k} as it was"
        if to != f"island {k}":
            names["island", f"island {k}"] = to
    return names


def _holes(water: Geometry) -> list[Geometry]:
    """Islands in the order of their numbers."""
    return [shapely.Polygon(ring) for part in shapely.get_parts(water) for ring in part.interiors]
