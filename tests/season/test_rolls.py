"""Cuts from rolls, against the fewest rolls that trying every way finds."""

import itertools
import math

import numpy as np
import pytest

from lakemap.season.buying.rolls import rolls_for


def fewest(cuts, roll):
    """Every way of putting the cuts on rolls, for few cuts."""
    best = len(cuts)
    for ways in itertools.product(range(len(cuts)), repeat=len(cuts)):
        held = {}
        for cut, at in zip(cuts, ways, strict=True):
            held[at] = held.get(at, 0) + cut
        if max(held.values()) <= roll + 1e-9:
            best = min(best, len(held))
    return best


@pytest.mark.parametrize("seed", range(12))
def test_few_cuts_come_from_as_few_rolls_as_first_fit_decreasing_promises(seed):
    rng = np.random.default_rng(seed)
    cuts = [round(float(rng.uniform(1, 9)), 1) for _ in range(rng.integers(2, 7))]
    best = fewest(cuts, 10.0)
    # the proved bound: 11/9 of the best and 6/9
    assert best <= rolls_for(cuts, 10.0) <= math.floor(11 / 9 * best + 6 / 9)


def test_a_roll_of_100_ft_yields_five_pieces_of_19_ft_and_the_rest_is_waste():
    # 20 pieces are 380 ft, four rolls by length; five come off one roll, so four; 21 take a fifth
    assert rolls_for([19.0] * 20, 100.0) == 4
    assert rolls_for([19.0] * 21, 100.0) == 5
    # 34 ft: two to a roll, though three times 34 is but 102
    assert rolls_for([34.0] * 6, 100.0) == 3


def test_pieces_that_fill_a_roll_exactly_leave_nothing_and_rounding_costs_no_roll():
    foot = 0.3048
    assert rolls_for([10 * foot] * 10, 100 * foot) == 1
    assert rolls_for([0.1] * 10, 1.0) == 1  # their binary sum is 0.9999999999999999


def test_a_cut_longer_than_a_roll_takes_whole_rolls_and_a_rest():
    assert rolls_for([250.0], 100.0) == 3
    assert rolls_for([250.0, 50.0], 100.0) == 3
    assert rolls_for([], 100.0) == 0
