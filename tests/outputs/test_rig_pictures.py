"""Pictures of the computed rig: to scale, drawn from the records, readable without colour."""

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
import shapely
from conftest import make_field, make_float
from defusedxml.ElementTree import fromstring

import lakemap
from lakemap.mapping import assess
from lakemap.outputs.drawn.drawn_rig import SideView
from lakemap.outputs.drawn.pull_plot import pull_plot_svg
from lakemap.outputs.drawn.rose import rose_says, rose_svg
from lakemap.outputs.drawn.storm_view import storm_view_svg
from lakemap.outputs.web.size_sheet import size_sheet_svg
from lakemap.sizing.records import LineState, PullCurve, Rose

DEMO = Path(__file__).parents[2] / "data" / "tamber-lake"
VIEW = SideView(
    depth_m=(4.0, 5.0, 5.5), hook_depth_m=0.0, riser_m=6.0, ground_m=5.0, deck_m=3.0, draft_m=0.2, height_m=0.5
)  # fmt: skip
# straight pieces: 4 m of chain rising 1 m, 5 m of riser rising the other 4 m
STATE = LineState(
    x_m=(0.0, 2.0, 4.0, 5.5, 7.0), z_m=(0.0, 0.5, 1.0, 3.0, 5.0), secondary=2,
    hook_tension_n=900.0, hook_angle_deg=53.0, primary_uplift_n=120.0,
)  # fmt: skip
CURVE = PullCurve(
    pull_n=(0.0, 100.0, 400.0, 900.0), reach_m=(6.0, 8.0, 9.0, 9.4),
    lifts_n=150.0, uplift_n=350.0, taut_m=9.6, storm_n=400.0, storm_reach_m=9.0,
)  # fmt: skip


@cache
def demo():
    return lakemap.assess(lakemap.read_field(DEMO))


def numbers(path):
    return [float(value) for value in re.findall(r"-?\d+(?:\.\d+)?", path)]


def texts(svg):
    return [
        "".join(node.itertext()) for node in fromstring(svg).iter() if node.tag.endswith("text")
    ]


def storm(state=STATE, units="m-kg"):
    return storm_view_svg(VIEW, state, wave_m=0.8, mean_n=500.0, units=units)


def test_the_storm_is_to_scale_both_ways():
    root = fromstring(storm())
    paths = [node.get("d") for node in root.iter() if node.get("stroke-dasharray") == "4.5 1.8"]
    chain, riser = (np.array(numbers(path)).reshape(-1, 2) for path in paths)
    k = (chain[-1, 0] - chain[0, 0]) / 4.0  # px a metre, along
    assert (chain[0, 1] - chain[-1, 1]) / 1.0 == pytest.approx(k, rel=0.01)  # and up
    assert riser[1] - riser[0] == pytest.approx([1.5 * k, -2.0 * k], abs=0.15)
    deck = max(
        float(n.get("width"))
        for n in root.iter()
        if n.tag.endswith("rect") and float(n.get("width")) < 500
    )
    assert deck == pytest.approx(3.0 * k, abs=0.15)


def test_the_storm_says_its_numbers_in_the_users_units():
    said = texts(storm())
    assert "steady pull 500 N" in said
    assert "900 N in the riser, 53° above level" in " ".join(said)
    assert "lifted 1.00 m" in said
    assert "pulled up 120 N" in said
    assert "reach 7.00 m" in said
    pounds = texts(storm(units="ft-lb"))
    assert "steady pull 113 lb" in pounds
    assert "reach 23.0 ft" in pounds


def test_what_is_not_there_is_not_said():
    resting = replace(STATE, z_m=(0.0, 0.0, 0.0, 2.0, 5.0), primary_uplift_n=0.0)
    said = " ".join(texts(storm(resting)))
    assert "lifted" not in said
    assert "pulled up" not in said


def test_the_plot_has_the_storm_on_its_curve():
    root = fromstring(pull_plot_svg(CURVE, units="m-kg"))
    curve = next(n.get("d") for n in root.iter() if n.get("stroke-width") == "2.6")
    points = np.array(numbers(curve)).reshape(-1, 2)
    dot = next(n for n in root.iter() if n.tag.endswith("circle"))
    assert [float(dot.get("cx")), float(dot.get("cy"))] == pytest.approx(points[2], abs=0.1)
    limit = next(n.get("d") for n in root.iter() if n.get("stroke-dasharray") == "5 3")
    step = (points[2, 0] - points[1, 0]) / 1.0
    assert numbers(limit)[0] - points[2, 0] == pytest.approx(0.6 * step, abs=0.1)


def test_the_plot_names_its_bands_and_axes():
    said = texts(pull_plot_svg(CURVE, units="ft-lb"))
    for words in ("the secondary rests", "the secondary lifts", "the primary is pulled up"):
        assert words in said
    assert "storm, 90 lb: 29.5 ft" in said
    assert "pull on the float, lb" in said
    assert "reach of the float from its primary, ft" in said
    ticks = [float(text.replace(",", "")) for text in said if re.fullmatch(r"[\d,.]+", text)]
    assert len(ticks) >= 6


def test_a_band_without_height_is_left_out():
    hung = replace(CURVE, lifts_n=0.0)
    assert "the secondary rests" not in texts(pull_plot_svg(hung, units="m-kg"))


ROSE = Rose(from_deg=(0.0, 90.0), fetch_m=(300.0, 120.0), wave_height_m=(0.4, 0.2), worst=0)


def test_rays_have_their_lengths_and_point_where_the_wind_comes_from():
    water = shapely.MultiPolygon([shapely.box(-100, -100, 120, 300)])
    root = fromstring(rose_svg(ROSE, water, (0.0, 0.0), units="m-kg"))
    rays = [
        n.get("d")
        for n in root.iter()
        if n.get("stroke") == "#3E7391" or n.get("stroke-width") == "3"
    ]
    east, north = (np.array(numbers(ray)).reshape(-1, 2) for ray in rays)
    scale = (east[1, 0] - east[0, 0]) / 120.0
    assert east[1, 1] == pytest.approx(east[0, 1], abs=0.11)
    assert (north[0, 1] - north[1, 1]) / 300.0 == pytest.approx(scale, rel=0.01)
    assert rose_says(ROSE, "m-kg") == (
        "The storm's waves come from the north: 300 m of open water, waves of 0.40 m."
    )


def test_the_sheet_of_every_float_of_the_demo():
    for one in demo().floats:
        svg = size_sheet_svg(one, demo())
        said = texts(svg)
        assert f"Float {one.record.float_id}" in said
        assert said[-1] == "Local codes, permits and licensed practice decide."
        assert one.record.owner is None or one.record.owner not in svg
        assert "nan" not in svg.lower().replace("nans", "")


def test_the_sheet_holds_all_pictures_and_answers():
    one = next(f for f in demo().floats if f.record.float_id == "15")
    said = texts(size_sheet_svg(one, demo()))
    for title in (
        "From the side, calm, normal water", "From the side, storm, normal water",
        "From the side, storm, low water", "From the side, storm, high water",
        "Pull and reach, normal water", "Open water around it",
    ):  # fmt: skip
        assert title in said
    assert any(text.startswith("By practice: ") for text in said)
    assert any(
        text.startswith("Lying on the bed: Holds by its weight alone up to") for text in said
    )
    assert any(text.startswith("Settled in, ") for text in said)
    assert size_sheet_svg(one, demo()) == size_sheet_svg(one, demo())


def test_hostile_names_and_unknown_depths():
    name = '"><script>alert(1)</script>'
    assessment = assess(make_field([make_float(name, riser_m=None, ground_m=None)], bed_m=None))
    svg = size_sheet_svg(assessment.floats[0], assessment)
    assert "<script" not in svg
    fromstring(svg)
