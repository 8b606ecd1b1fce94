"""The advice of `rig`, and assessments as GeoDataFrames."""

import json
from dataclasses import replace
from html import escape

import numpy as np
import pytest
import shapely
from conftest import make_field, make_float, make_settings
from defusedxml.ElementTree import fromstring

import lakemap
from lakemap.advice import advise
from lakemap.basis.records import Levels
from lakemap.mapping import assess
from lakemap.outputs.drawn.drawn_rig import SideView
from lakemap.outputs.drawn.side_view import side_view_svg
from lakemap.outputs.web.rig_page import MOST_LINES, rig_document, rig_html, rig_lines
from lakemap.outputs.words.cautions import cautions_for_task

FOOT = 0.3048


def eight_by_ten(*, wind=22.0, **more):
    given = {
        "hook_depth_m": 0.0,
        "riser_m": None,
        "ground_m": None,
        "depth_m": 10 * FOOT,
        "status": "proposed",
    }
    one = make_float("new", **given | more)
    levels = Levels(low_m=-1.5 * FOOT, normal_m=0, high_m=1 * FOOT, soundings_m=0)
    storm = replace(make_settings().storm, wind_m_s=wind)
    settings = make_settings(units="ft-lb", levels=levels, storm=storm)
    return advise(one, settings, fetch_m=800.0)


def test_practice_in_ten_feet_of_water():
    # common practice, no published source: two clusters one depth apart, 20 ft of line in 10 ft
    # no wind: a storm's wave asks for a longer riser
    found = eight_by_ten(length_m=10 * FOOT, width_m=8 * FOOT, wind=0.0)
    assert found.ground_m == pytest.approx(10 * FOOT)
    assert found.riser_m == pytest.approx(11 * FOOT)
    assert (found.sizing.primary.blocks, found.sizing.secondary.blocks) == (5, 3)
    assert found.riser_m + found.ground_m == pytest.approx(20 * FOOT, rel=0.1)
    # reach at 8.5 ft of drop with 21 ft of line
    assert found.reach_m[0] == pytest.approx(np.sqrt(21**2 - 8.5**2) * FOOT)
    assert found.reach_m[0] > found.reach_m[1] > found.reach_m[2]


def test_at_most_25_lines():
    for bottom in (None, "mud", "rock"):
        lines = rig_lines(eight_by_ten(bottom=bottom, length_m=10 * FOOT, width_m=8 * FOOT))
        assert len(lines) <= MOST_LINES
        assert lines[-1].endswith("Local codes, permits and licensed practice decide.")
    assert any("12-in hollow blocks, primary: 5" in line for line in lines)


def test_a_rig_that_cannot_work_says_so_first():
    lines = rig_lines(eight_by_ten(riser_m=3.0, ground_m=0.2))
    assert lines[1] == "! The line is too short for high water: the float is pulled under."
    assert rig_document(eight_by_ten(riser_m=2.0, ground_m=0.1))["rig"]["reach_m"]["low"] is None


def test_the_document_and_the_page():
    found = eight_by_ten()
    text = json.dumps(rig_document(found), allow_nan=False)
    assert '"riser_m"' in text
    page = rig_html(found)
    assert "<script" not in page
    assert "How to lay it" in page
    assert "practice, no published source" in page


def test_what_may_hurt_people_is_named_in_the_lines_and_told_on_the_page():
    found = eight_by_ten(length_m=10 * FOOT, width_m=8 * FOOT)
    own = found.assessment
    told = cautions_for_task("rig", own, own.floats[0])
    assert rig_document(found)["rig"]["cautions"][-len(told) :] == list(told)
    page, lines = rig_html(found), " ".join(rig_lines(found))
    for text in told:
        assert escape(text) in page
    assert "lines under load; hoists; divers; cold water." in lines
    light = eight_by_ten(primary_weight_kg=10.0)
    assert "hoists" not in " ".join(rig_lines(light))


def test_the_side_view_is_to_scale():
    view = SideView(
        depth_m=(2.5, 3.0, 3.3),
        hook_depth_m=-0.2,
        riser_m=3.8,
        ground_m=3.0,
        deck_m=3.0,
        draft_m=0.2,
        height_m=0.48,
    )
    root = fromstring(side_view_svg(view, units="m-kg"))
    rects = [node for node in root.iter() if node.tag.endswith("rect")]
    deck = max(float(node.get("width")) for node in rects if float(node.get("width")) < 500)
    primary, secondary = (
        float(node.get("x")) + float(node.get("width")) / 2 for node in rects[-2:]
    )
    # deck and ground chain are both 3 m long
    assert deck == pytest.approx(secondary - primary, abs=0.2)


def test_frames(square):
    assessment = assess(square)
    floats, circles = assessment.floats_frame(), assessment.circles_frame()
    assert floats.crs == "EPSG:4326"
    assert floats["verdict"].tolist() == ["conflict", "tight", "conflict", "clear"]
    assert floats.loc[0, "swing_radius_m"] == pytest.approx(10.5)
    for polygon, one in zip(circles.geometry, assessment.floats, strict=True):
        shape = assessment.projection.project(polygon)
        true = shapely.Point(one.x_m, one.y_m).buffer(10.5, quad_segs=256)
        assert shape.buffer(1e-6).contains(true)  # it contains the circle
        assert shape.area < 1.001 * true.area
    assert len(assessment.circles_frame("high")) == 4
    with pytest.raises(ValueError, match="'tide' is none of low, normal, high"):
        assessment.circles_frame("tide")


def test_one_float_of_many(square):
    from lakemap.basis.errors import BadInputError

    assessment = assess(square)
    only = assessment.only("B")
    assert [one.record.float_id for one in only.floats] == ["B"]
    assert len(only.floats[0].clearances) == len(assessment.floats[1].clearances)
    with pytest.raises(BadInputError, match="no float 'Bb'; did you mean B"):
        assessment.only("Bb")


def test_the_public_names():
    assert lakemap.__all__ == ["__version__", "assess", "draw", "read_field"]
    for name in lakemap.__all__:
        assert getattr(lakemap, name)
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        lakemap.nothing  # noqa: B018 - asking is the test


def test_progress_is_told(square):
    steps = []
    assess(square, tell=steps.append)
    assert steps == [
        "laying out the lake",
        "placing the floats",
        "checking the clearances",
        "sizing the rigs",
    ]
    assert make_field is not None


def test_what_it_carries_is_never_said_to_be_more():
    found = eight_by_ten(length_m=10 * FOOT, width_m=8 * FOOT)
    pounds = found.sizing.float.reserve_n / 4.4482216152605
    shown = next(line for line in rig_lines(found) if "aboard" in line)
    figure = float(shown.split("; ")[1].split(" lb")[0].replace(",", ""))
    assert figure <= pounds < figure + 1
    crowd = advise(found.record, make_settings(units="ft-lb", people=9), fetch_m=800.0)
    assert "too little lift with 9 aboard" in "\n".join(rig_lines(crowd))
    assert "too little lift with 9 aboard" in rig_html(crowd)


def test_levels_that_are_one_are_told_once():
    still = Levels(low_m=0.0, normal_m=0.0, high_m=0.0, soundings_m=0.0)
    found = advise(eight_by_ten().record, make_settings(units="ft-lb", levels=still), fetch_m=800.0)
    assert any(line.strip() == "depth    10.0 ft at any level" for line in rig_lines(found))
    page = rig_html(found)
    assert "low water</text>" not in page
    assert "low water</text>" in rig_html(eight_by_ten())
