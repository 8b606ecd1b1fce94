"""What a file is, by what stands in it and not by its ending."""

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal

from lakemap.gathering.columns import find_columns
from lakemap.gathering.lines import byte_lines, refused
from lakemap.gathering.nmea import DEPTHS, SENTENCE, sentences
from lakemap.gathering.records import Kind
from lakemap.gathering.xml_points import gpx_points
from lakemap.inputs.cells import normal_name

Format = Literal["nmea", "gpx", "csv", "xyz", "other"]
_LOOKED_AT: Final = 200  # lines
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
        nmea, gpx, csv, xyz (text of numbers) or other.

    Raises
    ------
    BadInputError
        If it isn't there, is empty, or can't be opened.
    """
    if path.is_dir():
        raise refused(path, "is_folder", "this is a folder; name the files in it")
    head = list(_head(path))
    first = next((line for line in head if not _is_comment(line)), b"")
    if first.lstrip().startswith(b"<"):
        is_gpx = any(b"<gpx" in line.lower() for line in head)
        return "gpx" if is_gpx else "other"
    if any(SENTENCE.search(line) for line in head):
        return "nmea"
    if any(b"\0" in line for line in head) or first.lstrip().startswith((b"{", b"[")):
        return "other"
    parts = first.replace(b",", b" ").replace(b";", b" ").split()
    if len(parts) >= _NUMBERS and all(_is_number(part) for part in parts[:_NUMBERS]):
        return "xyz"
    return "csv" if any(sign in first for sign in (b",", b";", b"\t")) else "other"


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
    if kind == "csv":
        return _table(path)
    if kind == "xyz":
        return Seen(format="xyz", kind="soundings")
    why = "what it holds can't be told; say --as soundings, --as fixes or --as shore"
    return Seen(format=kind, kind=None, why=why)


def _head(path: Path) -> Iterator[bytes]:
    for number, line in enumerate(byte_lines(path)):
        if number >= _LOOKED_AT:
            return
        yield line


def _is_comment(line: bytes) -> bool:
    return not line.strip() or line.lstrip().startswith(b"#")


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


def _table(path: Path) -> Seen:
    line = next((one for one in _head(path) if not _is_comment(one)), b"")
    text = line.decode("utf-8", errors="replace")
    header = next(csv.reader([text], delimiter=max(";\t,", key=text.count)), [])
    if "float_id" in {normal_name(name) for name in header}:
        return Seen(format="csv", kind="fixes")
    try:
        find_columns([name.strip() for name in header])
    except ValueError as error:
        return Seen(format="csv", kind=None, why=f"{error}; or say --as fixes or --as shore")
    return Seen(format="csv", kind="soundings")
