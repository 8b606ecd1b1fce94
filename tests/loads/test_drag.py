"""Drag and breadth: shapes projected by a general geometry library, properties, refusals."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp
from scipy.optimize import minimize_scalar

from lakemap.basis.errors import RangeError
from lakemap.loads.drag import (
    AIR_DRAG,
    AIR_KG_M3,
    CURRENT_DRAG,
    WATER_DRAG,
    WIND_DRAG,
    WIND_GUST_DRAG,
    broadest_width,
    current_drag,
    frontal_width,
    wind_drag,
)

SIDE = st.floats(0.5, 12)
ANGLE = st.floats(-720, 720)
LAWS = [(wind_drag, WIND_DRAG), (wind_drag, WIND_GUST_DRAG), (current_drag, CURRENT_DRAG)]


@given(SIDE, SIDE, ANGLE)
def test_breadth_is_that_of_the_turned_rectangle(length, width, angle):
    # the flow along the first axis, the deck turned: its extent along the second axis
    deck = shapely.affinity.rotate(shapely.box(0, 0, length, width), angle)
    _, low, _, high = deck.bounds
    assert float(frontal_width(length, width_m=width, angle_deg=angle)) == pytest.approx(high - low)


@given(SIDE, SIDE)
def test_broadest_by_a_general_search(length, width):
    found = minimize_scalar(
        lambda a: -float(frontal_width(length, width_m=width, angle_deg=a)),
        bounds=(0, 90),
        method="bounded",
        options={"xatol": 1e-6},
    )
    assert float(broadest_width(length, width_m=width)) == pytest.approx(-found.fun)


@given(SIDE, SIDE, ANGLE)
def test_breadth_lies_between_the_short_side_and_the_diagonal(length, width, angle):
    found = float(frontal_width(length, width_m=width, angle_deg=angle))
    longest = float(broadest_width(length, width_m=width))
    assert min(length, width) * (1 - 1e-12) <= found <= longest * (1 + 1e-12)
    # the same from the other side, and with the sides changed round a quarter turn on
    assert float(frontal_width(length, width_m=width, angle_deg=angle + 180)) == pytest.approx(
        found
    )
    assert float(frontal_width(width, width_m=length, angle_deg=angle + 90)) == pytest.approx(found)


def test_mean_breadth_over_all_headings():
    # Cauchy: the mean breadth of a convex shape is its perimeter over pi
    total, _ = quad(lambda a: float(frontal_width(4, width_m=3, angle_deg=a)), 0, 360, points=[90, 180, 270])  # fmt: skip
    assert total / 360 == pytest.approx(14 / np.pi)


@pytest.mark.parametrize(("drag", "rho"), [(wind_drag, 1.221), (current_drag, 1000.0)])
def test_a_body_that_coasts(drag, rho):
    # m dv/dt = -drag: v = v0/(1 + rho C A v0 t/(2 m)), 300 kg from 7 m/s, 20 s on
    def slows(_, speed):
        return -drag(np.abs(speed), area_m2=2.5, coefficient=1.2) / 300.0

    run = solve_ivp(slows, (0, 20), [7.0], rtol=1e-10, atol=1e-12)
    assert run.y[0, -1] == pytest.approx(7 / (1 + rho * 1.2 * 2.5 * 7 * 20 / 600), rel=1e-6)


@pytest.mark.parametrize("drag", [wind_drag, current_drag])
@given(st.floats(0, 60), st.floats(1, 3), st.floats(0, 20), st.floats(0, 2))
def test_more_of_anything_never_pushes_less(drag, speed, more, area, coefficient):
    base = float(drag(speed, area_m2=area, coefficient=coefficient))
    assert base >= 0
    assert float(drag(speed * more, area_m2=area, coefficient=coefficient)) >= base
    assert float(drag(speed, area_m2=area * more, coefficient=coefficient)) >= base
    assert float(drag(speed, area_m2=area, coefficient=coefficient * more)) >= base


@given(st.floats(0.1, 40), st.floats(0.1, 3))
def test_drag_goes_with_the_square(speed, times):
    one, other = wind_drag([speed, speed * times], area_m2=1.5, coefficient=1.1)
    assert other == pytest.approx(one * times**2)


def test_shapes_broadcast():
    found = wind_drag(np.array([[10.0], [20.0]]), area_m2=[1.0, 2.0, 3.0], coefficient=1.2)
    assert found.shape == (2, 3)
    assert found[1, 2] == pytest.approx(found[0, 0] * 12)
    assert frontal_width([4, 5], width_m=3, angle_deg=90) == pytest.approx([4, 5])


def test_no_wind_no_area_no_push():
    found = wind_drag([0.0, 20.0, 20.0], area_m2=[2.0, 0.0, 2.0], coefficient=[1.2, 1.2, 0.0])
    assert found.tolist() == [0, 0, 0]


@pytest.mark.parametrize("drag", [wind_drag, current_drag])
@pytest.mark.parametrize("name", ["speed", "area", "coefficient"])
def test_what_is_below_nothing_is_refused(drag, name):
    given_ = {"speed": 5.0, "area": 2.0, "coefficient": 1.2} | {name: -0.5}
    with pytest.raises(RangeError, match=f"{name} -0.5: need 0 or more .*UFC 4-159-03"):
        drag(given_["speed"], area_m2=given_["area"], coefficient=given_["coefficient"])


def test_an_unknown_area_stays_unknown():
    assert np.isnan(wind_drag(10.0, area_m2=[np.nan, 1.0], coefficient=1.2)).tolist() == [
        True,
        False,
    ]


@pytest.mark.parametrize("record", [AIR_DRAG, WATER_DRAG, AIR_KG_M3])
def test_records_hold_their_own_value(record):
    assert record.low <= record.value <= record.high
    assert record.source
    assert record.locator


@pytest.mark.parametrize(("public", "formula"), LAWS)
def test_formulas_are_the_public_functions(public, formula):
    given_ = {"speed_m_s": [0.0, 5.0, 31.3], "area_m2": [1.0, 2.0, 0.7], "coefficient": 1.2}
    step = formula(**given_)
    told = public(given_["speed_m_s"], area_m2=given_["area_m2"], coefficient=given_["coefficient"])
    assert step.value == pytest.approx(told)
    assert formula.law(**step.given) == pytest.approx(step.value)
    assert step.inside.all()
    assert formula.unit == "N"
    # the density that the words name is the one that the law takes
    rho = float(formula.words.split("ρ = ")[1].split(" kg")[0])
    assert step.value == pytest.approx(
        rho / 2 * np.square(given_["speed_m_s"]) * np.array(given_["area_m2"]) * 1.2
    )


def test_keys_differ():
    assert len({formula.key for _, formula in LAWS}) == 3
