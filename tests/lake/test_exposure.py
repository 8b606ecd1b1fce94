"""Fetch against rays cut by a general geometry library; depth along rays against paper and the bed."""

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from lakemap.basis.errors import RangeError
from lakemap.lake.depth import DepthSurface
from lakemap.lake.exposure import fetch_lengths, mean_depths

SQUARE = shapely.box(-100, -100, 100, 100)
# a stair of a shore: corners in line with rays along the compass
STAIR = shapely.Polygon([(0, 0), (300, 0), (300, 100), (200, 100), (200, 200), (0, 200)])


def star(rng, corners=60, islands=4):
    """A lake with a corner on each of many bearings, and islands in it."""
    angle = np.sort(rng.uniform(0, 2 * np.pi, corners))
    radius = rng.uniform(300, 1000, corners)
    lake = shapely.Polygon(np.column_stack([radius * np.sin(angle), radius * np.cos(angle)]))
    for _ in range(islands):
        x, y = rng.uniform(-400, 400, 2)
        at = np.sort(rng.uniform(0, 2 * np.pi, 7))
        wide = rng.uniform(5, 80, 7)
        ring = np.column_stack([x + wide * np.sin(at), y + wide * np.cos(at)])
        lake = lake.difference(shapely.Polygon(ring).buffer(0))
    return lake


def in_water(rng, lake, count, off_m=0.01):
    west, south, east, north = lake.bounds
    xy = rng.uniform((west, south), (east, north), (max(300, 2 * count), 2))
    good = shapely.contains_xy(lake, xy) & (
        shapely.distance(shapely.points(xy), lake.boundary) > off_m
    )
    return xy[good][:count]


def brute(lake, points, bearings):
    """Every ray cut with the lake's boundary, one at a time."""
    fetch = np.empty((len(points), len(bearings)))
    for k, bearing in enumerate(np.radians(bearings)):
        for i, (x, y) in enumerate(points):
            far = x + 5000 * np.sin(bearing), y + 5000 * np.cos(bearing)
            met = shapely.intersection(shapely.LineString([(x, y), far]), lake.boundary)
            fetch[i, k] = shapely.distance(shapely.Point(x, y), met)
    return fetch


@settings(max_examples=30)
@given(st.integers(0, 2**32 - 1))
def test_against_rays_cut_one_by_one(seed):
    rng = np.random.default_rng(seed)
    lake = star(rng)
    points, bearings = in_water(rng, lake, 6), rng.uniform(-720, 720, 9)
    assume(len(points))
    assert fetch_lengths(lake, points, bearings) == pytest.approx(
        brute(lake, points, bearings), abs=1e-7
    )


@settings(max_examples=40)
@given(st.integers(0, 2**32 - 1), st.floats(-360, 360), st.floats(-1e5, 1e5))
def test_turning_and_moving_all_of_it_changes_nothing(seed, turn_deg, move_m):
    rng = np.random.default_rng(seed)
    lake = star(rng)
    points, bearings = in_water(rng, lake, 10), rng.uniform(0, 360, 8)
    angle = np.radians(turn_deg)
    # clockwise, as bearings go
    turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    turned = shapely.transform(lake, lambda xy: xy @ turn + move_m)
    before = fetch_lengths(lake, points, bearings)
    after = fetch_lengths(turned, points @ turn + move_m, bearings + turn_deg)
    # a ray that all but touches a corner may pass it on one side or the other
    assert (np.abs(after - before) < 1e-5).mean() > 0.97
    whole = fetch_lengths(lake, points, bearings + 720)
    assert whole == pytest.approx(before, abs=1e-6)


@settings(max_examples=30)
@given(st.integers(0, 2**32 - 1))
def test_islands_only_shorten(seed):
    rng = np.random.default_rng(seed)
    lake = star(rng)
    water = shapely.union_all([shapely.Polygon(part.exterior) for part in shapely.get_parts(lake)])
    points, bearings = in_water(rng, lake, 10), np.arange(0, 360, 22.5)
    longer = fetch_lengths(water, points, bearings)
    assert (fetch_lengths(lake, points, bearings) <= longer + 1e-9).all()


def test_every_corner_of_a_ring_is_met():
    # rays from the centre through all 360 corners of a ring: none slips between two pieces
    angle = np.radians(np.arange(360))
    ring = shapely.Polygon(np.column_stack([500 * np.sin(angle), 500 * np.cos(angle)]))
    fetch = fetch_lengths(ring, [[0, 0]], np.arange(-360, 1080))
    assert fetch == pytest.approx(np.full((1, 1440), 500), abs=1e-9)


def test_shore_in_line_with_the_ray():
    # along y = 100 the stair's tread ends at its corner x = 200 or runs on to 300: both touch it
    along = fetch_lengths(STAIR, [[100, 100]], [90, 270, 0, 180])[0]
    assert along[0] == pytest.approx(200) or along[0] == pytest.approx(100)
    assert along[1:] == pytest.approx([100, 100, 100])
    just = fetch_lengths(STAIR, [[100, 100 - 1e-4], [100, 100 + 1e-4]], [90])
    assert just[:, 0] == pytest.approx([200, 100])


ON_SHORE = [
    # point, bearing, fetch: on a straight piece, in the corners of the lake, on the stair; rays
    # that leave the water or only run along its shore have none
    ((0, 50), 0, 0),
    ((0, 50), 45, 150 * np.sqrt(2)),
    ((0, 50), 90, 300),
    ((0, 50), 180, 0),
    ((0, 50), 270, 0),
    ((150, 0), 0, 200),
    ((150, 0), 90, 0),
    ((150, 0), 180, 0),
    ((150, 0), 300, 100 * np.sqrt(3)),
    ((300, 100), 0, 0),
    ((300, 100), 225, 100 * np.sqrt(2)),
    ((200, 150), 90, 0),
    ((200, 150), 270, 200),
    ((200, 100), 45, 0),
    ((200, 100), 180, 100),
    ((200, 100), 270, 200),
    ((0, 0), 225, 0),
    ((0, 0), 30, 400 / np.sqrt(3)),
]


@pytest.mark.parametrize(("point", "bearing", "fetch"), ON_SHORE)
def test_points_on_the_shore(point, bearing, fetch):
    assert fetch_lengths(STAIR, [point], [bearing])[0, 0] == pytest.approx(fetch, abs=1e-9)


@settings(max_examples=20)
@given(st.integers(0, 2**32 - 1))
def test_points_on_a_slanting_shore(seed):
    # rounding puts such points a hair on either side; a ray into the water goes right across
    rng = np.random.default_rng(seed)
    lake = star(rng, islands=0)
    corners = shapely.get_coordinates(lake.exterior)
    piece = rng.integers(0, len(corners) - 1, 20)
    share = rng.uniform(0.1, 0.9, 20)[:, None]
    points = corners[piece] * (1 - share) + corners[piece + 1] * share
    along = corners[piece + 1] - corners[piece]
    run = np.degrees(np.arctan2(along[:, 0], along[:, 1]))
    ccw = shapely.is_ccw(lake.exterior)
    for k in range(20):
        into, out = run[k] + np.array([-60, 60]) * (1 if ccw else -1)
        fetch = fetch_lengths(lake, points[k], [into, out])[0]
        assert fetch[1] == 0
        ahead = np.array([np.sin(np.radians(into)), np.cos(np.radians(into))])
        step = points[k] + 0.002 * ahead
        if shapely.contains_xy(lake, *step):
            assert fetch[0] == pytest.approx(brute(lake, [step], [into])[0, 0] + 0.002, abs=1e-6)


def test_land_is_refused_by_name_all_of_it():
    points = [[0, 0], *([[101.0, 5.0 + k] for k in range(30)]), [50, 50], [np.nan, 0]]
    with pytest.raises(RangeError, match="on land") as caught:
        fetch_lengths(SQUARE, points, [0])
    named = [line.split("]")[0][1:] for line in str(caught.value).splitlines()[:-1]]
    assert named == [*(str(k) for k in range(1, 31)), "32"]
    with pytest.raises(RangeError, match=r"\[1\] nan, \[2\] inf"):
        fetch_lengths(SQUARE, [[0, 0]], [0, np.nan, np.inf])


def test_an_island_is_land():
    lake = shapely.Polygon(SQUARE.exterior, [shapely.box(-10, -10, 10, 10).exterior])
    with pytest.raises(RangeError, match=r"\[0\] 0\.00, 0\.00 m"):
        fetch_lengths(lake, [[0, 0]], [0])


def test_two_lakes_and_no_points():
    two = shapely.MultiPolygon([SQUARE, shapely.box(200, -100, 400, 100)])
    assert fetch_lengths(two, [[0, 0], [300, 0]], [90, 270]) == pytest.approx(
        np.full((2, 2), 100.0)
    )
    assert fetch_lengths(two, np.empty((0, 2)), [90, 270]).shape == (0, 2)
    assert fetch_lengths(two, [[0, 0]], []).shape == (1, 0)


def test_pieces_cut_into_blocks_say_the_same(monkeypatch):
    rng = np.random.default_rng(5)
    lake = star(rng, corners=400)
    points, bearings = in_water(rng, lake, 200), np.arange(0, 360, 30.0)
    corners = shapely.get_coordinates(lake.boundary)[:70]
    points = np.concatenate([points, (corners[:-1] + corners[1:]) / 2])  # on the shore itself
    whole = fetch_lengths(lake, points, bearings)
    monkeypatch.setattr("lakemap.lake.exposure._PAIRS", 50)
    monkeypatch.setattr("lakemap.lake.exposure._CHUNK", 30)
    assert np.array_equal(fetch_lengths(lake, points, bearings), whole)


@pytest.fixture(scope="module")
def bowl():
    """A round lake of 1 km whose bed is smooth: 20 m deep, 0 at the shore."""
    angle = np.linspace(0, 2 * np.pi, 721)[:-1]
    lake = shapely.Polygon(np.column_stack([1000 * np.sin(angle), 1000 * np.cos(angle)]))
    rng = np.random.default_rng(6)
    xy = in_water(rng, lake, 20_000, 1.0)
    depth = 20 * (1 - (xy**2).sum(axis=1) / 1e6)
    return DepthSurface.from_soundings(xy, depth, lake)


def test_mean_depth_against_dense_sampling_of_the_surface(bowl):
    rng = np.random.default_rng(7)
    points, bearings = in_water(rng, bowl.water, 60), np.arange(0, 360, 30.0)
    fetch = fetch_lengths(bowl.water, points, bearings)
    mean = mean_depths(bowl, points, bearings, fetch)
    share = (np.arange(400) + 0.5) / 400
    for k, bearing in enumerate(np.radians(bearings)):
        ray = np.array([np.sin(bearing), np.cos(bearing)])
        xy = points[:, None, :] + (fetch[:, k, None] * share)[:, :, None] * ray
        dense = bowl.at_wet(xy.reshape(-1, 2)).reshape(len(points), -1).mean(axis=1)
        assert mean[:, k] == pytest.approx(dense, rel=0.02, abs=0.05)


def test_mean_depth_of_a_bowl_on_paper(bowl):
    # z = 20 (1 - r2/R2) along a diameter from the centre: the mean is 20 (1 - 1/3)
    fetch = fetch_lengths(bowl.water, [[0, 0]], [17, 200])
    assert mean_depths(bowl, [[0, 0]], [17, 200], fetch) == pytest.approx(
        np.full((1, 2), 40 / 3), rel=0.01
    )


def plane(x, y):
    return 12 + 0.04 * x - 0.02 * y


@pytest.fixture(scope="module")
def sloping():
    """A plane bed right up to the shore, which stands in deep water: shore depths don't count."""
    rng = np.random.default_rng(8)
    xy = rng.uniform(-99.9, 99.9, (20_000, 2))
    return DepthSurface.from_soundings(xy, plane(*xy.T), SQUARE)


def test_mean_depth_of_a_plane_is_that_of_its_middle(sloping):
    points, bearings = np.array([[0, 0], [-40, 30], [50, -60]]), np.arange(0, 360, 15.0)
    fetch = np.full((3, 24), 30.0)  # rays that stay away from the shore
    angle = np.radians(bearings)
    x = points[:, 0, None] + 15 * np.sin(angle)
    y = points[:, 1, None] + 15 * np.cos(angle)
    assert mean_depths(sloping, points, bearings, fetch) == pytest.approx(plane(x, y), rel=0.01)


def test_short_rays_ask_the_surface_itself(sloping):
    mean = mean_depths(sloping, [[10.0, 20.0]], [90.0], [[1.5]])
    assert mean == pytest.approx(np.array([[plane(10.75, 20.0)]]), rel=1e-9)


def test_no_ray_no_length_no_trouble(sloping):
    assert mean_depths(sloping, np.empty((0, 2)), [0.0], np.empty((0, 1))).shape == (0, 1)
    at_once = mean_depths(sloping, [[10.0, 20.0]], [0.0], [[0.0]])
    assert at_once == pytest.approx(np.array([[plane(10, 20)]]))


@pytest.fixture(scope="module")
def half_sounded():
    """A lake of 2 km by 203 m; only the western third was sounded, 6 m all over."""
    lake = shapely.box(0, 0, 2000, 203)
    x, y = (grid.ravel() for grid in np.meshgrid(np.arange(5, 700, 10), np.arange(5, 200, 10)))
    return DepthSurface.from_soundings(
        np.column_stack([x, y]), np.full(len(x), 6.0), lake, shore_depth_m=6.0
    )


def test_what_nobody_sounded_is_left_out_of_the_mean(half_sounded):
    points, bearings = [[300.0, 100.0], [1500.0, 100.0]], [90.0, 270.0, 0.0]
    fetch = fetch_lengths(half_sounded.water, points, bearings)
    mean = mean_depths(half_sounded, points, bearings, fetch)
    assert mean[0] == pytest.approx([6, 6, 6])  # of the part that is known
    assert np.isnan(mean[1, [0, 2]]).all()  # not even at the shore, whose own depth is known
    assert mean[1, 1] == pytest.approx(6)
