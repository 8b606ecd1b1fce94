"""Sounders' files as volunteers have them: odd line ends, spellings, packings, wrong signs, jumps."""

import gzip
import zipfile

import openpyxl
import pytest
from sounder_logs import LAT, LON, dpt, gga, rmc

from lakemap.basis.errors import BadInputError
from lakemap.gathering.gather import gather
from lakemap.gathering.gpx_track import gpx_rows
from lakemap.gathering.lines import MOST_SIGNS, Tally, byte_lines
from lakemap.gathering.nmea_log import NmeaLog
from lakemap.gathering.records import Asked
from lakemap.gathering.table_rows import table_readings, xyz_readings
from lakemap.gathering.xml_points import gpx_points

FT = 0.3048
ROWS = [(LON + k * 6e-5, LAT, 4.0 + k / 10) for k in range(4)]


def put(tmp_path, data, name="some.txt"):
    path = tmp_path / name
    path.write_bytes(data if isinstance(data, bytes) else data.encode("utf-8"))
    return path


def table(*, header="lon,lat,depth_m", row="{0:.6f},{1:.6f},{2}"):
    return "\n".join([header, *(row.format(*one) for one in ROWS)]) + "\n"


def preview(folder, path, **asked):
    return gather(folder, [path], Asked(preview=True, **asked)).reports[0]


def refused(folder, path, **asked):
    with pytest.raises(BadInputError) as told:
        preview(folder, path, **asked)
    return str(told.value)


# line ends


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_lines_end_as_they_like(tmp_path, end):
    path = put(tmp_path, f"\ufeffone{end}{end}two{end}three")
    assert list(byte_lines(path)) == [b"one", b"", b"two", b"three"]


def test_lines_that_end_in_cr_are_whole_wherever_the_file_is_cut(tmp_path):
    lines = [b"x" * (k % 97) for k in range(4000)]  # 192 kB: three pieces
    assert 2 * MOST_SIGNS < sum(map(len, lines)) < 3 * MOST_SIGNS
    assert list(byte_lines(put(tmp_path, b"\r".join(lines) + b"\r"))) == lines


def test_what_has_no_line_end_comes_in_bounded_pieces(tmp_path):
    data = b"y" * (5 * MOST_SIGNS + 7)
    found = list(byte_lines(put(tmp_path, data)))
    assert b"".join(found) == data
    assert max(map(len, found)) <= 2 * MOST_SIGNS


@pytest.mark.parametrize("end", ["\r", "\n\r", "\r\r\n"])
def test_a_table_and_a_log_with_strange_line_ends(folder, tmp_path, end):
    text = table().replace("\n", end)
    assert preview(folder(), put(tmp_path, text, "a.csv")).taken == 4
    log = "".join(rmc(43200 + k, LAT, LON + k * 6e-5) + dpt("4.00", 0.3) for k in range(5))
    assert preview(folder(), put(tmp_path, log.replace("\r\n", end), "a.log")).taken == 4


# what a file is


def test_a_workbook_is_a_table(folder, tmp_path):
    book = openpyxl.Workbook()
    for cells in (("Lon", "Lat", "Depth (ft)", "Date"), *((*row, "2025-06-14") for row in ROWS)):
        book.active.append(cells)
    book.active.append((LON, LAT, "deep", None))
    path = tmp_path / "sounder.xlsx"
    book.save(path)
    report = preview(folder(), path)
    assert report.taken == 4
    assert report.lines[0] == "6 rows of a workbook: 4 good soundings"
    assert [(one.count, one.first) for one in report.left] == [(1, "row 6: 'deep' is no number")]
    assert any("2025-06-14" in one for one in report.cautions)  # nobody read the gauge that day
    tally = Tally()
    depths = [one.depth for one in table_readings(path, Asked(), tally, kind="xlsx").rows]
    assert depths == pytest.approx([depth * FT for _, _, depth in ROWS])


def test_what_is_packed_is_to_be_unpacked(folder, tmp_path):
    path = tmp_path / "logs.zip"
    with zipfile.ZipFile(path, "w") as packed:
        packed.writestr("saturday.log", gga(1.0) + dpt("4.0", 0.3) + gga(2.0))
    assert "logs.zip: the file is packed; unpack it" in refused(folder(), path)
    path = put(tmp_path, gzip.compress(table().encode()), "a.csv.gz")
    assert "a.csv.gz: the file is packed; unpack it" in refused(folder(), path)


@pytest.mark.parametrize("data", ["\n\r\n", "\ufeff", "# nothing\n\n"])
def test_nothing_but_blanks(folder, tmp_path, data):
    said = refused(folder(), put(tmp_path, data))
    assert said == "some.txt: nothing stands in it but blank lines or comments"


def test_names_that_no_file_can_have(folder, tmp_path):
    assert f"{'x' * 300}: the file can't be read: " in refused(folder(), tmp_path / ("x" * 300))


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("a.csv", "lon,lat,depth_m\n", "a.csv: no sounding stands in it"),
        ("a.csv", "lon,lat,depth_m\n,,\n-37,41,deep\n",
         "a.csv: no sounding can be read in it: a row that can't be read (line 2: '' is no number)"),
        ("a.log", dpt("4.0", 0.3) * 2, "a.log: no sounding can be read in it: no position after"
         " it, within 10 seconds (line 1)"),
        ("a.gpx", "<gpx><wpt lat='41' lon='-37'><extensions><depth>nan</depth></extensions></wpt>"
         "</gpx>", "a.gpx: no sounding can be read in it: a point that can't be read (point 1:"
         " depth 'nan' is no number)"),
    ],
)  # fmt: skip
def test_a_file_of_which_nothing_can_be_read_is_refused(folder, tmp_path, name, text, said):
    assert refused(folder(), put(tmp_path, text, name)) == said


# tables


def test_names_and_numbers_parted_by_blanks(folder, tmp_path):
    text = table(header="% my boat\n// harbour\n; and\nlon  lat depth_m", row="{0:.6f}  {1} {2}")
    assert preview(folder(), put(tmp_path, text)).taken == 4


def test_plain_text_with_comments_of_any_kind(tmp_path):
    path = put(tmp_path, "% a\n// b\n; c\n# d\n-37.0001 41.0002 3.5\n")
    (row,) = xyz_readings(path, Asked(depth_unit="m"), tally := Tally()).rows
    assert (row.depth, row.line, tally.left()) == (3.5, 5, ())


@pytest.mark.parametrize(
    ("lon", "lat"),
    [
        ("37.005W", "41.005N"), ("W 37.005", "n41.005"), ("37°00'18\"W", "41°00.3'N"),
        ("-37.005°", "41.005°"), ("-37.005", "41.005N"),
    ],
)  # fmt: skip
def test_letters_of_the_half_and_minutes(tmp_path, lon, lat):
    quoted = ('"{}"'.format(one.replace('"', '""')) for one in (lon, lat))
    path, tally = put(tmp_path, f"lon,lat,depth_m\n{','.join(quoted)},4\n"), Tally()
    (row,) = table_readings(path, Asked(), tally).rows
    assert (row.first, row.second) == pytest.approx((-37.005, 41.005), abs=1e-9)


@pytest.mark.parametrize("lon", ["nan", "37.005N", "181W", "e", "37.005X"])
def test_what_is_no_longitude(tmp_path, lon):
    path, tally = put(tmp_path, f"lon,lat,depth_m\n{lon},41.005,4\n"), Tally()
    assert list(table_readings(path, Asked(), tally).rows) == []
    assert tally.left()[0].count == 1


@pytest.mark.parametrize(
    ("cell", "depth_m"), [("12 ft", 12 * FT), ("3.5 m", 3.5), ("12'6\"", 12.5 * FT), ("3.5", 3.5)]
)
def test_a_depth_that_carries_its_own_unit(tmp_path, cell, depth_m):
    quoted = cell.replace('"', '""')
    path = put(tmp_path, f'lon,lat,depth_m\n-37.005,41.005,"{quoted}"\n')
    (row,) = table_readings(path, Asked(), Tally()).rows
    assert row.depth == pytest.approx(depth_m)


def test_a_column_of_the_level_is_not_passed_over_in_silence(folder, tmp_path):
    path = put(tmp_path, table(header="lon,lat,depth_m,level_ft", row="{0},{1},{2},1.5"))
    told = "its column 'level_ft' is not read: say --level, or put its readings into the levels"
    assert any(one.startswith(told) for one in preview(folder(), path).cautions)
    assert not any("is not read" in one for one in preview(folder(), path, level_m=0.4).cautions)


@pytest.mark.parametrize(
    ("header", "row", "said"),
    [
        ("lat,lon,depth_m", "{0},{1},{2}", "lat and lon look changed over"),
        ("lon,lat,depth_m", "37.005,{1},{2}", "longitudes look as if they lacked a minus"),
        ("lon,lat,depth_m", "{0},-41.005,{2}", "latitudes look as if they lacked a minus"),
        ("lon,lat,depth_m", "3{0},{1},{2}", "is it the log of another one?"),
        ("lon,lat,depth_m", "{0},{1},0", "none of its depths can be one of this lake"),
    ],
)
def test_a_place_elsewhere_is_explained(folder, tmp_path, header, row, said):
    path = put(tmp_path, table(header=header, row=row.replace("3{0}", "-36.9")))
    report = preview(folder(), path)
    assert report.taken == 0
    assert said in report.cautions[-1]
    assert not any("speed of sound" in one for one in report.lines)


# GPX


def gpx(inner):
    return f"<gpx><wpt lat='41.005' lon='-37.005'><extensions>{inner}</extensions></wpt></gpx>"


@pytest.mark.parametrize(
    ("inner", "depth_m"),
    [
        ('<depth uom="ft">10</depth>', 3.048), ('<depth units="FT">10</depth>', 3.048),
        ("<depth_ft>10</depth_ft>", 3.048), ("<a:WaterDepthM xmlns:a='u'>3</a:WaterDepthM>", 3),
        ("<depth>10 ft</depth>", 3.048), ("<depth>3</depth>", 3),
    ],
)  # fmt: skip
def test_units_of_depths_in_gpx(tmp_path, inner, depth_m):
    (row,) = gpx_rows(put(tmp_path, gpx(inner)), Asked(), Tally())
    assert row.read_m == pytest.approx(depth_m)


def test_a_gpx_file_that_is_nested_without_end(tmp_path):
    path = put(tmp_path, gpx("<a>" * 200_000 + "</a>" * 200_000))
    with pytest.raises(BadInputError, match="deeper than 100 in one another; export it again"):
        list(gpx_points(path))


# logs and levels


def test_depths_between_positions_that_jump_are_left_out(tmp_path):
    far = 0.004  # degrees of latitude: 445 m, in a second
    path = put(
        tmp_path,
        "".join(
            gga(43200 + k, LAT + far * (k == 3), LON + k * 6e-5) + dpt("4.00", 0.3)
            for k in range(7)
        )
        + gga(43207, LAT, LON + 7 * 6e-5),
    )
    tally = Tally()
    rows = list(NmeaLog(Asked(), tally).rows(path))
    assert [row.line for row in rows] == [2, 4, 10, 12, 14]
    assert {round(row.lat, 6) for row in rows} == {LAT}
    (left,) = tally.left()
    assert (left.count, left.first) == (2, "line 6")
    assert left.words == "between two positions so far apart that one of them is wrong"


def test_a_fast_boat_and_a_coarse_receiver_do_not_jump(tmp_path):
    step = 45 / 111_320  # degrees: 20 m/s, and a last digit of 18 m
    path = put(
        tmp_path,
        "".join(gga(43200 + k, LAT + k * step) + dpt("4", 0.3) for k in range(3)),
    )
    tally = Tally()
    assert len(list(NmeaLog(Asked(), tally).rows(path))) == 2


def test_a_level_of_another_gauge_is_refused(folder, tmp_path):
    path = put(tmp_path, table())
    # low −1 ft, high 1 ft; a height above the sea
    assert refused(folder(), path, level_m=247.0) == (
        "--level: 810.4 ft is far from the lake's low and high of field.toml, −1.0 ft and 1.0 ft;"
        " write its height on the lake's own gauge, as those are"
    )
    report = preview(folder(), path, level_m=2.0)
    assert "a level of 6.6 ft is far from low and high of field.toml" in report.cautions[0]
    assert not any("far from low" in one for one in preview(folder(), path, level_m=1).cautions)
    here = folder(levels__csv="date,level_ft\n2025-06-14,810\n")
    log = "".join(rmc(43200 + k, LAT, LON + k * 6e-5) + dpt("4.00", 0.3) for k in range(3))
    (caution,) = preview(here, put(tmp_path, log)).cautions
    assert caution.startswith("a level of 810.0 ft is far from")


# options that no file has a use for


@pytest.mark.parametrize(
    ("asked", "option"),
    [({"inside_m": 3.0}, "--inside"), ({"float_id": "1"}, "--float"), ({"place": True}, "--place")],
)
def test_an_option_of_another_kind_is_told_not_passed_over(folder, tmp_path, asked, option):
    said = refused(folder(), put(tmp_path, table(), "some.csv"), **asked)
    assert option in said
    assert "no file is read as such" in said
