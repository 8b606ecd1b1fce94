"""A field's files as they are now, and their digests, to tell later what has changed."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from os import PathLike
from pathlib import Path
from types import MappingProxyType
from typing import Final

from lakemap.basis.errors import BadInputError, Problem
from lakemap.inputs.folder import STEMS
from lakemap.inputs.layers import TABLES, VECTORS
from lakemap.inputs.tables import MOST_BYTES
from lakemap.saving.records import Stamp

SETTINGS: Final = "field.toml"
_SIDE = (".dbf", ".shx", ".prj", ".cpg")  # of a Shapefile


@dataclass(frozen=True, slots=True, kw_only=True)
class FolderState:
    """What a folder's files hold at one moment."""

    folder: Path  # past any link
    files: Mapping[str, bytes]

    def name_of(self, stem: str) -> str | None:
        """Return the file of a stem; the first of two, which reading refuses."""
        return next((name for name in self.files if _is_read(name) and _stem(name) == stem), None)

    def with_file(self, name: str, data: bytes) -> "FolderState":
        """Return the state as it will be."""
        return FolderState(folder=self.folder, files={**self.files, name: data})

    def stamp(self) -> Stamp:
        """Return the digests of all files."""
        return Stamp(
            files=MappingProxyType({name: digest(data) for name, data in self.files.items()})
        )


def digest(data: bytes) -> str:
    """Return a file's SHA-256 in hexadecimal digits."""
    return hashlib.sha256(data).hexdigest()


def _stem(name: str) -> str:
    return Path(name).stem.lower()


def _is_read(name: str) -> bool:
    return Path(name).suffix.lower() in TABLES + VECTORS


def _is_ours(name: str) -> bool:
    side = Path(name).suffix.lower() in _SIDE
    return name == SETTINGS or (_stem(name) in STEMS and (side or _is_read(name)))


def look(folder: str | PathLike[str]) -> FolderState:
    """Read every file of a field.

    Parameters
    ----------
    folder : str or path
        Of the field.

    Returns
    -------
    FolderState
        Files by name, in order.

    Raises
    ------
    BadInputError
        If the folder is not there, or a file can't be opened.
    """
    path = Path(folder)
    files: dict[str, bytes] = {}
    problems = []
    try:
        names = sorted(one.name for one in path.iterdir() if _is_ours(one.name) and one.is_file())
    except OSError as error:
        text = f"the folder can't be read: {error.strerror}"
        raise BadInputError([Problem(code="no_folder", text=text, file=str(path))]) from None
    for name in names:
        try:
            if (path / name).stat().st_size > MOST_BYTES:
                raise OSError(0, "it is too large")  # noqa: TRY301 - told as any other
            files[name] = (path / name).read_bytes()
        except OSError as error:
            text = f"the file can't be read: {error.strerror}; close it in the other program"
            problems.append(Problem(code="file_held", text=text, file=name))
    if problems:
        raise BadInputError(problems)
    return FolderState(folder=path.resolve(), files=files)


def stamp_of(folder: str | PathLike[str]) -> Stamp:
    """Return digests of a field's files, to tell later whether one of them has changed.

    Parameters
    ----------
    folder : str or path
        Of the field.

    Returns
    -------
    Stamp
        Of field.toml and of every file that is read with it.

    Raises
    ------
    BadInputError
        If a file can't be opened.
    """
    return look(folder).stamp()
