"""`make_field`: a new field from a drawing, all its files or none."""

import contextlib
import json
import os
import re
import shutil
import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from os import PathLike
from pathlib import Path
from typing import Final

import shapely

from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.quantities import UNITS
from lakemap.basis.records import Geometry, Levels, Units
from lakemap.inputs.folder import STEMS
from lakemap.inputs.lake_shape import LakeShape
from lakemap.inputs.layers import TABLES, VECTORS
from lakemap.inputs.scaffold import start_texts
from lakemap.inputs.settings import GUESSED_LEVELS
from lakemap.saving.atomic import sync_folder
from lakemap.saving.cells import cell_of, plain
from lakemap.saving.folder_check import problems_in
from lakemap.saving.lake import lake_text
from lakemap.saving.layer_settings import LayerSettings
from lakemap.saving.locks import saving_lock
from lakemap.saving.outlines import drawn_area
from lakemap.saving.records import NewSounding, Stamp, ZoneChange
from lakemap.saving.soundings import soundings_text
from lakemap.saving.stamps import FolderState, stamp_of
from lakemap.saving.zones import planned_zones, zones_text

_OURS: Final = ("lake", "zones", "soundings", "floats")
# what `start` shows as examples, in feet
_IN_FEET: Final = (
    ("12,16,12,5,3", "3.5,5,3.5,5,3"),
    ("set,10,8,", "set,3,2.5,"),
    ("proposed,10,10,", "proposed,3,3,"),
    ("Metres: write length_m and so on.", "Feet: write length_ft and so on."),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A field that was drawn from nothing."""

    name: str
    units: Units
    lake: Geometry  # shapely, lon, lat; holes are islands
    island_names: Sequence[str | None] = ()  # polygons in order, holes in order
    levels: Levels | None = None  # None: guesses, marked as such
    storm_m_s: Mapping[str, float] | None = None  # wind, gust; what is missing is an example
    zones: Sequence[ZoneChange] = ()  # new ones
    soundings: Sequence[NewSounding] = ()


def make_field(folder: str | PathLike[str], drawing: Drawing) -> Stamp:
    """Write a new field: field.toml, lake, zones, soundings and a floats.csv without a float.

    Parameters
    ----------
    folder : str or path
        Where; it is made if it is not there, and may hold files of other kinds.
    drawing : Drawing
        What was drawn.

    Returns
    -------
    Stamp
        Of the folder as it is now.

    Raises
    ------
    BadInputError
        If the folder holds a file of a field already, or what was drawn can't be read as a field;
        then nothing was written.
    """
    target = Path(folder)
    texts = {name: text.encode("utf-8") for name, text in _texts(drawing).items()}
    _refuse_unreadable(target, texts)
    try:
        target.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise _no(target.name, f"the folder can't be made: {error.strerror}") from None
    with saving_lock(target):
        _refuse_taken(target, texts)
        _put_all(target, texts)
    return stamp_of(target)


def _no(name: str, text: str, code: str = "not_written") -> BadInputError:
    return BadInputError([Problem(code=code, text=f"{text}; nothing was written", file=name)])


def _texts(drawing: Drawing) -> dict[str, str]:
    """All files, the settings last: a folder without them is no field yet."""
    lake = drawn_area(drawing.lake, "the lake", "lake")
    count = sum(len(part.interiors) for part in shapely.get_parts(lake))
    names = (*drawing.island_names, *(None,) * count)[:count]
    start = start_texts(drawing.name, lake=LakeShape(outline=lake, island_names=names, rough=False))
    zones = planned_zones((), drawing.zones)
    shore = {"lake.geojson": lake_text(lake, name=drawing.name or None)}
    if any(names):  # a table of corners keeps them
        shore = {"lake.csv": start["lake.csv"]}
    return {
        **shore,
        "zones.geojson": zones_text(zones, LayerSettings(units=drawing.units)),
        "soundings.csv": soundings_text(drawing.soundings, units=drawing.units),
        "floats.csv": _floats(start["floats.csv"], drawing.units),
        "field.toml": _settings(start["field.toml"], drawing),
    }


def _floats(text: str, units: Units) -> str:
    """Return the header that `start` writes, in the field's units."""
    if units == "ft-lb":
        return text
    for feet, metres in _IN_FEET:
        text = text.replace(feet, metres)
    *comments, header = text.splitlines(keepends=True)
    return "".join([*comments, header.replace("_ft", "_m")])


def _settings(text: str, drawing: Drawing) -> str:
    """Return the settings that `start` writes, with the units and levels of the drawing."""
    if drawing.units == "m-kg":
        feet = 'units = "ft-lb"      # what people see; or "m-kg"'
        text = text.replace(feet, 'units = "m-kg"       # what people see; or "ft-lb"')
    storm = drawing.storm_m_s or {}
    for key, metres_per_second in storm.items():
        text = _with_speed(text, key, metres_per_second, drawing.units)
    if "wind" in storm and "gust" not in storm:  # the example's gust may lie below it
        text = re.sub(r"(?m)^gust = .*\n", "", text, count=1)
    levels = drawing.levels
    if levels is None:
        return text
    heights = {"low": levels.low_m, "normal": levels.normal_m, "high": levels.high_m}
    if levels.soundings_m != levels.normal_m:
        heights["soundings"] = levels.soundings_m
    return text.replace(GUESSED_LEVELS, "".join(_level(heights, drawing.units)))


def _with_speed(text: str, key: str, metres_per_second: float, units: Units) -> str:
    """Return the settings with one speed of the storm; what stands there is for an example."""
    unit = "mph" if units == "ft-lb" else "m/s"
    value = plain(metres_per_second / UNITS["speed"][unit])
    return re.sub(rf'(?m)^{key} = "[^"]*"', f'{key} = "{value} {unit}"', text, count=1)


def _level(heights: Mapping[str, float], units: Units) -> list[str]:
    unit = "ft" if units == "ft-lb" else "m"
    lines = []
    for name, metres in heights.items():
        column = f"level_{unit}"
        cell = cell_of(metres, column, base="level", dimension="length", units=units)
        lines.append(f"{name} = {json.dumps(f'{cell.text} {unit}')}\n")
    return lines


def _refuse_unreadable(target: Path, texts: Mapping[str, bytes]) -> None:
    problems = problems_in(FolderState(folder=target.absolute(), files=texts))
    if problems:
        text = "what was drawn can't be read as a field; nothing was written"
        raise BadInputError([*problems, Problem(code="not_written", text=text)])


def _refuse_taken(target: Path, texts: Mapping[str, bytes]) -> None:
    """A file of the field that is there already is refused, unless it is word for word the same.

    Word for word the same is what an earlier run left that was killed.
    """
    taken = []
    for path in sorted(target.iterdir()):
        stem, ending = path.stem.lower(), path.suffix.lower()
        one_of = stem in STEMS and stem in _OURS and ending in TABLES + VECTORS
        if not one_of and path.name != "field.toml":
            continue
        same = path.is_file() and not path.is_symlink() and path.name in texts
        if not same or path.read_bytes() != texts[path.name]:
            taken.append(path.name)
    if taken:
        text = (
            f"the folder holds {' and '.join(taken)} already; name a new folder, or open this one"
        )
        raise _no(target.name, text, "folder_taken")


def _put_all(target: Path, texts: Mapping[str, bytes]) -> None:
    """Write all files beside the folder's own, then give them their names; none is written over."""
    made = Path(tempfile.mkdtemp(dir=target, prefix=".lakemap-new-"))
    placed: list[Path] = []
    try:
        for name, data in texts.items():
            with (made / name).open("wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
        for name in texts:
            if not (target / name).exists():
                _place(made / name, target / name)
                placed.append(target / name)
    except OSError as error:
        for path in placed:
            with contextlib.suppress(OSError):
                path.unlink()
        raise _no(target.name, f"the files can't be written: {error.strerror}") from None
    finally:
        shutil.rmtree(made, ignore_errors=True)
    sync_folder(target)


def _place(source: Path, target: Path) -> None:
    """Give a file its name, where nothing has it."""
    source.chmod(0o644)
    try:
        os.link(source, target)  # fails where something stands, which a move would not
    except (OSError, NotImplementedError):
        if target.exists() or target.is_symlink():
            raise
        source.rename(target)  # a disk without links
