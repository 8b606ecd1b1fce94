"""The way to the ramp: beds with bars and holes, levels, and no ramp at all."""

from functools import cache

import numpy as np
import pytest
import shapely
from conftest import make_field, make_float, make_zone
from sheet_fields import ground_on, level_bed, ramp

from lakemap.mapping import assess
from lakemap.season.facts.sheet_ground import sheet_ground
from lakemap.season.facts.tow import TowAsk, tow_of

FOOT = 0.3048


def slope(x, y):
    """Falls by 1 in 10 from the east shore, to 8 m."""
    return np.minimum(0.1 + (100 - x) / 10, 8.0)


def bar(x, y):
    """The slope with a bar across at x = 0, flat for 6 m: 2 m deep, 3 m at y = 50."""
    top = 2 + np.clip(1 - np.abs(y - 50) / 20, 0, 1)
    across = np.clip(2 - np.abs(x) / 6, 0, 1)
    return slope(x, y) * (1 - across) + top * across


@cache
def plain(bed):
    return ground_on([make_float("A", -60.0, 0.0)], bed, zones=[ramp()])


def towed(bed, *, draft_m, zones=None, level_m=0.0):
    """A tow that needs a depth: so much less a foot of free water."""
    if zones is None:
        ground = plain(bed)
    else:
        ground = ground_on([make_float("A", -60.0, 0.0)], bed, zones=zones)
    ask = TowAsk(
        under="both",
        float_draft_m=draft_m - FOOT,
        hook_depth_m=-0.5,
        bunch_m=0.2,
        shift_m=level_m,
    )
    return tow_of(ground, ground.float_of("A"), ask)


def test_down_to_where_the_load_comes_near_the_bed():
    got = towed(slope, draft_m=3.1)
    assert (got.to_ramp, got.target, got.deep_enough) == (True, "boat ramp", True)
    # 3.1 m of water ends 30 m off the east shore; the ramp's foot lies 2 m off it
    end = got.route_xy[-1]
    assert end[0] == pytest.approx(70, abs=2 * got.step_m)
    assert end[0] <= 70 + 1e-6
    assert got.left_m == pytest.approx(98 - end[0], rel=0.1)
    assert got.length_m == pytest.approx(end[0] + 60, abs=3)
    assert got.shallowest_m >= 3.1 - 1e-9
    assert got.shallowest_m == pytest.approx(3.1, abs=0.25)
    assert got.needs_m == pytest.approx(3.1)
    assert got.spare_m == pytest.approx(got.shallowest_m - 3.1)
    assert not got.unsounded
    assert got.route_xy[0] == pytest.approx((-60, 0), abs=1e-6)


def test_the_draft_is_the_lower_of_float_and_clusters():
    ground = plain(slope)
    ask = TowAsk(under="both", float_draft_m=0.4, hook_depth_m=0.1, bunch_m=0.7, shift_m=0.0)
    got = tow_of(ground, ground.float_of("A"), ask)
    assert got.hang_m == pytest.approx(0.7 + FOOT)
    assert got.draft_m == pytest.approx(0.1 + 0.7 + FOOT)
    assert got.needs_m == pytest.approx(0.1 + 0.7 + 2 * FOOT)


def test_through_the_gap_in_a_bar():
    got = towed(bar, draft_m=2.5)
    assert got.deep_enough
    crossing = np.interp(0.0, *np.array(got.route_xy).T)
    assert 35 <= crossing <= 65
    assert got.shallowest_m >= 2.5
    assert got.length_m >= 2 * np.hypot(60, 40) - 8


def test_a_bar_too_shallow_says_how_much_higher_to_haul():
    got = towed(bar, draft_m=4.0)
    assert not got.deep_enough
    assert got.shallowest_m == pytest.approx(3.0)
    assert got.spare_m == pytest.approx(got.shallowest_m - 4.0)
    assert abs(got.shallowest_xy[0]) <= 6.001
    assert got.shallowest_xy[1] == pytest.approx(50)
    assert got.route_xy[-1][0] == pytest.approx(61, abs=2 * got.step_m)


def test_low_water_takes_its_share():
    high, low = towed(bar, draft_m=2.5), towed(bar, draft_m=2.5, level_m=-0.8)
    assert high.deep_enough
    assert not low.deep_enough
    assert low.shallowest_m == pytest.approx(2.2)


def test_a_hole_beside_the_ramp_leads_nobody_over_a_bar():
    """A hole 25 m nearer to the ramp than deep water is: the line from the shore reaches as far."""

    def bed(x, y):
        return slope(x, y) + 4 * (np.hypot(x - 92, y) < 5)

    got = towed(bed, draft_m=3.1)
    assert got.deep_enough
    assert got.route_xy[-1][0] <= 71


def test_deeper_than_all_the_lake():
    got = towed(slope, draft_m=9.0)
    assert not got.deep_enough
    # the foot of the ramp, 2 m off the shore, is the shallowest of all
    assert got.route_xy[-1] == pytest.approx((98, 0), abs=0.1)
    assert got.left_m == 0
    assert got.shallowest_m == pytest.approx(0.3, abs=0.05)


def test_without_a_ramp_the_nearest_shore():
    got = towed(lambda x, _: 0.1 + (100 + x) / 10, draft_m=2.0, zones=[])
    assert (got.to_ramp, got.target) == (False, "the nearest shore")
    assert got.route_xy[-1][0] == pytest.approx(-81, abs=2 * got.step_m)
    assert got.left_m == pytest.approx(19, abs=2 * got.step_m)


def test_of_two_ramps_the_one_that_is_deep_enough():
    near = make_zone("ramp", shapely.LineString([(-101, 0), (-98, 0)]), label="west ramp")
    bed = lambda x, y: bar(x, y) - 6 * (np.abs(x + 80) < 8)  # noqa: E731
    got = towed(lambda x, y: np.maximum(bed(x, y), 0.2), draft_m=2.4, zones=[near, ramp()])
    assert got.target == "boat ramp"
    assert got.deep_enough
    both = towed(slope, draft_m=2.4, zones=[near, ramp()])
    assert both.target == "west ramp"


def test_swim_areas_on_the_way_are_named():
    beach = make_zone("swim_area", shapely.box(-10, -80, 10, 80), label="Long Beach")
    off = make_zone("swim_area", shapely.box(-10, -99, 10, -90), label="Off it")
    assert towed(slope, draft_m=2.4, zones=[ramp(), beach, off]).swim_areas == ("Long Beach",)


def test_the_profile_goes_with_the_route():
    got = towed(bar, draft_m=4.0)
    gone, depth = np.array(got.profile).T
    assert gone[0] == 0
    assert gone[-1] == pytest.approx(got.length_m)
    assert (np.diff(gone) >= 0).all()
    assert depth.min() == pytest.approx(got.shallowest_m)
    assert len(got.route_lonlat) == len(got.route_xy)


def test_no_soundings_no_way():
    ground = sheet_ground(assess(make_field([make_float("A")], bed_m=None, zones=[ramp()])))
    ask = TowAsk(under="both", float_draft_m=1.0, hook_depth_m=0.0, bunch_m=0.5, shift_m=0.0)
    assert tow_of(ground, ground.float_of("A"), ask) is None


def test_a_ramp_drawn_on_land_is_the_water_next_to_it():
    dry = make_zone("ramp", shapely.LineString([(120, 10), (104, 10)]), label="dry ramp")
    got = towed(level_bed, draft_m=2.0, zones=[dry])
    assert got.target == "dry ramp"
    assert got.route_xy[-1][0] > 90
