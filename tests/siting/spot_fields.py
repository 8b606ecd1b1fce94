"""Fields for the tests of the siting, and the exact check of a float at places in them."""

from dataclasses import replace

import numpy as np
from conftest import HERE, make_field, make_float, make_settings

from lakemap.mapping import assess
from lakemap.sites import spot_field_of

BROKEN = {"pulled_under", "aground", "no_depth"}


def spot_field_in(field, like, **more):
    """The field as a float like this meets it."""
    return spot_field_of(assess(field), like, **more)


def holds(field, like, xy):
    """Whether the check of the field with such a float at each place, one by one, passes."""
    lon, lat = HERE.to_lonlat(*np.asarray(xy).reshape(-1, 2).T)
    new = tuple(
        replace(like, float_id=f"new {k}", lon=east, lat=north)
        for k, (east, north) in enumerate(zip(lon.tolist(), lat.tolist(), strict=True))
    )
    checked = assess(replace(field, floats=(*field.floats, *new))).floats[len(field.floats) :]
    return np.array([_passes(one) for one in checked])


def _passes(one):
    """The others that are tried at the same time are not there for it."""
    if {problem.code for problem in one.problems} & BROKEN:
        return False
    return all(
        clearance.spare is None or clearance.spare >= 0
        for clearance in one.clearances
        if not (clearance.kind == "float" and clearance.against.startswith("new "))
    )


def sloping(floats=(), *, zones=(), seed=0, settings=None):
    """The square lake with a rough, sloping bed."""
    rng = np.random.default_rng(seed)
    flat = make_field(floats, zones=zones, settings=settings or make_settings())
    x, y = HERE.to_xy(flat.soundings.lon, flat.soundings.lat)
    slope, bump = rng.uniform(-0.02, 0.02, 2), rng.uniform(10, 60)
    depth = 6.5 + slope[0] * x + slope[1] * y + np.sin(x / bump) * np.cos(y / bump)
    depth += rng.normal(0, 0.05, len(depth))
    return replace(flat, soundings=replace(flat.soundings, depth_m=np.maximum(depth, 0.3)))


def new_float(**more):
    """A proposed one whose lengths are designed at each place."""
    return make_float("new", **({"status": "proposed", "riser_m": None, "ground_m": None} | more))
