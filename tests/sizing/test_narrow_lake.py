"""Fetches published for narrow lakes against rays cut by shapely."""

from pathlib import Path

import numpy as np
import pytest
from shapely import LineString, Point, box

from lakemap import read_field
from lakemap.loads.restricted_fetch import averaged_fetch, restricted_fetch
from lakemap.mapping import assess
from lakemap.sizing.narrow_lake import narrow_lake

DATA = Path(__file__).parents[2] / "data"


class Storm:
    """What of a storm the fetches rest on."""

    def __init__(self, fetch_m, from_deg, wind_m_s):
        n = len(from_deg)
        self.fetch_m = np.broadcast_to(np.asarray(fetch_m, dtype=float), n)
        self.from_deg = np.asarray(from_deg, dtype=float)
        self.wind_m_s = np.full(n, wind_m_s)


def cut(water, xy, bearing):
    """One ray, by shapely."""
    way = np.array([np.sin(np.radians(bearing)), np.cos(np.radians(bearing))])
    ray = LineString([xy, xy + 1e5 * way]).intersection(water)
    first = ray.geoms[0] if ray.geom_type == "MultiLineString" else ray
    return first.length


def test_a_round_lake_has_one_fetch_whichever_way_it_is_taken():
    lake = Point(0, 0).buffer(800, quad_segs=512)
    storm = Storm(800.0, [0.0, 37.0, 355.0], 20.0)
    averaged, restricted, height = narrow_lake(lake, np.zeros((3, 2)), storm)
    assert averaged.value == pytest.approx(800, rel=1e-5)
    assert restricted.value == pytest.approx(800, rel=1e-5)
    assert restricted.given["from_deg"] == pytest.approx(storm.from_deg)
    assert height.given["off_wind_deg"] == pytest.approx(0)
    # Smith 1991 by hand: U_A = 20 sqrt(0.75 + 1.34), H = 0.0015 U_A sqrt(F/g)
    speed = 20 * np.sqrt(0.75 + 0.067 * 20)
    assert height.value == pytest.approx(0.0015 * speed * np.sqrt(800 / 9.80665), rel=1e-4)


def test_a_long_arm_aslant_makes_the_waves():
    """A strip to the north-east: the wind from the north, the sea up the strip."""
    strip = box(-40, -40, 40, 3000)
    place = np.array([[0.0, 0.0]])
    for wind_from in (40.0, 320.0):
        storm = Storm(1.0, [wind_from], 20.0)
        averaged, restricted, height = narrow_lake(strip, place, storm)
        fan = np.arange(-42, 43, 6.0)
        rays = [cut(strip, place[0], wind_from + off) for off in fan]
        assert averaged.value[0] == pytest.approx(averaged_fetch(rays, off_wind_deg=fan), rel=1e-6)
        round_ = np.arange(-100.0, 101.0, 5.0)
        rays = [cut(strip, place[0], wind_from + off) for off in round_]
        mine = restricted_fetch(rays, bearings_deg=round_, wind_from_deg=0.0)
        assert restricted.value[0] == pytest.approx(float(mine.fetch_m), rel=1e-6)
        assert restricted.value[0] > 5 * cut(strip, place[0], wind_from)
        off = height.given["off_wind_deg"][0]
        assert off == pytest.approx(-40 if wind_from < 180 else 40, abs=8)


def test_floats_on_land_have_none():
    lake = box(0, 0, 500, 500)
    storm = Storm([np.nan, 250.0], [0.0, 0.0], 20.0)
    for step in narrow_lake(lake, np.array([[900.0, 0.0], [250.0, 250.0]]), storm):
        assert np.isnan(step.value[0])
        assert step.value[1] > 0


def test_every_float_of_the_demo_shows_them_beside_its_own():
    sized = assess(read_field(DATA / "tamber-lake"))
    steps = {step.formula.key: step.value for step in sized.working}
    n = len(sized.floats)
    for key in ("averaged_fetch", "restricted_fetch", "narrow_lake_height"):
        assert steps[key].shape == (n,)
        assert np.isfinite(steps[key]).all()
    assert (steps["narrow_lake_height"] >= 0).all()
