"""After a storm: the sizing's own loads in that storm's wind, on the rigs as they lie."""

from dataclasses import replace

import pytest
from conftest import make_float, make_settings
from upkept import RIG, assessed, field_of

from lakemap.mapping import assess
from lakemap.season.upkeep.storms_passed import after_storm, storm_of

# the square lake's rigs are sized for 22 m/s from the west
FLOATS = [
    make_float("east", 80.0, 0.0, **RIG),
    make_float("west", -80.0, 0.0, **RIG),
    make_float("old", 0.0, 60.0, status="retired", **RIG),
]


@pytest.fixture(scope="module")
def field():
    return assessed(field_of(floats=FLOATS))


def passed(field, **blown):
    given = {"wind_m_s": 22.0, "gust_m_s": None, "from_deg": None} | blown
    return after_storm(field, storm_of(field, **given))


def test_the_storm_they_are_sized_for_is_not_above_itself(field):
    found = passed(field, from_deg=270.0)
    assert not found.stronger
    for one in found.floats:
        assert one.above_sized is False
        assert one.mean_n == pytest.approx(one.sized_mean_n, rel=1e-12)
        assert one.peak_n == pytest.approx(one.sized_peak_n, rel=1e-12)


def test_retired_floats_meet_nothing(field):
    assert {one.float_id for one in passed(field).floats} == {"east", "west"}


def test_the_other_way_round_the_sheltered_one_meets_more(field):
    """Sized for west wind, the float 20 m off the west shore had little water; in east wind 180 m."""
    found = passed(field, from_deg=90.0)
    by_id = {one.float_id: one for one in found.floats}
    assert by_id["west"].above_sized is True
    assert by_id["east"].above_sized is False
    assert found.floats[0].float_id == "west"  # to be looked at first
    assert not found.stronger


def test_a_stronger_wind_is_above_for_all(field):
    found = passed(field, wind_m_s=30.0, from_deg=270.0)
    assert found.stronger
    assert all(one.above_sized for one in found.floats)


def test_the_numbers_are_those_of_the_sizing_in_that_wind(field):
    storm = storm_of(field, wind_m_s=18.0, gust_m_s=25.0, from_deg=90.0)
    there = assess(replace(field.field, settings=make_settings(storm=storm), inspections=()))
    sizing = {one.record.float_id: one.sizing for one in there.floats}
    for one in after_storm(field, storm).floats:
        of = sizing[one.float_id]
        assert (one.mean_n, one.peak_n) == (of.loads_n.mean, of.loads_n.peak)
        assert one.slides == (of.loads_n.mean > of.primary.holding_n.unburied)
        assert one.lifts == (of.loads_n.mean > of.secondary.lift_pull_n)


def test_a_rig_that_the_tool_chose_is_not_chosen_anew():
    """Blank risers clear the storm's wave: a weaker storm must not shorten the chain that lies."""
    blank = make_float("A", 80.0, 0.0, riser_m=None, ground_m=None)
    settings = make_settings(holding="unburied")
    field = assessed(field_of(floats=[blank], settings=settings))
    calm = passed(field, wind_m_s=1.0)
    one = field.floats[0]
    as_built = replace(
        blank,
        riser_m=one.riser_m,
        ground_m=one.ground_m,
        primary_blocks=one.sizing.primary.blocks,
        secondary_blocks=one.sizing.secondary.blocks,
    )
    storm = storm_of(field, wind_m_s=1.0, gust_m_s=None, from_deg=None)
    there = assess(field_of(floats=[as_built], settings=replace(settings, storm=storm)))
    assert calm.floats[0].peak_n == there.floats[0].sizing.loads_n.peak


def test_a_float_without_a_depth_is_not_known():
    field = assess(replace(field_of(floats=[make_float("A", 80.0, 0.0)]), soundings=None))
    (one,) = passed(field).floats
    assert (one.used, one.slides, one.slides_settled) == (None, None, None)
