"""Winds by averaging time and height: laws they keep, and what lies outside."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lakemap.basis.errors import RangeError
from lakemap.loads.gusts import (
    BEAUFORT,
    GUST,
    beaufort,
    fastest_mile_s,
    gust_from_mean,
    speed_ratio,
    to_ten_metres,
    wind_setup,
)

SECONDS = st.floats(1, 36_000)


@given(SECONDS, SECONDS)
def test_a_shorter_mean_is_never_weaker(one, other):
    short, long_ = sorted([one, other])
    assert speed_ratio(short) >= speed_ratio(long_)


def test_an_hour_is_an_hour():
    assert float(speed_ratio(3600)) == 1.0
    assert float(gust_from_mean(20.0, mean_s=3600, gust_s=3600)) == 20.0
    # the steps at the join, where the printed branches miss one another, stay under 1 in 2500
    near = speed_ratio(np.linspace(3300, 3900, 601))
    assert np.abs(np.diff(near)).max() < 4e-4


@given(st.floats(0, 60), SECONDS, SECONDS, SECONDS)
def test_changes_of_averaging_time_add_up(wind, first, second, third):
    at_once = gust_from_mean(wind, mean_s=first, gust_s=third)
    between = gust_from_mean(wind, mean_s=first, gust_s=second)
    assert gust_from_mean(between, mean_s=second, gust_s=third) == pytest.approx(at_once)
    back = gust_from_mean(at_once, mean_s=third, gust_s=first)
    assert back == pytest.approx(wind)


def test_the_formula_is_the_gust_of_ten_minutes():
    # r(3) and r(600) by hand: tanh[0.9 log10 15] = 0.785 ..., tanh[0.9 log10 0.075] = -0.767 ...
    def tanh(x):
        return (np.exp(x) - np.exp(-x)) / (np.exp(x) + np.exp(-x))

    by_hand = (1.277 + 0.296 * tanh(0.9 * np.log(15) / np.log(10))) / (
        1.277 + 0.296 * tanh(0.9 * np.log(0.075) / np.log(10))
    )
    step = GUST(wind_m_s=[0.0, 20.0])
    assert step.value == pytest.approx([0.0, 20 * by_hand])


@given(st.floats(0.5, 80), st.sampled_from([None, 2e-4, 1e-3, 0.03]))
def test_height_changes_nothing_at_ten_metres_and_rises(height, roughness):
    at_ten = to_ten_metres(12.0, height_m=10.0, roughness_m=roughness)
    assert float(at_ten) == pytest.approx(12.0)
    higher = to_ten_metres(12.0, height_m=height * 1.1, roughness_m=roughness)
    assert higher < to_ten_metres(12.0, height_m=height, roughness_m=roughness)


@given(st.floats(0, 120))
def test_every_wind_has_one_row(wind):
    row = beaufort(wind)
    assert row.from_m_s <= round(wind, 1) <= row.to_m_s
    assert BEAUFORT[row.force] is row


def test_the_rows_leave_no_gap_of_a_tenth():
    for row, following in pairwise(BEAUFORT):
        assert following.from_m_s - row.to_m_s == pytest.approx(0.1)
        assert following.from_kn - row.to_kn == 1


@given(st.floats(1, 40), st.floats(100, 20e3), st.floats(1, 50))
def test_set_up_goes_with_the_square_of_the_wind(wind, fetch, depth):
    one = wind_setup(wind, fetch_m=fetch, depth_m=depth)
    assert wind_setup(2 * wind, fetch_m=fetch, depth_m=depth) == pytest.approx(4 * one)
    assert wind_setup(wind, fetch_m=2 * fetch, depth_m=2 * depth) == pytest.approx(one)


def test_every_bad_number_is_named():
    with pytest.raises(RangeError, match=r"(?s)\[0\] 0\.5 s.*\[2\] 40000 s.*fig\. II-2-1"):
        speed_ratio([0.5, 10, 40_000])
    with pytest.raises(RangeError, match=r"\[1\] -3 m/s"):
        gust_from_mean([3.0, -3.0])
    with pytest.raises(RangeError, match=r"\[0\] nan m/s"):
        gust_from_mean(np.nan)
    with pytest.raises(RangeError, match=r"\[0\] 0 m/s: need a wind above 0"):
        fastest_mile_s(0.0)
    with pytest.raises(RangeError, match=r"\[1\] 0\.02 m: a height must be above"):
        to_ten_metres(5.0, height_m=[5.0, 0.02], roughness_m=0.03)
    with pytest.raises(RangeError, match="roughness 12 m"):
        to_ten_metres(5.0, height_m=20.0, roughness_m=12.0)
    with pytest.raises(RangeError, match=r"\[0\] 0 m: need a depth above 0"):
        wind_setup(5.0, fetch_m=100.0, depth_m=0.0)
    with pytest.raises(RangeError, match=r"\[0\] -1 m: need a fetch"):
        wind_setup(5.0, fetch_m=-1.0, depth_m=3.0)
    with pytest.raises(RangeError, match="nan m/s"):
        beaufort(float("nan"))
