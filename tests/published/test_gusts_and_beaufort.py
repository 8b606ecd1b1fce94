"""Wind by averaging time and height, and the Beaufort scale.

Sources: Coastal Engineering Manual, EM 1110-2-1100, part II ch. 2 and 8, 2003; WMO Beaufort scale.
Rows without a printed figure are worked from the printed formula to four digits.
"""

import numpy as np
import pytest

from lakemap.basis.errors import RangeError
from lakemap.loads.gusts import (
    BEAUFORT,
    beaufort,
    fastest_mile_s,
    gust_from_mean,
    speed_ratio,
    to_ten_metres,
    wind_setup,
)

MPH = 0.44704
SECONDS = (1, 3, 5, 10, 30, 45, 60, 120, 300, 600, 1200, 1800)
TO_HOUR = (
    1.5443,
    1.5094,
    1.4829,
    1.4334,
    1.3235,
    1.2770,
    1.2439,
    1.1688,
    1.0905,
    1.0500,
    1.0232,
    1.0124,
)
TO_TEN = (1.4707, 1.4375, 1.4122, 1.3651, 1.2605, 1.2161, 1.1846, 1.1131, 1.0385, 1, 0.9745, 0.9641)


@pytest.mark.parametrize(
    ("seconds", "hourly", "ten"), list(zip(SECONDS, TO_HOUR, TO_TEN, strict=True))
)
def test_the_curve(seconds, hourly, ten):
    assert speed_ratio(seconds) == pytest.approx(hourly, abs=1e-4)
    assert gust_from_mean(1.0, gust_s=seconds) == pytest.approx(ten, abs=1e-4)


def test_the_branches_are_held_at_one_where_they_fail_to_meet():
    assert speed_ratio(3599.999) == pytest.approx(1.0, abs=1e-6)
    assert speed_ratio(3600) <= 1.0


@pytest.mark.parametrize(("given", "printed"), [(20.3, 18.6), (24.8, 22.8), (28.2, 25.9)])
def test_five_minutes_to_an_hour(given, printed):
    # example II-2-1: divided by 1.09
    assert given / 1.09 == pytest.approx(printed, abs=0.05)
    assert given / speed_ratio(300) == pytest.approx(printed, abs=0.07)


def test_ninety_minutes_against_three_hours():
    # example II-2-2: printed 1.048
    assert speed_ratio(5400) / speed_ratio(10800) == pytest.approx(1.048, abs=1e-3)


def test_ten_minutes_of_table_ii_8_8():
    assert speed_ratio(600) == pytest.approx(1.05, abs=1e-4)


def test_the_design_storm():
    assert gust_from_mean(50.0) == pytest.approx(71.9, abs=0.05)
    # the default of 70 mph lies within 3 %
    assert abs(70 / gust_from_mean(50.0) - 1) < 0.03


def test_fastest_mile():
    assert fastest_mile_s(60 * MPH) == pytest.approx(60)
    assert speed_ratio(fastest_mile_s(60 * MPH)) == pytest.approx(1.2439, abs=1e-4)
    assert speed_ratio(fastest_mile_s(80 * MPH)) == pytest.approx(1.2770, abs=1e-4)
    # the manual's table takes 1/0.78
    assert speed_ratio(45) == pytest.approx(1.28, abs=0.005)


HEIGHTS = (2, 3, 5, 6.1, 8, 12, 20)


@pytest.mark.parametrize(
    ("roughness", "ratios"),
    [
        (None, (1.2585, 1.1877, 1.1041, 1.0732, 1.0324, 0.9743, 0.9057)),
        (0.0002, (1.1747, 1.1252, 1.0684, 1.0479, 1.0211, 0.9834, 0.9398)),
        (0.03, (1.3832, 1.2614, 1.1355, 1.0930, 1.0399, 0.9696, 0.8934)),
    ],
)
def test_heights(roughness, ratios):
    # eq. II-2-9 and the log law
    found = to_ten_metres(1.0, height_m=HEIGHTS, roughness_m=roughness)
    assert found == pytest.approx(ratios, abs=1e-4)


def test_the_wind_at_a_deck_is_weaker_than_what_drag_takes():
    assert 1 / to_ten_metres(1.0, height_m=0.5) == pytest.approx(0.652, abs=5e-4)
    assert 1 / to_ten_metres(1.0, height_m=0.5, roughness_m=2e-4) == pytest.approx(0.723, abs=5e-4)


ROWS = (
    (0, 0.0, 0.2, "calm"), (1, 0.3, 1.5, "light air"), (2, 1.6, 3.3, "light breeze"),
    (3, 3.4, 5.4, "gentle breeze"), (4, 5.5, 7.9, "moderate breeze"), (5, 8.0, 10.7, "fresh breeze"),
    (6, 10.8, 13.8, "strong breeze"), (7, 13.9, 17.1, "near gale"), (8, 17.2, 20.7, "gale"),
    (9, 20.8, 24.4, "strong gale"), (10, 24.5, 28.4, "storm"), (11, 28.5, 32.6, "violent storm"),
    (12, 32.7, 99.0, "hurricane"),
)  # fmt: skip
KNOTS = (
    (0, 0),
    (1, 3),
    (4, 6),
    (7, 10),
    (11, 16),
    (17, 21),
    (22, 27),
    (28, 33),
    (34, 40),
    (41, 47),
    (48, 55),
    (56, 63),
)


@pytest.mark.parametrize(("force", "low", "high", "name"), ROWS)
def test_beaufort(force, low, high, name):
    for speed in (low, high):
        assert (beaufort(speed).force, beaufort(speed).name) == (force, name)


def test_beaufort_in_knots_and_between_rows():
    assert [(row.from_kn, row.to_kn) for row in BEAUFORT[:12]] == list(KNOTS)
    assert BEAUFORT[12].from_kn == 64
    assert beaufort(5.44).force == 3  # 5.4 when rounded
    assert beaufort(5.46).force == 4
    # copies with 11-15 and 16-21 kn in rows 4 and 5 are wrong
    assert (BEAUFORT[4].to_kn, BEAUFORT[5].from_kn) == (16, 17)
    assert beaufort(18.92).force == 8  # 0.836 B^1.5 (from memory)


def test_set_up_of_the_zuider_zee_rule():
    # 50 mph, 1 mile, 20 ft: 0.089 ft (rule from memory)
    metres = wind_setup(50 * MPH, fetch_m=1609.344, depth_m=20 * 0.3048)
    assert metres / 0.3048 == pytest.approx(0.089, abs=5e-4)


def test_what_lies_outside_is_refused():
    for bad in (0.5, 40_000, np.nan):
        with pytest.raises(RangeError, match="1 and 36,000 s"):
            speed_ratio(bad)
    with pytest.raises(RangeError):
        beaufort(-1.0)
    with pytest.raises(RangeError):
        to_ten_metres(1.0, height_m=0.0)
