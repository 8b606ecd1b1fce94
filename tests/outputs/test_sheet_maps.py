"""The small maps of a sheet: what must be seen is seen, to scale, and no word covers another."""

import math
import re

import defusedxml.ElementTree as ET  # noqa: N817
import numpy as np
import pytest
import shapely
from conftest import make_field, make_float, make_settings, make_zone
from hypothesis import given
from hypothesis import strategies as st
from sheet_samples import HOSTILE

from lakemap.mapping import assess
from lakemap.outputs.drawn.paper import Sheet, boxes_meet
from lakemap.outputs.drawn.scene import build_scene
from lakemap.outputs.sheets.hung_view import HungView, hung_svg
from lakemap.outputs.sheets.map_grid import grid_step
from lakemap.outputs.sheets.map_view import view_about
from lakemap.outputs.sheets.map_words import Words
from lakemap.outputs.sheets.page_figures import Figures
from lakemap.outputs.sheets.small_map import HEIGHT, WIDTH, around_svg
from lakemap.outputs.sheets.tow_map import tow_svg
from lakemap.outputs.words.texts import ENGLISH
from lakemap.season.facts.place_facts import MarkSight
from lakemap.season.facts.tow import Tow

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def square():
    """Float a at the middle, b 30 m to its east, one retired; a ramp in the north."""
    floats = [
        make_float("a", bearing_deg=90.0),
        make_float("b", 30, 0, owner="Ada Wren"),
        make_float("c", -20, 0, status="retired"),
    ]
    ramp = make_zone("ramp", shapely.LineString([(0, 100), (0, 90)]), width_m=4.0, label="ramp")
    return assess(make_field(floats, zones=[ramp]))


@pytest.fixture(scope="module")
def scene(square):
    return build_scene(square)


def mark(name, x, y):
    return MarkSight(
        name=name, kind="dock", lon=0.0, lat=0.0, x_m=x, y_m=y,
        from_mark_deg=(math.degrees(math.atan2(-x, -y))) % 360,
        to_mark_deg=math.degrees(math.atan2(x, y)) % 360,
        distance_m=math.hypot(x, y),
    )  # fmt: skip


def texts_of(svg):
    return ["".join(one.itertext()) for one in ET.fromstring(svg).iter(f"{SVG}text")]


def around(square, scene, *marks):
    return around_svg(square, scene, square.floats[0], marks, texts=ENGLISH)


def test_floats_marks_and_grid_are_named(square, scene):
    told = texts_of(around(square, scene, mark("dock", 0, 24), mark("tip", -24, 0)))
    # bearings are towards the marks, distances by Pythagoras
    assert {
        "a",
        "b",
        "A",
        "B",
        "000°, 24.0 m",
        "270°, 24.0 m",
        "N",
        "metres from the middle",
    } <= set(told)
    assert "c" not in told
    assert not any("Ada" in one for one in told)


def test_the_scale_bar_is_as_long_as_it_says(square, scene):
    svg = around(square, scene)
    (label,) = [one for one in texts_of(svg) if re.fullmatch(r"\d+ m", one)]
    halves = [float(one) for one in re.findall(r'y="289" width="([\d.]+)" height="5"', svg)]
    primary = float(re.search(r'<circle cx="[\d.]+" cy="[\d.]+" r="([\d.]+)"', svg[svg.index('stroke-width="5"') - 90:])[1])  # fmt: skip
    px_per_m = primary / square.floats[0].swing_radius_m[0]
    assert sum(halves) / px_per_m == pytest.approx(int(label.split()[0]), rel=0.01)


def test_a_mark_far_away_lies_off_the_map_and_its_line_points_to_it(square, scene):
    svg = around(square, scene, mark("far", 3000, 4000))
    line = next(
        one
        for one in ET.fromstring(svg).iter(f"{SVG}path")
        if one.get("stroke-dasharray") == "9 3 2 3"
    )
    x1, y1, x2, y2 = (float(one) for one in re.findall(r"-?[\d.]+", line.get("d")))
    assert (x2 - x1) / (y1 - y2) == pytest.approx(3000 / 4000, rel=0.01)
    assert 0 <= x2 <= WIDTH
    assert y2 == pytest.approx(0, abs=0.1)
    assert "037°, 5000.0 m" in [one.replace(",000", "000") for one in texts_of(svg)]


def test_a_mark_near_by_is_seen(square, scene):
    svg = around(square, scene, mark("near", 0, 40))
    marks = [one for one in ET.fromstring(svg).iter(f"{SVG}circle") if one.get("r") == "4.2"]
    assert len(marks) == 1
    assert 0 < float(marks[0].get("cy")) < HEIGHT


def test_words_of_people_stay_words(scene):
    floats = [make_float(words, 25.0 * k - 60, 0) for k, words in enumerate(HOSTILE)]
    field = make_field(
        floats, zones=[make_zone("swim_area", shapely.box(-20, 20, 20, 40), label=HOSTILE[3])]
    )
    seen = assess(field)
    drawn = build_scene(seen)
    for one in seen.floats:
        root = ET.fromstring(
            around_svg(seen, drawn, one, (mark(HOSTILE[4], 0, 30),), texts=ENGLISH)
        )
        assert {child.tag.removeprefix(SVG) for child in root.iter()} <= {
            "svg", "defs", "pattern", "clipPath", "g", "rect", "path", "circle", "text",
        }  # fmt: skip


def test_the_same_field_gives_the_same_map_and_others_have_other_patterns(square, scene):
    assert around(square, scene) == around(square, scene)
    names = [
        set(re.findall(r'id="([^"]+)"', around_svg(square, scene, one, (), texts=ENGLISH)))
        for one in square.floats[:2]
    ]
    assert not names[0] & names[1]


def test_a_float_whose_circle_nobody_knows_has_dots():
    seen = assess(make_field([make_float("a", riser_m=None, ground_m=None)], bed_m=None))
    svg = around_svg(seen, build_scene(seen), seen.floats[0], (), texts=ENGLISH)
    assert 'stroke-dasharray="0.1 4.6"' in svg


@given(st.floats(0.01, 500))
def test_grid_lines_are_round_and_never_crowded(px_per_unit):
    step = grid_step(px_per_unit)
    assert step * px_per_unit >= 68
    assert step * px_per_unit < 68 * 2.5 + 1e-6
    first = step / 10 ** math.floor(math.log10(step) + 1e-9)
    assert round(first, 6) in {1, 2, 5, 10}


def test_a_view_shows_its_points_to_the_edge_and_nothing_is_stretched(scene):
    points = np.array([(-10.0, -5.0), (30.0, 5.0)])
    view = view_about(scene, points, width=200, height=100, prefix="t")
    assert view.sheet.scale == pytest.approx(5.0)  # 40 m on 200 px
    assert view.sheet.xy(10.0, 0.0) == pytest.approx((100, 50))
    for x, y in points:
        px, py = view.sheet.xy(x, y)
        assert -1e-9 <= px <= 200 + 1e-9
        assert -1e-9 <= py <= 100 + 1e-9


points = st.tuples(st.floats(0, 300), st.floats(0, 300))


@given(
    st.lists(st.tuples(points, st.text("ab ", min_size=1, max_size=12), st.booleans()), max_size=14)
)
def test_no_word_covers_another_or_leaves_the_map(wanted):
    sheet = Sheet(width=300, height=300, west=0, north=300, scale=1, left=0, top=0, prefix="t")
    words = Words(sheet, [])
    for at, text, must in wanted:
        words.about([text], at, size=11, off=5, must=must)
    for k, box in enumerate(words.boxes):
        assert box[0] > 0
        assert box[3] < 300
        assert not any(boxes_meet(box, other) for other in words.boxes[k + 1 :])


def test_words_keep_off_a_line_where_they_can():
    sheet = Sheet(width=300, height=300, west=0, north=300, scale=1, left=0, top=0, prefix="t")
    words = Words(sheet, [])
    words.keep_off_line([(0, 150), (300, 150)])
    words.about(["word"], (150, 150), size=11, off=5)
    _, top, _, bottom = words.boxes[0]
    assert bottom < 150 or top > 150


TOW = Tow(
    under="both", draft_m=1.0, hang_m=0.6, needs_m=1.3, to_ramp=True, target="ramp",
    deep_enough=True, spare_m=0.9, route_xy=((0.0, 0.0), (0.0, 50.0), (10.0, 80.0)),
    route_lonlat=(), length_m=81.6, left_m=3.0, profile=(), shallowest_m=2.249,
    shallowest_xy=(10.0, 80.0), shallowest_lonlat=(0.0, 0.0), unsounded=False, swim_areas=(),
    step_m=1.0,
)  # fmt: skip


def test_the_way_to_the_ramp_its_end_and_its_shallowest_place(square, scene):
    svg = tow_svg(square, scene, square.floats[0], TOW, texts=ENGLISH)
    told = texts_of(svg)
    assert {"ramp", "shallowest: 2.24 m"} <= set(told)  # never said to be deeper than it is
    way = next(
        one for one in ET.fromstring(svg).iter(f"{SVG}path") if one.get("stroke-dasharray") == "8 4"
    )
    xy = np.array([float(one) for one in re.findall(r"-?[\d.]+", way.get("d"))]).reshape(-1, 2)
    steps = np.diff(xy, axis=0)
    assert steps[1][0] / -steps[1][1] == pytest.approx(10 / 30, abs=0.02)
    assert np.all((xy >= 0) & (xy <= (WIDTH, HEIGHT)))


def hung(**more):
    given = {
        "deck_m": 4.0, "height_m": 0.6, "float_draft_m": 0.4, "hook_depth_m": 0.1,
        "lowest_m": 1.0, "bed_m": 3.0,
    }  # fmt: skip
    return HungView(**given | more)


def test_what_hangs_under_the_float_is_drawn_to_scale():
    svg = hung_svg(hung(), units="m-kg", texts=ENGLISH)
    bars = re.search(r'd="M([\d.]+) ([\d.]+)V([\d.]+)M.*?M([\d.]+) ([\d.]+)V([\d.]+)M', svg)
    lowest, bed = float(bars[3]) - float(bars[2]), float(bars[6]) - float(bars[5])
    assert lowest / bed == pytest.approx(1.0 / 3.0, abs=0.01)
    assert {"clusters hang 1.00 m deep", "way at least 3.00 m deep", "2.00 m under them"} <= {
        *re.findall(r">([^<>]+)</text>", svg)
    }


def test_what_is_left_agrees_with_the_figures_beside_it():
    # 2.607 ft up to 2.7, 9.956 ft down to 9.9: 7.2 between them as shown, not 7.3
    told = hung_svg(
        hung(lowest_m=2.607 * 0.3048, bed_m=9.956 * 0.3048), units="ft-lb", texts=ENGLISH
    )
    assert "clusters hang 2.7 ft deep" in told
    assert "way at least 9.9 ft deep" in told
    assert "7.2 ft under them" in told


def test_too_shallow_is_said_and_one_cluster_is_drawn_alone():
    told = hung_svg(hung(bed_m=0.8, under="primary"), units="m-kg", texts=ENGLISH)
    assert "too shallow by 0.20 m" in told
    assert "primary hangs 1.00 m deep" in told
    assert told.count('stroke-dasharray="4.5 1.8"') == 1


def test_the_side_view_follows_the_level_of_the_day(square):
    figures = Figures(square)
    one = square.floats[0]
    assert "6.50 m deep" in figures.side(one, None).svg
    assert "6.80 m deep" in figures.side(one, 0.3).svg
    assert figures.side(one, -7.0) is None
    unknown = assess(make_field([make_float("a")], bed_m=None))
    assert Figures(unknown).side(unknown.floats[0], None) is None


def test_feet_on_the_grid_where_people_use_them():
    field = make_field([make_float("a", 20, 30)], settings=make_settings(units="ft-lb"))
    seen = assess(field)
    told = texts_of(around_svg(seen, build_scene(seen), seen.floats[0], (), texts=ENGLISH))
    assert "feet from the middle" in told
    assert any(re.fullmatch(r"E \d+", one) for one in told)
    assert any(re.fullmatch(r"N \d+", one) for one in told)


def test_a_drawing_says_what_it_shows(square):
    figures = Figures(square)
    assert figures.surroundings(square.floats[0], None).alt == "Map about float a, north up."
    assert (
        figures.side(square.floats[0], None).alt == "The rig of float a from the side in calm water"
    )
