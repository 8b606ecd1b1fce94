"""`gather_soundings`: sounders' files as rows of the folder's soundings, with what was left out."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Final

import numpy as np

from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.records import Field
from lakemap.basis.wording import length_text
from lakemap.gathering.batches import Batch, batches
from lakemap.gathering.found import Found
from lakemap.gathering.gpx_track import gpx_rows
from lakemap.gathering.kinds import SOUNDINGS_COME_AS, Format, format_of
from lakemap.gathering.known import There, meet
from lakemap.gathering.level_then import LevelThen, level_then
from lakemap.gathering.lines import Tally, refused
from lakemap.gathering.nmea_log import NmeaLog
from lakemap.gathering.own_file import OwnFile, own_file
from lakemap.gathering.placing import placed
from lakemap.gathering.records import EVERY_M, Asked, Report
from lakemap.gathering.sieve import Lake, Sieve
from lakemap.gathering.sounding_words import sounding_report
from lakemap.gathering.table_rows import table_readings, xyz_readings
from lakemap.gathering.thinning import Kept
from lakemap.saving.records import NewSounding, Saved, Stamp, Underneath
from lakemap.saving.soundings import save_soundings

_DEGREE_DIGITS: Final = 9  # as they are written
_PLACES: Final[Mapping[Format, str]] = {"gpx": "point", "xlsx": "row"}  # what a file counts by
_FAR_M: Final = 10.0  # ours: no small lake stands so far beyond its low or high


@dataclass(frozen=True, slots=True, kw_only=True)
class GatheredSoundings:
    """Soundings of all files, ready to be merged."""

    field: Field
    reports: tuple[Report, ...]
    added: tuple[NewSounding, ...]

    def save(self, folder: Path, *, stamp: Stamp) -> Saved | Underneath | None:
        """Put them to the folder's soundings, the version before beside them.

        Parameters
        ----------
        folder : Path
            Of the field.
        stamp : Stamp
            Of the folder when it was read.

        Returns
        -------
        Saved, Underneath or None
            None: there was nothing new.
        """
        if not self.added:
            return None
        return save_soundings(folder, self.field, self.added, stamp=stamp)


def gather_soundings(
    paths: Sequence[Path], *, field: Field, folder: Path, asked: Asked
) -> GatheredSoundings:
    """Read sounders' files for a field.

    Parameters
    ----------
    paths : sequence of Path
        NMEA logs, GPX files with depths, CSV or XLSX tables, text of x, y and depth.
    field : Field
        As read from the folder.
    folder : Path
        Of the field.
    asked : Asked
        Offsets, corrections, thinning.

    Returns
    -------
    GatheredSoundings
        With one report a file, in order. Nothing has been written.

    Raises
    ------
    BadInputError
        With the problems of all files that can't be read.
    """
    _refuse_far(asked.level_m, field)
    lake = Lake.of(field)
    own = own_file(lake, folder)
    problems: list[Problem] = []
    reports: list[Report] = []
    added: list[NewSounding] = []
    for path in paths:
        try:
            found, new, own = _one_file(path, lake, own, asked)
        except BadInputError as error:
            problems += error.problems
            continue
        reports.append(sounding_report(found, asked, field))
        added += new
    if problems:
        raise BadInputError(problems)
    return GatheredSoundings(field=field, reports=tuple(reports), added=tuple(added))


def _one_file(
    path: Path, lake: Lake, own: OwnFile, asked: Asked
) -> tuple[Found, list[NewSounding], OwnFile]:
    """Read one file and hold it against what is there."""
    tally = Tally()
    kind = format_of(path)
    sieve = Sieve(lake, asked, tally, place=_PLACES.get(kind, "line"))
    for batch in _read(path, kind, lake.field, asked=asked, tally=tally):
        sieve.take(batch)
    if not sieve.seen:
        raise refused(path, "no_soundings", _nothing(tally))
    kept, shoals = sieve.result()
    levels = {
        day: _level(date.fromordinal(day) if day else None, lake.field, asked)
        for day in sorted({one.day for one in kept})
    }
    new = [_new(one, levels[one.day], own) for one in kept]
    held = _reduced(new, lake)
    met = meet(own.there, held, near_m=EVERY_M[lake.field.settings.units])
    taken = ~met.again & ~met.other
    found = Found(
        file=path.name, format=kind, tally=tally, sieve=sieve, kept=kept,
        shoals=shoals, levels=levels, met=met, taken=int(taken.sum()),
    )  # fmt: skip
    rows = [one for one, is_in in zip(new, taken.tolist(), strict=True) if is_in]
    return found, rows, replace(own, there=own.there.with_more(held.only(taken)))


def _refuse_far(level_m: float | None, field: Field) -> None:
    """Refuse a typed level that is none of the lake's own gauge, such as a height above the sea."""
    low, high = field.settings.levels.low_m, field.settings.levels.high_m
    if level_m is None or low - _FAR_M <= level_m <= high + _FAR_M:
        return
    units = field.settings.units
    text = (
        f"{length_text(level_m, units)} is far from the lake's low and high of field.toml,"
        f" {length_text(low, units)} and {length_text(high, units)}; write its height on the"
        " lake's own gauge, as those are"
    )
    raise BadInputError([Problem(code="bad_option", text=text, column="--level")])


def _nothing(tally: Tally) -> str:
    left = tally.left()
    if not left:
        return "no sounding stands in it"
    return f"no sounding can be read in it: {left[0].words} ({left[0].first})"


def _read(path: Path, kind: Format, field: Field, *, asked: Asked, tally: Tally) -> Iterator[Batch]:
    if kind == "nmea":
        return batches(NmeaLog(asked, tally).rows(path))
    if kind == "gpx":
        return batches(gpx_rows(path, asked, tally))
    if kind in {"csv", "xlsx"}:
        table = table_readings(path, asked, tally, kind="xlsx" if kind == "xlsx" else "csv")
        return placed(table, path, field, asked=asked, tally=tally)
    if kind == "xyz":
        table = xyz_readings(path, asked, tally)
        return placed(table, path, field, asked=asked, tally=tally)
    raise refused(path, "no_soundings", f"no soundings can be read from it; {SOUNDINGS_COME_AS}")


def _level(day: date | None, field: Field, asked: Asked) -> LevelThen:
    if asked.level_m is not None:
        return LevelThen(level_m=asked.level_m, by=(), is_read=True)
    return level_then(day, field)


def _new(one: Kept, level: LevelThen, own: OwnFile) -> NewSounding:
    return NewSounding(
        lon=round(one.lon, _DEGREE_DIGITS),
        lat=round(one.lat, _DEGREE_DIGITS),
        depth_m=own.depth_step.rounded(one.depth_m),
        day=date.fromordinal(one.day) if one.day else None,
        level_m=own.level_step.rounded(level.level_m),
    )


def _reduced(new: list[NewSounding], lake: Lake) -> There:
    """New soundings at the soundings' level."""
    xy = lake.projection.to_xy([one.lon for one in new], [one.lat for one in new])
    at = lake.field.settings.levels.soundings_m
    return There(
        xy=np.column_stack(xy),
        depth_m=np.array([one.depth_m + at - (one.level_m or 0.0) for one in new]),
        day=np.array([one.day.toordinal() if one.day else 0 for one in new], dtype=np.int64),
    )
