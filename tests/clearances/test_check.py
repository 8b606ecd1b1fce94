"""The check against a square lake worked by hand, against brute force, and its laws."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest
import shapely
from conftest import HERE, make_field, make_float, make_settings, make_zone
from hypothesis import given, settings
from hypothesis import strategies as st

from lakemap.basis.records import Accuracy, Levels, Rule
from lakemap.mapping import assess

RADIUS = 10.5


def by_id(assessment):
    return {one.record.float_id: one for one in assessment.floats}


def to(one, kind, against=None):
    return next(c for c in one.clearances if c.kind == kind and against in (None, c.against))


def with_rules(**rules):
    plain = make_settings()
    return replace(plain, rules=MappingProxyType(dict(plain.rules) | rules))


def test_by_hand(square):
    found = by_id(assess(square))
    a = found["A"]
    assert to(a, "float", "B").gap_m == pytest.approx(2.0, abs=1e-6)
    assert to(a, "float", "C").gap_m == pytest.approx(1.0, abs=1e-6)
    assert to(a, "float", "D").gap_m == pytest.approx(59.0, abs=1e-6)
    assert to(a, "float", "C").spare_m == pytest.approx(-1.0, abs=1e-6)
    assert to(a, "shore").gap_m == pytest.approx(100 - RADIUS, abs=1e-6)
    assert to(a, "swim_area").gap_m == pytest.approx(25 - RADIUS, abs=1e-6)
    assert to(a, "swim_area").spare_m == pytest.approx(4.5, abs=1e-6)
    assert [one.verdict for one in found.values()] == ["conflict", "tight", "conflict", "clear"]
    assert a.clearances[0].against == "C"
    assert a.shallowest_m == pytest.approx(6.0)
    assert to(a, "float", "C").rule == "neighbour rule"


def test_uncertainty_by_hand(square):
    # reach(10, 6 - 0.2) = 8.14616, delta 0.14616; reach(10.1, 6) = 8.12466, delta 0.12466;
    # reach(10, 6 - 0.1) = 8.07403, lambda 0.07403; own^2 = 1 + 0.02136 + 0.01554 = 1.03690
    a = by_id(assess(square))["A"]
    pair = 2 * np.sqrt(2 * 1.03690 + (2 * 0.07403) ** 2)
    assert to(a, "float", "B").uncertainty_m == pytest.approx(pair, abs=1e-4)
    assert to(a, "shore").uncertainty_m == pytest.approx(
        2 * np.sqrt(1.03690 + 1 + 0.07403**2), abs=1e-4
    )


def test_same_wind_decides_where_the_rule_says_so(square):
    rule = Rule(kind="neighbour", limit=2.0, source="s", mode="same_wind")
    found = by_id(assess(replace(square, settings=with_rules(neighbour=rule))))
    near = to(found["A"], "float", "C")
    assert near.gap_m == pytest.approx(1.0, abs=1e-6)
    assert near.same_wind_gap_m == pytest.approx(22 - 5.0, abs=1e-6)
    assert near.spare_m == pytest.approx(15.0, abs=1e-6)
    assert found["A"].verdict == "clear"
    lone = by_id(
        assess(
            make_field(
                [make_float("1"), make_float("2", 20, 0)], settings=with_rules(neighbour=rule)
            )
        )
    )
    assert lone["1"].verdict == "tight"  # full circles overlap by 1 m
    assert "same_wind_only" in [p.code for p in lone["1"].problems]


def test_zone_inside_and_line_with_a_width():
    line = make_zone("channel", shapely.LineString([(-50, 20), (50, 20)]), width_m=10.0)
    inside = make_zone("swim_area", shapely.box(-30, -40, 30, 40), label="Beach")
    a = assess(make_field([make_float("A")], zones=[line, inside])).floats[0]
    assert to(a, "channel").gap_m == pytest.approx(20 - 5 - RADIUS, abs=1e-6)
    assert to(a, "swim_area").gap_m == pytest.approx(-30 - RADIUS, abs=1e-6)


def test_ends_of_a_line_with_a_width_are_round():
    line = make_zone("channel", shapely.LineString([(33, 44), (90, 44)]), width_m=10.0)
    a = assess(make_field([make_float("A")], zones=[line])).floats[0]
    assert to(a, "channel").gap_m == pytest.approx(55 - 5 - RADIUS, abs=1e-6)


def test_own_clearance_is_checked_without_a_table():
    bare = make_zone("intake", shapely.box(20, -5, 30, 5), clearance_m=12.0, source="own words")
    plain = make_zone("hazard", shapely.box(-40, -5, -30, 5))
    a = assess(make_field([make_float("A")], zones=[bare, plain])).floats[0]
    assert to(a, "intake").spare_m == pytest.approx(20 - RADIUS - 12, abs=1e-6)
    assert to(a, "intake").rule == "own words"
    assert to(a, "hazard").required_m is None
    assert to(a, "hazard").spare_m is None
    assert a.clearances[-1].spare_m is None


def test_frontage_keeps_in():
    own = make_zone("frontage", shapely.box(-15, -20, 10, 20), label="lot 7", lot=" Seven ")
    other = make_zone("frontage", shapely.box(10, -20, 40, 20), label="lot 8", lot="8")
    rules = with_rules(frontage=Rule(kind="frontage", limit=0.0, source="frontage rule"))
    field = make_field(
        [
            make_float("A", lot="seven"),
            make_float("B", -60, 60, lot="sevn"),
            make_float("C", -60, -60),
        ],
        zones=[own, other],
        settings=rules,
    )
    found = by_id(assess(field))
    assert to(found["A"], "frontage").gap_m == pytest.approx(10 - RADIUS, abs=1e-6)
    assert to(found["A"], "frontage").against == "lot 7"
    codes = [p.code for p in found["A"].problems]
    assert "over_other_frontage" in codes  # 0.5 m over lot 8
    text = next(p.text for p in found["B"].problems if p.code == "lot_without_frontage")
    assert "' Seven '" in text
    assert [p.code for p in found["C"].problems] == ["hung_at_high_water"]


def test_frontages_of_one_lot_are_joined():
    west = make_zone("frontage", shapely.box(-20, -20, 0, 20), lot="7", label="west")
    east = make_zone("frontage", shapely.box(0, -20, 20, 20), lot="7", label="east")
    a = assess(make_field([make_float("A", 1, 0, lot="7")], zones=[west, east])).floats[0]
    assert to(a, "frontage").gap_m == pytest.approx(19 - RADIUS, abs=1e-6)
    assert to(a, "frontage").against == "east"


def test_depth_rules():
    rules = with_rules(
        bed=Rule(kind="bed", limit=1.0, source="bed rule"),
        jump_depth=Rule(kind="jump_depth", limit=2.5, source="jump rule", beyond_m=3.0),
    )
    one = assess(make_field([make_float("A")], settings=rules)).floats[0]
    draft = assess(make_field([make_float("A")])).floats[0]
    assert to(one, "jump_depth").gap_m == pytest.approx(6.0 - 0.3048)  # a cluster may lie there
    assert to(one, "bed").gap_m < 6.0
    assert draft.shallowest_m == pytest.approx(6.0)
    # near the shore the circle and 3 m more reach water 0 m deep at normal level
    edge = assess(make_field([make_float("A", 88, 0)], settings=rules)).floats[0]
    assert to(edge, "jump_depth").gap_m == pytest.approx(-0.5, abs=1e-6)


def test_farthest_from_shore_and_deck_area():
    rules = with_rules(
        shore_max=Rule(kind="shore_max", limit=60.0, source="far rule"),
        deck_area_max=Rule(kind="deck_area_max", limit=10.0, source="deck rule"),
    )
    one = assess(make_field([make_float("A", 60, 0)], settings=rules)).floats[0]
    assert to(one, "shore_max").gap_m == pytest.approx(40 + RADIUS, abs=1e-6)
    assert to(one, "shore_max").spare_m == pytest.approx(60 - 50.5, abs=1e-6)
    deck = to(one, "deck_area_max")
    assert (deck.value_m2, deck.spare_m2, deck.uncertainty_m) == (12.0, -2.0, 0.0)
    assert one.verdict == "conflict"


def test_islands_count_as_shore():
    lake = shapely.Polygon(
        shapely.box(-100, -100, 100, 100).exterior, [shapely.box(30, -5, 40, 5).exterior]
    )
    field = make_field([make_float("A")], lake=shapely.multipolygons([HERE.unproject(lake)]))
    one = assess(field).floats[0]
    assert to(one, "island").against == "island 1"
    assert to(one, "island").gap_m == pytest.approx(30 - RADIUS, abs=1e-6)
    assert to(one, "shore").gap_m == pytest.approx(100 - RADIUS, abs=1e-6)


def test_missing_rules_are_said_once():
    bare = replace(make_settings(), rules=MappingProxyType({}))
    assessment = assess(make_field([make_float("A"), make_float("B", 30, 0)], settings=bare))
    assert [p.column for p in assessment.problems] == [
        "rules.neighbour", "rules.shore", "rules.swim_area", "rules.channel",
    ]  # fmt: skip
    pair = to(assessment.floats[0], "float")
    assert (pair.required_m, pair.spare_m, pair.rule) == (None, None, None)
    assert assessment.floats[0].verdict == "clear"


def test_low_water_line_is_said_once():
    # the bed falls from the shore to 6.5 m within 2 m: 3 m lower the water's edge lies 0.92 m farther in
    codes = [p.code for p in assess(make_field([make_float("A", 82, 0)])).problems]
    assert "low_water_line" not in codes
    steep = make_settings(levels=Levels(low_m=-3.0, normal_m=0.0, high_m=0.5, soundings_m=0.0))
    dry = assess(make_field([make_float("A", 83.9, 0, depth_m=9.0)], settings=steep))
    shore = to(dry.floats[0], "shore")
    assert shore.spare_m >= 0
    assert [p.code for p in dry.problems] == ["low_water_line"]


def test_unknown_depth_still_checks_the_neighbours():
    field = make_field([make_float("A"), make_float("B", 21, 0, depth_m=6.5)], bed_m=None)
    found = by_id(assess(field))
    assert found["A"].verdict == "unknown"
    assert found["B"].verdict == "conflict"
    assert to(found["B"], "float").gap_m == pytest.approx(21 - 12.5 - 10.5, abs=1e-6)


def test_depth_accuracy_that_nobody_gave_is_said():
    accuracy = Accuracy(
        position_m=1, position_given=True, depth_m=None, level_m=0.1, line_m=0.1, layer_m=1
    )
    field = make_field(
        [make_float("A", depth_m=6.5)], bed_m=None, settings=make_settings(accuracy=accuracy)
    )
    assert "depth_accuracy_guessed" in [p.code for p in assess(field).problems]


def test_a_primary_on_land_by_its_bearing_is_bad_data():
    from lakemap.basis.errors import BadInputError

    one = make_float("A", 98, 0, position_of="secondary", bearing_deg=270.0)
    with pytest.raises(BadInputError, match=r"floats.csv row 2 position_of: float A: the primary"):
        assess(make_field([one]))


def test_every_conflict_and_the_nearest_of_each_kind_is_listed():
    far = make_zone("ramp", shapely.box(-99, -99, -95, -95))
    ask = with_rules(neighbour=Rule(kind="neighbour", limit=180.0, source="wide"))
    field = make_field(
        [make_float("A", 80, 80), make_float("B", -60, -60)], zones=[far], settings=ask
    )
    found = by_id(assess(field))
    assert to(found["A"], "float").spare_m < 0  # gap of 177 m, 180 asked
    assert to(found["A"], "ramp").gap_m > 100


def random_field(seed, count=14):
    rng = np.random.default_rng(seed)
    floats = [
        make_float(
            str(k),
            *rng.uniform(-85, 85, 2),
            riser_m=rng.uniform(6.5, 9),
            ground_m=rng.uniform(3, 7),
        )
        for k in range(count)
    ]
    zones = [
        make_zone(
            kind,
            shapely.Point(*rng.uniform(-80, 80, 2)).buffer(rng.uniform(3, 20)),
            label=f"{kind} {k}",
        )
        for k, kind in enumerate(["swim_area", "hazard", "swim_area", "intake"])
    ]
    line = shapely.LineString(rng.uniform(-90, 90, (4, 2)))
    zones.append(make_zone("channel", line, width_m=6.0, label="channel"))
    return make_field(floats, zones=zones)


@pytest.mark.parametrize("seed", range(5))
def test_against_the_general_library_one_by_one(seed):
    field = random_field(seed)
    assessment = assess(field)
    zones = {placed.zone.label: placed for placed in assessment.zones}
    for one in assessment.floats:
        point = shapely.Point(one.x_m, one.y_m)
        r = one.swing_radius_m[0]
        seen = {c.against: c for c in one.clearances if c.kind == "float"}
        for other in assessment.floats:
            if other is one:
                continue
            gap = point.distance(shapely.Point(other.x_m, other.y_m)) - r - other.swing_radius_m[0]
            if gap < 100:
                assert seen[other.record.float_id].gap_m == pytest.approx(gap, abs=1e-9)
        for label, placed in zones.items():
            gap = plain_distance(placed, point) - r
            listed = [c for c in one.clearances if c.against == label]
            if gap < 100:
                assert listed[0].gap_m == pytest.approx(gap, abs=1e-9)


def plain_distance(placed, point):
    if placed.zone.width_m:
        return point.distance(placed.shape) - placed.zone.width_m / 2
    if placed.shape.contains(point):
        return -point.distance(placed.shape.boundary)
    return point.distance(placed.shape)


def gaps(assessment):
    return {
        (one.record.float_id, c.kind, c.against): c.gap_m
        for one in assessment.floats
        for c in one.clearances
    }


@settings(max_examples=15, deadline=None)
@given(seed=st.integers(0, 1000))
def test_a_gap_is_the_same_from_both_sides(seed):
    found = gaps(assess(random_field(seed, 8)))
    for (a, kind, b), gap in found.items():
        if kind == "float":
            assert found[b, "float", a] == gap


@settings(max_examples=15, deadline=None)
@given(seed=st.integers(0, 1000), x=st.floats(-80, 80), y=st.floats(-80, 80))
def test_adding_a_float_never_makes_anothers_spare_larger(seed, x, y):
    field = random_field(seed, 6)
    more = replace(field, floats=(*field.floats, make_float("new", x, y)))
    before, after = assess(field), assess(more)
    for one, same in zip(before.floats, after.floats, strict=False):
        least = [
            min((c.spare_m for c in f.clearances if c.spare_m is not None), default=np.inf)
            for f in (one, same)
        ]
        assert least[1] <= least[0]


@settings(max_examples=15, deadline=None)
@given(seed=st.integers(0, 1000), fall=st.floats(0, 2))
def test_lower_water_never_widens_a_gap(seed, fall):
    field = random_field(seed, 6)
    low = make_settings(levels=Levels(low_m=-0.5 - fall, normal_m=0, high_m=0.5, soundings_m=0))
    before, after = gaps(assess(field)), gaps(assess(replace(field, settings=low)))
    for key, gap in after.items():
        if key in before:
            assert gap <= before[key] + 1e-9


@settings(max_examples=10, deadline=None)
@given(seed=st.integers(0, 1000), east=st.floats(-20, 20), north=st.floats(-10, 10))
def test_moving_the_field_changes_no_gap(seed, east, north):
    """Moved on the globe by some degrees: every length stays, by its own projection."""
    from lakemap.lake.projection import LakeProjection

    there = LakeProjection(lon0=HERE.lon0 + east, lat0=HERE.lat0 + north)

    def moved(geometry):
        return there.unproject(HERE.project(geometry))

    field = random_field(seed, 6)
    floats = []
    for one in field.floats:
        point = moved(shapely.Point(one.lon, one.lat))
        floats.append(replace(one, lon=point.x, lat=point.y))
    zones = [replace(zone, geometry=moved(zone.geometry)) for zone in field.zones]
    at = shapely.points(field.soundings.lon, field.soundings.lat)
    lonlat = shapely.get_coordinates(moved(at))
    soundings = replace(field.soundings, lon=lonlat[:, 0], lat=lonlat[:, 1])
    shifted = replace(
        field, lake=moved(field.lake), floats=tuple(floats), zones=tuple(zones), soundings=soundings
    )
    before, after = gaps(assess(field)), gaps(assess(shifted))
    assert before.keys() == after.keys()
    for key, gap in before.items():
        assert after[key] == pytest.approx(gap, abs=2e-4)
