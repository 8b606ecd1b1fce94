"""All of a float's stability at once: the parts by their own tests, here how they come together."""

from dataclasses import fields, replace

import numpy as np
import pytest
from clipped import arm
from conftest import make_float
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from lakemap.basis.errors import RangeError
from lakemap.rig import stability as module
from lakemap.rig.float_defaults import fill_flotation
from lakemap.rig.layout import layout
from lakemap.rig.stability import DECK_M, EDGE_PEOPLE, HEEL, stability, tippings

PERSON = 185 * 0.45359237
ARRAYS = [one.name for one in fields(module.Stability) if one.name != "steps"]


def tubes(**more):
    sides = {"length_m": 3.0, "width_m": 3.0, "tubes": 2, "tube_diameter_m": 0.5}
    return make_float("t", flotation="tubes", **sides | {"float_weight_kg": 480.0} | more)


def billets(**more):
    sides = {"billets": 4, "billet_length_m": 1.8, "billet_width_m": 0.6, "billet_height_m": 0.4}
    return make_float("b", flotation="billets", **sides | {"float_weight_kg": 600.0} | more)


def of(*floats, people=4):
    return stability(floats, fill_flotation(floats), people=people)


def both_ways(one):
    flotation = fill_flotation([one])
    laid = layout(flotation, length_m=np.array([one.length_m]), width_m=np.array([one.width_m]))
    return tippings(flotation, laid)


@pytest.mark.parametrize("one", [tubes(), billets(), tubes(tubes=3, width_m=4.0)])
def test_the_worse_edge_by_clipped_polygons(one):
    found = of(one, people=4)
    rests = []
    for way in both_ways(one):
        angle = brentq(
            lambda a, way=way: arm(way, a, 2 * PERSON)[0], 1e-3, np.radians(9), xtol=1e-9
        )
        rests.append((np.degrees(angle), arm(way, angle, 2 * PERSON)[1]))
    assert found.heel_deg[0] == pytest.approx(max(tilt for tilt, _ in rests), abs=2e-3)
    assert found.least_freeboard_m[0] == pytest.approx(min(edge for _, edge in rests), abs=2e-4)
    assert found.gm_m[0] == min(found.gm_transverse_m[0], found.gm_long_m[0])


def test_people_stand_where_the_deck_says():
    # deck of 3 m, tubes 0.5 m flush: 1.25 m out; people 1.3 m out, 1.62 m up; weight at 0.56 m
    side, end = both_ways(tubes())
    assert side.profile.offset_m.tolist() == [[-1.25, 1.25]]
    for way in (side, end):
        assert way.stand_m[0] == pytest.approx(1.3)
        assert way.person_centre_m[0] == pytest.approx(1.62)
        assert way.deck_top_m[0] == pytest.approx(0.62)
        assert way.centre_m[0] == pytest.approx(0.56)
    assert DECK_M.value == 0.12
    # a deck narrower than 0.4 m: in the middle
    assert both_ways(tubes(width_m=0.3))[0].stand_m[0] == 0


@pytest.mark.parametrize(("people", "half"), [(0, 0), (1, 1), (2, 1), (3, 2), (4, 2), (5, 3)])
def test_half_of_the_people_is_rounded_up(people, half):
    found = of(tubes(), people=people)
    told = next(step for step in found.steps if step.formula is HEEL)
    assert told.given["people_kg"][0] == pytest.approx(half * PERSON)
    assert (found.heel_deg[0] == 0) == (half == 0)


@settings(max_examples=25)
@given(st.floats(100.0, 1100.0), st.integers(0, 12), st.booleans())
def test_the_most_at_the_edge_and_the_tilt_agree(weight, people, boxes):
    one = billets(float_weight_kg=weight) if boxes else tubes(float_weight_kg=weight)
    found, most = of(one, people=2 * people), int(of(one, people=0).edge_people_max[0])
    assert np.isnan(found.heel_deg[0]) == (people > most)
    assert np.isnan(found.least_freeboard_m[0]) == (people > most)
    if people <= most:
        assert 0 <= found.heel_deg[0] <= 45
        assert found.least_freeboard_m[0] >= 0


@settings(max_examples=20)
@given(st.floats(100.0, 1100.0), st.integers(1, 4), st.booleans())
def test_more_people_never_less_tilt(weight, people, boxes):
    one = billets(float_weight_kg=weight) if boxes else tubes(float_weight_kg=weight)
    few, many = of(one, people=2 * people), of(one, people=2 * people + 2)
    assert np.isnan(many.heel_deg[0]) or many.heel_deg[0] > few.heel_deg[0]
    assert few.edge_people_max[0] == many.edge_people_max[0]
    assert few.gm_m[0] == many.gm_m[0]  # with nobody aboard


def kinds():
    return [
        tubes(),
        billets(),
        tubes(tubes=5, width_m=4.0, float_weight_kg=900.0),
        billets(billets=7),
        tubes(float_weight_kg=2000.0),
        tubes(tubes=1),
        billets(billets=1),
        tubes(),
    ]


def test_all_kinds_at_once_are_each_as_alone(monkeypatch):
    floats = kinds()
    monkeypatch.setattr(module, "_CHUNK", 3)
    together = of(*floats)
    for i, one in enumerate(floats):
        alone = of(one)
        for name in ARRAYS:
            assert getattr(together, name)[i] == pytest.approx(
                getattr(alone, name)[0], abs=1e-5, nan_ok=True
            ), name


def test_a_turned_deck_is_the_same():
    one = tubes(length_m=4.0, width_m=2.5, tube_length_m=4.0)
    here, turned = of(one), of(replace(one, length_m=2.5, width_m=4.0))
    for name in ARRAYS:
        assert getattr(here, name)[0] == getattr(turned, name)[0]


def test_a_float_too_heavy_for_itself():
    found = of(tubes(float_weight_kg=2000.0))
    known = {"kg_m", "added_mass_kg", "edge_people_max"}
    for name in ARRAYS:
        assert np.isnan(getattr(found, name)[0]) != (name in known), name
    assert found.edge_people_max[0] == 0


def test_one_tube_in_the_middle_carries_nobody_at_its_side():
    # GM below 0: it turns over by itself
    found = of(tubes(tubes=1, tube_diameter_m=0.7))
    assert found.gm_transverse_m[0] < 0 < found.gm_long_m[0]
    assert np.isnan(found.heel_deg[0])
    assert np.isnan(found.roll_period_s[0])
    assert found.edge_people_max[0] == 0


def test_steps_are_the_numbers():
    floats = kinds()
    found = of(*floats)
    told = {step.formula.key: step for step in found.steps}
    assert len(told) == len(found.steps)
    for key, array in (
        ("gm", found.gm_m),
        ("heel", found.heel_deg),
        ("edge_people", found.edge_people_max),
        ("heave_period", found.heave_period_s),
        ("roll_period", found.roll_period_s),
    ):
        np.testing.assert_array_equal(told[key].value, array)
    # called with the same terms, each formula gives the same
    for formula in (HEEL, EDGE_PEOPLE):
        again = formula(**told[formula.key].given)
        np.testing.assert_allclose(again.value, told[formula.key].value, atol=1e-6)


def test_ten_thousand_floats_share_their_work(monkeypatch):
    # the same float many times is tipped once
    seen = []
    real = module.edge_load
    monkeypatch.setattr(
        module,
        "edge_load",
        lambda at, people_kg: seen.append(len(people_kg)) or real(at, people_kg=people_kg),
    )
    found = of(*([tubes()] * 10_000))
    assert seen == [1, 1]
    assert np.ptp(found.heel_deg) == 0


def test_no_floats_and_fewer_than_nobody():
    found = of()
    for name in ARRAYS:
        assert getattr(found, name).shape == (0,)
    with pytest.raises(RangeError, match="-1 people: need 0 or more"):
        of(tubes(), people=-1)
