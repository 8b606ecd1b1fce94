"""More rows of fetch and wind: the readings of an averaged fetch, a lake without its island, gusts.

Averaged fetch: Saville 1954, Shore Protection Manual to 1977. Winds: Coastal Engineering Manual,
EM 1110-2-1100, part II ch. 2, 2003. Values to more digits than print were worked from the printed
formulas by hand and a second script.
"""

import numpy as np
import pytest
import shapely

from lakemap.basis.errors import RangeError
from lakemap.lake.exposure import fetch_lengths
from lakemap.loads.gusts import fastest_mile_s, gust_from_mean, speed_ratio
from lakemap.loads.restricted_fetch import averaged_fetch, restricted_fetch

MPH = 0.44704
RAYS_KM = np.array([3, 4.85, 3.65, 4.8, 5.5, 5.9, 6, 4.5, 4.7, 5.3, 4.2, 5.25, 6.2, 6.55, 5.1])
ANGLES = np.arange(-42.0, 43.0, 6.0)
COSINE = np.cos(np.radians(ANGLES))
# how print is read, sum of weighted rays over sum of weights, and what comes of it in km; the
# handbooks print 5.053
READINGS = [
    ("lengths, weighted once", COSINE, COSINE, 5.0534, 1.0),
    ("projected on the wind and weighted again", COSINE**2, COSINE, 4.6098, 0.9091),
    ("squared weights", COSINE**2, COSINE**2, 5.0704, 1.0),
    ("plain mean", np.ones(15), np.ones(15), 5.0333, 1.0),
]


@pytest.mark.parametrize(("name", "above", "below", "km", "of_even"), READINGS)
def test_readings_of_the_averaged_fetch(name, above, below, km, of_even):
    assert RAYS_KM @ above / below.sum() == pytest.approx(km, abs=6e-5)
    assert above.sum() / below.sum() == pytest.approx(of_even, abs=6e-5)
    ours = float(averaged_fetch(RAYS_KM, off_wind_deg=ANGLES))
    assert (abs(ours - km) < 6e-5) == (name == "lengths, weighted once")
    assert abs(ours - 5.053) < 5e-4


def test_a_projected_ray_is_not_projected_again():
    # who has rays projected on the wind gets the second reading from the same law
    assert averaged_fetch(RAYS_KM * COSINE, off_wind_deg=ANGLES) == pytest.approx(4.6098, abs=6e-5)
    assert (COSINE**2).sum() == pytest.approx(12.2834, abs=6e-5)


RECTANGLE = [(0, 0), (2000, 0), (2000, 1000), (0, 1000)]
ISLAND = [(1200, 400), (1300, 400), (1300, 600), (1200, 600)]


def test_the_rectangle_without_its_island():
    # 90 degrees: 1500 m to the far shore, 700 m to the island; 80 and 100 degrees pass it by
    bare = fetch_lengths(shapely.Polygon(RECTANGLE), [[500, 500]], [80, 90, 100])[0]
    assert bare == pytest.approx([1523.1399, 1500, 1523.1399], abs=1e-4)
    lake = shapely.Polygon(RECTANGLE, [ISLAND])
    held = fetch_lengths(lake, [[500, 500]], [80, 90, 100])[0]
    assert held == pytest.approx([1523.1399, 700, 1523.1399], abs=1e-4)


@pytest.mark.parametrize("place", [(1250, 500), (-10, 500), (500, 1010)])
def test_a_float_on_land_has_no_fetch_rather_than_none_of_length(place):
    with pytest.raises(RangeError, match=f"{place[0]}.00, {place[1]}.00 m"):
        fetch_lengths(shapely.Polygon(RECTANGLE, [ISLAND]), [place], [90])


# ACES User's Guide 1.07, USACE 1992, section 1-1, example 3 (inputs from a secondary source)
MILES = np.array([3.7, 12.3, 13.4, 12.2, 13.2, 36.0, 35.6, 28.7, 26.8, 13.0, 10.4, 10.1, 6.4, 5.7])


def test_the_example_step_by_step():
    # whole degrees, mean of fifteen, the greatest cosine^0.44 F^0.28: written out without the module
    whole = np.interp(np.arange(157), 12.0 * np.arange(14), MILES)
    mean = {at: whole[at - 7 : at + 8].mean() for at in range(7, 150)}
    rank = {at: np.cos(np.radians(at - 125)) ** 0.44 * mean[at] ** 0.28 for at in range(36, 150)}
    assert [mean[at] for at in (92, 93, 94)] == pytest.approx([27.037, 26.614, 26.125], abs=6e-4)
    assert max(rank, key=rank.get) == 93
    found = restricted_fetch(MILES, bearings_deg=12.0 * np.arange(14), wind_from_deg=125)
    assert float(found.fetch_m) == pytest.approx(mean[93])
    # fifteen degrees to either side: another fetch and another bearing
    wide = {at: whole[at - 15 : at + 16].mean() for at in range(36, 142)}
    best = max(wide, key=lambda at: np.cos(np.radians(at - 125)) ** 0.44 * wide[at] ** 0.28)
    assert best != 93
    assert abs(wide[best] - 26.61) > 0.1


# example II-2-1: winds of five minutes, of an hour as printed, and divided by 1.09 to two digits
FIVE_MINUTES = [(20.3, 18.6, 18.62), (24.8, 22.8, 22.75), (28.2, 25.9, 25.87)]


@pytest.mark.parametrize(("five", "printed", "worked"), FIVE_MINUTES)
def test_five_minutes_to_an_hour(five, printed, worked):
    hour = float(gust_from_mean(five, mean_s=300, gust_s=3600))
    assert five / 1.09 == pytest.approx(worked, abs=6e-3)
    # 1.0905 off the curve for the 1.09 of the print
    assert hour == pytest.approx(worked, rel=6e-4)
    assert hour == pytest.approx(printed, abs=0.061)


def test_ninety_minutes_over_three_hours():
    # example II-2-2, printed 1.048
    ratio = float(gust_from_mean(1.0, mean_s=10_800, gust_s=5400))
    assert ratio == pytest.approx(1.0486, abs=1e-4)
    assert ratio == pytest.approx(1.048, abs=1e-3)


def test_the_fastest_mile_of_sixty_and_eighty():
    # 3600/U in mph: 60 s and 45 s; at 45 s the tanh is 0, the ratio the bare 1.277
    assert fastest_mile_s([60 * MPH, 80 * MPH]) == pytest.approx([60, 45])
    assert float(speed_ratio(fastest_mile_s(80 * MPH))) == pytest.approx(1.277, abs=1e-12)
