"""Two versions of a field compared: distances against a geodesic, gaps and radii against paper."""

import math
from dataclasses import fields, replace
from types import MappingProxyType

import pytest
import shapely
from conftest import HERE, SIDE_M, make_field, make_float, make_settings, make_zone
from pyproj import Geod
from two_versions import (
    RADIUS_M,
    as_it_was,
    at,
    beach,
    by_id,
    field_of,
    four_floats,
    gap_to,
    two,
    versions,
)

from lakemap.basis.errors import BadInputError
from lakemap.basis.records import Fitting, Float, Rule, Settings
from lakemap.changes.columns import COLUMNS
from lakemap.changes.records import Cause
from lakemap.changes.settings import settings_changes
from lakemap.comparing import compare
from lakemap.mapping import assess
from lakemap.outputs.compare.field_words import field_line

GEOD = Geod(ellps="WGS84")


@pytest.fixture
def plain():
    return as_it_was()


def test_a_version_is_like_itself(plain):
    assert compare(plain, plain).is_alike


def test_read_again_in_another_order_it_is_still_alike(plain):
    floats = list(four_floats().values())
    rows = [replace(one, row=9 - k) for k, one in enumerate(reversed(floats))]
    assert compare(plain, assess(make_field(rows, zones=[beach()]))).is_alike


@pytest.mark.parametrize(
    ("east", "north"), [(0, 60), (60, 0.5), (-43, 21), (-12.5, -58), (7, -9), (0.02, -0.01)]
)
def test_a_move_is_the_geodesic(east, north):
    there = at(east, north)
    one = by_id(two(floats={"A": make_float("A")}, old={"zones": []}, A=there))["A"]
    here = make_float("A")
    azimuth, _, metres = GEOD.inv(here.lon, here.lat, there["lon"], there["lat"])
    assert one.kind == "moved"
    assert one.moved.distance_m == pytest.approx(metres, abs=1e-3)
    assert not one.moved.reckoned
    assert one.was_xy == pytest.approx((0, 0), abs=1e-6)
    if metres > 5:
        apart = (one.moved.bearing_deg - azimuth + 180) % 360 - 180
        assert apart == pytest.approx(0, abs=0.02)  # the grid turns by less across the lake


def test_what_cannot_be_measured_is_no_move():
    assert two(D=at(-80.0005, 0.0)).is_alike
    assert by_id(two(D=at(-80.002, 0.0)))["D"].moved.distance_m == pytest.approx(0.002, abs=1e-6)


def test_the_gaps_of_a_move():
    found = by_id(two(B=at(30.0, 0.0)))
    for name, other in (("A", "B"), ("B", "A")):
        old, new = gap_to(found[name], other)
        assert (old.gap_m, new.gap_m) == pytest.approx((23 - 2 * RADIUS_M, 30 - 2 * RADIUS_M))
        assert (old.spare_m, new.spare_m) == pytest.approx((0, 7), abs=1e-6)
    old, new = gap_to(found["C"], "B")
    assert old.gap_m == pytest.approx(math.hypot(23, 22) - 2 * RADIUS_M)
    assert new.gap_m == pytest.approx(math.hypot(30, 22) - 2 * RADIUS_M)
    assert found["A"].kind == "affected"
    assert [gap.against for gap in found["D"].gaps] == ["B"]


def test_every_gap_that_changed_is_there_and_no_other():
    before = as_it_was()
    after = assess(field_of({**four_floats(), "B": make_float("B", 30.0, 5.0)}))
    found = by_id(compare(before, after))
    for old, new in zip(before.floats, after.floats, strict=True):
        listed = [{(c.kind, c.against): c.gap_m for c in one.clearances} for one in (old, new)]
        wanted = {
            key
            for key in listed[0] | listed[1]
            if abs(listed[0].get(key, math.inf) - listed[1].get(key, -math.inf)) > 1e-3
        }
        change = found.get(old.record.float_id)
        gaps = [] if change is None else change.gaps
        assert {(gap.kind, gap.against) for gap in gaps} == wanted
        spares = [min(c.spare for c in (g.old, g.new) if c is not None and c.spare is not None) for g in gaps if (g.old or g.new).spare is not None]  # fmt: skip
        assert spares == sorted(spares)


def test_a_longer_ground_chain():
    one = by_id(two(D={"ground_m": 5.0}))["D"]
    assert (one.kind, one.moved) == ("changed", None)
    assert [(c.column, c.unit, c.old, c.new) for c in one.columns] == [
        ("ground_length", "m", 4.0, 5.0)
    ]
    radius = math.sqrt(11**2 - 6**2) + 2.5
    assert one.after.swing_radius_m[0] == pytest.approx(radius)
    old, new = gap_to(one, "lake")
    assert (old.gap_m, new.gap_m) == pytest.approx((20 - RADIUS_M, 20 - radius))


def test_a_gap_that_only_one_version_lists():
    # a gap of 124.6 m at first, which is too far to be listed
    floats = {**four_floats(), "E": make_float("E", 60.0, 40.0)}
    old, new = gap_to(by_id(two(floats=floats, E=at(10.0, 40.0)))["D"], "E")
    assert old is None
    assert new.gap_m == pytest.approx(math.hypot(90, 40) - 2 * RADIUS_M)


def test_added_and_taken_away():
    found = two([make_float("E", 60.0, 60.0)], C=None)
    assert [(one.float_id, one.kind) for one in found.floats if one.kind != "affected"] == [
        ("E", "added"),
        ("C", "taken_away"),
    ]
    change = by_id(found)
    assert change["E"].before is None
    assert change["C"].after is None
    assert change["C"].was_xy == pytest.approx((0, 22), abs=1e-6)
    assert change["A"].cause == Cause(kind="float", names=("C",), did="taken_away")


def test_retired_and_in_use_again():
    change = by_id(two(C={"status": "retired"}))
    assert change["C"].kind == "retired"
    assert change["C"].gaps == ()
    assert change["A"].cause == Cause(kind="float", names=("C",), did="retired")
    assert (change["A"].before.verdict, change["A"].after.verdict) == ("conflict", "tight")
    floats = {**four_floats(), "C": make_float("C", 0.0, 22.0, status="retired")}
    change = by_id(two(floats=floats, C={"status": "set"}))
    assert change["C"].kind == "changed"
    assert change["A"].cause == Cause(kind="float", names=("C",), did="in_use_again")


@pytest.mark.parametrize(
    ("changes", "name", "did"),
    [
        ({"C": at(0.0, 40.0)}, "C", "made_room"),
        ({"C": {"riser_m": 5.5}}, "C", "made_room"),
        ({"B": at(20.0, 0.0)}, "B", "came_nearer"),
        ({"B": {"riser_m": 8.0}}, "B", "swings_farther"),
    ],
)
def test_one_neighbour_is_the_cause(changes, name, did):
    assert by_id(two(**changes))["A"].cause == Cause(kind="float", names=(name,), did=did)


def test_two_neighbours_are_the_cause():
    floats = {**four_floats(), "B": make_float("B", 22.0, 0.0)}
    found = by_id(two(floats=floats, B=at(40.0, 0.0), C=at(0.0, 40.0)))
    assert found["A"].cause.kind == "float"
    assert set(found["A"].cause.names) == {"B", "C"}
    assert found["A"].cause.did == "made_room"


def test_a_new_neighbour_is_the_cause():
    found = by_id(two([make_float("E", -60.0, 0.0)]))
    assert (found["D"].before.verdict, found["D"].after.verdict) == ("clear", "conflict")
    assert found["D"].cause == Cause(kind="float", names=("E",), did="added")


def rules(**limits):
    settings_ = make_settings()
    more = {
        kind: Rule(kind=kind, limit=limit, source=f"{kind} rule") for kind, limit in limits.items()
    }
    return make_settings(rules=MappingProxyType({**settings_.rules, **more}))


def test_a_rule_is_the_cause():
    found = two(new={"settings": rules(neighbour=0.5)})
    assert [(c.topic, c.name, c.part, c.old, c.new, c.unit) for c in found.field] == [
        ("rules", "neighbour", "distance", 2.0, 0.5, "m")
    ]
    assert by_id(found)["A"].cause == Cause(kind="field", names=("rules",), did="changed")


def test_no_one_cause_is_named_where_there_are_two():
    # C came out of A's way, and less is asked too
    found = by_id(two(new={"settings": rules(neighbour=0.5)}, C=at(0.0, 30.0)))
    assert found["A"].before.verdict == "conflict"
    assert found["A"].cause is None


def test_a_zone_is_the_cause():
    wider = make_zone("swim_area", shapely.box(-10, -60, 10, -18), label="Beach")
    floats = {"A": make_float("A")}
    found = two(floats=floats, new={"zones": [wider]})
    assert by_id(found)["A"].cause == Cause(kind="zone", names=("Beach",), did="changed")
    (change,) = found.field
    assert (change.topic, change.name, change.part) == ("zones", "Beach", "outline")
    assert (change.old, change.new, change.gained, change.lost) == pytest.approx(
        (20 * 35, 20 * 42, 20 * 7, 0), rel=1e-6, abs=1e-6
    )
    found = two(floats=floats, old={"zones": []}, new={"zones": [beach()]})
    assert by_id(found)["A"].cause == Cause(kind="zone", names=("Beach",), did="added")
    found = two(floats=floats, new={"zones": []})
    assert by_id(found)["A"].cause == Cause(kind="zone", names=("Beach",), did="taken_away")


def test_rows_of_zones_without_names_are_not_mixed_up():
    def rocks(row, x):
        return make_zone("hazard", shapely.box(x, 60, x + 5, 65), row=row, label=f"zones row {row}")

    new = {"zones": [make_zone("dock", shapely.box(70, 70, 75, 75)), rocks(2, 10), rocks(3, 40)]}
    found = two(old={"zones": [rocks(1, 10), rocks(2, 40)]}, new=new)
    assert [(c.name, c.what) for c in found.field] == [("dock", "added")]
    assert all(gap.kind == "dock" for one in found.floats for gap in one.gaps)


def test_a_zone_without_a_name_is_known_by_its_outline():
    def rock(x, width):
        shape = shapely.box(x, 60, x + width, 65)
        return {"zones": [make_zone("hazard", shape, row=1, label="zones row 1")]}

    def told(old, new):
        return [(c.what, c.part) for c in two(old=old, new=new).field]

    assert told(rock(10, 5), rock(10, 8)) == [("changed", "outline")]
    assert told(rock(10, 5), rock(40, 5)) == [("taken_away", ""), ("added", "")]


def test_a_lake_drawn_anew_moves_nobody():
    # a bay of 40 by 10 m in the east: its centre, and with it the map's, moves by 5 m
    half = SIDE_M / 2
    bay = shapely.box(half, -20, half + 10, 20)
    whole = shapely.box(-half, -half, half, half).union(bay)
    lake = shapely.multipolygons([HERE.unproject(whole)])
    found = two(new={"lake": lake})
    assert found.old.projection != found.new.projection
    (change,) = found.field
    assert (change.topic, change.part) == ("lake", "outline")
    assert (change.gained, change.lost) == pytest.approx((400, 0), rel=1e-4, abs=0.1)
    assert all(one.kind == "affected" and one.moved is None for one in found.floats)
    shores = [gap for one in found.floats for gap in one.gaps]
    assert {gap.kind for gap in shores} <= {"shore"}
    moved = by_id(two(new={"lake": lake}, D=at(-80.0, 6.0)))["D"].moved
    assert moved.distance_m == pytest.approx(6, abs=1e-3)
    assert moved.bearing_deg == pytest.approx(0, abs=0.02) or moved.bearing_deg > 359.98


def test_islands_are_known_by_their_ground():
    half = SIDE_M / 2

    def lake(*islands):
        holes = [shapely.box(x, 40, x + 10, 50).exterior for x in islands]
        area = shapely.Polygon(shapely.box(-half, -half, half, half).exterior, holes)
        return {"lake": shapely.multipolygons([HERE.unproject(area)])}

    found = two(floats={"A": make_float("A")}, old=lake(40), new=lake(-50, 40))
    gaps = {gap.against: gap for gap in by_id(found)["A"].gaps}
    # the island in the east is the second now, and as far off as it was
    assert gaps.keys() == {"island 1"}
    assert gaps["island 1"].old is None


def test_a_reckoned_primary_moves_without_being_moved():
    seen = make_float("A", 5.0, 0.0, position_of="secondary", bearing_deg=90.0)
    one = by_id(two(floats={"A": seen}, A={"ground_m": 6.0}))["A"]
    assert one.kind == "changed"
    assert one.moved.reckoned
    # the primary lies one ground chain back from the secondary
    assert one.moved.distance_m == pytest.approx(2.0, abs=1e-6)
    assert one.moved.bearing_deg == pytest.approx(270.0, abs=1e-6)


def test_every_cell_is_compared():
    new = {
        "fittings": (Fitting(name="shackle", size="1/2 in", count=2), Fitting(name="link", size="5/8 in")),
        "chain": "10 mm", "primary_blocks": 9, "bottom": "sand", "lot": "12",
    }  # fmt: skip
    one = by_id(two(D=new))["D"]
    cells = {c.column: (c.old, c.new) for c in one.columns}
    assert cells == {
        "primary_blocks": (None, 9),
        "chain": (None, "10 mm"),
        "fittings": (None, "shackle 1/2 in 2; link 5/8 in"),
        "bottom": (None, "sand"),
        "lot": (None, "12"),
    }


PRIVATE = {
    "owner": "Ada Wren",
    "permit": "TL-77",
    "note": "rings at night",
    "extra": MappingProxyType({"phone": "555 0101"}),
}


def test_what_is_private_is_no_change():
    assert two(D=PRIVATE).is_alike
    one = by_id(two(D=PRIVATE, owners=True))["D"]
    assert {c.column: c.new for c in one.columns} == {
        "owner": "Ada Wren",
        "permit": "TL-77",
        "note": "rings at night",
        "phone": "555 0101",
    }
    one = by_id(two(D={**PRIVATE, "riser_m": 6.5}))["D"]
    assert [c.column for c in one.columns] == ["riser_length"]


def test_settings_in_their_order():
    base = make_settings()
    new = make_settings(
        levels=replace(base.levels, low_m=-0.75),
        storm=replace(base.storm, wind_m_s=25.0, from_deg=None),
        accuracy=replace(base.accuracy, layer_m=2.0),
        people=6,
        rules=MappingProxyType({k: v for k, v in base.rules.items() if k != "channel"}),
    )
    found = [(c.topic, c.name, c.part, c.what, c.unit, c.old, c.new) for c in two(new={"settings": new}).field]  # fmt: skip
    assert found == [
        ("levels", "", "low", "changed", "m", -0.5, -0.75),
        ("storm", "", "wind", "changed", "m/s", 22.0, 25.0),
        ("storm", "", "from", "changed", "deg", (270.0,), None),
        ("accuracy", "", "layer", "changed", "m", 1.0, 2.0),
        ("rules", "channel", "distance", "taken_away", "m", 3.0, None),
        ("sizing", "", "people", "changed", None, 4, 6),
    ]


def test_a_lower_level_widens_every_circle():
    base = make_settings()
    lower = make_settings(levels=replace(base.levels, low_m=-1.5))
    found = two(new={"settings": lower})
    # drop 5 m: reach √(100 − 25)
    for one in found.floats:
        assert one.kind == "affected"
        assert one.after.swing_radius_m[0] == pytest.approx(math.sqrt(75) + 2.5)
        assert one.cause == Cause(kind="field", names=("levels",), did="changed")


def test_soundings_are_counted():
    before, after = field_of(four_floats()), field_of(four_floats())
    deep = after.soundings.depth_m.copy()
    deep[:3] += 1.0
    after = replace(after, soundings=replace(after.soundings, depth_m=deep))
    (change,) = [c for c in versions(before, after).field if c.topic == "soundings"]
    assert (change.old, change.new, change.gained, change.lost) == (2500, 2500, 3, 3)


def test_who_inspected_is_not_told():
    def inspected(**more):
        row = {"date": None, "float_id": "A", "part": "chain", "finding": "worn", "by": "Ada Wren"}
        return {"inspections": (MappingProxyType(row | more),)}

    assert two(old=inspected(), new=inspected(by="Bo Fenn")).is_alike
    (change,) = two(old=inspected(), new=inspected(finding="broken")).field
    assert (change.topic, change.old, change.new) == ("inspections file", 1, 1)


def test_two_lakes_are_refused(plain):
    far = shapely.transform(plain.field.lake, lambda lonlat: lonlat + 0.5)
    other = replace(plain, field=replace(plain.field, lake=far))
    with pytest.raises(BadInputError, match=r"two lakes: Square at 41\.0000,-37\.0000") as caught:
        compare(plain, other)
    assert [problem.code for problem in caught.value.problems] == ["different_lakes"]


class NeverRead(tuple):
    """Clearances that nobody may look at."""

    __slots__ = ()

    def __iter__(self):
        raise AssertionError("looked at a float that both versions share")


def test_floats_that_both_versions_share_are_not_looked_at(plain):
    shared = [replace(one, clearances=NeverRead()) for one in plain.floats[1:]]
    old = replace(plain, floats=(plain.floats[0], *shared))
    mine = plain.floats[0]
    new = replace(
        plain,
        floats=(replace(mine, record=replace(mine.record, chain="10 mm"), x_m=3.0), *shared),
    )
    (one,) = compare(old, new).floats
    assert one.float_id == "A"


def test_no_cell_and_no_setting_is_forgotten():
    known = {"float_id", "row", "lon", "lat", "owner", "permit", "note", "extra"}
    assert {one.name for one in fields(Float)} - known == set(COLUMNS)
    told = {"levels", "storm", "wake", "accuracy", "season", "rules", "site_weights"}
    assert {one.name for one in fields(Settings)} - told == {"name", "units", "crs", "holding", "people"}  # fmt: skip
    for section in ("levels", "storm", "wake", "accuracy", "season"):
        before = getattr(make_settings(), section)
        for one in fields(before):
            if one.name == "position_given":  # the position itself is told
                continue
            after = replace(before, **{one.name: 7.0})
            old, new = make_settings(), make_settings(**{section: after})
            field = field_of({})
            (change,) = settings_changes(replace(field, settings=old), replace(field, settings=new))
            assert change.topic == section
            assert one.name.startswith(change.part)
            assert not field_line(change, "m-kg").startswith(section)  # it has words of its own


def test_other_settings():
    field = field_of({})
    new = make_settings(
        name="Round", units="ft-lb", crs="EPSG:2193", holding="buried", site_weights={"spare": 2.0}
    )
    found = [(c.topic, c.part, c.old, c.new) for c in settings_changes(field, replace(field, settings=new))]  # fmt: skip
    assert found == [
        ("name", "", "Square", "Round"),
        ("units", "", "m-kg", "ft-lb"),
        ("crs", "", "EPSG:4326", "EPSG:2193"),
        ("sizing", "holding", "practice", "buried"),
        ("sites", "spare", None, 2.0),
    ]


def test_a_field_that_is_called_after_its_folder_has_no_new_name():
    one = replace(field_of({}), folder="pond-1", settings=make_settings(name="pond-1"))
    other = replace(one, folder="pond-2", settings=make_settings(name="pond-2"))
    assert list(settings_changes(one, other)) == []
