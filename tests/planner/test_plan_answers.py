"""What the planner answers, against the commands' own engine."""

import csv
import json
import math
import shutil
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from pyproj import Geod

from lakemap.basis.errors import BadInputError
from lakemap.inputs.folder import read_field
from lakemap.mapping import assess
from lakemap.outputs.words.cautions import cautions_for_task
from lakemap.outputs.words.verdicts import verdict_counts
from lakemap.planner.comparison import compare_answer
from lakemap.planner.page import plan_html
from lakemap.planner.plan_answer import plan_answer, plan_headline
from lakemap.planner.planned import kind_of, next_id, planned, read_typed
from lakemap.planner.reading import Reading
from lakemap.planner.save_answer import save_answer
from lakemap.planner.weather_answer import lie_answer
from lakemap.planner.why_answer import why_answer

DEMO = Path(__file__).parents[2] / "data" / "tamber-lake"


@pytest.fixture(scope="module")
def reading():
    return Reading.of(DEMO)


@pytest.fixture
def own(tmp_path):
    """A copy that may be written."""
    return Reading.of(Path(shutil.copytree(DEMO, tmp_path / "lake")))


def floats_of(reading):
    return {one.record.float_id: one for one in reading.saved.assessment.floats}


def some(reading, verdict):
    return next(one for one in floats_of(reading).values() if one.verdict == verdict)


def cells(folder):
    with (folder / "floats.csv").open(newline="") as file:
        return {row["float_id"]: row for row in csv.DictReader(file)}


# --- typed values
@pytest.mark.parametrize(
    ("column", "text", "units", "value"),
    [
        ("length", "10", "ft-lb", 3.048),
        ("length", "10", "m-kg", 10.0),
        ("riser_length", "10 ft 6 in", "m-kg", 3.2004),
        ("ground_length", " 3.5 m ", "ft-lb", 3.5),
        ("riser_length", "", "ft-lb", None),
        ("primary_blocks", "6", "ft-lb", 6),
        ("lot", " 24 ", "ft-lb", "24"),
        ("status", "Retired", "ft-lb", "retired"),
        ("status", "", "ft-lb", "set"),
        ("depth", "", "ft-lb", None),
    ],
)
def test_a_value_is_read_as_the_floats_file_has_it(column, text, units, value):
    assert read_typed(column, text, units) == (
        pytest.approx(value) if isinstance(value, float) else value
    )


@pytest.mark.parametrize(
    ("column", "text", "told"),
    [
        ("length", "", "is needed"),
        ("length", "-3", "above 0"),
        ("riser_length", "long", "is no quantity"),
        ("riser_length", "12 kg", "kg"),
        ("primary_blocks", "3.5", "is no count"),
        ("status", "gone", "is none of set, proposed, retired"),
        ("length", "1e400", "no"),
        ("riser_length", 12, "is no text"),
        ("riser_length", "1e300 m", "too large"),
        ("length", "1e-300 m", "too small"),
        ("primary_blocks", "1e300", "more than anybody has"),
    ],
)
def test_a_value_that_cannot_be_read_says_what_would_be_right(column, text, told):
    with pytest.raises(ValueError, match=told):
        read_typed(column, text, "ft-lb")


def test_a_wrong_value_is_told_and_the_rest_of_the_plan_stands(reading):
    one = some(reading, "clear")
    found = planned(
        reading.base, {one.record.float_id: {"riser_length": "x", "ground_length": "3 m"}}
    )
    assert [(w.float_id, w.column) for w in found.wrong] == [(one.record.float_id, "riser_length")]
    (changed,) = found.floats.values()
    assert changed == replace(one.record, ground_m=3.0)


@pytest.mark.parametrize(
    "changes",
    [
        {"no such": {"x": 0, "y": 0}},
        {"1": []},
        {"1": {"x": "here", "y": 0}},
        {"1": {"x": float("nan"), "y": 0}},
        {"1": {"x": True, "y": 0}},
        {"1": {"x": 3}},
        {"1": {"x": 1e300, "y": 1e300}},
        {str(k): {"new": True} for k in range(100, 5200)},
    ],
)
def test_a_plan_that_is_none_is_refused(reading, changes):
    with pytest.raises(BadInputError):
        planned(reading.base, changes)


def test_numbers_go_on_after_those_that_were_once(reading):
    used = {int(name) for name in floats_of(reading) if name.isdigit()}
    used |= {
        int(row["float_id"])
        for row in reading.base.field.inspections
        if str(row["float_id"]).isdigit()
    }
    assert int(next_id(reading.base.field)) == max(used) + 1
    assert next_id(reading.base.field, ["200"]) == "201"


# --- the plan's answer
def test_a_plan_is_told_as_check_tells_the_file_that_it_makes(own):
    one, other = some(own, "conflict"), some(own, "clear")
    changes = {
        one.record.float_id: {"x": one.x_m + 4, "y": one.y_m - 3, "ground_length": "9 ft"},
        other.record.float_id: {"status": "retired"},
        next_id(own.base.field): {
            "new": True,
            "x": one.x_m + 30,
            "y": one.y_m,
            "length": "10 ft",
            "width": "8 ft",
        },
    }
    said = plan_answer(own, {"changes": changes, "chosen": one.record.float_id})
    assert save_answer(own, {"changes": changes})["saved"]
    after = assess(read_field(own.folder))
    assert said["counts"] == verdict_counts(after)
    for record in after.floats:
        if record.record.float_id in said["floats"]:
            shown = said["floats"][record.record.float_id]
            assert shown["verdict"] == (record.verdict or "retired")
            assert shown["r"][0] == round(record.swing_radius_m[0] * 100)
    assert json.loads(json.dumps(said, allow_nan=False)) == said


def test_quick_and_thorough_say_the_same_of_the_check(reading):
    one = some(reading, "conflict")
    changes = {one.record.float_id: {"x": one.x_m + 2.5, "y": one.y_m + 1.5}}
    quick = plan_answer(reading, {"changes": changes, "quick": True})
    whole = plan_answer(reading, {"changes": changes, "quick": False})
    assert quick["counts"] == whole["counts"]
    assert quick["order"] == whole["order"]
    for name, shown in quick["floats"].items():
        assert "rows" not in shown
        assert {key: value for key, value in whole["floats"][name].items() if key in shown} == shown


def test_an_empty_plan_changes_nothing(reading):
    said = plan_answer(reading, {"changes": {}})
    assert said["floats"] == {}
    assert said["changed"] == []
    assert said["counts"] == verdict_counts(reading.saved.assessment)


def test_the_way_back_from_any_plan_ends_where_it_began(reading):
    one = some(reading, "clear")
    for step in range(12):
        plan_answer(
            reading, {"changes": {one.record.float_id: {"x": one.x_m + step, "y": one.y_m}}}
        )
    assert plan_answer(reading, {"changes": {}})["floats"] == {}
    said = plan_answer(
        reading, {"changes": {one.record.float_id: {"x": one.x_m + 3, "y": one.y_m}}}
    )
    fresh = plan_answer(
        Reading.of(DEMO), {"changes": {one.record.float_id: {"x": one.x_m + 3, "y": one.y_m}}}
    )
    assert said["floats"] == fresh["floats"]


def test_a_float_on_land_is_told_and_not_saved(own):
    one = some(own, "clear")
    west, _, east, _ = own.saved.assessment.water.bounds
    changes = {one.record.float_id: {"x": one.x_m + (east - west), "y": one.y_m}}
    said = plan_answer(own, {"changes": changes, "chosen": one.record.float_id})
    assert said["floats"][one.record.float_id]["verdict"] == "conflict"
    before = (own.folder / "floats.csv").read_bytes()
    with pytest.raises(BadInputError, match="on land"):
        save_answer(own, {"changes": changes})
    assert (own.folder / "floats.csv").read_bytes() == before


def test_the_form_says_what_is_typed_designed_and_was(reading):
    blank = next(
        one for one in floats_of(reading).values() if one.record.riser_m is None and one.verdict
    )
    name = blank.record.float_id
    form = plan_answer(reading, {"changes": {name: {"ground_length": "11 ft"}}, "chosen": name})[
        "form"
    ]
    fields = {one["column"]: one for one in form["fields"]}
    assert fields["ground_length"]["value"] == "11 ft"
    assert fields["riser_length"]["value"] == ""
    assert fields["riser_length"]["chosen"] in {"designed", "assumed"}
    assert fields["riser_length"]["hint"].endswith(("ft", "in"))
    gives = {row[0]: row[1:] for row in form["gives"]}
    assert gives["Swings"][0] != ""
    assert plan_answer(reading, {"changes": {}, "chosen": "no such"})["form"] is None


def test_the_form_and_the_page_say_how_to_take_care(reading):
    told = plan_answer(reading, {"changes": {}, "chosen": "4"})["form"]["care"]
    one, assessment = floats_of(reading)["4"], reading.saved.assessment
    assert told == list(cautions_for_task("planner", assessment, one))
    # beside the ramp, the channel and the dock
    assert any(text.startswith("Docks") for text in told)
    page = plan_html(assessment, {})
    for text in cautions_for_task("planner", assessment):
        assert json.dumps(text, ensure_ascii=False)[1:-1] in page


def test_owners_stay_at_home(reading):
    owners = {one.record.owner for one in floats_of(reading).values() if one.record.owner}
    one = some(reading, "conflict")
    said = json.dumps(
        plan_answer(reading, {"changes": {one.record.float_id: {"x": one.x_m, "y": one.y_m + 1}}})
    )
    assert owners
    assert not any(owner in said for owner in owners)


@pytest.mark.parametrize(
    ("bad", "said"),
    [(1, "One conflict left"), (2, "Two conflicts left"), (12, "Twelve conflicts left"), (13, "13 conflicts left"), (1234, "1,234 conflicts left"), (0, "No conflict left")],
)  # fmt: skip
def test_the_first_sentence_for_any_number_of_conflicts(bad, said):
    counts = {"conflict": bad, "tight": 0, "unknown": 0, "clear": 1, "retired": 0}
    assert plan_headline(counts, changed=True) == said


def test_from_one_conflict_to_none_and_back(own):
    worst = [one for one in floats_of(own).values() if one.verdict == "conflict"]
    retired = {one.record.float_id: {"status": "retired"} for one in worst[1:]}
    said = plan_answer(own, {"changes": retired})
    assert said["counts"]["conflict"] in {0, 1}
    every = {**retired, worst[0].record.float_id: {"status": "retired"}}
    said = plan_answer(own, {"changes": every})
    assert said["headline"] == "No conflict left"
    assert said["was"].startswith("was five; ")


# --- a lake without floats
@pytest.fixture
def empty(tmp_path):
    folder = Path(shutil.copytree(DEMO, tmp_path / "empty"))
    header = (folder / "floats.csv").read_text(encoding="utf-8").splitlines()[0]
    (folder / "floats.csv").write_text(header + "\n", encoding="utf-8")
    return Reading.of(folder)


def test_the_first_float_of_a_lake_can_be_planned(empty):
    assert plan_answer(empty, {"changes": {}})["headline"] == "No floats yet"
    there = why_answer(empty, {"changes": {}, "x": 0.0, "y": 10.0})["nearest"]
    name = next_id(empty.base.field)
    changes = {
        name: {
            "new": True,
            "x": there["x"],
            "y": there["y"],
            "length": "10",
            "width": "10",
        }
    }
    said = plan_answer(empty, {"changes": changes, "chosen": name})
    assert said["floats"][name]["verdict"] in {"clear", "tight"}
    assert lie_answer(empty, {"changes": changes, "level_m": 0, "wind_m_s": 9, "from_deg": 10})[
        "lies"
    ].keys() == {name}
    assert save_answer(empty, {"changes": changes})["saved"]
    assert [one.status for one in read_field(empty.folder).floats] == ["proposed"]


def test_a_new_float_is_like_those_that_are_there(empty, reading):
    first = kind_of(empty.saved.assessment, None)
    assert (first.length_m, first.width_m) == (pytest.approx(3.048), pytest.approx(3.048))
    new = {"1": {"new": True, "x": 0.0, "y": 10.0, "length": "12 ft", "width": "8 ft"}}
    proposed = empty.made(new, sized=False).plan.assessment
    assert kind_of(proposed, None).length_m == pytest.approx(12 * 0.3048)
    like = some(reading, "clear")
    assert kind_of(reading.saved.assessment, like.record.float_id).length_m == like.record.length_m


# --- why not here
def test_why_not_names_a_nearest_place_that_is_allowed(reading):
    one = some(reading, "clear")
    said = why_answer(reading, {"changes": {}, "x": one.x_m, "y": one.y_m})
    assert not said["allowed"]
    assert f"float {one.record.float_id}" in said["says"]
    there = said["nearest"]
    assert why_answer(reading, {"changes": {}, "x": there["x"], "y": there["y"]})["allowed"]


def test_a_new_float_waits_for_both_sides_of_its_deck(reading):
    new = {"new": True, "x": 0.0, "y": 0.0, "length": "3 m"}
    found = planned(reading.base, {"900": {**new, "width": "wide"}})
    assert found.floats == {}
    assert [(w.float_id, w.column) for w in found.wrong] == [("900", "width")]
    assert planned(reading.base, {"900": new}).floats == {}
    assert len(planned(reading.base, {"900": {**new, "width": "2 m"}}).floats) == 1


def test_a_plan_s_own_floats_are_in_the_way_too(reading):
    one = some(reading, "clear")
    there = why_answer(reading, {"changes": {}, "x": one.x_m, "y": one.y_m})["nearest"]
    new = {
        "99": {"new": True, "x": there["x"], "y": there["y"], "length": "10 ft", "width": "10 ft"}
    }
    said = why_answer(reading, {"changes": new, "x": there["x"], "y": there["y"]})
    assert not said["allowed"]
    assert "float 99" in said["says"]


def test_on_land_is_no_place(reading):
    west, south, _, _ = reading.saved.assessment.water.bounds
    said = why_answer(reading, {"changes": {}, "x": west - 5.0, "y": south - 5.0})
    assert (said["allowed"], said["says"]) == (False, "That is on land.")
    assert said["nearest"] is not None


# --- wind and level
def test_at_the_lowest_level_the_verdicts_are_the_check_s_own(reading):
    low = reading.base.field.settings.levels.low_m
    said = lie_answer(reading, {"changes": {}, "level_m": low, "wind_m_s": 5.0, "from_deg": 200})
    assert said["says"] == {
        name: one.verdict or "retired" for name, one in floats_of(reading).items()
    }


def test_at_another_level_the_verdicts_are_those_of_a_field_that_falls_no_lower(reading):
    field = reading.base.field
    level = -0.1
    levels = replace(field.settings.levels, low_m=level)
    whole = assess(replace(field, settings=replace(field.settings, levels=levels)))
    said = lie_answer(reading, {"changes": {}, "level_m": level, "wind_m_s": 0, "from_deg": 0})
    wanted = {one.record.float_id: one.verdict or "retired" for one in whole.floats}
    assert said["says"] == wanted
    for one in whole.floats:
        # where a primary was reckoned from its float at the lowest water, it stays where it is
        if one.swing_radius_m[0] is not None and one.record.position_of == "primary":
            assert said["r"][one.record.float_id] == round(one.swing_radius_m[0] * 100)


def test_no_float_lies_outside_its_circle_less_its_deck(reading):
    for wind in (0.0, 6.0, 25.0):
        said = lie_answer(
            reading,
            {"changes": {}, "level_m": -0.2, "wind_m_s": wind, "from_deg": 250, "quick": True},
        )
        assert "says" not in said
        for name, one in floats_of(reading).items():
            if one.verdict is None or not one.located or one.verdict == "unknown":
                continue
            hx, hy = said["lies"][name][:2]
            away = math.hypot(hx / 100 - one.x_m, hy / 100 - one.y_m)
            assert (
                away
                <= said["r"][name] / 100 - one.corner_m + 0.06 + 0.5 * (one.hook_depth_m or 0) ** 2
            )


@pytest.mark.parametrize(
    "body",
    [
        {"level_m": 0, "wind_m_s": -1, "from_deg": 0},
        {"level_m": 0, "wind_m_s": 61, "from_deg": 0},
        {"level_m": 0, "wind_m_s": 5, "from_deg": 361},
        {"level_m": 1e9, "wind_m_s": 5, "from_deg": 0},
        {"level_m": "0", "wind_m_s": 5, "from_deg": 0},
        {"wind_m_s": 5, "from_deg": 0},
        {"level_m": 0, "wind_m_s": 5, "from_deg": 0, "changes": [1]},
    ],
)
def test_a_weather_that_is_none_is_refused(reading, body):
    with pytest.raises(BadInputError):
        lie_answer(reading, body)


# --- saving
def test_a_save_writes_the_changed_cells_only_where_they_were_meant(own):
    one = some(own, "clear")
    name = one.record.float_id
    before = cells(own.folder)
    said = save_answer(
        own, {"changes": {name: {"x": one.x_m + 3.0, "y": one.y_m, "ground_length": "12 ft"}}}
    )
    after = cells(own.folder)
    assert said["saved"]
    assert {key for key in before if before[key] != after[key]} == {name}
    changed = {column for column in before[name] if before[name][column] != after[name][column]}
    assert changed - {"position_of", "wind_from_deg"} == {"lon", "lat", "ground_length_ft"}
    assert float(after[name]["ground_length_ft"]) == 12.0
    lon, lat = (float(after[name][key]) for key in ("lon", "lat"))
    bearing, _, far = Geod(ellps="WGS84").inv(one.lon, one.lat, lon, lat)
    assert far == pytest.approx(3.0, abs=1e-3)
    # grid north is true north to within the lake's own width
    assert bearing == pytest.approx(90.0, abs=0.1)
    assert (own.folder / said["kept"]).read_bytes() == (DEMO / "floats.csv").read_bytes()


def test_a_plan_with_conflicts_is_saved_and_says_them(own):
    one, other = some(own, "clear"), some(own, "tight")
    said = save_answer(
        own, {"changes": {one.record.float_id: {"x": other.x_m + 1, "y": other.y_m}}}
    )
    assert said["saved"]
    assert any(text.startswith(f"Float {one.record.float_id}: ") for text in said["conflicts"])


def test_of_two_pages_the_second_is_told_and_both_are_kept(own):
    other = Reading.of(own.folder)
    one = some(own, "clear")
    name = one.record.float_id
    assert save_answer(own, {"changes": {name: {"ground_length": "12 ft"}}})["saved"]
    first = (own.folder / "floats.csv").read_bytes()
    said = save_answer(other, {"changes": {name: {"ground_length": "13 ft"}}})
    assert not said["saved"]
    assert any(name in text for text in said["underneath"])
    assert (own.folder / "floats.csv").read_bytes() == first
    with (own.folder / said["kept"]).open(newline="") as file:
        row = next(row for row in csv.DictReader(file) if row["float_id"] == name)
    assert "13" in "".join(value for key, value in row.items() if key.startswith("ground_length"))


def test_compare_tells_the_plan_as_the_command_does(reading):
    one = some(reading, "conflict")
    said = compare_answer(
        reading, {"changes": {one.record.float_id: {"x": one.x_m + 4, "y": one.y_m - 3}}}
    )
    assert said["rows"][0]["id"] == one.record.float_id
    assert said["rows"][0]["what"].startswith("Moved 16.4 ft")  # 5 m
    assert np.isclose(5 / 0.3048, 16.4, atol=0.05)
