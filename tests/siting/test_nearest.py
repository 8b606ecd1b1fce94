"""The nearest allowed place against geometry by hand and against a fine grid."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lakemap.siting.nearest import nearest_allowed

ORIGIN = np.array([3.0, -2.0])
NEAR_M = 0.05


def outside_discs(*discs):
    """Spare outside discs (x, y, radius)."""
    return lambda xy: np.min([np.hypot(*(xy - (x, y)).T) - r for x, y, r in discs], axis=0)


def how_far(found):
    return float(np.hypot(*(found - ORIGIN)))


def test_out_of_a_disc_by_the_shortest_way():
    found = nearest_allowed(outside_discs((0, 0, 10)), ORIGIN, within_m=50)
    assert how_far(found) == pytest.approx(10 - np.hypot(3, 2), abs=0.003)
    assert np.hypot(*found) >= 10


def test_into_a_corner_between_two_edges():
    # x >= 6 and y >= 2: the corner (6, 2) is 5 away
    found = nearest_allowed(lambda xy: np.minimum(xy[:, 0] - 6, xy[:, 1] - 2), ORIGIN, within_m=50)
    assert how_far(found) == pytest.approx(5, abs=0.01)


def test_a_place_that_is_allowed_needs_no_move():
    found = nearest_allowed(outside_discs((50, 0, 10)), ORIGIN, within_m=50)
    assert np.array_equal(found, ORIGIN)


@pytest.mark.parametrize("within", [15.0, 79.0])
def test_nothing_within_the_distance(within):
    assert nearest_allowed(outside_discs((3, -2, 80)), ORIGIN, within_m=within) is None


def test_far_away_and_small():
    # one disc of 1.5 m radius, its middle 150 m off
    found = nearest_allowed(
        lambda xy: 1.5 - np.hypot(*(xy - ORIGIN - (90.0, 120.0)).T), ORIGIN, within_m=300
    )
    assert how_far(found) == pytest.approx(148.5, abs=0.02)


def test_a_spare_that_jumps_where_a_length_is_longer_by_a_step():
    # beyond x = 8 the circle is 0.4 m smaller, which just lets it in
    found = nearest_allowed(
        lambda xy: np.where(xy[:, 0] > 8, 0.2, -0.2), ORIGIN, within_m=50, slack_m=0.5
    )
    assert how_far(found) == pytest.approx(5, abs=NEAR_M)


DISC = st.tuples(st.floats(-12, 12), st.floats(-12, 12), st.floats(1, 9))


@settings(max_examples=60)
@given(discs=st.lists(DISC, min_size=1, max_size=6))
def test_never_longer_than_the_best_point_of_a_fine_grid(discs):
    spare = outside_discs((*ORIGIN, 2.0), *discs)
    found = nearest_allowed(spare, ORIGIN, within_m=60)
    assert spare(found[None])[0] >= 0
    steps = np.arange(-30, 30, 0.1)
    grid = ORIGIN + np.stack(np.meshgrid(steps, steps), axis=-1).reshape(-1, 2)
    best = np.hypot(*(grid[spare(grid) >= 0] - ORIGIN).T).min()
    assert how_far(found) <= best + NEAR_M
