"""What the inspection sheet and the member's page say."""

import re
from datetime import date
from functools import cache
from pathlib import Path

import pytest
import shapely
from conftest import make_field, make_float, make_settings, make_zone
from sheet_reading import blocks_of, rows_of, steps_of, tables_of, told

import lakemap
from lakemap.basis.records import Season
from lakemap.mapping import assess
from lakemap.outputs.sheets.asked import SheetAsk
from lakemap.outputs.sheets.blocks import Fields, Para
from lakemap.outputs.sheets.inspection import inspection_page
from lakemap.outputs.sheets.member import member_page
from lakemap.outputs.sheets.page_figures import Figures
from lakemap.season.facts.sheet_ground import sheet_ground

DATA = Path(__file__).parents[2] / "data"
WRITERS = {"inspection": inspection_page, "member": member_page}
RIG = {
    "riser_m": 8.0,
    "ground_m": 4.0,
    "primary_blocks": 10,
    "secondary_blocks": 5,
    "block": "12-in hollow",
    "chain": "3/8 in",
    "chain_grade": 30,
    "cable": "5/16 in galvanised",
    "cable_parts": 2,
    "cable_ends": "clips",
    "absorber_length_m": 1.0,
    "bearing_deg": 90.0,
}


@cache
def demo_page(kind, name):
    ground = sheet_ground(lakemap.assess(lakemap.read_field(DATA / "tamber-lake")))
    figures = Figures(ground.assessment)
    return WRITERS[kind](ground, ground.float_of(name), SheetAsk(), figures)


def page_of(kind, floats, **more):
    ground = sheet_ground(assess(make_field(floats, **more)))
    figures = Figures(ground.assessment)
    return WRITERS[kind](ground, ground.assessment.floats[0], SheetAsk(), figures)


def row_of(page, part):
    return next(row for row in tables_of(page)[0].rows if row[0].startswith(part))


def seen(row, **more):
    given = dict.fromkeys(
        ("part", "finding", "diameter_m", "broken_wires", "by", "lon", "lat"), None
    )
    return given | {"row": row, "float_id": "A", "date": date(2025, 8, 3)} | more


def test_parts_stand_from_hook_to_primary_with_blanks_to_write_in():
    table = tables_of(demo_page("inspection", "15"))[0]
    parts = [re.sub(r"^\d+ × ", "", row[0]) for row in table.rows]
    names = ("float", "eye bolt", "shackle", "link", "swivel", "absorber cable", "sleeve")
    names += ("thimble", "riser chain", "secondary blocks", "ground chain", "primary blocks")
    assert len(parts) == len(names)
    assert all(part.startswith(name) for part, name in zip(parts, names, strict=True))
    assert table.tall
    assert all(row[-2:] == ("", "") for row in table.rows)


def test_sizes_at_which_parts_are_out():
    """Chain: 0.80 of the bar of 10.0 mm (NAVFAC MO-124); bolt: 0.90 of 5/8 in (ASME B30.26)."""
    page = demo_page("inspection", "15")
    assert row_of(page, "riser chain")[2] == "0.394, 0.315"
    assert row_of(page, "eye bolt")[2] == "0.625, 0.563"  # 0.5625
    assert row_of(page, "5 × secondary")[2] == "–"
    metres = page_of("inspection", [make_float("A", **RIG)])
    assert row_of(metres, "riser chain")[2] == "10.0, 8.0"


def test_what_was_found_last_and_when():
    page = demo_page("inspection", "15")
    assert row_of(page, "riser chain")[3].startswith("2025-08-03: worn, 0.340 in. Replace by 20")
    assert row_of(page, "absorber cable")[3].startswith(
        "2025-08-03: good, 2 broken wires. Look where: one within 1 ft"
    )
    assert row_of(page, "eye bolt")[3] == "Never inspected."


def test_a_part_that_is_out_is_replaced_now():
    """7.9 mm of 10.0 are less than 80 %."""
    rows = (seen(2, part="riser chain", finding="worn", diameter_m=0.0079),)
    page = page_of("inspection", [make_float("A", **RIG)], inspections=rows, dated=date(2025, 8, 3))
    said = row_of(page, "riser chain")[3]
    assert said.startswith("2025-08-03: worn, 7.9 mm. Replace now: ")
    assert row_of(page, "ground chain")[3] == "Never inspected."


def test_a_good_part_is_looked_at_again_in_a_year():
    rows = (seen(2, part="swivel", finding="good"), seen(3, part="shackle", finding="good"))
    page = page_of("inspection", [make_float("A", **RIG)], inspections=rows, dated=date(2025, 8, 3))
    assert row_of(page, "shackle")[3] == "2025-08-03: good. Look by 2026-08."


def test_the_latest_date_of_the_data_is_the_day_of_the_sheet():
    """A row of a later day than any in the data cannot be; the clock never counts."""
    rows = (seen(2, part="riser chain", finding="worn", diameter_m=0.009),)
    floats = [make_float("A", **RIG, set_on=date(2019, 8, 3))]
    first, again = (
        page_of("inspection", floats, inspections=rows, dated=date(2025, 8, 3)) for _ in range(2)
    )
    assert first == again
    assert "2025-08-03" in row_of(first, "riser chain")[3]


def test_limits_with_their_sources():
    text = told(demo_page("inspection", "15"))
    assert "chain at 80 % of new (NAVFAC MO-124" in text
    assert "bolts at 90 % (ASME B30.26" in text
    # 30 CFR 56.19024: more than 15 % of 19 wires, more than 5 % of 133; down by more than 6 %
    assert "cable below 94 %, at 3 broken wires in a strand or 7 in all" in text


def test_blanks_for_a_fix_of_the_float():
    fields = [one for block in blocks_of(demo_page("inspection", "15"))
              if isinstance(block, Fields) for one in block.fields]  # fmt: skip
    labels = [one.label for one in fields]
    assert labels == [
        "Date", "By", "Gauge level", "Wind from", "Float LAT", "Float LON", "Note",
    ]  # fmt: skip
    assert fields[2].unit == "ft"


def test_what_to_look_at_follows_the_rig():
    rig = RIG | {"cable_ends": "sleeves"}
    page = page_of("inspection", [make_float("A", **rig, flotation="billets")])
    assert "billets whole" in row_of(page, "float")[1]
    assert "slip, cracks" in row_of(page, "2 × sleeve")[1]
    weight = RIG | {"primary_blocks": None, "primary_weight_kg": 250.0}
    heavy = page_of("inspection", [make_float("A", **weight)])
    assert row_of(heavy, "primary weight")[1] == "cracks, eye, what holds the chain"


def test_the_member_reads_verdict_circle_and_neighbour():
    """A and B, 23 m apart, each circle 10.5 m at low water: 2.0 m between, 2 m asked."""
    line = {"riser_m": 6.0, "ground_m": 4.0}
    page = page_of("member", [make_float("A", **line), make_float("B", 23.0, **line)])
    rows = rows_of(page)
    assert rows["Its circle"].startswith("10.50 m about its primary at low water")
    assert rows["Nearest float"] == "B: 2.00 m between the circles"
    assert any(isinstance(block, Para) and block.look == "strong" for block in page.blocks)
    text = told(page)
    assert "Other circles: 2 m" in text
    assert "Float B: 0.00 m to spare" in text


def test_circles_that_overlap():
    line = {"riser_m": 6.0, "ground_m": 4.0}
    page = page_of("member", [make_float("A", **line), make_float("B", 20.0, **line)])
    assert rows_of(page)["Nearest float"] == "B: the circles overlap by 1.00 m"
    assert page.blocks[0].text.startswith("Conflict. ")


def test_whom_the_rules_protect_in_plain_words_with_their_sources():
    beach = make_zone("swim_area", shapely.box(-10, -60, 10, -25), label="Beach")
    page = page_of("member", [make_float("A", **RIG)], zones=[beach])
    rows = {row[0]: row for row in tables_of(page)[0].rows}
    assert rows["Swim areas: 10 m"][1] == "swimmers, from float and chain"
    assert rows["Swim areas: 10 m"][2].startswith("Beach: ")
    assert rows["Shore: 5 m"][1] == "people at the shore"
    text = told(page)
    assert "swim areas: “swim rule”" in text
    assert "shore: “shore rule”" in text


def test_a_rule_without_a_distance_is_told_as_an_edge():
    page = demo_page("member", "15")
    rows = [row[0] for row in tables_of(page)[0].rows]
    assert "Inside its frontage: not over its edge" in rows
    assert "Deck: 150 ft² at most" in rows


def test_what_to_look_at_each_spring():
    """The riser's chain is out at 0.8 of 0.394 in; cable lasts 9 to 10 years by practice."""
    page = demo_page("member", "15")
    steps = steps_of(page)
    assert any("out at 0.315 in" in step for step in steps)
    absorber = next(step for step in steps if step.startswith("Absorber"))
    assert "9 to 10 years (common practice, no published source)" in absorber
    assert "sleeves whole" in absorber
    clipped = steps_of(page_of("member", [make_float("A", **RIG)]))
    assert any("clips tight" in step for step in clipped)
    bare = steps_of(page_of("member", [make_float("A", **RIG | {"absorber_length_m": 0.0})]))
    assert not any(step.startswith("Absorber") for step in bare)


@pytest.mark.parametrize("marking", [None, "a light on top"])
def test_marking_where_the_season_asks_for_it(marking):
    settings = make_settings(season=Season(marking=marking))
    steps = steps_of(page_of("member", [make_float("A", **RIG)], settings=settings))
    assert steps[-1].startswith("Marking: a light on top.") == (marking is not None)


def test_what_is_due_and_what_nobody_looked_at():
    assert "Due at your float: absorber cable: 2 broken wires" in told(demo_page("member", "15"))
    fresh = told(page_of("member", [make_float("A", **RIG)]))
    assert "No inspection of it is written down yet." in fresh
    planned = told(page_of("member", [make_float("A", **RIG, status="proposed")]))
    assert "No inspection" not in planned


def test_what_nobody_measured_is_marked():
    page = page_of("member", [make_float("A", **RIG | {"ground_m": None, "primary_blocks": None})])
    rows = rows_of(page)
    assert rows["Ground chain"].endswith("(assumed)")
    assert rows["Primary"].endswith("(assumed)")
    assert rows["Riser chain"] == "3/8 in, 7.00 m"
    assert "“Assumed” means that nobody measured it" in told(page)


def test_a_float_without_a_depth_has_no_circle_on_its_page():
    page = page_of("member", [make_float("A", riser_m=None, ground_m=None)], bed_m=None)
    rows = rows_of(page)
    assert "Its circle" not in rows
    assert "Nearest float" not in rows
    assert page.blocks[0].text.startswith("Unknown. No depth is known here")


@pytest.mark.parametrize(
    ("rows", "says"),
    [
        ([{"finding": "worn"}], "worn. Worn: measure it, or look again."),
        (
            [{"finding": "bent"}, {"finding": "good", "date": date(2025, 8, 4)}],
            "good. Found unfit once, good later: was it replaced?",
        ),
        ([{"finding": "bent"}], "bent. Replace now: found bent."),
    ],
)
def test_what_a_finding_asks_for(rows, says):
    rows = tuple(seen(k + 2, part="shackle", **row) for k, row in enumerate(rows))
    page = page_of("inspection", [make_float("A", **RIG)], inspections=rows, dated=date(2025, 8, 4))
    assert row_of(page, "shackle")[3].endswith(says)
