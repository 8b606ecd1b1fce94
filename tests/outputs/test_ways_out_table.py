"""The words and the document of the ways out."""

import json
import re
from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest
import shapely
from conftest import HERE, make_field, make_float, make_settings, make_zone

from lakemap.basis.records import Rule
from lakemap.mapping import assess
from lakemap.outputs.tables.ways_out_table import ways_out_document, ways_out_text
from lakemap.ways_out import ways_out

pytestmark = pytest.mark.slow

FOOT_M = 0.3048


def told(field):
    assessment = assess(field)
    found = ways_out(assessment)
    return assessment, found, ways_out_text(found, assessment)


def pair(units="m-kg", apart_m=20.0, **more):
    """A and B, 20 m apart 3 m too near to each other; the secondary lies on the bed."""
    rig = {"riser_m": 7.5, "ground_m": 2.5} | more
    return make_field(
        [make_float("A", **rig), make_float("B", apart_m, **rig)],
        settings=replace(make_settings(), units=units),
    )


def test_each_way_is_a_sentence_with_the_units_beside_the_figure():
    _, _, text = told(pair())
    assert "float A: Can meet float B: their circles overlap by 1.00 m." in text
    assert re.search(r"Moving the primary 3\.0[01] m west \(2(69|70|71)°\) would clear it\.", text)
    assert (
        "Shortening the ground chain from 2.50 m to 0.30 m would clear it; the riser stays" in text
    )
    assert "the secondary still lies on the bed in calm high water." in text
    assert re.search(r"The storm's uplift at the primary goes from [\d,]+ N to [\d,]+ N;", text)
    # 7.8 m of line in 6.5 m of water
    assert (
        "the line becomes 1.20 times the depth, where practice has 2 (no published source)." in text
    )
    assert "nothing to spare: the float is then tight" in text


@pytest.mark.parametrize("units", ["m-kg", "ft-lb"])
def test_the_printed_figures_of_a_move_clear_the_float(units):
    field = pair(units)
    before, _, text = told(field)
    printed = re.findall(
        r"^ +Moving the primary ([\d.]+) (ft|m) [a-z-]+ \((\d+)°\)", text, re.MULTILINE
    )
    assert len(printed) == 2
    for one, (far, unit, bearing) in zip(before.floats, printed, strict=True):
        metres, angle = float(far) * {"ft": FOOT_M, "m": 1.0}[unit], np.radians(float(bearing))
        lon, lat = HERE.to_lonlat(
            [one.x_m + metres * np.sin(angle)], [one.y_m + metres * np.cos(angle)]
        )
        there = replace(one.record, lon=float(lon[0]), lat=float(lat[0]))
        floats = tuple(
            there if other.float_id == there.float_id else other for other in field.floats
        )
        after = assess(replace(field, floats=floats))
        assert {other.verdict for other in after.floats} == {"tight"}


def test_feet_and_pounds():
    _, _, text = told(pair("ft-lb"))
    assert re.search(r"Moving the primary 9\.9 ft west", text)  # 3 m are 9.84 ft
    assert re.search(r"goes from [\d,]+ lb to [\d,]+ lb", text)


def test_a_knot_is_told_once():
    _, _, text = told(pair())
    assert text.count("floats A and B together: Moving float ") == 1
    assert re.search(
        r"would clear both, 3\.0[01] m in all; moving more than one saves nothing\.", text
    )


def test_a_knot_in_a_corridor_moves_both():
    walls = [make_zone("channel", shapely.box(25.1, -95, 27.0, 95)),
             make_zone("channel", shapely.box(-27.0, -95, -25.1, 95))]  # fmt: skip
    field = make_field([make_float("A", -10.0), make_float("B", 10.0)], zones=walls)
    _, _, text = told(field)
    line = next(line for line in text.splitlines() if line.startswith("floats A and B together"))
    assert re.search(r"Moving float [AB] 1\.\d+ m (west|east) \(\d+°\) and moving float [AB]", line)
    assert re.search(r"3\.0\d m in all, against 8\.\d+ m if one is moved after the other\.", line)


def test_what_is_not_possible_says_why():
    rules = MappingProxyType(
        dict(make_settings().rules)
        | {"deck_area_max": Rule(kind="deck_area_max", limit=10.0, source="deck rule")}
    )
    field = make_field([make_float("A")], settings=make_settings(rules=rules))
    text = told(field)[2]
    assert "No place would clear it: its deck is larger than is allowed anywhere." in text
    assert "No shorter line would clear it: its deck is larger than is allowed anywhere." in text
    assert "a deck of 3.65 m by 2.73 m of the same shape would fit." in text

    beach = make_zone("swim_area", shapely.box(-99, -99, 99, 99))
    text = told(make_field([make_float("A")], zones=[beach]))[2]
    assert "No place within 300.00 m would clear it with this rig." in text
    assert "where it lies there is no room for its deck alone." in text
    assert "nor would a smaller deck of the same shape." in text

    text = told(make_field([make_float("A", riser_m=3.0, ground_m=3.0)]))[2]
    assert "at high water the 6.00 m that it has is too short." in text

    text = told(make_field([make_float("A")], bed_m=0.4))[2]
    assert "it lies aground at low water whatever its length." in text


def test_a_primary_that_nobody_has_seen():
    field = make_field([make_float("A"), make_float("B", 24.0, position_of="secondary")])
    text = told(field)[2]
    assert "Locate its primary first: that nobody has seen it adds 4.00 m to its circle." in text
    assert "See where the primary is first." in text
    near = make_float("B", 24.0 + 5.5, position_of="float", wind_from_deg=270.0)
    text = told(make_field([make_float("A"), near]))[2]
    assert "Seeing where its primary lies may be enough" in text


def test_designed_lengths_are_told_with_the_move():
    text = told(pair(apart_m=30.0, ground_m=None))[2]
    assert re.search(
        r"would clear it, with a riser of 7\.50 m and a ground chain of 6\.50 m there\.", text
    )
    assert "Shortening the ground chain from 6.50 m (nobody measured it) to" in text


def test_a_swap_names_float_and_deck():
    beach = make_zone("swim_area", shapely.box(-20, 20, 20, 24))
    floats = [make_float("A"), make_float("small", -50.0, -20.0, length_m=3.1, width_m=2.4)]
    text = told(make_field(floats, zones=[beach]))[2]
    assert (
        "Swapping decks with float small, whose deck is 3.10 m by 2.40 m, would clear it, and neither"
        " is in conflict then; the rigs stay where they are."
    ) in text


def test_no_conflict():
    assessment, found, text = told(make_field([make_float("A")]))
    assert text == "Nothing is in conflict, so there is nothing to mend."
    assert ways_out_document(found, assessment)["ways_out"] == []


def test_the_document_holds_every_key_and_no_nan():
    assessment, found, _ = told(pair())
    document = json.loads(json.dumps(ways_out_document(found, assessment), allow_nan=False))
    assert document["format"] == "lakemap 1"
    assert document["field"] == "square"
    first, second = document["ways_out"]
    assert first.keys() == second.keys() == {
        "float_id", "conflicts", "broken", "located", "extra_m", "move", "move_why", "shorten",
        "shorten_why", "swap", "smaller", "swap_why", "knot", "knot_why",
    }  # fmt: skip
    assert first["conflicts"][0] == {
        "against": "B", "kind": "float", "spare_m": pytest.approx(-3.0), "spare_m2": None
    }  # fmt: skip
    assert first["move"]["distance_m"] == pytest.approx(3.0, abs=0.01)
    assert first["shorten"]["shorter_m"] == pytest.approx(2.2)
    assert first["knot"]["float_ids"] == ["A", "B"]
    assert first["knot"]["moves"][0]["float_id"] in {"A", "B"}
    assert first["swap"] is None
    assert first["swap_why"] == "no_deck"


def test_a_move_that_no_rounded_figures_tell_is_told_by_its_position():
    assessment, found, _ = told(pair())
    move = replace(found[0].move, spoken=None)
    text = ways_out_text([replace(found[0], move=move)], assessment)
    assert (
        f"Moving the primary to {move.lat:.7f},{move.lon:.7f}, 3.01 m west of where it is,"
        " would clear it."
    ) in text


def test_a_knot_that_only_all_together_undo():
    assessment, found, _ = told(pair())
    knot = replace(found[0].knot, single_m=None)
    text = ways_out_text([replace(found[0], knot=knot)], assessment)
    assert "in all; moving one after the other would not." in text
    lost = [replace(one, knot=None, knot_why="no_arrangement") for one in found]
    text = ways_out_text(lost, assessment)
    assert (
        "floats A and B: no way of moving them was found that ends all the conflicts among them."
    ) in text
