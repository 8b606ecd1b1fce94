"""Records of wind as they come: gaps, other steps, no bearings; and Gumbel's law by simulation."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import gumbel_r

from lakemap.basis.errors import RangeError
from lakemap.loads.return_wind import RETURN_WIND, gumbel_error, gumbel_wind, return_wind


def steady(time, speed=4.0, bearing=270.0):
    return np.full(len(time), speed), np.full(len(time), bearing)


def hours(start="2018-01", end="2022-01"):
    return np.arange(start, end, dtype="datetime64[h]")


@given(st.floats(5, 25), st.floats(0.5, 6), st.floats(1, 200))
def test_the_law_is_a_quantile_of_gumbel(mean, spread, years):
    # moments to parameters as usual: scale = s sqrt(6)/pi, location = mean - 0.5772 scale
    scale = spread * np.sqrt(6) / np.pi
    quantile = gumbel_r.ppf(1 - 1 / (12 * years), loc=mean - np.euler_gamma * scale, scale=scale)
    found = float(gumbel_wind(mean, spread_m_s=spread, years=years))
    # the printed law writes ln T for -ln(-ln(1 - 1/T)) and rounds its constants
    assert found == pytest.approx(quantile, abs=0.05 * spread + 0.002 * years**0.5)


def test_the_error_is_the_scatter_of_many_records():
    # 36 months drawn 20,000 times from one Gumbel law: scatter of the fitted 25-year wind
    rng = np.random.default_rng(1)
    draws = rng.gumbel(12.0, 2.5, (20_000, 36))
    fitted = gumbel_wind(draws.mean(axis=1), spread_m_s=draws.std(axis=1, ddof=1), years=25)
    told = gumbel_error(2.5 * np.pi / np.sqrt(6), years=25, months=36)
    assert float(told) == pytest.approx(fitted.std(), rel=0.04)
    # the mean wind in place of the return period would tell less, whatever the period
    wrong = gumbel_error(2.5 * np.pi / np.sqrt(6), years=2.0, months=36)
    assert float(wrong) < 0.8 * fitted.std()


def test_longer_records_are_surer():
    found = gumbel_error(4.0, years=25, months=[36, 144])
    assert found[0] == pytest.approx(2 * found[1])


def test_the_formula_tells_what_the_function_gives():
    step = RETURN_WIND(mean_m_s=17.5, spread_m_s=3.32, years=25)
    assert float(step.value) == float(gumbel_wind(17.5, spread_m_s=3.32, years=25))


def test_months_may_stand_apart_and_out_of_order():
    # ten years with only the warm half of each: 60 whole months
    time = hours("2010-01", "2020-01")
    month = time.astype("datetime64[M]").astype(int) % 12
    time = time[(month >= 3) & (month <= 8)]
    time = np.random.default_rng(2).permutation(time)
    speed, bearing = steady(time)
    found = return_wind(time, speed_m_s=speed, from_deg=bearing, years=25)
    assert (found.months, found.left_out) == (60, 0)


def test_gaps_are_counted_by_the_month():
    time = hours()
    rng = np.random.default_rng(3)
    month = time.astype("datetime64[M]")
    some = rng.uniform(size=len(time)) < np.where(month == np.datetime64("2019-07"), 0.6, 0.85)
    speed, bearing = steady(time)
    speed[~some] = np.nan
    found = return_wind(time, speed_m_s=speed, from_deg=bearing, years=25)
    assert (found.months, found.left_out) == (47, 1)


@pytest.mark.parametrize("step", [3, 6])
def test_a_record_of_every_third_or_sixth_hour_is_whole(step):
    time = hours()[::step]
    speed, bearing = steady(time)
    found = return_wind(time, speed_m_s=speed, from_deg=bearing, years=25)
    assert (found.months, found.left_out) == (48, 0)


def test_a_record_that_grew_denser_keeps_its_early_months():
    early = hours("2018-01", "2020-01")
    late = np.arange("2020-01", "2022-01", 10, dtype="datetime64[m]")
    time = np.concatenate([early.astype("datetime64[m]"), late])
    speed, bearing = steady(time)
    found = return_wind(time, speed_m_s=speed, from_deg=bearing, years=25)
    assert (found.months, found.left_out) == (48, 0)


def test_rows_twice_do_not_make_a_month_whole():
    time = hours()
    month = time.astype("datetime64[M]")
    thin = (month == np.datetime64("2019-07")) & (np.arange(len(time)) % 2 == 1)
    time = time[~thin]
    twice = time[time.astype("datetime64[M]") == np.datetime64("2019-07")]
    time = np.concatenate([time, twice])
    speed, bearing = steady(time)
    found = return_wind(time, speed_m_s=speed, from_deg=bearing, years=25)
    assert (found.months, found.left_out) == (47, 1)


def test_a_row_without_a_bearing_counts_for_all_directions_only():
    time = hours()
    speed, bearing = steady(time)
    blow = np.flatnonzero(np.diff(time.astype("datetime64[M]").astype(int), prepend=0))
    speed[blow] = 15.0 + np.arange(len(blow)) % 3
    bearing[blow] = [np.nan, np.inf] * (len(blow) // 2)
    found = return_wind(time, speed_m_s=speed, from_deg=bearing, years=25)
    # 15, 16, 17 in turn: mean 16, spread sqrt(2/3 * 48/47)
    expected = 16 + 0.78 * np.sqrt(2 / 3 * 48 / 47) * (np.log(300) - 0.577)
    assert found.speed_m_s == pytest.approx(expected)
    assert found.sector_speed_m_s[12] == pytest.approx(4.0)
    assert np.isnan(np.delete(found.sector_speed_m_s, 12)).all()


def test_sectors_stand_about_their_bearings():
    time = hours()
    speed, _ = steady(time)
    turn = np.tile([348.8, 11.3, -11.2, 731.0], len(time) // 4)
    found = return_wind(time, speed_m_s=speed, from_deg=turn, years=25)
    assert found.sector_from_deg.tolist() == [22.5 * k for k in range(16)]
    assert np.flatnonzero(np.isfinite(found.sector_speed_m_s)).tolist() == [0, 1]
    assert found.sector_speed_m_s[:2] == pytest.approx([4.0, 4.0])


def test_a_time_that_is_none_is_left_out():
    time = hours()
    speed, bearing = steady(time)
    speed[100], time[100] = 99.0, np.datetime64("NaT")
    found = return_wind(time, speed_m_s=speed, from_deg=bearing, years=25)
    assert found.speed_m_s == pytest.approx(4.0)


def test_what_lies_outside_is_named():
    time = hours()
    speed, bearing = steady(time)
    with pytest.raises(RangeError, match=r"return period \[0\] 0\.05 years"):
        return_wind(time, speed_m_s=speed, from_deg=bearing, years=0.05)
    with pytest.raises(RangeError, match=r"\[1\] -1 years"):
        gumbel_error(3.0, years=[25, -1], months=36)
    with pytest.raises(RangeError, match="3 times, 2 winds, 3 bearings"):
        return_wind(time[:3], speed_m_s=[1, 2], from_deg=[1, 2, 3], years=25)
    speed[[7, 9]] = -1.0
    with pytest.raises(RangeError, match=r"(?s)\[7\] -1 m/s.*\[9\] -1 m/s"):
        return_wind(time, speed_m_s=speed, from_deg=bearing, years=25)
    with pytest.raises(RangeError, match="the record has 0 months"):
        return_wind(time[:0], speed_m_s=[], from_deg=[], years=25)


@pytest.mark.parametrize(("months", "known"), [(24, False), (35, False), (36, True), (48, True)])
def test_a_sector_needs_wind_in_three_months_of_four(months, known):
    time = hours()
    speed, bearing = steady(time)
    month = time.astype("datetime64[M]").astype(int)
    first = np.flatnonzero(np.diff(month, prepend=0))
    bearing[first[:months]] = 90.0
    found = return_wind(time, speed_m_s=speed, from_deg=bearing, years=25)
    assert np.isfinite(found.sector_speed_m_s[4]) == known
