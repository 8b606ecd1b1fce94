"""What `levels` prints: levels beside those of field.toml, and what each year's low water did."""

import textwrap
from typing import Final

from lakemap.basis.records import Units
from lakemap.basis.wording import MINUS, Rounding, length_figure, length_unit
from lakemap.lake.gauge import GAP_DAYS
from lakemap.mapping import Assessment
from lakemap.outputs.levels.notes import field_toml_lines, is_too_short, level_notes
from lakemap.outputs.levels.words import share_words
from lakemap.outputs.tables.grid import grid, plain
from lakemap.season.levels import LakeLevels
from lakemap.season.low_water import AtLevel, LowWater

_WIDTH: Final = 80
_NAMED: Final = 3  # floats in a cell


def levels_table(assessment: Assessment, levels: LakeLevels, low: LowWater) -> str:
    """Return what `levels` prints.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    levels : LakeLevels
        What its readings say.
    low : LowWater
        What low water did.

    Returns
    -------
    str
        Lines.
    """
    units = assessment.field.settings.units
    lines = [
        *_wrapped(_head(assessment, levels)),
        "",
        *_levels(levels, units),
        "",
        *_wrapped(
            "What the lowest water of each year did to the circles, beside normal level, with every"
            " float where it is now:"
        ),
        "",
        *_years(low, units),
        "",
        *_offered(levels, units),
    ]
    for note in level_notes(assessment, levels, low):
        lines += _wrapped(f"note: {note}")
    return plain("\n".join(lines))


def _offered(levels: LakeLevels, units: Units) -> list[str]:
    if is_too_short(levels):
        return []
    head = "For field.toml, if you agree (nothing is written there):"
    return [head, "", *(f"  {line}" for line in field_toml_lines(levels, units)), ""]


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, _WIDTH, subsequent_indent="  ", break_on_hyphens=False)


def _head(assessment: Assessment, levels: LakeLevels) -> str:
    readings, years = levels.readings, len(levels.years)
    count = len(readings.day)
    first, last = readings.date_of(0), readings.date_of(count - 1)
    text = (
        f"{assessment.field.settings.name}: {count:,} gauge reading{'s' * (count != 1)} in"
        f" {years} year{'s' * (years != 1)}, {first} to {last}"
    )
    if levels.gap is not None and levels.gap.days > GAP_DAYS:
        days = levels.gap.days
        text += (
            f"; the longest gap is {days:,} day{'s' * (days != 1)}, from {levels.gap.start} to"
            f" {levels.gap.end}"
        )
    return f"{text}."


def _levels(levels: LakeLevels, units: Units) -> list[str]:
    asked, given, unit = levels.asked, levels.settings, length_unit(units)
    low_share, high_share = share_words(asked.low_share), share_words(1 - asked.high_share)
    lowest, highest = levels.lowest, levels.highest
    rows = [
        [
            "lowest reading",
            _signed(lowest.level_m, units, rounding="down"),
            "",
            str(lowest.on),
        ],
        [
            "low",
            _signed(levels.low_m, units, rounding="down"),
            _signed(given.low_m, units),
            f"at or below it {low_share} of the time",
        ],
        [
            "normal",
            _signed(levels.normal_m, units),
            _signed(given.normal_m, units),
            "at or below it half of the time",
        ],
        [
            "high",
            _signed(levels.high_m, units, rounding="up"),
            _signed(given.high_m, units),
            f"at or above it {high_share} of the time",
        ],
        [
            "highest reading",
            _signed(highest.level_m, units, rounding="up"),
            "",
            str(highest.on),
        ],
    ]
    return grid([f"level {unit}", "readings", "field.toml", ""], rows, right={1, 2})


def _years(low: LowWater, units: Units) -> list[str]:
    unit = length_unit(units)
    header = [
        "year", "readings", f"lowest {unit}", "on", "conflict", "tight", f"grew {unit}",
        "made worse",
    ]  # fmt: skip
    rows = [
        [
            str(year.year),
            str(year.count),
            _signed(year.lowest.level_m, units, rounding="down"),
            str(year.lowest.on),
            *_told(at, low.normal, units),
        ]
        for year, at in low.years
    ]
    for name, at in (("normal", low.normal), ("low", low.low)):
        level = _signed(at.circles.level_m, units)
        rows.append([name, "", level, "field.toml", *_told(at, low.normal, units)])
    return grid(header, rows, right={1, 2, 4, 5, 6})


def _told(at: AtLevel, normal: AtLevel, units: Units) -> list[str]:
    """Verdicts at a level, the circle that grew most, and who is worse off."""
    grown = at.circles.growth_from(normal.circles)
    much = "" if grown is None else length_figure(grown.radius_m, units, rounding="up")
    now = dict(zip(at.circles.names, at.verdicts, strict=True))
    worse = [f"{name} {now[name]}" for name in at.worse_than(normal)]
    more = f" and {len(worse) - _NAMED} more" if len(worse) > _NAMED else ""
    return [
        str(at.count("conflict")),
        str(at.count("tight")),
        much,
        ", ".join(worse[:_NAMED]) + more,
    ]


def _signed(metres: float, units: Units, *, rounding: Rounding = "nearest") -> str:
    """A level in a column: every row with the same count of decimals."""
    text = length_figure(metres, units, rounding=rounding)
    return text if text.startswith(MINUS) or not text.strip("0.") else f"+{text}"
