"""What `size` prints: a row for each rig, then what the computation says of each."""

import textwrap
from collections.abc import Iterator
from typing import Final

from lakemap.basis.records import Units
from lakemap.basis.wording import (
    force_text,
    length_unit,
    measure_text,
    speed_text,
    weight_text,
)
from lakemap.mapping import AssessedFloat, Assessment
from lakemap.outputs.tables.grid import grid, plain
from lakemap.outputs.words.cautions import closing_line
from lakemap.outputs.words.pulls import pull_text, used_text
from lakemap.sizing.records import Candidate

_WIDTH: Final = 96
_LEVELS: Final = ("low", "normal", "high")


def size_table(assessment: Assessment, *, colour: bool = False) -> str:
    """Return what `size` prints.

    Parameters
    ----------
    assessment : Assessment
        Of a field; with one float left, more is told of it.
    colour : bool
        True on a terminal.

    Returns
    -------
    str
        Lines.
    """
    unit = length_unit(assessment.field.settings.units)
    header = [
        "float", f"riser {unit}", f"ground {unit}", "primary", "secondary", "practice",
        "steady pull", "highest", "weakest part", "used", "slides at", "spare lift",
    ]  # fmt: skip
    rows = [_row(one, assessment) for one in assessment.floats]
    right = set(range(1, len(header))) - {8}
    lines = grid(header, rows, right=right) if rows else ["no floats yet"]
    alone = len(assessment.floats) == 1
    for one in assessment.floats:
        lines += ["", _name(one, colour=colour)]
        for text in _told(one, assessment, alone=alone):
            lines += textwrap.wrap(text, _WIDTH, initial_indent="    ", subsequent_indent="      ")
    lines += [
        "",
        "Primary, secondary and practice count blocks; * chosen by the tool.",
        "Steady pull: wind and waves of the storm. Highest: with a wave's snatch, an upper bound.",
        "Slides at: the wind at which the primary starts to slide by friction alone.",
        "Used: the highest pull over the working strength of the weakest part.",
        closing_line(),
    ]
    return plain("\n".join(lines))


def _name(one: AssessedFloat, *, colour: bool) -> str:
    name = f"float {one.record.float_id}"
    return f"\x1b[1m{name}\x1b[0m" if colour else name


def _row(one: AssessedFloat, assessment: Assessment) -> list[str]:
    units = assessment.field.settings.units
    sizing = one.sizing
    weak = sizing.line.weakest

    def marked(value: float | None, name: str) -> str:
        if value is None:
            return "?"
        return measure_text(value, units) + ("*" if name in one.designed + one.assumed else "")

    def blocks(count: int | None, name: str) -> str:
        if count is None:
            return "weight"
        return f"{count}{'*' if name in one.designed + one.assumed else ''}"

    slides = sizing.primary.slides_at_wind_m_s.unburied
    used = None if weak is None else weak.used
    return [
        one.record.float_id,
        marked(one.riser_m, "riser_length"),
        marked(one.ground_m, "ground_length"),
        blocks(sizing.primary.blocks, "primary_blocks"),
        blocks(sizing.secondary.blocks, "secondary_blocks"),
        f"{sizing.primary.practice_blocks}+{sizing.secondary.practice_blocks}",
        _force(sizing.loads_n.mean, units),
        _force(sizing.loads_n.peak, units),
        "?" if weak is None else weak.name,
        used_text(used, unknown="?"),
        "?" if slides is None else speed_text(slides, units),
        force_text(sizing.float.reserve_n, units, rounding="down"),
    ]


def _force(newtons: float | None, units: Units) -> str:
    return pull_text(newtons, units, unknown="?")


def _told(one: AssessedFloat, assessment: Assessment, *, alone: bool) -> Iterator[str]:
    """The answers and cautions of one float; of a float alone also its ways and weights."""
    answers, units = assessment.answers(one), assessment.field.settings.units
    if alone:
        yield from _weights(one, units)
    yield f"practice: {answers.practice}"
    yield f"unburied: {answers.unburied}"
    yield f"buried: {answers.buried}"
    if alone:
        yield from answers.changes
        for way in answers.candidates:
            yield from _way(way, units)
    yield from one.sizing.cautions
    yield from (problem.text for problem in one.problems)


def _weights(one: AssessedFloat, units: Units) -> Iterator[str]:
    primary, secondary = one.sizing.primary, one.sizing.secondary
    for name, cluster in (("primary", primary), ("secondary", secondary)):
        if cluster.dry_n is not None and cluster.wet_n is not None:
            yield (
                f"{name}: {weight_text(cluster.dry_n, units, rounding='down')} dry,"
                f" {force_text(cluster.wet_n, units, rounding='down')} in water, dry blocks at"
                " their lightest"
            )
    parts = [f"{part.name} {part.size} {_used(part.used)}" for part in one.sizing.line.parts]
    yield f"parts, hook to primary: {'; '.join(parts)}"


def _used(share: float | None) -> str:
    if share is None:
        return "(no published strength)"
    return f"({used_text(share, unknown='')} used)"


def _way(way: Candidate, units: Units) -> Iterator[str]:
    """One way to build the rig, with what asks for each choice."""
    stands = ", as it stands" if way.chosen else ""
    if way.secondary_blocks is None:
        yield f"way to build it, {way.name}{stands}: no number of blocks does it. {way.means}"
        return
    uplift = ", ".join(
        f"{_force(value, units)} at {level}"
        for level, value in zip(_LEVELS, way.uplift_n, strict=True)
    )
    yield (
        f"way to build it, {way.name}{stands}: secondary of {way.secondary_blocks};"
        f" uplift {uplift} water;"
        f" highest pull {_force(way.peak_n, units)}. {way.means}"
    )
    for choice in way.choices:
        yield f"  {choice.what}: {choice.size}, for {choice.because}"
