"""Hardware in single numbers, each from the print named beside it, in the print's own units."""

import pytest
from conftest import make_float

from lakemap.basis.records import Fitting
from lakemap.rig.cable_tables import cable_area, cable_compliance, cable_stiffness, cable_strain
from lakemap.rig.chain import break_of_bar, link_mass, submerged_fraction
from lakemap.rig.clips import CLIPS, clip_count, clip_spacing, navy_clip_count
from lakemap.rig.ends_and_bends import bend_share, cable_loop, leg_share
from lakemap.rig.fitting_tables import SHACKLE_SIDE_STEPS, step_share
from lakemap.rig.hardware import cable_strength, chain_strength
from lakemap.rig.metals import millivolts_apart
from lakemap.rig.parts import line_strength, rig_parts

LBF, INCH = 4.4482216152605, 0.0254


@pytest.mark.parametrize(
    ("size", "grade", "working", "breaking"),
    # 49 CFR 393.108 and the chain makers' factors
    [
        ("3/8", 30, 2650, 10600),
        ("3/8", 43, 5400, 16200),
        ("3/8", 70, 6600, 26400),
        ("1/2", 43, 9200, 27600),
    ],
)
def test_chain(size, grade, working, breaking):
    found = chain_strength(size, grade)
    assert found.working / LBF == pytest.approx(working, rel=1e-12)
    assert found.value / LBF == pytest.approx(breaking, rel=1e-12)


def test_chain_by_formula():
    # ASTM A413, by hand, kN
    for bar, force in ((10, 47.124), (13, 79.639), (7, 23.091)):
        assert float(break_of_bar(bar / 1e3, grade=30)) / 1e3 == pytest.approx(force, abs=1e-3)
    # by hand; catalogue 2.3 and 1.75 kg/m
    assert float(link_mass(0.010, pitch_m=0.028, width_m=0.016)) == pytest.approx(2.327, abs=1e-3)
    assert float(link_mass(0.010, pitch_m=0.065, width_m=0.022)) == pytest.approx(1.769, abs=1e-3)
    assert float(link_mass(0.010, pitch_m=0.0311, width_m=0.014)) == pytest.approx(2.173, abs=1e-3)
    assert float(submerged_fraction(7850)) == pytest.approx(0.87261, abs=1e-5)


@pytest.mark.parametrize(
    ("size", "finish", "pounds"),
    # FAA AC 43.13-1B, table 7-3
    [("5/16", "galvanised", 9800), ("5/16", "stainless", 9000), ("3/8", "galvanised", 14400)],
)
def test_cable(size, finish, pounds):
    assert cable_strength(size, "7x19", finish).value / LBF == pytest.approx(pounds, rel=1e-12)


def test_cable_by_formula():
    assert float(cable_area(7.9375e-3)) * 1e6 == pytest.approx(29.25, abs=0.01)
    stiffness = cable_stiffness(5 / 16 * INCH, compliance_1_pa=cable_compliance("galvanised"))
    assert float(stiffness) / 1e3 == pytest.approx(3103, abs=1)
    strain = cable_strain(500 * LBF, diameter_m=0.125 * INCH, finish="stainless")
    assert 100 * float(strain) == pytest.approx(0.5184, abs=1e-4)


def test_ends():
    for ratio, share in ((1.2, 0.53), (1.6, 0.59), (4, 0.75), (0.8, 0.50), (5, 0.77), (60, 0.95)):
        assert float(bend_share(ratio).share) == pytest.approx(share, abs=1e-9)
    assert bend_share(0.8).too_tight
    assert (CLIPS["5/16 in"].count.value, navy_clip_count(5 / 16 * INCH), clip_count("5/16")) == (
        2,
        2,
        3,
    )
    assert float(clip_spacing(5 / 16 * INCH)) / INCH == pytest.approx(1.875)
    assert float(leg_share(60)) == pytest.approx(0.57735, abs=1e-5)
    for ratio, pounds in ((1.2, 10388), (4, 14700)):
        loop = cable_loop(9800, end_share=0.8, bend_share=bend_share(ratio).share, legs=2)
        assert float(loop) == pytest.approx(pounds)


def test_shackle():
    # RR-C-271; riggers' tables of side loads
    rig = rig_parts(make_float("1", fittings=(Fitting(name="shackle", size="1/2"),)), units="ft-lb")
    found = line_strength(rig, peak_n=0.0, pull_angle_from_axis_deg=0.0)
    assert found.working_n[0, 0] / LBF == pytest.approx(4000)
    assert found.breaking_n[0, 0] / LBF == pytest.approx(20000)
    assert step_share([45, 90], SHACKLE_SIDE_STEPS, what="shackle") == pytest.approx([0.70, 0.50])


@pytest.mark.parametrize(
    ("angle", "pounds"),
    # ASTM A489, trade tables of the angle
    [(0, 2940), (15, 2352), (30, 1911), (31, 882), (45, 882), (46, 735), (90, 735)],
)
def test_eye_bolt(angle, pounds):
    rig = rig_parts(
        make_float("1", fittings=(Fitting(name="eye bolt", size="5/8 in"),)), units="ft-lb"
    )
    found = line_strength(rig, peak_n=[0.0], pull_angle_from_axis_deg=[angle])
    assert found.working_n[0, 0] / LBF == pytest.approx(pounds)


def test_metals():
    # galvanic series in flowing sea water
    assert millivolts_apart("galvanised", "316 passive") == 980
    assert millivolts_apart("carbon steel", "galvanised") == 420
