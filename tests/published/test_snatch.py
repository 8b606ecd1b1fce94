"""Snatch loads: energy and momentum worked by hand to the digits shown, and integrated in time.

The formulas are ours; what stands against them is a general solver of differential equations.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from lakemap.basis.errors import RangeError
from lakemap.rig.snatch import (
    BUOYANCY_FACTOR,
    line_stiffness,
    secondary_inertia,
    series_stiffness,
    sink_pull,
    snatch_fixed,
    snatch_yielding,
    take_up_speed,
)

# P N, k N/m, m kg, v m/s, F N, stretch m, time to the peak s
FIXED = (
    (0, 20_000, 600, 0.5, 1732.05, 0.08660, 0.2721),
    (0, 20_000, 600, 1.0, 3464.10, 0.17321, 0.2721),
    (500, 20_000, 600, 0.0, 1000.00, 0.05000, 0.5441),
    (500, 20_000, 600, 0.5, 2302.78, 0.11514, 0.3207),
    (500, 20_000, 600, 1.0, 4000.00, 0.20000, 0.2969),
    (500, 2_000_000, 600, 0.5, 17827.7, 0.00891, 0.0277),
    (500, 2_000_000, 600, 1.0, 35144.6, 0.01757, 0.0275),
)
# m_s kg, W2 N, v m/s, F N, fixed end, without weight; m 600 kg, k 20 kN/m
YIELDING = (
    (100, 572, 0.5, 1113.59, 1732.05, 654.65),
    (100, 572, 1.0, 1784.20, 3464.10, 1309.31),
    (150, 858, 0.5, 1380.82, 1732.05, 774.60),
    (150, 858, 1.0, 2197.10, 3464.10, 1549.19),
    (200, 1144, 0.5, 1568.36, 1732.05, 866.03),
    (200, 1144, 1.0, 2517.70, 3464.10, 1732.05),
    (400, 2288, 0.5, 1732.05, 1732.05, 1095.45),
    (400, 2288, 1.0, 3255.25, 3464.10, 2190.89),
)


@pytest.mark.parametrize(("pull", "k", "m", "v", "force", "stretch", "time"), FIXED)
def test_fixed_end(pull, k, m, v, force, stretch, time):
    found = float(snatch_fixed(v, stiffness_n_m=k, mass_kg=m, pull_n=pull))
    assert found == pytest.approx(force, abs=0.06 if force > 1e4 else 0.006)
    assert found / k == pytest.approx(stretch, abs=6e-6)
    peak = (np.pi - np.arctan2(v * np.sqrt(k * m), pull)) * np.sqrt(m / k)
    assert peak == pytest.approx(time, abs=6e-5)
    moved = solve_ivp(
        lambda _, y: [y[1], (pull - k * y[0]) / m], (0, 1.5 * peak), [0.0, v], rtol=1e-10, atol=1e-12,
        max_step=peak / 200,
    )  # fmt: skip
    assert k * moved.y[0].max() == pytest.approx(found, rel=1e-4)


@pytest.mark.parametrize(("ms", "weight", "v", "force", "fixed", "weightless"), YIELDING)
def test_a_secondary_that_gives(ms, weight, v, force, fixed, weightless):
    line = {"stiffness_n_m": 20_000, "mass_kg": 600}
    found = float(snatch_yielding(v, secondary_kg=ms, secondary_wet_n=weight, **line))
    assert found == pytest.approx(force, abs=0.006)
    assert snatch_fixed(v, **line) == pytest.approx(fixed, abs=0.006)
    light = snatch_yielding(v, secondary_kg=ms, secondary_wet_n=0.0, **line)
    assert light == pytest.approx(weightless, abs=0.006)


@pytest.mark.parametrize(("ms", "weight", "v"), [row[:3] for row in YIELDING if row[3] < row[4]])
def test_a_secondary_that_gives_integrated_in_time(ms, weight, v):
    m, k = 600, 20_000

    def rates(_, y):
        float_x, float_v, second_x, second_v = y
        pull = max(k * (float_x - second_x), 0.0)
        lifted = pull > weight or second_x > 0
        return [float_v, -pull / m, second_v, (pull - weight) / ms if lifted else 0.0]

    moved = solve_ivp(rates, (0, 0.6), [0, v, 0, 0], rtol=1e-9, atol=1e-11, max_step=2e-4)
    peak = k * (moved.y[0] - moved.y[2]).max()
    found = snatch_yielding(v, stiffness_n_m=k, mass_kg=m, secondary_kg=ms, secondary_wet_n=weight)
    assert peak == pytest.approx(float(found), rel=2e-4)


@pytest.mark.parametrize(("ms", "weight", "force"), [(100, 572, 9746.3), (200, 1144, 13095.4)])
def test_a_small_secondary_spares_a_stiff_line(ms, weight, force):
    line = {"stiffness_n_m": 1e6, "mass_kg": 600}
    found = snatch_yielding(1.0, secondary_kg=ms, secondary_wet_n=weight, **line)
    assert found == pytest.approx(force, abs=0.06)
    assert snatch_fixed(1.0, **line) == pytest.approx(24494.9, abs=0.06)


@pytest.mark.parametrize(
    ("height", "period", "speed"), [(0.3, 1.8, 0.524), (0.45, 2.0, 0.707), (0.6, 2.2, 0.857)]
)
def test_take_up_speed(height, period, speed):
    # greatest slope in time of a sine of that height: pi H/T
    assert take_up_speed(height, period_s=period) == pytest.approx(speed, abs=5e-4)


def test_limits():
    line = {"stiffness_n_m": 5e4, "mass_kg": 700}
    assert snatch_fixed(0.0, pull_n=300, **line) == pytest.approx(600)  # suddenly applied
    assert snatch_fixed(0.7, **line) == pytest.approx(0.7 * np.sqrt(5e4 * 700))
    heavy = snatch_yielding(0.7, secondary_kg=1e12, secondary_wet_n=500, **line)
    assert heavy == pytest.approx(0.7 * np.sqrt(5e4 * 700), rel=1e-4)
    assert take_up_speed(0.0, period_s=0.0) == 0


def test_springs_one_after_another():
    assert series_stiffness(2e6, 3e6) == pytest.approx(1.2e6)
    assert series_stiffness(2e6, np.inf) == pytest.approx(2e6)
    # 4 ft of doubled 5/16 in cable and 3 m of 10 mm chain
    found = line_stiffness(6.206e6, absorber_m=1.2192, chain_ea_n=8.42e6, chain_m=3.0)
    assert found == pytest.approx(series_stiffness(6.206e6 / 1.2192, 8.42e6 / 3.0))


def test_inertia_is_dry_mass_and_half_of_the_water():
    assert secondary_inertia(66.4, volume_m3=0.03316) == pytest.approx(66.4 + 16.58)


def test_the_rule_of_two_and_a_half():
    # common practice, no published source
    assert BUOYANCY_FACTOR.value == 2.5
    assert "no published source" in BUOYANCY_FACTOR.source
    assert sink_pull(8000.0, weight_n=3000.0) == 5000
    assert sink_pull(2000.0, weight_n=3000.0) == 0


POSITIVE = st.floats(1.0, 1e4)


@given(st.floats(0.01, 2), POSITIVE, st.floats(1e3, 1e7), POSITIVE, st.floats(0, 1e4))
def test_a_yielding_end_lies_between_weightless_and_fixed(v, m, k, ms, weight):
    line = {"stiffness_n_m": k, "mass_kg": m}
    fixed = float(snatch_fixed(v, **line))
    found = float(snatch_yielding(v, secondary_kg=ms, secondary_wet_n=weight, **line))
    light = float(snatch_yielding(v, secondary_kg=ms, secondary_wet_n=0.0, **line))
    assert light * (1 - 1e-9) <= found <= fixed * (1 + 1e-9)


@given(st.floats(0.01, 2), POSITIVE, st.floats(1e3, 1e7), POSITIVE, POSITIVE, st.floats(1.01, 3))
def test_a_heavier_secondary_never_snatches_less(v, m, k, ms, weight, more):
    line = {"stiffness_n_m": k, "mass_kg": m}
    light = snatch_yielding(v, secondary_kg=ms, secondary_wet_n=weight, **line)
    heavy = snatch_yielding(v, secondary_kg=more * ms, secondary_wet_n=more * weight, **line)
    assert heavy >= light * (1 - 1e-9)


def test_what_lies_outside_is_refused():
    with pytest.raises(RangeError, match="mass -1"):
        snatch_fixed(1.0, stiffness_n_m=1.0, mass_kg=-1.0)
