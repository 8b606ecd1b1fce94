"""Fittings against print: every row of shackles, eye bolts, links, swivels and turnbuckles.

Shackles: US federal specification RR-C-271 (pins from memory); side loads from riggers' tables. Eye bolts: ASTM
A489; angles from trade tables of shoulder eye bolts. Master links: ASTM A952, Grade 80, a rigging catalogue.
Swivels: a catalogue of marine hardware. Turnbuckles: ASTM F1145, a catalogue. Factors: the documents named.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lakemap.basis.errors import RangeError
from lakemap.rig.fitting_tables import (
    EYE_BOLT_AT_ANGLE,
    EYE_BOLT_CAREFUL_STEPS,
    EYE_BOLT_STEPS,
    FITTING_FACTOR,
    FITTINGS,
    SHACKLE_SIDE_STEPS,
    eye_bolt_breaking,
    fitting_breaking,
    step_share,
)
from lakemap.rig.hardware import ABSORBER_FACTOR, COMMON_FACTOR, SAFETY_FACTORS
from lakemap.rig.trade import SHORT_TON_LBF

LBF, G = 4.4482216152605, 9.80665
# bow, pin in (from memory), short tons, working lb, kN, breaking at 5 to 1 lb, kN, at 6 to 1 lb
SHACKLE_ROWS = [
    ("1/4 in", 5 / 16, 0.5, 1000, 4.45, 5000, 22.24, 6000),
    ("5/16 in", 3 / 8, 0.75, 1500, 6.67, 7500, 33.36, 9000),
    ("3/8 in", 7 / 16, 1, 2000, 8.90, 10000, 44.48, 12000),
    ("7/16 in", 1 / 2, 1.5, 3000, 13.34, 15000, 66.72, 18000),
    ("1/2 in", 5 / 8, 2, 4000, 17.79, 20000, 88.96, 24000),
    ("5/8 in", 3 / 4, 3.25, 6500, 28.91, 32500, 144.57, 39000),
    ("3/4 in", 7 / 8, 4.75, 9500, 42.26, 47500, 211.29, 57000),
    ("7/8 in", 1, 6.5, 13000, 57.83, 65000, 289.13, 78000),
    ("1 in", 1.125, 8.5, 17000, 75.62, 85000, 378.10, 102000),
]
# thread, stress area in2, breaking lb, kN, proof lb, kN, working lb, kN, then at 15, 30, 45, 90 degrees lb
EYE_BOLT_ROWS = [
    ("1/4 in", 0.0318, 2100, 9.34, 800, 3.56, 400, 1.78, 320, 260, 120, 100),
    ("5/16 in", 0.0524, 3400, 15.12, 1360, 6.05, 680, 3.02, 544, 442, 204, 170),
    ("3/8 in", 0.0775, 5000, 22.24, 2000, 8.90, 1000, 4.45, 800, 650, 300, 250),
    ("7/16 in", 0.1063, 6900, 30.69, 2760, 12.28, 1380, 6.14, 1104, 897, 414, 345),
    ("1/2 in", 0.1419, 9200, 40.92, 3680, 16.37, 1840, 8.18, 1472, 1196, 552, 460),
    ("9/16 in", 0.182, 11830, 52.62, 4740, 21.08, 2370, 10.54, 1896, 1540, 711, 592),
    ("5/8 in", 0.226, 14700, 65.39, 5880, 26.16, 2940, 13.08, 2352, 1911, 882, 735),
    ("3/4 in", 0.334, 21700, 96.53, 8680, 38.61, 4340, 19.31, 3472, 2821, 1302, 1085),
    ("7/8 in", 0.462, 30000, 133.45, 12000, 53.38, 6000, 26.69, 4800, 3900, 1800, 1500),
    ("1 in", 0.606, 39400, 175.26, 15760, 70.10, 7880, 35.05, 6304, 5122, 2364, 1970),
]
# kind, size, working lb
RATED_ROWS = [
    ("master link", "1/2 in", 7400),
    ("master link", "5/8 in", 9000),
    ("master link", "3/4 in", 12300),
    ("master link", "7/8 in", 15200),
    ("master link", "1 in", 26000),
    ("swivel", "1/4 in", 850),
    ("swivel", "5/16 in", 1250),
    ("swivel", "3/8 in", 2250),
    ("swivel", "1/2 in", 3600),
    ("swivel", "5/8 in", 5200),
    ("swivel", "3/4 in", 7200),
    ("turnbuckle", "1/4 in", 500),
    ("turnbuckle", "5/16 in", 800),
    ("turnbuckle", "3/8 in", 1200),
    ("turnbuckle", "1/2 in", 2200),
    ("turnbuckle", "5/8 in", 3500),
    ("turnbuckle", "3/4 in", 5200),
]
FACTOR_ROWS = [
    ("mooring chain, straight", 3),  # UFC 4-159-03, table 3-7
    ("mooring chain, around bends", 4),
    ("mooring wire rope", 3),
    ("mooring synthetic rope", 3),
    ("chain, grade 30", 4),  # the chain makers' specification
    ("chain, grade 43", 3),
    ("chain, grade 70", 4),
    ("shackles and links", 5),  # ASME B30.26
    ("wire rope", 5),  # Michigan R 408.15226
    ("suspended-scaffold rope", 10),  # WAC 296-870-70085
    ("absorber cable", 10),
]


def working(row):
    return fitting_breaking(row) / row.factor


@pytest.mark.parametrize(
    ("size", "pin", "tons", "pounds", "force", "breaking_lb", "breaking", "at_6"), SHACKLE_ROWS
)
def test_shackles(size, pin, tons, pounds, force, breaking_lb, breaking, at_6):
    row = FITTINGS["shackle"][size]
    assert (row.pin.value, row.working.value, row.working.unit) == (pin, tons, "short ton")
    assert working(row) / LBF == pytest.approx(pounds, rel=1e-12)
    assert working(row) / 1e3 == pytest.approx(force, abs=0.0051)
    assert fitting_breaking(row) / LBF == pytest.approx(breaking_lb, rel=1e-12)
    assert fitting_breaking(row) / 1e3 == pytest.approx(breaking, abs=0.0051)
    # marine catalogues print the same working loads with 6 to 1; the standard's least is taken
    assert 6 * working(row) / LBF == pytest.approx(at_6, rel=1e-12)
    assert fitting_breaking(row) / LBF < at_6


@pytest.mark.parametrize(
    ("size", "pounds"), [("1/2 in", 20000), ("5/8 in", 32500), ("3/4 in", 47500)]
)
def test_a_utilitys_standard_after_the_specification(size, pounds):
    assert fitting_breaking(FITTINGS["shackle"][size]) / LBF == pytest.approx(pounds)


def test_short_tons_are_no_tonnes():
    # 2 short tons = 4,000 lb = 17.79 kN; 2 t = 4,409 lb = 19.61 kN
    force = working(FITTINGS["shackle"]["1/2 in"])
    assert SHORT_TON_LBF.value == 2000
    assert force / 1e3 == pytest.approx(17.79, abs=0.0051)
    assert 2000 * G / 1e3 == pytest.approx(19.61, abs=0.0051)
    assert force < 2000 * G


def test_shackles_pulled_from_the_side():
    share = step_share([0, 20, 45, 46, 90], SHACKLE_SIDE_STEPS, what="shackle")
    assert share == pytest.approx([1.0, 0.70, 0.70, 0.50, 0.50])
    assert [(step.to_deg, step.share.value) for step in SHACKLE_SIDE_STEPS] == [
        (0, 1.0),
        (45, 0.7),
        (90, 0.5),
    ]


@pytest.mark.parametrize(
    (
        *("size", "area", "breaking", "breaking_kn", "proof", "proof_kn", "load", "load_kn"),
        *("at_15", "at_30", "at_45", "at_90"),
    ),
    EYE_BOLT_ROWS,
)
def test_eye_bolts(
    size, area, breaking, breaking_kn, proof, proof_kn, load, load_kn, at_15, at_30, at_45, at_90
):
    row = FITTINGS["eye bolt"][size]
    assert (row.stress_area.value, row.breaking.value, row.proof.value) == (area, breaking, proof)
    assert fitting_breaking(row) / 1e3 == pytest.approx(breaking_kn, abs=0.0051)
    assert proof * LBF / 1e3 == pytest.approx(proof_kn, abs=0.0051)
    # half of proof and a fifth of breaking agree within 0.3 %, but at 1/4 in; the smaller is taken
    assert working(row) / LBF == pytest.approx(load, rel=0.003)
    assert working(row) / LBF <= load + 1e-9
    assert working(row) / 1e3 == pytest.approx(load_kn, rel=0.003)
    assert breaking / (area * 65000) == pytest.approx(1, abs=0.02)
    at_angle = eye_bolt_breaking(working(row), angle_from_axis_deg=[15, 30, 45, 90]) / LBF
    assert at_angle == pytest.approx([at_15, at_30, at_45, at_90], rel=0.004)


def test_the_quarter_inch_eye_bolt_goes_by_its_proof_load():
    row = FITTINGS["eye bolt"]["1/4 in"]
    assert working(row) / LBF == pytest.approx(400)
    assert row.factor == pytest.approx(5.25)
    others = [one.factor for size, one in FITTINGS["eye bolt"].items() if size != "1/4 in"]
    assert others == [5] * 9


@pytest.mark.parametrize(
    ("angle", "pounds"),
    [
        (0, 2940),
        (15, 2352),
        (30, 1911),
        (31, 882),
        (45, 882),
        (46, 735),
        (90, 735),
        (5, 2940),
        (6, 2352),
    ],
)
def test_the_5_8_eye_bolt_by_angle(angle, pounds):
    row = FITTINGS["eye bolt"]["5/8 in"]
    found = float(eye_bolt_breaking(working(row), angle_from_axis_deg=angle)) / LBF
    assert found == pytest.approx(pounds, abs=1e-6)


def test_the_cliff_is_not_bridged():
    # a line from 65 % at 30 to 30 % at 45 degrees would give 47.5 % in the middle; 30 % are given
    share = step_share([30, 30.001, 37.5, 45], EYE_BOLT_STEPS, what="eye bolt")
    assert share == pytest.approx([0.65, 0.30, 0.30, 0.30])
    steps = [(step.to_deg, step.share.value) for step in EYE_BOLT_STEPS]
    assert steps == [(5, 1.0), (15, 0.80), (30, 0.65), (45, 0.30), (90, 0.25)]


def test_the_careful_scale():
    # from memory: at 30 degrees 735 lb for 5/8 against 1,911
    share = step_share([5, 6, 15, 16, 30, 90], EYE_BOLT_CAREFUL_STEPS, what="eye bolt")
    assert share == pytest.approx([1.0, 0.55, 0.55, 0.25, 0.25, 0.25])
    assert share[4] * 2940 == pytest.approx(735)


def test_angles_count_from_the_bolts_axis():
    # a sling's 60 degrees from the horizontal are an eye bolt's 30: 65 %, not 25
    assert float(eye_bolt_breaking(1.0, angle_from_axis_deg=90 - 60)) == 0.65
    with pytest.raises(RangeError, match=r"eye bolt at -1, 91 degrees: need 0 to 90, trade tables"):
        eye_bolt_breaking(1.0, angle_from_axis_deg=[-1, 45, 91])
    assert np.isnan(eye_bolt_breaking(1.0, angle_from_axis_deg=np.nan))


def test_a_catalogues_shoulder_bolt_is_not_taken():
    # catalogues have 5,200 lb and 26,000 lb for 5/8; A489 has 2,940 and 14,700
    row = FITTINGS["eye bolt"]["5/8 in"]
    assert (working(row) / LBF, fitting_breaking(row) / LBF) == (
        pytest.approx(2940),
        pytest.approx(14700),
    )


def test_the_working_of_an_eye_bolt():
    step = EYE_BOLT_AT_ANGLE(breaking_n=14700 * LBF, angle_from_axis_deg=[0, 30])
    assert step.value / LBF == pytest.approx([14700, 9555])


@given(st.floats(0, 90), st.floats(0, 90))
def test_a_steeper_pull_never_weakens_an_eye_bolt(one, other):
    low, high = sorted((one, other))
    share = step_share([low, high], EYE_BOLT_STEPS, what="eye bolt")
    assert share[0] >= share[1]


@pytest.mark.parametrize(("kind", "size", "pounds"), RATED_ROWS)
def test_links_swivels_and_turnbuckles(kind, size, pounds):
    row = FITTINGS[kind][size]
    assert working(row) / LBF == pytest.approx(pounds, rel=1e-12)
    assert fitting_breaking(row) / LBF == pytest.approx(5 * pounds, rel=1e-12)


@pytest.mark.parametrize(("size", "tonnes"), [("1/2 in", 1.0), ("5/8 in", 1.59), ("3/4 in", 2.36)])
def test_turnbuckles_in_tonnes(size, tonnes):
    # a second maker's sheet prints tonnes
    assert working(FITTINGS["turnbuckle"][size]) / G / 1e3 == pytest.approx(tonnes, abs=0.0051)


def test_a_5_8_master_link():
    # 45,000 lb, 200.2 kN
    assert fitting_breaking(FITTINGS["master link"]["5/8 in"]) / 1e3 == pytest.approx(
        200.2, abs=0.051
    )


@pytest.mark.parametrize(("name", "factor"), FACTOR_ROWS)
def test_factors(name, factor):
    assert SAFETY_FACTORS[name].value == factor


def test_no_row_without_print():
    assert list(FITTINGS["shackle"]) == [row[0] for row in SHACKLE_ROWS]
    assert list(FITTINGS["eye bolt"]) == [row[0] for row in EYE_BOLT_ROWS]
    rated = [
        (kind, size)
        for kind, rows in FITTINGS.items()
        if kind not in {"shackle", "eye bolt"}
        for size in rows
    ]
    assert rated == [row[:2] for row in RATED_ROWS]
    assert list(SAFETY_FACTORS) == [row[0] for row in FACTOR_ROWS]
    assert {kind: one.value for kind, one in FITTING_FACTOR.items()} == dict.fromkeys(FITTINGS, 5)
    assert (ABSORBER_FACTOR.value, COMMON_FACTOR.value) == (10, 5)


@pytest.mark.parametrize("kind", FITTINGS)
def test_larger_fittings_are_stronger(kind):
    forces = [fitting_breaking(row) for row in FITTINGS[kind].values()]
    assert forces == sorted(forces)
