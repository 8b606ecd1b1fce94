"""`gather_shore`: a shore that was walked or boated around, as the folder's lake."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Final

import numpy as np
import shapely

from lakemap.basis.errors import BadInputError, Problem, ProblemLog
from lakemap.basis.records import Field, Geometry, Settings
from lakemap.basis.wording import length_text
from lakemap.gathering.kinds import format_of
from lakemap.gathering.lines import Tally, refused
from lakemap.gathering.records import Asked, Report
from lakemap.gathering.shore_floats import refuse_dry
from lakemap.gathering.shore_lake import Merged, difference, drawn_lake, merged_lake
from lakemap.gathering.shore_ring import NoRing, ring_of
from lakemap.gathering.shore_tracks import Track, tracks_in
from lakemap.gathering.shore_words import (
    Told,
    lake_cautions,
    lake_lines,
    no_ring_words,
    ring_cautions,
    ring_lines,
)
from lakemap.inputs.lake_shape import read_lake
from lakemap.inputs.layers import TABLES, VECTORS, read_layer
from lakemap.inputs.settings import read_settings
from lakemap.lake.projection import LakeProjection
from lakemap.saving.lake import save_lake
from lakemap.saving.records import Saved, Stamp, Underneath

_THIN: Final = 0.5  # of what positions are good to


@dataclass(frozen=True, slots=True, kw_only=True)
class GatheredShore:
    """A lake from the rings of all files, ready to be written."""

    field: Field | None
    reports: tuple[Report, ...]
    lake: Merged

    def save(self, folder: Path, *, stamp: Stamp) -> Saved | Underneath | None:
        """Write it as the folder's lake, the version before beside it.

        Parameters
        ----------
        folder : Path
            Of the field.
        stamp : Stamp
            Of the folder when it was read.

        Returns
        -------
        Saved or Underneath
            Where it stands.
        """
        names = self.lake.names
        return save_lake(folder, self.field, self.lake.outline, stamp=stamp, island_names=names)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Way:
    """One ring and where it is from; lon, lat."""

    file: int
    called: str
    ring: Geometry
    day: date | None
    thin_m: float = 0.0


@dataclass
class _File:
    """What is told of one file while its ways are read."""

    path: Path
    tally: Tally
    lines: list[str]
    cautions: list[str]
    problems: list[Problem]
    longest_m: float = 0.0  # of the ways that are no rings


def gather_shore(
    paths: Sequence[Path], *, field: Field | None, folder: Path, asked: Asked
) -> GatheredShore:
    """Make a lake of tracks and routes that run around its shore and its islands.

    Parameters
    ----------
    paths : sequence of Path
        GPX files, NMEA logs, or outlines in any format that a lake may have.
    field : Field or None
        As read from the folder; None: all of it is there but the lake.
    folder : Path
        Of the field.
    asked : Asked
        How far inside the shore the boat was kept.

    Returns
    -------
    GatheredShore
        With one report a file, in order. Nothing has been written.

    Raises
    ------
    BadInputError
        If there is no ring, it lies elsewhere than the lake, or a float would lie on land.
    """
    settings = _settings(folder) if field is None else field.settings
    sigma = settings.accuracy.position_m
    files = [_File(path, Tally(), [], [], []) for path in paths]
    ways = [way for k, file in enumerate(files) for way in _ways(k, file, settings)]
    _refuse_open(files, ways)
    centre = LakeProjection.centred_on(shapely.geometrycollections([way.ring for way in ways]))
    thin = _THIN * sigma
    rings = [centre.project(way.ring) for way in ways]
    drawn = drawn_lake(rings, inside_m=asked.inside_m, thin_m=thin)
    for k in drawn.outside:
        words = "neither the shore nor an island inside it"
        files[ways[k].file].tally.leave(words, ways[k].called)
    outline = centre.unproject(drawn.outline)
    merged = merged_lake(outline, field)
    _refuse_elsewhere(outline, field, files[0].path, settings)
    refuse_dry(merged.outline, field, folder=folder, settings=settings)
    there = field is not None and not field.lake_is_rough
    told = Told(
        settings=settings,
        field=field,
        drawn=drawn,
        merged=merged,
        compared=difference(field.lake, merged.outline) if there and field is not None else None,
        day=next((way.day for way in ways if way.day is not None), asked.day),
        inside_m=asked.inside_m,
        thin_m=max(way.thin_m for way in ways),
    )
    return GatheredShore(
        field=field, reports=tuple(_reports(files, ways, drawn.outside, told)), lake=merged
    )


def _settings(folder: Path) -> Settings:
    log = ProblemLog()
    found = read_settings(folder / "field.toml", log, folder_name=folder.resolve().name)
    log.raise_if_fatal()
    if found is None:
        raise AssertionError("settings that can't be read are fatal")  # pragma: no cover
    return found


def _ways(place: int, file: _File, settings: Settings) -> Iterator[_Way]:
    """The rings of one file; what is none is told."""
    if format_of(file.path) not in {"gpx", "nmea"}:
        yield from _given(place, file, settings)
        return
    tracks = tracks_in(file.path, tally=file.tally)
    if not any(len(track.lonlat) for track in tracks):
        raise refused(file.path, "no_track", "it holds no track and no route")
    for track in tracks:
        if len(track.lonlat):
            yield from _tracked(place, file, track, settings)


def _tracked(place: int, file: _File, track: Track, settings: Settings) -> Iterator[_Way]:
    units, sigma = settings.units, settings.accuracy.position_m
    centre = LakeProjection.centred_on(shapely.multipoints(track.lonlat))
    xy = np.column_stack(centre.to_xy(*track.lonlat.T))
    found = ring_of(xy, sigma_m=sigma, thin_m=_THIN * sigma, drawn=track.of == "route")
    if isinstance(found, NoRing):
        text = no_ring_words(found, track.called, units)
        file.problems.append(Problem(code="open_outline", text=text, file=file.path.name))
        file.longest_m = max(file.longest_m, found.length_m)
        return
    file.lines += ring_lines(found, track.called, units)
    file.cautions += ring_cautions(found, track.called, sigma_m=sigma, units=units)
    yield _Way(
        file=place,
        called=track.called,
        ring=centre.unproject(found.polygon),
        day=track.day,
        thin_m=found.thin_m,
    )


def _given(place: int, file: _File, settings: Settings) -> Iterator[_Way]:
    """An outline that is one already: each of its shores and islands is a ring."""
    log = ProblemLog()
    if file.path.suffix.lower() not in TABLES + VECTORS:
        raise refused(file.path, "no_track", "it holds no track and no outline that can be read")
    table = read_layer(file.path, log)
    shape = None if table is None else read_lake(table, log, crs=settings.crs)
    log.raise_if_fatal()
    if shape is None:
        raise refused(file.path, "no_track", "it holds no outline")
    file.cautions += [one.text for one in log]
    number = 0
    for part in shapely.get_parts(shape.outline).tolist():
        for ring in (part.exterior, *part.interiors):
            number += 1
            ring_ = shapely.Polygon(ring)
            yield _Way(file=place, called=f"outline {number}", ring=ring_, day=None)


def _refuse_open(files: Sequence[_File], ways: Sequence[_Way]) -> None:
    """Refuse where nothing is a ring, or what is none is longer than the longest that is one."""
    wrong = [one for file in files for one in file.problems]
    if not ways:
        raise BadInputError(wrong)
    longest = max(
        float(shapely.length(LakeProjection.centred_on(way.ring).project(way.ring.exterior)))
        for way in ways
    )
    if any(file.longest_m > longest for file in files):
        raise BadInputError(wrong)
    for file in files:
        for problem in file.problems:
            file.tally.leave("a track that is no ring", problem.text)


def _refuse_elsewhere(
    outline: Geometry, field: Field | None, path: Path, settings: Settings
) -> None:
    if field is None or field.lake_is_rough or shapely.intersects(outline, field.lake):
        return
    centre = LakeProjection.centred_on(field.lake)
    far = float(shapely.distance(centre.project(outline), centre.project(field.lake)))
    text = (
        f"the shore in it lies {length_text(far, settings.units)} from the lake of this folder; is"
        " it another lake's?"
    )
    raise BadInputError([Problem(code="elsewhere", text=text, file=path.name)])


def _reports(
    files: Sequence[_File], ways: Sequence[_Way], outside: Sequence[int], told: Told
) -> Iterator[Report]:
    for number, file in enumerate(files):
        mine = [w for k, w in enumerate(ways) if w.file == number and k not in outside]
        is_last = number == len(files) - 1
        yield Report(
            file=file.path.name,
            kind="shore",
            taken=sum(len(shapely.get_coordinates(way.ring)) - 1 for way in mine),
            lines=(*file.lines, *(lake_lines(told) if is_last else ())),
            left=file.tally.left(),
            cautions=(*file.cautions, *(lake_cautions(told) if is_last else ())),
        )
