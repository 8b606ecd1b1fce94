"""`lakemap export`: a field as one file for other programs."""

import argparse
from pathlib import Path

from lakemap.basis.errors import BadInputError, Problem
from lakemap.cli.out_files import file_problems
from lakemap.cli.terminal import Progress, say
from lakemap.inputs.folder import STEMS, read_field
from lakemap.mapping import assess


def run_export(asked: argparse.Namespace) -> int:
    """Write the file that was asked for, and say what is in it."""
    from lakemap.exporting.export import export  # noqa: PLC0415 - only here

    out = _file(asked.to, folder=asked.folder)
    tell = Progress()
    try:
        tell("reading")
        assessment = assess(read_field(asked.folder), tell=tell)
        tell("writing")
        exported = export(assessment, out, owners=asked.owners)
    finally:
        tell.done()
    held = ", ".join(f"{name} {count:,}" for name, count in exported.counts.items())
    say(f"written: {out} ({held})")
    for note in exported.notes:
        say(note)
    return 0


def _file(given: str, *, folder: str) -> Path:
    """Where it goes; what is wrong with that is told before anything is read."""
    from lakemap.exporting.export import FORMATS  # noqa: PLC0415 - only here

    out, names = Path(given), list(FORMATS)
    named = f"{', '.join(names[:-1])} or {names[-1]}"
    problems = file_problems(out, endings=FORMATS, named=named, option="--to")
    if out.parent.resolve() == Path(folder).resolve() and out.stem.lower() in STEMS:
        text = f"{out.name} would stand among the field's own files; write it elsewhere"
        problems.append(Problem(code="bad_option", text=text, column="--to"))
    if problems:
        raise BadInputError(problems)
    return out
