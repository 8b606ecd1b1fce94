"""The print sheet: every float once, each conflict once, names of owners only when asked."""

import re

import pytest
from conftest import make_field, make_float, make_settings
from defusedxml.ElementTree import fromstring

from lakemap.basis.records import Rule
from lakemap.mapping import assess
from lakemap.outputs.drawn.scene import build_scene
from lakemap.outputs.web.field_sheet import SHEET_CSS, sheet_html


def sheet(field, **more):
    assessment = assess(field)
    return sheet_html(assessment, build_scene(assessment), **more)


def put_right(text):
    part = re.search(r"To put right</h2><ul>(.*?)</ul>", text).group(1)
    return re.findall(r"<li>(.*?)</li>", part)


def table(text):
    return re.findall(r'<div><b>(.*?)</b><span class="w-(\w+)">', text)


def test_it_is_whole_markup_with_every_float_once(square):
    text = sheet(square)
    fromstring(text)
    assert "style=" not in text
    assert "<script" not in text
    assert table(text) == [("A", "conflict"), ("B", "tight"), ("C", "conflict"), ("D", "clear")]
    assert text.count('class="mk"') == 4


def test_two_that_are_in_each_others_way_are_told_once(square):
    assert put_right(sheet(square)) == ["Float A: Comes within 1.00 m of float C; 2 m is asked."]


def test_six_are_told_and_the_rest_counted():
    ashore = [make_float(f"{k}", 95, -90 + 22 * k) for k in range(9)]
    told = put_right(sheet(make_field(ashore)))
    assert len(told) == 7
    assert told[-1] == "And 3 more, in the table."
    assert put_right(sheet(make_field([make_float("A")]))) == ["Nothing is in conflict."]


def test_owners_are_named_only_when_asked():
    field = make_field([make_float("A", owner="A. Secret <b>")])
    assert "Secret" not in sheet(field)
    assert "A. Secret &lt;b&gt;" in sheet(field, owners=True)


def test_a_long_rule_has_a_short_name_in_the_table():
    settings = make_settings(rules={"jump_depth": Rule(kind="jump_depth", limit=4.0, source="s", beyond_m=1.0)})  # fmt: skip
    text = sheet(make_field([make_float("A")], settings=settings))
    assert "<span>jump depth</span>" in text


@pytest.mark.parametrize(
    ("count", "height"), [(5, 508), (24, 508), (25, 384), (48, 384), (49, 259)]
)
def test_the_picture_leaves_room_for_the_table(count, height):
    floats = [make_float(f"{k}", -90 + 22 * (k % 9), -90 + 22 * (k // 9)) for k in range(count)]
    text = sheet(make_field(floats))
    assert f'viewBox="0 0 744 {height}"' in text
    assert ('class="sheet many"' in text) == (count > 48)


def test_no_figure_is_ever_cut_off():
    """A spare of −107 ft that shows as −10… would be worse than none."""
    assert ":nth-child(3), .sheet .all div > :nth-child(5) { overflow: visible;" in SHEET_CSS
