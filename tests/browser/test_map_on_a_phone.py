"""The map in one hand: within the thumb's reach, one's own float found, where one stands, how deep it is."""

import re
from dataclasses import replace

import numpy as np
import pytest
import shapely
from map_states import SIZES, STATES, settle, tamber, tamber_lake  # noqa: F401 - a fixture
from test_map_in_a_browser import PHONE, WIDE, Visit, browser  # noqa: F401 - a fixture

from lakemap.mapping import assess
from lakemap.outputs.web.page import draw

pytestmark = pytest.mark.browser
THUMB = 44  # px, the least side of what a finger aims at


# --- by thumb

SMALL = """(least) => [...document.querySelectorAll('.app button, .app input, .app summary, .to-map')].filter((node) => {
  const box = node.getBoundingClientRect();
  return node.offsetParent && box.width && getComputedStyle(node).visibility === 'visible' && (box.width < least - 0.01 || box.height < least - 0.01);
}).map((node) => [node.className || node.id || node.tagName, node.textContent.slice(0, 30), node.offsetWidth, node.offsetHeight])"""


@pytest.mark.parametrize("name", STATES)
def test_what_a_finger_aims_at_is_large_enough(browser, tamber, name):  # noqa: F811
    hash_, act = STATES[name]
    with Visit(browser, tamber, hash_, **PHONE) as visit:
        settle(visit.page, act, 350)
        assert visit.page.evaluate(SMALL, THUMB) == []


def test_a_float_is_met_within_24_px(browser, tamber):  # noqa: F811
    with Visit(browser, tamber, **PHONE) as visit:
        page = visit.page
        settle(page, "app.showWhole()")
        spot = "(() => { const f = BY_ID.get('15'), p = app.map.latLngToContainerPoint([f.y, f.x]); return [p.x, p.y, f.radii[0] * 2 ** app.map.getZoom()]; })()"
        x, y, radius = page.evaluate(spot)
        assert radius < 20
        box = page.locator("#field").bounding_box()
        page.touchscreen.tap(box["x"] + x, box["y"] + y + 23)
        settle(page)
        assert page.locator("#panel h2").inner_text() == "Float 15"


def test_controls_of_the_phone_are_in_the_thumbs_reach(browser, tamber):  # noqa: F811
    """In the lower part of the screen; what names things on the map stands where they are."""
    high = PHONE["viewport"]["height"]
    script = """() => [...document.querySelectorAll('.app button')].filter((node) => node.offsetParent && !node.matches('.call, .edge-tab') && getComputedStyle(node).visibility === 'visible')
      .map((node) => [node.getAttribute('aria-label') || node.textContent, node.getBoundingClientRect().top])"""
    with Visit(browser, tamber, **PHONE) as visit:
        page = visit.page
        first = dict(page.evaluate(script))
        assert {
            "Find mine",
            "Where am I",
            "Whole lake",
            "Lake level, key and print",
        } <= first.keys()
        assert any("Bright sun" in name for name in first)
        assert min(first.values()) > 0.55 * high, first
        settle(page, "toggle('show-tools')")
        tools = dict(page.evaluate(script))
        assert {"Print", "Key to the map", "Normal"} <= tools.keys()
        assert min(tools.values()) > 0.4 * high, tools
        for act in (
            "toggle('show-tools'); app.listSheet.set(2)",
            "app.choose(BY_ID.get('4')); app.panelSheet.set(1)",
        ):
            settle(page, act, 300)
            button = page.get_by_role("button", name="Show the map")
            assert button.bounding_box()["y"] > 0.85 * high
            button.tap()
            settle(page, wait=300)
            assert not button.is_visible()
            assert page.locator("#field").bounding_box()["height"] > 0.8 * high


def test_the_sheets_handle_steps_and_tells_where_it_is(browser, tamber):  # noqa: F811
    with Visit(browser, tamber, **PHONE) as visit:
        page = visit.page
        for part, name, stops in (
            ("#list", "Unfold or fold the list of floats", 3),
            ("#panel", "Unfold or fold this float", 2),
        ):
            if part == "#panel":
                settle(page, "app.choose(BY_ID.get('4'))", 300)
            handle = page.get_by_role("button", name=name)
            heights = []
            for _ in range(stops):
                heights.append(page.locator(part).bounding_box()["height"])
                assert handle.get_attribute("aria-expanded") == str(len(heights) > 1).lower()
                handle.tap()
                settle(page, wait=350)
            assert heights == sorted(set(heights))
            assert page.locator(part).bounding_box()["height"] == heights[0]


STILL_SEEN = """() => ['scale', 'north'].filter((id) => {
  const node = document.getElementById(id), box = node.getBoundingClientRect();
  const top = document.elementsFromPoint(box.left + box.width / 2, box.top + box.height / 2).find((one) => !one.closest('.ink'));
  return !(box.width && top && (node === top || node.contains(top)));
})"""


@pytest.mark.parametrize("size", SIZES)
def test_scale_and_north_are_always_seen(browser, tamber, size):  # noqa: F811
    acts = [
        "",
        "app.choose(BY_ID.get('4'))",
        "app.setLevel(1)",
        "app.choose(null)",
        "say(words('here.never'))",
    ]
    acts += (
        ["toggle('show-key')", "toggle('show-key'); app.listSheet.set(1)"]
        if size == "phone"
        else []
    )
    with Visit(browser, tamber, **SIZES[size]) as visit:
        for act in acts:
            settle(visit.page, act, 350)
            assert visit.page.evaluate(STILL_SEEN) == [], act


# --- finding one's own


@pytest.mark.parametrize(
    "hash_",
    ["#float=15", "#float=015", "#float=%2015%20", "#float=Float%2015", "#lot=23", "#lot=LOT%2023"],
)
def test_the_address_is_read_as_people_write_it(browser, tamber, hash_):  # noqa: F811
    with Visit(browser, tamber, hash_, **PHONE) as visit:
        assert visit.page.locator("#panel h2").inner_text() == "Float 15"


def test_the_number_itself_goes_before_one_that_is_only_like_it(browser, tmp_path):  # noqa: F811
    field = tamber_lake()
    names = ("15", "015", "A 7", "a7 ", "X")
    floats = tuple(
        replace(one, float_id=name, lot="3 b")
        for one, name in zip(field.floats, names, strict=False)
    )
    draw(assess(replace(field, floats=floats)), tmp_path / "map.html")
    for hash_, name in (
        ("15", "15"),
        ("015", "015"),
        ("0015", "15"),
        ("a%207", "A 7"),
        ("A7", "A 7"),
        ("x", "X"),
    ):
        with Visit(browser, tmp_path / "map.html", f"#float={hash_}", **WIDE) as visit:
            assert visit.page.locator("#panel h2").inner_text().strip() == f"Float {name}".strip()
    with Visit(browser, tmp_path / "map.html", "#lot=3B", **WIDE) as visit:
        page = visit.page
        assert not page.locator(
            "#panel"
        ).is_visible()  # five floats have this lot: the list shows them
        assert page.locator("#rows .row").count() == 5
        assert page.get_by_role("searchbox").input_value() == "lot 3B"
        page.evaluate("location.hash = '#lot=99'")
        settle(page)
        assert "No float on this map has the lot “99”." in page.locator("#message").inner_text()


@pytest.mark.parametrize(
    ("typed", "found"),
    [("15", "15"), ("015", "15"), (" FLOAT 15", "15"), ("lot 23", "15"), ("LOT023", "15")],
)
def test_find_mine_takes_number_or_lot(browser, tamber, typed, found):  # noqa: F811
    with Visit(browser, tamber, **PHONE) as visit:
        page = visit.page
        page.get_by_role("button", name="Find mine").tap()
        box = page.get_by_role("searchbox")
        box.fill(typed)
        assert found in page.locator("#rows .num").all_inner_texts()
        box.press("Enter")
        assert page.locator("#panel h2").inner_text() == f"Float {found}"


# --- where one stands, how deep it is


def place_of():
    assessment = assess(tamber_lake())
    one = next(one for one in assessment.floats if one.record.float_id == "15")
    return assessment, one


def stand(browser, path, where, **more):  # noqa: F811
    visit = Visit(browser, path, **PHONE, geolocation=where, permissions=["geolocation"], **more)
    visit.page.get_by_role("button", name="Where am I").tap()
    visit.page.wait_for_timeout(400)
    return visit


def test_where_one_stands_is_a_dot_with_its_circle(browser, tamber):  # noqa: F811
    _, one = place_of()
    where = {"latitude": one.record.lat, "longitude": one.record.lon, "accuracy": 12}
    with stand(browser, tamber, where) as visit:
        page = visit.page
        assert (
            page.locator("#said").inner_text() == "You are within 40 ft of the dot."
        )  # 12 m, rounded up
        here = page.evaluate("app.look.here")
        assert here["x"] == pytest.approx(one.x_m, abs=0.5)  # the float lies where its record says
        assert here["y"] == pytest.approx(one.y_m, abs=0.5)
        spot = "(() => { const p = app.map.latLngToContainerPoint([app.look.here.y, app.look.here.x]); return [p.x, p.y, app.look.here.sure * 2 ** app.map.getZoom()]; })()"
        x, y, radius = page.evaluate(spot)
        colour = "([x, y]) => [...app.canvas.getContext('2d').getImageData(x * devicePixelRatio, y * devicePixelRatio, 1, 1).data].slice(0, 3)"
        assert page.evaluate(colour, [x, y]) == [0x0B, 0x55, 0x70]  # the dot
        edges = [
            page.evaluate(colour, [x + radius * np.cos(a), y + radius * np.sin(a)])
            for a in np.linspace(0, 6.28, 60)
        ]
        assert (
            sum(
                sum(abs(v - w) for v, w in zip(edge, (0x0B, 0x55, 0x70), strict=True)) < 90
                for edge in edges
            )
            > 15
        )


@pytest.mark.parametrize("coordinates", [(0.0, 0.0), (46.5, 8.0)])
def test_elsewhere_is_said(browser, tamber, coordinates):  # noqa: F811
    latitude, longitude = coordinates
    with stand(browser, tamber, {"latitude": latitude, "longitude": longitude}) as visit:
        assert visit.page.locator("#said").inner_text() == "You are not at this lake."


@pytest.mark.parametrize(
    ("script", "words"),
    [
        ("Object.defineProperty(navigator, 'geolocation', { value: undefined })", "This browser gives no position"),
        ("navigator.geolocation.getCurrentPosition = (ok, fail) => fail({ code: 1 })", "not allowed to give it"),
        ("navigator.geolocation.getCurrentPosition = (ok, fail) => fail({ code: 3 })", "No position could be had"),
    ],
)  # fmt: skip
def test_where_no_position_is_had_that_is_said_in_words(browser, tamber, script, words):  # noqa: F811
    with Visit(browser, tamber, **PHONE) as visit:
        visit.page.evaluate(f"(() => {{ {script} }})()")
        visit.page.get_by_role("button", name="Where am I").tap()
        settle(visit.page)
        said = visit.page.locator("#said").inner_text()
        assert words in said
        assert "number" in said  # what to do instead
        visit.quiet()


def open_water(assessment):
    """Places in the water, 8 m and more from every circle, with their depth by the surface itself [m]."""
    west, south, east, north = assessment.water.bounds
    places = np.random.default_rng(4).uniform((west, south), (east, north), (60, 2))
    places = places[shapely.contains_xy(assessment.water, places[:, 0], places[:, 1])]
    depths = assessment.surface.at(places)
    for (x, y), depth in zip(places.tolist(), depths.tolist(), strict=True):
        far = min(
            np.hypot(one.x_m - x, one.y_m - y) - (one.swing_radius_m[0] or 0)
            for one in assessment.floats
        )
        if far > 8 and np.isfinite(depth):
            yield x, y, depth


def tap_at(page, x, y):
    """Tap on a place of the lake; False where something lies over the middle of the map."""
    page.evaluate("([x, y]) => app.map.setView([y, x], 3, { animate: false })", [x, y])
    settle(page, wait=60)
    box = page.locator("#field").bounding_box()
    at = [box["x"] + box["width"] / 2, box["y"] + box["height"] / 2]
    if page.evaluate("([x, y]) => document.elementFromPoint(x, y).closest('#field') === null", at):
        return False  # a tab that names conflicts off the screen
    page.touchscreen.tap(*at)
    settle(page, wait=60)
    return True


def test_a_tap_on_open_water_tells_its_depth(browser, tamber):  # noqa: F811
    """Against the depth surface; the page's grid is coarser than a fingertip is."""
    assessment, _ = place_of()
    told = 0
    with Visit(browser, tamber, **PHONE) as visit:
        pointer = visit.page.locator("#pointer")
        for x, y, depth in open_water(assessment):
            if tap_at(visit.page, x, y):
                told += 1
                assert pointer.is_visible()
                words = re.fullmatch(
                    r"about (\d+) ft deep here at normal level", pointer.inner_text()
                )
                assert int(words.group(1)) == pytest.approx(depth / 0.3048, abs=3), (x, y)
        assert told >= 5
        west, _, east, north = assessment.water.bounds
        assert tap_at(visit.page, (west + east) / 2, north + 25)
        assert not pointer.is_visible()  # on land there is nothing to tell


def test_a_long_press_tells_the_depth_on_a_circle_too(browser, tamber):  # noqa: F811
    with Visit(browser, tamber, **PHONE) as visit:
        page = visit.page
        settle(
            page, "const f = BY_ID.get('15'); app.map.setView([f.y, f.x], 2, { animate: false })"
        )
        page.evaluate("""() => { const p = app.map.latLngToContainerPoint([BY_ID.get('15').y, BY_ID.get('15').x]), box = byId('field').getBoundingClientRect();
            byId('field').dispatchEvent(new MouseEvent('contextmenu', { bubbles: true, cancelable: true, clientX: box.left + p.x, clientY: box.top + p.y })); }""")
        settle(page)
        assert re.fullmatch(
            r"about \d+ ft deep here at normal level", page.locator("#pointer").inner_text()
        )
        assert not page.locator("#panel").is_visible()
        settle(page, "app.choose(BY_ID.get('15'))")
        assert page.locator("#pointer").inner_text() == ""


def test_water_that_is_not_sounded_is_told(browser, tmp_path):  # noqa: F811
    bare = replace(tamber_lake(), soundings=None, floats=())
    draw(assess(bare), tmp_path / "bare.html")
    with Visit(browser, tmp_path / "bare.html", **WIDE) as visit:
        x, y = visit.page.evaluate(
            "(() => { const z = SCENE.zones.find((one) => one.kind === 'swim_area'); const p = app.map.latLngToContainerPoint([z.y, z.x]); return [p.x, p.y]; })()"
        )
        box = visit.page.locator("#field").bounding_box()
        visit.page.mouse.move(box["x"] + x, box["y"] + y)
        settle(visit.page)
        assert visit.page.locator("#pointer").inner_text() == "No depth is known here."
