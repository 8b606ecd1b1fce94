"""GPX and KML by their published schemas, GeoJSON by RFC 7946, GeoPackage by its typed fields."""

import json
import math
import sqlite3
from contextlib import closing

import defusedxml.ElementTree as ET  # noqa: N817 - as it is known
import gpxpy
import numpy as np
import pyogrio
import pytest
import shapely
from conftest import make_field, make_float
from pyproj import Geod
from sent_out import (
    BY_FLOAT,
    FILES,
    HEAD,
    OWNERS,
    assessed,
    gpx_schema,
    kml_schema,
    rows_text,
    sent,
    words_in,
)

from lakemap.mapping import assess
from lakemap.outputs.words.cautions import cautions_for_task

GPX = "{http://www.topografix.com/GPX/1/1}"
KML = "{http://www.opengis.net/kml/2.2}"
LAYERS = ["lake", "zones", "floats", "primaries", "secondaries", "circles", "soundings"]
EARTH = Geod(ellps="WGS84")


def layers_of(path):
    """Each layer as a general library reads it; a GeoJSON is parted by its property."""
    if path.suffix == ".geojson":
        whole = pyogrio.read_dataframe(path)
        return {name: whole[whole["layer"] == name] for name in whole["layer"].unique()}
    names = pyogrio.list_layers(path)[:, 0].tolist()
    return {name: pyogrio.read_dataframe(path, layer=name) for name in names}


@pytest.fixture(params=["full", "bare"])
def either(request, folder):
    """A field with everything, and one with a lake alone."""
    if request.param == "full":
        return assessed(folder)
    return assessed(
        folder, floats__csv=rows_text(head=HEAD[:10]), zones__csv=None, soundings__csv=None
    )


def test_gpx_is_valid(either, tmp_path):
    gpx_schema().validate(sent(either, tmp_path / "out.gpx"))


def test_kml_is_valid(either, tmp_path):
    kml_schema().validate(sent(either, tmp_path / "out.kml"))


def test_the_schemas_refuse_what_is_wrong(tmp_path):
    path = tmp_path / "out.gpx"
    sent(assess(make_field([make_float("A")])), path)
    text = path.read_text(encoding="utf-8")
    swapped = text.replace("<name>A primary</name>", "").replace(
        "</type>", "</type><name>A</name>", 1
    )
    assert swapped != text
    assert not gpx_schema().is_valid(swapped)


def test_gpx_holds_the_clusters(folder, tmp_path):
    assessment = assessed(folder)
    path = sent(assessment, tmp_path / "out.gpx")
    points = gpxpy.parse(path.read_text(encoding="utf-8")).waypoints
    found = {(point.name, point.type): point for point in points}
    for one in assessment.floats:
        point = found.pop((f"{one.record.float_id} primary", "primary"))
        assert (point.longitude, point.latitude) == pytest.approx((one.lon, one.lat), abs=1e-7)
        assert point.symbol is None
        if one.secondary is not None:
            point = found.pop((f"{one.record.float_id} secondary", "secondary"))
            place = (one.secondary.lon, one.secondary.lat)
            assert (point.longitude, point.latitude) == pytest.approx(place, abs=1e-7)
    assert not found
    told = {point.name: point.description for point in points}
    assert "retired" in told["10 primary"]
    assert "lies within" in told["9 primary"]  # along the wind, no nearer than the reaches differ


@pytest.mark.parametrize("path", ["metadata/desc", "Document/description"])
def test_what_people_steer_by_says_that_it_is_not_for_that(folder, tmp_path, path):
    kind, space = ("gpx", GPX) if path.startswith("metadata") else ("kml", KML)
    assessment = assessed(folder)
    root = ET.parse(sent(assessment, tmp_path / f"out.{kind}")).getroot()
    said = root.findtext("/".join(f"{space}{name}" for name in path.split("/")))
    for sentence in cautions_for_task("sharing", assessment):
        assert said.count(sentence) == 1
    assert "Not for navigation" in said


def test_kml_folders_and_looks(folder, tmp_path):
    root = ET.parse(sent(assessed(folder), tmp_path / "out.kml")).getroot()
    names = [node.findtext(f"{KML}name") for node in root.iter(f"{KML}Folder")]
    assert names == [
        "Lake", "Zones", "Swim areas", "Channels", "Swing circles at low water", "Clusters",
        "Primaries", "Secondaries", "Floats",
    ]  # fmt: skip
    looks = {f"#{node.get('id')}" for node in root.iter(f"{KML}Style")}
    asked = {node.text for node in root.iter(f"{KML}styleUrl")}
    assert asked <= looks
    assert {"#look-zones-swim_area", "#look-zones-channel", "#look-floats"} <= asked
    assert {name for name in asked if name.startswith("#look-circles-")}


def test_kml_descriptions_are_no_html(folder, tmp_path):
    root = ET.parse(sent(assessed(folder), tmp_path / "out.kml")).getroot()
    said = [node.text for node in root.iter(f"{KML}description")]
    assert any("&lt;script&gt;" in text for text in said)
    assert not [text for text in said if "<" in text]


def test_geojson_is_plain(folder, tmp_path):
    data = json.loads(sent(assessed(folder), tmp_path / "out.geojson").read_text(encoding="utf-8"))
    assert data.keys() == {"type", "features"}  # RFC 7946, 4: no other system than WGS 84
    assert list(dict.fromkeys(one["properties"]["layer"] for one in data["features"])) == LAYERS
    for one in data["features"]:
        assert one.keys() == {"type", "properties", "geometry"}
        shape = shapely.geometry.shape(one["geometry"])
        assert shape.is_valid
        assert not shape.has_z
        xy = shapely.get_coordinates(shape)
        assert np.abs(xy * 1e7 - np.round(xy * 1e7)).max() < 1e-3  # seven decimals


@pytest.mark.parametrize("ending", [".geojson", ".gpkg", ".kml"])
def test_rings_turn_right(folder, tmp_path, ending):
    seen = 0
    for frame in layers_of(sent(assessed(folder), tmp_path / f"out{ending}")).values():
        for polygon in shapely.get_parts(frame.geometry.to_numpy()):
            if polygon.geom_type == "Polygon":
                seen += 1
                assert polygon.exterior.is_ccw
                assert not any(hole.is_ccw for hole in polygon.interiors)
    assert seen == 1 + 1 + 3  # lake, beach, circles


@pytest.mark.parametrize("ending", [".geojson", ".gpkg", ".kml"])
def test_circles_contain_the_true_ones(folder, tmp_path, ending):
    assessment = assessed(folder)
    name = "Swing circles at low water" if ending == ".kml" else "circles"
    frame = layers_of(sent(assessment, tmp_path / f"out{ending}"))[name]
    floats = {one.record.float_id: one for one in assessment.floats}
    if ending == ".kml":  # not every build of the library reads the columns
        frame["float_id"] = frame["Name"].str.removesuffix(" circle")
    assert sorted(frame["float_id"]) == sorted(set(floats) - {"10"})  # not of the retired one
    bearings = np.arange(0, 360, 0.25)
    for float_id, polygon in zip(frame["float_id"], frame.geometry, strict=True):
        one = floats[float_id]
        radius = one.swing_radius_m[0]
        at = np.full(len(bearings), one.lon), np.full(len(bearings), one.lat)
        lon, lat, _ = EARTH.fwd(*at, bearings, np.full(len(bearings), radius))
        assert shapely.contains_xy(polygon, lon, lat).all()
        outside = EARTH.fwd(*at, bearings, np.full(len(bearings), radius * 1.0004 + 0.025))
        assert not shapely.contains_xy(polygon, *outside[:2]).any()


def test_circles_far_from_the_middle_of_a_long_lake(tmp_path):
    """The scale of the projection is 1.2e-6 off at 10 km: a margin of 1 cm is for that, too."""
    from conftest import HERE

    lake = shapely.multipolygons([HERE.unproject(shapely.box(-10_000, -200, 10_000, 200))])
    assessment = assess(make_field([make_float("A", 9_900.0)], bed_m=None, lake=lake))
    (one,) = assessment.floats
    frame = layers_of(sent(assessment, tmp_path / "out.gpkg"))["circles"]
    bearings = np.arange(0, 360, 0.25)
    place = np.full(len(bearings), one.lon), np.full(len(bearings), one.lat)
    lon, lat, _ = EARTH.fwd(*place, bearings, np.full(len(bearings), one.swing_radius_m[0]))
    assert shapely.contains_xy(frame.geometry.iloc[0], lon, lat).all()


def test_geopackage_fields(folder, tmp_path):
    path = sent(assessed(folder), tmp_path / "out.gpkg")
    assert pyogrio.list_layers(path)[:, 0].tolist() == LAYERS
    types = {
        name: dict(zip(info["fields"], info["dtypes"], strict=True))
        for name in LAYERS
        for info in [pyogrio.read_info(path, layer=name)]
    }
    assert types["floats"]["riser_length_m"] == "float64"
    assert types["floats"]["tubes"] == "int32"
    assert types["floats"]["set_on"] == "datetime64[D]"
    assert types["floats"]["float_id"] == "object"
    assert types["primaries"]["swing_radius_m"] == "float64"
    assert types["soundings"] == {"depth_m": "float64"}
    shapes = {name: pyogrio.read_info(path, layer=name)["geometry_type"] for name in LAYERS}
    assert shapes == dict.fromkeys(LAYERS, "Point") | {
        "lake": "Polygon", "circles": "Polygon", "zones": "Unknown",
    }  # fmt: skip
    assert pyogrio.read_info(path, layer="circles")["crs"] == "EPSG:4326"
    said = pyogrio.read_info(path, layer="circles")["layer_metadata"]["DESCRIPTION"]
    assert "contain the true circle" in said


def test_geopackage_bears_the_date_of_the_data(folder, tmp_path):
    path = sent(assessed(folder), tmp_path / "out.gpkg")
    with closing(sqlite3.connect(path)) as held:
        times = {row[0] for row in held.execute("select last_change from gpkg_contents")}
    assert times == {"2025-06-14T00:00:00.000Z"}  # the latest in any file: the soundings'


@pytest.mark.parametrize("ending", [".geojson", ".gpkg"])
def test_results_are_those_of_the_assessment(folder, tmp_path, ending):
    assessment = assessed(folder)
    layers = layers_of(sent(assessment, tmp_path / f"out{ending}"))
    told = layers["primaries"].set_index("float_id")
    for one in assessment.floats:
        row = told.loc[one.record.float_id]
        assert row["status"] == one.record.status
        assert row["verdict"] == one.verdict or (one.verdict is None and row.isna()["verdict"])
        assert row["swing_radius_m"] == pytest.approx(one.swing_radius_m[0], rel=1e-11)
        assert row["peak_pull_n"] == pytest.approx(one.sizing.loads_n.peak, rel=1e-11)
        place = EARTH.inv(row.geometry.x, row.geometry.y, one.lon, one.lat)[2]
        assert place < 0.02
    second = layers["secondaries"].set_index("float_id").loc["7"]
    first = told.loc["7"]
    azimuth, _, far = EARTH.inv(
        first.geometry.x, first.geometry.y, second.geometry.x, second.geometry.y
    )
    assert far == pytest.approx(14 * 0.3048, abs=0.02)  # a ground chain off, 83.5 degrees true
    assert azimuth == pytest.approx(83.5, abs=math.degrees(0.02 / far))


@pytest.mark.parametrize("ending", [".geojson", ".gpkg", ".kml"])
def test_what_is_not_known_is_not_drawn(folder, tmp_path, ending):
    """Without a depth and a riser there is no radius, with no primary found no secondary."""
    bare = assessed(folder, floats__csv=rows_text(BY_FLOAT), zones__csv=None, soundings__csv=None)
    frames = layers_of(sent(bare, tmp_path / f"out{ending}"))
    assert sum(len(frame) for frame in frames.values()) == 3  # lake, float, primary


@pytest.mark.parametrize("ending", [".geojson", ".gpkg", ".kml"])
def test_columns_that_a_format_keeps_for_itself(folder, tmp_path, ending):
    head = (*HEAD[:10], "fid", "geom", "layer", "FID_2", "description")
    row = dict(
        zip(HEAD[:10], ("1", "-37.005", "40.995", "", "", "", "", "", "10", "8"), strict=True)
    )
    row |= {"fid": "a", "geom": "b", "layer": "c", "FID_2": "d", "description": "e"}
    path = sent(assessed(folder, floats__csv=rows_text(row, head=head)), tmp_path / f"out{ending}")
    if ending == ".kml":
        found = {node.text for node in ET.parse(path).iter(f"{KML}SimpleData")}
    else:
        found = set(layers_of(path)["floats"].iloc[0].astype(str))
    assert set("abcde") <= found


def test_hostile_texts_stay_texts(folder, tmp_path):
    for ending in (".kml", ".gpx"):
        text = words_in(sent(assessed(folder), tmp_path / f"out{ending}"))
        assert "<script" not in text
        assert "\x07" not in text
        assert "<i>" not in text
        ET.fromstring(text)
    assert OWNERS[0] not in FILES["field__toml"]
