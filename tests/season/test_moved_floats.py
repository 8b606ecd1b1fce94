"""A float that was seen elsewhere, on the square lake: drop 6 m, line 10 m, swing radius 10.5 m."""

from datetime import date

import pytest
from conftest import HERE
from upkept import part, row, told

# the primary is at the middle; positions are sure to 1 m each, the line to 0.1 m:
# twice sqrt(1 + 1 + 0.01) = 2.84 m
UNSURE = 2 * (1 + 1 + 0.01) ** 0.5


def seen_at(x, y, part_=None, day="2025-07-14", more=(), **columns):
    lon, lat = HERE.to_lonlat([x], [y])
    rows = [row(day, part_, "moved", lon=float(lon[0]), lat=float(lat[0])), *more]
    return told(rows, **columns)


def moved(*args, **more):
    return seen_at(*args, **more).floats[0].moved


def test_within_its_circle_nothing_need_have_moved():
    one = moved(6.0, 8.0)
    assert (one.what, one.verdict, one.look_first) == ("float", "inside", ())
    assert one.distance_m == pytest.approx(10.0, abs=1e-6)
    assert one.bearing_deg == pytest.approx(36.869897, abs=1e-3)  # atan 6/8
    assert one.allowed_m == pytest.approx(10.5)


@pytest.mark.parametrize(
    ("beyond", "verdict"),
    [(-0.01, "inside"), (0.01, "unsure"), (UNSURE - 0.01, "unsure"), (UNSURE + 0.01, "outside")],
)
def test_outside_by_more_than_the_positions_are_sure(beyond, verdict):
    one = moved(10.5 + beyond, 0.0)
    assert one.verdict == verdict
    assert one.beyond_m == pytest.approx(beyond, abs=1e-6)
    assert one.uncertainty_m == pytest.approx(UNSURE)


def test_a_secondary_lies_within_its_ground_chain():
    assert moved(0.0, 3.9, "secondary").verdict == "inside"
    far = moved(0.0, 20.0, "secondary blocks")
    assert (far.what, far.verdict) == ("secondary", "outside")
    assert far.allowed_m == pytest.approx(4.0)
    assert {one.name for one in far.look_first} <= {"ground chain", "primary"}


def test_a_primary_may_be_anywhere_but_there_is_no_circle_for_it():
    assert moved(2.0, 0.0, "primary").verdict == "unsure"
    far = moved(0.0, -10.0, "primary")
    assert (far.what, far.verdict) == ("primary", "outside")
    assert far.bearing_deg == pytest.approx(180.0)
    assert [one.name for one in far.look_first] == ["primary"]


def test_what_to_look_at_first_is_what_the_storm_asks_most_of():
    upkept = seen_at(30.0, 0.0)
    one, sizing = upkept.floats[0].moved, upkept.floats[0].one.sizing
    asked = {line.name: line.load_n / line.breaking_n for line in sizing.line.parts}
    weakest = max(asked, key=asked.get)
    slides = sizing.loads_n.mean / sizing.primary.holding_n.unburied
    both = sorted([(asked[weakest], weakest), (slides, "primary")], reverse=True)
    assert [(each.share, each.name) for each in one.look_first] == [
        (pytest.approx(share), name) for share, name in both
    ]


def test_a_part_found_unfit_is_looked_at_first():
    more = [row("2025-05-01", "ground chain", "cracked")]
    one = moved(30.0, 0.0, more=more)
    assert (one.look_first[0].name, one.look_first[0].why) == ("ground chain", "unfit")


def test_a_worn_chain_carries_the_square_of_what_is_left():
    """9.0 of 10.0 mm: 0.81 of its strength, so 1/0.81 of the share."""
    plain = told().floats[0].one.sizing.line.parts
    share = next(one.load_n / one.breaking_n for one in plain if one.name == "ground chain")
    more = [row("2025-05-01", "ground chain", "worn", diameter_m=9.0e-3)]
    found = moved(0.0, 20.0, "secondary", more=more).look_first
    chain = next(one for one in found if one.name == "ground chain")
    assert chain.share == pytest.approx(share / 0.81)


def test_a_primary_on_mud_holds_nothing_to_count_on():
    one = moved(30.0, 0.0, bottom="mud")
    assert (one.look_first[0].name, one.look_first[0].why) == ("primary", "holds nothing")
    assert one.look_first[0].share is None


def test_at_the_shore_the_line_goes_first():
    """The lake's shore is 100 m off; 96 m is within a deck's corner (2.5 m) and the doubt of it."""
    there = moved(96.0, 0.0, bottom="mud")
    assert there.at_shore
    assert there.look_first[-1].name == "primary"
    assert not moved(60.0, 0.0).at_shore


def test_a_float_set_anew_or_put_right_later_has_not_moved():
    assert moved(30.0, 0.0, set_on=date(2025, 7, 15)) is None
    assert moved(30.0, 0.0, more=[row("2025-08-01", "primary", "good")]) is None
    assert moved(30.0, 0.0, more=[row("2025-07-01", "primary", "good")]) is not None


def test_the_last_sighting_counts():
    lon, lat = HERE.to_lonlat([3.0], [0.0])
    back = row("2025-08-01", None, "moved", lon=float(lon[0]), lat=float(lat[0]))
    assert moved(30.0, 0.0, more=[back]).verdict == "inside"


def test_an_unlocated_primary_widens_the_circle_of_the_secondary():
    """Only the secondary was fixed, without a bearing: one ground chain of 4 m is added."""
    one = moved(0.0, 7.9, "secondary", position_of="secondary")
    assert one.allowed_m == pytest.approx(8.0)
    assert one.verdict == "inside"


def test_moving_says_nothing_of_its_parts():
    upkept = seen_at(30.0, 0.0)
    assert part(upkept, "shackle").state == "no record"
    assert upkept.floats[0].seen[0].kind == "moved"
