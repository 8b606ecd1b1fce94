"""What the maps of other programs say of each thing, in the user's units."""

from collections.abc import Mapping
from types import MappingProxyType

from lakemap.assessment import AssessedFloat
from lakemap.basis.records import Zone, ZoneKind
from lakemap.basis.wording import compass_text, length_text
from lakemap.mapping import Assessment
from lakemap.outputs.words.clearances import asked_text
from lakemap.outputs.words.levels_and_dates import level_words
from lakemap.outputs.words.verdicts import verdict_sentence

# one, and all of them
ZONE_WORDS: Mapping[ZoneKind, tuple[str, str]] = MappingProxyType(
    {
        "swim_area": ("Swim area", "Swim areas"),
        "channel": ("Channel", "Channels"),
        "frontage": ("Frontage", "Frontages"),
        "intake": ("Water intake", "Water intakes"),
        "hazard": ("Hazard", "Hazards"),
        "no_float": ("Area without floats", "Areas without floats"),
        "ramp": ("Ramp", "Ramps"),
        "dock": ("Dock", "Docks"),
    }
)


def _who(one: AssessedFloat) -> str:
    """Which float, its status and its lot."""
    lot = "" if one.record.lot is None else f", lot {one.record.lot}"
    return f"float {one.record.float_id}, {one.record.status}{lot}"


def lake_words(assessment: Assessment) -> str:
    """Return the lake's levels."""
    return f"Levels on the gauge: {', '.join(level_words(assessment))}."


def float_words(one: AssessedFloat, assessment: Assessment, *, owners: bool) -> str:
    """Return what is said of a float.

    Parameters
    ----------
    one : AssessedFloat
        Of the assessment.
    assessment : Assessment
        For units and names.
    owners : bool
        True tells owner, permit and note too.

    Returns
    -------
    str
        Sentences.
    """
    said = _who(one)
    lines = [f"{said[:1].upper()}{said[1:]}.", verdict_sentence(one, assessment)]
    if one.record.position_of != "primary":
        lines.append(f"Its {one.record.position_of} was fixed here.")
    if owners:
        private = (
            ("Owner", one.record.owner),
            ("Permit", one.record.permit),
            ("Note", one.record.note),
        )
        lines += [f"{name}: {value}" for name, value in private if value]
    return " ".join(lines)


def primary_words(one: AssessedFloat, assessment: Assessment) -> str:
    """Return what is said of a primary.

    Parameters
    ----------
    one : AssessedFloat
        Of the assessment.
    assessment : Assessment
        For units and names.

    Returns
    -------
    str
        Sentences.
    """
    units = assessment.field.settings.units
    lines = [f"Primary of {_who(one)}."]
    if not one.located:
        far = length_text(one.extra_m, units, rounding="up")
        lines.append(f"Not located: anywhere within {far} of here.")
    elif one.extra_m > 0:
        lines.append(f"It lies within {length_text(one.extra_m, units, rounding='up')} of here.")
    if one.depth_m[0] is not None:
        deep = length_text(one.depth_m[0], units, rounding="down")
        lines.append(f"Depth {deep} at low water.")
    if one.sizing.primary.blocks is not None:
        lines.append(f"Blocks: {one.sizing.primary.blocks}.")
    radius = one.swing_radius_m[0]
    if one.verdict is not None and radius is not None:
        lines.append(f"The float swings {length_text(radius, units, rounding='up')} about it.")
    return " ".join([*lines, verdict_sentence(one, assessment)])


def secondary_words(one: AssessedFloat, assessment: Assessment) -> str:
    """Return what is said of a secondary.

    Parameters
    ----------
    one : AssessedFloat
        With a secondary.
    assessment : Assessment
        For units.

    Returns
    -------
    str
        Sentences.
    """
    units = assessment.field.settings.units
    lines = [f"Secondary of {_who(one)}."]
    second = one.secondary
    if second is not None and second.bearing_deg is not None and one.ground_m is not None:
        far = length_text(one.ground_m, units)
        bearing = f"{compass_text(second.bearing_deg)} ({second.bearing_deg:.0f}°)"
        lines.append(f"It lies {far} {bearing} of the primary.")
        if second.assumed:
            lines.append("The bearing is assumed: nobody noted one.")
    if one.sizing.secondary.blocks is not None:
        lines.append(f"Blocks: {one.sizing.secondary.blocks}.")
    return " ".join(lines)


def circle_words(one: AssessedFloat, assessment: Assessment) -> str:
    """Return what is said of a swing circle.

    Parameters
    ----------
    one : AssessedFloat
        With a swing radius.
    assessment : Assessment
        For units and names.

    Returns
    -------
    str
        Sentences.
    """
    radius = length_text(
        one.swing_radius_m[0] or 0.0, assessment.field.settings.units, rounding="up"
    )
    return (
        f"Swing circle of {_who(one)}, at low water: radius {radius}. The outline drawn contains"
        f" the true circle. {verdict_sentence(one, assessment)}"
    )


def zone_words(zone: Zone, assessment: Assessment) -> str:
    """Return what is said of a zone.

    Parameters
    ----------
    zone : Zone
        Of the field.
    assessment : Assessment
        For its rules and units.

    Returns
    -------
    str
        Sentences.
    """
    units = assessment.field.settings.units
    rule = assessment.field.settings.rules.get(zone.kind)
    lot = "" if zone.lot is None else f" of lot {zone.lot}"
    lines = [f"{ZONE_WORDS[zone.kind][0]}{lot}."]
    limit = None if rule is None else rule.limit
    asked = limit if zone.clearance_m is None else zone.clearance_m
    if asked is not None and zone.kind != "frontage":
        lines.append(f"Circles stay {asked_text(asked, units)} away from it.")
    if zone.source:
        lines.append(f"Source: {zone.source}")
    return " ".join(lines)
