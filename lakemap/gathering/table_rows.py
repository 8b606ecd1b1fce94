"""A sounder's table, or plain text of x, y and depth, as readings; line by line."""

import math
import re
from collections.abc import Callable, Iterator, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Final, Literal, NamedTuple

from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.quantities import FOOT_M, parse_quantity
from lakemap.basis.typed_places import read_position
from lakemap.gathering.columns import Columns, find_columns
from lakemap.gathering.lines import Tally, is_comment, text_lines
from lakemap.gathering.records import Asked
from lakemap.gathering.table_cells import cells_of

UNITS: Final = {"ft": FOOT_M.value, "m": 1.0}
_HALF: Final = re.compile(r"^\s*[NSEW]\s*\d|\d\W*[NSEW]\s*$|°", re.IGNORECASE)
_OWN_UNIT: Final = re.compile(r"\d\s*(?:ft|feet|m|cm|mm|in|['\"′″])\W*$", re.IGNORECASE)
_PARTED: Final = re.compile(r"[\s,;]+")
_SHOWN: Final = 40  # signs of a cell
_SECONDS_SINCE_1970: Final = (1e8, 1e11)  # 1973 to 5138; thousands of it are milliseconds


class Reading(NamedTuple):
    """One row of a table, its place not yet turned to degrees."""

    first: float  # lon or x
    second: float  # lat or y
    depth: float  # in m; the sign as written
    line: int
    day: int  # ordinal; 0: not known


class _How(NamedTuple):
    """How the cells of a table are read."""

    at: Columns
    factor: float  # depth to m
    comma: bool  # decimal commas
    day: int  # where a row has none


class Table(NamedTuple):
    """A table's rows with what they are."""

    kind: Literal["degrees", "xy", "unknown"]
    rows: Iterator[Reading]
    said: tuple[str, ...]  # what was seen of it


def table_readings(
    path: Path, asked: Asked, tally: Tally, *, kind: Literal["csv", "xlsx"] = "csv"
) -> Table:
    """Read a sounder's table.

    Parameters
    ----------
    path : Path
        The file.
    asked : Asked
        Of `gather`.
    tally : Tally
        Gains what is left out.
    kind : {'csv', 'xlsx'}
        Text or workbook.

    Returns
    -------
    Table
        Read as its rows are taken.

    Raises
    ------
    BadInputError
        If position, depth or the depth's unit is not there.
    """
    table = cells_of(path, kind)
    try:
        found = find_columns(table.header)
    except ValueError as error:
        raise _refused(path, "column_missing", str(error), row=table.row) from None
    factor = _factor(path, asked, found.depth_unit_m, found.depth_name)
    day = 0 if asked.day is None else asked.day.toordinal()
    how = _How(at=found, factor=factor, comma=table.comma, day=day)
    said = [f"depth is the column {found.depth_name!r}"] if found.others else []
    if found.level_name is not None and asked.level_m is None:
        tally.warned.append(
            f"its column {found.level_name!r} is not read: say --level, or put its readings into"
            " the levels file"
        )

    def rows() -> Iterator[Reading]:
        for number, cells in table.rows:
            tally.read = number
            try:
                yield _reading(cells, how, number)
            except (ValueError, IndexError) as error:
                why = "too few cells" if isinstance(error, IndexError) else str(error)
                place = "row" if kind == "xlsx" else "line"
                tally.leave("a row that can't be read", f"{place} {number}: {why}")

    return Table(found.kind, rows(), (*said, *table.said))


def xyz_readings(path: Path, asked: Asked, tally: Tally) -> Table:
    """Read plain text of x, y (or degrees) and depth, parted by blanks, commas or semicolons.

    Parameters
    ----------
    path : Path
        The file; lines that begin with # are comments.
    asked : Asked
        Of `gather`; it must name the depth's unit.
    tally : Tally
        Gains what is left out.

    Returns
    -------
    Table
        Of unknown kind: which of the two first columns is what, the lake tells.

    Raises
    ------
    BadInputError
        If nobody says the unit of the depths.
    """
    factor = _factor(path, asked, None, "the third column")
    day = 0 if asked.day is None else asked.day.toordinal()

    def rows() -> Iterator[Reading]:
        for number, line in enumerate(text_lines(path), start=1):
            tally.read = number
            if is_comment(line):
                continue
            try:
                x, y, depth = (_number(part) for part in _PARTED.split(line.strip(" \t\n,;"))[:3])
            except ValueError as error:
                tally.leave("a row that can't be read", f"line {number}: {error}")
                continue
            yield Reading(x, y, depth * factor, number, day)

    return Table("unknown", rows(), ())


def _factor(path: Path, asked: Asked, in_header: float | None, name: str) -> float:
    if in_header is not None:
        return in_header
    if asked.depth_unit is not None:
        return UNITS[asked.depth_unit]
    text = (
        f"{name!r} has no unit; name the column depth_ft or depth_m, or say --depth-unit ft"
        if name != "the third column"
        else "nothing says the unit of the depths; say --depth-unit ft or --depth-unit m"
    )
    raise _refused(path, "no_unit", text)


def _refused(path: Path, code: str, text: str, row: int | None = None) -> BadInputError:
    return BadInputError([Problem(code=code, text=text, file=path.name, row=row)])


def _reading(cells: Sequence[str], how: _How, line: int) -> Reading:
    read: Callable[[str], float] = _with_comma if how.comma else _number
    at = how.at
    day = 0 if at.time is None or at.time >= len(cells) else day_of(cells[at.time])
    place = cells[at.first], cells[at.second]
    if at.kind == "degrees" and any(map(_HALF.search, place)):
        first, second = _by_halves(*place, comma=how.comma)
    else:
        first, second = map(read, place)
    depth = cells[at.depth]
    if _OWN_UNIT.search(depth):
        return Reading(first, second, _measured(depth, comma=how.comma), line, day or how.day)
    return Reading(first, second, read(depth) * how.factor, line, day or how.day)


def _by_halves(lon: str, lat: str, *, comma: bool) -> tuple[float, float]:
    """Degrees with a letter of their half, or with minutes."""
    if comma:
        lon, lat = lon.replace(",", "."), lat.replace(",", ".")
    found = read_position(f"{lat[:_SHOWN]}, {lon[:_SHOWN]}")
    return found[1], found[0]


def _measured(text: str, *, comma: bool) -> float:
    """A depth that carries its own unit [m]."""
    return parse_quantity(text, "length", decimal_comma=comma)


def _number(text: str) -> float:
    bare = text.strip().replace("−", "-")
    try:
        value = float(bare)
    except ValueError:
        value = math.nan
    if not math.isfinite(value) or "_" in bare:
        raise ValueError(f"{text.strip()[:_SHOWN]!r} is no number")
    return value


def _with_comma(text: str) -> float:
    return _number(text.replace(",", "."))


def day_of(text: str) -> int:
    """Return the day of a date or a time as written in a table.

    Parameters
    ----------
    text : str
        ISO 8601, with slashes too if the year comes first, or seconds or milliseconds since 1970.

    Returns
    -------
    int
        `date.toordinal`; 0 where it can't be told, as of 06/07/2025, which may be two days.
    """
    bare = text.strip().replace("/", "-")
    try:
        seconds = float(bare)
    except ValueError:
        seconds = 0.0
    low, high = _SECONDS_SINCE_1970
    if high <= seconds < 1000 * high:
        seconds /= 1000
    if low <= seconds < high:
        return datetime.fromtimestamp(seconds, UTC).toordinal()
    try:
        return datetime.fromisoformat(bare).toordinal()
    except ValueError:
        return 0
