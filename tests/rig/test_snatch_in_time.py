"""Snatch: shapes, zeros and ranges; the moment of the peak by integration in time."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from lakemap.basis.errors import RangeError
from lakemap.rig.snatch import (
    BUOYANCY_RULE,
    LINE_STIFFNESS,
    SINK_PULL,
    SNATCH,
    SNATCH_FIXED,
    TAKE_UP_SPEED,
    line_stiffness,
    secondary_inertia,
    series_stiffness,
    snatch_fixed,
    snatch_yielding,
    take_up_speed,
)

FORMULAS = (TAKE_UP_SPEED, LINE_STIFFNESS, SNATCH, SNATCH_FIXED, SINK_PULL, BUOYANCY_RULE)


def integrate_fixed(*, v, k, m, pull):
    """Time and force when a float on a spring stands still, by a general solver's event."""

    def stands(_, y):
        return y[1]

    stands.terminal, stands.direction = True, -1
    moved = solve_ivp(
        lambda _, y: [y[1], (pull - k * y[0]) / m], (0, 10 * np.sqrt(m / k)), [0.0, v],
        events=stands, rtol=1e-11, atol=1e-13,
    )  # fmt: skip
    return float(moved.t_events[0][0]), k * float(moved.y_events[0][0][0])


def integrate_yielding(*, v, k, m, second, weight):
    """Two stages, each smooth: the spring loads up on the resting secondary, then lifts it."""
    loading = solve_ivp(
        lambda _, y: [y[1], -k * y[0] / m], (0, 10 * np.sqrt(m / k)), [0.0, v],
        events=_ends(lambda y: k * y[0] - weight, up=True), rtol=1e-11, atol=1e-13,
    )  # fmt: skip
    if not loading.t_events[0].size:
        return k * loading.y[0].max(), None
    x, at = loading.y_events[0][0]

    def both(_, y):
        force = k * (y[0] - y[2])
        return [y[1], -force / m, y[3], (force - weight) / second]

    lifting = solve_ivp(
        both, (0, 10 * np.sqrt(m / k)), [x, at, 0.0, 0.0],
        events=_ends(lambda y: y[1] - y[3], up=False), rtol=1e-11, atol=1e-13,
    )  # fmt: skip
    end = lifting.y_events[0][0]
    return k * (end[0] - end[2]), end


def _ends(of, *, up):
    def event(_, y):
        return of(y)

    event.terminal, event.direction = True, 1 if up else -1
    return event


@pytest.mark.parametrize(
    ("pull", "k", "v", "time"),
    [
        (0, 2e4, 0.5, 0.2721),
        (0, 2e4, 1.0, 0.2721),
        (500, 2e4, 0.5, 0.3207),
        (500, 2e4, 1.0, 0.2969),
        (500, 2e6, 0.5, 0.0277),
        (500, 2e6, 1.0, 0.0275),
    ],
)
def test_the_peak_comes_when_the_float_stands_still(pull, k, v, time):
    # times worked by hand: (pi - arctan2(v sqrt(k m), P)) sqrt(m/k), 600 kg
    found, force = integrate_fixed(v=v, k=k, m=600.0, pull=pull)
    assert found == pytest.approx(time, abs=6e-5)
    assert force == pytest.approx(
        float(snatch_fixed(v, stiffness_n_m=k, mass_kg=600.0, pull_n=pull)), rel=1e-6
    )


@given(
    st.floats(0.05, 3), st.floats(1e3, 1e7), st.floats(100, 5000), st.floats(20, 1000),
    st.floats(0.01, 0.99),
)  # fmt: skip
def test_any_secondary_against_integration(v, k, m, second, share):
    weight = share * v * np.sqrt(k * m)  # such that it stirs
    force, end = integrate_yielding(v=v, k=k, m=m, second=second, weight=weight)
    found = snatch_yielding(
        v, stiffness_n_m=k, mass_kg=m, secondary_kg=second, secondary_wet_n=weight
    )
    assert force == pytest.approx(float(found), rel=1e-6)
    # at the peak both move as one
    assert end[1] == pytest.approx(end[3], abs=1e-6 * v)


@given(st.floats(0.05, 3), st.floats(1e3, 1e7), st.floats(100, 5000), st.floats(1.01, 10))
def test_a_heavy_secondary_does_not_stir(v, k, m, more):
    weight = more * v * np.sqrt(k * m)
    force, end = integrate_yielding(v=v, k=k, m=m, second=100.0, weight=weight)
    assert end is None
    found = snatch_yielding(
        v, stiffness_n_m=k, mass_kg=m, secondary_kg=100.0, secondary_wet_n=weight
    )
    assert float(found) == pytest.approx(v * np.sqrt(k * m))
    assert force <= float(found) * (1 + 1e-9)


def test_where_the_energy_is_at_the_peak():
    # without weight: m_s/(m + m_s) of it in the line, the rest is common motion
    m, second, k, v = 600.0, 150.0, 2e4, 1.0
    line = {"stiffness_n_m": k, "mass_kg": m}
    force = float(snatch_yielding(v, secondary_kg=second, secondary_wet_n=0.0, **line))
    assert force**2 / (2 * k) / (m * v**2 / 2) == pytest.approx(second / (m + second))
    assert force / float(snatch_fixed(v, **line)) == pytest.approx(np.sqrt(second / (m + second)))


def test_a_small_secondary_spares_45_to_60_percent_in_a_stiff_line():
    line = {"stiffness_n_m": 1e6, "mass_kg": 600.0}
    given = {"secondary_kg": [100, 200], "secondary_wet_n": [572, 1144]}
    spared = 1 - snatch_yielding(1.0, **given, **line) / snatch_fixed(1.0, **line)
    assert spared == pytest.approx([0.60, 0.465], abs=5e-3)


@given(st.floats(0.05, 3), st.floats(0.1, 10))
def test_units_do_not_matter(v, scale):
    # kg and N by a factor, m and s as they are
    given = {
        "stiffness_n_m": 2e4,
        "mass_kg": 600.0,
        "secondary_kg": 150.0,
        "secondary_wet_n": 858.0,
    }
    more = {name: scale * value for name, value in given.items()}
    once = float(snatch_yielding(v, **given))
    assert float(snatch_yielding(v, **more)) == pytest.approx(scale * once)


@given(st.floats(0.01, 2), st.floats(1.001, 3))
def test_more_speed_stiffness_mass_or_pull_never_snatches_less(v, more):
    base = {"stiffness_n_m": 2e4, "mass_kg": 600.0, "pull_n": 300.0}
    once = snatch_fixed(v, **base)
    assert snatch_fixed(v * more, **base) > once
    for name, value in base.items():
        assert snatch_fixed(v, **base | {name: more * value}) > once


def test_branches_meet_where_the_secondary_begins_to_stir():
    line = {"stiffness_n_m": 2e4, "mass_kg": 600.0, "secondary_kg": 150.0}
    edge = np.sqrt(2e4 * 600.0)
    near = snatch_yielding([1 - 1e-9, 1 + 1e-9], secondary_wet_n=edge, **line)
    assert near == pytest.approx([edge, edge], rel=1e-6)


def test_shapes_broadcast():
    found = snatch_yielding(
        np.ones((3, 1)), stiffness_n_m=np.full(4, 2e4), mass_kg=600, secondary_kg=150, secondary_wet_n=858
    )  # fmt: skip
    assert found.shape == (3, 4)
    assert found == pytest.approx(2197.10, abs=0.006)
    assert snatch_fixed([0.5, 1.0], stiffness_n_m=2e4, mass_kg=600).shape == (2,)


def test_zeros():
    still = {"stiffness_n_m": 2e4, "mass_kg": 600.0}
    assert float(snatch_fixed(0.0, **still)) == 0
    assert float(snatch_fixed(1.0, stiffness_n_m=0.0, mass_kg=600.0)) == 0  # nothing to hold it
    gone = {"secondary_kg": 0.0, "secondary_wet_n": 0.0}
    assert float(snatch_yielding(1.0, **gone, **still)) == 0  # nothing at the other end
    assert float(snatch_yielding(0.0, **gone, **still)) == 0
    nothing = {"stiffness_n_m": 0.0, "mass_kg": 0.0}
    assert float(snatch_yielding(0.0, **gone, **nothing)) == 0
    assert take_up_speed([0.3, 0.0, 0.3], period_s=[1.8, 0.0, 0.0]).tolist()[1:] == [0.0, 0.0]


def test_what_is_not_known_stays_so():
    line = {"stiffness_n_m": [2e4, np.nan], "mass_kg": 600.0}
    assert np.isnan(snatch_fixed(1.0, **line)).tolist() == [False, True]
    found = snatch_yielding(1.0, secondary_kg=150.0, secondary_wet_n=858.0, **line)
    assert np.isnan(found).tolist() == [False, True]
    assert np.isnan(take_up_speed([np.nan, 0.3], period_s=[2.0, np.nan])).all()


@pytest.mark.parametrize(
    ("name", "value"),
    [("stiffness_n_m", -1.0), ("mass_kg", -2.0), ("secondary_kg", -3.0), ("secondary_wet_n", -4.0)],
)
def test_below_nothing_is_refused_with_the_number(name, value):
    given = {
        "stiffness_n_m": 2e4,
        "mass_kg": 600.0,
        "secondary_kg": 150.0,
        "secondary_wet_n": 858.0,
    }
    with pytest.raises(RangeError, match=f"{value:g}"):
        snatch_yielding(1.0, **given | {name: value})


def test_every_wrong_element_is_named():
    with pytest.raises(RangeError, match=r"(?s)\[1\].*-2.*\[3\].*-5"):
        snatch_fixed([1.0, -2.0, 1.0, -5.0], stiffness_n_m=2e4, mass_kg=600.0)


def test_stiffness_of_the_parts():
    # 3 m of 10 mm chain, EA 8.42 MN: some 2.8 MN/m; 2 m of doubled 3/8 in cable: 3.9 MN/m
    chain = float(line_stiffness(np.inf, absorber_m=0.0, chain_ea_n=8.42e6, chain_m=3.0))
    assert chain == pytest.approx(8.42e6 / 3)
    cable = float(line_stiffness(2 * 3.86e6, absorber_m=2.0, chain_ea_n=8.42e6, chain_m=0.0))
    assert cable == pytest.approx(3.86e6)
    both = float(line_stiffness(2 * 3.86e6, absorber_m=2.0, chain_ea_n=8.42e6, chain_m=3.0))
    assert both == pytest.approx(float(series_stiffness(chain, cable)))
    assert both < min(chain, cable)
    assert float(series_stiffness(np.inf, np.inf)) == np.inf


def test_inertia_of_a_sphere_is_exact():
    # added mass of a sphere in open water is half of the water it displaces, exactly
    assert float(secondary_inertia(10.0, volume_m3=4 / 3 * np.pi * 0.1**3)) == pytest.approx(
        10 + 2 / 3 * np.pi
    )


@pytest.mark.parametrize("formula", FORMULAS)
def test_formulas_are_their_functions(formula):
    given = dict.fromkeys(formula.terms, 2.0)
    step = formula(**given)
    assert np.isfinite(step.value)
    assert step.formula.source
    assert set(step.given) == set(formula.terms)


def test_snatches_call_themselves_bounds():
    for formula in (TAKE_UP_SPEED, SNATCH, SNATCH_FIXED):
        assert "bound" in formula.source


def test_a_rigid_line_jerks_nothing_that_stands_still():
    rigid = {"stiffness_n_m": np.inf, "mass_kg": 600.0}
    second = {"secondary_kg": 150.0, "secondary_wet_n": 858.0}
    assert float(snatch_fixed(0.0, pull_n=100.0, **rigid)) == 200
    assert float(snatch_yielding(0.0, **second, **rigid)) == 0
    assert float(snatch_yielding(0.1, **second, **rigid)) == np.inf
