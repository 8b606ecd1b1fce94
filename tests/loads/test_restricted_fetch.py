"""Fetches of narrow lakes: against a search degree by degree, and what lies outside."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lakemap.basis.errors import RangeError
from lakemap.loads.restricted_fetch import (
    RESTRICTED_HEIGHT,
    RESTRICTED_PERIOD,
    averaged_fetch,
    restricted_duration,
    restricted_duration_height,
    restricted_fetch,
    restricted_wave,
)

ALL_ROUND = np.arange(0, 360, 5.0)


def search(rays, bearings, wind):
    """Degree by degree, each with its fifteen values looked up on the closed circle."""
    best = (-1.0, 0.0, 0)
    for theta in range(360):
        cosine = np.cos(np.radians(theta - wind))
        if cosine <= 0:
            continue
        values = [
            np.interp((theta + off) % 360, [*bearings, 360.0], [*rays, rays[0]])
            for off in range(-7, 8)
        ]
        mean = sum(values) / 15
        best = max(best, (cosine**0.44 * mean**0.28, mean, theta))
    return best


@settings(max_examples=25)
@given(st.integers(0, 2**32 - 1), st.floats(-720, 720))
def test_all_round_rays_against_a_search(seed, wind):
    rays = np.random.default_rng(seed).uniform(100, 5000, len(ALL_ROUND))
    found = restricted_fetch(rays, bearings_deg=ALL_ROUND, wind_from_deg=wind)
    strength, mean, theta = search(rays, ALL_ROUND, wind)
    mine = np.cos(np.radians(found.off_wind_deg)) ** 0.44 * found.fetch_m**0.28
    assert float(mine) == pytest.approx(strength)
    assert float(found.fetch_m) == pytest.approx(mean)
    assert float(found.from_deg) == theta


@settings(max_examples=25)
@given(st.integers(0, 2**32 - 1), st.integers(0, 359))
def test_turning_lake_and_wind_turns_the_waves(seed, turn):
    rays = np.random.default_rng(seed).uniform(100, 5000, len(ALL_ROUND))
    before = restricted_fetch(rays, bearings_deg=ALL_ROUND, wind_from_deg=40)
    after = restricted_fetch(rays, bearings_deg=ALL_ROUND + turn, wind_from_deg=40 + turn)
    assert float(after.fetch_m) == pytest.approx(float(before.fetch_m))
    assert float(after.off_wind_deg) == pytest.approx(float(before.off_wind_deg))
    assert float(after.from_deg) == (float(before.from_deg) + turn) % 360


def test_a_ray_at_360_is_the_one_at_0():
    rays = np.random.default_rng(3).uniform(100, 5000, len(ALL_ROUND))
    closed = restricted_fetch([*rays, rays[0]], bearings_deg=[*ALL_ROUND, 360.0], wind_from_deg=355)
    plain = restricted_fetch(rays, bearings_deg=ALL_ROUND, wind_from_deg=355)
    assert closed == plain


def test_many_floats_at_once():
    rays = np.random.default_rng(1).uniform(100, 5000, (20, len(ALL_ROUND)))
    found = restricted_fetch(rays, bearings_deg=ALL_ROUND, wind_from_deg=10)
    for k in range(20):
        one = restricted_fetch(rays[k], bearings_deg=ALL_ROUND, wind_from_deg=10)
        assert float(found.fetch_m[k]) == pytest.approx(float(one.fetch_m))
        assert found.from_deg[k] == one.from_deg
    means = averaged_fetch(rays[:, :3], off_wind_deg=[-6, 0, 6])
    by_hand = (0.994521895 * (rays[:, 0] + rays[:, 2]) + rays[:, 1]) / (2 * 0.994521895 + 1)
    assert means == pytest.approx(by_hand)


def test_a_round_lake_sends_its_waves_down_the_wind():
    found = restricted_fetch(
        np.full(len(ALL_ROUND), 900.0), bearings_deg=ALL_ROUND, wind_from_deg=0
    )
    assert (float(found.fetch_m), float(found.from_deg), float(found.off_wind_deg)) == (900, 0, 0)


def test_waves_follow_the_long_arm_of_a_bent_lake():
    rays = np.where(np.abs(ALL_ROUND - 90) <= 20, 8000.0, 600.0)
    found = restricted_fetch(rays, bearings_deg=ALL_ROUND, wind_from_deg=45)
    assert 70 <= float(found.from_deg) < 90
    assert float(found.off_wind_deg) == float(found.from_deg) - 45


@given(st.floats(3, 60), st.floats(10, 50e3), st.floats(-80, 80))
def test_wave_laws_are_plain_powers(stress, fetch, off):
    sea = restricted_wave(stress, fetch, off_wind_deg=off)
    longer = restricted_wave(stress, 4 * fetch, off_wind_deg=off)
    assert float(longer.height_m / sea.height_m) == pytest.approx(2)
    assert float(longer.period_s / sea.period_s) == pytest.approx(4**0.28)
    aligned = restricted_wave(stress * np.cos(np.radians(off)), fetch, off_wind_deg=0)
    assert float(aligned.height_m) == pytest.approx(float(sea.height_m))
    # the height that the least duration allows is near the one that the fetch allows: two fits
    # to the same data, laws of fetch and duration
    lasts = restricted_duration(stress, fetch, off_wind_deg=off)
    blown = restricted_duration_height(stress, duration_s=lasts, off_wind_deg=off)
    assert float(blown) == pytest.approx(float(sea.height_m), rel=0.15)


def test_height_after_four_hours_by_hand():
    # H = 0.000103 (U^2/g)(gt/U)^0.69 at U 20 m/s, 4 h: gt/U = 7060.788, to the power 452.68
    assert float(
        restricted_duration_height(20, duration_s=14_400, off_wind_deg=0)
    ) == pytest.approx(0.000103 * 400 / 9.80665 * np.exp(0.69 * np.log(7060.788)), rel=1e-6)


def test_formulas_tell_what_the_functions_give():
    given_ = {"stress_m_s": 28.0, "fetch_m": 4000.0, "off_wind_deg": 30.0}
    sea = restricted_wave(**given_)
    assert float(RESTRICTED_HEIGHT(**given_).value) == float(sea.height_m)
    assert float(RESTRICTED_PERIOD(**given_).value) == float(sea.period_s)
    assert RESTRICTED_HEIGHT.key != RESTRICTED_PERIOD.key


def test_no_wind_no_fetch_no_wave():
    sea = restricted_wave([0.0, 20.0], [500.0, 0.0], off_wind_deg=0)
    assert sea.height_m.tolist() == [0, 0]
    assert sea.period_s.tolist() == [0, 0]
    assert np.isinf(restricted_duration(0.0, 500.0, off_wind_deg=0))


def test_what_lies_outside_is_named():
    with pytest.raises(RangeError, match=r"(?s)\[1\] -2 stress.*Smith"):
        restricted_wave([5, -2], 500, off_wind_deg=0)
    with pytest.raises(RangeError, match=r"\[0\] 90 deg between wind and waves"):
        restricted_wave(5, 500, off_wind_deg=[90, 10])
    with pytest.raises(RangeError, match=r"\[1\] nan ray"):
        restricted_fetch([5, np.nan], bearings_deg=[0, 30], wind_from_deg=10)
    with pytest.raises(RangeError, match="rising bearings within one turn"):
        restricted_fetch([5, 5, 5], bearings_deg=[0, 30, 20], wind_from_deg=10)
    with pytest.raises(RangeError, match="rising bearings within one turn"):
        restricted_fetch([5, 5, 5], bearings_deg=[0, 30, 370], wind_from_deg=10)
    with pytest.raises(RangeError, match="no rays about the wind from 200 degrees"):
        restricted_fetch([1, 2, 3], bearings_deg=[0, 20, 40], wind_from_deg=200)
    with pytest.raises(RangeError, match="no rays about the wind"):
        restricted_fetch([1, 2, 3], bearings_deg=[0, 3, 6], wind_from_deg=3)
    with pytest.raises(RangeError, match=r"\[0\] -1 ray"):
        averaged_fetch([-1, 2], off_wind_deg=[0, 6])
    with pytest.raises(RangeError, match=r"\[1\] 95 deg off the wind"):
        averaged_fetch([1, 2], off_wind_deg=[0, 95])
