"""`lakemap export`: a field as one file for other programs."""

import argparse
from pathlib import Path

from lakemap.basis.errors import BadInputError, Problem
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

    problems, out = [], Path(given)
    if not out.parent.is_dir():
        text = f"{out.parent} is no folder; make it first"
        problems.append(Problem(code="no_folder", text=text, column="--to"))
    elif out.is_dir():
        text = f"{out} is a folder; name a file"
        problems.append(Problem(code="bad_option", text=text, column="--to"))
    elif out.parent.resolve() == Path(folder).resolve() and out.stem.lower() in STEMS:
        text = f"{out.name} would stand among the field's own files; write it elsewhere"
        problems.append(Problem(code="bad_option", text=text, column="--to"))
    if out.suffix.lower() not in FORMATS:
        text = f"{out.name!r} must end in {', '.join(list(FORMATS)[:-1])} or {list(FORMATS)[-1]}"
        problems.append(Problem(code="bad_option", text=text, column="--to"))
    if problems:
        raise BadInputError(problems)
    return out
