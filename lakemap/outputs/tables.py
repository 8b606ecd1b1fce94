"""Tables for the terminal."""

import sys
from collections.abc import Sequence

from lakemap.basis.wording import force_text, length_unit, measure_text, weight_text
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.words import (
    clearance_line,
    headline,
    row_words,
    sorted_floats,
    verdict_counts,
    verdict_sentence,
)

_COLOURS = {"conflict": "31;1", "tight": "33", "unknown": "35", "clear": "36", "retired": "2"}
_SHOWN = 4  # clearances of one float; the rest has more to spare


def _plain(text: str) -> str:
    """Signs that the terminal can't write become those it can."""
    encoding = getattr(sys.stdout, "encoding", None) or "utf-8"
    try:
        text.encode(encoding)
    except (UnicodeEncodeError, LookupError):
        for sign, stand_in in (("−", "-"), ("·", "-"), ("²", "2"), ("≥", ">=")):
            text = text.replace(sign, stand_in)
    return text


def _painted(word: str, *, colour: bool) -> str:
    return f"\x1b[{_COLOURS[word]}m{word}\x1b[0m" if colour else word


def _grid(header: Sequence[str], rows: Sequence[Sequence[str]], *, right: set[int]) -> list[str]:
    """Lines of a table, columns as wide as they need."""
    widths = [max(len(line[k]) for line in (header, *rows)) for k in range(len(header))]

    def line(cells: Sequence[str]) -> str:
        parts = [
            cell.rjust(width) if k in right else cell.ljust(width)
            for k, (cell, width) in enumerate(zip(cells, widths, strict=True))
        ]
        return "  ".join(parts).rstrip()

    return [line(header), line(["-" * width for width in widths]), *(line(row) for row in rows)]


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
    lines = _grid(_header(assessment), rows, right={3, 5})
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
    return _plain("\n".join(lines))


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
    lines.append("Local codes, permits and licensed practice decide.")
    return _plain("\n".join(lines))


def size_table(assessment: Assessment, *, colour: bool = False) -> str:
    """Return what `size` prints: one line per float, then lengths, weights and cautions.

    Parameters
    ----------
    assessment : Assessment
        Of a field, or of one float.
    colour : bool
        True on a terminal.

    Returns
    -------
    str
        Lines.
    """
    units = assessment.field.settings.units
    unit = length_unit(units)
    header = [
        "float", f"riser {unit}", f"ground {unit}", "primary", "dry", "in water", "secondary",
        "dry", "in water", "practice", "lift", "reserve",
    ]  # fmt: skip
    rows = [_size_row(one, assessment) for one in assessment.floats]
    lines = _grid(header, rows, right=set(range(1, len(header)))) if rows else ["no floats yet"]
    lines.append("")
    for one in assessment.floats:
        said = [*one.sizing.cautions, *(problem.text for problem in one.problems)]
        if said:
            lines.append(_painted_name(one, colour=colour))
            lines += [f"    {text}" for text in said]
    lines += [
        "",
        "Primary and secondary count blocks; weights in water are the least, for dry blocks.",
        "* chosen by the tool. Practice: blocks by common practice, no published source.",
        "Loads, holding and strength of the line are not computed yet.",
        "Local codes, permits and licensed practice decide.",
    ]
    return _plain("\n".join(lines))


def _painted_name(one: AssessedFloat, *, colour: bool) -> str:
    name = f"float {one.record.float_id}"
    return f"\x1b[1m{name}\x1b[0m" if colour else name


def _size_row(one: AssessedFloat, assessment: Assessment) -> list[str]:
    units = assessment.field.settings.units
    sizing = one.sizing
    primary, secondary = sizing.primary, sizing.secondary

    def marked(value: float | None, name: str) -> str:
        if value is None:
            return "?"
        chosen = name in one.designed or name in one.assumed
        return measure_text(value, units) + ("*" if chosen else "")

    def force(newtons: float | None) -> str:
        return "?" if newtons is None else force_text(newtons, units, rounding="down")

    def weight(newtons: float | None) -> str:
        return "?" if newtons is None else weight_text(newtons, units, rounding="down")

    return [
        one.record.float_id,
        marked(one.riser_m, "riser_length"),
        marked(one.ground_m, "ground_length"),
        "-" if primary.blocks is None else str(primary.blocks),
        weight(primary.dry_n),
        force(primary.wet_n),
        "-" if secondary.blocks is None else str(secondary.blocks),
        weight(secondary.dry_n),
        force(secondary.wet_n),
        f"{primary.practice_blocks}+{secondary.practice_blocks}",
        force(sizing.float.buoyancy_n),
        force(sizing.float.reserve_n),
    ]
