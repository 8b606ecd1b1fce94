"""Weights for lifting against sums on paper: block tables and ASTM C90's limits of absorption."""

import numpy as np
import pytest
from conftest import make_float
from hypothesis import given
from hypothesis import strategies as st

from lakemap.rig.lift_weights import absorbed_kg_m3, bunch_m, lift_weight

LB_N = 0.45359237 * 9.80665
LB_FT3 = 0.45359237 / 0.3048**3
WATER = 1000 / LB_FT3  # 62.43 lb/ft3


def lifted(blocks=np.nan, weight_kg=None, **more):
    return lift_weight(make_float("A", **more), blocks=blocks, weight_kg=weight_kg)


@pytest.mark.parametrize(
    ("density", "most"), [(145, 13), (125, 13), (124.9, 15), (105, 15), (104.9, 18), (95, 18)]
)
def test_absorption_by_the_classes_of_astm_c90(density, most):
    assert absorbed_kg_m3(density * LB_FT3) == pytest.approx(most * LB_FT3)


def test_five_twelve_inch_units_as_the_sheet_of_safety_facts_has_them():
    # 244 lb dry and up to 5 x 13 x 0.3903 = 25 lb of water, at 125 lb/ft3
    five = lifted(5, block="12-in hollow", block_density_kg_m3=125 * LB_FT3)
    assert five.dry_n / LB_N == pytest.approx(244, abs=0.5)
    assert (five.air_n - five.dry_n) / LB_N == pytest.approx(25, abs=0.5)
    assert five.water_n / LB_N == pytest.approx(5 * 0.3903 * (125 + 13 - WATER))
    assert five.block_air_n * 5 == pytest.approx(five.air_n)


def test_a_blank_density_takes_the_heavy_end():
    ten = lifted(10)
    assert ten.air_n / LB_N == pytest.approx(10 * 0.3903 * (145 + 13))
    assert ten.water_n / LB_N == pytest.approx(10 * 0.3903 * (145 + 13 - WATER))
    assert ten.dry_n / LB_N == pytest.approx(10 * 0.3903 * 145)


def test_a_solid_unit_is_taken_as_full():
    cubic_ft = 7.625 * 7.625 * 15.625 / 1728
    assert lifted(2, block="solid").dry_n / LB_N == pytest.approx(2 * cubic_ft * 145)


def test_a_dry_weight_takes_the_worse_end_each_way():
    given_ = lifted(weight_kg=100.0)
    assert given_.dry_n == pytest.approx(980.665)
    assert given_.air_n == pytest.approx(980.665 * (1 + 18 / 95))
    assert given_.water_n == pytest.approx(980.665 * (1 + (13 - WATER) / 145))
    assert np.isnan(given_.block_air_n)


@given(density=st.floats(95, 145), by_weight=st.booleans())
def test_no_density_in_the_range_weighs_more_than_a_blank_one(density, by_weight):
    what = {"weight_kg": 80.0} if by_weight else {"blocks": 6}
    blank, known = lifted(**what), lifted(**what, block_density_kg_m3=density * LB_FT3)
    assert known.air_n <= blank.air_n * (1 + 1e-12)
    assert known.water_n <= blank.water_n * (1 + 1e-12)
    assert known.water_n < known.air_n


def test_one_block_hangs_on_end_and_many_in_a_bunch():
    one = make_float("A", block="12-in hollow", block_density_kg_m3=125 * LB_FT3)
    dry = 0.3903 * 125 * LB_N
    assert bunch_m(one, dry_n=dry) == pytest.approx(15.625 * 0.0254)
    # 20 blocks of 11.625 x 7.625 x 15.625 in fill 3/5 of a cube
    cube = 20 * 11.625 * 7.625 * 15.625 / 0.6
    assert bunch_m(one, dry_n=20 * dry) == pytest.approx(np.cbrt(cube) * 0.0254)
