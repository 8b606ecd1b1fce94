"""Speed as ratios against the plain ways of `plain.py`; run: pytest --bench tests/bench -s --benchmark-enable.

The floor of each ratio is what the project promises; the figures are printed.
"""

import json
import subprocess
import sys
import time

import numpy as np
import plain
import pytest
import shapely

from lakemap.clearances.pairs import near_pairs
from lakemap.clearances.shapes import Shape, near_shapes
from lakemap.lake.depth import DepthSurface

FLOATS = 100_000


@pytest.fixture(scope="module")
def spread():
    """100,000 floats over 40 km2, swing radius 8 m."""
    rng = np.random.default_rng(1)
    return rng.uniform(0, np.sqrt(40e6), (FLOATS, 2)), np.full(FLOATS, 8.0)


def test_pairs_that_meet(compare, spread):
    # the plain way knows only circles that meet: the same question is asked of both
    xy, radius = spread
    ratio = compare(
        "pairs that meet",
        lambda: near_pairs(xy, radius, limit_m=0.0),
        lambda: plain.touching_pairs(xy, radius),
    )
    found = near_pairs(xy, radius, limit_m=0.0)
    mine = {
        (a, b)
        for a, b, gap in zip(
            found.first.tolist(), found.second.tolist(), found.gap_m.tolist(), strict=True
        )
        if gap < 0
    }
    # polygons of 32 sides lie inside their circles, so the plain way may only miss some
    assert {tuple(pair) for pair in plain.touching_pairs(xy, radius).tolist()} <= mine
    assert ratio > 3


def test_all_gaps_under_100_m(compare, spread):
    # the same pairs asked of both: circles grown by 50 m, so that they meet where the gap is < 100 m
    xy, radius = spread
    ratio = compare(
        "all gaps under 100 m",
        lambda: near_pairs(xy, radius, limit_m=100.0),
        lambda: plain.touching_pairs(xy, radius + 50.0),
        rounds=3,
    )
    found = near_pairs(xy, radius, limit_m=100.0)
    some = np.arange(0, len(found.first), 997)
    exact = np.hypot(*(xy[found.first[some]] - xy[found.second[some]]).T) - 16.0
    assert found.gap_m[some] == pytest.approx(exact, abs=1e-6)
    assert ratio >= 20


def test_zones(compare, spread):
    xy, radius = spread
    rng = np.random.default_rng(2)
    angle = np.linspace(0, 2 * np.pi, 2001)[:-1]
    zones = []
    for x, y in rng.uniform(0, np.sqrt(40e6), (40, 2)):
        r = 200 * (1 + 0.2 * np.sin(5 * angle) + 0.02 * rng.normal(size=2000))
        zones.append(
            shapely.Polygon(np.column_stack([x + r * np.cos(angle), y + r * np.sin(angle)]))
        )
    shapes = [Shape(geometry=zone) for zone in zones]
    ratio = compare(
        "zones: near ones and the nearest",
        lambda: near_shapes(shapes, xy, within_m=radius + 100.0),
        lambda: plain.zone_distances(xy, zones),
        rounds=3,
    )
    found = near_shapes(shapes, xy, within_m=radius + 100.0)
    table = plain.zone_distances(xy[:2000], zones)
    mine = found.point < 2000
    got = np.maximum(found.distance_m[mine], 0.0)
    assert got == pytest.approx(table[found.point[mine], found.shape[mine]], abs=1e-6)
    assert ratio >= 6


TRACKS = """
import numpy as np, shapely
def tracks():
    # a sounder that records ten times a second at 2 m/s, boat lines 20 m apart over 2 by 2 km
    rng = np.random.default_rng(3)
    y = np.repeat(np.arange(5.5, 2000, 20.0), 10000)
    x = np.tile(np.linspace(1, 1999, 10000), 100)
    xy = np.column_stack([x, y + rng.normal(0, 0.3, len(x))])
    depth = 12 + 6 * np.sin(x / 300) * np.cos(y / 250) + rng.normal(0, 0.1, len(x))
    angle = np.linspace(0, 2 * np.pi, 2001)[:-1]
    lake = shapely.box(0, 0, 2000, 2000).segmentize(4.0)
    return xy, depth, lake
"""


def test_depth_surface(compare):
    space = {}
    exec(TRACKS, space)  # noqa: S102 - the same text runs in the child that measures memory
    xy, depth, lake = space["tracks"]()
    ask = np.random.default_rng(4).uniform(20, 1980, (100_000, 2))

    def ours():
        return DepthSurface.from_soundings(xy, depth, lake).at(ask)

    ratio = compare(
        "1,000,000 soundings along tracks, 100,000 points",
        ours,
        lambda: plain.depths(xy, depth, ask),
        rounds=1,
    )
    assert np.nanmedian(np.abs(ours() - plain.depths(xy, depth, ask))) < 0.1
    assert ratio >= 4


def test_depth_surface_of_scattered_soundings_for_the_record(compare):
    # hardly two in one block of a metre: nothing to thin; said, not promised
    rng = np.random.default_rng(5)
    xy, lake = rng.uniform(1, 1999, (300_000, 2)), shapely.box(0, 0, 2000, 2000).segmentize(4.0)
    depth, ask = 12 + xy[:, 0] / 400, rng.uniform(20, 1980, (100_000, 2))
    ratio = compare(
        "300,000 scattered soundings",
        lambda: DepthSurface.from_soundings(xy, depth, lake).at(ask),
        lambda: plain.depths(xy, depth, ask),
        rounds=1,
    )
    assert ratio > 0.5


def test_depth_surface_memory(peak_mb):
    code = TRACKS + (
        "from lakemap.lake.depth import DepthSurface\n"
        "xy, depth, lake = tracks()\n"
        "s = DepthSurface.from_soundings(xy, depth, lake)\n"
        "s.at(np.random.default_rng(4).uniform(20, 1980, (100000, 2)))\n"
    )
    peak = peak_mb(code)
    sys.__stderr__.write(f"\ndepth surface of 1,000,000 soundings: peak {peak:.0f} MB\n")
    assert peak < 2000


@pytest.fixture(scope="module")
def many(tmp_path_factory):
    """A field folder of 10,000 floats over 4 by 4 km."""
    folder = tmp_path_factory.mktemp("many") / "field"
    folder.mkdir()
    rng = np.random.default_rng(6)
    (folder / "field.toml").write_text(
        'units = "m-kg"\n[levels]\nlow = "-0.5 m"\nnormal = "0 m"\nhigh = "0.5 m"\n'
    )
    (folder / "lake.csv").write_text(
        "lon,lat\n-37.03,41.0\n-36.98,41.0\n-36.98,41.04\n-37.03,41.04\n"
    )
    rows = [
        f"{k},{lon:.7f},{lat:.7f},3,2.5,6,7,5"
        for k, (lon, lat) in enumerate(
            zip(
                rng.uniform(-37.029, -36.981, 10_000),
                rng.uniform(41.001, 41.039, 10_000),
                strict=True,
            )
        )
    ]
    header = "float_id,lon,lat,length_m,width_m,depth_m,riser_length_m,ground_length_m"
    (folder / "floats.csv").write_text("\n".join([header, *rows]) + "\n")
    return folder


def test_page_of_10000_floats(many, tmp_path):
    import lakemap
    from lakemap.outputs.web.page import page_html

    start = time.perf_counter()
    field = lakemap.read_field(many)
    read = time.perf_counter()
    assessment = lakemap.assess(field)
    assessed = time.perf_counter()
    text = page_html(assessment)
    written = time.perf_counter()
    some = 500  # the plain way is linear in the floats: a twentieth of it is measured
    floats = [
        (one.record.float_id, one.lat, one.lon, one.swing_radius_m)
        for one in assessment.floats[:some]
    ]
    begin = time.perf_counter()
    plain_text = plain.map_html(floats)
    slow = (time.perf_counter() - begin) * len(assessment.floats) / some
    size = len(plain_text.encode()) * len(assessment.floats) / some
    fast = written - assessed
    sys.__stderr__.write(
        f"\n10,000 floats: read {read - start:.2f} s, assess {assessed - read:.2f} s, page {fast:.2f} s of"
        f" {len(text.encode()) / 1e6:.1f} MB; plain {slow:.1f} s of {size / 1e6:.1f} MB:"
        f" {slow / fast:.0f} times faster, {size / len(text.encode()):.1f} times smaller\n"
    )
    assert slow / fast >= 100
    assert size / len(text.encode()) >= 10


def test_draw_of_10000_floats_in_memory(many, peak_mb, tmp_path):
    code = f"from lakemap.cli import main\nmain(['draw', {str(many)!r}, '--out', {str(tmp_path / 'm.html')!r}])"
    peak = peak_mb(code)
    sys.__stderr__.write(f"\ndraw of 10,000 floats: peak {peak:.0f} MB\n")
    assert peak < 1000


def test_help_is_quick():
    def taken(code):
        times = []
        for _ in range(6):
            start = time.perf_counter()
            subprocess.run([sys.executable, "-c", code], check=True, capture_output=True)
            times.append(time.perf_counter() - start)
        return float(np.median(times[1:]))

    ours = taken("from lakemap.cli import main; main(['--help'])")
    heavy = taken("import geopandas, folium")
    sys.__stderr__.write(
        f"\n--help {ours:.3f} s, importing geopandas and folium {heavy:.3f} s: {heavy / ours:.1f} times\n"
    )
    assert heavy / ours >= 4


def test_demo_map_is_small():
    from pathlib import Path

    demo = Path(__file__).parents[2] / "maps" / "tamber-lake.html"
    assert demo.stat().st_size < 700_000
    assert json.dumps("ok")
