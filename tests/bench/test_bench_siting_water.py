"""The largest free circle about a million cells, against the distance of each to each thing.

The plain way would take minutes: it is measured on a spread sample of the cells and scaled up,
which its time allows, for it measures every cell alone.
"""

import sys
import tracemalloc

import numpy as np
import plain
import pytest
import shapely

from lakemap.siting.free_water import FreeWater, room_grid
from lakemap.siting.records import Layer

SIDE, SAMPLE = 1000, 20_000  # cells along a side; cells of the plain way
AXIS = np.linspace(-1150, 1150, SIDE)


def ring(rng, x, y, radius, corners):
    angle = np.linspace(0, 2 * np.pi, corners + 1)[:-1]
    waves = sum(0.12 / k * np.sin(k * angle + 7 * k) for k in (2, 3, 5, 11, 23))
    r = radius * (1 + waves + rng.normal(0, 2e-4, corners))
    return shapely.Polygon(np.column_stack([x + r * np.sin(angle), y + r * np.cos(angle)]))


@pytest.fixture(scope="module", params=[5000, 20_000], ids=["shore of 5,000", "shore of 20,000"])
def lake(request):
    """A lake of 2 km with 40 zones of 30 to 60 corners and 200 circles."""
    rng = np.random.default_rng(3)
    shore = ring(rng, 0, 0, 1000, request.param)
    layers = [Layer(name="the shore", kind="shore", geometry=shore, required_m=15, inside=True)]
    for k, at in enumerate(rng.uniform(-700, 700, (40, 2))):
        if k % 4 == 0:
            way = shapely.LineString(at + np.cumsum(rng.normal(0, 10, (40, 2)), axis=0))
            one = Layer(name="", kind="channel", geometry=way, required_m=10, width_m=12)
        else:
            area = ring(rng, *at, rng.uniform(15, 60), int(rng.integers(30, 61)))
            one = Layer(name="", kind="intake", geometry=area, required_m=float(rng.uniform(3, 20)))
        layers.append(one)
    return layers, rng.uniform(-700, 700, (200, 2)), rng.uniform(15, 35, 200)


def free_of(lake):
    layers, circles_xy, circles_m = lake
    return FreeWater.of(layers, circles_xy=circles_xy, circles_m=circles_m)


def test_a_million_cells(compare, lake):
    free = free_of(lake)
    row, column = np.random.default_rng(5).integers(0, SIDE, (2, SAMPLE))
    some = np.column_stack([AXIS[column], AXIS[row]])
    once = compare(
        f"free water, {SIDE**2:,} cells; plain on {SAMPLE:,} of them",
        lambda: room_grid(free, x=AXIS, y=AXIS),
        lambda: plain.free_rooms(*lake, some),
    )
    ratio = once * SIDE**2 / SAMPLE
    sys.__stderr__.write(f"free water: plain scaled to all cells, {ratio:.0f} times\n")
    value, which = room_grid(free, x=AXIS, y=AXIS)
    expected = plain.free_rooms(*lake, some)
    assert np.abs(value[row, column] - expected).max() <= 1e-9
    binding = free.rooms(some)[np.arange(SAMPLE), which[row, column]]
    assert np.abs(binding - expected).max() <= 1e-9
    assert ratio >= 80


def test_scattered_points(compare, lake):
    free = free_of(lake)
    xy = np.random.default_rng(6).uniform(-1150, 1150, (100_000, 2))
    once = compare(
        "free water, 100,000 scattered points; plain on 5,000 of them",
        lambda: free.room(xy),
        lambda: plain.free_rooms(*lake, xy[:5000]),
        rounds=3,
    )
    sys.__stderr__.write(
        f"free water, scattered: plain scaled to all points, {once * 20:.0f} times\n"
    )
    assert once * 20 >= 15


def test_memory(lake):
    free = free_of(lake)
    tracemalloc.start()
    try:
        room_grid(free, x=AXIS, y=AXIS)
        grid = tracemalloc.get_traced_memory()[1] / 1e6
        tracemalloc.reset_peak()
        free.room(np.random.default_rng(6).uniform(-1150, 1150, (SIDE**2, 2)))
        scattered = tracemalloc.get_traced_memory()[1] / 1e6
    finally:
        tracemalloc.stop()
    sys.__stderr__.write(
        f"\nfree water of a million: {grid:.0f} MB, scattered {scattered:.0f} MB\n"
    )
    assert grid < 200
    assert scattered < 300
