"""Fields for the tests of the sheets' facts: the square lake with a bed that the test draws."""

from dataclasses import replace

import numpy as np
import shapely
from conftest import HERE, make_field, make_zone

from lakemap.basis.records import Soundings
from lakemap.mapping import assess
from lakemap.season.facts.sheet_ground import sheet_ground


def field_on(floats, depth, *, zones=(), **more):
    """Soundings every 4 m of a depth that is a function of x and y."""
    field = make_field(floats, zones=zones, **more)
    at = np.linspace(-98, 98, 50)
    x, y = (grid.ravel() for grid in np.meshgrid(at, at))
    lon, lat = HERE.to_lonlat(x, y)
    soundings = Soundings(
        lon=lon,
        lat=lat,
        depth_m=np.asarray(depth(x, y), dtype=float),
        row=np.arange(2, len(x) + 2),
        file="soundings.csv",
    )
    return replace(field, soundings=soundings)


def ground_on(floats, depth, *, zones=(), **more):
    return sheet_ground(assess(field_on(floats, depth, zones=zones, **more)))


def level_bed(x, y):
    return np.full(len(x), 6.5)


def dock(name, start, end):
    return make_zone("dock", shapely.LineString([start, end]), label=name, width_m=1.5)


def ramp(x=98.0, y=0.0, label="boat ramp"):
    """From the east shore 4 m into the water."""
    line = shapely.LineString([(101.0, y), (x, y)])
    return make_zone("ramp", line, label=label, width_m=4.0)
