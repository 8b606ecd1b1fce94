"""Text files written whole or not at all."""

from pathlib import Path

from lakemap.saving.atomic import write_whole


def write_atomic(path: Path, text: str, mode: int = 0o644) -> None:
    """Write a text file so that nobody ever sees half of it.

    Parameters
    ----------
    path : Path
        Where it is to stand; the folder must exist.
    text : str
        UTF-8, line ends as they are.
    mode : int
        Who may read and write it.

    Raises
    ------
    OSError
        If it can't be written.
    """
    write_whole(path, text.encode("utf-8"), mode=mode)
