"""Rays through corners of many shores, and depth along rays where the soundings end."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from lakemap.lake.depth import DepthSurface
from lakemap.lake.exposure import fetch_lengths, mean_depths


@settings(max_examples=60)
@given(
    st.integers(3, 90),
    st.floats(0, 360),
    st.floats(20, 5000),
    st.tuples(st.floats(-1e4, 1e4), st.floats(-1e4, 1e4)),
)
def test_no_ray_slips_out_through_a_corner(corners, first_deg, radius, middle):
    # from the middle of a polygon to each of its corners, whatever the rounding there
    bearings = first_deg + np.arange(corners) * 360 / corners
    angle = np.radians(bearings)
    ring = np.column_stack([np.sin(angle), np.cos(angle)]) * radius + middle
    fetch = fetch_lengths(shapely.Polygon(ring), [middle], bearings)
    assert fetch[0] == pytest.approx(np.full(corners, radius), rel=1e-9, abs=1e-8)


@settings(max_examples=20)
@given(st.integers(0, 2**32 - 1))
def test_a_ray_to_a_corner_stops_there_or_at_the_next_shore(seed):
    # the corners of a star stand in and out: a ray aimed at one ends at it, before it, or passes
    rng = np.random.default_rng(seed)
    angle = np.sort(rng.uniform(0, 2 * np.pi, 40))
    radius = rng.uniform(200, 900, 40)
    lake = shapely.Polygon(np.column_stack([radius * np.sin(angle), radius * np.cos(angle)]))
    point = np.array([3.0, -5.0])
    if not shapely.contains_xy(lake, *point):
        return
    corners = shapely.get_coordinates(lake.exterior)[:-1]
    away = corners - point
    fetch = fetch_lengths(lake, [point], np.degrees(np.arctan2(away[:, 0], away[:, 1])))[0]
    assert np.isfinite(fetch).all()
    ends = point + away / np.hypot(*away.T)[:, None] * fetch[:, None]
    assert shapely.distance(shapely.points(ends), lake.boundary) == pytest.approx(0, abs=1e-6)
    short = fetch * (1 - 1e-6)
    water = [
        lake.buffer(1e-6).covers(shapely.LineString([point, point + way * much]))
        for way, much in zip(away / np.hypot(*away.T)[:, None], short, strict=True)
    ]
    assert all(water)


def test_the_shore_beyond_the_soundings_lends_no_depth():
    # 2 km by 203 m, sounded in the west only: past the last sounded place, and half a node of the
    # grid of depths (256 along the longer side), nothing is known, not even beside the shore
    lake = shapely.box(0, 0, 2000, 203)
    x, y = (grid.ravel() for grid in np.meshgrid(np.arange(5, 700, 10), np.arange(5, 200, 10)))
    surface = DepthSurface.from_soundings(
        np.column_stack([x, y]), np.full(len(x), 6.0), lake, shore_depth_m=6.0
    )
    half_node = 2000 / 255 / 2
    east = np.arange(680.0, 780.0)
    dense = np.array(
        [[east[k], north] for k in range(len(east)) for north in np.linspace(100, 202.9, 60)]
    )
    known = ~np.isnan(surface.at_wet(dense)).reshape(len(east), 60)
    last = east[known.any(axis=1)].max()
    assert 700 < last < 760
    points = np.column_stack([east, np.full(len(east), 100.0)])
    mean = mean_depths(surface, points, [0.0], fetch_lengths(lake, points, [0.0]))[:, 0]
    assert np.isnan(mean[east > last + 1 + half_node]).all()
    assert mean[east < last - half_node] == pytest.approx(6)
