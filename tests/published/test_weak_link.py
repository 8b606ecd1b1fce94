"""The weak link of a rig worked by hand from the tables of print, its remedies, and its metric twin.

Rig, top to bottom: 5/8 in shoulder eye bolt (ASTM A489) pulled 30 degrees off its axis; 1/2 in shackle (RR-C-271);
loop of 5/16 in galvanised 7x19 (FAA AC 43.13-1B, table 7-3), ends lapped and clipped, bare over a 3/8 in pin;
3/8 in Grade 30 chain (49 CFR 393.108). Worked by hand to the digits shown.
"""

import numpy as np
import pytest
from conftest import make_float

from lakemap.basis.records import Fitting
from lakemap.rig.ends_and_bends import bend_share, cable_loop
from lakemap.rig.hardware import WORKING_LOAD, cable_strength, chain_strength
from lakemap.rig.parts import line_strength, rig_parts

LBF, G = 4.4482216152605, 9.80665
FITTINGS = (Fitting(name="eye bolt", size="5/8 in"), Fitting(name="shackle", size="1/2 in"))
# part, breaking lb, kN, own factor, working lb, kN, at 5 to 1 lb, at 10 to 1 lb, used at 1,200 lb
ROWS = [
    ("eye bolt", 9555, 42.50, 5, 1911, 8.50, 1911, 955.5, 0.628),
    ("absorber cable", 10388, 46.21, 10, 1038.8, 4.62, 2077.6, 1038.8, 1.155),
    ("riser chain", 10600, 47.15, 4, 2650, 11.79, 2120, 1060, 0.453),
    ("shackle", 20000, 88.96, 5, 4000, 17.79, 4000, 2000, 0.300),
]


def rig(**more):
    given = {
        "fittings": FITTINGS,
        "cable": "5/16 in galvanised",
        "cable_parts": 2,
        "cable_ends": "bare pin",
        "chain": "3/8 in",
        "chain_grade": 30,
    }
    return rig_parts(make_float("1", **given | more), units="ft-lb")


def strength(angle=30.0, pull=1200 * LBF, **more):
    return line_strength(rig(**more), peak_n=[pull], pull_angle_from_axis_deg=[angle])


@pytest.mark.parametrize(
    ("part", "breaking", "breaking_kn", "factor", "working", "working_kn", "at_5", "at_10", "used"),
    ROWS,
)
def test_every_row(part, breaking, breaking_kn, factor, working, working_kn, at_5, at_10, used):
    found = strength()
    k = found.names.index(part)
    assert rig().parts[k].factor == factor
    assert found.breaking_n[0, k] / LBF == pytest.approx(breaking, abs=1e-6)
    assert found.breaking_n[0, k] / 1e3 == pytest.approx(breaking_kn, abs=0.0051)
    assert found.working_n[0, k] / LBF == pytest.approx(working, abs=1e-6)
    assert found.working_n[0, k] / 1e3 == pytest.approx(working_kn, abs=0.0051)
    assert found.used[0, k] == pytest.approx(used, abs=5.1e-4)
    for common, pounds in ((5, at_5), (10, at_10)):
        on_common = WORKING_LOAD(breaking_n=found.breaking_n[0, k], factor=common).value
        assert float(on_common) / LBF == pytest.approx(pounds, abs=1e-6)


def test_the_steps_of_the_loop():
    cable = cable_strength("5/16 in", "7x19", "galvanised").value / LBF
    assert cable == pytest.approx(9800)
    assert 0.8 * cable == pytest.approx(7840)
    share = float(bend_share(0.375 / 0.3125).share)
    assert share == pytest.approx(0.53)
    assert share * cable == pytest.approx(5194)
    # on the shackle's own pin of 5/8 in: D/d 2.0, 12,740 lb
    on_pin = cable_loop(cable, end_share=0.8, bend_share=bend_share(2.0).share, legs=2)
    assert float(on_pin) == pytest.approx(12740)
    # both losses in one place would be 8,310 lb: not what is given
    assert strength().breaking_n[0, 2] / LBF > 8311


def test_which_question_the_weak_link_answers():
    found = strength()
    # by each part's own factor the cable, for its factor is 10
    assert found.names[found.weakest[0]] == "absorber cable"
    # by breaking, or any common factor, the eye bolt: working loads of unlike factors don't rank
    assert found.names[int(np.argmin(found.breaking_n[0]))] == "eye bolt"


def test_remedy_a_thimble():
    # groove of 1 1/4 in: D/d 4, 14,700 lb, 65.39 kN, 41.5 % more
    bare, thimble = strength(), strength(cable_ends="clips")
    assert thimble.breaking_n[0, 2] / LBF == pytest.approx(14700)
    assert thimble.breaking_n[0, 2] / 1e3 == pytest.approx(65.39, abs=0.0051)
    assert thimble.breaking_n[0, 2] / bare.breaking_n[0, 2] == pytest.approx(1.415, abs=5.1e-4)


def test_remedy_a_pull_in_line():
    # 14,700 lb at the eye bolt; with a thimble too the chain is the weakest
    found = strength(angle=0.0, cable_ends="clips")
    assert found.breaking_n[0, 0] / LBF == pytest.approx(14700)
    assert found.names[int(np.argmin(found.breaking_n[0]))] == "riser chain"


def test_metric_twin():
    # 8 mm galvanised, 43.9 kN: leg min(35.12, 32.925), loop 65.85 kN; DIN 766 8 mm chain 32 kN
    parts = rig_parts(
        make_float(
            "1",
            fittings=FITTINGS,
            cable="8 mm galvanised",
            cable_parts=2,
            cable_ends="clips",
            chain="8 mm",
            chain_grade=30,
        ),
        units="m-kg",
    )
    cable = cable_strength("8 mm", "7x19", "galvanised").value
    assert 0.8 * cable == pytest.approx(35.12e3)
    assert 0.75 * cable == pytest.approx(32.925e3)
    found = line_strength(parts, peak_n=[5000.0], pull_angle_from_axis_deg=[0.0])
    assert found.breaking_n[0, 2] == pytest.approx(65.85e3)
    assert found.breaking_n[0, 3] == pytest.approx(32e3)
    assert found.names[int(np.argmin(found.breaking_n[0]))] == "riser chain"
    # the catalogue's working load, 800 kg or 7.85 kN, is a kilogram's rounding of a quarter of it
    assert chain_strength("8 mm", 30).working == pytest.approx(800 * G, rel=0.021)
