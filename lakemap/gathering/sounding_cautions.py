"""What to take care of with a sounder's file: levels nobody read, offsets, places elsewhere."""

from collections.abc import Iterator
from datetime import date
from typing import Final

import numpy as np

from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import Field, Units
from lakemap.basis.wording import length_figure, length_text, measure_text
from lakemap.gathering.found import Found
from lakemap.gathering.level_then import MOST_DAYS
from lakemap.gathering.records import Asked
from lakemap.inputs.positions import by_the_lake

_APART_M: Final = 0.3  # ours: what two surveys differ by on the whole without a slip
_BEYOND_M: Final = 1.0  # ours: farther from low and high a level looks like another gauge's
_MOST: Final = 0.5  # of the soundings must lie by the lake


def sounding_cautions(found: Found, asked: Asked, field: Field) -> Iterator[str]:
    """Tell what to take care of with one sounder's file.

    Parameters
    ----------
    found : Found
        What was found.
    asked : Asked
        Of `gather`.
    field : Field
        For its units and levels.

    Yields
    ------
    str
        Whole sentences, without line ends.
    """
    units = field.settings.units
    yield from found.tally.warned
    if not found.kept:
        yield _none_kept(found, field)
        return
    unread = [day for day, one in found.levels.items() if not one.is_read]
    if unread:
        yield _unread(unread, found, asked, field)
    yield from _far_levels(found, field)
    yield from _offset_cautions(found, asked, units)
    agreement = found.met.agreement
    if agreement is not None and abs(agreement.median_m) > _APART_M:
        yield (
            f"on the whole {deeper(agreement.median_m, units)} than the soundings that were there:"
            " are the transducer's depth and the lake's level right, of these and of those?"
        )


def _none_kept(found: Found, field: Field) -> str:
    """Why nothing is left, and whether another sign or order of the columns would mend it."""
    astray = found.sieve.astray
    if not len(astray):
        return "none of its depths can be one of this lake; see what was not taken, and why"
    lon, lat = astray.T
    for words, other in (
        ("lat and lon look changed over; mend the columns' names", (lat, lon)),
        ("its longitudes look as if they lacked a minus (west is minus)", (-lon, lat)),
        ("its latitudes look as if they lacked a minus (south is minus)", (lon, -lat)),
        ("its longitudes and latitudes look as if they lacked a minus", (-lon, -lat)),
    ):
        if by_the_lake(field.lake, np.column_stack(other)).mean() > _MOST:
            return f"none of its soundings lies in the lake: {words}"
    return "none of its soundings lies in the lake; is it the log of another one?"


def _unread(days: list[int], found: Found, asked: Asked, field: Field) -> str:
    normal = length_text(field.settings.levels.normal_m, field.settings.units)
    dated = [date.fromordinal(day).isoformat() for day in days if day]
    if not dated:
        return (
            f"the file names no day: it is taken to be sounded at the normal level, {normal};"
            " say --date or --level if it was not"
        )
    rest = len(dated) - 1
    more = f" and {rest:,} more day{'s' * (rest > 1)}" if rest else ""
    remedy = "say --level, or put a reading into the levels file"
    if found.taken and not asked.preview:
        name = field.soundings.file if field.soundings is not None else "soundings.csv"
        remedy = (
            f"if it was another, go back to {name} as it was before, and gather again with --level"
            " or with a reading in the levels file"
        )
    return (
        f"nobody read the gauge within {MOST_DAYS} days of {dated[0]}{more}: the normal level,"
        f" {normal}, was taken; {remedy}"
    )


def _far_levels(found: Found, field: Field) -> Iterator[str]:
    levels, units = field.settings.levels, field.settings.units
    low, high = levels.low_m - _BEYOND_M, levels.high_m + _BEYOND_M
    far = [one.level_m for one in found.levels.values() if not low <= one.level_m <= high]
    if far:
        yield (
            f"a level of {length_text(far[0], units)} is far from low and high of field.toml,"
            f" {length_text(levels.low_m, units)} and {length_text(levels.high_m, units)}: was it"
            " read on the lake's own gauge?"
        )


def _offset_cautions(found: Found, asked: Asked, units: Units) -> Iterator[str]:
    tally = found.tally
    keel = [one for one in tally.offsets_m if one < 0]
    if keel and asked.transducer_depth_m is None:
        yield (
            f"the log's offset, {length_text(keel[0], units)}, leads from the transducer to the"
            " keel and tells nothing of the surface"
        )
    ups = [one for one in tally.offsets_m if one > 0]
    given = asked.transducer_depth_m
    if ups and given is not None and abs(ups[0] - given) > FOOT_M.value / 10:
        yield (
            f"you said that the transducer hangs {measure_text(given, units)} deep, the log says"
            f" {measure_text(ups[0], units)}; yours was taken"
        )
    if "no offset" in tally.told and given is None and found.format != "xyz":
        yield (
            "nobody said how deep the transducer hangs: depths are taken as from the surface, and"
            " are too shallow by as much as it hangs below it (--transducer-depth)"
        )


def deeper(metres: float, units: Units) -> str:
    """Return how much deeper than others some soundings are, in words.

    Parameters
    ----------
    metres : float
        + is deeper [m].
    units : {'ft-lb', 'm-kg'}
        What people use.

    Returns
    -------
    str
        Such as `0.3 ft deeper`.
    """
    if not float(length_figure(abs(metres), units)):
        return "as deep as they are"
    return f"{length_text(abs(metres), units)} {'deeper' if metres >= 0 else 'shallower'}"
