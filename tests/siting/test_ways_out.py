"""Ways out of conflicts: by hand in the square lake, against grids, and each one assessed again."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest
import shapely
from conftest import HERE, make_field, make_float, make_settings, make_zone

from lakemap import read_field
from lakemap.basis.records import Rule, Soundings
from lakemap.mapping import assess
from lakemap.rechecked import ends_it, ground_of, laid_at, met_by, recheck
from lakemap.siting.every_spare import every_spare, least_spare, rig_at
from lakemap.siting.margins import BED, DECK, FAR, JUMP, margins
from lakemap.siting.ways_out import DECK as DECK_COLUMNS
from lakemap.siting.ways_out import nearest_move, shorter_lines, spares_at, spoken_move
from lakemap.ways_out import ways_out

pytestmark = pytest.mark.slow

TAMBER = "data/tamber-lake"
# A float of the square lake swings 10.5 m; with 2 m between circles two lie 23 m apart at least
APART_M = 23.0


def with_rules(**rules):
    plain = make_settings()
    return replace(plain, rules=MappingProxyType(dict(plain.rules) | rules))


def by_id(assessment):
    return {one.record.float_id: one for one in assessment.floats}


def ways_by_id(field):
    assessment = assess(field)
    return assessment, {one.float_id: one for one in ways_out(assessment)}


def changed(field, **records):
    """The field with some floats replaced; names as keywords."""
    return replace(field, floats=tuple(records.get(one.float_id, one) for one in field.floats))


def moved(record, lon, lat):
    return replace(
        record, lon=lon, lat=lat, position_of="primary", wind_from_deg=None, depth_m=None
    )


def with_deck(record, other):
    return replace(record, **{name: getattr(other, name) for name in DECK_COLUMNS})


def shorts(one):
    return {
        (c.kind, c.against): c.spare for c in one.clearances if c.spare is not None and c.spare < 0
    }


def assert_ended(before, field, ended):
    """The floats are out of conflict, and nobody is worse off: by the front door."""
    after = assess(field)
    for name in ended:
        assert by_id(after)[name].verdict in {"tight", "clear"}
    for old, new in zip(before.floats, after.floats, strict=True):
        had = shorts(old)
        for key, spare in shorts(new).items():
            assert key in had
            assert spare >= had[key] - 1e-6
    return after


@pytest.fixture(scope="module")
def tamber():
    assessment = assess(read_field(TAMBER))
    return assessment, {one.float_id: one for one in ways_out(assessment)}


# 28 and 35 conflict with each other: either way of one of them ends both
@pytest.mark.parametrize("some", [("4", "10", "33", "28"), ("4", "10", "33", "35")])
def test_every_way_of_the_demo_applied_and_assessed_again(tamber, some):
    before, found = tamber
    assert set(found) == {"4", "10", "28", "33", "35"}
    records = {name: by_id(before)[name].record for name in some}
    exact = {n: moved(r, found[n].move.lon, found[n].move.lat) for n, r in records.items()}
    spoken = {
        n: moved(r, found[n].move.spoken.lon, found[n].move.spoken.lat) for n, r in records.items()
    }
    for moves in (exact, spoken):
        assert_ended(before, changed(before.field, **moves), found)
    shorter = {
        n: replace(r, riser_m=found[n].shorten.riser_m, ground_m=found[n].shorten.ground_m)
        for n, r in records.items()
    }
    after = assert_ended(before, changed(before.field, **shorter), found)
    for name in some:
        uplift = by_id(after)[name].sizing.primary.uplift_n
        assert found[name].shorten.uplift_n == pytest.approx(uplift)
        assert by_id(after)[name].verdict == found[name].shorten.verdict


def test_the_smaller_deck_of_the_demo(tamber):
    before, found = tamber
    record, deck = by_id(before)["33"].record, found["33"].smaller
    scale = deck.length_m / record.length_m
    fits = replace(
        record,
        length_m=deck.length_m,
        width_m=deck.width_m,
        tube_length_m=record.tube_length_m * scale,
        float_weight_kg=record.float_weight_kg * deck.length_m * deck.width_m / 12 / 10 / 0.3048**2,
    )
    assert_ended(before, changed(before.field, **{"33": fits}), ["33"])
    assert deck.width_m / deck.length_m == pytest.approx(10 / 12, abs=0.02)


def test_one_step_less_of_shortening_is_not_enough(tamber):
    before, found = tamber
    longer = {
        name: replace(by_id(before)[name].record, ground_m=found[name].shorten.ground_m + 0.1524)
        for name in ("4", "10", "28", "33")
    }
    after = by_id(assess(changed(before.field, **longer)))
    assert all(after[name].verdict == "conflict" for name in longer)


@pytest.mark.parametrize("name", ["4", "10", "28", "33", "35"])
def test_a_centimetre_less_of_the_move_is_not_enough(tamber, name):
    before, found = tamber
    one, ground = by_id(before)[name], ground_of(before)
    start = np.array([one.x_m, one.y_m])
    way = np.array([found[name].move.x_m, found[name].move.y_m]) - start
    short = start + way * (1 - 0.01 / np.hypot(*way))
    record = laid_at(ground, one.record, short)
    assert recheck(ground, {one.at: record}).floats[one.at].verdict == "conflict"


def test_two_circles_that_overlap_part_along_the_line_between_them():
    field = make_field([make_float("A"), make_float("B", 20.0)])
    before, found = ways_by_id(field)
    for name, bearing in (("A", 270), ("B", 90)):
        move = found[name].move
        assert move.distance_m == pytest.approx(APART_M - 20, abs=0.01)
        assert move.bearing_deg == pytest.approx(bearing, abs=2)
        assert move.spoken.distance_m == pytest.approx(3.0, abs=0.011)
        assert move.spoken.distance_m * 100 == pytest.approx(round(move.spoken.distance_m * 100))
        there = moved(by_id(before)[name].record, move.spoken.lon, move.spoken.lat)
        assert_ended(before, changed(field, **{name: there}), ["A", "B"])


def test_the_ground_chain_is_shortened_first_and_by_the_least():
    # the circle must shrink by 3 m: sqrt(T^2 - 36) + 2.5 <= 7.5 for a line T <= sqrt(61) = 7.81
    rig = {"riser_m": 7.5, "ground_m": 2.5}
    field = make_field([make_float("A", **rig), make_float("B", 20.0, **rig)])
    before, found = ways_by_id(field)
    cut = found["A"].shorten
    assert (cut.riser_m, cut.ground_m) == pytest.approx((7.5, 0.3))
    assert cut.shorter_m == pytest.approx(2.2)
    assert cut.rise_high_m == pytest.approx(7.0)
    assert not cut.hangs
    assert (cut.over_depth_before, cut.over_depth) == pytest.approx((10 / 6.5, 7.8 / 6.5))
    short = replace(field.floats[0], riser_m=cut.riser_m, ground_m=cut.ground_m)
    after = assert_ended(before, changed(field, A=short), ["A", "B"])
    assert by_id(after)["A"].sizing.primary.uplift_n == pytest.approx(cut.uplift_n)
    assert cut.uplift_n > cut.uplift_before_n


def test_a_riser_is_not_shortened_until_the_secondary_hangs():
    lines = shorter_lines(8.0, 0.3, rise_high_m=7.55, units="m-kg")
    assert np.allclose(
        lines, [(8.0, 0.2), (8.0, 0.1), (7.9, 0.1), (7.8, 0.1), (7.7, 0.1), (7.6, 0.1)]
    )
    # one that hangs already stays, and no line may pull the float under
    lines = shorter_lines(6.0, 1.4, rise_high_m=7.05, units="m-kg")
    assert np.allclose(lines, [(6.0, 1.3), (6.0, 1.2), (6.0, 1.1)])


def test_lengths_that_are_no_whole_steps_come_down_to_one():
    lines = shorter_lines(20 * 0.3048, 1.1, rise_high_m=6.05, units="ft-lb")
    assert np.allclose([ground for _, ground in lines[:7]], 0.1524 * np.arange(7, 0, -1))


def test_no_line_is_short_enough_or_the_deck_alone_is_too_large():
    beach = shapely.box(-20, 10, 20, 14)  # asks for 10 m
    near = make_field([make_float("A", 0.0, -4.0)], zones=[make_zone("swim_area", beach)])
    _, found = ways_by_id(near)  # 14 m off: 4 m for the circle; the shortest line swings 2.5 + 3.6
    assert (found["A"].shorten, found["A"].shorten_why) == (None, "too_long")
    inside = make_field([make_float("A", 0.0, 9.0)], zones=[make_zone("swim_area", beach)])
    assert ways_by_id(inside)[1]["A"].shorten_why == "position"


def test_decks_are_swapped_with_the_float_that_differs_least():
    # 20 m clear of a beach that asks for 10: A with a corner of 2.5 m swings 10.5, half a metre more
    # than there is; one of 1.96 m passes
    beach = make_zone("swim_area", shapely.box(-20, 20, 20, 24))
    small = {"length_m": 3.1, "width_m": 2.4}
    field = make_field(
        [
            make_float("A", 0.0, 0.0),
            make_float("tiny", 50.0, -20.0, length_m=2.0, width_m=2.0),
            make_float("small", -50.0, -20.0, **small),
            make_float("same", 50.0, -50.0),
            make_float("large", -50.0, -60.0, length_m=5.0, width_m=4.0),
        ],
        zones=[beach],
    )
    before, found = ways_by_id(field)
    swap = found["A"].swap
    assert (swap.with_id, swap.length_m, swap.width_m) == ("small", 3.1, 2.4)
    assert found["A"].smaller is None
    mine, theirs = field.floats[0], field.floats[2]
    swapped = changed(field, A=with_deck(mine, theirs), small=with_deck(theirs, mine))
    after = assert_ended(before, swapped, ["A", "small"])
    assert by_id(after)["A"].riser_m == mine.riser_m


def test_a_deck_larger_than_allowed_is_no_matter_of_place_or_line():
    rules = with_rules(deck_area_max=Rule(kind="deck_area_max", limit=10.0, source="deck rule"))
    field = make_field(
        [make_float("A"), make_float("B", 50.0, length_m=3.0, width_m=3.0)], settings=rules
    )
    before, found = ways_by_id(field)
    ways = found["A"]
    assert (ways.move_why, ways.shorten_why, ways.swap_why) == (
        "deck_too_large",
        "deck_too_large",
        "no_deck",
    )
    deck = ways.smaller
    # sqrt(10 / 12) of 4 by 3 m is 3.651 by 2.738: whole centimetres below
    assert (deck.length_m, deck.width_m) == pytest.approx((3.65, 2.73))
    small = replace(field.floats[0], length_m=deck.length_m, width_m=deck.width_m)
    assert_ended(before, changed(field, A=small), ["A"])


def slope(rise):
    """Soundings on a bed that deepens eastwards from 6.5 m in the middle."""
    at = np.linspace(-98, 98, 50)
    x, y = (grid.ravel() for grid in np.meshgrid(at, at))
    lon, lat = HERE.to_lonlat(x, y)
    return Soundings(
        lon=lon, lat=lat, depth_m=6.5 + rise * x, row=np.arange(2, len(x) + 2), file="soundings.csv"
    )


def test_a_float_that_is_pulled_under_moves_to_where_its_line_is_long_enough():
    # at high water 7 + x / 20 from bed to hook; a line of 7.5 m works only west of x = 10
    rig = {"riser_m": 5.0, "ground_m": 2.5}
    field = make_field([make_float("A", 20.0, 0.0, **rig)], soundings=slope(0.05))
    before, found = ways_by_id(field)
    assert found["A"].broken == ("pulled_under",)
    assert found["A"].shorten_why == "pulled_under"
    move = found["A"].move
    assert (move.distance_m, move.bearing_deg) == pytest.approx((10.0, 270.0), abs=0.1)
    for end in (move, move.spoken):
        assert_ended(before, changed(field, A=moved(field.floats[0], end.lon, end.lat)), ["A"])


def test_a_float_aground_all_over_the_lake_has_no_way_out():
    field = make_field([make_float("A", -80.0, 0.0)], bed_m=0.4)
    _, found = ways_by_id(field)
    assert found["A"].broken == ("aground",)
    assert (found["A"].move_why, found["A"].shorten_why) == ("no_place", "aground")
    assert found["A"].smaller is None


def test_a_conflict_that_cannot_be_ended_says_so():
    # a beach all over the lake
    beach = make_zone("swim_area", shapely.box(-99, -99, 99, 99))
    _, found = ways_by_id(make_field([make_float("A")], zones=[beach]))
    ways = found["A"]
    assert (ways.move_why, ways.shorten_why, ways.swap_why) == ("no_place", "position", "no_deck")
    assert ways.smaller is None
    assert ways.knot is None
    assert ways.knot_why is None


def test_without_a_conflict_there_are_no_ways_out():
    assert ways_out(assess(make_field([make_float("A"), make_float("B", 60.0)]))) == ()
    assert ways_out(assess(make_field([]))) == ()


def test_a_primary_that_nobody_has_seen_is_located_first():
    field = make_field([make_float("A"), make_float("B", 24.0, position_of="secondary")])
    before, found = ways_by_id(field)
    ways = found["B"]
    assert ways.move_why == "primary_not_located"
    assert ways.extra_m == pytest.approx(4.0)  # its ground chain
    assert ways.shorten_why == "primary_not_fixed"
    # the other one can go: 10.5 + 14.5 + 2 = 27 m apart, 3 m more than they are
    assert found["A"].move.distance_m == pytest.approx(3.0, abs=0.01)
    there = moved(field.floats[0], found["A"].move.lon, found["A"].move.lat)
    assert_ended(before, changed(field, A=there), ["A", "B"])


def test_a_primary_reckoned_from_its_float_may_only_have_to_be_seen():
    # wind from the west: the primary lies west of the float by the mean of calm 3 and reach 8
    near = make_float("B", 24.0 + 5.5, position_of="float", wind_from_deg=270.0)
    _, found = ways_by_id(make_field([make_float("A"), near]))
    assert found["B"].extra_m == pytest.approx(2.5)
    assert (found["B"].move, found["B"].move_why) == (None, "fix_alone")
    nearer = make_float("B", 20.0 + 5.5, position_of="float", wind_from_deg=270.0)
    field = make_field([make_float("A"), nearer])
    before, found = ways_by_id(field)
    move = found["B"].move
    assert move.distance_m == pytest.approx(3.0, abs=0.01)
    assert_ended(before, changed(field, B=moved(nearer, move.lon, move.lat)), ["A", "B"])


def test_an_edge_hook_has_its_own_corner():
    # hook at the middle of a short side: corner sqrt(16 + 2.25) = 4.272 m
    field = make_field([make_float("A", hook="edge"), make_float("B", 20.0)])
    before, found = ways_by_id(field)
    assert found["A"].move.distance_m == pytest.approx(
        8 + 18.25**0.5 + APART_M - 10.5 - 20, abs=0.01
    )
    there = moved(field.floats[0], found["A"].move.lon, found["A"].move.lat)
    assert_ended(before, changed(field, A=there), ["A", "B"])


def test_in_one_wind_equal_rigs_need_only_their_decks_apart():
    same = with_rules(neighbour=Rule(kind="neighbour", limit=2.0, source="n", mode="same_wind"))
    field = make_field([make_float("A"), make_float("B", 6.0)], settings=same)
    before, found = ways_by_id(field)
    move = found["A"].move  # 2.5 + 2.5 + 2 apart
    assert move.distance_m == pytest.approx(1.0, abs=0.01)
    for end in (move, move.spoken):
        there = moved(field.floats[0], end.lon, end.lat)
        assert_ended(before, changed(field, A=there), ["A", "B"])


def test_in_one_wind_unlike_rigs_may_part_by_nesting():
    # reaches 8 and 20.9: circles nest; spare is | D - 12.9 | - 7, and D = 7.5 is 1.6 m short
    same = with_rules(neighbour=Rule(kind="neighbour", limit=2.0, source="n", mode="same_wind"))
    long_line = (20.9**2 + 6**2) ** 0.5
    other = make_float("B", 7.5, riser_m=8.0, ground_m=long_line - 8.0)
    field = make_field([make_float("A"), other], settings=same)
    before, found = ways_by_id(field)
    move = found["A"].move
    assert move.distance_m == pytest.approx(7.5 - 5.9, abs=0.01)  # nearer, to D = 5.9
    assert move.bearing_deg == pytest.approx(90, abs=3)
    there = moved(field.floats[0], move.lon, move.lat)
    assert_ended(before, changed(field, A=there), ["A", "B"])


def test_a_depth_of_its_own_stays_where_it_was_sounded():
    # on a level bed of 6.5 m a rock under A: 3 m; the bed rule asks for more than that carries
    rules = with_rules(bed=Rule(kind="bed", limit=3.0, source="bed rule"))
    field = make_field([make_float("A", depth_m=3.0)], settings=rules)
    before, found = ways_by_id(field)
    assert before.floats[0].verdict == "conflict"
    move = found["A"].move
    # the rock rises from the soundings round it, 4 m apart; the circle must leave it
    assert move.distance_m > 10.0
    lon, lat = HERE.to_lonlat([0.0], [0.0])
    had = field.soundings
    with_rock = replace(
        had,
        lon=np.append(had.lon, lon),
        lat=np.append(had.lat, lat),
        depth_m=np.append(had.depth_m, 3.0),
        row=np.append(had.row, 0),
    )
    there = changed(field, A=moved(field.floats[0], move.lon, move.lat))
    assert assess(replace(there, soundings=with_rock)).floats[0].verdict in {"tight", "clear"}


def test_its_own_frontage_is_kept_and_one_that_nothing_asks_for_is_not():
    front = make_zone("frontage", shapely.box(-12, -12, 90, 12), lot="7")
    neighbour = make_float("B", 20.0, 0.0)
    mine = make_float("A", lot="7")
    rules = with_rules(frontage=Rule(kind="frontage", limit=0.0, source="frontage rule"))
    field = make_field([mine, neighbour], zones=[front], settings=rules)
    before, found = ways_by_id(field)
    move = found["A"].move
    there = moved(mine, move.lon, move.lat)
    assert_ended(before, changed(field, A=there), ["A", "B"])
    assert move.distance_m > 3.1  # west it has 1.5 m only, so it goes round
    free, found = ways_by_id(make_field([mine, neighbour], zones=[front]))
    assert shorts(free.floats[0]).keys() == {("float", "B")}
    assert found["A"].move.distance_m == pytest.approx(3.0, abs=0.01)


def random_field(seed):
    random = np.random.default_rng(seed)
    floats = [
        make_float(
            f"{k}",
            *random.uniform(-35, 35, 2),
            riser_m=None if k % 3 == 2 else 7.3,
            ground_m=None if k % 3 == 1 else float(random.uniform(2, 6)),
        )
        for k in range(6)
    ]
    beach = shapely.box(*random.uniform(-60, -20, 2), *random.uniform(-10, 30, 2))
    some = (
        {"jump_depth": Rule(kind="jump_depth", limit=4.0, source="jump", beyond_m=9.0)},
        {"bed": Rule(kind="bed", limit=3.5, source="bed")},
        {"shore_max": Rule(kind="shore_max", limit=60.0, source="far")},
    )[seed % 3]
    rules = with_rules(frontage=Rule(kind="frontage", limit=0.0, source="front"), **some)
    return make_field(
        floats,
        zones=[make_zone("swim_area", beach)],
        soundings=slope(random.choice([-0.03, 0.03])),
        settings=rules,
    )


@pytest.mark.parametrize("seed", range(3))
def test_the_move_is_no_longer_than_the_best_point_of_a_grid(seed):
    before = assess(random_field(seed))
    ground = ground_of(before)
    bad = [one for one in before.floats if one.verdict == "conflict"]
    assert bad
    for one in bad[:2]:
        start = np.array([one.x_m, one.y_m])
        field = met_by(ground, one.record, without=[one.at])
        found = nearest_move(field, start)
        far = float(np.hypot(*(found - start)))
        steps = np.linspace(-far, far, 60)
        grid = start + np.stack(np.meshgrid(steps, steps), axis=-1).reshape(-1, 2)
        near = grid[np.hypot(*(grid - start).T) < far - 0.05]
        # `margins` is the siting's own exact check, written apart from what the search leans on
        assert not (margins(field, near).least_m >= 0).any()
        there = laid_at(ground, one.record, found)
        assert by_id(assess(changed(before.field, **{one.record.float_id: there})))[
            one.record.float_id
        ].verdict in {"tight", "clear"}


@pytest.mark.parametrize("seed", range(3))
def test_every_spare_agrees_with_margins_in_sign(seed):
    before = assess(random_field(seed))
    ground = ground_of(before)
    xy = np.random.default_rng(seed).uniform(-95, 95, (300, 2))
    for i in range(3):
        field = met_by(ground, before.field.floats[i], without=[i])
        theirs = margins(field, xy)
        at = rig_at(field, xy)
        mine = least_spare(field, at)
        assert np.array_equal(mine >= 0, theirs.least_m >= 0)
        assert {-1, 1} <= set(np.sign(mine))
        assert (BED, FAR, JUMP)[(seed + 2) % 3] in theirs.which
        assert np.allclose(every_spare(field, at).min(axis=1), mine, rtol=0, atol=1e-9)
        metres = (theirs.least_m >= 0) & ~np.isin(theirs.which, (DECK, JUMP))
        assert np.all(mine[metres] <= theirs.least_m[metres] + 1e-9)


def test_spares_are_those_of_the_check(square):
    before = assess(square)
    ground = ground_of(before)
    for one in before.floats:
        field = met_by(ground, one.record, without=[one.at])
        least = spares_at(field)(np.array([[one.x_m, one.y_m]]))[0]
        asked = [c.spare for c in one.clearances if c.spare is not None]
        asked.append(10.0 - 7.0)  # of the line, before the float is pulled under at high water
        assert least == pytest.approx(min(asked), abs=1e-8)


def test_a_recheck_finds_what_the_front_door_finds():
    before = assess(random_field(1))
    ground = ground_of(before)
    record = laid_at(ground, before.field.floats[1], np.array([10.0, 12.0]))
    quick = recheck(ground, {1: record})
    whole = assess(changed(before.field, **{"1": record}))
    for mine, theirs in zip(quick.floats, whole.floats, strict=True):
        assert mine.verdict == theirs.verdict
        assert [c.against for c in mine.clearances] == [c.against for c in theirs.clearances]
        assert [c.spare for c in mine.clearances] == pytest.approx(
            [c.spare for c in theirs.clearances]
        )


def test_a_change_must_end_the_conflict_and_harm_nobody():
    # A and B overlap; C stands alone, D lies too near to the shore
    floats = [make_float("A"), make_float("B", 20.0), make_float("C", 60.0), make_float("D", -88.0)]
    field = make_field(floats)
    ground = ground_of(assess(field))

    def tried(x, y, ended):
        record = laid_at(ground, floats[0], np.array([x, y]))
        return ends_it(ground, recheck(ground, {0: record}), ended)

    assert tried(-4.0, 0.0, [0, 1])
    assert not tried(-2.0, 0.0, [0])  # still too near to B
    assert not tried(45.0, 0.0, [1])  # clear of B's old trouble, but now at C, too
    assert not tried(45.0, 60.0, [3])  # what D has stays
    assert not tried(-70.0, 0.0, [1])  # D has no more trouble with the shore, but with A


def test_a_conflict_that_was_there_may_stay_but_not_grow():
    floats = [make_float("A"), make_float("B", 20.0), make_float("C", 0.0, 60.0)]
    ground = ground_of(assess(make_field(floats)))
    for x, harm in ((20.0, False), (19.0, True), (21.0, False)):
        record = laid_at(ground, floats[1], np.array([x, 0.0]))
        assert ends_it(ground, recheck(ground, {1: record}), []) is not harm


@pytest.mark.parametrize("seed", range(20))
@pytest.mark.parametrize(("units", "step"), [("m-kg", 0.01), ("ft-lb", 0.03048)])
def test_spoken_figures_hold_in_a_corner_too(seed, units, step):
    # allowed: a wedge of 40 degrees whose tip is the nearest place
    random = np.random.default_rng(seed)
    tip, along = random.uniform(2, 9, 2), random.uniform(0, 2 * np.pi)
    along = np.arctan2(*tip[::-1]) + random.uniform(-0.5, 0.5)
    sides = [along + half for half in (np.radians(20), -np.radians(20))]

    def spare(xy):
        left, right = (
            (xy[:, 0] - tip[0]) * np.sin(side) - (xy[:, 1] - tip[1]) * np.cos(side)
            for side in sides
        )
        return np.minimum(left, -right)

    distance, bearing = spoken_move(spare, np.zeros(2), tip, units)
    end = distance * np.array([[np.sin(np.radians(bearing)), np.cos(np.radians(bearing))]])
    assert spare(end)[0] >= 0
    assert distance / step == pytest.approx(round(distance / step))
    assert bearing == round(bearing)
    assert np.hypot(*tip) <= distance <= np.hypot(*tip) + 0.7
