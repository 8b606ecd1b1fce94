"""Sheets in a real browser: a float to a printed page, read on a phone, nothing run or fetched."""

import io
import os
import shutil
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from pypdf import PdfReader
from sheet_samples import HOSTILE, every_block, long_steps, page

from lakemap.inputs.folder import read_field
from lakemap.mapping import assess
from lakemap.outputs.sheets.asked import SheetAsk
from lakemap.outputs.sheets.blocks import KINDS
from lakemap.outputs.sheets.heights import block_pt, strip_pt
from lakemap.outputs.sheets.html import sheets_html
from lakemap.outputs.sheets.layout import lay_out, room_pt
from lakemap.outputs.sheets.sheets import build_pages
from lakemap.outputs.typeset import PAPERS

DATA = Path(__file__).parents[2] / "data"
CHROMIUM = os.environ.get("LAKEMAP_CHROMIUM") or shutil.which("chromium")
ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update", "--disable-sync"]  # fmt: skip
PT_PX = 0.75
BOTTOMS = """[...document.querySelectorAll('.body > *')].map(one => {
  const box = one.getBoundingClientRect(), look = getComputedStyle(one);
  return box.height + parseFloat(look.marginTop) + parseFloat(look.marginBottom); })"""
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
def pond():
    """Every page of the smaller demo field, by kind."""
    return build_pages(assess(read_field(DATA / "small-pond")), KINDS, ask=SheetAsk())


@pytest.fixture(scope="module")
def conflict():
    """All pages of one float of the larger field that has more to be said of it than most."""
    tamber = assess(read_field(DATA / "tamber-lake"))
    return build_pages(tamber, KINDS, ask=SheetAsk(owners=True), float_id="4")


@pytest.fixture
def visit(browser, tmp_path):
    """Open pages of sheets; what the browser says or asks for is kept."""
    opened = []

    def open_(pages, *, paper="letter", hash_="", **context):
        path = tmp_path / f"{len(opened)}.html"
        path.write_text(sheets_html(pages, title="Sheets", paper=PAPERS[paper]), encoding="utf-8")
        within = browser.new_context(**context)
        opened.append(within)
        one = within.new_page()
        one.said, one.asked = [], []
        one.on("console", lambda message: one.said.append(message.text))
        one.on("pageerror", lambda error: one.said.append(str(error)))
        one.on("dialog", lambda dialog: one.said.append(dialog.message))
        one.on("request", lambda request: one.asked.append(request.url))
        one.goto(f"{path.as_uri()}{hash_}")
        return one

    yield open_
    for within in opened:
        within.close()


def printed(shown):
    return PdfReader(io.BytesIO(shown.pdf(prefer_css_page_size=True, print_background=True)))


def words_of(one):
    return " ".join(one.extract_text().replace("ﬂ", "fl").split())


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("kind", KINDS)
def test_so_many_floats_so_many_printed_pages(visit, pond, conflict, kind, paper):
    pages = [*pond[kind], *conflict.get(kind, ())]
    told = printed(visit(pages, paper=paper))
    assert len(told.pages) == len(pages) > 5
    for one, sheet in zip(pages, told.pages, strict=True):
        assert f"float {one.float_id} · {one.title.lower()}" in words_of(sheet)
        size = [float(side) for side in sheet.mediabox[2:]]
        assert size == pytest.approx([PAPERS[paper].width_pt, PAPERS[paper].height_pt], abs=1)


@pytest.mark.parametrize("count", [5, 24, 33, 41, 90])
def test_what_does_not_fit_prints_on_as_many_pages_as_it_says(visit, count):
    pages = [page("15", [long_steps(count)]), page("16")]
    told = printed(visit(pages))
    own = len(lay_out(pages[0], PAPERS["letter"]))
    assert len(told.pages) == own + 1
    texts = [words_of(one) for one in told.pages]
    for k, text in enumerate(texts[:own], start=1):
        assert ("Square Lake · page" in text) == (own > 1)
        assert own == 1 or f"Square Lake · page {k} of {own}" in text
    text = " ".join(texts)
    assert all(f"step {k} " in text for k in range(1, count + 1))


@pytest.mark.parametrize("words", ["some words", "many words in a row " * 6, "W" * 70])
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_no_block_is_printed_higher_than_the_layout_reckons(visit, words, paper):
    one = page("15", every_block(words))
    wide, _ = room_pt(PAPERS[paper])
    parts = lay_out(one, PAPERS[paper])
    shown = visit([one], paper=paper, viewport={"width": round(wide / PT_PX), "height": 900})
    shown.emulate_media(media="print")
    heights = [high * PT_PX for high in shown.evaluate(BOTTOMS)]
    blocks = [(block, part.fit) for part in parts for block in part.blocks]
    assert len(heights) == len(blocks)
    for high, (block, fit) in zip(heights, blocks, strict=True):
        assert high <= block_pt(block, wide, fit) + 0.4, type(block).__name__
    strip = shown.evaluate("document.querySelector('.strip').getBoundingClientRect().height")
    assert strip * PT_PX <= strip_pt(one, wide, parts[0].fit) + 0.4


def test_nothing_hostile_runs_and_nothing_is_fetched(visit):
    pages = [page(words, every_block(words), title=words, lake=words) for words in HOSTILE]
    shown = visit(pages)
    assert shown.said == []
    assert len(shown.asked) == 1
    assert shown.title() == "Sheets"
    assert shown.locator("section").count() >= len(HOSTILE)
    assert all(words in shown.inner_text("main") for words in HOSTILE)


def test_on_a_phone_it_is_as_wide_as_the_phone_and_each_float_is_a_tap_away(visit, pond):
    shown = visit(pond["inspection"], viewport={"width": 390, "height": 844}, has_touch=True)
    assert shown.evaluate("document.documentElement.scrollWidth") <= 390
    for link in shown.locator("nav a").all():
        box = link.bounding_box()
        assert min(box["width"], box["height"]) >= 40
    shown.locator("nav a", has_text="3").tap()
    top = shown.locator('section[id="float=3"]').bounding_box()["y"]
    assert 0 <= top < 100
    size = shown.evaluate(
        "parseFloat(getComputedStyle(document.querySelector('.steps, td')).fontSize)"
    )
    assert size >= 16


def test_a_link_opens_on_its_float(visit, pond):
    shown = visit(pond["setting"], hash_="#float=4", viewport={"width": 390, "height": 844})
    assert 0 <= shown.locator('section[id="float=4"]').bounding_box()["y"] < 100


@pytest.mark.parametrize("width", [390, 1440])
def test_contrast_names_and_roles(visit, pond, conflict, width):
    pages = [
        *conflict["setting"],
        *pond["lifting"][:1],
        *pond["member"][:1],
        *pond["inspection"][:1],
    ]
    shown = visit(pages, viewport={"width": width, "height": 844})
    found = Axe().run(shown)
    # a figure's name stands for its drawing; landmarks of one file are told apart by their headings
    assert found.violations_count == 0, found.generate_report()


def test_the_way_through_the_file_is_not_printed(visit, pond):
    told = printed(visit(pond["member"]))
    assert not words_of(told.pages[0]).startswith("Sheets")
