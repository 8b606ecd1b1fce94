"""The rig in calm water seen from the side: the line's own lengths, to scale, words in the clear."""

import math
import re
from dataclasses import replace
from itertools import pairwise

import pytest
import shapely
from conftest import make_field, make_float
from defusedxml.ElementTree import fromstring
from drawn_parts import VIEW, bed, chains, number, of, points, scale, texts
from hypothesis import given
from hypothesis import strategies as st

from lakemap.basis.records import Levels
from lakemap.mapping import assess
from lakemap.outputs.drawn.pull_plot import pull_plot_svg
from lakemap.outputs.drawn.rose import rose_svg
from lakemap.outputs.drawn.side_view import calm_line, side_view_svg
from lakemap.outputs.drawn.storm_view import storm_view_svg
from lakemap.outputs.web.panel_rig import side_view_of
from lakemap.sizing.records import LineState, PullCurve, Rose

RIGS = {
    "slack": VIEW,
    "hung": replace(VIEW, depth_m=(9.0, 9.5, 9.8), riser_m=7.0, ground_m=8.0),
    "hung plumb": replace(VIEW, depth_m=(9.0, 9.5, 9.8), riser_m=5.0, ground_m=5.0),
    "long and shallow": replace(VIEW, depth_m=(1.4, 1.8, 2.1), riser_m=9.0, ground_m=14.0),
    "under a large deck": replace(VIEW, depth_m=(1.2, 1.6, 1.9), riser_m=2.0, ground_m=2.0, deck_m=6.0),
    "deep": replace(VIEW, depth_m=(19.5, 20.0, 20.3), riser_m=24.0, ground_m=12.0),
    "no ground chain": replace(VIEW, ground_m=0.0),
    "too short": replace(VIEW, riser_m=1.0, ground_m=1.0),
    "aground": replace(VIEW, depth_m=(-0.3, 0.1, 0.4)),
}  # fmt: skip


def draw(view=VIEW, units="ft-lb"):
    return fromstring(side_view_svg(view, units=units))


def long(line):
    return sum(math.dist(a, b) for a, b in pairwise(line))


@given(
    depth=st.floats(0.5, 30), slack=st.floats(1.001, 3), ground=st.floats(0.0, 40),
    hook=st.floats(-0.3, 0.4),
)  # fmt: skip
def test_the_line_has_its_lengths_and_ends_at_the_hook(depth, slack, ground, hook):
    """A resting secondary: the chain lies straight, the riser is as long as it is."""
    drop = depth - hook
    view = replace(
        VIEW, depth_m=(depth,) * 3, hook_depth_m=hook, riser_m=slack * drop, ground_m=ground
    )
    line, at = calm_line(view)
    assert line[0] == pytest.approx((0, 0), abs=1e-9)
    assert line[at] == pytest.approx((ground, 0), abs=1e-9)
    assert line[-1][1] == pytest.approx(drop, rel=1e-6)
    assert all(z >= -1e-9 for _, z in line)
    # chords of a curve are a little shorter than it
    assert 0.99 * view.riser_m < long(line[at:]) <= view.riser_m * (1 + 1e-9)
    assert ground <= line[-1][0] < ground + math.sqrt(view.riser_m**2 - drop**2)


@given(drop=st.floats(1, 30), riser=st.floats(0.1, 0.999), over=st.floats(1.01, 3))
def test_a_short_riser_hangs_its_secondary_plumb(drop, riser, over):
    """By hand: the riser upright, below it as much chain as the riser lacks, the rest on the bed."""
    short = drop * (1 - riser)
    view = replace(VIEW, depth_m=(drop + 0.2,) * 3, riser_m=drop * riser, ground_m=short * over)
    line, at = calm_line(view)
    out = short * (over - 1)
    assert line[at] == pytest.approx((out, short), rel=1e-6, abs=1e-9)
    assert line[-1] == pytest.approx((out, drop), rel=1e-6, abs=1e-9)


def test_it_is_the_line_of_the_pictures():
    levels = Levels(low_m=-0.5, normal_m=0.0, high_m=0.5, soundings_m=0.0)
    floats = [
        make_float("rests", riser_m=8.0, ground_m=6.0),
        make_float("hangs", 30, 0, riser_m=5.0, ground_m=6.0),
    ]
    assessment = assess(make_field(floats))
    assert assessment.field.settings.levels == levels
    for one, pictures in zip(assessment.floats, assessment.rig_pictures(), strict=True):
        for level in range(3):
            state = pictures.calm[level]
            line, at = calm_line(side_view_of(one, level))
            assert line[at] == pytest.approx(
                (state.x_m[state.secondary], state.z_m[state.secondary]), abs=1e-6
            )
            mine = shapely.LineString(line)
            for x, z in zip(state.x_m, state.z_m, strict=True):
                assert mine.distance(shapely.Point(x, z)) < 0.03  # chords


def test_one_scale_both_ways():
    root = draw()
    k, ground = scale(root), bed(root)
    chain, riser = chains(root)
    hook = of(root, "circle")[0]
    x0 = chain[0][0]
    line = shapely.LineString(calm_line(VIEW)[0])
    for x, y in [*chain, *riser, (number(hook, "cx"), number(hook, "cy"))]:
        assert line.distance(shapely.Point((x - x0) / k, (ground - y) / k)) < 0.01
    assert (chain[-1][0] - x0) / k == pytest.approx(5.0, abs=0.01)
    assert (ground - number(hook, "cy")) / k == pytest.approx(5.0 - 0.2, abs=0.01)
    # the depth's own measure, from the bed to the water
    bar = next(node.get("d") for node in of(root, "path") if node.get("d").startswith("M14 "))
    top = float(re.match(r"M14 ([\d.]+)V", bar)[1])
    assert (ground - top) / k == pytest.approx(5.0, abs=0.01)


def test_the_absorber_is_two_lines_on_top_of_the_riser():
    root = draw()
    bows = next(node.get("d") for node in of(root, "path") if node.get("d").count("Q") == 2)
    hook = of(root, "circle")[0]
    starts = [points(part)[0] for part in bows.split("M")[1:]]
    ends = [points(part)[-1] for part in bows.split("M")[1:]]
    assert starts[0] == starts[1]
    assert ends == [(number(hook, "cx"), number(hook, "cy"))] * 2
    below = chains(root)[1][-1]
    assert (starts[0][0], starts[0][1] + 2) == pytest.approx(below, abs=0.11)
    assert math.dist(below, ends[0]) == pytest.approx(24, abs=0.2)


@pytest.mark.parametrize(
    ("units", "said"),
    [
        # 5 m = 16 ft 4.9 in, 6 m = 19 ft 8.2 in
        ("ft-lb", ["16 ft 5 in deep", "riser 19 ft 8 in", "ground chain 16 ft 5 in"]),
        ("m-kg", ["5.00 m deep", "riser 6.00 m", "ground chain 5.00 m"]),
    ],
)
def test_what_is_written(units, said):
    root = draw(units=units)
    assert {*said, "primary", "secondary", "low water", "high water"} == set(texts(root))
    assert root.get("role") == "img"
    for words in ("in calm water", *said):
        assert words in root.get("aria-label")


def test_a_secondary_off_the_bed_is_said():
    assert "hangs off the bed" in texts(draw(RIGS["hung"]))
    assert "hangs off the bed" not in texts(draw())


def test_levels_are_dotted_where_they_are_not_the_one_shown():
    dotted = [node for node in of(draw(), "path") if node.get("stroke-dasharray") == "2 3"]
    heights = [float(node.get("d").split()[1].split("H")[0]) for node in dotted]
    root = draw()
    assert [(bed(root) - y) / scale(root) for y in heights] == pytest.approx([4.5, 5.3], abs=0.01)
    still = draw(replace(VIEW, depth_m=(5.0, 5.0, 5.0)))
    assert not [node for node in of(still, "path") if node.get("stroke-dasharray") == "2 3"]
    assert not {"low water", "high water"} & set(texts(still))


def boxes(root):
    """Each text's box, with letters 0.58 of their size wide."""
    found = []
    for node in of(root, "text"):
        size = number(node, "font-size")
        wide = len(node.text) * size * 0.58
        x = (
            number(node, "x")
            - wide * {"start": 0, "middle": 0.5, "end": 1}[node.get("text-anchor")]
        )
        found.append((node.text, x, number(node, "y") - 0.8 * size, x + wide, number(node, "y")))
    return found


@pytest.mark.parametrize("rig", RIGS)
@pytest.mark.parametrize("units", ["ft-lb", "m-kg"])
def test_no_text_covers_another_or_leaves_the_picture(rig, units):
    view = RIGS[rig]
    for shown in view.depth_m:
        root = draw(replace(view, depth_m=(view.depth_m[0], shown, view.depth_m[2])), units)
        _, top, wide, high = map(float, root.get("viewBox").split())
        all_of = boxes(root)
        for k, (text, left, upper, right, lower) in enumerate(all_of):
            assert left >= 0, text
            assert right <= wide, text
            assert upper >= top, text
            assert lower <= top + high, text
            for other, left2, upper2, right2, lower2 in all_of[k + 1 :]:
                apart = right <= left2 or right2 <= left or lower <= upper2 or lower2 <= upper
                assert apart, (text, other)


def light(colour):
    """Relative luminance, WCAG 2.2."""
    if len(colour) == 4:
        colour = "#" + "".join(2 * letter for letter in colour[1:])
    parts = [int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)]
    linear = [v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def ground_of(text, drawn):
    """The halo, or the last box drawn before the text at its place."""
    if text.get("paint-order") == "stroke":
        return text.get("stroke")
    if text.get("transform"):
        return drawn[0].get("fill")
    x, y = number(text, "x"), number(text, "y") - 3
    under = [
        node
        for node in drawn
        if number(node, "width") > 20
        and float(node.get("x", 0)) <= x <= float(node.get("x", 0)) + number(node, "width")
        and float(node.get("y", 0)) <= y <= float(node.get("y", 0)) + number(node, "height")
    ]
    return under[-1].get("fill")


STATE = LineState(
    x_m=(0.0, 2.4, 4.8, 6.6, 8.4, 9.4), z_m=(0.0, 0.6, 1.4, 2.5, 4.0, 4.8), secondary=2,
    hook_tension_n=734.0, hook_angle_deg=38.4, primary_uplift_n=98.0,
)  # fmt: skip
CURVE = PullCurve(
    pull_n=(0.0, 100.0, 400.0, 900.0), reach_m=(6.0, 8.0, 9.0, 9.4),
    lifts_n=150.0, uplift_n=350.0, taut_m=9.6, storm_n=400.0, storm_reach_m=9.0,
)  # fmt: skip
ROSE = Rose(from_deg=(0.0, 90.0), fetch_m=(80.0, 60.0), wave_height_m=(0.4, 0.2), worst=0)
PICTURES = {
    "calm": side_view_svg(VIEW, units="ft-lb"),
    "storm": storm_view_svg(VIEW, STATE, wave_m=0.4, mean_n=500.0, units="ft-lb"),
    "plot": pull_plot_svg(CURVE, units="ft-lb"),
    "rose": rose_svg(
        ROSE, shapely.MultiPolygon([shapely.box(-90, -90, 90, 90)]), (0.0, 0.0), units="ft-lb"
    ),
}


@pytest.mark.parametrize("picture", PICTURES)
def test_letters_stand_out_from_their_ground(picture):
    """WCAG 2.2, 1.4.3: 4.5 to 1."""
    root = fromstring(PICTURES[picture])
    drawn = []
    for node in root.iter():
        if node.tag.endswith("rect"):
            drawn.append(node)
        if node.tag.endswith("text"):
            letters, ground = light(node.get("fill")), light(ground_of(node, drawn))
            ratio = (max(letters, ground) + 0.05) / (min(letters, ground) + 0.05)
            assert ratio >= 4.5, (node.text, node.get("fill"), ground_of(node, drawn))


def test_same_input_same_bytes():
    assert side_view_svg(VIEW, units="ft-lb") == side_view_svg(replace(VIEW), units="ft-lb")
