"""Where a float is, as rows of a sheet; what has to be settled before anything is done there."""

from collections.abc import Iterator
from typing import Final

from lakemap.basis.wording import length_text
from lakemap.outputs.sheets.blocks import Cautions
from lakemap.outputs.sheets.numbers import SheetNumbers
from lakemap.outputs.words.verdicts import verdict_sentence
from lakemap.season.facts.place_facts import DayDepths, PlaceFacts

_LETTERS: Final = "AB"  # as on the map
_BROKEN: Final = frozenset({"pulled_under", "aground"})


def place_rows(
    place: PlaceFacts, numbers: SheetNumbers, *, lettered: bool = False
) -> tuple[tuple[str, str], ...]:
    """Return position, grid, sights on two marks and depths of the day.

    Parameters
    ----------
    place : PlaceFacts
        Of the float.
    numbers : SheetNumbers
        That writes them.
    lettered : bool
        Whether the marks have letters on a map beside.

    Returns
    -------
    tuple of tuple of str
        Name and value; what is not known has a blank to write in.
    """
    texts, form = numbers.texts, "mark" if lettered else "to_mark"
    return (
        (_position_name(place, numbers), numbers.spot(place.lon, place.lat)),
        (texts.of("sheet_any.grid_name"), numbers.grid(place)),
        *(
            (
                texts.of(f"sheet_any.{form}", letter=letter, mark=mark.name),
                texts.of(
                    "sheet_any.sight",
                    bearing=numbers.bearing(mark.to_mark_deg),
                    far=numbers.far(mark.distance_m),
                ),
            )
            for letter, mark in zip(_LETTERS, place.marks, strict=False)
        ),
        (texts.of("sheet_any.depth"), _depths(place.depths, numbers)),
    )


def _depths(depths: DayDepths, numbers: SheetNumbers) -> str:
    primary, secondary = numbers.tape(depths.primary_m), depths.secondary_m
    if secondary is None:
        return primary
    return numbers.texts.of(
        "sheet_any.depth_both", primary=primary, secondary=numbers.tape(secondary)
    )


def bearings_note(place: PlaceFacts, numbers: SheetNumbers) -> str:
    """Return what bearings and grid count from."""
    spot = numbers.spot(place.grid_lon, place.grid_lat)
    return numbers.texts.of("sheet_any.bearings", spot=spot)


def _position_name(place: PlaceFacts, numbers: SheetNumbers) -> str:
    if place.located:
        return numbers.texts.of("sheet_any.position")
    thing = numbers.texts.of(f"sheet_any.fix_{_seen(numbers)}")
    return numbers.texts.of("sheet_any.fix", thing=thing)


def _seen(numbers: SheetNumbers) -> str:
    return "secondary" if numbers.one.record.position_of == "secondary" else "float"


def first_texts(numbers: SheetNumbers, *, laying: bool) -> Iterator[str]:
    """Yield what has to be settled first at a float.

    Parameters
    ----------
    numbers : SheetNumbers
        Of the float.
    laying : bool
        Whether the rig is about to be laid: then its conflicts matter too.

    Yields
    ------
    str
        Whole sentences; none where all is known and nothing is wrong.
    """
    one, texts = numbers.one, numbers.texts
    broken = any(problem.code in _BROKEN for problem in one.problems)
    if laying and (broken or one.verdict == "conflict"):
        says = verdict_sentence(one, numbers.assessment, texts=texts)
        yield texts.of(f"sheet_first.{'broken' if broken else 'conflict'}", says=says)
    if one.depth_m[1] is None:
        yield texts.of("sheet_first.no_depth")
    if not one.located:
        extra = length_text(one.extra_m, numbers.units, rounding="up")
        form = "unplaced" if laying else "not_located"
        yield texts.of(f"sheet_first.{form}_{_seen(numbers)}", extra=extra)
    elif one.record.position_of != "primary":
        extra = length_text(one.extra_m, numbers.units, rounding="up")
        yield texts.of(f"sheet_first.reckoned_{_seen(numbers)}", extra=extra)


def first_box(said: tuple[str, ...], numbers: SheetNumbers) -> tuple[Cautions, ...]:
    """Return the frame that is seen before all else; none where there is nothing to say."""
    if not said:
        return ()
    title = numbers.texts.of("sheet_any.first")
    return (Cautions(texts=said, title=title, look="conflict"),)


def about_float(numbers: SheetNumbers) -> str:
    """Return lot, deck, flotation and whether it is proposed, in one line."""
    record, texts = numbers.one.record, numbers.texts
    parts = [
        texts.of("about.lot", lot=record.lot) if record.lot else "",
        numbers.deck(),
        _flotation(numbers),
        "" if record.status == "set" else texts.of(f"about.{record.status}"),
    ]
    return " · ".join(part for part in parts if part)


def _flotation(numbers: SheetNumbers) -> str:
    record, texts = numbers.one.record, numbers.texts
    if record.flotation == "billets":
        return texts.of("about.billets")
    if record.flotation is None:
        return ""
    if record.tubes is None:
        return texts.of("about.tubes_some")
    return texts.of("about.tubes", count=record.tubes)
