"""What the setting sheet says, and what all sheets for the boat have in common."""

from dataclasses import replace
from functools import cache
from pathlib import Path
from types import MappingProxyType

import pytest
import shapely
from conftest import make_field, make_float, make_settings, make_zone
from sheet_reading import box_titled, steps_of, told

import lakemap
from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import ZONE_KINDS, Rule, Season
from lakemap.mapping import assess
from lakemap.outputs.sheets.asked import SheetAsk
from lakemap.outputs.sheets.blocks import Para
from lakemap.outputs.sheets.inspection import inspection_page
from lakemap.outputs.sheets.layout import lay_out
from lakemap.outputs.sheets.lifting import lifting_page
from lakemap.outputs.sheets.member import member_page
from lakemap.outputs.sheets.numbers import BLANK, SheetNumbers
from lakemap.outputs.sheets.page_figures import Figures
from lakemap.outputs.sheets.piece_words import clips_of, clips_sentence
from lakemap.outputs.sheets.setting import setting_page
from lakemap.outputs.sheets.sheet_cautions import with_cautions
from lakemap.outputs.typeset import PAPERS
from lakemap.outputs.words.cautions import CLOSING, cautions_of_task
from lakemap.outputs.words.texts import ENGLISH
from lakemap.season.facts.sheet_ground import sheet_ground
from lakemap.season.rig_inventory import inventory

WRITERS = {
    "setting": setting_page,
    "inspection": inspection_page,
    "lifting": lifting_page,
    "member": member_page,
}
TASKS = {
    "setting": ("setting",),
    "inspection": ("inspecting",),
    "lifting": ("lifting", "towing"),
    "member": ("member",),
}
DATA = Path(__file__).parents[2] / "data"
RIG = {
    "riser_m": 8.0,
    "ground_m": 4.0,
    "primary_blocks": 10,
    "secondary_blocks": 5,
    "block": "12-in hollow",
    "cable": "5/16 in galvanised",
    "cable_ends": "clips",
    "bearing_deg": 90.0,
}


def page_of(kind, floats, *, name="A", ask=None, **more):
    ground = sheet_ground(assess(make_field(floats, **more)))
    figures = Figures(ground.assessment)
    return WRITERS[kind](ground, ground.float_of(name), ask or SheetAsk(), figures)


def numbers_of(floats, **more):
    assessment = assess(make_field(floats, **more))
    return SheetNumbers(assessment=assessment, one=assessment.floats[0])


def test_setting_in_its_own_numbers():
    """A level bed 6.5 m deep; the marker lines are 2 ft longer.

    Weights: ten blocks of 0.3903 ft3 at 145 lb/ft3, soaked with 13 lb/ft3 (ASTM C90), are 565.9 lb
    dry and 373.1 lb in water of 62.4 lb/ft3; five are half of that. Clips of 5/16 in: 3 to an end,
    6 D apart, 5 1/2 in turned back, 30 ft lbf. The hook lies within sqrt(8^2 - 6.5^2) m.
    """
    steps = steps_of(page_of("setting", [make_float("A", **RIG)]))
    make_up, markers, sound, drop, pay_out, secondary, apart, hook, look = steps
    assert "the ground chain, 4.00 m, and the riser, 8.00 m." in make_up
    assert "Clips: 3 to an end, 48 mm apart, 140 mm of cable turned back" in make_up
    assert "41 N·m" in make_up
    assert "7.11 m on the primary, 7.11 m on the secondary" in markers
    # twice what the field's own 0.2 m of depth and 0.1 m of level come to
    assert "normal level, 0 m on the gauge" in sound
    assert "sound: 6.50 m, give or take 0.45 m." in sound
    assert "(257 kg in air, 170 kg in water)" in drop
    assert "ahead on 090° E. LINE: pay out the ground chain, 4.00 m," in pay_out
    assert "(129 kg in air, 85 kg in water)" in secondary
    # 2 sqrt(0.1^2 + 2 (0.5 ft)^2) = 0.475 m less than the chain
    assert "4.00 m apart on 090° E. Under 3.52 m" in apart
    assert hook.startswith("BOAT: lay the float over the secondary, engine off.")
    assert "within 4.66 m of the secondary’s marker" in look


def test_where_it_goes():
    text = told(page_of("setting", [make_float("A", **RIG), make_float("D", -80.0, 12.3, **RIG)]))
    assert "41.000000, -37.000000" in text
    assert "0.0 m E, 0.0 m N" in text
    text = told(page_of("setting", [make_float("D", -80.0, -12.3, **RIG)], name="D"))
    assert "80.0 m W, 12.3 m S" in text


def test_depths_at_the_level_of_the_day():
    page = page_of("setting", [make_float("A", **RIG)], ask=SheetAsk(level_m=-0.3))
    assert "6.20 m; at the secondary 6.20 m" in told(page)
    assert "depths are for −0.3 m on the gauge." in steps_of(page)[2]
    assert "sound: 6.20 m" in steps_of(page)[2]


def test_what_is_not_known_is_blank_and_measured():
    page = page_of("setting", [make_float("A", riser_m=None, ground_m=None)], bed_m=None)
    assert "No depth is known here. Sound it" in box_titled(page, "First of all")
    steps = steps_of(page)
    assert f"measure the ground chain, {BLANK}, and the riser, {BLANK}." in steps[0]
    assert steps[2].startswith("BOAT: read the gauge. Hold over the point. LINE: sound it")
    assert f"riser chain 10 mm, {BLANK}" in told(page)
    assert f"{BLANK} (assumed)" not in told(page)  # nothing was assumed where a blank stands


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"riser_m": 1.0, "ground_m": 1.0}, "This rig cannot work. Riser and ground chain"),
        ({"x": 92.0}, "It is in conflict here. Swings"),
        ({"position_of": "float"}, "only a fix of the float. Choose on the map where to drop it."),
        (
            {"position_of": "secondary", "bearing_deg": None},
            "only a fix of the secondary. Choose on the map where to drop it.",
        ),
        (
            {"position_of": "float", "wind_from_deg": 270.0},
            "reckoned from where the float lay to the wind",
        ),
        ({"position_of": "secondary"}, "reckoned from the secondary’s fix and bearing."),
        ({"x": 97.0}, "On this bearing the secondary would come ashore"),
    ],
)
def test_what_is_settled_first(more, says):
    page = page_of("setting", [make_float("A", **RIG | more)])
    assert says in box_titled(page, "First of all")


def test_nothing_is_said_first_where_all_is_well():
    page = page_of("setting", [make_float("A", **RIG)])
    assert box_titled(page, "First of all") == ""


def test_no_tolerance_to_a_place_that_is_only_a_fix():
    page = page_of("setting", [make_float("A", **RIG | {"position_of": "float"})])
    assert "Last fix of the float" in told(page)
    assert "May lie off by" not in told(page)
    assert "Farther off than" not in steps_of(page)[3]


def test_marking_as_the_season_has_it():
    settings = make_settings(season=Season(marking="a light"))
    page = page_of("setting", [make_float("A", **RIG)], settings=settings)
    assert steps_of(page)[-1].endswith("Marking: a light.")


def test_a_list_says_once_where_all_of_it_is_chosen():
    alone = {"riser_m": None, "ground_m": None, "status": "proposed"}
    text = told(page_of("setting", [make_float("A", **alone)]))
    assert "Parts, hook to primary (all designed)" in text
    assert "(designed)" not in text
    some = told(page_of("setting", [make_float("A", **RIG | {"primary_blocks": None})]))
    assert "primary blocks, 12-in hollow (assumed)" in some
    assert "secondary blocks, 12-in hollow (assumed)" not in some


def test_clips_in_inches():
    """WorkSafeNB, wire rope cable clips: 5/16 in, 5 1/2 in, 30 ft lbf; US Navy: 6 D apart."""
    settings = make_settings(units="ft-lb")
    numbers = numbers_of([make_float("A", **RIG)], settings=settings)
    piece, row = clips_of(inventory(numbers.one, "ft-lb"))
    assert clips_sentence(piece, row, numbers) == (
        "Clips: 3 to an end, 1 7/8 in apart, 5 1/2 in of cable turned back, saddle on the part that"
        " carries, 30 ft·lb; again under load."
    )


def test_numbers_as_a_sheet_writes_them():
    feet = numbers_of([make_float("A")], settings=make_settings(units="ft-lb"))
    metres = numbers_of([make_float("A")])
    assert feet.bearing(359.7) == "000° N"
    assert feet.bearing(83.2) == "083° E"
    assert feet.far(100.4 * FOOT_M.value) == "100 ft"
    assert metres.far(30.0) == "30.0 m"
    assert feet.tape(16.5 * FOOT_M.value) == "16 ft 6 in"
    assert feet.weight(None) == feet.tape(None) == feet.bearing(None) == BLANK
    assert metres.weight(9.80665 * 50.1) == "51 kg"  # what must be borne is rounded up
    assert metres.weight_at_least(9.80665 * 50.9) == "50 kg"  # what may be added, down
    assert (feet.hand(0.0508), metres.hand(0.0508)) == ("2 in", "5 cm")


@pytest.mark.parametrize("kind", WRITERS)
def test_no_name_but_the_owner_s_own_and_that_only_where_asked(kind):
    floats = [
        make_float("A", owner="Ann Reed", permit="P-7", note="spare key", **RIG),
        make_float("B", 23.0, owner="Bob Vane", permit="P-8", note="blue ladder", **RIG),
    ]
    text = told(page_of(kind, floats))
    for private in ("Ann Reed", "P-7", "spare key", "Bob Vane", "P-8", "blue ladder"):
        assert private not in text
    asked = told(page_of(kind, floats, ask=SheetAsk(owners=True)))
    assert ("Ann Reed" in asked) == (kind == "member")
    assert "Bob Vane" not in asked


@pytest.mark.parametrize("kind", WRITERS)
def test_every_caution_of_the_task_in_full_or_by_its_name(kind):
    ramp = make_zone("ramp", shapely.box(80, 80, 100, 100), label="Ramp")
    dock = make_zone("dock", shapely.box(10, 10, 20, 20), label="Dock")
    floats = [make_float("A", **RIG)]
    page = page_of(kind, floats, zones=[ramp, dock])
    assessment = assess(make_field(floats, zones=[ramp, dock]))
    box = box_titled(page, "Take care")
    wanted = {
        each
        for task in TASKS[kind]
        for each in cautions_of_task(task, assessment, assessment.floats[0])
    } - {CLOSING}
    assert wanted
    for caution in wanted:
        shown = caution.text in box or (caution.name(ENGLISH) in box and "map" in caution.tasks)
        assert shown, caution.key
    assert page.footer.startswith(CLOSING.text)


def test_the_work_itself_is_cautioned_of_in_full_however_little_room_there_is():
    crowded = replace(page_of("setting", [make_float("A", **RIG)]), blocks=())
    numbers = numbers_of([make_float("A", **RIG)])
    full = with_cautions(crowded, ("setting",), numbers)
    assert "Mind too" not in box_titled(full, "Take care")
    lines = tuple(Para(text="word " * 60) for _ in range(20))
    short = with_cautions(replace(crowded, blocks=lines), ("setting",), numbers)
    assert "Mind too, in full on the map: Divers, " in box_titled(short, "Take care")
    assert "Lines under load: " in box_titled(short, "Take care")


@cache
def demo(folder):
    ground = sheet_ground(lakemap.assess(lakemap.read_field(DATA / folder)))
    return ground, Figures(ground.assessment)


@pytest.mark.parametrize("kind", WRITERS)
@pytest.mark.parametrize(
    ("folder", "names"),
    [("tamber-lake", ("15", "31")), ("small-pond", ("1",))],
)
def test_each_kind_is_one_sheet_of_paper(folder, names, kind):
    ground, figures = demo(folder)
    for name in names:
        page = WRITERS[kind](ground, ground.float_of(name), SheetAsk(), figures)
        for paper in ("letter", "a4"):
            assert len(lay_out(page, PAPERS[paper])) == 1, (name, paper)


def test_a_retired_float_can_be_lifted():
    ground, figures = demo("tamber-lake")
    page = lifting_page(ground, ground.float_of("39"), SheetAsk(), figures)
    assert "retired" in page.under[0]
    assert len(steps_of(page)) == 10


def test_every_rule_has_its_words():
    for rule in ("neighbour", "shore", "shore_max", "bed", "jump_depth", "deck_area_max"):
        assert {f"sheet_member.{form}_{rule}" for form in ("for", "thing", "name")} <= set(
            ENGLISH.table
        )
    for kind in ZONE_KINDS:
        assert {f"sheet_member.{form}_{kind}" for form in ("for", "thing", "name")} <= set(
            ENGLISH.table
        )


def test_a_field_without_rules_asks_nothing():
    page = page_of(
        "member", [make_float("A", **RIG)], settings=make_settings(rules=MappingProxyType({}))
    )
    assert "No rule asks anything of it here." in told(page)


def test_rules_are_told_where_no_depth_is_known():
    rules = {"shore": Rule(kind="shore", limit=5.0, source="shore rule")}
    page = page_of(
        "member",
        [make_float("A", **RIG)],
        bed_m=None,
        settings=make_settings(rules=MappingProxyType(rules)),
    )
    text = told(page)
    assert "Shore: 5 m" in text
    assert "not known" in text
    assert "shore: “shore rule”" in text


def test_a_blank_length_is_not_called_assumed():
    rig = RIG | {"riser_m": None, "ground_m": None, "chain": "3/8 in", "fittings": ()}
    text = told(page_of("setting", [make_float("A", **rig)], bed_m=None))
    assert f"ground chain 3/8 in, {BLANK}\n" in text
    assert f"{BLANK} (assumed)" not in text
    measured = told(page_of("setting", [make_float("A", **rig)]))
    assert "ground chain 3/8 in, 6.50 m (assumed)" in measured  # the depth, by 10 cm
