"""The lake's level on the day of a sounding: between readings, beside them, too far from any."""

from datetime import date

import pytest
from conftest import make_field, make_settings

from lakemap.basis.records import Levels
from lakemap.gathering.level_then import level_then

LEVELS = Levels(low_m=-0.5, normal_m=0.1, high_m=0.5, soundings_m=0.0)


def then(day, *readings):
    gauge = tuple({"date": date(2025, 6, d), "level_m": level} for d, level in readings)
    field = make_field([], settings=make_settings(levels=LEVELS), gauge=gauge)
    found = level_then(day, field)
    return round(found.level_m, 9), [one.day for one in found.by], found.is_read


def june(day):
    return date(2025, 6, day)


def test_straight_between_two_readings():
    assert then(june(4), (1, 0.0), (11, 0.4)) == (0.12, [1, 11], True)
    assert then(june(4), (11, 0.4), (1, 0.0)) == (0.12, [1, 11], True)  # in any order
    assert then(june(1), (1, 0.0), (11, 0.4)) == (0.0, [1], True)


def test_the_mean_of_a_days_readings():
    assert then(june(1), (1, 0.2), (1, 0.4)) == (0.3, [1], True)


@pytest.mark.parametrize(("day", "is_read"), [(16, True), (30, True)])
def test_beside_the_only_reading(day, is_read):
    assert then(june(day), (16, 0.3)) == (0.3, [16], is_read)


def test_more_than_a_fortnight_from_any_reading_the_normal_level_is_taken():
    assert then(june(15), (1, 0.3)) == (0.3, [1], True)
    assert then(june(16), (1, 0.3)) == (0.1, [], False)
    assert then(date(2025, 5, 17), (1, 0.3)) == (0.1, [], False)
    # in between, if the nearer is near enough
    assert then(date(2025, 6, 15), (1, 0.3), (30, 0.0))[2]


def test_without_a_day_or_readings():
    assert then(None, (1, 0.3)) == (0.1, [], False)
    assert then(june(1)) == (0.1, [], False)
