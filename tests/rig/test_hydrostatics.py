"""Laws of what carries a float, and floats of all kinds at once."""

import numpy as np
import pytest
from conftest import make_float
from hypothesis import given
from hypothesis import strategies as st

from lakemap.rig.float_defaults import fill_flotation
from lakemap.rig.hydrostatics import (
    draft,
    float_buoyancy,
    segment_area,
    segment_breadth,
    segment_centroid,
    submerged_volume,
)

SIZE = st.floats(0.1, 2.0)
SHARE = st.floats(0.0, 1.0)


def tubes(diameter=0.5, length=3.0, **more):
    given = {"flotation": "tubes", "tubes": 2, "tube_diameter_m": diameter, "tube_length_m": length}
    return make_float("t", **given | more)


def billets(**more):
    given = {
        "flotation": "billets",
        "billets": 4,
        "billet_length_m": 2.0,
        "billet_width_m": 0.5,
        "billet_height_m": 0.9,
    }
    return make_float("b", **given | more)


@given(SIZE, SHARE)
def test_both_parts_of_a_circle_make_the_whole(diameter, share):
    below = segment_area(diameter * share, diameter_m=diameter)
    above = segment_area(diameter - diameter * share, diameter_m=diameter)
    assert float(below + above) == pytest.approx(np.pi / 4 * diameter**2, rel=1e-12)


@given(SIZE, st.floats(0.01, 0.99), st.floats(1.1, 10.0))
def test_areas_grow_with_the_square_and_lengths_with_the_size(diameter, share, times):
    small = {"depth_m": diameter * share, "diameter_m": diameter}
    large = {key: value * times for key, value in small.items()}
    for of, power in ((segment_area, 2), (segment_breadth, 1), (segment_centroid, 1)):
        grown = float(of(large["depth_m"], diameter_m=large["diameter_m"]))
        was = float(of(small["depth_m"], diameter_m=small["diameter_m"]))
        assert grown == pytest.approx(was * times**power, rel=1e-9)


@given(SIZE, st.floats(0.05, 0.95))
def test_area_grows_by_the_breadth(diameter, share):
    depth, step = diameter * share, diameter * 1e-6
    rise = segment_area(depth + step, diameter_m=diameter) - segment_area(
        depth - step, diameter_m=diameter
    )
    breadth = segment_breadth(depth, diameter_m=diameter)
    assert float(rise) / (2 * step) == pytest.approx(float(breadth), rel=1e-6)


@given(st.floats(1.1, 4.0), st.floats(20.0, 1100.0))
def test_buoyancy_grows_with_the_cube(times, weight):
    small = tubes(length_m=3.0, width_m=3.0, float_weight_kg=weight)
    large = tubes(
        diameter=0.5 * times,
        length=3.0 * times,
        length_m=3 * times,
        width_m=3 * times,
        float_weight_kg=weight * times**3,
    )
    at = float_buoyancy([small, large], people=0)
    assert at.buoyancy_n[1] == pytest.approx(at.buoyancy_n[0] * times**3, rel=1e-12)
    assert at.draft_m[1] == pytest.approx(at.draft_m[0] * times, abs=1e-9)


@given(st.floats(0.0, 1170.0), st.floats(1.0, 100.0), st.booleans())
def test_draft_rises_with_weight_until_it_is_under(weight, more, boxes):
    one = billets(billet_height_m=0.3) if boxes else tubes()
    at = draft([weight, weight + more], fill_flotation([one, one]))
    height = 0.3 if boxes else 0.5
    assert at[1] >= at[0]
    assert at[1] > at[0] or at[0] == height
    assert 0 <= at[0] <= height


@given(st.floats(1.0, 1170.0), st.booleans())
def test_what_is_displaced_weighs_what_floats(mass, boxes):
    flotation = fill_flotation([billets() if boxes else tubes()])
    volume = submerged_volume(draft([mass], flotation), flotation)
    assert float(volume[0]) * 1000 == pytest.approx(mass, abs=1e-6)


def test_all_kinds_at_once_are_each_as_alone():
    # a billet taller than it is wide has no place in a circle: it must not get there
    floats = [tubes(), billets(), tubes(diameter=0.3, tubes=3), billets(billet_height_m=0.2)]
    together = float_buoyancy(floats, people=3)
    for i, one in enumerate(floats):
        alone = float_buoyancy([one], people=3)
        assert together.draft_m[i] == alone.draft_m[0]
        assert together.draft_people_m[i] == alone.draft_people_m[0]
        assert together.buoyancy_n[i] == alone.buoyancy_n[0]


def test_a_float_that_cannot_carry_itself_lies_under_water():
    at = float_buoyancy([tubes(float_weight_kg=2000.0)], people=0)
    assert at.draft_m[0] == 0.5
    assert at.freeboard_m[0] == 0
    assert at.reserve_n[0] < 0
    assert at.sunk_by_people[0]


def test_people_count_once_each():
    # 185 lb each: 46 CFR 170.090(d)(1)
    none, four = (float_buoyancy([tubes(float_weight_kg=300.0)], people=k) for k in (0, 4))
    spent = none.reserve_n[0] - four.reserve_n[0]
    assert spent == pytest.approx(4 * 185 * 4.4482216152605, rel=1e-9)
    assert four.draft_people_m[0] > four.draft_m[0] == none.draft_people_m[0]


def test_no_floats():
    assert float_buoyancy([], people=4).draft_m.shape == (0,)
