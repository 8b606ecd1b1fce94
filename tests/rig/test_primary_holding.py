"""Holding: ranges, shapes, soils and other anchors; sliding pulls against a general root finder."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq, linprog, minimize_scalar

from lakemap.basis.errors import RangeError
from lakemap.rig.bed import DISTURBED, FRICTION, SOILS, friction_of
from lakemap.rig.holding import (
    BLOCK_FACE_M,
    HOLDING_BURIED,
    HOLDING_UNBURIED,
    PASSIVE,
    REQUIRED_WEIGHT,
    LineRig,
    holding_buried,
    holding_unburied,
    passive_of,
    passive_pressure,
    passive_step,
    passive_wedge,
    required_weight,
    slide_pull_primary,
    weight_in_water,
)
from lakemap.rig.line import two_cluster_line

INCH, LB, FT = 0.0254, 0.45359237, 0.3048
LINE = {
    "drop_m": 5.0,
    "ground_m": 5.0,
    "riser_m": 6.5,
    "ground_weight_n_m": 40.0,
    "riser_weight_n_m": 20.0,
    "secondary_wet_n": 300.0,
}


def rigs(count=1, **more):
    given = LINE | more
    return LineRig(
        **{name: np.broadcast_to(np.asarray(v, dtype=float), count) for name, v in given.items()}
    )


def uplift(pull, line=LINE):
    return float(two_cluster_line(pull, **line).primary_uplift_n)


# stuff, its density in lb/ft3 or kg/m3 with that of water, and what of its weight is left in water
@pytest.mark.parametrize(
    ("density", "water", "low", "high"),
    [
        ((150, 150), 62.4, 0.584, 0.584),  # plain cast concrete
        ((2403, 2403), 1000, 0.584, 0.584),
        ((165, 175), 62.4, 0.622, 0.643),  # granite
        ((2643, 2803), 1000, 0.622, 0.643),  # 2640 and 2800 as rounded: 0.621, 0.643
        ((165, 165), 62.4, 0.622, 0.622),  # limestone
        ((160, 188), 62.4, 0.610, 0.668),  # basalt
        ((450, 450), 62.4, 0.861, 0.861),  # cast iron (from memory)
        ((7210, 7210), 1000, 0.861, 0.861),
    ],
)
def test_what_is_left_of_a_weight_in_water(density, water, low, high):
    kg_m3 = np.array(density) * 1000 / water
    assert weight_in_water(1.0, density_kg_m3=kg_m3) == pytest.approx([low, high], abs=6e-4)


@pytest.mark.parametrize(
    ("side_ft", "dry_lb", "wet_lb"), [(1.5, 506, 296), (2.0, 1200, 701)]
)  # 150 s^3 lb, wet 87.6 s^3 lb
def test_cubes_of_concrete_in_feet(side_ft, dry_lb, wet_lb):
    dry = 150 * side_ft**3
    assert dry == pytest.approx(dry_lb, abs=0.5)
    wet = float(weight_in_water(dry, density_kg_m3=150 * 1000 / 62.4))
    assert wet == pytest.approx(wet_lb, abs=0.5)
    assert wet == pytest.approx(87.6 * side_ft**3, rel=1e-4)


def test_cube_of_concrete_in_metres():
    # 0.5 m: 300 kg, 175 kg in water, 1716 N
    wet = float(weight_in_water(2400 * 0.5**3, density_kg_m3=2400))
    assert wet == pytest.approx(175)
    assert wet * 9.80665 == pytest.approx(1716, abs=0.5)


@pytest.mark.parametrize(("low", "high"), [(50, 65)])
def test_submerged_weight_of_sand(low, high):
    # 8 to 10 kN/m3, 50 to 65 lb/ft3: the sands' and silts' is the low end
    newtons = np.array([low, high]) * LB * 9.80665 / FT**3
    assert newtons == pytest.approx([8e3, 10e3], rel=0.025)
    assert SOILS["sand"].weight_n_m3 == SOILS["silt"].weight_n_m3 == 8e3
    for soil in SOILS.values():
        assert 4e3 <= soil.weight_n_m3 <= 10e3


def test_friction_is_never_that_of_concrete_cast_on_the_bed():
    # cast rows of DM 7.02, high ends: gravel 0.60, sand 0.55, silt 0.35, rock 0.70
    cast = {"gravel": 0.55, "sand": 0.45, "silt": 0.30, "rock": 0.70}
    for bottom, mu in cast.items():
        assert FRICTION[bottom].value < mu
    assert FRICTION["mud"].value == 0  # none is in print
    assert FRICTION["clay"].value == 0.30
    assert friction_of([None]) == friction_of(["silt"])


def test_a_weight_on_mud_holds_nothing_lying_and_something_settled():
    assert float(holding_unburied(5000.0, uplift_n=0.0, friction=FRICTION["mud"].value)) == 0
    soil = passive_of(["mud"], blocks=np.array([5.0]))
    assert soil[0] > 0
    assert np.isinf(required_weight(100.0, uplift_n=0.0, friction=0.0, factor=1.5))
    assert float(required_weight(0.0, uplift_n=50.0, friction=0.0, factor=1.5)) == 50


def test_required_weight_is_the_least_that_a_linear_programme_finds():
    # least W with mu (W - V0) >= n H
    found = linprog([1.0], A_ub=[[-0.45]], b_ub=[-(1.5 * 220 + 0.45 * 77.115)])
    assert float(
        required_weight(220.0, uplift_n=77.115, friction=0.45, factor=1.5)
    ) == pytest.approx(found.x[0])


@pytest.mark.parametrize("angle", [25.0, 28.0, 30.0, 32.0, 35.0])
def test_passive_pressure_is_the_least_over_all_wedges(angle):
    """Independent method: Coulomb's wedge of sand pushed up, smooth wall, least over its slope."""
    phi = np.radians(angle)

    def push(slope):
        # weight of a wedge of unit height over the wall's pressure on it
        return np.tan(slope + phi) / np.tan(slope)

    least = minimize_scalar(push, bounds=(0.05, np.pi / 2 - phi - 0.05), method="bounded")
    assert float(passive_pressure(angle)) == pytest.approx(least.fun, rel=1e-6)


def test_wedge_of_sand_and_clay_is_the_pressure_summed():
    given = {"weight_n_m3": 7e3, "friction_deg": 20.0, "shear_pa": 0.0}
    sand, _ = quad(lambda z: 7e3 * z * np.tan(np.radians(55)) ** 2, 0, 0.3)
    assert float(passive_wedge(0.3, breadth_m=0.7, **given)) == pytest.approx(0.7 * sand)
    clay, _ = quad(lambda z: 6e3 * z + 2 * 5e3, 0, 0.4)
    given = {"weight_n_m3": 6e3, "friction_deg": 0.0, "shear_pa": 5e3}
    assert float(passive_wedge(0.4, breadth_m=1.0, **given)) == pytest.approx(clay)


def test_soil_in_front_of_a_cluster_by_hand():
    # sand: 8 kN/m3, 28 degrees (K_p 2.7698), 7 5/8 in deep, one block 15 5/8 in broad, halved
    face, height = 15.625 * INCH, 7.625 * INCH
    assert pytest.approx((face, height)) == BLOCK_FACE_M
    by_hand = 0.5 * face * 0.5 * 8e3 * height**2 * 2.7698
    one, two, five, given = passive_of(["sand"] * 4, blocks=np.array([1.0, 2.0, 5.0, np.nan]))
    assert one == pytest.approx(by_hand, rel=1e-4)
    assert given == one
    assert two == five == pytest.approx(2 * by_hand, rel=1e-4)
    # clay: 6 kN/m3 and 5 kPa
    clay = passive_of(["clay"], blocks=np.array([1.0]))[0]
    assert clay == pytest.approx(0.5 * face * (0.5 * 6e3 * height**2 + 2 * 5e3 * height))


def test_nothing_settles_on_rock():
    step = passive_step(["rock", "sand", None], blocks=np.array([3.0, 0.0, 3.0]))
    assert step.formula is PASSIVE
    assert np.isnan(step.value).tolist() == [True, False, False]
    assert step.inside.tolist() == [False, True, True]
    assert step.value[1] == 0  # no block, no face
    held = holding_buried(1000.0, uplift_n=0.0, friction=0.4, passive_n=step.value[0])
    assert np.isnan(held)
    assert DISTURBED.value == 0.5


def test_uplift_comes_off_before_friction():
    assert float(holding_unburied(1000.0, uplift_n=400.0, friction=0.3)) == pytest.approx(180)
    assert float(holding_unburied(300.0, uplift_n=400.0, friction=0.3)) == 0
    assert (
        float(holding_buried(300.0, uplift_n=400.0, friction=0.3, passive_n=900.0)) == 0
    )  # the soil lets go with it


@given(
    st.floats(0, 0.8), st.floats(1, 6000), st.floats(0, 3000), st.floats(3.5, 6.4), st.floats(0, 900)
)  # fmt: skip
def test_sliding_pull_against_a_general_root_finder(mu, weight, soil, drop, second):
    line = LINE | {"drop_m": drop, "secondary_wet_n": second}

    def left(pull):
        lifted = uplift(pull, line)
        held = holding_buried(weight, uplift_n=lifted, friction=mu, passive_n=soil)
        return float(held) - pull

    found = float(slide_pull_primary(mu, wet_n=weight, passive_n=soil, rig=rigs(**line))[0])
    most = mu * weight + soil + 1
    expected = brentq(left, 0.0, most, xtol=1e-9) if left(0.0) > 0 else 0.0
    assert found == pytest.approx(expected, rel=1e-6, abs=1e-4)


def test_soil_lets_go_where_the_chain_lifts_the_primary():
    # much soil in front of a light primary: it is lifted at the pull whose uplift is its weight
    found = float(slide_pull_primary(0.3, wet_n=300.0, passive_n=3000.0, rig=rigs())[0])
    assert uplift(found) == pytest.approx(300, rel=1e-9)
    assert found < 0.3 * 300 + 3000


def test_no_uplift_no_change():
    # a heavy secondary: at this pull the chain still lies, so friction is all there is
    heavy = rigs(secondary_wet_n=5000.0)
    found = float(slide_pull_primary(0.3, wet_n=1000.0, passive_n=100.0, rig=heavy)[0])
    assert found == pytest.approx(400)
    assert uplift(400.0, LINE | {"secondary_wet_n": 5000.0}) == 0


def test_many_at_once_with_some_that_have_no_line():
    drop = np.array([5.0, np.nan, 0.0, 11.5, 12.0, 5.0])
    soil = np.array([0.0, 0.0, 0.0, 0.0, 0.0, np.nan])
    found = slide_pull_primary(0.3, wet_n=1000.0, passive_n=soil, rig=rigs(6, drop_m=drop))
    assert np.isnan(found).tolist() == [False, True, True, True, True, True]
    alone = slide_pull_primary(0.3, wet_n=1000.0, passive_n=0.0, rig=rigs())
    assert found[0] == pytest.approx(alone[0], rel=1e-12)


@given(st.floats(0.05, 0.8), st.floats(50, 5000), st.floats(0, 2000), st.floats(0.1, 10))
def test_weights_scale(mu, weight, soil, scale):
    names = ("ground_weight_n_m", "riser_weight_n_m", "secondary_wet_n")
    once = slide_pull_primary(mu, wet_n=weight, passive_n=soil, rig=rigs())
    more = slide_pull_primary(
        mu, wet_n=scale * weight, passive_n=scale * soil,
        rig=rigs(**{name: scale * LINE[name] for name in names}),
    )  # fmt: skip
    assert more == pytest.approx(scale * once, rel=1e-6)


@given(st.floats(0.05, 0.8), st.floats(50, 5000), st.floats(0, 900), st.floats(1.01, 3))
def test_a_heavier_secondary_never_slides_the_primary_sooner(mu, weight, second, more):
    light = slide_pull_primary(mu, wet_n=weight, passive_n=0.0, rig=rigs(secondary_wet_n=second))
    heavy = slide_pull_primary(
        mu, wet_n=weight, passive_n=0.0, rig=rigs(secondary_wet_n=more * second)
    )
    assert heavy[0] >= light[0] * (1 - 1e-9)


def test_a_single_small_anchor_in_a_storm():
    # common practice, no published source: a 20-lb anchor is far too little. 20 lb of iron weighs
    # 17.2 lb in water, and rubs on sand with 0.30: 5.2 lb against a pull of 180 lb, a 35th. With
    # the practice's 1.5 it would take 900 lb in water, over 1000 lb of iron
    wet = float(weight_in_water(20.0, density_kg_m3=7210))
    assert wet == pytest.approx(17.2, abs=0.05)
    held = float(holding_unburied(wet, uplift_n=0.0, friction=FRICTION["sand"].value))
    assert held == pytest.approx(5.2, abs=0.05)
    assert 180 / held == pytest.approx(35, abs=0.5)
    asked = float(required_weight(180.0, uplift_n=0.0, friction=0.30, factor=1.5))
    assert asked == pytest.approx(900)
    assert asked / 0.861 == pytest.approx(1045, abs=1)


def test_not_known_stays_so():
    assert np.isnan(holding_unburied(np.nan, uplift_n=0.0, friction=0.3))
    assert np.isnan(required_weight(np.nan, uplift_n=0.0, friction=0.3, factor=1.5))
    assert np.isnan(slide_pull_primary(0.3, wet_n=np.nan, passive_n=0.0, rig=rigs())[0])


WRONG = (
    lambda: holding_unburied([1.0, -7.0], uplift_n=0.0, friction=0.3),
    lambda: holding_unburied(5.0, uplift_n=[0.0, -7.0], friction=0.3),
    lambda: holding_buried(5.0, uplift_n=0.0, friction=0.3, passive_n=[0.0, -7.0]),
    lambda: required_weight([1.0, -7.0], uplift_n=0.0, friction=0.3, factor=1.5),
    lambda: passive_wedge([1.0, -7.0], breadth_m=1, weight_n_m3=1, friction_deg=1, shear_pa=1),
    lambda: slide_pull_primary([0.3, -7.0], wet_n=1.0, passive_n=0.0, rig=rigs(2)),
)


@pytest.mark.parametrize("which", range(len(WRONG)))
def test_below_nothing_is_refused_with_element_and_number(which):
    with pytest.raises(RangeError, match=r"^\[1\].* -7"):
        WRONG[which]()


def test_formulas_are_their_functions():
    rub = {"wet_n": 1000.0, "uplift_n": 400.0, "friction": 0.3}
    assert HOLDING_UNBURIED(**rub).value == pytest.approx(180)
    assert HOLDING_BURIED(**rub, passive_n=50.0).value == pytest.approx(230)
    asked = REQUIRED_WEIGHT(pull_n=220.0, uplift_n=77.115, friction=0.3, factor=1.5)
    assert asked.value == pytest.approx(1177.1, abs=0.06)
    wedge = {"breadth_m": 1.0, "weight_n_m3": 9e3, "friction_deg": 30.0, "shear_pa": 0.0}
    assert PASSIVE(depth_m=0.4, **wedge).value == pytest.approx(2160 / 2)
    assert not HOLDING_UNBURIED(**rub | {"friction": 0.0}).inside
    assert not HOLDING_BURIED(**rub, passive_n=np.nan).inside
