"""Where a file of a field may be written: never outside its folder, never under a spreadsheet."""

import os
import stat
from pathlib import Path

from lakemap.basis.errors import BadInputError, Problem


def place_of(folder: Path, name: str) -> Path:
    """Return where a file of the folder is to be written, past links within the folder.

    Parameters
    ----------
    folder : Path
        Of the field.
    name : str
        Of the file; it need not be there yet.

    Returns
    -------
    Path
        Within the folder.

    Raises
    ------
    BadInputError
        If it is a link that leads out of the folder, is open in a spreadsheet, or can't be written.
    """
    root = folder.resolve()
    link = root / name
    real = link.resolve()
    why = None
    if not real.is_relative_to(root):
        why = (
            f"this is a link to a file outside the folder ({real}), which is left alone; put the"
            " file itself here"
        )
        raise _held(name, "link_outside", why)
    lock = next(
        (path for at in (link, real) for path in spreadsheet_locks(at) if path.exists()), None
    )
    if lock is not None:
        why = f"the file is open in a spreadsheet ({lock.name} stands beside it); close it"
    elif real.exists() and not real.is_file():
        why = "this is no file; take it away"
    elif (real.exists() and not os.access(real, os.W_OK)) or not os.access(real.parent, os.W_OK):
        why = "the file can't be written; close it in the other program or allow writing to it"
    if why is not None:
        raise _held(name, "file_held", f"{why}, then try again")
    return real


def _held(name: str, code: str, text: str) -> BadInputError:
    return BadInputError([Problem(code=code, text=f"{text}; nothing was written", file=name)])


def spreadsheet_locks(path: Path) -> tuple[Path, ...]:
    """Return the files that spreadsheets put beside one that they have open."""
    return path.with_name(f".~lock.{path.name}#"), path.with_name(f"~${path.name}")


def mode_of(path: Path) -> int:
    """Return who may read and write a file; what a new one gets where there is none."""
    return stat.S_IMODE(path.stat().st_mode) if path.exists() else 0o644
