"""`gather`: files from devices, all read first, then merged into a field's folder."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from os import PathLike
from pathlib import Path
from types import MappingProxyType
from typing import Final, Protocol

from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.records import Field
from lakemap.gathering.kinds import kind_of
from lakemap.gathering.records import KINDS, Asked, Gathered, Kind, Report
from lakemap.gathering.soundings import gather_soundings
from lakemap.inputs.folder import read_field
from lakemap.saving.records import Saved, Stamp, Underneath
from lakemap.saving.stamps import stamp_of

_OPTIONS: Final[Mapping[Kind, Mapping[str, str]]] = MappingProxyType(
    {
        "soundings": {
            "depth_unit": "--depth-unit",
            "transducer_depth_m": "--transducer-depth",
            "every_m": "--every",
            "keep_outliers": "--keep-outliers",
        },
        "fixes": {
            "float_id": "--float",
            "position_of": "--position-of",
            "wind_from_deg": "--wind-from",
            "place": "--place",
        },
        "shore": {"inside_m": "--inside"},
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What came of one call."""

    reports: tuple[Report, ...]  # in the order of the files
    written: tuple[Saved | Underneath, ...]  # one for each file of the folder; none in a preview


class _Gather(Protocol):
    """Reads all files of one kind."""

    def __call__(
        self, paths: Sequence[Path], *, field: Field, folder: Path, asked: Asked
    ) -> Gathered: ...


def _reader(kind: Kind) -> _Gather:
    """The function for one kind; the others are not imported."""
    if kind == "fixes":
        from lakemap.gathering.fixes import gather_fixes  # noqa: PLC0415 - only for fixes

        return gather_fixes
    if kind == "shore":
        from lakemap.gathering.shore import gather_shore  # noqa: PLC0415 - only for a shore

        return gather_shore
    return gather_soundings


def gather(
    folder: str | PathLike[str], files: Sequence[str | PathLike[str]], asked: Asked
) -> Outcome:
    """Merge what devices recorded into a field's folder.

    Parameters
    ----------
    folder : str or path
        Of the field.
    files : sequence of str or path
        Each is recognised by what stands in it, unless `asked.kind` says it.
    asked : Asked
        What to do with them.

    Returns
    -------
    Outcome
        A report of each file, and what was written.

    Raises
    ------
    BadInputError
        With the problems of the folder and of all files; then nothing was written.
    """
    here = Path(folder)
    paths = list(dict.fromkeys(Path(one) for one in files))
    problems: list[Problem] = []
    field, stamp = _field(here, problems)
    kinds = {path: _kind(path, asked, problems) for path in paths}
    problems += _idle(asked, set(kinds.values()))
    found: dict[Kind, Gathered] = {}
    if field is not None:
        found = _read(paths, kinds, field, folder=here, asked=asked, problems=problems)
    elif set(kinds.values()) == {"shore"} and _lacks_only_a_lake(problems):
        found, problems = {"shore": _first_shore(paths, here, asked)}, []
    if any(one.fatal for one in problems):
        raise BadInputError(problems)
    reports = {
        path: report
        for kind, one in found.items()
        for path, report in zip(
            [path for path in paths if kinds[path] == kind], one.reports, strict=True
        )
    }
    written = () if asked.preview else _save(here, found, stamp)
    return Outcome(reports=tuple(reports[path] for path in paths), written=written)


def _idle(asked: Asked, kinds: set[Kind | None]) -> list[Problem]:
    """Options that no file has a use for: what was asked for would not be done."""
    if None in kinds:  # told already
        return []
    plain = Asked()
    return [
        Problem(
            code="idle_option",
            text=f"belongs to {kind}, and no file is read as such; leave it out or add --as {kind}",
            column=option,
        )
        for kind, options in _OPTIONS.items()
        if kind not in kinds
        for name, option in options.items()
        if getattr(asked, name) != getattr(plain, name)
    ]


def _read(  # noqa: PLR0913 - what was found out before
    paths: Sequence[Path],
    kinds: Mapping[Path, Kind | None],
    field: Field,
    *,
    folder: Path,
    asked: Asked,
    problems: list[Problem],
) -> dict[Kind, Gathered]:
    """All files, kind by kind; what is wrong with them is told together."""
    found: dict[Kind, Gathered] = {}
    for kind in KINDS:
        mine = [path for path in paths if kinds[path] == kind]
        try:
            if mine:
                found[kind] = _reader(kind)(mine, field=field, folder=folder, asked=asked)
        except BadInputError as error:
            problems += error.problems
    return found


def _first_shore(paths: Sequence[Path], folder: Path, asked: Asked) -> Gathered:
    """A shore for a folder that has no lake yet."""
    from lakemap.gathering.shore import gather_shore  # noqa: PLC0415 - only for a shore

    return gather_shore(paths, field=None, folder=folder, asked=asked)


def _lacks_only_a_lake(problems: Sequence[Problem]) -> bool:
    """Tell a folder in which all is there but the lake, or whose lake has no corner yet."""
    lacking = {("file_missing", "lake"), ("no_corners", "lake.csv"), ("file_empty", "lake.csv")}
    fatal = {(one.code, one.file) for one in problems if one.fatal}
    return bool(fatal) and fatal <= lacking


def _field(folder: Path, problems: list[Problem]) -> tuple[Field | None, Stamp]:
    """The field, and how its files were; what is wrong with them is told with the rest."""
    stamp = Stamp(files=MappingProxyType({}))
    try:
        # in this order: a file that changes in between is seen to have changed
        stamp = stamp_of(folder) if folder.is_dir() else stamp
        return read_field(folder), stamp
    except BadInputError as error:
        problems += error.problems
        return None, stamp


def _kind(path: Path, asked: Asked, problems: list[Problem]) -> Kind | None:
    try:
        if asked.kind is not None and path.is_file():
            return asked.kind
        seen = kind_of(path)
    except BadInputError as error:
        problems += error.problems
        return None
    except OSError as error:  # a name that is too long, or has signs that no name may have
        text = f"the file can't be read: {error.strerror}"
        problems.append(Problem(code="file_unreadable", text=text, file=path.name))
        return None
    if seen.kind is None:
        problems.append(Problem(code="unknown_kind", text=seen.why, file=path.name))
    return seen.kind


def _save(
    folder: Path, found: Mapping[Kind, Gathered], stamp: Stamp
) -> tuple[Saved | Underneath, ...]:
    """Write one file after the other; what was written before a fault is told with it."""
    written: list[Saved | Underneath] = []
    for one in found.values():
        try:
            done = one.save(folder, stamp=stamp)
        except BadInputError as error:
            if not written:
                raise
            names = " and ".join(before.file for before in written)
            text = f"{names} was written before that; gather only the rest again"
            raise BadInputError([*error.problems, Problem(code="in_part", text=text)]) from error
        for each in done if isinstance(done, tuple) else (done,):
            if each is not None:
                written.append(each)
            if isinstance(each, Saved):
                stamp = each.stamp
    return tuple(written)
