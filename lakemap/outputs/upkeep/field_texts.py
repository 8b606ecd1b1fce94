"""What is said of all rigs at once: counts, misfits, season, permits, rows not counted."""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Final

from lakemap.basis.wording import figure
from lakemap.outputs.upkeep.part_texts import one_line
from lakemap.outputs.words.levels_and_dates import date_words
from lakemap.season.upkeep.mismatched import Misfit
from lakemap.season.upkeep.upkeep import FloatUpkeep, Upkeep

_COUNTED: Final = {
    "moved": "moved", "replace now": "with a part to replace now", "overdue": "overdue",
    "due": "due", "look": "to look at", "later": "due later", "good": "good",
    "no record": "without a record",
}  # fmt: skip
_FEW, _MANY = 3, 10  # floats that are left out of "all but", of so many at least
_RUN: Final = 3  # numbers that are worth a dash
_NUMBER: Final = re.compile(r"0|[1-9]\d{0,5}")  # 007 is a name


def headline(told: Upkeep) -> str:
    """Return the day and the counts, as two lines."""
    name = one_line(told.assessment.field.settings.name)
    first = f"Upkeep of {name} on {date_words(told.on)}; this season ends {date_words(told.until)}"
    counts = Counter(state_word(one) for one in told.floats)
    said = [f"{counts[word]} {words}" for word, words in _COUNTED.items() if counts[word]]
    floats = f"{len(told.floats)} float{'s' * (len(told.floats) != 1)} set"
    return f"{first}\n{floats}{': ' if said else ''}{', '.join(said)}"


def state_word(one: FloatUpkeep) -> str:
    """Return one float's state in a word or two: where it was seen goes before its parts."""
    if one.moved is not None and one.moved.verdict == "outside":
        return "moved"
    if one.state in {"replace now", "overdue", "due"}:
        return one.state
    unsure = one.moved is not None and one.moved.verdict == "unsure"
    asks = unsure or one.touching or one.unknown_ends or one.remarks
    return "look" if asks else one.state


def misfit_lines(told: Upkeep) -> Iterator[str]:
    """Yield what of the rigs does not match the sizing, each kind once, with its floats."""
    found: dict[str, list[tuple[FloatUpkeep, Misfit]]] = {}
    for one in told.floats:
        for each in one.misfits:
            found.setdefault(each.kind, []).append((one, each))
    if rows := found.get("fewer blocks"):
        names = some_of(_floats_of(rows), told)
        yield f"fewer blocks than common practice has (no published source): {names}"
    if rows := found.get("overloaded"):
        yield from _overloaded(rows, told)
    for kind, words in (
        ("slides", "a primary that does not hold by its weight alone"),
        ("slides settled", "one that does not hold settled in either, an estimate"),
    ):
        if rows := found.get(kind):
            yield f"{words}: {some_of(_floats_of(rows), told)}"
    if found:
        yield "`lakemap size` tells more of each"


def _overloaded(rows: list[tuple[FloatUpkeep, Misfit]], told: Upkeep) -> Iterator[str]:
    worst, part = max(rows, key=lambda row: row[1].has)
    share = figure(100 * part.has, digits=0, rounding="up")
    yield (
        "a part asked more than its working strength by the highest pull, an upper bound:"
        f" {some_of(_floats_of(rows), told)}; most of all float {worst.float_id}, {part.name}"
        f" {share} %"
    )
    worn = [row for row in rows if row[1].worn]
    if worn:
        named = ", ".join(f"{one.float_id} ({each.name})" for one, each in worn)
        yield f"a worn part among them: {named}"


def _floats_of(rows: list[tuple[FloatUpkeep, Misfit]]) -> list[str]:
    return list(dict.fromkeys(one.float_id for one, _ in rows))


def some_of(names: Sequence[str], told: Upkeep) -> str:
    """Return floats in words, as short as it can be said: all, all but a few, or runs of numbers.

    Parameters
    ----------
    names : sequence of str
        Of some of the floats.
    told : Upkeep
        With all of them.

    Returns
    -------
    str
        Such as `all 35 floats`, `all but 12`, `1-5, 9, Heron`.
    """
    every = [one.float_id for one in told.floats]
    named = set(names)
    without = [name for name in every if name not in named]
    if len(every) > _FEW and not without:
        return f"all {len(every)} floats"
    if len(every) > _MANY and len(without) <= _FEW:
        return f"all but {runs(without)}"
    return runs([name for name in every if name in named])


def runs(names: Sequence[str]) -> str:
    """Return names with runs of whole numbers joined: `1-5, 9, Heron`.

    Parameters
    ----------
    names : sequence of str
        In the order of the file.

    Returns
    -------
    str
        Numbers first, by size.
    """
    numbers = sorted({int(name) for name in names if _NUMBER.fullmatch(name)})
    said = []
    for _, run in groupby(enumerate(numbers), key=lambda pair: pair[1] - pair[0]):
        found = [number for _, number in run]
        if len(found) < _RUN:
            said += [str(number) for number in found]
        else:
            said.append(f"{found[0]}–{found[-1]}")
    return ", ".join([*said, *(name for name in names if not _NUMBER.fullmatch(name))])


def task_lines(told: Upkeep) -> Iterator[str]:
    """Yield what the season asks of all floats, by date."""
    words = {
        "set": "set the floats",
        "look": "look at every part within reach (ours; local rules decide)",
        "lift": "lift the floats",
    }
    for task in told.tasks:
        day = "no day given" if task.on is None else str(task.on)
        marked = f"mark them: {one_line(task.text or '')}"
        yield f"{day}: {words.get(task.what, marked)}"
    if not told.tasks:
        yield "field.toml has no [season]: no day to set or lift, no rule to mark"


def permit_lines(told: Upkeep, *, owners: bool) -> Iterator[str]:
    """Yield which permits run out; their texts only where owners are told."""
    for one in sorted(told.permits, key=lambda each: (each.until is None, each.until)):
        if one.until is not None and (one.state != "later" or len(told.floats) == 1):
            state = "ran out" if one.state == "overdue" else "runs out"
            text = f" ({one_line(one.text)})" if owners else ""
            yield f"float {one.float_id}: {state} {one.until}{text}"
    unread = [one.float_id for one in told.permits if one.state == "unread"]
    if unread:
        yield (
            "seems to say until when, but not as year-month-day (until 2027-05-01):"
            f" float {', '.join(unread)}"
        )
    bare = sum(one.state == "no date" for one in told.permits)
    if bare:
        said = f"{bare} permit{'s say' if bare > 1 else ' says'} no day until which"
        yield f"{said} {'they run' if bare > 1 else 'it runs'}"


def note_lines(told: Upkeep) -> Iterator[str]:
    """Yield the rows that count for nothing, or for less than they say."""
    yield from (one_line(note.line()) for note in told.notes)
