"""New sites on the page and on paper: only where they are asked for, all text escaped, all shapes there."""

import json
import re
from dataclasses import replace

import numpy as np
import pytest
import shapely
from conftest import make_float, make_zone
from defusedxml.ElementTree import fromstring
from sites_by_hand import make_ask, make_assessment, make_capacity, make_site, make_sites, no_sites

from lakemap.outputs.drawn.scene import build_scene
from lakemap.outputs.sites.layer import (
    PATTERNS,
    shown_closed,
    sites_data,
    sites_key_html,
    sites_key_rows,
)
from lakemap.outputs.sites.sheet import sites_sheet_html, sites_svg
from lakemap.outputs.web.page import draw, page_html
from lakemap.siting.records import ClosedWater

DATA = re.compile(r'id="field-data">(.*?)</script>', re.DOTALL)
HOSTILE = '</script><img src=x onerror="alert(1)">'


@pytest.fixture(scope="module")
def assessment():
    return make_assessment()


@pytest.fixture(scope="module")
def page(assessment):
    return page_html(assessment, sites=make_sites())


def area_of(packed):
    """Square metres of packed polygons, by the shoelace formula; holes are taken off."""
    total = 0.0
    for rings in packed:
        for k, steps in enumerate(rings):
            x, y = np.cumsum(np.array(steps).reshape(-1, 2), axis=0).T / 100
            area = abs(np.sum(x[:-1] * y[1:] - x[1:] * y[:-1])) / 2
            total += -area if k else area
    return total


def layer_of(assessment, sites):
    return sites_data(assessment, sites, shown_closed(assessment, sites))


def test_a_page_without_sites_knows_nothing_of_them(assessment, page):
    plain = page_html(assessment)
    assert page_html(assessment, sites=None) == plain
    for word in ("new site", "site-row", "sites-sheet", "SITES"):
        assert word.lower() not in plain.lower()
        assert word.lower() in page.lower()
    assert "sites" not in json.loads(DATA.search(plain).group(1))


def test_the_same_sites_give_the_same_bytes(assessment, page):
    assert page_html(assessment, sites=make_sites()) == page


def test_the_page_still_allows_no_script_but_its_own(page):
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', page).group(1)
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy


def test_draw_writes_the_page(assessment, page, tmp_path):
    draw(assessment, tmp_path / "map.html", sites=make_sites())
    assert (tmp_path / "map.html").read_text(encoding="utf-8") == page


def test_shapes_are_whole_centimetres_of_the_same_water(assessment):
    data = layer_of(assessment, make_sites())
    assert area_of(data["allowed"]) == pytest.approx(2300)
    assert [(one["x"], one["y"], one["r"]) for one in data["sites"]] == [
        (3000, 3000, 1050), (7000, 5000, 1050),
    ]  # fmt: skip
    assert data["further"] == [[3000, 5000, 1050], [5000, 5000, 1050], [7000, 5000, 1050]]


def test_a_zone_is_not_hatched_as_closed(assessment):
    # the beach, 40 by 25 m, lies in the 6,000 m2 closed by it; its share counts it still
    data = layer_of(assessment, make_sites())
    zone = next(one for one in data["closed"] if one["name"] == "zone")
    assert area_of(zone["area"]) == pytest.approx(6000 - 1000, rel=1e-4)
    assert zone["share"] == "15 %"


def test_water_closed_by_a_zone_alone_is_left_to_the_zone(assessment):
    beach = shapely.box(25, -40, 30, -30)
    sites = make_sites(closed=(ClosedWater(kind="swim_area", geometry=beach),))
    assert shown_closed(assessment, sites) == []


def test_a_channel_line_covers_its_width():
    line = make_zone("channel", shapely.LineString([(-90, 80), (90, 80)]), width_m=10.0)
    assessment = make_assessment(zones=[line])
    strip = ClosedWater(kind="channel", geometry=shapely.box(-50, 60, 50, 90))
    found = shown_closed(assessment, make_sites(closed=(strip,)))
    assert shapely.area(found[0].geometry) == pytest.approx(100 * 20, rel=1e-4)


def test_the_texts_of_a_site(assessment):
    one = layer_of(assessment, make_sites())["sites"][0]
    assert one["says"] == "1.23 m to spare, limited by the shore."
    assert dict(one["tiles"]) == {"To spare": "1.23 m", "Swings": "10.51 m", "Depth": "6.50 m"}
    rows = dict(one["rows"])
    assert rows["Riser"] == "7.00 m"
    assert rows["Storm wave"] == "0.21 m"
    assert rows["From shore"] == "69.99 m"
    assert [part[0] for part in one["parts"]] == ["spare", "shelter", "depth", "way", "line"]
    assert one["parts"][0][2:] == ["0.85", "3", 0.859]


def test_each_class_has_a_pattern_of_its_own_and_a_line_in_the_key(assessment):
    assert len(set(PATTERNS.values())) == len(PATTERNS) == 6
    closed = shown_closed(assessment, make_sites())
    words = [words for words, _ in sites_key_rows(closed, make_sites())]
    assert words == [
        "a primary may lie here",
        "new site, its primary",
        "its swing circle",
        "further floats that would fit",
        "too near the shore",
        "too near a float",
        "too near a zone",
    ]
    drawings = [drawing for _, drawing in sites_key_rows(closed, make_sites())]
    assert len(set(drawings)) == len(drawings)
    fromstring(f"<div>{sites_key_html(closed, make_sites())}</div>")


def test_the_key_names_only_what_is_there(assessment):
    sites = no_sites()
    words = [words for words, _ in sites_key_rows(shown_closed(assessment, sites), sites)]
    assert words == ["too near the shore", "too near a float"]


def test_nothing_allowed_makes_a_page_too(assessment):
    page = page_html(assessment, sites=no_sites())
    data = json.loads(DATA.search(page).group(1))["sites"]
    assert data["sites"] == data["further"] == data["allowed"] == []
    assert data["title"].startswith("No site for a 4 by 3 m float")
    assert data["brief"] == data["short"] == ""
    sheet = page[page.index('id="sites-sheet"') :]
    assert "nowhere in the lake do the rules allow one" in sheet
    assert "<table>" not in sheet


def test_text_from_files_stays_text():
    zone = make_zone("swim_area", shapely.box(20, -45, 60, -20), label=HOSTILE)
    assessment = make_assessment(floats=[make_float(HOSTILE, -60.0, 0.0)], zones=[zone])
    site = make_site(limited_by=f"swim_area: {HOSTILE}")
    ask = replace(make_ask(), lot=HOSTILE)
    page = page_html(assessment, sites=make_sites(sites=(site,), ask=ask))
    assert HOSTILE not in page
    assert "<img" not in page
    assert json.loads(DATA.search(page).group(1))["sites"]["sites"][0]["row"][1] == HOSTILE


def test_the_sheet_holds_every_site(assessment):
    sites = make_sites()
    text = sites_sheet_html(
        assessment, build_scene(assessment), sites, shown_closed(assessment, sites)
    )
    body = fromstring(text)
    rows = body.findall(".//tbody/tr")
    assert ["".join(row.itertext())[0] for row in rows] == ["1", "2"]
    assert "float A" in "".join(rows[1].itertext())
    assert "The bound of 5 rests on a theorem" in text
    assert "style=" not in text


def test_the_picture_is_drawn_without_scraps(assessment):
    # a sliver thinner than the ink would make a path that no viewer takes
    sliver = shapely.box(90, 90, 90.001, 90.001)
    allowed = shapely.MultiPolygon([shapely.box(20, 20, 80, 60), sliver])
    sites = make_sites(allowed=allowed, capacity=make_capacity())
    svg = sites_svg(assessment, build_scene(assessment), sites, shown_closed(assessment, sites))
    root = fromstring(svg)
    assert not re.search(r"l\s*z", svg)
    marks = [node.text for node in root.iter("{http://www.w3.org/2000/svg}text")]
    assert {"1", "2", "A"} <= set(marks)
