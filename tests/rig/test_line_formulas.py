"""Formulas of the line: each gives what its function gives, and satisfies the words it is told in."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from worked_lines import US

from lakemap.basis.errors import RangeError
from lakemap.rig import line_formulas
from lakemap.rig.line_formulas import (
    HOOK_TENSION,
    LIFT_CREST,
    PULL_ANGLE,
    REACH_IN_STORM,
    REACH_TAUT,
    SECONDARY_LIFTS,
    SECONDARY_SLIDES,
    SWING_RADIUS,
    UPLIFT,
    UPLIFT_BEGINS,
)

FORMULAS = [
    getattr(line_formulas, name)
    for name in vars(line_formulas)
    if name.isupper() and name[0] != "_"
]
PULLED = (REACH_IN_STORM, HOOK_TENSION, UPLIFT, PULL_ANGLE)
RIGS = st.builds(
    lambda drop, ground, slack, second: {
        "drop_m": drop,
        "ground_m": ground * drop,
        "riser_m": drop * (1 + slack),
        "ground_weight_n_m": 20.0,
        "riser_weight_n_m": 15.0,
        "secondary_wet_n": second,
    },
    st.floats(0.3, 20), st.floats(0.1, 3), st.floats(0.02, 1), st.floats(1, 2e3),
)  # fmt: skip


def test_keys_and_symbols_are_each_their_own():
    assert len(FORMULAS) == 10
    assert len({one.key for one in FORMULAS}) == len({one.symbol for one in FORMULAS}) == 10
    for one in FORMULAS:
        assert one.words.startswith((one.symbol, "√", "[√", "tan"))
        assert one.symbol in one.words
        assert one.source


# pull, reach, hook tension, uplift, angle at the primary: worked by hand from the catenary
@pytest.mark.parametrize(
    ("pull", "far", "tension", "lift", "angle"),
    [
        (10, 13.1799, 39.817, 0.000, 0.000),
        (40, 14.3109, 103.106, 0.000, 0.000),
        (75, 16.1546, 130.561, 5.835, 4.448),
        (220, 17.6305, 283.086, 77.115, 19.317),
    ],
)
def test_rows(pull, far, tension, lift, angle):
    values = [float(one(pull_n=pull, **US).value) for one in PULLED]
    assert values[0] == pytest.approx(far, abs=1e-4)
    assert values[1:] == pytest.approx([tension, lift, angle], abs=1e-3)


def test_pulls_where_the_line_changes():
    assert float(SECONDARY_LIFTS(**US).value) == pytest.approx(26.067201, abs=1e-6)
    assert float(UPLIFT_BEGINS(**US).value) == pytest.approx(58.380837, abs=1e-6)
    riser = {
        name: US[name] for name in ("drop_m", "riser_m", "riser_weight_n_m", "secondary_wet_n")
    }
    slides = SECONDARY_SLIDES(friction=[0.30, 0.70, 0.0], **riser).value
    assert slides == pytest.approx([12.5693, 17.8617, 0.0], abs=6e-5)


def test_circles():
    # 10 x 10 ft deck: from the centre 7.0711, from an edge's middle 11.1803 ft
    taut = float(REACH_TAUT(drop_m=10.0, line_m=20.5).value)
    assert taut == pytest.approx(17.895530, abs=1e-6)
    for corner, radius in ((np.sqrt(50), 24.9666), (np.sqrt(125), 29.0759)):
        swing = SWING_RADIUS(reach_m=taut, corner_m=corner, extra_m=0.0).value
        assert float(swing) == pytest.approx(radius, abs=6e-5)
    with pytest.raises(RangeError, match="drop 21"):
        REACH_TAUT(drop_m=21.0, line_m=20.5)


def test_the_crest_that_lifts_the_secondary():
    assert LIFT_CREST(riser_m=[6.5, 5.0, 4.0], drop_m=5.0).value.tolist() == [1.5, 0.0, 0.0]


@given(RIGS, st.floats(0.1, 1e4))
def test_words_hold_for_the_pulled_line(rig, pull):
    """Put into the equations as they are told: rise of chain and riser, tension, angle."""
    tension, lift, angle = (float(one(pull_n=pull, **rig).value) for one in PULLED[1:])
    hook = np.sqrt(max(tension**2 - pull**2, 0))
    assert np.tan(np.radians(angle)) == pytest.approx(lift / pull, abs=1e-9)
    riser_n = rig["riser_weight_n_m"] * rig["riser_m"]
    chain_n = rig["ground_weight_n_m"] * rig["ground_m"]
    if lift > 1e-6 * hook:  # all of it off the bed
        top = lift + chain_n
        foot = top + rig["secondary_wet_n"]
        assert hook == pytest.approx(foot + riser_n, rel=1e-6)
        rise = (np.hypot(pull, top) - np.hypot(pull, lift)) / rig["ground_weight_n_m"]
        rise += (np.hypot(pull, foot + riser_n) - np.hypot(pull, foot)) / rig["riser_weight_n_m"]
        assert rise == pytest.approx(rig["drop_m"], rel=1e-5)


@given(RIGS)
def test_words_hold_where_the_line_changes(rig):
    d, second = rig["drop_m"], rig["secondary_wet_n"]
    riser_n = rig["riser_weight_n_m"] * rig["riser_m"]
    lifts = float(SECONDARY_LIFTS(**rig).value)
    told = np.hypot(lifts, second + riser_n) - np.hypot(lifts, second)
    assert told == pytest.approx(rig["riser_weight_n_m"] * d, rel=1e-6)
    begins = float(UPLIFT_BEGINS(**rig).value)
    v1 = rig["ground_weight_n_m"] * rig["ground_m"]
    rise = (np.hypot(begins, v1) - begins) / rig["ground_weight_n_m"]
    rise += (np.hypot(begins, v1 + second + riser_n) - np.hypot(begins, v1 + second)) / rig[
        "riser_weight_n_m"
    ]
    assert rise == pytest.approx(d, rel=1e-6)
    assert begins >= lifts
    # and the state turns there
    assert float(UPLIFT(pull_n=begins * 0.999, **rig).value) == 0
    assert float(UPLIFT(pull_n=begins * 1.01, **rig).value) > 0


def test_arrays_go_through():
    step = UPLIFT(pull_n=[10.0, 100.0], **US)
    assert step.value == pytest.approx([0.0, 16.363], abs=1e-3)
    assert step.given["drop_m"].shape == (2,)
