"""Where a file that was asked for may go; told before anything is read."""

from collections.abc import Collection
from pathlib import Path

from lakemap.basis.errors import Problem


def file_problems(
    out: Path, *, endings: Collection[str], named: str, option: str = "--out"
) -> list[Problem]:
    """Return what is wrong with a file's place and its ending.

    Parameters
    ----------
    out : Path
        As typed.
    endings : collection of str
        That it may have, in lower case, each with its point.
    named : str
        The endings as a sentence names them.
    option : str
        That it was typed for.

    Returns
    -------
    list of Problem
        Empty where it can be written.
    """
    found = []
    if not out.parent.is_dir():
        text = f"{out.parent} is no folder; make it first"
        found.append(Problem(code="no_folder", text=text, column=option))
    elif out.is_dir():
        text = f"{out} is a folder; name a file"
        found.append(Problem(code="bad_option", text=text, column=option))
    if out.suffix.lower() not in endings:
        text = f"{out.name!r} must end in {named}"
        found.append(Problem(code="bad_option", text=text, column=option))
    return found
