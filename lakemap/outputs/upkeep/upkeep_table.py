"""What `upkeep` prints: what is due first, then what each such float needs, then all the rest."""

import re
import textwrap
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from lakemap.outputs.tables.grid import grid, plain
from lakemap.outputs.upkeep.field_texts import (
    headline,
    misfit_lines,
    note_lines,
    permit_lines,
    some_of,
    state_word,
    task_lines,
)
from lakemap.outputs.upkeep.float_texts import float_texts, misfit_text, moved_short
from lakemap.outputs.upkeep.part_texts import (
    due_short,
    due_text,
    names_of,
    one_line,
    part_name,
    row_text,
    since_text,
)
from lakemap.outputs.upkeep.storm_lines import storm_lines
from lakemap.outputs.words.cautions import closing_line
from lakemap.season.upkeep.part_records import PieceState
from lakemap.season.upkeep.part_states import due_state
from lakemap.season.upkeep.upkeep import FloatUpkeep, Upkeep, by_urgency

_WIDTH: Final = 96
_HOLD: Final = "\N{NO-BREAK SPACE}"
_BEFORE_UNIT: Final = re.compile(r"(?<=\d) (?=(?:ft|in|lb|m|mm|kg|N|mph|m/s|mV|years)\b|%)")
_SHORT: Final = 52  # letters of a remark in a row
_COLOURS: Final = {"moved": "31;1", "replace now": "31;1", "overdue": "31", "due": "33"}
_HEADER: Final = ("float", "state", "what first", "from", "at the latest", "and")
_PRESSING: Final = frozenset({"replace now", "overdue", "due"})


def upkeep_table(told: Upkeep, *, owners: bool = False, colour: bool = False) -> str:
    """Return what `upkeep` prints.

    Parameters
    ----------
    told : Upkeep
        Of a field, or of it with one float left, of which all parts are told.
    owners : bool
        True names permits and who inspected.
    colour : bool
        True on a terminal.

    Returns
    -------
    str
        Lines.
    """
    lines = [headline(told), ""]
    if told.storm is not None:
        lines += [*storm_lines(told), ""]
    pressing = [one for one in by_urgency(told.floats) if is_pressing(one)]
    if pressing:
        lines += [*_grid(pressing, told, colour=colour), ""]
    alone = len(told.floats) == 1
    aged = [] if alone else [one for one in pressing if _is_aged_alone(one)]
    in_short = {one.float_id for one in aged}
    for one in told.floats if alone else pressing:
        if one.float_id not in in_short:
            lines += [*_float(one, told, alone=alone, owners=owners), ""]
    lines += _aged(aged, told)
    if not alone:
        lines += _rest(told, pressing)
        lines += _section("All rigs in the storm they are sized for", misfit_lines(told))
    lines += _section("Season", task_lines(told))
    lines += _section("Permits", permit_lines(told, owners=owners))
    lines += _section("Not counted, or not as written", note_lines(told))
    lines.append("Ages count from the day a float was set; parts may be older.")
    lines.append(closing_line())
    return plain("\n".join(lines))


def is_pressing(one: FloatUpkeep) -> bool:
    """Tell whether a float wants something done this season."""
    return state_word(one) in {"moved", "look", *_PRESSING}


def _grid(floats: Sequence[FloatUpkeep], told: Upkeep, *, colour: bool) -> list[str]:
    rows = [_row(one, told) for one in floats]
    lines = grid(_HEADER, rows, right=set())
    if not colour:
        return lines
    start = max(len("float"), *(len(row[0]) for row in rows)) + 2
    return lines[:2] + [
        line[:start] + _painted(row[1]) + line[start + len(row[1]) :]
        for line, row in zip(lines[2:], rows, strict=True)
    ]


def _painted(word: str) -> str:
    return f"\x1b[{_COLOURS[word]}m{word}\x1b[0m" if word in _COLOURS else word


def _row(one: FloatUpkeep, told: Upkeep) -> list[str]:
    units = told.assessment.field.settings.units
    pressing = _pressing(one)
    more = len(pressing)
    word = state_word(one)
    if one.moved is not None and word in {"moved", "look"} and one.moved.verdict != "inside":
        cells = [word, moved_short(one.moved, units), str(one.moved.on), "now"]
    elif pressing:
        first = pressing[0]
        due = first.dues[0]
        short = due_short(due, first, on=told.on, units=units)
        cells = [first.state, short, *_span(first)]
        more -= 1
    else:
        cells = [word, _remark(one), "", ""]
    return [one.float_id, *cells, f"{more} more" if more else ""]


def _remark(one: FloatUpkeep) -> str:
    if one.touching or one.unknown_ends:
        return "unlike metals"
    row = one.remarks[0]
    said = one_line(f"{row.part or 'no part named'}: {row.finding}")
    return textwrap.shorten(said, _SHORT, placeholder=" …")


def _span(part: PieceState) -> tuple[str, str]:
    """From when a part is due, and when at the latest."""
    if not part.dues:
        return "", ""
    due = part.dues[0]
    return str(due.by), "now" if part.state == "replace now" else str(due.at_most or due.by)


def _pressing(one: FloatUpkeep) -> list[PieceState]:
    """Its parts that want something, in the order of urgency."""
    order = ("replace now", "overdue", "due")
    found = [part for part in one.parts if part.state in _PRESSING]
    return sorted(found, key=lambda part: (order.index(part.state), part.by or part.dues[0].by))


def _float(one: FloatUpkeep, told: Upkeep, *, alone: bool, owners: bool) -> Iterator[str]:
    units = told.assessment.field.settings.units
    yield f"float {one.float_id}"
    texts = list(float_texts(one, told))
    for part in one.parts if alone else _pressing(one):
        for due in part.dues:
            state = due_state(due, on=told.on, until=told.until)
            if state != "later" or due.why == "wear":
                texts.append(f"{state}: {due_text(due, part, on=told.on, units=units)}")
    texts += [misfit_text(each, units) for each in one.misfits] if alone else []
    late = [part for part in one.parts if part.state not in _PRESSING and _is_late(part, told)]
    if late and not alone:
        texts.append(f"to be looked at again this season: {names_of(late)}")
    if one.never_seen and not alone:
        texts.append(_never(one))
    yield from _wrapped(texts)
    if alone:
        yield ""
        yield from _parts(one, told, owners=owners)


def _is_late(part: PieceState, told: Upkeep) -> bool:
    """Tell whether a part that was looked at is to be looked at again this season."""
    return part.look_by is not None and part.look_by <= told.until


def _never(one: FloatUpkeep) -> str:
    seen = [part for part in one.parts if part.seen]
    if not seen:
        return "never inspected"
    if len(seen) < len(one.never_seen):
        return f"inspected so far: {names_of(seen)}; the other parts never"
    return f"never inspected: {names_of(one.never_seen)}"


def _is_aged_alone(one: FloatUpkeep) -> bool:
    """Tell whether nothing presses but a cable's age: many floats share that, and one text."""
    parts = _pressing(one)
    plain = not (one.moved or one.touching or one.unknown_ends or one.seen)
    return plain and all(
        due.why == "age" and part.piece.origin == "given" for part in parts for due in part.dues
    )


def _aged(floats: Sequence[FloatUpkeep], told: Upkeep) -> list[str]:
    if not floats:
        return []
    parts = [_pressing(one)[0] for one in floats]
    names = _some(floats, told)
    lasts = {
        "cable": "an absorber cable lasts 9 to 10 years in the water",
        "chain": "chain lasts about 30 years in the water",
    }
    texts = [lasts[kind] for kind in lasts if any(part.piece.kind == kind for part in parts)]
    said = f"{'; '.join(texts)} (common practice, no published source); never inspected"
    return [f"float{'s' * (len(floats) > 1)} {names}", *_wrapped([said]), ""]


def _parts(one: FloatUpkeep, told: Upkeep, *, owners: bool) -> Iterator[str]:
    """Every part of one rig, hook to primary."""
    units = told.assessment.field.settings.units
    header = ["part", "state", "from", "at the latest", "looked at", "look again", "age"]
    rows = [
        [
            f"{part.piece.count or '?'} × {part_name(part.piece)}",
            part.state,
            *_span(part),
            "never" if part.seen_on is None else str(part.seen_on),
            "" if part.look_by is None else str(part.look_by),
            since_text(part),
        ]
        for part in one.parts
    ]
    yield from (f"  {line}" for line in grid(header, rows, right=set()))
    if one.seen:
        yield ""
        yield from _wrapped(row_text(row, units, owners=owners) for row in one.seen)


def _rest(told: Upkeep, pressing: Sequence[FloatUpkeep]) -> list[str]:
    """The floats with nothing due this season, in three lines."""
    named = {one.float_id for one in pressing}
    rest = [one for one in told.floats if one.float_id not in named]
    later = [one for one in by_urgency(rest) if one.state in {"later", "good"}]
    bare = [one for one in told.floats if not one.has_record]
    unseen = [one for one in told.floats if one.has_record and not one.seen]
    again = [one for one in rest if any(_is_late(part, told) for part in one.parts)]
    texts = []
    if later:
        texts.append(f"nothing due this season: {_some(later, told)}{_next(later, told)}")
    if again:
        texts.append(f"to be looked at again this season: {_some(again, told)}")
    if unseen:
        texts.append(f"never inspected, only the day they were set is known: {_some(unseen, told)}")
    if bare:
        texts.append(f"no record at all, so nothing can be said: {_some(bare, told)}")
    return _section("The other floats" if pressing else "The floats", texts)


def _next(later: Sequence[FloatUpkeep], told: Upkeep) -> str:
    first = later[0]
    parts = [part for part in first.parts if part.by == first.by and part.dues]
    if first.by is None or not parts:
        return ""
    units = told.assessment.field.settings.units
    what = due_short(parts[0].dues[0], parts[0], on=first.by, units=units)
    return f". The next: float {first.float_id}, {first.by}, {what}"


def _some(floats: Sequence[FloatUpkeep], told: Upkeep) -> str:
    return some_of([one.float_id for one in floats], told)


def _section(title: str, texts: Iterable[str]) -> list[str]:
    found = list(texts)
    return [title, *_wrapped(found), ""] if found else []


def _wrapped(texts: Iterable[str]) -> Iterator[str]:
    """Sentences in lines, no figure parted from its unit."""
    for text in texts:
        held = _BEFORE_UNIT.sub(_HOLD, text)
        for line in textwrap.wrap(held, _WIDTH, initial_indent="    ", subsequent_indent="      "):
            yield line.replace(_HOLD, " ")
