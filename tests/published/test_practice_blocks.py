"""What practice says. All values here: common practice, no published source."""

import dataclasses

import pytest
from conftest import make_float

from lakemap.rig import lengths, practice
from lakemap.rig.blocks import block_weight, net_volume_m3
from lakemap.rig.hydrostatics import float_buoyancy
from lakemap.rig.practice import REFERENCE_N, practice_blocks

FOOT, INCH, LBF = 0.3048, 0.0254, 4.4482216152605
LB_FT3 = 0.45359237 / FOOT**3
# name, value as practice has it
PRACTICE = {
    "PRIMARY_BLOCKS": 5,  # 12-in hollow units, deck 8 by 10 ft on two tubes of 19 in
    "SECONDARY_BLOCKS": 3,
    "TOTAL_LINE_OVER_DEPTH": 2.0,  # about twice the depth
    "GROUND_OVER_DEPTH": 1.0,  # about one depth
}


def records():
    held = vars(practice) | vars(lengths)
    return {
        name: value
        for name, value in held.items()
        if dataclasses.is_dataclass(value) and "practice" in getattr(value, "source", "")
    }


def test_no_figure_of_practice_without_a_row_here():
    assert records().keys() == PRACTICE.keys()


@pytest.mark.parametrize("name", PRACTICE)
def test_figures_of_practice_say_what_they_are(name):
    record = records()[name]
    assert record.value == PRACTICE[name]
    assert record.source == "common practice, no published source"


def test_the_float_that_the_rule_was_made_for():
    deck = make_float(
        "1",
        length_m=10 * FOOT,
        width_m=8 * FOOT,
        flotation="tubes",
        tubes=2,
        tube_diameter_m=19 * INCH,
        tube_length_m=10 * FOOT,
    )
    buoyancy = float_buoyancy([deck], people=0).buoyancy_n
    assert buoyancy[0] == pytest.approx(REFERENCE_N, rel=1e-12)
    at = practice_blocks(buoyancy)
    assert (at.primary[0], at.secondary[0]) == (5, 3)


# times its buoyancy, primary, secondary: in proportion, at least that, whole blocks
@pytest.mark.parametrize(
    ("times", "primary", "secondary"),
    [(0.2, 5, 3), (1.0, 5, 3), (1.2, 6, 4), (1.21, 7, 4), (4 / 3, 7, 4), (2.0, 10, 6)],
)
def test_other_decks_in_proportion(times, primary, secondary):
    at = practice_blocks([times * REFERENCE_N])
    assert (at.primary[0], at.secondary[0]) == (primary, secondary)


@pytest.mark.parametrize(("count", "pounds"), [(5, 200), (3, 150)])
def test_about_200_and_150_lb_dry(count, pounds):
    # "about": between the lightest and the heaviest units that makers list
    light, heavy = (
        float(block_weight(net_volume_m3("12-in hollow"), density_kg_m3=d * LB_FT3).dry_n) / LBF
        for d in (95, 145)
    )
    assert count * light < pounds < count * heavy


def test_a_dry_weight_of_practice_is_no_weight_on_the_bed():
    # wrong in circulation: 200 lb dry taken as 200 lb on the bed; 34 to 57 % of it are
    for density, share in ((95, 0.34), (145, 0.57)):
        one = block_weight(net_volume_m3("12-in hollow"), density_kg_m3=density * LB_FT3)
        assert float(one.wet_n / one.dry_n) == pytest.approx(share, abs=5e-3)
