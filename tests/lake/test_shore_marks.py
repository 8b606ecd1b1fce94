"""Bearings against geodesics, the error of a fix against trials, the choice against all pairs."""

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pyproj import Geod

from lakemap.basis.errors import RangeError
from lakemap.lake.projection import LakeProjection
from lakemap.lake.shore_marks import best_pair, convergence_deg, fix_error_m, grid_bearing_deg


@given(
    lat0=st.floats(-65, 65),
    east=st.floats(-5000, 5000),
    north=st.floats(-5000, 5000),
    way=st.floats(5, 2000),
    bearing=st.floats(0, 360),
)
def test_true_bearings_are_those_of_geodesics(lat0, east, north, way, bearing):
    where = LakeProjection(lon0=20.0, lat0=lat0)
    angle = np.radians(bearing)
    xy = np.array([[east, north], [east + way * np.sin(angle), north + way * np.cos(angle)]])
    lon, lat = where.to_lonlat(*xy.T)
    there, back, length = Geod(ellps="WGS84").inv(lon[0], lat[0], lon[1], lat[1])
    turned = convergence_deg(lon, lat, lon0=20.0)
    got = grid_bearing_deg([xy[1] - xy[0], xy[0] - xy[1]]) + turned
    # 0.01 degrees of all; a lake 10 km across bends them by less than 0.001
    off = (got - [there, back] + 180) % 360 - 180
    assert np.abs(off).max() < 0.001
    assert np.hypot(*(xy[1] - xy[0])) == pytest.approx(length, rel=1e-6, abs=1e-4)


def test_convergence_on_paper():
    # sin 30 is 1/2; none on the middle meridian or the equator; westwards it is negative
    got = convergence_deg([10.1, 10.0, 10.1, 9.9], [30.0, 30.0, 0.0, 30.0], lon0=10.0)
    assert got == pytest.approx([0.05, 0, 0, -0.05], abs=1e-6)


def test_bearings_on_the_grid():
    assert grid_bearing_deg([[0, 1], [1, 0], [0, -1], [-1, 0], [1, 1]]) == pytest.approx(
        [0, 90, 180, 270, 45]
    )


def test_right_angles_on_paper():
    # 100 m from both, 2 degrees each: 100 x 0.0349 x sqrt 2
    assert fix_error_m([100, 100], 90.0, sight_deg=2.0) == pytest.approx(4.9365, abs=1e-3)
    assert fix_error_m([30, 40], 30.0, sight_deg=1.0) == pytest.approx(50 * np.radians(1) * 2)


@pytest.mark.parametrize("crossing", [30, 60, 90, 130])
@pytest.mark.parametrize("far", [(80, 80), (50, 200)])
def test_trials_scatter_as_the_formula_says(crossing, far):
    """Both bearings off at random, the lines drawn and crossed: 40 000 times."""
    rng = np.random.default_rng(5)
    error = np.radians(0.5)
    way = np.radians([0, crossing])
    marks = np.array(far)[:, None] * np.column_stack([np.sin(way), np.cos(way)])
    seen = way + rng.normal(0, error, (40_000, 2))
    direction = np.stack([np.sin(seen), np.cos(seen)], axis=-1)
    # from each mark back along the bearing seen
    (ax, ay), (bx, by) = direction[:, 0].T, direction[:, 1].T
    dx, dy = marks[1] - marks[0]
    along = (dx * by - dy * bx) / (ax * by - ay * bx)
    at = marks[0] + along[:, None] * direction[:, 0]
    scatter = np.sqrt((at**2).sum(axis=1).mean())
    assert fix_error_m(far, float(crossing), sight_deg=0.5) == pytest.approx(scatter, rel=0.02)


@given(
    seed=st.integers(0, 10**6),
    count=st.integers(2, 9),
)
def test_the_best_of_all_pairs(seed, count):
    marks = np.random.default_rng(seed).uniform(-100, 100, (count, 2))
    got = best_pair(marks, [0.0, 0.0])
    tried = []
    for one, other in combinations(range(count), 2):
        a, b = marks[one], marks[other]
        turn = abs(np.degrees(np.arctan2(a[0], a[1]) - np.arctan2(b[0], b[1]))) % 180
        turn = min(turn, 180 - turn)
        error = np.radians(2.0) * np.hypot(np.hypot(*a), np.hypot(*b)) / np.sin(np.radians(turn))
        if min(np.hypot(*a), np.hypot(*b)) >= 1:
            tried.append((error, turn, (one, other)))
    sharp = [one for one in tried if one[1] >= 30] or sorted(tried, key=lambda one: -one[1])[:1]
    error, turn, pair = min(sharp)
    assert (got.first, got.second) == pair
    assert got.fix_error_m == pytest.approx(error)
    assert got.crossing_deg == pytest.approx(turn)


def test_no_pair_where_all_lie_in_one_line_or_at_the_place():
    assert best_pair(np.array([[10.0, 0], [20, 0], [-5, 0]]), [0.0, 0.0]) is None
    assert best_pair(np.array([[10.0, 0], [0.1, 0.1]]), [0.0, 0.0]) is None
    assert best_pair(np.empty((0, 2)), [0.0, 0.0]) is None


def test_sights_that_do_not_cross_are_refused():
    with pytest.raises(RangeError, match=r"sights must cross"):
        fix_error_m([10, 10], 0.0)
    with pytest.raises(RangeError, match=r"sights must cross"):
        fix_error_m([0, 10], 90.0)
