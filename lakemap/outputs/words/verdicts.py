"""What became of a float and of the whole field: verdicts, headline, the order of lists."""

from typing import Final

from lakemap.basis.errors import Problem
from lakemap.basis.wording import area_text, length_figure
from lakemap.clearances.records import Clearance
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.words.clearances import conflict_sentence, spare_sentence, thing_name, titled
from lakemap.outputs.words.texts import ENGLISH, Texts

VERDICT_ORDER: Final = ("conflict", "tight", "unknown", "clear", None)
_SPELLED: Final = 12  # numbers up to here are spelled where a sentence begins with one


def verdict_sentence(one: AssessedFloat, assessment: Assessment, *, texts: Texts = ENGLISH) -> str:
    """Return the one sentence that a float's row and panel begin with.

    Parameters
    ----------
    one : AssessedFloat
        Of the assessment.
    assessment : Assessment
        For units and names.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        Whole sentence.
    """
    field = assessment.field
    broken = _broken(one)
    worst = nearest_to_call(one)
    if one.verdict is not None and broken:
        return f"{titled(broken[0].text)}."
    plain = _plain_form(one, worst)
    if plain or worst is None:
        return texts.of(f"sentence.{plain}")
    told = conflict_sentence if one.verdict == "conflict" else spare_sentence
    return told(worst, field, texts=texts)


def _plain_form(one: AssessedFloat, worst: Clearance | None) -> str:
    """Which sentence without a number tells a verdict; empty where one with a number does."""
    if one.verdict is None:
        return "retired"
    if one.verdict == "unknown":
        return "no_depth"
    if worst is None:
        return "nothing_asked"
    is_same_wind = any(p.code == "same_wind_only" for p in one.problems)
    return "same_wind" if one.verdict == "tight" and is_same_wind else ""


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


def headline(assessment: Assessment, *, texts: Texts = ENGLISH) -> str:
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
    bad = counts["conflict"]
    if not checked:
        return texts.of("list.empty")
    if assessment.surface is None and counts["unknown"] == checked:
        return texts.of("headline.no_depths")
    if bad:
        spelled = 1 < bad <= _SPELLED
        number = texts.of(f"number.{bad}") if spelled else f"{bad:,}"
        return texts.of("headline.conflict", number=number, count=bad)
    if counts["clear"] == checked:
        return texts.of("headline.all_clear", count=checked)
    return texts.of("headline.no_conflict")


def row_words(
    one: AssessedFloat, assessment: Assessment, *, texts: Texts = ENGLISH
) -> tuple[str, str, str]:
    """Return what a table says of a float: its spare, what that is to, how far it swings.

    Parameters
    ----------
    one : AssessedFloat
        Of the assessment.
    assessment : Assessment
        For units and names.
    texts : Texts
        Of the language.

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
        return "", texts.of("map.no_depth"), swings
    if _broken(one):
        return "", texts.of("sheet.cannot_work"), swings
    if nearest is None:
        return "", "", swings
    if nearest.spare_m2 is not None:
        return (
            area_text(nearest.spare_m2, units, rounding="down"),
            thing_name(nearest, field, texts=texts),
            swings,
        )
    spare = length_figure(nearest.spare_m or 0.0, units, rounding="down")
    return spare, thing_name(nearest, field, texts=texts), swings


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
