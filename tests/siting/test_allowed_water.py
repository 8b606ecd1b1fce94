"""Allowed water: known on paper, against the exact check on a dense grid, and where it may not lie."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest
import shapely
from conftest import HERE, make_field, make_float, make_settings, make_zone
from spot_fields import holds, new_float, sloping, spot_field_in

from lakemap.basis.records import Rule
from lakemap.lake.projection import LakeProjection
from lakemap.siting.allowed import allowed_water
from lakemap.siting.margins import margins

pytestmark = pytest.mark.slow

FIXED = {"riser_m": 6.0, "ground_m": 4.0}  # swings 10.5 m over 6 m of water
HALF_M = 100 - 5 - 10.5  # the lake's half side, the shore rule, the radius


def off_by(found, known):
    """How far two outlines lie apart at most."""
    return shapely.hausdorff_distance(
        shapely.segmentize(found, 0.2).boundary, shapely.segmentize(known, 0.2).boundary
    )


def test_a_square_of_one_depth_is_known_on_paper():
    field = spot_field_in(make_field([]), new_float(**FIXED))
    assert off_by(allowed_water(field), shapely.box(-HALF_M, -HALF_M, HALF_M, HALF_M)) < 0.05


def test_floats_zones_and_islands_are_taken_out_of_it_by_round_edges():
    """Two radii and 2 m about a float, a radius and 10 m about a swim area."""
    beach = shapely.box(40, -20, 70, 20)
    field = make_field([make_float("1", -40, 0)], zones=[make_zone("swim_area", beach)])
    known = (
        shapely.box(-HALF_M, -HALF_M, HALF_M, HALF_M)
        - shapely.Point(-40, 0).buffer(2 * 10.5 + 2, quad_segs=256)
        - beach.buffer(10.5 + 10, quad_segs=256)
    )
    found = allowed_water(spot_field_in(field, new_float(**FIXED)))
    assert off_by(found, known) < 0.05
    assert found.area == pytest.approx(known.area, rel=1e-3)
    assert known.contains(found)  # never on the unsafe side


def test_the_design_at_each_depth_makes_the_radius():
    """Chain 6.5 m; riser 7 m at high water and a step for the least wave; sqrt(13.6^2 - 6^2)."""
    half = 100 - 5 - np.sqrt(13.6**2 - 6**2) - 2.5
    calm = make_settings(storm=replace(make_settings().storm, wind_m_s=0.5))
    found = allowed_water(spot_field_in(make_field([], settings=calm), new_float()))
    assert off_by(found, shapely.box(-half, -half, half, half)) < 0.05


@pytest.mark.parametrize("seed", [1, 2])
def test_a_dense_grid_finds_no_allowed_point_outside_nor_a_forbidden_one_inside(seed):
    """The exact check, float by float, along the outline and over the lake."""
    rng = np.random.default_rng(seed)
    places = rng.uniform(-80, 80, (3, 2))
    floats = [make_float(f"{k}", x, y, status="set") for k, (x, y) in enumerate(places)]
    a, b = rng.uniform(-90, 60, 2)
    zones = [
        make_zone("swim_area", shapely.box(a, b, a + 30, b + 20)),
        make_zone("channel", shapely.LineString([(-100, a), (100, b)]), width_m=8.0),
    ]
    rules = {
        "bed": Rule(kind="bed", limit=0.5, source=""),
        "jump_depth": Rule(kind="jump_depth", limit=5.0, source="", beyond_m=1.0),
    }
    settings = make_settings()
    settings = replace(settings, rules=MappingProxyType({**settings.rules, **rules}))
    field, like = sloping(floats, zones=zones, seed=seed, settings=settings), new_float()
    spots = spot_field_in(field, like)
    region = allowed_water(spots)
    assert not region.is_empty
    along = rng.uniform(0, region.boundary.length, 60)
    near = shapely.get_coordinates(shapely.line_interpolate_point(region.boundary, along))
    xy = np.concatenate([near + rng.normal(0, 0.06, near.shape), rng.uniform(-99, 99, (40, 2))])
    allowed, within = holds(field, like, xy), shapely.contains_xy(region, *xy.T)
    away = shapely.distance(region.boundary, shapely.points(xy))
    assert allowed.any()
    assert (allowed[within]).all()
    assert (away[allowed & ~within] < 0.05).all()
    assert ((margins(spots, xy).least_m >= 0) == allowed).all()
    grid = np.stack(np.meshgrid(np.arange(-99, 99, 1.1), np.arange(-99, 99, 1.1)), -1).reshape(
        -1, 2
    )
    many = margins(spots, grid).least_m >= 0  # which is the check's own answer, as asserted above
    out = many & ~shapely.contains_xy(region, *grid.T)
    assert (shapely.distance(region, shapely.points(grid[out])) < 0.05).all()
    assert many[shapely.contains_xy(region, *grid.T)].all()


def test_moving_the_field_changes_nothing():
    field, like = sloping([make_float("1", 10, 20)], seed=3), new_float()
    there = LakeProjection(lon0=12.0, lat0=-33.0)

    def moved(lon, lat):
        return there.to_lonlat(*HERE.to_xy(lon, lat))

    lon, lat = moved(field.soundings.lon, field.soundings.lat)
    east, north = moved([field.floats[0].lon], [field.floats[0].lat])
    other = replace(
        field,
        lake=there.unproject(HERE.project(field.lake)),
        soundings=replace(field.soundings, lon=lon, lat=lat),
        floats=(replace(field.floats[0], lon=float(east[0]), lat=float(north[0])),),
    )
    here, away = (allowed_water(spot_field_in(one, like)) for one in (field, other))
    assert here.symmetric_difference(away).area < 1e-3 * here.area
    assert here.area == pytest.approx(away.area, rel=1e-4)


def test_a_window_holds_what_the_whole_has_there():
    spots = spot_field_in(sloping([make_float("1", 10, 20)], seed=5), new_float())
    box = shapely.box(-40, -40, 40, 40)
    part = shapely.intersection(allowed_water(spots, within=box.bounds), box)
    assert off_by(part, shapely.intersection(allowed_water(spots), box)) < 0.05


def test_no_soundings_or_no_room_is_no_allowed_water():
    assert allowed_water(spot_field_in(make_field([], bed_m=None), new_float())).is_empty
    assert allowed_water(spot_field_in(make_field([], bed_m=60.0), new_float())).is_empty
    large = new_float(length_m=170.0, width_m=100.0, **FIXED)
    assert allowed_water(spot_field_in(make_field([]), large)).is_empty


@pytest.mark.parametrize("kind", [None, "neighbour", "shore", "shore_max", "bed", "deck_area_max"])
def test_one_rule_alone_or_none_at_all(kind):
    """Where nothing is to be kept clear of there is room without end, and still an outline."""
    rules = {
        "neighbour": Rule(kind="neighbour", limit=2.0, source=""),
        "shore": Rule(kind="shore", limit=5.0, source=""),
        "shore_max": Rule(kind="shore_max", limit=60.0, source=""),
        "bed": Rule(kind="bed", limit=0.5, source=""),
        "deck_area_max": Rule(kind="deck_area_max", limit=20.0, source=""),
    }
    settings = make_settings(rules=MappingProxyType({} if kind is None else {kind: rules[kind]}))
    field, like = sloping([make_float("1", 0, 0)], settings=settings, seed=1), new_float(**FIXED)
    spots = spot_field_in(field, like)
    region = allowed_water(spots, finest=16)
    xy = np.random.default_rng(5).uniform(-99, 99, (60, 2))
    allowed = holds(field, like, xy)
    sure = shapely.distance(region.boundary, shapely.points(xy)) > 0.5
    assert (shapely.contains_xy(region, *xy.T) == allowed)[sure].all()
    assert ((margins(spots, xy).least_m >= 0) == allowed).all()
