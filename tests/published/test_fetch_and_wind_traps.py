"""What the worked examples of fetch and wind are easily read wrong for, and their finer values.

Restricted fetch: ACES User's Guide 1.07 (Leenknecht, Szuwalski and Sherlock, USACE 1992), section
1-1, example 3 (inputs from a secondary source), growth after Smith, CERC-91-2, 1991. Winds: Coastal
Engineering Manual, EM 1110-2-1100, part II ch. 2 and 8, 2003; WMO Beaufort scale. Values to more
digits than print were worked from the printed formulas by hand and a second script.
"""

import numpy as np
import pytest

from lakemap.loads.gusts import BEAUFORT, gust_from_mean, speed_ratio
from lakemap.loads.restricted_fetch import restricted_duration, restricted_fetch, restricted_wave
from lakemap.loads.return_wind import gumbel_error, gumbel_wind
from lakemap.loads.waves import wind_wave

FOOT, MILE, MPH = 0.3048, 1609.344, 0.44704
BEARINGS = np.arange(14) * 12.0
MILES = np.array([3.7, 12.3, 13.4, 12.2, 13.2, 36.0, 35.6, 28.7, 26.8, 13.0, 10.4, 10.1, 6.4, 5.7])
STRESS = 44.00 * MPH * np.sqrt(0.75 + 0.067 * 44.00 * MPH)


def test_restricted_wave_to_more_digits():
    found = restricted_fetch(MILES * MILE, bearings_deg=BEARINGS, wind_from_deg=125)
    assert float(found.fetch_m) / MILE == pytest.approx(26.614, abs=5e-4)
    sea = restricted_wave(STRESS, found.fetch_m, off_wind_deg=found.off_wind_deg)
    assert float(sea.height_m) / FOOT == pytest.approx(7.8015, abs=5e-3)
    assert float(sea.period_s) == pytest.approx(5.7393, abs=5e-3)
    lasts = restricted_duration(STRESS, found.fetch_m, off_wind_deg=found.off_wind_deg)
    assert float(lasts) / 3600 == pytest.approx(4.000, abs=2e-3)


def test_neighbours_of_the_greatest():
    # a wind that turns passes the greatest through the bearings beside it
    seen = {}
    for wind in np.arange(100.0, 150.0, 0.1):
        found = restricted_fetch(MILES * MILE, bearings_deg=BEARINGS, wind_from_deg=wind)
        seen[float(found.from_deg)] = float(found.fetch_m) / MILE
    assert seen[92.0] == pytest.approx(27.037, abs=6e-4)
    assert seen[93.0] == pytest.approx(26.614, abs=6e-4)
    assert seen[94.0] == pytest.approx(26.125, abs=6e-4)


def test_the_first_radial_stands_at_north():
    # the guide's picture leaves the start open; only 0 degrees gives waves from 93
    for start in (-12, -6, 6, 12):
        moved = restricted_fetch(MILES * MILE, bearings_deg=BEARINGS + start, wind_from_deg=125)
        assert float(moved.from_deg) != 93
        assert float(moved.fetch_m) / MILE != pytest.approx(26.614, abs=0.1)


def test_a_wider_window_misses_the_print():
    # fifteen whole degrees, not fifteen degrees to either side
    whole = np.interp(np.arange(157), BEARINGS, MILES)
    wide = np.convolve(whole, np.ones(31) / 31, mode="valid")
    cosine = np.cos(np.radians(np.arange(15, 142) - 125.0))
    best = int(np.argmax(np.where(cosine > 0, np.abs(cosine) ** 0.44 * wide**0.28, 0)))
    found = restricted_fetch(MILES * MILE, bearings_deg=BEARINGS, wind_from_deg=125)
    assert float(found.fetch_m) / MILE != pytest.approx(wide[best], abs=0.05)


def test_open_water_growth_down_the_wind_is_the_lesser():
    # 10.275 mi along the wind itself: 6.10 ft, 4.84 s, against 7.80 ft and 5.74 s from 93 degrees
    along = np.interp(125, BEARINGS, MILES)
    sea = wind_wave(44 * MPH, along * MILE, np.inf, method="spm-garratt")
    # the plain power laws of deep water give the figures; the pair bends over a little before them
    deep = 0.0016 * STRESS**2 / 9.80665 * np.sqrt(9.80665 * along * MILE / STRESS**2)
    assert deep / FOOT == pytest.approx(6.10, abs=5e-3)
    assert float(sea.height_m) == pytest.approx(deep, rel=5e-3)
    deep = 0.2857 * STRESS / 9.80665 * np.cbrt(9.80665 * along * MILE / STRESS**2)
    assert deep == pytest.approx(4.84, abs=5e-3)
    assert float(sea.period_s) == pytest.approx(deep, rel=2e-2)
    assert float(sea.height_m) / FOOT < 7.80


def test_where_the_gust_curve_ends():
    # the printed branches give 0.9997 and 1.0000 at one hour: an hour over an hour is 1
    short = 1.277 + 0.296 * np.tanh(0.9 * np.log10(45 / 3600))
    long_ = 1.5334 - 0.15 * np.log10(3600)
    assert short == pytest.approx(0.9997, abs=6e-5)
    assert long_ == pytest.approx(0.99996, abs=6e-6)
    assert short < long_ < 1
    assert float(speed_ratio(3600)) == 1.0
    # an hour over ten minutes: 0.9520 off the curve itself, 1/1.05 = 0.9524 with the hour held at 1
    assert float(gust_from_mean(1.0, gust_s=3600)) == pytest.approx(0.9520, abs=6e-4)
    # beyond: 1.5334 - 0.15 log10 t, at 90 min and 3 h
    assert speed_ratio([5400, 10_800]) == pytest.approx([0.9735, 0.9284], abs=6e-5)


def test_five_minute_winds_of_example_ii_2_1():
    # the printed steps divide by 1.09; off the curve itself the second one is 22.74
    assert 24.8 / float(speed_ratio(300)) == pytest.approx(22.74, abs=6e-3)
    assert float(speed_ratio(300)) == pytest.approx(1.09, abs=5e-3)


def test_gust_of_the_default_storm():
    # 50 mph for ten minutes gives 71.9 mph for three seconds, not the 70 mph that is set
    assert float(gust_from_mean(50 * MPH)) / MPH == pytest.approx(71.9, abs=0.05)


def test_a_hurricane_has_no_upper_end():
    # copies print "73-82 mph" in row 12, the first row of an older, longer scale
    assert BEAUFORT[12].from_m_s / MPH == pytest.approx(73.1, abs=0.1)
    assert np.isinf(BEAUFORT[12].to_m_s)
    assert np.isinf(BEAUFORT[12].to_kn)


def test_beaufort_after_its_own_formula():
    # U = 0.836 B^1.5 m/s (from memory): the middle of most rows, within all of them
    for row in BEAUFORT[1:12]:
        assert row.from_m_s - 0.1 <= 0.836 * row.force**1.5 <= row.to_m_s + 0.1


def test_reduced_variates():
    # ln(12 r) - 0.577 times 0.78 is 3.9989 for 25 and 4.5395 for 50 years (0.78 taken out)
    found = gumbel_wind(0.0, spread_m_s=1.0, years=[25, 50])
    assert found == pytest.approx([3.9989, 4.5395], abs=6e-5)


def test_the_printed_error_has_the_mean_wind_in_the_logarithm():
    # ln(12 x 17.50) = 5.347 gives the printed 2.5; the return period gives 2.664
    assert np.log(12 * 17.50) == pytest.approx(5.347, abs=5e-4)
    assert float(gumbel_error(3.32, years=25, months=36)) == pytest.approx(2.664, abs=6e-4)
    assert float(gumbel_error(3.32, years=25, months=36)) != pytest.approx(2.5, abs=0.1)
