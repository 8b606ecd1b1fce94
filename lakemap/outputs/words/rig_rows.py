"""Rows of a float's panel: its rig, its circle, its depth, the float itself."""

from lakemap.basis.records import Units
from lakemap.basis.wording import (
    force_text,
    length_figure,
    length_text,
    measure_text,
    weight_text,
)
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.words.texts import Texts
from lakemap.sizing.records import PrimarySizing, SecondarySizing


def rig_rows(one: AssessedFloat, assessment: Assessment, texts: Texts) -> list[list[str]]:
    """Return name, value and note of what a float's rig is made of and how far it swings.

    Parameters
    ----------
    one : AssessedFloat
        Of the assessment.
    assessment : Assessment
        For units.
    texts : Texts
        Of the language.

    Returns
    -------
    list of list of str
        A blank note where there is nothing to say.
    """
    units = assessment.field.settings.units
    designed, assumed = texts.of("chosen.designed"), texts.of("chosen.assumed")
    chosen = dict.fromkeys(one.designed, designed) | dict.fromkeys(one.assumed, assumed)
    primary, secondary = one.sizing.primary, one.sizing.secondary

    def length(value: float | None) -> str:
        return texts.of("tile.not_known") if value is None else measure_text(value, units)

    rows = {
        "riser": (length(one.riser_m), chosen.get("riser_length", "")),
        "ground": (length(one.ground_m), chosen.get("ground_length", "")),
        "primary": (_cluster(primary, units, texts), chosen.get("primary_blocks", "")),
        "secondary": (_cluster(secondary, units, texts), chosen.get("secondary_blocks", "")),
        "blocks": (one.record.block or "12-in hollow", "" if one.record.block else assumed),
        "practice": (
            texts.of(
                "rig.practice_blocks",
                primary=primary.practice_blocks,
                secondary=secondary.practice_blocks,
            ),
            texts.of("rig.unsourced"),
        ),
        **_place_rows(one, units, texts),
    }
    return [[texts.of(f"rig.{name}"), *cells] for name, cells in rows.items()]


def _cluster(of: PrimarySizing | SecondarySizing, units: Units, texts: Texts) -> str:
    if of.dry_n is None or of.wet_n is None:
        return texts.of("tile.not_known")
    dry = weight_text(of.dry_n, units, rounding="down")
    wet = force_text(of.wet_n, units, rounding="down")
    if of.blocks is None:
        return texts.of("rig.cluster", dry=dry, wet=wet)
    return texts.of("rig.cluster_blocks", count=of.blocks, dry=dry, wet=wet)


def _place_rows(one: AssessedFloat, units: Units, texts: Texts) -> dict[str, tuple[str, str]]:
    """How far it swings and how deep it is, as far as that is known."""
    rows = {}
    low, _, high = one.swing_radius_m
    if low is not None and high is not None:
        ends = {
            name: length_text(radius, units, rounding="up")
            for name, radius in (("high", high), ("low", low))
        }
        rows["swing"] = texts.of("rig.swing_from_to", **ends), ""
    if one.extra_m > 0:
        rows["extra"] = length_text(one.extra_m, units, rounding="up"), ""
    if one.record.position_error_m is not None:
        rows["position"] = length_text(one.record.position_error_m, units, rounding="up"), ""
    if one.depth_m[1] is not None:
        error = one.depth_error_m
        sure = "" if error is None else texts.of("rig.depth_sure", far=length_figure(error, units))
        rows["depth"] = measure_text(one.depth_m[1], units), sure
    return rows


def float_rows(one: AssessedFloat, assessment: Assessment, texts: Texts) -> list[list[str]]:
    """Return name and value of what the float itself is: weight, draft, freeboard, lift.

    Parameters
    ----------
    one : AssessedFloat
        Of the assessment.
    assessment : Assessment
        For units.
    texts : Texts
        Of the language.

    Returns
    -------
    list of list of str
        In the user's units.
    """
    units = assessment.field.settings.units
    float_ = one.sizing.float
    rows = {
        "weight": weight_text(float_.weight_n, units),
        "sinks": length_text(float_.draft_m, units),
        "freeboard": length_text(float_.freeboard_m, units, rounding="down"),
        "lift": force_text(float_.buoyancy_n, units, rounding="down"),
    }
    return [[texts.of(f"rig.{name}"), value] for name, value in rows.items()]
