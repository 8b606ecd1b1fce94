"""What is said of one float: where it was seen, unlike metals, what does not match the sizing."""

from collections.abc import Iterator
from typing import Final

from lakemap.basis.records import Units
from lakemap.basis.wording import compass_text, figure, force_text, length_text
from lakemap.outputs.upkeep.part_texts import names_of, one_line, part_name
from lakemap.season.upkeep.mismatched import Misfit, Touching
from lakemap.season.upkeep.moved import LookFirst, Moved
from lakemap.season.upkeep.upkeep import FloatUpkeep, Upkeep

_INSULATE: Final = (
    "Common practice, no published source: stainless on galvanised only with insulation."
)
_PLACE: Final = {"float": "its primary", "secondary": "its primary", "primary": "its old place"}


def moved_short(seen: Moved, units: Units) -> str:
    """Return where something was seen, in a few words for a row of a table."""
    away = length_text(seen.distance_m, units)
    beyond = seen.beyond_m
    what = "" if seen.what == "float" else f"{seen.what} "
    if seen.what == "primary":
        return f"primary seen {away} from its old place"
    if beyond is None:
        return f"{what}seen {away} from its primary"
    if beyond <= 0:
        return f"{what}seen {away} from its primary, within its circle"
    return f"{what}seen {length_text(beyond, units)} outside its circle"


def moved_texts(seen: Moved, units: Units) -> Iterator[str]:
    """Yield what a sighting means and what to look at first, with care.

    Parameters
    ----------
    seen : Moved
        Of one float.
    units : {'ft-lb', 'm-kg'}
        Of the reader.

    Yields
    ------
    str
        Sentences.
    """
    bearing = compass_text(seen.bearing_deg)
    begun = (
        f"Seen on {seen.on}: the {seen.what} {length_text(seen.distance_m, units)}"
        f" {bearing} of {_PLACE[seen.what]}"
    )
    sure = length_text(seen.uncertainty_m, units, rounding="up")
    if seen.allowed_m is None:
        yield f"{begun}; how far it may go is not known."
    elif seen.verdict == "inside":
        yield f"{begun}, within {_circle(seen, units)}: nothing need have moved."
    elif seen.verdict == "unsure":
        yield (
            f"{begun}, against {_circle(seen, units)}: positions are sure to {sure} only, so"
            " nothing need have moved; look when you pass."
        )
    else:
        yield f"{begun}, outside {_circle(seen, units)}. {_meaning(seen, units)}"
    if seen.look_first:
        yield (
            f"Look first at {'; then at '.join(_first(one) for one in seen.look_first)}."
            " An estimate: the storm that the rigs are sized for, not the wind that blew."
        )


def _circle(seen: Moved, units: Units) -> str:
    allowed = length_text(seen.allowed_m or 0.0, units)
    return {
        "float": f"its swing circle of {allowed}",
        "secondary": f"the {allowed} of its ground chain",
        "primary": f"the {allowed} that it is known to",
    }[seen.what]


def _meaning(seen: Moved, units: Units) -> str:
    least = length_text(seen.beyond_m or 0.0, units, rounding="down")
    if seen.what == "primary":
        return (
            f"The primary moved by {length_text(seen.distance_m, units)}, if both fixes are good."
        )
    if seen.what == "secondary":
        return f"The primary was dragged {least} or more, or the ground chain parted."
    if seen.at_shore:
        return (
            "It lies at the shore, where a loose float ends: likely the line parted, or the"
            f" primary was dragged {least} or more."
        )
    return f"Either the primary was dragged {least} or more, or the line parted."


def _first(one: LookFirst) -> str:
    name = one.name if not one.size else f"the {one.name} {one.size}"
    if one.why == "unfit":
        return f"{name}, found unfit already"
    if one.why == "holds nothing":
        return "the primary, whose weight alone holds nothing there that can be counted on"
    share = figure(100 * (one.share or 0.0), digits=0, rounding="up")
    if one.why == "slides":
        return f"the primary: the steady pull is {share} % of what its weight alone holds"
    return f"{name}: the highest pull is {share} % of what it breaks at"


def touching_text(one: Touching) -> str:
    """Return what two unlike metals do to each other, and what to do."""
    both = one.couple
    worse = one.first if one.first.metal == both.goes else one.second
    better = one.second if worse is one.first else one.first
    tail = f" {_INSULATE}" if "stainless" in {both.goes, both.stays} else ""
    return (
        f"{part_name(better)} ({both.stays}) touches {part_name(worse)} ({both.goes}):"
        f" {figure(both.apart_mv, digits=0)} mV apart, {both.why}.{tail}"
    )


def ends_text(one: FloatUpkeep) -> str:
    """Return what to ask of the ends of a stainless cable."""
    names = ", ".join(f"{piece.name}s" for piece in one.unknown_ends)
    return f"The cable is stainless: {names} must be, too; the file does not say what they are of."


def misfit_text(one: Misfit, units: Units) -> str:
    """Return what does not match the sizing, as a sentence."""
    if one.kind == "fewer blocks":
        return (
            f"The {one.name} has {one.has:g} blocks, practice {one.asked:g} (common practice, no"
            " published source)."
        )
    if one.kind == "overloaded":
        share = figure(100 * one.has, digits=0, rounding="up")
        worn = ", as thin as it was measured" if one.worn else ""
        return (
            f"The {one.name} {one.size} is asked {share} % of its working strength by the highest"
            f" pull, an upper bound{worn}."
        )
    how = "by its weight alone" if one.kind == "slides" else "settled in, an estimate"
    return (
        f"The primary holds {force_text(one.has, units, rounding='down')} {how};"
        f" {force_text(one.asked, units, rounding='up')} are asked."
    )


def never_text(one: FloatUpkeep) -> str:
    """Return which parts no inspection names."""
    return f"never inspected: {names_of(one.never_seen)}"


def float_texts(one: FloatUpkeep, told: Upkeep) -> Iterator[str]:
    """Yield what is said of one float, the gravest first, but for the reasons of its parts."""
    units = told.assessment.field.settings.units
    if one.moved is not None:
        yield from moved_texts(one.moved, units)
    yield from (touching_text(each) for each in one.touching)
    if one.unknown_ends:
        yield ends_text(one)
    for row in one.remarks:
        yield one_line(f"{row.part or 'no part named'}: {row.finding}, {row.on}")
