"""Sentences for people; the texts stand here once, so that another language is possible."""

from dataclasses import dataclass
from typing import Final

from lakemap.basis.errors import Problem
from lakemap.basis.records import Field, Units
from lakemap.basis.wording import area_text, length_figure, length_text
from lakemap.clearances.records import Clearance
from lakemap.mapping import AssessedFloat, Assessment

VERDICT_ORDER: Final = ("conflict", "tight", "unknown", "clear", None)
GROUP_TITLES: Final = {
    "conflict": "Conflict",
    "tight": "Tight: clear, but by less than we can measure",
    "unknown": "Unknown",
    "clear": "Clear",
    None: "Retired",
}
KIND_WORDS: Final = {
    "swim_area": "swim area",
    "channel": "channel",
    "frontage": "frontage",
    "intake": "intake",
    "hazard": "hazard",
    "no_float": "no-float area",
    "ramp": "ramp",
    "dock": "dock",
}
MONTHS: Final = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip
_NUMBERS: Final = (
    "No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten", "Eleven",
    "Twelve",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class ClearanceLine:
    """One clearance in words."""

    name: str  # what it was checked against
    detail: str  # gap and what is asked
    amount: str  # short, to spare, or nothing asked
    short: bool


def island_name(field: Field, against: str) -> str:
    """Return an island's own name where it has one.

    Parameters
    ----------
    field : Field
        With the islands' names.
    against : str
        Such as `island 2`.

    Returns
    -------
    str
        Its name, or `against`.
    """
    number = int(against.rpartition(" ")[2])
    names = field.island_names
    own = names[number - 1] if number <= len(names) else None
    return own or against


def thing_name(one: Clearance, field: Field) -> str:
    """Return what a clearance is to, as a sentence names it.

    Parameters
    ----------
    one : Clearance
        Of a float.
    field : Field
        For the islands' names.

    Returns
    -------
    str
        Such as `float 21`, `the shore`, `Camp swim area`.
    """
    plain = {
        "shore": "the shore",
        "bed": "the bed",
        "jump_depth": "depth for jumping",
        "shore_max": "the farthest allowed from shore",
        "deck_area_max": "the largest deck allowed",
        "frontage": "its own frontage",
    }
    if one.kind in plain:
        return plain[one.kind]
    if one.kind == "float":
        return f"float {one.against}"
    if one.kind == "island":
        return island_name(field, one.against)
    return one.against


def _title(name: str) -> str:
    return name[:1].upper() + name[1:]


def clearance_line(one: Clearance, field: Field) -> ClearanceLine:
    """Return a clearance as the panel and the tables show it.

    Parameters
    ----------
    one : Clearance
        Of a float.
    field : Field
        For units and names.

    Returns
    -------
    ClearanceLine
        Rounding never flatters: a shortfall is rounded up, a spare down.
    """
    units = field.settings.units
    name = _title(thing_name(one, field).removeprefix("the "))
    spare = one.spare
    return ClearanceLine(
        name=name,
        detail=_detail(one, units),
        amount=_amount(one, units),
        short=spare is not None and spare < 0,
    )


def _amount(one: Clearance, units: Units) -> str:
    spare = one.spare
    if spare is None:
        return "nothing asked"
    if one.kind == "deck_area_max":
        if spare < 0:
            return f"{area_text(-spare, units, rounding='up')} too large"
        return f"{area_text(spare, units, rounding='down')} to spare"
    if spare < 0:
        return f"{length_text(-spare, units, rounding='up')} short"
    return f"{length_text(spare, units, rounding='down')} to spare"


def _detail(one: Clearance, units: Units) -> str:
    gap = one.gap_m or 0.0
    if one.kind == "deck_area_max":
        return (
            f"{area_text(one.value_m2 or 0.0, units, rounding='up')},"
            f" {area_text(one.required_m2 or 0.0, units)} allowed"
        )
    asked = "nothing asked" if one.required_m is None else _asked(one, units)
    if one.kind in {"bed", "jump_depth"}:
        what = "under it" if one.kind == "bed" else "deep"
        return f"{length_text(gap, units, rounding='down')} {what}, {asked}"
    if one.kind == "shore_max":
        return f"reaches out {length_text(gap, units, rounding='up')}, {asked}"
    if gap < 0:
        inside = "outside" if one.kind == "frontage" else "inside"
        if one.kind in {"float", "island", "shore"}:
            inside = "too far" if one.kind != "float" else "overlap"
        return f"{length_text(-gap, units, rounding='up')} {inside}, {asked}"
    return f"gap {length_text(gap, units, rounding='down')}, {asked}"


def _asked(one: Clearance, units: Units) -> str:
    word = "allowed" if one.kind == "shore_max" else "asked"
    return f"{asked_text(one.required_m, units)} {word}"


def asked_text(metres: float | None, units: Units) -> str:
    """Return a required length without noughts that say nothing: `20 ft`, `2.5 m`."""
    figure_, unit = length_text(metres or 0.0, units).split()
    return f"{figure_.rstrip('0').rstrip('.') if '.' in figure_ else figure_} {unit}"


def conflict_sentence(one: Clearance, field: Field) -> str:
    """Return what a clearance below 0 spare means, as a whole sentence.

    Parameters
    ----------
    one : Clearance
        With a spare below 0.
    field : Field
        For units and names.

    Returns
    -------
    str
        Thing first, number, where, when.
    """
    if one.kind in {"bed", "jump_depth"}:
        return _too_shallow(one, field.settings.units)
    if one.kind in {"shore_max", "deck_area_max"}:
        return _too_much(one, field.settings.units)
    return _too_near(one, field)


def _too_shallow(one: Clearance, units: Units) -> str:
    where = "under" if one.kind == "bed" else "around"
    deep, asked = _deep(one.gap_m or 0.0, units), asked_text(one.required_m, units)
    return f"Only {deep} of water {where} it at low water; {asked} is asked."


def _too_much(one: Clearance, units: Units) -> str:
    if one.kind == "deck_area_max":
        value = area_text(one.value_m2 or 0.0, units, rounding="up")
        return f"Its deck has {value}; {area_text(one.required_m2 or 0.0, units)} is allowed."
    out = length_text(one.gap_m or 0.0, units, rounding="up")
    return f"Reaches {out} from the shore; {asked_text(one.required_m, units)} is allowed."


def _too_near(one: Clearance, field: Field) -> str:
    units, name = field.settings.units, thing_name(one, field)
    gap = one.gap_m or 0.0
    far = length_text(abs(gap), units, rounding="up" if gap < 0 else "down")
    if gap < 0:
        onto = "onto" if one.kind in {"shore", "island"} else "into"
        return {
            "float": f"Can meet {name}: their circles overlap by {far}.",
            "frontage": f"Swings {far} out of its frontage at low water.",
        }.get(one.kind, f"Swings {far} {onto} {_the(one, name)} at low water.")
    thing = "the edge of its frontage" if one.kind == "frontage" else _the(one, name)
    return f"Comes within {far} of {thing}; {asked_text(one.required_m, units)} is asked."


def _deep(depth: float, units: Units) -> str:
    return length_text(max(depth, 0.0), units, rounding="down")


def _the(one: Clearance, name: str) -> str:
    """A common name takes an article; a proper one, or one with a number (`dock 7`), none."""
    is_common = name[:1].islower() and not name.startswith("the ") and not name[-1:].isdigit()
    return f"the {name}" if is_common and one.kind not in {"island", "float"} else name


def verdict_sentence(one: AssessedFloat, assessment: Assessment) -> str:
    """Return the one sentence that a float's row and panel begin with.

    Parameters
    ----------
    one : AssessedFloat
        Of the assessment.
    assessment : Assessment
        For units and names.

    Returns
    -------
    str
        Whole sentence.
    """
    field = assessment.field
    broken = _broken(one)
    worst = nearest_to_call(one)
    if one.verdict is None:
        return "Retired: not checked."
    if broken:
        return f"{_title(broken[0].text)}."
    if one.verdict == "unknown":
        return "No depth is known here, so its circle is a guess."
    if worst is None:
        return "No rule asks anything of it."
    if one.verdict == "tight" and any(p.code == "same_wind_only" for p in one.problems):
        return "Clear only if both lie to the same steady wind: full circles overlap."
    return (
        conflict_sentence(worst, field)
        if one.verdict == "conflict"
        else spare_sentence(worst, field)
    )


def _broken(one: AssessedFloat) -> list[Problem]:
    """What makes a rig one that cannot work."""
    return [p for p in one.problems if p.code in {"pulled_under", "aground"}]


def nearest_to_call(one: AssessedFloat) -> Clearance | None:
    """Return the clearance that makes a float tight, or the least spare.

    Parameters
    ----------
    one : AssessedFloat
        Checked.

    Returns
    -------
    Clearance or None
        None where nothing is asked of it.
    """
    # the check puts the least spare first, and last what nothing is asked of
    first = one.clearances[0] if one.clearances else None
    if first is None or first.spare is None:
        return None
    if one.verdict == "tight":
        tight = (c for c in one.clearances if (c.spare or 0.0) < (c.uncertainty_m or 0.0))
        return next((c for c in tight if c.spare is not None), first)
    return first


def spare_sentence(one: Clearance, field: Field) -> str:
    """Return how much is to spare and from what.

    Parameters
    ----------
    one : Clearance
        With a spare of 0 or more.
    field : Field
        For units and names.

    Returns
    -------
    str
        Whole sentence.
    """
    name, amount = thing_name(one, field), _amount(one, field.settings.units)
    where = {
        "frontage": "in its frontage",
        "bed": "over the bed at low water",
        "jump_depth": "in depth for jumping at low water",
        "shore_max": "before it is too far from the shore",
        "deck_area_max": "in deck area",
    }.get(one.kind, f"from {_the(one, name)}")
    return f"{amount} {where}."


def headline(assessment: Assessment) -> str:
    """Return the sentence that is seen first.

    Parameters
    ----------
    assessment : Assessment
        Of a field.

    Returns
    -------
    str
        How many floats are in conflict, or that none is.
    """
    counts = verdict_counts(assessment)
    checked = sum(counts[v] for v in ("conflict", "tight", "unknown", "clear"))
    if not checked:
        return "No floats yet. Add rows to the floats file."
    if assessment.surface is None and counts["unknown"] == checked:
        return "No depths: circles cannot be checked."
    bad = counts["conflict"]
    if bad:
        number = _NUMBERS[bad] if bad < len(_NUMBERS) else str(bad)
        return f"{number} float{'s are' if bad > 1 else ' is'} in conflict"
    if counts["clear"] == checked:
        return f"All {checked} floats are clear" if checked > 1 else "The float is clear"
    return "No float is in conflict"


def row_words(one: AssessedFloat, assessment: Assessment) -> tuple[str, str, str]:
    """Return what a table says of a float: its spare, what that is to, how far it swings.

    Parameters
    ----------
    one : AssessedFloat
        Of the assessment.
    assessment : Assessment
        For units and names.

    Returns
    -------
    tuple of str
        Figures in the units of the table's head, a deck's area with its own; blank where there is
        nothing to say.
    """
    field, nearest = assessment.field, nearest_to_call(one)
    units, radius = field.settings.units, one.swing_radius_m[0]
    if one.verdict is None:
        return "", "", ""
    swings = "" if radius is None else length_figure(radius, units, rounding="up")
    if one.verdict == "unknown":  # its gaps rest on a guess
        return "", "no depth known", swings
    if _broken(one):
        return "", "rig cannot work", swings
    if nearest is None:
        return "", "", swings
    if nearest.spare_m2 is not None:
        return (
            area_text(nearest.spare_m2, units, rounding="down"),
            thing_name(nearest, field),
            swings,
        )
    spare = length_figure(nearest.spare_m or 0.0, units, rounding="down")
    return spare, thing_name(nearest, field), swings


def verdict_counts(assessment: Assessment) -> dict[str, int]:
    """Return how many floats have each verdict, `retired` among them.

    Parameters
    ----------
    assessment : Assessment
        Of a field.

    Returns
    -------
    dict
        By verdict.
    """
    counts = dict.fromkeys(("conflict", "tight", "unknown", "clear", "retired"), 0)
    for one in assessment.floats:
        counts[one.verdict or "retired"] += 1
    return counts


def sorted_floats(assessment: Assessment) -> list[AssessedFloat]:
    """Return the floats as lists show them: conflict first, in a group least spare first.

    Parameters
    ----------
    assessment : Assessment
        Of a field.

    Returns
    -------
    list of AssessedFloat
        Retired ones last.
    """

    def key(pair: tuple[int, AssessedFloat]) -> tuple[int, float, int]:
        at, one = pair
        nearest = nearest_to_call(one)
        spare = nearest.spare if nearest is not None and nearest.spare is not None else 1e9
        return VERDICT_ORDER.index(one.verdict), spare, at

    return [one for _, one in sorted(enumerate(assessment.floats), key=key)]


def signed_text(metres: float, assessment: Assessment) -> str:
    """Return a height on the gauge with its sign: `−1.5 ft`, `+1 ft`, `0 ft`."""
    text = asked_text(abs(metres), assessment.field.settings.units)
    sign = "−" if metres < 0 else "+" if metres > 0 else ""
    return f"{sign}{text}"


def level_names(assessment: Assessment) -> list[str]:
    """Return the words on the level switch: low, normal, high.

    Parameters
    ----------
    assessment : Assessment
        Of a field.

    Returns
    -------
    list of str
        Three, with the gauge's figures.
    """
    levels = assessment.field.settings.levels
    return [
        f"Low water {signed_text(levels.low_m, assessment)}",
        "Normal" if levels.normal_m == 0 else f"Normal {signed_text(levels.normal_m, assessment)}",
        f"High {signed_text(levels.high_m, assessment)}",
    ]


def worst_floats(assessment: Assessment, most: int) -> list[AssessedFloat]:
    """Return the floats in file order, or the worst of them where there are too many to show.

    Parameters
    ----------
    assessment : Assessment
        Of a field.
    most : int
        Floats that there is room for.

    Returns
    -------
    list of AssessedFloat
        At most `most`.
    """
    if len(assessment.floats) <= most:
        return list(assessment.floats)
    return sorted_floats(assessment)[:most]
