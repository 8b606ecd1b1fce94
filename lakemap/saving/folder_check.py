"""A folder as it would be after a save, read as a whole before anything is written."""

import tempfile
from pathlib import Path

from lakemap.basis.errors import BadInputError, Problem
from lakemap.inputs.folder import read_field
from lakemap.saving.stamps import FolderState


def problems_in(state: FolderState) -> tuple[Problem, ...]:
    """Return what would stop a field with these files from being read.

    Parameters
    ----------
    state : FolderState
        The files' bytes.

    Returns
    -------
    tuple of Problem
        Fatal ones only.
    """
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made) / (state.folder.name or "field")
        folder.mkdir()
        for name, data in state.files.items():
            (folder / name).write_bytes(data)
        try:
            read_field(folder)
        except BadInputError as error:
            text = str(folder)
            return tuple(one for one in error.problems if one.fatal and text not in one.text)
    return ()


def refuse_new_problems(before: FolderState, after: FolderState) -> None:
    """Refuse a save after which the field could not be read any more.

    Parameters
    ----------
    before, after : FolderState
        The folder's files.

    Raises
    ------
    BadInputError
        With the problems that are not there yet.
    """
    found = problems_in(after)
    if not found:
        return
    old = {(one.code, one.file, one.text) for one in problems_in(before)}
    new = [one for one in found if (one.code, one.file, one.text) not in old]
    if new:
        text = "with this the field could not be read any more; nothing was written"
        raise BadInputError([*new, Problem(code="not_written", text=text)])
