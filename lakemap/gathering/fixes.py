"""`gather_fixes`: positions from phones into the folder's fixes, and what they say of primaries."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

import numpy as np

from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.records import Field
from lakemap.gathering.fixes_estimates import Estimate, NoEstimate, estimates_of
from lakemap.gathering.fixes_names import nearest_id
from lakemap.gathering.fixes_read import fixes_in
from lakemap.gathering.fixes_rigs import Rigs
from lakemap.gathering.fixes_words import estimates_told, file_lines, odd_fixes
from lakemap.gathering.lines import Tally
from lakemap.gathering.records import Asked, Report
from lakemap.saving.coordinates import distance_m
from lakemap.saving.fixes import save_fixes
from lakemap.saving.floats import save_floats
from lakemap.saving.records import FloatChange, NewFix, Saved, Stamp, Underneath

_SAME_M: Final = 0.01
_DIGITS: Final = 9  # as they are written
_MM: Final = 3
_SAME_SHARE: Final = 0.05  # of a standard error: a primary so near is where it was


@dataclass(frozen=True, slots=True, kw_only=True)
class GatheredFixes:
    """Fixes of all files, ready to be merged."""

    field: Field
    reports: tuple[Report, ...]
    added: tuple[NewFix, ...]
    placed: tuple[FloatChange, ...] = ()  # primaries for the floats file, where that was asked

    def save(
        self, folder: Path, *, stamp: Stamp
    ) -> Saved | Underneath | tuple[Saved | Underneath, ...] | None:
        """Put the fixes to the folder's fixes, and the primaries into its floats.

        Parameters
        ----------
        folder : Path
            Of the field.
        stamp : Stamp
            Of the folder when it was read.

        Returns
        -------
        Saved, Underneath, tuple of both, or None
            None: there was nothing new.
        """
        done: list[Saved | Underneath] = []
        if self.placed:  # first: it may be refused, and then nothing was written
            done.append(save_floats(folder, self.field, self.placed, stamp=stamp))
            stamp = done[-1].stamp if isinstance(done[-1], Saved) else stamp
        if self.added:
            try:
                done.append(save_fixes(folder, self.field, self.added, stamp=stamp))
            except BadInputError as error:
                if not done:
                    raise
                text = f"{done[0].file} was written before that; gather the fixes again"
                raise BadInputError(
                    [*error.problems, Problem(code="in_part", text=text)]
                ) from error
        return tuple(done) or None


def gather_fixes(
    paths: Sequence[Path], *, field: Field, folder: Path, asked: Asked
) -> GatheredFixes:
    """Read fixes for a field, and estimate the primaries of the floats that they are of.

    Parameters
    ----------
    paths : sequence of Path
        GPX files, NMEA logs of a receiver that lay still, tables with a column `float_id`.
    field : Field
        As read from the folder.
    folder : Path
        Of the field.
    asked : Asked
        Float, what was fixed, wind and day where the files don't say; whether to place.

    Returns
    -------
    GatheredFixes
        With one report a file, in order. Nothing has been written.

    Raises
    ------
    BadInputError
        With the problems of all files that can't be read.
    """
    del folder
    _refuse_unknown(asked, field)
    problems: list[Problem] = []
    read: list[tuple[Path, list[NewFix], Tally]] = []
    for path in paths:
        tally = Tally()
        try:
            read.append((path, fixes_in(path, field=field, asked=asked, tally=tally), tally))
        except BadInputError as error:
            problems += error.problems
    if problems:
        raise BadInputError(problems)
    rigs = Rigs.of(field)
    before = [*_old_fixes(field)]
    every, added, reports = list(before), [], []
    for path, fixes, tally in read:
        new = _new(fixes, every, tally)
        every += new
        added += new
        reports.append(
            Report(
                file=path.name,
                kind="fixes",
                taken=len(new),
                lines=tuple(file_lines(tally)),
                left=tally.left(),
                cautions=tuple(odd_fixes(new, rigs)),
            )
        )
    named = dict.fromkeys(fix.float_id for _, fixes, _ in read for fix in fixes)
    told, open_ = _estimated(named, every, rigs)
    changes = tuple(_placed(told, rigs)) if asked.place else ()
    placed = tuple(one.float_id for one in changes)
    reports[-1] = estimates_told(reports[-1], told, open_, rigs=rigs, placed=placed)
    return GatheredFixes(field=field, reports=tuple(reports), added=tuple(added), placed=changes)


def _refuse_unknown(asked: Asked, field: Field) -> None:
    if asked.float_id is None:
        return
    ids = [one.float_id for one in field.floats]
    if asked.float_id.strip() not in ids:
        near = nearest_id(asked.float_id, ids)
        hint = "" if near is None else f"; did you mean {near}?"
        text = f"no float {asked.float_id!r} in the floats file{hint}"
        raise BadInputError([Problem(code="no_such_float", text=text, column="--float")])


def _old_fixes(field: Field) -> Iterator[NewFix]:
    """The folder's own fixes, those that say everything."""
    for row in field.fixes:
        if None not in {row["date"], row["float_id"], row["position_of"]}:
            yield NewFix(
                float_id=row["float_id"],
                lon=row["lon"],
                lat=row["lat"],
                day=row["date"],
                position_of=row["position_of"],
                wind_from_deg=row["wind_from_deg"],
            )


def _new(fixes: Iterable[NewFix], there: Iterable[NewFix], tally: Tally) -> list[NewFix]:
    """Those that are not there yet: another day, float, thing or place."""
    known: dict[tuple[object, ...], list[NewFix]] = {}
    for one in there:
        known.setdefault(_key(one), []).append(one)
    new = []
    for one in fixes:
        rounded = replace(one, lon=round(one.lon, _DIGITS), lat=round(one.lat, _DIGITS))
        same = known.setdefault(_key(rounded), [])
        at = (rounded.lon, rounded.lat)
        if any(distance_m((other.lon, other.lat), at) <= _SAME_M for other in same):
            what = f"float {one.float_id}, {one.day.isoformat()}, {one.lat:.6f}, {one.lon:.6f}"
            tally.leave("in the fixes file already", what)
            continue
        same.append(rounded)
        new.append(rounded)
    return new


def _key(one: NewFix) -> tuple[object, ...]:
    return one.day, one.float_id, one.position_of


def _estimated(
    named: Iterable[str], every: Sequence[NewFix], rigs: Rigs
) -> tuple[list[Estimate], list[NoEstimate]]:
    """Estimates of the floats that these files are of, from all their fixes."""
    told: list[Estimate] = []
    open_: list[NoEstimate] = []
    for float_id in named:
        mine = [one for one in every if one.float_id == float_id]
        found, not_found = estimates_of(float_id, mine, rigs)
        told += found
        open_ += not_found
    return told, open_


def _is_there(one: Estimate, rigs: Rigs) -> bool:
    """Tell whether the floats file has a primary at that place already, as sure."""
    record, was = rigs.record(one.float_id), rigs.primary_xy(one.float_id)
    if record.position_of != "primary" or was is None:
        return False
    if record.position_error_m is None or one.error_m is None:
        same, error = record.position_error_m is one.error_m, rigs.sigma_m
    else:
        same = abs(record.position_error_m - one.error_m) <= _SAME_SHARE * one.error_m
        error = one.error_m
    return same and math.hypot(one.x_m - was[0], one.y_m - was[1]) <= _SAME_SHARE * error


def _placed(told: Sequence[Estimate], rigs: Rigs) -> Iterator[FloatChange]:
    """The surest place of each primary, unless the floats file has a surer one."""
    done: set[str] = set()
    for one in told:
        if one.float_id in done:
            continue
        done.add(one.float_id)
        if rigs.has_surer(one.float_id, one.error_m) or _is_there(one, rigs):
            continue
        lon, lat = rigs.projection.to_lonlat(np.array([one.x_m]), np.array([one.y_m]))
        yield FloatChange(
            float_id=one.float_id,
            values={
                "position_of": "primary",
                "wind_from_deg": None,
                "position_error": None if one.error_m is None else round(one.error_m, _MM),
            },
            position=(round(float(lon[0]), _DIGITS), round(float(lat[0]), _DIGITS)),
        )
