"""What came of one sounder's file, in words."""

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Final

import numpy as np

from lakemap.basis.records import Field, Units
from lakemap.basis.wording import figure, length_text, measure_text
from lakemap.gathering.found import Found
from lakemap.gathering.kinds import Format
from lakemap.gathering.records import EVERY_M, SOUNDER_SPEED_M_S, Asked, Left, Report
from lakemap.gathering.sounding_cautions import deeper, sounding_cautions
from lakemap.lake.sound_speed import fresh_water_sound_speed

_MOST_ROWS: Final = {True: 40, False: 10}  # of the table, in a preview or not
_MOST_DAYS_TOLD: Final = 5
_MILD_C: Final = 20.0
_FORMATS: Final[Mapping[Format, tuple[str, str]]] = {
    "nmea": ("line", "of an NMEA log"),
    "gpx": ("point", "of a GPX file"),
    "csv": ("line", "of a table"),
    "xlsx": ("row", "of a workbook"),
    "xyz": ("line", "of x, y and depth"),
    "other": ("line", "of it"),
}


def sounding_report(found: Found, asked: Asked, field: Field) -> Report:
    """Tell what was taken of one file, what not, and why.

    Parameters
    ----------
    found : Found
        What was found.
    asked : Asked
        Of `gather`.
    field : Field
        For its units, levels and the file that is added to.

    Returns
    -------
    Report
        Whole sentences, without line ends.
    """
    units = field.settings.units
    rows = [(), *_rows(found, asked, units)]
    return Report(
        file=found.file,
        kind="soundings",
        taken=found.taken,
        lines=tuple(_lines(found, asked, field)),
        left=tuple(sorted(_left(found, asked, field), key=lambda one: -one.count)),
        table=tuple(rows[1:]),
        table_title=_title(found, asked),
        cautions=tuple(sounding_cautions(found, asked, field)),
    )


def _lines(found: Found, asked: Asked, field: Field) -> Iterator[str]:
    units, tally = field.settings.units, found.tally
    noun, what = _FORMATS[found.format]
    good = found.sieve.sound_count
    yield f"{_counted(tally.read, noun)} {what}: {_counted(good, 'good sounding')}"
    yield from found.tally.said
    if not good:
        return
    if len(found.kept) < found.sieve.sound_count:
        shoals = f", and {found.shoals:,} shoal{'s' * (found.shoals > 1)}" if found.shoals else ""
        yield (
            f"thinned to {len(found.kept):,}: the middle depth of each square of"
            f" {measure_text(found.sieve.every_m, units)}{shoals} (--every 0 keeps all)"
        )
    if "doubled" in tally.told:
        yield f"{tally.told['doubled']:,} depths that the sounder told twice were read once"
    yield from _levels(found, asked, units)
    yield from _offsets(found, asked, units)
    yield from _speed(found, asked, units)
    agreement = found.met.agreement
    if agreement is not None:
        near = measure_text(EVERY_M[units], units)
        yield (
            f"{agreement.count:,} lie within {near} of soundings that were there:"
            f" {deeper(agreement.median_m, units)} on the whole, half of them within"
            f" {length_text(agreement.half_within_m, units)} of that"
        )


def _counted(count: int, noun: str) -> str:
    return f"{count or 'no':{',' * bool(count)}} {noun}{'s' * (count != 1)}"


def _levels(found: Found, asked: Asked, units: Units) -> Iterator[str]:
    """The lake's level on each day."""
    read = [(day, one) for day, one in found.levels.items() if one.is_read]
    for day, one in read[:_MOST_DAYS_TOLD]:
        when = date.fromordinal(day).isoformat() if day else "no date"
        by = " and ".join(at.isoformat() for at in one.by)
        how = f"by the gauge readings of {by}" if len(one.by) > 1 else f"by the gauge on {by}"
        how = "as you said" if asked.level_m is not None else how
        yield f"{when}: the lake stood at {length_text(one.level_m, units)}, {how}"
    if len(read) > _MOST_DAYS_TOLD:
        yield f"and so on for {len(read) - _MOST_DAYS_TOLD:,} more"


def _offsets(found: Found, asked: Asked, units: Units) -> Iterator[str]:
    """What was added to the readings."""
    if "DBS" in found.tally.told:
        yield "depths below the surface (DBS): nothing was added"
    told = sorted(one for one in found.tally.offsets_m if one > 0)
    if asked.transducer_depth_m:
        depth = measure_text(asked.transducer_depth_m, units)
        yield f"the transducer hangs {depth} below the surface, as you said: added"
    elif told and asked.transducer_depth_m is None:
        depth = " or ".join(measure_text(one, units) for one in told)
        yield f"the transducer hangs {depth} below the surface, as the log says (DPT): added"


def _speed(found: Found, asked: Asked, units: Units) -> Iterator[str]:
    if asked.sound_speed_m_s is not None:
        scale = asked.sound_speed_m_s / asked.sounder_speed_m_s
        yield (
            f"sound goes at {figure(asked.sound_speed_m_s, digits=0)} m/s in this water, the"
            f" sounder reckoned with {figure(asked.sounder_speed_m_s, digits=0)}: readings"
            f" × {figure(scale, digits=4)}"
        )
    elif found.format != "xyz":
        mild = float(fresh_water_sound_speed(_MILD_C))
        much = figure(100 * (SOUNDER_SPEED_M_S / mild - 1), digits=1)
        warm = "68 F" if units == "ft-lb" else "20 °C"
        yield (
            f"not corrected for the speed of sound: with the usual 1,500 m/s a sounder reads {much}"
            f" % too deep in fresh water of {warm} (--water-temperature corrects it)"
        )


def _left(found: Found, asked: Asked, field: Field) -> Iterator[Left]:
    yield from found.tally.left()
    units, place = field.settings.units, found.sieve.place
    if found.sieve.odd_count and not asked.keep_outliers:
        one = found.sieve.odd[0]
        first = f"{place} {one.kept.line}: {length_text(one.kept.depth_m, units)}, around it"
        words = "far from those around it (--keep-outliers keeps them)"
        count = found.sieve.odd_count
        yield Left(words=words, count=count, first=f"{first} {length_text(one.around_m, units)}")
    name = field.soundings.file if field.soundings is not None else "soundings.csv"
    for mask, words in (
        (found.met.again, f"already in {name}, or in a file before this one"),
        (
            found.met.other,
            "another depth of that day at the very same place is there already: was this gathered"
            f" before with another offset, level or speed? Then go back to {name} as it was before",
        ),
    ):
        index = np.flatnonzero(mask)
        if index.size:
            k = int(index[0])
            depth = found.kept[k].depth_m
            first = f"{place} {found.kept[k].line}: {length_text(depth, units)}"
            if mask is found.met.other:
                first += f"; there {length_text(depth - float(found.met.differ_m[k]), units)}"
            yield Left(words=words, count=int(index.size), first=first)


def _title(found: Found, asked: Asked) -> str:
    count = found.sieve.odd_count
    if not count:
        return ""
    what = "would be dropped" if asked.preview else "were dropped"
    if asked.keep_outliers:
        what = "are kept, as you asked"
    most = _MOST_ROWS[asked.preview]
    shown = f", the first {most} of them" if count > most else ""
    return f"far from those around them, {count:,} that {what}{shown}:"


def _rows(found: Found, asked: Asked, units: Units) -> Iterator[tuple[str, ...]]:
    if not found.sieve.odd:
        return
    yield (found.sieve.place, "position", "depth", "around it")
    for one in found.sieve.odd[: _MOST_ROWS[asked.preview]]:
        yield (
            str(one.kept.line),
            f"{one.kept.lat:.5f},{one.kept.lon:.5f}",
            length_text(one.kept.depth_m, units),
            length_text(one.around_m, units),
        )
