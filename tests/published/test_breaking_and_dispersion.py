"""Linear waves and their limits, every row; the manual's own example with its traps.

Coastal Engineering Manual, EM 1110-2-1100 (2002), part II ch. 1, example II-1-1, and ch. 4 (0.14 for
Miche's 0.142); Miche, Annales des Ponts et Chaussées, 1944; McCowan, Philosophical Magazine, 1894
(0.78). Rows worked from the dispersion relation with a second script, g = 9.80665 m/s2.
"""

import numpy as np
import pytest
from scipy.optimize import brentq, minimize_scalar

from lakemap.loads.dispersion import (
    DEPTH_BREAKS,
    STEEPEST,
    breaking_height,
    group_ratio,
    wave_length,
)
from lakemap.loads.wave_heights import HIGHEST_OF_1000, LONG_PERIOD, design_height
from lakemap.loads.waves import wind_stress_speed, wind_wave

G = 9.80665

# T, d, L, C, C_g, L0, 0.142 L tanh kd, 0.78 d
ROWS = [
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
# U, F, d, H, T, 1.8585 H, the steepness limit at T and at 1.3 T, 0.78 d, H_max
CAPS = [
    (20, 20, 3, 0.0645, 0.5141, 0.1199, 0.0586, 0.0990, 2.340, 0.0990),
    (20, 200, 3, 0.2016, 1.0944, 0.3746, 0.2655, 0.4486, 2.340, 0.3746),
    (20, 500, 5, 0.3180, 1.4791, 0.5911, 0.4849, 0.8194, 3.900, 0.5911),
    (25, 1000, 6, 0.5831, 2.0253, 1.0837, 0.9091, 1.5307, 4.680, 1.0837),
    (25, 2000, 10, 0.8263, 2.5445, 1.5357, 1.4349, 2.4190, 7.800, 1.5357),
    (25, 5000, 3, 0.9598, 3.1414, 1.7837, 1.7032, 2.0676, 2.340, 1.7837),
    (35, 10000, 30, 2.7603, 4.9366, 5.1299, 5.4001, 9.0283, 23.400, 5.1299),
    (35, 10000, 1, 0.6358, 3.4936, 1.1816, 0.7965, 0.8350, 0.780, 0.7800),
    (22.352, 1609.34, 6.096, 0.6376, 2.2461, 1.1850, 1.1179, 1.8667, 4.755, 1.1850),
]
# U, d, H over an endless fetch by the SPM, as a share of the depth, by Young and Verhagen
LARGEST = [
    (35, 1, 0.636, 0.64, 0.698), (35, 2, 1.070, 0.53, 1.097), (35, 3, 1.450, 0.48, 1.430),
    (25, 1, 0.517, None, 0.553), (25, 3, 1.178, None, 1.131), (15, 1, 0.378, None, 0.387),
]  # fmt: skip


def steep(period, depth):
    """Miche's limit alone, by a general root finder for the wave number."""
    rate = (2 * np.pi / period) ** 2 / G
    number = brentq(lambda k: k * np.tanh(k * depth) - rate, 1e-9, 1e4, xtol=1e-15, rtol=1e-14)
    return 0.142 * 2 * np.pi / number * np.tanh(number * depth)


@pytest.mark.parametrize(
    ("period", "depth", "length", "speed", "group", "deep", "miche", "mccowan"), ROWS
)
def test_linear_waves(period, depth, length, speed, group, deep, miche, mccowan):
    found = float(wave_length(period, depth))
    assert found == pytest.approx(length, abs=1e-4)
    assert found / period == pytest.approx(speed, abs=1e-4)
    assert found / period * float(group_ratio(period, depth)) / 2 == pytest.approx(group, abs=1e-4)
    assert float(wave_length(period, np.inf)) == pytest.approx(deep, abs=1e-4)
    assert G * period**2 / (2 * np.pi) == pytest.approx(deep, abs=1e-4)
    # each limit by itself, and the lesser of them as ours
    bent = np.tanh(2 * np.pi * depth / found)
    assert STEEPEST.value * found * bent == pytest.approx(miche, abs=1e-4)
    assert steep(period, depth) == pytest.approx(miche, abs=1e-4)
    assert DEPTH_BREAKS.value * depth == pytest.approx(mccowan, abs=1e-9)
    assert float(breaking_height(period, depth)) == pytest.approx(min(miche, mccowan), abs=1e-4)


@pytest.mark.parametrize(("period", "depth"), [row[:2] for row in ROWS])
def test_group_speed_is_the_slope_of_frequency(period, depth):
    def frequency(number):
        return np.sqrt(G * number * np.tanh(number * depth))

    number, small = 2 * np.pi / float(wave_length(period, depth)), 1e-5
    slope = (frequency(number + small) - frequency(number - small)) / (2 * small)
    speed = float(wave_length(period, depth)) / period
    assert speed * float(group_ratio(period, depth)) / 2 == pytest.approx(slope, rel=1e-7)


def test_example_ii_1_1_with_its_traps():
    # T 10 s, d 3 m: printed L 53.2 m and, two lines on, 53.3; C 5.32 m/s; d/L0 and d/L 0.05641
    length = float(wave_length(10, 3))
    assert length == pytest.approx(53.2, abs=0.1)
    assert length / 10 == pytest.approx(5.32, abs=0.01)
    assert 3 / length == pytest.approx(0.05641, abs=1e-4)
    # g = 9.81 gives 53.156; neither is within 0.05 m of the first print, nor 0.1 of the second
    with_981 = brentq(lambda x: (2 * np.pi / 10) ** 2 - 9.81 * (2 * np.pi / x) * np.tanh(2 * np.pi * 3 / x), 10, 200)  # fmt: skip
    assert with_981 == pytest.approx(53.156, abs=6e-4)
    assert length == pytest.approx(53.146, abs=6e-4)
    assert abs(length - 53.2) > 0.05
    assert abs(length - 53.3) > 0.1
    # its explicit approximation L0 sqrt(tanh(4 pi^2 d/(g T^2))) gives 54.1
    explicit = G * 100 / (2 * np.pi) * np.sqrt(np.tanh(4 * np.pi**2 * 3 / (G * 100)))
    assert explicit == pytest.approx(54.109, abs=6e-4)
    assert explicit * np.sqrt(9.81 / G) == pytest.approx(54.1, abs=0.05)
    assert abs(length - explicit) > 0.9


def test_deep_and_shallow():
    # deep from d/L 1/2 on: within 0.4 %; shallow under 1/25: sqrt(g d) within 1.1 %
    assert float(wave_length(2, 3.13) / wave_length(2, np.inf)) > 0.996
    period = brentq(lambda t: 2.0 / float(wave_length(t, 2.0)) - 1 / 25, 1, 60)
    assert float(wave_length(period, 2.0)) / period == pytest.approx(np.sqrt(G * 2.0), rel=0.011)
    assert float(group_ratio(600, 2)) == pytest.approx(2, abs=1e-4)
    assert float(group_ratio(1, 50)) == pytest.approx(1, abs=1e-9)


def test_both_limits_are_needed():
    # Miche alone tends to 0.142 x 2 pi d = 0.892 d in shallow water, above McCowan's 0.78 d
    assert STEEPEST.value * 2 * np.pi == pytest.approx(0.892, abs=5e-4)
    assert steep(600, 2) / 2 == pytest.approx(0.892, abs=1e-3)
    assert float(breaking_height(600, 2)) == pytest.approx(1.56)
    # the manual prints 0.14 in eq. II-4-18: 1.4 % lower
    assert 1 - 0.14 / STEEPEST.value == pytest.approx(0.014, abs=5e-4)


@pytest.mark.parametrize(
    ("wind", "fetch", "depth", "height", "period", "of_1000", "at_t", "at_long", "shoal", "most"),
    CAPS,
)
def test_the_cap_at_work(wind, fetch, depth, height, period, of_1000, at_t, at_long, shoal, most):
    found = wind_wave(wind, fetch, depth)
    h, t = float(found.height_m), float(found.period_s)
    assert (h, t) == pytest.approx((height, period), abs=1e-4)
    assert HIGHEST_OF_1000.value * h == pytest.approx(of_1000, abs=1e-3)
    assert steep(t, depth) == pytest.approx(at_t, abs=1e-3)
    assert steep(LONG_PERIOD.value * t, depth) == pytest.approx(at_long, abs=1e-3)
    assert DEPTH_BREAKS.value * depth == pytest.approx(shoal, abs=1e-3)
    assert min(of_1000, at_long, shoal) == pytest.approx(most, abs=1e-3)
    assert float(design_height(h, t, depth)) == pytest.approx(most, abs=1e-3)


@pytest.mark.parametrize(("wind", "fetch"), [(15, 700), (20, 1400), (25, 2500), (35, 5700)])
def test_where_steepness_at_the_spm_s_own_period_would_rule(wind, fetch):
    # (0.12316 x 1.85846/0.142)^6 = 17.5, in the plain powers of deep water
    limit = (0.12316 * HIGHEST_OF_1000.value / 0.142) ** 6
    assert limit == pytest.approx(17.5, abs=0.1)
    stress = float(wind_stress_speed(wind))
    assert limit * stress**2 / G == pytest.approx(fetch, abs=50)
    # at the long period only under 0.75, 25 times nearer
    assert limit / 1.69**6 == pytest.approx(0.75, abs=0.01)
    near, far = 0.6 * stress**2 / G, 1.0 * stress**2 / G
    for metres, bites in ((near, True), (far, False)):
        found = wind_wave(wind, metres, np.inf)
        highest = HIGHEST_OF_1000.value * found.height_m
        taken = design_height(found.height_m, found.period_s, 1e4)
        assert bool(taken < highest * (1 - 1e-9)) is bites


def test_how_much_the_cap_at_the_spm_s_own_period_would_take():
    # "by up to 29 %": 0.2655 against 0.3746 m at 200 m of fetch
    assert 1 - 0.2655 / 0.3746 == pytest.approx(0.29, abs=0.005)
    assert steep(1.0944, 3) / (HIGHEST_OF_1000.value * 0.2016) == pytest.approx(0.71, abs=0.005)


@pytest.mark.parametrize(("wind", "depth", "height", "share", "young"), LARGEST)
def test_the_largest_that_growth_can_give(wind, depth, height, share, young):
    found = float(wind_wave(wind, 1e12, depth).height_m)
    assert found == pytest.approx(height, abs=6e-4)
    if share is not None:
        assert found / depth == pytest.approx(share, abs=0.006)
    other = float(wind_wave(wind, 1e12, depth, method="young-verhagen").height_m)
    assert other == pytest.approx(young, abs=6e-4)


def test_a_significant_height_is_no_single_wave():
    # SPM 1984 over 1 m of water at 35 m/s passes 0.6 d, the steep bed's limit of a sea; its single
    # highest wave is held at 0.78 d, not at 1.86 H
    found = wind_wave(35, 1e12, 1)
    assert 0.6 < float(found.height_m) < 0.78
    assert float(design_height(found.height_m, found.period_s, 1.0)) == pytest.approx(0.78)
    assert HIGHEST_OF_1000.value * float(found.height_m) > 1.1


def test_the_limit_has_no_hidden_top():
    # the lesser of the two rises with the period up to 0.78 d and stays there
    top = minimize_scalar(lambda t: -float(breaking_height(t, 2.0)), bounds=(0.5, 60), method="bounded")  # fmt: skip
    assert -top.fun == pytest.approx(1.56)
    rising = breaking_height(np.linspace(0.5, 60, 400), 2.0)
    assert (np.diff(rising) >= 0).all()
