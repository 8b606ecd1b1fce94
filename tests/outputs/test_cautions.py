"""Each caution is shown where its condition holds, and only there."""

from dataclasses import replace

import pytest
import shapely
from conftest import make_field, make_float, make_settings, make_zone

from lakemap.basis.records import Accuracy, Rule, Season, Wake
from lakemap.mapping import assess
from lakemap.outputs.words.cautions import CAUTIONS, cautions_for, cautions_for_float

FOOT = 0.3048
LAND = shapely.box(-100, 0, -90, 2)
EXAMPLE = {"shore": Rule(kind="shore", limit=1.0, source="Example; check")}
OWN = {"shore": Rule(kind="shore", limit=1.0, source="Town code, section 4")}


def one(*, zones=(), bed_m=6.5, rough=False, status="set", **settings):
    field = make_field(
        [make_float("A", status=status)],
        zones=zones,
        bed_m=bed_m,
        settings=make_settings(**settings),
    )
    return replace(field, lake_is_rough=rough)


def accuracy(*, given):
    return Accuracy(
        position_m=1.0, position_given=given, depth_m=0.2, level_m=0.1, line_m=0.1, layer_m=1.0
    )


def wake(height_m):
    return Wake(height_m=height_m, period_s=2.2, at_m=30.0, nearest_m=30.0)


def zone(kind):
    return [make_zone(kind, LAND)]


def light():
    return make_field([make_float("A", primary_weight_kg=20.0)])


# low water is 0.5 m below the soundings' level
CASES = {
    "code_decides": (one(), None),
    "example_rules": (one(rules=EXAMPLE), one(rules=OWN)),
    "under_load": (one(), one(status="retired")),
    "lifting": (one(), light()),
    "diving": (one(), one(status="retired")),
    "shallow": (one(bed_m=9 * FOOT + 0.49), one(bed_m=9 * FOOT + 0.51)),
    "cold": (one(season=Season(set_on="05-15", lift_on="09-01")), one(season=Season(set_on="06-15", lift_on="09-01"))),
    "boats": (one(zones=zone("channel")), one(zones=zone("swim_area"))),
    "shock": (one(zones=zone("dock")), one(zones=zone("ramp"))),
    "rough_lake": (one(rough=True), one(rough=False)),
    "phone_positions": (one(accuracy=accuracy(given=False)), one(accuracy=accuracy(given=True))),
}  # fmt: skip


def keys(field):
    return [caution.key for caution in cautions_for(assess(field))]


def test_no_caution_without_a_case():
    assert [caution.key for caution in CAUTIONS] == list(CASES)
    assert len({caution.text for caution in CAUTIONS}) == len(CAUTIONS)


@pytest.mark.parametrize("key", CASES)
def test_it_is_shown_where_it_holds_and_only_there(key):
    there, not_there = CASES[key]
    assert keys(there).count(key) == 1
    if not_there is not None:
        assert key not in keys(not_there)


def test_boats_also_by_ramps_and_wakes():
    assert "boats" in keys(one(zones=zone("ramp")))
    assert "boats" in keys(one(wake=wake(0.6)))
    assert "boats" not in keys(one(wake=wake(0.0)))


def test_cold_unless_the_whole_season_is_warm():
    assert "cold" in keys(one(season=Season()))
    assert "cold" in keys(one(season=Season(set_on="06-15", lift_on="10-01")))


def test_a_floats_own_cautions_are_of_that_float():
    field = make_field([make_float("deep"), make_float("flat", 50, 0, depth_m=2.0), make_float("gone", -50, 0, status="retired")])  # fmt: skip
    assessment = assess(field)
    own = [[c.key for c in cautions_for_float(a, assessment)] for a in assessment.floats]
    assert "shallow" not in own[0]
    assert "shallow" in own[1]
    assert own[2] == []
    assert "shallow" in keys(field)
