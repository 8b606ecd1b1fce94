"""Sentences for people; their texts stand in the table of a language."""

from dataclasses import dataclass
from datetime import date
from typing import Final

from lakemap.basis.errors import Problem
from lakemap.basis.records import Field, Units
from lakemap.basis.wording import Rounding, area_text, length_figure, length_text
from lakemap.clearances.records import Clearance
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.texts import ENGLISH, Texts

VERDICT_ORDER: Final = ("conflict", "tight", "unknown", "clear", None)
_SPELLED: Final = 12  # numbers up to here are spelled where a sentence begins with one
_COMMON_THINGS: Final = frozenset(
    {"shore", "bed", "jump_depth", "shore_max", "deck_area_max", "frontage"}
)


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


def thing_name(one: Clearance, field: Field, *, texts: Texts = ENGLISH) -> str:
    """Return what a clearance is to, as a sentence names it.

    Parameters
    ----------
    one : Clearance
        Of a float.
    field : Field
        For the islands' names.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        Such as `float 21`, `the shore`, `Camp swim area`.
    """
    return _named(one, field, texts, "thing")


def _named(one: Clearance, field: Field, texts: Texts, form: str) -> str:
    """What a clearance is to: a `thing` in a sentence, or a `title` over a row."""
    if one.kind in _COMMON_THINGS:
        return texts.of(f"{form}.{one.kind}")
    if one.kind == "float":
        return texts.of(f"{form}.float", float=one.against)
    if one.kind == "island":
        own = island_name(field, one.against)
        number = own.removeprefix("island ")
        return texts.of(f"{form}.island", number=number) if own == one.against else own
    return one.against


def _title(name: str) -> str:
    return name[:1].upper() + name[1:]


def clearance_line(one: Clearance, field: Field, *, texts: Texts = ENGLISH) -> ClearanceLine:
    """Return a clearance as the panel and the tables show it.

    Parameters
    ----------
    one : Clearance
        Of a float.
    field : Field
        For units and names.
    texts : Texts
        Of the language.

    Returns
    -------
    ClearanceLine
        Rounding never flatters: a shortfall is rounded up, a spare down.
    """
    units = field.settings.units
    spare = one.spare
    return ClearanceLine(
        name=_title(_named(one, field, texts, "title")),
        detail=_detail(one, units, texts),
        amount=_amount(one, units, texts),
        short=spare is not None and spare < 0,
    )


def _amount(one: Clearance, units: Units, texts: Texts) -> str:
    spare = one.spare
    if spare is None:
        return texts.of("amount.none")
    if spare >= 0:
        return texts.of("amount.spare", much=_much(one, units))
    form = "amount.too_large" if one.kind == "deck_area_max" else "amount.short"
    return texts.of(form, much=_much(one, units))


def _much(one: Clearance, units: Units) -> str:
    """The figure of a spare or of what is short, never rounded to flatter."""
    spare = one.spare or 0.0
    written = area_text if one.kind == "deck_area_max" else length_text
    return written(abs(spare), units, rounding="up" if spare < 0 else "down")


def _detail(one: Clearance, units: Units, texts: Texts) -> str:
    gap = one.gap_m or 0.0
    if one.kind == "deck_area_max":
        much = area_text(one.value_m2 or 0.0, units, rounding="up")
        allowed = area_text(one.required_m2 or 0.0, units)
        return texts.of("detail.deck_area_max", much=much, allowed=allowed)
    form = _gap_form(one, gap)
    rounding: Rounding = "up" if gap < 0 or one.kind == "shore_max" else "down"
    deep = one.kind in {"bed", "jump_depth"}
    far = length_text(gap if deep else abs(gap), units, rounding="down" if deep else rounding)
    return texts.of(f"detail.{form}", far=far, asked=_asked(one, units, texts))


def _gap_form(one: Clearance, gap: float) -> str:
    """Which sentence tells a gap."""
    if one.kind in {"bed", "jump_depth", "shore_max"}:
        return one.kind
    if gap >= 0:
        return "gap"
    return {
        "float": "overlap",
        "island": "too_far",
        "shore": "too_far",
        "frontage": "outside",
    }.get(one.kind, "inside")


def _asked(one: Clearance, units: Units, texts: Texts) -> str:
    if one.required_m is None:
        return texts.of("detail.nothing")
    form = "detail.allowed" if one.kind == "shore_max" else "detail.asked"
    return texts.of(form, far=asked_text(one.required_m, units))


def asked_text(metres: float | None, units: Units) -> str:
    """Return a required length without noughts that say nothing: `20 ft`, `2.5 m`."""
    figure_, unit = length_text(metres or 0.0, units).split()
    return f"{figure_.rstrip('0').rstrip('.') if '.' in figure_ else figure_} {unit}"


def conflict_sentence(one: Clearance, field: Field, *, texts: Texts = ENGLISH) -> str:
    """Return what a clearance below 0 spare means, as a whole sentence.

    Parameters
    ----------
    one : Clearance
        With a spare below 0.
    field : Field
        For units and names.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        Thing first, number, where, when.
    """
    units = field.settings.units
    if one.kind == "deck_area_max":
        much = area_text(one.value_m2 or 0.0, units, rounding="up")
        asked = area_text(one.required_m2 or 0.0, units)
        return texts.of("sentence.deck_area_max", much=much, asked=asked)
    asked, gap = asked_text(one.required_m, units), one.gap_m or 0.0
    if one.kind in {"bed", "jump_depth"}:
        deep = length_text(max(gap, 0.0), units, rounding="down")
        return texts.of(f"sentence.{one.kind}", far=deep, asked=asked)
    if one.kind == "shore_max":
        out = length_text(gap, units, rounding="up")
        return texts.of("sentence.shore_max", far=out, asked=asked)
    thing, far = _the(one, field, texts), length_text(abs(gap), units, rounding=_outward(gap))
    return texts.of(f"sentence.{_near_form(one, gap)}", far=far, thing=thing, asked=asked)


def _outward(gap: float) -> Rounding:
    return "up" if gap < 0 else "down"


def _near_form(one: Clearance, gap: float) -> str:
    """Which sentence tells that a circle comes too near to something, or onto it."""
    if gap >= 0:
        return "near_frontage" if one.kind == "frontage" else "near"
    return {
        "float": "meet",
        "frontage": "out_of_frontage",
        "shore": "onto",
        "island": "onto",
    }.get(one.kind, "into")


def _the(one: Clearance, field: Field, texts: Texts) -> str:
    """A zone's common name takes an article; a proper one, or one with a number, none."""
    name = thing_name(one, field, texts=texts)
    is_zone = one.kind not in _COMMON_THINGS | {"island", "float"}
    article = texts.of("thing.common_zone", zone="")
    has_own = bool(article) and name.startswith(article)
    is_common = name[:1].islower() and not has_own and not name[-1:].isdigit()
    return texts.of("thing.common_zone", zone=name) if is_zone and is_common else name


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
        return f"{_title(broken[0].text)}."
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


def spare_sentence(one: Clearance, field: Field, *, texts: Texts = ENGLISH) -> str:
    """Return how much is to spare and from what.

    Parameters
    ----------
    one : Clearance
        With a spare of 0 or more.
    field : Field
        For units and names.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        Whole sentence.
    """
    own = {"frontage", "bed", "jump_depth", "shore_max", "deck_area_max"}
    form = f"spare.{one.kind}" if one.kind in own else "spare.from"
    much, thing = _much(one, field.settings.units), _the(one, field, texts)
    return texts.of(form, much=much, thing=thing)


def short_sentence(sentence: str, *, texts: Texts = ENGLISH) -> str:
    """Return a sentence as a callout has room for: without its full stop and its common end."""
    end, stop = texts.of("short.end"), texts.of("short.stop")
    return sentence.removesuffix(end) if sentence.endswith(end) else sentence.removesuffix(stop)


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


def signed_text(metres: float, assessment: Assessment) -> str:
    """Return a height on the gauge with its sign: `−1.5 ft`, `+1 ft`, `0 ft`."""
    text = asked_text(abs(metres), assessment.field.settings.units)
    sign = "−" if metres < 0 else "+" if metres > 0 else ""
    return f"{sign}{text}"


def level_names(assessment: Assessment, *, texts: Texts = ENGLISH) -> list[str]:
    """Return the words on the level switch: low, normal, high.

    Parameters
    ----------
    assessment : Assessment
        Of a field.
    texts : Texts
        Of the language.

    Returns
    -------
    list of str
        Three, with the gauge's figures.
    """
    return _levels(assessment, texts, "switch")


def level_words(assessment: Assessment, *, texts: Texts = ENGLISH) -> list[str]:
    """Return the three levels as a sentence names them: `low water −1.5 ft`, `normal water`.

    Parameters
    ----------
    assessment : Assessment
        Of a field.
    texts : Texts
        Of the language.

    Returns
    -------
    list of str
        Low, normal, high.
    """
    return _levels(assessment, texts, "level")


def _levels(assessment: Assessment, texts: Texts, form: str) -> list[str]:
    levels = assessment.field.settings.levels
    normal = "normal" if levels.normal_m == 0 else "normal_at"
    heights = {"low": levels.low_m, normal: levels.normal_m, "high": levels.high_m}
    return [
        texts.of(f"{form}.{name}", level=signed_text(height, assessment))
        for name, height in heights.items()
    ]


def date_words(day: date | None, *, texts: Texts = ENGLISH) -> str:
    """Return a date in words, `14 June 2025`; empty for none."""
    if day is None:
        return ""
    month = texts.of(f"month.{day.month}")
    return texts.of("date.day", day=day.day, month=month, year=str(day.year))


def compass_words(bearing_deg: float, *, texts: Texts = ENGLISH, form: str = "compass") -> str:
    """Return a bearing as one of sixteen points, in words or (`compass_letters`) in letters."""
    return texts.of(f"{form}.{round(bearing_deg % 360 / 22.5) % 16}")


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
