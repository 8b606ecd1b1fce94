"""New sites made by hand, in the square lake of 200 m: what shows them is tested without a search."""

from types import MappingProxyType

import numpy as np
import shapely
from conftest import HERE, make_field, make_float, make_settings, make_zone

from lakemap.mapping import assess
from lakemap.siting.records import (
    Bound,
    Capacity,
    ClosedWater,
    Hindrance,
    Packing,
    Site,
    SiteAsk,
    Sites,
    Variant,
    WhyNot,
)

WEIGHTS = MappingProxyType({"spare": 3.0, "shelter": 2.0, "depth": 1.0, "way": 1.0, "line": 1.0})
PARTS = MappingProxyType({"spare": 0.859, "shelter": 0.5, "depth": 1.0, "way": 0.25, "line": 0.0})
ALLOWED = shapely.MultiPolygon(
    [shapely.Polygon(shapely.box(20, 20, 80, 60).exterior, [shapely.box(40, 30, 50, 40).exterior])]
)
CLOSED = (
    ClosedWater(kind="float", geometry=shapely.MultiPolygon([shapely.box(-100, -100, 0, 100)])),
    ClosedWater(kind="shore", geometry=shapely.MultiPolygon([shapely.box(0, -100, 100, -60)])),
    ClosedWater(kind="swim_area", geometry=shapely.MultiPolygon([shapely.box(0, -60, 100, 0)])),
)


def make_assessment(*, units="m-kg", floats=None, zones=None, **more):
    """One float A in the west, a beach in the east; `more` goes to the field."""
    floats = [make_float("A", -60.0, 0.0)] if floats is None else floats
    beach = make_zone("swim_area", shapely.box(20, -45, 60, -20), label="Beach")
    settings = make_settings(units=units, site_weights=WEIGHTS)
    zones = [beach] if zones is None else zones
    return assess(make_field(floats, zones=zones, settings=settings, **more))


def make_site(rank=1, x=30.0, y=30.0, **more):
    lon, lat = HERE.to_lonlat([x], [y])
    given = {
        "rank": rank,
        "x_m": x,
        "y_m": y,
        "lon": float(lon[0]),
        "lat": float(lat[0]),
        "depth_m": 6.5,
        "swing_radius_m": 10.501,
        "riser_m": 7.0,
        "ground_m": 6.5,
        "least_spare_m": 1.2399,
        "limited_by": "shore: lake",
        "fetch_m": 130.2,
        "wave_height_m": 0.201,
        "shore_m": 69.999,
        "score": 0.669,
        "parts": PARTS,
    }
    return Site(**given | more)


def make_capacity(count=3, most=5, **more):
    xy = np.array([[30.0 + 20 * k, 50.0] for k in range(count)]).reshape(-1, 2)
    lon, lat = HERE.to_lonlat(*xy.T)
    given = {
        "packing": Packing(xy=xy, radius_m=np.full(count, 10.5)),
        "lon": lon,
        "lat": lat,
        "bound": Bound(most=most, source="a theorem of plane geometry (1900)"),
        "variants": (
            Variant(name="neighbour rule", fits=6, most=9, neighbour_m=0.0),
            Variant(name="neighbour rule", fits=3, most=5, neighbour_m=2.0),
            Variant(name="shorter lines", fits=4, most=7, neighbour_m=2.0),
        ),
    }
    return Capacity(**given | more)


def make_ask(**more):
    like = {"status": "proposed", "riser_m": None, "ground_m": None}
    return SiteAsk(like=make_float("new", **like | more))


def make_sites(**more):
    given = {
        "ask": make_ask(),
        "allowed": ALLOWED,
        "closed": CLOSED,
        "sites": (make_site(), make_site(2, 70.0, 50.0, limited_by="A", score=0.5)),
        "capacity": make_capacity(),
    }
    return Sites(**given | more)


def no_sites(**more):
    """Nothing is allowed: a quarter of the lake is too near the shore, the rest too near a float."""
    closed = (
        ClosedWater(kind="float", geometry=shapely.box(-100, -100, 50, 100)),
        ClosedWater(kind="shore", geometry=shapely.box(50, -100, 100, 100)),
    )
    given = {
        "allowed": shapely.MultiPolygon(),
        "closed": closed,
        "sites": (),
        "capacity": make_capacity(0, 0, variants=()),
    }
    return make_sites(**given | more)


def make_why(x=0.0, y=0.0, **more):
    """A place with 3.401 m too little to float A; the nearest allowed 50 m to the northeast."""
    lon, lat = HERE.to_lonlat([x, x + 30.0], [y, y + 40.0])
    given = {
        "x_m": x,
        "y_m": y,
        "lon": float(lon[0]),
        "lat": float(lat[0]),
        "in_water": True,
        "depth_m": 6.5,
        "swing_radius_m": 10.501,
        "riser_m": 7.0,
        "ground_m": 6.5,
        "hindrances": (
            Hindrance(against="A", kind="float", spare_m=-3.401, rule="neighbour rule"),
            Hindrance(against="lake", kind="shore", spare_m=4.999, rule="shore rule"),
        ),
        "problems": (),
        "nearest": (x + 30.0, y + 40.0, float(lon[1]), float(lat[1])),
        "nearest_m": 50.0,
    }
    return WhyNot(**given | more)
