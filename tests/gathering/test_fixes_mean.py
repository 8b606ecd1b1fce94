"""The mean of fixes by hand and by many throws; a slip is named, not hidden."""

from datetime import date, timedelta

import numpy as np
import pytest

from lakemap.gathering.fixes_mean import mean_fix

DAY = date(2025, 6, 1)
# half of Student's t for 95 % (print: tables of the t distribution, two-sided 0.05)
T2, T6 = 4.303 / 2, 2.447 / 2


def days(*counts):
    return [DAY + timedelta(days=k) for k, count in enumerate(counts) for _ in range(count)]


def test_one_fix_has_no_scatter():
    found = mean_fix(np.array([[3.0, 4.0]]), days(1), sigma_m=4.0)
    assert (found.x_m, found.y_m, found.count, found.error_m) == (3.0, 4.0, 1, None)


def test_fixes_of_one_day_by_hand():
    # a cross of 2 m: sum of squares 16, over 2 (4 - 1): s = sqrt(8/3)
    xy = np.array([[12, 20], [8, 20], [10, 22], [10, 18.0]])
    found = mean_fix(xy, days(4), sigma_m=4.0)
    assert (found.x_m, found.y_m, found.days) == (10.0, 20.0, 1)
    assert found.scatter_m == pytest.approx(np.sqrt(8 / 3))
    assert found.error_m == pytest.approx(np.sqrt(8 / 3) * T6, rel=1e-3)


def test_a_fix_a_day_by_hand():
    xy = np.array([[2, 0], [-2, 0], [0, 2], [0, -2.0]])
    found = mean_fix(xy, days(1, 1, 1, 1), sigma_m=4.0)
    assert found.error_m == pytest.approx(np.sqrt(8 / 3) / 2 * T6, rel=1e-3)


def test_days_are_what_is_independent():
    # two days 6 m apart, each fixed three times at one place: two observations, not six
    xy = np.array([[3, 0]] * 3 + [[-3, 0.0]] * 3)
    found = mean_fix(xy, days(3, 3), sigma_m=4.0)
    # 2 days of one axis of two: half of (3^2 + 3^2) / (2 - 1) / 2, its root is 2.121
    assert found.error_m == pytest.approx(np.sqrt(18 / 2 / 2) * T2, rel=1e-3)
    assert found.days == 2


def test_by_many_throws():
    rng = np.random.default_rng(3)
    off, said = [], []
    for _ in range(1500):
        xy = np.repeat(rng.normal(0, 3, (4, 2)), 3, axis=0) + rng.normal(0, 1, (12, 2))
        found = mean_fix(xy, days(3, 3, 3, 3), sigma_m=4.0)
        off.append((found.x_m**2 + found.y_m**2) / 2)
        said.append((found.error_m / T6) ** 2)
    assert np.mean(said) == pytest.approx(np.mean(off), rel=0.08)


def test_a_gross_slip_is_left_out_and_named():
    xy = np.array([[0, 0], [1, 0], [0, 1], [100.0, 0]])
    found = mean_fix(xy, days(1, 1, 1, 1), sigma_m=3.0)
    assert (found.far, found.count) == ((3,), 3)
    assert found.far_m == pytest.approx((100 - 1 / 3,), abs=0.01)
    assert (found.x_m, found.y_m) == pytest.approx((1 / 3, 1 / 3))


def test_what_is_no_slip_stays():
    xy = np.array([[0, 0], [1, 0], [0, 1], [9.0, 0]])  # three standard deviations of the field
    assert mean_fix(xy, days(4), sigma_m=3.0).far == ()
    assert mean_fix(np.array([[0, 0], [500.0, 0]]), days(2), sigma_m=3.0).far == ()
    two = np.array([[0, 0], [1, 0], [0, 1], [300.0, 0], [0, 300.0]])  # nobody knows which
    assert mean_fix(two, days(5), sigma_m=3.0).far == ()


def test_fixes_that_agree_too_well_are_no_surer_than_a_phone():
    xy = np.array([[0, 0], [0.01, 0], [0, 0.01]])
    assert mean_fix(xy, days(3), sigma_m=3.0).error_m == 0.3
