"""Free water against shapely, layer by layer, and against values worked out by hand."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from lakemap.basis.errors import RangeError
from lakemap.siting import blocks, least, pieces
from lakemap.siting.free_water import FreeWater, room_grid
from lakemap.siting.records import Layer


def layer(geometry, required_m=0.0, **more):
    return Layer(name="it", kind="hazard", geometry=geometry, required_m=required_m, **more)


def free_of(*layers, circles=()):
    xym = np.array(circles, dtype=float).reshape(-1, 3)
    return FreeWater.of(layers, circles_xy=xym[:, :2], circles_m=xym[:, 2])


def room(free, *points):
    return free.room(np.array(points, dtype=float))


def plainly(layers, circles, xy):
    """Every layer and circle by shapely alone; [n, layers + circles]."""
    points, columns = shapely.points(xy), []
    for one in layers:
        if shapely.get_dimensions(one.geometry) == 1:
            distance = shapely.distance(points, one.geometry) - one.width_m / 2
        else:
            distance = shapely.distance(points, shapely.boundary(one.geometry))
            within = shapely.contains(one.geometry, points)
            distance = np.where(within == one.inside, distance, -distance)
        columns.append(distance - one.required_m)
    columns.extend(shapely.distance(points, shapely.Point(x, y)) - m for x, y, m in circles)
    return np.column_stack(columns) if columns else np.empty((len(xy), 0))


def star(rng, *, round_to, corners=None):
    """A simple polygon, at times with a hole, from corners that may coincide."""
    corners = corners or int(rng.integers(3, 30))
    angle = np.sort(rng.uniform(0, 2 * np.pi, corners))
    ray = np.column_stack([np.cos(angle), np.sin(angle)])
    middle, radius = rng.uniform(-60, 60, 2), rng.uniform(5, 60)
    shell = np.round(middle + ray * (radius * rng.uniform(0.6, 1, corners))[:, None], round_to)
    hole = shapely.Polygon(np.round(middle + ray * radius * 0.3, round_to)).buffer(0)
    shape = shapely.make_valid(shapely.Polygon(shell)).buffer(0)
    return shape - hole if rng.random() < 0.5 else shape


def scene(seed, count, circles):
    """Layers of all sorts; coordinates at times in whole metres, so that much coincides."""
    rng = np.random.default_rng(seed)
    round_to = int(rng.choice([0, 1, 9]))
    layers = []
    for _ in range(count):
        sort, required = rng.integers(4), float(rng.choice([0, 5, -3, rng.uniform(0, 40)]))
        if sort == 0:
            walk = np.cumsum(rng.normal(0, 15, (rng.integers(2, 20), 2)), axis=0)
            line = shapely.LineString(np.round(walk + rng.uniform(-60, 60, 2), round_to))
            layers.append(layer(line, required, width_m=float(rng.uniform(0, 20))))
            continue
        area = star(rng, round_to=round_to)
        if sort == 1:
            area = shapely.union_all([area, star(rng, round_to=round_to)])
        if not area.is_empty:
            layers.append(layer(area, required, inside=bool(sort == 2)))
    if layers and rng.random() < 0.3:
        layers.append(layers[0])
    xym = np.column_stack([rng.uniform(-100, 100, (circles, 2)), rng.uniform(0, 60, circles)])
    xym[:, :2] = np.round(xym[:, :2], round_to)
    corners = [shapely.get_coordinates(one.geometry) for one in layers]
    xy = np.concatenate([rng.uniform(-150, 150, (200, 2)), *corners, xym[:, :2], xym[:1, :2]])
    return layers, xym, np.round(xy, round_to)


scenes = st.builds(
    scene, st.integers(0, 2**32 - 1), st.integers(0, 9), st.one_of(st.just(0), st.integers(1, 30))
).filter(lambda made: made[0] or len(made[1]))


@given(scenes)
def test_is_the_least_of_all_and_tells_which(made):
    layers, circles, xy = made
    free = free_of(*layers, circles=circles)
    every = plainly(layers, circles, xy)
    value, which = free.room(xy)
    assert free.rooms(xy) == pytest.approx(every, abs=1e-9)
    assert value == pytest.approx(every.min(axis=1), abs=1e-9)
    assert every[np.arange(len(xy)), which] == pytest.approx(value, abs=1e-9)


@given(scenes, st.integers(0, 1000))
def test_neither_order_nor_neighbours_matter(made, seed):
    layers, circles, xy = made
    free = free_of(*layers, circles=circles)
    value, which = free.room(xy)
    mixed = np.random.default_rng(seed).integers(0, len(xy), 3 * len(xy) // 2)
    again, whose = free.room(xy[mixed])
    assert np.array_equal(again, value[mixed])
    assert np.array_equal(whose, which[mixed])
    alone, whose = free.room(xy[:1])
    assert (alone[0], whose[0]) == (value[0], which[0])


@given(scenes, st.integers(1, 40), st.integers(1, 40), st.floats(0.1, 60))
def test_a_grid_gives_what_its_cells_give(made, nx, ny, step):
    layers, circles, _ = made
    free = free_of(*layers, circles=circles)
    x, y = -70 + step * np.arange(nx), 80 - 0.7 * step * np.arange(ny)
    value, which = room_grid(free, x=x, y=y)
    cells = np.column_stack([axis.ravel() for axis in np.meshgrid(x, y)])
    alone, whose = free.room(cells)
    assert value.shape == which.shape == (ny, nx)
    assert np.array_equal(value.ravel(), alone)
    assert np.array_equal(which.ravel(), whose)
    assert value.ravel() == pytest.approx(plainly(layers, circles, cells).min(axis=1), abs=1e-9)


@given(scenes, st.integers(1, 9), st.integers(1, 9), st.integers(0, 30), st.integers(1, 60))
def test_sizes_of_blocks_and_portions_do_not_matter(made, side, groups, many, most):
    layers, circles, xy = made
    free = free_of(*layers, circles=circles)
    x, y = np.linspace(-90, 90, 23), np.linspace(-120, 90, 17)
    usual = (*free.room(xy), *room_grid(free, x=x, y=y))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(blocks, "_SIDE", side)
        patch.setattr(blocks, "_MOST", most)
        patch.setattr(least, "_PAIRS", 10 * most)
        patch.setattr(pieces, "_GROUPS", groups)
        patch.setattr(pieces, "_MANY", many)
        other = (*free.room(xy), *room_grid(free, x=x, y=y))
    assert all(np.array_equal(a, b) for a, b in zip(usual, other, strict=True))


@given(scenes, st.sampled_from([1e-6, 1e-3, 1e3, 1e5]), st.sampled_from([0.0, 1e4, -3e6]))
def test_other_scales_and_places(made, scale, away):
    layers, circles, xy = made
    moved = [
        Layer(
            name=one.name, kind=one.kind, inside=one.inside,
            geometry=shapely.transform(one.geometry, lambda at: at * scale + away),
            required_m=one.required_m * scale, width_m=one.width_m * scale,
        )
        for one in layers
    ]  # fmt: skip
    xym = np.column_stack([circles[:, :2] * scale + away, circles[:, 2] * scale])
    there = xy * scale + away
    value, which = free_of(*moved, circles=xym).room(there)
    off = 1e-14 * (abs(away) + 1000 * scale) + 1e-9 * scale
    every = plainly(moved, xym, there)
    assert value == pytest.approx(every.min(axis=1), rel=0, abs=off)
    assert every[np.arange(len(xy)), which] == pytest.approx(value, rel=0, abs=off)


def test_nothing_to_keep_clear_of():
    free = free_of()
    value, which = room(free, (0, 0), (1, 1))
    assert value.tolist() == [math.inf, math.inf]
    assert which.tolist() == [-1, -1]
    assert free.rooms(np.zeros((2, 2))).shape == (2, 0)
    value, which = room_grid(free, x=np.arange(3.0), y=np.arange(2.0))
    assert (value == np.inf).all()
    assert which.tolist() == [[-1] * 3] * 2


def test_nowhere_to_ask():
    free = free_of(layer(shapely.box(0, 0, 1, 1)), circles=[(0, 0, 1)])
    value, which = free.room(np.empty((0, 2)))
    assert value.shape == which.shape == (0,)
    assert free.rooms(np.empty((0, 2))).shape == (0, 2)
    value, which = room_grid(free, x=np.empty(0), y=np.arange(4.0))
    assert value.shape == which.shape == (4, 0)


def test_circles_by_their_distance_less_their_radius():
    free = free_of(circles=[(0, 0, 5), (100, 0, 30)])
    value, which = room(free, (30, 40), (60, 0), (100, 0))
    assert value == pytest.approx([45, 10, -30])
    assert which.tolist() == [0, 1, 1]


def test_deep_inside_an_area_is_negative_though_its_edge_is_far():
    free = free_of(layer(shapely.box(0, 0, 1000, 1000), 20))
    value, _ = room(free, (500, 500), (500, 300), (-30, 500), (1030, 1040))
    assert value == pytest.approx([-520, -320, 10, 30])
    value, which = room_grid(free, x=np.arange(0.0, 1001, 2), y=np.arange(0.0, 1001, 2))
    at = np.minimum(np.arange(0.0, 1001, 2), 1000 - np.arange(0.0, 1001, 2))
    assert value == pytest.approx(-np.minimum(at, at[:, None]) - 20)
    assert (which == 0).all()


def test_in_a_hole_and_between_parts():
    with_hole = shapely.box(0, 0, 100, 100) - shapely.box(40, 40, 60, 60)
    both = shapely.MultiPolygon([with_hole, shapely.box(110, 0, 200, 100)])
    value, _ = room(free_of(layer(both, 1)), (50, 50), (105, 50), (30, 50), (190, 50))
    assert value == pytest.approx([10 - 1, 5 - 1, -10 - 1, -10 - 1])


def test_a_line_keeps_its_width_free_and_more_on_it():
    free = free_of(layer(shapely.LineString([(0, 0), (10, 0), (10, 0), (10, 50)]), 3, width_m=8))
    value, _ = room(free, (5, 0), (10, 25), (20, 25), (10, 53), (-3, -4))
    assert value == pytest.approx([-7, -7, 3, -4, -2])


def test_water_to_stay_inside():
    lake, island = shapely.box(0, 0, 100, 100), shapely.box(40, 40, 60, 60)
    free = free_of(layer(lake, 10, inside=True), layer(island, 5))
    value, which = room(free, (30, 50), (2, 50), (-20, 50), (50, 50), (50, 120), (13, 50))
    assert value == pytest.approx([5, -8, -30, -15, -30, 3])
    assert which.tolist() == [1, 0, 0, 1, 0, 0]


def test_on_an_edge_nothing_is_free():
    area = shapely.Polygon([(0, 0), (7, 3), (5, 9), (-1, 4)])
    corners = shapely.get_coordinates(area)
    on = np.concatenate([corners, (corners[1:] + corners[:-1]) / 2])
    for inside in (False, True):
        value, _ = free_of(layer(area, 2, inside=inside)).room(on)
        assert value == pytest.approx(-2, abs=1e-12)


def test_of_equals_the_first_and_of_the_same_shape_the_stricter():
    area, xy = shapely.box(0, 0, 10, 10), np.array([[5.0, 5.0], [20, 5], [0, 0]])
    assert free_of(layer(area, 2), layer(area, 2)).room(xy)[1].tolist() == [0, 0, 0]
    assert free_of(layer(area, 2), layer(area, 3)).room(xy)[1].tolist() == [1, 1, 1]
    same = [(0, 0, 4), (0, 0, 5), (0, 0, 5)]
    assert free_of(circles=same).room(xy)[1].tolist() == [1, 1, 1]
    across = shapely.LineString([(0, 5), (10, 5)])
    value, which = room(
        free_of(layer(area), layer(across, width_m=10), circles=[(5, 5, 5)]), (5, 5)
    )
    assert (value[0], which[0]) == (-5, 0)
    value, which = room(
        free_of(layer(across, width_m=10), layer(area), circles=[(5, 5, 5)]), (5, 5)
    )
    assert (value[0], which[0]) == (-5, 0)


@pytest.mark.parametrize("required", [1e6, 1e9, -1e6])
def test_what_is_required_from_far_away(required):
    free = free_of(
        layer(shapely.box(0, 0, 10, 10), 5), layer(shapely.box(5000, 0, 5010, 10), required)
    )
    value, which = room(free, (-10, 5), (2000, 5))
    far = np.array([5010, 3000]) - required
    assert value == pytest.approx(np.minimum(far, [5, 1985]), rel=1e-12)
    assert which.tolist() == ([1, 1] if required > 0 else [0, 0])


def test_points_all_at_one_place():
    free = free_of(layer(shapely.box(0, 0, 10, 10), 1), circles=[(30, 5, 2)])
    value, which = free.room(np.full((1000, 2), 5.0))
    assert value.tolist() == [-6.0] * 1000
    assert which.tolist() == [0] * 1000


def test_a_round_shore_is_near_everywhere_at_once():
    angle = np.linspace(0, 2 * np.pi, 20_001)[:-1]
    shore = shapely.Polygon(1000 * np.column_stack([np.sin(angle), np.cos(angle)]))
    free = free_of(layer(shore, 5, inside=True))
    x = np.linspace(-6, 6, 25)
    value, _ = room_grid(free, x=x, y=x)
    edge = 1000 * (1 - math.cos(math.pi / 20_000))  # the chord's middle is that much nearer
    middle = 1000 - 5 - np.hypot(*np.meshgrid(x, x))
    assert (value <= middle + 1e-9).all()
    assert (value >= middle - edge - 1e-9).all()


def test_what_cannot_be_measured_is_refused_by_name():
    line = shapely.LineString([(0, 0), (1, 0)])
    wrong = [
        layer(shapely.Polygon()),
        layer(shapely.Point(0, 0)),
        layer(line, inside=True),
        layer(line, math.nan),
        layer(line, width_m=math.inf),
    ]
    with pytest.raises(RangeError) as told:
        FreeWater.of(wrong, circles_xy=np.array([[0, math.nan]]), circles_m=np.array([1.0]))
    lines = str(told.value).splitlines()
    assert len(lines) == 7
    assert "circle [0]" in lines[5]
    with pytest.raises(RangeError, match="circles"):
        FreeWater.of([], circles_xy=np.zeros((3, 2)), circles_m=np.ones(1))


def test_points_must_be_finite():
    free = free_of(circles=[(0, 0, 1)])
    for ask in (free.room, free.rooms):
        with pytest.raises(RangeError, match=r"\[1\]"):
            ask(np.array([[0, 0], [math.nan, 0]]))
    with pytest.raises(RangeError, match=r"\[2\]"):
        room_grid(free, x=np.array([0, 1, math.inf]), y=np.array([0.0]))
