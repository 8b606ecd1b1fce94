"""Each formula of the sea: its law, the public function, and its own words reckoned by hand."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lakemap.basis.working import Formula
from lakemap.loads import growth_formulas
from lakemap.loads.growth_formulas import (
    DESIGN_HEIGHT,
    LEAST_DURATION,
    OTHER_HEIGHTS,
    SEA_HEIGHT,
    SEA_PERIOD,
    WAKE_HEIGHT,
    WIND_STRESS,
)
from lakemap.loads.wake_pattern import steepness
from lakemap.loads.wakes import wake_height
from lakemap.loads.wave_heights import design_height
from lakemap.loads.waves import MODELS, least_duration, wind_stress_speed, wind_wave

G, FOOT = 9.80665, 0.3048
WIND, FETCH, DEPTH = np.array([0.0, 15.0, 22.352, 35.0]), 1609.344, 6.096
SEA = {"wind_m_s": WIND, "fetch_m": FETCH, "depth_m": DEPTH}
WAVE = {"height_m": [0.0, 0.64, 0.64], "period_s": [0.0, 2.25, 3.5], "depth_m": [5.0, 6.0, 0.8]}
WAKE = {"distance_m": [15.24, 60.0, 300.0], "height_m": 0.6096, "at_m": 30.48}
# formula, what it takes, what the public function gives for the same
CASES = {
    "wind_stress": (WIND_STRESS, {"wind_m_s": WIND}, wind_stress_speed(WIND)),
    "wave_height": (SEA_HEIGHT, SEA, wind_wave(WIND, FETCH, DEPTH).height_m),
    "wave_period": (SEA_PERIOD, SEA, wind_wave(WIND, FETCH, DEPTH).period_s),
    "least_duration": (
        LEAST_DURATION,
        {"wind_m_s": WIND[1:], "fetch_m": FETCH},
        least_duration(WIND[1:], FETCH),
    ),
    "highest_wave": (DESIGN_HEIGHT, WAVE, design_height(*WAVE.values())),
    "wake_height": (
        WAKE_HEIGHT,
        WAKE,
        wake_height(WAKE["distance_m"], height_m=0.6096, at_m=30.48),
    ),
}
OTHERS = dict(
    zip(("spm-garratt", "young-verhagen", "breugem-holthuijsen"), OTHER_HEIGHTS, strict=True)
)


@pytest.mark.parametrize("key", CASES)
def test_law_is_the_public_function(key):
    formula, given_, public = CASES[key]
    assert formula.key == key
    step = formula(**given_)
    assert step.value == pytest.approx(public)
    assert formula.law(**step.given) == pytest.approx(step.value)
    told = formula.told(public, **given_)
    assert told.value == pytest.approx(step.value)
    assert (told.inside == step.inside).all()


@pytest.mark.parametrize("method", OTHERS)
def test_laws_beside_are_the_public_models(method):
    formula = OTHERS[method]
    step = formula(**SEA)
    assert formula.key == f"wave_height_{method.replace('-', '_')}"
    assert step.value == pytest.approx(wind_wave(WIND, FETCH, DEPTH, method=method).height_m)
    assert formula.source == MODELS[method].source
    assert formula.law(**step.given) == pytest.approx(step.value)


def test_every_formula_of_the_module_is_tested_here():
    found = {one.key for one in vars(growth_formulas).values() if isinstance(one, Formula)}
    assert found == set(CASES)
    assert len({one.key for one in OTHER_HEIGHTS} | found) == len(found) + len(OTHER_HEIGHTS)


@given(st.floats(5, 35), st.floats(20, 20_000), st.floats(0.5, 50))
def test_the_words_of_the_sea_reckoned_by_hand(wind, fetch, depth):
    # the words of both formulas, typed again with a number for each sign
    stress = 0.71 * wind**1.23
    a = np.tanh(0.530 * (G * depth / stress**2) ** 0.75)
    b = np.tanh(0.833 * (G * depth / stress**2) ** 0.375)
    height = 0.283 * stress**2 / G * a * np.tanh(0.00565 * (G * fetch / stress**2) ** 0.5 / a)
    period = 7.54 * stress / G * b * np.tanh(0.0379 * (G * fetch / stress**2) ** (1 / 3) / b)
    given_ = {"wind_m_s": wind, "fetch_m": fetch, "depth_m": depth}
    assert float(WIND_STRESS(wind_m_s=wind).value) == pytest.approx(stress)
    assert float(SEA_HEIGHT(**given_).value) == pytest.approx(height, rel=1e-9)
    assert float(SEA_PERIOD(**given_).value) == pytest.approx(period, rel=1e-9)
    lasts = 68.8 * stress / G * (G * fetch / stress**2) ** (2 / 3)
    assert float(LEAST_DURATION(wind_m_s=wind, fetch_m=fetch).value) == pytest.approx(lasts)


@pytest.mark.parametrize("number", ["0.283", "0.00565", "0.530", "0.71", "1.23"])
def test_words_of_the_height_name_its_numbers(number):
    assert number in SEA_HEIGHT.words


@pytest.mark.parametrize("number", ["7.54", "0.0379", "0.833", "0.71", "1.23"])
def test_words_of_the_period_name_its_numbers(number):
    assert number in SEA_PERIOD.words


def test_no_wind_needs_no_time():
    found = LEAST_DURATION(wind_m_s=[0.0, 20.0], fetch_m=[500.0, 500.0]).value
    assert found[0] == 0
    assert found[1] > 0


@pytest.mark.parametrize("formula", [SEA_HEIGHT, SEA_PERIOD, *OTHER_HEIGHTS])
def test_a_small_lake_in_a_storm_is_said_to_lie_outside(formula):
    # g F/U^2 of 100: at 20 m/s that is 4079 m
    metres = 100 * 20**2 / G
    assert metres == pytest.approx(4079, abs=0.5)
    given_ = {"wind_m_s": 20.0, "depth_m": 6.0}
    step = formula(fetch_m=[500.0, metres * 0.999, metres * 1.001, 50_000.0], **given_)
    assert step.inside.tolist() == [False, False, True, True]
    assert "extrapolation" in formula.valid


def test_the_highest_wave_by_its_words():
    # min(1.8585 H; 0.142 L tanh kd with L at 1.3 T; 0.78 d), each ruling once
    plain = DESIGN_HEIGHT(height_m=0.5, period_s=2.5, depth_m=20.0)
    assert float(plain.value) == pytest.approx(1.8585 * 0.5, abs=5e-5)
    steep = DESIGN_HEIGHT(height_m=0.5, period_s=0.8, depth_m=20.0)
    assert float(steep.value) == pytest.approx(0.142 * G * (1.3 * 0.8) ** 2 / (2 * np.pi))
    assert float(steepness(steep.value, period_s=1.3 * 0.8)) == pytest.approx(0.142)
    shoal = DESIGN_HEIGHT(height_m=0.5, period_s=6.0, depth_m=1.0)
    assert float(shoal.value) == pytest.approx(0.78)
    for number in ("1.8585", "0.142", "1.3 T", "0.78 d"):
        assert number in DESIGN_HEIGHT.words


def test_the_wake_says_where_it_holds():
    # from 50 ft on, or from where it was seen if that is nearer
    feet = np.array([40.0, 50.0, 100.0, 400.0]) * FOOT
    seen_far = WAKE_HEIGHT(distance_m=feet, height_m=0.6, at_m=100 * FOOT)
    assert seen_far.inside.tolist() == [False, True, True, True]
    assert seen_far.value[-1] == pytest.approx(0.6 * 4 ** (-1 / 3))
    seen_near = WAKE_HEIGHT(distance_m=feet, height_m=0.6, at_m=40 * FOOT)
    assert seen_near.inside.all()
    # floats may each have their own wake
    apart = WAKE_HEIGHT(distance_m=[20.0, 40.0], height_m=[0.3, 0.6], at_m=[20.0, 40.0])
    assert apart.value.tolist() == [0.3, 0.6]


@pytest.mark.parametrize("key", CASES)
def test_each_formula_names_its_source_and_units(key):
    formula = CASES[key][0]
    assert formula.source
    assert formula.unit in {"m", "s", "m/s"}
    assert formula.words.startswith(f"{formula.symbol} = ")
    assert all(term.name and term.symbol for term in formula.terms.values())
