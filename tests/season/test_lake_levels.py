"""Levels by the gauge, and what low water did: on paper, and against the whole assessment."""

from dataclasses import replace
from datetime import date
from math import sqrt

import numpy as np
import pytest
from conftest import make_field, make_float, make_settings

import lakemap
from lakemap.basis.errors import BadInputError
from lakemap.basis.records import Levels, Rule
from lakemap.clearances.at_level import as_if_lowest
from lakemap.clearances.check import check
from lakemap.mapping import assess
from lakemap.season.levels import AskedLevels, has_readings, read_levels, readings_beyond
from lakemap.season.low_water import circles_at, low_water
from lakemap.sites import subject_of

FOOT = 0.3048
# normal water 1.5 m above the level of the soundings, where the bed lies 6.5 m deep
LEVELS = Levels(low_m=-0.5, normal_m=1.5, high_m=3.0, soundings_m=0.0)


def gauge(*readings):
    return tuple({"date": date.fromisoformat(day), "level_m": level} for day, level in readings)


READ = gauge(
    ("2021-05-01", 1.5), ("2021-09-01", -0.5), ("2022-05-01", 3.0), ("2022-09-01", 0.9),
    ("2023-05-01", 1.5), ("2023-09-01", -0.5),
)  # fmt: skip


def square_with(square, **more):
    settings = replace(square.settings, levels=more.pop("levels", LEVELS))
    return replace(square, settings=settings, **{"gauge": READ} | more)


def found(field, **asked):
    assessment = assess(field)
    levels = read_levels(field, asked=AskedLevels(**asked))
    return assessment, levels, low_water(assessment, levels)


def test_each_years_lowest_water_makes_the_circle_that_its_triangle_has(square):
    """Line 10 m, corner 2.5 m; drops of 8, 6 and 7.4 m over a bed 6.5 m under the gauge's nought."""
    _, _, low = found(square_with(square))
    assert [year.year for year, _ in low.years] == [2021, 2022, 2023]
    assert low.normal.circles.radius_m == pytest.approx([6 + 2.5] * 4)
    assert low.years[0][1].circles.radius_m == pytest.approx([8 + 2.5] * 4)
    reach = sqrt((6 + 4) ** 2 - 7.4**2)
    grown = low.years[1][1].circles.growth_from(low.normal.circles)
    assert grown.radius_m == pytest.approx(reach - 6)
    assert low.years[0][1].circles.growth_from(low.normal.circles).radius_m == pytest.approx(2.0)
    # C is 22 m from A: at circles of 10.5 m the gap is 1 m, and 2 m are asked
    assert dict(zip("ABCD", low.years[0][1].verdicts, strict=True))["C"] == "conflict"
    assert low.years[0][1].worse_than(low.normal) == ("A", "B", "C")
    assert low.years[0][1] is low.years[2][1]  # one level, checked once


def test_verdicts_are_those_of_a_field_whose_low_water_it_is(square):
    field = square_with(square, levels=replace(LEVELS, low_m=0.2))
    _, levels, low = found(field)
    for year, at in low.years:
        lower = replace(LEVELS, low_m=year.lowest.level_m)
        whole = assess(square_with(square, levels=lower))
        assert at.verdicts == tuple(one.verdict for one in whole.floats)
        assert at.circles.radius_m == pytest.approx([one.swing_radius_m[0] for one in whole.floats])
    assert levels.below == 2


def test_the_demo_lake_at_levels_of_its_own():
    """All but those found by their float or secondary, whose primary the whole assessment moves."""
    field = lakemap.read_field("data/tamber-lake")
    assessment, _, low = found(field)
    for at in (low.years[0][1], low.lowest, low.normal):
        lower = replace(field.settings.levels, low_m=at.circles.level_m)
        whole = assess(replace(field, settings=replace(field.settings, levels=lower)))
        assert at.verdicts == tuple(one.verdict for one in whole.floats)
        for one, radius in zip(whole.floats, at.circles.radius_m, strict=True):
            if one.record.status == "retired":
                assert np.isnan(radius)
            elif one.record.position_of in (None, "primary"):
                assert radius == pytest.approx(one.swing_radius_m[0], abs=1e-9)
    assert [at.circles.level_m for at in (low.normal, low.low)] == pytest.approx([0, -1.5 * FOOT])
    assert low.lowest.verdicts == tuple(one.verdict for one in assessment.floats)


def test_every_gap_and_how_sure_it_is_are_those_of_that_low_water(square):
    rules = dict(square.settings.rules) | {"bed": Rule(kind="bed", limit=1.0, source="bed rule")}
    field = square_with(square)
    field = replace(field, settings=replace(field.settings, rules=rules))
    lower = replace(field.settings, levels=replace(LEVELS, low_m=-1.2))
    checked = check(as_if_lowest(subject_of(assess(field)), -1.2))
    for mine, whole in zip(
        checked.floats, assess(replace(field, settings=lower)).floats, strict=True
    ):
        assert len(mine.clearances) == len(whole.clearances) > 3
        for one, other in zip(mine.clearances, whole.clearances, strict=True):
            assert (one.kind, one.against) == (other.kind, other.against)
            for name in ("gap_m", "spare_m", "uncertainty_m"):
                assert getattr(one, name) == pytest.approx(getattr(other, name), abs=1e-9)


def test_retired_floats_and_those_without_a_depth_grow_nothing():
    floats = [make_float("gone", status="retired"), make_float("dry", 30.0, 0.0)]
    field = make_field(floats, bed_m=None, settings=make_settings(levels=LEVELS), gauge=READ)
    _, _, low = found(field)
    assert np.isnan(low.lowest.circles.radius_m[0])
    assert low.lowest.circles.growth_from(low.normal.circles).radius_m == 0.0
    assert low.lowest.worse_than(low.normal) == ()
    _, _, none = found(make_field([], settings=make_settings(levels=LEVELS), gauge=READ))
    assert none.lowest.circles.growth_from(none.normal.circles) is None


def test_a_reading_above_high_water_pulls_under_a_short_line(square):
    # 10 m of line; bed to hook is 6.5 m at nought: pulled under from 3.5 m on
    for level, names in ((3.49, ()), (3.5, ("A", "B", "C", "D"))):
        read = gauge(("2021-05-01", level), ("2021-06-01", 0.0))
        _, levels, low = found(square_with(square, gauge=read))
        assert levels.above == 1
        assert low.pulled_under == names


def test_low_water_grows_a_circle_and_never_shrinks_it(square):
    subject = subject_of(assess(square_with(square)))
    radii = [circles_at(subject, level).radius_m[0] for level in np.linspace(3.0, -8.0, 60)]
    assert (np.diff(radii) >= 0).all()
    assert radii[-1] == pytest.approx(10 + 2.5)  # aground: the whole line, the safe bound


def test_the_period_counts_with_both_its_ends(square):
    field = square_with(square)
    _, levels, _ = found(field, since=date(2021, 9, 1), until=date(2022, 9, 1))
    assert [year.year for year in levels.years] == [2021, 2022]
    assert levels.highest.level_m == 3.0
    assert len(levels.readings.day) == 3
    with pytest.raises(
        BadInputError, match=r"--since: no reading in this period; .* 2021-05-01 to"
    ):
        read_levels(field, asked=AskedLevels(since=date(2030, 1, 1)))
    with pytest.raises(BadInputError, match="--until: no reading in this period"):
        read_levels(field, asked=AskedLevels(until=date(2001, 1, 1)))


def test_shares_are_of_the_time(square):
    # 2 m for 20 days, 1 m for 60, 0 m for 20: each stands for its own days, straight lines a day
    read = gauge(
        ("2021-05-01", 2.0), ("2021-05-21", 2.0), ("2021-05-22", 1.0), ("2021-07-21", 1.0),
        ("2021-07-22", 0.0), ("2021-08-11", 0.0),
    )  # fmt: skip
    field = square_with(square, gauge=read)
    _, levels, _ = found(field, low_share=0.1, high_share=0.9)
    assert (levels.low_m, levels.normal_m, levels.high_m) == pytest.approx((0.0, 1.0, 2.0))
    _, levels, _ = found(field, low_share=0.4, high_share=0.6)
    assert (levels.low_m, levels.high_m) == pytest.approx((1.0, 1.0))


def test_what_lies_outside_of_the_settings_is_counted(square):
    exact = -1.5 * FOOT
    levels = Levels(low_m=exact, normal_m=0.0, high_m=FOOT, soundings_m=0.0)
    read = gauge(("2021-05-01", 1.0 * FOOT), ("2021-09-01", -1.5 * FOOT), ("2021-10-01", -0.6))
    field = square_with(square, levels=levels, gauge=read)
    assert readings_beyond(field) == (1, 0)
    assert readings_beyond(square) == (0, 0)
    assert not has_readings(square)


def test_no_readings_are_told_with_what_to_write(square):
    with pytest.raises(BadInputError) as caught:
        read_levels(square, asked=AskedLevels())
    assert [one.line() for one in caught.value.problems] == [
        "levels.csv: there are no gauge readings; write one a row under `date,level_m`, such as"
        " `2025-06-12,-0.3`"
    ]
