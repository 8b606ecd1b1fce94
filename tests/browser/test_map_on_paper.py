"""The print sheet through the browser's own print: letter and A4, no float and many."""

import re
import unicodedata

import pytest
from map_states import renumbered, tamber_lake
from test_map_in_a_browser import WIDE, Visit, browser  # noqa: F401 - a fixture

from lakemap.mapping import assess
from lakemap.outputs.web.page import draw

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def maps(tmp_path_factory):
    folder = tmp_path_factory.mktemp("paper")
    for count in (0, 1, 29, 90, 300):
        draw(assess(renumbered(tamber_lake(), count)), folder / f"f{count}.html")
    return folder


@pytest.mark.parametrize("paper", ["Letter", "A4"])
@pytest.mark.parametrize(("count", "pages"), [(0, 1), (1, 1), (29, 1), (90, 1), (300, 2)])
def test_the_sheet_is_whole_on_paper(browser, maps, tmp_path, paper, count, pages):  # noqa: F811
    """Pages, and every number of the table on them; read from the print by a general library."""
    pypdf = pytest.importorskip("pypdf")
    with Visit(browser, maps / f"f{count}.html", **WIDE) as visit:
        page = visit.page
        page.emulate_media(media="print")
        cut = page.evaluate("""() => [...document.querySelectorAll('#sheet .all b, #sheet .all span')].filter((node) => node.scrollWidth > node.clientWidth + 1
            && getComputedStyle(node).overflow !== 'visible').map((node) => node.textContent)""")
        assert cut == []
        page.emulate_media(media=None)
        path = tmp_path / "sheet.pdf"
        path.write_bytes(page.pdf(format=paper))
    read = pypdf.PdfReader(path)
    assert len(read.pages) == pages
    width, height = (float(side) for side in read.pages[0].mediabox[2:])
    assert (width, height) == pytest.approx({"Letter": (612, 792), "A4": (595, 842)}[paper], abs=2)
    text = unicodedata.normalize("NFKC", "\n".join(one.extract_text() for one in read.pages))
    words = re.sub(r"\s+", " ", text)
    assert "Tamber Lake swim floats" in words
    # the last caution: nothing is left behind
    assert words.rstrip().endswith("licensed practice decide.")
    numbers = re.findall(r"(?:^|\n)\s*(\d+)\s*\n?\s*(?:conflict|tight|unknown|clear)", text)
    if count > 1:
        assert sorted({int(number) for number in numbers}) == list(range(1, count + 1))
    if count == 0:
        assert "No floats yet. Add rows to the floats file." in words
