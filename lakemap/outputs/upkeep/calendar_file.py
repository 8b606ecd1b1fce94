"""What is due, as a calendar file (iCalendar, RFC 5545): all-day entries, each known again."""

import uuid
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final
from unicodedata import category

from lakemap.outputs.upkeep.field_texts import state_word
from lakemap.outputs.upkeep.float_texts import moved_texts
from lakemap.outputs.upkeep.part_texts import due_short, due_text, names_of
from lakemap.season.upkeep.days import years_after
from lakemap.season.upkeep.part_records import PieceState
from lakemap.season.upkeep.upkeep import FloatUpkeep, Upkeep

_LINE_OCTETS: Final = 75  # RFC 5545, 3.1
_AHEAD_YEARS: Final = 10.0  # ours: a calendar is not for chain that lasts thirty years
_CONTROLS: Final = frozenset({"Cc", "Cs"})  # controls, and halves of signs
_SPACE: Final = uuid.uuid5(uuid.NAMESPACE_URL, "lakemap:upkeep")
_DO: Final = {"replace": "replace", "measure": "measure", "look": "look at"}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Entry:
    key: str  # tells it from all others of the field, whatever its day
    on: date
    title: str
    text: str


def calendar_text(told: Upkeep, *, owners: bool = False) -> str | None:
    """Return what is due as the text of a calendar file.

    The next ten years: parts, looks, permits, setting, marking, lifting. What should have been done
    by now stands on the day that the upkeep is told for. An entry keeps its identity when its day
    changes, so that a later file moves it. The same field and day give the same bytes.

    Parameters
    ----------
    told : Upkeep
        Of a field.
    owners : bool
        True puts the texts of permits into it.

    Returns
    -------
    str or None
        Lines that end as RFC 5545 has it; None where nothing has a day.
    """
    last = years_after(told.on, _AHEAD_YEARS) or date.max
    entries = [one for one in _entries(told, owners=owners) if one.on <= last]
    if not entries:
        return None
    settings = told.assessment.field.settings
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//lakemap//upkeep//EN"]
    lines += ["CALSCALE:GREGORIAN", f"NAME:{_escaped(f'Upkeep of {settings.name}')}"]
    for entry in sorted(entries, key=lambda one: (one.on, one.key)):
        lines += _event(entry, told)
    lines.append("END:VCALENDAR")
    return "".join(f"{part}\r\n" for line in lines for part in _folded(line))


def _event(entry: _Entry, told: Upkeep) -> Iterator[str]:
    name = f"{told.assessment.field.folder}\n{entry.key}"
    yield "BEGIN:VEVENT"
    yield f"UID:{uuid.uuid5(_SPACE, name)}"
    yield f"DTSTAMP:{told.on:%Y%m%d}T000000Z"
    yield f"DTSTART;VALUE=DATE:{entry.on:%Y%m%d}"
    yield f"DTEND;VALUE=DATE:{entry.on + timedelta(days=1):%Y%m%d}"
    yield f"SUMMARY:{_escaped(entry.title)}"
    yield f"DESCRIPTION:{_escaped(entry.text)}"
    yield "TRANSP:TRANSPARENT"
    yield "END:VEVENT"


def _escaped(text: str) -> str:
    """A text value as RFC 5545, 3.3.11 has it; control signs are no text."""
    even = text.replace("\r\n", "\n").replace("\r", "\n")
    plain = "".join(sign for sign in even if sign == "\n" or category(sign) not in _CONTROLS)
    for sign, stand_in in (("\\", "\\\\"), (";", "\\;"), (",", "\\,"), ("\n", "\\n")):
        plain = plain.replace(sign, stand_in)
    return plain


def _folded(line: str) -> Iterator[str]:
    """A line in pieces of 75 octets at most, no sign split; each next one starts with a blank."""
    piece, size = "", 0
    for sign in line:
        octets = len(sign.encode("utf-8"))
        if size + octets > _LINE_OCTETS:
            yield piece
            piece, size = " ", 1
        piece, size = piece + sign, size + octets
    yield piece


def _entries(told: Upkeep, *, owners: bool) -> Iterator[_Entry]:
    yield from _season(told)
    for one in told.floats:
        yield from _of_float(one, told)
    for permit in told.permits:
        if permit.until is not None:
            yield _Entry(
                key=f"permit\n{permit.float_id}",
                on=max(permit.until, told.on),
                title=f"Permit of float {permit.float_id} runs out",
                text=f"Until {permit.until}.{f' {permit.text}' if owners else ''}",
            )


def _season(told: Upkeep) -> Iterator[_Entry]:
    titles = {"set": "Set the floats", "look": "Look at every rig", "lift": "Lift the floats"}
    texts = {
        "set": f"{len(told.floats)} floats.",
        "look": "Every part within reach (ours; local rules decide).",
        "lift": f"{len(told.floats)} floats.",
    }
    for task in told.tasks:
        if task.on is not None:
            yield _Entry(
                key=f"season\n{task.what}\n{task.on.year}",
                on=task.on,
                title=titles.get(task.what, "Mark the floats"),
                text=texts.get(task.what) or task.text or "",
            )


def _of_float(one: FloatUpkeep, told: Upkeep) -> Iterator[_Entry]:
    units = told.assessment.field.settings.units
    if one.moved is not None and state_word(one) in {"moved", "look"}:
        yield _Entry(
            key=f"moved\n{one.float_id}",
            on=told.on,
            title=f"Float {one.float_id}: seen away from its place",
            text=" ".join(moved_texts(one.moved, units)),
        )
    for at, part in enumerate(one.parts):
        yield from _of_part(one, at, part, told)
    again = [part for part in one.parts if part.look_by is not None]
    if again:
        first = min(part.look_by for part in again if part.look_by is not None)
        these = [part for part in again if part.look_by == first]
        yield _Entry(
            key=f"look\n{one.float_id}",
            on=first if first >= told.on else _next_look(told),
            title=f"Float {one.float_id}: look again at {names_of(these)}",
            text="A part that was looked at is looked at again (ours; local rules decide).",
        )


def _next_look(told: Upkeep) -> date:
    """The day on which what is late is looked at: when the floats are set, if that is to come."""
    days = [task.on for task in told.tasks if task.what == "look" and task.on is not None]
    return min(days, default=told.on)


def _of_part(one: FloatUpkeep, at: int, part: PieceState, told: Upkeep) -> Iterable[_Entry]:
    """One entry for each part, on the day of the reason that comes first."""
    if not part.dues:
        return
    units = told.assessment.field.settings.units
    first = part.dues[0]
    name = part.piece.name
    short = due_short(first, part, on=max(first.by, told.on), units=units)
    yield _Entry(
        key=f"part\n{one.float_id}\n{at}\n{part.piece.name}",
        on=max(first.by, told.on),
        title=f"Float {one.float_id}: {_DO[first.what]} {name} ({short.removeprefix(f'{name}: ')})",
        text=" ".join(
            due_text(due, part, on=max(due.by, told.on), units=units) for due in part.dues
        ),
    )
