"""Placement where lengths depend on one another, and its laws; a bed that is known everywhere."""

import numpy as np
import pytest
import shapely
from conftest import make_float, make_settings
from hypothesis import given
from hypothesis import settings as budget
from hypothesis import strategies as st

from lakemap.basis.records import Levels
from lakemap.lake.depth import DepthSurface
from lakemap.rig.hydrostatics import float_buoyancy
from lakemap.rig.placement import PlacementQuestion, place

WATER = shapely.box(-100, -100, 100, 100)
HIGH_M = 0.5  # above the soundings' level, as make_settings has it
BLANK = {"riser_m": None, "ground_m": None}


def bed(depth_at):
    x, y = (grid.ravel() for grid in np.meshgrid(np.arange(-99, 100, 2.0), np.arange(-98, 99, 4.0)))
    return DepthSurface.from_soundings(np.column_stack([x, y]), depth_at(x), WATER)


def put(floats, xy, surface, **more):
    given = {"water": WATER, "channels": (), "settings": make_settings()}
    return place(
        PlacementQuestion(
            floats=floats,
            fix_xy=np.array(xy, dtype=float).reshape(-1, 2),
            buoyancy=float_buoyancy(floats, people=4),
            surface=surface,
            **given | more,
        )
    )


SLOPE = bed(lambda x: 2 + (x + 100) / 20)
EVEN = bed(lambda x: 6.03 + 0 * x)
STEP = bed(lambda x: np.where(x < -5, 3.0, 6.0))


def test_a_ground_chain_that_flips_is_the_length_between_its_clusters():
    # over the step a longer chain reaches shallow water, which asks for a shorter one
    east = np.arange(-6, 4, 0.05)
    floats = [
        make_float(str(k), position_of="secondary", bearing_deg=90.0, **BLANK)
        for k in range(len(east))
    ]
    at = put(floats, [(x, 0) for x in east], STEP)
    apart = np.hypot(*(at.secondary_xy - at.primary_xy).T)
    assert apart == pytest.approx(at.ground_m, abs=1e-9)
    one_depth = np.ceil(at.depth_m[:, 1] / 0.1 - 1e-9) * 0.1
    assert (at.ground_m >= one_depth - 1e-9).all()  # where it flips, the longer one
    assert (at.ground_m > one_depth + 0.05).any()  # so some do


def test_the_longer_of_two_lengths_wherever_the_flipping_starts():
    # a trough 8 m deep between shoals of 3 m: back from a shoal 3 m leads into it, 8 m over it
    trough = bed(lambda x: np.where((x < 0) & (x > -6), 8.0, 3.0))
    one = make_float("1", position_of="secondary", bearing_deg=90.0, **BLANK)
    at = put([one], [(1, 0)], trough)
    assert at.ground_m[0] == pytest.approx(8)
    assert at.primary_xy[0] == pytest.approx((-7, 0))


def test_floats_that_settle_are_not_touched_by_one_that_flips():
    east = np.arange(-6, 4, 0.05)
    flipping = [
        make_float(str(k), position_of="secondary", bearing_deg=90.0, **BLANK) for k in east
    ]
    calm = make_float("calm", position_of="secondary", bearing_deg=90.0, **BLANK)
    at = put([calm, *flipping], [(50, 0), *((x, 0) for x in east)], STEP)
    assert at.ground_m[0] == pytest.approx(6)
    assert at.primary_xy[0] == pytest.approx((44, 0))


@pytest.mark.parametrize(
    "fixed",
    [
        {},
        {"position_of": "secondary"},
        {"position_of": "secondary", "bearing_deg": 90.0},
        {"position_of": "float", "wind_from_deg": 90.0},
        {"position_of": "float"},
    ],
)
def test_a_blank_riser_reaches_the_deepest_bed_in_its_own_walk_circle(fixed):
    at = put([make_float("1", **BLANK, **fixed)], [(0, 0)], SLOPE)
    deepest = SLOPE.greatest_within(at.primary_xy, at.walk_radius_m) + HIGH_M
    spare = at.riser_m - (deepest - at.hook_depth_empty_m)
    assert -1e-9 <= float(spare[0]) < 0.2  # rounded up to 10 cm, and one step at most over that


def test_a_given_riser_stays():
    at = put([make_float("1", position_of="float")], [(0, 0)], SLOPE)
    assert at.riser_m[0] == 6


def test_a_blank_ground_chain_follows_the_depth_at_the_primary_found():
    # one ground chain back from the secondary, where the bed is shallower
    at = put([make_float("1", position_of="secondary", bearing_deg=90.0, **BLANK)], [(0, 0)], SLOPE)
    there = 2 + (at.primary_xy[0, 0] + 100) / 20
    assert at.ground_m[0] == pytest.approx(np.ceil(there / 0.1) * 0.1)


def test_no_floats():
    at = put([], [], SLOPE)
    assert at.reach_m.shape == (0, 3)
    assert at.primary_xy.shape == (0, 2)


def test_unsounded_and_outside():
    floats = [make_float("1", status="retired"), make_float("2"), make_float("3", depth_m=6.5)]
    at = put(floats, [(500, 0), (0, 0), (0, 0)], None)
    assert at.outside.tolist() == [True, False, False]
    assert at.no_depth.tolist() == [True, True, False]
    assert at.reach_m[:2].tolist() == [[10, 10, 10], [10, 10, 10]]
    assert at.reach_m[2, 0] == pytest.approx(8)
    assert np.isnan(at.depth_error_m).all()
    assert not at.aground.any()
    assert not at.hung[:2].any()


def test_a_hook_above_the_water_has_the_longer_drop():
    # depth 6 m at low water, hook 0.4 m above it: drop 6.4 m, line 10 m
    at = put([make_float("1", depth_m=6.5, hook_depth_m=-0.4)], [(0, 0)], None)
    assert at.reach_m[0, 0] == pytest.approx(np.sqrt(100 - 6.4**2))


def test_a_given_hook_stands_people_or_not():
    at = put([make_float("1", hook_depth_m=0.1)], [(0, 0)], SLOPE)
    assert (at.hook_depth_m[0], at.hook_depth_empty_m[0]) == (0.1, 0.1)


def test_people_that_sink_the_float_bring_the_hook_to_the_water():
    small = make_float("1", hook_depth_m=None, tube_diameter_m=0.3, tube_length_m=3.0, tubes=2)
    at = put([small], [(0, 0)], SLOPE)
    assert at.hook_depth_m[0] == 0
    assert at.hook_depth_empty_m[0] <= 0


def test_the_empty_float_is_the_one_that_is_pulled_under():
    # people press a blank hook down, which slackens the line: without them it may still be too short
    blank = {"hook_depth_m": None, "tubes": 2, "tube_diameter_m": 0.5, "tube_length_m": 4.0}
    at = put([make_float("1", depth_m=6.5, **blank)], [(0, 0)], None)
    assert at.hook_depth_empty_m[0] < at.hook_depth_m[0] < 0
    between = 7.0 - (at.hook_depth_empty_m[0] + at.hook_depth_m[0]) / 2
    short = make_float("1", depth_m=6.5, riser_m=between - 2, ground_m=2.0, **blank)
    again = put([short], [(0, 0)], None)
    assert again.pulled_under[0]
    assert not again.hung[0]  # the worse of the two is what is told
    assert again.reach_m[0, 2] > 0  # with people aboard it still swings


def test_the_first_of_several_winds_lays_the_secondary():
    storm = make_settings().storm
    winds = type(storm)(
        wind_m_s=20,
        gust_m_s=None,
        current_m_s=0,
        from_deg=(350.0, 90.0),
        return_period_years=None,
    )
    at = put([make_float("1")], [(0, 0)], SLOPE, settings=make_settings(storm=winds))
    assert at.bearing_deg[0] == pytest.approx(170)
    assert at.bearing_assumed[0]


def test_a_wake_from_a_channel_drawn_as_a_line():
    # centre line 60 m east, 20 m wide: its edge is 50 m off; a second one is farther
    lines = [
        (shapely.LineString([(60, -90), (60, 90)]), 20.0),
        (shapely.box(-90, -90, -80, 90), None),
    ]
    wake = type(make_settings().wake)(height_m=0.6, period_s=2.2, at_m=30.0, nearest_m=20.0)
    floats = [make_float("1"), make_float("2")]
    at = put(floats, [(0, 0), (60, 0)], SLOPE, channels=lines, settings=make_settings(wake=wake))
    assert at.wake_height_m[0] == pytest.approx(0.6 * (50 / 30) ** (-1 / 3))
    assert at.wake_height_m[1] == pytest.approx(0.6 * (20 / 30) ** (-1 / 3))  # in the channel


KINDS = st.sampled_from(
    [
        {},
        {"position_of": "secondary"},
        {"position_of": "secondary", "bearing_deg": 40.0},
        {"position_of": "float", "wind_from_deg": 200.0},
        {"position_of": "float"},
    ]
)


@budget(max_examples=60, deadline=None)
@given(
    KINDS,
    st.floats(3, 9),
    st.floats(0, 2),
    st.floats(0, 2),
    st.floats(4, 12),
    st.floats(0.5, 8),
)
def test_lower_water_and_more_line_never_shrink_a_circle(fixed, depth, fall, more, riser, ground):
    def radius(low, length):
        settings = make_settings(levels=Levels(low_m=low, normal_m=0, high_m=0, soundings_m=0))
        one = make_float("1", depth_m=depth, riser_m=length, ground_m=ground, **fixed)
        at = put([one], [(0, 0)], None, settings=settings)
        workable = not (at.pulled_under[0] or at.aground[0] or np.isnan(at.reach_m[0, 0]))
        return at.swing_radius_m[0, 0] if workable else None

    base, lower, longer = radius(0, riser), radius(-fall, riser), radius(0, riser + more)
    if base is not None and longer is not None:
        assert longer >= base - 1e-9
    # where the float's own fix is halved between calm and reach, the halves share the fall
    if base is not None and lower is not None:
        assert lower >= base - 1e-9


@budget(max_examples=40, deadline=None)
@given(KINDS, st.floats(-60, 60), st.floats(-60, 60), st.floats(0, 360), st.booleans())
def test_a_mirrored_lake_is_placed_in_the_mirror(fixed, x, y, bearing, blank):
    lengths = BLANK if blank else {}
    given_bearing = dict.fromkeys(fixed.keys() - {"position_of"}, bearing)
    mirrored = dict.fromkeys(given_bearing, -bearing % 360)
    where = {key: value for key, value in fixed.items() if key == "position_of"}
    # a wind from the north is its own mirror image
    storm = make_settings().storm
    north = type(storm)(
        wind_m_s=20, gust_m_s=None, current_m_s=0, from_deg=(0.0,), return_period_years=None
    )
    settings = make_settings(storm=north)
    one = put(
        [make_float("1", **where, **given_bearing, **lengths)], [(x, y)], EVEN, settings=settings
    )
    other = put(
        [make_float("1", **where, **mirrored, **lengths)], [(-x, y)], EVEN, settings=settings
    )
    flip = np.array([-1, 1])
    assert other.primary_xy == pytest.approx(one.primary_xy * flip, abs=1e-6)
    assert other.secondary_xy == pytest.approx(one.secondary_xy * flip, abs=1e-6, nan_ok=True)
    assert other.swing_radius_m == pytest.approx(one.swing_radius_m, abs=1e-6, nan_ok=True)
    assert other.riser_m == pytest.approx(one.riser_m, abs=1e-6)
