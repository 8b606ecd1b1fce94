"""What `compare` prints: what was changed, a row for each float, then each in sentences."""

from collections.abc import Iterator, Sequence
from typing import Final

from lakemap.assessment import AssessedFloat
from lakemap.basis.records import Units
from lakemap.basis.wording import length_figure, length_unit
from lakemap.changes.records import Comparison, FloatChange, spare_of
from lakemap.outputs.compare.changed_values import ARROW
from lakemap.outputs.compare.counts import headline, verdicts_words
from lakemap.outputs.compare.field_words import field_lines
from lakemap.outputs.compare.figures import Row, figures, gap_rows
from lakemap.outputs.compare.words import shown_changes, then_words, what_words
from lakemap.outputs.tables.grid import grid, plain
from lakemap.outputs.words.cautions import closing_line
from lakemap.outputs.words.pulls import pull_text
from lakemap.outputs.words.verdicts import verdict_sentence

_SHOWN: Final = 5  # gaps of one float; the rest has more to spare


def compare_table(comparison: Comparison, *, names: Sequence[str]) -> str:
    """Return what `compare` prints.

    Parameters
    ----------
    comparison : Comparison
        Of two versions.
    names : sequence of str
        What the old and the new version are called.

    Returns
    -------
    str
        Lines; rounding never flatters.
    """
    if comparison.old is comparison.new:
        return f"Nothing changed: {names[0]} was compared with itself."
    lines = [f"What changed from {names[0]} to {names[1]}", headline(comparison)]
    if comparison.is_alike:
        return plain("\n".join(lines))
    lines += [verdicts_words(comparison), *field_lines(comparison), ""]
    shown = shown_changes(comparison)
    if shown:
        lines += [*grid(*_rows(shown, comparison), right=set()), ""]
    for one in shown:
        lines += _told(one, comparison)
    lines += [f"note: {text}" for text in new_notes(comparison)]
    return plain("\n".join([*lines, closing_line()]))


def _rows(
    shown: Sequence[FloatChange], comparison: Comparison
) -> tuple[list[str], list[list[str]]]:
    unit = length_unit(comparison.new.field.settings.units)
    header = ["float", "verdict", f"spare {unit}", f"swings {unit}", "steady pull"]
    return header, [_row(one, comparison) for one in shown]


def _row(one: FloatChange, comparison: Comparison) -> list[str]:
    units = comparison.new.field.settings.units
    sides = [_cells(float_, units) for float_ in (one.before, one.after)]
    return [one.float_id, *(_change(pair) for pair in zip(*sides, strict=True))]


def _cells(one: AssessedFloat | None, units: Units) -> list[str]:
    """Verdict, spare, swing and steady pull in one version; blank where there is none."""
    if one is None or one.verdict is None:
        return ["" if one is None else "retired", "", "", ""]
    least, radius, pull = spare_of(one), one.swing_radius_m[0], one.sizing.loads_n.mean
    spare = None if least is None else least.spare_m
    return [
        one.verdict,
        "" if spare is None else length_figure(spare, units, rounding="down"),
        "" if radius is None else length_figure(radius, units, rounding="up"),
        pull_text(pull, units, unknown=""),
    ]


def _change(texts: Sequence[str]) -> str:
    """Before and now; once where they are the same, a stroke where there is none."""
    if texts[0] == texts[1]:
        return texts[0]
    return f" {ARROW} ".join(text or "-" for text in texts)


def _told(one: FloatChange, comparison: Comparison) -> Iterator[str]:
    """A float in sentences; one that shares the lot of all, and keeps its verdict, in none."""
    before, after = one.before, one.after
    same = before is not None and after is not None and before.verdict == after.verdict
    of_all = one.kind == "affected" and (one.cause is None or one.cause.kind == "field")
    if same and of_all:
        return
    yield f"float {one.float_id}: {what_words(one, comparison)}: {then_words(one, comparison)}."
    if after is not None and after.verdict in {"conflict", "unknown"}:
        yield f"    {verdict_sentence(after, comparison.new)}"
    if before is not None and after is not None and after.verdict is not None:
        yield from (f"    {_line(row)}" for row in figures(one, comparison))
        yield from _gaps(one, comparison)
    yield ""


def _gaps(one: FloatChange, comparison: Comparison) -> Iterator[str]:
    """Of a float that others affected only what it hangs on, which is told already."""
    rows = gap_rows(one, comparison) if one.kind != "affected" else []
    yield from (f"    {_line(row)}" for row in rows[:_SHOWN])
    if len(rows) > _SHOWN:
        yield f"    {len(rows) - _SHOWN} more gaps, with more to spare; --json has all"


def _line(row: Row) -> str:
    name, was, now = row
    return f"{name}: {was} {ARROW} {now}"


def new_notes(comparison: Comparison) -> list[str]:
    """Return the cautions of the new version that the old one hasn't, whatever row they are of."""
    had = {(one.code, one.file, one.column, one.text) for one in comparison.old.problems}
    return [
        one.line()
        for one in comparison.new.problems
        if (one.code, one.file, one.column, one.text) not in had
    ]
