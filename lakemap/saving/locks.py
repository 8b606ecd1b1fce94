"""One at a time: a lock on a field's folder that ends with the process that holds it."""

import contextlib
import errno
import os
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from lakemap.basis.errors import BadInputError, Problem

LOCK_NAME: Final = ".lakemap-saving"
_WAIT_S: Final = 10.0
_LOOK_S: Final = 0.02
_NO_LOCKS = (errno.ENOLCK, errno.EOPNOTSUPP, errno.ENOSYS)


@contextlib.contextmanager
def saving_lock(folder: Path, *, wait_s: float = _WAIT_S) -> Iterator[None]:
    """Hold a folder for writing.

    The system's own lock on a file in it: a process that is killed lets go of it, so no lock is
    ever stale, and a file left over from one does no harm.

    Parameters
    ----------
    folder : Path
        Of the field.
    wait_s : float
        How long another one may take [s].

    Yields
    ------
    None
        While the lock is held.

    Raises
    ------
    BadInputError
        If another process holds it all that time, or the folder can't be written to.
    """
    path = folder / LOCK_NAME
    try:
        handle = _locked(path, time.monotonic() + wait_s)
    except OSError as error:
        text = f"the folder can't be written to ({error.strerror}); allow it; nothing was written"
        raise BadInputError([Problem(code="file_held", text=text, file=folder.name)]) from None
    if handle is None:
        text = "another program is saving into this folder; try again; nothing was written"
        raise BadInputError([Problem(code="folder_held", text=text, file=folder.name)])
    try:
        yield
    finally:
        # taken away while it is held, so that nobody can lock a file that is on its way out
        if sys.platform != "win32":
            path.unlink(missing_ok=True)
        os.close(handle)
        if sys.platform == "win32":
            with contextlib.suppress(OSError):  # another one has it open
                path.unlink(missing_ok=True)


def _locked(path: Path, until: float) -> int | None:
    """Open and lock a file; None where another one holds it for too long."""
    while True:
        flags = os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0)
        handle = os.open(path, flags, 0o600)
        if _try_lock(handle) and _still_there(handle, path):
            return handle
        os.close(handle)
        if time.monotonic() > until:
            return None
        time.sleep(_LOOK_S)


def _try_lock(handle: int) -> bool:
    """Lock an open file; False where another one holds it."""
    if sys.platform == "win32":
        import msvcrt  # noqa: PLC0415 - there only

        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True
    import fcntl  # noqa: PLC0415 - not on every system

    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError as error:
        if error.errno not in _NO_LOCKS:
            raise
        # a disk that knows no locks: what stands there is still compared just before it is replaced
    return True


def _still_there(handle: int, path: Path) -> bool:
    """Tell whether a locked file is still the one of its name."""
    try:
        there = path.lstat()
    except FileNotFoundError:
        return False
    return os.path.samestat(os.fstat(handle), there)
