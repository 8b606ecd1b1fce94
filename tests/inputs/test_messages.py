"""What a volunteer reads when something is wrong: file, row, column, value, what would be right."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lakemap.basis.errors import BadInputError
from lakemap.inputs.folder import read_field

FLOATS = "float_id,lon,lat,length_ft,width_ft,{column}\n1,-37.005,41.005,10,8,{cell}\n"
TOML = '[levels]\nlow = "-1 ft"\nnormal = "0 ft"\nhigh = "1 ft"\n'
LAKE = "lon,lat\n-37.01,41.0\n-37.0,41.0\n-37.0,41.01\n-37.01,41.01\n"


def lines(folder):
    with pytest.raises(BadInputError) as caught:
        read_field(folder)
    return str(caught.value).splitlines()


def notes(folder):
    return [problem.line() for problem in read_field(folder).problems]


@pytest.mark.parametrize(
    ("column", "cell", "line"),
    [
        ("riser_length_ft", "-3", "floats.csv row 2 riser_length_ft: '-3' must be above 0"),
        ("riser_length_ft", "nan", "floats.csv row 2 riser_length_ft: 'nan' is no quantity; write a number and one of ft, in, m, mm, cm, km, yd, mi"),
        ("riser_length_ft", "long", "floats.csv row 2 riser_length_ft: 'long' is no quantity; write a number and one of ft, in, m, mm, cm, km, yd, mi"),
        ("riser_length", "12", "floats.csv row 2 riser_length: no unit; write riser_length_ft, riser_length_in, riser_length_m or riser_length_mm, or a unit in each cell"),
        ("riser_length_lb", "12", "floats.csv riser_length_lb: lb measures no length; write riser_length_ft, riser_length_in, riser_length_m or riser_length_mm"),
        ("set_on", "2024-13-05", "floats.csv row 2 set_on: 2024-13-05 is no date; write year-month-day, as 2024-05-13"),
        ("status", "propsed", "floats.csv row 2 status: 'propsed' is none of set, proposed, retired; did you mean proposed?"),
        ("bottom", "stone", "floats.csv row 2 bottom: 'stone' is none of sand, gravel, silt, mud, clay, rock"),
        ("primary_blocks", "2.5", "floats.csv row 2 primary_blocks: '2.5' is no count; write a whole number from 0 on"),
        ("bearing_deg", "400", "floats.csv row 2 bearing_deg: '400' is out of range; write 0 to 360"),
        ("chain_grade", "80", "floats.csv row 2 chain_grade: 80 is no grade we know; write 30, 43 or 70"),
        ("chain", "thick", "floats.csv row 2 chain: 'thick' can't be read; write it as 3/8 in or 10 mm"),
        ("cable", "5/16", "floats.csv row 2 cable: '5/16' can't be read; write it as 5/16 in galvanised or 8 mm stainless"),
        ("fittings", "shackle", "floats.csv row 2 fittings: 'shackle' can't be read; write name, size, count, as: shackle 1/2 in 2"),
        ("hook_depth_ft", "1,5", "floats.csv: no lake"),
    ],
)  # fmt: skip
def test_a_wrong_cell(folder, column, cell, line):
    if "," in cell:
        found = lines(folder(floats__csv=FLOATS.format(column=column, cell=f'"{cell}"')))
        assert found == [
            f"floats.csv row 2 {column}: '1,5' is no number; write a point for the decimals"
        ]
        return
    assert lines(folder(floats__csv=FLOATS.format(column=column, cell=cell))) == [line]


def test_the_hook_alone_may_be_negative(folder):
    field = read_field(folder(floats__csv=FLOATS.format(column="hook_depth_ft", cell="-1.5")))
    assert field.floats[0].hook_depth_m == pytest.approx(-1.5 * 0.3048)


def test_all_problems_of_all_files_at_once(folder):
    found = lines(
        folder(
            field__toml='[levels]\nlow = "-1 ft"\nnormal = "0"\nhigh = "1 ft"\n[wave]\nheight = 2\n',
            lake__csv="lon,lat\n-37.01,41.0\n-37.0,41.0\n",
            floats__csv="float_id,lon,lat,length,width_ft\n1,-37.005,41.005,10,8\n1,-37.005,41.005,ten,8\n",
        )
    )
    assert found == [
        "field.toml row 5 wave: unknown key; the nearest known one is 'wake'",
        "field.toml row 3 levels.normal: '0' has no unit; write one of ft, in, m, mm, cm, km, yd, mi",
        "lake.csv row 2: the shore has 2 corners; an outline needs three at least",
        "floats.csv row 2 length: no unit; write length_ft, length_in, length_m or length_mm, or a unit in each cell",
        "floats.csv row 3 float_id: '1' stands in row 2 too; each float needs its own",
    ]


@pytest.mark.parametrize(
    ("files", "line"),
    [
        ({"floats__csv": b""}, "floats.csv: the file is empty; give it a header row at least, or take it away"),
        ({"lake__geojson": "{}"}, "lake.csv: lake.csv and lake.geojson are both the lake; keep one and take the other away"),
        ({"floats__csv": "float_id,lon,lat,length_ft,width_ft,owner\n1,-37.005,41.005,10,8,Zoë\n".encode("cp1252")},
         "floats.csv row 2: the text is not UTF-8 (near 'ë'; it looks like Windows text, cp1252); save it again as UTF-8 (in a spreadsheet: CSV UTF-8)"),
        ({"floats__csv": "float_id\n1\n".encode("utf-16")}, "floats.csv: the text is UTF-16; save it again as UTF-8 (in a spreadsheet: CSV UTF-8)"),
        ({"floats__csv": "\n<!DOCTYPE html>\n<html><body>Sign in</body></html>"},
         "floats.csv: this is a web page, as a link or a sign-in gives it, not the file itself; open the page in a browser and download or export the file from there"),
        ({"lake__csv": None, "lake__geojson": b"\xef\xbb\xbf<HTML><body></body></HTML>"},
         "lake.geojson: this is a web page, as a link or a sign-in gives it, not the file itself"),
        ({"floats__csv": b"a\0b"}, "floats.csv: this is no text file; save it as CSV UTF-8"),
        ({"lake__csv": None, "lake__geojson": "{ nonsense"}, "lake.geojson: the file can't be read"),
        ({"lake__csv": None, "lake__kml": "<kml><broken"}, "lake.kml: the file is broken XML"),
        ({"lake__csv": None, "lake__gpx": '<!DOCTYPE x [<!ENTITY e "boom">]><gpx>&e;</gpx>'}, "lake.gpx: the file defines entities or a document type, which is refused; export it again"),
        ({"floats__xlsx": b"PK nonsense", "floats__csv": None}, "floats.xlsx: this is no spreadsheet that can be read; save it again as XLSX or CSV UTF-8"),
        ({"floats__csv": "float_id,lon,lat,length_ft,width_ft\n1,41.005,-37.005,10,8\n"},
         "floats.csv row 2 lon: lon 41.005, lat -37.005: the two look swapped; the lake lies there the other way"),
        ({"floats__csv": "float_id,lon,lat,length_ft,width_ft\n1,-37.005,141,10,8\n"},
         "floats.csv row 2 lat: lon -37.005, lat 141: latitude and longitude look swapped: latitude is -90 to 90"),
        ({"floats__csv": "float_id,lon,lat,length_ft,width_ft\n1,-37.02,41.005,10,8\n"},
         "floats.csv row 2: float 1 at 41.005000, -37.020000 lies outside the lake; look at its position"),
        ({"floats__csv": "float_id,lon,lat,length_ft,width_ft,length_m\n1,-37.005,41.005,10,8,3\n"},
         "floats.csv: length_ft and length_m give the same thing; keep one"),
        ({"floats__csv": "float_id,lon,lat,length_ft,width_ft\n1,-37.005,41.005,10,8,9\n"},
         "floats.csv row 2: the row has 6 cells, the header 5; is a comma too many?"),
        ({"floats__csv": "float_id,lon,lat,width_ft\n1,-37.005,41.005,8\n"},
         "floats.csv length: the column is missing; add length_ft, length_in, length_m or length_mm"),
        ({"floats__csv": "float_id,length_ft,width_ft\n1,8,8\n"}, "floats.csv lon: the column is missing; add lon"),
        ({"floats__csv": "float_id,lon,lat,length_ft,width_ft\n1,,41.005,8,8\n"}, "floats.csv row 2 lon: the position is missing; fill it in"),
        ({"soundings__csv": "lon,lat,depth_ft\n-37.005,41.005,-8\n"},
         "soundings.csv depth_ft: all depths are below 0; depths are positive downward: take the minus signs away"),
        ({"zones__csv": "zone,lon,lat,kind,shape\nA,-37.005,41.005,chanel,line\nA,-37.004,41.005,,\n"},
         "zones.csv row 2 kind: 'chanel' is none of swim_area, channel, frontage, intake, hazard, no_float, ramp, dock; did you mean channel?"),
        ({"zones__csv": "zone,lon,lat,kind,shape\nA,-37.005,41.005,channel,line\nA,-37.004,41.005,,\n"},
         "zones.csv row 2 width: a line needs its whole width; fill in width_ft, width_in, width_m or width_mm, or draw an area"),
        ({"field__toml": TOML + "[storm]\nwind = 50\n"}, 'field.toml row 6 storm.wind: 50 has no unit; write a quantity in quotes, as "50 mph"'),
        ({"field__toml": TOML + "name = Pond\n"}, "field.toml row 5: this line can't be read (Invalid value); quantities stand in quotes, as wind = \"50 mph\""),
        ({"field__toml": '[levels]\nlow = "1 ft"\nnormal = "0 ft"\nhigh = "1 ft"\n'}, "field.toml row 1 levels: low, normal and high must rise in this order; up is +"),
        ({"field__toml": None}, "field.toml: no field.toml in"),
        ({"lake__csv": None}, "lake: no lake file in"),
        ({"lake__csv": "lon,lat\n-37.01,41.0\n-37.0,41.01\n-37.0,41.0\n-37.01,41.01\n"},
         "lake.csv row 2: the lake crosses itself or has no area (self-intersection); a mend would change its area by"),
    ],
)  # fmt: skip
def test_a_wrong_file(folder, files, line):
    found = lines(folder(**files))
    assert found[0].startswith(line), found


def test_a_folder_that_is_not_there(tmp_path):
    assert "is not there; `lakemap start" in lines(tmp_path / "none")[0]
    (tmp_path / "file").write_text("x")
    assert "is a file; name its folder" in lines(tmp_path / "file")[0]


def test_a_file_over_200_mb(folder):
    here = folder()
    with (here / "soundings.csv").open("wb") as file:
        file.truncate(200_000_001)
    assert lines(here) == ["soundings.csv: the file has 200 MB; the most that is read is 200 MB"]


def test_a_file_that_another_program_holds(folder, monkeypatch):
    from pathlib import Path

    def refuse(self):
        raise PermissionError(13, "Permission denied")

    here = folder()
    monkeypatch.setattr(Path, "read_bytes", refuse)
    found = lines(here)
    assert (
        found[-1]
        == "floats.csv: the file can't be opened; close it in the other program (a spreadsheet?) and try again"
    )


def test_twenty_slips_of_a_kind_and_how_many_more(folder):
    rows = "".join(f"{k},-37.005,41.00{k % 10},x,8\n" for k in range(30))
    found = lines(folder(floats__csv="float_id,lon,lat,length_ft,width_ft\n" + rows))
    assert len(found) == 21
    assert found[-1] == "floats.csv length_ft: and 10 more like it"


def test_cautions_do_not_stop_the_run(folder):
    found = notes(
        folder(
            floats__csv="float_id;lon;lat;length_ft;width_ft;colour\n1;-37,005;41,005;10;8;red\n",
            Floatz__csv="x\n1\n",
            zones__xls="old",
        )
    )
    assert (
        "floats.csv: read with semicolons and decimal commas, as a spreadsheet writes them" in found
    )
    assert "floats.csv: not known, kept but not used: colour" in found
    assert "zones.xls: not read; save it as XLSX or CSV UTF-8" in found


def test_a_lake_without_floats(folder):
    assert read_field(folder(floats__csv="float_id,lon,lat,length_ft,width_ft\n")).floats == ()


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    name=st.sampled_from(["field__toml", "lake__csv", "floats__csv", "zones__csv", "soundings__csv", "zones__geojson", "zones__kml", "zones__gpx", "zones__xlsx"]),
    junk=st.binary(max_size=300) | st.text(max_size=200).map(str.encode),
)  # fmt: skip
def test_junk_in_any_file_is_told_never_a_traceback(folder, name, junk):
    here = folder(**{name: junk})
    said = "read"
    try:
        read_field(here)
    except BadInputError as error:
        said = str(error)
    (here / name.replace("__", ".")).unlink()
    assert said


def test_a_locked_spreadsheet_and_a_map_file_in_utf16_say_what_to_do(tmp_path):
    from lakemap.basis.errors import ProblemLog
    from lakemap.inputs.layers import read_layer

    locked, wide = tmp_path / "floats.xlsx", tmp_path / "zones.geojson"
    locked.write_bytes(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"x" * 600)
    wide.write_text('{"type": "FeatureCollection", "features": []}', encoding="utf-16")
    log = ProblemLog()
    assert read_layer(locked, log) is None
    assert read_layer(wide, log) is None
    told = [problem.text for problem in log]
    assert "locked with a password" in told[0]
    assert "UTF-16" in told[1]
    assert not any(str(tmp_path) in text for text in told)
