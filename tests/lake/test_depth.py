"""The depth surface against cones and planes known on paper, brute force and a general library."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.interpolate import LinearNDInterpolator

from lakemap.basis.errors import RangeError
from lakemap.lake.depth import DepthSurface

SIDES = 64
ANGLE = 2 * np.pi * np.arange(SIDES) / SIDES
CONE = shapely.Polygon(np.column_stack([100 * np.cos(ANGLE), 100 * np.sin(ANGLE)]))
SQUARE = shapely.box(-100, -100, 100, 100)


@pytest.fixture(scope="module")
def cone():
    """One sounding of 10 m in the middle, 0 at the shore 100 m away: a cone with flat sides."""
    return DepthSurface.from_soundings([[0.0, 0.0]], [10.0], CONE)


@pytest.fixture(scope="module")
def rough():
    rng = np.random.default_rng(3)
    xy = rng.uniform(-98, 98, (400, 2))
    depth = 8 + 2 * np.sin(xy[:, 0] / 20) + rng.normal(0, 0.4, 400)
    return DepthSurface.from_soundings(xy, depth, SQUARE)


def test_cone_depth(cone):
    assert cone.at([[0, 0], [50, 0], [25, 0], [100, 0]]) == pytest.approx([10, 5, 7.5, 0])


def test_cone_least_and_greatest(cone):
    # down a ridge at 50 m: 10 m either way is 1 m of depth; the flat sides lie nearer the shore by
    # cos(pi/64), so across them the slope is steeper by that
    steep = 0.1 / np.cos(np.pi / SIDES)
    least = cone.least_within([[50, 0], [0, 0]], [10, 20])
    assert least[1] == pytest.approx(10 - 20 * steep)
    assert 4 - 10 * (steep - 0.1) - 1e-9 <= least[0] <= 4
    greatest = cone.greatest_within([[50, 0], [5, 0], [0, 0]], [10, 20, 3])
    assert greatest == pytest.approx([6, 10, 10])


def test_circle_that_sticks_out_on_land_touches_the_shore(cone):
    assert cone.least_within([[95, 0]], 20) == pytest.approx([0], abs=1e-9)
    assert np.isnan(cone.least_within([[500, 0]], 20))[0]


def test_shore_depth(cone):
    high = DepthSurface.from_soundings([[0, 0]], [10], CONE, shore_depth_m=-1.0)
    assert high.at([[100, 0], [50, 0]]) == pytest.approx([-1.0, 4.5])


def test_plane_bed_with_several_soundings_in_a_block():
    rng = np.random.default_rng(1)
    xy = rng.uniform(-90, 90, (500, 2))
    xy = np.concatenate([xy, xy + rng.uniform(-0.2, 0.2, xy.shape)])
    depth = 5 + 0.01 * xy[:, 0] - 0.02 * xy[:, 1]
    surface = DepthSurface.from_soundings(xy, depth, SQUARE)
    ask = rng.uniform(-60, 60, (200, 2))
    assert surface.at(ask) == pytest.approx(5 + 0.01 * ask[:, 0] - 0.02 * ask[:, 1], abs=1e-9)


def test_against_the_general_interpolator(rough):
    mesh = rough.mesh
    general = LinearNDInterpolator(mesh.xy, mesh.depth_m)
    ask = np.random.default_rng(2).uniform(-95, 95, (500, 2))
    assert rough.at(ask) == pytest.approx(general(ask), abs=1e-9)


def test_dense_sampling_never_finds_a_shallower_point(rough):
    rng = np.random.default_rng(4)
    centres, radius = rng.uniform(-80, 80, (30, 2)), rng.uniform(0.5, 25, 30)
    least, greatest = rough.least_within(centres, radius), rough.greatest_within(centres, radius)
    for k in range(30):
        r, a = radius[k] * np.sqrt(rng.uniform(size=8000)), rng.uniform(0, 2 * np.pi, 8000)
        points = centres[k] + np.column_stack([r * np.cos(a), r * np.sin(a)])
        points = points[(np.abs(points) < 100).all(axis=1)]
        depth = rough.at(points)
        assert least[k] <= depth.min() + 1e-9
        assert greatest[k] >= depth.max() - 1e-9
        # and it is reached: within what a step to the nearest of 8000 samples can miss
        assert least[k] == pytest.approx(depth.min(), abs=0.12 * radius[k] ** 0.5 + 0.1)


def test_a_circle_of_no_radius_is_the_point(rough):
    ask = np.random.default_rng(5).uniform(-90, 90, (50, 2))
    assert rough.least_within(ask, 0.0) == pytest.approx(rough.at(ask), abs=1e-9)


@settings(max_examples=30, deadline=None)
@given(st.floats(0, 360), st.floats(-1e4, 1e4), st.booleans(), st.floats(1, 40))
def test_turning_moving_and_mirroring_change_nothing(turn, shift, mirror, radius):
    rng = np.random.default_rng(6)
    xy, depth = rng.uniform(-95, 95, (60, 2)), rng.uniform(2, 9, 60)
    a = np.radians(turn)
    frame = np.array([[np.cos(a), -np.sin(a)], [np.sin(a), np.cos(a)]]) @ np.diag(
        [1, -1 if mirror else 1]
    )

    def moved(points):
        return points @ frame.T + shift

    ask = rng.uniform(-60, 60, (5, 2))
    plain = DepthSurface.from_soundings(xy, depth, SQUARE).least_within(ask, radius)
    turned = DepthSurface.from_soundings(moved(xy), depth, shapely.transform(SQUARE, moved))
    assert turned.least_within(moved(ask), radius) == pytest.approx(plain, abs=1e-6)


@given(st.floats(0, 60), st.floats(0, 60))
def test_a_larger_circle_is_never_deeper(rough, radius, more):
    inner, outer = rough.least_within([[10, 20], [10, 20]], [radius, radius + more])
    assert outer <= inner + 1e-9


def test_no_triangle_reaches_across_a_cape():
    # a spit 1 m wide between two basins, 3 m deep in the west and 9 m in the east
    spit = shapely.box(-50, -50, 50, 50).difference(shapely.box(-0.5, -50, 0.5, 40))
    at = np.arange(-45, 46, 10.0)
    x, y = (grid.ravel() for grid in np.meshgrid(at, at))
    xy = np.column_stack([x, y])
    surface = DepthSurface.from_soundings(xy, np.where(x < 0, 3.0, 9.0), spit)
    west, east = surface.greatest_within([[-3, 0], [3, 0]], 2.4)
    assert west <= 3 + 1e-9
    assert east > 3
    crossing = surface.mesh.xy[surface.mesh.corners[surface.mesh.wet]]
    lines = shapely.polygons(crossing)
    cut = shapely.area(shapely.intersection(lines, shapely.box(-0.5, -50, 0.5, 40)))
    assert cut.max() < 1e-6


def test_islands_are_no_water():
    island = shapely.Polygon(SQUARE.exterior, [shapely.box(-20, -20, 20, 20).exterior])
    rng = np.random.default_rng(7)
    xy = rng.uniform(-95, 95, (300, 2))
    xy = xy[(np.abs(xy) > 21).any(axis=1)]
    surface = DepthSurface.from_soundings(xy, np.full(len(xy), 6.0), island)
    with pytest.raises(RangeError, match=r"(?s)\[1\] 0.00, 0.00 m: outside the water"):
        surface.at([[60, 60], [0, 0]])
    assert surface.least_within([[30, 0]], 12) == pytest.approx([0.0], abs=1e-9)


def test_water_that_nobody_sounded():
    # soundings every 10 m in the eastern half only
    at = np.arange(-95, 96, 10.0)
    x, y = (grid.ravel() for grid in np.meshgrid(at[at > 0], at))
    surface = DepthSurface.from_soundings(np.column_stack([x, y]), np.full(len(x), 6.0), SQUARE)
    depth = surface.at([[50, 0], [-60, 0]])
    assert depth[0] == pytest.approx(6.0)
    assert np.isnan(depth[1])


def test_few_soundings_say_nothing_of_their_gaps(cone):
    assert not np.isnan(cone.at([[99, 0], [0, -95]])).any()


def test_what_cannot_be_a_surface():
    with pytest.raises(RangeError, match="no soundings"):
        DepthSurface.from_soundings(np.empty((0, 2)), [], SQUARE)
    with pytest.raises(RangeError, match=r"\[1\] 500.00, 0.00 m: no depth, or outside"):
        DepthSurface.from_soundings([[0, 0], [500, 0]], [3, 3], SQUARE)
    with pytest.raises(RangeError, match="2 positions but 1"):
        DepthSurface.from_soundings([[0, 0], [5, 0]], [3], SQUARE)
    with pytest.raises(RangeError, match="radius >= 0"):
        DepthSurface.from_soundings([[0, 0]], [3], SQUARE).least_within([[0, 0]], -1)
