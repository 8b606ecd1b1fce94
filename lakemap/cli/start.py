"""`lakemap start`: make a new field folder."""

import argparse
from pathlib import Path

from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.quantities import parse_quantity
from lakemap.basis.typed_places import read_position
from lakemap.cli.terminal import say


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
            at = read_position(asked.at)
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
