"""A folder as the drawing page finds it: a field, or the place for one."""

import hashlib
import json
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Final

from lakemap.assessment import Assessment
from lakemap.basis.errors import ProblemLog
from lakemap.basis.records import Settings
from lakemap.inputs.folder import read_field
from lakemap.inputs.layers import TABLES, VECTORS, read_layer
from lakemap.inputs.settings import read_settings
from lakemap.mapping import assess
from lakemap.saving.records import Stamp
from lakemap.saving.stamps import SETTINGS, stamp_of

_DIGITS: Final = 20  # of a word that tells one state of the files from another


@dataclass(frozen=True, slots=True, kw_only=True)
class GroundReading:
    """What stands in the folder."""

    folder: Path
    stamp: Stamp
    assessment: Assessment | None  # None: no lake yet
    settings: Settings | None  # of field.toml, where there is one

    @property
    def name(self) -> str:
        """The field's name, or the folder's."""
        return self.settings.name if self.settings is not None else self.folder_name

    @property
    def folder_name(self) -> str:
        """The folder's own name."""
        return self.folder.resolve().name or "lake"

    @property
    def place(self) -> str:
        """A word for where the folder is; it doesn't tell the way there."""
        return _word(str(self.folder.resolve()))

    @property
    def key(self) -> str:
        """A word for what the files hold."""
        return stamp_key(self.stamp)


def stamp_key(stamp: Stamp) -> str:
    """Return a word for what a folder's files hold.

    Parameters
    ----------
    stamp : Stamp
        Of the folder.

    Returns
    -------
    str
        The same for the same files.
    """
    return _word(json.dumps(sorted(stamp.files.items())))


def _word(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", "surrogateescape")).hexdigest()[:_DIGITS]


def stamp_now(folder: Path) -> Stamp:
    """Return the stamp of a folder that need not be there.

    Parameters
    ----------
    folder : Path
        Of a field, or where one is to be.

    Returns
    -------
    Stamp
        Of no file where there is no folder.
    """
    return stamp_of(folder) if folder.is_dir() else Stamp(files=MappingProxyType({}))


def lacks_lake(folder: Path) -> bool:
    """Tell whether a folder has no lake yet, so that it has to be drawn.

    Parameters
    ----------
    folder : Path
        May be missing.

    Returns
    -------
    bool
        True where there is no lake file, or a sound one without a corner.
    """
    if not folder.is_dir():
        return not folder.exists()
    lake = next((path for path in sorted(folder.iterdir()) if _is_lake(path)), None)
    if lake is None:
        return True
    table = read_layer(lake, ProblemLog())
    return table is not None and not table.rows


def _is_lake(path: Path) -> bool:
    is_read = path.suffix.lower() in TABLES + VECTORS
    return path.stem.lower() == "lake" and is_read and path.is_file()


def read_ground(folder: Path) -> GroundReading:
    """Read a folder for the drawing page.

    Parameters
    ----------
    folder : Path
        May be missing, empty, or without a lake.

    Returns
    -------
    GroundReading
        With the field's assessment where it has a lake.

    Raises
    ------
    BadInputError
        If something in it is wrong, as `read_field` and `assess` tell it.
    """
    stamp = stamp_now(folder)
    if not lacks_lake(folder):
        found = assess(read_field(folder))
        return GroundReading(
            folder=folder, stamp=stamp, assessment=found, settings=found.field.settings
        )
    log = ProblemLog()
    settings = None
    if (folder / SETTINGS).is_file():
        settings = read_settings(folder / SETTINGS, log, folder_name=folder.resolve().name)
    log.raise_if_fatal()
    return GroundReading(folder=folder, stamp=stamp, assessment=None, settings=settings)
