"""The answers for a float in two versions of a field: figures and gaps, before and now."""

from typing import Final

from lakemap.assessment import AssessedFloat, Assessment
from lakemap.basis.records import Field, Units
from lakemap.basis.wording import area_text, length_text
from lakemap.changes.records import (
    Comparison,
    FloatChange,
    GapChange,
    spare_of,
)
from lakemap.clearances.records import Clearance
from lakemap.clearances.rules import LIST_BELOW_M
from lakemap.outputs.words.clearances import clearance_line, thing_name
from lakemap.outputs.words.pulls import pull_text, weakest_text

SPARE: Final = "To spare"
Row = tuple[str, str, str]  # what, before, now
_NONE: Final = "none"
_PULLS: Final = (("Steady storm pull", "mean"), ("Highest pull", "peak"))


def figures(one: FloatChange, comparison: Comparison) -> list[Row]:
    """Return the answers for a float that are not what they were.

    Parameters
    ----------
    one : FloatChange
        Of the comparison.
    comparison : Comparison
        For units and names.

    Returns
    -------
    list of tuple
        What, before and now; only where the figures that people are shown differ.
    """
    units = comparison.new.field.settings.units
    before, after = one.before, one.after
    rows = [
        (
            SPARE,
            _spare(before, comparison.old.field, units),
            _spare(after, comparison.new.field, units),
        ),
        ("Swings", _swings(before, units), _swings(after, units)),
        ("Depth", _depth(before, units), _depth(after, units)),
        *((name, _pull(before, part, units), _pull(after, part, units)) for name, part in _PULLS),
        ("Weakest part", _weakest(before), _weakest(after)),
    ]
    return [row for row in rows if row[1] != row[2]]


def spare_text(spare_m: float, units: Units) -> str:
    """Return a spare in words: `1.8 ft short` rounded up, `11.2 ft to spare` rounded down."""
    if spare_m < 0:
        return f"{length_text(-spare_m, units, rounding='up')} short"
    return f"{length_text(spare_m, units, rounding='down')} to spare"


def _spare(one: AssessedFloat | None, field: Field, units: Units) -> str:
    least = spare_of(one)
    if least is None:
        return _NONE
    much = spare_text(least.spare_m or 0.0, units).removesuffix(" to spare")
    return f"{much} ({thing_name(least, field)})"


def _swings(one: AssessedFloat | None, units: Units) -> str:
    radius = None if one is None or one.verdict is None else one.swing_radius_m[0]
    return _NONE if radius is None else length_text(radius, units, rounding="up")


def _depth(one: AssessedFloat | None, units: Units) -> str:
    depth = None if one is None else one.depth_m[1]
    return _NONE if depth is None else length_text(depth, units, rounding="down")


def _pull(one: AssessedFloat | None, part: str, units: Units) -> str:
    pull = None if one is None else getattr(one.sizing.loads_n, part)
    return pull_text(pull, units, unknown=_NONE)


def _weakest(one: AssessedFloat | None) -> str:
    return _NONE if one is None else weakest_text(one.sizing.line, unknown=_NONE)


def gap_rows(one: FloatChange, comparison: Comparison) -> list[Row]:
    """Return the gaps of a float that are not what they were, least spare first.

    Parameters
    ----------
    one : FloatChange
        Of the comparison.
    comparison : Comparison
        For units and names.

    Returns
    -------
    list of tuple
        To what, before and now; only where the figures that people are shown differ.
    """
    rows = []
    for gap in one.gaps:
        was, now = _gap(gap, comparison, new=False), _gap(gap, comparison, new=True)
        if was != now:
            rows.append((_name(gap, comparison), was, f"{now}{_spared(gap.new, comparison)}"))
    return rows


def _name(gap: GapChange, comparison: Comparison) -> str:
    one, version = (gap.new or gap.old), (comparison.new if gap.new else comparison.old)
    return gap.against if one is None else clearance_line(one, version.field).name


def _spared(one: Clearance | None, comparison: Comparison) -> str:
    """What is to spare, or short, of a gap."""
    if one is None or one.spare is None:
        return ""
    units = comparison.new.field.settings.units
    if one.spare_m2 is None:
        return f" ({spare_text(one.spare_m or 0.0, units)})"
    much = area_text(abs(one.spare_m2), units, rounding="up" if one.spare_m2 < 0 else "down")
    return f" ({much} {'too large' if one.spare_m2 < 0 else 'to spare'})"


def _gap(gap: GapChange, comparison: Comparison, *, new: bool) -> str:
    """A gap in one version, in the units of the new one."""
    one, version = (gap.new, comparison.new) if new else (gap.old, comparison.old)
    units = comparison.new.field.settings.units
    if one is None:
        return _unlisted(gap, version, units)
    if one.kind == "deck_area_max":
        return area_text(one.value_m2 or 0.0, units, rounding="up")
    value = one.gap_m or 0.0
    if one.kind in {"bed", "jump_depth"}:
        return f"{length_text(value, units, rounding='down')} of water"
    if one.kind == "shore_max":
        return f"reaches out {length_text(value, units, rounding='up')}"
    if value >= 0:
        return f"gap {length_text(value, units, rounding='down')}"
    beyond = {"float": "overlap", "frontage": "outside by"}.get(one.kind, "inside by")
    return f"{beyond} {length_text(-value, units, rounding='up')}"


def _unlisted(gap: GapChange, version: Assessment, units: Units) -> str:
    """Why a gap is not listed: the thing is not there, or too far off to be listed."""
    one = gap.old or gap.new
    name = gap.against if one is None else one.against
    if gap.kind == "float":
        there = any(f.record.float_id == name and f.verdict is not None for f in version.floats)
    elif gap.kind in {"shore", "island", "bed", "jump_depth", "shore_max", "deck_area_max"}:
        there = gap.kind == "shore"
    else:
        there = any((z.zone.kind, z.zone.label) == (gap.kind, name) for z in version.zones)
    if there:
        return f"over {length_text(LIST_BELOW_M, units, rounding='down')}"
    return "not there"
