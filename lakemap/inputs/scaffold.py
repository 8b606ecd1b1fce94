"""A new field folder: commented files to fill in, from an outline, a rough square, or nothing."""

import csv
import io
import json
import os
import shutil
import tempfile
from collections.abc import Iterator
from os import PathLike
from pathlib import Path
from typing import Final

import numpy as np
import shapely

from lakemap.basis.errors import BadInputError, Problem, ProblemLog
from lakemap.basis.records import Geometry
from lakemap.inputs.lake_shape import ROUGH_NOTE, LakeShape, read_lake
from lakemap.inputs.layers import read_layer
from lakemap.inputs.settings import GUESSED_LEVELS
from lakemap.lake.projection import LakeProjection

_MOST_M: Final = 200_000.0  # ours: no lake with swim floats is longer; a slip of the unit is
_EXAMPLE_PLACE: Final = (-72.0456, 44.0123)  # lon, lat; only in a comment
_LAKE_COLUMNS = ("lon", "lat", "part", "island", "note")
_SOURCE = "example; check your local code"

_FIELD = f"""\
# Settings of this field. Whatever follows a # is a comment.
# A quantity stands in quotes with its unit: "1.5 ft", "0.4 m", "50 mph".
name = %(name)s
units = "ft-lb"      # what people see; or "m-kg"

[levels]             # heights on your own gauge; up is +
# Read the gauge; write today's reading (normal).
# Write the lowest (low) and the highest (high) that you remember.
{GUESSED_LEVELS}\
# soundings = "0 ft" # the gauge when the depths were taken; without it: normal

[storm]              # what the rigs are sized for
wind = "50 mph"      # 10-minute mean, 10 m above the water
gust = "70 mph"
from_deg = "all"     # or the true bearings that storms come from, as [225, 270]

[wake]               # of a passing boat
height = "2 ft"
period = "2.2 s"
at = "100 ft"        # the distance at which it is that high
nearest = "50 ft"    # how close boats pass a float

# [accuracy]         # take the # away once you know how good your positions are
# position = "10 ft" # standard error, one axis: a 95 %% radius divided by 2.45

[rules.neighbour]    # free water between the swing circles of two floats
distance = "5 ft"
source = "example; check your own rules"

[rules.shore]
distance = "10 ft"
source = "{_SOURCE}"

[rules.swim_area]
distance = "20 ft"
source = "{_SOURCE}"

[rules.channel]
distance = "5 ft"
source = "{_SOURCE}"

# [rules.jump_depth] # least depth for jumping: about a float, and a little beyond its circle
# depth = "8 ft"
# beyond = "10 ft"
# source = "{_SOURCE}"
"""

_FLOATS = """\
# One row per float. Needed: float_id and lon and lat and length and width. The rest may stay blank.
# Phones show latitude first. To paste it that way write lat before lon in the header.
# position_of says what was fixed: primary (blank means this) or secondary or float.
# position_error_ft: how good that position is as a standard uncertainty. Blank: as field.toml says.
# status is set (blank means this) or proposed or retired. bearing_deg: from primary to secondary.
# depth is that at the primary. With soundings it may stay blank. Metres: write length_m and so on.
# Two rows as examples. Lines that begin with # are not read.
# 1,%(here)s,primary,set,10,8,12,16,12,5,3,70,sand,A. Member,4
# 2,%(there)s,,proposed,10,10,,,,,,,,,
float_id,lon,lat,position_of,status,length_ft,width_ft,depth_ft,riser_length_ft,ground_length_ft,\
primary_blocks,secondary_blocks,bearing_deg,bottom,owner,lot
"""

# no comma, semicolon or quote in the comments of a table: a spreadsheet would put them in quotes,
# and a quoted line would be taken for the header
_ZONES = """\
# One corner a row in walking order. The first corner is not repeated.
# kind: swim_area or channel or frontage or intake or hazard or no_float or ramp or dock
# kind and shape and what follows stand on the first row of each zone only.
# shape: area or line. A line is the middle of a channel and needs its whole width.
# A frontage needs its lot. Lines that begin with # are not read: an area and a line as examples.
# Beach,%(here)s,swim_area,area,,
# Beach,%(there)s,,,,
# Beach,%(third)s,,,,
# Boat way,%(here)s,channel,line,60,
# Boat way,%(third)s,,,,
zone,lon,lat,kind,shape,width_ft,lot
"""

_SOUNDINGS = """\
# One sounding a row: where and how deep. Lines that begin with # are not read.
# level is the gauge at that time. Leave it blank where it stood as field.toml says.
# 2025-06-12,%(here)s,11.5,
date,lon,lat,depth_ft,level_ft
"""

_LAKE_ABOUT = {
    "empty": """\
# The shore at normal level: one corner a row in walking order. Twenty corners make a good start.
# The first corner is not repeated. An island: its corners with its name under island.
# part tells two basins apart. Leave it blank for one. Lines that begin with # are not read. So:
# %(here)s,,,
""",
    "rough": """\
# A rough square stands here in place of the shore. Write the real corners over it.
# One corner a row in walking order. Twenty corners make a good start. Then empty the notes.
# An island: its corners with its name under island. Lines that begin with # are not read.
""",
    "read": """\
# The shore as it was read from the outline that was given. One corner a row in walking order.
# Lines that begin with # are not read.
""",
}


def rough_square(lat: float, lon: float, size_m: float) -> LakeShape:
    """Return a square that stands in for a lake until its shore is drawn.

    Parameters
    ----------
    lat, lon : float
        Its middle, WGS 84 degrees.
    size_m : float
        Length of a side [m].

    Returns
    -------
    LakeShape
        Marked as rough.

    Raises
    ------
    BadInputError
        If the size or the place makes no lake.
    """
    if not 0 < size_m <= _MOST_M:
        text = f"{size_m:g} m is no size of a lake; write above 0 and at most {_MOST_M:g} m"
        raise BadInputError([Problem(code="bad_size", text=text)])
    half = size_m / 2
    x, y = np.array([-half, half, half, -half]), np.array([-half, -half, half, half])
    off = Problem(code="off_map", text=f"a lake at {lat:g}, {lon:g} reaches beyond the map's edge")
    if not (abs(lat) < 90 and abs(lon) <= 180):  # noqa: PLR2004 - degrees
        raise BadInputError([off])
    corners = np.column_stack(LakeProjection(lon0=lon, lat0=lat).to_lonlat(x, y))
    if np.ptp(corners[:, 0]) > 90 or not np.isfinite(corners).all():  # noqa: PLR2004 - past 180
        raise BadInputError([off])
    return LakeShape(
        outline=shapely.multipolygons([shapely.Polygon(corners)]), island_names=(), rough=True
    )


def start_texts(name: str, *, lake: LakeShape | None = None) -> dict[str, str]:
    """Return the files of a new field folder.

    Parameters
    ----------
    name : str
        Of the field.
    lake : LakeShape or None
        Its outline; None: to be typed in.

    Returns
    -------
    dict of str to str
        Text by file name; the settings come first.
    """
    shown = "".join(sign if sign.isprintable() else " " for sign in name)
    at = _examples(lake)
    return {
        "field.toml": _FIELD % {"name": json.dumps(shown, ensure_ascii=False)},
        "lake.csv": _lake_text(lake, at),
        "floats.csv": _FLOATS % at,
        "zones.csv": _ZONES % at,
        "soundings.csv": _SOUNDINGS % at,
    }


def _examples(lake: LakeShape | None) -> dict[str, str]:
    """Three places near each other, at the lake where one is known."""
    lon, lat = _EXAMPLE_PLACE
    if lake is not None:
        lon, lat = shapely.get_coordinates(shapely.point_on_surface(lake.outline))[0].tolist()
    step = 0.0004  # some 40 m
    places = {"here": (lon, lat), "there": (lon + step, lat), "third": (lon + step, lat + step)}
    return {key: f"{x:.7f},{y:.7f}" for key, (x, y) in places.items()}


def _lake_text(lake: LakeShape | None, at: dict[str, str]) -> str:
    if lake is None:
        return _LAKE_ABOUT["empty"] % at + ",".join(_LAKE_COLUMNS) + "\n"
    text = io.StringIO()
    text.write(_LAKE_ABOUT["rough" if lake.rough else "read"])
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(_LAKE_COLUMNS)
    note = ROUGH_NOTE if lake.rough else ""
    for part, island, ring in _rings(lake):
        for lon, lat in shapely.get_coordinates(ring)[:-1].tolist():
            writer.writerow((f"{lon:.8f}", f"{lat:.8f}", part, island, note))
    return text.getvalue()


def _rings(lake: LakeShape) -> Iterator[tuple[str, str, Geometry]]:
    """Outlines with their islands: part, island, ring."""
    parts = shapely.get_parts(lake.outline).tolist()
    names = iter(_island_names(lake.island_names))
    for number, polygon in enumerate(parts, start=1):
        part = str(number) if len(parts) > 1 else ""
        yield part, "", polygon.exterior
        for ring in polygon.interiors:
            yield part, next(names), ring


def _island_names(given: tuple[str | None, ...]) -> list[str]:
    """A name for each island; corners of one name make one ring, so none stands twice."""
    names: list[str] = []
    for number, name in enumerate(given, start=1):
        own = name if name and name not in names else f"island {number}"
        names.append(own if own not in names else f"island {number} ({number})")
    return names


def start_folder(
    folder: str | PathLike[str],
    *,
    lake_file: str | PathLike[str] | None = None,
    at: tuple[float, float] | None = None,
    size_m: float | None = None,
    log: ProblemLog | None = None,
) -> list[Path]:
    """Make a new field folder with files to fill in.

    Parameters
    ----------
    folder : str or path
        Must not exist yet, or be empty.
    lake_file : str or path, optional
        An outline in any format that is read as a lake.
    at : tuple of float, optional
        Latitude and longitude of the middle of a rough square, with `size_m`.
    size_m : float, optional
        Side of that square [m].
    log : ProblemLog, optional
        Gains the cautions about the outline.

    Returns
    -------
    list of Path
        The files written.

    Raises
    ------
    BadInputError
        If the folder holds something, or the outline can't be used; then nothing is written.
    """
    target = Path(folder)
    refusal = _refusal(target)
    told = ProblemLog() if log is None else log
    if refusal is not None:
        told.add(Problem(code="folder_taken", text=refusal, file=str(target)))
    lake = _lake_of(lake_file, at, size_m, told)
    told.raise_if_fatal()
    return _write_folder(target, start_texts(target.resolve().name or "lake", lake=lake))


def _refusal(target: Path) -> str | None:
    """Why a folder can't be made there."""
    if target.is_dir():
        held = sorted(path.name for path in target.iterdir())
        if not held:
            return None
        return f"the folder holds {held[0]} already; nothing was written: name a new folder"
    if target.exists():
        return "this is a file; nothing was written: name a new folder"
    return None


def _lake_of(
    lake_file: str | PathLike[str] | None,
    at: tuple[float, float] | None,
    size_m: float | None,
    log: ProblemLog,
) -> LakeShape | None:
    """The outline in one of the three ways; None: none was given, or a problem was told."""
    if lake_file is not None and at is not None:
        log.add(Problem(code="two_ways", text="give an outline or a place, not both"))
        return None
    if (at is None) != (size_m is None):
        log.add(Problem(code="half_a_way", text="give the place and the size together"))
        return None
    if at is not None and size_m is not None:
        try:
            return rough_square(*at, size_m)
        except BadInputError as error:
            for problem in error.problems:
                log.add(problem)
            return None
    if lake_file is None:
        return None
    table = read_layer(Path(lake_file), log)
    return None if table is None else read_lake(table, log, crs="EPSG:4326")


def _write_folder(target: Path, texts: dict[str, str]) -> list[Path]:
    """Write all files, or none."""
    target.parent.mkdir(parents=True, exist_ok=True)
    made = Path(tempfile.mkdtemp(dir=target.resolve().parent, prefix=".lakemap-start-"))
    try:
        for name, text in texts.items():
            with (made / name).open("w", encoding="utf-8", newline="\n") as file:
                file.write(text)
                file.flush()
                os.fsync(file.fileno())
        if target.is_dir():  # empty, and perhaps where somebody's shell stands: fill it
            for name in texts:
                (made / name).replace(target / name)
        else:
            made.chmod(0o755)  # a temporary folder is private, a field is to be shared
            made.rename(target)
    finally:
        shutil.rmtree(made, ignore_errors=True)
    return [target / name for name in texts]
