"""Chosen lengths: rounded up, never down, never to nothing."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lakemap.rig.lengths import ground_length, riser_length, round_up

STEP = {"ft-lb": 0.1524, "m-kg": 0.1}
UNITS = st.sampled_from(["ft-lb", "m-kg"])


@given(st.floats(0.01, 2e4), UNITS)
def test_up_by_less_than_a_step(length, units):
    up = float(round_up(length, units))
    assert length - 1e-9 * STEP[units] * 2 <= up < length + STEP[units]
    assert up / STEP[units] == pytest.approx(round(up / STEP[units]), abs=1e-6)


@given(st.integers(1, 4000), UNITS)
def test_whole_steps_stay(steps, units):
    assert float(round_up(steps * STEP[units], units)) == pytest.approx(steps * STEP[units])


@given(st.integers(1, 200))
def test_whole_feet_typed_as_feet_stay(feet):
    assert float(ground_length(feet * 0.3048, "ft-lb")) == pytest.approx(feet * 0.3048)


def test_a_shore_that_falls_dry_still_gets_a_chain():
    assert float(ground_length(-0.4, "m-kg")) == pytest.approx(0.1)
    riser = riser_length(0.1, hook_depth_m=0.5, wave_m=0.0, units="m-kg")
    assert float(riser) == pytest.approx(0.1)


def test_unknown_depth_is_an_unknown_length():
    assert np.isnan(ground_length(np.nan, "m-kg"))
    assert np.isnan(riser_length(np.nan, hook_depth_m=0, wave_m=0, units="m-kg"))


@given(st.floats(0.5, 30), st.floats(-0.5, 0.4), st.floats(0, 2), UNITS)
def test_the_crest_does_not_lift_the_secondary(deepest, hook, wave, units):
    # with the secondary under the hook in the deepest water, on a crest
    riser = float(riser_length(deepest, hook_depth_m=hook, wave_m=wave, units=units))
    assert riser >= deepest - hook + wave / 2 - 1e-9
