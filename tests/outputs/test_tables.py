"""Tables for the terminal: conflicts first, figures in line, nothing better than it is."""

import sys
from types import SimpleNamespace

import pytest
from conftest import make_field, make_float, make_settings, make_zone
from shapely import box

from lakemap.basis.records import Rule
from lakemap.mapping import assess
from lakemap.outputs.tables.check_table import check_table, summary_table
from lakemap.outputs.tables.size_table import size_table
from lakemap.outputs.words.verdicts import row_words, verdict_sentence


def rows(field, **more):
    assessment = assess(field)
    return [row_words(one, assessment) for one in assessment.floats], assessment


def with_rule(*floats, **rule):
    settings = make_settings(rules={rule["kind"]: Rule(source="s", **rule)})
    return make_field(floats, settings=settings)


def test_a_row_says_spare_thing_and_swing(square):
    said, _ = rows(square)
    # A and C: gap 1 m where 2 m is asked; swing radius 8 + 2.5 m
    assert said[0] == ("−1.00", "float C", "10.50")
    assert said[2] == ("−1.00", "float A", "10.50")


def test_a_retired_float_has_no_figures_and_a_guess_no_spare():
    said, _ = rows(make_field([make_float("A", status="retired")]))
    assert said == [("", "", "")]
    said, _ = rows(make_field([make_float("A")], bed_m=None))
    # no depth: the whole line, 10 m, and the corner
    assert said == [("", "no depth known", "12.50")]


def test_a_rig_that_cannot_work_shows_no_spare():
    said, assessment = rows(make_field([make_float("A", riser_m=3, ground_m=2)]))
    assert assessment.floats[0].verdict == "conflict"
    assert said[0][:2] == ("", "rig cannot work")


def test_a_deck_is_short_of_area_not_of_length():
    # deck of 4 by 3 m
    said, _ = rows(with_rule(make_float("A"), kind="deck_area_max", limit=10.0))
    assert said[0][:2] == ("−2.0 m²", "the largest deck allowed")
    said, _ = rows(with_rule(make_float("A"), kind="deck_area_max", limit=12.55))
    assert said[0][0] == "0.5 m²"  # 0.55 rounds down


def test_spares_round_down_and_swings_up():
    riser = 6.0001  # reach a little over 8 m, so gap and spare a little less than 2.349
    floats = [make_float("A", riser_m=riser), make_float("B", 25.349, 0)]
    said, _ = rows(make_field(floats))
    assert said[0] == ("2.34", "float B", "10.51")


def test_a_thing_with_a_number_takes_no_article():
    dock = make_zone("dock", box(11, -5, 20, 5), label="dock 7", clearance_m=0.2)
    _, assessment = rows(make_field([make_float("A")], zones=[dock]))
    assert verdict_sentence(assessment.floats[0], assessment) == "0.30 m to spare from dock 7."
    ramp = make_zone("ramp", box(11, -5, 20, 5), label="boat ramp", clearance_m=0.2)
    _, assessment = rows(make_field([make_float("A")], zones=[ramp]))
    assert verdict_sentence(assessment.floats[0], assessment).endswith("from the boat ramp.")


def test_columns_stand_in_line_and_conflicts_come_first(square):
    lines = check_table(assess(square)).splitlines()
    head = lines.index(next(line for line in lines if line.startswith("float  ")))
    assert "spare m" in lines[head]
    assert [line.split()[0] for line in lines[head + 2 : head + 6]] == ["A", "C", "B", "D"]
    end = lines[head].index("spare m") + len("spare m")
    for line in lines[head + 2 : head + 6]:
        assert line[end - 1].isdigit()
        assert line[end : end + 2] == "  "
    assert [line for line in summary_table(assess(square)).splitlines() if "conflict" in line]


def test_colour_changes_no_letter(square):
    import re

    plain, painted = check_table(assess(square)), check_table(assess(square), colour=True)
    assert painted != plain
    assert re.sub(r"\x1b\[[\d;]*m", "", painted) == plain


@pytest.mark.parametrize(("encoding", "minus"), [("ascii", "-"), ("cp437", "-"), ("utf-8", "−")])
def test_a_terminal_gets_only_the_signs_that_it_has(square, monkeypatch, encoding, minus):
    monkeypatch.setattr(sys, "stdout", SimpleNamespace(encoding=encoding))
    text = check_table(assess(square))
    assert f"{minus}1.00" in text
    text.encode(encoding)


def test_sizes_never_promise_more_lift_than_there_is():
    # 1 lbf is 4.4482 N; the table shows whole newtons, so what is below stays below
    assessment = assess(make_field([make_float("A")]))
    reserve = assessment.floats[0].sizing.float.reserve_n
    shown = size_table(assessment).splitlines()[2].split("  ")[-1].strip()
    figure = float(shown.removesuffix(" N").replace(",", ""))
    assert figure <= reserve < figure + 1
