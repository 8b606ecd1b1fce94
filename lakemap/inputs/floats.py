"""The floats file: one row, one float."""

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

import numpy as np

from lakemap.basis.errors import ProblemLog
from lakemap.basis.records import Fitting, Float, FloatArray, Geometry
from lakemap.inputs.cells import RawTable, Sheet, is_blank
from lakemap.inputs.positions import POSITION, near_lake, read_positions
from lakemap.lake.projection import LakeProjection
from lakemap.lake.water import inside

_LENGTHS = {
    "length": "length_m",
    "width": "width_m",
    "tube_diameter": "tube_diameter_m",
    "tube_length": "tube_length_m",
    "billet_length": "billet_length_m",
    "billet_width": "billet_width_m",
    "billet_height": "billet_height_m",
    "riser_length": "riser_m",
    "ground_length": "ground_m",
    "absorber_length": "absorber_length_m",
}  # fmt: skip
_WEIGHTS = {
    "float_weight": "float_weight_kg",
    "primary_weight": "primary_weight_kg",
    "secondary_weight": "secondary_weight_kg",
}
# a chain of no length lays one cluster beside the other; a weight of 0 is no cluster
_MAY_BE_0 = ("ground_length", "primary_weight", "secondary_weight", "absorber_length")
_CHOICES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "position_of": ("primary", "secondary", "float"),
        "status": ("set", "proposed", "retired"),
        "flotation": ("tubes", "billets"),
        "hook": ("centre", "edge"),
        "block": ("8-in hollow", "12-in hollow", "solid"),
        "cable_ends": ("clips", "sleeves", "bare pin"),
        "bottom": ("sand", "gravel", "silt", "mud", "clay", "rock"),
    }
)
_COUNTS: Mapping[str, int] = MappingProxyType(
    {"tubes": 1, "billets": 1, "primary_blocks": 0, "secondary_blocks": 0, "cable_parts": 1}
)
_TEXTS = ("owner", "lot", "permit", "note")
_BLANK_MEANS: Mapping[str, str] = MappingProxyType(
    {"position_of": "primary", "status": "set", "hook": "centre"}
)
_GRADES = (30, 43, 70)
COLUMNS: Mapping[str, str | None] = MappingProxyType(
    {
        "float_id": None,
        **dict.fromkeys(_LENGTHS, "length"),
        "position_error": "length",
        "hook_depth": "length",
        "depth": "length",
        **dict.fromkeys(_WEIGHTS, "mass"),
        "block_density": "density",
        "absorber_stiffness": "stiffness",
        **dict.fromkeys(_CHOICES),
        **dict.fromkeys(_COUNTS),
        **dict.fromkeys(_TEXTS),
        "wind_from_deg": None,
        "bearing_deg": None,
        "chain": None,
        "chain_grade": None,
        "cable": None,
        "fittings": None,
        "set_on": None,
    }
)
_SIZE = r"\d+(?:\s+\d+/\d+|/\d+)?(?:\.\d+)?\s*(?:in|mm)"
_CHAIN = re.compile(_SIZE)
_CABLE = re.compile(rf"{_SIZE}\s+(?:galvanised|galvanized|stainless)")
_FITTING = re.compile(rf"(?P<name>[^\d;]+?)\s+(?P<size>{_SIZE})(?:\s+(?P<count>\d+))?")
_ALSO = MappingProxyType({"center": "centre"})


def read_floats(table: RawTable, log: ProblemLog, *, crs: str, lake: Geometry) -> tuple[Float, ...]:
    """Read the floats.

    Parameters
    ----------
    table : RawTable
        As read.
    log : ProblemLog
        Gains every problem.
    crs : str
        Of x, y columns.
    lake : shapely geometry or None
        In lon, lat; a primary of a set or proposed float outside it is bad data.

    Returns
    -------
    tuple of Float
        Those without a problem, in file order.
    """
    sheet = Sheet(table, {**COLUMNS, **POSITION}, log)
    sheet.require("float_id", "length", "width")
    if sheet.unknown:
        text = f"not known, kept but not used: {', '.join(sheet.unknown)}"
        sheet.caution("unknown_column", text, None)
    lonlat = near_lake(sheet, read_positions(sheet, crs=crs), lake)
    columns = _read(sheet)
    _tell_doubled(sheet, columns["float_id"])
    _tell_clashes(sheet, columns)
    extra = _extra(sheet)
    if not all(sheet.has(name) for name in ("float_id", "length", "width")):
        return ()
    floats = tuple(
        _one(sheet, row, lonlat[row], columns, extra[row])
        for row in range(len(sheet))
        if _whole(sheet, row, lonlat[row], columns)
    )
    _tell_outside(sheet, floats, lake)
    return floats


def _read(sheet: Sheet) -> dict[str, list[Any]]:
    """All columns by the field's name."""
    columns: dict[str, list[Any]] = {"float_id": sheet.text("float_id")}
    for base, name in (_LENGTHS | _WEIGHTS).items():
        columns[name] = sheet.measured(base, above=base not in _MAY_BE_0)
    columns["hook_depth_m"] = sheet.measured("hook_depth", least=None)
    columns["depth_m"] = sheet.measured("depth")
    columns["position_error_m"] = sheet.measured("position_error", above=True)
    columns["block_density_kg_m3"] = sheet.measured("block_density", above=True)
    columns["absorber_stiffness_n_m"] = sheet.measured("absorber_stiffness", above=True)
    for name, choices in _CHOICES.items():
        also = {word: right for word, right in _ALSO.items() if right in choices}
        found = sheet.choice(name, (*choices, *also))
        blank = _BLANK_MEANS.get(name)
        columns[name] = [blank if word is None else also.get(word, word) for word in found]
    for name, least in _COUNTS.items():
        columns[name] = sheet.whole_number(name, least=least)
    for name in _TEXTS:
        columns[name] = sheet.text(name)
    for name in ("wind_from_deg", "bearing_deg"):
        columns[name] = sheet.number(name, low=0.0, high=360.0)
    columns["set_on"] = sheet.iso_date("set_on")
    columns["chain_grade"] = _grades(sheet)
    columns["chain"] = _formed(sheet, "chain", _CHAIN, "3/8 in or 10 mm")
    columns["cable"] = _formed(sheet, "cable", _CABLE, "5/16 in galvanised or 8 mm stainless")
    columns["fittings"] = [
        _fittings(sheet, row, text) for row, text in enumerate(sheet.text("fittings"))
    ]
    return columns


def _grades(sheet: Sheet) -> list[int | None]:
    grades = sheet.whole_number("chain_grade", least=1)
    for row, grade in enumerate(grades):
        if grade is not None and grade not in _GRADES:
            sheet.tell(
                "bad_grade", f"{grade} is no grade we know; write 30, 43 or 70", row, "chain_grade"
            )
    return grades


def _formed(sheet: Sheet, name: str, form: re.Pattern[str], example: str) -> list[str | None]:
    """Text of a form, its blanks evened out."""
    found = []
    for row, text in enumerate(sheet.text(name)):
        even = (
            None if text is None else re.sub(r"\s+", " ", text.replace("galvanized", "galvanised"))
        )
        if even is not None and not form.fullmatch(even):
            sheet.tell(f"bad_{name}", f"{text!r} can't be read; write it as {example}", row, name)
        found.append(even)
    return found


def _fittings(sheet: Sheet, row: int, text: str | None) -> tuple[Fitting, ...]:
    """Fittings, hook to primary: name, size and count, parted by semicolons."""
    found = []
    for part in (text or "").split(";"):
        if not part.strip():
            continue
        match = _FITTING.fullmatch(part.strip())
        if match is None:
            shown = part.strip()
            why = f"{shown!r} can't be read; write name, size, count, as: shackle 1/2 in 2"
            sheet.tell("bad_fitting", why, row, "fittings")
            continue
        found.append(
            Fitting(
                name=match["name"].strip().lower(),
                size=re.sub(r"\s+", " ", match["size"]),
                count=int(match["count"] or 1),
            )
        )
    return tuple(found)


def _tell_doubled(sheet: Sheet, ids: list[str | None]) -> None:
    first: dict[str, int] = {}
    for row, name in enumerate(ids):
        if name is None:
            continue
        if name in first:
            other = sheet.table.row_numbers[first[name]]
            text = f"{name!r} stands in row {other} too; each float needs its own"
            sheet.tell("float_id_doubled", text, row, "float_id")
        first.setdefault(name, row)


def _tell_clashes(sheet: Sheet, columns: dict[str, list[Any]]) -> None:
    """Things given twice, or to no purpose."""
    for row in range(len(sheet)):
        for cluster in ("primary", "secondary"):
            blocks, weight = f"{cluster}_blocks", f"{cluster}_weight"
            if columns[blocks][row] is not None and columns[f"{weight}_kg"][row] is not None:
                text = f"give {blocks} or {weight}, not both"
                sheet.tell("two_weights", text, row, weight)
        if columns["wind_from_deg"][row] is not None and columns["position_of"][row] != "float":
            text = "not used: it tells the wind of a fix on the float (position_of = float)"
            sheet.caution("wind_not_used", text, row, "wind_from_deg")


def _whole(sheet: Sheet, row: int, lonlat: FloatArray, columns: dict[str, list[Any]]) -> bool:
    """Tell what a row cannot do without."""
    whole = bool(np.isfinite(lonlat).all())
    for base, name in (("float_id", "float_id"), ("length", "length_m"), ("width", "width_m")):
        if columns[name][row] is None:
            whole = False
            if is_blank(list(sheet.cells(base))[row]):
                text = "is missing; every float needs one"
                sheet.tell("cell_missing", text, row, sheet.written(base))
    return whole


def _extra(sheet: Sheet) -> list[Mapping[str, str]]:
    """Cells of unknown columns, as text."""
    index = [(name, sheet.table.columns.index(name)) for name in sheet.unknown]
    return [
        MappingProxyType(
            {name: str(row[k]) for name, k in index if k < len(row) and not is_blank(row[k])}
        )
        for row in sheet.table.rows
    ]


def _one(
    sheet: Sheet,
    row: int,
    lonlat: FloatArray,
    columns: dict[str, list[Any]],
    extra: Mapping[str, str],
) -> Float:
    return Float(
        row=sheet.table.row_numbers[row],
        lon=float(lonlat[0]),
        lat=float(lonlat[1]),
        extra=extra,
        **{name: values[row] for name, values in columns.items()},
    )


def _tell_outside(sheet: Sheet, floats: tuple[Float, ...], lake: Geometry) -> None:
    """Primaries of set and proposed floats on land."""
    if lake is None:
        return
    projection = LakeProjection.centred_on(lake)
    asked = [one for one in floats if one.position_of == "primary" and one.status != "retired"]
    xy = np.column_stack(
        projection.to_xy([one.lon for one in asked], [one.lat for one in asked])
    ).reshape(-1, 2)
    wet = inside(projection.project(lake), xy)
    place = {number: row for row, number in enumerate(sheet.table.row_numbers)}
    for one, is_wet in zip(asked, wet.tolist(), strict=True):
        if not is_wet:
            text = (
                f"float {one.float_id} at {one.lat:.6f}, {one.lon:.6f} lies outside the lake;"
                " look at its position"
            )
            sheet.tell("outside_lake", text, place[one.row])
