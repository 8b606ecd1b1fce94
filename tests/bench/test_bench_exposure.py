"""Open water of many floats against every ray cut with the shore; and depth along the rays.

The plain way would take a quarter of an hour for all rays: it is measured on a spread sample of
the floats and scaled up, which its time allows, for it cuts one ray after another.
"""

import sys
import time
import tracemalloc

import numpy as np
import plain
import pytest
import shapely

from lakemap.lake.depth import DepthSurface
from lakemap.lake.exposure import fetch_lengths, mean_depths

FLOATS, SAMPLE = 10_000, 10
BEARINGS = np.arange(0.0, 360.0, 5.0)


def ring(rng, x, y, radius, corners):
    angle = np.linspace(0, 2 * np.pi, corners + 1)[:-1]
    waves = sum(0.12 / k * np.sin(k * angle + 7 * k) for k in (2, 3, 5, 11, 23))
    r = radius * (1 + waves) + rng.normal(0, 0.2, corners)
    return shapely.Polygon(np.column_stack([x + r * np.sin(angle), y + r * np.cos(angle)]))


@pytest.fixture(scope="module")
def spread():
    """A lake of 4 km with 16,000 corners of shore and 40 islands of 100; floats all over it."""
    rng = np.random.default_rng(1)
    shore = ring(rng, 0, 0, 2000, 16_000)
    isles = [ring(rng, x, y, 40, 100) for x, y in rng.uniform(-1100, 1100, (40, 2))]
    lake = shapely.difference(shore, shapely.union_all(isles))
    xy = rng.uniform(-2400, 2400, (4 * FLOATS, 2))
    return lake, xy[shapely.contains_xy(lake, xy[:, 0], xy[:, 1])][:FLOATS]


def most_mb(work):
    """The most that arrays held at once, beyond what was there before."""
    tracemalloc.start()
    try:
        result = work()
        return tracemalloc.get_traced_memory()[1] / 1e6, result
    finally:
        tracemalloc.stop()


def test_fetch_of_10000_floats_along_72_bearings(compare, spread):
    lake, xy = spread
    assert len(xy) == FLOATS
    assert shapely.get_num_coordinates(lake) >= 19_000
    some = xy[:: FLOATS // SAMPLE]
    once = compare(
        f"fetch, 10,000 floats by 72 rays; plain on {SAMPLE} of them",
        lambda: fetch_lengths(lake, xy, BEARINGS),
        lambda: plain.fetches(lake, some, BEARINGS),
        rounds=5,
    )
    ratio = once * FLOATS / SAMPLE
    sys.__stderr__.write(f"fetch: plain scaled to all 10,000 floats, {ratio:.0f} times\n")
    ours = fetch_lengths(lake, some, BEARINGS)
    assert ours == pytest.approx(plain.fetches(lake, some, BEARINGS), abs=1e-6)
    assert ratio >= 200


def test_fetch_memory(spread):
    usual, _ = most_mb(lambda: fetch_lengths(*spread, BEARINGS))
    # a shore like a comb: every ray east crosses ten thousand pieces, 100 million pairs
    x = np.arange(10_001) * 0.5
    teeth = np.column_stack([x, np.where(np.arange(10_001) % 2, 1.0, 1000.0)])
    lake = shapely.Polygon([(-10, -100), (-10, 1000), *teeth, (5010, 1000), (5010, -100)])
    height = np.linspace(2, 850, FLOATS)
    worst, fetch = most_mb(
        lambda: fetch_lengths(lake, np.column_stack([np.full(FLOATS, -5.0), height]), [90.0])
    )
    assert fetch[:, 0] == pytest.approx(5 + 0.5 * (1000 - height) / 999)
    sys.__stderr__.write(f"\nfetch of 10,000 floats: {usual:.0f} MB; on a comb {worst:.0f} MB\n")
    assert max(usual, worst) < 300


def test_depth_along_the_rays(compare, spread):
    lake, xy = spread
    rng = np.random.default_rng(2)
    soundings = rng.uniform(-2400, 2400, (60_000, 2))
    soundings = soundings[shapely.contains_xy(lake, soundings[:, 0], soundings[:, 1])]
    away = shapely.distance(shapely.points(soundings), lake.boundary)
    surface = DepthSurface.from_soundings(soundings, 15 * (1 - np.exp(-away / 150)), lake)
    fetch = fetch_lengths(lake, xy, BEARINGS)
    some = slice(None, None, FLOATS // 100)

    def plain_way():
        share = (np.arange(24) + 0.5) / 24
        ray = np.column_stack([np.sin(np.radians(BEARINGS)), np.cos(np.radians(BEARINGS))])
        along = fetch[some, :, None, None] * share[:, None] * ray[:, None, :]
        places = xy[some, None, None, :] + along
        depth = surface.at_wet(places.reshape(-1, 2)).reshape(places.shape[:3])
        return np.nanmean(depth, axis=2)

    once = compare(
        "depth along 720,000 rays; plain on 100 floats",
        lambda: mean_depths(surface, xy, BEARINGS, fetch),
        plain_way,
        rounds=3,
    )
    begin = time.perf_counter()
    mean = mean_depths(surface, xy, BEARINGS, fetch)
    off = np.abs(mean[some] / plain_way() - 1)[fetch[some] > 200]
    sys.__stderr__.write(
        f"depth along rays: {time.perf_counter() - begin:.1f} s, plain scaled to all floats"
        f" {once * 100:.0f} times; off by {np.median(off):.2%}, 99 % by under"
        f" {np.percentile(off, 99):.2%}\n"
    )
    assert np.percentile(off, 95) < 0.02
    assert once * 100 > 5
