"""Swing circles, same-wind gaps and their uncertainty against worked values.

Swing radius by right triangles (Euclid I.47) for rigs in US units, worked by hand; survey accuracy:
IHO S-44, edition 6, table 1; phone accuracy: GPS.gov, GPS accuracy page (16 ft, no percentage given).
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lakemap.basis.errors import RangeError
from lakemap.basis.records import Accuracy
from lakemap.clearances.pairs import same_wind_gap
from lakemap.clearances.uncertainty import CircleInputs, circle_sigma, pair_uncertainty
from lakemap.inputs.settings import PHONE_POSITION
from lakemap.rig.swing import corner, reach

FOOT = 0.3048


@pytest.mark.parametrize(
    ("drop", "line", "radius"), [(4, 5, 3), (5, 13, 12), (8, 17, 15), (0, 7, 7)]
)
def test_whole_number_right_triangles(drop, line, radius):
    assert float(reach(drop, line_m=line)) == pytest.approx(radius, abs=1e-12)


@pytest.mark.parametrize(
    ("at_edge", "distance", "radius"),
    # deck 10 by 10 ft; riser 10.5 + ground 10 ft, drop 10 ft: reach 17.895530 ft
    [(False, 7.0711, 24.9666), (True, 11.1803, 29.0759)],
)
def test_deck_of_ten_feet(at_edge, distance, radius):
    far = float(corner(10 * FOOT, 10 * FOOT, at_edge=at_edge)) / FOOT
    assert far == pytest.approx(distance, abs=6e-5)
    assert float(reach(10.0, line_m=20.5)) + far == pytest.approx(radius, abs=1e-4)


def test_the_edge_is_that_of_a_short_side():
    # 12 by 10 ft: sqrt(12^2 + 5^2) = 13, whichever column is the longer
    assert float(corner(12, 10, at_edge=True)) == pytest.approx(13)
    assert float(corner(10, 12, at_edge=True)) == pytest.approx(13)


# drop ft, taut reach ft of the rig above
@pytest.mark.parametrize(
    ("drop", "radius"),
    [
        (8.5, 18.6548),
        (9.0, 18.4187),
        (9.5, 18.1659),
        (10.0, 17.8955),
        (10.5, 17.6068),
        (11.0, 17.2988),
    ],
)
def test_low_water_reaches_farther(drop, radius):
    assert float(reach(drop, line_m=20.5)) == pytest.approx(radius, abs=6e-5)


def test_a_boats_swing_by_the_same_triangle():
    # 100 ft of rode in 30 ft of water, boat of 24 ft: 119.394 ft; 4 ft more to the bow: 118.043 ft
    assert float(reach(30.0, line_m=100.0)) + 24 == pytest.approx(119.394, abs=6e-4)
    assert float(reach(34.0, line_m=100.0)) + 24 == pytest.approx(118.043, abs=6e-4)


def test_wrong_figures_that_go_about():
    # "length + cable - depth": 150 m for 165 m of cable in 15 m; the true part is 164.3 m
    assert float(reach(15.0, line_m=165.0)) == pytest.approx(164.3, abs=0.05)
    assert float(reach(15.0, line_m=165.0)) > 150
    # "127.1 ft" for 100 ft in 30 ft with a boat of 24 ft: more than the line is long
    assert float(reach(30.0, line_m=100.0)) + 24 < 124
    # "take the greatest depth": backwards, the circle is largest at low water
    assert float(reach(8.5, line_m=20.5)) > float(reach(11.0, line_m=20.5))


def test_two_floats_in_one_wind():
    # primaries (30, 40) apart, reaches 18 and 15, corners 7.07: 47.000 less 14.14 is 32.86
    gap = same_wind_gap(
        np.array([50.0]), reach_m=np.array([[18.0, 15.0]]), deck_m=np.array([[7.07, 7.07]])
    )
    assert float(gap[0]) == pytest.approx(32.86, abs=1e-9)


@given(
    st.floats(0, 100), st.floats(0, 360), st.floats(0.1, 30), st.floats(0.1, 30), st.floats(0, 5)
)
def test_one_wind_against_all_bearings(apart, bearing, reach1, reach2, deck):
    """Independent: the least distance over winds from all round."""
    wind = np.radians(np.arange(0, 360, 0.05))
    u = np.column_stack([np.sin(wind), np.cos(wind)])
    offset = apart * np.array([np.sin(np.radians(bearing)), np.cos(np.radians(bearing))])
    least = np.hypot(*(offset + (reach2 - reach1) * u).T).min() - 2 * deck
    gap = same_wind_gap(
        np.array([apart]), reach_m=np.array([[reach1, reach2]]), deck_m=np.array([[deck, deck]])
    )
    assert float(gap[0]) <= least + 1e-9
    assert float(gap[0]) == pytest.approx(least, abs=0.05)


def accuracy(position=0.0, level=0.0, line=0.0):
    return Accuracy(
        position_m=position,
        position_given=True,
        depth_m=None,
        level_m=level,
        line_m=line,
        layer_m=0.0,
    )


def circles(depth_sigma, *, assumed=False):
    n = 2
    return CircleInputs(
        drop_m=np.full(n, 10.0),
        riser_m=np.full(n, 10.5),
        ground_m=np.full(n, 10.0),
        riser_assumed=np.full(n, assumed),
        ground_assumed=np.full(n, assumed),
        depth_sigma_m=np.full(n, depth_sigma),
        position_sigma_m=np.full(n, np.nan),
    )


def test_uncertainty_of_a_gap():
    # position 1.5 ft, depth 0.25 ft: sigma 2.1302 ft by the finite step (2.1305 to first order)
    sigma = circle_sigma(circles(0.25), accuracy(position=1.5))
    found = pair_uncertainty(sigma.own2_m2[None, :], sigma.level_m[None, :])
    assert float(found[0]) / 2 == pytest.approx(2.1302, abs=6e-5)


def test_an_error_of_the_level_is_common_to_both():
    sigma = circle_sigma(circles(0.0), accuracy(level=0.25))
    step = float(reach(9.75, line_m=20.5) - reach(10.0, line_m=20.5))
    found = pair_uncertainty(sigma.own2_m2[None, :], sigma.level_m[None, :])
    assert float(found[0]) == pytest.approx(2 * 2 * step, rel=1e-12)


def test_assumed_lengths():
    # 15 % of 10.5 and of 10 ft with 0.5 ft of line: sqrt(0.25 + 1.575^2 + 1.5^2) = 2.2318
    sigma = circle_sigma(circles(0.0, assumed=True), accuracy(line=0.5))
    step = float(reach(10.0, line_m=20.5 + 2.23180) - reach(10.0, line_m=20.5))
    assert sigma.own2_m2[0] == pytest.approx(step**2, rel=1e-4)


# a, b, then the total vertical uncertainty (95 %) at 3.048, 5 and 10 m of depth
S44 = [
    (0.15, 0.0075, 0.1517, 0.1546, 0.1677),
    (0.25, 0.0075, 0.2510, 0.2528, 0.2610),
    (0.50, 0.013, 0.5016, 0.5042, 0.5166),
    (1.0, 0.023, 1.0025, 1.0066, 1.0261),
]


@pytest.mark.parametrize(("a", "b", "at_3", "at_5", "at_10"), S44)
def test_survey_orders(a, b, at_3, at_5, at_10):
    depth = np.array([3.048, 5.0, 10.0])
    assert np.sqrt(a**2 + (b * depth) ** 2) == pytest.approx([at_3, at_5, at_10], abs=6e-5)


def test_circular_radii_to_one_axis():
    # R50 = 1.17741 s, R95 = 2.44775 s of the circular normal distribution
    assert np.sqrt(-2 * np.log(0.5)) == pytest.approx(1.17741, abs=6e-6)
    assert np.sqrt(-2 * np.log(0.05)) == pytest.approx(2.44775, abs=6e-6)


def test_a_phones_position_is_read_as_a_median():
    # wrong in circulation: "16 ft (4.9 m) at 95 %"; the page states no percentage, so the side that
    # errs safely is taken: a median, 4.16 m one axis
    metres = float(PHONE_POSITION.removesuffix(" m"))
    assert metres == pytest.approx(4.9 / 1.17741, abs=6e-3)


def test_every_float_out_of_range_is_named():
    with pytest.raises(RangeError, match=r"(?s)\[1\] drop 6 m.*\[2\] drop nan m"):
        reach([4, 6, float("nan")], line_m=5)
