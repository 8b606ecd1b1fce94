"""What a clearance is to, how near it is and what is asked, in words."""

from dataclasses import dataclass
from typing import Final

from lakemap.basis.records import Field, Units
from lakemap.basis.wording import Rounding, area_text, length_text
from lakemap.clearances.records import Clearance
from lakemap.outputs.words.texts import ENGLISH, Texts

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


def titled(name: str) -> str:
    """Return a name with a capital, as a row begins with it.

    Parameters
    ----------
    name : str
        Such as `the shore`.

    Returns
    -------
    str
        `The shore`.
    """
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
        name=titled(_named(one, field, texts, "title")),
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
