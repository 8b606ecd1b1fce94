"""Laws of clusters: counts, densities and weights given instead."""

import numpy as np
import pytest
from conftest import make_float
from hypothesis import given
from hypothesis import strategies as st

from lakemap.rig.blocks import (
    DEFAULT_BLOCK,
    DENSITY_LB_FT3,
    NET_VOLUME_FT3,
    block_weight,
    clusters,
    net_volume_m3,
)
from lakemap.rig.practice import REFERENCE_N, practice_blocks

G = 9.80665
LB_FT3 = 0.45359237 / 0.3048**3
KINDS = st.sampled_from(sorted(NET_VOLUME_FT3))


def both(*floats, buoyancy=REFERENCE_N):
    return clusters(floats, buoyancy_n=np.full(len(floats), buoyancy))


@given(st.floats(1e-3, 2.0), st.floats(1001, 3000), st.floats(0, 200))
def test_water_takes_the_weight_of_the_water_displaced(volume, density, absorbed):
    # Archimedes; water in the pores weighs nothing in water
    one = block_weight(volume, density_kg_m3=density, absorbed_kg_m3=absorbed)
    assert float(one.dry_n - one.wet_n) == pytest.approx(G * volume * (1000 - absorbed), abs=1e-6)


@given(st.integers(1, 30), KINDS, st.floats(1100, 2600))
def test_weights_go_with_the_count(count, kind, density):
    given_ = {"block": kind, "block_density_kg_m3": density}
    one, many = (both(make_float("1", primary_blocks=n, **given_)).primary for n in (1, count))
    for weight in ("dry_n", "wet_n", "dry_heavy_n"):
        assert getattr(many, weight)[0] == pytest.approx(count * getattr(one, weight)[0])


@given(KINDS)
def test_holding_takes_the_light_end_and_lifting_the_heavy(kind):
    cluster = both(make_float("1", primary_blocks=5, block=kind)).primary
    assert cluster.dry_n[0] == pytest.approx(
        5 * G * net_volume_m3(kind) * DENSITY_LB_FT3.low * LB_FT3
    )
    assert cluster.dry_heavy_n[0] == pytest.approx(
        5 * G * net_volume_m3(kind, heavy=True) * DENSITY_LB_FT3.high * LB_FT3
    )


def test_a_solid_unit_is_three_quarters_full_for_holding_and_full_for_lifting():
    # outside 7 5/8 x 7 5/8 x 15 5/8 in; ASTM C90: solid from 75 % of gross on
    gross = 7.625 * 7.625 * 15.625 / 1728 * 0.3048**3
    assert net_volume_m3("solid") == pytest.approx(0.75 * gross)
    assert net_volume_m3("solid", heavy=True) == pytest.approx(gross)
    assert net_volume_m3("8-in hollow", heavy=True) == net_volume_m3("8-in hollow")


def test_a_density_that_is_given_holds_for_both():
    cluster = both(make_float("1", primary_blocks=5, block_density_kg_m3=2100.0)).primary
    assert cluster.dry_heavy_n[0] == pytest.approx(cluster.dry_n[0])


def test_a_weight_that_is_given_is_dry():
    found = both(make_float("1", primary_weight_kg=100.0, block_density_kg_m3=2400.0)).primary
    assert found.dry_n[0] == pytest.approx(100 * G)
    # 2400 kg/m3 in water of 1000 leaves 0.5833
    assert found.wet_n[0] == pytest.approx(100 * G * 0.5833, rel=1e-4)
    assert np.isnan(found.blocks[0])
    assert not found.chosen[0]


def test_a_weight_without_a_density_holds_by_the_light_end():
    # 95 lb/ft3 = 1521.8 kg/m3 in water of 1000 leaves 0.3429
    found = both(make_float("1", secondary_weight_kg=100.0)).secondary
    assert found.wet_n[0] == pytest.approx(100 * G * 0.3429, rel=2e-4)


def test_blank_blocks_are_those_of_practice():
    found = both(make_float("1"), buoyancy=2.5 * REFERENCE_N)
    # common practice, no published source: 5 and 3, in proportion, rounded up
    assert (found.primary.blocks[0], found.secondary.blocks[0]) == (13, 8)
    assert found.primary.chosen[0]
    assert found.primary.enough_practice[0]
    assert DEFAULT_BLOCK == "12-in hollow"


@given(KINDS, st.integers(1, 20), st.floats(0.1, 3))
def test_one_more_block_never_makes_it_less(kind, count, share):
    buoyancy = share * REFERENCE_N
    fewer, more = (
        both(make_float("1", primary_blocks=n, block=kind), buoyancy=buoyancy).primary
        for n in (count, count + 1)
    )
    assert more.enough_practice[0] >= fewer.enough_practice[0]


@given(st.floats(0, 10), st.floats(0, 5))
def test_a_larger_float_never_needs_fewer_blocks(share, more):
    at = practice_blocks([share * REFERENCE_N, (share + more) * REFERENCE_N])
    assert at.primary[1] >= at.primary[0] >= 5
    assert at.secondary[1] >= at.secondary[0] >= 3
    assert (at.primary == np.round(at.primary)).all()
