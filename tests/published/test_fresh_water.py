"""Density of water: Tanaka et al., Metrologia 38 (2001) 301-309."""

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from lakemap.basis.errors import RangeError
from lakemap.basis.fresh_water import water_density
from lakemap.basis.published import FRESH_WATER_KG_M3

LB_FT3 = 0.45359237 / 0.3048**3


@pytest.mark.parametrize(
    ("celsius", "kg_m3", "lb_ft3"),
    [
        (0, 999.842826, 62.4182), (4, 999.974948, 62.4264), (5, 999.966783, 62.4259),
        (10, 999.702702, 62.4094), (15, 999.102572, 62.3719), (20, 998.206746, 62.3160),
        (25, 997.047022, 62.2436), (30, 995.648797, 62.1563), (40, 992.215209, 61.9420),
    ],
)  # fmt: skip
def test_the_table(celsius, kg_m3, lb_ft3):
    assert water_density(celsius) == pytest.approx(kg_m3, abs=1e-5)
    assert water_density(celsius) / LB_FT3 == pytest.approx(lb_ft3, abs=1e-4)


def test_the_heaviest_water():
    found = minimize_scalar(lambda t: -water_density(t), bounds=(0, 10), method="bounded")
    assert found.x == pytest.approx(3.983035, abs=1e-3)
    assert -found.fun == pytest.approx(999.974950, abs=1e-6)


def test_the_round_figure_errs_by_less_than_half_a_per_cent():
    inside = np.linspace(4, 30, 53)
    assert (np.abs(water_density(inside) / FRESH_WATER_KG_M3.value - 1) < 0.005).all()


def test_ice_and_steam_are_refused():
    for bad in (-1, 41, np.nan):
        with pytest.raises(RangeError):
            water_density(bad)
