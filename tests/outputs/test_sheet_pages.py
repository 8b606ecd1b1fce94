"""Which float gets which sheet."""

import pytest
from conftest import make_field, make_float

from lakemap.basis.errors import BadInputError
from lakemap.mapping import assess
from lakemap.outputs.sheets.asked import SheetAsk
from lakemap.outputs.sheets.blocks import KINDS
from lakemap.outputs.sheets.sheets import build_pages


@pytest.fixture(scope="module")
def square():
    floats = [
        make_float("a"),
        make_float("b", 40, 0, status="proposed"),
        make_float("c", -40, 0, status="retired"),
    ]
    return assess(make_field(floats))


def ids(square, *kinds, **more):
    pages = build_pages(square, kinds, ask=SheetAsk(), **more)
    return {kind: [one.float_id for one in own] for kind, own in pages.items()}


def test_what_lies_in_the_water_is_looked_after_and_what_is_planned_is_set(square):
    assert ids(square, *KINDS) == {
        "setting": ["a", "b"],
        "inspection": ["a"],
        "lifting": ["a"],
        "member": ["a", "b"],
    }


def test_a_retired_float_is_lifted_only_where_it_is_asked_for(square):
    assert ids(square, *KINDS, float_id="c") == {"lifting": ["c"]}
    assert ids(square, *KINDS, float_id="b") == {"setting": ["b"], "member": ["b"]}


@pytest.mark.parametrize(
    ("kinds", "float_id", "says"),
    [
        (("setting",), "c", "float c is retired and has no setting sheet; ask for --kind lifting"),
        (("inspection",), "b", "float b is proposed and has no inspection sheet; ask for --kind setting or member"),
        (KINDS, "d", "no float 'd'"),
    ],
)  # fmt: skip
def test_what_has_no_sheet_is_told(square, kinds, float_id, says):
    with pytest.raises(BadInputError) as told:
        build_pages(square, kinds, ask=SheetAsk(), float_id=float_id)
    assert told.value.problems[0].text.startswith(says)


def test_a_field_of_retired_floats_has_none():
    gone = assess(make_field([make_float("a", status="retired")]))
    with pytest.raises(BadInputError, match="no float of the floats file is set or proposed"):
        build_pages(gone, KINDS, ask=SheetAsk())
