"""Two tubes, upright and with people at the edge, and periods of heave, against worked values.

The worked example: tubes of 0.5 by 3 m, centres 2.4 m apart, float of 480 kg with its centre 0.60 m
above the keel, deck of 3 by 3 m with its top at 0.62 m, people of 185 lb (46 CFR 170.090(d)(1)) with
their centre 1.0 m above it, fresh water of 1000 kg/m3. Worked from geometry and statics by a script
other than this package's, to the digits shown. Plate coefficients: DNV-RP-C205, table of rectangular
plates moving normal to themselves (from memory).
"""

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from lakemap.basis.records import Float
from lakemap.loads.people import PERSON_KG
from lakemap.rig.edge_load import edge_load, righting_arm
from lakemap.rig.float_defaults import fill_flotation
from lakemap.rig.heave import (
    HEAVE_PERIOD,
    PLATE_ADDED_MASS,
    PLATES,
    TUBE_ADDED,
    TUBE_ADDED_MASS,
    heave_period,
    plate_coefficient,
)
from lakemap.rig.hook import hook_trim_deg
from lakemap.rig.hydrostatics import float_buoyancy, segment_area, segment_breadth
from lakemap.rig.layout import Layout, Rows
from lakemap.rig.tilt import Profile, Tipping
from lakemap.rig.upright import BM, GM, upright

POUND, FOOT, G = 0.45359237, 0.3048, 9.80665

# persons, m, h, A, b, KB, BM_T, BM_L, KG, GM_T, GM_L, deck above water
AT_MIDDLE = [
    (0, 480.000, 0.21352, 0.08000, 0.49465, 0.12393, 9.02974, 4.63733, 0.60000, 8.55367, 4.16126, 0.4065),
    (2, 647.829, 0.26961, 0.10797, 0.49846, 0.15441, 6.74346, 3.46243, 0.86425, 6.03362, 2.75260, 0.3504),
    (4, 815.658, 0.32676, 0.13594, 0.47585, 0.18395, 5.10655, 2.62526, 1.01975, 4.27075, 1.78946, 0.2932),
    (6, 983.488, 0.38902, 0.16391, 0.41556, 0.21351, 3.68724, 1.90144, 1.12218, 2.77858, 0.99277, 0.2310),
]  # fmt: skip
# people at 1.3 m: linear heel, exact heel, linear trim, exact trim [deg]; None goes under
AT_EDGE = [
    (1, 1.5488, 1.5541, 3.2802, 3.3221),
    (2, 3.1948, 3.2464, 6.9755, 7.5750),
    (3, 5.0180, 5.2957, 11.3095, None),
    (4, 7.1399, None, 16.6444, None),
]
# side ratio, coefficient; the last is endless
PLATE_ROWS = [
    (1.0, 0.579),
    (1.25, 0.642),
    (1.5, 0.690),
    (2, 0.757),
    (2.5, 0.801),
    (3, 0.830),
    (4, 0.871),
    (5, 0.897),
    (np.inf, 1),
]
# draft of a flat raft of 3 by 3 m, period with half of the plate's added mass, without, with a disc's
RAFTS = [
    (0.3, 1.9884, 1.099, 2.0247),
    (0.2, 1.8844, 0.897, 1.9228),
    (0.1, 1.7744, 0.634, 1.8151),
]
# coefficient, added mass, period of the two tubes unloaded
TUBE_PERIODS = [(0.5, 294.52, 1.0250), (0.75, 441.79, 1.1182), (1.0, 589.05, 1.2042)]

FLOAT = Float(
    float_id="1",
    row=2,
    lon=0,
    lat=0,
    length_m=3,
    width_m=3,
    flotation="tubes",
    tubes=2,
    tube_diameter_m=0.5,
    tube_length_m=3.0,
    float_weight_kg=480.0,
)


def rows(offsets, pieces):
    return Rows(offset_m=np.array([offsets]), pieces=np.array([pieces], dtype=float))


LAID = Layout(
    across=rows([-1.2, 1.2], [1, 1]),
    along=rows([0.0], [2]),
    long_m=np.array([3.0]),
    short_m=np.array([3.0]),
)


def tipping(way, stand=1.3):
    laid = LAID.across if way == "heel" else LAID.along
    long, round_ = np.array([3.0]), np.array([0.5])
    profile = Profile(
        kind="end on" if way == "heel" else "lengthwise",
        offset_m=laid.offset_m,
        pieces=laid.pieces,
        extent_m=round_ if way == "heel" else long,
        span_m=long if way == "heel" else round_,
        height_m=round_,
    )
    return Tipping(
        profile=profile,
        weight_kg=np.array([480.0]),
        centre_m=np.array([0.60]),
        edge_m=np.array([1.5]),
        deck_top_m=np.array([0.62]),
        stand_m=np.array([stand]),
        person_centre_m=np.array([1.62]),
    )


def tilt(way, people, stand=1.3):
    return float(
        edge_load(tipping(way, stand), people_kg=np.array([people * PERSON_KG])).tilt_deg[0]
    )


def best_arm(way, people, stand=1.3):
    at, kg = tipping(way, stand), np.array([people * PERSON_KG])
    angles = np.radians(np.arange(0.5, 60, 0.5))
    arms = [float(righting_arm(at, np.array([angle]), people_kg=kg)[0]) for angle in angles]
    near = angles[int(np.argmax(arms))]
    found = minimize_scalar(
        lambda angle: -float(righting_arm(at, np.array([angle]), people_kg=kg)[0]),
        bounds=(near - 0.01, near + 0.01),
        method="bounded",
        options={"xatol": 1e-8},
    )
    return -found.fun


def at_middle(persons):
    people = persons * PERSON_KG
    mass = 480 + people
    centre = (480 * 0.60 + people * 1.62) / mass
    level = upright(
        fill_flotation([FLOAT]), LAID, mass_kg=np.array([mass]), kg_m=np.array([centre])
    )
    return mass, centre, level


@pytest.mark.parametrize("row", AT_MIDDLE, ids=lambda row: f"{row[0]} persons")
def test_two_tubes_upright(row):
    persons, m, h, area, breadth, kb, bm_t, bm_l, kg, gm_t, gm_l, deck = row
    mass, centre, level = at_middle(persons)
    assert mass == pytest.approx(m, abs=1.5e-3)  # a person's printed 83.9146 times six
    draft = float(level.draft_m[0])
    assert draft == pytest.approx(h, abs=6e-6)
    assert float(segment_area(draft, diameter_m=0.5)) == pytest.approx(area, abs=6e-6)
    assert float(segment_breadth(draft, diameter_m=0.5)) == pytest.approx(breadth, abs=6e-6)
    assert level.kb_m[0] == pytest.approx(kb, abs=6e-6)
    assert level.bm_transverse_m[0] == pytest.approx(bm_t, abs=6e-6)
    assert level.bm_long_m[0] == pytest.approx(bm_l, abs=6e-6)
    assert centre == pytest.approx(kg, abs=6e-6)
    assert level.gm_transverse_m[0] == pytest.approx(gm_t, abs=6e-6)
    assert level.gm_long_m[0] == pytest.approx(gm_l, abs=6e-6)
    assert 0.62 - draft == pytest.approx(deck, abs=6e-5)


@pytest.mark.parametrize("row", AT_MIDDLE, ids=lambda row: f"{row[0]} persons")
def test_formulas_with_the_printed_terms(row):
    _, m, _, _, breadth, kb, bm_t, bm_l, kg, gm_t, gm_l, _ = row
    inertia = 2 * (3 * breadth**3 / 12 + 3 * breadth * 2.4**2 / 4)
    assert float(BM(inertia_m4=inertia, volume_m3=m / 1000).value) == pytest.approx(bm_t, abs=2e-4)
    inertia = 2 * breadth * 27 / 12
    assert float(BM(inertia_m4=inertia, volume_m3=m / 1000).value) == pytest.approx(bm_l, abs=2e-4)
    for bm, gm in ((bm_t, gm_t), (bm_l, gm_l)):
        assert float(GM(kb_m=kb, bm_m=bm, kg_m=kg).value) == pytest.approx(gm, abs=1.6e-5)


@pytest.mark.parametrize("row", AT_EDGE, ids=lambda row: f"{row[0]} at the edge")
def test_people_at_the_edge_linear(row):
    # tan = m_p y/(m GM), the people's height counted in
    persons, heel, _, trim, _ = row
    mass, _, level = at_middle(persons)
    for gm, printed in ((level.gm_transverse_m, heel), (level.gm_long_m, trim)):
        linear = hook_trim_deg(
            persons * PERSON_KG * G, 0.0, out_m=1.3, lever_m=0.0, stiffness_n_m=mass * G * gm
        )
        assert float(linear[0]) == pytest.approx(printed, abs=6e-5)


@pytest.mark.parametrize("row", AT_EDGE, ids=lambda row: f"{row[0]} at the edge")
def test_people_at_the_edge_exact(row):
    persons, _, heel, _, trim = row
    for way, printed in (("heel", heel), ("trim", trim)):
        found = tilt(way, persons)
        if printed is None:
            assert np.isnan(found)
        else:
            assert found == pytest.approx(printed, abs=6e-5)
            arm = righting_arm(
                tipping(way), np.radians([printed]), people_kg=np.array([persons * PERSON_KG])
            )
            assert float(arm[0]) == pytest.approx(0, abs=2e-5)


def test_best_arms_of_those_that_go_under():
    assert best_arm("trim", 3) == pytest.approx(-0.125, abs=5e-4)
    assert best_arm("heel", 4) == pytest.approx(-0.096, abs=5e-4)
    assert best_arm("trim", 3, stand=1.0) == pytest.approx(-0.024, abs=5e-4)


def test_people_one_metre_out():
    # 4 to the side: 6.1908 exact, 5.5039 linear, an arm of 0.026 m to spare; 5 go under
    assert tilt("heel", 4, stand=1.0) == pytest.approx(6.1908, abs=6e-5)
    assert best_arm("heel", 4, stand=1.0) == pytest.approx(0.026, abs=5e-4)
    assert np.isnan(tilt("heel", 5, stand=1.0))
    mass, _, level = at_middle(4)
    linear = np.degrees(np.arctan(4 * PERSON_KG * 1.0 / (mass * level.gm_transverse_m[0])))
    assert linear == pytest.approx(5.5039, abs=6e-5)
    # 3 at an end pass every quick check and go under
    assert np.isnan(tilt("trim", 3, stand=1.0))
    assert best_arm("trim", 3, stand=1.0) < 0


@pytest.mark.parametrize(
    ("people", "stand", "tube_kg", "passes"),
    [(3, 1.3, 502.2, True), (4, 1.3, 589.6, False), (4, 1.0, 547.7, True), (5, 1.0, 624.6, False)],
)
def test_quick_check_of_the_loaded_tube(people, stand, tube_kg, passes):
    # m/2 + m y_G/s against 589.05 kg: needed, not enough; the exact balance never beats it
    own = people * PERSON_KG
    share = (480 + own) / 2 + own * stand / 2.4
    assert share == pytest.approx(tube_kg, abs=0.06)
    capacity = float_buoyancy([FLOAT], people=0).buoyancy_n[0] / 2 / G
    assert capacity == pytest.approx(589.05, abs=6e-3)
    assert (share < capacity) == passes
    assert np.isnan(tilt("heel", people, stand=stand)) != passes


def test_most_people_at_the_edge():
    # 3 to the side and 2 at an end float; one more goes under
    for way, most in (("heel", 3), ("trim", 2)):
        carried = edge_load(tipping(way), people_kg=np.zeros(1)).most_kg[0] / PERSON_KG
        assert int(carried) == most


def test_reserve_in_pounds():
    # 698.097 kg = 1539.04 lb; 15.89 psf on 9 m2
    reserve_lb = float_buoyancy([FLOAT], people=0).reserve_n[0] / G / POUND
    assert reserve_lb == pytest.approx(1539.04, abs=6e-3)
    assert reserve_lb / (9 / FOOT**2) == pytest.approx(15.89, abs=6e-3)
    # 20 psf, common for marina floats (from memory), is 1938 lb: more than this float has
    assert 20 * 9 / FOOT**2 == pytest.approx(1938, abs=0.6)
    assert reserve_lb < 1938


def test_heel_by_metacentric_height_alone_is_not_given():
    # 7.14 degrees for 4 to the side, 11.3 and 16.6 for 3 and 4 at an end: in truth they go under
    assert np.isnan(tilt("heel", 4))
    assert np.isnan([tilt("trim", 3), tilt("trim", 4)]).all()
    assert abs(tilt("trim", 2) - 6.9755) > 0.5


@pytest.mark.parametrize(("ratio", "value"), PLATE_ROWS)
def test_plates(ratio, value):
    assert PLATES[ratio].value == value
    assert float(plate_coefficient(ratio)) == pytest.approx(value, abs=1e-12)


def test_no_plate_without_a_print():
    assert sorted(PLATES) == [ratio for ratio, _ in PLATE_ROWS]


@pytest.mark.parametrize(("draft", "period", "bare", "disc"), RAFTS)
def test_flat_rafts(draft, period, bare, disc):
    added = PLATE_ADDED_MASS(coefficient=0.579, short_m=3, long_m=3, plates=1).value
    assert float(added) == pytest.approx(6139.06, abs=6e-3)
    given = {"mass_kg": 9000 * draft, "waterplane_m2": 9.0}
    assert float(HEAVE_PERIOD(added_kg=added, **given).value) == pytest.approx(period, abs=6e-5)
    # without the water that goes along, wrong by half; with that of a disc of equal area
    assert float(HEAVE_PERIOD(added_kg=0.0, **given).value) == pytest.approx(bare, abs=6e-4)
    round_ = 4 / 3 * 1000 * (9 / np.pi) ** 1.5
    assert float(HEAVE_PERIOD(added_kg=round_, **given).value) == pytest.approx(disc, abs=6e-5)


@pytest.mark.parametrize(("coefficient", "added", "period"), TUBE_PERIODS)
def test_two_tubes_in_heave(coefficient, added, period):
    found = TUBE_ADDED_MASS(coefficient=coefficient, diameter_m=0.5, length_m=6.0).value
    assert float(found) == pytest.approx(added, abs=6e-3)
    _, _, level = at_middle(0)
    swung = heave_period(480.0, added_kg=found, waterplane_m2=level.waterplane_m2)
    assert float(swung[0]) == pytest.approx(period, abs=6e-5)
    # from memory: 0.6 to 1 about these periods; we take the middle row
    assert (TUBE_ADDED.low, TUBE_ADDED.value, TUBE_ADDED.high) == (0.5, 0.75, 1.0)
