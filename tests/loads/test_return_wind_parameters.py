"""Months drawn from a known Gumbel law give that law back, all round and by sector."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import gumbel_r

from lakemap.loads.return_wind import return_wind


def months_of(blows, bearing_deg, *, calm_m_s=1.0):
    """Three-hourly wind, calm from the south, with one blow on a day of each month."""
    start = np.datetime64("1980-01")
    time = np.arange(start, start + len(blows), dtype="datetime64[M]")
    time = np.arange(time[0], time[-1] + 1, np.timedelta64(3, "h"), dtype="datetime64[h]")
    speed, bearing = np.full(len(time), calm_m_s), np.full(len(time), 180.0)
    month = time.astype("datetime64[M]").astype(int)
    at = np.flatnonzero(np.diff(month, prepend=-1_000_000)) + 77
    speed[at], bearing[at] = blows, bearing_deg
    return time, speed, bearing


def evenly(place, scale, count, rng):
    """Gumbel quantiles at the middles of equal shares, shuffled: a sample without luck."""
    blows = gumbel_r.ppf((np.arange(count) + 0.5) / count, loc=place, scale=scale)
    return rng.permutation(blows)


@settings(max_examples=15)
@given(st.floats(10, 18), st.floats(0.8, 2.5), st.integers(0, 15), st.integers(0, 2**32 - 1))
def test_the_parameters_come_back(place, scale, sector, seed):
    blows = evenly(place, scale, 480, np.random.default_rng(seed))
    time, speed, bearing = months_of(blows, 22.5 * sector)
    found = {
        years: return_wind(time, speed_m_s=speed, from_deg=bearing, years=years)
        for years in (10, 100)
    }
    ten, hundred = (found[years].speed_m_s for years in (10, 100))
    # exact quantiles of the law that the months were taken from
    exact = gumbel_r.ppf(1 - 1 / (12 * np.array([10, 100])), loc=place, scale=scale)
    assert [ten, hundred] == pytest.approx(exact, rel=0.01)
    # two quantiles fix the two parameters, for the wind runs straight with ln(12 r)
    back = (hundred - ten) / np.log(10)
    assert back == pytest.approx(scale, rel=0.02)
    assert ten - back * np.log(120) == pytest.approx(place, abs=0.1 * scale)
    aimed = found[10].sector_speed_m_s
    assert aimed[sector] == pytest.approx(ten)
    if sector != 8:
        # a steady wind has no spread: every return period gives that wind
        assert aimed[8] == pytest.approx(1.0)
        assert np.isnan(np.delete(aimed, [8, sector])).all()


def test_drawn_months_lie_within_their_own_error():
    # 300 records of four years drawn at random: some 68 % within one standard error of the truth,
    # 95 % within two; the law leans a little, so the bounds are wide
    rng = np.random.default_rng(4)
    truth = gumbel_r.ppf(1 - 1 / 300, loc=13.0, scale=2.0)
    off = []
    for _ in range(300):
        time, speed, bearing = months_of(rng.gumbel(13.0, 2.0, 48), 270.0)
        found = return_wind(time, speed_m_s=speed, from_deg=bearing, years=25)
        off.append((found.speed_m_s - truth) / found.error_m_s)
    off = np.array(off)
    assert 0.6 < (np.abs(off) < 1).mean() < 0.76
    assert (np.abs(off) < 2).mean() > 0.9
    assert abs(off.mean()) < 0.3


def test_a_half_month_cannot_hide_or_add_a_blow():
    rng = np.random.default_rng(5)
    blows = evenly(13.0, 2.0, 48, rng)
    time, speed, bearing = months_of(blows, 270.0)
    month = time.astype("datetime64[M]")
    # the month with the hardest blow loses the half that has none of it
    hit = month[np.argmax(speed)]
    keep = (month != hit) | (time < hit.astype("datetime64[h]") + np.timedelta64(24 * 16, "h"))
    assert speed[keep].max() == blows.max()
    found = return_wind(time[keep], speed_m_s=speed[keep], from_deg=bearing[keep], years=25)
    left = np.delete(blows, np.argmax(blows))
    by_hand = left.mean() + 0.78 * left.std(ddof=1) * (np.log(300) - 0.577)
    assert (found.months, found.left_out) == (47, 1)
    assert found.speed_m_s == pytest.approx(by_hand)
