"""Lifting facts against sums on paper: weights, the float under them, what holds a primary."""

import re

import numpy as np
import pytest
from conftest import make_field, make_float
from sheet_fields import ground_on, level_bed, ramp

from lakemap.mapping import assess
from lakemap.rig.chain import chain_build
from lakemap.season.facts.lifting import breakout, lifting_facts
from lakemap.season.facts.sheet_ground import sheet_ground

G = 9.80665
LB_N = 0.45359237 * G
LB_FT3 = 0.45359237 / 0.3048**3


def rigged(**more):
    """Ten and five 12-in blocks of 125 lb/ft3, 6 m of riser without an absorber, 7 m of ground."""
    given_ = {
        "primary_blocks": 10,
        "secondary_blocks": 5,
        "block": "12-in hollow",
        "block_density_kg_m3": 125 * LB_FT3,
        "chain": "10 mm",
        "riser_m": 7.0,
        "ground_m": 7.0,
        "absorber_length_m": 0.0,
        "flotation": "billets",
        "billets": 4,
        "billet_length_m": 2.0,
        "billet_width_m": 1.5,
        "billet_height_m": 0.5,
        "float_weight_kg": 600.0,
        "hook_depth_m": None,
    }
    return make_float("A", **given_ | more)


def facts(level_m=None, bed=level_bed, **more):
    return lifting_facts(ground_on([rigged(**more)], bed, zones=[ramp()]), "A", level_m=level_m)


CHAIN = chain_build("10 mm").mass_kg_m
WET_CHAIN = CHAIN * G * (1 - 1000 / 7850)
WET_BLOCK = 0.3903 * (125 + 13 - 1000 / LB_FT3) * LB_N


def test_stages_by_hand():
    got = facts()
    up, upright, primary, both, ashore = got.stages
    # over 6.5 m of water: five blocks and 6.5 m of chain, riser or ground alike
    assert up.hoist_n == pytest.approx(5 * WET_BLOCK + 6.5 * WET_CHAIN)
    assert upright.hoist_n == pytest.approx(6.5 * WET_CHAIN)
    assert primary.hoist_n == pytest.approx(10 * WET_BLOCK + 6.5 * WET_CHAIN)
    assert both.water_n == pytest.approx(15 * WET_BLOCK + 14 * WET_CHAIN)
    assert ashore.air_n == pytest.approx(15 * 0.3903 * 138 * LB_N + 14 * CHAIN * G)
    assert got.primary.block_air_n == pytest.approx(0.3903 * 138 * LB_N)
    assert got.secondary.dry_n == pytest.approx(5 * 0.3903 * 125 * LB_N)


def test_higher_water_hangs_more_chain():
    high, low = facts(level_m=0.5), facts(level_m=-0.5)
    assert high.stages[2].hoist_n - low.stages[2].hoist_n == pytest.approx(WET_CHAIN)
    assert high.place.depths.level_m == 0.5


def test_the_float_under_both_by_archimedes():
    got = facts()
    # three fittings of half a kilogram of steel besides
    load = 15 * WET_BLOCK + 14 * WET_CHAIN + 3 * 0.5 * G * (1 - 1000 / 7850)
    by = {(one.under, one.crew): one for one in got.hung}
    assert list(by) == [("both", 0), ("both", 1), ("both", 2), ("primary", 0), ("secondary", 0)]
    for crew in (0, 1, 2):
        mass = 600 + load / G + crew * 185 * 0.45359237
        one = by["both", crew]
        assert one.hung_n == pytest.approx(load)
        assert one.draft_m == pytest.approx(mass / 12000)  # 4 x 2 x 1.5 m of billets
        assert one.reserve_n == pytest.approx((6000 - mass) * G)
        assert one.freeboard_m == pytest.approx(0.62 - mass / 12000)
        assert one.steady
    alone = by["primary", 0].hung_n
    assert alone == pytest.approx(load - 5 * WET_BLOCK - 7 * WET_CHAIN)


def test_what_the_float_cannot_carry_it_does_not_tow():
    small = {
        "billet_length_m": 0.8,
        "billet_width_m": 0.6,
        "float_weight_kg": 400.0,
    }  # carries 960 kg: both clusters are too much
    got = facts(**small, secondary_blocks=40)
    both, primary = got.hung[0], got.hung[3]
    assert not both.floats
    assert both.draft_m is None
    assert both.reserve_n < 0
    assert primary.steady
    assert got.tow.under == "primary"
    none = facts(**small, secondary_blocks=60, primary_blocks=60)
    assert none.tow is None
    assert not any(one.floats for one in none.hung)


def test_a_hook_at_the_edge_tilts():
    got = facts(hook="edge", primary_blocks=3, secondary_blocks=2)
    assert got.hung[0].floats
    assert got.hung[0].tilt_deg > 0
    assert got.hung[0].freeboard_m < facts(primary_blocks=3, secondary_blocks=2).hung[0].freeboard_m


def test_the_tow_hangs_as_low_as_the_primary():
    got = facts()
    one = got.hung[0]
    bunch = np.cbrt(10 * 11.625 * 7.625 * 15.625 / 0.6) * 0.0254
    assert got.tow.under == "both"
    assert got.tow.draft_m == pytest.approx(one.hook_depth_m + 0.3048 + bunch)
    assert got.tow.deep_enough


def test_where_no_depth_is_known_only_weights_are_told():
    ground = sheet_ground(assess(make_field([rigged()], bed_m=None)))
    got = lifting_facts(ground, "A")
    assert (got.stages, got.hung, got.tow) == ((), (), None)
    assert got.primary.air_n > 0


def test_weights_given_instead_of_blocks():
    got = facts(
        primary_blocks=None,
        secondary_blocks=None,
        primary_weight_kg=300.0,
        secondary_weight_kg=120.0,
    )
    assert got.primary.dry_n == pytest.approx(300 * G)
    assert got.secondary.air_n == pytest.approx(120 * G * (1 + 13 / 125))


@pytest.mark.parametrize(
    ("bottom", "frees", "assumed"),
    [
        ("mud", "buried", False),
        ("silt", "buried", False),
        ("clay", "buried", False),
        ("sand", "settled", False),
        ("gravel", "settled", False),
        ("rock", "lies free", False),
        (None, "buried", True),
    ],
)
def test_what_holds_a_primary_and_never_a_force(bottom, frees, assumed):
    got = breakout(bottom)
    assert (got.frees, got.bottom_assumed) == (frees, assumed)
    assert (bottom or "silt") in got.text
    assert not re.search(r"\d", got.text)


def test_a_float_assumed_is_said():
    assert not facts().float_assumed
    assert facts(float_weight_kg=None).float_assumed
