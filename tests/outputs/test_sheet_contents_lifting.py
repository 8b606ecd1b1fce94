"""What the lifting sheet says: weights, what the float carries, the steps that follow from that."""

from dataclasses import replace
from functools import cache

import pytest
from conftest import make_field, make_float, make_settings
from sheet_reading import box_titled, steps_of, tables_of, told

from lakemap.mapping import assess
from lakemap.outputs.sheets.asked import SheetAsk
from lakemap.outputs.sheets.lifting import lifting_page
from lakemap.outputs.sheets.lifting_steps import Carries, carries, lifting_steps
from lakemap.outputs.sheets.numbers import BLANK, SheetNumbers
from lakemap.outputs.sheets.page_figures import Figures
from lakemap.season.facts.lifting import Hung, lifting_facts
from lakemap.season.facts.sheet_ground import sheet_ground

RIG = {
    "riser_m": 8.0,
    "ground_m": 7.0,
    "primary_blocks": 10,
    "secondary_blocks": 5,
    "block": "12-in hollow",
    "bearing_deg": 90.0,
    "bottom": "mud",
}
# two tubes of 0.5 m by 4 m lift 1571 kg
STOUT = {
    "flotation": "tubes",
    "tubes": 2,
    "tube_diameter_m": 0.5,
    "tube_length_m": 4.0,
    "float_weight_kg": 300.0,
}
# one of 0.1 m by 1 m lifts 8 kg
FRAIL = {
    "length_m": 1.0,
    "width_m": 1.0,
    "flotation": "tubes",
    "tubes": 1,
    "tube_diameter_m": 0.1,
    "tube_length_m": 1.0,
    "float_weight_kg": 4.0,
}


@cache
def told_of(**more):
    field = {key: more.pop(key) for key in ("bed_m",) if key in more}
    field["settings"] = make_settings(units=more.pop("units", "m-kg"))
    ground = sheet_ground(assess(make_field([make_float("A", **RIG | STOUT | more)], **field)))
    one = ground.float_of("A")
    page = lifting_page(ground, one, SheetAsk(), Figures(ground.assessment))
    numbers = SheetNumbers(assessment=ground.assessment, one=one)
    return page, lifting_facts(ground, "A"), numbers


def hung(*able):
    """The five cases of the facts; those named float and stay upright."""
    cases = [("both", 0), ("both", 1), ("both", 2), ("primary", 0), ("secondary", 0)]
    return tuple(
        Hung(
            under=under,
            hung_n=1000.0,
            crew=crew,
            floats=(under, crew) in able,
            reserve_n=100.0,
            draft_m=0.2,
            freeboard_m=0.3,
            tilt_deg=0.0,
            gm_m=1.0,
            steady=(under, crew) in able,
            hook_depth_m=0.0,
        )
        for under, crew in cases
    )


def test_weights_at_each_stage():
    """Ten blocks of 0.3903 ft3 at 145 lb/ft3, soaked with 13 (ASTM C90): 616.7 lb, 279.7 kg in air."""
    page, _, _ = told_of()
    stages = tables_of(page)[0]
    assert stages.header == ("Stage", "In air", "In water", "On hoist")
    assert [row[0] for row in stages.rows] == [
        "secondary up by the riser",
        "ground chain upright",
        "primary off its bed",
        "both under the float",
        "all of it ashore",
    ]
    assert stages.rows[-1][-1] == "280 kg"
    assert stages.rows[-2][-1] == "–"


def test_the_float_under_its_load():
    page, facts, _ = told_of()
    afloat = tables_of(page)[1]
    assert [row[:2] for row in afloat.rows] == [("both clusters", str(crew)) for crew in (0, 1, 2)]
    carried = facts.hung[0]
    # what is left: all the tubes lift less float, clusters and line
    lifts = 1000.0 * 2 * 3.14159265 * 0.25**2 * 4.0 * 9.80665
    left = lifts - 300.0 * 9.80665 - carried.hung_n
    assert afloat.rows[0][3] == f"{int(left / 9.80665):,} kg"


def test_steps_in_order_with_their_own_numbers():
    page, facts, numbers = told_of()
    steps = steps_of(page)
    assert len(steps) == 10
    # the heavier cluster out of the water is the most that the hoist carries
    assert "shackles for 280 kg or more" in steps[1]
    assert "a marker line of 7.11 m" in steps[1]  # 6.5 m and 2 ft
    assert f"straight: {numbers.weight(facts.stages[0].hoist_n)} at most." in steps[3]
    assert "back along the ground chain, 270° W, 7.00 m," in steps[5]
    assert facts.breakout.text in steps[6]
    assert "5 cm lower: too much hangs" in steps[7]
    assert "28 kg each" in steps[9]  # 61.67 lb


def test_no_force_is_promised_for_a_buried_primary():
    page, _, _ = told_of()
    assert "Nobody can say by how much." in steps_of(page)[6]
    assert "what a buried primary holds on by, nobody can say" in told(page).lower()


def test_a_ground_chain_shorter_than_the_water_is_deep():
    page, facts, numbers = told_of(ground_m=6.0)
    primary_up = next(stage for stage in facts.stages if stage.name == "primary up")
    hoist = numbers.weight(primary_up.hoist_n)
    assert f"The last 0.50 m lift the primary too, {hoist}:" in steps_of(page)[3]
    whole, _, _ = told_of(ground_m=7.0)
    assert "lift the primary too" not in steps_of(whole)[3]


@pytest.mark.parametrize(
    ("able", "told_"),
    [
        ([("both", 0), ("both", 1), ("both", 2), ("primary", 0), ("secondary", 0)], Carries.BOTH),
        ([("both", 0), ("both", 1), ("primary", 0), ("secondary", 0)], Carries.BOTH_ALONE),
        ([("primary", 0), ("secondary", 0)], Carries.PRIMARY),
        ([("secondary", 0)], Carries.SECONDARY),
        ([], Carries.NOTHING),
    ],
)
def test_what_a_float_carries(able, told_):
    _, facts, _ = told_of()
    assert carries(replace(facts, hung=hung(*able))) is told_
    assert carries(replace(facts, hung=())) is Carries.UNKNOWN


def test_one_that_floats_but_tips_over_carries_nothing():
    _, facts, _ = told_of()
    tipping = tuple(replace(each, floats=True, steady=False) for each in hung())
    assert carries(replace(facts, hung=tipping)) is Carries.NOTHING


@pytest.mark.parametrize(
    ("able", "secondary", "primary"),
    [
        ([("primary", 0), ("secondary", 0)], "lift the secondary onto", "chain it short under"),
        ([("secondary", 0)], "chain the secondary short", "lift the primary onto the work float"),
        ([], "lift the secondary onto the work float", "lift the primary onto the work float"),
    ],
)
def test_what_is_too_heavy_goes_elsewhere(able, secondary, primary):
    _, facts, numbers = told_of()
    steps = lifting_steps(replace(facts, hung=hung(*able)), numbers)
    assert secondary in steps[4]
    assert primary in steps[7]


def test_a_frail_float_is_told_first_and_comes_in_bare():
    page, _, _ = told_of(**FRAIL)
    assert "hang nothing under it" in box_titled(page, "First of all")
    assert "28 kg each" in box_titled(page, "First of all")
    assert steps_of(page)[8] == "BOAT: bring the float in bare."
    assert all(row[2] == "goes under" for row in tables_of(page)[1].rows)
    assert tables_of(page)[1].rows[0][3].endswith(" short")


def test_the_tow_over_a_level_bed():
    """No ramp is drawn: to the nearest shore, over 6.5 m all the way but for the shore itself."""
    page, facts, numbers = told_of()
    tow = steps_of(page)[8]
    assert "to the nearest shore" in tow
    assert f"It hangs {numbers.tape(facts.tow.draft_m)} deep and wants 0.30 m free" in tow


def test_too_shallow_to_tow_says_by_how_much():
    _, facts, numbers = told_of()
    shallow = replace(facts.tow, deep_enough=False, spare_m=-0.211, target="Ramp", to_ramp=True)
    tow = lifting_steps(replace(facts, tow=shallow), numbers)[8]
    assert tow.startswith("BOAT: too shallow to tow: it hangs ")
    assert "Haul the clusters 0.22 m higher" in tow  # never less than it takes


def test_what_lies_on_the_way():
    _, facts, numbers = told_of()
    way = replace(facts.tow, unsounded=True, swim_areas=("Camp", "Beach"), left_m=8.52)
    tow = lifting_steps(replace(facts, tow=way), numbers)[8]
    assert "Part of the way nobody has sounded." in tow
    assert "It passes Camp, Beach: wait till nobody swims." in tow
    assert "Stop 8.5 m before the nearest shore" in tow


def test_without_a_depth_weights_alone_are_told():
    page, _, _ = told_of(bed_m=None)
    assert tables_of(page) == []
    assert "primary 280 kg in air, 170 kg in water; secondary 140 kg and 85 kg" in told(page)
    steps = steps_of(page)
    assert f"straight: {BLANK} at most" in steps[3]
    assert steps[8] == "BOAT: no way to the ramp is known: sound ahead of the tow."
    assert "No depth is known here." in box_titled(page, "First of all")


def test_weights_that_are_no_blocks_come_out_whole():
    page, facts, numbers = told_of(primary_blocks=None, primary_weight_kg=250.0)
    weight = numbers.weight(facts.primary.air_n)
    assert f"lift the weights out with gear for {weight}." in steps_of(page)[9]


def test_a_rig_without_an_absorber():
    page, _, _ = told_of(absorber_length_m=0.0)
    assert "absorber" not in steps_of(page)[2]
    with_one, _, _ = told_of()
    assert "below the absorber (no sling)" in steps_of(with_one)[2]


def test_an_assumed_float_is_measured_before_it_is_trusted():
    page, _, _ = told_of(
        flotation=None, tubes=None, tube_diameter_m=None, tube_length_m=None, float_weight_kg=None
    )
    assert "measure the deck’s edge bare and with the secondary" in told(page)
    given, _, _ = told_of()
    assert "measure the deck’s edge bare" not in told(given)


def test_a_primary_that_nobody_located_is_found_by_its_chain():
    page, _, _ = told_of(position_of="float")
    assert "Follow riser and ground chain to it and fix its place." in box_titled(
        page, "First of all"
    )
    bearing_unknown, _, _ = told_of(bearing_deg=None)
    assert "back along the ground chain, 7.00 m, taking" in steps_of(bearing_unknown)[5]


def test_in_feet_and_pounds():
    page, _, _ = told_of(units="ft-lb")
    steps = steps_of(page)
    assert "shackles for 617 lb or more" in steps[1]
    assert "62 lb each" in steps[9]
    assert "2 in lower" in steps[7]
