"""Weights of concrete blocks, dry and in water, against worked tables.

Net volumes from block makers' tables; Archimedes on the flooded block with water of 62.4 lb/ft3, the
figure of the block standards (ASTM C90, C140). Ours takes 1000 kg/m3 instead, 0.05 % denser: weights
in water come out up to 0.1 % lighter, which the tolerances say.
"""

import numpy as np
import pytest

from lakemap.basis.records import Float
from lakemap.rig.blocks import NET_VOLUME_FT3, block_weight, clusters, net_volume_m3
from lakemap.rig.practice import REFERENCE_N, practice_blocks

LB_FT3, LBF, FT3 = 0.45359237 / 0.3048**3, 4.4482216152605, 0.3048**3
WATER_LB_FT3 = 62.4
# density lb/ft3, share of the dry weight left in water
LEFT_IN_WATER = [
    (95, 0.3432),
    (140, 0.5543),
    (105, 0.4057),
    (145, 0.5697),
    (115, 0.4574),
    (150, 0.5840),
    (125, 0.5008),
    (165, 0.6218),
    (135, 0.5378),
    (490, 0.8727),
]
# density, 8-in unit dry and in water lb, 12-in unit dry and in water lb, in water N, share left
UNITS = [
    (95, 26.47, 9.08, 37.08, 12.72, 56.6, 0.3432),
    (105, 29.25, 11.87, 40.98, 16.63, 74.0, 0.4057),
    (115, 32.04, 14.65, 44.88, 20.53, 91.3, 0.4574),
    (125, 34.83, 17.44, 48.79, 24.43, 108.7, 0.5008),
    (135, 37.61, 20.23, 52.69, 28.34, 126.0, 0.5378),
    (145, 40.40, 23.01, 56.59, 32.24, 143.4, 0.5697),
]
# count, unit, density, dry lb, in water lb and N, in water soaked with 8 lb/ft3, lb
CLUSTERS = [
    (3, "8-in", 105, 87.8, 35.6, 158, 42.3),
    (3, "8-in", 125, 104.5, 52.3, 233, 59.0),
    (3, "8-in", 135, 112.8, 60.7, 270, 67.4),
    (3, "12-in", 105, 122.9, 49.9, 222, 59.2),
    (3, "12-in", 125, 146.4, 73.3, 326, 82.7),
    (3, "12-in", 135, 158.1, 85.0, 378, 94.4),
    (5, "8-in", 105, 146.3, 59.3, 264, 70.5),
    (5, "8-in", 125, 174.1, 87.2, 388, 98.3),
    (5, "8-in", 135, 188.1, 101.1, 450, 112.3),
    (5, "12-in", 105, 204.9, 83.1, 370, 98.7),
    (5, "12-in", 125, 243.9, 122.2, 543, 137.8),
    (5, "12-in", 135, 263.5, 141.7, 630, 157.3),
]


# 0.1 % of the water that the block displaces, plus half the last printed digit
def water_slack(volume_ft3):
    return 1e-3 * WATER_LB_FT3 * volume_ft3 + 6e-3


@pytest.mark.parametrize(("density", "share"), LEFT_IN_WATER)
def test_share_left_in_water(density, share):
    one = block_weight(1.0, density_kg_m3=density * LB_FT3)
    assert float(one.wet_n / one.dry_n) == pytest.approx(share, abs=6e-4)


@pytest.mark.parametrize(("density", "dry8", "wet8", "dry12", "wet12", "wet12_n", "share"), UNITS)
def test_one_unit(density, dry8, wet8, dry12, wet12, wet12_n, share):
    for block, dry, wet in (("8-in hollow", dry8, wet8), ("12-in hollow", dry12, wet12)):
        one = block_weight(net_volume_m3(block), density_kg_m3=density * LB_FT3)
        slack = water_slack(NET_VOLUME_FT3[block].value)
        assert float(one.dry_n) / LBF == pytest.approx(dry, abs=6e-3)
        assert float(one.wet_n) / LBF == pytest.approx(wet, abs=slack)
    assert float(one.wet_n) == pytest.approx(wet12_n, abs=slack * LBF + 0.05)
    assert wet12 / dry12 == pytest.approx(share, abs=6e-4)


@pytest.mark.parametrize(("count", "unit", "density", "dry", "wet", "wet_n", "soaked"), CLUSTERS)
def test_clusters(count, unit, density, dry, wet, wet_n, soaked):
    volume, rho = net_volume_m3(f"{unit} hollow"), density * LB_FT3
    one = block_weight(volume, density_kg_m3=rho)
    wet_through = block_weight(volume, density_kg_m3=rho, absorbed_kg_m3=8 * LB_FT3)
    slack = count * water_slack(volume / FT3) + 0.05
    assert count * float(one.dry_n) / LBF == pytest.approx(dry, abs=0.06)
    assert count * float(one.wet_n) / LBF == pytest.approx(wet, abs=slack)
    assert count * float(one.wet_n) == pytest.approx(wet_n, abs=slack * LBF + 0.5)
    assert count * float(wet_through.wet_n) / LBF == pytest.approx(soaked, abs=slack)


def test_the_worked_cluster_with_the_standards_water():
    # five 12-in units at 125 lb/ft3: 243.9 lb dry, 122.2 lb = 543 N in water, 0.1 %
    one = block_weight(net_volume_m3("12-in hollow"), density_kg_m3=125 * LB_FT3)
    assert 5 * float(one.dry_n) / LBF == pytest.approx(243.9, rel=1e-3)
    assert 5 * float(one.wet_n) / LBF == pytest.approx(122.2, rel=1e-3)
    assert 5 * float(one.wet_n) == pytest.approx(543.4, rel=1e-3)


def one_float(**more):
    return Float(float_id="1", row=2, lon=0, lat=0, length_m=3, width_m=2.5, **more)


def test_practice_for_the_deck_it_was_made_for():
    # common practice, no published source: deck 8 by 10 ft on two 19-in tubes takes 5 and 3 blocks;
    # each tube about 20 ft3 and 1,000 lb of lift
    blocks = practice_blocks([REFERENCE_N, REFERENCE_N / 3, 2 * REFERENCE_N, 1.01 * REFERENCE_N])
    assert blocks.primary.tolist() == [5, 5, 10, 6]
    assert blocks.secondary.tolist() == [3, 3, 6, 4]
    assert REFERENCE_N / 2 / LBF == pytest.approx(1000, rel=0.25)
    assert REFERENCE_N / 2 / 9806.65 / FT3 == pytest.approx(20, rel=0.03)


def test_dry_weights_that_practice_names():
    # common practice, no published source: about 200 lb in the primary; ours at the light end
    found = clusters([one_float()], buoyancy_n=np.array([REFERENCE_N]))
    assert found.primary.dry_n[0] / LBF == pytest.approx(200, rel=0.1)
    assert found.primary.blocks[0] == 5
    assert found.primary.chosen[0]
    assert found.primary.dry_heavy_n[0] / found.primary.dry_n[0] == pytest.approx(145 / 95)


def test_enough_by_count_and_by_weight():
    floats = [
        one_float(primary_blocks=4, secondary_blocks=3),
        one_float(primary_blocks=5, secondary_blocks=3),
        one_float(primary_weight_kg=100.0, secondary_weight_kg=40.0),
        one_float(primary_blocks=5, secondary_blocks=3, block="8-in hollow"),
    ]
    found = clusters(floats, buoyancy_n=np.full(4, REFERENCE_N))
    assert found.primary.enough_practice.tolist() == [False, True, True, False]
    # three 12-in units at 95 lb/ft3 weigh 111.2 lb = 50.5 kg; 40 kg are less
    assert found.secondary.enough_practice.tolist() == [True, True, False, False]
    assert np.isnan(found.primary.blocks[2])
    assert found.primary.dry_n[2] == pytest.approx(100 * 9.80665)
