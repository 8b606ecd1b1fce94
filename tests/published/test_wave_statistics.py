"""Heights in a sea: Rayleigh's distribution in closed form and integrated, and CIRIA 1991."""

import math

import numpy as np
import pytest
from scipy.integrate import quad

from lakemap.basis.errors import RangeError
from lakemap.loads.wave_heights import highest_over_significant
from lakemap.loads.wave_statistics import (
    CREST_SHARE,
    exceeded_height,
    highest_with_risk,
    mean_highest_of,
    mean_of_highest,
    shallow_exceeded,
)


@pytest.mark.parametrize(("one_in", "ratio"), [(10, 1.073), (100, 1.517), (1000, 1.858)])
def test_exceeded_heights(one_in, ratio):
    # US National Weather Service prints 10.7, 15.1 (cut, not rounded) and 18.6 m for H_s 10 m
    assert exceeded_height(1 / one_in) == pytest.approx(ratio, abs=1e-3)


@pytest.mark.parametrize(
    ("share", "over_m0", "over_third", "handbook"),
    [
        (1, 0.6267, 0.6260, 0.63),
        (1 / 3, 1.0011, 1.0, 1.0),
        (1 / 10, 1.2727, 1.2714, 1.27),
        (1 / 20, 1.4040, 1.4025, None),
        (1 / 100, 1.6682, 1.6664, 1.67),
        (1 / 250, 1.8010, 1.7991, 1.80),
    ],
)
def test_means_of_the_highest(share, over_m0, over_third, handbook):
    found = float(mean_of_highest(share))
    assert found == pytest.approx(over_m0, abs=1e-4)
    assert found / float(mean_of_highest(1 / 3)) == pytest.approx(over_third, abs=1e-4)
    if handbook is not None:  # Shore Protection Manual and Coastal Engineering Manual
        assert found == pytest.approx(handbook, abs=0.006)
    low = float(exceeded_height(share))
    integral, _ = quad(lambda h: h * 4 * h * math.exp(-2 * h * h), low, 12)
    assert found == pytest.approx(integral / share, rel=1e-8)


def test_root_mean_square_is_that_of_rayleigh():
    integral, _ = quad(lambda h: h**2 * 4 * h * math.exp(-2 * h * h), 0, 12)
    assert math.sqrt(integral) == pytest.approx(0.7071, abs=1e-4)
    assert math.sqrt(integral) / float(mean_of_highest(1 / 3)) == pytest.approx(0.7063, abs=1e-4)


WAVES = (50, 100, 200, 500, 1000, 2000, 5000)


def test_the_highest_of_many():
    assert highest_over_significant(WAVES) == pytest.approx(
        (1.3986, 1.5174, 1.6276, 1.7628, 1.8585, 1.9495, 2.0636), abs=1e-4
    )
    assert mean_highest_of(WAVES) == pytest.approx(
        (1.5018, 1.6125, 1.7163, 1.8446, 1.9361, 2.0235, 2.1336), abs=1e-4
    )
    assert highest_with_risk(WAVES, risk=0.01) == pytest.approx(
        (2.0630, 2.1454, 2.2247, 2.3253, 2.3987, 2.4699, 2.5610), abs=1e-4
    )


def test_the_most_probable_highest_is_exceeded_more_often_than_not():
    # in 63 % of such storms
    h = float(highest_over_significant(1000))
    assert 1 - (1 - math.exp(-2 * h * h)) ** 1000 == pytest.approx(0.63, abs=0.005)
    assert highest_with_risk(1000, risk=1 - math.exp(-1)) == pytest.approx(h, rel=1e-3)


def test_a_storm_of_twenty_minutes():
    # 50 mph, 1 mile, 20 ft: H 0.6376 m, T 2.2461 s
    by_peak, by_mean = 1200 / 2.2461, 1200 / (2.2461 / 1.2)
    assert by_peak == pytest.approx(534, abs=0.5)
    assert 0.6376 * float(highest_over_significant(by_peak)) == pytest.approx(1.130, abs=1e-3)
    assert 0.6376 * float(highest_over_significant(by_mean)) == pytest.approx(1.146, abs=1e-3)


@pytest.mark.parametrize(
    ("height", "depth", "one", "tenth"),
    [(0.6376, 6.096, 0.9357, 1.1278), (0.6358, 1, 0.819, 0.924)],
)
def test_shallow_water(height, depth, one, tenth):
    # CIRIA/CUR 1991 in the Coastal Engineering Manual, part II ch. 8
    assert shallow_exceeded(height, depth_m=depth) == pytest.approx((one, tenth), abs=1e-3)
    deep = shallow_exceeded(height, depth_m=np.inf)
    assert deep == pytest.approx((1.517 * height, 1.859 * height))


def test_crest_and_range():
    assert CREST_SHARE.value == 0.8
    with pytest.raises(RangeError):
        exceeded_height(0.0)
