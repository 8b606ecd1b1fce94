"""What is said of one part: why it is due, how far it is worn, when it was looked at."""

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from types import MappingProxyType
from typing import Final
from unicodedata import category

from lakemap.basis.quantities import INCH_M
from lakemap.basis.records import Units
from lakemap.basis.wording import bar_text, figure
from lakemap.rig.wear import CABLE_LIFE_AT_MOST_YEARS, CABLE_LIFE_YEARS, CHAIN_LIFE_YEARS
from lakemap.season.rig_inventory import RigPiece
from lakemap.season.upkeep.days import years_between
from lakemap.season.upkeep.inspected import Seen
from lakemap.season.upkeep.part_records import Due, PieceState, Why, Worn


def part_name(piece: RigPiece) -> str:
    """Return a part with its size where that tells more than its name, and who said so."""
    sized = piece.name if piece.kind in {"block", "weight"} else f"{piece.name} {piece.size}"
    return sized if piece.origin == "given" else f"{sized}, assumed"


def one_line(text: str) -> str:
    """Return what somebody wrote as one line without control signs, for a terminal."""
    even = " ".join(text.split())
    return "".join(sign for sign in even if category(sign) != "Cc")


def names_of(parts: Sequence[PieceState]) -> str:
    """Return parts by their names, each once."""
    return ", ".join(dict.fromkeys(part.piece.name for part in parts))


def due_short(due: Due, part: PieceState, *, on: date, units: Units) -> str:
    """Return in a few words why a part is due, for a row of a table.

    Parameters
    ----------
    due : Due
        One of its reasons.
    part : PieceState
        The part.
    on : date
        The day.
    units : {'ft-lb', 'm-kg'}
        Of the reader.

    Returns
    -------
    str
        Such as `riser chain: worn to 0.340 in, replace at 0.315 in`.
    """
    return f"{part.piece.name}: {_SHORT[due.why](due, part, on, units)}"


def due_text(due: Due, part: PieceState, *, on: date, units: Units) -> str:
    """Return why a part is due and on whose word, as a sentence.

    Parameters
    ----------
    due : Due
        One of its reasons.
    part : PieceState
        The part.
    on : date
        The day.
    units : {'ft-lb', 'm-kg'}
        Of the reader.

    Returns
    -------
    str
        With the source, common practice named so.
    """
    said = _LONG[due.why](due, part, on, units)
    return f"{part_name(part.piece)}: {said} ({source_short(due)})."


def source_short(due: Due) -> str:
    """Return on whose word a part is due, as short as it can be found by."""
    if due.basis == "published":
        return due.source.partition(", ")[0].partition(":")[0]
    return due.basis


def _found_row(part: PieceState, due: Due) -> Seen | None:
    rows = [
        row
        for row in part.seen
        if row.on == due.by and (row.kind in {"out", "worn"} or row.corroded)
    ]
    return rows[-1] if rows else None


def _finding(due: Due, part: PieceState) -> str:
    row = _found_row(part, due)
    return one_line((row.finding if row is not None else None) or "unfit")


def _found_short(due: Due, part: PieceState, _on: date, _units: Units) -> str:
    return f"found {_finding(due, part)}"


def _found_long(due: Due, part: PieceState, _on: date, _units: Units) -> str:
    return f"found {_finding(due, part)} on {due.by}; replace it"


def _doubt_short(_due: Due, _part: PieceState, _on: date, _units: Units) -> str:
    return "found unfit, later good: was it replaced?"


def _doubt_long(due: Due, part: PieceState, _on: date, _units: Units) -> str:
    return (
        f"found {_finding(due, part)} on {due.by} and good later, but no row says that it was"
        " replaced; look again"
    )


def _size_short(_due: Due, part: PieceState, _on: date, units: Units) -> str:
    worn = _worn(part)
    return f"{bar_text(worn.least_m, units)} left, replace at {bar_text(worn.retired_m, units)}"


def _size_long(_due: Due, part: PieceState, _on: date, units: Units) -> str:
    worn = _worn(part)
    return (
        f"measured {bar_text(worn.least_m, units)} on {worn.measured_on}; new"
        f" {bar_text(worn.new_m, units)}, replaced at {bar_text(worn.retired_m, units)}: replace it"
    )


def _wires_of(part: PieceState) -> int:
    return max((row.broken_wires or 0 for row in part.seen), default=0)


def _wires_short(_due: Due, part: PieceState, _on: date, _units: Units) -> str:
    return f"{_count(_wires_of(part), 'broken wire')}"


def _wires_long(due: Due, part: PieceState, _on: date, _units: Units) -> str:
    return (
        f"{_count(_wires_of(part), 'broken wire')} on {due.by}; replace it: three in one strand"
        " within one lay are too many, and the row does not say where they are, so the worst is"
        " taken"
    )


def _few_short(_due: Due, part: PieceState, _on: date, _units: Units) -> str:
    return f"{_count(_wires_of(part), 'broken wire')}, look where"


def _few_long(due: Due, part: PieceState, _on: date, _units: Units) -> str:
    return (
        f"{_count(_wires_of(part), 'broken wire')} on {due.by}; look where: one within 1 ft of an"
        " end, or where the cable bends or rubs, is enough to replace it"
    )


def _age_short(_due: Due, part: PieceState, on: date, _units: Units) -> str:
    return f"{_age(part, on)} in the water"


def _age_long(_due: Due, part: PieceState, on: date, _units: Units) -> str:
    lasts = (
        f"{CABLE_LIFE_YEARS.value:g} to {CABLE_LIFE_AT_MOST_YEARS.value:g} years"
        if part.piece.kind == "cable"
        else f"about {CHAIN_LIFE_YEARS.value:g} years"
    )
    return f"{_age(part, on)} in the water ({since_text(part)}); it lasts {lasts}"


def row_text(row: Seen, units: Units, *, owners: bool) -> str:
    """Return one row of the inspections as a line.

    Parameters
    ----------
    row : Seen
        The row.
    units : {'ft-lb', 'm-kg'}
        Of the reader.
    owners : bool
        True names who inspected.

    Returns
    -------
    str
        Day, part, finding, measure, wires.
    """
    said = [row.part or "no part named", row.finding or "no finding"]
    if row.diameter_m is not None:
        said.append(bar_text(row.diameter_m, units))
    if row.broken_wires is not None:
        said.append(_count(row.broken_wires, "broken wire"))
    by = f" ({row.by})" if owners and row.by else ""
    return one_line(f"{row.on}: {', '.join(said)}{by}")


def since_text(part: PieceState) -> str:
    """Return from when a part's age counts."""
    words = {
        "replaced": f"replaced {part.since}",
        "set": f"set {part.since}",
        "first seen": f"seen since {part.since}",
        None: "not known",
    }
    return words[part.since_what]


def _age(part: PieceState, on: date) -> str:
    years = 0.0 if part.since is None else years_between(part.since, on)
    return f"{figure(years)} years"


def _wear_short(_due: Due, part: PieceState, _on: date, units: Units) -> str:
    worn = _worn(part)
    return f"worn to {bar_text(worn.least_m, units)}, replace at {bar_text(worn.retired_m, units)}"


def _wear_long(_due: Due, part: PieceState, _on: date, units: Units) -> str:
    worn = _worn(part)
    begun = (
        f"measured {bar_text(worn.least_m, units)} on {worn.measured_on}; {wear_text(worn, units)}"
    )
    out = bar_text(worn.retired_m, units)
    if worn.likely_on is None:
        return f"{begun}, so when it comes to {out} is not known: measure again by {worn.safe_on}"
    return (
        f"{begun}. It comes to {out}, where it is replaced, about {worn.likely_on}, on the safe"
        f" side {worn.safe_on}"
    )


def wear_text(worn: Worn, units: Units) -> str:
    """Return how fast a part wears, with the uncertainty of that."""
    if worn.rate_m_a is None or worn.rate_error_m_a is None:
        return "how fast it wears is not known yet"
    scale, digits, unit = (1 / INCH_M.value, 4, "in") if units == "ft-lb" else (1e3, 2, "mm")
    error = figure(worn.rate_error_m_a * scale, digits=digits, rounding="up")
    of = (
        f"since new ({bar_text(worn.new_m, units)})"
        if worn.since_new
        else f"by {worn.measured} measurements"
    )
    if worn.rate_m_a <= 0:
        return f"nothing lost {of}, ± {error} {unit} a year"
    rate = figure(worn.rate_m_a * scale, digits=digits, rounding="up")
    return f"{rate} {unit} lost a year {of}, ± {error}"


def _worn_short(_due: Due, _part: PieceState, _on: date, _units: Units) -> str:
    return "worn, not measured"


def _worn_long(due: Due, part: PieceState, _on: date, _units: Units) -> str:
    then = "measure it" if due.what == "measure" else "look again"
    return f"found {_finding(due, part)} on {due.by}, without a measure; {then}"


def _worn(part: PieceState) -> Worn:
    if part.worn is None:
        raise AssertionError("wear is due of measured parts alone")  # pragma: no cover
    return part.worn


def _count(number: int, one: str) -> str:
    return f"{number} {one}{'' if number == 1 else 's'}"


_Said = Callable[[Due, PieceState, date, Units], str]
_SHORT: Final[Mapping[Why, _Said]] = MappingProxyType(
    {
        "found": _found_short,
        "doubt": _doubt_short,
        "size": _size_short,
        "wires": _wires_short,
        "wires few": _few_short,
        "age": _age_short,
        "wear": _wear_short,
        "worn": _worn_short,
    }
)
_LONG: Final[Mapping[Why, _Said]] = MappingProxyType(
    {
        "found": _found_long,
        "doubt": _doubt_long,
        "size": _size_long,
        "wires": _wires_long,
        "wires few": _few_long,
        "age": _age_long,
        "wear": _wear_long,
        "worn": _worn_long,
    }
)
