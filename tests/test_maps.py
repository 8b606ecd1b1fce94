"""The maps that are committed are those that the demo fields give today.

Here the same field gives the same bytes; another release of a geometry library may cut a contour in
another place, so drawn shapes are compared by size, and all else to the letter.
"""

import json
import re
from pathlib import Path

import numpy as np
import pytest

from lakemap.inputs.folder import read_field
from lakemap.mapping import assess
from lakemap.outputs.web.page import page_html

TOP = Path(__file__).parents[1]
DATA = re.compile(r'id="field-data">(.*?)</script>', re.DOTALL)
DRAWN = re.compile(r'(?<= )(?:d|transform|x|y|x1|y1|cx|cy|r)="[^"]*"|(?<=<path )[^>]*|<text [^>]*>')
SHAPES = ("bands", "contours", "bare", "water", "grid", "soundings", "zones")


def parts(text):
    """The page without its shapes, and its data."""
    data = json.loads(DATA.search(text).group(1))
    frame = re.sub(r"content=\"default-src[^\"]*\"", "", DATA.sub("", text))
    return DRAWN.sub("", frame), data


def near(mine, held):
    """The same but for a digit in the last place of a number."""
    if isinstance(mine, dict):
        return mine.keys() == held.keys() and all(near(mine[key], held[key]) for key in mine)
    if isinstance(mine, list):
        return len(mine) == len(held) and all(map(near, mine, held))
    if isinstance(mine, (int, float)) and not isinstance(mine, bool):
        return abs(mine - held) <= 1
    return mine == held


def size(rings):
    """Area of rings stored as steps in centimetres, holes taken off by their turn."""
    total = 0.0
    for polygon in rings:
        for k, steps in enumerate(polygon):
            x, y = np.cumsum(np.array(steps).reshape(-1, 2), axis=0).T
            area = abs(np.sum(x[:-1] * y[1:] - x[1:] * y[:-1])) / 2
            total += -area if k else area
    return total


@pytest.mark.parametrize("name", ["tamber-lake", "small-pond"])
def test_the_committed_map_is_current(name):
    frame, data = parts(page_html(assess(read_field(TOP / "data" / name))))
    held_frame, held = parts((TOP / "maps" / f"{name}.html").read_text(encoding="utf-8"))
    told = f"draw it again: lakemap draw data/{name}"
    # never the whole pages: half a megabyte would be told as the difference
    assert (frame == held_frame) is True, told
    assert data.keys() == held.keys(), told
    assert [key for key in data if key not in SHAPES and not near(data[key], held[key])] == [], told
    assert [zone["name"] for zone in data["zones"]] == [zone["name"] for zone in held["zones"]], (
        told
    )
    for key in ("water", "bare"):
        assert size(data[key]) == pytest.approx(size(held[key]), rel=1e-3, abs=1e4), told
    for mine, theirs in zip(data["bands"], held["bands"], strict=True):
        assert size(mine) == pytest.approx(size(theirs), rel=5e-3), told


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
