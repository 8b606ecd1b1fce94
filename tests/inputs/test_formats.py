"""One small field in every format and two coordinate systems, read back the same."""

import geopandas as gpd
import numpy as np
import openpyxl
import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lakemap.inputs.folder import read_field

LAKE = shapely.Polygon(
    [(-37.01, 41.0), (-37.0, 41.0), (-37.0, 41.01), (-37.01, 41.01)],
    [[(-37.006, 41.004), (-37.004, 41.004), (-37.004, 41.006)]],
)
ZONE = shapely.box(-37.009, 41.0, -37.008, 41.002)
LINE = shapely.LineString([(-37.01, 41.008), (-37.0, 41.008)])
POINTS = [shapely.Point(-37.008, 41.004), shapely.Point(-37.002, 41.006)]


def frames(crs):
    lake = gpd.GeoDataFrame({"name": ["Pond"]}, geometry=[LAKE], crs="EPSG:4326")
    width = "width_m"
    zones = gpd.GeoDataFrame(
        {"kind": ["swim_area", "channel"], "name": ["Beach", "Way"], width: [None, 12.0]},
        geometry=[ZONE, LINE],
        crs="EPSG:4326",
    )
    floats = gpd.GeoDataFrame(
        {
            "float_id": ["1", "2"],
            "length_m": [3.0, 3.5],
            "width_m": [2.5, 3.0],
            "depth_m": [4.0, 5.0],
        },
        geometry=POINTS,
        crs="EPSG:4326",
    )
    soundings = gpd.GeoDataFrame(
        {"depth_m": [4.2, 5.1], "date": ["2025-06-01", "2025-06-02"]},
        geometry=POINTS,
        crs="EPSG:4326",
    )
    return {
        name: frame.to_crs(crs)
        for name, frame in (
            ("lake", lake),
            ("zones", zones),
            ("floats", floats),
            ("soundings", soundings),
        )
    }


def check(field):
    # coordinates turned there and back are good to a micrometre, about 1e-11 degrees
    assert shapely.hausdorff_distance(field.lake, shapely.multipolygons([LAKE])) < 1e-9
    assert [one.float_id for one in field.floats] == ["1", "2"]
    assert [one.lon for one in field.floats] == pytest.approx([-37.008, -37.002], abs=1e-9)
    assert [one.length_m for one in field.floats] == [3.0, 3.5]
    assert [one.depth_m for one in field.floats] == [4.0, 5.0]
    assert [(zone.kind, zone.label, zone.width_m) for zone in field.zones] == [
        ("swim_area", "Beach", None),
        ("channel", "Way", 12.0),
    ]
    assert field.soundings.depth_m == pytest.approx([4.2, 5.1])
    assert str(field.dated) == "2025-06-02"


@pytest.mark.parametrize("crs", ["EPSG:4326", "EPSG:32624"])
@pytest.mark.parametrize("ending", ["geojson", "gpkg"])
def test_vector_formats(folder, crs, ending):
    here = folder(lake__csv=None, floats__csv=None)
    for name, frame in frames(crs).items():
        frame.to_file(here / f"{name}.{ending}")
    check(read_field(here))


@pytest.mark.parametrize("crs", ["EPSG:4326", "EPSG:32624"])
def test_shapefiles(folder, crs):
    here = folder(lake__csv=None, floats__csv=None)
    for name, frame in frames(crs).items():
        if name == "zones":  # one kind of shape a file
            frame.to_file(here / f"{name}.geojson")
        else:
            frame.to_file(here / f"{name}.shp")
    check(read_field(here))


def test_shapefile_names_are_cut(folder):
    from lakemap.basis.errors import BadInputError

    here = folder(floats__csv=None)
    frame = frames("EPSG:4326")["floats"].assign(
        riser_leng=["6 m", "7 m"], ground_len=["12 ft", "13 ft"], position_o=["primary", "primary"]
    )
    frame.to_file(here / "floats.shp")
    field = read_field(here)
    assert [one.riser_m for one in field.floats] == [6, 7]
    assert field.floats[0].ground_m == pytest.approx(12 * 0.3048)
    frame.assign(riser_leng=[6.0, 7.0]).to_file(here / "floats.shp")
    with pytest.raises(BadInputError, match=r"riser_leng: no unit .the name was cut to ten"):
        read_field(here)
    frame.assign(secondary_=[3, 3]).to_file(here / "floats.shp")
    with pytest.raises(BadInputError, match="may be secondary_weight or secondary_blocks"):
        read_field(here)


def test_shapefile_without_a_coordinate_system(folder):
    from lakemap.basis.errors import BadInputError

    here = folder(lake__csv=None)
    frames("EPSG:4326")["lake"].to_file(here / "lake.shp")
    (here / "lake.prj").unlink()
    with pytest.raises(BadInputError, match=r"put lake\.prj beside it"):
        read_field(here)


def kml_ring(ring):
    return " ".join(f"{x},{y},0" for x, y in ring.coords)


def test_kml(folder):
    hole = LAKE.interiors[0]
    polygon = (
        f"<Polygon><outerBoundaryIs><LinearRing><coordinates>{kml_ring(LAKE.exterior)}</coordinates>"
        f"</LinearRing></outerBoundaryIs><innerBoundaryIs><LinearRing><coordinates>{kml_ring(hole)}"
        "</coordinates></LinearRing></innerBoundaryIs></Polygon>"
    )
    text = (
        '<?xml version="1.0"?><kml xmlns="http://www.opengis.net/kml/2.2"><Document><Folder><name>a</name>'
        f"<Placemark><name>Pond</name>{polygon}</Placemark></Folder></Document></kml>"
    )
    floats = "float_id,lon,lat,length_m,width_m\n1,-37.008,41.004,3,3\n"
    field = read_field(folder(lake__csv=None, lake__kml=text, floats__csv=floats))
    assert shapely.hausdorff_distance(field.lake, shapely.multipolygons([LAKE])) < 1e-9


def gpx(coords):
    points = "".join(
        f'<trkpt lat="{y}" lon="{x}"><time>2025-05-04T10:00:00Z</time></trkpt>' for x, y in coords
    )
    return (
        '<gpx version="1.1" creator="x" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>'
        f"{points}</trkseg></trk></gpx>"
    )


def test_a_walk_around_the_lake(folder):
    ring = list(LAKE.exterior.coords)
    field = read_field(folder(lake__csv=None, lake__gpx=gpx(ring)))
    assert field.lake.area == pytest.approx(shapely.Polygon(ring).area)
    assert str(field.dated) == "2025-05-04"
    # a track that nearly comes back is closed, and that is said with the gap
    open_ring = shapely.segmentize(shapely.LineString(ring), 0.0008)
    nearly = list(open_ring.coords)[:-1]
    field = read_field(folder(lake__csv=None, lake__gpx=gpx(nearly)))
    assert any("the line was closed over a gap of about" in p.text for p in field.problems)


def test_half_a_walk_is_no_lake(folder):
    from lakemap.basis.errors import BadInputError

    with pytest.raises(BadInputError, match="does not come back to its start"):
        read_field(folder(lake__csv=None, lake__gpx=gpx(list(LAKE.exterior.coords)[:3])))


def sheet(path, rows):
    book = openpyxl.Workbook()
    for row in rows:
        book.active.append(row)
    book.save(path)


def test_spreadsheets(folder):
    from datetime import date

    here = folder(lake__csv=None, floats__csv=None)
    ring = [(*c, None) for c in LAKE.exterior.coords[:-1]] + [
        (*c, "Rock") for c in LAKE.interiors[0].coords[:-1]
    ]
    sheet(here / "lake.xlsx", [("lon", "lat", "island"), *ring])
    sheet(
        here / "floats.xlsx",
        [
            ("Float ID", "lon", "lat", "Length m", "Width m", "Set on", "depth m"),
            (1, -37.008, 41.004, 3, 2.5, date(2025, 5, 9), "13 ft 1 in"),
            (2.0, -37.002, 41.006, "3.5 m", "10 ft", "2025-05-11", None),
        ],
    )
    field = read_field(here)
    assert [one.float_id for one in field.floats] == ["1", "2"]
    assert field.floats[0].depth_m == pytest.approx(157 * 0.0254)
    assert field.floats[1].width_m == pytest.approx(3.048)
    assert str(field.floats[0].set_on) == "2025-05-09"
    assert str(field.dated) == "2025-05-11"
    assert field.island_names == ("Rock",)


def test_a_spreadsheets_error_cell(folder):
    from lakemap.basis.errors import BadInputError

    here = folder(floats__csv=None)
    rows = [("float_id", "lon", "lat", "length_m", "width_m"), ("1", -37.005, 41.005, "#REF!", 3)]
    sheet(here / "floats.xlsx", rows)
    with pytest.raises(
        BadInputError, match="row 2 length_m: the cell shows #REF!; mend its formula"
    ):
        read_field(here)


def test_corners_in_tables(folder):
    zones = (
        "zone,lon,lat,kind,shape,width_ft,clearance_ft,lot,source\n"
        "Way,-37.01,41.008,channel,line,40,12,,town\n"
        "Way,-37.0,41.008,,,,,,\n"
        "F1,-37.009,41.0,frontage,area,,,17,\n"
        "F1,-37.008,41.0,,,,,,\n"
        "F1,-37.008,41.002,,,,,,\n"
    )
    lake = (
        "part,island,lon,lat\n# the shore\n,,-37.01,41\n,,-37,41\n,,-37,41.01\n,,-37.01,41.01\n"
        ",Rock,-37.006,41.004\n,Rock,-37.004,41.004\n,Rock,-37.004,41.0055\n"
        "west,,-37.03,41\nwest,,-37.02,41\nwest,,-37.02,41.01\n"
    )
    field = read_field(folder(zones__csv=zones, lake__csv=lake))
    way, frontage = field.zones
    assert (way.kind, way.row, way.source) == ("channel", 2, "town")
    assert way.width_m == pytest.approx(40 * 0.3048)
    assert way.clearance_m == pytest.approx(12 * 0.3048)
    assert (frontage.lot, frontage.row, frontage.label) == ("17", 4, "F1")
    assert len(shapely.get_parts(field.lake)) == 2
    assert field.island_names == ("Rock",)


def test_positions_in_the_fields_own_coordinates(folder):
    floats = "float_id,x,y,length_m,width_m\n1,667800.0,4541200.0,3,3\n"
    here = folder(
        floats__csv=floats,
        field__toml='crs = "EPSG:32624"\n[levels]\nlow = "-1 m"\nnormal = "0 m"\nhigh = "1 m"\n',
    )
    one = read_field(here).floats[0]
    point = gpd.GeoSeries([shapely.Point(667800, 4541200)], crs="EPSG:32624").to_crs("EPSG:4326")[0]
    assert (one.lon, one.lat) == pytest.approx((point.x, point.y))


def test_a_soundings_own_level_is_taken_off(folder):
    text = "lon,lat,depth_m,level_m\n-37.005,41.005,4.0,0.5\n-37.004,41.005,4.0,\n"
    here = folder(
        soundings__csv=text,
        field__toml='[levels]\nlow = "-1 m"\nnormal = "0 m"\nhigh = "1 m"\nsoundings = "0.2 m"\n',
    )
    # the lake stood 0.3 m above the soundings' level: 4.0 m then is 3.7 m at that level
    assert read_field(here).soundings.depth_m == pytest.approx([3.7, 4.0])


def test_comments_blank_lines_and_row_numbers(folder):
    from lakemap.basis.errors import BadInputError

    text = '# mine\nfloat_id,lon,lat,length_ft,width_ft,note\n\n1,-37.005,41.005,10,8,"two\nlines"\n# not yet\n2,-37.005,41.006,x,8,\n'
    with pytest.raises(BadInputError, match=r"floats\.csv row 6 length_ft"):
        read_field(folder(floats__csv=text))


def test_latitude_first_and_signs(folder):
    text = "float_id,lat,lon,length_ft,width_ft,hook_depth\n7,41.005,\u221237.005,10 ft 6 in,8,\u22126 in\n"
    one = read_field(folder(floats__csv=text)).floats[0]
    assert one.lon == -37.005
    assert one.length_m == pytest.approx(126 * 0.0254)
    assert one.hook_depth_m == pytest.approx(-6 * 0.0254)


LENGTH = st.floats(0.5, 30).map(lambda v: round(v, 3))


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    st.lists(
        st.tuples(
            st.floats(-37.009, -37.001), st.floats(41.001, 41.009), LENGTH, LENGTH,
            st.sampled_from(["set", "proposed", "retired", ""]),
            st.text(st.characters(blacklist_categories=("Cs", "Cc")), max_size=12),
        ),
        max_size=6,
    ),
    st.sampled_from([",", ";", "\t"]),
)  # fmt: skip
def test_what_is_written_is_read(folder, rows, delimiter):
    import csv
    import io

    text = io.StringIO()
    writer = csv.writer(text, delimiter=delimiter)
    writer.writerow(["float_id", "lon", "lat", "length_m", "width_m", "status", "owner"])
    for k, row in enumerate(rows):
        writer.writerow([f"f{k}", *row])
    found = read_field(folder(floats__csv=text.getvalue())).floats
    assert len(found) == len(rows)
    for one, (lon, lat, length, width, status, owner) in zip(found, rows, strict=True):
        assert (one.lon, one.lat, one.length_m, one.width_m) == (lon, lat, length, width)
        assert one.status == (status or "set")
        assert (one.owner or "") == owner.strip()


def test_many_floats_and_soundings_are_read(folder):
    rng = np.random.default_rng(0)
    rows = "".join(
        f"{k},{-37.009 + 0.008 * a:.7f},{41.001 + 0.008 * b:.7f},10,8\n"
        for k, (a, b) in enumerate(rng.uniform(size=(2000, 2)))
    )
    field = read_field(folder(floats__csv="float_id,lon,lat,length_ft,width_ft\n" + rows))
    assert len(field.floats) == 2000
