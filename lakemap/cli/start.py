"""`lakemap start`: make a new field folder."""

import argparse
import re
from pathlib import Path

from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.quantities import parse_quantity
from lakemap.cli.terminal import say

_PLACE = re.compile(r"\s*([-+−]?\d+(?:\.\d+)?)\s*°?\s*,\s*([-+−]?\d+(?:\.\d+)?)\s*°?\s*")
_NINETY, _HALF_TURN = 90, 180


def read_place(text: str) -> tuple[float, float]:
    """Read LAT,LON as a phone gives it.

    Parameters
    ----------
    text : str
        Such as `44.0123,-72.0456`.

    Returns
    -------
    tuple of float
        Latitude and longitude, WGS 84 degrees.

    Raises
    ------
    ValueError
        If it is no such pair, or out of range; the text says what would be right.
    """
    found = _PLACE.fullmatch(text)
    if found is None:
        raise ValueError(f"{text!r} is no place; write LAT,LON as in 44.0123,-72.0456")
    lat, lon = (float(part.replace("−", "-")) for part in found.groups())
    if abs(lat) > _NINETY and abs(lon) <= _NINETY:
        raise ValueError(f"{text!r} looks swapped; write latitude first, as phones do")
    if abs(lat) > _NINETY or abs(lon) > _HALF_TURN:
        raise ValueError(f"{text!r} is on no map; latitude is -90 to 90, longitude -180 to 180")
    return lat, lon


def run_start(asked: argparse.Namespace) -> int:
    """Make the folder and print the next two commands."""
    from lakemap.inputs.scaffold import start_folder  # noqa: PLC0415 - reads outlines: slow

    problems: list[Problem] = []
    at = size_m = None
    if asked.lake and asked.at:
        problems.append(
            Problem(code="two_ways", text="give --lake or --at, not both", column="--lake")
        )
    if (asked.at is None) != (asked.size is None):
        text = 'give --at and --size together, as in --at 44.0123,-72.0456 --size "600 ft"'
        problems.append(Problem(code="half_a_way", text=text))
    if asked.at is not None:
        try:
            at = read_place(asked.at)
        except ValueError as error:
            problems.append(Problem(code="bad_place", text=str(error), column="--at"))
    if asked.size is not None:
        try:
            size_m = parse_quantity(asked.size, "length")
        except ValueError as error:
            problems.append(Problem(code="bad_size", text=str(error), column="--size"))
    if problems:
        raise BadInputError(problems)
    folder = Path(asked.folder)
    written = start_folder(folder, lake_file=asked.lake, at=at, size_m=size_m)
    say(f"made {folder} with {', '.join(path.name for path in written)}")
    say("Open them in a text editor or a spreadsheet and fill them in; each says how.")
    say(f"then:\n  lakemap check {folder}\n  lakemap draw {folder}")
    return 0
