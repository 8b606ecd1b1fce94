"""What a drawing does to the floats, against a whole assessment of the field with it."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from conftest import HERE, make_field, make_float, make_zone

from lakemap.mapping import assess
from lakemap.planner.ground_check import check_answer
from lakemap.planner.ground_data import ground_data
from lakemap.planner.ground_drawing import read_drawing
from lakemap.planner.ground_effect import with_zones, zones_of
from lakemap.planner.ground_reading import GroundReading
from lakemap.planner.ground_shapes import assemble
from lakemap.saving.records import Stamp

FLOATS = [
    make_float("1", -60, 0),
    make_float("2", 0, 0, riser_m=None),  # designed: the wake decides
    make_float("3", 60, 40, riser_m=None, status="proposed"),
    make_float("4", 60, -60, status="retired"),
]
SWIM = shapely.box(-100, -40, -85, 40)
CHANNEL = shapely.LineString([(-100, 70), (100, 70)])


@pytest.fixture(scope="module")
def standing():
    zones = [
        make_zone("swim_area", SWIM, row=1),
        make_zone("channel", CHANNEL, row=2, label="way", width_m=10.0),
    ]
    field = make_field(FLOATS, zones=zones)
    calm = replace(field.settings.storm, wind_m_s=3.0)
    boats = replace(field.settings.wake, height_m=1.5, nearest_m=5.0)
    return assess(replace(field, settings=replace(field.settings, storm=calm, wake=boats)))


@pytest.fixture
def body(standing, tmp_path):
    """What the page has, as it would send it back."""
    reading = GroundReading(
        folder=tmp_path,
        stamp=Stamp(files={}),
        assessment=standing,
        settings=standing.field.settings,
    )
    data = ground_data(reading)
    shapes = [one | {"key": f"f{k}"} for k, one in enumerate(data["shapes"])]
    names = ("middle", "name", "units", "levels", "storm")
    return {name: data[name] for name in names} | {"shapes": shapes, "depths": []}


def of_kind(body, kind):
    return next(one for one in body["shapes"] if one["kind"] == kind)


def expected(standing, zones):
    """Verdicts of the field read with these zones."""
    return {
        one.record.float_id: one.verdict
        for one in assess(replace(standing.field, zones=tuple(zones))).floats
    }


def with_(zone, geometry, **more):
    return replace(zone, geometry=HERE.unproject(geometry), **more)


def test_nothing_changed_changes_nothing(standing, body):
    found = check_answer(read_drawing(body), standing)
    assert found["findings"] == []
    effect = found["effect"]
    assert effect["changed"] == []
    assert effect["verdicts"] == expected(standing, standing.field.zones)
    assert effect["verdicts"]["1"] == "clear"
    assert effect["verdicts"]["4"] is None


def test_untouched_zones_keep_every_digit(standing, body):
    drawn = read_drawing(body)
    before = standing.zones
    for was, now in zip(before, zones_of(assemble(drawn), drawn, before), strict=True):
        assert now.shape is was.shape
        assert now.zone == was.zone


@pytest.mark.parametrize("east", [-85.0, -75.0, -70.3, -40.0])
def test_a_swim_area_that_grows(standing, body, east):
    area = shapely.box(-100, -40, east, 40)
    of_kind(body, "swim_area")["lines"] = [shapely.get_coordinates(area.exterior)[:-1].tolist()]
    swim, way = standing.field.zones
    effect = check_answer(read_drawing(body), standing)["effect"]
    assert effect["verdicts"] == expected(standing, [with_(swim, area), way])


@pytest.mark.parametrize("north", [70.0, 45.0, 20.0, -90.0])
def test_a_channel_that_moves_changes_the_risers_that_it_designs(standing, body, north):
    way = shapely.LineString([(-100, north), (100, north)])
    of_kind(body, "channel")["lines"] = [[list(p) for p in way.coords]]
    swim, channel = standing.field.zones
    after = assess(replace(standing.field, zones=(swim, with_(channel, way))))
    effect = check_answer(read_drawing(body), standing)["effect"]
    assert effect["verdicts"] == {one.record.float_id: one.verdict for one in after.floats}
    if north == 20.0:  # the test would not test much if no riser were another
        was = {one.record.float_id: one.riser_m for one in standing.floats}
        assert any(one.riser_m != was[one.record.float_id] for one in after.floats)
    drawn = read_drawing(body)
    quick = with_zones(standing, zones_of(assemble(drawn), drawn, standing.zones))
    for mine, whole in zip(quick.floats, after.floats, strict=True):
        gaps = {(one.kind, one.against): one.gap_m for one in whole.clearances}
        assert {(one.kind, one.against): one.gap_m for one in mine.clearances} == pytest.approx(
            gaps, abs=2e-3
        )


def test_a_new_zone_and_one_taken_away(standing, body):
    drop = of_kind(body, "swim_area")
    body["shapes"].remove(drop)
    hazard = shapely.box(-61, -1, -59, 1)
    body["shapes"].append(
        drop | {"key": "n1", "kind": "hazard", "name": "", "row": None, "clearance": "2", "lines": [shapely.get_coordinates(hazard.exterior)[:-1].tolist()]}
    )  # fmt: skip
    _, way = standing.field.zones
    stone = make_zone("hazard", hazard, row=3, label="stone", clearance_m=2.0)
    effect = check_answer(read_drawing(body), standing)["effect"]
    assert effect["verdicts"] == expected(standing, [way, stone])
    assert effect["verdicts"]["1"] == "conflict"
    mine = next(one for one in effect["changed"] if one["id"] == "1")
    assert mine["then"] == "clear → conflict"
    assert "the hazard" in mine["text"]
    assert effect["headline"].startswith("One float is in conflict")


def test_a_shore_that_moves_is_assessed_anew(standing, body):
    outline = of_kind(body, "outline")
    west = shapely.box(-75, -100, 100, 100)
    outline["lines"] = [shapely.get_coordinates(west.exterior)[:-1].tolist()]
    effect = check_answer(read_drawing(body), standing)["effect"]
    lake = shapely.multipolygons([HERE.unproject(west)])
    after = assess(replace(standing.field, lake=lake))
    assert effect["verdicts"] == {one.record.float_id: one.verdict for one in after.floats}
    assert effect["verdicts"]["1"] == "conflict"


def test_a_shore_that_leaves_a_float_on_land_is_told(standing, body):
    outline = of_kind(body, "outline")
    outline["lines"] = [np.array([[-40, -100], [100, -100], [100, 100], [-40, 100]]).tolist()]
    found = check_answer(read_drawing(body), standing)
    assert found["effect"] is None
    assert any("1" in one["text"] for one in found["findings"])


def test_no_effect_can_be_told_of_a_shape_that_crosses_itself(standing, body):
    of_kind(body, "swim_area")["lines"] = [[[-90, 0], [-80, 10], [-80, 0], [-90, 10]]]
    found = check_answer(read_drawing(body), standing)
    assert found["effect"] is None
    assert found["findings"][0]["at"] == [-85.0, 5.0]
