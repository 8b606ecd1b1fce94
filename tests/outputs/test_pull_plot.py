"""Pull against reach: each thing at its place on the axes that are drawn."""

import re
from dataclasses import replace

import numpy as np
import pytest
from defusedxml.ElementTree import fromstring
from drawn_parts import number, of, texts
from hypothesis import given
from hypothesis import strategies as st

from lakemap.outputs.drawn.pull_plot import pull_plot_svg
from lakemap.sizing.records import PullCurve

POUND_N, FOOT_M = 4.4482216152605, 0.3048
CURVE = PullCurve(
    pull_n=(0.0, 60.0, 110.0, 250.0, 500.0, 1200.0),
    reach_m=(3.5, 4.0, 4.1, 4.7, 5.2, 5.4),
    lifts_n=110.0,
    uplift_n=250.0,
    taut_m=5.45,
    storm_n=500.0,
    storm_reach_m=5.2,
)


def draw(curve=CURVE, units="m-kg"):
    return fromstring(pull_plot_svg(curve, units=units))


def axes(root):
    """From pixels to the axes' own numbers, read off the ticks as a reader would."""
    ticks = [node for node in of(root, "text") if re.fullmatch(r"[\d.,]+", node.text)]
    across = [node for node in ticks if node.get("text-anchor") == "middle"]
    up = [node for node in ticks if node.get("text-anchor") == "end"]
    value = lambda node: float(node.text.replace(",", ""))  # noqa: E731
    x = np.polyfit([number(n, "x") for n in across], [value(n) for n in across], 1)
    y = np.polyfit([number(n, "y") - 4 for n in up], [value(n) for n in up], 1)
    return (lambda px: np.polyval(x, px)), (lambda py: np.polyval(y, py)), across, up


def line(root):
    path = next(n for n in of(root, "path") if n.get("stroke-width") == "2.6")
    return [tuple(map(float, p.split())) for p in path.get("d")[1:].split("L")]


@pytest.mark.parametrize(
    ("units", "per_m", "per_n"), [("m-kg", 1, 1), ("ft-lb", 1 / FOOT_M, 1 / POUND_N)]
)
def test_the_curve_and_the_storm_read_off_the_axes(units, per_m, per_n):
    root = draw(units=units)
    reach, pull, _, _ = axes(root)
    drawn = line(root)
    assert [reach(x) for x, _ in drawn] == pytest.approx(
        np.array(CURVE.reach_m) * per_m, abs=0.005 * per_m
    )
    assert [pull(y) for _, y in drawn] == pytest.approx(
        np.array(CURVE.pull_n) * per_n, abs=5 * per_n
    )
    ring, dot = [n for n in of(root, "circle") if n.get("stroke") or n.get("r") == "2"]
    assert (ring.get("cx"), ring.get("cy")) == (dot.get("cx"), dot.get("cy"))
    # the storm is a point of the curve
    assert (number(ring, "cx"), number(ring, "cy")) == pytest.approx(drawn[4])


def test_bands_are_named_and_begin_where_the_line_changes():
    root = draw()
    _, pull, _, _ = axes(root)
    bands = of(root, "rect")[1:]
    tops = [pull(number(n, "y")) for n in bands]
    assert tops == pytest.approx([110, 250, 1200], abs=5)
    assert {"the secondary rests", "the secondary lifts", "the primary is pulled up"} <= set(
        texts(root)
    )


def test_the_taut_limit_is_dashed_and_named():
    root = draw()
    reach, _, _, _ = axes(root)
    taut = next(n for n in of(root, "path") if n.get("stroke-dasharray"))
    assert reach(float(re.match(r"M([\d.]+)", taut.get("d"))[1])) == pytest.approx(5.45, abs=0.005)
    assert "taut: 5.45 m" in texts(root)
    assert max(x for x, _ in line(root)) < float(re.match(r"M([\d.]+)", taut.get("d"))[1])


def test_units():
    # 500 N / 4.4482 = 112.4, up; 5.2 m / 0.3048 = 17.06 ft; 5.45 / 0.3048 = 17.88, up
    assert {"storm, 113 lb: 17.1 ft", "taut: 17.9 ft"} <= set(texts(draw(units="ft-lb")))
    assert "storm, 500 N: 5.20 m" in texts(draw())
    assert "reach of the float from its primary, ft" in texts(draw(units="ft-lb"))
    assert "pull on the float, N" in texts(draw())
    label = draw().get("aria-label")
    assert "storm, 500 N: 5.20 m" in label
    assert "taut: 5.45 m" in label
    assert draw().get("role") == "img"


@given(
    st.floats(0.5, 50), st.floats(0.3, 20), st.floats(20, 5e4), st.sampled_from(["ft-lb", "m-kg"])
)
def test_steps_are_1_2_or_5(start, span, highest, units):
    share = np.linspace(0, 1, 6)
    curve = replace(
        CURVE,
        pull_n=tuple(share**3 * highest),
        reach_m=tuple(start + share * 0.95 * span),
        taut_m=start + span,
        lifts_n=0.1 * highest,
        uplift_n=0.3 * highest,
        storm_n=0.5 * highest,
        storm_reach_m=start + 0.75 * span,
    )
    root = draw(curve, units)
    _, _, across, up = axes(root)
    for ticks in (across, up):
        values = np.array([float(n.text.replace(",", "")) for n in ticks])
        assert 2 <= len(values) <= 8
        steps = np.diff(values)
        assert steps == pytest.approx(steps[0], rel=1e-3)
        assert f"{steps[0]:.0e}"[0] in "125"


@pytest.mark.parametrize(
    ("lifts", "uplift", "storm"),
    [(0.0, 0.0, 3), (5.0, 9.0, 4), (600.0, 3000.0, 1), (110.0, 250.0, 2), (1190.0, 1195.0, 5)],
)
@pytest.mark.parametrize("units", ["ft-lb", "m-kg"])
def test_no_text_covers_another_or_the_curve(lifts, uplift, storm, units):
    curve = replace(
        CURVE,
        lifts_n=lifts,
        uplift_n=uplift,
        storm_n=CURVE.pull_n[storm],
        storm_reach_m=CURVE.reach_m[storm],
    )
    root = draw(curve, units)
    boxes = []
    for node in of(root, "text"):
        if node.get("transform"):
            continue
        size = number(node, "font-size")
        wide = len(node.text) * size * 0.58
        x = (
            number(node, "x")
            - wide * {"start": 0, "middle": 0.5, "end": 1}[node.get("text-anchor")]
        )
        boxes.append((node.text, x, number(node, "y") - 0.8 * size, x + wide, number(node, "y")))
    path = np.array(line(root))
    length = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(path, axis=0).T))])
    at = np.linspace(0, length[-1], 500)
    xs, ys = np.interp(at, length, path[:, 0]), np.interp(at, length, path[:, 1])
    for k, (text, left, upper, right, lower) in enumerate(boxes):
        assert 0 <= left < right <= 520, text
        assert 0 <= upper < lower <= 280, text
        # figures stand outside the axes
        if re.search("[a-z]", text):
            assert not ((xs > left) & (xs < right) & (ys > upper) & (ys < lower)).any(), text
        for other, left2, upper2, right2, lower2 in boxes[k + 1 :]:
            apart = right <= left2 or right2 <= left or lower <= upper2 or lower2 <= upper
            assert apart, (text, other)


def test_a_storm_above_the_curve_is_still_on_the_plot():
    root = draw(replace(CURVE, storm_n=2000.0, storm_reach_m=5.44))
    ring = next(n for n in of(root, "circle") if n.get("stroke"))
    assert number(ring, "cy") > 28


def test_same_input_same_bytes():
    assert pull_plot_svg(CURVE, units="ft-lb") == pull_plot_svg(CURVE, units="ft-lb")
