"""Periods against a swing integrated in time; added mass by hand."""

import numpy as np
import pytest
from conftest import make_float
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from lakemap.basis.errors import RangeError
from lakemap.rig.float_defaults import fill_flotation
from lakemap.rig.heave import (
    HEAVE_PERIOD,
    ROLL_PERIOD,
    ROLL_RADIUS,
    added_mass,
    heave_period,
    plate_coefficient,
    roll_period,
)
from lakemap.rig.layout import layout

G = 9.80665


def swing(inertia, stiffness):
    """Period of inertia x'' = -stiffness x, let go at 1: four times the time to the middle."""

    def middle(_, state):
        return state[0]

    middle.terminal = True
    found = solve_ivp(
        lambda _, state: (state[1], -stiffness * state[0] / inertia), (0, 60), (1.0, 0.0),
        events=middle, rtol=1e-10, atol=1e-12,
    )  # fmt: skip
    return 4 * found.t_events[0][0]


@pytest.mark.parametrize(
    ("mass", "added", "area"), [(480, 442, 2.97), (300, 0, 1), (2700, 6139, 9)]
)
def test_heave_by_integration(mass, added, area):
    found = float(heave_period(mass, added_kg=added, waterplane_m2=area))
    assert found == pytest.approx(swing(mass + added, 1000 * G * area), rel=1e-7)


@pytest.mark.parametrize(("breadth", "gm", "mass"), [(3.0, 8.55, 480), (2.4, 1.2, 600)])
def test_roll_by_integration(breadth, gm, mass):
    inertia = mass * (0.4 * breadth) ** 2
    found = float(roll_period(breadth, gm_m=gm))
    assert found == pytest.approx(swing(inertia, mass * G * gm), rel=1e-7)


def test_roll_is_common_practice():
    # T = 0.8 B/sqrt(GM) in metres, between 0.7 and 0.9: common practice, no published source
    assert float(roll_period(1.0, gm_m=1.0)) == pytest.approx(0.8, abs=0.005)
    assert (ROLL_RADIUS.low, ROLL_RADIUS.high) == (0.35, 0.45)
    assert np.isnan(roll_period(3.0, gm_m=[0.0, -1.0, np.nan])).all()


@given(st.floats(1.0, 1e4), st.floats(0.0, 1e4), st.floats(0.1, 50.0), st.floats(1.1, 9.0))
def test_heave_grows_with_the_root_of_the_size(mass, added, area, times):
    one = float(heave_period(mass, added_kg=added, waterplane_m2=area))
    two = heave_period(mass * times**3, added_kg=added * times**3, waterplane_m2=area * times**2)
    assert float(two) == pytest.approx(one * np.sqrt(times))


@given(st.floats(1.0, 100.0), st.floats(1.0, 5.0))
def test_slender_plates_drag_more_along(ratio, more):
    low, high = plate_coefficient([ratio, ratio * more])
    assert 0.579 <= low <= high <= 1


@pytest.mark.parametrize("ratio", [0.5, 0.0, np.nan])
def test_ratio_below_one_is_named(ratio):
    with pytest.raises(RangeError, match=r"\[1\] .*long over short, >= 1 \(DNV-RP-C205"):
        plate_coefficient([2.0, ratio])


def carried(one):
    flotation = fill_flotation([one])
    laid = layout(flotation, length_m=np.array([one.length_m]), width_m=np.array([one.width_m]))
    added, steps = added_mass(flotation, laid)
    return float(added[0]), steps


def billets(count, length, width, **more):
    sides = {"billet_length_m": length, "billet_width_m": width, "billet_height_m": 0.25}
    return make_float("b", flotation="billets", billets=count, **sides | more)


def test_tubes_take_three_quarters_of_their_lower_half():
    tubes = make_float("t", flotation="tubes", tubes=2, tube_diameter_m=0.5, tube_length_m=3.0)
    added, (own, none) = carried(tubes)
    assert added == pytest.approx(0.75 * 1000 * 2 * 3.0 * (np.pi * 0.25**2) / 2)
    assert own.value[0] == added
    assert np.isnan(none.value[0])


@pytest.mark.parametrize(
    ("count", "length", "width", "plates", "short", "long", "coefficient"),
    [
        (1, 2.0, 1.0, 1, 1.0, 2.0, 0.757),  # one by itself
        (4, 1.0, 0.5, 4, 0.5, 1.0, 0.757),  # apart
        (4, 2.0, 0.5, 2, 0.5, 4.0, 0.897 + (1 / 5 - 1 / 8) / (1 / 5) * 0.103),  # a row of two
        (2, 1.5, 1.5, 1, 1.5, 3.0, 0.757),  # side by side
        (4, 2.0, 1.5, 1, 3.0, 4.0, 0.642 + (1 / 1.25 - 3 / 4) / (1 / 1.25 - 1 / 1.5) * 0.048),
    ],
)
def test_billets_that_touch_are_one_plate(count, length, width, plates, short, long, coefficient):
    # deck of 4 by 3 m; straight between the printed rows in short over long
    added, (none, own) = carried(billets(count, length, width))
    assert added == pytest.approx(plates * coefficient / 2 * 1000 * np.pi / 4 * short**2 * long)
    assert own.value[0] == added
    assert np.isnan(none.value[0])


def test_formulas_are_the_functions():
    given_ = {"mass_kg": [480.0, 300.0], "added_kg": 400.0, "waterplane_m2": 2.9}
    assert HEAVE_PERIOD(**given_).value.tolist() == heave_period(
        given_["mass_kg"], added_kg=400.0, waterplane_m2=2.9
    ).tolist()  # fmt: skip
    roll = ROLL_PERIOD(radius=0.4, breadth_m=3.0, gm_m=2.0)
    assert float(roll.value) == float(roll_period(3.0, gm_m=2.0))
