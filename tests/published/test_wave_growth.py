"""Wave growth, linear waves and statistics against worked values from print.

Growth: SPM 1984 (US Army CERC), depth-limited pair, put through the ACES User's Guide 1.07 (USACE
1992, section 1-1) worked examples; the wider tables were worked from the same formulas by hand and
a second script, to the digits shown. Linear waves: Coastal Engineering Manual, EM 1110-2-1100
(2002), example II-1-1, and the dispersion relation. Statistics: Rayleigh's distribution.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from lakemap.basis.errors import RangeError
from lakemap.loads.dispersion import breaking_height, group_ratio, wave_length
from lakemap.loads.wave_heights import design_height, highest_over_significant
from lakemap.loads.waves import (
    MODELS,
    duration_limited_wave,
    least_duration,
    least_duration_shallow,
    model_spread,
    wind_stress_speed,
    wind_wave,
)

FOOT, MILE, MPH, KNOT = 0.3048, 1609.344, 0.44704, 1852 / 3600

# U, F, d, U_A, A, B, H, T, t_min (537), deep H, deep T, deep t_min (68.8); SI
SPM_ROWS = [
    (15, 200, 1, 19.8541, 0.03319, 0.20552, 0.1368, 0.9563, 188.91, 0.1435, 0.9875, 405.96),
    (15, 1000, 5, 19.8541, 0.11056, 0.36378, 0.3138, 1.6387, 663.81, 0.3208, 1.6885, 1187.04),
    (20, 2000, 5, 28.2830, 0.06520, 0.28432, 0.6089, 2.2814, 896.26, 0.6462, 2.3938, 1674.66),
    (20, 2000, 10, 28.2830, 0.10937, 0.36198, 0.6321, 2.3231, 934.97, 0.6462, 2.3938, 1674.66),
    (
        22.352,
        1609.344,
        6.096,
        32.4278,
        0.06163,
        0.27681,
        0.6376,
        2.2461,
        720.20,
        0.6647,
        2.3303,
        1384.23,
    ),
    (25, 5000, 15, 37.2156, 0.09829, 0.34460, 1.2936, 3.4138, 1591.91, 1.3445, 3.5601, 2815.05),
    (30, 10000, 30, 46.5712, 0.11791, 0.37465, 2.2989, 4.6357, 2410.56, 2.3795, 4.8336, 4146.76),
    (35, 10000, 3, 56.2940, 0.01585, 0.14307, 1.3956, 4.2194, 1503.03, 2.8762, 5.1489, 3892.79),
]
# mph, then H in ft and T in s for 0.5 mi in 15 ft, 1 mi in 20 ft, 2 mi in 30 ft
US_ROWS = [
    (40, 1.14, 1.64, 1.61, 2.05, 2.26, 2.57),
    (50, 1.49, 1.80, 2.09, 2.25, 2.95, 2.81),
    (60, 1.85, 1.94, 2.59, 2.42, 3.65, 3.03),
    (70, 2.22, 2.06, 3.10, 2.57, 4.36, 3.22),
]
# model, F, d, U, H, T
MODEL_ROWS = [
    ("spm", 200, 3, 20, 0.202, 1.09),
    ("spm-garratt", 200, 3, 20, 0.206, 1.10),
    ("young-verhagen", 200, 3, 20, 0.143, 1.44),
    ("breugem-holthuijsen", 200, 3, 20, 0.241, 1.43),
    ("spm", 500, 5, 20, 0.318, 1.48),
    ("spm-garratt", 500, 5, 20, 0.325, 1.49),
    ("young-verhagen", 500, 5, 20, 0.225, 1.84),
    ("breugem-holthuijsen", 500, 5, 20, 0.365, 1.84),
    ("spm", 1000, 6, 25, 0.583, 2.03),
    ("spm-garratt", 1000, 6, 25, 0.609, 2.06),
    ("young-verhagen", 1000, 6, 25, 0.395, 2.45),
    ("breugem-holthuijsen", 1000, 6, 25, 0.636, 2.46),
    ("spm", 2000, 10, 25, 0.826, 2.54),
    ("spm-garratt", 2000, 10, 25, 0.863, 2.58),
    ("young-verhagen", 2000, 10, 25, 0.557, 2.96),
    ("breugem-holthuijsen", 2000, 10, 25, 0.870, 2.96),
    ("spm", 5000, 3, 25, 0.960, 3.14),
    ("spm-garratt", 5000, 3, 25, 0.992, 3.19),
    ("young-verhagen", 5000, 3, 25, 0.766, 3.53),
    ("breugem-holthuijsen", 5000, 3, 25, 1.041, 3.69),
    ("spm", 10000, 30, 35, 2.760, 4.94),
    ("spm-garratt", 10000, 30, 35, 3.008, 5.09),
    ("young-verhagen", 10000, 30, 35, 1.729, 5.33),
    ("breugem-holthuijsen", 10000, 30, 35, 2.594, 5.35),
]
# T, d, L, C, C_g, L0, Miche's limit, 0.78 d
WAVE_ROWS = [
    (10, 3, 53.1464, 5.3146, 5.1042, 156.0777, 2.5698, 2.34),
    (1.0, 2, 1.5608, 1.5608, 0.7804, 1.5608, 0.2216, 1.56),
    (1.5, 2, 3.5063, 2.3376, 1.1817, 3.5117, 0.4971, 1.56),
    (2.0, 2, 6.0501, 3.0251, 1.7099, 6.2431, 0.8326, 1.56),
    (2.5, 3, 9.4066, 3.7626, 2.1555, 9.7549, 1.2881, 2.34),
    (3, 3, 12.6801, 4.2267, 2.7577, 14.0470, 1.6254, 2.34),
    (3, 10, 14.0433, 4.6811, 2.3460, 14.0470, 1.9936, 7.8),
    (4, 3, 18.9584, 4.7396, 3.6847, 24.9724, 2.0438, 2.34),
    (5, 10, 36.5831, 7.3166, 4.4691, 39.0194, 4.8705, 7.8),
]
# U, F, d, H, T, Miche's limit at T, at 1.3 T, H_max
CAP_ROWS = [
    (20, 20, 3, 0.0645, 0.5141, 0.0586, 0.0990, 0.0990),
    (20, 200, 3, 0.2016, 1.0944, 0.2655, 0.4486, 0.3746),
    (20, 500, 5, 0.3180, 1.4791, 0.4849, 0.8194, 0.5911),
    (25, 1000, 6, 0.5831, 2.0253, 0.9091, 1.5307, 1.0837),
    (25, 2000, 10, 0.8263, 2.5445, 1.4349, 2.4190, 1.5357),
    (25, 5000, 3, 0.9598, 3.1414, 1.7032, 2.0676, 1.7837),
    (35, 10000, 30, 2.7603, 4.9366, 5.4001, 9.0283, 5.1299),
    (35, 10000, 1, 0.6358, 3.4936, 0.7965, 0.8350, 0.7800),
    (22.352, 1609.34, 6.096, 0.6376, 2.2461, 1.1179, 1.8667, 1.1850),
]
# number of waves, most probable highest over the significant height
HIGHEST_ROWS = [
    (50, 1.3986),
    (100, 1.5174),
    (200, 1.6276),
    (500, 1.7628),
    (1000, 1.8585),
    (2000, 1.9495),
    (5000, 2.0636),
]


def test_spm_pair():
    rows = np.array(SPM_ROWS)
    wind, fetch, depth = rows[:, :3].T
    sea = wind_wave(wind, fetch, depth)
    assert wind_stress_speed(wind) == pytest.approx(rows[:, 3], abs=6e-5)
    assert sea.height_m == pytest.approx(rows[:, 6], abs=6e-5)
    assert sea.period_s == pytest.approx(rows[:, 7], abs=6e-5)
    assert least_duration_shallow(wind, sea.period_s) == pytest.approx(rows[:, 8], abs=6e-3)
    deep = wind_wave(wind, fetch, np.inf)
    # the deep laws are plain powers with rounded coefficients; the pair bends over a little
    assert deep.height_m == pytest.approx(rows[:, 9], rel=1.5e-3)
    assert deep.period_s == pytest.approx(rows[:, 10], rel=7e-3)
    assert least_duration(wind, fetch) == pytest.approx(rows[:, 11], abs=6e-3)


def test_spm_in_feet():
    rows = np.array(US_ROWS)
    for k, (miles, feet) in enumerate([(0.5, 15), (1, 20), (2, 30)]):
        sea = wind_wave(rows[:, 0] * MPH, miles * MILE, feet * FOOT)
        assert sea.height_m / FOOT == pytest.approx(rows[:, 1 + 2 * k], abs=6e-3)
        assert sea.period_s == pytest.approx(rows[:, 2 + 2 * k], abs=6e-3)


@pytest.mark.parametrize(("method", "fetch", "depth", "wind", "height", "period"), MODEL_ROWS)
def test_models_side_by_side(method, fetch, depth, wind, height, period):
    sea = wind_wave(wind, fetch, depth, method=method)
    assert float(sea.height_m) == pytest.approx(height, abs=6e-4)
    assert float(sea.period_s) == pytest.approx(period, abs=6e-3)


def test_aces_example_1():
    # ACES User's Guide, 1992, example 1: 46.42 mph, 26 mi, 13 ft; printed 4.23 ft, 4.77 s
    sea = wind_wave(46.42 * MPH, 26 * MILE, 13 * FOOT, method="spm-garratt")
    assert float(sea.height_m) / FOOT == pytest.approx(4.23, abs=0.005)
    assert float(sea.period_s) == pytest.approx(4.77, abs=0.005)


def test_aces_example_2():
    # ACES User's Guide, 1992, example 2: 27.71 kn for 3 h; printed 4.74 ft, 4.65 s. The wind is
    # printed to 0.01 kn, which moves the height by 0.0015 ft
    sea = duration_limited_wave(27.71 * KNOT, 3 * 3600)
    assert float(sea.height_m) / FOOT == pytest.approx(4.74, abs=0.0065)
    assert float(sea.period_s) == pytest.approx(4.65, abs=0.0065)


def test_young_verhagen_points():
    # Young and Verhagen 1996: F 10 km, d 20 m, U 20, 25, 30 m/s; the third height was cut, not
    # rounded, in print (1.46)
    sea = wind_wave([20, 25, 30], 10e3, 20, method="young-verhagen")
    assert sea.height_m[:2] == pytest.approx([0.98, 1.22], abs=0.005)
    assert sea.height_m[2] == pytest.approx(1.465, abs=0.005)
    assert sea.period_s == pytest.approx([4.12, 4.56, 4.95], abs=0.005)


def test_linear_waves():
    period, depth, length, speed, group, deep, miche, mccowan = np.array(WAVE_ROWS).T
    got = wave_length(period, depth)
    assert got == pytest.approx(length, abs=6e-5)
    assert got / period == pytest.approx(speed, abs=6e-5)
    assert got / period * group_ratio(period, depth) / 2 == pytest.approx(group, abs=6e-5)
    assert wave_length(period, np.inf) == pytest.approx(deep, abs=6e-5)
    assert breaking_height(period, depth) == pytest.approx(np.minimum(miche, mccowan), abs=6e-5)


def test_manual_example():
    # EM 1110-2-1100, example II-1-1: T 10 s, d 3 m, printed L 53.2 m with g 9.81 and rounded steps
    assert float(wave_length(10, 3)) == pytest.approx(53.2, abs=0.1)


@given(st.floats(0.3, 20), st.floats(0.05, 200))
def test_dispersion_against_a_general_root_finder(period, depth):
    def miss(number):
        return number * np.tanh(number * depth) - (2 * np.pi / period) ** 2 / 9.80665

    number = brentq(miss, 1e-9, 1e4, xtol=1e-15, rtol=1e-14)
    assert float(wave_length(period, depth)) == pytest.approx(2 * np.pi / number, rel=1e-9)


def test_design_wave():
    wind, fetch, depth, height, period, at_t, at_long, highest = np.array(CAP_ROWS).T
    sea = wind_wave(wind, fetch, depth)
    assert sea.height_m == pytest.approx(height, abs=6e-5)
    assert sea.period_s == pytest.approx(period, abs=6e-5)
    assert design_height(sea.height_m, sea.period_s, depth) == pytest.approx(highest, abs=6e-5)
    miche = np.minimum(breaking_height(sea.period_s, depth), 1e9)
    assert miche == pytest.approx(np.minimum(at_t, 0.78 * depth), abs=6e-5)
    longer = breaking_height(1.3 * sea.period_s, depth)
    assert longer == pytest.approx(np.minimum(at_long, 0.78 * depth), abs=6e-5)


def test_highest_wave():
    waves, ratio = np.array(HIGHEST_ROWS).T
    assert highest_over_significant(waves) == pytest.approx(ratio, abs=6e-5)


@given(
    st.sampled_from(sorted(MODELS)),
    st.floats(2, 40),
    st.floats(10, 20e3),
    st.floats(0.3, 60),
    st.floats(1, 1.5),
)
def test_waves_grow_with_wind_fetch_and_depth(method, wind, fetch, depth, more):
    sea = wind_wave(wind, fetch, depth, method=method)
    for bigger in ((wind * more, fetch, depth), (wind, fetch * more, depth)):
        grown = wind_wave(*bigger, method=method)
        assert grown.height_m >= sea.height_m * (1 - 1e-12)
    deeper = wind_wave(wind, fetch, depth * more, method=method)
    assert deeper.height_m >= sea.height_m * (1 - 1e-9)


def test_the_fully_developed_sea_ends_the_growth():
    # SPM 1984 eqs 3-36, 3-37: H = 0.2433 U_A2/g, T = 8.134 U_A/g
    stress = float(wind_stress_speed(5))
    sea = wind_wave(5, 5e6, np.inf)
    assert float(sea.height_m) == pytest.approx(0.2433 * stress**2 / 9.80665)
    assert float(sea.period_s) <= 8.134 * stress / 9.80665


def test_no_wind_no_fetch_no_water_no_wave():
    for method in MODELS:
        sea = wind_wave([0, 20, 20], [500, 0, 500], [5, 5, 0], method=method)
        assert (sea.height_m == 0).all()
        assert (sea.period_s == 0).all()


def test_spread_is_of_the_size_that_the_papers_show():
    # Bishop, Donelan and Kahma, Coastal Engineering 17 (1992) 25-48, find the SPM among the
    # highest; at 1 km, 6 m, 25 m/s the lowest of the models is a third below it
    low, high = model_spread(25, 1000, 6)
    assert float(low) == pytest.approx(0.395 / 0.583, abs=2e-3)
    assert float(high) == pytest.approx(0.636 / 0.583, abs=2e-3)


def test_range_is_named_with_its_source():
    with pytest.raises(RangeError, match=r"(?s)\[1\] wind -3 m/s.*Shore Protection Manual"):
        wind_wave([3, -3], 500, 5)
    with pytest.raises(RangeError, match="there are spm"):
        wind_wave(5, 500, 5, method="other")
    with pytest.raises(RangeError, match="above 0"):
        wave_length(0, 3)
