"""Figures that go about and are wrong: we do not give them.

Each test names the wrong figure, where it goes about, and what is right. Right values worked by hand by
Euclid, Elements, I.47, or from the catenary.
"""

import numpy as np
import pytest
from conftest import make_field, make_float, make_settings

from lakemap.basis.records import Levels
from lakemap.mapping import assess
from lakemap.rig.hydrostatics import float_buoyancy
from lakemap.rig.line import two_cluster_line
from lakemap.rig.swing import reach

FOOT = 0.3048


def test_length_and_cable_less_depth():
    # seamanship notes: cable's part = cable - depth = 150 m for 165 m in 15 m; 164.3 m is possible
    assert float(reach(15.0, line_m=165.0)) == pytest.approx(164.3, abs=0.05)


def test_the_greatest_depth_for_the_circle():
    # calculators on the web take high water; the circle is largest, and checked, at low water
    levels = Levels(low_m=-1.5, normal_m=0.0, high_m=1.5, soundings_m=0.0)
    floats = [make_float("A"), make_float("B", 30.0, 0.0)]
    found = assess(make_field(floats, settings=make_settings(levels=levels))).floats[0]
    low, normal, high = found.swing_radius_m
    assert low > normal > high
    # drop 5 m, line 10 m: sqrt(75) + 2.5, two of them 30 m apart
    assert low == pytest.approx(np.sqrt(75) + 2.5)
    pair = next(one for one in found.clearances if one.kind == "float")
    assert pair.gap_m == pytest.approx(30 - 2 * (np.sqrt(75) + 2.5), abs=1e-6)


def test_127_feet():
    # 100 ft of line in 30 ft of water, boat of 24 ft: 127.1 ft is longer than line and boat; 119.4
    swing = float(reach(30 * FOOT, line_m=100 * FOOT)) / FOOT + 24
    assert swing == pytest.approx(119.394, abs=6e-4)
    assert swing < 124


def test_heel_from_stability_at_rest_alone():
    # 4 people at 1.3 m on two tubes of 0.5 by 3 m: "7.14 degrees" by GM; in truth a tube goes under
    tubes = {
        "flotation": "tubes",
        "tubes": 2,
        "tube_diameter_m": 0.5,
        "tube_length_m": 3.0,
        "float_weight_kg": 480.0,
        "length_m": 3.0,
        "width_m": 3.0,
    }
    found = assess(make_field([make_float("1", **tubes)], settings=make_settings(people=8)))
    heel = found.floats[0].sizing.float.heel_deg
    assert heel is None or heel > 7.2
    # the loaded tube: half the float's weight and more than half of theirs, 589.6 kg against 589.05
    tube_kg = float_buoyancy([make_float("1", **tubes)], people=0).buoyancy_n[0] / 2 / 9.80665
    four = 4 * 83.9146
    assert (480 + four) / 2 + four * 1.3 / 2.4 > tube_kg
    assert tube_kg == pytest.approx(589.05, abs=0.005)


RIG = {
    "drop_m": 5.0,
    "riser_m": 6.5,
    "riser_weight_n_m": 20.0,
    "ground_m": 5.0,
    "ground_weight_n_m": 40.0,
    "secondary_wet_n": 500.0,
}
SWAPPED = RIG | {
    "riser_m": 5.0,
    "riser_weight_n_m": 40.0,
    "ground_m": 6.5,
    "ground_weight_n_m": 20.0,
}


def test_riser_and_ground_chain_swapped():
    # with the pair swapped the secondary hangs at any pull; as it is, it lies until 467.48 N
    right = two_cluster_line([467.0, 469.0], **RIG)
    assert right.secondary_height_m[0] == pytest.approx(0, abs=1e-9)
    assert right.secondary_height_m[1] > 0
    assert right.reach_m[0] == pytest.approx(9.148, abs=6e-4)
    assert two_cluster_line([10.0], **SWAPPED).secondary_height_m[0] > 0


@pytest.mark.parametrize(
    ("pull", "uplift", "angle", "coarse_uplift", "coarse_angle"),
    [(100, 16.363, 9.293, 16.6, 9.4), (220, 77.115, 19.317, 77.0, 19.4)],
)
def test_uplift_from_a_chain_of_few_links(pull, uplift, angle, coarse_uplift, coarse_angle):
    # a link's chord is steeper than the chain at its end; lbf and ft, a coherent set
    found = two_cluster_line(
        [float(pull)],
        drop_m=10.0,
        ground_m=10.0,
        riser_m=10.5,
        ground_weight_n_m=1.27,
        riser_weight_n_m=1.27,
        secondary_wet_n=75.0,
    )
    assert found.primary_uplift_n[0] == pytest.approx(uplift, abs=1e-3)
    assert found.primary_angle_deg[0] == pytest.approx(angle, abs=1e-3)
    assert abs(found.primary_uplift_n[0] - coarse_uplift) > 0.1
    assert abs(found.primary_angle_deg[0] - coarse_angle) > 0.05
