"""How wide text comes out, held against the font itself."""

from pathlib import Path

import matplotlib as mpl
import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from lakemap.outputs.drawn.letters import cut_to, width, wrap

FONTS = Path(mpl.__file__).parent / "mpl-data" / "fonts" / "ttf"
LINES = (
    "Tamber Lake swim floats",
    "Comes within 17.8 ft of Camp swim area; 20 ft is asked.",
    "−6.4 × 2 · 9 m² “quoted” – it’s 4° — «so»",
    "Höhe Übung Ærø Œuvre łódź đakovo Ñandú ação",
    "Озеро Журавлиное, щука и форель",
    "Λίμνη των κύκνων",
    "湖の浮き台",
    "fifteen flags WWWW iiii",
)
WORDS = st.text(st.characters(max_codepoint=0x2FFF, exclude_categories=("Cs", "Cc")), max_size=60)


def real_width(text, size, *, bold):
    """By the font's own table; a sign that it lacks is a square."""
    font = TTFont(FONTS / ("DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"))
    names, advances = font.getBestCmap(), font["hmtx"].metrics
    units = sum(advances[names[ord(sign)]][0] if ord(sign) in names else 2048 for sign in text)
    return units * size / font["head"].unitsPerEm


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("text", LINES)
def test_a_line_is_never_narrower_than_said_and_not_much_wider(text, bold):
    real = real_width(text, 10.0, bold=bold)
    assert real <= width(text, 10.0, bold=bold) + 1e-9
    assert width(text, 10.0, bold=bold) <= 1.08 * real


@given(text=WORDS, room=st.floats(1, 300), size=st.floats(6, 30))
def test_what_is_cut_fits_and_begins_the_same(text, room, size):
    kept = cut_to(text, room, size)
    assert width(kept, size) <= room + 1e-5
    if kept != text:
        assert width(text, size) > room
        assert kept == "" or kept.endswith("…")
        assert text.startswith(kept.removesuffix("…"))


@given(text=WORDS, room=st.floats(40, 300), most=st.none() | st.integers(1, 3))
def test_wrapped_lines_fit_and_keep_every_letter(text, room, most):
    lines = wrap(text, room, 10.0, most=most)
    assert all(width(line, 10.0) <= room + 1e-5 for line in lines)
    if most is None:
        assert "".join(lines).replace(" ", "") == "".join(text.split()).replace(" ", "")
    else:
        assert len(lines) <= most


def test_lines_are_filled_word_by_word():
    # in regular letters of size 10: "aaa" is 3 x 1255/2048 x 10 = 18.4 wide, a blank 3.2
    assert wrap("aaa aaa aaa", 41.0, 10.0) == ["aaa aaa", "aaa"]
    assert wrap("aaa aaa aaa", 39.0, 10.0) == ["aaa", "aaa", "aaa"]
    assert wrap("aaaaaa", 19.0, 10.0) == ["aaa", "aaa"]
