"""Heights in a sea by other ways: the density integrated, the distribution of the highest, waves drawn."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq, minimize_scalar
from scipy.stats import rayleigh

from lakemap.basis.errors import RangeError
from lakemap.loads.wave_heights import design_height, highest_over_significant
from lakemap.loads.wave_statistics import (
    exceeded_height,
    highest_with_risk,
    mean_highest_of,
    mean_of_highest,
    shallow_exceeded,
)

HEIGHTS = rayleigh(scale=0.5)  # over 4 sqrt(m0): P(H > h) = exp(-2 h^2)
SHARE, WAVES = st.floats(1e-6, 1.0), st.floats(2.0, 1e5)


@given(SHARE)
def test_exceeded_height_by_a_general_library(share):
    assert float(exceeded_height(share)) == pytest.approx(HEIGHTS.isf(share), rel=1e-9, abs=1e-7)
    assert HEIGHTS.sf(float(exceeded_height(share))) == pytest.approx(share)


@given(SHARE)
def test_mean_of_the_highest_by_integration(share):
    low = HEIGHTS.isf(share)
    whole, _ = quad(lambda h: h * HEIGHTS.pdf(h), low, low + 6, epsrel=1e-11)
    assert float(mean_of_highest(share)) == pytest.approx(whole / share, rel=1e-7)


@pytest.mark.parametrize("waves", [50, 100, 1000, 5000])
def test_the_highest_of_many_by_its_distribution(waves):
    # P(highest <= h) = (1 - exp(-2 h^2))^N: its peak, its mean and its upper end
    def below(h):
        return HEIGHTS.cdf(h) ** waves

    peak = minimize_scalar(
        lambda h: -waves * HEIGHTS.pdf(h) * HEIGHTS.cdf(h) ** (waves - 1),
        bounds=(0.5, 4),
        method="bounded",
    ).x
    # N exp(-2 h^2) = 1 is the peak but for 1/(4 ln^2 N), always from below
    assert 0 < peak / float(highest_over_significant(waves)) - 1 < 0.3 / np.log(waves) ** 2
    mean, _ = quad(lambda h: 1 - below(h), 0, 6, points=[1, 2])
    # the printed mean leaves out the same order, to the high side: 1.1 % at 50 waves
    assert 0 < float(mean_highest_of(waves)) / mean - 1 < 0.25 / np.log(waves) ** 2
    for risk in (0.01, 0.1, 0.5):
        upper = brentq(lambda h, risk=risk: 1 - below(h) - risk, 0.2, 6)
        assert float(highest_with_risk(waves, risk=risk)) == pytest.approx(upper, rel=1e-7)


def test_the_highest_of_many_by_drawing_them():
    drawn = HEIGHTS.rvs((4000, 500), random_state=np.random.default_rng(1952)).max(axis=1)
    assert float(mean_highest_of(500)) == pytest.approx(drawn.mean(), rel=0.01)
    over = float((drawn > float(highest_with_risk(500, risk=0.1))).mean())
    assert over == pytest.approx(0.1, abs=0.015)
    # the most probable one is exceeded in 63 % of storms: no upper bound
    assert float((drawn > float(highest_over_significant(500))).mean()) == pytest.approx(
        0.63, abs=0.025
    )


@given(SHARE, SHARE)
def test_rarer_waves_are_higher(one, other):
    rare, common = sorted((one, other))
    assert float(exceeded_height(rare)) >= float(exceeded_height(common))
    assert float(mean_of_highest(rare)) >= float(mean_of_highest(common)) * (1 - 1e-9)
    assert float(mean_of_highest(rare)) >= float(exceeded_height(rare))


@given(WAVES, st.floats(1, 20), st.floats(0.001, 0.5), st.floats(1, 20))
def test_longer_storms_and_smaller_risks_have_higher_waves(waves, more, risk, less):
    base = float(highest_with_risk(waves, risk=risk))
    assert float(highest_with_risk(waves * more, risk=risk)) >= base
    assert float(highest_with_risk(waves, risk=risk / less)) >= base
    assert float(highest_over_significant(waves * more)) >= float(highest_over_significant(waves))
    # the print's mean is an asymptote: below two dozen waves it bends the other way
    if waves >= 24:
        assert float(mean_highest_of(waves * more)) >= float(mean_highest_of(waves))
        assert float(mean_highest_of(waves)) > float(highest_over_significant(waves))


@given(st.floats(0, 3), st.floats(0.2, 60), st.floats(1, 10))
def test_shallow_water_only_lowers(height, depth, more):
    one, tenth = shallow_exceeded(height, depth_m=depth)
    deeper = shallow_exceeded(height, depth_m=depth * more)
    assert float(one) <= float(deeper[0]) * (1 + 1e-12)
    assert float(tenth) <= float(deeper[1]) * (1 + 1e-12)
    assert float(one) <= 1.5175 * height
    assert float(tenth) <= 1.8590 * height * (1 + 1e-12)


def test_deep_ends_of_the_shallow_law_are_rayleigh_s():
    one, tenth = shallow_exceeded(1.0, depth_m=np.inf)
    assert float(one) == pytest.approx(HEIGHTS.isf(0.01), abs=6e-4)
    assert float(tenth) == pytest.approx(HEIGHTS.isf(0.001), abs=6e-4)


@pytest.mark.parametrize(("height", "period", "depth"), [(0.6376, 2.2461, 6.096), (0.3, 1.5, 2.5)])
def test_the_design_height_stays_on_the_safe_side_of_the_shallow_law(height, period, depth):
    _, tenth = shallow_exceeded(height, depth_m=depth)
    assert float(design_height(height, period, depth)) >= float(tenth)


@pytest.mark.parametrize("share", [0.0, -0.1, 1.0001, np.nan])
def test_shares_outside_are_refused(share):
    for law in (exceeded_height, mean_of_highest):
        with pytest.raises(RangeError, match=r"above 0 to 1 .*Longuet-Higgins"):
            law([0.5, share])


@pytest.mark.parametrize("waves", [1.0, 0.0, -5.0, np.nan])
def test_one_wave_has_no_highest(waves):
    with pytest.raises(RangeError, match="more than one"):
        mean_highest_of([100.0, waves])


@pytest.mark.parametrize(
    ("waves", "risk"), [(0.5, 0.1), (100, 0.0), (100, 1.0), (100, np.nan), (np.nan, 0.1)]
)
def test_risks_outside_are_refused(waves, risk):
    with pytest.raises(RangeError, match="a risk between 0 and 1"):
        highest_with_risk(waves, risk=risk)


@pytest.mark.parametrize(("height", "depth"), [(-0.1, 2.0), (0.5, 0.0), (0.5, -1.0), (np.nan, 2.0)])
def test_no_depth_no_shallow_law(height, depth):
    with pytest.raises(RangeError, match="depths above 0"):
        shallow_exceeded(height, depth_m=depth)


def test_the_one_wave_of_a_risk_is_the_exceeded_height():
    assert float(highest_with_risk(1, risk=0.01)) == pytest.approx(float(exceeded_height(0.01)))
