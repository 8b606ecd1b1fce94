"""Words for new sites: the float that is looked for, what limits it, why water is closed."""

import math
from collections.abc import Iterator
from types import MappingProxyType
from typing import Final

import shapely

from lakemap.basis.records import ZONE_KINDS, Field, Float, Units
from lakemap.basis.wording import area_text, compass_text, figure, length_text
from lakemap.clearances.records import Clearance
from lakemap.outputs.words.clearances import asked_text, spare_sentence, thing_name
from lakemap.outputs.words.texts import ENGLISH, Texts
from lakemap.siting.records import Hindrance, Site, Sites, WhyNot

PARTS: Final = ("spare", "shelter", "depth", "way", "line")  # of a score
PART_WORDS: Final = MappingProxyType(
    {name: ENGLISH.of(f"sites.part_{name}_says") for name in PARTS}
)
_SITE_DIGITS: Final = 6  # of degrees: 0.1 m
_KINDS: Final = (
    "shore", "island", "bed", "jump_depth", "shore_max", "deck_area_max", *ZONE_KINDS,
)  # fmt: skip


def float_words(like: Float, units: Units) -> str:
    """Return the float that is looked for, as `10 by 8 ft float`."""
    long, wide = sorted((like.length_m, like.width_m), reverse=True)
    return f"{asked_text(long, units).split()[0]} by {asked_text(wide, units)} float"


def rig_words(like: Float, units: Units, *, texts: Texts = ENGLISH) -> str:
    """Return how long its riser and ground chain are, or that they are designed."""
    lengths = {"riser": like.riser_m, "ground": like.ground_m}
    given = [
        texts.of(f"sites.{name}", far=asked_text(m, units))
        for name, m in lengths.items()
        if m is not None
    ]
    blank = [name for name, m in lengths.items() if m is None]
    said = [", ".join(given)] if given else []
    if blank:
        said.append(texts.of(f"sites.designed_{blank[0] if given else 'both'}"))
    return "; ".join(said)


def place_text(lat: float, lon: float) -> str:
    """Return LAT,LON as phones take it: with a plain minus."""
    return f"{lat:.{_SITE_DIGITS}f},{lon:.{_SITE_DIGITS}f}"


def limit_words(limited_by: str, field: Field, *, texts: Texts = ENGLISH) -> str:
    """Return what limits a site, in plain words.

    Parameters
    ----------
    limited_by : str
        As the site has it: a float, or a kind of rule and what it is about.
    field : Field
        For the islands' names.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        Such as `float 12`, `the shore`, `Camp swim area`.
    """
    kind, _, against = limited_by.partition(": ")
    if kind in _KINDS and against:  # else it is a float's name
        return thing_name(Clearance(against=against, kind=kind), field, texts=texts)
    if limited_by == "nothing":
        return texts.of("sites.nothing")
    if limited_by.startswith("site "):
        return texts.of("sites.site", rank=limited_by.removeprefix("site "))
    name = limited_by.removeprefix("float ")
    return thing_name(Clearance(against=name, kind="float"), field, texts=texts)


def as_clearance(one: Hindrance) -> Clearance:
    """Return a rule at a place as the check would have it, so that its words are the same."""
    is_area = one.kind == "deck_area_max"
    return Clearance(
        against=one.against,
        kind=one.kind,
        spare_m=None if is_area else one.spare_m,
        spare_m2=one.spare_m if is_area else None,
        rule=one.rule,
    )


def hindrance_words(one: Hindrance, field: Field) -> str:
    """Return what a rule leaves at a place, or by how much it is broken; never rounded to flatter.

    Parameters
    ----------
    one : Hindrance
        One rule there.
    field : Field
        For units and names.

    Returns
    -------
    str
        Such as `3.4 ft too near float 12`, `1.2 ft to spare from the shore`.
    """
    if one.spare_m >= 0:
        return spare_sentence(as_clearance(one), field).removesuffix(".")
    units, name = field.settings.units, thing_name(as_clearance(one), field)
    if one.kind == "deck_area_max":
        return f"its deck is {area_text(-one.spare_m, units, rounding='up')} too large"
    much = length_text(-one.spare_m, units, rounding="up")
    return {
        "bed": f"{much} too shallow at low water",
        "jump_depth": f"{much} too shallow for jumping at low water",
        "shore_max": f"{much} too far from the shore",
        "frontage": f"{much} too near the edge of its frontage, or outside it",
    }.get(one.kind, f"{much} too near {name}")


def found_title(sites: Sites, units: Units, *, texts: Texts = ENGLISH) -> str:
    """Return how many sites were found, and for what float.

    Parameters
    ----------
    sites : Sites
        What was found.
    units : {'ft-lb', 'm-kg'}
        What people use.
    texts : Texts
        Of the language.

    Returns
    -------
    str
        Without a full stop.
    """
    like = sites.ask.like
    long, wide = sorted((like.length_m, like.width_m), reverse=True)
    figures = {"long": asked_text(long, units).split()[0], "wide": asked_text(wide, units)}
    kind = texts.of(f"sites.float_{article(figures['long'])}", **figures)
    if shapely.is_empty(sites.allowed):
        if sites.ask.lot is None:
            return texts.of("sites.none", float=kind)
        return texts.of("sites.none_in_lot", float=kind, lot=sites.ask.lot)
    return texts.of("sites.found", count=len(sites.sites), float=kind)


def capacity_clause(sites: Sites, *, texts: Texts = ENGLISH) -> str:
    """Return how many more would fit and what can't be exceeded; nothing without allowed water."""
    if shapely.is_empty(sites.allowed):
        return ""
    fits, most = len(sites.capacity.packing.xy), sites.capacity.bound.most
    form = "sites.capacity_all" if fits == most else "sites.capacity"
    return texts.of(form, fits=str(fits), most=str(most))


def short_capacity(sites: Sites, *, texts: Texts = ENGLISH) -> str:
    """Return the same in few words: `50 in all fit, 121 at most`."""
    if shapely.is_empty(sites.allowed):
        return ""
    fits, most = len(sites.capacity.packing.xy), sites.capacity.bound.most
    return texts.of("sites.capacity_short", fits=str(fits), most=str(most))


def article(words: str) -> str:
    """Return `a`, or `an` before a number that is spoken with a vowel: 8, 11, 18, 80 and so on."""
    number = words.split(maxsplit=1)[0].partition(".")[0]
    return "an" if number.startswith("8") or number in {"11", "18"} else "a"


def bound_sentence(sites: Sites, *, texts: Texts = ENGLISH) -> str:
    """Return what the number that no arrangement can exceed rests on: the theorem."""
    bound = sites.capacity.bound
    return texts.of("sites.bound", most=str(bound.most), source=bound.source)


def why_sentences(why: WhyNot, like: Float, field: Field) -> Iterator[str]:
    """Yield the answer for one place: allowed or not and by what, then where the nearest is.

    Parameters
    ----------
    why : WhyNot
        Of the place.
    like : Float
        The float that is looked for.
    field : Field
        For units and names.

    Yields
    ------
    str
        Whole sentences.
    """
    units = field.settings.units
    kind, place = float_words(like, units), place_text(why.lat, why.lon)
    if why.allowed:
        first = f"{article(kind).capitalize()} {kind} may lie at {place}"
        binding = _binding(why, field)
        yield f"{first}: {binding}." if binding else f"{first}: no rule asks anything."
        return
    if not why.in_water:
        yield f"No float may lie at {place}: that is not in the lake."
    elif why.problems:
        yield f"{article(kind).capitalize()} {kind} may not lie at {place}: {why.problems[0]}."
    else:
        binding = _binding(why, field)
        yield f"{article(kind).capitalize()} {kind} may not lie at {place}: {binding}."
    yield nearest_sentence(why, units)


def _binding(why: WhyNot, field: Field) -> str:
    return hindrance_words(why.hindrances[0], field) if why.hindrances else ""


def nearest_sentence(why: WhyNot, units: Units) -> str:
    """Return where the nearest allowed place is."""
    if why.nearest is None or why.nearest_m is None:
        return "No place in the lake is allowed."
    x, y, lon, lat = why.nearest
    way = compass_text(math.degrees(math.atan2(x - why.x_m, y - why.y_m)))
    far = length_text(why.nearest_m, units, rounding="up")
    return f"The nearest allowed place is {far} to the {way}, at {place_text(lat, lon)}."


def score_text(score: float) -> str:
    """Return a score or a part of one, 0 to 1, with two decimals, rounded down."""
    return figure(score, digits=2, rounding="down")


def spare_text(one: Site, units: Units, *, texts: Texts = ENGLISH) -> str:
    """Return the least spare of a site with its unit, rounded down."""
    if one.limited_by == "nothing":
        return texts.of("sites.free")
    if one.limited_by.startswith("deck_area_max"):
        return area_text(one.least_spare_m, units, rounding="down")
    return length_text(one.least_spare_m, units, rounding="down")
