"""What changed on the page of the new version: where floats were; text from files stays text."""

import json
import re

import pytest
import shapely
from conftest import make_float, make_zone
from defusedxml.ElementTree import fromstring
from sites_by_hand import make_sites
from two_versions import as_it_was, at, by_id, four_floats, two

from lakemap.comparing import compare
from lakemap.outputs.compare.layer import compare_data, compare_key_html, compare_sheet_html
from lakemap.outputs.web.page import draw, page_html

DATA = re.compile(r'id="field-data">(.*?)</script>', re.DOTALL)
HOSTILE = '</script><img src=x onerror="alert(1)">'


@pytest.fixture(scope="module")
def comparison():
    return two(
        [make_float("E", 60.0, 60.0)],
        B=None,
        C=at(0.0, 42.0),
        D={"ground_m": 5.0, "owner": "Ada Wren"},
    )


@pytest.fixture(scope="module")
def page(comparison):
    return page_html(comparison.new, compared=comparison)


def rows_of(comparison):
    return {row["id"]: row for row in compare_data(comparison, owners=False)["rows"]}


def test_a_page_that_compares_nothing_knows_nothing_of_it(comparison, page):
    plain = page_html(comparison.new)
    assert page_html(comparison.new, compared=None) == plain
    for word in ("what changed", "change-row", "changes-sheet", "CHANGES"):
        assert word.lower() not in plain.lower()
        assert word.lower() in page.lower()
    assert "compare" not in json.loads(DATA.search(plain).group(1))


def test_the_same_comparison_gives_the_same_bytes(comparison, page, tmp_path):
    draw(comparison.new, tmp_path / "map.html", compared=comparison)
    assert (tmp_path / "map.html").read_text(encoding="utf-8") == page


def test_the_page_still_allows_no_script_but_its_own(page):
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', page).group(1)
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy


def test_where_floats_were(comparison):
    rows = rows_of(comparison)
    assert rows["C"]["was"] == [0, 2200, 1050]
    assert (rows["C"]["label"], rows["C"]["arrow"]) == ("C was here", True)
    assert rows["B"]["was"] == [2300, 0, 1050]
    assert (rows["B"]["label"], rows["B"]["arrow"], rows["B"]["at"]) == (
        "B taken away",
        False,
        None,
    )
    assert rows["D"]["was"] == [-8000, 0, 1050]
    assert (rows["D"]["label"], rows["D"]["arrow"]) == ("D was 10.50 m", False)
    assert rows["E"]["was"] is None
    assert rows["A"]["was"] is None
    ids = [one.record.float_id for one in comparison.new.floats]
    assert [ids[rows[name]["at"]] for name in "ACDE"] == list("ACDE")


def test_a_retired_float_has_its_old_circle_and_no_arrow():
    row = rows_of(two(B={"status": "retired"}))["B"]
    assert (row["was"], row["label"], row["arrow"]) == ([2300, 0, 1050], "", False)


def test_figures_stand_before_and_now(comparison):
    row = rows_of(comparison)["C"]
    told = {name: (was, now) for name, was, now in row["figures"]}
    assert told["To spare"] == ("1.00 m short (float A)", "19.00 m (float A)")
    assert told["Float A"] == ("gap 1.00 m", "gap 21.00 m (19.00 m to spare)")


def test_owners_need_a_page_that_may_hold_them(comparison, page):
    assert "Ada" not in page
    asked = compare(comparison.old, comparison.new, owners=True)
    with pytest.raises(ValueError, match="holds owners"):
        page_html(comparison.new, compared=asked)
    assert "owner blank → Ada Wren" in page_html(comparison.new, owners=True, compared=asked)


def test_text_from_files_stays_text():
    floats = {HOSTILE: make_float(HOSTILE, -60.0, 0.0), "A": make_float("A")}
    zone = make_zone("dock", shapely.box(70, 70, 80, 80), label=HOSTILE)
    moved = {HOSTILE: {**at(-40.0, 0.0), "lot": HOSTILE}}
    found = two([], floats=floats, old={"zones": []}, new={"zones": [zone]}, **moved)
    page = page_html(found.new, compared=found)
    assert HOSTILE not in page
    assert "<img" not in page
    data = json.loads(DATA.search(page).group(1))["compare"]
    assert data["rows"][0]["id"] == HOSTILE
    assert HOSTILE in data["rows"][0]["what"]
    assert HOSTILE in data["field"][0]


def test_the_sheet_for_paper(comparison):
    sheet = compare_sheet_html(comparison)
    body = fromstring(sheet)
    cells = [
        ["".join(cell.itertext()).strip() for cell in row] for row in body.findall(".//tbody/tr")
    ]
    assert ["C", "Moved 20 m north", "conflict → clear"] in cells
    assert ["B", "Taken away", "was tight"] in cells
    assert "style=" not in sheet
    assert "1 float moved, 1 changed, 1 added, 1 taken away." in sheet
    fromstring(compare_key_html())


def test_nothing_changed_makes_a_page_too():
    same = compare(as_it_was(), as_it_was())
    data = compare_data(same, owners=False)
    assert (data["brief"], data["rows"], data["field"]) == ("Nothing changed.", [], [])
    assert "<table>" not in compare_sheet_html(same)
    page_html(same.new, compared=same)


def test_new_sites_and_changes_stand_on_one_page(comparison):
    page = page_html(comparison.new, compared=comparison, sites=make_sites())
    data = json.loads(DATA.search(page).group(1))
    assert {"sites", "compare"} <= data.keys()
    for word in ("sites-sheet", "changes-sheet", "sites-key", "changes-key"):
        assert word in page


def test_circles_that_the_field_alone_changed_are_not_drawn_twice():
    from dataclasses import replace

    from conftest import make_settings

    lower = make_settings(levels=replace(make_settings().levels, low_m=-1.0))
    found = two(new={"settings": lower})
    assert by_id(found).keys() == four_floats().keys()
    assert all(row["was"] is None for row in rows_of(found).values())
