"""Unlike metals against print: potentials, millivolts apart, verdicts.

Potentials: galvanic series in flowing sea water against a calomel electrode (printed without the minus sign). Second
chart: silver/silver chloride. Limits: the chart's 200 mV and a maker's guideline of 0.25 V. Area rule:
MIL-STD-1250A, 5.6 and 5.7. Verdicts are ours, from both.
"""

from itertools import product

import pytest

from lakemap.basis.errors import RangeError
from lakemap.rig.metals import (
    NOTE_MV,
    PAIRINGS,
    POTENTIAL_V,
    SECOND_CHART_MV,
    WARN_MV,
    couple,
    millivolts_apart,
)

POTENTIAL_ROWS = [
    ("zinc", -1.03),
    ("galvanised", -1.03),
    ("aluminium", -0.79),
    ("carbon steel", -0.61),
    ("cast iron", -0.61),
    ("304 active", -0.53),
    ("naval brass", -0.40),
    ("copper", -0.36),
    ("bronze", -0.31),
    ("cupronickel", -0.28),
    ("316 active", -0.18),
    ("304 passive", -0.08),
    ("316 passive", -0.05),
    ("stainless", -0.05),
    ("graphite", 0.25),
]
CHART_ROWS = [
    ("galvanised", -1140),
    ("zinc", -1050),
    ("aluminium", -820),
    ("carbon steel", -790),
    ("304 active", -550),
    ("naval brass", -450),
]
METALS = (
    *("galvanised", "aluminium", "carbon steel", "304 active", "naval brass"),
    *("copper", "bronze", "316 active", "304 passive", "316 passive"),
)
APART = [
    [0, 240, 420, 500, 630, 670, 720, 850, 950, 980],
    [240, 0, 180, 260, 390, 430, 480, 610, 710, 740],
    [420, 180, 0, 80, 210, 250, 300, 430, 530, 560],
    [500, 260, 80, 0, 130, 170, 220, 350, 450, 480],
    [630, 390, 210, 130, 0, 40, 90, 220, 320, 350],
    [670, 430, 250, 170, 40, 0, 50, 180, 280, 310],
    [720, 480, 300, 220, 90, 50, 0, 130, 230, 260],
    [850, 610, 430, 350, 220, 180, 130, 0, 100, 130],
    [950, 710, 530, 450, 320, 280, 230, 100, 0, 30],
    [980, 740, 560, 480, 350, 310, 260, 130, 30, 0],
]
# the one that goes, the one that stays, whether the first is small, verdict
VERDICT_ROWS = [
    ("galvanised", "galvanised", False, "good"),
    ("galvanised", "carbon steel", False, "watch"),
    ("galvanised", "stainless", False, "watch"),  # galvanised chain, one stainless shackle
    ("galvanised", "stainless", True, "no"),  # galvanised clips on stainless cable
    ("galvanised", "aluminium", True, "watch"),  # a bolt in an aluminium deck
    ("aluminium", "carbon steel", False, "watch"),
    ("aluminium", "stainless", False, "isolate"),  # a stainless bolt in an aluminium deck
    ("galvanised", "bronze", False, "no"),
    ("galvanised", "copper", False, "no"),
    ("carbon steel", "bronze", False, "no"),
    ("carbon steel", "copper", False, "no"),
    ("aluminium", "bronze", False, "no"),
    ("aluminium", "copper", False, "no"),
    ("stainless", "stainless", False, "good"),
]


@pytest.mark.parametrize(("metal", "volts"), POTENTIAL_ROWS)
def test_potentials(metal, volts):
    assert POTENTIAL_V[metal].value == volts


@pytest.mark.parametrize(("metal", "millivolts"), CHART_ROWS)
def test_second_chart(metal, millivolts):
    assert SECOND_CHART_MV[metal].value == millivolts
    # the two lists differ by up to 180 mV: no differences across them
    assert abs(millivolts - 1e3 * POTENTIAL_V[metal].value) <= 180.001


def test_no_row_without_print():
    assert list(POTENTIAL_V) == [row[0] for row in POTENTIAL_ROWS]
    assert list(SECOND_CHART_MV) == [row[0] for row in CHART_ROWS]
    assert (NOTE_MV.value, WARN_MV.value) == (200, 250)


@pytest.mark.parametrize(("i", "j"), list(product(range(10), range(10))))
def test_millivolts_apart(i, j):
    assert millivolts_apart(METALS[i], METALS[j]) == APART[i][j]


def test_steel_by_the_two_lists():
    steel = SECOND_CHART_MV["carbon steel"].value - 1e3 * POTENTIAL_V["carbon steel"].value
    assert steel == pytest.approx(-180)


@pytest.mark.parametrize(("goes", "stays", "small", "advice"), VERDICT_ROWS)
def test_verdicts(goes, stays, small, advice):
    for found in (
        couple(goes, stays, goes_is_small=small),
        couple(stays, goes, goes_is_small=small),
    ):
        assert (found.goes, found.stays) == (goes, stays)
        assert found.advice == advice


def test_every_pairing_is_asked_for():
    asked = {(goes, stays, small) for goes, stays, small, _ in VERDICT_ROWS}
    for one in PAIRINGS:
        assert any(
            goes in one.goes and stays in one.stays and one.small in {None, small}
            for goes, stays, small in asked
        )


@pytest.mark.parametrize(
    ("first", "second", "small", "level"),
    [
        ("304 active", "copper", False, "good"),  # 170
        ("carbon steel", "naval brass", False, "note"),  # 210
        ("carbon steel", "naval brass", True, "warn"),  # the small one goes
        ("carbon steel", "copper", False, "note"),  # 250, not above it
        ("carbon steel", "bronze", False, "warn"),  # 300
        ("aluminium", "carbon steel", True, "good"),  # 180: small or not
    ],
)
def test_levels(first, second, small, level):
    assert couple(first, second, goes_is_small=small).level == level


def test_a_pair_without_a_verdict_goes_by_its_millivolts():
    assert couple("carbon steel", "316 passive").advice == "isolate"
    assert couple("304 active", "bronze").advice == "watch"
    assert couple("copper", "bronze").advice == "good"


def test_metals_that_exist_are_named():
    with pytest.raises(RangeError, match="tin, lead not in the series; there are zinc, galvanised"):
        millivolts_apart("tin", "lead")
