"""What changed of a field beside its floats, a line each."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from lakemap.basis.records import Units
from lakemap.basis.wording import area_text
from lakemap.changes.records import Comparison, FieldChange
from lakemap.outputs.compare.changed_values import arrow, value_pair, value_text

_SETTINGS: Final[Mapping[tuple[str, str], str]] = MappingProxyType(
    {
        ("name", ""): "Name of the field",
        ("units", ""): "Units",
        ("crs", ""): "Coordinate system of x and y",
        ("levels", "low"): "Low water on the gauge",
        ("levels", "normal"): "Normal water on the gauge",
        ("levels", "high"): "High water on the gauge",
        ("levels", "soundings"): "The gauge when the soundings were taken",
        ("storm", "wind"): "Storm, mean wind",
        ("storm", "gust"): "Storm, gusts",
        ("storm", "current"): "Storm, current",
        ("storm", "from"): "Storm, wind from",
        ("storm", "return_period"): "Storm, return period",
        ("wake", "height"): "Wake, height",
        ("wake", "period"): "Wake, period",
        ("wake", "at"): "Wake, distance that its height is of",
        ("wake", "nearest"): "Wake, how close boats pass",
        ("accuracy", "position"): "Positions are good to",
        ("accuracy", "depth"): "Depths are good to",
        ("accuracy", "level"): "Levels are good to",
        ("accuracy", "line"): "Lengths of lines are good to",
        ("accuracy", "layer"): "Zones and shore are good to",
        ("season", "set_on"): "Season, floats are set",
        ("season", "lift_on"): "Season, floats are lifted",
        ("season", "marking"): "Season, marking",
        ("sizing", "holding"): "Holding that blank rigs are designed by",
        ("sizing", "people"): "People aboard",
        ("lake", "islands"): "Names of the islands",
    }
)
_RULES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "neighbour": "Distance between neighbours",
        "shore": "Distance from the shore",
        "shore_max": "Farthest from the shore",
        "bed": "Water under a float",
        "jump_depth": "Depth for jumping",
        "deck_area_max": "Largest deck",
    }
)
_BLANK_MEANS: Final[Mapping[tuple[str, str], str]] = MappingProxyType(
    {
        ("storm", "from"): "all around",
        ("storm", "gust"): "from the mean",
        ("storm", "return_period"): "none",
        ("accuracy", "depth"): "from the soundings",
        ("zones", "clearance"): "that of the rule",
        ("lake", "islands"): "none",
    }
)
_MODES: Final = MappingProxyType(
    {"full_circle": "full circles", "same_wind": "all in one steady wind"}
)


def field_lines(comparison: Comparison) -> list[str]:
    """Return what changed of a field beside its floats.

    Parameters
    ----------
    comparison : Comparison
        Of two versions.

    Returns
    -------
    list of str
        Whole sentences.
    """
    units = comparison.new.field.settings.units
    return [field_line(one, units) for one in comparison.field]


def field_line(one: FieldChange, units: Units) -> str:
    """Return one change of a field as a sentence.

    Parameters
    ----------
    one : FieldChange
        Of a comparison.
    units : {'ft-lb', 'm-kg'}
        What people use.

    Returns
    -------
    str
        With a full stop.
    """
    apart = {"rules": _rule, "zones": _zone, "soundings": _soundings}
    if one.part == "outline":
        return _outline(one, units)
    if one.topic in apart:
        return apart[one.topic](one, units)
    if one.topic.endswith(" file"):
        return f"Rows of the {one.topic}: {_pair(one, units)}."
    if one.topic == "sites":
        return f"Weight of {one.part} in the score of sites: {_pair(one, units)}."
    name = _SETTINGS.get((one.topic, one.part), f"{one.topic} {one.part}".strip())
    return f"{name}: {_pair(one, units)}."


def _pair(one: FieldChange, units: Units) -> str:
    blank = _BLANK_MEANS.get((one.topic, one.part))
    old, new = (blank if blank and v is None else v for v in (one.old, one.new))
    return arrow(value_pair(old, new, one.unit, units, tape=False))


def _soundings(one: FieldChange, units: Units) -> str:
    new, gone = (value_text(v or 0, None, units) for v in (one.gained, one.lost))
    return f"Soundings: {_pair(one, units)}; {new} new, {gone} gone."


def _outline(one: FieldChange, units: Units) -> str:
    gained, lost = (area_text(v or 0.0, units) for v in (one.gained, one.lost))
    if one.topic == "lake":
        return f"The shore was drawn anew: {gained} of water gained, {lost} lost."
    return f"{one.name} was drawn anew: {gained} gained, {lost} given up."


def _rule(one: FieldChange, units: Units) -> str:
    kind = _kind(one.name)
    name = _RULES.get(one.name) or f"Distance from {'an' if kind[0] in 'aeiou' else 'a'} {kind}"
    if one.what != "changed":
        value = one.new if one.what == "added" else one.old
        what = "new rule" if one.what == "added" else "the rule was taken away, it was"
        return f"{name}: {what} {value_text(value, one.unit, units)}."
    if one.part == "source":
        return f"{name}: its source now says: {one.new}"
    if one.part == "mode":
        modes = [_MODES.get(str(v), str(v)) for v in (one.old, one.new)]
        return f"{name}, checked for: {arrow((modes[0], modes[1]))}."
    beyond = ", looked for so far beyond the circle" if one.part == "beyond" else ""
    return f"{name}{beyond}: {_pair(one, units)}."


def _kind(kind: str) -> str:
    return "no-float area" if kind == "no_float" else kind.replace("_", " ")


def _zone(one: FieldChange, units: Units) -> str:
    if one.what != "changed":
        kind = _kind(str(one.new if one.what == "added" else one.old))
        named = one.name if kind in one.name.lower() else f"{one.name} ({kind})"
        return f"Zone {'added' if one.what == 'added' else 'taken away'}: {named}."
    if one.part == "source":
        return f"{one.name}: its source now says: {one.new or 'nothing'}"
    words = {"width": "width", "clearance": "its own clearance"}[one.part]
    return f"{one.name}, {words}: {_pair(one, units)}."
