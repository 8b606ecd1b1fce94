"""The lake's levels on the map: opened from foot or menu, closed again, wide and on a phone."""

from dataclasses import replace

import pytest
from map_states import tamber_lake
from test_map_in_a_browser import PHONE, WIDE, Visit, browser  # noqa: F401 - a fixture

from lakemap.mapping import assess
from lakemap.outputs.web.page import draw

pytestmark = pytest.mark.browser
BETWEEN = {"viewport": {"width": 800, "height": 900}}
OPEN = {
    "wide": (WIDE, ".foot .lake"),
    "between": (BETWEEN, "#levels + button"),
    "phone": (PHONE, "#levels + button"),
}


@pytest.fixture(scope="module")
def maps(tmp_path_factory):
    folder = tmp_path_factory.mktemp("levels")
    draw(assess(tamber_lake()), folder / "tamber.html")
    draw(assess(replace(tamber_lake(), gauge=())), folder / "none.html")
    return folder


def opened(visit, size):
    if size != "wide":
        visit.page.evaluate("toggle('show-tools')")
    visit.page.click(OPEN[size][1])
    visit.page.wait_for_timeout(150)
    return visit.page.locator("#panel")


@pytest.mark.parametrize("size", OPEN)
def test_the_plot_opens_in_the_panel_and_closes_again(browser, maps, size):  # noqa: F811
    with Visit(browser, maps / "tamber.html", **OPEN[size][0]) as visit:
        page, panel = visit.page, opened(visit, size)
        assert panel.locator("h2").inner_text() == "Lake levels"
        plot = panel.locator("svg.side")
        assert plot.is_visible()
        room, box = panel.bounding_box(), plot.bounding_box()
        assert room["x"] <= box["x"] < box["x"] + box["width"] <= room["x"] + room["width"]
        assert box["width"] > 300
        assert panel.locator("tbody tr").count() == 9
        assert page.evaluate("document.activeElement.tagName") == "H2"
        assert panel.get_attribute("aria-label") == "The lake’s levels"
        page.keyboard.press("Escape")
        assert panel.locator("h2").count() == 0
        assert not panel.is_visible()
        if size == "wide":
            assert page.evaluate("document.activeElement.className") == "lake"
        opened(visit, size)
        panel.get_by_role("button", name="Close the lake levels").click()
        assert not panel.is_visible()
        visit.quiet()


def test_a_float_and_the_levels_take_turns(browser, maps):  # noqa: F811
    with Visit(browser, maps / "tamber.html", "#float=15", **WIDE) as visit:
        page, panel = visit.page, visit.page.locator("#panel")
        assert panel.locator("h2").inner_text() == "Float 15"
        opened(visit, "wide")
        assert panel.locator("h2").inner_text() == "Lake levels"
        assert "float=" not in page.url
        visit.row("4").click()
        page.wait_for_timeout(100)
        assert panel.locator("h2").inner_text() == "Float 4"
        assert panel.get_attribute("aria-label") == "The chosen float"
        assert page.locator("#back").get_attribute("aria-label").startswith("Close the float")
        visit.quiet()


def test_callouts_keep_clear_of_the_cards_when_the_panel_narrows_the_map(browser, maps):  # noqa: F811
    with Visit(browser, maps / "tamber.html", **WIDE) as visit:
        opened(visit, "wide")
        boxes = visit.page.evaluate("""() => {
            const box = (node) => { const { left, top, right, bottom } = node.getBoundingClientRect(); return [left, top, right, bottom]; };
            const calls = [...document.querySelectorAll('.call')].filter((node) => !node.hidden).map(box);
            return [calls, ['north', 'buttons', 'scale', 'back', 'panel'].map((id) => box(document.getElementById(id)))];
        }""")
        calls, cards = boxes
        assert len(calls) >= 3
        for a in calls:
            for b in cards:
                assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1], (a, b)


def test_letters_on_the_plot_lie_inside_and_apart(browser, maps):  # noqa: F811
    with Visit(browser, maps / "tamber.html", **PHONE) as visit:
        opened(visit, "phone")
        texts, frame = visit.page.evaluate("""() => {
            const box = (node) => { const { left, top, right, bottom } = node.getBoundingClientRect(); return [left, top, right, bottom]; };
            const plot = document.querySelector('#panel svg.side');
            return [[...plot.querySelectorAll('text')].map((node) => [node.textContent, box(node)]), box(plot)];
        }""")
        for k, (text, a) in enumerate(texts):
            assert a[0] >= frame[0], text
            assert a[2] <= frame[2], text
            for other, b in texts[:k]:
                apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] + 3 or b[3] <= a[1] + 3
                assert apart, (text, other)


def test_without_scripts_the_plot_stands_under_the_sheet_and_paper_has_its_line(browser, maps):  # noqa: F811
    with Visit(browser, maps / "tamber.html", java_script_enabled=False, **WIDE) as visit:
        page = visit.page
        assert page.locator("#gauge svg").is_visible()
        page.emulate_media(media="print")
        assert not page.locator("#gauge").is_visible()
        assert page.get_by_text("Gauge readings of 2017 to 2025").is_visible()
    with Visit(browser, maps / "tamber.html", **WIDE) as visit:
        visit.page.emulate_media(media="print")
        assert not visit.page.locator("#gauge").is_visible()


def test_without_readings_nothing_of_it_is_there(browser, maps):  # noqa: F811
    for kind in (WIDE, PHONE):
        with Visit(browser, maps / "none.html", **kind) as visit:
            assert visit.page.get_by_text("Lake levels").count() == 0
            visit.quiet()
