"""The JSON of `compare`: every key always there, null for unknown, unrounded, nothing private."""

import json
from dataclasses import replace
from types import MappingProxyType

import pytest
import shapely
from conftest import make_float, make_settings, make_zone
from two_versions import as_it_was, at, beach, field_of, four_floats, two

from lakemap.basis.records import Rule
from lakemap.comparing import compare
from lakemap.mapping import assess
from lakemap.outputs.compare.document import compare_document

PAIR = {"old", "new"}
PRIVATE = {
    "owner": "Ada Wren",
    "permit": "TL-77",
    "note": "rings at night",
    "extra": MappingProxyType({"phone": "555 0101"}),
}


def through_json(comparison):
    return json.loads(json.dumps(compare_document(comparison), allow_nan=False))


@pytest.fixture(scope="module")
def comparison():
    wider = make_zone("swim_area", shapely.box(-10, -60, 10, -20), label="Beach")
    base = make_settings()
    rules = {
        **base.rules,
        "deck_area_max": Rule(kind="deck_area_max", limit=20.0, source="deck rule"),
    }
    new = make_settings(
        storm=replace(base.storm, from_deg=(270.0, 90.0)), rules=MappingProxyType(rules)
    )
    return two(
        [make_float("E", 60.0, 60.0)],
        new={"zones": [wider], "settings": new},
        B=at(30.0, 5.0),
        C=None,
        D={"ground_m": 4.5, **PRIVATE},
    )


@pytest.fixture(scope="module")
def document(comparison):
    return through_json(comparison)


def floats_of(document):
    return {one["float_id"]: one for one in document["floats"]}


def test_the_whole(document):
    assert list(document) == ["format", "old", "new", "floats", "field", "counts"]
    assert document["format"] == "lakemap 1 compare"
    assert (document["old"], document["new"]) == ("square", "square")
    assert document["counts"]["moved"] == 1
    assert document["counts"]["added"] == document["counts"]["taken_away"] == 1
    assert document["counts"]["verdicts"]["old"] == {
        "conflict": 2, "tight": 1, "unknown": 0, "clear": 1, "retired": 0,
    }  # fmt: skip


def test_every_float_has_every_key(document):
    keys = {
        "float_id", "change", "status", "verdict", "lon", "lat", "moved", "columns", "depth_m",
        "riser_m", "ground_m", "swing_radius_m", "spare_m", "limited_by", "gaps", "loads_n",
        "weak_link", "weak_link_used", "cause", "what", "then",
    }  # fmt: skip
    pairs = {
        "status", "verdict", "lon", "lat", "depth_m", "riser_m", "ground_m", "swing_radius_m",
        "spare_m", "limited_by", "weak_link", "weak_link_used",
    }  # fmt: skip
    gap_pairs = {
        "gap_m", "required_m", "spare_m", "uncertainty_m", "value_m2", "required_m2", "spare_m2",
    }  # fmt: skip
    assert [one["change"] for one in document["floats"]] == [
        "affected", "moved", "changed", "added", "taken_away",
    ]  # fmt: skip
    for one in document["floats"]:
        assert set(one) == keys
        assert all(set(one[name]) == PAIR for name in pairs)
        assert set(one["loads_n"]) == {"mean", "peak"}
        assert all(set(pair) == PAIR for pair in one["loads_n"].values())
        for gap in one["gaps"]:
            assert set(gap) == {"kind", "against"} | gap_pairs
            assert all(set(gap[name]) == PAIR for name in gap_pairs)


def test_what_is_not_there_is_null(document):
    added, gone = floats_of(document)["E"], floats_of(document)["C"]
    assert added["verdict"] == {"old": None, "new": "clear"}
    assert gone["verdict"] == {"old": "conflict", "new": None}
    assert gone["moved"] is None
    assert gone["gaps"] == added["gaps"] == []
    assert added["loads_n"]["mean"]["old"] is None
    assert added["loads_n"]["mean"]["new"] > 0


def test_figures_are_those_of_the_assessments(comparison, document):
    one = floats_of(document)["B"]
    for side, version in (("old", comparison.old), ("new", comparison.new)):
        float_ = next(f for f in version.floats if f.record.float_id == "B")
        assert one["lon"][side] == float_.lon
        assert one["swing_radius_m"][side] == float_.swing_radius_m[0]
        assert one["loads_n"]["peak"][side] == float_.sizing.loads_n.peak
        assert one["weak_link"][side] == float_.sizing.line.weak_link
        used = {part.name: part.used for part in float_.sizing.line.parts}
        assert one["weak_link_used"][side] == used[float_.sizing.line.weak_link]
        least = min(c.spare_m for c in float_.clearances if c.spare_m is not None)
        assert one["spare_m"][side] == least
    assert one["moved"]["distance_m"] == pytest.approx((7**2 + 5**2) ** 0.5, abs=1e-3)
    assert one["moved"]["reckoned"] is False


def test_the_field(document):
    found = {(one["topic"], one["name"], one["part"]): one for one in document["field"]}
    assert all(
        set(one)
        == {"topic", "name", "part", "change", "unit", "old", "new", "gained", "lost", "text"}
        for one in found.values()
    )
    storm = found["storm", None, "from"]
    assert (storm["old"], storm["new"]) == ([270.0], [270.0, 90.0])
    assert found["zones", "Beach", "outline"]["gained"] == pytest.approx(100, rel=1e-6)
    rule = found["rules", "deck_area_max", "area"]
    assert (rule["change"], rule["old"], rule["new"], rule["unit"]) == ("added", None, 20.0, "m2")


def test_nothing_private_is_in_it(comparison, document):
    text = json.dumps(document)
    for word in ("Ada", "TL-77", "rings", "555", "phone", "owner", "permit", "note"):
        assert word not in text
    asked = json.dumps(through_json(compare(comparison.old, comparison.new, owners=True)))
    for word in ("Ada Wren", "TL-77", "rings at night", "555 0101"):
        assert word in asked


def test_a_retired_float_and_one_without_depth():
    before = assess(field_of(four_floats(), bed_m=None))
    one, *rest = field_of(four_floats(), bed_m=None).floats
    after = assess(replace(before.field, floats=(replace(one, status="retired"), *rest)))
    found = floats_of(through_json(compare(before, after)))
    assert found["A"]["verdict"] == {"old": "unknown", "new": None}
    assert found["A"]["spare_m"] == {"old": None, "new": None}
    assert found["A"]["gaps"] == []


def test_nothing_changed():
    document = through_json(compare(as_it_was(), as_it_was()))
    assert document["floats"] == document["field"] == []
    assert set(document["counts"]) == {
        "moved", "changed", "added", "taken_away", "retired", "affected", "worse", "better",
        "verdicts",
    }  # fmt: skip


def test_a_zone_without_a_change_is_not_in_it():
    document = through_json(two(old={"zones": [beach()]}, D={"riser_m": 6.5}))
    assert document["field"] == []
