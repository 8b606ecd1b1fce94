"""The maps that are committed are those that the demo fields give today."""

from pathlib import Path

import pytest

from lakemap.inputs.folder import read_field
from lakemap.mapping import assess
from lakemap.outputs.page import page_html

TOP = Path(__file__).parents[1]


@pytest.mark.parametrize("name", ["tamber-lake", "small-pond"])
def test_the_committed_map_is_current(name):
    text = page_html(assess(read_field(TOP / "data" / name)))
    held = (TOP / "maps" / f"{name}.html").read_text(encoding="utf-8")
    # never the whole pages: half a megabyte would be told as the difference
    assert (text == held) is True, f"draw it again: lakemap draw data/{name}"


def test_no_owner_is_in_a_committed_map():
    for name in ("tamber-lake", "small-pond"):
        field = read_field(TOP / "data" / name)
        held = (TOP / "maps" / f"{name}.html").read_text(encoding="utf-8")
        owners = {
            one.owner
            for one in field.floats
            if one.owner and one.owner not in {"association", "Club"}
        }
        assert owners
        assert not [owner for owner in owners if owner in held]
