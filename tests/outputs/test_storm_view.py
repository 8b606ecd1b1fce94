"""The storm seen from the side: to scale, nothing covered, nothing written that is not so."""

import math
import re
from dataclasses import replace

import pytest
import shapely
from defusedxml.ElementTree import fromstring
from drawn_parts import VIEW, bed, chains, number, of, scale, texts
from hypothesis import given
from hypothesis import strategies as st

from lakemap.outputs.drawn.placer import Placer
from lakemap.outputs.drawn.storm_view import storm_view_svg
from lakemap.sizing.records import LineState

# ground chain to a lifted secondary, riser to the hook at 5.0 - 0.2 m
STATE = LineState(
    x_m=(0.0, 2.4, 4.8, 6.6, 8.4, 9.4),
    z_m=(0.0, 0.6, 1.4, 2.5, 4.0, 4.8),
    secondary=2,
    hook_tension_n=734.0,
    hook_angle_deg=38.4,
    primary_uplift_n=98.0,
)


def draw(view=VIEW, state=STATE, *, wave_m=0.4, mean_n=498.0, units="ft-lb"):
    return fromstring(storm_view_svg(view, state, wave_m=wave_m, mean_n=mean_n, units=units))


def test_one_scale_both_ways():
    root = draw()
    k, ground = scale(root), bed(root)
    chain, riser = chains(root)
    x0 = chain[0][0]
    hook = of(root, "circle")[0]
    drawn = [*chain, *riser[1:], (number(hook, "cx"), number(hook, "cy"))]
    line = shapely.LineString(list(zip(STATE.x_m, STATE.z_m, strict=True)))
    for x, y in drawn:  # the riser ends on the line too, where the absorber begins
        at = shapely.Point((x - x0) / k, (ground - y) / k)
        assert line.distance(at) == pytest.approx(0, abs=0.01)
    for a, b in zip(STATE.x_m[:-1], STATE.z_m[:-1], strict=True):
        assert min(math.dist(((x - x0) / k, (ground - y) / k), (a, b)) for x, y in drawn) < 0.01
    assert (number(hook, "cx") - x0) / k == pytest.approx(9.4, abs=0.01)
    # the drop is the depth less the hook's depth
    assert (ground - number(hook, "cy")) / k == pytest.approx(5.0 - 0.2, abs=0.01)


def test_the_hook_is_in_the_middle_of_the_float_at_its_draft():
    root = draw()
    hull = next(node for node in of(root, "rect") if node.get("rx"))
    hook = of(root, "circle")[0]
    assert number(hull, "x") + number(hull, "width") / 2 == pytest.approx(
        number(hook, "cx"), abs=0.1
    )
    keel = number(hull, "y") + number(hull, "height")
    assert (bed(root) - keel) / scale(root) == pytest.approx(5.0 - 0.25, abs=0.01)


def test_waves_are_as_high_as_they_are():
    root = draw(wave_m=0.8)
    surface = next(node.get("d") for node in of(root, "path") if node.get("stroke") == "#3E7391")
    # the middle of a quadratic curve is half as high as its control point
    crest = -float(re.search(r"q[\d.]+ (-[\d.]+)", surface)[1]) / 2
    assert 2 * crest / scale(root) == pytest.approx(0.8, abs=0.01)
    flat = draw(wave_m=0.0)
    assert "q13.0 -2.0" in next(
        node.get("d") for node in of(flat, "path") if node.get("stroke") == "#3E7391"
    )  # 1 px at least


def test_low_and_high_water_are_dotted_and_named():
    root = draw()
    dotted = [
        float(node.get("d").split()[1].split("H")[0])
        for node in of(root, "path")
        if node.get("stroke-dasharray") == "2 3"
    ]
    assert [(bed(root) - y) / scale(root) for y in dotted] == pytest.approx([4.5, 5.3], abs=0.01)
    assert {"low water", "high water"} <= set(texts(root))
    at_low = draw(replace(VIEW, depth_m=(4.5, 4.5, 5.3)))
    assert sum(node.get("stroke-dasharray") == "2 3" for node in of(at_low, "path")) == 1


@pytest.mark.parametrize(
    ("units", "said"),
    [
        # 498 N / 4.4482 = 111.95; 734 / 4.4482 = 165.01; 98 / 4.4482 = 22.03: pulls round up
        (
            "ft-lb",
            ["steady pull 112 lb", "166 lb in the riser,", "pulled up 23 lb", "lifted 4.6 ft",
             "reach 30.8 ft"],
        ),
        (
            "m-kg",
            ["steady pull 498 N", "734 N in the riser,", "pulled up 98 N", "lifted 1.40 m",
             "reach 9.40 m"],
        ),
    ],
)  # fmt: skip
def test_what_is_written(units, said):
    root = draw(units=units)
    assert set(said) < set(texts(root))
    assert "38° above level" in texts(root)
    assert root.get("role") == "img"
    label = root.get("aria-label")
    for words in (said[0], "38° above level", said[2], said[3], said[4]):
        assert words in label


def test_nothing_is_said_to_lift_that_does_not():
    rests = replace(STATE, z_m=(0.0, 0.0, 0.03, 1.5, 3.5, 4.8), primary_uplift_n=0.0)
    root = draw(state=rests)
    assert not [text for text in texts(root) if "lifted" in text or "pulled up" in text]
    assert "#B3200C" not in [node.get("fill") for node in root.iter()]
    lifted = replace(rests, z_m=(0.0, 0.0, 0.04, 1.5, 3.5, 4.8))
    assert "lifted 0.1 ft" in texts(draw(state=lifted))


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


RIGS = {
    "lifted": (VIEW, STATE),
    "long and shallow": (
        replace(VIEW, depth_m=(1.4, 1.8, 2.1)),
        replace(STATE, x_m=(0, 6, 12, 16, 19, 21), z_m=(0, 0, 0, 0.5, 1.0, 1.6)),
    ),
    "shallow under a large deck": (
        replace(VIEW, depth_m=(1.2, 1.6, 1.9), deck_m=6.0),
        replace(STATE, x_m=(0, 1.2, 2.3, 3.2, 4, 4.5), z_m=(0, 0.1, 0.3, 0.7, 1.1, 1.4)),
    ),
    "hung": (
        replace(VIEW, depth_m=(9.0, 9.5, 9.8)),
        replace(STATE, x_m=(0, 1.6, 3.2, 4.0, 4.7, 5.1), z_m=(0, 2.7, 5.4, 7.0, 8.5, 9.3)),
    ),
    "upright": (
        replace(VIEW, depth_m=(9.0, 9.5, 9.8)),
        replace(STATE, x_m=(0, 0.1, 0.2, 0.3, 0.4, 0.5), z_m=(0, 2.7, 5.4, 7.0, 8.5, 9.3)),
    ),
    "deep": (
        replace(VIEW, depth_m=(19.5, 20.0, 20.3)),
        replace(STATE, x_m=(0, 6, 11, 18, 25, 29), z_m=(0, 1.6, 3.9, 10, 16, 19.8)),
    ),
    "secondary rests": (
        VIEW,
        replace(STATE, z_m=(0.0, 0.0, 0.0, 1.5, 3.5, 4.8), primary_uplift_n=0.0),
    ),
    "short": (
        replace(VIEW, depth_m=(6.0, 6.5, 6.8)),
        replace(STATE, x_m=(0, 0.8, 1.6, 3.4, 5.2, 6.9), z_m=(0, 0.5, 1.1, 2.9, 4.8, 6.3)),
    ),
}


@pytest.mark.parametrize("rig", RIGS)
@pytest.mark.parametrize("units", ["ft-lb", "m-kg"])
def test_no_text_covers_another_or_leaves_the_picture(rig, units):
    view, state = RIGS[rig]
    for shown in view.depth_m:
        at_level = replace(view, depth_m=(view.depth_m[0], shown, view.depth_m[2]))
        root = draw(at_level, state, units=units, mean_n=1234.0)
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


@given(
    st.lists(
        st.tuples(
            st.floats(0, 300), st.floats(0, 200), st.sampled_from(["start", "middle", "end"])
        ),
        min_size=1,
        max_size=6,
    )
)
def test_placed_texts_never_meet(places):
    texts = Placer(0, 0, 520, 250)
    placed = [texts.put(["steady pull"], [place])[1] for place in places]
    for k, (x, y, w, h) in enumerate(placed):
        assert 0 <= x <= 520 - w
        assert 0 <= y <= 250 - h
        for a, b, c, d in placed[k + 1 :]:
            assert x + w <= a or a + c <= x or y + h <= b or b + d <= y


def test_a_text_that_may_be_left_out_is_where_there_is_no_room():
    texts = Placer(0, 0, 520, 250)
    texts.take((0, 0, 520, 250))
    assert texts.put(["low water"], [(5, 100, "start")], must=False)[0] == ""


def test_texts_on_the_picture_are_escaped():
    svg, _ = Placer(0, 0, 520, 250).put(["<b>&"], [(5, 100, "start")])
    assert fromstring(svg).text == "<b>&"


def test_same_input_same_bytes():
    first, second = (
        storm_view_svg(VIEW, STATE, wave_m=0.4, mean_n=498.0, units="ft-lb") for _ in range(2)
    )
    assert first == second
