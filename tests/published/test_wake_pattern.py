"""A boat's waves: Coastal Engineering Manual, EM 1110-2-1100, part II ch. 7, 2002."""

import numpy as np
import pytest

from lakemap.basis.errors import RangeError
from lakemap.loads.wake_pattern import steepness, wake_pattern

MPH = 0.44704


def test_the_printed_example():
    # example II-7-5: 10 kn, printed as 5.157 m/s, 5 m deep
    found = wake_pattern(5.157, depth_m=5.0)
    assert found.froude == pytest.approx(0.73, abs=0.008)
    assert found.direction_deg == pytest.approx(33.78, abs=0.02)
    assert found.celerity_m_s == pytest.approx(4.2864, abs=2e-3)
    assert found.period_s == pytest.approx(2.7733, abs=2e-3)
    assert found.period_s == pytest.approx(2.8, abs=0.05)  # as printed


def test_the_traps_of_the_example():
    # 33.88 degrees comes from the rounded Froude number 0.73 only; and 10 kn are 5.144 m/s
    rounded = 35.27 * (1 - np.exp(12 * (0.73 - 1)))
    assert rounded == pytest.approx(33.88, abs=0.015)
    assert abs(wake_pattern(5.157, depth_m=5.0).direction_deg - 33.88) > 0.05
    assert 10 * 1852 / 3600 == pytest.approx(5.144, abs=5e-4)


def test_deep_water():
    # cusp line arcsin(1/3) = 19.4712, diverging waves 35.2644 degrees (Kelvin)
    found = wake_pattern(1.0, depth_m=np.inf)
    assert found.direction_deg == pytest.approx(np.degrees(np.arcsin(np.sqrt(1 / 3))), abs=0.01)
    assert np.degrees(np.arcsin(1 / 3)) == pytest.approx(19.4712, abs=1e-4)


@pytest.mark.parametrize(
    ("mph", "period", "length"),
    [
        (4, 0.935, 1.37), (6, 1.403, 3.07), (8, 1.871, 5.46), (10, 2.339, 8.54),
        (10.5, 2.456, 9.41), (12, 2.806, 12.29),
    ],
)  # fmt: skip
def test_periods_in_deep_water(mph, period, length):
    found = float(wake_pattern(mph * MPH, depth_m=np.inf).period_s)
    assert found == pytest.approx(period, abs=1.5e-3)
    assert 9.80665 * found**2 / (2 * np.pi) == pytest.approx(length, abs=0.015)


def test_the_default_wake_can_stand():
    assert steepness(2 * 0.3048, period_s=2.2) == pytest.approx(0.0807, abs=1e-4)


def test_a_planing_boat_is_refused():
    with pytest.raises(RangeError, match="planing"):
        wake_pattern(20 * MPH, depth_m=2.0)
