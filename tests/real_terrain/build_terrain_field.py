"""Builds a field from real terrain: a valley flooded to a level, with 200 invented floats.

Real: the elevations. They are the sample `jacksboro_fault_dem.npz` that matplotlib carries (a grid
of 344 by 403 whole metres, 3 seconds of arc apart, Jacksboro fault, Tennessee; Matplotlib License,
which allows use and sharing). Made: the water, the levels, the floats and their rigs.
The contour at the flooded level is the lake, its knolls are islands, the grid's samples under
water are the soundings.

Run it from the top folder (matplotlib must be installed), then draw the map:

    python tests/real_terrain/build_terrain_field.py /tmp/flooded-valley
    lakemap draw /tmp/flooded-valley
"""

import csv
import sys
from importlib.metadata import files
from itertools import pairwise
from pathlib import Path

import numpy as np
import shapely
from contourpy import contour_generator
from scipy.interpolate import RegularGridInterpolator
from scipy.spatial import cKDTree

SAMPLE = "jacksboro_fault_dem.npz"
LEVEL_M = 329.5  # between two whole metres, so that the contour runs through no sample
FLOATS = 200
SEED = 11
SETTINGS = """\
name = "Flooded valley"  # real terrain, invented water
units = "m-kg"
[levels]
low = "-0.5 m"
normal = "0 m"
high = "0.3 m"
[accuracy]
position = "1 m"
layer = "1 m"
[rules.neighbour]
distance = "2 m"
source = "example; check your own rules"
[rules.shore]
distance = "5 m"
source = "example; check your local code"
[rules.jump_depth]
depth = "2.4 m"
beyond = "1 m"
source = "example; check your local code"
"""


def read_terrain():
    """Longitudes ascending, latitudes ascending, elevations [m] of shape [lat, lon]."""
    path = next(file for file in files("matplotlib") if file.name == SAMPLE)
    with np.load(path.locate()) as grid:
        elevation = grid["elevation"][::-1].astype(np.float64)
        south = min(float(grid["ymin"]), float(grid["ymax"]))
        lon = float(grid["xmin"]) + (np.arange(elevation.shape[1]) + 0.5) * float(grid["dx"])
        lat = south + (np.arange(elevation.shape[0]) + 0.5) * float(grid["dy"])
    return lon, lat, elevation


def flood(lon, lat, elevation):
    """Return the largest water below the level that does not run off the grid."""
    contours = contour_generator(x=lon, y=lat, z=elevation, fill_type="OuterOffset")
    frame = shapely.box(lon[0], lat[0], lon[-1], lat[-1]).exterior
    waters = []
    for points, offsets in zip(*contours.filled(-np.inf, LEVEL_M), strict=True):
        rings = [points[a:b] for a, b in pairwise(offsets)]
        water = shapely.Polygon(rings[0], rings[1:])
        if shapely.distance(water, frame) > 0:
            waters.append(water)
    return max(waters, key=lambda water: water.area)


def metres(lonlat, about):
    """Degrees to metres about a place, near enough to keep floats apart."""
    scale = np.array([111_320 * np.cos(np.radians(about[1])), 111_000])
    return (lonlat - about) * scale


def place_floats(lake, depth):
    """Positions at least 60 m apart and 30 m from the shore, where it is 3 to 12 m deep."""
    rng = np.random.default_rng(SEED)
    low, high = np.reshape(lake.bounds, (2, 2))
    tried = rng.uniform(low, high, (40_000, 2))
    deep = depth(tried[:, ::-1])
    shore = shapely.transform(lake.boundary, lambda lonlat: metres(lonlat, low))
    far = shapely.distance(shore, shapely.points(metres(tried, low))) > 30
    tried = tried[shapely.contains_xy(lake, tried) & (deep > 3) & (deep < 12) & far]
    kept = []
    near = cKDTree(metres(tried, low)).query_ball_point(metres(tried, low), 60)
    for k, others in enumerate(near):
        if not set(others) & set(kept):
            kept.append(k)
    return tried[kept[:FLOATS]]


def float_rows(places, depth):
    """Half of the rigs are written down; every tenth float is proposed, every fiftieth retired."""
    yield (
        "float_id", "lon", "lat", "status", "length_m", "width_m", "riser_length_m",
        "ground_length_m", "note",
    )  # fmt: skip
    for number, (lon, lat) in enumerate(places, start=1):
        deep = depth((lat, lon)).item()
        rig = (f"{deep + 1.6:.1f}", f"{deep:.1f}") if number % 2 else ("", "")
        status = "retired" if number % 50 == 0 else "proposed" if number % 10 == 0 else "set"
        yield number, f"{lon:.7f}", f"{lat:.7f}", status, 3, 2.4, *rig, "invented"


def write_csv(path, rows):
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows(rows)


def build_terrain_field(folder):
    """Write the field folder; it is made where it is missing."""
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    lon, lat, elevation = read_terrain()
    lake = flood(lon, lat, elevation)
    depth = RegularGridInterpolator((lat, lon), LEVEL_M - elevation)
    nodes = np.column_stack([axis.ravel() for axis in np.meshgrid(lon, lat)])
    wet = nodes[shapely.contains_xy(lake, nodes)]
    (folder / "field.toml").write_text(SETTINGS, encoding="utf-8")
    (folder / "lake.geojson").write_text(shapely.to_geojson(lake), encoding="utf-8")
    sounded = [(f"{x:.9f}", f"{y:.9f}", depth((y, x)).item()) for x, y in wet]
    write_csv(folder / "soundings.csv", [("lon", "lat", "depth_m"), *sounded])
    write_csv(folder / "floats.csv", float_rows(place_floats(lake, depth), depth))


if __name__ == "__main__":
    build_terrain_field(sys.argv[1])
