"""Sounders' CSV tables and plain text of x, y and depth: columns, units, signs, days."""

from datetime import date

import pytest
from conftest import HERE, make_field, make_settings

from lakemap.basis.errors import BadInputError
from lakemap.gathering.columns import find_columns
from lakemap.gathering.lines import Tally
from lakemap.gathering.placing import placed
from lakemap.gathering.records import Asked
from lakemap.gathering.table_rows import day_of, table_readings, xyz_readings

FT = 0.3048


def read(tmp_path, text, reader=table_readings, field=None, **asked):
    path, tally, wanted = tmp_path / "depths.txt", Tally(), Asked(**asked)
    path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    table = reader(path, wanted, tally)
    found = placed(table, path, field or make_field([]), asked=wanted, tally=tally)
    rows = [
        tuple(row)
        for one in found
        for row in zip(one.lon, one.lat, one.read_m.round(9), one.line, one.day, strict=True)
    ]
    return rows, tally


@pytest.mark.parametrize(
    ("header", "at"),
    [
        ("lat,lon,depth_ft", (1, 0, 2, FT)),
        ("Longitude,Latitude,Depth (m)", (0, 1, 2, 1.0)),
        ("Time,Lat,Lng,Water Depth [feet]", (2, 1, 3, FT)),
        ("lat,long,WaterDepth_ft", (1, 0, 2, FT)),
        ("lat,lon,depth in metres,depth_valid", (1, 0, 2, 1.0)),
        ("lat,lon,transducer depth (ft),depth (ft),temp", (1, 0, 3, FT)),
        ("lat,lon,depth,depth_m", (1, 0, 3, 1.0)),
        ("lat,lon,Depth (fathoms)", (1, 0, 2, 6 * FT)),
        ("Easting,Northing,sounding_m", (0, 1, 2, 1.0)),
        ("lat,lon,depth", (1, 0, 2, None)),
    ],
)
def test_columns_by_their_plain_names(header, at):
    found = find_columns(header.split(","))
    assert (found.first, found.second, found.depth, found.depth_unit_m) == at
    assert found.kind == ("xy" if "Easting" in header else "degrees")


@pytest.mark.parametrize(
    ("header", "said"),
    [
        ("lat,lon,temperature_f", "names no depth (depth_ft or depth_m); it has: lat, lon, temp"),
        ("lat,depth_ft", "names no position (lat and lon, or x and y); it has"),
        ("a,b,c", "names no position (lat and lon, or x and y) and no depth"),
    ],
)
def test_what_is_missing_is_said(header, said):
    with pytest.raises(ValueError, match="the header names") as told:
        find_columns(header.split(","))
    assert said in str(told.value)


def test_rows_with_their_days(tmp_path):
    text = (
        "# my boat\nlat,lon,depth_ft,time\n41.0001,-37.0002,10,2025-06-14T23:59:00\n"
        "41.0002,-37.0002,12.5,2025/06/15\n\n41.0003,-37.0002,13,06/07/2025\n"
    )
    rows, tally = read(tmp_path, text)
    fourteen = date(2025, 6, 14).toordinal()
    assert rows == [
        (-37.0002, 41.0001, round(10 * FT, 9), 3, fourteen),
        (-37.0002, 41.0002, round(12.5 * FT, 9), 4, fourteen + 1),
        (-37.0002, 41.0003, round(13 * FT, 9), 6, 0),  # may be June or July
    ]
    assert tally.left() == ()
    rows, _ = read(tmp_path, text, day=date(2025, 7, 6))
    assert [row[4] for row in rows] == [fourteen, fourteen + 1, date(2025, 7, 6).toordinal()]


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2025-06-14", date(2025, 6, 14)),
        ("20250614", date(2025, 6, 14)),
        ("2025-06-14 08:00:01+02:00", date(2025, 6, 14)),
        ("1749859200", date(2025, 6, 14)),  # 20253 days of 86400 s after 1970-01-01
        ("1749859199", date(2025, 6, 13)),
        ("1749859200000", date(2025, 6, 14)),
        ("12:00:01", None),
        ("6/14/2025", None),
        ("", None),
    ],
)
def test_days_as_loggers_write_them(text, day):
    assert day_of(text) == (day.toordinal() if day else 0)


def test_semicolons_and_decimal_commas(tmp_path):
    rows, tally = read(tmp_path, "Lat;Lon;Tiefe;depth_m\n41,0001;-37,0002;x;3,25\n")
    assert rows == [(-37.0002, 41.0001, 3.25, 2, 0)]
    assert tally.said == ["read with decimal commas"]


def test_rows_that_cannot_be_read_are_counted(tmp_path):
    text = "lat,lon,depth_m\n41,-37,x\n41,-37\n41,-37,nan\n41,-37,1e400\n41,-37,2\n"
    rows, tally = read(tmp_path, text)
    assert len(rows) == 1
    (left,) = tally.left()
    assert (left.count, left.words) == (4, "a row that can't be read")
    assert left.first == "line 2: 'x' is no number"


def test_a_unit_must_be_told(tmp_path):
    with pytest.raises(BadInputError) as told:
        read(tmp_path, "lat,lon,depth\n41,-37,3\n")
    assert str(told.value) == (
        "depths.txt: 'depth' has no unit; name the column depth_ft or depth_m, or say --depth-unit ft"
    )
    rows, _ = read(tmp_path, "lat,lon,depth\n41,-37,3\n", depth_unit="ft")
    assert rows[0][2] == round(3 * FT, 9)
    # what the header says goes before
    rows, _ = read(tmp_path, "lat,lon,depth_m\n41,-37,3\n", depth_unit="ft")
    assert rows[0][2] == 3


@pytest.mark.parametrize("parting", [" ", ",", "\t", " ; ", "   "])
def test_plain_text_is_parted_by_anything(tmp_path, parting):
    text = f"# x y z\n-37.0001{parting}41.0002{parting}3.5\n"
    rows, tally = read(tmp_path, text, xyz_readings, depth_unit="m")
    assert rows == [(-37.0001, 41.0002, 3.5, 2, 0)]
    assert tally.said == ["the first two columns are lon, lat"]


def test_plain_text_with_latitude_first_and_depths_downward(tmp_path):
    text = "41.0002 -37.0001 -3.5\n41.0003 -37.0001 -4\n41.0003 -37.0001 0.5\n"
    rows, tally = read(tmp_path, text, xyz_readings, depth_unit="m")
    assert [row[:3] for row in rows] == [
        (-37.0001, 41.0002, 3.5), (-37.0001, 41.0003, 4.0), (-37.0001, 41.0003, -0.5),
    ]  # fmt: skip
    assert tally.said == [
        "the first two columns are lat, lon",
        "depths count negative downward: their signs were turned",
    ]


def test_plain_text_in_the_fields_own_system(tmp_path):
    crs = HERE.text
    field = make_field([], settings=make_settings(crs=crs))
    rows, tally = read(tmp_path, "30 -40 3.5\n", xyz_readings, field, depth_unit="m")
    lon, lat = HERE.to_lonlat([30.0], [-40.0])
    assert rows[0][:2] == pytest.approx((lon[0], lat[0]), abs=1e-9)
    assert tally.said == ["the first two columns are x, y"]


def test_plain_text_of_somewhere_else(tmp_path):
    with pytest.raises(BadInputError) as told:
        read(tmp_path, "5 60 3.5\n", xyz_readings, depth_unit="m")
    assert "as 5 60, lie by the lake neither as lon, lat, nor as lat, lon" in str(told.value)


def test_plain_text_needs_a_unit(tmp_path):
    with pytest.raises(
        BadInputError, match="nothing says the unit of the depths; say --depth-unit"
    ):
        read(tmp_path, "-37 41 3.5\n", xyz_readings)


@pytest.mark.parametrize(
    ("data", "said"),
    [
        ("lat,lon,depth_m\n41,-37,3\n".encode("utf-16"), "UTF-16; save it again as UTF-8"),
        (b"lat,lon,depth_m\n41,-37,3\xe9\n", "line 2 is not UTF-8"),
        (b"lat,lon,depth_m\n" + b"4" * 100_000 + b"\n", "line 2 has more than 65,536 signs"),
    ],
)
def test_what_is_no_text(tmp_path, data, said):
    with pytest.raises(BadInputError, match=said):
        read(tmp_path, data)
