"""The map in the states that a reader brings it into; shared by the tests of access, phone and paper."""

from dataclasses import replace
from pathlib import Path

import pytest
from test_map_in_a_browser import OPEN_ALL, PHONE, WIDE

from lakemap.inputs.folder import read_field
from lakemap.mapping import assess
from lakemap.outputs.web.page import draw

DATA = Path(__file__).parents[2] / "data"
BETWEEN = {"viewport": {"width": 800, "height": 900}}
SIZES = {"wide": WIDE, "between": BETWEEN, "phone": PHONE}

STATES = {
    "first": ("", ""),
    "float": ("#float=15", OPEN_ALL),
    "conflict": ("#float=4", OPEN_ALL),
    "unknown": ("#float=12", OPEN_ALL),
    "message": ("#float=nobody", ""),
    "list": ("", "app.listSheet.set(2)"),
    "tools": ("", "toggle('show-tools')"),
    "key": ("", "toggle('show-key')"),
    "level": ("", "app.setLevel(2)"),
    "levels": ("", "app.openLake()"),
}


def tamber_lake():
    return read_field(DATA / "tamber-lake")


@pytest.fixture(scope="module")
def tamber(tmp_path_factory):
    """The map of the demo lake."""
    path = tmp_path_factory.mktemp("access") / "tamber.html"
    draw(assess(tamber_lake()), path)
    return path


def renumbered(field, count):
    """The same field with so many floats, numbered from 1."""
    floats = [replace(field.floats[k % 29], float_id=f"{k + 1}") for k in range(count)]
    return replace(field, floats=tuple(floats))


def settle(page, act="", wait=120):
    if act:
        page.evaluate(f"(() => {{ {act} }})()")
    page.wait_for_timeout(wait)
