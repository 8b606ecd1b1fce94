"""Tables for the terminal."""

from lakemap.basis.wording import length_unit
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.tables.grid import grid, plain
from lakemap.outputs.words.cautions import closing_line
from lakemap.outputs.words.clearances import clearance_line
from lakemap.outputs.words.verdicts import (
    headline,
    row_words,
    sorted_floats,
    verdict_counts,
    verdict_sentence,
)

_COLOURS = {"conflict": "31;1", "tight": "33", "unknown": "35", "clear": "36", "retired": "2"}
_SHOWN = 4  # clearances of one float; the rest has more to spare


def _painted(word: str, *, colour: bool) -> str:
    return f"\x1b[{_COLOURS[word]}m{word}\x1b[0m" if colour else word


def _short(one: AssessedFloat, assessment: Assessment) -> list[str]:
    """A float's row: number, verdict, spare, what it is nearest to, swing."""
    return [
        one.record.float_id,
        one.verdict or "retired",
        one.record.lot or "",
        *row_words(one, assessment),
    ]


def _header(assessment: Assessment) -> list[str]:
    unit = length_unit(assessment.field.settings.units)
    return ["float", "verdict", "lot", f"spare {unit}", "nearest to", f"swings {unit}"]


def _rows(assessment: Assessment, *, colour: bool) -> list[str]:
    rows = [_short(one, assessment) for one in sorted_floats(assessment)]
    lines = grid(_header(assessment), rows, right={3, 5})
    if not colour:
        return lines
    start = max(len("float"), *(len(row[0]) for row in rows)) + 2 if rows else 0
    return lines[:2] + [
        line[:start] + _painted(row[1], colour=True) + line[start + len(row[1]) :]
        for line, row in zip(lines[2:], rows, strict=True)
    ]


def _counts(assessment: Assessment) -> str:
    counts = verdict_counts(assessment)
    return ", ".join(f"{number} {word}" for word, number in counts.items() if number)


def summary_table(assessment: Assessment) -> str:
    """Return what `draw` prints: the headline, one line per float, cautions of the field.

    Parameters
    ----------
    assessment : Assessment
        Of a field.

    Returns
    -------
    str
        Lines.
    """
    lines = [headline(assessment), _counts(assessment), ""]
    if assessment.floats:
        lines += [*_rows(assessment, colour=False), ""]
    lines += [f"note: {problem.line()}" for problem in assessment.problems]
    lines += _not_located(assessment)
    return plain("\n".join(lines))


def _not_located(assessment: Assessment) -> list[str]:
    names = [one.record.float_id for one in assessment.floats if not one.located and one.verdict]
    return [f"primary not located: float {', '.join(names)}"] if names else []


def check_table(assessment: Assessment, *, colour: bool = False) -> str:
    """Return what `check` prints: the table, then each float that is not clear, in sentences.

    Parameters
    ----------
    assessment : Assessment
        Of a field.
    colour : bool
        True on a terminal.

    Returns
    -------
    str
        Lines.
    """
    field = assessment.field
    lines = [headline(assessment), _counts(assessment), ""]
    if assessment.floats:
        lines += [*_rows(assessment, colour=colour), ""]
    for one in sorted_floats(assessment):
        if one.verdict in {"clear", None} and not one.problems:
            continue
        word = _painted(one.verdict or "retired", colour=colour)
        lines.append(f"float {one.record.float_id}, {word}: {verdict_sentence(one, assessment)}")
        for clearance in one.clearances[:_SHOWN]:
            shown = clearance_line(clearance, field)
            rule = f"  ({clearance.rule})" if clearance.rule and shown.short else ""
            lines.append(f"    {shown.name}: {shown.amount}; {shown.detail}{rule}")
        lines += [f"    {problem.text}" for problem in one.problems]
    lines.append("")
    lines += [f"note: {problem.line()}" for problem in assessment.problems]
    lines.append(closing_line())
    return plain("\n".join(lines))
