"""Which soundings are odd, and what thinning keeps: lakes small enough to reckon by hand."""

import numpy as np
import pytest

from lakemap.gathering.odd_ones import odd_ones, sounder_spread
from lakemap.gathering.thinning import Kept, Thinner


def along(depths, step=2.0):
    """A boat that runs east."""
    depth = np.array(depths, dtype=np.float64)
    return np.column_stack([np.arange(len(depth)) * step, np.zeros(len(depth))]), depth


def odd_at(depths, step=2.0):
    xy, depth = along(depths, step)
    return np.flatnonzero(odd_ones(xy, depth, tested=len(depth)).odd).tolist()


def test_the_sounders_error_as_printed():
    # IHO S-44, 5th edition, table 1, order 1a: a = 0.5 m, b = 0.013 (from memory); a 3-4-5 triangle
    assert sounder_spread(0.0) == 0.5
    assert sounder_spread(0.375 / 0.013) == pytest.approx(0.625, abs=1e-12)


def test_the_limit_on_a_level_bed():
    # all neighbours agree: five times 0.5/1.96 m, with 0.013 x 5 m beside it: 1.286 m
    limit = 5 * np.hypot(0.5, 0.065) / 1.96
    for off in (-limit, limit):
        assert odd_at([5.0] * 10 + [5.0 + 0.99 * off] + [5.0] * 10) == []
        assert odd_at([5.0] * 10 + [5.0 + 1.01 * off] + [5.0] * 10) == [10]


def test_an_echo_from_a_fish_and_one_that_came_twice():
    bed = [8.0, 8.1, 7.9, 8.0, 8.2, 8.0, 7.9, 8.1, 8.0, 8.0, 8.1, 7.9]
    bed[3], bed[8] = 1.5, 16.0
    assert odd_at(bed) == [3, 8]


def test_a_rock_with_flanks_is_no_fish():
    # 3 m high; its flank on one side rises 1.5 m, just half as far, and then a little less
    for flank, odd in ((3.5, []), (3.6, [10])):
        assert odd_at([5.0] * 10 + [2.0, flank] + [5.0] * 9) == odd


def test_two_on_a_rock_back_each_other_two_in_a_hole_do_not():
    assert odd_at([6.0] * 10 + [3.0, 3.1] + [6.0] * 10) == []
    assert odd_at([6.0] * 10 + [9.0, 9.1] + [6.0] * 10) == [10, 11]


def test_a_steep_bed_forgives():
    # 0.75 m a step; the neighbours' own spread is 1.4826 x 2.25 m
    slope = np.arange(20) * 0.75 + 2
    slope[10] += 3.0
    assert odd_at(slope) == []
    slope[10] += 20.0
    assert odd_at(slope) == [10]


def test_too_few_neighbours_tell_nothing():
    assert odd_at([5.0, 5.0, 50.0, 5.0, 5.0]) == []  # four others
    assert odd_at([5.0, 5.0, 5.0, 50.0, 5.0, 5.0]) == [3]  # five
    assert odd_at([5.0, 5.0, 5.0, 50.0, 5.0, 5.0], step=40.0) == []  # none within 30 m


def test_those_before_are_neighbours_only():
    xy, depth = along([5.0] * 8 + [50.0, 5.0, 12.0])
    found = odd_ones(xy, depth, tested=2)
    assert found.odd.tolist() == [False, True]
    assert found.around_m.tolist() == [5.0, 5.0]


def kept(*depths, day=1):
    return [Kept(-37.0, 41.0, depth, line, day) for line, depth in enumerate(depths, start=1)]


def thinned(every_m, *parts):
    thinner = Thinner(every_m)
    for xy, soundings in parts:
        thinner.take(np.array(xy, dtype=np.float64), soundings)
    return [(one.line, one.depth_m, is_shoal) for one, is_shoal in thinner.kept()]


def test_one_square_keeps_its_middle():
    xy = [(0.1, 0.1), (2.9, 2.9), (1, 1), (1, 2), (2, 1)]
    assert thinned(3.0, (xy, kept(5.0, 5.3, 5.1, 5.2, 4.9))) == [(3, 5.1, False)]
    # of an even number the shallower of the two middles
    assert thinned(3.0, (xy[:4], kept(5.0, 5.3, 5.1, 5.2))) == [(3, 5.1, False)]


def test_squares_are_the_lakes_own():
    xy = [(-0.1, 0.0), (0.1, 0.0), (2.9, 0.0), (3.1, 0.0)]
    assert [line for line, *_ in thinned(3.0, (xy, kept(5.0, 5.1, 5.2, 5.3)))] == [1, 2, 4]


def test_a_shoal_in_a_square_is_not_lost():
    xy = [(1.0, 1.0)] * 5
    # the sounder's own error at 5 m: hypot(0.5, 0.065) = 0.504 m
    assert thinned(3.0, (xy, kept(5.0, 5.0, 4.49, 5.1, 5.1))) == [(2, 5.0, False), (3, 4.49, True)]
    assert thinned(3.0, (xy, kept(5.0, 5.0, 4.50, 5.1, 5.1))) == [(2, 5.0, False)]


def test_days_are_kept_apart_for_the_lake_stood_at_another_level():
    xy = [(1.0, 1.0)]
    assert thinned(3.0, (xy, kept(5.0)), (xy, kept(6.0, day=2))) == [
        (1, 5.0, False), (1, 6.0, False),
    ]  # fmt: skip


def test_a_square_that_is_met_again():
    xy = [(1.0, 1.0)] * 3
    few = [Kept(-37.0, 41.0, 4.0, 11, 1)]
    # the fuller part has the middle, the shallowest of both parts is the shoal
    assert thinned(3.0, (xy, kept(5.0, 5.1, 5.2)), (xy[:1], few)) == [
        (2, 5.1, False), (11, 4.0, True),
    ]  # fmt: skip
    assert thinned(3.0, (xy[:1], few), (xy, kept(5.0, 5.1, 5.2))) == [
        (2, 5.1, False), (11, 4.0, True),
    ]  # fmt: skip


def test_nought_keeps_all_in_the_files_order():
    xy = [(1.0, 1.0)] * 3
    assert thinned(0.0, (xy, kept(5.0, 4.0, 5.0))) == [
        (1, 5.0, False), (2, 4.0, False), (3, 5.0, False),
    ]  # fmt: skip
