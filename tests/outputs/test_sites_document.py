"""New sites as JSON and GeoJSON, held against the fixed document, RFC 7946 and another reader."""

import json
from dataclasses import replace

import geopandas as gpd
import numpy as np
import pytest
import shapely
from conftest import HERE
from sites_by_hand import (
    ALLOWED,
    make_ask,
    make_assessment,
    make_capacity,
    make_site,
    make_sites,
    make_why,
    no_sites,
)

from lakemap.outputs.sites.document import sites_document, sites_geojson, why_document
from lakemap.siting.records import Hindrance

SITE_KEYS = {
    "rank", "lon", "lat", "x_m", "y_m", "depth_m", "swing_radius_m", "least_spare_m", "limited_by",
    "fetch_m", "wave_height_m", "shore_m", "score",
}  # fmt: skip


@pytest.fixture(scope="module")
def assessment():
    return make_assessment()


def strict(document):
    return json.loads(json.dumps(document, allow_nan=False))


def nulls(value, where=""):
    """Where a document holds nothing."""
    if isinstance(value, dict):
        return [at for key, one in value.items() for at in nulls(one, f"{where}/{key}")]
    if isinstance(value, list):
        return [at for k, one in enumerate(value) for at in nulls(one, f"{where}/{k}")]
    return [where] if value is None else []


def test_the_fixed_keys(assessment):
    document = strict(sites_document(assessment, make_sites()))
    assert document["format"] == "lakemap 1"
    assert document["field"] == "square"
    assert document.keys() >= {"for", "sites", "allowed_area_m2", "capacity"}
    assert all(site.keys() >= SITE_KEYS for site in document["sites"])
    assert document["capacity"].keys() >= {"fits", "upper_bound", "bound_source", "floats"}
    assert document["allowed_area_m2"] == pytest.approx(60 * 40 - 10 * 10)
    assert nulls(document) == ["/for/riser/length_m", "/for/ground/length_m", "/for/lot"]


def test_values_are_si_and_unrounded(assessment):
    document = strict(sites_document(assessment, make_sites()))
    first, second = document["sites"]
    assert first["least_spare_m"] == 1.2399
    assert first["parts"]["spare"] == 0.859
    assert (first["riser_m"], first["ground_m"]) == (7.0, 6.5)
    assert second["limited_by"] == "A"
    assert document["for"]["deck"] == {"length_m": 4.0, "width_m": 3.0}
    assert document["for"]["riser"] == {"rule": "designed", "length_m": None}


def test_the_capacity(assessment):
    capacity = strict(sites_document(assessment, make_sites()))["capacity"]
    assert (capacity["fits"], capacity["upper_bound"]) == (3, 5)
    assert capacity["bound_source"] == "a theorem of plane geometry (1900)"
    x, y = HERE.to_xy(
        [one["lon"] for one in capacity["floats"]], [one["lat"] for one in capacity["floats"]]
    )
    assert x == pytest.approx([30, 50, 70], abs=1e-3)
    assert y == pytest.approx([50, 50, 50], abs=1e-3)
    assert capacity["spare_against_count"] == [
        {"spare_m": 0.0, "fits": 6},
        {"spare_m": 2.0, "fits": 3},
    ]
    assert capacity["variants"][2] == {
        "name": "shorter lines", "fits": 4, "upper_bound": 7, "neighbour_m": 2.0,
    }  # fmt: skip


def test_fixed_lengths_and_a_lot(assessment):
    ask = replace(make_ask(riser_m=3.0), lot="7")
    asked = strict(sites_document(assessment, make_sites(ask=ask)))["for"]
    assert asked["riser"] == {"rule": "given", "length_m": 3.0}
    assert asked["lot"] == "7"


def test_nothing_allowed_has_empty_lists(assessment):
    document = strict(sites_document(assessment, no_sites()))
    assert document["sites"] == []
    assert document["allowed_area_m2"] == 0
    assert document["capacity"]["fits"] == 0
    for key in ("floats", "spare_against_count", "variants"):
        assert document["capacity"][key] == []
    assert document["added"] == []


def test_what_is_not_known_is_null(assessment):
    site = make_site(fetch_m=float("nan"), shore_m=float("inf"))
    document = strict(sites_document(assessment, make_sites(sites=(site,))))
    assert document["sites"][0]["fetch_m"] is None
    assert document["sites"][0]["shore_m"] is None


def test_why_not_here(assessment):
    deck = Hindrance(against="deck", kind="deck_area_max", spare_m=-2.0, rule="deck rule")
    why = make_why(hindrances=(*make_why().hindrances, deck))
    document = strict(why_document(assessment, why, make_ask()))
    assert document.keys() >= {"format", "field", "at"}
    at = document["at"]
    assert at["allowed"] is False
    assert at["rules"][0] == {
        "against": "A", "kind": "float", "spare_m": -3.401, "spare_m2": None, "rule": "neighbour rule",
    }  # fmt: skip
    assert at["rules"][2]["spare_m"] is None
    assert at["rules"][2]["spare_m2"] == -2.0
    assert at["nearest"]["distance_m"] == 50.0
    assert at["nearest"]["bearing_deg"] == pytest.approx(np.degrees(np.arctan(30 / 40)))


def test_why_not_on_land(assessment):
    dry = make_why(
        in_water=False, hindrances=(), depth_m=None, swing_radius_m=None, riser_m=None, ground_m=None,
        nearest=None, nearest_m=None,
    )  # fmt: skip
    at = strict(why_document(assessment, dry, make_ask()))["at"]
    assert at["rules"] == []
    assert at["problems"] == []
    assert at["nearest"] is None
    assert at["in_water"] is False


def by_what(layer):
    found = {}
    for feature in layer["features"]:
        found.setdefault(feature["properties"]["what"], []).append(feature)
    return found


def test_the_layer_has_allowed_water_closed_classes_and_points(assessment):
    found = by_what(strict(sites_geojson(assessment, make_sites())))
    assert {what: len(features) for what, features in found.items()} == {
        "allowed": 1, "closed": 3, "site": 2,
    }  # fmt: skip
    assert found["allowed"][0]["geometry"]["type"] == "MultiPolygon"
    said = {feature["properties"]["because"] for feature in found["closed"]}
    assert said == {"too near the shore", "too near a float", "too near a zone"}
    assert [feature["properties"]["rank"] for feature in found["site"]] == [1, 2]
    assert found["site"][0]["geometry"]["type"] == "Point"


def test_rings_turn_as_rfc_7946_asks(assessment):
    layer = strict(sites_geojson(assessment, make_sites(allowed=shapely.reverse(ALLOWED))))
    rings = layer["features"][0]["geometry"]["coordinates"][0]
    assert len(rings) == 2

    def turned(ring):  # signed area by the shoelace formula: above 0 is anticlockwise
        x, y = np.array(ring).T
        return float(np.sum(x[:-1] * y[1:] - x[1:] * y[:-1]))

    assert turned(rings[0]) > 0 > turned(rings[1])
    assert all(ring[0] == ring[-1] and len(ring) >= 4 for ring in rings)


def test_degrees_have_nine_decimals_at_most(assessment):
    text = json.dumps(sites_geojson(assessment, make_sites())["features"][0]["geometry"])
    numbers = text.replace("[", " ").replace("]", " ").replace(",", " ").split()
    assert max(len(one.partition(".")[2]) for one in numbers if "." in one and '"' not in one) <= 9


def test_another_reader_finds_the_same_shapes(assessment, tmp_path):
    path = tmp_path / "sites.geojson"
    path.write_text(json.dumps(sites_geojson(assessment, make_sites())), encoding="utf-8")
    frame = gpd.read_file(path).to_crs(assessment.projection.text)
    allowed = frame[frame.what == "allowed"].geometry.iloc[0]
    assert allowed.is_valid
    # nine decimals of a degree are a tenth of a millimetre
    assert allowed.hausdorff_distance(ALLOWED) < 2e-3
    assert allowed.area == pytest.approx(2300, abs=0.1)
    points = frame[frame.what == "site"].geometry
    assert points.x.tolist() == pytest.approx([30, 70], abs=1e-3)


def test_nothing_allowed_is_still_a_layer(assessment):
    layer = strict(sites_geojson(assessment, no_sites()))
    assert layer["features"][0]["geometry"] == {"type": "MultiPolygon", "coordinates": []}


def test_added_floats_are_named(assessment):
    assert sites_document(assessment, make_sites(), added=("44", "45"))["added"] == ["44", "45"]


def test_a_packing_of_none_is_empty(assessment):
    capacity = make_capacity(0, 2)
    document = strict(sites_document(assessment, make_sites(capacity=capacity)))
    assert document["capacity"]["floats"] == []
