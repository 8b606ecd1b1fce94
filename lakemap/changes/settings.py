"""What of a field's settings and other files is not as it was."""

from collections.abc import Iterator, Mapping
from dataclasses import fields
from typing import Any

from lakemap.basis.records import Field, Rule, Settings, Soundings
from lakemap.changes.records import FieldChange, Value, What

# longest first: m_s ends in _s too
_UNITS = (("_m_s", "m/s"), ("_years", "years"), ("_deg", "deg"), ("_m", "m"), ("_s", "s"))
_SECTIONS = ("levels", "storm", "wake", "accuracy", "season")
_NOT_TOLD = frozenset({"position_given"})
_FILES = (
    ("wind", "wind"),
    ("levels", "gauge"),
    ("inspections", "inspections"),
    ("fixes", "fixes"),
    ("prices", "prices"),
)
_NOT_COMPARED = frozenset({"by", "row"})  # who inspected is private; a row may move
# what the answers for a float rest on; the rest is for reading
DECIDING = frozenset(
    {
        "levels", "storm", "wake", "accuracy", "rules", "sizing", "units", "lake", "zones",
        "soundings", "wind file",
    }
)  # fmt: skip


def settings_changes(old: Field, new: Field) -> Iterator[FieldChange]:
    """Yield what of field.toml changed.

    Parameters
    ----------
    old, new : Field
        Two versions.

    Yields
    ------
    FieldChange
        In the order of the file.
    """
    before, after = old.settings, new.settings
    if before is after:
        return
    # a field without a name of its own is called after its folder
    named = before.name != old.folder or after.name != new.folder
    yield from _if("name", "", (before.name, after.name)) if named else ()
    yield from _if("units", "", (before.units, after.units))
    yield from _if("crs", "", (before.crs, after.crs))
    for section in _SECTIONS:
        yield from _section(section, getattr(before, section), getattr(after, section))
    yield from _rules(before, after)
    yield from _if("sizing", "holding", (before.holding, after.holding))
    yield from _if("sizing", "people", (before.people, after.people))
    for part in dict.fromkeys((*before.site_weights, *after.site_weights)):
        pair = (before.site_weights.get(part), after.site_weights.get(part))
        yield from _if("sites", part, pair)


def _if(
    topic: str, part: str, pair: tuple[Value, Value], *, name: str = "", unit: str | None = None
) -> Iterator[FieldChange]:
    if pair[0] != pair[1]:
        yield _change(topic, part, pair, name=name, unit=unit)


def _change(  # noqa: PLR0913 - one record
    topic: str,
    part: str,
    pair: tuple[Value, Value],
    *,
    name: str = "",
    unit: str | None = None,
    what: What = "changed",
) -> FieldChange:
    return FieldChange(
        topic=topic, name=name, part=part, what=what, unit=unit, old=pair[0], new=pair[1]
    )


def _section(topic: str, before: Any, after: Any) -> Iterator[FieldChange]:  # noqa: ANN401 - any section
    for one in fields(before):
        if one.name in _NOT_TOLD:
            continue
        suffix, unit = next((s for s in _UNITS if one.name.endswith(s[0])), ("", None))
        pair = (getattr(before, one.name), getattr(after, one.name))
        yield from _if(topic, one.name.removesuffix(suffix), pair, unit=unit)


def _rules(before: Settings, after: Settings) -> Iterator[FieldChange]:
    for kind in dict.fromkeys((*before.rules, *after.rules)):
        old, new = before.rules.get(kind), after.rules.get(kind)
        part, unit = limit_of(kind)
        if old is None or new is None:
            pair = (None if old is None else old.limit, None if new is None else new.limit)
            what: What = "added" if old is None else "taken_away"
            yield _change("rules", part, pair, name=kind, unit=unit, what=what)
        elif old != new:
            yield from _rule(old, new)


def _rule(old: Rule, new: Rule) -> Iterator[FieldChange]:
    part, unit = limit_of(old.kind)
    yield from _if("rules", part, (old.limit, new.limit), name=old.kind, unit=unit)
    yield from _if("rules", "beyond", (old.beyond_m, new.beyond_m), name=old.kind, unit="m")
    yield from _if("rules", "mode", (old.mode, new.mode), name=old.kind)
    yield from _if("rules", "source", (old.source, new.source), name=old.kind)


def limit_of(kind: str) -> tuple[str, str]:
    """Return what field.toml calls the figure of a rule, and its unit in SI."""
    if kind == "deck_area_max":
        return "area", "m2"
    return ("depth" if kind in {"bed", "jump_depth"} else "distance"), "m"


def file_changes(old: Field, new: Field) -> Iterator[FieldChange]:
    """Yield which of the other files hold something else: how many rows, and how many are new.

    Parameters
    ----------
    old, new : Field
        Two versions.

    Yields
    ------
    FieldChange
        What people wrote of each other is not told.
    """
    yield from _soundings(old.soundings, new.soundings)
    for stem, attribute in _FILES:
        before, after = getattr(old, attribute), getattr(new, attribute)
        if before is after:
            continue
        pair = [[_public(row) for row in rows] for rows in (before, after)]
        if pair[0] != pair[1]:
            yield _change(f"{stem} file", "rows", (len(before), len(after)))


def _public(row: Mapping[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in row.items() if name not in _NOT_COMPARED}


def _soundings(before: Soundings | None, after: Soundings | None) -> Iterator[FieldChange]:
    was, now = _rows(before), _rows(after)
    if before is after or was == now:
        return
    yield FieldChange(
        topic="soundings",
        name="",
        part="points",
        what="changed",
        unit=None,
        old=len(was),
        new=len(now),
        gained=len(now - was),
        lost=len(was - now),
    )


def _rows(soundings: Soundings | None) -> set[tuple[float, float, float]]:
    if soundings is None:
        return set()
    one = soundings
    return set(zip(one.lon.tolist(), one.lat.tolist(), one.depth_m.tolist(), strict=True))
