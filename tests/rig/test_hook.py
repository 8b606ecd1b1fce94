"""A pull at the hook: statics by hand, and the exact balance for a small weight there."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from lakemap.rig.edge_load import edge_load
from lakemap.rig.hook import RIG_SHARE, hook_trim_deg, rig_share_n
from lakemap.rig.tilt import Profile, Tipping

G = 9.80665


def trim(vertical, horizontal, out=1.5, lever=0.8, stiffness=20e3):
    return hook_trim_deg(vertical, horizontal, out_m=out, lever_m=lever, stiffness_n_m=stiffness)


def test_by_hand():
    # 400 N at 1.5 m against 500 N at 0.8 m: 200 N m over 20 kN m
    assert float(trim(400, 500)) == pytest.approx(np.degrees(np.arctan(0.01)))
    assert float(trim(400, 750)) == 0.0
    assert float(trim(0, 500)) < 0 < float(trim(400, 0))


def test_a_small_weight_at_the_hook_tips_as_the_exact_balance():
    # a box of 3 by 2.4 m, draft 0.1 m; 2 kg at its keel's height, 1.3 m out
    bm = 3.0**2 / (12 * 0.1)
    gm = 0.05 + bm - 0.3
    one = {
        "weight_kg": 720.0, "centre_m": 0.3, "edge_m": 1.5, "deck_top_m": 0.6, "stand_m": 1.3,
        "person_centre_m": 0.1,
    }  # fmt: skip
    box = Tipping(
        profile=Profile(
            kind="box", offset_m=np.zeros((1, 1)), pieces=np.ones((1, 1)),
            extent_m=np.array([3.0]), span_m=np.array([2.4]), height_m=np.array([0.5]),
        ),
        **{name: np.array([value]) for name, value in one.items()},
    )  # fmt: skip
    exact = edge_load(box, people_kg=np.array([2.0])).tilt_deg[0]
    assert float(trim(2 * G, 0.0, out=1.3, stiffness=720 * G * gm)) == pytest.approx(
        exact, rel=5e-3
    )


@given(st.floats(0, 3000), st.floats(0, 3000), st.floats(1.1, 5.0))
def test_only_ratios_count(vertical, horizontal, times):
    one = float(trim(vertical, horizontal))
    assert float(trim(vertical * times, horizontal * times, stiffness=20e3 * times)) == (
        pytest.approx(one, abs=1e-9)
    )
    assert abs(one) < 90


@given(st.floats(1.0, 60.0), st.floats(0.0, 30.0))
def test_riser_that_hangs(weight, drop):
    hanging, _ = quad(lambda _: weight, 0, drop)
    assert float(rig_share_n(weight, drop_m=drop)) == pytest.approx(hanging, abs=1e-9)
    assert float(RIG_SHARE(weight_n_m=weight, drop_m=drop).value) == pytest.approx(weight * drop)


def test_aground_nothing_hangs():
    assert rig_share_n([20.0, 20.0], drop_m=[-0.5, 3.0]).tolist() == [0.0, 60.0]
