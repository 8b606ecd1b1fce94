"""Pairs and shapes against brute force."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from lakemap.clearances.pairs import near_pairs
from lakemap.clearances.shapes import Shape, near_shapes, signed_distance


@given(st.integers(0, 10_000), st.integers(0, 40), st.floats(0, 60))
def test_pairs_against_the_whole_table(seed, count, limit):
    rng = np.random.default_rng(seed)
    xy, radius = rng.uniform(0, 300, (count, 2)), rng.uniform(0, 40, count)
    found = near_pairs(xy, radius, limit_m=limit)
    table = np.hypot(*(xy[:, None] - xy[None]).transpose(2, 0, 1)) - radius[:, None] - radius[None]
    np.fill_diagonal(table, np.inf)
    got = {
        (a, b): gap
        for a, b, gap in zip(
            found.first.tolist(), found.second.tolist(), found.gap_m.tolist(), strict=True
        )
    }
    wanted = {(a, b) for a in range(count) for b in range(a + 1, count) if table[a, b] < limit}
    assert wanted <= got.keys()
    for (a, b), gap in got.items():
        assert gap == pytest.approx(table[a, b], abs=1e-9)
    for k in range(count if count > 1 else 0):
        best = min(gap for pair, gap in got.items() if k in pair)
        assert best == pytest.approx(table[k].min(), abs=1e-9)


def star(rng, x, y, size):
    angle = np.linspace(0, 2 * np.pi, 40)[:-1]
    r = size * rng.uniform(0.5, 1, len(angle))
    return shapely.Polygon(np.column_stack([x + r * np.cos(angle), y + r * np.sin(angle)]))


@given(st.integers(0, 10_000))
def test_shapes_against_the_general_library(seed):
    rng = np.random.default_rng(seed)
    shapes = [
        Shape(geometry=star(rng, *rng.uniform(0, 300, 2), rng.uniform(5, 60))) for _ in range(5)
    ]
    two = shapely.union_all([star(rng, 20, 20, 15), star(rng, 250, 250, 15)])
    shapes.append(Shape(geometry=two))
    shapes.append(Shape(geometry=shapely.LineString(rng.uniform(0, 300, (4, 2))), width_m=14.0))
    xy, limit = rng.uniform(-50, 350, (30, 2)), np.full(30, 40.0)
    found = near_shapes(shapes, xy, within_m=limit)
    points = shapely.points(xy)

    def plain(shape):
        if shape.width_m:
            return shapely.distance(shape.geometry, points) - shape.width_m / 2
        inside = shapely.contains(shape.geometry, points)
        edge = shapely.distance(shapely.boundary(shape.geometry), points)
        return np.where(inside, -edge, edge)

    table = np.column_stack([plain(shape) for shape in shapes])
    got = {
        (p, s): d
        for p, s, d in zip(
            found.point.tolist(), found.shape.tolist(), found.distance_m.tolist(), strict=True
        )
    }
    for p in range(30):
        assert min(d for (q, _), d in got.items() if q == p) == pytest.approx(
            table[p].min(), abs=1e-9
        )
        for s in range(len(shapes)):
            if table[p, s] < 40:
                assert got[p, s] == pytest.approx(table[p, s], abs=1e-9)


def test_a_hole_in_a_zone_is_outside_it():
    ring = shapely.box(0, 0, 40, 40).difference(shapely.box(10, 10, 30, 30))
    distance, nearest = signed_distance(Shape(geometry=ring), np.array([[20.0, 20.0], [5, 20]]))
    assert distance == pytest.approx([10, -5])
    assert shapely.distance(shapely.points(nearest), ring.boundary) == pytest.approx([0, 0])


def test_nothing_near():
    found = near_shapes([], np.zeros((3, 2)), within_m=np.ones(3))
    assert len(found.point) == 0
