"""The JSON document of `compare`: SI, unrounded, every key always there."""

from collections.abc import Callable
from typing import Any, Final

from lakemap.assessment import AssessedFloat
from lakemap.changes.records import (
    Comparison,
    FieldChange,
    FloatChange,
    GapChange,
    spare_of,
    weakest_of,
)
from lakemap.clearances.records import Clearance
from lakemap.outputs.compare.counts import change_counts
from lakemap.outputs.compare.field_words import field_line
from lakemap.outputs.compare.words import then_words, what_words
from lakemap.outputs.tables.document import FORMAT
from lakemap.outputs.words.verdicts import verdict_counts

_GAP: Final = (
    "gap_m", "required_m", "spare_m", "uncertainty_m", "value_m2", "required_m2", "spare_m2",
)  # fmt: skip


def compare_document(comparison: Comparison) -> dict[str, Any]:
    """Return the document of a comparison.

    Parameters
    ----------
    comparison : Comparison
        Of two versions; what is private is in it only if the comparison was asked for it.

    Returns
    -------
    dict
        Ready for JSON: None for what is unknown or not there, never NaN; no key is ever absent.
    """
    units = comparison.new.field.settings.units
    return {
        "format": f"{FORMAT} compare",
        "old": comparison.old.field.folder,
        "new": comparison.new.field.folder,
        "floats": [_float(one, comparison) for one in comparison.floats],
        "field": [{**_field(one), "text": field_line(one, units)} for one in comparison.field],
        "counts": {
            **change_counts(comparison),
            "verdicts": {
                "old": verdict_counts(comparison.old),
                "new": verdict_counts(comparison.new),
            },
        },
    }


def _float(one: FloatChange, comparison: Comparison) -> dict[str, Any]:
    def both(read: Callable[[AssessedFloat], Any]) -> dict[str, Any]:
        sides = {"old": one.before, "new": one.after}
        return {name: None if side is None else read(side) for name, side in sides.items()}

    moved, cause = one.moved, one.cause
    return {
        "float_id": one.float_id,
        "change": one.kind,
        "status": both(lambda f: f.record.status),
        "verdict": both(lambda f: f.verdict),
        "lon": both(lambda f: f.lon),
        "lat": both(lambda f: f.lat),
        "moved": None
        if moved is None
        else {
            "distance_m": moved.distance_m,
            "bearing_deg": moved.bearing_deg,
            "reckoned": moved.reckoned,
        },
        "columns": [
            {"column": c.column, "unit": c.unit, "old": c.old, "new": c.new} for c in one.columns
        ],
        "depth_m": both(lambda f: f.depth_m[1]),
        "riser_m": both(lambda f: f.riser_m),
        "ground_m": both(lambda f: f.ground_m),
        "swing_radius_m": both(lambda f: f.swing_radius_m[0]),
        "spare_m": both(lambda f: _of_least(f, "spare_m")),
        "limited_by": both(_limit),
        "gaps": [_gap(gap) for gap in one.gaps],
        "loads_n": {
            "mean": both(lambda f: f.sizing.loads_n.mean),
            "peak": both(lambda f: f.sizing.loads_n.peak),
        },
        "weak_link": both(lambda f: weakest_of(f)[0]),
        "weak_link_used": both(lambda f: weakest_of(f)[1]),
        "cause": None
        if cause is None
        else {"kind": cause.kind, "names": list(cause.names), "did": cause.did},
        "what": what_words(one, comparison),
        "then": then_words(one, comparison),
    }


def _of_least(one: AssessedFloat, name: str) -> Any:  # noqa: ANN401 - a field of the record
    least = spare_of(one)
    return None if least is None else getattr(least, name)


def _limit(one: AssessedFloat) -> dict[str, Any] | None:
    least = spare_of(one)
    return None if least is None else {"kind": least.kind, "against": least.against}


def _gap(gap: GapChange) -> dict[str, Any]:
    def read(one: Clearance | None, name: str) -> float | None:
        return None if one is None else getattr(one, name)

    return {
        "kind": gap.kind,
        "against": gap.against,
        **{name: {"old": read(gap.old, name), "new": read(gap.new, name)} for name in _GAP},
    }


def _field(one: FieldChange) -> dict[str, Any]:
    old, new = (list(v) if isinstance(v, tuple) else v for v in (one.old, one.new))
    return {
        "topic": one.topic,
        "name": one.name or None,
        "part": one.part or None,
        "change": one.what,
        "unit": one.unit,
        "old": old,
        "new": new,
        "gained": one.gained,
        "lost": one.lost,
    }
