"""Diverging waves: their speed by the dispersion relation, up to where boats begin to plane."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lakemap.basis.errors import RangeError
from lakemap.loads.dispersion import wave_length
from lakemap.loads.wake_pattern import steepness, wake_pattern


@given(st.floats(0.02, 0.9999), st.floats(0.2, 80))
def test_the_period_has_the_speed(froude, depth):
    speed = froude * np.sqrt(9.80665 * depth)
    found = wake_pattern(speed, depth_m=depth)
    runs = wave_length(found.period_s, depth) / found.period_s
    assert float(runs) == pytest.approx(float(found.celerity_m_s), rel=1e-9)
    assert float(found.celerity_m_s) == pytest.approx(
        speed * np.cos(np.radians(float(found.direction_deg)))
    )
    assert float(found.froude) == pytest.approx(froude)
    assert 0 <= float(found.direction_deg) <= 35.27


@given(st.floats(0.5, 12), st.floats(1.001, 1.5))
def test_a_faster_boat_sends_longer_waves(speed, more):
    slow, fast = wake_pattern([speed, speed * more], depth_m=np.inf).period_s
    assert fast == pytest.approx(slow * more)  # deep water: in proportion
    depth = (speed * more) ** 2 / 9.80665 * 1.2
    slow, fast = wake_pattern([speed, speed * more], depth_m=depth).period_s
    assert fast > slow


def test_deep_is_the_end_of_ever_deeper():
    found = wake_pattern(4.0, depth_m=[3.0, 6.0, 30.0, 3000.0, np.inf])
    assert found.period_s[-1] == pytest.approx(found.period_s[-2], rel=1e-5)
    assert (np.diff(found.direction_deg) >= 0).all()
    assert np.isfinite(found.period_s).all()


@pytest.mark.parametrize(
    ("speed", "depth"),
    [(0.0, 3.0), (-2.0, 3.0), (5.0, 0.0), (10.0, 3.0), (np.nan, 3.0), (2.0, np.nan)],
)
@pytest.mark.filterwarnings("ignore:divide by zero")
def test_outside_is_refused(speed, depth):
    with pytest.raises(RangeError, match="slower than sqrt"):
        wake_pattern([2.0, speed], depth_m=[3.0, depth])


def test_steepness_by_hand():
    # 0.3 m every 2 s in deep water: L = g T^2/(2 pi) = 6.243 m
    assert float(steepness(0.3, period_s=2.0)) == pytest.approx(0.3 / 6.243, rel=1e-4)
    assert steepness([0.0, 0.3], period_s=2.0)[0] == 0
