"""`draw`, `check` and `size`: read, call the front door, write or print, return the exit code."""

import argparse
import json
import sys
from pathlib import Path

from lakemap.basis.errors import BadInputError, Problem
from lakemap.cli.out_files import file_problems
from lakemap.cli.picture import PICTURES, out_problems, write_picture
from lakemap.cli.terminal import Progress, say
from lakemap.inputs.folder import read_field
from lakemap.mapping import Assessment, assess


def _assess(folder: str) -> Assessment:
    """Read and assess one field, with progress on a terminal."""
    tell = Progress()
    try:
        tell("reading")
        field = read_field(folder)
        return assess(field, tell=tell)
    finally:
        tell.done()


def _print_document(assessment: Assessment) -> None:
    from lakemap.outputs.tables.document import document  # noqa: PLC0415 - only with --json

    say(json.dumps(document(assessment), indent=2, ensure_ascii=False, allow_nan=False))


def _tell_cautions(assessment: Assessment) -> None:
    """With --json the words for people go to standard error."""
    for problem in assessment.problems:
        say(f"note: {problem.line()}", sys.stderr)


def run_draw(asked: argparse.Namespace) -> int:
    """Write the map, or a picture on paper, and print a summary."""
    problems = out_problems(asked)
    if problems:
        raise BadInputError(problems)
    from lakemap.outputs.tables.check_table import summary_table  # noqa: PLC0415
    from lakemap.outputs.web.page import draw  # noqa: PLC0415 - folium is slow to import

    assessment = _assess(asked.folder)
    out = Path(asked.out) if asked.out else Path("maps") / f"{assessment.field.folder}.html"
    if asked.out is None:
        out.parent.mkdir(exist_ok=True)
    written = [f"map: {out}"]
    if out.suffix.lower() in PICTURES:
        written = write_picture(assessment, asked, out)
    else:
        draw(assessment, out, owners=asked.owners)
    say("\n".join([summary_table(assessment), *written]))
    return 0


def run_check(asked: argparse.Namespace) -> int:
    """Print the clearances; 1 if something is in conflict."""
    assessment = _assess(asked.folder)
    if asked.json and not asked.ways_out:
        _print_document(assessment)
        _tell_cautions(assessment)
    elif not asked.json:
        from lakemap.outputs.tables.check_table import check_table  # noqa: PLC0415 - not with --json

        say(check_table(assessment, colour=sys.stdout.isatty()))
    if asked.ways_out:
        _say_ways_out(assessment, as_json=asked.json)
    return int(any(float_.verdict == "conflict" for float_ in assessment.floats))


def _say_ways_out(assessment: Assessment, *, as_json: bool) -> None:
    """Print the least changes that end each conflict."""
    from lakemap.outputs.tables.ways_out_table import (  # noqa: PLC0415 - only with --ways-out
        ways_out_document,
        ways_out_text,
    )
    from lakemap.ways_out import ways_out  # noqa: PLC0415 - the same

    tell = Progress()
    try:
        found = ways_out(assessment, tell=tell)
    finally:
        tell.done()
    if as_json:
        document = ways_out_document(found, assessment)
        say(json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False))
        _tell_cautions(assessment)
    else:
        say(f"\n{ways_out_text(found, assessment)}")


def run_size(asked: argparse.Namespace) -> int:
    """Print each rig's sizing, its working, or write its pictures."""
    out = None if asked.out is None else _picture_path(asked)
    assessment = _assess(asked.folder)
    if asked.float_id is not None:
        assessment = assessment.only(asked.float_id)
    if out is not None:
        from lakemap.outputs.atomic import write_atomic  # noqa: PLC0415 - only with --out
        from lakemap.outputs.web.size_sheet import size_sheet_svg  # noqa: PLC0415

        write_atomic(out, size_sheet_svg(assessment.floats[0], assessment))
    if asked.json:
        _print_document(assessment)
        _tell_cautions(assessment)
    elif asked.working:
        from lakemap.outputs.words.working_lines import working_text  # noqa: PLC0415 - not with --json

        say("\n\n\n".join(working_text(one, assessment) for one in assessment.floats))
    else:
        from lakemap.outputs.tables.size_table import size_table  # noqa: PLC0415 - not with --json

        say(size_table(assessment, colour=sys.stdout.isatty()))
    if out is not None:
        say(f"picture: {out}", sys.stderr if asked.json else None)
    return 0


def _picture_path(asked: argparse.Namespace) -> Path:
    """Where the picture of one float goes; told before anything is read."""
    problems, out = [], Path(asked.out)
    if asked.float_id is None:
        text = "one picture shows one float; say which, as --float 15"
        problems.append(Problem(code="bad_option", text=text, column="--out"))
    problems += file_problems(out, endings=(".svg",), named=".svg")
    if problems:
        raise BadInputError(problems)
    return out
