"""One float as the page shows it: numbers for drawing, words ready to show."""

from collections.abc import Sequence
from typing import Any, Final

from lakemap.basis.records import Field, Units
from lakemap.basis.wording import (
    force_text,
    length_figure,
    length_text,
    length_unit,
    measure_text,
    weight_text,
)
from lakemap.clearances.records import Clearance
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.cautions import cautions_for_float
from lakemap.outputs.scene import cm, lie_of
from lakemap.outputs.words import (
    MONTHS,
    asked_text,
    clearance_line,
    nearest_to_call,
    thing_name,
    verdict_sentence,
)
from lakemap.sizing.records import PrimarySizing, SecondarySizing

SHORT_OVER: Final = 2000  # floats; beyond, the file would be too much for a phone
_SHOWN: Final = 7  # clearances in the panel; the rest has more to spare


def float_data(
    one: AssessedFloat, assessment: Assessment, wind: float | None, *, owners: bool
) -> dict[str, Any]:
    """All that the page knows of one float; in a field of very many, what is drawn and said of it.

    Parameters
    ----------
    one : AssessedFloat
        Of the assessment.
    assessment : Assessment
        Of the field.
    wind : float or None
        Bearing of the wind that the floats are drawn lying in.
    owners : bool
        True puts owner, permit and note in.

    Returns
    -------
    dict
        JSON-able.
    """
    data = _drawn(one, assessment, wind)
    if not is_short(assessment):
        data |= _told(one, assessment)
    if owners:
        record = one.record
        private = (("Owner", record.owner), ("Permit", record.permit), ("Note", record.note))
        data["private"] = [[name, value] for name, value in private if value]
    return data


def is_short(assessment: Assessment) -> bool:
    """Tell whether a field has so many floats that its map holds no summary of each."""
    return len(assessment.floats) > SHORT_OVER


def _drawn(one: AssessedFloat, assessment: Assessment, wind: float | None) -> dict[str, Any]:
    """What the map draws of a float, and what its row says."""
    record, lie, second = one.record, lie_of(one, wind), one.secondary
    return {
        "id": record.float_id,
        "lot": record.lot or "",
        "status": record.status,
        "verdict": one.verdict or "retired",
        "x": cm(one.x_m),
        "y": cm(one.y_m),
        "r": [None if r is None else cm(r) for r in one.swing_radius_m],
        "walk": None if one.walk_radius_m is None else cm(one.walk_radius_m),
        "second": None if second is None else [cm(second.x_m), cm(second.y_m)],
        "guess": second is not None and second.assumed,
        "located": one.located,
        "hook": [cm(v) for v in lie.hook_xy],
        "lies": round(lie.bearing_deg, 1),
        "deck": sorted((cm(record.length_m), cm(record.width_m)), reverse=True),
        "edge": record.hook == "edge",
        "says": verdict_sentence(one, assessment),
        "brief": _brief(one, assessment),
    }


def _told(one: AssessedFloat, assessment: Assessment) -> dict[str, Any]:
    """The summary of a float: clearances, rig, side view, what to take care of."""
    units = assessment.field.settings.units
    shown = one.clearances[: max(_SHOWN, sum(_is_close(c) for c in one.clearances))]
    return {
        "about": _about(one, assessment),
        "clear": [_clearance(c, assessment) for c in shown],
        "more": _more(one.clearances[len(shown) :], assessment),
        "rows": _rig_rows(one, assessment),
        "floatRows": _float_rows(one, assessment),
        "tiles": _tiles(one, units),
        "rings": _rings(one, units),
        "cautions": [c.key for c in cautions_for_float(one, assessment)],
    }


def _is_close(one: Clearance) -> bool:
    """Tell whether a clearance is short or tight."""
    return one.spare is not None and one.spare < (one.uncertainty_m or 0.0)


def _more(rest: Sequence[Clearance], assessment: Assessment) -> str:
    """What is not listed, in words; the list is sorted, so the first of it has least to spare."""
    if not rest:
        return ""
    least = rest[0].spare_m
    if least is None:
        return f"{len(rest)} more, of which nothing is asked"
    over = length_text(least, assessment.field.settings.units, rounding="down")
    return f"{len(rest)} more, all with {over} to spare or more"


def _brief(one: AssessedFloat, assessment: Assessment) -> str:
    """The verdict in a few words: what a callout and a one-line row have room for."""
    if one.verdict == "conflict":
        says = verdict_sentence(one, assessment)
        return says.removesuffix(".").removesuffix(" at low water")
    nearest = nearest_to_call(one)
    if one.verdict is None:
        return "not checked"
    if nearest is None:
        return "nothing asked"
    return clearance_line(nearest, assessment.field).amount


def _tiles(one: AssessedFloat, units: Units) -> list[list[str]]:
    """The three figures that a phone shows first."""
    radius, depth, pull = one.swing_radius_m[0], one.depth_m[1], one.sizing.loads_n.mean
    return [
        ["Swings", "not known" if radius is None else length_text(radius, units, rounding="up")],
        ["Depth", "not known" if depth is None else measure_text(depth, units)],
        ["Storm pull", "not known" if pull is None else force_text(pull, units, rounding="up")],
    ]


def _rings(one: AssessedFloat, units: Units) -> list[str]:
    """Radii of the circles at low and high water and of the walk circle; blank where none."""
    low, _, high = one.swing_radius_m
    if low is None or one.verdict is None:
        return []
    return [
        length_text(low, units, rounding="up"),
        "" if high is None else length_text(high, units, rounding="up"),
        measure_text(one.walk_radius_m, units) if one.walk_radius_m else "",
    ]


def _about(one: AssessedFloat, assessment: Assessment) -> str:
    """Lot, deck, flotation and when it was set, in one line."""
    record, units = one.record, assessment.field.settings.units
    deck = " × ".join(
        asked_text(side, units).split()[0] for side in (record.length_m, record.width_m)
    )
    parts = [
        f"lot {record.lot}" if record.lot else "",
        f"{deck} {length_unit(units)}",
        ""
        if record.flotation is None
        else f"on {record.tubes or ''} {record.flotation}".replace("  ", " "),
        {"proposed": "proposed", "retired": "retired"}.get(record.status, ""),
        f"set {MONTHS[record.set_on.month - 1]} {record.set_on.year}" if record.set_on else "",
    ]
    return " · ".join(part for part in parts if part)


def _clearance(one: Clearance, assessment: Assessment) -> dict[str, Any]:
    """One clearance in words, and what its bar and its mark on the map need."""
    field = assessment.field
    line = clearance_line(one, field)
    uncertain = (
        one.spare is not None
        and 0 <= one.spare < (one.uncertainty_m or 0.0)
        and one.kind != "deck_area_max"
    )
    state = "conflict" if line.short else "tight" if uncertain else "clear"
    data: dict[str, Any] = {
        "name": line.name,
        "detail": line.detail,
        "amount": line.amount,
        "state": state if one.spare is not None else "none",
        "kind": one.kind,
        "against": one.against,
        "bar": None if one.spare_m is None else round(one.spare_m, 2),
        "rule": "" if one.rule is None or one.rule == _rule_of(one, field) else one.rule,
    }
    if one.kind == "float" and one.same_wind_gap_m is not None:
        data["wind"] = length_text(one.same_wind_gap_m, field.settings.units, rounding="down")
    if one.nearest_xy is not None and one.gap_m is not None:
        data["to"] = [cm(one.nearest_xy[0]), cm(one.nearest_xy[1])]
        data["gap"] = cm(one.gap_m)
        data["pill"] = _pill(one, assessment)
    if one.uncertainty_m:
        data["sure"] = length_text(one.uncertainty_m, field.settings.units, rounding="up")
    return data


def _rule_of(one: Clearance, field: Field) -> str:
    """The words of the rule of its kind; the page holds them once."""
    kind = {"float": "neighbour", "island": "shore"}.get(one.kind, one.kind)
    rule = field.settings.rules.get(kind)
    return "" if rule is None else rule.source


def _pill(one: Clearance, assessment: Assessment) -> str:
    """The few words that stand at a length on the map."""
    units, gap = assessment.field.settings.units, one.gap_m or 0.0
    name = thing_name(one, assessment.field)
    if gap >= 0:
        return f"{length_text(gap, units, rounding='down')} to {name}"
    far = length_text(-gap, units, rounding="up")
    words = {"float": f"overlap {far}", "frontage": f"{far} out of its frontage"}
    return words.get(one.kind, f"{far} into {name}")


def _rig_rows(one: AssessedFloat, assessment: Assessment) -> list[list[str]]:
    units = assessment.field.settings.units
    chosen = dict.fromkeys(one.designed, "designed") | dict.fromkeys(one.assumed, "assumed")
    sizing = one.sizing

    def length(value: float | None, name: str) -> list[str]:
        shown = "not known" if value is None else measure_text(value, units)
        return [shown, chosen.get(name, "")]

    def cluster(of: PrimarySizing | SecondarySizing) -> str:
        if of.dry_n is None or of.wet_n is None:
            return "not known"
        count = "" if of.blocks is None else f"{of.blocks} blocks, "
        dry = weight_text(of.dry_n, units, rounding="down")
        return f"{count}{dry} dry, {force_text(of.wet_n, units, rounding='down')} in water"

    primary, secondary = sizing.primary, sizing.secondary
    practice = f"{primary.practice_blocks} and {secondary.practice_blocks}"
    kind = one.record.block or "12-in hollow"
    rows = [
        ["Riser", *length(one.riser_m, "riser_length")],
        ["Ground chain", *length(one.ground_m, "ground_length")],
        ["Primary", cluster(primary), chosen.get("primary_blocks", "")],
        ["Secondary", cluster(secondary), chosen.get("secondary_blocks", "")],
        ["Blocks", kind, "" if one.record.block else "assumed"],
        ["Common practice", f"{practice} blocks", "no published source"],
    ]
    low, _, high = one.swing_radius_m
    if low is not None and high is not None:
        swing = (
            f"{length_text(high, units, rounding='up')} to {length_text(low, units, rounding='up')}"
        )
        rows.append(["Swing circle, high to low water", swing, ""])
    if one.extra_m > 0:
        rows.append(
            ["In it, for a primary not located", length_text(one.extra_m, units, rounding="up"), ""]
        )
    if one.depth_m[1] is not None:
        error = one.depth_error_m
        sure = "" if error is None else f"±{length_figure(error, units)} by the soundings"
        rows.append(["Depth at the primary", measure_text(one.depth_m[1], units), sure])
    return rows


def _float_rows(one: AssessedFloat, assessment: Assessment) -> list[list[str]]:
    units = assessment.field.settings.units
    float_ = one.sizing.float
    return [
        ["Weight, dry", weight_text(float_.weight_n, units)],
        ["Sinks in", length_text(float_.draft_m, units)],
        ["Flotation above water", length_text(float_.freeboard_m, units, rounding="down")],
        ["Lift, all flotation under", force_text(float_.buoyancy_n, units, rounding="down")],
    ]
