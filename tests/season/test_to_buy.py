"""Which pieces a shopping list is about, on the demo field and on paper."""

from datetime import date
from pathlib import Path

import pytest

import lakemap
from lakemap.basis.errors import BadInputError
from lakemap.season.buying.to_buy import pieces_to_buy
from lakemap.season.upkeep.upkeep import upkeep

DATA = Path(__file__).parents[2] / "data"


@pytest.fixture(scope="module")
def told():
    return upkeep(lakemap.assess(lakemap.read_field(DATA / "tamber-lake")), on=date(2026, 4, 20))


def ids(pairs):
    return {one.record.float_id for one, _ in pairs}


def with_status(told, *statuses):
    floats = told.assessment.field.floats
    return {one.float_id for one in floats if one.status in statuses}


def test_all_is_what_is_set_or_proposed_and_new_is_what_is_proposed(told):
    assert ids(pieces_to_buy(told, "all")) == with_status(told, "set", "proposed")
    assert ids(pieces_to_buy(told, "new")) == with_status(told, "proposed")
    assert with_status(told, "retired")  # and nothing is bought for them


def test_due_is_what_is_to_be_replaced_this_season_and_a_cable_comes_with_its_ends(told):
    # by the demo's own rows: the ground chain of 13 is worn to 0.312 in, the shackle of 9 bent;
    # both cables were set in 2016 or before
    names = {}
    for one, piece in pieces_to_buy(told, "due"):
        names.setdefault(one.record.float_id, set()).add(piece.kind)
    assert "chain" in names["13"]
    assert "fitting" in names["9"]
    for kinds in names.values():
        assert ("cable" in kinds) == bool(kinds & {"thimble"})
    assert names.keys() < with_status(told, "set")


def test_one_float_alone_and_one_that_is_not_there(told):
    assert ids(pieces_to_buy(told, "all", float_id="15")) == {"15"}
    assert pieces_to_buy(told, "new", float_id="15") == ()
    with pytest.raises(BadInputError):
        pieces_to_buy(told, "all", float_id="no such")
