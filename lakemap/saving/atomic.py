"""Bytes put in a file's place whole or not at all."""

import os
import tempfile
from pathlib import Path


def write_whole(path: Path, data: bytes, *, mode: int = 0o644) -> None:
    """Write a file so that nobody ever sees half of it.

    A temporary file in the same folder is written, flushed to the disk and put in the place of the
    old one; if anything fails the old one stays.

    Parameters
    ----------
    path : Path
        Where it is to stand; the folder must exist. A link there is replaced, not followed.
    data : bytes
        All of it.
    mode : int
        Who may read and write it.

    Raises
    ------
    OSError
        If it can't be written.
    """
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=part_prefix(path.name), suffix=".part")
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        temporary.chmod(mode)  # a temporary file is private
        temporary.replace(path)
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise
    sync_folder(path.parent)


def part_prefix(name: str) -> str:
    """Return how the temporary files of a file's name begin."""
    return f".{name}."


def sync_folder(folder: Path) -> None:
    """Let a folder's new entries reach the disk too, where the system can."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
