"""Stages of lifting against a chain laid out link by link, and against sums on paper."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lakemap.basis.errors import RangeError
from lakemap.rig.lift_weights import LiftWeight
from lakemap.rig.lifting import (
    LiftRig,
    hung_n,
    lifting_stages,
    primary_pull_n,
    secondary_pull_n,
)

LINKS = 4000


def rig(**more):
    """Depth 5 m, ground chain 6 m, riser 8 m; chain 10 N/m in water, riser 8; clusters 900, 500."""
    given_ = {
        "primary": LiftWeight(air_n=1500.0, water_n=900.0, dry_n=1400.0, block_air_n=150.0),
        "secondary": LiftWeight(air_n=800.0, water_n=500.0, dry_n=750.0, block_air_n=160.0),
        "primary_depth_m": 5.0,
        "secondary_depth_m": 5.0,
        "ground_m": 6.0,
        "riser_m": 8.0,
        "chain_water_n_m": 10.0,
        "chain_air_n_m": 11.5,
        "riser_water_n_m": 8.0,
        "riser_air_n_m": 9.0,
    }
    return LiftRig(**given_ | more)


def hanging(one, height):
    """What hangs with the secondary at a height: every link whose lower end is off the bed."""
    total = one.secondary.water_n
    link = one.ground_m / LINKS
    # links hang down from the secondary until the bed takes the rest
    below = (np.arange(LINKS) + 0.5) * link
    total += one.chain_water_n_m * link * (below < height).sum()
    above = one.secondary_depth_m - height
    piece = one.riser_m / LINKS
    up = (np.arange(LINKS) + 0.5) * piece
    total += one.riser_water_n_m * piece * (up < above).sum()
    return total + (one.primary.water_n if height > one.ground_m else 0.0)


@given(
    depth=st.floats(1, 20),
    ground=st.floats(0.5, 25),
    riser=st.floats(0.5, 30),
    share=st.floats(0, 1),
)
def test_pull_is_the_weight_of_every_link_that_hangs(depth, ground, riser, share):
    one = rig(secondary_depth_m=depth, ground_m=ground, riser_m=riser)
    got = float(secondary_pull_n(one, share * depth))
    assert got == pytest.approx(hanging(one, share * depth), abs=0.2)


@given(
    depth=st.floats(1, 20),
    deeper=st.floats(1, 20),
    ground=st.floats(0.5, 25),
    riser=st.floats(0.5, 30),
    chain=st.floats(0.5, 40),
)
def test_the_greatest_pull_of_a_stage_is_met_nowhere_passed(depth, deeper, ground, riser, chain):
    one = rig(
        primary_depth_m=depth,
        secondary_depth_m=deeper,
        ground_m=ground,
        riser_m=riser,
        chain_water_n_m=chain,
    )
    up, _, primary, _, _ = lifting_stages(one)
    before = np.linspace(0, min(ground, deeper), 400)
    pulls = secondary_pull_n(one, before)
    assert up.hoist_n == pytest.approx(pulls.max(), rel=1e-3)
    assert up.hoist_n >= pulls.max() * (1 - 1e-12)
    assert float(secondary_pull_n(one, up.height_m)) == pytest.approx(up.hoist_n)
    if ground >= deeper:
        assert primary.hoist_n == pytest.approx(
            primary_pull_n(one, np.linspace(0, depth, 400)).max()
        )
    else:
        after = np.linspace(np.nextafter(ground, np.inf), deeper, 400)
        assert primary.hoist_n >= secondary_pull_n(one, after).max() * (1 - 1e-12) - max(
            chain - one.riser_water_n_m, 0
        )


def test_stages_on_paper():
    secondary, upright, primary, both, ashore = lifting_stages(rig())
    # riser 5 m x 8 N and 500 N on the bed; 5 m of chain and 500 N at the surface
    assert secondary.hoist_n == pytest.approx(550)
    assert secondary.height_m == pytest.approx(5)
    assert secondary.air_n == pytest.approx(800 + 5 * 11.5)
    assert (upright.hoist_n, upright.air_n) == pytest.approx((50, 57.5))
    assert (primary.hoist_n, primary.air_n) == pytest.approx((950, 1557.5))
    assert both.water_n == pytest.approx(900 + 500 + 60 + 64) == hung_n(rig())
    assert both.air_n == ashore.air_n == pytest.approx(1500 + 800 + 69 + 72)
    assert ashore.hoist_n == 1500
    assert ashore.water_n == 0


def test_a_short_ground_chain_brings_both_up_on_the_riser():
    _, upright, primary, _, _ = lifting_stages(rig(ground_m=3.0))
    # 2 m of riser, the secondary, 3 m of chain; then the primary besides
    assert upright.hoist_n == pytest.approx(16 + 500 + 30)
    assert primary.hoist_n == pytest.approx(16 + 500 + 30 + 900)
    assert primary.air_n == pytest.approx(18 + 800 + 34.5 + 1500)


def test_heights_outside_the_water_and_no_water_are_refused():
    with pytest.raises(RangeError, match=r"-0.1, 5.1 m above the bed: need 0 to the depth, 5 m"):
        secondary_pull_n(rig(), [-0.1, 2.0, 5.1])
    with pytest.raises(RangeError, match=r"nan m above the bed"):
        primary_pull_n(rig(), np.nan)
    with pytest.raises(RangeError, match=r"primary depth 0 m, riser nan m: need depths"):
        lifting_stages(rig(primary_depth_m=0.0, riser_m=np.nan))
