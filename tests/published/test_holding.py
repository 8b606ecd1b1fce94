"""Holding: NAVFAC DM 7.02 (1986) ch. 3 table 1, UFC 4-159-03 (2005) table 3-7, Rankine's wedges."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from lakemap.rig.bed import (
    BREAKOUT,
    FRICTION,
    HOLDING_FACTOR,
    MASS_FRICTION,
    SAFETY_FACTORS,
    friction_of,
)
from lakemap.rig.holding import (
    LineRig,
    holding_buried,
    holding_unburied,
    passive_of,
    passive_pressure,
    passive_wedge,
    required_weight,
    slide_pull_primary,
    weight_in_water,
)
from lakemap.rig.line import two_cluster_line

LB = 4.4482216152605


@pytest.mark.parametrize(
    ("row", "low", "high", "degrees"),
    [
        ("clean sound rock", 0.70, 0.70, (35, 35)),
        ("clean gravel, gravel-sand, coarse sand", 0.55, 0.60, (29, 31)),
        (
            "clean fine to medium sand, silty medium to coarse sand, silty or clayey gravel",
            0.45,
            0.55,
            (24, 29),
        ),
        ("clean fine sand, silty or clayey fine to medium sand", 0.35, 0.45, (19, 24)),
        ("fine sandy silt, nonplastic silt", 0.30, 0.35, (17, 19)),
        ("very stiff and hard residual or preconsolidated clay", 0.40, 0.50, (22, 26)),
        ("medium stiff and stiff clay, silty clay", 0.30, 0.35, (17, 19)),
    ],
)
def test_concrete_cast_on_the_bed(row, low, high, degrees):
    printed = MASS_FRICTION[row]
    assert (printed.low, printed.high) == (low, high)
    # the table prints tan and angle; whole degrees are cut or rounded by up to 0.8 degrees
    assert np.degrees(np.arctan([low, high])) == pytest.approx(degrees, abs=0.9)


@pytest.mark.parametrize(
    ("bottom", "low", "high"),
    [("gravel", 0.40, 0.50), ("sand", 0.30, 0.40), ("silt", 0.25, 0.25)],
)
def test_formed_faces_slide_more_easily(bottom, low, high):
    printed = FRICTION[bottom]
    assert (printed.value, printed.low, printed.high) == (low, low, high)


def test_bottoms_of_the_floats_file():
    assert friction_of(["sand", None, "mud"]).tolist() == [0.30, FRICTION["silt"].value, 0.0]
    assert set(FRICTION) == {"sand", "gravel", "silt", "mud", "clay", "rock"}


@pytest.mark.parametrize(
    ("density", "water", "share"),
    [(150, 62.4, 0.5840), (145, 62.4, 0.5697), (2400, 1000, 0.5833)],
)
def test_weight_in_water(density, water, share):
    # ours takes 1000 kg/m3; 62.4 lb/ft3 is 0.05 % less
    assert weight_in_water(1.0, density_kg_m3=density * 1000 / water) == pytest.approx(
        share, abs=5e-5
    )


@pytest.mark.parametrize(
    ("mu", "wet", "dry"), [(0.30, 1177.1, 2015.6), (0.45, 810.4, 1387.8), (0.55, 677.1, 1159.4)]
)
def test_required_weight(mu, wet, dry):
    # H 220 lb, uplift 77.115 lb, factor 1.5: the uplift comes off before friction
    found = float(required_weight(220.0, uplift_n=77.115, friction=mu, factor=1.5))
    assert found == pytest.approx(wet, abs=0.06)
    assert found / 0.584 == pytest.approx(dry, abs=0.06)
    # the stricter reading factors the uplift too
    assert found < 1.5 * (77.115 + 220 / mu)
    held = holding_unburied(found, uplift_n=77.115, friction=mu)
    assert held == pytest.approx(1.5 * 220)


@pytest.mark.parametrize(
    ("angle", "kp"), [(25, 2.4639), (28, 2.7698), (30, 3.0000), (32, 3.2546), (35, 3.6902)]
)
def test_passive_pressure(angle, kp):
    assert passive_pressure(angle) == pytest.approx(kp, abs=1e-4)


def test_wedges():
    sand = {"breadth_m": 1.0, "weight_n_m3": 9e3, "friction_deg": 30, "shear_pa": 0.0}
    clay = {"breadth_m": 1.0, "weight_n_m3": 6e3, "friction_deg": 0, "shear_pa": 5e3}
    assert passive_wedge(0.4, **sand) == pytest.approx(2160)
    assert passive_wedge(0.4, **clay) == pytest.approx(4480)


def test_a_wedge_is_the_pressure_summed_over_the_depth():
    from scipy.integrate import quad

    force, _ = quad(lambda z: 9e3 * z * 3.0, 0, 0.4)
    sand = {"breadth_m": 1.0, "weight_n_m3": 9e3, "friction_deg": 30, "shear_pa": 0.0}
    assert passive_wedge(0.4, **sand) == pytest.approx(force)


@pytest.mark.parametrize(
    ("part", "factor"),
    [
        ("chain, straight", 3.0), ("chain round a bend", 4.0), ("wire rope", 3.0),
        ("synthetic line", 3.0), ("stockless and balanced-fluke anchors", 1.5),
        ("high-efficiency drag anchors", 2.0), ("fixed anchors", 3.0),
    ],
)  # fmt: skip
def test_safety_factors(part, factor):
    assert SAFETY_FACTORS[part].value == factor


def test_no_factor_is_printed_for_deadweights():
    # "1.5 for deadweight per UFC" is wrong: 1.5 is the stockless row; ours is called practice
    assert not any("deadweight" in part for part in SAFETY_FACTORS)
    assert HOLDING_FACTOR.value == 1.5
    assert HOLDING_FACTOR.source.startswith("practice")


def test_breakout_is_for_lifting_gear():
    assert (BREAKOUT.low, BREAKOUT.high) == (2, 3)
    assert "never holding" in BREAKOUT.source


def test_a_single_small_anchor_is_far_too_little():
    # common practice, no published source: a single 20-lb anchor is far too little in a storm.
    # 20 lb of iron (7210 kg/m3) on sand against a steady pull near 180 lb
    wet = float(weight_in_water(20 * LB, density_kg_m3=7210))
    held = float(holding_unburied(wet, uplift_n=0.0, friction=FRICTION["sand"].value))
    assert held < 6 * LB
    assert held * 30 < 180 * LB


def test_soil_and_uplift():
    # half a wedge on the height of one block, two abreast
    blocks = np.array([5.0, 1.0, np.nan])
    found = passive_of(["sand", "sand", "sand"], blocks=blocks)
    assert found[0] == pytest.approx(2 * found[1])
    assert found[1] == found[2]
    assert np.isnan(passive_of(["rock"], blocks=np.array([5.0])))[0]
    held = holding_buried([100.0, 100.0], uplift_n=[0.0, 120.0], friction=0.3, passive_n=50.0)
    assert held.tolist() == [80.0, 0.0]  # nothing is left of a weight that hangs


def rig(**more):
    given = {
        "drop_m": 5.0, "ground_m": 5.0, "riser_m": 6.5, "ground_weight_n_m": 40.0,
        "riser_weight_n_m": 20.0, "secondary_wet_n": 300.0,
    }  # fmt: skip
    return LineRig(
        **{
            name: np.atleast_1d(np.asarray(value, dtype=float))
            for name, value in (given | more).items()
        }
    )


def terms(line):
    return {name: getattr(line, name) for name in LineRig.__slots__}


@pytest.mark.parametrize(
    ("mu", "weight", "soil"), [(0.3, 800, 0), (0.5, 2500, 0), (0.25, 900, 400), (0.6, 6000, 0)]
)
def test_the_pull_that_slides_against_a_general_root_finder(mu, weight, soil):
    line = rig()

    def left(pull):
        uplift = float(two_cluster_line([pull], **terms(line)).primary_uplift_n[0])
        return float(holding_buried(weight, uplift_n=uplift, friction=mu, passive_n=soil)) - pull

    found = float(slide_pull_primary(mu, wet_n=weight, passive_n=soil, rig=line)[0])
    assert found == pytest.approx(brentq(left, 1e-6, mu * weight + soil + 1), rel=1e-6)


@given(st.floats(50, 5000), st.floats(1.01, 3), st.floats(0.05, 0.8))
def test_more_weight_never_slides_sooner(weight, more, mu):
    line = rig()
    light = slide_pull_primary(mu, wet_n=weight, passive_n=0.0, rig=line)
    heavy = slide_pull_primary(mu, wet_n=more * weight, passive_n=0.0, rig=line)
    assert heavy[0] >= light[0] * (1 - 1e-9)


@given(st.floats(10, 2000), st.floats(1.01, 3), st.floats(1, 3000))
def test_a_heavier_secondary_never_lifts_more_at_the_primary(second, more, pull):
    light = two_cluster_line([pull], **terms(rig(secondary_wet_n=second)))
    heavy = two_cluster_line([pull], **terms(rig(secondary_wet_n=more * second)))
    assert heavy.primary_uplift_n[0] <= light.primary_uplift_n[0] + 1e-9
