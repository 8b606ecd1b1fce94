"""The page in another language: nothing of its own stays English, and longer words fit a phone."""

import json
import re
from dataclasses import replace
from pathlib import Path

import pytest
from pseudo_language import FORM_SIGNS, LONGER, PSEUDO, turned
from sites_by_hand import make_assessment, make_sites
from test_map_in_a_browser import OPEN_ALL, PHONE, WIDE, Visit, browser  # noqa: F401 - a fixture

from lakemap.inputs.folder import read_field
from lakemap.mapping import assess
from lakemap.outputs.web.page import draw
from lakemap.outputs.words.plurals import PLURALS
from lakemap.outputs.words.texts import ENGLISH

DATA = Path(__file__).parents[2] / "data"
pytestmark = pytest.mark.browser

# What the page takes from elsewhere as it is: other people's files, and what the engine says of rigs.
GIVEN = """(() => {
  const all = (value) => (typeof value === 'string' ? [value] : Array.isArray(value) ? value.flatMap(all)
    : value && typeof value === 'object' ? Object.values(value).flatMap(all) : []);
  const work = DATA.working ? [DATA.working.steps, DATA.working.sources, DATA.working.about] : [];
  const file = [DATA.title, DATA.zones.flatMap((z) => [z.name, z.lot]), DATA.islands.map((one) => one[0]),
    FLOATS.flatMap((f) => [f.id, f.lot, f.private, f.clear.map((one) => one.against)]), Object.values(DATA.rules)];
  const engine = [DATA.texts, DATA.lines, FLOATS.map((f) => f.holds), work, FLOATS.flatMap((f) => f.clear.map((one) => one.rule))];
  return { file: all(file), engine: all(engine) };
})()"""
SHOWN = """(() => {
  const found = [];
  const walk = (node) => {
    if (node.nodeType === 3) { found.push(node.textContent); return; }
    if (node.nodeType !== 1 || ['SCRIPT', 'STYLE'].includes(node.tagName) || node.classList.contains('worked')) return;
    for (const name of ['aria-label', 'placeholder', 'title', 'alt', 'aria-description', 'aria-valuetext']) if (node.hasAttribute(name)) found.push(node.getAttribute(name));
    node.childNodes.forEach(walk);
  };
  walk(document.body);
  return [...found, ...(window.drawnWords || [])];
})()"""
DRAWN = """(() => {
  window.drawnWords = [];
  const plain = CanvasRenderingContext2D.prototype.fillText;
  CanvasRenderingContext2D.prototype.fillText = function (text, ...more) { window.drawnWords.push(text); return plain.call(this, text, ...more); };
})()"""
UNITS = {"ft", "lb", "mph", "in", "m", "s", "N", "kg", "LAT", "LON"}
# Of a part of a rig and of a block: names of goods, as the engine and its tables have them.
GOODS = ("12-in hollow", "8-in hollow", "solid")


def english_left(page):
    """Words in English letters that are neither given nor a unit."""
    given = page.evaluate(GIVEN)
    # as the page writes them: a great letter at the front, cut where there is little room
    known = {text for text in (*given["file"], *given["engine"], *GOODS) if text}
    known |= {text[:1].upper() + text[1:] for text in known}
    known |= {text[:1].lower() + text[1:] for text in known}
    known |= {text[:most] + "…" for text in known for most in (7, 8, 11, 23) if len(text) > most}
    known |= {part for text in known for part in re.split(r"[\n ]", text) if len(text) < 30}
    longest = sorted(
        (re.escape(text) for text in known if re.search("[A-Za-z]{2}", text)), key=len, reverse=True
    )
    pattern = re.compile("|".join(longest)) if longest else None
    left = set()
    for text in page.evaluate(SHOWN):
        rest = pattern.sub("", text) if pattern else text
        words = set(re.findall(r"[A-Za-z]{2,}", rest)) - UNITS
        if words:
            left.add((text[:120], tuple(sorted(words))))
    return left


@pytest.fixture(scope="module")
def maps(tmp_path_factory):
    folder = tmp_path_factory.mktemp("languages")
    tamber = read_field(DATA / "tamber-lake")
    draw(assess(tamber), folder / "tamber.html", texts=PSEUDO)
    draw(assess(replace(tamber, floats=())), folder / "empty.html", texts=PSEUDO)
    draw(assess(replace(tamber, soundings=None)), folder / "no_depths.html", texts=PSEUDO)
    draw(make_assessment(), folder / "sites.html", texts=PSEUDO, sites=make_sites())
    draw(make_assessment(), folder / "english_sites.html", sites=make_sites())
    return folder


def walk_about(page, phone):
    """Open what can be opened, and come to every message."""
    for name in ("15", "12", "36", "22", "39", "4"):
        page.evaluate("(name) => { location.hash = `#float=${name}`; }", name)
        page.wait_for_timeout(80)
        page.evaluate(OPEN_ALL)
        if not phone:
            page.evaluate("app.setLevel(2); app.setLevel(0)")
        page.wait_for_timeout(120)
        yield name
    page.evaluate("app.choose(null)")
    for zoom in (-3, -1, 1, 3):
        page.evaluate(
            "(zoom) => { app.showWhole(); app.map.setZoom(app.map.getZoom() + zoom); }", zoom
        )
        page.wait_for_timeout(120)
        yield f"zoom {zoom}"
    for act in (
        "app.showWhole()",
        "app.setLevel(1)",
        "location.hash = '#float=nobody'",
        "app.locate()",
    ):
        page.evaluate(act)
        page.wait_for_timeout(120)
        yield act
    page.locator("#find").evaluate(
        "(box) => { box.value = '§'; box.dispatchEvent(new Event('input')); }"
    )
    yield "nothing found"


@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["wide", "phone"])
def test_nothing_of_the_pages_own_stays_english(browser, maps, size):  # noqa: F811
    context = {**size}
    with Visit(browser, maps / "tamber.html", **context) as visit:
        page = visit.page
        page.evaluate(DRAWN)
        assert page.evaluate("document.documentElement.lang") == "pl"
        assert english_left(page) == set()  # the print sheet is among it
        for step in walk_about(page, size is PHONE):
            assert english_left(page) == set(), step
        assert any("⟦" in text for text in page.evaluate("window.drawnWords"))
        visit.quiet()


@pytest.mark.parametrize("name", ["empty", "no_depths"])
def test_a_bare_field_is_told_in_the_language_too(browser, maps, name):  # noqa: F811
    with Visit(browser, maps / f"{name}.html", **WIDE) as visit:
        visit.page.evaluate(DRAWN)
        visit.page.evaluate("app.redraw()")
        visit.page.wait_for_timeout(100)
        assert english_left(visit.page) == set()


def test_new_sites_are_told_in_the_language_too(browser, maps):  # noqa: F811
    with Visit(browser, maps / "sites.html", **WIDE) as visit:
        page = visit.page
        source = page.evaluate("SITES.about.join(' ')")
        theorem = make_sites().capacity.bound.source
        assert theorem in source
        told = set()
        for hash_ in ("#site=1", "#site=99", "#"):
            page.evaluate("(hash_) => { location.hash = hash_; }", hash_)
            page.wait_for_timeout(100)
            told |= english_left(page)
        assert {words for text, words in told if theorem not in text} == set()


def test_words_stand_in_the_order_of_the_language(browser, maps):  # noqa: F811
    """Figures keep their places in sentences whose words stand the other way round."""
    with Visit(browser, maps / "tamber.html", "#float=4", **WIDE) as visit:
        page = visit.page
        into = turned("Swings {far} into {thing} at low water.")
        about = re.escape(into).replace(r"\{far\}", r"[\d.]+ ft").replace(r"\{thing\}", ".+")
        assert re.search(about, page.locator("#panel .verdict").inner_text())
        spare = page.locator("#panel .clears .is-clear .amount").first
        before, after = f"⟦{turned('{much} to spare')}⟧".split("{much}")
        whole, shown = (
            spare.text_content(),
            spare.evaluate("(cell) => cell.childNodes[1].textContent"),
        )
        assert whole == f"{before}{shown}{after}"
        assert re.fullmatch(r"[\d.,]+ (?:ft|ft²)", shown)  # only the figure where there is no room


def test_counts_take_the_plural_form_of_the_language(browser, maps):  # noqa: F811
    with Visit(browser, maps / "tamber.html", **WIDE) as visit:
        said = visit.page.evaluate(
            "[1, 2, 4, 5, 11, 12, 21, 22, 1203].map((count) => words('way.blocks', { count }))"
        )
        signs = [text[-2] for text in said]
        forms = ("one", "few", "few", "many", "many", "many", "many", "few", "few")
        assert signs == [FORM_SIGNS[form] for form in forms]
        assert "1,203" in said[-1]
        headline = visit.page.locator(".headline").first.inner_text()
        assert headline.endswith(f"{FORM_SIGNS['many']}⟧")  # five


def test_plural_rules_are_those_of_the_browser(browser, maps):  # noqa: F811
    """The browser has its own copy of the Unicode tables."""
    with Visit(browser, maps / "tamber.html", **WIDE) as visit:
        for code, rule in PLURALS.items():
            told = visit.page.evaluate(
                "(code) => { const rule = new Intl.PluralRules(code); return Array.from({ length: 400 }, (_, n) => rule.select(n)); }",
                code,
            )
            assert told == [rule(n) for n in range(400)], code


BEYOND = """(() => {
  const beyond = [], wide = document.documentElement.clientWidth;
  for (const node of document.querySelectorAll('.app button, .app p, .app h1, .app h2, .app h3, .app td, .app li, .app small, .app .call, .app summary, .app label')) {
    const box = node.getBoundingClientRect();
    if (!box.width || !node.offsetParent || node.closest('.vh')) continue;
    const style = getComputedStyle(node);
    if (box.left < -1 || box.right > wide + 1) beyond.push(['off the screen', node.className || node.tagName, node.textContent.slice(0, 40)]);
    else if (node.scrollWidth > node.clientWidth + 2 && style.overflow !== 'visible' && style.textOverflow !== 'ellipsis' && style.display !== 'inline') beyond.push(['cut', node.className || node.tagName, node.textContent.slice(0, 40)]);
    else if (node.tagName === 'BUTTON' && node.scrollHeight > node.clientHeight + 3) beyond.push(['spills', node.className || node.id, node.textContent.slice(0, 40)]);
  }
  return beyond;
})()"""


def test_longer_words_fit_a_phone(browser, maps):  # noqa: F811
    lengths = [
        (len(re.sub(r"\{\w+\}", "", text)), len(re.sub(r"\{\w+\}", "", PSEUDO.table[key])) - 2)
        for key, text in ENGLISH.table.items()
        if isinstance(text, str) and len(text) > 30
    ]
    assert all(mine >= 1.25 * theirs for theirs, mine in lengths)
    assert sum(mine for _, mine in lengths) >= (1 + LONGER) * sum(n for n, _ in lengths)
    with Visit(browser, maps / "tamber.html", **PHONE) as visit:
        page = visit.page
        for state in (
            "",
            "app.listSheet.set(2)",
            "app.listSheet.set(0); toggle('show-tools')",
            "toggle('show-tools'); toggle('show-key')",
        ):
            page.evaluate(f"(() => {{ {state} }})()")
            page.wait_for_timeout(300)
            assert page.evaluate(BEYOND) == [], state
            assert page.evaluate("document.documentElement.scrollWidth") <= 390
        page.evaluate("app.node.classList.remove('show-key')")
        for name in ("15", "4", "12"):
            page.evaluate("(name) => { location.hash = `#float=${name}`; }", name)
            page.evaluate("app.panelSheet.set(1)")
            page.wait_for_timeout(300)
            page.evaluate(OPEN_ALL)
            page.wait_for_timeout(100)
            assert page.evaluate(BEYOND) == [], name
            assert page.evaluate("document.querySelector('.panel').scrollWidth") <= 390


def test_the_data_block_holds_each_text_once(maps):
    page = (maps / "tamber.html").read_text(encoding="utf-8")
    data = json.loads(re.search(r'id="field-data">(.*?)</script>', page, re.DOTALL).group(1))
    assert not [key for key in data["text"] if key.startswith("site.")]
    sites = (maps / "english_sites.html").read_text(encoding="utf-8")
    data = json.loads(re.search(r'id="field-data">(.*?)</script>', sites, re.DOTALL).group(1))
    assert data["text"]["site.title"] == "New site {rank}"
