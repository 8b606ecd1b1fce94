"""Mean drift of waves: Longuet-Higgins 1977, Maruo 1960, Macagno 1954 (formulas from memory)."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lakemap.loads.dispersion import group_ratio, wave_length
from lakemap.loads.drift import drift_regular, mean_drift, reflection, reflection_box

G = 9.80665


@pytest.mark.parametrize(
    ("period", "depth", "ratio"), [(2, 2, 1.1305), (3, 2, 1.4870), (4, 3, 1.5548)]
)
def test_group_ratio(period, depth, ratio):
    assert group_ratio(period, depth) == pytest.approx(ratio, abs=1e-4)


@pytest.mark.parametrize(
    ("height", "regular", "sea"),
    [(0.3, 110.32, 55.16), (0.45, 248.23, 124.12), (0.6, 441.30, 220.65), (0.9, 992.92, 496.46)],
)
def test_all_thrown_back_in_deep_water(height, regular, sea):
    terms = {"reflection2": 1.0, "period_s": 2.5, "depth_m": np.inf}
    assert drift_regular(height, **terms) == pytest.approx(regular, abs=0.01)
    assert mean_drift(height, width_m=1.0, **terms) == pytest.approx(sea, abs=0.01)
    # half an amplitude squared: rho g a^2/2 with a = H/2
    assert drift_regular(height, **terms) == pytest.approx(1000 * G * (height / 2) ** 2 / 2)


def test_worked_float():
    # H_s 0.6376 m on 10 ft: 249.17 N/m, 759.5 N, 170.7 lb
    found = mean_drift(0.6376, reflection2=1.0, width_m=3.048, period_s=2.2461, depth_m=np.inf)
    assert found / 3.048 == pytest.approx(249.17, abs=0.01)
    assert found == pytest.approx(759.5, abs=0.05)
    assert found / 4.4482216152605 == pytest.approx(170.7, abs=0.05)


@pytest.mark.parametrize(
    ("period", "length", "passed", "back", "taken"),
    [
        (1.5, 3.51, 0.281, 0.921, 1.0),
        (2.0, 6.24, 0.535, 0.714, 1.0),
        (2.5, 9.75, 0.735, 0.460, 0.657),
        (3.0, 14.05, 0.854, 0.271, 0.388),
        (4.0, 24.97, 0.951, 0.097, 0.138),
    ],
)
def test_a_shallow_box(period, length, passed, back, taken):
    # 8 ft along the wave, 0.25 m deep in the water
    box = {"breadth_m": 2.44, "draft_m": 0.25}
    assert wave_length(period, np.inf) == pytest.approx(length, abs=5e-3)
    assert reflection_box(period, **box) == pytest.approx(back, abs=1e-3)
    assert np.sqrt(1 - reflection_box(period, **box)) == pytest.approx(passed, abs=1e-3)
    assert reflection(period, **box) == pytest.approx(taken, abs=1e-3)


def test_a_long_wave_is_never_let_by_whole():
    assert reflection(20.0, breadth_m=2.4, draft_m=0.2) == pytest.approx(0.1)


def test_traps():
    terms = {"reflection2": 1.0, "period_s": 2.5, "depth_m": np.inf}
    # height for amplitude is a factor 4; a regular wave's formula fed with H_s a factor 2
    sea = mean_drift(0.6, width_m=1.0, **terms)
    assert sea == pytest.approx(1000 * G * 0.6**2 / 16)
    assert drift_regular(0.6, **terms) == pytest.approx(2 * sea)
    assert abs(1000 * G * 0.6**2 / 2 / drift_regular(0.6, **terms)) == pytest.approx(4)


def test_no_wave_no_push():
    assert mean_drift(0.0, reflection2=1, width_m=3, period_s=0.0, depth_m=2.0) == 0
    assert reflection(0.0, breadth_m=2, draft_m=0.2) <= 1


@given(st.floats(0.05, 1.0), st.floats(1.001, 2.0), st.floats(0.8, 5.0), st.floats(0.3, 30.0))
def test_higher_waves_never_push_less(height, more, period, depth):
    terms = {"reflection2": 0.5, "width_m": 3.0, "period_s": period, "depth_m": depth}
    assert mean_drift(more * height, **terms) > mean_drift(height, **terms)


@given(st.floats(0.5, 8.0), st.floats(0.3, 5.0), st.floats(0.0, 1.0))
def test_what_is_thrown_back_is_a_share(period, breadth, draft):
    assert 0.1 <= reflection(period, breadth_m=breadth, draft_m=draft) <= 1
