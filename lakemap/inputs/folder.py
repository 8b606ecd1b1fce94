"""`read_field`: a folder of files as one frozen record, or every problem in it."""

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from difflib import get_close_matches
from os import PathLike
from pathlib import Path
from types import MappingProxyType
from typing import Any

from lakemap.basis.errors import BadInputError, Problem, ProblemLog
from lakemap.basis.records import Field, Geometry, Settings, Soundings, Zone
from lakemap.inputs.cells import RawTable, Sheet
from lakemap.inputs.floats import read_floats
from lakemap.inputs.lake_shape import LakeShape, read_lake
from lakemap.inputs.layers import TABLES, VECTORS, read_layer
from lakemap.inputs.settings import read_settings
from lakemap.inputs.side_tables import (
    read_fixes,
    read_gauge,
    read_inspections,
    read_prices,
    read_wind,
)
from lakemap.inputs.soundings import read_soundings
from lakemap.inputs.zones import read_zones

STEMS = (
    "lake", "soundings", "zones", "floats", "inspections", "fixes", "levels", "prices", "wind",
)  # fmt: skip
_NEEDED = ("lake", "floats")
_SETTINGS = "field.toml"
_SIDE: Mapping[str, Callable[..., tuple[Mapping[str, Any], ...]]] = MappingProxyType(
    {
        "inspections": read_inspections,
        "fixes": read_fixes,
        "levels": read_gauge,
        "prices": read_prices,
        "wind": read_wind,
    }
)


def read_field(folder: str | PathLike[str]) -> Field:
    """Read a field folder.

    Parameters
    ----------
    folder : str or path
        Holds field.toml, the lake and the floats, and what else there is.

    Returns
    -------
    Field
        Frozen; its `problems` are cautions only.

    Raises
    ------
    BadInputError
        If anything is wrong: every problem of all files at once.
    """
    path = Path(folder)
    log = ProblemLog()
    if not path.is_dir():
        what = "is a file; name its folder" if path.exists() else "is not there"
        text = f"the folder {what}; `lakemap start {path}` makes a new one"
        raise BadInputError([Problem(code="no_folder", text=text, file=str(path))])
    found = _find_files(path, log)
    settings = _read_settings(path, log)
    tables = {stem: read_layer(file, log) for stem, file in found.items()}
    crs = settings.crs if settings is not None else "EPSG:4326"
    lake = _lake(tables, log, crs)
    outline: Geometry = None if lake is None else lake.outline
    levels = None if settings is None else settings.levels
    zones, soundings = _zones(tables, log, crs), None
    if (raw := tables.get("soundings")) is not None:
        soundings = read_soundings(raw, log, crs=crs, levels=levels, lake=outline)
    raw_floats = tables.get("floats")
    floats = () if raw_floats is None else read_floats(raw_floats, log, crs=crs, lake=outline)
    side = {
        stem: () if (raw := tables.get(stem)) is None else read(raw, log, crs=crs)
        for stem, read in _SIDE.items()
    }
    _tell_wind(settings, side["wind"], log)
    log.raise_if_fatal()
    if settings is None or lake is None or raw_floats is None:
        raise AssertionError("a missing part is a fatal problem")  # pragma: no cover
    return Field(
        folder=path.resolve().name,
        settings=settings,
        lake=lake.outline,
        island_names=lake.island_names,
        floats=floats,
        floats_file=raw_floats.file,
        zones=zones,
        soundings=soundings,
        inspections=side["inspections"],
        fixes=side["fixes"],
        gauge=side["levels"],
        prices=side["prices"],
        wind=side["wind"],
        dated=_latest(tables),
        soundings_dated=_latest({"soundings": tables.get("soundings")}),
        lake_is_rough=lake.rough,
        problems=tuple(log),
    )


def _find_files(folder: Path, log: ProblemLog) -> dict[str, Path]:
    """One file per stem; a second one, and what is missing, is told."""
    files = [
        path
        for path in sorted(folder.iterdir())
        if path.is_file() and path.suffix.lower() in TABLES + VECTORS
    ]
    found: dict[str, Path] = {}
    for stem in STEMS:
        same = [path for path in files if path.stem.lower() == stem]
        if len(same) > 1:
            names = " and ".join(path.name for path in same)
            text = f"{names} are both the {stem}; keep one and take the other away"
            log.add(Problem(code="file_doubled", text=text, file=same[0].name))
        elif same:
            found[stem] = same[0]
        elif stem in _NEEDED:
            log.add(_missing(stem, folder, files))
    _tell_unused(folder, files, log)
    return found


def _tell_wind(settings: Settings | None, rows: Sequence[object], log: ProblemLog) -> None:
    """A return period needs a record of wind to reckon it from."""
    if settings is None or settings.storm.return_period_years is None or rows:
        return
    text = "needs a wind file (time, speed, from_deg) beside it; or give wind and gust instead"
    log.add(
        Problem(code="no_wind_file", text=text, file="field.toml", column="storm.return_period")
    )


def _missing(stem: str, folder: Path, files: list[Path]) -> Problem:
    what = {
        "lake": "the outline of the lake",
        "floats": "one row per float (a header alone is a lake without floats)",
    }[stem]
    near = get_close_matches(stem, [path.stem.lower() for path in files], n=1)
    hint = f"; {near[0]!r} is near, but not the name" if near else ""
    text = f"no {stem} file in {folder}; add {stem}.csv or {stem}.geojson with {what}{hint}"
    return Problem(code="file_missing", text=text, file=stem)


def _tell_unused(folder: Path, files: list[Path], log: ProblemLog) -> None:
    """A file whose name is nearly one of ours is likely meant to be it."""
    for path in files:
        stem = path.stem.lower()
        near = get_close_matches(stem, STEMS, n=1, cutoff=0.8)
        if stem not in STEMS and near and not any(f.stem.lower() == near[0] for f in files):
            text = f"not used; if it holds the {near[0]}, name it {near[0]}{path.suffix}"
            log.add(Problem(code="file_not_used", text=text, file=path.name, fatal=False))
    old = [
        path.name for path in sorted(folder.iterdir()) if path.suffix.lower() in {".xls", ".ods"}
    ]
    for name in old:
        text = "not read; save it as XLSX or CSV UTF-8"
        log.add(Problem(code="file_not_used", text=text, file=name, fatal=False))


def _read_settings(folder: Path, log: ProblemLog) -> Settings | None:
    path = folder / _SETTINGS
    if not path.is_file():
        text = f"no {_SETTINGS} in {folder}; it needs [levels] with low, normal and high at least"
        log.add(Problem(code="file_missing", text=text, file=_SETTINGS))
        return None
    return read_settings(path, log, folder_name=folder.resolve().name)


def _lake(tables: Mapping[str, RawTable | None], log: ProblemLog, crs: str) -> LakeShape | None:
    raw = tables.get("lake")
    return None if raw is None else read_lake(raw, log, crs=crs)


def _zones(tables: Mapping[str, RawTable | None], log: ProblemLog, crs: str) -> tuple[Zone, ...]:
    raw = tables.get("zones")
    return () if raw is None else read_zones(raw, log, crs=crs)


def _latest(tables: Mapping[str, RawTable | None]) -> date | None:
    """The latest date in any cell."""
    found = [
        day
        for raw in tables.values()
        if raw is not None and (day := Sheet(raw, {}, ProblemLog()).latest_date()) is not None
    ]
    return max(found, default=None)


__all__ = ["STEMS", "Soundings", "read_field"]
