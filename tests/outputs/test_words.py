"""Sentences: thing first, number, where, when; rounding never flatters."""

import pytest
import shapely
from conftest import make_field, make_float, make_settings, make_zone

from lakemap.basis.records import Rule
from lakemap.basis.wording import (
    area_text,
    compass_text,
    figure,
    force_text,
    length_text,
    measure_text,
    speed_text,
    weight_text,
)
from lakemap.mapping import assess
from lakemap.outputs.tables.check_table import check_table, summary_table
from lakemap.outputs.tables.size_table import size_table
from lakemap.outputs.words.clearances import clearance_line
from lakemap.outputs.words.verdicts import headline, verdict_sentence


@pytest.mark.parametrize(
    ("value", "rounding", "text"),
    [(1.26, "nearest", "1.3"), (1.21, "up", "1.3"), (1.29, "down", "1.2"), (-0.04, "nearest", "0.0"),
     (-1.25, "down", "−1.3"), (1.3999999999, "down", "1.4"), (1234.5, "nearest", "1,234.5")],
)  # fmt: skip
def test_figures(value, rounding, text):
    assert figure(value, rounding=rounding) == text


def test_units_of_people():
    assert length_text(3.048, "ft-lb") == "10.0 ft"
    assert length_text(3.048, "m-kg") == "3.05 m"
    assert measure_text(10.5 * 0.3048, "ft-lb") == "10 ft 6 in"
    assert measure_text(3.048, "ft-lb") == "10 ft"
    assert measure_text(-0.1524, "ft-lb") == "−6 in"
    assert measure_text(0.0, "ft-lb") == "0 ft"
    assert force_text(498.2, "ft-lb") == "112 lb"
    assert force_text(498.2, "m-kg") == "498 N"
    assert weight_text(498.2, "m-kg") == "51 kg"
    assert speed_text(22.352, "ft-lb") == "50 mph"
    assert area_text(9.290304, "ft-lb") == "100 ft²"
    assert compass_text(247.5) == "west-southwest"
    assert compass_text(359) == "north"


def sentence(floats, **more):
    assessment = assess(make_field(floats, **more))
    return verdict_sentence(assessment.floats[0], assessment)


def test_conflicts_in_words():
    a = make_float("A")
    assert (
        sentence([a, make_float("21", 20, 0)])
        == "Can meet float 21: their circles overlap by 1.00 m."
    )
    assert (
        sentence([a, make_float("21", 22, 0)]) == "Comes within 1.00 m of float 21; 2 m is asked."
    )
    channel = make_zone("channel", shapely.box(9, -50, 30, 50), label="boat channel")
    assert sentence([a], zones=[channel]) == "Swings 1.50 m into the boat channel at low water."
    beach = make_zone("swim_area", shapely.box(15, -50, 30, 50), label="Camp swim area")
    assert sentence([a], zones=[beach]) == "Comes within 4.50 m of Camp swim area; 10 m is asked."
    assert sentence([make_float("A", 95, 0)]).startswith("Swings 5.50 m onto the shore")


def test_depth_deck_and_distance_in_words():
    a = make_float("A")

    def with_rule(rule):
        return sentence([a], settings=make_settings(rules={rule.kind: rule}))

    jump = Rule(kind="jump_depth", limit=7.0, source="s", beyond_m=1.0)
    assert with_rule(jump) == "Only 5.69 m of water around it at low water; 7 m is asked."
    deck = Rule(kind="deck_area_max", limit=10.0, source="s")
    assert with_rule(deck) == "Its deck has 12.0 m²; 10.0 m² is allowed."
    far = Rule(kind="shore_max", limit=60.0, source="s")
    assert with_rule(far) == "Reaches 110.50 m from the shore; 60 m is allowed."


def test_other_verdicts_in_words():
    assert (
        sentence([make_float("A")], bed_m=None)
        == "No depth is known here, so its circle is a guess."
    )
    assert sentence([make_float("A", status="retired")]) == "Retired: not checked."
    assert sentence([make_float("A", riser_m=3, ground_m=2)]).startswith(
        "Riser and ground chain are 5.00 m"
    )
    assert sentence([make_float("A"), make_float("B", 23.2, 0)]) == "0.20 m to spare from float B."


def test_the_headline():
    def head(*floats, **more):
        return headline(assess(make_field(floats, **more)))

    assert head(make_float("A"), make_float("B", 20, 0)) == "Two floats are in conflict"
    assert head(make_float("A", 95, 0)) == "One float is in conflict"
    assert head(make_float("A"), make_float("B", 60, 0)) == "All 2 floats are clear"
    assert head() == "No floats yet. Add rows to the floats file."
    assert head(make_float("A"), bed_m=None) == "No depths: circles cannot be checked."


def test_a_shortfall_rounds_up_and_a_spare_down(square):
    assessment = assess(square)
    a = assessment.floats[0]
    shown = {c.against: clearance_line(c, assessment.field) for c in a.clearances}
    assert shown["C"].amount == "1.00 m short"
    assert shown["C"].detail == "gap 1.00 m, 2 m asked"
    assert shown["Beach"].amount == "4.50 m to spare"


def test_tables(square):
    assessment = assess(square)
    table = check_table(assessment)
    assert "Two floats are in conflict" in table
    assert "float A, conflict: Comes within 1.00 m of float C; 2 m is asked." in table
    assert "\x1b[31" in check_table(assessment, colour=True)
    assert "\x1b" not in table
    assert "A" in summary_table(assessment)
    sizes = size_table(assessment)
    assert "no published source" in sizes
    assert sizes.splitlines()[2].startswith("A ")
