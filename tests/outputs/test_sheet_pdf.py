"""Sheets as PDF: text that can be read back, whatever people wrote, and ink inside the margins."""

import io
import json
import re

import numpy as np
import pytest
from PIL import Image
from pypdf import PdfReader
from sheet_samples import HOSTILE, every_block, long_steps, page

from lakemap.basis.errors import BadInputError
from lakemap.outputs import typeset
from lakemap.outputs.sheets.blocks import Field, Fields, Para
from lakemap.outputs.sheets.pdf import sheets_pdf, sheets_template
from lakemap.outputs.typeset import PAPERS, set_pages

LETTER = PAPERS["letter"]
DPI = 72


def read(pages, paper=LETTER):
    return PdfReader(io.BytesIO(sheets_pdf(pages, title="Setting sheets", paper=paper)))


def plain(text):
    """Words without blanks: a reader may put a blank where a line is broken, or a word is spaced."""
    return re.sub(
        r"[\s\u00a0\u200b]+", "", text.replace("ﬁ", "fi").replace("ﬂ", "fl").replace("ﬀ", "ff")
    )


@pytest.fixture(scope="module")
def hostile():
    return read([page(f"{k}", every_block(words)) for k, words in enumerate(HOSTILE)])


def test_every_word_is_read_back_as_it_was_written(hostile):
    assert len(hostile.pages) == len(HOSTILE)
    for k, words in enumerate(HOSTILE):
        text = plain(hostile.pages[k].extract_text())
        for begin in ("caption", "heading", "name", "value", "care", "caution", "second", "first step",
                      "cell", "head", "plain", "quiet", "strong", "label", "known", "sand", "notes"):  # fmt: skip
            assert plain(f"{begin} {words}") in text, (begin, words)
        assert "drawnwords" in text


@pytest.mark.parametrize("words", HOSTILE)
def test_hostile_names_too(words):
    told = read(
        [
            page(
                words,
                [Para(text="a")],
                title=words,
                lake=words,
                footer=words,
                under=(words,),
                facts=(words,),
            )
        ]
    )
    assert len(told.pages) == 1
    assert plain(told.pages[0].extract_text()).count(plain(words)) >= 6


def test_what_people_wrote_is_data_and_never_in_the_template():
    made = sheets_template(
        [page(words, every_block(words)) for words in HOSTILE], title="x", paper=LETTER
    )
    quiet = sheets_template([page("a", every_block("b"))], title="x", paper=LETTER)
    assert made.source == quiet.source
    assert json.loads(made.texts["data.json"])["parts"][0]["float_id"] == HOSTILE[0]


@pytest.mark.parametrize("name", ["letter", "a4"])
def test_a_page_to_a_float(name):
    paper = PAPERS[name]
    told = read([page(f"{k}") for k in range(5)], paper)
    assert len(told.pages) == 5
    for k, one in enumerate(told.pages):
        assert [float(side) for side in one.mediabox[2:]] == pytest.approx(
            [paper.width_pt, paper.height_pt], abs=0.01
        )
        assert f"float {k} · setting sheet" in one.extract_text().replace("ﬂ", "fl")
    assert told.metadata.title == "Setting sheets"


@pytest.mark.parametrize("count", [15, 33, 60, 90])
def test_what_does_not_fit_goes_on_and_no_step_is_lost(count):
    told = read([page("15", [long_steps(count)]), page("16")])
    texts = [" ".join(one.extract_text().replace("ﬂ", "fl").split()) for one in told.pages]
    own = [text for text in texts if "float 15" in text]
    assert len(own) == len(texts) - 1
    if len(own) > 1:
        for k, text in enumerate(own, start=1):
            assert f"page {k} of {len(own)}" in text
    steps = [int(found) for text in own for found in re.findall(r"step (\d+) word", text)]
    assert steps == list(range(1, count + 1))


def ink(made, part=0):
    """Which dots of a page are not white."""
    png = set_pages(made, kind="png", dpi=DPI)
    grey = np.asarray(
        Image.open(io.BytesIO(png[part] if isinstance(png, list) else png)).convert("L")
    )
    return grey < 250


@pytest.mark.parametrize("words", ["some words", "W" * 90, "many words in a row " * 12])
def test_all_ink_lies_inside_the_margins_and_there_is_some_everywhere(words):
    made = sheets_template([page("15", every_block(words)[:5] if len(words) > 80 else every_block(words))], title="x", paper=LETTER)  # fmt: skip
    dots = ink(made)
    rows, columns = np.nonzero(dots)
    high, wide = dots.shape
    assert columns.min() >= 30 - 2  # a frame's border is half outside
    assert columns.max() <= wide - 30 + 2
    assert rows.min() >= 30 - 2
    assert rows.max() <= high - 30
    assert dots[:200].any()
    assert dots[high - 30 - 14 :].any()  # the footer


def test_a_choice_longer_than_its_column_stays_on_the_page():
    long = Fields(
        fields=(Field(label="a", choices=("a choice that goes on " * 12, "short")),), columns=3
    )
    dots = ink(sheets_template([page(blocks=[long])], title="x", paper=LETTER))
    assert np.nonzero(dots)[1].max() <= dots.shape[1] - 30 + 2


def test_signs_that_our_font_has_not_are_left_to_the_device():
    told = read([page("15", [Para(text="湖 lake")])])
    assert "lake" in told.pages[0].extract_text()


def test_the_same_pages_give_the_same_bytes_and_no_date():
    first, second = (sheets_pdf([page(), page("16")], title="x", paper=LETTER) for _ in range(2))
    assert first == second
    assert "/CreationDate" not in PdfReader(io.BytesIO(first)).metadata


def test_without_the_extra_one_message_says_what_to_do(monkeypatch):
    real = typeset.importlib.util.find_spec
    monkeypatch.setattr(
        typeset.importlib.util, "find_spec", lambda name: None if name == "typst" else real(name)
    )
    with pytest.raises(BadInputError, match=r"pip install 'lakemap\[paper\]'"):
        sheets_pdf([page()], title="x", paper=LETTER)
