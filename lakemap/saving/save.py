"""The steps that every save takes: compare, compose, read back, keep the old one, replace."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from lakemap.basis.errors import BadInputError, Problem, ProblemLog
from lakemap.inputs.cells import RawTable
from lakemap.saving.atomic import part_prefix, write_whole
from lakemap.saving.folder_check import refuse_new_problems
from lakemap.saving.locks import saving_lock
from lakemap.saving.reading_back import read_as
from lakemap.saving.records import Saved, Stamp, Underneath
from lakemap.saving.stamps import SETTINGS, FolderState, digest, look
from lakemap.saving.targets import mode_of, place_of

BEFORE: Final = ".before"
PLAN: Final = ".plan"
_WRITTEN: Final = (".csv", ".xlsx", ".geojson", ".json")


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A file that is to be changed."""

    name: str
    data: bytes
    table: RawTable


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What is to be saved into which file of a folder."""

    stem: str
    stamp: Stamp
    also: tuple[str, ...]  # stems of other files that the change rests on
    formats: tuple[str, ...]  # endings that can be changed in place
    remedy: str  # what to do about another one
    differs: Callable[[FolderState], Sequence[str]]  # what a changed file says now
    whole: Callable[[], tuple[str, str]]  # a new file's name and text, with the change in it
    edited: Callable[[Held], tuple[bytes, tuple[str, ...]]]  # the file's new bytes, and notes
    check: Callable[[RawTable], None]  # raises if the new file is not read as it is meant


def run(folder: Path, job: Job) -> Saved | Underneath:
    """Save one file of a folder, or refuse and write nothing there.

    Parameters
    ----------
    folder : Path
        Of the field.
    job : Job
        What to do.

    Returns
    -------
    Saved or Underneath
        The latter if the files are no longer as the stamp says; the plan's version is kept beside.

    Raises
    ------
    BadInputError
        If it can't be written, or would not be read as it is meant.
    """
    with saving_lock(folder):
        state = look(folder)
        name = state.name_of(job.stem)
        if name is not None and Path(name).suffix.lower() not in job.formats:
            raise _refused(name, "not_written", f"{name} can't be changed in place; {job.remedy}")
        says = _underneath(state, job)
        if says:
            return _beside(folder, name, says, job)
        return _write(folder, state, name, job)


def _refused(name: str, code: str, text: str) -> BadInputError:
    return BadInputError([Problem(code=code, text=f"{text}; nothing was written", file=name)])


def _underneath(state: FolderState, job: Job) -> tuple[str, ...]:
    """Say what has changed of the files that the save rests on."""
    now = state.stamp().files
    stems = {job.stem, *job.also}
    names = [
        name
        for name in sorted({*now, *job.stamp.files})
        if name == SETTINGS or Path(name).stem.lower() in stems
    ]
    changed = [name for name in names if now.get(name) != job.stamp.files.get(name)]
    says: list[str] = []
    for name in changed:
        if Path(name).stem.lower() == job.stem and name in now and name in job.stamp.files:
            says += job.differs(state)
        else:
            says.append(f"{name} {_what(name in now, name in job.stamp.files)} since it was read")
    return tuple(dict.fromkeys(says))


def _what(is_there: bool, was_there: bool) -> str:  # noqa: FBT001 - two facts
    if not is_there:
        return "was taken away"
    return "has changed" if was_there else "was added"


def _beside(folder: Path, name: str | None, says: tuple[str, ...], job: Job) -> Underneath:
    """Keep the plan's version beside the file that changed."""
    own, text = job.whole()
    kept = _free_name(folder, f"{own}{PLAN}")
    _put(folder / kept, text.encode("utf-8"), 0o644)
    return Underneath(file=name or own, says=says, kept=kept)


def _free_name(folder: Path, name: str) -> str:
    """Return a name that nothing has yet."""
    number = 1
    found = name
    while (folder / found).exists() or (folder / found).is_symlink():
        number += 1
        found = f"{name}-{number}"
    return found


def _write(folder: Path, state: FolderState, name: str | None, job: Job) -> Saved | Underneath:
    """Compose the new file, read it back, and put it in the old one's place."""
    notes: tuple[str, ...] = ()
    if name is None:
        name, text = job.whole()
        old, new = None, text.encode("utf-8")
    else:
        old = state.files[name]
        new, notes = job.edited(Held(name=name, data=old, table=table_of(name, old)))
    place = place_of(folder, name)
    notes += _others(state, job)
    if new == old:
        return Saved(file=name, kept=None, stamp=job.stamp, notes=("nothing was changed", *notes))
    job.check(table_of(name, new))
    refuse_new_problems(state, state.with_file(name, new))
    if _now(place) != old:  # another program, which knows nothing of our lock
        says = (f"{name} has changed just now",)
        return _beside(folder, name, says, job)
    kept = None
    _sweep(place)
    if old is not None:
        kept = f"{name}{BEFORE}"
        _put(folder / kept, old, mode_of(place))
    _put(place, new, mode_of(place))
    return Saved(file=name, kept=kept, stamp=job.stamp.with_file(name, digest(new)), notes=notes)


def table_of(name: str, data: bytes) -> RawTable:
    """Read bytes as a file's table; raises what is wrong with them."""
    log = ProblemLog()
    table = read_as(name, data, log) if data else None
    log.raise_if_fatal()
    if table is None:
        raise _refused(name, "file_empty", "the file is empty; take it away")
    return table


def _others(state: FolderState, job: Job) -> tuple[str, ...]:
    """Tell of files that changed, though the save does not rest on them."""
    now = state.stamp().files
    names = sorted(
        name for name in {*now, *job.stamp.files} if now.get(name) != job.stamp.files.get(name)
    )
    if not names:
        return ()
    verb = "has" if len(names) == 1 else "have"
    return (f"{' and '.join(names)} {verb} changed since; open the field again to see that",)


def _now(place: Path) -> bytes | None:
    try:
        return place.read_bytes()
    except FileNotFoundError:
        return None


def _sweep(place: Path) -> None:
    """Take away what a save that was killed left; the lock says that none is under way."""
    prefix = part_prefix(place.name)
    for path in place.parent.iterdir():
        if path.name.startswith(prefix) and path.suffix == ".part":
            path.unlink(missing_ok=True)


def _put(path: Path, data: bytes, mode: int) -> None:
    try:
        write_whole(path, data, mode=mode)
    except PermissionError:
        text = "the file can't be written; close it in the other program or allow writing to it"
        raise _refused(path.name, "file_held", text) from None
    except OSError as error:
        raise _refused(
            path.name, "not_written", f"the file can't be written: {error.strerror}"
        ) from None
