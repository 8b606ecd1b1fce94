"""Fetch: geometry with answers on paper, and worked examples of averaged and restricted fetch."""

import numpy as np
import pytest
import shapely

from lakemap.lake.exposure import fetch_lengths
from lakemap.loads.restricted_fetch import (
    averaged_fetch,
    restricted_duration,
    restricted_fetch,
    restricted_wave,
)

MILE = 1609.344
MPH = 0.44704


@pytest.mark.parametrize(
    ("bearing", "metres"),
    [
        (0, 916.5151), (45, 676.3236), (90, 600), (135, 676.3236), (180, 916.5151),
        (225, 1242.0090), (270, 1400), (315, 1242.0090),
    ],
)  # fmt: skip
def test_a_round_lake(bearing, metres):
    # radius 1000 m, 400 m east of its middle: F = -e cos p + sqrt(R^2 - e^2 sin^2 p), law of cosines
    angle = np.linspace(0, 2 * np.pi, 400_001)[:-1]
    lake = shapely.Polygon(np.column_stack([1000 * np.cos(angle), 1000 * np.sin(angle)]))
    assert fetch_lengths(lake, [[400, 0]], [bearing])[0, 0] == pytest.approx(metres, abs=1e-4)


@pytest.mark.parametrize(
    ("bearing", "metres"),
    [
        (0, 500), (30, 577.3503), (60, 1000), (80, 1523.1399), (90, 700), (100, 1523.1399),
        (180, 500), (270, 500),
    ],
)  # fmt: skip
def test_a_rectangle_with_an_island(bearing, metres):
    # 2000 by 1000 m, island with its west face at x = 1200; plane geometry
    island = [(1200, 400), (1300, 400), (1300, 600), (1200, 600)]
    lake = shapely.Polygon([(0, 0), (2000, 0), (2000, 1000), (0, 1000)], [island])
    assert fetch_lengths(lake, [[500, 500]], [bearing])[0, 0] == pytest.approx(metres, abs=1e-4)


RAYS_KM = (3, 4.85, 3.65, 4.8, 5.5, 5.9, 6, 4.5, 4.7, 5.3, 4.2, 5.25, 6.2, 6.55, 5.1)
ANGLES = np.arange(-42, 43, 6)


def test_cosine_average_of_fifteen_rays():
    # Saville 1954; handbooks print 5.053 km for these rays
    assert averaged_fetch(RAYS_KM, off_wind_deg=ANGLES) == pytest.approx(5.053, abs=5e-4)
    assert averaged_fetch(RAYS_KM, off_wind_deg=ANGLES) == pytest.approx(5.0534, abs=1e-4)


@pytest.mark.parametrize("wrong", [4.6098, 5.0704, 5.0333])
def test_other_readings_of_the_average_are_not_given(wrong):
    # rays projected and weighted again; squared weights; the plain mean
    assert abs(averaged_fetch(RAYS_KM, off_wind_deg=ANGLES) - wrong) > 0.01


def test_even_rays_average_to_themselves():
    assert averaged_fetch(np.full(15, 4.0), off_wind_deg=ANGLES) == pytest.approx(4.0)
    assert np.cos(np.radians(ANGLES)).sum() == pytest.approx(13.5109, abs=1e-4)


# ACES User's Guide, v. 1.07, USACE 1992, section 1-1, example 3 (inputs from a secondary source)
ACES_RAYS = (3.7, 12.3, 13.4, 12.2, 13.2, 36.0, 35.6, 28.7, 26.8, 13.0, 10.4, 10.1, 6.4, 5.7)
ACES_BEARINGS = 12.0 * np.arange(14)
STRESS = 44.00 * MPH * np.sqrt(0.75 + 0.067 * 44.00 * MPH)


def test_restricted_fetch_of_the_printed_example():
    found = restricted_fetch(ACES_RAYS, bearings_deg=ACES_BEARINGS, wind_from_deg=125)
    assert found.fetch_m == pytest.approx(26.61, abs=0.005)
    assert found.fetch_m == pytest.approx(26.614, abs=0.001)
    assert (found.from_deg, found.off_wind_deg) == (93, -32)
    assert STRESS / MPH == pytest.approx(63.27, abs=0.005)
    sea = restricted_wave(STRESS, found.fetch_m * MILE, off_wind_deg=found.off_wind_deg)
    assert float(sea.height_m) / 0.3048 == pytest.approx(7.80, abs=0.005)
    assert float(sea.period_s) == pytest.approx(5.74, abs=0.005)
    hours = restricted_duration(STRESS, found.fetch_m * MILE, off_wind_deg=-32) / 3600
    assert float(hours) == pytest.approx(4.0, abs=0.005)


def test_the_traps_of_the_example_are_not_stepped_into():
    # radials that start anywhere but at 0, or another window, miss 26.61
    shifted = restricted_fetch(ACES_RAYS, bearings_deg=ACES_BEARINGS + 6, wind_from_deg=125)
    assert abs(shifted.fetch_m - 26.61) > 0.05
    # along the wind itself there are only some 10.3 miles
    along = float(np.interp(125, ACES_BEARINGS, ACES_RAYS))
    assert along == pytest.approx(10.275, abs=0.005)
