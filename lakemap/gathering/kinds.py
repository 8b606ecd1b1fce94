"""What a file is, by what stands in it and not by its ending."""

import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal

from lakemap.gathering.columns import find_columns
from lakemap.gathering.lines import byte_lines, is_comment, refused
from lakemap.gathering.nmea import DEPTHS, SENTENCE, sentences
from lakemap.gathering.records import Kind
from lakemap.gathering.table_cells import cells_of
from lakemap.gathering.xml_points import gpx_points
from lakemap.inputs.cells import normal_name

Format = Literal["nmea", "gpx", "csv", "xlsx", "xyz", "other"]
SOUNDINGS_COME_AS: Final = (
    "soundings come as NMEA log, GPX with depths, CSV, XLSX, or text of x, y and depth"
)
_LOOKED_AT: Final = 200  # lines
_PACKED: Final = (b"PK\x03\x04", b"PK\x05\x06")
_GZIP: Final = b"\x1f\x8b"
_NUMBERS: Final = 3  # in a row of x, y and depth
_TRACK = (
    "say --as shore if you went round the lake with it, --as fixes if it lay on a float or its"
    " cluster (and --float, which)"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What a file was seen to hold."""

    format: Format
    kind: Kind | None  # None: what stands in it doesn't tell
    why: str = ""  # it doesn't


def format_of(path: Path) -> Format:
    """Recognise the format of a file.

    Parameters
    ----------
    path : Path
        The file.

    Returns
    -------
    str
        nmea, gpx, csv, xlsx, xyz (text of numbers) or other.

    Raises
    ------
    BadInputError
        If it isn't there, is empty or packed, or can't be opened.
    """
    if path.is_dir():
        raise refused(path, "is_folder", "this is a folder; name the files in it")
    head = [line for line in _head(path) if not is_comment(line.decode("latin-1"))]
    if not head:
        raise refused(path, "file_empty", "nothing stands in it but blank lines or comments")
    first = head[0]
    if first.startswith((*_PACKED, _GZIP)):
        return _packed(path)
    if first.lstrip().startswith(b"<"):
        is_gpx = any(b"<gpx" in line.lower() for line in head)
        return "gpx" if is_gpx else "other"
    if any(SENTENCE.search(line) for line in head):
        return "nmea"
    if any(b"\0" in line for line in head) or first.lstrip().startswith((b"{", b"[")):
        return "other"
    if _has_numbers(first):
        return "xyz"
    # names parted by blanks, over rows of numbers, are a table, too
    parted = any(sign in first for sign in (b",", b";", b"\t"))
    return "csv" if parted or any(_has_numbers(line) for line in head[1:2]) else "other"


def kind_of(path: Path) -> Seen:
    """Tell what a file is for.

    Parameters
    ----------
    path : Path
        The file.

    Returns
    -------
    Seen
        With the reason where it can't be told.

    Raises
    ------
    BadInputError
        If it can't be read.
    """
    kind = format_of(path)
    if kind == "nmea":
        return _log(path)
    if kind == "gpx":
        return _points(path)
    if kind in {"csv", "xlsx"}:
        return _table(path, "xlsx" if kind == "xlsx" else "csv")
    if kind == "xyz":
        return Seen(format="xyz", kind="soundings")
    why = (
        f"what it holds can't be told; {SOUNDINGS_COME_AS}; of positions or a shore say --as fixes"
        " or --as shore"
    )
    return Seen(format=kind, kind=None, why=why)


def _head(path: Path) -> Iterator[bytes]:
    for number, line in enumerate(byte_lines(path)):
        if number >= _LOOKED_AT:
            return
        yield line


def _packed(path: Path) -> Format:
    """Tell a workbook, which is packed, from other packed files."""
    try:
        with zipfile.ZipFile(path) as packed:
            is_workbook = "xl/workbook.xml" in packed.namelist()
    except (zipfile.BadZipFile, OSError):
        is_workbook = False
    if is_workbook:
        return "xlsx"
    raise refused(path, "packed", "the file is packed; unpack it, and name the files in it")


def _has_numbers(line: bytes) -> bool:
    parts = line.replace(b",", b" ").replace(b";", b" ").split()
    return len(parts) >= _NUMBERS and all(_is_number(part) for part in parts[:_NUMBERS])


def _is_number(part: bytes) -> bool:
    try:
        float(part)
    except ValueError:
        return False
    return True


def _log(path: Path) -> Seen:
    for line in byte_lines(path):
        if b"$" in line and sentences(line, DEPTHS):
            return Seen(format="nmea", kind="soundings")
    return Seen(format="nmea", kind=None, why=f"the log holds no depths; {_TRACK}")


def _points(path: Path) -> Seen:
    is_there = {"track": False, "route": False, "waypoint": False}
    for point in gpx_points(path):
        if point.depth:
            return Seen(format="gpx", kind="soundings")
        is_there[point.of] = True
    if is_there["waypoint"] and not (is_there["track"] or is_there["route"]):
        return Seen(format="gpx", kind="fixes")
    if not any(is_there.values()):
        return Seen(format="gpx", kind=None, why="it holds no track and no waypoint")
    both = " and waypoints" if is_there["waypoint"] else ""
    return Seen(format="gpx", kind=None, why=f"it holds a track{both} without depths; {_TRACK}")


def _table(path: Path, kind: Literal["csv", "xlsx"]) -> Seen:
    header = cells_of(path, kind).header
    if "float_id" in {normal_name(name) for name in header}:
        return Seen(format=kind, kind="fixes")
    try:
        find_columns(header)
    except ValueError as error:
        return Seen(format=kind, kind=None, why=f"{error}; or say --as fixes or --as shore")
    return Seen(format=kind, kind="soundings")
