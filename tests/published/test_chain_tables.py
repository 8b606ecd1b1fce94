"""Chain against print: every row of working loads, breaking forces, links and weights.

Working loads: 49 CFR 393.108, tables (1/4 to 5/8 in); 1/8, 3/16 and 3/4 in and the factors from the chain
makers' Welded Steel Chain Specifications, 2003, as a chain seller prints them (secondary source). Grade:
ASTM A413/A413M-21, 1.3 and 1.4. Metric: catalogue sheets to DIN 766 and DIN 763. Stiffness: DNV-OS-E301,
2010 to 2015 (secondary source). Columns in kN and in N/m worked by hand and a second script.
"""

import numpy as np
import pytest

from lakemap.basis.errors import RangeError
from lakemap.rig.chain import (
    CHAIN_STIFFNESS,
    break_of_bar,
    chain_build,
    chain_stiffness,
    link_mass,
    submerged_fraction,
    weight_in_water,
)
from lakemap.rig.chain_tables import (
    CHAIN,
    CHAIN_FACTOR,
    CHAIN_UNMARKED_GRADE,
    CHAIN_WEIGHT_SPREAD,
    LINKS,
    PROOF_OVER_WORKING,
)
from lakemap.rig.hardware import chain_strength

LBF, LB, FOOT, INCH, G = 4.4482216152605, 0.45359237, 0.3048, 0.0254, 9.80665
# size, then working load in lb and in kN, breaking force in lb and in kN, at Grade 30, 43, 70
INCH_ROWS = [
    ("1/8 in", (400, 1.78, 1600, 7.12), None, None),
    ("3/16 in", (800, 3.56, 3200, 14.23), None, None),
    ("1/4 in", (1300, 5.78, 5200, 23.13), (2600, 11.57, 7800, 34.70), (3150, 14.01, 12600, 56.05)),
    (
        "5/16 in",
        (1900, 8.45, 7600, 33.81),
        (3900, 17.35, 11700, 52.04),
        (4700, 20.91, 18800, 83.63),
    ),
    (
        "3/8 in",
        (2650, 11.79, 10600, 47.15),
        (5400, 24.02, 16200, 72.06),
        (6600, 29.36, 26400, 117.43),
    ),
    (
        "7/16 in",
        (3700, 16.46, 14800, 65.83),
        (7200, 32.03, 21600, 96.08),
        (8750, 38.92, 35000, 155.69),
    ),
    (
        "1/2 in",
        (4500, 20.02, 18000, 80.07),
        (9200, 40.92, 27600, 122.77),
        (11300, 50.26, 45200, 201.06),
    ),
    (
        "5/8 in",
        (6900, 30.69, 27600, 122.77),
        (13000, 57.83, 39000, 173.48),
        (15800, 70.28, 63200, 281.13),
    ),
    (
        "3/4 in",
        (10600, 47.15, 42400, 188.60),
        (20200, 89.85, 60600, 269.56),
        (24700, 109.87, 98800, 439.48),
    ),
]
INCH_CASES = [
    (row[0], grade, *row[k])
    for row in INCH_ROWS
    for k, grade in enumerate((30, 43, 70), start=1)
    if row[k]
]
# 49 CFR 393.108 prints kilograms of its own: size, then Grade 30, 43, 70
OWN_KG = [
    ("1/4 in", 580, 1180, 1430),
    ("5/16 in", 860, 1770, 2130),
    ("3/8 in", 1200, 2450, 2990),
    ("7/16 in", 1680, 3270, 3970),
    ("1/2 in", 2030, 4170, 5130),
    ("5/8 in", 3130, 5910, 7170),
]
# size, true bar mm (from memory), pi/2 d2 300 MPa in kN, in lbf, over four working loads, lbf and the
# same ratio with the name in the bar's place
GRADE_ROWS = [
    ("3/16 in", 5.5, 14.25, 3205, 1.001, 2403, 0.751),
    ("1/4 in", 7.0, 23.09, 5191, 0.998, 4272, 0.821),
    ("5/16 in", 8.4, 33.25, 7475, 0.984, 6675, 0.878),
    ("3/8 in", 10.0, 47.12, 10594, 0.999, 9611, 0.907),
    ("1/2 in", 13.0, 79.64, 17904, 0.995, 17087, 0.949),
    ("5/8 in", 16.0, 120.64, 27120, 0.983, 26698, 0.967),
    ("3/4 in", 20.0, 188.50, 42375, 0.999, 38445, 0.907),
]
# pattern, bar, pitch, outside width in mm, proof kN, least breaking kN, kg/m printed, by formula, error
# in %, working load in kg
METRIC_ROWS = [
    ("short", 6, 18.5, 20.4, 10, 16, 0.8, 0.785, -1.9, 400),
    ("short", 8, 24, 27.2, 20, 32, 1.4, 1.413, 0.9, 800),
    ("short", 10, 28, 36, 32, 50, 2.3, 2.327, 1.2, 1250),
    ("short", 13, 36, 47, 50, 80, 3.9, 3.960, 1.5, 2000),
    ("short", 16, 45, 58, 80, 125, 5.8, 5.961, 2.8, 3200),
    ("long", 6, 42, 25.2, 4.5, 14, 0.63, 0.623, -1.1, None),
    ("long", 8, 52, 33.6, 8, 25, 1.1, 1.132, 2.9, None),
    ("long", 10, 65, 42, 10.5, 32, 1.75, 1.769, 1.1, None),
    ("long", 13, 82, 54.6, 21.2, 63, 2.95, 3.018, 2.3, None),
    ("long", 16, 100, 67.2, 33, 100, 4.45, 4.584, 3.0, None),
]
# size, bar, largest pitch, least inside width in mm (from memory), lightest kg/m, lb per 100 ft, usual lb
# per 100 ft (from memory; 5/16 secondary source), kg/m, N/m and lb/ft in fresh water
WEIGHT_ROWS = [
    ("3/16 in", 5.5, 24.8, 7.7, 0.569, 38, None, 0.569, 4.87, 0.334),
    ("1/4 in", 7.0, 31.5, 9.8, 0.922, 62, 63, 0.938, 8.02, 0.550),
    ("5/16 in", 8.4, 32.8, 11.2, 1.390, 93, 92.4, 1.375, 11.77, 0.806),
    ("3/8 in", 10.0, 35.0, 14.0, 2.068, 139, 146, 2.173, 18.59, 1.274),
    ("1/2 in", 13.0, 45.5, 18.2, 3.495, 235, 253, 3.765, 32.22, 2.208),
    ("5/8 in", 16.0, 56.0, 20.0, 5.217, 351, 395, 5.878, 50.30, 3.447),
    ("3/4 in", 20.0, 70.0, 25.0, 8.151, 548, 575, 8.557, 73.23, 5.018),
]


@pytest.mark.parametrize(
    ("size", "grade", "pounds", "working", "breaking_lb", "breaking"), INCH_CASES
)
def test_inch_chain(size, grade, pounds, working, breaking_lb, breaking):
    found = chain_strength(size, grade)
    printed = CHAIN["inch", grade][size].working
    assert (printed.value, printed.unit) == (pounds, "lbf")
    assert found.working / 1e3 == pytest.approx(working, abs=0.0051)
    assert found.value / LBF == pytest.approx(breaking_lb, rel=1e-12)
    assert found.value / 1e3 == pytest.approx(breaking, abs=0.0051)
    assert found.unit == "N"
    rare = size in {"1/8 in", "3/16 in", "3/4 in"}
    assert ("secondary source" if rare else "49 CFR 393.108") in printed.source


def test_no_row_of_chain_that_is_not_in_print():
    held = {
        (size, grade) for (kind, grade), rows in CHAIN.items() if kind == "inch" for size in rows
    }
    assert held == {(size, grade) for size, grade, *_ in INCH_CASES}
    metric = {(kind, size) for (kind, _), rows in CHAIN.items() if kind != "inch" for size in rows}
    assert metric == {(row[0], f"{row[1]} mm") for row in METRIC_ROWS}
    assert set(LINKS["inch"]) == {row[0] for row in WEIGHT_ROWS}


def test_factors_of_the_grades():
    # 4, 3 and 4; proof is twice the working load for all three
    assert {grade: one.value for grade, one in CHAIN_FACTOR.items()} == {30: 4, 43: 3, 70: 4}
    assert PROOF_OVER_WORKING.value == 2
    # 49 CFR 393.108(d)
    assert CHAIN_UNMARKED_GRADE.value == 30


@pytest.mark.parametrize(("size", "kg30", "kg43", "kg70"), OWN_KG)
def test_the_rules_own_kilograms_are_no_conversion(size, kg30, kg43, kg70):
    # 1,300 lb are 589.7 kg, printed 580; the pounds are the source and converted once
    for grade, kilograms in ((30, kg30), (43, kg43), (70, kg70)):
        converted = chain_strength(size, grade).working / G
        assert converted == pytest.approx(CHAIN["inch", grade][size].working.value * LB, rel=1e-9)
        assert abs(converted - kilograms) > 0.05
        assert converted == pytest.approx(kilograms, rel=0.02)


@pytest.mark.parametrize(
    ("size", "bar", "force", "pounds", "ratio", "wrong", "wrong_ratio"), GRADE_ROWS
)
def test_grade_formula_on_the_true_bar(size, bar, force, pounds, ratio, wrong, wrong_ratio):
    assert LINKS["inch"][size].bar.value == bar
    by_bar = float(break_of_bar(bar / 1e3, grade=30))
    assert by_bar / 1e3 == pytest.approx(force, abs=0.0051)
    assert by_bar / LBF == pytest.approx(pounds, abs=0.51)
    table = chain_strength(size, 30).value
    assert by_bar / table == pytest.approx(ratio, abs=5.1e-4)
    # wrong in circulation: the trade size taken for the bar
    upper, lower = size.removesuffix(" in").split("/")
    by_name = float(break_of_bar(int(upper) / int(lower) * INCH, grade=30))
    assert by_name / LBF == pytest.approx(wrong, abs=0.51)
    assert by_name / table == pytest.approx(wrong_ratio, abs=5.1e-4)
    assert table > by_name


def test_a_printed_slip_of_the_trade_size():
    # a book has 57 kN, 12,800 lb for "3/8 grade 40" from 9.525 mm and 400 MPa; the trade's is 16,200 lb
    assert float(break_of_bar(0.009525, grade=40)) == pytest.approx(57e3, abs=500)
    assert chain_strength("3/8", 43).value / LBF == pytest.approx(16200)


def test_a_printed_slip_of_the_factor():
    # a catalogue has 5,850 lb (5/16) and 8,100 lb (3/8) as breaking loads of Grade 40: 1.5 working loads
    for size, slip, right in (("5/16", 5850, 11700), ("3/8", 8100, 16200)):
        found = chain_strength(size, 43)
        assert found.value / LBF == pytest.approx(right)
        assert 1.5 * found.working / LBF == pytest.approx(slip)


def test_grade_43_by_formula_gives_less_than_the_table():
    # 3/8: 67.5 kN against 72.1
    by_bar = float(break_of_bar(0.010, grade=43))
    assert by_bar / 1e3 == pytest.approx(67.5, abs=0.051)
    assert by_bar / chain_strength("3/8", 43).value == pytest.approx(67.5 / 72.1, rel=1.5e-3)


@pytest.mark.parametrize(
    ("pattern", "bar", "pitch", "width", "proof", "force", "printed", "mass", "error", "kilograms"),
    METRIC_ROWS,
)
def test_metric_chain(pattern, bar, pitch, width, proof, force, printed, mass, error, kilograms):
    found = chain_strength(f"{bar} mm", 30, link=pattern)
    assert found.value == pytest.approx(force * 1e3, rel=1e-12)
    assert found.factor == 4
    links = LINKS[pattern][f"{bar} mm"]
    got = (links.bar.value, links.pitch.value, links.weight.value)
    assert got == (bar, pitch, printed)
    assert links.width.value == pytest.approx(width - 2 * bar)
    by_links = float(link_mass(bar / 1e3, pitch_m=pitch / 1e3, width_m=links.width.value / 1e3))
    assert by_links == pytest.approx(mass, abs=6e-4)
    assert 100 * (by_links / printed - 1) == pytest.approx(error, abs=0.06)
    row = CHAIN[pattern, 30][f"{bar} mm"]
    assert (row.working is None) == (kilograms is None)
    if kilograms:
        assert (row.working.value, row.working.unit) == (kilograms, "kg")
        # breaking over 4 is the printed working load within 2.1 %
        assert found.working / G == pytest.approx(kilograms, rel=0.021)
    assert proof < force


def test_short_link_is_about_30_percent_heavier():
    short, long = (
        np.array([row[6] for row in METRIC_ROWS if row[0] == kind]) for kind in ("short", "long")
    )
    assert (short / long).mean() == pytest.approx(1.30, abs=0.02)


@pytest.mark.parametrize(
    (
        "size",
        "bar",
        "pitch",
        "width",
        "lightest",
        "lightest_lb",
        "usual",
        "mass",
        "newtons",
        "pounds",
    ),
    WEIGHT_ROWS,
)
def test_weight_of_inch_chain(
    size, bar, pitch, width, lightest, lightest_lb, usual, mass, newtons, pounds
):
    links = LINKS["inch"][size]
    assert (links.bar.value, links.pitch.value, links.width.value) == (bar, pitch, width)
    least = float(link_mass(bar / 1e3, pitch_m=pitch / 1e3, width_m=width / 1e3))
    assert least == pytest.approx(lightest, abs=6e-4)
    assert least / LB * FOOT * 100 == pytest.approx(lightest_lb, abs=0.51)
    assert (None if links.weight is None else links.weight.value) == usual
    built = chain_build(size)
    assert built.printed
    assert built.bar_m == pytest.approx(bar / 1e3)
    assert built.mass_kg_m == pytest.approx(mass, abs=6e-4)
    wet = float(weight_in_water(built.mass_kg_m))
    assert wet == pytest.approx(newtons, abs=0.0051)
    assert wet * FOOT / LBF == pytest.approx(pounds, abs=5.1e-4)


def test_links_counted_by_a_chandler():
    # 3/8 proof coil counts 9.8 links a foot (secondary source), so p = 31.1 mm; 1.460 lb/ft
    assert FOOT / 9.8 * 1e3 == pytest.approx(31.1, abs=0.01)
    mass = float(link_mass(0.010, pitch_m=0.0311, width_m=0.014))
    assert mass == pytest.approx(2.173, abs=1e-3)
    assert mass / LB * FOOT == pytest.approx(1.460, abs=6e-4)


@pytest.mark.parametrize(("size", "pounds"), [("3/8 in", 142), ("1/2 in", 244)])
def test_alloy_of_the_same_bar_weighs_about_the_same(size, pounds):
    # a catalogue's Grade 80 chain, lb per 100 ft
    ours = chain_build(size).mass_kg_m / LB * FOOT * 100
    assert ours == pytest.approx(pounds, rel=CHAIN_WEIGHT_SPREAD.value)


def test_weights_a_third_too_low():
    # a web table has 0.42 lb/ft for 1/4 and 0.92 for 3/8
    for size, low in (("1/4", 0.42), ("3/8", 0.92)):
        ours = chain_build(size).mass_kg_m / LB * FOOT
        assert low / ours == pytest.approx(2 / 3, abs=0.04)


def test_steel_under_water():
    assert float(submerged_fraction(7850)) == pytest.approx(0.87261, abs=1e-5)
    assert float(submerged_fraction(7850)) == pytest.approx(0.8726, abs=6e-5)


def test_stiffness_of_chain():
    # 9.525, 10 and 12.7 mm bars: 7.64, 8.42 and 13.55 MN, worked by a second script
    assert chain_stiffness([0.009525, 0.010, 0.0127]) / 1e6 == pytest.approx(
        [7.64, 8.42, 13.55], abs=0.0051
    )
    # the law's own range is 60 to 200 mm: a float's chain is extrapolated, and the working says so
    step = CHAIN_STIFFNESS(bar_m=[0.010, 0.1])
    assert step.inside.tolist() == [False, True]
    assert step.value[1] == pytest.approx((5.40 - 0.0040 * 100) * 1e10 * np.pi / 2 * 0.1**2)


def test_a_bar_of_3_8_chain_is_10_mm():
    # not 9.525: its stiffness is that of the bar, 8.42 MN
    assert float(chain_stiffness(chain_build("3/8 in").bar_m)) / 1e6 == pytest.approx(
        8.42, abs=0.0051
    )


def test_sizes_that_exist_are_named():
    with pytest.raises(RangeError, match=r"grade 43 chain 3/16 in; there are 1/4 in, .* 3/4 in"):
        chain_strength("3/16", 43)
    with pytest.raises(
        RangeError, match=r"10 mm of grade 43; there are grades 30 \(6 mm, .*16 mm\)"
    ):
        chain_strength("10 mm", 43)
    with pytest.raises(RangeError, match=r"3/8 in of grade 80; there are grades 30 .*43 .*70"):
        chain_strength("3/8 in", 80)


def test_no_link_no_bar():
    with pytest.raises(RangeError, match=r"\[1\] bar 0.01 m, pitch 0.01 m, width 0.014 m"):
        link_mass(0.010, pitch_m=[0.031, 0.010], width_m=0.014)
    with pytest.raises(RangeError, match=r"\[1\] bar -1 m, grade 30.*A413"):
        break_of_bar([0.01, -1.0], grade=30)
    with pytest.raises(RangeError, match=r"0\.3 m: need above 0 to 0\.2 m"):
        chain_stiffness([0.01, 0.3])


def test_mass_of_links_against_a_numerical_walk_along_the_wire():
    # the centre line as a polygon of many short sides, times the bar's section
    bar, pitch, width = 0.013, 0.0455, 0.0182
    turn = np.linspace(0, np.pi, 20001)
    half = (width + bar) / 2
    arc = np.column_stack([half * np.sin(turn), half * np.cos(turn)])
    # inside, the half circles bulge into the pitch by half the inside width each
    line = 2 * np.hypot(*np.diff(arc, axis=0).T).sum() + 2 * (pitch - width)
    mass = 7850 * np.pi / 4 * bar**2 * line / pitch
    assert float(link_mass(bar, pitch_m=pitch, width_m=width)) == pytest.approx(mass, rel=1e-7)
