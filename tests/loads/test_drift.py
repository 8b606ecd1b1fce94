"""Mean drift and reflection by other ways: pressure on a wall, a spectrum, the box in finite depth."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import dblquad, quad

from lakemap.loads.dispersion import wave_length
from lakemap.loads.drift import (
    DRIFT,
    DRIFT_BOUND,
    HEAVES,
    LEAST_REFLECTION,
    REFLECTION,
    drift_regular,
    mean_drift,
    reflection,
    reflection_box,
)

G, RHO = 9.80665, 1000.0
HEIGHT, PERIOD, DEPTH = st.floats(0.05, 1.5), st.floats(0.6, 6.0), st.floats(0.4, 40.0)


def on_a_wall(height, period, depth):
    """Mean push on a wall that throws all back, by the pressure of the standing wave.

    To the second order: the water above the calm surface, rho g eta^2/2, less the suction of the
    particles' speed, rho w^2/2, both averaged over a period.
    """
    number, rate, amplitude = (
        2 * np.pi / float(wave_length(period, depth)),
        2 * np.pi / period,
        height / 2,
    )

    def suction(z, t):
        w = 2 * amplitude * rate * np.sinh(number * (z + depth)) / np.sinh(number * depth)
        return RHO / 2 * (w * np.sin(rate * t)) ** 2

    above, _ = quad(lambda t: RHO * G / 2 * (2 * amplitude * np.cos(rate * t)) ** 2, 0, period)
    sucked, _ = dblquad(suction, 0, period, -depth, 0)
    return (above - sucked) / period


@pytest.mark.parametrize(
    ("height", "period", "depth"),
    [(0.3, 2.0, 2.0), (0.6, 3.0, 2.0), (0.5, 4.0, 3.0), (0.4, 1.5, 8.0), (0.2, 8.0, 1.0)],
)
def test_all_thrown_back_by_pressure_on_a_wall(height, period, depth):
    found = drift_regular(height, reflection2=1.0, period_s=period, depth_m=depth)
    assert float(found) == pytest.approx(on_a_wall(height, period, depth), rel=1e-7)


def test_half_thrown_back_by_momentum():
    # radiation stress S = E (2n - 1/2) cannot tell the sides apart to R^2 alone; the flux of energy
    # can: what comes less what passes is what is thrown back, so 1/4 (1 + R^2 - T^2) = 1/2 R^2
    for back in (0.0, 0.3, 1.0):
        quarter = RHO * G * 0.3**2 / 4 * (1 + back - (1 - back))
        found = drift_regular(0.6, reflection2=back, period_s=2.0, depth_m=np.inf)
        assert float(found) == pytest.approx(quarter)


def test_a_sea_by_its_spectrum():
    # Pierson and Moskowitz with H_s 0.6 m and T_p 2.4 s: rho g S(f) over all frequencies
    m0, peak = 0.6**2 / 16, 1 / 2.4

    def density(f):
        return 5 * m0 * peak**4 / f**5 * np.exp(-1.25 * (peak / f) ** 4)

    total, _ = quad(density, 0.02, 40, points=[peak])
    assert total == pytest.approx(m0, rel=1e-5)
    found = mean_drift(0.6, reflection2=1.0, width_m=1.0, period_s=2.4, depth_m=np.inf)
    assert float(found) == pytest.approx(RHO * G * total, rel=1e-5)


@pytest.mark.parametrize(("period", "breadth", "draft"), [(1.5, 2.4, 0.25), (3.0, 3.0, 0.4)])
def test_the_box_is_the_deep_end_of_the_one_in_finite_depth(period, breadth, draft):
    # K_T = [1 + (k B sinh kd/(2 cosh k(d - D)))^2]^(-1/2), Macagno 1954 (from memory), d far down
    number, depth = (2 * np.pi / period) ** 2 / G, 60.0
    blocked = number * breadth * np.sinh(number * depth) / (2 * np.cosh(number * (depth - draft)))
    passed = (1 + blocked**2) ** -0.5
    found = float(reflection_box(period, breadth_m=breadth, draft_m=draft))
    assert found == pytest.approx(1 - passed**2, rel=1e-9)


@given(st.floats(0.4, 30), st.floats(0, 8), st.floats(0, 3))
def test_reflection_is_a_share_of_the_box_s(period, breadth, draft):
    box = float(reflection_box(period, breadth_m=breadth, draft_m=draft))
    taken = float(reflection(period, breadth_m=breadth, draft_m=draft))
    assert 0 <= box <= 1
    assert taken == pytest.approx(min(1.0, max(LEAST_REFLECTION.value, box / HEAVES.value)))
    assert taken >= box * (1 - 1e-12)  # never below the fixed box


@given(st.floats(0.4, 20), st.floats(1, 2), st.floats(0.2, 6), st.floats(0.02, 1.5))
def test_a_bigger_box_or_a_shorter_wave_is_thrown_back_more(period, more, breadth, draft):
    base = float(reflection(period, breadth_m=breadth, draft_m=draft))
    for other in (
        reflection(period / more, breadth_m=breadth, draft_m=draft),
        reflection(period, breadth_m=breadth * more, draft_m=draft),
        reflection(period, breadth_m=breadth, draft_m=draft * more),
    ):
        assert float(other) >= base * (1 - 1e-12)


def test_reflection_does_not_jump():
    found = reflection(np.linspace(0.5, 8, 20_001), breadth_m=2.44, draft_m=0.25)
    assert np.abs(np.diff(found)).max() < 1e-3


def test_a_very_short_wave_is_thrown_back_whole():
    assert float(reflection_box(0.05, breadth_m=3.0, draft_m=1.0)) == pytest.approx(1.0)
    assert float(reflection_box(2.0, breadth_m=0.0, draft_m=0.3)) == 0.0


@given(HEIGHT, st.floats(1, 3), PERIOD, DEPTH, st.floats(0, 1))
def test_higher_waves_never_push_less(height, more, period, depth, back):
    terms = {"reflection2": back, "width_m": 3.0, "period_s": period, "depth_m": depth}
    base = float(mean_drift(height, **terms))
    assert base >= 0
    assert float(mean_drift(height * more, **terms)) >= base
    # four times the push for twice the height, and the bound is never passed
    assert float(mean_drift(2 * height, **terms)) == pytest.approx(4 * base)
    assert base <= float(mean_drift(height, **terms | {"reflection2": 1.0})) * (1 + 1e-12)


@given(HEIGHT, PERIOD, DEPTH, st.floats(1, 4))
def test_shallow_water_pushes_up_to_twice(height, period, depth, more):
    here, deeper, deep = (
        float(drift_regular(height, reflection2=1.0, period_s=period, depth_m=d))
        for d in (depth, depth * more, np.inf)
    )
    assert deep * (1 - 1e-12) <= deeper <= here * (1 + 1e-12)
    assert here <= 2 * deep * (1 + 1e-12)


def test_calm_and_arrays():
    found = mean_drift(
        [0.0, 0.5, 0.5], reflection2=0.4, width_m=3.0, period_s=[0.0, 2.0, 0.0], depth_m=[2.0, 4.0, 3.0]
    )  # fmt: skip
    assert found[0] == found[2] == 0
    assert found[1] > 0
    assert mean_drift(0.5, reflection2=[[0.2], [0.4]], width_m=[1.0, 2.0, 3.0], period_s=2.0, depth_m=4.0).shape == (2, 3)  # fmt: skip


SEA = {"height_m": [0.3, 0.64, 0.0], "width_m": [3.0, 4.0, 3.0], "period_s": [2.0, 2.25, 0.0], "depth_m": [2.0, 6.0, 3.0]}  # fmt: skip


def test_formulas_are_the_public_functions():
    box = {"period_s": [1.5, 3.0, 12.0], "breadth_m": 2.44, "draft_m": 0.25}
    step = REFLECTION(**box)
    assert step.value == pytest.approx(
        reflection(box["period_s"], breadth_m=box["breadth_m"], draft_m=box["draft_m"])
    )
    drift = DRIFT(reflection2=[0.3, 0.5, 1.0], **SEA)
    rest = {name: value for name, value in SEA.items() if name != "height_m"}
    assert drift.value == pytest.approx(
        mean_drift(SEA["height_m"], reflection2=[0.3, 0.5, 1.0], **rest)
    )
    bound = DRIFT_BOUND(**SEA)
    assert bound.value == pytest.approx(mean_drift(SEA["height_m"], reflection2=1.0, **rest))
    for one in (step, drift, bound):
        assert one.formula.law(**one.given) == pytest.approx(one.value)
        assert one.inside.all()


def test_the_words_of_the_reflection_are_its_law():
    # R² = min(1, R²_box/0.7) ≥ 0.1, R²_box = x²/(1 + x²), x = ½ k B exp(k D), k = (2π/T)²/g
    number = (2 * np.pi / 2.5) ** 2 / G
    x = number * 2.44 * np.exp(number * 0.25) / 2
    assert float(REFLECTION(period_s=2.5, breadth_m=2.44, draft_m=0.25).value) == pytest.approx(
        x**2 / (1 + x**2) / 0.7
    )
