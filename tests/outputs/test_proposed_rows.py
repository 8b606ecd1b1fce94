"""Sites as proposed rows: what stood stays, byte for byte, and what is added reads back the same."""

import codecs
import csv
import io
from dataclasses import fields, replace
from types import MappingProxyType

import geopandas as gpd
import openpyxl
import pytest
from conftest import FLOATS_CSV, LAKE_CSV, LEAST_TOML
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from lakemap.basis.errors import BadInputError
from lakemap.basis.records import Fitting, Float
from lakemap.inputs.floats import COLUMNS
from lakemap.inputs.folder import read_field
from lakemap.outputs.sites import proposed_rows
from lakemap.outputs.sites.proposed_rows import add_proposed
from lakemap.siting.records import Site, SiteAsk

FT = 0.3048
LEAST = "float_id,lon,lat,length_ft,width_ft,status\n1,-37.005,41.005,10,8,\n2,-37.004,41.006,12,10,set\n"
METRE_DEGREES = 1 / 111_320  # of latitude; of longitude a metre is more degrees


def site(rank=1, lon=-37.0031234567891, lat=41.0041234567891):
    return Site(
        rank=rank,
        x_m=0.0,
        y_m=0.0,
        lon=lon,
        lat=lat,
        depth_m=4.0,
        swing_radius_m=9.0,
        riser_m=4.0,
        ground_m=4.0,
        least_spare_m=1.0,
        limited_by="float 1",
        fetch_m=300.0,
        wave_height_m=0.3,
        shore_m=40.0,
        score=0.5,
        parts=MappingProxyType({}),
    )


SITES = (site(), site(2, -37.0021111111111, 41.0072222222222))


def ask(lot=None, **more):
    like = {"float_id": "new", "row": 0, "lon": 0.0, "lat": 0.0, "status": "proposed"}
    size = {"length_m": 10 * FT, "width_m": 8 * FT}
    return SiteAsk(like=Float(**like | size | more), lot=lot)


def add(here, asked, sites=SITES):
    """Read, add, and hold what must be so every time: the old bytes, the old floats, the new ones."""
    before, field = (here / "floats.csv").read_bytes(), read_field(here)
    ids = add_proposed(here, field, sites, asked)
    after, again = (here / "floats.csv").read_bytes(), read_field(here)
    assert after[: len(before)] == before
    assert again.floats[: len(field.floats)] == field.floats
    new = again.floats[len(field.floats) :]
    assert tuple(one.float_id for one in new) == ids
    assert len(new) == len(sites)
    for one, wanted in zip(new, sites, strict=True):
        assert one.status == "proposed"
        assert one.position_of == "primary"
        assert abs(one.lon - wanted.lon) < 1e-4 * METRE_DEGREES
        assert abs(one.lat - wanted.lat) < 1e-4 * METRE_DEGREES
        assert one.length_m == pytest.approx(asked.like.length_m, rel=1e-9)
        assert one.width_m == pytest.approx(asked.like.width_m, rel=1e-9)
    return after[len(before) :], new


def refused(here, asked, sites=SITES, field=None):
    """What is said; nothing was written, and nothing is left over."""
    field = field or read_field(here)
    before = {path.name: path.read_bytes() for path in here.iterdir()}
    with pytest.raises(BadInputError) as told:
        add_proposed(here, field, sites, asked)
    assert {path.name: path.read_bytes() for path in here.iterdir()} == before
    assert "nothing was written" in str(told.value)
    return str(told.value)


def test_two_rows_at_the_end(folder):
    added, _ = add(folder(floats__csv=LEAST), ask())
    # by hand: nine decimals, ten and eight feet
    assert added == (
        b"3,-37.003123457,41.004123457,10,8,proposed\n4,-37.002111111,41.007222222,10,8,proposed\n"
    )


def test_no_site_no_change(folder):
    here = folder(floats__csv=LEAST)
    assert add_proposed(here, read_field(here), (), ask()) == ()
    assert (here / "floats.csv").read_text(encoding="utf-8") == LEAST


@pytest.mark.parametrize("mark", [b"", codecs.BOM_UTF8])
@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("last", [True, False])
def test_marks_and_line_ends(folder, mark, ending, last):
    text = LEAST.replace("\n", ending) if last else LEAST.removesuffix("\n").replace("\n", ending)
    here = folder(floats__csv=mark + text.encode())
    added, _ = add(here, ask())
    assert added.count(b"\xef\xbb\xbf") == 0
    begin, end = ("" if last else ending).encode(), ending.encode()
    assert added.startswith(begin + b"3,")
    assert added.endswith(b",proposed" + end)
    kept = added.removeprefix(begin)
    assert kept.count(end) == 2
    assert kept.replace(end, b"").count(b"\n") + kept.replace(end, b"").count(b"\r") == 0


def test_a_line_end_in_a_cell_is_no_rows_end(folder):
    text = (
        "float_id,lon,lat,length_ft,width_ft,status,note\r\n"
        '1,-37.005,41.005,10,8,,"a\nb\nc\nd\ne"\r\n2,-37.004,41.006,12,10,,"f\ng"\r\n'
    )
    added, _ = add(folder(floats__csv=text), ask())
    assert added.count(b"\r\n") == added.count(b"\n") == 2


@pytest.mark.parametrize("tail", ["\n\n", "\n  ", ",,,,,\n", ",,,,,", "# the end", "# a, b\n\n"])
def test_blank_lines_and_comments_stay(folder, tail):
    here = folder(floats__csv="# swim floats; see notes\n\n" + LEAST + tail)
    added, new = add(here, ask())
    assert added.startswith(b"3," if tail.endswith("\n") else b"\n3,")
    lines = (here / "floats.csv").read_text(encoding="utf-8").split("\n")
    assert [lines[one.row - 1].split(",")[0] for one in new] == ["3", "4"]


def test_a_header_alone(folder):
    added, new = add(folder(floats__csv="status,width_m,length_m,lat,lon,float_id"), ask())
    assert added == (
        b"\nproposed,2.4384,3.048,41.004123457,-37.003123457,1"
        b"\nproposed,2.4384,3.048,41.007222222,-37.002111111,2\n"
    )
    assert [one.float_id for one in new] == ["1", "2"]


def test_semicolons_and_decimal_commas(folder):
    text = "float_id;lon;lat;length_m;width_m;status;fittings\r\n1;-37,005;41,005;3,2;2,5;;\r\n"
    fittings = (
        Fitting(name="eye bolt", size="5/8 in"),
        Fitting(name="shackle", size="1/2 in", count=2),
    )
    added, new = add(folder(floats__csv=text), ask(length_m=3.25, fittings=fittings), SITES[:1])
    assert added == (
        b'2;-37,003123457;41,004123457;3,25;2,4384;proposed;"eye bolt 5/8 in; shackle 1/2 in 2"\r\n'
    )
    assert new[0].fittings == fittings


def test_semicolons_and_decimal_points(folder):
    text = "float_id;lon;lat;length_m;width_m;status\n1;-37.005;41.005;3.2;2.5;\n"
    added, _ = add(folder(floats__csv=text), ask(), SITES[:1])
    assert added == b"2;-37.003123457;41.004123457;3.048;2.4384;proposed\n"


def test_semicolons_and_no_row_yet(folder):
    # a spreadsheet that parts cells by semicolons writes decimal commas
    added, _ = add(
        folder(floats__csv="float_id;lon;lat;length_m;width_m;status\n"), ask(), SITES[:1]
    )
    assert added == b"1;-37,003123457;41,004123457;3,048;2,4384;proposed\n"


def test_tabs(folder):
    text = "float_id\tlon\tlat\tlength_m\twidth_m\tstatus\tlot\n1\t-37.005\t41.005\t3.2\t2.5\t\t\n"
    added, new = add(folder(floats__csv=text), ask(lot="7, north"), SITES[:1])
    assert added == b"2\t-37.003123457\t41.004123457\t3.048\t2.4384\tproposed\t7, north\n"
    assert new[0].lot == "7, north"


def test_names_as_people_write_them(folder):
    text = 'Float ID, LON ,Lat,"Length-FT",Width ft,STATUS,Shoe size,,Riser length in\n1,-37.005,41.005,10,8,,44,,120\n'
    added, new = add(folder(floats__csv=text), ask(riser_m=9 * FT), SITES[:1])
    assert added == b"2,-37.003123457,41.004123457,10,8,proposed,,,108\n"
    assert new[0].riser_m == pytest.approx(9 * FT, rel=1e-9)


@pytest.mark.parametrize(
    ("units", "length", "diameter", "weight", "depth"),
    [
        ("ft-lb", "10 ft", "22 in", "500 lb", "-11 in"),
        ("m-kg", "3.048 m", "0.5588 m", "226.796185 kg", "-0.2794 m"),
    ],
)
def test_units_in_the_cells(folder, units, length, diameter, weight, depth):
    toml = f'units = "{units}"\n{LEAST_TOML}'
    text = (
        "float_id,lon,lat,length,width,status,tube_diameter,float_weight,hook_depth\n"
        "1,-37.005,41.005,10 ft 6 in,3.2 m,,,,\n"
    )
    asked = ask(
        tube_diameter_m=22 * 0.0254, float_weight_kg=500 * 0.45359237, hook_depth_m=-11 * 0.0254
    )
    added, new = add(folder(floats__csv=text, field__toml=toml), asked, SITES[:1])
    cells = added.decode().strip().split(",")
    assert [cells[3], *cells[6:]] == [length, diameter, weight, depth]
    assert new[0].tube_diameter_m == pytest.approx(22 * 0.0254, rel=1e-9)
    assert new[0].float_weight_kg == pytest.approx(500 * 0.45359237, rel=1e-9)
    assert new[0].hook_depth_m == pytest.approx(-11 * 0.0254, rel=1e-9)


# beside UTM: the same point in feet, kilometres, degrees and a scale far from 1
LOCAL = "+proj=tmerc +lat_0=41 +lon_0=-37 +datum=WGS84 +x_0=100000 +y_0=50000"


@pytest.mark.parametrize(
    "crs", ["EPSG:32624", f"{LOCAL} +units=us-ft", f"{LOCAL} +units=km", "EPSG:4326", "EPSG:3857"]
)
@pytest.mark.parametrize("rows", [True, False])
def test_x_and_y(folder, crs, rows):
    first = gpd.GeoSeries(gpd.points_from_xy([-37.005], [41.005]), crs="EPSG:4326").to_crs(crs)[0]
    text = "float_id,y,x,length_ft,width_ft,status\n"
    text += f"1,{first.y:.9f},{first.x:.9f},10,8,\n" if rows else ""
    add(folder(floats__csv=text, field__toml=f'crs = "{crs}"\n{LEAST_TOML}'), ask())


def test_a_system_that_nobody_knows(folder):
    text = "float_id,y,x,length_ft,width_ft,status\n"
    here = folder(floats__csv=text, field__toml=f'crs = "EPSG:1"\n{LEAST_TOML}')
    assert "EPSG:1" in refused(here, ask())


@pytest.mark.parametrize(
    ("ids", "new"),
    [
        (("7", "3"), "8"),
        (("F-12", "F-13"), "1"),
        (("007", "buoy", "12b"), "8"),
        (("9" * 5000, "4"), "5"),
        (("٩", "2"), "3"),
    ],
)
def test_numbers_go_on(folder, ids, new):
    rows = "".join(f"{name},-37.005,41.005,10,8,set\n" for name in ids)
    added, _ = add(folder(floats__csv="float_id,lon,lat,length_ft,width_ft,status\n" + rows), ask())
    assert added.split(b",")[0] == new.encode()


def test_a_number_of_an_old_float_is_not_given_again(folder):
    old = "date,float_id,finding\n2020-05-01,31,lost\n"
    fixes = "date,float_id,lon,lat\n2020-05-01,28,-37.004,41.006\n"
    here = folder(floats__csv=LEAST, inspections__csv=old, fixes__csv=fixes)
    added, _ = add(here, ask())
    assert added.startswith(b"32,")


WHOLE = {
    "flotation": "billets",
    "tubes": 3,
    "tube_diameter_m": 0.5,
    "tube_length_m": 4.0,
    "billets": 4,
    "billet_length_m": 1.0,
    "billet_width_m": 0.5,
    "billet_height_m": 0.25,
    "float_weight_kg": 480.0,
    "hook": "edge",
    "hook_depth_m": -0.28,
    "riser_m": 5.0,
    "ground_m": 0.0,
    "absorber_length_m": 1.2,
    "absorber_stiffness_n_m": 900.0,
    "primary_blocks": 10,
    "secondary_blocks": 0,
    "block": "12-in hollow",
    "block_density_kg_m3": 2100.0,
    "chain": "3/8 in",
    "chain_grade": 30,
    "cable": "5/16 in galvanised",
    "cable_parts": 2,
    "cable_ends": "clips",
    "fittings": (Fitting(name="link", size="5/8 in"),),
    "bottom": "silt",
}
ONE_FLOATS = {
    "lot": "3",
    "owner": "A. Member",
    "permit": "P",
    "note": "n",
    "depth_m": 4.0,
    "bearing_deg": 90.0,
    "extra": MappingProxyType({"shoe": "44"}),
}


def whole_header(unit, mass, density, stiffness):
    ends = {
        "length": f"_{unit}",
        "mass": f"_{mass}",
        "density": f"_{density}",
        "stiffness": f"_{stiffness}",
        None: "",
    }
    return ",".join(["lon", "lat", *(base + ends[kind] for base, kind in COLUMNS.items())]) + "\n"


@pytest.mark.parametrize(
    "units",
    [("ft", "lb", "lb_ft3", "lb_ft"), ("mm", "kg", "kg_m3", "n_m"), ("in", "kg", "lb_ft3", "n_m")],
)
def test_every_column(folder, units):
    here = folder(floats__csv=whole_header(*units))
    _, new = add(
        here, ask(lot="=7", **WHOLE, **{k: v for k, v in ONE_FLOATS.items() if k != "lot"})
    )
    one = new[0]
    for name, value in WHOLE.items():
        same = pytest.approx(value, rel=1e-9) if isinstance(value, float) else value
        assert getattr(one, name) == same, name
    assert one.lot == "=7"
    assert (one.owner, one.permit, one.note, one.depth_m, one.bearing_deg) == (None,) * 5
    assert dict(one.extra) == {}


def test_the_lot_of_the_pattern_is_not_the_new_ones(folder):
    here = folder(floats__csv=LEAST)  # has no lot column, and needs none
    asked = ask()
    _, new = add(here, replace(asked, like=replace(asked.like, **ONE_FLOATS)))
    assert new[0].lot is None


def test_every_column_has_its_place_in_the_record():
    names = {one.name for one in fields(Float)}
    assert {proposed_rows.field_name(base) for base in COLUMNS} | {
        "row",
        "lon",
        "lat",
        "extra",
    } == names


def test_weights_instead_of_blocks(folder):
    text = "float_id,lon,lat,length_m,width_m,status,primary_weight_lb,secondary_weight_kg\n"
    _, new = add(folder(floats__csv=text), ask(primary_weight_kg=300.0, secondary_weight_kg=77.7))
    assert new[0].primary_weight_kg == pytest.approx(300, rel=1e-9)
    assert new[0].secondary_weight_kg == pytest.approx(77.7, rel=1e-9)


@pytest.mark.parametrize("lot", ["=1+1", "+4", "-3", "@A", 'the "old" one', "7,8", "x\ny", "é 水"])
def test_texts_are_quoted_where_they_must(folder, lot):
    text = "float_id,lon,lat,length_ft,width_ft,status,lot\n"
    added, new = add(folder(floats__csv=text), ask(lot=lot), SITES[:1])
    row = next(csv.reader(io.StringIO(added.decode("utf-8"), newline="")))
    assert new[0].lot == lot
    # the mark by which a spreadsheet keeps a text from being a formula; reading takes it off
    assert row[-1] == ("'" if lot[0] in "=+-@" else "") + lot
    assert added.endswith(b'"\n') == (lot != "é 水")


def test_what_has_no_column_is_told_at_once(folder):
    here = folder(floats__csv=FLOATS_CSV)  # no status in it
    said = refused(here, ask(lot="7", flotation="tubes", tube_diameter_m=0.5, hook="edge"))
    for name in ("status", "lot", "flotation", "tube_diameter", "hook"):
        assert f"floats.csv {name}: the column is missing" in said
    assert "tube_diameter_ft" in said
    assert "would count as set" in said
    assert "hook_depth" not in said


def test_a_name_that_is_near(folder):
    said = refused(folder(floats__csv=LEAST.replace("status", "statuss")), ask())
    assert "'statuss' is near" in said


def test_what_goes_without_saying_needs_no_column(folder):
    add(folder(floats__csv=LEAST), ask(hook="centre"))


def test_other_formats_are_refused(folder):
    here = folder(floats__csv=None)
    book = openpyxl.Workbook()
    for row in (
        ["float_id", "lon", "lat", "length_m", "width_m", "status"],
        ["1", -37.005, 41.005, 3, 3, "set"],
    ):
        book.active.append(row)
    book.save(here / "floats.xlsx")
    said = refused(here, ask())
    assert "only a floats.csv can be added to" in said
    assert "keeps its floats in floats.xlsx: add the rows there" in said
    (here / "floats.xlsx").unlink()
    frame = gpd.GeoDataFrame(
        {"float_id": ["1"], "length_m": [3.0], "width_m": [3.0], "status": ["set"]},
        geometry=gpd.points_from_xy([-37.005], [41.005]),
        crs="EPSG:4326",
    )
    frame.to_file(here / "floats.geojson")
    assert "keeps its floats in floats.geojson" in refused(here, ask())


@pytest.mark.parametrize(
    "now",
    [
        LEAST + "3,-37.003,41.003,10,8,\n",
        LEAST.replace("10,8", "10,9"),
        LEAST.replace("2,-37", "5,-37"),
    ],
)
def test_a_file_that_changed_is_refused(folder, now):
    field = read_field(folder(floats__csv=LEAST))
    assert "has changed since it was read" in refused(folder(floats__csv=now), ask(), field=field)


def test_a_file_that_broke_or_went_away(folder):
    here = folder(floats__csv=LEAST)
    field = read_field(here)
    (here / "floats.csv").write_text("float_id,lon\n", encoding="utf-8")
    with pytest.raises(BadInputError, match="length: the column is missing"):
        add_proposed(here, field, SITES, ask())
    (here / "floats.csv").unlink()
    with pytest.raises(BadInputError, match="can't be read"):
        add_proposed(here, field, SITES, ask())


def test_an_open_quote_at_the_end_is_refused(folder):
    text = 'float_id,lon,lat,length_ft,width_ft,status,note\n1,-37.005,41.005,10,8,,"left open\n'
    assert "is a quote left open" in refused(folder(floats__csv=text), ask())


def test_a_row_that_would_be_a_comment_is_refused(folder):
    text = "lot,float_id,lon,lat,length_ft,width_ft,status\n7,1,-37.005,41.005,10,8,\n"
    here = folder(floats__csv=text)
    assert "begin with #" in refused(here, ask(lot="#12"))
    add(here, ask(lot="12"))


def test_a_site_on_land_is_refused(folder):
    said = refused(folder(floats__csv=LEAST), ask(), (site(lon=-36.99),))
    assert "outside the lake" in said


def test_a_slip_in_the_pattern_is_refused(folder):
    text = "float_id,lon,lat,length_ft,width_ft,status,block\n"
    assert "'brick' is none of" in refused(folder(floats__csv=text), ask(block="brick"))


def test_a_file_that_cannot_be_written(folder, monkeypatch):
    here = folder(floats__csv=LEAST)

    def held(*_):
        raise PermissionError(13, "Permission denied")

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(proposed_rows, "write_atomic", held)
    assert "close it in the other program" in refused(here, ask())
    monkeypatch.setattr(proposed_rows, "write_atomic", full)
    assert "No space left" in refused(here, ask())
    monkeypatch.setattr(proposed_rows.os, "access", lambda *_: False)
    assert "allow writing" in refused(here, ask())


def test_a_file_that_is_open_in_a_spreadsheet(folder):
    here = folder(floats__csv=LEAST)
    lock = here / ".~lock.floats.csv#"
    lock.touch()
    assert "open in a spreadsheet" in refused(here, ask())
    lock.unlink()
    add(here, ask())


def test_permissions_and_links_stay(folder, tmp_path):
    here = folder(floats__csv=LEAST)
    kept = tmp_path / "kept.csv"
    (here / "floats.csv").rename(kept)
    kept.chmod(0o600)
    (here / "floats.csv").symlink_to(kept)
    add(here, ask())
    assert (here / "floats.csv").is_symlink()
    assert kept.stat().st_mode & 0o777 == 0o600
    assert kept.read_bytes().count(b"proposed") == 2


LENGTHS = st.floats(1e-3, 1e4)
SLOW = (HealthCheck.function_scoped_fixture, HealthCheck.too_slow)


@settings(max_examples=40, suppress_health_check=SLOW)
@given(
    lengths=st.tuples(LENGTHS, LENGTHS, LENGTHS),
    place=st.tuples(st.floats(-37.0099, -37.0001), st.floats(41.0001, 41.0099)),
    ends=st.sampled_from(["_ft", "_in", "_m", "_mm", ""]),
    units=st.sampled_from(["ft-lb", "m-kg"]),
    signs=st.sampled_from([(",", "."), (";", "."), (";", ","), ("\t", ".")]),
)
@example((1e-3, 1e4, 1 / 3), (-37.005, 41.005), "", "ft-lb", (";", ","))
def test_sizes_come_back(folder, lengths, place, ends, units, signs):
    delimiter, decimal = signs
    header = delimiter.join(
        ["float_id", "lon", "lat", f"length{ends}", f"width{ends}", "status", f"riser_length{ends}"]
    )
    unit = "" if ends else " m"
    row = delimiter.join(
        ["1", "-37.005", "41.005", f"3.5{unit}", f"2.5{unit}", "", f"6{unit}"]
    ).replace(".", decimal)
    here = folder(
        floats__csv=f"{header}\n{row}\n",
        field__toml=f'units = "{units}"\n{LEAST_TOML}',
        lake__csv=LAKE_CSV,
    )
    length, width, riser = lengths
    _, new = add(here, ask(length_m=length, width_m=width, riser_m=riser), (site(1, *place),))
    assert new[0].riser_m == pytest.approx(riser, rel=1e-9)


def test_again_and_again(folder):
    here = folder(floats__csv=LEAST)
    add(here, ask())
    added, _ = add(here, replace(ask(), count=1), SITES[:1])
    assert added.startswith(b"5,")
