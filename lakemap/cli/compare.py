"""`lakemap compare`: two versions of a field, what moved, and what that did."""

import argparse
import json
import sys
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from lakemap.basis.errors import BadInputError, Problem
from lakemap.cli.out_files import file_problems
from lakemap.cli.terminal import Progress, say
from lakemap.comparing import compare
from lakemap.inputs.folder import read_field
from lakemap.mapping import Assessment, assess
from lakemap.outputs.compare.document import compare_document
from lakemap.outputs.compare.table import compare_table, new_notes

_ENDINGS = (".html", ".htm")


def run_compare(asked: argparse.Namespace) -> int:
    """Tell what changed from one folder to another."""
    out = None if asked.out is None else _map_path(asked.out)
    old, new = _assess_both(asked.old, asked.new)

    comparison = compare(old, new, owners=asked.owners)
    if out is not None:
        from lakemap.outputs.web.page import draw  # noqa: PLC0415 - folium is slow to import

        draw(new, out, owners=asked.owners, compared=comparison)
    if asked.json:
        document = compare_document(comparison)
        say(json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False))
        for text in new_notes(comparison):
            say(f"note: {text}", sys.stderr)
    else:
        say(compare_table(comparison, names=_names(asked, old, new)))
    if out is not None:
        say(f"map: {out}", sys.stderr if asked.json else None)
    return 0


def _map_path(given: str) -> Path:
    """Where the map goes; told before anything is read."""
    out = Path(given)
    problems = file_problems(out, endings=_ENDINGS, named=".html")
    if problems:
        raise BadInputError(problems)
    return out


def _assess_both(old: str, new: str) -> tuple[Assessment, Assessment]:
    """Read and assess two folders; the problems of both are told at once."""
    tell = Progress()
    found: dict[Path, Assessment] = {}
    problems: list[Problem] = []
    try:
        for folder in dict.fromkeys((old, new)):
            if Path(folder).resolve() in found:
                continue
            try:
                tell(f"reading {folder}")
                found[Path(folder).resolve()] = assess(read_field(folder), tell=tell)
            except BadInputError as error:
                problems += _named(error.problems, folder)
    finally:
        tell.done()
    if problems:
        raise BadInputError(problems)
    return found[Path(old).resolve()], found[Path(new).resolve()]


def _named(problems: Sequence[Problem], folder: str) -> Iterator[Problem]:
    """The same with the folder before the file's name, since both have files of that name."""
    for one in problems:
        if one.code == "no_folder":  # names it already
            yield one
        else:
            yield replace(one, file=folder if one.file is None else str(Path(folder, one.file)))


def _names(asked: argparse.Namespace, old: Assessment, new: Assessment) -> tuple[str, str]:
    """What the versions are called: their folders' names, or what was typed where these agree."""
    names = old.field.folder, new.field.folder
    return names if names[0] != names[1] else (asked.old, asked.new)
