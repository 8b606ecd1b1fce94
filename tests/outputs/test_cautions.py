"""Each caution is shown where its condition holds, and only there; none stands twice."""

import ast
import re
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import get_args

import pytest
import shapely
from conftest import make_field, make_float, make_settings, make_zone

import lakemap
from lakemap.basis.records import Accuracy, Rule, Season, Wake
from lakemap.mapping import assess
from lakemap.outputs.words.cautions import (
    CAUTIONS,
    CLOSING,
    Task,
    cautions_for,
    cautions_for_float,
    cautions_for_task,
    cautions_of_task,
    closing_line,
)
from lakemap.outputs.words.texts import ENGLISH

FOOT = 0.3048
LAND = shapely.box(-100, 0, -90, 2)
EXAMPLE = {"shore": Rule(kind="shore", limit=1.0, source="Example; check")}
OWN = {"shore": Rule(kind="shore", limit=1.0, source="Town code, section 4")}
TASKS = get_args(Task)
READING = {"map", "planner"}
RIGGING = {"setting", "inspecting", "lifting"}
AFLOAT = RIGGING | {"towing", "gathering"}


def one(*, zones=(), bed_m=6.5, rough=False, south=False, primary=(), gauge=(), **settings):
    field = make_field(
        [make_float("A", **dict(primary))],
        zones=zones,
        bed_m=bed_m,
        settings=make_settings(**settings),
    )
    assessment = assess(replace(field, lake_is_rough=rough, gauge=gauge))
    if south:
        turned = replace(assessment.projection, lat0=-assessment.projection.lat0)
        return replace(assessment, projection=turned)
    return assessment


def accuracy(*, given):
    return Accuracy(
        position_m=1.0, position_given=given, depth_m=0.2, level_m=0.1, line_m=0.1, layer_m=1.0
    )


def wake(height_m):
    return Wake(height_m=height_m, period_s=2.2, at_m=30.0, nearest_m=30.0)


def zone(kind, shape=LAND):
    return [make_zone(kind, shape)]


def season(set_on, lift_on):
    return Season(set_on=set_on, lift_on=lift_on)


def far_east(metres):
    """A square whose near side lies so far east of the primary."""
    return shapely.box(metres, -5, metres + 10, 5)


def read(level_m):
    return ({"date": date(2024, 9, 1), "level_m": level_m},)


LIGHT = {"primary": {"primary_weight_kg": 20.0}}
JUMP = {"jump_depth": Rule(kind="jump_depth", limit=12 * FOOT, beyond_m=1.0, source="Town code")}
# caution: the tasks that it goes with, a field where it holds, one where it doesn't (None: none)
# low water is 0.5 m below the soundings' level
CASES = {
    "example_rules": (READING | {"sharing"}, {"rules": EXAMPLE}, {"rules": OWN}),
    "under_load": (RIGGING | {"towing", "map", "rig"}, {}, None),
    "lifting": ({"setting", "lifting", "map", "rig"}, {}, LIGHT),
    "buried": ({"lifting"}, {"primary": {"bottom": "mud"}}, {"primary": {"bottom": "sand"}}),
    "boat_load": ({"setting", "lifting"}, {}, LIGHT),
    "diving": (RIGGING | {"map", "rig"}, {}, None),
    "towing": ({"towing"}, {}, None),
    "under_float": ({"member"}, {}, None),
    "shallow": (
        READING | {"member", "setting"},
        {"bed_m": 9 * FOOT + 0.49},
        {"bed_m": 9 * FOOT + 0.51},
    ),
    "cold": (
        AFLOAT | {"member", "map", "rig"},
        {"season": season("05-15", "10-01")},
        {"season": season("06-15", "09-01")},
    ),
    "boats": (AFLOAT | READING | {"member"}, {"wake": wake(0.6)}, None),
    "afloat": (AFLOAT, {}, None),
    "shock": (RIGGING | READING | {"member"}, {"zones": zone("dock")}, {"zones": zone("ramp")}),
    "rough_lake": (READING | {"sharing"}, {"rough": True}, {"rough": False}),
    "phone_positions": (
        {"map"},
        {"accuracy": accuracy(given=False)},
        {"accuracy": accuracy(given=True)},
    ),
    # the settings' low water is −0.5 m, their high water 0.5 m
    "lower_water": (READING, {"gauge": read(-0.51)}, {"gauge": read(-0.5)}),
    "higher_water": (READING, {"gauge": read(0.51)}, {"gauge": read(0.5)}),
    "steering": ({"gathering", "sharing"}, {}, None),
}


def keys(task, assessment, float_=None):
    return [caution.key for caution in cautions_of_task(task, assessment, float_)]


def test_no_caution_without_a_case():
    assert [caution.key for caution in CAUTIONS] == list(CASES)


@pytest.mark.parametrize("key", CASES)
def test_it_is_shown_at_its_tasks_where_it_holds_and_only_there(key):
    tasks, there, not_there = CASES[key]
    holds = one(**there)
    assert {task for task in TASKS if key in keys(task, holds)} == tasks
    assert all(keys(task, holds).count(key) <= 1 for task in TASKS)
    if not_there is not None:
        other = one(**not_there)
        assert {task for task in TASKS if key in keys(task, other)} == set()


def test_where_nothing_is_known_of_the_field_all_that_may_hurt_is_told():
    said = [caution.key for caution in cautions_of_task("gathering", None)]
    assert said == ["cold", "boats", "afloat", "steering", "code_decides"]
    assert cautions_for_task("gathering", None)[-1] == closing_line()


@pytest.mark.parametrize("task", TASKS)
def test_the_last_word_is_the_local_code(task):
    said = cautions_for_task(task, one())
    assert said[-1] == closing_line() == "Local codes, permits and licensed practice decide."
    assert said.count(closing_line()) == 1


def test_a_field_without_floats_has_the_cautions_of_no_rig():
    empty = assess(make_field([], settings=make_settings(wake=wake(0.0))))
    assert "under_load" not in keys("setting", empty)
    assert keys("setting", empty)[-1] == "code_decides"


def test_boats_at_the_dock_and_on_the_water():
    calm = {"wake": wake(0.0)}
    assert "boats" in keys("map", one(zones=zone("ramp"), **calm))
    assert "boats" in keys("member", one(zones=zone("channel"), **calm))
    assert "boats" not in keys("member", one(zones=zone("swim_area"), **calm))
    # who works from a boat has a propeller beside him, whatever the lake has
    assert "boats" in keys("gathering", one(zones=zone("swim_area"), **calm))


@pytest.mark.parametrize(("kind", "key"), [("dock", "shock"), ("channel", "boats")])
def test_a_float_is_warned_of_what_is_within_100_yards_of_its_circle(kind, key):
    circle = one().floats[0].swing_radius_m[0]
    yards = 100 * 3 * FOOT
    near = one(zones=zone(kind, far_east(circle + yards - 0.5)), wake=wake(0.0))
    far = one(zones=zone(kind, far_east(circle + yards + 0.5)), wake=wake(0.0))
    assert key in keys("member", near, near.floats[0])
    assert key not in keys("member", far, far.floats[0])
    assert key in keys("member", far)  # but the field is


def test_cold_unless_the_days_of_the_task_are_warm():
    assert "cold" in keys("setting", one(season=Season()))
    late = one(season=season("06-15", "10-01"))
    assert "cold" not in keys("setting", late)
    assert "cold" in keys("lifting", late)
    assert "cold" in keys("towing", late)


def test_the_seasons_are_turned_in_the_south():
    winter = {"season": season("06-15", "09-01")}
    assert "cold" in keys("setting", one(south=True, **winter))
    assert "cold" not in keys("setting", one(south=True, season=season("12-10", "03-01")))
    assert "cold" in keys("lifting", one(south=True, season=season("12-10", "05-01")))


def test_less_than_the_field_asks_for_jumping_is_shallow_too():
    deep = {"bed_m": 11 * FOOT + 0.5}  # 11 ft at low water
    assert "shallow" in keys("member", one(rules=JUMP, **deep))
    assert "shallow" not in keys("member", one(**deep))


def test_a_blank_bottom_is_taken_for_silt_which_buries():
    assert "buried" in keys("lifting", one())
    assert "buried" not in keys("lifting", one(primary={"bottom": "rock"}))


def test_a_floats_own_cautions_are_of_that_float():
    field = make_field([make_float("deep"), make_float("flat", 50, 0, depth_m=2.0), make_float("gone", -50, 0, status="retired")])  # fmt: skip
    assessment = assess(field)
    own = [[c.key for c in cautions_for_float(a, assessment)] for a in assessment.floats]
    assert "shallow" not in own[0]
    assert "shallow" in own[1]
    assert own[2] == []
    assert "shallow" in [caution.key for caution in cautions_for(assessment)]
    # a retired rig has still to be lifted
    assert "lifting" in keys("lifting", assessment, assessment.floats[2])


# --- once


def plain(text):
    return " ".join(re.sub(r"[^a-z0-9]+", " ", text.lower()).split())


def sentences(text):
    """Of a caution, without its name before the colon."""
    said = text.partition(": ")[2] or text
    return [plain(part) for part in re.split(r"[.;]\s|[.;]$", said) if len(plain(part).split()) > 3]


@cache
def told():
    """Every text of the package that may be shown: no comment, no docstring."""
    return tuple(_told())


def _told():
    folder = Path(lakemap.__file__).parent
    for file in sorted(folder.rglob("*.py")):
        tree = ast.parse(file.read_text(encoding="utf-8"))
        docs = {
            id(node.body[0].value)
            for node in ast.walk(tree)
            if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef)
            and node.body
            and isinstance(node.body[0], ast.Expr)
        }
        for node in ast.walk(tree):
            if (
                isinstance(node, ast.Constant)
                and isinstance(node.value, str)
                and id(node) not in docs
            ):
                yield file.name, plain(node.value)
    for file in sorted((*folder.rglob("*.js"), *folder.rglob("*.html"))):
        lines = file.read_text(encoding="utf-8").splitlines()
        shown = [line for line in lines if not line.lstrip().startswith("//")]
        yield file.name, plain(" ".join(shown))
    for key, text in ENGLISH.table.items():
        for form in (text,) if isinstance(text, str) else text.values():
            yield key, plain(form)


def test_no_caution_stands_twice():
    for caution in (*CAUTIONS, CLOSING):
        for sentence in sentences(caution.text):
            places = [where for where, text in told() if sentence in text]
            assert places == [f"caution.{caution.key}"], sentence


@pytest.mark.parametrize(
    ("words", "key"),
    [
        ("licensed practice", "code_decides"),
        ("recoil|whips? back", "under_load"),
        ("capsize", "boat_load"),
        ("cold water", "cold"),
        ("headfirst", "shallow"),
        ("propeller", "boats"),
        ("paralyses|shore power|electric power", "shock"),
        ("not for navigation", "steering"),
        ("licensed divers|entangle", "diving"),
        ("nobody under", "lifting"),
        ("wear a life jacket", "cold"),
        ("jackets on", "afloat"),
        ("first thunder", "afloat"),
    ],
)
def test_nor_in_other_words(words, key):
    places = {where for where, text in told() if re.search(words, text)}
    assert places == {f"caution.{part.removeprefix('caution.')}" for part in key.split("|")}


def test_what_may_hurt_people_has_a_name():
    for caution in CAUTIONS:
        if caution.tasks & (AFLOAT | {"member"}):
            name = caution.name(ENGLISH)
            assert 1 <= len(name.split()) <= 4, name
            assert caution.text.startswith(f"{name}: ")
