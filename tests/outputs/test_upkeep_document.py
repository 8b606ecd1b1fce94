"""The JSON of `upkeep`: every key always there, SI, nothing private unasked."""

import json
from datetime import date

from conftest import HERE, make_float, make_settings
from upkept import RIG, assessed, field_of, row, told

from lakemap.basis.records import Season
from lakemap.outputs.upkeep.upkeep_document import upkeep_document
from lakemap.season.upkeep.storms_passed import storm_of
from lakemap.season.upkeep.upkeep import upkeep

LON, LAT = (float(axis[0]) for axis in HERE.to_lonlat([40.0], [0.0]))
ROWS = (
    row("2024-04-15", "riser chain", "worn", diameter_m=9.4e-3, by="Ada Wren"),
    row("2026-04-15", "chain", "worn", diameter_m=9.0e-3, by="Ada Wren"),
    row("2026-04-16", None, "moved", lon=LON, lat=LAT),
    row("2026-04-16", "schackle", "good"),
)


def shape(value):
    """Keys at every depth; lists by what they hold."""
    if isinstance(value, dict):
        return {key: shape(one) for key, one in value.items()}
    return [shape(one) for one in value[:1]] if isinstance(value, list) else None


def full():
    floats = [make_float("A", set_on=date(2020, 5, 15), permit="P-1 until 2026-05-01", **RIG)]
    settings = make_settings(season=Season(set_on="05-15", lift_on="10-01", marking="number"))
    field = assessed(field_of(ROWS, floats=floats, settings=settings))
    blown = storm_of(field, wind_m_s=18.0, gust_m_s=None, from_deg=90.0)
    return upkeep(field, on=date(2026, 4, 20), storm=blown)


def test_it_is_json_without_nan():
    document = upkeep_document(full())
    text = json.dumps(document, allow_nan=False)
    assert json.loads(text) == document
    assert (document["format"], document["field"]) == ("lakemap upkeep 1", "square")
    assert (document["on"], document["season_ends"]) == ("2026-04-20", "2026-10-01")


def test_keys_are_there_whatever_is_known():
    """A float with everything and one with nothing have the same keys."""
    (known,) = upkeep_document(full())["floats"]
    (bare,) = upkeep_document(told(floats=[make_float("A")]))["floats"]
    assert set(known) == set(bare)
    assert set(known["parts"][0]) == set(bare["parts"][0])
    assert set(upkeep_document(full())) == set(upkeep_document(told()))
    assert (bare["moved"], bare["set_on"], bare["state"]) == (None, None, "no record")
    assert bare["parts"][0]["worn"] is None


def test_wear_in_si_and_days():
    """0.4 mm in 730 days is 0.2001 mm a year; 1.0 mm is left to 8.0 mm."""
    parts = {one["name"]: one for one in upkeep_document(full())["floats"][0]["parts"]}
    worn = parts["riser chain"]["worn"]
    assert worn["new_m"] == 10.0e-3
    assert abs(worn["rate_m_a"] - 0.4e-3 / 730 * 365.25) < 1e-12
    assert worn["replaced_at_m"] == 8.0e-3
    assert worn["measured_on"] == "2026-04-15"
    why = [due["why"] for due in parts["riser chain"]["due"]]
    assert why == ["wear", "age"]
    assert {due["basis"] for due in parts["riser chain"]["due"]} == {"published", "common practice"}


def test_rows_name_their_parts():
    rows = upkeep_document(full())["floats"][0]["inspections"]
    assert [one["parts"] for one in rows] == [
        ["riser chain"], ["riser chain", "ground chain"], [], [],
    ]  # fmt: skip
    assert [one["either_part"] for one in rows] == [False, True, False, False]
    assert (rows[2]["says"], rows[2]["lon"]) == ("moved", LON)


def test_where_it_was_seen():
    moved = upkeep_document(full())["floats"][0]["moved"]
    assert (moved["what"], moved["verdict"]) == ("float", "outside")
    assert abs(moved["distance_m"] - 40.0) < 1e-6
    assert abs(moved["beyond_m"] - 29.5) < 1e-6
    assert moved["text"].startswith("Seen on 2026-04-16: the float 40.00 m east of its primary")
    assert moved["look_first"]


def test_problems_have_their_row():
    problems = upkeep_document(full())["problems"]
    assert [(one["code"], one["row"]) for one in problems] == [
        ("unknown_part", 5), ("either_part", None),
    ]  # fmt: skip


def test_private_things_are_null_unless_asked_for():
    told_all = upkeep_document(full(), owners=True)
    assert told_all["permits"][0]["permit"] == "P-1 until 2026-05-01"
    assert told_all["floats"][0]["inspections"][0]["by"] == "Ada Wren"
    plain = upkeep_document(full())
    assert (plain["permits"][0]["permit"], plain["permits"][0]["until"]) == (None, "2026-05-01")
    assert "Wren" not in json.dumps(plain)
    assert shape(plain) == shape(told_all)


def test_the_storm():
    storm = upkeep_document(full())["after_storm"]
    assert (storm["wind_m_s"], storm["from_deg"]) == (18.0, [90.0])
    (one,) = storm["floats"]
    assert one["float_id"] == "A"
    assert upkeep_document(told())["after_storm"] is None
