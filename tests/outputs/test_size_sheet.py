"""One float's sizing as one picture: complete, safe with any name, never an owner."""

import re
from dataclasses import replace
from pathlib import Path

import pytest
from conftest import make_field, make_float, make_settings
from defusedxml.ElementTree import fromstring
from drawn_parts import of

import lakemap
from lakemap.mapping import assess
from lakemap.outputs.web.size_sheet import size_sheet_svg

DATA = Path(__file__).parents[2] / "data"
HOSTILE = ['<script>alert("1")</script>', '"><img src=x>', "A&B <i>", "]]>", "Ünïcode €"]
PICTURES = [
    "From the side, calm, normal water",
    "From the side, storm, normal water",
    "From the side, storm, low water",
    "From the side, storm, high water",
    "Pull and reach, normal water",
    "Open water around it",
]


@pytest.fixture(scope="module")
def tamber():
    return lakemap.assess(lakemap.read_field(DATA / "tamber-lake"))


def words(root):
    return [node.text for node in of(root, "text")]


def test_every_picture_and_figure_of_a_whole_float(tamber):
    one = tamber.floats[0]
    root = fromstring(size_sheet_svg(one, tamber))
    said = words(root)
    whole = " ".join(said)
    assert set(PICTURES) < set(said)
    assert said[0] == "Float 1"
    assert len(of(root, "svg")) == 1 + len(PICTURES)
    for name in ("Steady pull", "Highest pull, an upper bound", "Swing circle, low water"):
        assert name in said
    answers = tamber.answers(one)
    for answer in (answers.practice, answers.unburied, answers.buried):
        assert answer in whole
    for caution in one.sizing.cautions:
        assert caution in whole
    assert f"Weakest part: {one.sizing.line.weak_link}" in whole
    assert said[-1] == "Local codes, permits and licensed practice decide."


def test_all_of_it_stands_on_the_sheet(tamber):
    root = fromstring(size_sheet_svg(tamber.floats[0], tamber))
    _, _, width, height = map(float, root.get("viewBox").split())
    assert width == 800
    below = 0.0
    for node in root:
        x, y = float(node.get("x", 0)), float(node.get("y", 0))
        assert 0 <= x <= width
        assert 0 <= y <= height
        if node.tag.endswith("svg"):
            assert x + float(node.get("width")) <= width
            assert y + float(node.get("height")) <= height
            below = max(below, y + float(node.get("height")))
    # sentences begin under the last picture
    assert next(float(n.get("y")) for n in root if (n.text or "").startswith("By pr")) > below


@pytest.mark.parametrize("name", HOSTILE)
def test_names_are_text(name):
    assessment = assess(make_field([make_float(name)]))
    svg = size_sheet_svg(assessment.floats[0], assessment)
    root = fromstring(svg)
    assert words(root)[0] == f"Float {name}"
    assert root.get("aria-label") == f"The sizing of float {name}"
    assert {node.tag.rpartition("}")[2] for node in root.iter()} <= {
        "svg", "rect", "path", "circle", "text"
    }  # fmt: skip


def test_no_owner(tamber):
    name = "Zebulon Quackenbush"
    owned = make_float("A", owner=name, permit=name, note=name)
    assessment = assess(make_field([owned]))
    assert name not in size_sheet_svg(assessment.floats[0], assessment)
    for one in tamber.floats:
        if one.record.owner:
            assert one.record.owner not in size_sheet_svg(one, tamber)


@pytest.mark.parametrize(
    ("more", "bed_m", "missing"),
    [
        ({"riser_m": None}, 6.5, ()),
        ({}, None, PICTURES[:5]),  # no depth
        ({"ground_m": None, "riser_m": None, "hook_depth_m": None}, None, PICTURES[:5]),
        ({"status": "retired"}, 6.5, ()),
        ({"riser_m": 1.0, "ground_m": 1.0}, 6.5, PICTURES[1:5]),  # too short for the depth
    ],
)
def test_what_is_unknown_is_left_out(more, bed_m, missing):
    assessment = assess(make_field([make_float("A", **more)], bed_m=bed_m))
    root = fromstring(size_sheet_svg(assessment.floats[0], assessment))
    assert not set(missing) & set(words(root))
    assert words(root)[-1] == "Local codes, permits and licensed practice decide."
    assert "None" not in " ".join(words(root))
    assert "nan" not in " ".join(words(root)).split()


def test_no_open_water_on_a_rough_outline():
    field = replace(make_field([make_float("A")]), lake_is_rough=True)
    assessment = assess(field)
    assert "Open water around it" not in words(
        fromstring(size_sheet_svg(assessment.floats[0], assessment))
    )


def test_each_float_has_its_own_pictures(tamber):
    chosen = tamber.floats[20]
    only = tamber.only(chosen.record.float_id)
    assert size_sheet_svg(only.floats[0], only) == size_sheet_svg(chosen, tamber)


def test_units():
    metric = assess(make_field([make_float("A")]))
    feet = assess(make_field([make_float("A")], settings=make_settings(units="ft-lb")))
    text = " ".join(words(fromstring(size_sheet_svg(metric.floats[0], metric))))
    assert not re.search(r"\d (ft|lb|mph)\b", text)
    assert "riser 6.00 m" in text
    text = " ".join(words(fromstring(size_sheet_svg(feet.floats[0], feet))))
    assert not re.search(r"\d (N|m|m/s)\b", text)
    assert "riser 19 ft 8 in" in text


def test_same_input_same_bytes(tamber):
    one = tamber.floats[3]
    assert size_sheet_svg(one, tamber) == size_sheet_svg(one, tamber)
