"""Where to drop a primary and how exactly: the square lake by hand."""

import numpy as np
import pytest
from conftest import make_field, make_float
from sheet_fields import ground_on, level_bed

from lakemap.mapping import assess
from lakemap.season.facts.setting import marker_off_m, setting_facts
from lakemap.season.facts.sheet_ground import sheet_ground


def facts(floats, bed=level_bed, name="A", level_m=None, **more):
    return setting_facts(ground_on(floats, bed, **more), name, level_m=level_m)


def test_the_secondary_on_its_bearing():
    got = facts([make_float("A", 10.0, 20.0, bearing_deg=60.0)])
    # a ground chain of 4 m: sin 60 and cos 60
    assert got.secondary.x_m == pytest.approx(10 + 4 * np.sqrt(3) / 2, abs=1e-6)
    assert got.secondary.y_m == pytest.approx(20 + 2, abs=1e-6)
    assert (got.secondary.bearing_deg, got.secondary.suggested) == (60.0, False)
    assert not got.secondary.on_land
    assert (got.ground_m, got.ground_assumed) == (4.0, False)


def test_without_a_bearing_down_the_storm_wind_is_suggested():
    got = facts([make_float("A")])  # storms from 270
    assert got.secondary.suggested
    assert got.secondary.bearing_deg == pytest.approx(90.0)
    assert (got.secondary.x_m, got.secondary.y_m) == pytest.approx((4, 0), abs=1e-6)


def test_a_secondary_on_land_is_said():
    got = facts([make_float("A", 97.0, 0.0)])
    assert got.secondary.on_land
    assert got.secondary_line_m is None
    assert got.separation is None


def test_lengths_that_nobody_measured():
    got = facts([make_float("A", riser_m=None, ground_m=None)])
    assert got.ground_assumed
    assert got.riser_assumed
    planned = facts([make_float("A", riser_m=None, ground_m=None, status="proposed")])
    assert not planned.ground_assumed
    assert planned.tolerance is not None


def test_marker_lines_are_two_feet_longer_than_the_depth_of_the_day():
    got = facts([make_float("A")], level_m=0.4)
    assert got.primary_line_m == pytest.approx(6.9 + 0.6096)
    assert got.secondary_line_m == pytest.approx(6.9 + 0.6096)
    # a line of 7.51 m over 6.9 m
    assert got.separation.slack_off_m == pytest.approx(np.sqrt((6.9 + 0.6096) ** 2 - 6.9**2))
    assert marker_off_m(0.0) == pytest.approx(0.6096)


def test_the_separation_over_a_slope():
    # 1 in 4 down to the east, where the secondary lies 4 m of chain away: level, it is less
    got = facts([make_float("A", -10.0, 0.0, bearing_deg=90.0)], bed=lambda x, _: 9 + x / 4)
    fall = got.separation.deeper_m
    assert fall == pytest.approx(1.0, abs=1e-6)  # depth at the end of 4 m drawn level
    assert got.separation.apart_m == pytest.approx(np.sqrt(16 - 1), abs=1e-6)
    # line 0.1 m, each plumb line half a foot: twice the root of squares
    assert got.separation.tolerance_m == pytest.approx(2 * np.sqrt(0.01 + 2 * 0.1524**2))


def test_a_cliff_within_the_chain_says_nothing_of_the_separation():
    got = facts(
        [make_float("A", 0.0, 0.0, bearing_deg=90.0, ground_m=2.0)],
        bed=lambda x, _: np.where(x > 1, 12.0, 3.0),
    )
    assert got.separation is None


def test_the_tolerance_names_the_tight_side_and_the_free_one():
    floats = [make_float("A"), make_float("E", 25.0, 0.0), make_float("W", -27.0, 0.0)]
    got = facts(floats).tolerance
    assert got.radius_m == pytest.approx(2.0, abs=0.02)
    assert got.tightest.bearing_deg == pytest.approx(90.0, abs=0.01)
    assert (got.tightest.kind, got.tightest.against) == ("float", "E")
    assert got.tightest.free_m == pytest.approx(2.0, abs=2e-3)
    assert got.freest.beyond
    assert len(got.ways) == 16
    assert not got.conflict
    # positions are good to 1 m, twice that is 2 m: as much as there is, less a hair
    assert got.fits_fix == (2.0 <= got.radius_m)


def test_a_float_in_conflict_has_no_tolerance_at_all():
    got = facts([make_float("A"), make_float("E", 20.0, 0.0)]).tolerance
    assert got.conflict
    assert got.radius_m == 0
    assert not got.fits_fix


def test_its_own_depth_counts_where_it_lies():
    """4.5 m by its own row, 6.5 m at the nearest soundings, 2 m east and 2 m aside.

    Off to the east by f the drop at low water is 4 + f, the reach sqrt(100 - (4 + f)^2); the
    neighbour leaves 24.5 - f - reach - 2.5 - 10.5 - 2, which is 0 where 2 f^2 - 11 f + 6.25 is.
    """
    floats = [make_float("A", depth_m=4.5), make_float("E", 24.5, 0.0)]
    got = facts(floats).tolerance
    assert got.tightest.bearing_deg == pytest.approx(90.0, abs=0.01)
    assert got.tightest.free_m == pytest.approx((11 - np.sqrt(121 - 50)) / 4, abs=5e-3)
    assert 0 < got.radius_m <= got.tightest.free_m


def test_nothing_is_said_where_nothing_is_known():
    ground = sheet_ground(assess(make_field([make_float("A")], bed_m=None)))
    got = setting_facts(ground, "A")
    assert got.tolerance is None
    assert got.primary_line_m is None
    assert got.separation is None
