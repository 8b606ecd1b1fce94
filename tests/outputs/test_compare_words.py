"""What changed in words: whole sentences, causes, and rounding that never flatters."""

import math
from dataclasses import replace

import pytest
from conftest import make_float, make_settings, make_zone
from two_versions import as_it_was, at, beach, by_id, field_of, four_floats, two

from lakemap.changes.records import Cause, FieldChange
from lakemap.comparing import compare
from lakemap.mapping import assess
from lakemap.outputs.compare.changed_values import value_pair
from lakemap.outputs.compare.counts import change_counts, headline, verdicts_words
from lakemap.outputs.compare.field_words import field_line, field_lines
from lakemap.outputs.compare.figures import figures, gap_rows
from lakemap.outputs.compare.words import compare_rows, then_words, what_words

FOOT = 0.3048
FEET = make_settings(units="ft-lb")


def rows(comparison):
    return {row["id"]: row for row in compare_rows(comparison)}


def test_a_neighbour_makes_room():
    # 24 ft towards 202.5 degrees: away from A, which lies to the south of C, would be north
    way = math.radians(22.5)
    north = at(24 * FOOT * math.sin(way), 22 + 24 * FOOT * math.cos(way))
    found = two(old={"settings": FEET}, C=north)
    assert [row["id"] for row in compare_rows(found)] == ["C", "A"]
    assert rows(found)["C"] == {
        "id": "C",
        "verdict": "clear",
        "what": "Moved 24 ft north-northeast",
        "then": "conflict → clear",
        "says": "",
    }
    assert rows(found)["A"]["what"] == "Not moved; float C made room"
    assert rows(found)["A"]["then"] == "conflict → tight"


def test_a_longer_chain_in_feet_and_inches():
    # ground chain 4 m to 4 m and half a foot: as a tape shows them
    found = two(old={"settings": FEET}, D={"ground_m": 4.0 + FOOT / 2})
    row = rows(found)["D"]
    assert row["what"] == "Ground chain 13 ft 1 in → 13 ft 7 in"
    radius = math.sqrt((10 + FOOT / 2) ** 2 - 36) - 8
    less = math.ceil(radius / FOOT * 10) / 10
    assert row["then"] == f"clear, {less:.1f} ft less to spare"


@pytest.mark.parametrize(
    ("north", "then"),
    [
        # C's gap to A is 1.0 m, 2 m are asked
        (21.996, "conflict, 1.01 m short, was 1.00 m short"),
        (22.004, "conflict, 1.00 m short, as before"),
        (22.016, "conflict, 0.99 m short, was 1.00 m short"),
    ],
)
def test_a_shortfall_rounds_up(north, then):
    found = rows(two(C=at(0.0, north)))["C"]["then"]
    assert found == then.replace("conflict, 1.00 m short, as before", "conflict, as before")


@pytest.mark.parametrize(
    ("west", "then"),
    [
        # D has 20 - 10.5 - 5 = 4.5 m to spare from the shore
        (-80.004, "clear, 0.01 m less to spare"),
        (-79.996, "clear, as before"),
        (-79.971, "clear, 0.02 m more to spare"),
    ],
)
def test_less_rounds_up_and_more_rounds_down(west, then):
    assert rows(two(D=at(west, 0.0)))["D"]["then"] == then


def test_where_a_float_newly_is_in_conflict_it_is_said_how():
    row = rows(two(D=at(-88.0, 0.0)))["D"]
    assert row["then"] == "clear → conflict"
    assert row["says"] == "Comes within 1.50 m of the shore; 5 m is asked."


def test_the_worse_come_first_and_what_was_changed_before_what_it_did():
    found = two([make_float("E", -60.0, 0.0)], B=at(40.0, 0.0), C={"chain": "10 mm"})
    # E puts D into conflict and is in it; C was changed and stays as it was
    order = [row["id"] for row in compare_rows(found)]
    assert order == ["E", "D", "B", "C"]


def test_added_taken_away_retired():
    found = rows(
        two([make_float("E", 60.0, 60.0, status="proposed")], B={"status": "retired"}, C=None)
    )
    assert (found["E"]["what"], found["E"]["then"]) == (
        "Added, proposed",
        "clear, 24.50 m to spare",
    )
    assert found["C"]["verdict"] == "gone"
    assert (found["C"]["what"], found["C"]["then"]) == ("Taken away", "was in conflict")
    assert found["B"]["verdict"] == "retired"
    assert (found["B"]["what"], found["B"]["then"]) == ("Retired", "tight → retired")


def test_what_a_neighbour_did():
    found = by_id(two(D=at(-80.0, 1.0)))["D"]
    comparison = two(D=at(-80.0, 1.0))

    def told(did, *names, kind="float"):
        one = replace(found, kind="affected", moved=None, cause=Cause(kind=kind, names=names, did=did))  # fmt: skip
        return what_words(one, comparison)

    assert told("came_nearer", "7") == "Not moved; float 7 came nearer"
    assert told("swings_farther", "7", "8") == "Not moved; floats 7 and 8 swing farther"
    assert told("taken_away", "7", "8", "9") == "Not moved; floats 7, 8 and 9 were taken away"
    assert told("in_use_again", "7") == "Not moved; float 7 is in use again"
    assert told("changed", "Camp beach", kind="zone") == "Not moved; Camp beach changed"
    assert told("changed", kind="shore") == "Not moved; the shore was drawn anew"
    assert told("changed", "levels", kind="field") == "Not changed; the levels changed"
    assert told("changed", "levels", "storm", kind="field") == "Not changed itself"


def test_many_cells_are_counted():
    new = {
        "riser_m": 6.5, "ground_m": 4.5, "chain": "10 mm", "primary_blocks": 9, "bottom": "sand",
        "length_m": 5.0, "tubes": 3,
    }  # fmt: skip
    comparison = two(D=new)
    assert rows(comparison)["D"]["what"] == (
        "Riser 6.00 m → 6.50 m; ground chain 4.00 m → 4.50 m; deck 4.00 m × 3.00 m → 5.00 m × 3.00 m;"
        " 4 more"
    )
    whole = what_words(by_id(comparison)["D"], comparison)
    for words in ("blocks of the primary blank → 9", "bottom blank → sand", "tubes blank → 3"):
        assert words in whole


def test_a_length_that_the_tool_chose_says_so():
    # sounded 6.5 m: the blank chain becomes that, rounded up to 10 cm
    comparison = two(D={"status": "proposed", "ground_m": None})
    said = what_words(by_id(comparison)["D"], comparison)
    assert said.startswith("Proposed, was set; ground chain 4.00 m → 6.50 m (designed)")


def test_the_figures_before_and_now():
    comparison = two(C=at(0.0, 42.0))
    one = by_id(comparison)["C"]
    told = {name: (was, now) for name, was, now in figures(one, comparison)}
    # gap 42 − 21 = 21, 2 asked; shore: 100 − 42 − 10.5 − 5
    assert told["To spare"] == ("1.00 m short (float A)", "19.00 m (float A)")
    gaps = {name: (was, now) for name, was, now in gap_rows(one, comparison)}
    assert gaps["Float A"] == ("gap 1.00 m", "gap 21.00 m (19.00 m to spare)")
    assert gaps["Shore"] == ("gap 67.50 m", "gap 47.50 m (42.50 m to spare)")


def test_why_a_gap_is_not_there():
    comparison = two(C=None, B=at(30.0, 0.0))
    gaps = {name: (was, now) for name, was, now in gap_rows(by_id(comparison)["B"], comparison)}
    assert gaps["Float C"] == (f"gap {math.floor((math.hypot(23, 22) - 21) * 100) / 100} m", "not there")  # fmt: skip
    floats = {**four_floats(), "E": make_float("E", 60.0, 40.0)}
    comparison = two(floats=floats, E=at(10.0, 40.0))
    gaps = {name: (was, now) for name, was, now in gap_rows(by_id(comparison)["D"], comparison)}
    assert gaps["Float E"] == ("over 100.00 m", "gap 77.48 m (75.48 m to spare)")


def test_counts_and_headline():
    comparison = two([make_float("E", 60.0, 60.0)], B=at(30.0, 0.0), C=None, D={"riser_m": 6.5})
    assert change_counts(comparison) == {
        "moved": 1, "changed": 1, "added": 1, "taken_away": 1, "retired": 0, "affected": 1,
        "worse": 0, "better": 2,
    }  # fmt: skip
    assert headline(comparison) == (
        "1 float moved, 1 changed, 1 added, 1 taken away. Conflicts: 2 before, 0 now."
    )
    assert verdicts_words(comparison) == "Floats: conflict 2 → 0, tight 1 → 0, clear 1 → 4."
    nothing = compare(as_it_was(), as_it_was())
    assert headline(nothing) == "Nothing changed."
    assert compare_rows(nothing) == []
    assert headline(two(B={"chain": "10 mm"}, D={"chain": "10 mm"})) == (
        "2 floats changed. Conflicts: 2, as before."
    )


def test_a_gap_that_nothing_hangs_on_makes_no_row():
    comparison = two(B=at(25.0, 0.0))
    assert "D" in by_id(comparison)
    assert "D" not in rows(comparison)


def test_what_is_private_is_told_only_where_it_is_asked_for():
    private = {"owner": "Ada Wren", "note": "rings at night", "riser_m": 6.5}
    assert rows(two(D=private))["D"]["what"] == "Riser 6.00 m → 6.50 m"
    assert rows(two(D=private, owners=True))["D"]["what"] == (
        "Riser 6.00 m → 6.50 m; owner blank → Ada Wren; note blank → rings at night"
    )


@pytest.mark.parametrize(
    ("old", "new", "unit", "units", "told"),
    [
        (3.048, 3.2004, "m", "ft-lb", ("10 ft", "10 ft 6 in")),
        # a quarter of an inch: the tape's inches tell them not apart, feet with a digit more do
        (3.048, 3.05435, "m", "ft-lb", ("10.00 ft", "10.02 ft")),
        (3.0, 3.004, "m", "m-kg", ("3.000 m", "3.004 m")),
        (0.45359237 * 900, 0.45359237 * 1000, "kg", "ft-lb", ("900 lb", "1,000 lb")),
        (400.0, 400.4, "kg", "m-kg", ("400.0 kg", "400.4 kg")),
        (22.352, 24.5872, "m/s", "ft-lb", ("50 mph", "55 mph")),
        (None, 9, None, "m-kg", ("blank", "9")),
        ((250.0, 225.0), None, "deg", "ft-lb", ("250°, 225°", "blank")),
        ("mud", "sand", None, "ft-lb", ("mud", "sand")),
        (2.0, 2.0, "m", "m-kg", ("2.00 m", "2.00 m")),
        (1e-9, 2e-9, "m", "m-kg", ("1e-09", "2e-09")),
    ],
)
def test_values_in_as_many_digits_as_tell_them_apart(old, new, unit, units, told):
    assert value_pair(old, new, unit, units) == told


def change(topic, part, old, new, *, name="", unit=None, what="changed", **more):
    return FieldChange(
        topic=topic, name=name, part=part, what=what, unit=unit, old=old, new=new, **more
    )


@pytest.mark.parametrize(
    ("one", "said"),
    [
        (
            change("levels", "low", -1.5 * FOOT, -2 * FOOT, unit="m"),
            "Low water on the gauge: −1.5 ft → −2 ft.",
        ),
        (change("storm", "wind", 22.352, 26.8224, unit="m/s"), "Storm, mean wind: 50 mph → 60 mph."),
        (
            change("storm", "from", None, (225.0, 250.0), unit="deg"),
            "Storm, wind from: all around → 225°, 250°.",
        ),
        (
            change("rules", "distance", 5 * FOOT, 8 * FOOT, name="neighbour", unit="m"),
            "Distance between neighbours: 5 ft → 8 ft.",
        ),
        (
            change("rules", "distance", None, 20 * FOOT, name="intake", unit="m", what="added"),
            "Distance from an intake: new rule 20 ft.",
        ),
        (
            change("rules", "area", 100 * FOOT**2, None, name="deck_area_max", unit="m2", what="taken_away"),
            "Largest deck: the rule was taken away, it was 100 ft².",
        ),
        (
            change("rules", "mode", "full_circle", "same_wind", name="neighbour"),
            "Distance between neighbours, checked for: full circles → all in one steady wind.",
        ),
        (
            change("rules", "source", "old words", "new words", name="shore"),
            "Distance from the shore: its source now says: new words",
        ),
        (
            change("zones", "clearance", None, 20 * FOOT, name="Beach", unit="m"),
            "Beach, its own clearance: that of the rule → 20 ft.",
        ),
        (
            change("zones", "outline", 1.0, 2.0, name="Beach", unit="m2", gained=9.290304, lost=0.0),
            "Beach was drawn anew: 100 ft² gained, 0 ft² given up.",
        ),
        (
            change("zones", "", None, "no_float", name="Loons", what="added"),
            "Zone added: Loons (no-float area).",
        ),
        (
            change("zones", "", "dock", None, name="dock 5", what="taken_away"),
            "Zone taken away: dock 5.",
        ),
        (
            change("lake", "outline", 1.0, 1.0, unit="m2", gained=92.90304, lost=9.290304),
            "The shore was drawn anew: 1,000 ft² of water gained, 100 ft² lost.",
        ),
        (
            change("soundings", "points", 1600, 1640, gained=50, lost=10),
            "Soundings: 1,600 → 1,640; 50 new, 10 gone.",
        ),
        (change("inspections file", "rows", 4, 6), "Rows of the inspections file: 4 → 6."),
        (change("sites", "spare", 3.0, 4.0), "Weight of spare in the score of sites: 3 → 4."),
        (change("season", "set_on", "05-15", "05-20"), "Season, floats are set: 05-15 → 05-20."),
        (change("crs", "", "EPSG:4326", "EPSG:2193"), "Coordinate system of x and y: EPSG:4326 → EPSG:2193."),
    ],
)  # fmt: skip
def test_the_field_in_a_line_each(one, said):
    assert field_line(one, "ft-lb") == said


def test_a_changed_rule_and_a_changed_zone_are_said():
    channel = make_zone("channel", beach().geometry, label="North channel")
    found = two(new={"zones": [beach(), channel], "settings": make_settings(people=6)})
    assert field_lines(found) == ["People aboard: 4 → 6.", "Zone added: North channel."]


def test_an_unknown_float_gives_no_spare():
    # without soundings no depth is known: its circle, and so its gaps, are guesses
    before = assess(field_of(four_floats(), bed_m=None))
    after = assess(field_of({**four_floats(), "D": make_float("D", -70.0, 0.0)}, bed_m=None))
    comparison = compare(before, after)
    one = by_id(comparison)["D"]
    assert then_words(one, comparison).startswith("unknown")
    assert "spare" not in then_words(one, comparison)
