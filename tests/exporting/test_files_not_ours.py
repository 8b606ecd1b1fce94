"""What the reader does for files of `export` leaves the files of others as they are."""

import json

import pytest
import shapely
from conftest import make_field, make_float, make_zone
from sent_out import floats_in, sent

from lakemap.basis.errors import ProblemLog
from lakemap.inputs.layers import read_layer
from lakemap.mapping import assess


def points(*layers):
    features = [
        {
            "type": "Feature",
            "properties": {"float_id": str(k), "length_m": 3, "width_m": 2, "layer": layer},
            "geometry": {"type": "Point", "coordinates": [-37.005, 41.0 + k / 1000]},
        }
        for k, layer in enumerate(layers, start=1)
    ]
    return json.dumps({"type": "FeatureCollection", "features": features})


@pytest.mark.parametrize("layers", [("floats", "floats 2024"), ("floats", None), ("a", "b")])
def test_a_layer_column_of_somebody_else(tmp_path, layers):
    path = tmp_path / "floats.geojson"
    path.write_text(points(*layers), encoding="utf-8")
    floats, problems = floats_in(path, None)
    assert [one.float_id for one in floats] == ["1", "2"]
    assert [one.extra.get("layer") for one in floats] == list(layers)
    assert [problem.code for problem in problems] == ["unknown_column"]


def test_a_file_of_ours_under_another_name_has_nothing_of_it(tmp_path):
    path = tmp_path / "zones.geojson"
    path.write_text(points("floats", "floats"), encoding="utf-8")
    table = read_layer(path, ProblemLog())
    assert table.rows == ()


def test_a_kml_that_a_hand_was_in(tmp_path):
    path = sent(assess(make_field([make_float("A")])), tmp_path / "floats.kml")
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("-37.0000000,41.0000000", "somewhere"), encoding="utf-8")
    log = ProblemLog()
    table = read_layer(path, log)
    assert "Name" in table.columns  # the general reader's answer, not ours
    path.write_text(text.replace(">floats<", ">boats<"), encoding="utf-8")
    assert len(read_layer(path, ProblemLog()).rows) == 5  # lake, circle, two clusters, float


@pytest.mark.parametrize("ending", [".kml", ".gpkg", ".geojson"])
def test_shapes_of_several_parts(tmp_path, ending):
    parts = shapely.MultiPolygon([shapely.box(0, 0, 10, 10), shapely.box(20, 0, 30, 10)])
    lines = shapely.MultiLineString([[(0, 20), (10, 20)], [(20, 20), (30, 20)]])
    zones = [make_zone("hazard", parts), make_zone("channel", lines, width_m=4.0)]
    path = sent(assess(make_field([], zones=zones)), tmp_path / f"zones{ending}")
    table = read_layer(path, ProblemLog())
    found = dict(
        zip([row[table.columns.index("kind")] for row in table.rows], table.geometry, strict=True)
    )
    for zone in zones:
        assert found[zone.kind].geom_type == zone.geometry.geom_type
        assert shapely.hausdorff_distance(found[zone.kind], zone.geometry) < 1e-7


def test_a_text_that_looks_like_a_date_stays_a_text(tmp_path):
    path = tmp_path / "floats.geojson"
    text = points("a").replace('"layer": "a"', '"note": "2024/05/13", "set_on": "2024-05-13"')
    path.write_text(text, encoding="utf-8")
    (one,), _ = floats_in(path, None)
    assert one.note == "2024/05/13"
    assert one.set_on.isoformat() == "2024-05-13"


@pytest.mark.parametrize(
    ("cell", "meant"),
    [("'=1", "=1"), ("''=1", "'=1"), ("'tis", "'tis"), ("'", "'"), ("'-11", "-11")],
)
def test_an_apostrophe_before_a_formula_is_a_mark(tmp_path, cell, meant):
    path = tmp_path / "floats.csv"
    path.write_text(f"float_id,lon,lat,length_m,width_m,note\n1,-37,41,3,2,{cell}\n")
    (one,), _ = floats_in(path, None)
    assert one.note == meant
