"""How a lake stood over time: against paper, and against levels taken hour by hour."""

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lakemap.basis.errors import RangeError
from lakemap.lake.gauge import (
    Gap,
    Reading,
    Readings,
    highest_of,
    longest_gap,
    lowest_of,
    readings_of,
    runs_of,
    years_read,
)
from lakemap.lake.gauge_time import covered_days, levels_stood, likely_slips, usual_interval

START = date(2020, 5, 1)
SHARES = [0.0, 0.02, 0.1, 0.5, 0.77, 0.98, 1.0]


def read(*pairs):
    """Readings from (days after the start, level)."""
    days, levels = zip(*pairs, strict=True)
    return readings_of([START + timedelta(days=d) for d in days], levels)


def test_two_readings_on_paper():
    # 10 days straight from 0 to 1; the ends stand for 5 days each: 20 days in all
    found = read((0, 0.0), (10, 1.0))
    assert covered_days(found) == pytest.approx(20)
    shares = [0, 0.1, 0.25, 0.375, 0.5, 0.7, 0.75, 0.9, 1]
    want = [0, 0, 0, 0.25, 0.5, 0.9, 1, 1, 1]
    assert levels_stood(found, shares) == pytest.approx(want, abs=1e-12)


def test_a_reading_counts_for_its_time_and_not_once():
    # a wet week read daily does not outweigh the dry weeks read once: 42 of 50 days stand at 0
    wet = [(50 + k, 2.0) for k in range(8)]
    found = read((0, 0.0), (42, 0.0), *wet)
    plain = np.median([0.0, 0.0] + [2.0] * 8)
    assert plain == 2.0
    assert levels_stood(found, [0.5]) == pytest.approx([0.0])


def test_a_winter_counts_for_nothing():
    # 30 days at 1, then 200 days nobody looked, then 10 days at 0; ends stand for 5 days a side
    found = read((0, 1.0), (10, 1.0), (20, 1.0), (30, 1.0), (230, 0.0), (240, 0.0))
    assert covered_days(found) == pytest.approx(30 + 10 + 10 + 10)
    assert levels_stood(found, [0.33, 0.34]) == pytest.approx([0.0, 1.0])  # 20 of 60 days at 0


def test_a_gap_is_one_only_past_sixty_days():
    assert len(runs_of(read((0, 1.0), (60, 2.0)))) == 1
    assert runs_of(read((0, 1.0), (61, 2.0), (70, 3.0))) == (slice(0, 1), slice(1, 3))


def test_readings_once_a_year_count_alike():
    found = read((0, 3.0), (365, 1.0), (731, 2.0))
    assert usual_interval(found) == 60.0
    assert levels_stood(found, [0.3, 0.5, 0.7]) == pytest.approx([1.0, 2.0, 3.0])


@pytest.mark.parametrize("pairs", [[(0, -0.4)], [(0, -0.4), (0, -0.4)]])
def test_one_day_alone(pairs):
    found = read(*pairs)
    assert levels_stood(found, SHARES) == pytest.approx([-0.4] * len(SHARES))
    assert longest_gap(found) is None


def hour_by_hour(found: Readings):
    """Levels at the middle of every hour that the readings stand for: the plain way."""
    day, level = found.day.astype(float), found.level_m
    gaps = np.diff(day)
    half = min(np.median(gaps[gaps > 0]), 60.0) / 2
    taken, hour = [], 1 / 24
    for k in range(len(day)):
        if k == 0 or gaps[k - 1] > 60:
            taken += [level[k]] * round(half / hour)
        if k == len(day) - 1 or gaps[k] > 60:
            taken += [level[k]] * round(half / hour)
        else:
            times = np.arange(day[k] + hour / 2, day[k + 1], hour)
            taken += np.interp(times, day, level).tolist()
    return np.array(taken)


@pytest.mark.parametrize("seed", range(6))
def test_against_levels_taken_hour_by_hour(seed):
    rng = np.random.default_rng(seed)
    days = np.cumsum(rng.choice([1, 2, 5, 7, 7, 14, 30, 59, 61, 180], 70))
    level = np.round(np.cumsum(rng.normal(0, 0.1, 70)), 1)
    found = read(*zip(days.tolist(), level.tolist(), strict=True))
    plain = hour_by_hour(found)
    assert covered_days(found) == pytest.approx(len(plain) / 24, rel=1e-9)
    shares = [0.01, 0.02, 0.1, 0.5, 0.9, 0.98, 0.99]
    for share, got in zip(shares, levels_stood(found, shares), strict=True):
        # no more of the hours lie below than asked, and no fewer at or below
        assert np.mean(plain < got - 2e-3) <= share + 1e-3
        assert np.mean(plain <= got + 2e-3) >= share - 1e-3
        assert got == pytest.approx(np.quantile(plain, share), abs=0.01)


LEVEL = st.integers(-30, 30).map(lambda tenth: tenth / 10 * 0.3048)
SERIES = st.lists(st.tuples(st.integers(0, 900), LEVEL), min_size=1, max_size=30)


@given(pairs=SERIES, shift=LEVEL)
def test_levels_rise_with_the_share_between_the_extremes_and_move_with_the_gauge(pairs, shift):
    found = read(*pairs)
    got = levels_stood(found, SHARES)
    assert (np.diff(got) >= -1e-9).all()
    assert got[0] == lowest_of(found).level_m
    assert got[-1] == pytest.approx(highest_of(found).level_m, abs=1e-9)
    moved = read(*[(day, level + shift) for day, level in pairs])
    assert levels_stood(moved, SHARES) == pytest.approx(got + shift, abs=1e-6)


def test_what_cannot_be_is_refused():
    with pytest.raises(RangeError, match="one reading or more"):
        readings_of([], [])
    with pytest.raises(RangeError, match="finite"):
        readings_of([START], [float("nan")])
    with pytest.raises(RangeError, match=r"from 0 to 1, not \[1\.5\]"):
        levels_stood(read((0, 1.0)), [1.5])


def test_years_gaps_and_extremes_in_any_order():
    found = readings_of(
        [date(2021, 9, 12), date(2020, 6, 1), date(2020, 8, 1), date(2021, 5, 1)],
        [-0.5, 0.1, -0.3, 0.4],
    )
    first, second = years_read(found)
    assert (first.year, first.count) == (2020, 2)
    assert first.lowest == Reading(on=date(2020, 8, 1), level_m=-0.3)
    assert second.highest == Reading(on=date(2021, 5, 1), level_m=0.4)
    assert lowest_of(found).on == date(2021, 9, 12)
    gap = longest_gap(found)
    assert gap == Gap(days=273, start=date(2020, 8, 1), end=date(2021, 5, 1))


def test_a_slip_of_the_pen_sticks_out_and_a_drawdown_does_not():
    weeks = [(7 * k, 0.1 * (-1) ** k) for k in range(20)]
    assert likely_slips(read(*weeks)).size == 0
    assert likely_slips(read(*weeks[:9], (60, -4.5), *weeks[9:])).tolist() == [9]
    assert likely_slips(read((0, -4.5), *[(7 + d, v) for d, v in weeks])).tolist() == [0]
    drawn = [(140, -1.0), (147, -2.0), (154, -2.0), (161, -1.0)]
    assert likely_slips(read(*weeks, *drawn)).size == 0
