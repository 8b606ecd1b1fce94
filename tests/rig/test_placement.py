"""Placement against rigs worked by hand: line 10 m, drop 6 m at low water, reach 8 m."""

import numpy as np
import pytest
import shapely
from conftest import make_field, make_float, make_settings, make_zone
from hypothesis import given
from hypothesis import strategies as st

from lakemap.basis.records import Wake
from lakemap.mapping import assess
from lakemap.rig.lengths import ground_length, riser_length, round_up


def placed(one, **more):
    return assess(make_field([one], **more)).floats[0]


def test_reach_swing_and_walk():
    one = placed(make_float("1", 10, 20))
    assert one.depth_m == pytest.approx((6.0, 6.5, 7.0))
    # right triangles with a hypotenuse of 10 m
    assert one.reach_m == pytest.approx((8, 7.59934, 7.14143), abs=1e-5)
    assert one.swing_radius_m[0] == pytest.approx(10.5)
    assert one.walk_radius_m == 4
    assert (one.x_m, one.y_m) == pytest.approx((10, 20), abs=1e-6)


def test_secondary_down_the_storm_wind_where_none_was_seen():
    one = placed(make_float("1"))  # wind from 270: the secondary lies east
    assert (one.secondary.x_m, one.secondary.y_m) == pytest.approx((4, 0), abs=1e-6)
    assert one.secondary.assumed
    assert "bearing_deg" in one.assumed


def test_secondary_down_the_worst_wind_for_winds_from_all_round():
    # a square lake: from 60 m south of its middle the longest open water lies 30 degrees off north
    settings = make_settings(
        storm=make_settings().storm.__class__(
            wind_m_s=20, gust_m_s=None, current_m_s=0, from_deg=None, return_period_years=None
        )
    )
    one = placed(make_float("1", 0, -60), settings=settings)
    worst = one.sizing.storm
    assert worst.fetch_m == pytest.approx(160 / np.cos(np.radians(30)), rel=1e-6)
    assert abs((worst.from_deg + 180) % 360 - 180) == pytest.approx(30)
    assert one.secondary.bearing_deg == pytest.approx((worst.from_deg + 180) % 360)
    # 4 m of ground chain: 4 cos 30 degrees south of the primary
    assert one.secondary.y_m == pytest.approx(-60 - 4 * np.cos(np.radians(30)))


def test_secondary_where_it_was_seen():
    one = placed(make_float("1", bearing_deg=30.0))
    assert one.secondary.x_m == pytest.approx(4 * np.sin(np.radians(30)))
    assert one.secondary.y_m == pytest.approx(4 * np.cos(np.radians(30)))
    assert not one.secondary.assumed


def test_primary_one_ground_chain_back_from_a_secondary():
    one = placed(make_float("1", 30, 0, position_of="secondary", bearing_deg=90.0))
    assert (one.x_m, one.y_m) == pytest.approx((26, 0), abs=1e-6)
    assert (one.secondary.x_m, one.secondary.y_m) == pytest.approx((30, 0), abs=1e-6)
    assert one.located
    assert one.swing_radius_m[0] == pytest.approx(10.5)


def test_secondary_without_a_bearing():
    one = placed(make_float("1", 30, 0, position_of="secondary"))
    assert not one.located
    assert (one.x_m, one.secondary.x_m) == pytest.approx((30, 30))
    assert one.secondary.bearing_deg is None
    assert one.swing_radius_m[0] == pytest.approx(14.5)  # one ground chain more
    assert one.walk_radius_m == 8
    assert "primary_not_located" in [p.code for p in one.problems]


def test_float_with_the_wind_it_was_seen_in():
    # reach 8 at low; calm 10 - 7 = 3 at high: 5.5 m to windward, 2.5 m of doubt
    one = placed(make_float("1", 0, 0, position_of="float", wind_from_deg=90.0))
    assert (one.x_m, one.y_m) == pytest.approx((5.5, 0), abs=1e-6)
    assert one.extra_m == pytest.approx(2.5)
    assert one.swing_radius_m[0] == pytest.approx(13)
    assert one.walk_radius_m == pytest.approx(6.5)


def test_float_without_a_wind():
    one = placed(make_float("1", 0, 0, position_of="float"))
    assert one.swing_radius_m[0] == pytest.approx(18.5)  # one reach more
    assert one.secondary is None
    assert not one.located


def test_blank_lengths():
    one = placed(make_float("1", riser_m=None, ground_m=None, hook_depth_m=-0.2))
    # ground: 6.5 m at normal; riser: 7 m at high water, 0.2 m up to the hook, half the storm's wave
    assert one.ground_m == pytest.approx(6.5)
    wave = one.sizing.storm.wave_height_max_m
    assert one.riser_m == pytest.approx(np.ceil((7.2 + wave / 2) * 10 - 1e-9) / 10)
    assert one.riser_m > 7.2
    assert {"riser_length", "ground_length"} <= set(one.assumed)


def test_blank_riser_leaves_room_for_half_the_wake():
    settings = make_settings(wake=Wake(height_m=0.8, period_s=2.2, at_m=30.0, nearest_m=30.0))
    assert placed(make_float("1", riser_m=None), settings=settings).riser_m == pytest.approx(7.4)
    # a channel 200 m wide in the west edge: 100 m away the wake is 0.8 x (30/100)^(1/3) = 0.5355
    far = make_zone("channel", shapely.box(-100, -100, -99.9, 100))
    one = placed(make_float("1", riser_m=None), settings=settings, zones=[far])
    assert one.sizing.storm.wake_height_m == pytest.approx(0.8 * (30 / 99.9) ** (1 / 3))
    assert one.riser_m == pytest.approx(7.3)


def test_proposed_is_designed_and_set_is_assumed():
    blank = {"riser_m": None, "ground_m": None}
    new = placed(make_float("1", status="proposed", **blank))
    assert "riser_length" in new.designed
    assert new.assumed == ()
    assert placed(make_float("1", **blank)).designed == ()


def test_own_depth_overrides_the_soundings():
    one = placed(make_float("1", depth_m=8.5))
    assert one.depth_m == pytest.approx((8, 8.5, 9))
    assert one.reach_m[0] == pytest.approx(6)
    # the bed is 6 m at low water all the same: the shallower of the two decides
    assert one.shallowest_m == pytest.approx(6)


def test_pulled_under_at_high_water():
    one = placed(make_float("1", riser_m=4.0, ground_m=2.5))
    assert one.verdict == "conflict"
    assert "pulled_under" in [p.code for p in one.problems]
    assert one.reach_m[0] == pytest.approx(2.5)  # 6.5 of line, drop 6 at low water


def test_no_reach_at_all():
    one = placed(make_float("1", riser_m=3.0, ground_m=2.5))
    assert one.reach_m[0] is None
    assert one.swing_radius_m[0] == 2.5
    assert one.verdict == "conflict"


def test_aground():
    one = placed(make_float("1", hook_depth_m=6.5))
    assert "aground" in [p.code for p in one.problems]
    assert one.reach_m[0] == 10  # the whole line: the safe bound


def test_hung_at_high_water_is_a_caution():
    one = placed(make_float("1", riser_m=6.9, ground_m=5.0))
    assert [p.code for p in one.problems] == ["hung_at_high_water"]
    assert one.verdict == "clear"


def test_no_depth():
    one = placed(make_float("1"), bed_m=None)
    assert one.verdict == "unknown"
    assert one.reach_m == (10, 10, 10)
    assert one.depth_m == (None, None, None)
    blank = placed(make_float("1", riser_m=None), bed_m=None)
    assert blank.swing_radius_m == (None, None, None)
    assert blank.clearances == ()


def test_blank_hook_is_under_the_deck():
    tubes = {"tubes": 2, "tube_diameter_m": 0.5, "tube_length_m": 4.0, "float_weight_kg": 500.0}
    one = placed(make_float("1", hook_depth_m=None, flotation="tubes", **tubes))
    # with four people aboard it sinks in deeper, which brings the hook down
    alone = placed(
        make_float("1", hook_depth_m=None, flotation="tubes", **tubes),
        settings=make_settings(people=0),
    )
    assert one.hook_depth_m > alone.hook_depth_m
    assert alone.hook_depth_m == pytest.approx(alone.sizing.float.draft_m - 0.5)
    assert one.reach_m[0] > alone.reach_m[0]


def test_retired_floats_are_placed_and_not_checked():
    one = placed(make_float("1", status="retired"))
    assert one.verdict is None
    assert one.clearances == ()
    assert one.swing_radius_m[0] == pytest.approx(10.5)


@pytest.mark.parametrize(
    ("length", "units", "up"),
    [
        (3.01, "m-kg", 3.1),
        (3.0, "m-kg", 3.0),
        (10 * 0.3048, "ft-lb", 3.048),
        (3.06, "ft-lb", 3.2004),
    ],
)
def test_rounding_up(length, units, up):
    assert float(round_up(length, units)) == pytest.approx(up)


def test_ground_is_about_one_depth():
    # common practice, no published source
    assert float(ground_length(10 * 0.3048, "ft-lb")) == pytest.approx(10 * 0.3048)
    riser = riser_length(11 * 0.3048, hook_depth_m=0.0, wave_m=0.6096, units="ft-lb")
    assert float(riser) == pytest.approx(12 * 0.3048)


@given(st.floats(3.1, 9.0), st.floats(0.0, 3.0))
def test_lower_water_never_makes_a_circle_smaller(depth, fall):
    levels = make_settings().levels.__class__
    radii = [
        placed(
            make_float("1", depth_m=depth),
            bed_m=None,
            settings=make_settings(
                levels=levels(low_m=low, normal_m=0.0, high_m=0.0, soundings_m=0.0)
            ),
        ).swing_radius_m[0]
        for low in (0.0, -fall)
    ]
    assert radii[1] >= radii[0] - 1e-12
