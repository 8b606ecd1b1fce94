"""Winds of a return period: Coastal Engineering Manual, EM 1110-2-1100, part II ch. 8, 2003.

The table of its example: monthly greatest winds, their mean and spread, the winds of 25 and 50 years.
"""

import numpy as np
import pytest

from lakemap.loads.return_wind import gumbel_error, gumbel_wind

ROWS = (
    # months, U_m, s_m, U25, U50 as worked, as printed, error printed, error for 25 and 50 years
    (36, 17.50, 3.32, 30.776, 32.571, 30.8, 32.6, 2.5, 2.664, 2.973),
    (36, 16.08, 4.58, 34.395, 36.871, 34.4, 36.9, 3.4, 3.675, 4.102),
    (36, 14.03, 3.62, 28.506, 30.463, 28.5, 30.5, 2.6, 2.905, 3.242),
    (36, 14.03, 4.02, 30.106, 32.279, 30.1, 32.3, 2.9, 3.226, 3.600),
    (168, 15.53, 4.06, 31.765, 33.961, 31.8, 34.0, 1.4, 1.508, 1.683),
)


@pytest.mark.parametrize("row", ROWS)
def test_the_winds(row):
    _, mean, spread, u25, u50, printed25, printed50, *_ = row
    found = gumbel_wind(mean, spread_m_s=spread, years=[25, 50])
    assert found == pytest.approx([printed25, printed50], abs=0.051)
    assert found == pytest.approx([u25, u50], abs=1e-3)
    # the exact Gumbel variate differs by a hundredth
    exact = -np.log(-np.log(1 - 1 / (12 * np.array([25, 50]))))
    assert mean + 0.78 * spread * (exact - 0.577) == pytest.approx(found, abs=0.01)


@pytest.mark.parametrize("row", ROWS)
def test_the_errors_hold_the_return_period_not_the_mean_wind(row):
    months, mean, spread, *_, printed, e25, e50 = row
    found = gumbel_error(spread, years=[25, 50], months=months)
    assert found == pytest.approx([e25, e50], abs=1e-3)
    # the print has the mean wind where the years belong; that is how its figures come about
    as_printed = gumbel_error(spread, years=mean, months=months)
    assert as_printed == pytest.approx(printed, abs=0.06)
    assert abs(found[0] - printed) > 0.05
