"""The map as people use it: a real browser, wide and phone, nothing fetched, nothing run."""

import html
import os
import re
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from conftest import make_field, make_float

from lakemap.inputs.folder import read_field
from lakemap.mapping import assess
from lakemap.outputs.drawn.pull_plot import pull_plot_svg
from lakemap.outputs.drawn.rose import rose_says
from lakemap.outputs.drawn.side_view import side_view_svg
from lakemap.outputs.drawn.storm_view import storm_view_svg
from lakemap.outputs.web.compact import small_style
from lakemap.outputs.web.field_sheet import SHEET_CSS
from lakemap.outputs.web.leaflet_files import map_library
from lakemap.outputs.web.page import draw
from lakemap.outputs.web.page_frame import asset
from lakemap.outputs.web.panel_rig import side_view_of
from lakemap.outputs.words.formula_numbers import with_numbers
from lakemap.outputs.words.working_lines import number_text, worked_numbers

DATA = Path(__file__).parents[2] / "data"
CHROMIUM = os.environ.get("LAKEMAP_CHROMIUM") or shutil.which("chromium")
ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update", "--disable-sync"]  # fmt: skip
HOSTILE = [
    '<script>document.title="run"</script>',
    '"><img src=x onerror=alert(1)>',
    "`${alert(1)}`",
    "</script>",
]
pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def browser():
    if CHROMIUM is None:
        if os.environ.get("LAKEMAP_BROWSER_REQUIRED"):
            pytest.fail("no Chromium; install it, or name one in LAKEMAP_CHROMIUM")
        pytest.skip("no Chromium; install it, or name one in LAKEMAP_CHROMIUM")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        started = play.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield started
        started.close()


@pytest.fixture(scope="module")
def maps(tmp_path_factory):
    """Map files by name."""
    folder = tmp_path_factory.mktemp("maps")
    tamber = read_field(DATA / "tamber-lake")
    draw(assess(tamber), folder / "tamber.html")
    floats = [
        make_float(name, -60 + 40 * k, 0, lot=name, owner=name) for k, name in enumerate(HOSTILE)
    ]
    draw(assess(make_field(floats)), folder / "hostile.html", owners=True)
    draw(assess(replace(tamber, floats=())), folder / "empty.html")
    ninety = [replace(tamber.floats[k % 38], float_id=f"{k + 1}") for k in range(90)]
    draw(assess(replace(tamber, floats=tuple(ninety))), folder / "ninety.html")
    return folder


class Visit:
    """One page, and all that it said or asked for."""

    def __init__(self, browser, path, hash_="", **context):
        self.context = browser.new_context(**context)
        self.page = self.context.new_page()
        self.said, self.asked = [], []
        self.page.on("console", lambda message: self.said.append(message.text))
        self.page.on("pageerror", lambda error: self.said.append(str(error)))
        self.page.on("dialog", lambda dialog: self.said.append(dialog.message))
        self.page.on("request", lambda request: self.asked.append(request.url))
        self.page.goto(f"file://{path}{hash_}")
        if context.get("java_script_enabled", True):
            for _ in range(500):  # asked from outside: the page's policy forbids it to wait for us
                if self.page.evaluate(
                    "typeof app !== 'undefined' && document.querySelectorAll('#field canvas').length > 0"
                ):
                    break
                self.page.wait_for_timeout(20)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.context.close()

    def row(self, name):
        """The list's row of a float."""
        index = self.page.evaluate("(name) => BY_ID.get(name).index", name)
        return self.page.locator(f'#rows [data-at="{index}"]')

    def number(self, row):
        return row.locator(".num").inner_text()

    def quiet(self):
        others = [url for url in self.asked if not url.startswith(("file:", "data:"))]
        assert (self.said, others) == ([], [])


WIDE = {"viewport": {"width": 1440, "height": 900}}
PHONE = {
    "viewport": {"width": 390, "height": 844},
    "has_touch": True,
    "is_mobile": True,
    "device_scale_factor": 2,
}


@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["wide", "phone"])
@pytest.mark.parametrize("name", ["tamber", "hostile", "empty"])
def test_nothing_is_fetched_and_nothing_complains(browser, maps, name, size):
    with Visit(browser, maps / f"{name}.html", **size) as visit:
        visit.page.wait_for_timeout(150)
        visit.quiet()


def test_a_float_is_found_by_the_list_and_its_summary_opens(browser, maps):
    with Visit(browser, maps / "tamber.html", **WIDE) as visit:
        page = visit.page
        page.get_by_role("searchbox").fill("lot 4")
        row = visit.row("4")
        row.click()
        panel = page.locator("#panel")
        assert panel.get_by_role("heading", name="Float 4").is_visible()
        assert "Swings" in panel.inner_text()
        assert "into the boat channel at low water." in panel.inner_text()
        assert "Ground chain" in panel.inner_text()
        first = panel.locator(".clears tr").first.inner_text()
        assert "Boat channel" in first
        assert "short" in first
        assert page.evaluate("location.hash") == "#float=4"
        assert row.get_attribute("aria-current") == "true"
        page.keyboard.press("Escape")
        assert not panel.is_visible()
        visit.quiet()


def test_the_address_opens_a_float(browser, maps):
    with Visit(browser, maps / "tamber.html", "#float=15", **WIDE) as visit:
        assert visit.page.get_by_role("heading", name="Float 15").is_visible()
        visit.page.evaluate("location.hash = '#float=99'")
        visit.page.wait_for_timeout(100)
        assert "There is no float “99” on this map." in visit.page.locator("#message").inner_text()
        visit.page.go_back()
        visit.page.wait_for_timeout(100)
        assert visit.page.get_by_role("heading", name="Float 15").is_visible()


def test_a_click_on_the_map_opens_the_float_there(browser, maps):
    with Visit(browser, maps / "tamber.html", **WIDE) as visit:
        page = visit.page
        box = page.locator("#field").bounding_box()
        spot = page.evaluate(
            "(() => { const f = BY_ID.get('28'), p = app.map.latLngToContainerPoint([f.y, f.x]); return [p.x, p.y]; })()"
        )
        page.mouse.click(box["x"] + spot[0], box["y"] + spot[1])
        assert page.get_by_role("heading", name="Float 28").is_visible()


@pytest.mark.parametrize("size", [(1440, 900), (390, 844)])
def test_the_working_unfolds_and_says_where_its_numbers_come_from(browser, maps, size):
    width, height = size
    with Visit(
        browser, maps / "tamber.html", "#float=15", viewport={"width": width, "height": height}
    ) as visit:
        page = visit.page
        if width < 600:
            page.locator(".panel details.rig > summary").click()
        fold = page.locator(".panel details.fold", has_text="The working")
        assert fold.locator(".worked").count() == 0
        fold.locator("summary").first.focus()
        page.keyboard.press("Enter")
        fold.locator(".worked").first.wait_for()
        assert fold.locator(".worked").count() > 40
        said = fold.inner_text()
        for words in (
            "Steady pull in the storm",
            "F = Fwind + Fdrift + Fcurrent",  # the words stand below the line
            "Shore Protection Manual",
        ):
            assert words in said
        assert page.evaluate("document.querySelector('.panel').scrollWidth") <= max(width, 440)


OPEN_ALL = "document.querySelectorAll('.panel details').forEach((one) => { one.open = true; })"


def test_the_working_unfolds_by_a_click_and_folds_again(browser, maps):
    with Visit(browser, maps / "tamber.html", "#float=22", **WIDE) as visit:
        for name in ("Three ways to build it", "The working"):
            fold = visit.page.locator(".panel details.fold", has_text=name)
            inside = fold.locator("div").first
            assert not inside.is_visible()
            fold.locator("summary").click()
            inside.wait_for()
            fold.locator("summary").click()
            assert not inside.is_visible()
        visit.quiet()


def test_the_working_is_that_of_the_terminal(browser, maps):
    """Names and numbers, in order; the page holds five digits of each and shows four."""
    assessment = assess(read_field(DATA / "tamber-lake"))
    one = next(one for one in assessment.floats if one.record.float_id == "22")
    with Visit(browser, maps / "tamber.html", "#float=22", **WIDE) as visit:
        visit.page.evaluate(OPEN_ALL)
        visit.page.locator(".worked").first.wait_for()
        shown = visit.page.eval_on_selector_all(
            ".worked .named", "nodes => nodes.map((node) => [...node.children].map((one) => one.textContent))"
        )  # fmt: skip
        told = visit.page.eval_on_selector_all(
            ".worked", "nodes => nodes.map((node) => { const lines = node.querySelectorAll('.formula'); return lines[1] ? lines[1].textContent : ''; })"
        )  # fmt: skip
    numbers = worked_numbers(one, assessment)
    put_in = [
        with_numbers(
            worked.words,
            worked.symbol,
            {term.symbol: number_text(value, term.unit, "m-kg") for term, value in worked.inputs},
        )
        for worked in numbers
    ]
    # where numbers are put in, and in which places; the last digit of one may differ
    blank = re.compile(r"[−\d.,]+(?=[\s)])")
    mine = [blank.sub("#", text.replace("\u00a0", " ")) for text in told]
    raised = re.compile(
        r"\^(?:\(([^)]*)\))?"
    )  # raised on the page, without the sign or its brackets
    assert mine == [
        raised.sub(r"\1", blank.sub("#", f"= {text}")) if text else "" for text in put_in
    ]
    assert [name for name, _ in shown] == [worked.name for worked in numbers]
    same = sum(
        figure.partition(" = ")[2].replace("\u00a0", " ")
        == number_text(worked.value, worked.unit, "ft-lb")
        for (_, figure), worked in zip(shown, numbers, strict=True)
    )
    assert same >= 0.8 * len(numbers)  # the rest by one in the last digit
    for (_, figure), worked in zip(shown, numbers, strict=True):
        first = figure.partition(" = ")[2].replace("\u00a0", " ").split(" ")[0].rstrip("°")
        if first != "without":
            value = float(first.replace(",", "").replace("−", "-"))
            assert value == pytest.approx(worked.value, rel=6e-4, abs=1e-9), worked.name


def svg_texts(svg):
    return [html.unescape(text) for text in re.findall(r"<text[^>]*>([^<]*)</text>", svg)]


@pytest.mark.parametrize("name", ["15", "4", "36"])
def test_pictures_say_what_those_of_the_size_command_say(browser, maps, name):
    """The page unpacks and rounds its own numbers; the other picture is drawn from the records."""
    assessment = assess(read_field(DATA / "tamber-lake"))
    at = next(k for k, one in enumerate(assessment.floats) if one.record.float_id == name)
    one, pictures = assessment.floats[at], assessment.rig_pictures()[at]
    with Visit(browser, maps / "tamber.html", f"#float={name}", **WIDE) as visit:
        for level, button in enumerate(("Low water −1.5 ft", "Normal", "High +1 ft")):
            visit.page.get_by_role("button", name=button, exact=True).click()
            view = side_view_of(one, level)
            calm = svg_texts(side_view_svg(view, units="ft-lb"))
            storm = svg_texts(
                storm_view_svg(
                    view, pictures.storm[level], wave_m=one.sizing.storm.wave_height_max_m,
                    mean_n=one.sizing.loads_n.mean, units="ft-lb",
                )
            )  # fmt: skip
            for label, told in (("in calm water", calm), ("in the storm", storm)):
                shown = visit.page.locator(f".panel svg[aria-label*='{label}'] text")
                mine = set(shown.all_text_contents())
                assert {text for text in told if "water" not in text} <= mine, label
        said = visit.page.locator(".panel").inner_text()
        assert rose_says(pictures.rose, "ft-lb") in said
        plot = set(visit.page.locator(".panel svg[aria-label^='Pull on'] text").all_text_contents())
        told = svg_texts(pull_plot_svg(pictures.curve, units="ft-lb"))
        assert {text for text in told if text.startswith(("storm", "taut", "the "))} <= plot


@pytest.mark.parametrize("name", ["15", "36", "12", "39"])
def test_the_whole_panel_fits_a_phone(browser, maps, name):
    with Visit(browser, maps / "tamber.html", f"#float={name}", **PHONE) as visit:
        page = visit.page
        page.evaluate(OPEN_ALL)
        page.wait_for_timeout(100)
        beyond = page.eval_on_selector_all(
            ".panel table, .panel svg.side, .panel .worked, .panel p, .panel li",
            "nodes => nodes.map((node) => node.getBoundingClientRect()).filter((box) => box.left < 0 || box.right > 390).length",
        )
        assert beyond == 0
        assert page.evaluate("document.querySelector('.panel').scrollWidth") <= 390
        wide = page.eval_on_selector_all(
            ".panel svg.side", "nodes => nodes.map((node) => node.getBoundingClientRect().width)"
        )
        assert all(width > 350 for width in wide)
        visit.quiet()


@pytest.mark.parametrize("name", ["12", "39"])
def test_nothing_unknown_is_shown_as_a_number(browser, maps, name):
    with Visit(browser, maps / "tamber.html", f"#float={name}", **WIDE) as visit:
        visit.page.evaluate(OPEN_ALL)
        visit.page.wait_for_timeout(100)
        said = visit.page.locator(".panel").inner_text()
        for word in ("NaN", "undefined", "null", "Infinity", "−0 ", "-0 "):
            assert word not in said
        visit.quiet()


def test_pictures_of_the_rig_say_their_message(browser, maps):
    with Visit(
        browser, maps / "tamber.html", "#float=15", viewport={"width": 1440, "height": 900}
    ) as visit:
        names = visit.page.eval_on_selector_all(
            ".panel [role=img]", "nodes => nodes.map((node) => node.getAttribute('aria-label'))"
        )
        assert all(names)
        for words in (
            "in calm water",
            "in the storm: steady pull",
            "Pull on the float",
            "Open water around",
        ):
            assert any(words in name for name in names), words


def test_the_panel_shows_the_numbers_of_the_sizing(browser, maps):
    import math

    sizing = next(
        one.sizing
        for one in assess(read_field(DATA / "tamber-lake")).floats
        if one.record.float_id == "15"
    )
    with Visit(
        browser, maps / "tamber.html", "#float=15", viewport={"width": 1440, "height": 900}
    ) as visit:
        said = visit.page.locator(".panel").inner_text()
        for newtons in (sizing.loads_n.mean, sizing.loads_n.peak, sizing.loads_n.wind):
            assert f"{math.ceil(newtons / 4.4482216152605):,} lb" in said
        assert "Does the primary hold?" in said
        assert "Holds by its weight alone up to" in said


def test_a_float_without_depth_has_a_panel_too(browser, maps):
    tamber = read_field(DATA / "tamber-lake")
    draw(assess(replace(tamber, soundings=None)), maps / "deep.html")
    with Visit(
        browser, maps / "deep.html", "#float=15", viewport={"width": 1440, "height": 900}
    ) as visit:
        said = visit.page.locator(".panel").inner_text()
        assert "Not drawn: its depth or a length is not known." in said
        visit.page.locator(".panel details.fold", has_text="The working").locator("summary").click()


def test_hostile_names_stay_text(browser, maps):
    with Visit(browser, maps / "hostile.html", **WIDE) as visit:
        page = visit.page
        assert page.title() == "Square"
        numbers = page.locator("#rows .num").all_inner_texts()
        assert sorted(numbers) == sorted(HOSTILE)
        for name in HOSTILE:
            page.locator("#rows .row").nth(numbers.index(name)).click()
            assert page.locator("#panel h2").inner_text() == f"Float {name}"
            page.evaluate(OPEN_ALL)
            page.locator(".panel .worked").first.wait_for()
            label = page.locator(".panel svg[aria-label^='Open water']").get_attribute("aria-label")
            assert label.startswith(f"Open water around float {name}: ")
            page.keyboard.press("Escape")
        assert page.locator("img").count() == 0
        visit.quiet()


def test_levels_redraw_and_verdicts_stay(browser, maps):
    with Visit(browser, maps / "tamber.html", **WIDE) as visit:
        page = visit.page
        before = page.locator("#field canvas").evaluate("c => c.toDataURL()")
        page.get_by_role("button", name="High +1 ft").click()
        page.wait_for_timeout(120)
        assert page.locator("#field canvas").evaluate("c => c.toDataURL()") != before
        assert "lowest water" in page.locator("#level-note").inner_text()
        assert page.locator(".headline").first.inner_text().endswith("in conflict")


def test_counts_filter_the_list(browser, maps):
    with Visit(browser, maps / "tamber.html", **WIDE) as visit:
        page = visit.page
        page.locator("#counts button").nth(2).click()
        assert page.locator("#rows .row").count() == 1
        assert "No depth is known here" in page.locator("#rows .row").inner_text()
        page.locator("#counts button").nth(2).click()
        assert page.locator("#rows .row").count() == 40


def test_keyboard(browser, maps):
    with Visit(browser, maps / "tamber.html", **WIDE) as visit:
        page = visit.page
        page.keyboard.press("/")
        assert page.evaluate("document.activeElement.id") == "find"
        page.keyboard.type("22")
        page.keyboard.press("Enter")
        assert page.get_by_role("heading", name="Float 22").is_visible()
        page.keyboard.press("Escape")
        assert page.evaluate("document.activeElement.id") == "find"  # the focus goes back
        page.keyboard.press("ArrowDown")
        page.keyboard.press("ArrowDown")
        first, second = page.locator("#rows .row").all()[:2]
        focused = "document.activeElement.querySelector('.num').textContent"
        assert page.evaluate(focused) == visit.number(second)
        page.keyboard.press("Enter")
        assert page.locator("#panel h2").inner_text() == f"Float {visit.number(second)}"
        page.keyboard.press("Escape")
        assert page.evaluate(focused) == visit.number(second)
        assert first.is_visible()


def test_every_control_has_a_name(browser, maps):
    for size in (WIDE, PHONE):
        with Visit(browser, maps / "tamber.html", "#float=4", **size) as visit:
            nameless = visit.page.evaluate(
                "[...document.querySelectorAll('.app button, .app input')].filter(b => b.offsetParent && !(b.getAttribute('aria-label') || b.textContent.trim() || (b.labels && b.labels.length))).length"
            )
            assert nameless == 0


def test_phone_folds_the_list_and_fills_the_screen(browser, maps):
    with Visit(browser, maps / "tamber.html", **PHONE) as visit:
        page = visit.page
        field, sheet = (page.locator(name).bounding_box() for name in ("#field", "#list"))
        assert field["width"] == 390
        assert field["height"] > 700
        assert 108 <= sheet["height"] <= 130  # as high as its sentence
        assert not page.locator("#rows").is_visible()
        mine = page.get_by_role("button", name="Find mine")
        assert mine.bounding_box()["height"] >= 52
        mine.tap()
        page.get_by_role("searchbox").fill("15")
        visit.row("15").tap()
        panel = page.locator("#panel").bounding_box()
        assert panel["y"] > 300
        assert page.evaluate("document.documentElement.scrollWidth") <= 390
        visit.quiet()


def test_the_small_style_means_what_the_whole_one_means(browser, maps):
    """The browser's own reading of both; rules of the library that no page of ours uses are gone."""
    whole = asset("page.css") + asset("sites.css") + SHEET_CSS
    rules = "(text) => { const sheet = new CSSStyleSheet(); sheet.replaceSync(text); return [...sheet.cssRules].map((rule) => rule.cssText); }"
    with Visit(browser, maps / "tamber.html", **WIDE) as visit:
        told = visit.page.evaluate(rules, whole)
        assert len(told) > 200
        small = visit.page.evaluate(rules, small_style(whole))
        # a value with var() in it is kept as it was written
        assert [re.sub(r",\s+", ",", rule) for rule in small] == [
            re.sub(r",\s+", ",", rule) for rule in told
        ]
        held = visit.page.evaluate(rules, map_library().style)
        assert any(rule.startswith(".leaflet-container") for rule in held)
        classes = visit.page.eval_on_selector_all(
            "#field, #field *", "nodes => nodes.flatMap((node) => [...node.classList])"
        )
        gone = {
            name
            for name in classes
            if re.search("(popup|tooltip|tile|marker)(?!-pane)|-icon", name)
        }
        assert gone == set()


def test_without_scripts_the_picture_and_the_table_stand_there(browser, maps):
    with Visit(browser, maps / "tamber.html", java_script_enabled=False, **WIDE) as visit:
        page = visit.page
        assert page.locator("#sheet svg").first.is_visible()
        assert not page.locator("#app").is_visible()
        assert page.locator("#sheet .all > div").count() == 41
        assert "floats are in conflict" in page.locator("#sheet").inner_text()


def test_where_a_script_fails_the_picture_and_the_table_stand_there(browser, maps):
    """As in a browser too old for the map."""
    context = browser.new_context(**WIDE)
    page = context.new_page()
    page.add_init_script("delete window.Path2D")
    page.goto(f"file://{maps / 'tamber.html'}")
    page.wait_for_timeout(300)
    assert page.locator("#sheet svg").first.is_visible()
    assert not page.locator("#app").is_visible()
    context.close()


@pytest.mark.parametrize("name", ["tamber", "ninety"])
def test_it_prints_on_one_page(browser, maps, name):
    with Visit(browser, maps / f"{name}.html", **WIDE) as visit:
        pdf = visit.page.pdf(prefer_css_page_size=True)
        assert len(re.findall(rb"/Type\s*/Page[^s]", pdf)) == 1


def test_text_on_paper_and_buttons_has_contrast_enough(browser, maps):
    """WCAG 2.2, 1.4.3: 4.5 to 1 for text; computed from what the browser paints."""
    script = """() => {
      const lum = (c) => { const v = c.map((x) => { x /= 255; return x <= 0.04045 ? x / 12.92 : ((x + 0.055) / 1.055) ** 2.4; }); return 0.2126 * v[0] + 0.7152 * v[1] + 0.0722 * v[2]; };
      const parse = (s) => { const m = s.match(/[\\d.]+/g).map(Number); return m.length < 4 || m[3] > 0 ? m.slice(0, 3) : null; };
      const ground = (node) => { for (let n = node; n; n = n.parentElement) { const c = parse(getComputedStyle(n).backgroundColor); if (c) return c; } return [255, 255, 255]; };
      const bad = [];
      for (const node of document.querySelectorAll('.app *')) {
        if (!node.offsetParent || ![...node.childNodes].some((c) => c.nodeType === 3 && c.textContent.trim())) continue;
        const a = lum(parse(getComputedStyle(node).color)), b = lum(ground(node));
        const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
        if (ratio < 4.5) bad.push([node.className || node.tagName, node.textContent.slice(0, 30), ratio]);
      }
      return bad;
    }"""
    for size in (WIDE, PHONE):
        with Visit(browser, maps / "tamber.html", "#float=4", **size) as visit:
            visit.page.evaluate(OPEN_ALL)
            visit.page.locator(".panel .worked").first.wait_for()
            assert visit.page.evaluate(script) == []
