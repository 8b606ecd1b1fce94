"""Inspections, fixes, gauge readings, prices and wind: read, checked and kept for later use."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

import numpy as np

from lakemap.basis.errors import ProblemLog
from lakemap.basis.sold_by import read_sold_by
from lakemap.inputs.cells import RawTable, Sheet
from lakemap.inputs.positions import POSITION, read_positions, turn_to_degrees

Rows = tuple[Mapping[str, Any], ...]
FIX_COLUMNS: Mapping[str, None] = MappingProxyType(
    dict.fromkeys(("date", "float_id", "position_of", "wind_from_deg"))
)


def read_inspections(table: RawTable, log: ProblemLog, *, crs: str) -> Rows:
    """Read what was found at inspections; a finding `moved` carries a position."""
    known = {
        "date": None, "float_id": None, "part": None, "finding": None, "diameter": "length",
        "broken_wires": None, "by": None,
    }  # fmt: skip
    sheet = Sheet(table, {**known, **POSITION}, log)
    sheet.require("date", "float_id")
    columns: dict[str, list[Any]] = {
        "date": sheet.iso_date("date"),
        "float_id": sheet.text("float_id"),
        "part": sheet.text("part"),
        "finding": sheet.text("finding"),
        "diameter_m": sheet.measured("diameter", above=True),
        "broken_wires": sheet.whole_number("broken_wires"),
        "by": sheet.text("by"),
    }
    lon, lat = _where_given(sheet, crs)
    for row, finding in enumerate(columns["finding"]):
        if finding == "moved" and (lon[row] is None or lat[row] is None):
            text = "a float that moved needs its new position (lon, lat)"
            sheet.tell("no_position", text, row, "finding")
    columns["row"] = list(table.row_numbers)
    return _rows(sheet, columns | {"lon": lon, "lat": lat})


def _where_given(sheet: Sheet, crs: str) -> tuple[list[float | None], list[float | None]]:
    """Positions of the rows that have one; most inspections need none."""
    if sheet.table.geometry is not None:
        lonlat = read_positions(sheet, crs=crs)
        return lonlat[:, 0].tolist(), lonlat[:, 1].tolist()
    lon, lat = sheet.number("lon", low=-180, high=180), sheet.number("lat", low=-90, high=90)
    x, y = sheet.number("x"), sheet.number("y")
    given = [
        (row, east, north)
        for row, (east, north) in enumerate(zip(x, y, strict=True))
        if east is not None and north is not None
    ]
    if not given:
        return lon, lat
    rows, east, north = zip(*given, strict=True)
    turned = turn_to_degrees(np.array(east), np.array(north), crs)
    if turned is None:
        text = f"crs {crs!r} is not known; write an EPSG code, as EPSG:26918"
        sheet.tell("bad_crs", text, None, "x")
        return lon, lat
    for row, (of_lon, of_lat) in zip(rows, turned.tolist(), strict=True):
        lon[row], lat[row] = of_lon, of_lat
    return lon, lat


def read_fixes(table: RawTable, log: ProblemLog, *, crs: str) -> Rows:
    """Read what a phone saw: dated positions of floats, secondaries or primaries."""
    sheet = Sheet(table, {**FIX_COLUMNS, **POSITION}, log)
    sheet.require("date", "float_id")
    lonlat = read_positions(sheet, crs=crs)
    return _rows(
        sheet,
        {
            "date": sheet.iso_date("date"),
            "float_id": sheet.text("float_id"),
            "position_of": sheet.choice("position_of", ("primary", "secondary", "float")),
            "wind_from_deg": sheet.number("wind_from_deg", low=0, high=360),
            "lon": lonlat[:, 0].tolist(),
            "lat": lonlat[:, 1].tolist(),
        },
    )


def read_gauge(table: RawTable, log: ProblemLog, *, crs: str) -> Rows:
    """Read gauge readings; they are shown beside the levels of the settings, which decide."""
    del crs
    sheet = Sheet(table, {"date": None, "level": "length"}, log)
    sheet.require("date", "level")
    return _rows(
        sheet, {"date": sheet.iso_date("date"), "level_m": sheet.measured("level", least=None)}
    )


def read_prices(table: RawTable, log: ProblemLog, *, crs: str) -> Rows:
    """Read the user's own prices: what a part costs, per what, and how many are sold together."""
    del crs
    sheet = Sheet(table, dict.fromkeys(("part", "size", "price", "per", "pack")), log)
    sheet.require("part", "price")
    packs = sheet.number("pack", low=0)
    for row, pack in enumerate(packs):
        if pack == 0:
            text = "0 is no pack; write how many are sold together, or leave it blank"
            sheet.tell("bad_number", text, row, "pack")
    return _rows(
        sheet,
        {
            "part": sheet.text("part"),
            "size": sheet.text("size"),
            "price": sheet.number("price", low=0),
            "per": sheet.checked_text("per", read_sold_by, "bad_per"),
            "pack": packs,
        },
    )


def read_wind(table: RawTable, log: ProblemLog, *, crs: str) -> Rows:
    """Read hourly wind."""
    del crs
    sheet = Sheet(table, {"time": None, "speed": "speed", "from_deg": None}, log)
    sheet.require("time", "speed", "from_deg")
    return _rows(
        sheet,
        {
            "time": sheet.iso_time("time"),
            "speed_m_s": sheet.measured("speed"),
            "from_deg": sheet.number("from_deg", low=0, high=360),
        },
    )


def _rows(sheet: Sheet, columns: Mapping[str, list[Any]]) -> Rows:
    return tuple(
        MappingProxyType({name: values[row] for name, values in columns.items()})
        for row in range(len(sheet))
    )
