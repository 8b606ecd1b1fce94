"""What `gather` tells: one report a file, and what was written."""

import textwrap
from collections.abc import Iterator, Sequence
from typing import Any, Final

from lakemap.basis.wording import MINUS
from lakemap.cli.terminal import shown
from lakemap.gathering.gather import Outcome
from lakemap.gathering.records import Asked, Report
from lakemap.outputs.words.cautions import cautions_of_task, names_of
from lakemap.outputs.words.texts import ENGLISH
from lakemap.saving.records import Saved, Underneath

_WIDTH: Final = 80
_KINDS = {"soundings": "sounding", "fixes": "fix", "shore": "shore point"}


def gather_text(outcome: Outcome, asked: Asked) -> str:
    """Return what is told on a terminal.

    Parameters
    ----------
    outcome : Outcome
        Of `gather`.
    asked : Asked
        Whether it was a preview.

    Returns
    -------
    str
        Lines.
    """
    lines: list[str] = []
    for report in outcome.reports:
        lines += [*_report(report, asked), ""]
    for done in outcome.written:
        lines += _written(done)
    if asked.preview:
        lines.append("nothing was written: this was a preview")
    elif not outcome.written:
        lines.append("nothing was written: there was nothing new")
    return "\n".join([*lines, "", *(line for told in _care() for line in _wrapped(told, "  "))])


def _care() -> Iterator[str]:
    """What may hurt who goes out to gather: by name, but for what is true of the data itself."""
    told = cautions_of_task("gathering", None)
    steering = [each for each in told if each.key == "steering"]
    yield f"Take care on the water: {names_of(each for each in told[:-1] if each not in steering)}."
    yield from (each.said(ENGLISH) for each in (*steering, told[-1]))


def _report(report: Report, asked: Asked) -> Iterator[str]:
    verb = "would be added" if asked.preview else "taken"
    yield f"{shown(report.file)}: {_counted(report.taken, _KINDS[report.kind])} {verb}"
    for line in report.lines:
        yield from _wrapped(f"  {line}", "    ")
    if report.left:
        yield "  not taken:"
        width = max(len(f"{one.count:,}") for one in report.left)
        for one in report.left:
            under = " " * (width + 6)
            yield from _wrapped(f"    {f'{one.count:,}':>{width}}  {one.words}", under)
            if one.first:
                first = "first " if one.count > 1 else ""
                yield from _wrapped(f"{under}({first}{one.first})", under)
    if report.table:
        yield from _wrapped(f"  {report.table_title}", "    ")
        yield from (f"    {row}" for row in _aligned(report.table))
    for caution in report.cautions:
        yield from _wrapped(f"  note: {caution}", "    ")


def _wrapped(text: str, under: str) -> list[str]:
    """Lines as a terminal shows them whole; options and dates are not torn."""
    return textwrap.wrap(
        shown(text), _WIDTH, subsequent_indent=under, break_long_words=False, break_on_hyphens=False
    )


def _counted(count: int, noun: str) -> str:
    plural = f"{noun}es" if noun.endswith("x") else f"{noun}s"
    return f"{count:,} {noun if count == 1 else plural}"


def _aligned(rows: Sequence[Sequence[str]]) -> Iterator[str]:
    """Rows with columns under each other, numbers by their right ends."""
    columns = list(zip(*rows, strict=True))
    widths = [max(len(cell) for cell in column) for column in columns]
    sides = [">" if all(map(_is_figure, column[1:])) else "<" for column in columns]
    for row in rows:
        cells = (f"{c:{side}{w}}" for c, side, w in zip(row, sides, widths, strict=True))
        yield "  ".join(cells).rstrip()


def _is_figure(cell: str) -> bool:
    return cell[:1].isdigit() or cell[:1] in {"-", MINUS, "±"}


def _written(done: Saved | Underneath) -> Iterator[str]:
    if isinstance(done, Underneath):
        yield f"{done.file} was changed by somebody meanwhile and was left alone:"
        for one in done.says:
            yield from _wrapped(f"  {one}", "    ")
        yield f"what was to be written stands in {done.kept}"
        return
    kept = f" (as it was before: {done.kept})" if done.kept else ""
    yield f"written: {done.file}{kept}"
    for note in done.notes:
        yield from _wrapped(f"  {note}", "    ")


def gather_document(outcome: Outcome, asked: Asked) -> dict[str, Any]:
    """Return the JSON document of `gather --json`.

    Parameters
    ----------
    outcome : Outcome
        Of `gather`.
    asked : Asked
        Whether it was a preview.

    Returns
    -------
    dict
        Format `lakemap gather 1`.
    """
    return {
        "format": "lakemap gather 1",
        "preview": asked.preview,
        "files": [
            {
                "file": one.file,
                "kind": one.kind,
                "taken": one.taken,
                "says": list(one.lines),
                "left": [
                    {"words": left.words, "count": left.count, "first": left.first}
                    for left in one.left
                ],
                "table": [list(row) for row in one.table],
                "cautions": list(one.cautions),
            }
            for one in outcome.reports
        ],
        "written": [
            {
                "file": done.file,
                "kept": done.kept,
                "done": isinstance(done, Saved),
                "says": list(done.notes if isinstance(done, Saved) else done.says),
            }
            for done in outcome.written
        ],
    }
