"""Open water on the lake's outline: rays as long as the fetches, north up."""

import re
from dataclasses import replace

import numpy as np
import pytest
import shapely
from defusedxml.ElementTree import fromstring
from drawn_parts import of

from lakemap.outputs.drawn.rose import rose_says, rose_svg
from lakemap.sizing.records import Rose

# a box 400 by 200 m with an island to the north-east; the float is 50 m from its west shore
LAKE = shapely.multipolygons([shapely.difference(shapely.box(0, 0, 400, 200), shapely.box(180, 120, 220, 160))])  # fmt: skip
AT = (50.0, 100.0)
ROSE = Rose(
    from_deg=(0.0, 90.0, 180.0, 270.0),
    fetch_m=(100.0, 350.0, 100.0, 50.0),
    wave_height_m=(0.1, 0.183, 0.1, 0.07),
    worst=1,
)


def draw(rose=ROSE, lake=LAKE, at=AT, units="m-kg"):
    return fromstring(rose_svg(rose, lake, at, units=units))


def rays(root):
    """Start and end of each, the bold one last."""
    found = []
    for node in of(root, "path"):
        parts = re.findall(r"M([\d.-]+) ([\d.-]+)L([\d.-]+) ([\d.-]+)(?=M|$)", node.get("d"))
        found += [(np.array(part[:2], float), np.array(part[2:], float)) for part in parts]
    return found


def outline(root):
    path = next(n for n in of(root, "path") if n.get("fill-rule"))
    return [
        np.array([p.split() for p in ring.rstrip("Z").split("L")], dtype=float)
        for ring in path.get("d").split("M")[1:]
    ]


def test_rays_are_to_scale_and_north_is_up():
    root = draw()
    drawn = rays(root)
    # the bold one is drawn last; the rest in their order
    bearings, fetches = [0, 180, 270, 90], [100, 100, 50, 350]
    assert len(drawn) == 4
    k = np.linalg.norm(drawn[-1][1] - drawn[-1][0]) / 350
    for (start, end), bearing, fetch in zip(drawn, bearings, fetches, strict=True):
        angle = np.radians(bearing)
        step = fetch * k * np.array([np.sin(angle), -np.cos(angle)])
        assert end - start == pytest.approx(step, abs=0.15)


def test_rays_end_on_the_shore_that_is_drawn():
    root = draw()
    shore = shapely.multilinestrings([shapely.linestrings(ring) for ring in outline(root)])
    for _, end in rays(root):
        assert shapely.distance(shapely.points(end), shore) < 0.2


def test_islands_are_holes():
    rings = outline(draw())
    assert len(rings) == 2
    areas = [shapely.area(shapely.polygons(ring)) for ring in rings]
    assert areas[1] / areas[0] == pytest.approx(40 * 40 / (400 * 200), rel=0.01)
    path = next(n for n in of(draw(), "path") if n.get("fill-rule"))
    assert path.get("fill-rule") == "evenodd"


def test_the_worst_is_bold():
    wide = {float(node.get("stroke-width") or 1): node.get("d") for node in of(draw(), "path")[1:]}
    assert wide[3].count("M") == 1
    assert wide[1].count("M") == 3


def test_what_it_says():
    # 350 m / 0.3048 = 1148.3 ft; 0.183 m / 0.3048 = 0.6004 ft, up
    assert rose_says(ROSE, "ft-lb") == (
        "The storm's waves come from the east: 1,148 ft of open water, waves of 0.7 ft."
    )
    assert rose_says(ROSE, "m-kg") == (
        "The storm's waves come from the east: 350 m of open water, waves of 0.19 m."
    )
    assert draw().get("aria-label") == rose_says(ROSE, "m-kg")
    assert draw().get("role") == "img"


def test_one_bearing_is_enough():
    one = replace(ROSE, from_deg=(270.0,), fetch_m=(50.0,), wave_height_m=(0.1,), worst=0)
    root = draw(one)
    ((start, end),) = rays(root)
    assert end[0] < start[0]


def test_all_within_the_picture():
    for fetch in (0.0, 1.0, 5e4):
        one = replace(ROSE, fetch_m=(fetch, fetch / 2, fetch, fetch))
        for start, end in rays(draw(one)):
            for x, y in (start, end):
                assert 0 <= x <= 520
                assert 0 <= y <= 300


def test_a_lake_in_two_parts_that_touches_the_box_in_a_line():
    parts = shapely.multipolygons([shapely.box(0, 0, 400, 200), shapely.box(500, 0, 600, 50)])
    assert len(outline(draw(lake=parts))) >= 1


def test_same_input_same_bytes():
    assert rose_svg(ROSE, LAKE, AT, units="m-kg") == rose_svg(ROSE, LAKE, AT, units="m-kg")
