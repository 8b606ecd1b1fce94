"""Sheets as HTML: whole without scripts or network, words of people shown and never run."""

import base64
import hashlib
import re
from html import escape, unescape
from html.parser import HTMLParser

import pytest
from sheet_samples import HOSTILE, every_block, long_steps, page

from lakemap.outputs.sheets.blocks import TICK, Figure, Para, Steps
from lakemap.outputs.sheets.html import sheets_html
from lakemap.outputs.typeset import PAPERS

LETTER = PAPERS["letter"]
OURS = {
    "html", "head", "meta", "title", "style", "body", "nav", "h1", "ul", "li", "a", "main", "section",
    "header", "p", "small", "b", "div", "h2", "h3", "ol", "span", "table", "colgroup", "col", "tbody",
    "thead", "tr", "th", "td", "figure", "figcaption", "footer", "svg", "rect", "text",
}  # fmt: skip


class Reader(HTMLParser):
    """Tags, attributes and shown text."""

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.tags, self.attributes, self.shown = [], [], []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += [(tag, *pair) for pair in attrs]

    def handle_data(self, data):
        self.shown.append(data)


def read(pages, **more):
    return Reader(sheets_html(pages, title="Setting sheets", paper=LETTER, **more))


def test_words_of_people_are_shown_and_nothing_else_comes_of_them():
    pages = [
        page(words, every_block(words), title=words, lake=words, footer=words) for words in HOSTILE
    ]
    found = read(pages)
    assert set(found.tags) <= OURS
    shown = " ".join("".join(found.shown).split())
    for words in HOSTILE:
        assert shown.count(" ".join(words.split())) > 15
    named = {name for _, name, _ in found.attributes}
    assert not {name for name in named if name.startswith("on") or name in {"style", "src"}}
    assert all(value.startswith("#float=") for _, name, value in found.attributes if name == "href")


def test_nothing_is_asked_for_and_the_policy_forbids_it():
    text = sheets_html([page()], title="Setting sheets", paper=LETTER)
    outside = re.findall(
        r"(?:https?:)?//[^\s\"'<>)]+", text.replace("http://www.w3.org/2000/svg", "")
    )
    assert outside == []
    assert "<script" not in text
    rule = unescape(re.search(r'Content-Security-Policy" content="([^"]*)"', text)[1])
    style = re.search(r"<style>(.*?)</style>", text, re.DOTALL)[1]
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    assert f"style-src 'sha256-{digest}'" in rule
    assert "default-src 'none'" in rule
    assert re.search(r"script-src *;", rule)  # none at all


def test_a_section_to_a_page_with_a_way_to_each():
    pages = [page("15"), page("North cove")]
    text = sheets_html(pages, title="Setting sheets", paper=LETTER)
    assert text.count("<section") == 2
    assert '<a href="#float=15">15</a>' in text
    assert '<a href="#float=North%20cove">North cove</a>' in text
    assert 'id="float=North cove"' in text
    alone = sheets_html(pages[:1], title="Setting sheets", paper=LETTER)
    assert "<a href" not in alone


def test_one_float_with_all_its_sheets_has_a_way_to_each():
    kinds = ("setting", "member")
    pages = [page("15", kind=kind, title=f"{kind} sheet") for kind in kinds]
    text = sheets_html(pages, title="Sheets", paper=LETTER)
    names = re.findall(r'<section[^>]* id="([^"]*)"', text)
    assert len(set(names)) == 2


def test_a_page_too_long_goes_on_and_says_so():
    text = sheets_html([page("15", [long_steps(70)])], title="Setting sheets", paper=LETTER)
    count = text.count("<section")
    assert count > 1
    assert text.count('id="float=15"') == 1
    assert f">float 15, page 2 of {count}</p>" in text
    assert f"page 1 of {count}</span>" in text
    numbers = [int(one) for one in re.findall(r'<li value="(\d+)"', text)]
    assert numbers == list(range(1, 71))


def test_a_box_to_tick_is_a_box():
    text = sheets_html(
        [page(blocks=[Para(text=f"{TICK} good"), Steps(steps=("one",))])], title="x", paper=LETTER
    )
    assert TICK not in text
    assert text.count('<span class="tick') == 2


@pytest.mark.parametrize(("name", "wide", "high"), [("letter", 612, 792), ("a4", 595.276, 841.89)])
def test_it_asks_the_printer_for_its_paper(name, wide, high):
    text = sheets_html([page()], title="x", paper=PAPERS[name])
    found = re.search(r"@page \{ size: ([\d.]+)pt ([\d.]+)pt; margin: 30pt; \}", text)
    assert float(found[1]) == pytest.approx(wide, abs=0.01)
    assert float(found[2]) == pytest.approx(high, abs=0.01)


def test_a_drawing_has_words_for_those_who_cannot_see_it():
    drawn = Figure(svg='<svg viewBox="0 0 4 2"></svg>', alt='A "drawing" <b>', caption="c")
    text = sheets_html([page(blocks=[drawn])], title="x", paper=LETTER)
    assert f'role="img" aria-label="{escape(drawn.alt)}"' in text


def test_the_same_pages_give_the_same_text():
    texts = {sheets_html([page(), page("16")], title="x", paper=LETTER) for _ in range(2)}
    assert len(texts) == 1
