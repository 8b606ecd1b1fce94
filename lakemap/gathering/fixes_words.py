"""What is told of fixes: of each file, and where the primaries lie by them."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from lakemap.basis.wording import compass_text, length_figure, length_text, length_unit
from lakemap.gathering.fixes_estimates import Estimate, NoEstimate
from lakemap.gathering.fixes_read import NO_WIND, STILL, UNSAID
from lakemap.gathering.fixes_rigs import Rigs
from lakemap.gathering.lines import Tally
from lakemap.gathering.records import Report
from lakemap.saving.records import NewFix

_FAR: Final = 5.0  # standard deviations of a fix beyond what its float can reach
_APART: Final = 3.0  # of the standard errors of two estimates together: they disagree
_MOST_NAMED: Final = 6
_SENT_OUT_M: Final = 0.02  # seven decimals of a degree, as maps are sent out


def file_lines(tally: Tally) -> Iterator[str]:
    """Yield what was seen of one file.

    Parameters
    ----------
    tally : Tally
        Of its reading.

    Yields
    ------
    str
        A sentence each.
    """
    said = (
        (UNSAID, "{} didn't say what was fixed: taken as the float's (or say --position-of)"),
        (NO_WIND, "{} told a wind, but not where it came from (write it as wind 270 or wind W)"),
        (STILL, "{} from a track that lay still: the middle of its points"),
    )
    yield from tally.said
    yield from (words.format(tally.told[fact]) for fact, words in said if fact in tally.told)


def odd_fixes(fixes: Sequence[NewFix], rigs: Rigs) -> Iterator[str]:
    """Yield cautions of fixes that may be of another float, or are none at all.

    Parameters
    ----------
    fixes : sequence of NewFix
        Of one file.
    rigs : Rigs
        Of the field.

    Yields
    ------
    str
        A sentence each.
    """
    units = rigs.field.settings.units
    far, sent_out = [], []
    for one in fixes:
        at = rigs.xy(np.array([[one.lon, one.lat]]))[0]
        record = rigs.record(one.float_id)
        own = rigs.xy(np.array([[record.lon, record.lat]]))[0]
        band, placed = rigs.band(one.float_id), rigs.placed.get(one.float_id)
        reach = 0.0 if band is None or placed is None else band[1] + placed.extra_m
        away = math.dist(at, own)
        if away > reach + _FAR * math.sqrt(2.0) * rigs.sigma_m:
            far.append(f"float {one.float_id} ({length_text(away, units)})")
        lies = rigs.primary_xy(one.float_id)
        if one.position_of == "primary" and lies is not None and math.dist(at, lies) < _SENT_OUT_M:
            sent_out.append(f"float {one.float_id}")
    if far:
        yield (
            f"far from where the floats file has them, look whether they are of another float:"
            f" {_some(far)}"
        )
    if sent_out:
        yield (
            f"at the very place of the floats file, as an exported map has it, so it tells nothing"
            f" new: {_some(sent_out)}"
        )


def _some(names: Sequence[str]) -> str:
    different = list(dict.fromkeys(names))
    more = len(different) - _MOST_NAMED
    return ", ".join(different[:_MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


def estimates_told(
    report: Report,
    told: Sequence[Estimate],
    open_: Sequence[NoEstimate],
    *,
    rigs: Rigs,
    placed: Sequence[str],
) -> Report:
    """Return a report with what all fixes say of the primaries.

    Parameters
    ----------
    report : Report
        Of the last file.
    told : sequence of Estimate
        Of each float the surest first.
    open_ : sequence of NoEstimate
        What can't be said.
    rigs : Rigs
        Of the field.
    placed : sequence of str
        Floats whose primary goes into the floats file.

    Returns
    -------
    Report
        With a table.
    """
    units = rigs.field.settings.units
    header = ("float", "primary at LAT,LON", f"± {length_unit(units)}", "from the file's", "by")
    best = {one.float_id: one for one in reversed(told)}
    rows = tuple(_row(one, rigs) for one in told if best[one.float_id] is one)
    lines = [f"float {one.float_id}: {one.why}" for one in open_]
    lines += [f"float {one.float_id}: {note}" for one in told for note in one.notes]
    lines += [
        f"float {one.float_id}: {text}"
        for one in told
        if (text := _elsewhere(one, best[one.float_id], rigs)) is not None
    ]
    lines += _of_placing(told, placed, rigs)
    if rigs.says and (told or open_):
        lines.append("the floats can't be placed as the folder is, so no circle can be fitted:")
        lines += [f"  {one}" for one in rigs.says[:_MOST_NAMED]]
    title = "where the primaries lie by all their fixes (± one axis, a standard uncertainty)"
    return replace(
        report,
        lines=(*report.lines, *lines),
        table=(header, *rows) if rows else report.table,
        table_title=title if rows else report.table_title,
    )


def _elsewhere(one: Estimate, best: Estimate, rigs: Rigs) -> str | None:
    """Say where another way to reckon a primary puts it, if that is another place."""
    errors = [rigs.sigma_m if each.error_m is None else each.error_m for each in (one, best)]
    away = math.hypot(one.x_m - best.x_m, one.y_m - best.y_m)
    if away <= _APART * math.hypot(*errors):
        return None
    far = length_text(away, rigs.field.settings.units)
    return f"{one.basis} would put it {far} elsewhere: look at these fixes"


def _row(one: Estimate, rigs: Rigs) -> tuple[str, ...]:
    units = rigs.field.settings.units
    lon, lat = rigs.projection.to_lonlat(np.array([one.x_m]), np.array([one.y_m]))
    error = rigs.sigma_m if one.error_m is None else one.error_m
    was = rigs.primary_xy(one.float_id)
    away = "not located there"
    if was is not None:
        east, north = one.x_m - float(was[0]), one.y_m - float(was[1])
        way = compass_text(math.degrees(math.atan2(east, north)))
        away = f"{length_text(math.hypot(east, north), units)} {way}"
        away = "the same" if away.startswith(("0.0 ", "0.00 ")) else away
    return (
        one.float_id,
        f"{lat[0]:.7f},{lon[0]:.7f}",
        length_figure(error, units, rounding="up"),
        away,
        one.basis,
    )


def _of_placing(told: Sequence[Estimate], placed: Sequence[str], rigs: Rigs) -> Iterator[str]:
    if not told:
        return
    if placed:
        many = "s" if len(placed) > 1 else ""
        yield f"for the floats file, the surest of each: float{many} {', '.join(placed)}"
    else:
        yield "the floats file stays as it is; --place puts these primaries into it"
    yield from _surer(told, rigs)


def _surer(told: Sequence[Estimate], rigs: Rigs) -> Iterator[str]:
    """Floats whose primary the floats file has surer than any of the fixes."""
    for float_id in dict.fromkeys(one.float_id for one in told):
        own = rigs.record(float_id).position_error_m
        best = next(one for one in told if one.float_id == float_id)
        if own is not None and rigs.has_surer(float_id, best.error_m):
            far = length_text(own, rigs.field.settings.units)
            yield (
                f"float {float_id}: the floats file has it surer (± {far}) and keeps it; blank its"
                " position_error to have it replaced"
            )
