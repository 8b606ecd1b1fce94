"""One float as the page shows it: numbers for drawing, words ready to show."""

from collections.abc import Sequence
from typing import Any, Final

from lakemap.basis.records import Field, Float, Units
from lakemap.basis.wording import (
    force_text,
    length_text,
    length_unit,
    measure_text,
)
from lakemap.clearances.records import Clearance
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.drawn.scene import cm, lie_of
from lakemap.outputs.words.cautions import cautions_for_float
from lakemap.outputs.words.clearances import asked_text, clearance_line, short_sentence, thing_name
from lakemap.outputs.words.rig_rows import float_rows, rig_rows
from lakemap.outputs.words.texts import ENGLISH, Texts
from lakemap.outputs.words.verdicts import nearest_to_call, verdict_sentence

SHORT_OVER: Final = 2000  # floats; beyond, the file would be too much for a phone
_SHOWN: Final = 7  # clearances in the panel; the rest has more to spare


def float_data(
    one: AssessedFloat,
    assessment: Assessment,
    wind: float | None,
    *,
    owners: bool,
    texts: Texts = ENGLISH,
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
    texts : Texts
        Of the language.

    Returns
    -------
    dict
        JSON-able.
    """
    data = _drawn(one, assessment, wind, texts)
    if not is_short(assessment):
        data |= float_summary(one, assessment, texts=texts)
    if owners:
        record = one.record
        private = (("owner", record.owner), ("permit", record.permit), ("note", record.note))
        data["private"] = [[texts.of(f"about.{name}"), value] for name, value in private if value]
    return data


def is_short(assessment: Assessment) -> bool:
    """Tell whether a field has so many floats that its map holds no summary of each."""
    return len(assessment.floats) > SHORT_OVER


def _drawn(
    one: AssessedFloat, assessment: Assessment, wind: float | None, texts: Texts
) -> dict[str, Any]:
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
        "says": verdict_sentence(one, assessment, texts=texts),
        "brief": _brief(one, assessment, texts),
    }


def float_summary(
    one: AssessedFloat, assessment: Assessment, *, texts: Texts = ENGLISH
) -> dict[str, Any]:
    """Return the summary of a float: clearances, rig, what to take care of.

    Parameters
    ----------
    one : AssessedFloat
        Of the assessment.
    assessment : Assessment
        Of the field.
    texts : Texts
        Of the language.

    Returns
    -------
    dict
        JSON-able.
    """
    units = assessment.field.settings.units
    shown = one.clearances[: max(_SHOWN, sum(_is_close(c) for c in one.clearances))]
    return {
        "about": _about(one, assessment, texts),
        "clear": [_clearance(c, assessment, texts) for c in shown],
        "more": _more(one.clearances[len(shown) :], assessment, texts),
        "rows": rig_rows(one, assessment, texts),
        "floatRows": float_rows(one, assessment, texts),
        "tiles": _tiles(one, units, texts),
        "rings": _rings(one, units),
        "cautions": [c.key for c in cautions_for_float(one, assessment)],
    }


def _is_close(one: Clearance) -> bool:
    """Tell whether a clearance is short or tight."""
    return one.spare is not None and one.spare < (one.uncertainty_m or 0.0)


def _more(rest: Sequence[Clearance], assessment: Assessment, texts: Texts) -> str:
    """What is not listed, in words; the list is sorted, so the first of it has least to spare."""
    if not rest:
        return ""
    least = rest[0].spare_m
    if least is None:
        return texts.of("more.unasked", count=len(rest))
    over = length_text(least, assessment.field.settings.units, rounding="down")
    return texts.of("more.spare", count=len(rest), far=over)


def _brief(one: AssessedFloat, assessment: Assessment, texts: Texts) -> str:
    """The verdict in a few words: what a callout and a one-line row have room for."""
    if one.verdict == "conflict":
        return short_sentence(verdict_sentence(one, assessment, texts=texts), texts=texts)
    nearest = nearest_to_call(one)
    if one.verdict is None:
        return texts.of("brief.retired")
    if nearest is None:
        return texts.of("brief.nothing_asked")
    return clearance_line(nearest, assessment.field, texts=texts).amount


def _tiles(one: AssessedFloat, units: Units, texts: Texts) -> list[list[str]]:
    """The three figures that a phone shows first."""
    radius, depth, pull = one.swing_radius_m[0], one.depth_m[1], one.sizing.loads_n.mean
    told = {
        "swings": None if radius is None else length_text(radius, units, rounding="up"),
        "depth": None if depth is None else measure_text(depth, units),
        "pull": None if pull is None else force_text(pull, units, rounding="up"),
    }
    unknown = texts.of("tile.not_known")
    return [[texts.of(f"tile.{name}"), value or unknown] for name, value in told.items()]


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


def _about(one: AssessedFloat, assessment: Assessment, texts: Texts) -> str:
    """Lot, deck, flotation and when it was set, in one line."""
    record, units = one.record, assessment.field.settings.units
    long, wide = (asked_text(side, units).split()[0] for side in (record.length_m, record.width_m))
    parts = [
        texts.of("about.lot", lot=record.lot) if record.lot else "",
        texts.of("about.deck", long=long, wide=wide, unit=length_unit(units)),
        _flotation(record, texts),
        "" if record.status == "set" else texts.of(f"about.{record.status}"),
    ]
    if record.set_on:
        month = texts.of(f"month.{record.set_on.month}")
        date = texts.of("date.month", month=month, year=str(record.set_on.year))
        parts.append(texts.of("about.set", date=date))
    return " · ".join(part for part in parts if part)


def _flotation(record: Float, texts: Texts) -> str:
    if record.flotation == "tubes":
        some = texts.of("about.tubes_some")
        return texts.of("about.tubes", count=record.tubes) if record.tubes else some
    return texts.of("about.billets") if record.flotation else ""


def _clearance(one: Clearance, assessment: Assessment, texts: Texts) -> dict[str, Any]:
    """One clearance in words, and what its bar and its mark on the map need."""
    field = assessment.field
    line = clearance_line(one, field, texts=texts)
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
        data["pill"] = _pill(one, assessment, texts)
    if one.uncertainty_m:
        data["sure"] = length_text(one.uncertainty_m, field.settings.units, rounding="up")
    return data


def _rule_of(one: Clearance, field: Field) -> str:
    """The words of the rule of its kind; the page holds them once."""
    kind = {"float": "neighbour", "island": "shore"}.get(one.kind, one.kind)
    rule = field.settings.rules.get(kind)
    return "" if rule is None else rule.source


def _pill(one: Clearance, assessment: Assessment, texts: Texts) -> str:
    """The few words that stand at a length on the map."""
    units, gap = assessment.field.settings.units, one.gap_m or 0.0
    far = length_text(abs(gap), units, rounding="up" if gap < 0 else "down")
    own = {"float": "overlap", "frontage": "out_of_frontage"}.get(one.kind, "into")
    thing = thing_name(one, assessment.field, texts=texts)
    return texts.of(f"pill.{'gap' if gap >= 0 else own}", far=far, thing=thing)
