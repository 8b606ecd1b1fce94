"""Air, water and wakes: what stands beside the tables of their own tests.

UFC 4-159-03, Design: Moorings, 2005, table 4-1; Tanaka et al., Metrologia 38 (2001) 301-309; Coastal
Engineering Manual, EM 1110-2-1100, part II ch. 7 (2002), example II-7-5 and eqs II-7-21, II-7-23;
Matthews, Aeronautical Engineer's Data Book, 2002, figure 5.13(b).
"""

import numpy as np
import pytest
from scipy.optimize import brentq

from lakemap.basis.fresh_water import water_density
from lakemap.basis.published import FRESH_WATER_KG_M3, GRAVITY_M_S2
from lakemap.loads.drag import AIR_DRAG, AIR_KG_M3, WATER_DRAG, wind_drag
from lakemap.loads.wake_pattern import steepness, wake_pattern
from lakemap.loads.wakes import Decay, wake_height

MPH, FOOT, POUND = 0.44704, 0.3048, 0.45359237
SLUG = POUND * 9.80665 / FOOT


def test_the_printed_air_in_slugs():
    # table 4-1 prints 0.00237 slug/ft3 beside 1.221 kg/m3
    assert AIR_KG_M3.value / SLUG * FOOT**3 == pytest.approx(0.00237, abs=5e-6)


def test_air_is_thinner_on_a_mountain_lake():
    # the standard atmosphere (1976; from memory) loses 4.7 % in the first 500 m
    warmth = 1 - 0.0065 * 500 / 288.15
    thinner = warmth ** (9.80665 * 0.0289644 / (8.31446 * 0.0065) - 1)
    assert thinner - 1 == pytest.approx(-0.047, abs=5e-4)
    # so the sea's air is on the safe side on every lake, by less than the printed spread on a cold day
    assert AIR_KG_M3.high / AIR_KG_M3.value == pytest.approx(1.058, abs=1e-3)


def test_pressure_by_the_builders_rule():
    # q = 0.00256 V^2 psf, V in mph (ASCE 7, from memory), rests on air of 1.225 kg/m3
    for mph in (30, 50, 70):
        found = float(wind_drag(mph * MPH, area_m2=1.0, coefficient=1.0)) / 47.88025898
        assert found == pytest.approx(0.00256 * mph**2, rel=5e-3)


def test_drag_of_blunt_bodies():
    # figure 5.13(b): square plate across the stream 1.17, a plate without ends 1.98. A deck is a
    # long low face: above the square plate, far below the endless one
    for taken in (AIR_DRAG, WATER_DRAG):
        assert taken.low <= 1.17 <= taken.high
        assert 1.17 < taken.value < 1.98
        assert taken.value == pytest.approx(1.17, rel=0.03)


def test_water_to_the_sixth_decimal():
    found = water_density([0, 4, 5, 10, 15, 20, 25, 30, 40])
    assert found == pytest.approx(
        [999.842826, 999.974948, 999.966783, 999.702702, 999.102572, 998.206746, 997.047022, 995.648797, 992.215209],
        abs=1e-6,
    )  # fmt: skip


def test_how_far_the_round_density_errs():
    # under 0.3 % up to 25 degrees C; at 30 it is 0.44 %, at 40 0.78 %
    error = FRESH_WATER_KG_M3.value / water_density(np.linspace(0, 40, 81)) - 1
    assert error[:51].max() < 0.003
    assert error[60] == pytest.approx(0.0044, abs=5e-5)
    assert error[80] == pytest.approx(0.0078, abs=5e-5)
    assert (error > 0).all()


def test_standard_gravity_and_what_handbooks_take():
    assert GRAVITY_M_S2.value == 9.80665
    assert 9.81 / GRAVITY_M_S2.value - 1 == pytest.approx(0.00034, abs=5e-6)
    assert 32.2 * FOOT == pytest.approx(9.81456, abs=1e-9)
    assert 32.2 * FOOT / GRAVITY_M_S2.value - 1 == pytest.approx(0.00081, abs=5e-6)


def test_example_ii_7_5_to_three_decimals():
    # g = 9.81 and 5.157 m/s: F_d 0.73634, 33.780 degrees, 4.2864 m/s, 2.7733 s; ours with 9.80665
    found = wake_pattern(5.157, depth_m=5.0)
    assert 5.157 / np.sqrt(9.81 * 5) == pytest.approx(0.73634, abs=5e-6)
    assert float(found.froude) * np.sqrt(9.80665 / 9.81) == pytest.approx(0.73634, abs=5e-6)
    assert float(found.direction_deg) == pytest.approx(33.780, abs=3e-3)
    assert float(found.celerity_m_s) == pytest.approx(4.2864, abs=1e-3)
    assert float(found.period_s) == pytest.approx(2.7733, abs=1.5e-3)
    by_981 = brentq(lambda t: celerity(t, 5.0, 9.81) - 4.2864, 0.1, 20)
    assert by_981 == pytest.approx(2.7733, abs=1e-3)
    # the rounded Froude number: 33.889 degrees, 4.2809 m/s, 2.7694 s; printed 33.88 and 2.8
    angle = 35.27 * (1 - np.exp(12 * (0.73 - 1)))
    slow = 5.157 * np.cos(np.radians(angle))
    period = brentq(lambda t: celerity(t, 5.0, 9.81) - slow, 0.1, 20)
    assert (angle, slow, period) == pytest.approx((33.889, 4.2809, 2.7694), abs=1e-3)
    # 10 kn are 5.144 m/s
    assert float(wake_pattern(10 * 1852 / 3600, depth_m=5.0).froude) < 0.735


def celerity(period, depth, gravity=9.80665):
    """C = g T/(2 pi) tanh(k d), by a general root finder."""
    rate = (2 * np.pi / period) ** 2 / gravity
    number = brentq(lambda k: k * np.tanh(k * depth) - rate, 1e-9, 1e4, xtol=1e-15, rtol=1e-14)
    return 2 * np.pi / number / period


@pytest.mark.parametrize(("speed", "depth"), [(1.5, 0.5), (3.0, 2.0), (5.157, 5.0), (6.5, 5.0)])
def test_period_of_the_wake_by_a_general_root_finder(speed, depth):
    found = wake_pattern(speed, depth_m=depth)
    assert celerity(float(found.period_s), depth) == pytest.approx(float(found.celerity_m_s))


def test_a_surfing_boat_fits_the_default_period():
    # 0.5231 V: 10 to 11 mph send 2.3 to 2.6 s; the field's 2.2 s lies just below
    assert 2 * np.pi * np.cos(np.radians(35.264)) / 9.80665 == pytest.approx(0.5231, abs=5e-5)
    found = wake_pattern(np.array([10.0, 11.0]) * MPH, depth_m=np.inf).period_s
    assert found == pytest.approx([2.34, 2.57], abs=0.01)
    # 20 mph over 30 ft is sub-critical, yet no planing boat sends 4.7 s: the law stops at hull speed
    assert 0.5231 * 20 * MPH == pytest.approx(4.68, abs=0.01)


def test_a_wake_that_cannot_stand_is_seen():
    # 2 ft every 2.2 s is 7.554 m long; every 1.6 s it would be steeper than 0.142
    assert 2 * FOOT / float(steepness(2 * FOOT, period_s=2.2)) == pytest.approx(7.554, abs=1e-3)
    assert float(steepness(2 * FOOT, period_s=1.6)) > 0.142


def test_measured_wakes_fall_faster_than_the_law():
    # a wake 2 to 3 times as high comes level with 200 ft at 8 to 27 times that by the law; the
    # University of Minnesota (St. Anthony Falls Laboratory, 2022) found 425 to 500 ft
    for times, feet in ((2, 1600), (3, 5400)):
        level = float(wake_height(feet * FOOT, height_m=times * 0.3, at_m=200 * FOOT))
        assert level == pytest.approx(0.3)
    assert -np.log(2) / np.log(425 / 200) == pytest.approx(-0.92, abs=0.005)
    assert -np.log(2) / np.log(500 / 200) == pytest.approx(-0.76, abs=0.005)
    for decay in Decay:
        assert decay.value.value > -0.76
