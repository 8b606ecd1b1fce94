"""Floats on tubes against worked values.

Segments and the worked example of two tubes (0.5 m by 3.0 m, 2.4 m apart, float of 480 kg): worked by
hand from the geometry of the circle and checked by a second script; person: 46 CFR 170.090(d)(1).
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from lakemap.basis.errors import RangeError
from lakemap.basis.records import Float
from lakemap.loads.people import PERSON_KG
from lakemap.rig.float_defaults import fill_flotation
from lakemap.rig.hydrostatics import (
    draft,
    float_buoyancy,
    segment_area,
    segment_breadth,
    segment_centroid,
    submerged_volume,
)

# depth over diameter, area over the circle's, breadth over diameter
SEGMENTS = [
    (0.1, 0.052044, 0.600000),
    (0.2, 0.142378, 0.800000),
    (0.25, 0.195501, 0.866025),
    (0.3, 0.252316, 0.916515),
    (0.4, 0.373530, 0.979796),
    (0.5, 0.5, 1),
    (0.6, 0.626470, 0.979796),
    (0.7, 0.747684, 0.916515),
    (0.75, 0.804499, 0.866025),
    (0.8, 0.857622, 0.800000),
    (0.9, 0.947956, 0.600000),
]
# persons, mass, draft, area of one segment, breadth, height of the centre of buoyancy
TUBES = [
    (0, 480.000, 0.21352, 0.08000, 0.49465, 0.12393),
    (2, 647.829, 0.26961, 0.10797, 0.49846, 0.15441),
    (4, 815.658, 0.32676, 0.13594, 0.47585, 0.18395),
    (6, 983.488, 0.38902, 0.16391, 0.41556, 0.21351),
]


def two_tubes(**more):
    given = {
        "flotation": "tubes",
        "tubes": 2,
        "tube_diameter_m": 0.5,
        "tube_length_m": 3.0,
        "float_weight_kg": 480.0,
    }
    return Float(float_id="1", row=2, lon=0, lat=0, length_m=3, width_m=3, **given | more)


@pytest.mark.parametrize(("depth", "area", "breadth"), SEGMENTS)
def test_segments(depth, area, breadth):
    assert float(segment_area(depth, diameter_m=1)) / (np.pi / 4) == pytest.approx(area, abs=5e-7)
    assert float(segment_breadth(depth, diameter_m=1)) == pytest.approx(breadth, abs=5e-7)


def test_one_segment():
    # D = 2, h = 0.5
    assert float(segment_area(0.5, diameter_m=2)) == pytest.approx(0.6141848, abs=5e-8)


@given(st.floats(0.01, 5), st.floats(0.02, 1))
def test_area_and_centroid_by_quadrature(diameter, share):
    r, depth = diameter / 2, diameter * share

    def breadth(z):
        return 2 * np.sqrt(max(r * r - (z - r) ** 2, 0.0))

    area, _ = quad(breadth, 0, depth)
    moment, _ = quad(lambda z: z * breadth(z), 0, depth)
    assert float(segment_area(depth, diameter_m=diameter)) == pytest.approx(
        area, rel=1e-5, abs=1e-7
    )
    centroid = float(segment_centroid(depth, diameter_m=diameter))
    assert centroid == pytest.approx(moment / area, rel=1e-4, abs=1e-7)


def test_gross_lift_of_one_tube():
    # 0.58904862 m3; 5776.594 N at 1000 kg/m3
    one = fill_flotation([two_tubes(tubes=1)])
    assert float(submerged_volume([0.5], one)[0]) == pytest.approx(0.58904862, abs=5e-9)
    lift = float_buoyancy([two_tubes(tubes=1)], people=0).buoyancy_n[0]
    assert lift == pytest.approx(5776.594, abs=5e-4)


@pytest.mark.parametrize(("persons", "mass", "depth", "area", "breadth", "centre"), TUBES)
def test_two_tubes(persons, mass, depth, area, breadth, centre):
    assert 480 + persons * PERSON_KG == pytest.approx(mass, abs=1.5e-3)
    found = float(draft([mass], fill_flotation([two_tubes()]))[0])
    assert found == pytest.approx(depth, abs=6e-6)
    assert float(segment_area(found, diameter_m=0.5)) == pytest.approx(area, abs=6e-6)
    assert float(segment_breadth(found, diameter_m=0.5)) == pytest.approx(breadth, abs=6e-6)
    assert float(segment_centroid(found, diameter_m=0.5)) == pytest.approx(centre, abs=6e-6)


def test_reserve():
    # 2 x 589.049 - 480 = 698.097 kg, 8.32 persons
    reserve = float_buoyancy([two_tubes()], people=0).reserve_n[0] / 9.80665
    assert reserve == pytest.approx(698.097, abs=1e-3)
    assert reserve / PERSON_KG == pytest.approx(8.32, abs=5e-3)
    four = float_buoyancy([two_tubes()], people=4)
    assert four.reserve_n[0] / 9.80665 == pytest.approx(698.097 - 4 * 83.9146, abs=1e-3)
    assert four.draft_m[0] == pytest.approx(0.21352, abs=6e-6)  # at float weight, nobody aboard
    assert four.draft_people_m[0] == pytest.approx(0.32676, abs=6e-6)


def test_people_that_sink_it():
    nine = float_buoyancy([two_tubes()], people=9)
    assert nine.sunk_by_people[0]
    assert nine.draft_people_m[0] == 0.5
    assert nine.reserve_n[0] < 0


@given(st.floats(50, 1100))
def test_draft_by_a_general_root_finder(mass):
    def short(depth):
        return 2 * 3.0 * 1000 * float(segment_area(depth, diameter_m=0.5)) - mass

    found = float(draft([mass], fill_flotation([two_tubes()]))[0])
    assert found == pytest.approx(brentq(short, 0, 0.5, xtol=1e-13), abs=1e-10)


def test_billets_are_boxes():
    box = two_tubes(
        flotation="billets",
        billets=4,
        billet_length_m=1.5,
        billet_width_m=0.5,
        billet_height_m=0.25,
    )
    found = float_buoyancy([box], people=0)
    assert found.draft_m[0] == pytest.approx(480 / (1000 * 4 * 1.5 * 0.5), abs=1e-12)
    assert found.freeboard_m[0] == pytest.approx(0.25 - 0.16, abs=1e-12)
    assert found.buoyancy_n[0] == pytest.approx(9.80665 * 750, rel=1e-12)


def test_what_is_assumed_is_named():
    plain = Float(float_id="1", row=2, lon=0, lat=0, length_m=3, width_m=3)
    names = ("flotation", "tubes", "tube_diameter", "tube_length", "float_weight")
    assert fill_flotation([plain]).assumed == (names,)
    assert fill_flotation([two_tubes()]).assumed == ((),)


def test_depth_outside_the_circle():
    with pytest.raises(RangeError, match="between 0 and the diameter"):
        segment_area(1.1, diameter_m=1)


@pytest.mark.parametrize("depth", [0.0, 1e-17, 1e-3])
def test_the_thinnest_segment_is_a_parabola(depth):
    """A parabola's centroid lies at 3/5 of its height from the vertex (Archimedes)."""
    assert segment_centroid(depth, diameter_m=0.5) == pytest.approx(0.6 * depth, rel=2e-3)
