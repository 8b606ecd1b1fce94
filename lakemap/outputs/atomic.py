"""Files written whole or not at all."""

import os
import tempfile
from pathlib import Path


def write_atomic(path: Path, text: str) -> None:
    """Write a text file so that nobody ever sees half of it.

    A temporary file in the same folder is written, flushed to the disk and put in the place of the
    old one; if anything fails the old one stays.

    Parameters
    ----------
    path : Path
        Where it is to stand; the folder must exist.
    text : str
        UTF-8, line ends as they are.

    Raises
    ------
    OSError
        If it can't be written.
    """
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".part")
    temporary = Path(name)
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        temporary.chmod(0o644)  # a temporary file is private, a map is to be shared
        temporary.replace(path)
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise
    _sync_folder(path.parent)


def _sync_folder(folder: Path) -> None:
    """Let the folder's new entry reach the disk too, where the system can."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
