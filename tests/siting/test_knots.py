"""Knots of floats with answers by hand, and the laws that every answer keeps."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest
import shapely
from conftest import make_field, make_float, make_settings, make_zone

from lakemap.basis.records import Rule
from lakemap.mapping import assess
from lakemap.rechecked import ground_of, met_by
from lakemap.siting.knots import Mover, _Problem, knots_of, who_may_move
from lakemap.ways_out import ways_out

pytestmark = pytest.mark.slow

# a float of the square lake swings 10.5 m, and 2 m are asked: 23 m from primary to primary
APART_M = 23.0


def knot_of(field):
    """The one knot of a field, and the field with its moves made, exact and as spoken."""
    found = [one for one in ways_out(assess(field)) if one.knot is not None]
    knots = {one.knot.float_ids: one.knot for one in found}
    assert len(knots) == 1
    knot = next(iter(knots.values()))
    ends = [dict(knot.moves), {name: move.spoken for name, move in knot.moves}]
    return knot, [
        replace(
            field,
            floats=tuple(
                replace(
                    one,
                    lon=end[one.float_id].lon,
                    lat=end[one.float_id].lat,
                    position_of="primary",
                    wind_from_deg=None,
                )
                if one.float_id in end
                else one
                for one in field.floats
            ),
        )
        for end in ends
    ]


def assert_ended(field, after, names):
    old, new = assess(field), assess(after)
    for before, now in zip(old.floats, new.floats, strict=True):
        if now.record.float_id in names:
            assert now.verdict in {"tight", "clear"}
        had = {(c.kind, c.against): c.spare for c in before.clearances}
        for c in now.clearances:
            if c.spare is not None and c.spare < 0:
                assert c.spare >= had[c.kind, c.against] - 1e-6


def test_two_equal_circles_part_by_what_they_overlap():
    field = make_field([make_float("A"), make_float("B", 20.0), make_float("C", -60.0)])
    knot, after = knot_of(field)
    assert knot.float_ids == ("A", "B")
    assert knot.total_m == pytest.approx(APART_M - 20.0, abs=0.01)
    assert len(knot.moves) == 1  # moving both would save nothing
    assert knot.single_m == pytest.approx(knot.total_m)
    for end in after:
        assert_ended(field, end, ("A", "B"))


def test_three_in_a_row_part_at_both_ends():
    field = make_field([make_float("A", -20.0), make_float("B"), make_float("C", 20.0)])
    knot, after = knot_of(field)
    assert knot.float_ids == ("A", "B", "C")
    assert knot.total_m == pytest.approx(2 * (APART_M - 20.0), abs=0.02)
    for end in after:
        assert_ended(field, end, ("A", "B", "C"))


def test_three_on_a_triangle_do_no_worse_than_its_widening():
    # side 20; widened to 23 about its middle each goes 3 / sqrt(3) = 1.73: 5.2 together
    corners = 20 / 3**0.5 * np.array([(np.sin(a), np.cos(a)) for a in np.radians([0, 120, 240])])
    field = make_field([make_float(f"{k}", *xy) for k, xy in enumerate(corners)])
    knot, after = knot_of(field)
    assert knot.total_m <= 3 * (APART_M - 20.0) / 3**0.5 + 0.02
    assert knot.total_m <= knot.single_m + 1e-9
    assert knot.saves_m == pytest.approx(knot.single_m - knot.total_m)
    for end in after:
        assert_ended(field, end, ("0", "1", "2"))


def test_in_a_corridor_both_give_way_where_one_alone_would_have_far_to_go():
    # at x = -10 and 10, with room for 1.6 m outwards each; alone one goes those 1.6 m, then sideways
    walls = [make_zone("channel", shapely.box(25.1, -95, 27.0, 95)),
             make_zone("channel", shapely.box(-27.0, -95, -25.1, 95))]  # fmt: skip
    field = make_field([make_float("A", -10.0), make_float("B", 10.0)], zones=walls)
    knot, after = knot_of(field)
    assert knot.total_m == pytest.approx(3.0, abs=0.02)
    assert len(knot.moves) == 2
    for _, move in knot.moves:
        assert 1.4 - 0.02 <= move.distance_m <= 1.6 + 0.02
    alone = (1.6**2 + APART_M**2 - 21.6**2) ** 0.5
    assert knot.single_m == pytest.approx(alone, abs=0.05)
    for end in after:
        assert_ended(field, end, ("A", "B"))


def test_one_that_is_in_conflict_with_a_zone_too_must_move_itself():
    # B reaches 2 m into what the beach asks for; moving A alone would leave that
    beach = make_zone("swim_area", shapely.box(38.5, -40, 60, 40))
    field = make_field([make_float("A"), make_float("B", 20.0)], zones=[beach])
    knot, after = knot_of(field)
    assert "B" in dict(knot.moves)
    # B west by 2 m, and A as much more: 3 + 2 + 2
    assert knot.total_m == pytest.approx(7.0, abs=0.05) or knot.total_m < 7.0
    for end in after:
        assert_ended(field, end, ("A", "B"))


def test_one_that_nobody_has_seen_stays_and_the_other_goes():
    field = make_field([make_float("A"), make_float("B", 24.0, position_of="secondary")])
    knot, after = knot_of(field)
    assert list(dict(knot.moves)) == ["A"]
    assert knot.total_m == pytest.approx(3.0, abs=0.01)
    assert_ended(field, after[0], ("A", "B"))


def test_two_that_cannot_part_are_told():
    rules = MappingProxyType(
        dict(make_settings().rules) | {"shore_max": Rule(kind="shore_max", limit=500.0, source="s")}
    )
    # a pond just large enough for one: beaches all round
    ring = shapely.difference(shapely.box(-99, -99, 99, 99), shapely.box(-24, -24, 24, 24))
    field = make_field(
        [make_float("A", -2.0), make_float("B", 2.0)],
        zones=[make_zone("swim_area", ring)],
        settings=replace(make_settings(), rules=rules),
    )
    found = ways_out(assess(field))
    assert [one.float_id for one in found] == ["A", "B"]
    for one in found:
        assert one.knot is None
        assert one.knot_why == "no_arrangement"
        assert one.move_why == "no_place"


def test_in_one_wind_two_decks_part():
    rules = dict(make_settings().rules)
    rules["neighbour"] = Rule(kind="neighbour", limit=2.0, source="n", mode="same_wind")
    field = make_field(
        [make_float("A"), make_float("B", 6.0)],
        settings=replace(make_settings(), rules=MappingProxyType(rules)),
    )
    knot, after = knot_of(field)
    assert knot.total_m == pytest.approx(1.0, abs=0.01)
    assert_ended(field, after[0], ("A", "B"))


@pytest.mark.parametrize("seed", range(2))
def test_random_knots_are_ended_without_harm_and_twice_alike(seed):
    random = np.random.default_rng(seed)
    floats = [make_float(f"{k}", *xy) for k, xy in enumerate(random.uniform(-16, 16, (3, 2)))]
    third = [
        make_float("far", 40.0, 10.0),
        make_float("over", -60.0, -82.0),
    ]  # the last: in conflict
    field = make_field([*floats, *third])
    found = ways_out(assess(field))
    assert found == ways_out(assess(field))
    for knot in {one.knot.float_ids: one.knot for one in found if one.knot is not None}.values():
        ends = dict(knot.moves)
        after = replace(
            field,
            floats=tuple(
                replace(one, lon=ends[one.float_id].lon, lat=ends[one.float_id].lat)
                if one.float_id in ends
                else one
                for one in field.floats
            ),
        )
        assert_ended(field, after, knot.float_ids)
        assert knot.single_m is None or knot.total_m <= knot.single_m + 1e-9


def test_knots_are_what_hangs_together():
    assert knots_of([]) == []
    assert knots_of([(7, 9), (1, 4), (4, 5), (2, 9)]) == [(1, 4, 5), (2, 7, 9)]


def test_those_that_may_move_cover_every_pair():
    pairs = [(1, 2), (2, 3)]
    assert list(who_may_move((1, 2, 3), pairs, frozenset())) == [
        (2,), (1, 2), (1, 3), (2, 3), (1, 2, 3)
    ]  # fmt: skip
    assert next(who_may_move((1, 2, 3), pairs, frozenset({3}))) == (1, 3)
    assert list(who_may_move((1, 3), pairs, frozenset())) == [(1, 3)]
    assert not list(who_may_move((1,), pairs, frozenset()))
    many = tuple(range(9))
    assert list(who_may_move(many, [(0, 1)], frozenset())) == [many]


@pytest.mark.parametrize(
    ("mode", "apart"), [("full_circle", 20.0), ("same_wind", 4.0), ("same_wind", 20.0)]
)
def test_slopes_are_those_of_the_spares(mode, apart):
    # B's reach is 12.2 m longer: 4 m apart in one wind the circles nest
    rules = dict(make_settings().rules)
    rules["neighbour"] = Rule(kind="neighbour", limit=2.0, source="n", mode=mode)
    beach = make_zone("swim_area", shapely.box(-20, -60, 20, -50))
    field = make_field(
        [make_float("A"), make_float("B", apart, 1.0, ground_m=15.0)],
        zones=[beach],
        settings=replace(make_settings(), rules=MappingProxyType(rules)),
    )
    ground = ground_of(assess(field))
    movers = [
        Mover(field=met_by(ground, one, without=[0, 1]), from_xy=ground.placement.primary_xy[i])
        for i, one in enumerate(field.floats)
    ]
    problem, at = _Problem(movers, 2.0), np.array([0.3, -0.2, 0.1, 0.4])
    slope = problem.spares_slope(at).copy()
    for k in range(4):
        step = np.zeros(4)
        step[k] = 1e-3
        between = problem.spares(at + step) - problem.spares(at - step)
        assert slope[:, k] == pytest.approx(between / 2e-3, abs=2e-3)
        way = problem.way(at + step) - problem.way(at - step)
        assert problem.way_slope(at)[k] == pytest.approx(way / 2e-3, abs=2e-3)
