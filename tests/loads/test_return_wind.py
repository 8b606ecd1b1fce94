"""A record of hourly wind: months, sectors, and what is too short."""

import numpy as np
import pytest

from lakemap.basis.errors import RangeError
from lakemap.loads.return_wind import gumbel_wind, return_wind


def record(years=4, seed=1):
    """Hourly wind: light from all round, and once a month a blow of a Gumbel draw from the west."""
    rng = np.random.default_rng(seed)
    time = np.arange("2020-01", f"{2020 + years}-01", dtype="datetime64[h]")
    speed, bearing = rng.uniform(0, 5, len(time)), rng.uniform(0, 360, len(time))
    month = time.astype("datetime64[M]")
    blows = rng.gumbel(12.0, 2.0, 12 * years)
    for k, start in enumerate(np.unique(month)):
        at = np.flatnonzero(month == start)[100]
        speed[at], bearing[at] = blows[k], 270.0
    return time, speed, bearing, blows


def test_the_blows_of_each_month_are_fitted():
    time, speed, bearing, blows = record()
    found = return_wind(time, speed_m_s=speed, from_deg=bearing, years=25)
    expected = gumbel_wind(blows.mean(), spread_m_s=blows.std(ddof=1), years=25)
    assert found.speed_m_s == pytest.approx(float(expected))
    assert (found.months, found.left_out) == (48, 0)
    assert found.error_m_s > 0


def test_the_sector_of_the_blows_stands_out():
    time, speed, bearing, _ = record()
    found = return_wind(time, speed_m_s=speed, from_deg=bearing, years=25)
    west = 12  # of sixteen, from north
    assert found.sector_speed_m_s[west] == pytest.approx(found.speed_m_s)
    others = np.delete(found.sector_speed_m_s, west)
    assert (others < 7).all()


def test_a_sector_without_wind_is_unknown():
    time, speed, bearing, _ = record()
    bearing[(bearing > 60) & (bearing < 120)] = 200.0
    found = return_wind(time, speed_m_s=speed, from_deg=bearing, years=25)
    assert np.isnan(found.sector_speed_m_s[4])
    assert np.isfinite(found.sector_speed_m_s[12])


def test_a_month_with_half_its_hours_is_left_out():
    time, speed, bearing, _ = record()
    keep = ~(
        (time.astype("datetime64[M]") == np.datetime64("2021-05")) & (np.arange(len(time)) % 2 == 0)
    )
    found = return_wind(time[keep], speed_m_s=speed[keep], from_deg=bearing[keep], years=25)
    assert (found.months, found.left_out) == (47, 1)


def test_a_longer_return_period_asks_for_more_wind():
    time, speed, bearing, _ = record()
    found = [
        return_wind(time, speed_m_s=speed, from_deg=bearing, years=y).speed_m_s
        for y in (10, 25, 50)
    ]
    assert found == sorted(found)


def test_too_short_a_record_is_refused():
    time, speed, bearing, _ = record(years=2)
    with pytest.raises(RangeError, match="24 months with enough hours; a return period needs 36"):
        return_wind(time, speed_m_s=speed, from_deg=bearing, years=25)
    time, speed, bearing, _ = record()
    with pytest.raises(RangeError, match="return period"):
        return_wind(time, speed_m_s=speed, from_deg=bearing, years=0.0)
