"""Fixes as files hold them: waypoints, tracks of a device that lay still, tables."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any, Final

import numpy as np

from lakemap.basis.errors import BadInputError, Problem, ProblemLog
from lakemap.basis.records import Field, FloatArray, PositionOf
from lakemap.gathering.fixes_names import Told, Words, bearing_of, nearest_id, read_words
from lakemap.gathering.gpx_track import degrees_of, moment_of
from lakemap.gathering.kinds import format_of
from lakemap.gathering.lines import Tally, refused
from lakemap.gathering.records import Asked
from lakemap.gathering.shore_tracks import Track, tracks_in
from lakemap.gathering.xml_points import Point, gpx_points
from lakemap.inputs.cells import Sheet
from lakemap.inputs.layers import read_layer
from lakemap.inputs.positions import POSITION, by_the_lake, read_positions
from lakemap.inputs.side_tables import FIX_COLUMNS
from lakemap.lake.projection import LakeProjection
from lakemap.saving.records import NewFix

_STILL_M: Final = 30.0  # ours: half of a track's points lie so near its middle if it lay on a float
_LEAST_POINTS: Final = 2
_SHOWN: Final = 40  # signs of a name
UNSAID: Final = "unsaid"  # facts that a tally counts
NO_WIND: Final = "wind"
STILL: Final = "still"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Seen:
    """One position and what is said with it."""

    place: str  # such as waypoint 3
    called: str
    lon: float
    lat: float
    told: Told
    day: date | None


def fixes_in(path: Path, *, field: Field, asked: Asked, tally: Tally) -> list[NewFix]:
    """Read the fixes of a file.

    Parameters
    ----------
    path : Path
        GPX, an NMEA log, or a table or layer with a column `float_id`.
    field : Field
        Its floats are those that may be named.
    asked : Asked
        What holds where the file says nothing.
    tally : Tally
        Gains what is left out, and facts of the file.

    Returns
    -------
    list of NewFix
        In the file's order.

    Raises
    ------
    BadInputError
        If it can't be read, or a fix has no day.
    """
    ids = [one.float_id for one in field.floats]
    seen: Iterator[_Seen]
    kind = format_of(path)
    if kind == "gpx":
        seen = _waypoints(path, ids, tally)
    elif kind == "nmea":
        seen = iter(())
    else:
        seen = _rows(path, field, ids)
    found = [one for each in seen if (one := _known(each, field, asked, tally)) is not None]
    if kind in {"gpx", "nmea"}:
        found += [one for each in _still(path, asked, tally) if (one := _by(each, field, tally))]
    _refuse_undated(path, found, asked)
    return [_fix(one, asked, tally) for one in found]


def _waypoints(path: Path, ids: Sequence[str], tally: Tally) -> Iterator[_Seen]:
    number = 0
    for point in gpx_points(path):
        if point.of != "waypoint":
            continue
        number += 1
        tally.read += 1
        place = f"waypoint {number}"
        called = _short(point.name) or place
        try:
            lon, lat = degrees_of(point)
        except ValueError as error:
            tally.leave("a waypoint that can't be read", f"{place}: {error}")
            continue
        moment = moment_of(point.time)
        yield _Seen(
            place=place,
            called=called,
            lon=lon,
            lat=lat,
            told=read_words(_words(point), ids),
            day=None if moment is None else moment.date(),
        )


def _words(point: Point) -> Words:
    return Words(
        name=point.name, comment=point.comment, description=point.description, kind=point.kind
    )


def _short(text: str) -> str:
    """A name as it is shown: on one line, and not without end."""
    even = " ".join(text.split())
    return even if len(even) <= _SHOWN else f"{even[:_SHOWN]}…"


def _known(one: _Seen, field: Field, asked: Asked, tally: Tally) -> _Seen | None:
    """The fix with a float of the field; else it is left out, the nearest float named."""
    told = one.told
    who = told.float_id or asked.float_id
    if who is None:
        words, first = "it names no float; say --float ID", f"{one.place}: {one.called!r}"
        if told.unknown is not None:
            near = nearest_id(told.unknown, [each.float_id for each in field.floats])
            hint = "" if near is None else f"; the nearest is {near}"
            words = "no such float in the floats file"
            first = f"{one.place}: {_short(told.unknown)!r}{hint}"
        tally.leave(words, first)
        return None
    return _by(replace(one, told=replace(told, float_id=who)), field, tally)


def _by(one: _Seen, field: Field, tally: Tally) -> _Seen | None:
    """The fix where it lies by the lake; else it is left out."""
    if bool(by_the_lake(field.lake, np.array([[one.lon, one.lat]]))[0]):
        return one
    tally.leave("not by this lake", f"{one.place}: {one.lat:.6f}, {one.lon:.6f}")
    return None


def _still(path: Path, asked: Asked, tally: Tally) -> Iterator[_Seen]:
    """Tracks of a device that lay on a float, each as one fix in the middle of its points."""
    for track in tracks_in(path, tally=tally):
        if len(track.lonlat) < _LEAST_POINTS:
            continue
        if asked.float_id is None:
            words = "a track, which names no float; say --float ID if it lay on one"
            tally.leave(words, track.called)
            continue
        middle, half_within_m = _middle(track)
        if half_within_m > _STILL_M:
            words = "a track that went about, so it is no fix; is it a shore (--as shore)?"
            tally.leave(words, f"{track.called}: half of it beyond {half_within_m:.0f} m")
            continue
        tally.tell(STILL)
        yield _Seen(
            place=track.called,
            called=track.called,
            lon=float(middle[0]),
            lat=float(middle[1]),
            told=Told(float_id=asked.float_id),
            day=track.day,
        )


def _middle(track: Track) -> tuple[FloatArray, float]:
    """Return the middle value of a track's points, and how far half of them lie from it [m]."""
    middle: FloatArray = np.median(track.lonlat, axis=0)
    here = LakeProjection(lon0=float(middle[0]), lat0=float(middle[1]))
    far = np.hypot(*here.to_xy(*track.lonlat.T))
    return middle, float(np.median(far))


def _rows(path: Path, field: Field, ids: Sequence[str]) -> Iterator[_Seen]:
    """Rows of a table or a layer of points with a column of floats."""
    log = ProblemLog()
    table = read_layer(path, log)
    log.raise_if_fatal()
    if table is None:
        raise refused(path, "file_empty", "nothing can be read from it")
    sheet = Sheet(table, {**FIX_COLUMNS, **POSITION}, log)
    sheet.require("float_id")
    lonlat = read_positions(sheet, crs=field.settings.crs)
    columns: dict[str, list[Any]] = {
        "float_id": sheet.text("float_id"),
        "day": sheet.iso_date("date"),
        "what": sheet.choice("position_of", ("primary", "secondary", "float")),
        "wind": [None if text is None else (text, bearing_of(text)) for text in _winds(sheet)],
    }
    for row, wind in enumerate(columns["wind"]):
        if wind is not None and wind[1] is None:
            text = f"{wind[0]!r} is no bearing; write 0 to 360, or one of N, NNE, NE …"
            sheet.tell("bad_bearing", text, row, "wind_from_deg")
    log.raise_if_fatal()
    known = {one.casefold(): one for one in ids}
    for row, name in enumerate(columns["float_id"]):
        who = None if name is None else known.get(name.strip().casefold())
        yield _Seen(
            place=f"row {table.row_numbers[row]}",
            called=name or "",
            lon=float(lonlat[row, 0]),
            lat=float(lonlat[row, 1]),
            told=Told(
                float_id=who,
                position_of=columns["what"][row],
                wind_from_deg=None if columns["wind"][row] is None else columns["wind"][row][1],
                unknown=None if who is not None else name,
            ),
            day=columns["day"][row],
        )


def _winds(sheet: Sheet) -> list[str | None]:
    if not sheet.has("wind_from_deg"):
        return [None] * len(sheet)
    return [
        None if text is None else text.removesuffix("°")
        for text in (_plain(cell) for cell in sheet.cells("wind_from_deg"))
    ]


def _plain(cell: object) -> str | None:
    if isinstance(cell, float):
        return None if np.isnan(cell) else f"{cell:g}"
    return None if cell is None or not str(cell).strip() else str(cell).strip()


def _refuse_undated(path: Path, found: Sequence[_Seen], asked: Asked) -> None:
    undated = [one for one in found if one.day is None]
    if not undated or asked.day is not None:
        return
    count = f"{len(undated):,} of {len(found):,} fixes name" if len(found) > 1 else "the fix names"
    text = (
        f"{count} no day (first: {undated[0].place}, {undated[0].called!r}); say when it was:"
        " --date 2025-06-14"
    )
    raise BadInputError([Problem(code="no_date", text=text, file=path.name)])


def _fix(one: _Seen, asked: Asked, tally: Tally) -> NewFix:
    told = one.told
    what: PositionOf | None = told.position_of or asked.position_of
    if what is None:
        tally.tell(UNSAID)
        what = "float"  # what anybody can stand on
    wind = told.wind_from_deg
    if wind is None and what == "float":
        wind = asked.wind_from_deg
    if told.wind_unread and wind is None:
        tally.tell(NO_WIND)
    day = one.day or asked.day
    if day is None or told.float_id is None:
        raise AssertionError("refused before")  # pragma: no cover
    return NewFix(
        float_id=told.float_id,
        lon=one.lon,
        lat=one.lat,
        day=day,
        position_of=what,
        wind_from_deg=wind if what == "float" else None,
    )
