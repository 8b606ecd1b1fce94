"""What to say about a lake's levels beside the tables: cautions, limits, lines for field.toml."""

from collections.abc import Iterator, Sequence
from typing import Final

from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import Units
from lakemap.basis.wording import MINUS, Rounding, length_text, length_unit
from lakemap.lake.gauge import GAP_DAYS
from lakemap.mapping import Assessment
from lakemap.outputs.levels.words import level_text, share_words
from lakemap.season.levels import LakeLevels
from lakemap.season.low_water import LowWater

_NAMED: Final = 12  # floats that one note names
_LEAST: Final = 10  # readings, ours: fewer tell no levels
_LEAST_DAYS: Final = 90  # ours: most of a season on the water
_ELSEWHERE_M: Final = 3.0  # ours: no small lake stands so far beyond its low or high for good
_FEW: Final = 3  # readings in a year that can well have missed its lowest


def field_toml_lines(levels: LakeLevels, units: Units) -> list[str]:
    """Return the lines for field.toml that the readings offer; nothing is written there.

    Parameters
    ----------
    levels : LakeLevels
        Of a field.
    units : {'ft-lb', 'm-kg'}
        What people use.

    Returns
    -------
    list of str
        Low rounded down, high rounded up. The level of the soundings as it is, and always said:
        left out it would follow normal, and every depth with it.
    """
    offered: list[tuple[str, float, Rounding]] = [
        ("low", levels.low_m, "down"),
        ("normal", levels.normal_m, "nearest"),
        ("high", levels.high_m, "up"),
    ]
    per_m = 1 / FOOT_M.value if units == "ft-lb" else 1.0
    soundings = round(levels.settings.soundings_m * per_m, 4) + 0.0  # as it is: depths rest on it
    return [
        "[levels]",
        *(
            f'{name} = "{_typed(level, units, rounding=rounding)}"'
            for name, level, rounding in offered
        ),
        f'soundings = "{soundings:g} {length_unit(units)}"',
    ]


def is_too_short(levels: LakeLevels) -> bool:
    """Tell a record that is too short to offer levels by.

    Parameters
    ----------
    levels : LakeLevels
        Of a field.

    Returns
    -------
    bool
        True below 10 readings or 90 days from the first to the last.
    """
    return len(levels.readings.day) < _LEAST or _days(levels) < _LEAST_DAYS


def _days(levels: LakeLevels) -> int:
    return int(levels.readings.day[-1] - levels.readings.day[0]) + 1


def level_notes(assessment: Assessment, levels: LakeLevels, low: LowWater) -> Iterator[str]:
    """Yield what to take care of, what counts most first.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    levels : LakeLevels
        What its readings say.
    low : LowWater
        What low water did.

    Yields
    ------
    str
        Whole sentences.
    """
    units = assessment.field.settings.units
    yield from _other_gauge(levels, units)
    yield from _slips(levels, units)
    yield from _below(levels, low, units)
    yield from _above(levels, low, units)
    yield from _short(levels)
    yield from _lowest(levels, units)
    yield from _record(levels)
    yield (
        f"Each reading counts for the time it stands for: the level is taken to run straight"
        f" between readings up to {GAP_DAYS:g} days apart, and longer gaps count for nothing."
    )


def _typed(level_m: float, units: Units, *, rounding: Rounding) -> str:
    """As people type it into a file: a hyphen for the minus, no plus."""
    return level_text(level_m, units, rounding=rounding).replace(MINUS, "-").removeprefix("+")


def _short(levels: LakeLevels) -> Iterator[str]:
    if is_too_short(levels):
        yield (
            f"Too little to set levels by: {_plural(len(levels.readings.day), 'reading')} in"
            f" {_plural(_days(levels), 'day')}; write down {_LEAST} or more, over a season or"
            " longer."
        )


def _slips(levels: LakeLevels, units: Units) -> Iterator[str]:
    for one in levels.slips:
        yield (
            f"{one.on}: {level_text(one.level_m, units)} is far from the readings before and after"
            " it; if it is a slip of the pen, right it in the levels file: it counts here."
        )


def _below(levels: LakeLevels, low: LowWater, units: Units) -> Iterator[str]:
    if not levels.below:
        return
    given, lowest = levels.settings.low_m, levels.lowest
    read = level_text(lowest.level_m, units, rounding="down")
    text = (
        f"field.toml says low {level_text(given, units)}, but your lowest reading is {read}, on"
        f" {lowest.on}, and {_plural(levels.below, 'reading')} went below low"
    )
    grown = low.lowest.circles.growth_from(low.low.circles)
    if grown is not None and grown.radius_m > 0:
        far = length_text(grown.radius_m, units, rounding="up")
        text += f"; circles were larger than the map's by up to {far} (float {grown.float_id})"
    worse = low.lowest.worse_than(low.low)
    if worse:
        text += f", and the verdict was worse for {_floats(worse)}"
    yield f"{text}."


def _above(levels: LakeLevels, low: LowWater, units: Units) -> Iterator[str]:
    if not levels.above:
        return
    given, highest = levels.settings.high_m, levels.highest
    read = level_text(highest.level_m, units, rounding="up")
    text = (
        f"field.toml says high {level_text(given, units)}, but your highest reading is {read}, on"
        f" {highest.on}, and {_plural(levels.above, 'reading')} went above high"
    )
    if low.pulled_under:
        text += f"; there the line is too short and pulls under {_floats(low.pulled_under)}"
    yield f"{text}."


def _lowest(levels: LakeLevels, units: Units) -> Iterator[str]:
    """Where the level offered as low is not the lowest that was read, or that field.toml says."""
    offered, given = _low(levels.low_m, units), _low(levels.settings.low_m, units)
    read = _low(levels.lowest.level_m, units)
    safe, whose = read, "the lowest reading"
    if levels.settings.low_m < levels.lowest.level_m and given != read:
        safe, whose = given, "as field.toml has it"
    if offered != safe:
        stood = level_text(levels.low_m, units, rounding="down")
        yield (
            f"For {share_words(levels.asked.low_share)} of the time the lake stood at {stood} or"
            f' lower. Circles are largest at low water: low = "{safe}", {whose}, is on the safe'
            " side."
        )


def _low(level_m: float, units: Units) -> str:
    return _typed(level_m, units, rounding="down")


def _other_gauge(levels: LakeLevels, units: Units) -> Iterator[str]:
    given, lowest, highest = levels.settings, levels.lowest.level_m, levels.highest.level_m
    if lowest > given.high_m + _ELSEWHERE_M or highest < given.low_m - _ELSEWHERE_M:
        yield (
            f"All readings, {level_text(lowest, units)} to {level_text(highest, units)}, are far"
            f" from low and high of field.toml, {level_text(given.low_m, units)} and"
            f" {level_text(given.high_m, units)}: are they of another gauge, or heights above the"
            " sea? Both must count from the same nought."
        )


def _record(levels: LakeLevels) -> Iterator[str]:
    """What so long a record cannot know."""
    years = len(levels.years)
    record = f"{years} years" if years > 1 else "one year"
    yield (
        f"The lowest of {record} is not the lowest that can come: if years are alike, the next goes"
        f" lower with a chance of about 1 in {years + 1}."
    )
    few = [str(year.year) for year in levels.years if year.count < _FEW]
    if few:
        yield f"Fewer than {_FEW} readings can well have missed the lowest water: {_listed(few)}."


def _plural(count: int, noun: str) -> str:
    return f"{count:,} {noun}{'s' * (count != 1)}"


def _floats(names: Sequence[str]) -> str:
    return f"float{'s' * (len(names) > 1)} {_listed(names)}"


def _listed(names: Sequence[str]) -> str:
    more = f" and {len(names) - _NAMED:,} more" if len(names) > _NAMED else ""
    return ", ".join(names[:_NAMED]) + more
