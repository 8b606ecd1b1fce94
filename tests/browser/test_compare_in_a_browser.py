"""What changed as people use it: list, map, panel, switch; wide, phone, on paper."""

import math
from dataclasses import replace

import pytest
import shapely
from conftest import make_float, make_settings, make_zone
from sites_by_hand import make_sites
from test_map_in_a_browser import HOSTILE, PHONE, WIDE, Visit, browser  # noqa: F401 - a fixture
from two_versions import as_it_was, at, two

from lakemap.comparing import compare
from lakemap.outputs.web.page import draw

pytestmark = pytest.mark.browser
PIXELS = """(points) => {
  const s = window.devicePixelRatio, { width, height } = app.canvas;
  const all = app.canvas.getContext('2d').getImageData(0, 0, width, height).data;
  return points.map(([x, y]) => {
    const p = app.map.latLngToContainerPoint([y, x]);
    const k = 4 * (Math.round(p.y * s) * width + Math.round(p.x * s));
    return [...all.slice(k, k + 3)];
  });
}"""
INK, ACCENT = [18, 35, 46], [11, 85, 112]


@pytest.fixture(scope="module")
def maps(tmp_path_factory):
    folder = tmp_path_factory.mktemp("maps")

    def put(name, comparison, **more):
        draw(comparison.new, folder / f"{name}.html", compared=comparison, **more)

    moved = two(
        [make_float("E", 60.0, 60.0)],
        new={"settings": make_settings(people=6)},
        B=None,
        C=at(0.0, 62.0),
        D={"ground_m": 5.0},
    )
    put("moved", moved)
    put("both", moved, sites=make_sites())
    put("same", compare(as_it_was(), as_it_was()))
    floats = {name: make_float(name, -60 + 40 * k, 0) for k, name in enumerate(HOSTILE)}
    zone = make_zone("dock", shapely.box(70, 70, 80, 80), label=HOSTILE[0])
    changes = {name: {**at(-60 + 40 * k, 20), "lot": name} for k, name in enumerate(HOSTILE)}
    put("hostile", two(floats=floats, old={"zones": []}, new={"zones": [zone]}, **changes))
    levels = replace(make_settings().levels, low_m=-0.75)
    put("level", two(new={"settings": make_settings(levels=levels)}))
    put("gone", two(floats={"A": make_float("A")}, A=None))
    many = {str(k): make_float(str(k), -70 + 30 * (k % 5), -60 + 30 * (k // 5)) for k in range(20)}
    put("many", two(floats=many, **{name: {"ground_m": 4.5} for name in many}))
    return folder


def rows(page):
    return page.locator("#rows .change-row")


def row(page, name):
    return page.locator(".change-row", has=page.get_by_text(name, exact=True))


@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["wide", "phone"])
@pytest.mark.parametrize("name", ["moved", "both", "same", "hostile", "gone", "many"])
def test_nothing_is_fetched_and_nothing_complains(browser, maps, name, size):  # noqa: F811
    with Visit(browser, maps / f"{name}.html", **size) as visit:
        visit.page.wait_for_timeout(150)
        visit.page.evaluate("if (FLOATS.length) app.choose(FLOATS[0]); 0")
        visit.page.wait_for_timeout(150)
        visit.quiet()


def test_the_list_begins_with_what_changed(browser, maps):  # noqa: F811
    with Visit(browser, maps / "moved.html", **WIDE) as visit:
        page = visit.page
        part = page.locator("#rows .changes").inner_text()
        assert "What changed since the version before" in part
        assert "1 float moved, 1 changed, 1 added, 1 taken away." in part
        assert "People aboard: 4 → 6." in part
        assert rows(page).count() == 5
        told = rows(page).nth(0).inner_text()
        for words in ("C", "Moved 40 m north", "conflict → clear"):
            assert words in told
        assert "Not moved; floats C and B made room" in row(page, "A").inner_text()
        # a search or a verdict leaves only floats
        page.get_by_role("searchbox").fill("A")
        assert rows(page).count() == 0
        page.get_by_role("searchbox").fill("")
        assert rows(page).count() == 5
        visit.quiet()


def test_a_row_opens_its_float_with_before_and_now(browser, maps):  # noqa: F811
    with Visit(browser, maps / "moved.html", **WIDE) as visit:
        page = visit.page
        row(page, "C").click()
        panel = page.locator("#panel")
        assert panel.get_by_role("heading", name="Float C").is_visible()
        said = panel.locator(".change-part").inner_text()
        assert "Moved 40 m north. Conflict → clear." in said
        assert "gap 41.00 m (39.00 m to spare)" in said
        assert "was gap 1.00 m" in said
        assert row(page, "C").get_attribute("aria-current") == "true"
        assert visit.row("C").last.get_attribute("aria-current") == "true"
        page.keyboard.press("Escape")
        assert row(page, "C").get_attribute("aria-current") is None
        # where nothing changed there is no such part
        page.evaluate("app.choose(BY_ID.get('E'))")
        assert "Added" in panel.locator(".change-part").inner_text()
        visit.quiet()


def test_arrow_keys_go_from_row_to_row_and_on_into_the_list(browser, maps):  # noqa: F811
    with Visit(browser, maps / "moved.html", **WIDE) as visit:
        page = visit.page
        rows(page).nth(3).focus()
        page.keyboard.press("ArrowDown")
        assert page.evaluate("document.activeElement === app.list.changeRows[4]")
        page.keyboard.press("ArrowDown")
        assert page.evaluate("document.activeElement === app.list.rows[0]")
        rows(page).nth(0).focus()
        page.keyboard.press("ArrowUp")
        assert page.evaluate("document.activeElement === app.list.find")


def is_near(found, wanted):
    return all(abs(a - b) <= 24 for a, b in zip(found, wanted, strict=True))


def test_where_floats_were_is_drawn_and_can_be_put_away(browser, maps):  # noqa: F811
    with Visit(browser, maps / "moved.html", **WIDE) as visit:
        page = visit.page
        page.wait_for_timeout(150)
        # on the shaft of the arrow from (0, 22) to (0, 62), outside either circle
        shaft = [[0, 42]]
        # the old circles are dotted: along their lower left some points are ink, others are not
        angles = [math.radians(200 + k / 4) for k in range(80)]
        old = [
            [[x + 10.5 * math.cos(a), y + 10.5 * math.sin(a)] for a in angles]
            for x, y in ((0, 22), (23, 0))
        ]
        colours = page.evaluate(PIXELS, [*shaft, *old[0], *old[1]])
        assert is_near(colours[0], ACCENT)
        for ring in (colours[1:81], colours[81:]):
            inked = [is_near(colour, INK) for colour in ring]
            assert any(inked)
            assert not all(inked)
        assert "C was here" in page.evaluate("changeLook.labels.map((one) => one.words)")
        key = page.locator(".changes-key")
        assert key.is_visible()
        page.get_by_label("Show where floats were").uncheck()
        page.wait_for_timeout(150)
        colours = page.evaluate(PIXELS, [*shaft, *old[1]])
        assert not is_near(colours[0], ACCENT)
        assert not any(is_near(colour, INK) for colour in colours[1:])
        assert not key.is_visible()


def test_the_words_keep_clear_of_floats(browser, maps):  # noqa: F811
    with Visit(browser, maps / "moved.html", **WIDE) as visit:
        page = visit.page
        page.wait_for_timeout(150)
        apart = page.evaluate("""() => {
          const camera = cameraOf(app.map);
          return changeLook.labels.map((label) => Math.min(...FLOATS.map((f) => Math.hypot(
            label.x - f.x * camera.ppm - camera.left, label.y - camera.top + f.y * camera.ppm) / (f.radii[0] * camera.ppm))));
        }""")
        assert len(apart) >= 2
        assert all(value > 0.85 for value in apart)


def test_a_float_that_was_taken_away_is_shown_where_it_was(browser, maps):  # noqa: F811
    with Visit(browser, maps / "moved.html", **WIDE) as visit:
        page = visit.page
        page.get_by_label("Show where floats were").uncheck()
        row(page, "B").click()
        page.wait_for_timeout(150)
        middle = page.evaluate("[app.map.getCenter().lng, app.map.getCenter().lat]")
        assert middle == pytest.approx([23, 0], abs=0.5)
        assert not page.locator("#panel").is_visible()
        assert page.get_by_label("Show where floats were").is_checked()
        visit.quiet()


def test_a_long_list_is_folded(browser, maps):  # noqa: F811
    with Visit(browser, maps / "many.html", **WIDE) as visit:
        page = visit.page
        assert rows(page).count() == 12
        page.get_by_role("button", name="Show all changes (20)").click()
        assert rows(page).count() == 20
        visit.quiet()


def test_what_changed_of_the_field_comes_first_where_no_float_was_changed(browser, maps):  # noqa: F811
    for name, is_first in (("level", True), ("moved", False)):
        with Visit(browser, maps / f"{name}.html", **WIDE) as visit:
            field = visit.page.locator(".change-field").bounding_box()
            assert (field["y"] < rows(visit.page).nth(0).bounding_box()["y"]) is is_first


def test_the_chosen_float_has_its_words_on_a_phone_too(browser, maps):  # noqa: F811
    with Visit(browser, maps / "moved.html", **PHONE) as visit:
        visit.page.evaluate("app.choose(BY_ID.get('D'))")
        visit.page.wait_for_timeout(300)
        assert "D was 10.50 m" in visit.page.evaluate("changeLook.labels.map((one) => one.words)")


def test_nothing_changed(browser, maps):  # noqa: F811
    with Visit(browser, maps / "same.html", **WIDE) as visit:
        part = visit.page.locator("#rows .changes").inner_text()
        assert "Nothing changed." in part
        assert rows(visit.page).count() == 0
        assert not visit.page.get_by_label("Show where floats were").count()


def test_beside_new_sites_the_changes_stand_with_the_floats(browser, maps):  # noqa: F811
    with Visit(browser, maps / "both.html", **WIDE) as visit:
        page = visit.page
        assert not rows(page).nth(0).is_visible()
        page.get_by_role("button", name="Floats", exact=True).click()
        assert rows(page).nth(0).is_visible()
        row(page, "C").click()
        assert page.get_by_role("heading", name="Float C").is_visible()
        visit.quiet()


def test_hostile_names_are_only_words(browser, maps):  # noqa: F811
    with Visit(browser, maps / "hostile.html", **WIDE) as visit:
        page = visit.page
        text = page.locator("#rows .changes").inner_text()
        for name in HOSTILE:
            assert name in text
        rows(page).nth(0).click()
        assert page.evaluate("document.title") == "Square"
        visit.quiet()


def test_on_a_phone(browser, maps):  # noqa: F811
    with Visit(browser, maps / "moved.html", **PHONE) as visit:
        page = visit.page
        page.evaluate("app.listSheet.set(2)")
        page.wait_for_timeout(300)
        first = row(page, "C")
        assert first.bounding_box()["height"] >= 48
        first.tap()
        page.wait_for_timeout(300)
        assert page.get_by_role("heading", name="Float C").is_visible()
        assert page.locator("#panel .change-part").is_visible()
        assert page.evaluate("document.documentElement.scrollWidth") <= 390
        visit.quiet()


def test_on_paper_and_without_scripts(browser, maps):  # noqa: F811
    with Visit(browser, maps / "moved.html", **WIDE) as visit:
        page = visit.page
        assert not page.locator("#changes-sheet").is_visible()
        page.emulate_media(media="print")
        assert page.locator("#changes-sheet tbody tr").count() == 5
        assert page.locator("#changes-sheet").is_visible()
    with Visit(browser, maps / "moved.html", java_script_enabled=False, **WIDE) as visit:
        assert "Moved 40 m north" in visit.page.locator("#changes-sheet").inner_text()
