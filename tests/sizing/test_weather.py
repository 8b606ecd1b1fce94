"""From a field's storm to the storm at its floats: winds, bearings, and what is said beside them."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest
from conftest import make_field, make_float, make_settings

from lakemap.basis.errors import BadInputError
from lakemap.loads.return_wind import ReturnWind
from lakemap.mapping import assess
from lakemap.sizing.weather import winds_of


def storm(**more):
    return make_settings(storm=replace(make_settings().storm, **more))


def test_the_storms_own_wind_and_gust():
    found = winds_of(storm(wind_m_s=20.0, gust_m_s=31.0, from_deg=(10.0, 200.0)))
    assert found.from_deg.tolist() == [10, 200]
    assert found.wind_m_s.tolist() == [20, 20]
    assert found.gust_m_s.tolist() == [31, 31]
    # a blank gust follows the published curve: 1.4375
    assert winds_of(storm(wind_m_s=20.0)).gust_m_s == pytest.approx(20 * 1.4375, abs=0.01)


def test_every_five_degrees_where_all_are_asked():
    found = winds_of(storm(from_deg=None))
    assert found.from_deg.tolist() == list(range(0, 360, 5))


def test_a_record_by_sector():
    sectors = np.full(16, np.nan)
    sectors[12] = 10.0  # west
    blown = ReturnWind(
        years=25, speed_m_s=18.0, error_m_s=1.0, sector_speed_m_s=sectors, months=48, left_out=0
    )
    found = winds_of(storm(from_deg=(270.0, 276.0, 0.0)), blown)
    # hourly means become 10-minute means, 1.05 by the published curve; no record: all round
    assert found.wind_m_s == pytest.approx([10.5, 10.5, 18.9], rel=1e-3)
    assert found.gust_m_s == pytest.approx(found.wind_m_s * 1.4375, rel=1e-3)


def record(years=4):
    rng = np.random.default_rng(3)
    time = np.arange("2019-01", f"{2019 + years}-01", dtype="datetime64[h]").astype("datetime64[s]")
    speed, bearing = 3 * rng.weibull(2.0, len(time)), rng.uniform(0, 360, len(time))
    return tuple(
        MappingProxyType({"time": t, "speed_m_s": s, "from_deg": b})
        for t, s, b in zip(time.tolist(), speed.tolist(), bearing.tolist(), strict=True)
    )


def test_a_return_period_from_the_fields_own_record():
    settings = storm(return_period_years=25.0, from_deg=None)
    field = make_field([make_float("1")], settings=settings, wind=record())
    assessment = assess(field)
    said = [p for p in assessment.problems if p.code == "return_wind"]
    assert "25 years" in said[0].text
    assert "48 months" in said[0].text
    wind = assessment.floats[0].sizing.storm.wind_m_s
    assert 5 < wind < 20


def test_too_short_a_record_is_bad_input():
    field = make_field([make_float("1")], settings=storm(return_period_years=25.0), wind=record(1))
    with pytest.raises(BadInputError, match="36"):
        assess(field)


def cautions(**more):
    return assess(make_field([make_float("1", 0.0, 60.0)], **more)).floats[0].sizing.cautions


def test_a_longer_ray_beside_the_listed_bearing_is_said():
    # 60 m north of the middle of a square of 200 m: 40 m of water to the north
    said = [t for t in cautions(settings=storm(from_deg=(340.0,))) if t.startswith("Within 15°")]
    assert said == []
    narrow = [t for t in cautions(settings=storm(from_deg=(75.0,))) if t.startswith("Within 15°")]
    assert narrow == []
    import shapely
    from conftest import HERE

    # a narrow arm: 12 m wide and 400 m long, the storm 15 degrees off its axis
    arm = shapely.multipolygons([HERE.unproject(shapely.box(-6, -200, 6, 200))])
    field = make_field(
        [make_float("1", depth_m=6.5)], settings=storm(from_deg=(15.0,)), bed_m=None, lake=arm
    )
    text = next(t for t in assess(field).floats[0].sizing.cautions if t.startswith("Within 15°"))
    assert "200.00 m of open water, against 23.18 m taken" in text


def test_a_float_on_land_has_no_storm():
    field = make_field([make_float("1", 500.0, 0.0, status="retired", depth_m=6.0)])
    sizing = assess(field).floats[0].sizing
    assert sizing.storm.fetch_m is None
    assert sizing.loads_n.mean is None
    assert sizing.primary.enough.unburied is None


def test_the_storm_is_that_of_the_primary_however_it_was_found():
    # a float seen alone: the primary lies to windward of it, and its riser rests on the wave there
    seen = make_float(
        "1", 10.0, 0.0, position_of="float", wind_from_deg=270.0, riser_m=None, ground_m=None
    )
    found = assess(make_field([seen])).floats[0]
    assert found.x_m < 10
    assert found.sizing.storm.fetch_m == pytest.approx(100 + found.x_m, abs=0.01)
