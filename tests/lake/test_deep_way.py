"""Ways through deep water: basins on paper, a union of ever shallower edges, fine rasters."""

import heapq

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import ndimage

from lakemap.lake.along import AlongWays
from lakemap.lake.deep_way import WayNet
from lakemap.lake.depth import DepthSurface
from lakemap.lake.way_net import way_net

LONG = shapely.box(0, 0, 200, 60)


def surface_of(depth, water, step=2.0):
    west, south, east, north = water.bounds
    x, y = np.meshgrid(np.arange(west + 1, east, step), np.arange(south + 1, north, step))
    xy = np.column_stack([x.ravel(), y.ravel()])
    xy = xy[shapely.contains_xy(water, xy[:, 0], xy[:, 1])]
    return DepthSurface.from_soundings(xy, depth(xy), water)


def sill(xy):
    """8 m deep; a bar at x = 100 m, 1 m deep, with a gap 3 m deep at y = 45 m; sounded there."""
    across = np.clip(1 - np.abs(xy[:, 0] - 100) / 10, 0, 1)
    top = 1 + 2 * np.clip(1 - np.abs(xy[:, 1] - 45) / 6, 0, 1)
    return 8 + across * (top - 8)


@pytest.fixture(scope="module")
def barred():
    surface = surface_of(sill, LONG, step=1.0)
    return way_net(surface, [(20.0, 15.0), (180.0, 15.0)])


def union_of_edges(net, one, other):
    """Put edges in, the deepest first, until the two hang together."""
    head = list(range(len(net.xy)))

    def root(node):
        while head[node] != node:
            head[node] = head[head[node]]
            node = head[node]
        return node

    for k in np.argsort(-net.least_m, kind="stable").tolist():
        head[root(int(net.ends[k, 0]))] = root(int(net.ends[k, 1]))
        if root(one) == root(other):
            return float(net.least_m[k])
    return -np.inf


def plain_shortest(net, one, other, least_m):
    """Dijkstra with a heap, as every textbook has it."""
    beside = {}
    for (a, b), depth, length in zip(
        net.ends.tolist(), net.least_m.tolist(), net.length_m.tolist(), strict=True
    ):
        if depth >= least_m:
            beside.setdefault(a, []).append((b, length))
            beside.setdefault(b, []).append((a, length))
    best, ahead = {}, [(0.0, one)]
    while ahead:
        gone, at = heapq.heappop(ahead)
        if at in best:
            continue
        best[at] = gone
        for node, length in beside.get(at, ()):
            heapq.heappush(ahead, (gone + length, node))
    return best.get(other, np.inf)


def test_the_deepest_way_goes_through_the_gap(barred):
    start, end = barred.points.tolist()
    least = barred.deepest_way_m(start, end)
    assert least == pytest.approx(3.0, abs=1e-9)
    way = barred.shortest(start, end, least_m=least)
    assert way.least_m == pytest.approx(least, abs=1e-9)
    assert way.least_xy == pytest.approx(np.array([100, 45]), abs=1e-6)
    # over the gap by two straight pieces, and no less
    direct = 2 * np.hypot(80, 30)
    assert direct - 1.5 <= way.length_m <= direct * 1.02


def test_a_shallow_tow_goes_straight_over_the_bar(barred):
    start, end = barred.points.tolist()
    way = barred.shortest(start, end, least_m=0.9)
    assert way.length_m == pytest.approx(160)
    assert way.xy == pytest.approx(np.array([[20, 15], [180, 15]]))
    assert way.least_m == pytest.approx(1.0, abs=1e-9)
    assert way.least_xy == pytest.approx(np.array([100, 15]), abs=1e-6)
    assert barred.shortest(start, end, least_m=4.0) is None


def test_what_is_reached_ends_at_the_bar(barred):
    start, end = barred.points.tolist()
    there = barred.reached(start, least_m=4.0)
    assert there[start]
    assert not there[end]
    assert barred.xy[there][:, 0].max() < 100
    assert (barred.depth_m[there] >= 4.0).all()
    assert barred.reached(start, least_m=0.5)[end]
    assert not barred.reached(start, least_m=9.0).any()


def test_the_profile_is_that_of_the_surface(barred):
    start, end = barred.points.tolist()
    way = barred.shortest(start, end, least_m=2.0)
    pieces = np.hypot(*np.diff(way.xy, axis=0).T)
    gone = np.concatenate([[0], np.cumsum(pieces)])
    ask = np.linspace(0, way.length_m, 3000)
    at = np.column_stack([np.interp(ask, gone, axis) for axis in way.xy.T])
    asked = barred.along.surface.at(at)
    assert np.interp(ask, way.along_m, way.depth_m) == pytest.approx(asked, abs=1e-6)
    assert way.least_m <= asked.min() + 1e-9
    assert way.least_m == pytest.approx(asked.min(), abs=0.05)


def test_round_a_ring_island_by_the_nearer_side():
    island = shapely.Point(100, 60).buffer(30)
    water = shapely.box(0, 0, 200, 150).difference(island)
    net = way_net(surface_of(lambda xy: np.full(len(xy), 5.0), water, 5.0), [(40, 60), (160, 60)])
    start, end = net.points.tolist()
    way = net.shortest(start, end, least_m=0.0)
    # two tangents to the circle and the arc between them
    tangent, turn = np.sqrt(60**2 - 30**2), 2 * np.arcsin(30 / 60)
    assert way.length_m == pytest.approx(2 * tangent + 30 * turn, rel=0.02)
    assert shapely.covers(water.buffer(1e-6), shapely.linestrings(way.xy))


def test_a_spit_between_nodes_is_not_crossed():
    spit = shapely.box(99.9, 0, 100.1, 50)  # thinner than any step of the lattice
    water = LONG.difference(spit)
    net = way_net(surface_of(lambda xy: np.full(len(xy), 5.0), water, 4.0), [(90, 5), (110, 5)])
    start, end = net.points.tolist()
    way = net.shortest(start, end, least_m=0.0)
    assert way.length_m >= 2 * np.hypot(9.9, 45)
    assert way.length_m == pytest.approx(2 * np.hypot(9.9, 45) + 0.2, rel=0.02)


def test_two_lakes_have_no_way_between_them():
    water = shapely.union(shapely.box(0, 0, 40, 40), shapely.box(60, 0, 100, 40))
    net = way_net(surface_of(lambda xy: np.full(len(xy), 5.0), water, 4.0), [(20, 20), (80, 20)])
    start, end = net.points.tolist()
    assert net.deepest_way_m(start, end) == -np.inf
    assert net.distances_m(start)[end] == np.inf
    assert net.shortest(start, end, least_m=-1.0) is None


def rough(seed, count=150):
    rng = np.random.default_rng(seed)
    xy = rng.uniform(1, 99, (count, 2))
    depth = np.maximum(4 + 3 * np.sin(xy[:, 0] / 9 + seed) * np.cos(xy[:, 1] / 7), 0.1)
    water = shapely.box(0, 0, 100, 100)
    ends = rng.uniform(5, 95, (2, 2))
    return DepthSurface.from_soundings(xy, depth, water), ends


@pytest.mark.parametrize("seed", range(3))
def test_the_tree_tells_what_putting_in_edges_one_by_one_does(seed):
    surface, ends = rough(seed)
    net = way_net(surface, ends)
    one, other = net.points.tolist()
    least = net.deepest_way_m(one, other)
    assert least == pytest.approx(
        min(union_of_edges(net, one, other), net.depth_m[one], net.depth_m[other])
    )
    assert net.deepest_way_m(other, one) == least
    way = net.shortest(one, other, least_m=least)
    assert way.least_m >= least - 1e-9
    # pulled straight: no longer than on the net, no shorter than the crow flies
    assert way.length_m <= plain_shortest(net, one, other, least - 1e-9) + 1e-9
    assert way.length_m >= np.hypot(*(ends[1] - ends[0])) - 1e-9
    assert net.distances_m(one)[other] == pytest.approx(plain_shortest(net, one, other, -1.0))


@pytest.mark.parametrize("seed", range(4))
def test_the_deepest_way_is_that_of_a_fine_raster(seed):
    """A raster of 0.2 m sees the same water hang together, but for its own step."""
    surface, ends = rough(seed)
    net = way_net(surface, ends)
    least = net.deepest_way_m(*net.points.tolist())
    at = np.arange(0.1, 100, 0.2)
    x, y = np.meshgrid(at, at)
    depth = surface.at(np.column_stack([x.ravel(), y.ravel()])).reshape(x.shape)
    depth = np.nan_to_num(depth)
    (c0, r0), (c1, r1) = (np.round((end - 0.1) / 0.2).astype(int) for end in ends)

    def joined(threshold):
        label, _ = ndimage.label(depth >= threshold, structure=np.ones((3, 3)))
        return label[r0, c0] == label[r1, c1] != 0

    assert joined(least - 0.08)
    assert not joined(least + 0.08)


@settings(max_examples=30)
@given(seed=st.integers(0, 5), ways=st.integers(0, 10**6))
def test_the_least_along_a_way_is_what_dense_asking_finds(seed, ways):
    surface, _ = rough(seed)
    along = AlongWays(surface=surface)
    start, end = np.random.default_rng(ways).uniform(2, 98, (2, 5, 2))
    least = along.least(start, end)
    share = np.linspace(0, 1, 4000)[:, None, None]
    at = start + share * (end - start)
    depth = np.nan_to_num(surface.at(at.reshape(-1, 2))).reshape(4000, 5)
    assert (least <= depth.min(axis=0) + 1e-9).all()
    assert least == pytest.approx(depth.min(axis=0), abs=0.05)


def test_along_an_edge_and_through_corners_of_the_surface():
    # four triangles that meet at a sounding 8 m deep; the shore is 0 deep
    surface = DepthSurface.from_soundings([[10.0, 10.0]], [8.0], shapely.box(0, 0, 20, 20))
    along = AlongWays(surface=surface)
    start, end = np.array([[0.0, 0], [0, 10], [5, 10]]), np.array([[20.0, 20], [20, 10], [15, 10]])
    assert along.least(start, end) == pytest.approx([0, 0, 4])
    found = along.crossings(start[2:], end[2:])
    assert found.depth_m.max() == pytest.approx(8)


def test_where_nobody_sounded_it_is_as_deep_as_the_shore():
    rng = np.random.default_rng(0)
    xy = rng.uniform(1, 40, (400, 2))
    water = shapely.box(0, 0, 1000, 41)
    surface = DepthSurface.from_soundings(xy, np.full(400, 5.0), water)
    assert np.isnan(surface.at([[600.0, 20.0]])[0])
    net = way_net(surface, [(20.0, 20.0), (600.0, 20.0)])
    assert net.deepest_way_m(*net.points.tolist()) == 0.0
    assert isinstance(net, WayNet)


def test_a_place_on_land_takes_the_nearest_water():
    net = way_net(surface_of(lambda xy: np.full(len(xy), 5.0), LONG, 4.0), [(-3.0, 30.0)])
    assert np.hypot(*(net.xy[net.points[0]] - [0, 30])) <= 4
