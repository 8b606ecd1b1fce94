"""Laws of a wake's decay, and how near it may be asked."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lakemap.basis.errors import RangeError
from lakemap.loads.wakes import NEAREST_M, Decay, wake_height

FAR = st.floats(NEAREST_M, 2e4)


@given(FAR, st.floats(0.0, 1e3), st.sampled_from(Decay))
def test_a_wake_never_grows_on_its_way(distance, more, decay):
    near, far = wake_height([distance, distance + more], height_m=0.6, at_m=30.0, decay=decay)
    assert 0 < far <= near * (1 + 1e-12)


@given(FAR, FAR, FAR)
def test_where_its_height_is_given_does_not_matter(first, second, asked):
    # H(x) from H(x1) is H(x) from the H(x2) that H(x1) gives
    direct = wake_height(asked, height_m=0.5, at_m=first)
    there = float(wake_height(second, height_m=0.5, at_m=first))
    assert float(wake_height(asked, height_m=there, at_m=second)) == pytest.approx(float(direct))


@given(FAR, st.floats(0.1, 3.0))
def test_heights_scale(distance, times):
    one, other = (wake_height(distance, height_m=h, at_m=30.0) for h in (0.5, 0.5 * times))
    assert float(other) == pytest.approx(float(one) * times)


@given(st.floats(30.0, 2e4))
def test_transverse_waves_are_the_lower_outward(distance):
    cusp = wake_height(distance, height_m=0.6, at_m=30.0)
    transverse = wake_height(distance, height_m=0.6, at_m=30.0, decay=Decay.TRANSVERSE)
    assert float(transverse) <= float(cusp)


def test_only_inside_both_is_too_near():
    # inside `at` but not inside 50 ft, and inside 50 ft but not inside `at`: both hold
    assert float(wake_height(20.0, height_m=0.6, at_m=30.0)) > 0.6
    assert float(wake_height(12.0, height_m=0.6, at_m=10.0)) < 0.6
    with pytest.raises(RangeError, match=r"wake asked at 9 m, inside both 10 m"):
        wake_height([9.0, 12.0], height_m=0.6, at_m=10.0)
    said = wake_height([9.0], height_m=0.6, at_m=10.0, extrapolate=True)
    assert said[0] == pytest.approx(0.6 * (9 / 10) ** (-1 / 3))


def test_50_ft_itself_holds():
    assert float(wake_height(50 * 0.3048, height_m=0.6, at_m=100 * 0.3048)) > 0.6


@pytest.mark.parametrize(
    ("distance", "height", "at"),
    [
        (0.0, 0.6, 30.0),
        (-5.0, 0.6, 30.0),
        (np.nan, 0.6, 30.0),
        (50.0, -0.1, 30.0),
        (50.0, 0.6, 0.0),
    ],
)
def test_out_of_range_even_for_who_extrapolates(distance, height, at):
    with pytest.raises(RangeError, match="need a height >= 0 and distances > 0"):
        wake_height(distance, height_m=height, at_m=at, extrapolate=True)


def test_no_wake_is_no_wave():
    assert wake_height([20.0, 500.0], height_m=0.0, at_m=30.0).tolist() == [0, 0]
