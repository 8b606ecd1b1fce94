"""Packing a lake of 2 km2 with some 3,500 floats against throwing them at random."""

import sys
import time

import numpy as np
import plain
import pytest
import shapely

from lakemap.siting.packing import PackingQuestion, pack
from lakemap.siting.packing_bounds import upper_bound

GAP_M = 1.5
LAKE = """
import numpy as np, shapely
def ring(x, y, radius, corners):
    angle = np.linspace(0, 2 * np.pi, corners + 1)[:-1]
    r = radius * (1 + sum(0.12 / k * np.sin(k * angle + 7 * k) for k in (2, 3, 5, 11, 23)))
    return shapely.Polygon(np.column_stack([x + r * np.sin(angle), y + r * np.cos(angle)]))
def radius_at(xy):
    return 12 + 1.2 * np.sin(xy[:, 0] / 310) + 0.8 * np.cos(xy[:, 1] / 270 + xy[:, 0] / 500)
region = ring(0, 0, 810, 1500).difference(ring(200, 150, 80, 200))
"""


@pytest.fixture(scope="module")
def lake():
    """Centres' water of 2 km2 with an island; radii 10 to 14 m."""
    made = {}
    exec(LAKE, made)  # noqa: S102 - the same text runs in a child process for its memory
    return made["region"], made["radius_at"]


def hexagons(region, radius_at):
    """How many cells of a hexagonal lattice the water holds, each as large as its place asks."""
    side = np.arange(-1200, 1200, 4.0)
    xy = np.stack(np.meshgrid(side, side), axis=-1).reshape(-1, 2)
    xy = xy[shapely.contains_xy(region, xy[:, 0], xy[:, 1])]
    return 16 * np.sum(1 / (2 * np.sqrt(3) * (radius_at(xy) + GAP_M / 2) ** 2))


def low(piece, radius_at):
    """No radius is under 10 m, and they change by less than 0.0063 m a metre."""
    middle = np.mean(np.reshape(piece.bounds, (2, 2)), axis=0)
    far = np.hypot(*(shapely.get_coordinates(piece) - middle).T).max()
    return max(10.0, float(radius_at(middle[None])[0]) - 0.0063 * far)


def test_floats_that_fit(compare, lake):
    region, radius_at = lake
    assert 1.9e6 < region.area < 2.1e6
    question = PackingQuestion(region=region, radius_at=radius_at, gap_m=GAP_M)
    compare(
        "packing 2 km2",
        lambda: pack(question),
        lambda: plain.first_fit(region, radius_at, GAP_M),
        rounds=3,
    )
    ours, thrown = len(pack(question).xy), len(plain.first_fit(region, radius_at, GAP_M))
    share = ours / hexagons(region, radius_at)
    begin = time.perf_counter()
    most = upper_bound(region, radius_low=lambda piece: low(piece, radius_at), gap_m=GAP_M).most
    taken = time.perf_counter() - begin
    sys.__stderr__.write(
        f"{ours} floats, {ours / thrown:.2f} times thrown at random, {share:.1%} of the hexagons;"
        f" at most {most}, found in {taken:.1f} s\n"
    )
    assert ours >= 1.6 * thrown
    assert share >= 0.93
    assert ours <= most


def test_time_of_one_packing(lake):
    region, radius_at = lake
    question = PackingQuestion(region=region, radius_at=radius_at, gap_m=GAP_M)
    taken = []
    for _ in range(3):
        begin = time.process_time()
        pack(question)
        taken.append(time.process_time() - begin)
    sys.__stderr__.write(f"\npacking 2 km2: {np.median(taken):.1f} s of one core\n")
    assert np.median(taken) < 4


def test_packing_memory(peak_mb):
    code = LAKE + (
        "from lakemap.siting.packing import PackingQuestion, pack\n"
        "pack(PackingQuestion(region=region, radius_at=radius_at, gap_m=1.5))\n"
    )
    mb = peak_mb(code)
    sys.__stderr__.write(f"\npacking 2 km2: {mb:.0f} MB\n")
    assert mb < 500
