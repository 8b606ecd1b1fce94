"""Advice for one float: what is given stands, and what is missing is asked for."""

from dataclasses import replace

import numpy as np
import pytest
from conftest import make_float, make_settings

from lakemap.advice import advise
from lakemap.basis.errors import RangeError
from lakemap.basis.records import Levels


def advise_(record, settings):
    return advise(record, settings, fetch_m=800.0)


def new(**more):
    given = {"status": "proposed", "depth_m": 6.5, "riser_m": None, "ground_m": None}
    return make_float("new", **given | more)


def test_lengths_and_circles_at_three_levels():
    # levels half a metre either side; hook at the surface, no wake, no wind: riser 7.0, ground 6.5 m
    calm = replace(make_settings().storm, wind_m_s=0.0)
    found = advise_(new(), make_settings(storm=calm))
    assert found.depth_m == pytest.approx((6.0, 6.5, 7.0))
    assert (found.riser_m, found.ground_m) == pytest.approx((7.0, 6.5))
    assert found.reach_m == pytest.approx([np.sqrt(13.5**2 - d**2) for d in (6.0, 6.5, 7.0)])
    assert found.swing_radius_m[0] == pytest.approx(found.reach_m[0] + 2.5)
    assert found.walk_radius_m == pytest.approx(6.5)
    assert found.problems == ()


def test_what_to_buy_names_counts_and_both_weights():
    # 12-in units at 95 lb/ft3 (ASTM C90 range, light end): 37.08 lb dry, 12.69 lb in water each
    found = advise_(new(primary_blocks=6, secondary_blocks=3), make_settings(units="ft-lb"))
    assert found.buy[0] == (
        "12-in hollow blocks, primary",
        "6  (222 lb dry, only 76 lb in water)",
    )
    assert found.buy[1][1].startswith("3  (111 lb dry")


def test_weights_given_instead_of_blocks():
    found = advise_(new(primary_weight_kg=100.0, secondary_weight_kg=60.0), make_settings())
    assert found.buy[0][0] == "weight, primary"
    assert found.buy[0][1].startswith("100 kg dry, only")
    assert found.sizing.primary.blocks is None


@pytest.mark.parametrize("depth", [None, 0.0, -1.0, float("nan")])
def test_a_depth_is_needed(depth):
    with pytest.raises(RangeError, match="give the depth at the primary"):
        advise_(new(depth_m=depth), make_settings())


def test_steps_in_order_and_the_circle_that_must_be_free():
    found = advise_(new(), make_settings())
    assert [step.split()[0] for step in found.lay] == ["Choose", "Lower", "Run", "Make"]
    assert f"{np.ceil(found.swing_radius_m[0] * 100) / 100:.2f} m free" in found.lay[0]
    assert "6.50 m, down the usual wind" in found.lay[2]


@pytest.mark.parametrize(
    ("bottom", "words"),
    [(None, "not given"), ("mud", "On mud"), ("clay", "On clay"), ("rock", "On rock")],
)
def test_the_bottom_is_told(bottom, words):
    found = advise_(new(bottom=bottom), make_settings())
    assert any(words in text for text in found.unsure)
    assert "no published source" in found.unsure[0]


def test_rigs_that_cannot_work():
    dry = Levels(low_m=-7.0, normal_m=0.0, high_m=0.5, soundings_m=0.0)
    aground = advise_(new(), make_settings(levels=dry))
    assert any("aground" in text for text in aground.problems)
    short = advise_(new(riser_m=4.0, ground_m=2.5), make_settings())
    assert short.problems == ("The line is too short for high water: the float is pulled under.",)


def test_a_storm_lengthens_a_designed_riser_by_half_its_highest_wave():
    found = advise_(new(), make_settings())
    wave = found.sizing.storm.wave_height_max_m
    assert found.riser_m == pytest.approx(np.ceil((7.0 + wave / 2) * 10 - 1e-9) / 10)
    assert found.sizing.storm.fetch_m == pytest.approx(800.0, abs=1e-3)


@pytest.mark.parametrize("fetch", [0.0, -1.0, 1e6, float("nan")])
def test_open_water_that_no_lake_has_is_refused(fetch):
    with pytest.raises(RangeError, match="open water"):
        advise(new(), make_settings(), fetch_m=fetch)
