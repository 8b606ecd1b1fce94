"""Rows of the inspections: which count, and what is said of the others."""

import pytest
from conftest import make_float
from upkept import RIG, part, row, told


def codes(upkept):
    return [(note.code, note.row) for note in upkept.notes]


def lines(upkept):
    return [note.line() for note in upkept.notes]


def test_a_row_goes_to_its_float_and_part():
    found = told([row("2025-07-01", "shackle", "good"), row("2025-07-02", "cable", "worn")])
    assert codes(found) == []
    assert [one.row for one in part(found, "shackle").seen] == [2]
    assert [one.row for one in part(found, "absorber cable").seen] == [3]
    assert part(found, "swivel").seen == ()


def test_an_unknown_float_is_told_with_the_nearest():
    floats = [make_float(name, x, **RIG) for name, x in (("15", 0), ("16", 40))]
    found = told([row("2025-07-01", "shackle", "good", float_id="115")], floats=floats)
    assert lines(found) == [
        "inspections row 2 float_id: no float '115' in the floats file; did you mean 15? Not"
        " counted."
    ]


def test_a_floats_name_may_differ_in_case_and_blanks():
    found = told([row("2025-07-01", "shackle", "good", float_id=" a ")])
    assert codes(found) == []
    assert part(found, "shackle").seen_on is not None


def test_rows_without_a_float_or_a_day_count_for_nothing():
    found = told(
        [row("2025-07-01", "shackle", "good", float_id=None), row(None, "shackle", "bent")]
    )
    assert codes(found) == [("no_float_id", 2), ("no_date", 3)]
    assert part(found, "shackle").state == "no record"


def test_rows_of_later_days_are_not_known_yet():
    found = told([row("2026-04-21", "shackle", "bent"), row("2026-04-20", "shackle", "good")])
    assert lines(found) == [
        "inspections row 2 date: 2026-04-21 is after 2026-04-20, for which this is; not counted"
    ]
    assert part(found, "shackle").state == "good"


@pytest.mark.parametrize(("status", "code"), [("retired", "retired_float"), ("proposed", "proposed_float")])  # fmt: skip
def test_rows_of_floats_that_are_not_set(status, code):
    floats = [make_float("A", **RIG), make_float("B", 40, status=status, **RIG)]
    found = told([row("2025-07-01", "shackle", "bent", float_id="B")], floats=floats)
    assert codes(found) == [(code, 2)]
    assert [one.float_id for one in found.floats] == ["A"]


def test_an_unknown_part_is_told_with_what_the_rig_has():
    found = told([row("2025-07-01", "schackle", "good")])
    assert lines(found) == [
        "inspections row 2 part: 'schackle' is no part that we know; did you mean shackle? The rig"
        " has: eye bolt, shackle, swivel, absorber cable, sleeve, thimble, riser chain, secondary"
        " blocks, ground chain, primary blocks."
    ]
    assert found.floats[0].seen[0].part == "schackle"  # kept: it is still a look at the float


def test_a_part_that_the_rig_has_not():
    found = told([row("2025-07-01", "clips", "good"), row("2025-07-01", "shackle 1 in", "good")])
    assert codes(found) == [("part_not_there", 2), ("part_not_there", 3)]
    assert "has no clips; it has: eye bolt, shackle" in lines(found)[0]
    assert "has no shackle 1 in; it has: eye bolt 5/8 in, shackle 1/2 in" in lines(found)[1]


def test_a_row_that_names_no_part():
    found = told([row("2025-07-01", None, "good")])
    assert codes(found) == [("no_part", 2)]


def test_things_of_the_float_itself_are_no_slip():
    found = told([row("2025-07-01", "deck", "two boards loose")])
    assert codes(found) == []
    assert not any(one.seen for one in found.floats[0].parts)


def test_wires_without_a_part_are_the_cables_and_wires_of_chain_are_none():
    found = told([row("2025-07-01", None, None, broken_wires=1)])
    assert codes(found) == []
    assert part(found, "absorber cable").seen_on is not None
    wrong = told([row("2025-07-01", "shackle", "good", broken_wires=2)])
    assert codes(wrong) == [("no_wires", 2)]


def test_a_measure_wider_than_new_is_not_counted():
    """1.15 of a 10.0 mm bar is 11.5 mm."""
    found = told([row("2025-07-01", "riser chain", "good", diameter_m=11.6e-3)])
    assert lines(found) == [
        "inspections row 2 diameter: 11.6 mm is wider than the part when new (10.0 mm); its measure"
        " is not counted"
    ]
    assert part(found, "riser chain").worn is None
    assert codes(told([row("2025-07-01", "riser chain", "good", diameter_m=11.4e-3)])) == []


def test_a_word_for_both_chains_is_taken_for_both_and_said_once():
    found = told(
        [
            row("2024-07-01", "chain", "good"),
            row("2025-07-01", "chain", "bent"),
            row("2025-07-02", "riser chain", "good"),
        ]
    )
    assert part(found, "ground chain").state == "replace now"
    assert part(found, "ground chain").unsure
    assert [note.code for note in found.notes] == ["either_part"]
    assert "rows 2, 3 may mean one part or another" in lines(found)[0]
