"""The static picture: true to scale, words where there is room, callouts that hide nothing."""

import math
import re

import pytest
import shapely
from conftest import make_field, make_float, make_zone
from defusedxml.ElementTree import fromstring

from lakemap.mapping import assess
from lakemap.outputs.drawn.callouts import MOST, place_callouts
from lakemap.outputs.drawn.marks import INK, mark_svg
from lakemap.outputs.drawn.paper import box_covers, boxes_meet, corner_boxes, cut, fit
from lakemap.outputs.drawn.picture import MOST_FLOATS, field_svg
from lakemap.outputs.drawn.picture_floats import ring_of
from lakemap.outputs.drawn.picture_names import two_lines, write_depths, write_names
from lakemap.outputs.drawn.scene import build_scene

FOOT = 0.3048


def drawn(field, **more):
    assessment = assess(field)
    scene = build_scene(assessment)
    return (
        assessment,
        scene,
        fit(scene, width=744, height=400, prefix="pic"),
        field_svg(assessment, scene, **more),
    )


def called_out(assessment, sheet):
    place = {id(one): ring_of(one, sheet) for one in assessment.floats}
    return place_callouts(assessment, place, sheet, corner_boxes(sheet)), place


def test_scale_and_north(square):
    assessment, _, sheet, text = drawn(square)
    # 200 m of lake in 400 - 2 x 26 px
    assert sheet.scale == pytest.approx(348 / 200)
    middle, east, up = (sheet.xy(*at) for at in ((0, 0), (10, 0), (0, 10)))
    assert middle == pytest.approx((372, 200), abs=0.1)
    assert (east[0] - middle[0], middle[1] - up[1]) == pytest.approx((17.4, 17.4))
    assert sheet.pixels(shapely.get_coordinates(shapely.Point(10, 0)))[0] == pytest.approx(east)
    circles = [node for node in fromstring(text).iter() if node.tag.endswith("circle")]
    assert ring_of(assessment.floats[0], sheet)[2] == pytest.approx(10.5 * sheet.scale)
    assert sum(float(node.get("r")) == pytest.approx(18.3, abs=0.05) for node in circles) == 8
    # the bars: 200 ft and 50 m by rule (the longest 1, 2 or 5 below 120 px), at 1.74 px per metre
    assert "200 ft" in text
    assert "50 m" in text
    bar = re.search(r"M16 374H([\d.]+)M", text).group(1)
    assert float(bar) - 16 == pytest.approx(50 * 1.74, abs=0.06)
    halves = re.findall(r'<rect x="[\d.]+" y="360" width="([\d.]+)" height="4"', text)
    assert sum(map(float, halves)) == pytest.approx(200 * FOOT * 1.74, abs=0.1)


def test_two_pictures_can_stand_in_one_page(square):
    _, _, _, first = drawn(square)
    _, _, _, second = drawn(square, prefix="other")
    ids = [set(re.findall(r'id="([^"]*)"', text)) for text in (first, second)]
    assert ids[0]
    assert not ids[0] & ids[1]
    for text, own in zip((first, second), ids, strict=True):
        assert set(re.findall(r"url\(#([^)]*)\)", text)) <= own
    for text in (first, second):
        assert "style" not in text.replace("font-style", "")
        assert "href" not in text


def test_callouts_cover_no_circle_and_not_one_another():
    floats = [make_float(f"{k}", -80 + 23 * k, y) for k in range(8) for y in (-60, 10, 70)[:1]]
    beach = make_zone("swim_area", shapely.box(-80, -48, 90, -20), label="Beach")
    assessment, _, sheet, _ = drawn(make_field(floats, zones=[beach]))
    placed, place = called_out(assessment, sheet)
    assert len(placed) == MOST
    boxes = [one.box for one in placed]
    for k, box in enumerate(boxes):
        assert not any(box_covers(box, ring) for ring in place.values())
        assert not any(boxes_meet(box, other) for other in boxes[:k] + corner_boxes(sheet))
        assert 0 < box[0] < box[2] < sheet.width
        assert 0 < box[1] < box[3] < sheet.height


def test_a_pair_shares_a_callout_that_points_between_the_two(square):
    assessment, _, sheet, text = drawn(square)
    placed, _ = called_out(assessment, sheet)
    assert [one.title for one in placed] == ["floats A and C"]
    assert placed[0].lines == ("gap 1.00\N{NO-BREAK SPACE}m, 2\N{NO-BREAK SPACE}m asked",)
    # A in the middle, C 22 m north of it: the gap lies 10.5 to 11.5 m north
    assert placed[0].points_at == pytest.approx(sheet.xy(0, 11), abs=0.01)
    assert text.count("floats A and C") == 1
    # riser and ground chain of 5 and 4 m over a drop of 6 m: reach sqrt(45), circle 9.208 m
    unequal = make_field([make_float("A"), make_float("C", 0, 20.7, riser_m=5.0)])
    assessment, _, sheet, _ = drawn(unequal)
    placed, _ = called_out(assessment, sheet)
    assert placed[0].points_at == pytest.approx(sheet.xy(0, 10.996), abs=0.01)


def test_a_callout_points_at_the_edge_of_a_lone_circle():
    assessment, _, sheet, _ = drawn(make_field([make_float("A", 95, 0)]))
    placed, place = called_out(assessment, sheet)
    x, y, r = next(iter(place.values()))
    assert math.dist(placed[0].points_at, (x, y)) == pytest.approx(r)
    # there is land enough: it hides next to no water
    box = shapely.box(*placed[0].box)
    assert sheet.shape(assessment.water).intersection(box).area < 0.05 * box.area


def test_names_and_depths_keep_clear_of_circles_and_of_one_another(square):
    zones = [
        *square.zones,
        make_zone("hazard", shapely.box(40, 40, 46, 46), label="old crib"),
        make_zone("channel", shapely.LineString([(-90, -80), (90, -80)]), label="boat channel", width_m=12.0),
        make_zone("frontage", shapely.box(-100, 60, -50, 100), label="lot 3", lot="3"),
    ]  # fmt: skip
    assessment, scene, sheet, text = drawn(make_field(square.floats, zones=zones))
    rings = [ring_of(one, sheet) for one in assessment.floats]
    corners = corner_boxes(sheet)
    names = write_names(assessment.field, scene, sheet, taken=corners, rings=rings)
    assert len(names) == 3  # a frontage has none
    depths = write_depths(scene, sheet, taken=[*corners, *(one.box for one in names)], rings=rings)
    assert depths
    assert all(re.search(r">\d+(\.\d)? m<", one.svg) for one in depths)
    boxes = [one.box for one in (*names, *depths)]
    for k, box in enumerate(boxes):
        assert not any(box_covers(box, ring) for ring in rings)
        assert not any(boxes_meet(box, other) for other in boxes[:k] + corners)
    wide = [(x, y, r + 15) for x, y, r in rings]
    assert not any(box_covers(one.box, ring) for one in depths for ring in wide)
    turns = [float(turn) for turn in re.findall(r"rotate\((-?\d+) [\d.]+ [\d.]+\)\">\d", text)]
    assert all(-90 <= turn <= 90 for turn in turns)


def test_names_in_two_lines_and_cut():
    assert two_lines("Camp swim area") == ("Camp swim", "area")
    assert two_lines("North Beach swim area") == ("North Beach", "swim area")
    assert two_lines("shoal") == ("shoal",)
    assert two_lines("Unbreakablename") == ("Unbreakablename",)
    assert cut("x" * 24) == "x" * 24
    assert cut("x" * 25) == "x" * 23 + "…"


def test_marks_differ_in_form_not_only_in_colour():
    bare = {word: re.sub(r'="#[0-9A-Fa-f]{6}"', "", mark_svg(word)) for word in INK}
    assert len(set(bare.values())) == 5
    for word in INK:
        root = fromstring(mark_svg(word))
        assert root.get("aria-hidden") == "true"
    # two discs filled with colour side by side are somebody's sign
    assert "fill=" not in mark_svg("conflict").replace('fill="none"', "")


def test_of_too_many_floats_the_worst_are_drawn():
    lines = [make_float(f"far{k}", -90 + 0.1 * k, -80) for k in range(MOST_FLOATS)]
    assessment, _, _, text = drawn(make_field([make_float("ashore", 95, 50), *lines], bed_m=6.5))
    assert len(assessment.floats) == MOST_FLOATS + 1
    assert text.count('stroke-width="2.8"') == MOST_FLOATS
