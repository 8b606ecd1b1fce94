"""Shared by all tests: the switch for benchmarks, and one square lake whose answers are by hand."""

from pathlib import Path
from types import MappingProxyType

import numpy as np
import pytest
import shapely
from hypothesis import settings as hypothesis_settings

from lakemap.basis.records import (
    Accuracy,
    Field,
    Float,
    Levels,
    Rule,
    Season,
    Settings,
    Soundings,
    Storm,
    Wake,
    Zone,
)
from lakemap.lake.projection import LakeProjection

# fixed seeds, and no clock: a loaded machine is slow, not wrong
hypothesis_settings.register_profile("fixed", deadline=None, derandomize=True)
hypothesis_settings.load_profile("fixed")
BENCH = Path(__file__).parent / "bench"
SIDE_M = 200.0
HERE = LakeProjection(lon0=-37.0, lat0=41.0)


def pytest_addoption(parser):
    parser.addoption("--bench", action="store_true", help="collect tests/bench too")


def pytest_ignore_collect(collection_path, config):
    return True if collection_path == BENCH and not config.getoption("--bench") else None


def make_settings(**more):
    """Low 0.5 m below normal, high 0.5 m above; rules: neighbour 2, shore 5, swim area 10 m."""
    rules = {
        "neighbour": Rule(kind="neighbour", limit=2.0, source="neighbour rule"),
        "shore": Rule(kind="shore", limit=5.0, source="shore rule"),
        "swim_area": Rule(kind="swim_area", limit=10.0, source="swim rule"),
        "channel": Rule(kind="channel", limit=3.0, source="channel rule"),
    }
    given = {
        "name": "Square",
        "units": "m-kg",
        "crs": "EPSG:4326",
        "levels": Levels(low_m=-0.5, normal_m=0.0, high_m=0.5, soundings_m=0.0),
        "storm": Storm(
            wind_m_s=22.0,
            gust_m_s=None,
            current_m_s=0.0,
            from_deg=(270.0,),
            return_period_years=None,
        ),
        "wake": Wake(height_m=0.0, period_s=2.2, at_m=30.0, nearest_m=30.0),
        "accuracy": Accuracy(
            position_m=1.0, position_given=True, depth_m=0.2, level_m=0.1, line_m=0.1, layer_m=1.0
        ),
        "rules": MappingProxyType(rules),
        "season": Season(),
        "site_weights": MappingProxyType({}),
        "holding": "practice",
        "people": 4,
    }
    return Settings(**given | more)


def make_float(name, x=0.0, y=0.0, **more):
    """Deck 4 by 3 m, hook in its centre at the surface: corner 2.5 m. Riser 6, ground chain 4 m."""
    lon, lat = HERE.to_lonlat([x], [y])
    given = {
        "float_id": name,
        "row": 2,
        "lon": float(lon[0]),
        "lat": float(lat[0]),
        "length_m": 4.0,
        "width_m": 3.0,
        "hook_depth_m": 0.0,
        "riser_m": 6.0,
        "ground_m": 4.0,
    }
    return Float(**given | more)


def make_zone(kind, geometry_xy, **more):
    given = {"kind": kind, "geometry": HERE.unproject(geometry_xy), "row": 1, "label": kind}
    return Zone(**given | more)


def make_field(floats, *, zones=(), bed_m=6.5, settings=None, **more):
    """A square lake of 200 m about the centre, its bed a level plane but for the shore itself."""
    lake = HERE.unproject(shapely.box(-SIDE_M / 2, -SIDE_M / 2, SIDE_M / 2, SIDE_M / 2))
    soundings = None
    if bed_m is not None:
        at = np.linspace(-98, 98, 50)
        x, y = (grid.ravel() for grid in np.meshgrid(at, at))
        lon, lat = HERE.to_lonlat(x, y)
        soundings = Soundings(
            lon=lon,
            lat=lat,
            depth_m=np.full(len(x), bed_m),
            row=np.arange(2, len(x) + 2),
            file="soundings.csv",
        )
    given = {
        "folder": "square",
        "settings": settings or make_settings(),
        "lake": shapely.multipolygons([lake]),
        "island_names": (),
        "floats": tuple(floats),
        "floats_file": "floats.csv",
        "zones": tuple(zones),
        "soundings": soundings,
    }
    return Field(**given | more)


@pytest.fixture
def square():
    """Four floats in it; drop at low water 6 m, line 10 m: reach 8, swing radius 10.5 m.

    A in the middle, B 23 m east of it (gap 2.0), C 22 m north of it (gap 1.0), D 80 m west.
    """
    floats = [
        make_float("A"),
        make_float("B", 23.0, 0.0),
        make_float("C", 0.0, 22.0),
        make_float("D", -80.0, 0.0),
    ]
    beach = make_zone("swim_area", shapely.box(-10, -60, 10, -25), label="Beach")
    return make_field(floats, zones=[beach])


LEAST_TOML = '[levels]\nlow = "-1 ft"\nnormal = "0 ft"\nhigh = "1 ft"\n'
LAKE_CSV = "lon,lat\n-37.01,41.0\n-37.0,41.0\n-37.0,41.01\n-37.01,41.01\n"
FLOATS_CSV = "float_id,lon,lat,length_ft,width_ft,depth_ft\n1,-37.005,41.005,10,8,10\n2,-37.004,41.006,12,10,12\n"


@pytest.fixture
def folder(tmp_path):
    """A function that writes a field folder: the least that works, with files added or replaced."""

    def write(**files):
        here = tmp_path / "pond"
        here.mkdir(exist_ok=True)
        content = {"field.toml": LEAST_TOML, "lake.csv": LAKE_CSV, "floats.csv": FLOATS_CSV} | {
            name.replace("__", "."): text for name, text in files.items()
        }
        for name, text in content.items():
            if text is None:
                (here / name).unlink(missing_ok=True)
            elif isinstance(text, bytes):
                (here / name).write_bytes(text)
            else:
                (here / name).write_text(text, encoding="utf-8", newline="")
        return here

    return write
