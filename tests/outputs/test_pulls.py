"""Pulls and weakest parts in words: never less than they are, and told where not known."""

import pytest

from lakemap.outputs.words.pulls import pull_text, used_text, weakest_text
from lakemap.sizing.records import LinePart, LineSizing

POUND_N = 4.4482216152605


def line(weak, **used):
    parts = tuple(LinePart(name=name, size="1/2 in", used=share) for name, share in used.items())
    return LineSizing(parts=parts, weak_link=weak)


@pytest.mark.parametrize(
    ("pounds", "said"), [(100.0, "100 lb"), (100.2, "101 lb"), (None, "not known")]
)
def test_a_pull_is_never_said_to_be_less(pounds, said):
    newtons = None if pounds is None else pounds * POUND_N
    assert pull_text(newtons, "ft-lb", unknown="not known") == said


@pytest.mark.parametrize(("share", "said"), [(0.47, "47 %"), (0.4701, "48 %"), (None, "?")])
def test_a_share_is_never_said_to_be_less(share, said):
    assert used_text(share, unknown="?") == said


def test_the_weakest_part_is_the_one_that_is_named():
    held = line("swivel", shackle=0.2, swivel=0.911)
    assert held.weakest.name == "swivel"
    assert weakest_text(held, unknown="none") == "swivel, 92 % used"


@pytest.mark.parametrize("held", [line(None, shackle=0.2), line("swivel", swivel=None), line(None)])
def test_where_no_strength_is_known_none_is_told(held):
    assert weakest_text(held, unknown="none") == "none"
