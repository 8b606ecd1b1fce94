"""Days of the season by the calendar on the wall."""

from datetime import date

import pytest

from lakemap.basis.records import Season
from lakemap.season.upkeep.days import next_day, season_end, years_after, years_between
from lakemap.season.upkeep.season_tasks import season_tasks


@pytest.mark.parametrize(
    ("month_day", "on", "found"),
    [
        ("05-15", date(2026, 4, 20), date(2026, 5, 15)),
        ("05-15", date(2026, 5, 15), date(2026, 5, 15)),
        ("05-15", date(2026, 5, 16), date(2027, 5, 15)),
        ("02-29", date(2026, 1, 1), date(2026, 2, 28)),
        ("02-29", date(2028, 1, 1), date(2028, 2, 29)),
        ("02-29", date(2027, 3, 1), date(2028, 2, 29)),
        (None, date(2026, 4, 20), None),
    ],
)
def test_the_next_day_of_the_year(month_day, on, found):
    assert next_day(month_day, on) == found


def test_a_season_ends_when_the_floats_are_lifted():
    season = Season(set_on="05-15", lift_on="10-01")
    assert season_end(season, date(2026, 4, 20)) == date(2026, 10, 1)
    assert season_end(season, date(2026, 10, 2)) == date(2027, 10, 1)
    assert season_end(Season(), date(2026, 4, 20)) == date(2026, 12, 31)


def test_years_after_a_day():
    assert years_after(date(2016, 5, 15), 9) == date(2025, 5, 15)
    assert years_after(date(2016, 2, 29), 9) == date(2025, 2, 28)
    # 1.5 years of 365.25 days are 547.875 days: 547 whole ones
    assert years_after(date(2025, 1, 1), 1.5) == date(2026, 7, 2)
    assert years_after(date(2025, 1, 1), 0) == date(2025, 1, 1)
    assert years_after(date(2025, 1, 1), float("nan")) is None
    assert years_after(date(2025, 1, 1), 1e9) is None
    assert years_between(date(2022, 1, 1), date(2026, 1, 1)) == 4.0  # 1461 days


def test_what_the_season_asks_next():
    season = Season(set_on="05-15", lift_on="10-01", marking="reflectors")
    assert [(one.what, one.on) for one in season_tasks(season, on=date(2026, 7, 1))] == [
        ("lift", date(2026, 10, 1)),
        ("set", date(2027, 5, 15)),
        ("look", date(2027, 5, 15)),
        ("mark", date(2027, 5, 15)),
    ]


def test_a_marking_rule_without_a_day_is_still_told():
    (task,) = season_tasks(Season(marking="number 3 in high"), on=date(2026, 7, 1))
    assert (task.what, task.on, task.text) == ("mark", None, "number 3 in high")
    assert season_tasks(Season(), on=date(2026, 7, 1)) == ()
