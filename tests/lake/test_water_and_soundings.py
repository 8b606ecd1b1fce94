"""Distances to the shore, islands, and which soundings are used."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from lakemap.lake.contours import depth_areas, depth_contours, depth_grid, unsounded
from lakemap.lake.depth import DepthSurface
from lakemap.lake.levels import depth_at_level
from lakemap.lake.soundings import leave_out_error, outlying_soundings, sort_soundings
from lakemap.lake.water import inside, islands, nearest_on_shore, segments

SQUARE = shapely.box(0, 0, 100, 100)
HOLED = shapely.Polygon(SQUARE.exterior, [shapely.box(40, 40, 60, 60).exterior])
TWO = shapely.multipolygons([HOLED, shapely.box(200, 0, 260, 100)])


def test_inside_counts_the_edge():
    xy = np.array([[50, 10], [0, 50], [50, 50], [40, 50], [150, 50], [np.nan, 1]])
    assert inside(TWO, xy).tolist() == [True, True, False, True, False, False]


def test_islands_in_order():
    assert len(islands(TWO)) == 1
    assert islands(TWO)[0].bounds == (40, 40, 60, 60)


def test_the_shore_is_that_of_the_points_own_part():
    distance, nearest = nearest_on_shore(TWO, np.array([[35.0, 50.0], [95, 50], [210, 50]]))
    assert distance == pytest.approx([35, 5, 10])  # the island 5 m away is no shore
    assert nearest == pytest.approx(np.array([[0, 50], [100, 50], [200, 50]]))


@given(st.floats(1, 99), st.floats(1, 99))
def test_shore_distance_against_the_general_library(x, y):
    distance, _ = nearest_on_shore(SQUARE, np.array([[x, y]]))
    assert distance[0] == pytest.approx(SQUARE.exterior.distance(shapely.Point(x, y)), abs=1e-9)


def test_segments_never_join_two_rings():
    start, end = segments(HOLED)
    assert len(start) == 8
    assert np.hypot(*(end - start).T).tolist() == [100] * 4 + [20] * 4


def test_depth_at_level():
    # sounded 3 m with the gauge at 0.2; at -0.5 it is 0.7 less
    assert float(depth_at_level(3.0, level_m=-0.5, soundings_level_m=0.2)) == pytest.approx(2.3)


def test_soundings_left_out():
    xy = np.array([[10.0, 10], [20, 20], [20.001, 20], [50, 50], [300, 0], [30, 30], [20, 20.002]])
    found = sort_soundings(xy, np.array([1.0, 5, 2, 9, 9, 3, 4]), HOLED)
    assert found.on_land.tolist() == [3, 4]
    assert found.doubled.tolist() == [2, 6]
    assert found.index.tolist() == [0, 1, 5]
    assert found.depth_m.tolist() == [1, 4, 3]  # the median of 5, 2, 4


def plane(noise=0.0, spike=None):
    rng = np.random.default_rng(5)
    at = np.arange(3, 98, 5.0)
    x, y = (grid.ravel() for grid in np.meshgrid(at, at))
    xy = np.column_stack([x, y]) + rng.uniform(-1, 1, (len(x), 2))
    depth = 5 + 0.02 * xy[:, 0] + rng.normal(0, noise, len(x))
    if spike is not None:
        depth[spike] += 6
    return DepthSurface.from_soundings(xy, depth, SQUARE), xy


def test_leaving_out_finds_a_plane_again():
    surface, _ = plane()
    assert leave_out_error(surface, np.array([[50.0, 50.0]])) == pytest.approx([0], abs=1e-9)


def test_leaving_out_tells_the_noise():
    # a sounding found from three others of the same noise misses by sqrt(1 + 1/3 to 1) of it
    surface, _ = plane(noise=0.3)
    error = leave_out_error(surface, np.random.default_rng(1).uniform(20, 80, (40, 2)))
    assert np.median(error) == pytest.approx(0.3 * 1.25, rel=0.2)


def test_too_few_to_tell():
    one = DepthSurface.from_soundings([[50, 50]], [4], SQUARE)
    assert np.isnan(leave_out_error(one, np.array([[50.0, 50.0], [np.nan, 0]]))).all()


def test_the_odd_one_is_named_and_no_other():
    surface, _ = plane(noise=0.1, spike=190)
    assert outlying_soundings(surface).tolist() == [190]
    assert outlying_soundings(plane(noise=0.1)[0]).tolist() == []


def test_contours_and_areas_of_a_cone():
    angle = 2 * np.pi * np.arange(180) / 180
    lake = shapely.Polygon(np.column_stack([100 * np.cos(angle), 100 * np.sin(angle)]))
    cone = DepthSurface.from_soundings([[0, 0]], [10], lake)
    grid = depth_grid(cone)
    areas = depth_areas(cone, grid, [2.5, 5.0, 12.0])
    # deeper than 2.5 m within 75 m, than 5 m within 50 m, than 12 m nowhere
    assert [a.area for a in areas] == pytest.approx([np.pi * 75**2, np.pi * 50**2, 0], rel=2e-3)
    lengths = [line.length for line in depth_contours(cone, grid, [2.5, 5.0])]
    assert lengths == pytest.approx([2 * np.pi * 75, 2 * np.pi * 50], rel=2e-3)
    assert np.nanmax(grid.depth_m) == pytest.approx(10, abs=0.1)
    assert unsounded(cone).is_empty
