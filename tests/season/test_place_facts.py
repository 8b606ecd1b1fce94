"""Grid, marks, bearings and depths of one float: geodesics, and the square lake by hand."""

import numpy as np
import pytest
import shapely
from conftest import HERE, make_field, make_float, make_zone
from pyproj import Geod
from sheet_fields import dock, ground_on, level_bed, ramp

from lakemap.basis.errors import BadInputError, RangeError
from lakemap.lake.shore_marks import fix_error_m
from lakemap.mapping import assess
from lakemap.season.facts.marks import Mark, marks_for, named_marks
from lakemap.season.facts.place_facts import place_facts
from lakemap.season.facts.sheet_ground import sheet_ground

DOCKS = [dock("dock 1", (-101.0, 10.0), (-90.0, 10.0)), dock("dock 2", (5.0, 101.0), (5.0, 88.0))]


def place(floats=None, zones=DOCKS, name="A", bed=level_bed, **more):
    level = more.pop("level_m", None)
    ground = ground_on(floats or [make_float("A", -60.0, 10.0)], bed, zones=zones, **more)
    return place_facts(ground, name, level_m=level)


def test_the_grid_and_the_place():
    got = place([make_float("A", 12.5, -30.25)])
    assert (got.x_m, got.y_m) == pytest.approx((12.5, -30.25), abs=1e-6)
    assert (got.grid_lon, got.grid_lat) == pytest.approx((-37.0, 41.0), abs=1e-6)
    lon, lat = HERE.to_lonlat([12.5], [-30.25])
    assert (got.lon, got.lat) == pytest.approx((lon[0], lat[0]), abs=1e-9)
    assert got.located
    # 12.5 m east of the middle meridian at 41 degrees north
    east = np.degrees(12.5 / (6.387e6 * np.cos(np.radians(41))))
    assert got.convergence_deg == pytest.approx(east * np.sin(np.radians(41)), rel=0.01)


def test_two_docks_and_the_bearings_of_geodesics():
    got = place()
    assert [one.name for one in got.marks] == ["outer end of dock 1", "outer end of dock 2"]
    geod = Geod(ellps="WGS84")
    for one in got.marks:
        there, back, away = geod.inv(one.lon, one.lat, got.lon, got.lat)
        assert one.from_mark_deg == pytest.approx(there % 360, abs=0.001)
        assert one.to_mark_deg == pytest.approx(back % 360, abs=0.001)
        assert one.distance_m == pytest.approx(away, abs=1e-3)
    first, second = got.marks
    assert (first.x_m, first.y_m, first.distance_m) == pytest.approx((-90, 10, 30), abs=1e-3)
    assert second.distance_m == pytest.approx(np.hypot(65, 78), abs=1e-3)
    # due west against north-east by 65 to 78
    assert got.crossing_deg == pytest.approx(np.degrees(np.arctan2(78, 65)), abs=0.01)
    away = [first.distance_m, second.distance_m]
    assert got.fix_error_m == pytest.approx(float(fix_error_m(away, got.crossing_deg)))


def test_no_sight_over_land():
    """An island before dock 1; docks 2 and 3 cross less well."""
    water = shapely.box(-100, -100, 100, 100).difference(shapely.box(-80, 5, -70, 15))
    at = np.array([-60.0, 10.0])
    marks = [
        Mark(name=name, kind="dock", xy=xy)
        for name, xy in (("1", (-90.0, 10.0)), ("2", (-60.0, 88.0)), ("3", (0.0, 80.0)))
    ]
    clear, _ = marks_for(at, shapely.box(-100, -100, 100, 100), marks, [])
    assert [one.name for one in clear] == ["1", "2"]
    seen, pair = marks_for(at, water, marks, [])
    assert [one.name for one in seen] == ["2", "3"]
    assert pair.crossing_deg == pytest.approx(np.degrees(np.arctan2(60, 70)))
    alone, none = marks_for(at, water, marks[:2], [])
    assert [one.name for one in alone] == ["2"]
    assert none is None


def test_an_island_has_its_name():
    lake = HERE.unproject(
        shapely.box(-100, -100, 100, 100).difference(shapely.box(-80, 5, -70, 15))
    )
    got = place(lake=shapely.multipolygons([lake]), island_names=("Goose Island",))
    assert any(one.name.endswith("tip of Goose Island") for one in got.marks)


def test_every_kind_of_mark_is_named():
    zones = [
        *DOCKS,
        ramp(),
        make_zone("swim_area", shapely.box(20, -100, 60, -70), label="Beach"),
        make_zone("channel", shapely.box(20, 40, 60, 100), label="channel"),
        make_zone("swim_area", shapely.box(-20, -20, 0, 0), label="raft"),
    ]
    ground = ground_on([make_float("A")], level_bed, zones=zones)
    named = {one.name: one.xy for one in named_marks(ground.assessment)}
    assert set(named) == {
        "outer end of dock 1",
        "shore end of dock 1",
        "outer end of dock 2",
        "shore end of dock 2",
        "boat ramp",
        "west end of Beach",
        "east end of Beach",
    }
    assert named["boat ramp"] == pytest.approx((100, 0), abs=1e-3)
    assert named["west end of Beach"] == pytest.approx((20, -100), abs=1e-3)
    assert named["shore end of dock 2"] == pytest.approx((5, 101), abs=1e-3)


def test_without_marks_the_shore_serves():
    got = place(zones=[])
    assert len(got.marks) == 2
    assert all(one.kind == "shore" for one in got.marks)
    corner = got.marks[0]
    assert corner.name == f"shore at {corner.lat:.5f}, {corner.lon:.5f}"
    assert (abs(corner.x_m), abs(corner.y_m)) == pytest.approx((100, 100), abs=1e-3)
    assert got.crossing_deg >= 30


def test_one_named_mark_is_kept_beside_the_shore():
    got = place(zones=[ramp(y=10.0)], floats=[make_float("A", 60.0, 10.0)])
    assert "boat ramp" in [one.name for one in got.marks]


def test_depths_of_the_day():
    got = place(level_m=0.3).depths
    assert (got.primary_m, got.secondary_m, got.least_m) == pytest.approx((6.8, 6.8, 6.8))
    assert (got.level_m, got.is_normal) == (0.3, False)
    normal = place().depths
    assert normal.primary_m == pytest.approx(6.5)
    assert normal.is_normal


def test_the_least_depth_of_the_circle_at_that_level():
    # falls by 1 in 10 to the east from 6 m in the middle. Drop 6, line 10: reach 8, circle 10.5 m
    got = place([make_float("A")], bed=lambda x, _: 6 + x / 10).depths
    assert got.least_m == pytest.approx(6 - 1.05, abs=1e-6)
    low = place([make_float("A")], bed=lambda x, _: 6 + x / 10, level_m=-1.0).depths
    assert low.least_m == pytest.approx(5 - (np.sqrt(100 - 25) + 2.5) / 10, abs=1e-6)


def test_a_floats_own_depth_counts_before_the_soundings():
    got = place([make_float("A", -60.0, 10.0, depth_m=4.0)]).depths
    assert got.primary_m == pytest.approx(4.0)
    assert got.least_m == pytest.approx(4.0)


def test_what_is_not_known_is_none():
    got = place_facts(sheet_ground(assess(make_field([make_float("A")], bed_m=None))), "A").depths
    assert (got.primary_m, got.secondary_m, got.least_m) == (None, None, None)


def test_no_such_float_and_no_such_level():
    ground = ground_on([make_float("A")], level_bed)
    with pytest.raises(BadInputError, match=r"no float 'B'; did you mean A"):
        place_facts(ground, "B")
    with pytest.raises(RangeError, match=r"level nan m"):
        place_facts(ground, "A", level_m=np.nan)
