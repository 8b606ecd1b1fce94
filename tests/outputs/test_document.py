"""The JSON document: its whole tree of keys typed by hand, and what may be in it."""

import json
import math

import pytest
from conftest import make_field, make_float, make_settings

from lakemap.basis.errors import Problem
from lakemap.basis.records import Rule
from lakemap.mapping import assess
from lakemap.outputs.tables.document import document, problems_document

TOP = {"format", "field", "projection", "levels_m", "floats", "problems"}
FLOAT = {
    "float_id", "status", "verdict", "lon", "lat", "x_m", "y_m", "designed", "assumed", "depth_m",
    "depth_error_m", "hook_depth_m", "riser_m", "ground_m", "reach_m", "swing_radius_m",
    "walk_radius_m", "shallowest_m", "secondary", "clearances", "problems", "sizing",
}  # fmt: skip
CLEARANCE = {
    "against", "kind", "gap_m", "same_wind_gap_m", "required_m", "spare_m", "uncertainty_m", "rule",
    "value_m2", "required_m2", "spare_m2",
}  # fmt: skip
SIZING = {
    "float": {
        "weight_n", "draft_m", "freeboard_m", "buoyancy_n", "reserve_n", "gm_m", "heel_deg",
        "edge_people_max", "heave_period_s",
    },
    "storm": {
        "wind_m_s", "gust_m_s", "from_deg", "fetch_m", "wave_height_m", "wave_period_s",
        "wave_height_max_m", "wake_height_m",
    },
    "loads_n": {"wind", "gust", "drift", "mean", "snap", "peak"},
    "primary": {
        "blocks", "dry_n", "wet_n", "uplift_n", "pull_angle_deg", "holding_n", "practice_blocks",
        "enough", "decides", "slides_at_wind_m_s",
    },
    "secondary": {
        "blocks", "dry_n", "wet_n", "slide_pull_n", "lift_pull_n", "uplift_pull_n", "lift_crest_m",
        "practice_blocks",
    },
    "line": {"parts", "weak_link"},
}  # fmt: skip


@pytest.fixture
def written(square):
    floats = (
        *square.floats,
        make_float("gone", -80, 60, status="retired", owner="A. Secret", permit="P-1", note="hush"),
        make_float("lost", 60, 60, position_of="float", owner="B. Secret"),
    )
    rules = dict(square.settings.rules) | {
        "deck_area_max": Rule(kind="deck_area_max", limit=10.0, source="deck rule")
    }
    field = make_field(floats, zones=square.zones, settings=make_settings(rules=rules))
    return document(assess(field))


def test_every_key_is_there(written):
    assert written.keys() == TOP
    assert written["format"] == "lakemap 1"
    assert written["levels_m"] == {"low": -0.5, "normal": 0.0, "high": 0.5, "soundings": 0.0}
    for one in written["floats"]:
        assert one.keys() == FLOAT
        assert one["depth_m"].keys() == {"low", "normal", "high"}
        assert one["secondary"] is None or one["secondary"].keys() == {
            "lon",
            "lat",
            "bearing_deg",
            "assumed",
        }
        assert one["sizing"].keys() == {*SIZING, "cautions"}
        for part, keys in SIZING.items():
            assert one["sizing"][part].keys() == keys
        assert one["sizing"]["primary"]["enough"].keys() == {"practice", "unburied", "buried"}
        assert one["sizing"]["primary"]["holding_n"].keys() == {"unburied", "buried"}
        for clearance in one["clearances"]:
            assert clearance.keys() == CLEARANCE
        for problem in one["problems"]:
            assert problem.keys() == {"code", "text"}


def leaves(value):
    if isinstance(value, dict):
        for inner in value.values():
            yield from leaves(inner)
    elif isinstance(value, (list, tuple)):
        for inner in value:
            yield from leaves(inner)
    else:
        yield value


def test_no_nan_and_nothing_rounded(written):
    text = json.dumps(written, allow_nan=False)
    assert all(not (isinstance(v, float) and math.isnan(v)) for v in leaves(written))
    a = written["floats"][0]
    # the reach of a right triangle of 10 and 6 m is 8 m but for the surface's last digits
    assert a["reach_m"] == pytest.approx(8, abs=1e-9)
    assert a["swing_radius_m"] == pytest.approx(10.5, abs=1e-9)
    assert "Secret" not in text
    assert "hush" not in text


def test_retired_and_order(written):
    assert [one["float_id"] for one in written["floats"]] == ["A", "B", "C", "D", "gone", "lost"]
    gone, lost = written["floats"][4:]
    assert gone["verdict"] is None
    assert gone["clearances"] == []
    assert lost["secondary"] is None
    spares = [
        c["spare_m2"] if c["kind"] == "deck_area_max" else c["spare_m"] for c in lost["clearances"]
    ]
    assert spares == sorted(spares)


def test_problems_of_a_run_that_failed():
    found = problems_document([Problem(code="x", text="y", file="f", row=3, column="c")])
    assert found == {
        "format": "lakemap 1",
        "problems": [{"code": "x", "text": "y", "file": "f", "row": 3, "column": "c"}],
    }
