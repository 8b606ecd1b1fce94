"""Sites as `proposed` rows at the end of a floats file, whose other bytes stay as they are."""

import csv
import io
import math
import os
import re
import stat
import tempfile
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import MISSING, dataclass, fields, replace
from decimal import Decimal
from pathlib import Path
from types import MappingProxyType
from typing import Final

from lakemap.basis.errors import BadInputError, Problem, ProblemLog
from lakemap.basis.quantities import SUFFIXES, UNITS
from lakemap.basis.records import Field, Float, Units
from lakemap.inputs.cells import RawTable, Sheet, normal_name
from lakemap.inputs.floats import COLUMNS, read_floats
from lakemap.inputs.positions import POSITION
from lakemap.inputs.tables import read_bytes, read_csv
from lakemap.lake.projection import CRS_ERRORS
from lakemap.outputs.atomic import write_atomic
from lakemap.siting.records import Site, SiteAsk

_DEGREE_DIGITS: Final = 9  # 0.1 mm
_NEAR_M: Final = 1e-4  # a row must be read back this close to its site
_M_PER_DEGREE: Final = 111_700.0  # no degree is longer, of latitude or along the equator
_SI: Mapping[str | None, str] = MappingProxyType(
    {None: "", "length": "_m", "mass": "_kg", "density": "_kg_m3", "stiffness": "_n_m"}
)
_NAMED_SHORT: Mapping[str, str] = MappingProxyType(
    {"riser_length": "riser_m", "ground_length": "ground_m"}
)
_DEFAULTS: Mapping[str, object] = MappingProxyType(
    {one.name: one.default for one in fields(Float) if one.default is not MISSING}
)
_ID = re.compile(r"[0-9]{1,18}")
_FORMULA = ("=", "+", "-", "@", "\t")  # how a formula begins in a spreadsheet


@dataclass(frozen=True, slots=True, kw_only=True)
class _Style:
    """How a file is written."""

    delimiter: str
    decimal: str
    ending: str
    units: Units  # for cells whose column names no unit


def add_proposed(
    folder: Path, field: Field, sites: Sequence[Site], ask: SiteAsk
) -> tuple[str, ...]:
    """Add sites to the field's floats.csv as `proposed` floats, all or none.

    Rows are added at the end; the rest of the file stays as it is, byte for byte. What `ask.like`
    tells of the kind of float is written; a blank stays blank, to be designed. What belongs to
    one float only stays blank: depth, bearing, owner, permit, date, note; the lot is `ask.lot`.

    Parameters
    ----------
    folder : Path
        Of the field.
    field : Field
        As read from there.
    sites : sequence of Site
        In the order of the new rows.
    ask : SiteAsk
        What was looked for.

    Returns
    -------
    tuple of str
        The new floats' numbers: they go on from the greatest whole number that is a float's, or was
        once, as inspections and fixes tell.

    Raises
    ------
    BadInputError
        If the floats stand in no CSV file, the file changed since it was read, a column is missing
        for what has to be said, or the file can't be written; then nothing was written.
    """
    if not sites:
        return ()
    path = _floats_csv(folder, field)
    data = _bytes_of(path)
    table, known = _read(data, field)
    if known != field.floats:
        _refuse(field, "file_changed", "the file has changed since it was read; run this again")
    meant = _new_floats(field, sites, ask)
    sheet = Sheet(table, {**COLUMNS, **POSITION}, ProblemLog())
    text = data.decode("utf-8")
    style = _style(text.removeprefix("\ufeff"), table, field.settings.units)
    _require(field, table, meant)
    rows = _rows(sheet, style, _places(sheet, field, meant), meant)
    whole = text + ("" if text.endswith(("\n", "\r")) else style.ending) + rows
    _check(whole.encode("utf-8"), field, meant)
    _write(path, whole)
    return tuple(one.float_id for one in meant)


def _refuse(field: Field, code: str, text: str, *why: Problem) -> None:
    """Raise what is wrong, and say that the file is as it was."""
    said = Problem(code=code, text=f"{text}; nothing was written", file=field.floats_file)
    raise BadInputError([*why, said])


def _floats_csv(folder: Path, field: Field) -> Path:
    """Where the floats stand, past a link to them."""
    path = folder / field.floats_file
    if path.suffix.lower() != ".csv":
        text = (
            "only a floats.csv can be added to; this field keeps its floats in"
            f" {field.floats_file}: add the rows there"
        )
        _refuse(field, "not_csv", text)
    return path.resolve()


def _bytes_of(path: Path) -> bytes:
    log = ProblemLog()
    data = read_bytes(path, log)
    log.raise_if_fatal()
    return data or b""


def _read(data: bytes, field: Field) -> tuple[RawTable, tuple[Float, ...]]:
    """Read a floats file's bytes as the field is read; raises what is wrong with them."""
    log = ProblemLog()
    with tempfile.TemporaryDirectory() as made:
        path = Path(made) / field.floats_file
        path.write_bytes(data)
        table = read_csv(path, log)
    log.raise_if_fatal()
    if table is None:
        raise AssertionError("a table that can't be read is a fatal problem")  # pragma: no cover
    floats = read_floats(table, log, crs=field.settings.crs, lake=field.lake)
    log.raise_if_fatal()
    return table, floats


def _new_floats(field: Field, sites: Sequence[Site], ask: SiteAsk) -> tuple[Float, ...]:
    """Make the floats as they are to be read back; rows are counted by the reader."""
    common = replace(
        ask.like,
        position_of="primary",
        wind_from_deg=None,
        status="proposed",
        owner=None,
        lot=(ask.lot or "").strip() or None,
        depth_m=None,
        bearing_deg=None,
        set_on=None,
        permit=None,
        note=None,
        extra=MappingProxyType({}),
    )
    return tuple(
        replace(common, float_id=name, lon=site.lon, lat=site.lat)
        for name, site in zip(_new_ids(field), sites, strict=False)
    )


def _new_ids(field: Field) -> Iterator[str]:
    """Go on with the numbers; an old inspection must not become a new float's."""
    used = {one.float_id for one in field.floats}
    used |= {str(row.get("float_id")) for row in (*field.inspections, *field.fixes)}
    number = max((int(name) for name in used if _ID.fullmatch(name)), default=0)
    while True:
        number += 1
        yield str(number)


def _style(text: str, table: RawTable, units: Units) -> _Style:
    """See how the file is written; where no number tells, semicolons go with decimal commas."""
    delimiter = next(sign for sign in ";\t," if _header(text, sign) == table.columns)
    comma = table.decimal_comma or (delimiter == ";" and not table.rows)
    return _Style(
        delimiter=delimiter,
        decimal="," if comma else ".",
        ending=_ending(text, delimiter),
        units=units,
    )


def _header(text: str, delimiter: str) -> tuple[str, ...]:
    for record in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter):
        cells = tuple(cell.strip() for cell in record)
        if any(cells) and not cells[0].startswith("#"):
            return cells
    return ()


def _ending(text: str, delimiter: str) -> str:
    """Return what most rows end with; a line end within a quoted cell ends no row."""
    lines = io.StringIO(text, newline="").readlines()
    reader = csv.reader(lines, delimiter=delimiter)
    last = (lines[reader.line_num - 1] for _ in reader)
    ends = Counter(line[len(line.rstrip("\r\n")) :] for line in last)
    found = [end for end, _ in ends.most_common() if end in {"\r\n", "\n", "\r"}]
    return found[0] if found else "\n"


def _field_name(base: str) -> str:
    """Return a column's name in `Float`."""
    return _NAMED_SHORT.get(base, f"{base}{_SI[COLUMNS[base]]}")


def _told(one: Float) -> dict[str, object]:
    """What a row has to say, by column; what goes without saying may stand in its column too."""
    named = {base: getattr(one, _field_name(base)) for base in COLUMNS}
    return {base: value for base, value in named.items() if value not in (None, ())}


def _require(field: Field, table: RawTable, meant: Sequence[Float]) -> None:
    """Tell every column that is missing for what the new rows say."""
    log = ProblemLog()
    sheet = Sheet(table, {**COLUMNS, **POSITION}, log)
    needed = {
        base
        for one in meant
        for base, value in _told(one).items()
        if value != _DEFAULTS.get(_field_name(base))
    }
    sheet.require(*(base for base in COLUMNS if base in needed))
    if log.any_fatal():
        without = "" if sheet.has("status") else "; without status they would count as set"
        text = f"the new rows need every column named here{without}"
        _refuse(field, "not_written", text, *log)


def _places(sheet: Sheet, field: Field, meant: Sequence[Float]) -> list[dict[str, str]]:
    """Return each position in the file's columns, with a decimal point."""
    if not sheet.has("x"):
        return [
            {"lon": _fixed(one.lon, _DEGREE_DIGITS), "lat": _fixed(one.lat, _DEGREE_DIGITS)}
            for one in meant
        ]
    import geopandas as gpd  # noqa: PLC0415 - slow to import, and lon, lat do without

    crs = field.settings.crs
    degrees = gpd.points_from_xy([one.lon for one in meant], [one.lat for one in meant])
    try:
        points = gpd.GeoSeries(degrees, crs="EPSG:4326").to_crs(crs)
    except CRS_ERRORS:
        text = f"crs {crs!r} is not known; write an EPSG code, as EPSG:26918; nothing was written"
        raise BadInputError([Problem(code="bad_crs", text=text, file="field.toml")]) from None
    digits = _DEGREE_DIGITS
    if not points.crs.is_geographic:
        metres = points.crs.axis_info[0].unit_conversion_factor
        digits = max(0, math.ceil(math.log10(metres / _NEAR_M)))
    return [{"x": _fixed(p.x, digits), "y": _fixed(p.y, digits)} for p in points]


def _fixed(value: float, digits: int) -> str:
    return f"{value:.{digits}f}"


def _rows(
    sheet: Sheet, style: _Style, places: Sequence[Mapping[str, str]], meant: Sequence[Float]
) -> str:
    """Return the new rows' text."""
    columns = sheet.table.columns
    lines = []
    for one, place in zip(meant, places, strict=True):
        cells = [""] * len(columns)
        for base, value in {**_told(one), **place}.items():
            if sheet.has(base):
                written = sheet.written(base)
                text = value if base in place else _cell(base, value, written, style.units)
                if base in place or isinstance(value, (int, float)):
                    text = str(text).replace(".", style.decimal)
                else:
                    text = _quoted(str(text), style.delimiter)
                cells[columns.index(written)] = text
        lines.append(style.delimiter.join(cells) + style.ending)
    return "".join(lines)


def _cell(base: str, value: object, written: str, units: Units) -> str:
    """Return a cell: text, count, or number in the unit that the column's name carries."""
    if isinstance(value, tuple):
        counted = (f"{one.name} {one.size} {one.count}" for one in value)
        return "; ".join(text.removesuffix(" 1") for text in counted)
    dimension = COLUMNS[base]
    if dimension is None or not isinstance(value, (int, float)):
        return str(value)
    factors = UNITS[dimension]
    suffix = normal_name(written).removeprefix(f"{base}_")
    if suffix in SUFFIXES:
        return _plain(value / factors[SUFFIXES[suffix][1]])
    return min((f"{_plain(value / factors[u])} {u}" for u in _units(dimension, units)), key=len)


def _units(dimension: str, units: Units) -> tuple[str, ...]:
    """Return the units that a cell may carry where its column's name has none."""
    if units == "m-kg":
        return tuple(unit for unit, factor in UNITS[dimension].items() if factor == 1.0)
    return ("ft", "in") if dimension == "length" else (next(iter(UNITS[dimension])),)


def _plain(value: float) -> str:
    """Return twelve figures without an exponent."""
    return f"{Decimal(f'{value:.12g}'):f}"


def _quoted(text: str, delimiter: str) -> str:
    """Quote a text as CSV needs it, and one that a spreadsheet may take for a formula."""
    if text.startswith(_FORMULA) or any(sign in text for sign in (delimiter, '"', "\r", "\n")):
        return '"' + text.replace('"', '""') + '"'
    return text


def _check(data: bytes, field: Field, meant: Sequence[Float]) -> None:
    """Read the file back before it is one: old floats as they were, new ones as they are meant."""
    why: tuple[Problem, ...] = ()
    try:
        _, floats = _read(data, field)
        count = len(field.floats)
        if floats[:count] == field.floats and len(floats) == count + len(meant):
            pairs = zip(floats[count:], meant, strict=True)
            if all(_same(one, other) for one, other in pairs):
                return
    except BadInputError as error:
        why = tuple(problem for problem in error.problems if problem.fatal)
    hint = "" if why else "; is a quote left open in the file, or does one of them begin with #?"
    _refuse(field, "not_written", f"the new rows would not be read as they are meant{hint}", *why)


def _same(one: Float, meant: Float) -> bool:
    """Tell whether a float was read back as it was meant."""
    east = (one.lon - meant.lon) * math.cos(math.radians(meant.lat))
    if math.hypot(east, one.lat - meant.lat) * _M_PER_DEGREE > _NEAR_M:
        return False
    for name in _DEFAULTS.keys() | {"float_id", "length_m", "width_m"}:
        read, asked = getattr(one, name), getattr(meant, name)
        if isinstance(read, (int, float)) and isinstance(asked, (int, float)):
            if not math.isclose(read, asked, rel_tol=1e-9):
                return False
        elif name != "extra" and read != asked:
            return False
    return True


def _write(path: Path, text: str) -> None:
    """Put the new file in the old one's place, as readable for others as it was."""
    lock = path.with_name(f".~lock.{path.name}#")
    held = f"the file is open in a spreadsheet ({lock.name} stands beside it); close it"
    if not lock.exists():
        held = "the file can't be written; close it in the other program or allow writing to it"
    problem = Problem(
        code="file_held", text=f"{held}, then try again; nothing was written", file=path.name
    )
    if lock.exists() or not os.access(path, os.W_OK):
        raise BadInputError([problem])
    mode = stat.S_IMODE(path.stat().st_mode)
    try:
        write_atomic(path, text)
        path.chmod(mode)
    except PermissionError:
        raise BadInputError([problem]) from None
    except OSError as error:
        why = f"the file can't be written: {error.strerror}; nothing was written"
        raise BadInputError([Problem(code="not_written", text=why, file=path.name)]) from None
