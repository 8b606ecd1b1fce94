"""New sites as people use them: list, map, panel, address, switch; wide, phone and on paper."""

from dataclasses import replace

import pytest
import shapely
from conftest import make_float, make_zone
from sites_by_hand import make_ask, make_assessment, make_site, make_sites, no_sites
from test_map_in_a_browser import HOSTILE, PHONE, WIDE, Visit, browser  # noqa: F401 - a fixture

from lakemap.outputs.web.page import draw

pytestmark = pytest.mark.browser
PIXEL = """([x, y]) => {
  const p = app.map.latLngToContainerPoint([y, x]), s = window.devicePixelRatio;
  return [...app.canvas.getContext('2d').getImageData(p.x * s, p.y * s, 1, 1).data];
}"""


@pytest.fixture(scope="module")
def maps(tmp_path_factory):
    folder = tmp_path_factory.mktemp("maps")
    assessment = make_assessment()
    draw(assessment, folder / "sites.html", sites=make_sites())
    draw(assessment, folder / "none.html", sites=no_sites())
    draw(make_assessment(floats=[]), folder / "empty.html", sites=make_sites())
    name = HOSTILE[0]
    zone = make_zone("swim_area", shapely.box(20, -45, 60, -20), label=name)
    hostile = make_assessment(
        floats=[make_float(one, -80 + 40 * k, -60) for k, one in enumerate(HOSTILE)], zones=[zone]
    )
    sites = tuple(
        make_site(k + 1, 30 + 10 * k, 30, limited_by=f"swim_area: {one}")
        for k, one in enumerate(HOSTILE)
    )
    asked = replace(make_ask(), lot=HOSTILE[1])
    draw(hostile, folder / "hostile.html", sites=make_sites(sites=sites, ask=asked))
    return folder


def rows(page):
    return page.locator("#site-rows .site-row")


def spot(page, x, y):
    """Where a point of the lake lies on the page."""
    box = page.locator("#field").bounding_box()
    px, py = page.evaluate(
        "([x, y]) => { const p = app.map.latLngToContainerPoint([y, x]); return [p.x, p.y]; }",
        [x, y],
    )
    return box["x"] + px, box["y"] + py


@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["wide", "phone"])
@pytest.mark.parametrize("name", ["sites", "none", "empty", "hostile"])
def test_nothing_is_fetched_and_nothing_complains(browser, maps, name, size):  # noqa: F811
    with Visit(browser, maps / f"{name}.html", **size) as visit:
        visit.page.wait_for_timeout(150)
        if rows(visit.page).count():
            visit.page.evaluate("app.chooseSite(SITES.sites[0])")
            visit.page.wait_for_timeout(150)
        visit.quiet()


def test_the_list_begins_with_the_answer(browser, maps):  # noqa: F811
    with Visit(browser, maps / "sites.html", **WIDE) as visit:
        page = visit.page
        said = page.locator(".sites-first").inner_text()
        assert "2 sites found for a 4 by 3 m float" in said
        assert "3 in all would fit, and no arrangement can hold more than 5." in said
        assert rows(page).count() == 2
        first = rows(page).nth(0).inner_text()
        assert "1.23 m to spare" in first
        assert "limited by the shore" in first
        assert "0.66" in first
        assert "The bound of 5 rests on a theorem" in page.locator("#site-rows").inner_text()
        assert not page.get_by_role("searchbox").is_visible()
        page.get_by_role("button", name="Floats", exact=True).click()
        assert page.get_by_role("searchbox").is_visible()
        assert not rows(page).nth(0).is_visible()
        assert page.locator("#rows .row").count() == 1
        visit.quiet()


def test_a_site_opens_its_numbers(browser, maps):  # noqa: F811
    with Visit(browser, maps / "sites.html", **WIDE) as visit:
        page = visit.page
        rows(page).nth(1).click()
        panel = page.locator("#panel")
        assert panel.get_by_role("heading", name="New site 2").is_visible()
        text = panel.inner_text()
        for words in (
            "limited by float A",
            "10.51 m",
            "Ground chain",
            "6.50 m",
            "Shelter",
            "× 2",
            "0.50",
        ):
            assert words in text
        assert page.evaluate("location.hash") == "#site=2"
        assert rows(page).nth(1).get_attribute("aria-current") == "true"
        page.keyboard.press("Escape")
        assert not panel.is_visible()
        assert page.evaluate("location.hash") == ""
        assert rows(page).nth(1).get_attribute("aria-current") is None
        assert page.evaluate("document.activeElement === app.siteRows[1]")
        visit.quiet()


def test_the_map_opens_sites_and_floats(browser, maps):  # noqa: F811
    with Visit(browser, maps / "sites.html", **WIDE) as visit:
        page = visit.page
        page.mouse.click(*spot(page, 70, 50))
        assert page.get_by_role("heading", name="New site 2").is_visible()
        page.evaluate("app.choose(null); app.showWhole()")
        page.mouse.click(*spot(page, -60, 0))
        assert page.get_by_role("heading", name="Float A", exact=True).is_visible()
        assert page.evaluate("siteLook.chosen === null && location.hash === '#float=A'")
        rows(page).nth(0).click()
        assert page.get_by_role("heading", name="New site 1").is_visible()
        assert page.evaluate("app.look.chosen === null")
        visit.quiet()


def test_the_address_opens_a_site(browser, maps):  # noqa: F811
    with Visit(browser, maps / "sites.html", "#site=2", **WIDE) as visit:
        assert visit.page.get_by_role("heading", name="New site 2").is_visible()
        visit.page.evaluate("location.hash = '#float=A'")
        visit.page.wait_for_timeout(100)
        assert visit.page.get_by_role("heading", name="Float A", exact=True).is_visible()
        visit.page.evaluate("location.hash = '#site=9'")
        visit.page.wait_for_timeout(100)
        assert "There is no site 9 on this map." in visit.page.locator("#message").inner_text()


def test_the_water_is_drawn_and_can_be_put_away(browser, maps):  # noqa: F811
    with Visit(browser, maps / "sites.html", **WIDE) as visit:
        page = visit.page
        page.wait_for_timeout(100)
        places = {"allowed": [60, 35], "square": [24, 30], "hole": [45, 35]}
        # the numbered square is 18 px wide; look beside the figure
        places["square"] = page.evaluate(
            "[SITES.sites[0].x - 6 / 2 ** app.map.getZoom(), SITES.sites[0].y]"
        )
        shown = {name: page.evaluate(PIXEL, at) for name, at in places.items()}
        key = page.locator(".sites-key")
        assert key.is_visible()
        box = page.get_by_label("Show where floats may go")
        box.uncheck()
        page.wait_for_timeout(100)
        hidden = {name: page.evaluate(PIXEL, at) for name, at in places.items()}
        assert shown["square"][:3] == [11, 85, 112]  # the accent
        assert sum(shown["allowed"][:3]) > sum(hidden["allowed"][:3])  # lighter
        assert shown["square"] != hidden["square"]
        assert not key.is_visible()
        box.check()
        page.wait_for_timeout(100)
        assert page.evaluate(PIXEL, places["allowed"]) == shown["allowed"]


def test_choosing_a_site_shows_the_water_again(browser, maps):  # noqa: F811
    with Visit(browser, maps / "sites.html", **WIDE) as visit:
        page = visit.page
        page.get_by_label("Show where floats may go").uncheck()
        rows(page).nth(0).click()
        assert page.get_by_label("Show where floats may go").is_checked()


def test_the_key_names_each_class(browser, maps):  # noqa: F811
    with Visit(browser, maps / "sites.html", **WIDE) as visit:
        text = visit.page.locator(".sites-key").inner_text()
        for words in (
            "too near the shore",
            "too near a float",
            "too near a zone",
            "a primary may lie here",
        ):
            assert words in text
        assert "frontage" not in text


def test_on_a_phone(browser, maps):  # noqa: F811
    with Visit(browser, maps / "sites.html", **PHONE) as visit:
        page = visit.page
        first = page.locator(".sites-first")
        assert "3 in all fit, 5 at most" in first.inner_text()
        folded = page.locator("#list").bounding_box()
        inside = first.bounding_box()
        assert inside["y"] + inside["height"] <= folded["y"] + folded["height"] + 1
        page.get_by_role("button", name="See them").tap()
        page.wait_for_timeout(300)
        row = rows(page).nth(0)
        assert row.bounding_box()["height"] >= 48
        row.tap()
        page.wait_for_timeout(300)
        assert page.get_by_role("heading", name="New site 1").is_visible()
        assert page.evaluate("document.documentElement.scrollWidth") <= 390
        # the site stands in the map that is left above the panel
        _, y = spot(page, 30, 30)
        assert y < page.locator("#panel").bounding_box()["y"]
        page.get_by_role("button", name="Close this site").tap()
        assert not page.locator("#panel").is_visible()
        visit.quiet()


def test_hostile_names_are_only_words(browser, maps):  # noqa: F811
    with Visit(browser, maps / "hostile.html", **WIDE) as visit:
        page = visit.page
        assert HOSTILE[0] in rows(page).nth(0).inner_text()
        rows(page).nth(1).click()
        assert HOSTILE[1] in page.locator("#panel").inner_text()
        assert page.evaluate("document.title") == "Square"
        visit.quiet()


def test_where_nothing_is_allowed(browser, maps):  # noqa: F811
    with Visit(browser, maps / "none.html", **WIDE) as visit:
        said = visit.page.locator(".sites-first").inner_text()
        assert "nowhere in the lake do the rules allow one" in said
        assert rows(visit.page).count() == 0
        visit.quiet()


def test_on_paper_and_without_scripts(browser, maps):  # noqa: F811
    with Visit(browser, maps / "sites.html", **WIDE) as visit:
        page = visit.page
        assert not page.locator("#sites-sheet").is_visible()
        page.emulate_media(media="print")
        assert page.locator("#sites-sheet table tbody tr").count() == 2
        assert page.locator("#sites-sheet").is_visible()
        assert page.locator("#sites-sheet svg").first.is_visible()
    with Visit(browser, maps / "sites.html", java_script_enabled=False, **WIDE) as visit:
        assert "2 sites found" in visit.page.locator("#sites-sheet").inner_text()
