"""Bounds: never under what fits, near to it, and each step of their proof by other means."""

import itertools

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import Voronoi, cKDTree

from lakemap.basis.errors import RangeError
from lakemap.siting.packing import PackingQuestion, pack
from lakemap.siting.packing_bounds import oler_bound, upper_bound
from lakemap.siting.packing_hexagons import hexagon_bound, least_cell

pytestmark = pytest.mark.slow


def lowest(slope, base):
    """The least of a plane of radii over a piece: at one of its corners."""

    def low(piece):
        return float((base + shapely.get_coordinates(piece) @ slope).min())

    return low


def blob(seed, radius):
    rng = np.random.default_rng(seed)
    angle = np.linspace(0, 2 * np.pi, 41)[:-1]
    bulge = sum(rng.uniform(-0.25, 0.25) * np.sin(k * angle + 6 * rng.uniform()) for k in (2, 3, 5))
    r = radius * (1 + bulge)
    return shapely.Polygon(np.column_stack([r * np.cos(angle), r * np.sin(angle)]))


@settings(max_examples=16, deadline=None)
@given(st.integers(0, 10**6), st.floats(4.0, 40.0), st.floats(0.0, 5.0), st.floats(0, 0.03))
def test_never_under_a_packing(seed, base, gap, steep):
    rng = np.random.default_rng(seed)
    region = blob(seed, 60.0)
    if seed % 3 == 0:
        region = region.difference(region.buffer(-rng.uniform(1, 30)))
    if seed % 5 == 0:
        region = region.difference(shapely.box(-3, -200, 3, 200))
    slope = steep * np.array([np.cos(seed), np.sin(seed)])
    question = PackingQuestion(
        region=region, radius_at=lambda xy: base + xy @ slope, gap_m=gap, seed=seed
    )
    bound = upper_bound(region, radius_low=lowest(slope, base), gap_m=gap)
    assert len(pack(question, budget=60_000).xy) <= bound.most


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 10**6), st.floats(1.0, 5.0))
def test_never_under_the_most_of_a_few_places(seed, apart):
    # regions of specks: the most that fit is found by trying every choice
    rng = np.random.default_rng(seed)
    places = rng.uniform(0, 6, (9, 2))
    region = shapely.union_all([shapely.Point(p).buffer(1e-6, quad_segs=2) for p in places])
    near = np.hypot(*(places[:, None] - places[None]).transpose(2, 0, 1)) < apart + 2e-6
    np.fill_diagonal(near, val=False)
    most = max(
        size
        for size in range(1, 10)
        for some in itertools.combinations(range(9), size)
        if not near[np.ix_(some, some)].any()
    )
    assert upper_bound(region, radius_low=lambda _: apart / 2).most >= most


@pytest.mark.parametrize(
    ("region", "found", "within"),
    [
        (blob(3, 300.0), None, 1.15),
        (shapely.Point(0, 0).buffer(300, quad_segs=64), None, 1.1),
    ],
)
def test_near_what_fits(region, found, within):
    question = PackingQuestion(
        region=region, radius_at=lambda xy: np.full(len(xy), 12.0), gap_m=1.5
    )
    found = len(pack(question, budget=1_000_000).xy)
    assert found <= upper_bound(region, radius_low=lambda _: 12.0, gap_m=1.5).most <= within * found


@pytest.mark.parametrize(("width", "within"), [(4, 1.05), (12, 1.15), (20, 1.25)])
def test_near_what_fits_along_a_shore(width, within):
    shore = shapely.Point(0, 0).buffer(400, quad_segs=64)
    region = shore.difference(shapely.Point(0, 0).buffer(400 - width, quad_segs=64))
    apart = 25.0
    # a zigzag of single circles along the middle, as the strip's exact best
    found = int(2 * np.pi * (400 - width / 2) / np.sqrt(apart**2 - width**2))
    most = upper_bound(region, radius_low=lambda _: 12.5).most
    assert 0.99 * found <= most <= within * found


def test_near_what_fits_where_radii_differ():
    region, slope = blob(7, 400.0), np.array([0.004, 0.003])
    question = PackingQuestion(region=region, radius_at=lambda xy: 12 + xy @ slope, gap_m=1.5)
    found = len(pack(question, budget=1_500_000).xy)
    most = upper_bound(region, radius_low=lowest(slope, 12.0), gap_m=1.5).most
    assert found <= most <= 1.2 * found


def test_holes_never_raise_it():
    whole = shapely.box(0, 0, 300, 300)
    for size in (5, 40, 100, 145):
        holed = whole.difference(shapely.Point(150, 150).buffer(size))
        assert (
            upper_bound(holed, radius_low=lambda _: 10.0).most
            <= upper_bound(whole, radius_low=lambda _: 10.0).most
        )


@pytest.mark.parametrize(
    ("region", "most"),
    [
        (shapely.Polygon(), 0),
        (shapely.Point(0, 0), 1),
        (shapely.box(0, 0, 5, 5), 1),
        (shapely.LineString([(0, 0), (60, 0)]), 4),
        (shapely.union_all([shapely.box(900 * k, 0, 900 * k + 1, 1) for k in range(9)]), 9),
        (shapely.GeometryCollection([shapely.Point(0, 0), shapely.box(99, 0, 100, 1)]), 2),
    ],
)
def test_degenerate_regions(region, most):
    assert upper_bound(region, radius_low=lambda _: 10.0).most == most


def test_source_names_the_theorem():
    square = upper_bound(shapely.box(0, 0, 200, 100), radius_low=lambda _: 10.0)
    assert "Oler" in square.source
    specks = shapely.union_all([shapely.box(900 * k, 0, 900 * k + 1, 1) for k in range(9)])
    assert "one diameter" in upper_bound(specks, radius_low=lambda _: 10.0).source
    star = blob(3, 300.0).difference(shapely.box(-2, 0, 2, 400))
    assert "Toth" in upper_bound(star, radius_low=lambda _: 10.0).source


@pytest.mark.parametrize("radius", [0.0, -1.0, float("nan")])
def test_radii_that_bound_nothing(radius):
    with pytest.raises(RangeError, match="above 0"):
        upper_bound(shapely.box(0, 0, 10, 10), radius_low=lambda _: radius)
    with pytest.raises(RangeError, match="above 0"):
        oler_bound(1.0, perimeter_m=4.0, apart_m=radius)


def test_equal_cells_are_hexagons():
    # area of the hexagon about a circle: 6 triangles of height rho
    rho = np.array([1.0, 12.75])
    assert least_cell(rho, near_rho=rho) == pytest.approx(6 * rho**2 * np.tan(np.pi / 6))


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10**6), st.floats(0.0, 0.5))
def test_no_cell_is_smaller(seed, spread):
    """Voronoi cells of random tight packings of unequal circles, cut to their discs by shapely."""
    rng = np.random.default_rng(seed)
    xy, rho = np.empty((0, 2)), np.empty(0)
    for place in rng.uniform(0, 12, (1500, 2)):
        size = 1 + spread * (place[0] / 12 + rng.uniform(0, 0.3))
        if (np.hypot(*(xy - place).T) >= rho + size).all():
            xy, rho = np.vstack([xy, place]), np.append(rho, size)
    cells = Voronoi(np.vstack([xy, xy.mean(axis=0) + 100 * np.array([[1, 0], [-1, 1], [-1, -1]])]))
    tree = cKDTree(xy)
    for k, (centre, own) in enumerate(zip(xy, rho, strict=True)):
        corners = cells.regions[cells.point_region[k]]
        if -1 in corners:
            continue
        near = own  # the least among those within 4 / sqrt(3) times it, made smaller step by step
        while True:
            least = rho[tree.query_ball_point(centre, 4 / np.sqrt(3) * near)].min()
            if least >= near:
                break
            near = least
        disc = shapely.Point(centre).buffer(2 / np.sqrt(3) * near, quad_segs=64)
        cell = shapely.MultiPoint(cells.vertices[corners]).convex_hull.intersection(disc)
        assert cell.area >= least_cell(np.array([own]), near_rho=np.array([near]))[0] * 0.9997


@settings(max_examples=15, deadline=None)
@given(st.integers(0, 10**6), st.floats(0.5, 8.0))
def test_hexagon_bound_of_equal_circles_is_a_buffer(seed, rho):
    region = blob(seed, 50.0)
    plain = shapely.buffer(region, 2 * rho / np.sqrt(3), quad_segs=200).area / (
        np.sqrt(12) * rho**2
    )
    bound = hexagon_bound(region, lambda _: rho)
    assert plain * (1 - 1e-6) <= bound <= plain * 1.01 + 0.05
