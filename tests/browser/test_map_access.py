"""The map for every reader: by ear, by keyboard, in large letters, in the reader's own colours."""

import re

import numpy as np
import pytest
from axe_playwright_python.sync_playwright import Axe
from map_states import BETWEEN, SIZES, STATES, settle, tamber, tamber_lake  # noqa: F401 - a fixture
from pseudo_language import PSEUDO
from test_map_in_a_browser import PHONE, WIDE, Visit, browser  # noqa: F401 - a fixture

from lakemap.mapping import assess
from lakemap.outputs.web.page import draw

pytestmark = pytest.mark.browser


# --- what a checker finds


@pytest.mark.parametrize("sun", [False, True], ids=["plain", "sun"])
@pytest.mark.parametrize("size", SIZES)
def test_a_checker_finds_nothing(browser, tamber, size, sun):  # noqa: F811
    """WCAG 2.2 A and AA, and the checker's own good practice; letters on paper and buttons too."""
    options = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}
    few = ("first", "conflict", "tools")
    for name in few if sun or size == "between" else STATES:
        hash_, act = STATES[name]
        with Visit(browser, tamber, hash_, **SIZES[size]) as visit:
            settle(visit.page, act)
            settle(visit.page, f"app.setSun({str(sun).lower()})", 200)
            found = Axe().run(visit.page, options=options).response["violations"]
            told = [(one["id"], [node["html"][:120] for node in one["nodes"]]) for one in found]
            assert told == [], name


# --- contrast of what is drawn

RATIO = 4.5, 3.0  # WCAG 2.2: 1.4.3 of letters, 1.4.11 of lines
PAINTED = """(() => {
  const look = [];
  const c = CanvasRenderingContext2D.prototype;
  const [fillText, strokeText, stroke, fill] = [c.fillText, c.strokeText, c.stroke, c.fill];
  let halo = null;
  c.strokeText = function (text, ...more) { halo = [text, this.strokeStyle, this.lineWidth]; return strokeText.call(this, text, ...more); };
  c.fillText = function (text, ...more) {
    look.push({ kind: 'text', text, colour: this.fillStyle, halo: halo && halo[0] === text ? halo.slice(1) : null, font: this.font });
    halo = null;
    return fillText.call(this, text, ...more);
  };
  const seen = new Map();
  c.stroke = function (path, ...more) {
    if (path) {
      const before = seen.get(path) || [];
      look.push({ kind: 'line', colour: this.strokeStyle, width: this.lineWidth, alpha: this.globalAlpha, dash: this.getLineDash(), under: before.slice() });
      seen.set(path, [...before, [this.strokeStyle, this.lineWidth]]);
    }
    return path ? stroke.call(this, path, ...more) : stroke.call(this);
  };
  c.fill = function (path, ...more) {
    if (path instanceof Path2D && this.globalAlpha === 1) seen.set(path, [...(seen.get(path) || []), [this.fillStyle, 999]]);
    return fill.call(this, path, ...more);
  };
  window.look = look;
})()"""


def luminance(colour):
    channels = [int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return float(np.dot([0.2126, 0.7152, 0.0722], linear))


def ratio(one, other):
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_the_measure_of_contrast_is_that_of_the_print():
    """The look's own table: ink on white 16.0, conflict on water 6 2.1, tight on amber 5.4."""
    assert ratio("#12232e", "#ffffff") == pytest.approx(16.0, abs=0.1)
    assert ratio("#b3200c", "#6096bb") == pytest.approx(2.1, abs=0.1)
    assert ratio("#6b4300", "#ffc44a") == pytest.approx(5.4, abs=0.1)
    assert ratio("#ffffff", "#000000") == pytest.approx(21.0)


@pytest.mark.parametrize("sun", [False, True], ids=["plain", "sun"])
def test_letters_and_lines_of_the_map_stand_out(browser, tamber, sun):  # noqa: F811
    """Letters carry a white halo, rings a casing; what has none stands out from every depth of water."""
    with Visit(browser, tamber, **WIDE) as visit:
        page = visit.page
        page.evaluate(PAINTED)
        page.evaluate(f"app.setSun({str(sun).lower()})")
        for act in (
            "",
            "app.choose(BY_ID.get('4'))",
            "app.choose(BY_ID.get('14'))",
            "app.choose(BY_ID.get('12'))",
            "app.choose(null); app.showWhole(); app.map.setZoom(app.map.getZoom() + 2)",
            "app.map.setZoom(app.map.getZoom() - 5)",
        ):
            settle(page, act)
        look = page.evaluate("window.look")
        palette = page.evaluate(f"{'SUN' if sun else 'COLOUR'}")
    water, land = palette["water"], palette["land"]
    texts = [one for one in look if one["kind"] == "text"]
    assert len({one["text"] for one in texts}) > 60
    for one in texts:
        if one["halo"]:
            assert one["halo"][0] == "#ffffff", one
            assert one["halo"][1] >= 2, one
        else:
            assert "12.5px" in one["font"] or "14px" in one["font"], one  # in a pill, on white
        assert ratio(one["colour"], "#ffffff") >= RATIO[0], one
    lines = [
        one for one in look if one["kind"] == "line" and re.fullmatch("#[0-9a-f]{6}", one["colour"])
    ]
    told = {palette[name].lower() for name in ("conflict", "tight", "clear", "unknown", "ink")}
    rings = [one for one in lines if one["colour"] in told and one["alpha"] == 1]
    assert {one["colour"] for one in rings} == told
    for one in rings:
        cased = [colour for colour, width in one["under"] if width >= one["width"] + 0.9]
        grounds = cased[-1:] or [*water, land, "#ffffff", "#ffe1da", "#fff3d2"]
        assert min(ratio(one["colour"], ground) for ground in grounds) >= RATIO[1], one
    for name in ("zone", "shore"):
        assert ratio(palette[name], land) >= RATIO[1]
        assert ratio(palette[name], "#ffffff") >= RATIO[1]
    # the amber under the dashes is parted from the water by them, not by itself
    assert ratio(palette["tight"], palette["amber"]) >= RATIO[1]


# --- by ear and by keyboard


def tree(page):
    """The accessibility tree: role and name of all that a reader is told."""
    session = page.context.new_cdp_session(page)
    nodes = session.send("Accessibility.getFullAXTree")["nodes"]
    return [
        (node["role"]["value"], node.get("name", {}).get("value", ""))
        for node in nodes
        if not node.get("ignored")
    ]


CONTROLS = {
    "button",
    "link",
    "searchbox",
    "textbox",
    "checkbox",
    "DisclosureTriangle",
    "application",
    "combobox",
    "slider",
}


@pytest.mark.parametrize("size", SIZES)
def test_every_control_and_every_part_has_a_role_and_a_name(browser, tamber, size):  # noqa: F811
    for hash_, act in (
        STATES["first"],
        STATES["float"],
        STATES["tools"],
        STATES["key"],
        STATES["message"],
    ):
        with Visit(browser, tamber, hash_, **SIZES[size]) as visit:
            settle(visit.page, act, 250)
            told = tree(visit.page)
            for role, name in told:
                if role in CONTROLS | {"image", "img", "group", "navigation", "complementary"}:
                    assert name.strip() or role == "group", (role, told)
            roles = {role for role, _ in told}
            assert {"banner", "main", "application"} <= roles
            names = {name for role, name in told if role == "heading"}
            assert "Tamber Lake swim floats" in names


def test_all_that_the_map_tells_is_in_the_list(browser, tamber):  # noqa: F811
    with Visit(browser, tamber, **WIDE) as visit:
        rows = [name for role, name in tree(visit.page) if role == "button"]
        for verdict, number, words in (
            ("conflict", "28", "overlap by"),
            ("unknown", "12", "No depth"),
            ("retired", "39", "not checked"),
        ):
            assert any(
                name.startswith(f"{verdict}, float {number} ") and words in name for name in rows
            )
        visit.page.evaluate("location.hash = '#float=4'")
        settle(visit.page)
        told = " ".join(name for _, name in tree(visit.page))
        for words in (
            "From above",
            "The rig from the side in calm water: ",
            "in the storm: steady pull",
            "short",
        ):
            assert words in told


WALK = """() => {
  const node = document.activeElement;
  const box = node.getBoundingClientRect(), style = getComputedStyle(node);
  return { part: ['.head', '#list', '#map', '#panel', '.foot'].find((name) => node.closest(name)) || node.tagName, id: node.id,
    act: node.dataset ? node.dataset.act : '', seen: box.width > 0 && box.height > 0 && box.bottom > 0 && box.top < innerHeight,
    ring: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2, words: (node.getAttribute('aria-label') || node.textContent || '').slice(0, 40) };
}"""


def walk(page, most=140):
    page.evaluate(
        """(() => { const start = document.createElement('span'); start.tabIndex = -1; document.body.prepend(start); start.focus(); })()"""
    )
    steps = []
    for _ in range(most):
        page.keyboard.press("Tab")
        step = page.evaluate(WALK)
        if step["part"] in {"BODY", "HTML"}:
            break
        steps.append(step)
    else:
        pytest.fail(f"no way out after {most} steps: {steps[-3:]}")
    return steps


@pytest.mark.parametrize("size", SIZES)
def test_the_tab_key_walks_list_map_panel_and_out(browser, tamber, size):  # noqa: F811
    with Visit(browser, tamber, **SIZES[size]) as visit:
        page = visit.page
        if size == "phone":
            settle(page, "app.listSheet.set(1)", 300)
        steps = walk(page)
        order = [step["part"] for step in steps]
        parts = list(dict.fromkeys(order))
        wanted = {
            "wide": [".head", "#list", "#map", ".foot"],
            "between": [".head", "#map", ".foot"],
            "phone": ["#list", "#map"],
        }
        assert parts == wanted[size]
        assert order == sorted(order, key=parts.index)  # one after the other, none twice
        for step in steps:
            assert step["seen"], step
            assert step["ring"], step
        asked = {step["act"] for step in steps} | {step["id"] for step in steps}
        assert {"field", "whole"} <= asked
        reach = page.evaluate("""[...document.querySelectorAll('.app button, .app input, .app summary, .app [tabindex="0"]')]
            .filter((node) => node.offsetParent && getComputedStyle(node).visibility === 'visible' && !node.disabled).length""")
        assert len(steps) >= reach


def test_the_panel_comes_after_the_map_and_holds_the_focus_it_was_given(browser, tamber):  # noqa: F811
    with Visit(browser, tamber, "#float=22", **WIDE) as visit:
        page = visit.page
        assert page.evaluate("document.activeElement.textContent") == "Float 22"
        page.keyboard.press("Tab")
        assert page.evaluate(WALK)["words"] == "Close this float"
        parts = [step["part"] for step in walk(page)]
        assert list(dict.fromkeys(parts)) == [".head", "#list", "#map", "#panel", ".foot"]


def test_the_focus_goes_back_where_it_came_from(browser, tamber):  # noqa: F811
    with Visit(browser, tamber, **WIDE) as visit:
        page = visit.page
        row = visit.row("22")
        row.focus()
        page.keyboard.press("Enter")
        assert page.evaluate("document.activeElement.textContent") == "Float 22"
        page.keyboard.press("Escape")
        assert row.evaluate("(node) => node === document.activeElement")
        page.locator("#field").focus()
        page.keyboard.press("ArrowRight")
        page.evaluate("location.hash = '#float=nobody'")
        settle(page)
        page.locator("#message button").click()
        assert page.evaluate("document.activeElement.id") == "field"


@pytest.mark.parametrize("size", ["between", "phone"])
def test_menus_take_the_focus_and_give_it_back(browser, tamber, size):  # noqa: F811
    with Visit(browser, tamber, **SIZES[size]) as visit:
        page = visit.page
        more = page.locator("[data-act=tools]:visible")
        assert more.get_attribute("aria-expanded") == "false"
        more.focus()
        page.keyboard.press("Enter")
        assert more.get_attribute("aria-expanded") == "true"
        assert page.evaluate("document.activeElement.closest('#levels') !== null")
        page.keyboard.press("Escape")
        assert more.evaluate("(node) => node === document.activeElement")
        assert more.get_attribute("aria-expanded") == "false"
        page.keyboard.press("Enter")
        page.get_by_role("button", name="Key to the map").focus()
        page.keyboard.press("Enter")
        assert page.evaluate("document.activeElement.id") == "fold"
        page.keyboard.press("Enter")  # on the key's own title
        assert more.evaluate("(node) => node === document.activeElement")


def test_the_map_answers_to_keys(browser, tamber):  # noqa: F811
    with Visit(browser, tamber, **WIDE) as visit:
        page = visit.page
        place = "[app.map.getCenter().lng, app.map.getCenter().lat, app.map.getZoom()]"
        page.locator("#field").focus()
        for key, at, sign in (
            ("ArrowRight", 0, 1),
            ("ArrowUp", 1, 1),
            ("ArrowLeft", 0, -1),
            ("+", 2, 1),
            ("-", 2, -1),
        ):
            before = page.evaluate(place)
            page.keyboard.press(key)
            page.wait_for_timeout(450)
            assert np.sign(page.evaluate(place)[at] - before[at]) == sign, key


# --- large letters, narrow screens, less motion, the reader's colours

CUT = """() => {
  const found = [];
  const clips = (style, way) => ['hidden', 'clip'].includes(style[`overflow${way}`]);
  const scrolls = (style) => ['auto', 'scroll'].includes(style.overflowY) || ['auto', 'scroll'].includes(style.overflowX);
  const walker = document.createTreeWalker(document.querySelector('.app'), NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const host = node.parentElement;
    if (!node.textContent.trim() || !host.offsetParent || host.closest('svg, .vh, [hidden]') || getComputedStyle(host).visibility !== 'visible') continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    const box = range.getBoundingClientRect();
    if (!box.width) continue;
    for (let up = host; up && up !== document.body; up = up.parentElement) {
      const style = getComputedStyle(up), edge = up.getBoundingClientRect();
      const isBox = up.tagName === 'BUTTON' || up.matches('.call, .card, .head, .list, .panel, .tools, .foot, .message, td');
      const beside = (isBox || clips(style, 'X')) && (box.left < edge.left - 1.5 || box.right > edge.right + 1.5);
      const beyond = (up.tagName === 'BUTTON' || clips(style, 'Y')) && (box.top < edge.top - 2.5 || box.bottom > edge.bottom + 2.5);
      if (beside || beyond) {
        found.push([up.className || up.id || up.tagName, node.textContent.trim().slice(0, 40), [box.left, box.right, box.top, box.bottom].map(Math.round), [edge.left, edge.right, edge.top, edge.bottom].map(Math.round)]);
        break;
      }
      if (scrolls(style) || style.position === 'fixed') break; // what scrolls is reached
    }
  }
  return found;
}"""
LARGE = "document.addEventListener('DOMContentLoaded', () => {}); new MutationObserver(() => { if (document.documentElement) document.documentElement.style.fontSize = '200%'; }).observe(document, { childList: true, subtree: true });"


@pytest.mark.parametrize("size", SIZES)
def test_letters_of_twice_the_size_lose_nothing(browser, tamber, size):  # noqa: F811
    for name in ("first", "float", "message", "list", "tools", "key", "level"):
        hash_, act = STATES[name]
        context = browser.new_context(**SIZES[size])
        page = context.new_page()
        page.add_init_script(LARGE)
        page.goto(f"file://{tamber}{hash_}")
        page.wait_for_timeout(500)
        assert page.evaluate("getComputedStyle(document.documentElement).fontSize") == "32px"
        settle(page, act, 350)
        assert page.evaluate(CUT) == [], name
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), name
        context.close()


@pytest.mark.parametrize("high", [256, 568])
def test_a_screen_320_px_wide_loses_nothing(browser, tamber, high):  # noqa: F811
    """WCAG 2.2, 1.4.10: the same as a screen of 1280 px at 400 %."""
    narrow = {**PHONE, "viewport": {"width": 320, "height": high}}
    for name, (hash_, act) in STATES.items():
        with Visit(browser, tamber, hash_, **narrow) as visit:
            settle(visit.page, act, 350)
            assert visit.page.evaluate(CUT) == [], name
            assert visit.page.evaluate("document.documentElement.scrollWidth") <= 320, name
            if name in {"float", "conflict"}:
                assert visit.page.evaluate("document.querySelector('.panel').scrollWidth") <= 320


def test_the_language_of_longer_words_loses_nothing_either(browser, tmp_path):  # noqa: F811
    draw(assess(tamber_lake()), tmp_path / "map.html", texts=PSEUDO)
    for size in (PHONE, WIDE, BETWEEN):
        for name, (hash_, act) in STATES.items():
            with Visit(browser, tmp_path / "map.html", hash_, **size) as visit:
                settle(visit.page, act, 350)
                assert visit.page.evaluate(CUT) == [], (name, size)


def test_less_motion_is_none(browser, tamber):  # noqa: F811
    for motion, moves in (("reduce", False), ("no-preference", True)):
        with Visit(browser, tamber, reduced_motion=motion, **PHONE) as visit:
            page = visit.page
            lasts = page.evaluate(
                "['.list', '.panel'].map((name) => getComputedStyle(document.querySelector(name)).transitionProperty)"
            )
            assert (lasts != ["none", "none"]) is moves
            page.evaluate("app.jump(BY_ID.get('1'))")
            centre = "[app.map.getCenter().lng, app.map.getCenter().lat]"
            first = page.evaluate(centre)
            page.wait_for_timeout(500)
            assert (page.evaluate(centre) != first) is moves
            assert page.evaluate("app.map.options.inertia") is moves


def test_the_readers_own_colours_leave_everything_told(browser, tamber):  # noqa: F811
    with Visit(
        browser,
        tamber,
        "#float=4",
        forced_colors="active",
        color_scheme="dark",
        **WIDE,
    ) as visit:
        page = visit.page
        assert page.evaluate("matchMedia('(forced-colors: active)').matches")
        for name in ("#north", "#scale", ".panel .side", ".panel .clears .bar svg"):
            look = page.locator(name).first.evaluate(
                "(node) => [getComputedStyle(node).forcedColorAdjust, getComputedStyle(node).backgroundColor]"
            )
            assert look == ["none", "rgb(255, 255, 255)"], name  # dark ink on its own white paper
        pressed = page.evaluate(
            "[...document.querySelectorAll('#levels button')].map((node) => getComputedStyle(node).outlineStyle)"
        )
        assert pressed == ["solid", "none", "none"]
        chosen = page.locator("#rows [aria-current=true]").evaluate(
            "(node) => getComputedStyle(node).outlineStyle"
        )
        assert chosen == "solid"
        mark = page.locator("#rows .mark").first
        assert mark.evaluate("(node) => getComputedStyle(node).color") == page.evaluate(
            "getComputedStyle(document.body).color"
        )
    with Visit(browser, tamber, forced_colors="active", color_scheme="dark", **WIDE) as visit:
        key = visit.page.locator("#key svg").first.evaluate(
            "(node) => getComputedStyle(node).backgroundColor"
        )
        assert key == "rgb(255, 255, 255)"


def test_more_contrast_is_bright_sun_at_once(browser, tamber):  # noqa: F811
    for wish, sun in (("more", True), ("no-preference", False)):
        with Visit(browser, tamber, contrast=wish, **PHONE) as visit:
            assert visit.page.evaluate("app.look.sun") is sun
            assert (
                visit.page.locator("#buttons [data-act=sun]").get_attribute("aria-pressed")
                == str(sun).lower()
            )
