"""The projection's footing: geodesics on WGS 84, and what the projection does to gaps.

Geodesics: Karney, Algorithms for geodesics, Journal of Geodesy 87 (2013) 43-55, worked on WGS 84; the
last line of the table is the documented example Wellington to Salamanca of GeographicLib. Scale of
the transverse Mercator: Snyder, Map Projections, USGS Professional Paper 1395 (1987), eq. 8-11.
"""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from pyproj import Geod, Transformer

from lakemap.basis.errors import RangeError
from lakemap.lake.projection import LakeProjection

GEOD = Geod(ellps="WGS84")
# from lat, lon, to lat, lon, distance m, azimuths
GEODESICS = [
    (44, -72, 44, -71.99, 802.0619, 89.99652671, 90.00347329),
    (44, -72, 44.01, -72, 1111.1234, 0, 0),
    (44, -72, 44.001, -71.999, 137.0360, 35.82299582, 35.82369049),
    (45, -75, 45, -74.9, 7884.6830, 89.96464466, 90.03535534),
    (44, -72, 44.05, -71.9, 9754.0444, 55.24483620, 55.31433343),
    (0, 0, 0, 1, 111319.4908, 90, 90),
    (0, 0, 0.5, 179.5, 19936288.5790, 25.67187287, 154.32708547),
    (-41.32, 174.81, 40.96, -5.50, 19959679.2674, 161.06766999, 18.82519512),
]
# latitude, metres per degree of latitude and of longitude
PER_DEGREE = [
    (40, 111034.633, 85393.857),
    (42, 111073.284, 82850.762),
    (44, 111112.242, 80206.193),
    (46, 111151.319, 77463.299),
    (48, 111190.323, 74625.354),
    (50, 111229.064, 71695.754),
]
# metres from the meridian, parts per million that the scale grows: x^2/(2 R^2)
SCALE = [(5e3, 0.307), (10e3, 1.229), (20e3, 4.918)]


@pytest.mark.parametrize(("lat1", "lon1", "lat2", "lon2", "s", "a1", "a2"), GEODESICS)
def test_the_general_library_that_tests_rest_on(lat1, lon1, lat2, lon2, s, a1, a2):
    azimuth, back, distance = GEOD.inv(lon1, lat1, lon2, lat2)
    assert distance == pytest.approx(s, abs=1e-4)
    assert azimuth % 360 == pytest.approx(a1, abs=1e-7)
    assert (back + 180) % 360 == pytest.approx(a2, abs=1e-7)


@pytest.mark.parametrize(("lat1", "lon1", "lat2", "lon2", "s", "a1", "a2"), GEODESICS[:3])
def test_short_lines_in_our_projection(lat1, lon1, lat2, lon2, s, a1, a2):
    here = LakeProjection(lon0=(lon1 + lon2) / 2, lat0=(lat1 + lat2) / 2)
    x, y = here.to_xy([lon1, lon2], [lat1, lat2])
    assert np.hypot(*np.diff([x, y], axis=1).ravel()) == pytest.approx(s, abs=2e-4)


@pytest.mark.parametrize(("lat", "north", "east"), PER_DEGREE)
def test_metres_per_degree(lat, north, east):
    here = LakeProjection(lon0=-72.0, lat0=lat)
    x, y = here.to_xy([-72.0 + 1e-4, -72.0], [lat, lat + 1e-4])
    assert x[0] * 1e4 == pytest.approx(east, abs=2e-3)
    assert y[1] * 1e4 == pytest.approx(north, abs=2e-2)
    # wrong in circulation: a sphere of 6371.0088 km, short by 0.25 to 0.31 % east-west
    sphere = np.radians(1) * 6371008.8 * np.cos(np.radians(lat))
    assert 0.0024 < east / sphere - 1 < 0.0032


@pytest.mark.parametrize(("away", "ppm"), SCALE)
def test_scale_away_from_the_meridian(away, ppm):
    here = LakeProjection(lon0=-72.0, lat0=44.0)
    lon, lat = here.to_lonlat([away - 50, away + 50], [0, 0])
    _, _, ground = GEOD.inv(lon[0], lat[0], lon[1], lat[1])
    assert (100 / ground - 1) * 1e6 == pytest.approx(ppm, abs=0.02)


def test_why_not_a_utm_zone():
    # zone 18, latitude 44: 100 m on the ground at longitude -75 are 99.9600 m of the zone's grid
    utm = Transformer.from_crs("EPSG:4326", "EPSG:32618", always_xy=True)
    lon, lat, _ = GEOD.fwd(-75.0, 44.0, 90.0, 100.0)
    east, _ = utm.transform([-75.0, lon], [44.0, lat])
    assert east[1] - east[0] == pytest.approx(99.9600, abs=1e-4)
    here = LakeProjection(lon0=-75.0, lat0=44.0)
    x, _ = here.to_xy([-75.0, lon], [44.0, lat])
    assert x[1] - x[0] == pytest.approx(100.0, abs=1e-4)


@settings(max_examples=200)
@given(
    lat0=st.floats(-75, 75),
    lon0=st.floats(-170, 170),
    x=st.floats(-10e3, 10e3),
    y=st.floats(-10e3, 10e3),
    bearing=st.floats(0, 360),
    gap=st.floats(0.01, 500),
)
def test_gaps_agree_with_the_geodesic_to_a_millimetre(lat0, lon0, x, y, bearing, gap):
    here = LakeProjection(lon0=lon0, lat0=lat0)
    lon, lat = here.to_lonlat([x], [y])
    lon2, lat2, _ = GEOD.fwd(lon[0], lat[0], bearing, gap)
    x2, y2 = here.to_xy([lon2], [lat2])
    assert np.hypot(x2[0] - x, y2[0] - y) == pytest.approx(gap, abs=1e-3)


def test_centre_round_trip_and_text():
    lake = shapely.box(-72.02, 43.99, -71.98, 44.01)
    here = LakeProjection.centred_on(lake)
    assert (here.lon0, here.lat0) == pytest.approx((-72.0, 44.0))
    assert here.unproject(here.project(lake)).equals_exact(lake, 1e-11)
    assert "+proj=tmerc" in here.text
    lon, lat = here.to_lonlat([np.nan, 0.0], [np.nan, 0.0])
    assert np.isnan([lon[0], lat[0]]).all()
    assert (lon[1], lat[1]) == pytest.approx((-72.0, 44.0))


def test_a_lake_on_no_map():
    with pytest.raises(RangeError, match="on no map"):
        LakeProjection.centred_on(shapely.Polygon())
    with pytest.raises(RangeError, match="on no map"):
        LakeProjection.centred_on(shapely.box(0, 95, 1, 96))
