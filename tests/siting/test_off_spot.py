"""How far off a primary may lie: by hand over a level bed, and by the exact check of trials."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest
import shapely
from conftest import HERE, make_field, make_float, make_settings, make_zone
from spot_fields import holds, sloping, spot_field_in

from lakemap.basis.errors import RangeError
from lakemap.basis.records import Rule
from lakemap.siting.off_spot import WITHIN_M, off_spot

HERE_XY = np.zeros(2)
# A float of the square lake swings 10.5 m; 2 m are asked for between circles, 10 m to the beach
BEACH = make_zone("swim_area", shapely.box(-60, -60, 60, -25), label="Beach")


def laid(**more):
    return make_float("new", status="proposed", **more)


def asked(field, like, at=HERE_XY):
    return off_spot(spot_field_in(field, like), np.asarray(at, dtype=float))


def towards(found, bearing):
    return int(np.flatnonzero(found.bearing_deg == bearing)[0])


def test_between_two_neighbours_by_hand():
    # 25 m apart: 2 m of spare to the one in the east, 4 m to the one in the west
    field = make_field([make_float("E", 25.0, 0.0), make_float("W", -27.0, 0.0)])
    found = asked(field, laid())
    assert found.spare_m == pytest.approx(2.0, abs=1e-6)
    assert found.radius_m == pytest.approx(2.0, abs=0.02)
    assert found.radius_m <= 2.0
    east, west, north = (towards(found, bearing) for bearing in (90.0, 270.0, 0.0))
    assert found.free_m[east] == pytest.approx(2.0, abs=2e-3)
    assert found.free_m[west] == pytest.approx(4.0, abs=2e-3)
    assert (found.kind[east], found.against[east]) == ("float", "E")
    assert (found.kind[west], found.against[west]) == ("float", "W")
    assert found.beyond[north]
    assert found.free_m[north] == WITHIN_M
    assert (found.kind[north], found.against[north]) == (None, None)
    # 22.5 degrees off east: |(25, 0) - f (cos, sin)| = 23
    slant = towards(found, 67.5)
    f = np.roots([1, -2 * 25 * np.cos(np.radians(22.5)), 25**2 - 23**2]).min()
    assert found.free_m[slant] == pytest.approx(f, abs=2e-3)


def test_the_radius_knows_of_what_lies_between_bearings():
    angle = np.radians(11.25)
    field = make_field([make_float("N", 25 * np.sin(angle), 25 * np.cos(angle))])
    found = asked(field, laid())
    assert found.free_m.min() > 2.03
    assert 1.95 <= found.radius_m <= 2.0


def test_a_zone_and_the_way_aslant_to_its_edge():
    found = asked(make_field([], zones=[BEACH]), laid())
    # 25 m to its edge, 10 m asked for, 10.5 m of circle
    assert found.radius_m == pytest.approx(4.5, abs=0.05)
    south, aslant = towards(found, 180.0), towards(found, 202.5)
    assert found.free_m[south] == pytest.approx(4.5, abs=2e-3)
    assert found.free_m[aslant] == pytest.approx(4.5 / np.cos(np.radians(22.5)), abs=2e-3)
    assert (found.kind[south], found.against[south]) == ("swim_area", "Beach")


def test_in_conflict_there_is_no_way():
    field = make_field([make_float("E", 20.0, 0.0)])
    found = asked(field, laid())
    assert found.spare_m == pytest.approx(-3.0, abs=1e-6)
    assert found.radius_m == 0
    assert (found.free_m == 0).all()
    assert set(found.against) == {"E"}


def test_without_soundings_the_spare_is_the_radius():
    field = make_field([make_float("E", 25.0, 0.0, depth_m=6.5)], bed_m=None)
    found = asked(field, laid(depth_m=6.5))
    assert found.radius_m == pytest.approx(2.0, abs=2e-3)


def test_in_the_same_wind_the_neighbour_that_binds_is_named():
    settings = make_settings()
    wind = Rule(kind="neighbour", limit=2.0, source="s", mode="same_wind")
    settings = replace(settings, rules=MappingProxyType(dict(settings.rules) | {"neighbour": wind}))
    # corners of 2.5 m and 2 m between: 7 m apart; reaches are alike, so nothing else counts
    field = make_field([make_float("E", 9.0, 0.0), make_float("W", -30.0, 0.0)], settings=settings)
    found = asked(field, laid())
    east = towards(found, 90.0)
    assert found.free_m[east] == pytest.approx(2.0, abs=2e-3)
    assert (found.kind[east], found.against[east]) == ("float", "E")


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(3))
def test_over_a_rough_bed_the_exact_check_of_trials_agrees(seed):
    """Everywhere within the radius every check holds; just past the way along a bearing none."""
    settings = make_settings()
    rules = dict(settings.rules) | {
        "jump_depth": Rule(kind="jump_depth", limit=3.0, source="s", beyond_m=1.0)
    }
    settings = replace(settings, rules=MappingProxyType(rules))
    others = [make_float("E", 27.0, 3.0), make_float("N", -12.0, 29.0)]
    field = sloping(others, zones=[BEACH], seed=seed, settings=settings)
    like = laid(riser_m=7.0)
    found = asked(field, like)
    assert found.spare_m > 0
    rng = np.random.default_rng(seed)
    turn, way = rng.uniform(0, 2 * np.pi, 150), found.radius_m * np.sqrt(rng.uniform(0, 1, 150))
    assert holds(field, like, way[:, None] * np.column_stack([np.sin(turn), np.cos(turn)])).all()
    angle = np.radians(found.bearing_deg)
    unit = np.column_stack([np.sin(angle), np.cos(angle)])
    assert holds(field, like, (found.free_m - 1e-6)[:, None] * unit).all()
    bound = ~found.beyond
    assert bound.any()
    assert not holds(field, like, (found.free_m[bound, None] + 0.01) * unit[bound]).any()
    # the bound is of use: not much less than the tightest of the bearings
    assert found.radius_m >= 0.8 * found.free_m.min()


def test_a_rig_without_lengths_cannot_be_laid():
    with pytest.raises(RangeError, match="riser and ground chain must be given"):
        asked(make_field([]), laid(riser_m=None))


def test_unsounded_water_ends_the_way_at_once():
    """West of x = 0 soundings every 4 m; far from them no depth is known, which is no spare."""
    field = make_field([])
    x, _ = HERE.to_xy(field.soundings.lon, field.soundings.lat)
    kept = x < 0
    some = replace(
        field.soundings,
        lon=field.soundings.lon[kept],
        lat=field.soundings.lat[kept],
        depth_m=field.soundings.depth_m[kept],
        row=field.soundings.row[kept],
    )
    spots = spot_field_in(replace(field, soundings=some), laid())
    far = spots.lake.surface.mesh.far_m
    found = off_spot(spots, np.zeros(2))
    last = x[kept].max()
    # soundings lie every 4 m north and south, one of them 2 m off the way
    edge = last + np.sqrt(far**2 - 2**2)
    east = towards(found, 90.0)
    assert edge < WITHIN_M
    assert found.free_m[east] == pytest.approx(edge, abs=5e-3)
    assert found.kind[east] == "depth"
    assert found.radius_m <= found.free_m[east]
