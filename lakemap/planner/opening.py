"""What a folder is before the planner opens it: a field, or the place for a new one."""

import zlib
from collections.abc import Callable
from pathlib import Path

from lakemap.basis.errors import BadInputError, Problem
from lakemap.inputs.folder import read_field
from lakemap.mapping import assess

_MISSING = "file_missing"
_FIRST_PORT, _PORTS = 49_152, 16_384  # RFC 6335, 6: those that nobody has by name


def has_field(folder: Path, *, tell: Callable[[str], None]) -> bool:
    """Tell whether a folder holds a field, or is the place for a new one.

    Parameters
    ----------
    folder : Path
        May be missing or empty, or lack the lake, the floats or field.toml.
    tell : callable
        Takes what long work is at.

    Returns
    -------
    bool
        False where what is needed is not there yet and nothing else is wrong.

    Raises
    ------
    BadInputError
        If it is no folder and can't become one, or something in it is wrong.
    """
    if not folder.exists():
        _check_parents(folder)
        return False
    try:
        field = read_field(folder)
    except BadInputError as error:
        if all(problem.code == _MISSING for problem in error.problems if problem.fatal):
            return False
        raise
    assess(field, tell=tell)
    return True


def usual_port(folder: Path) -> int:
    """Return the port that a folder's planner has, if nobody else has it.

    Parameters
    ----------
    folder : Path
        Of the field.

    Returns
    -------
    int
        The same for the same folder; from the range of RFC 6335, section 6, that is nobody's.
    """
    return _FIRST_PORT + zlib.crc32(str(folder.resolve()).encode("utf-8", "replace")) % _PORTS


def _check_parents(folder: Path) -> None:
    nearest = next(parent for parent in folder.absolute().parents if parent.exists())
    if not nearest.is_dir():
        text = f"there can be no such folder: {nearest} is a file"
        raise BadInputError([Problem(code="no_folder", text=text, file=str(folder))])
