"""Where tubes and billets lie, by hand; and what holds for every float."""

import numpy as np
import pytest
from conftest import make_float
from hypothesis import given
from hypothesis import strategies as st

from lakemap.rig.float_defaults import fill_flotation
from lakemap.rig.layout import layout


def laid(*floats):
    return layout(
        fill_flotation(floats),
        length_m=np.array([one.length_m for one in floats]),
        width_m=np.array([one.width_m for one in floats]),
    )


def places(rows, i=0):
    """Offsets of all pieces of a float, one entry each."""
    return sorted(np.repeat(rows.offset_m[i], rows.pieces[i].astype(int)).round(9).tolist())


def tubes(count, **more):
    given_ = {"flotation": "tubes", "tubes": count, "tube_diameter_m": 0.5, "tube_length_m": 3.5}
    return make_float("t", **given_ | more)


def billets(count, **more):
    sides = {"billet_length_m": 1.0, "billet_width_m": 0.6, "billet_height_m": 0.25}
    return make_float("b", flotation="billets", billets=count, **sides | more)


# deck of 4 by 3 m: across 3 m, along 4 m
@pytest.mark.parametrize(
    ("count", "across"),
    [
        (1, [0.0]),
        (2, [-1.25, 1.25]),
        (3, [-1.25, 0.0, 1.25]),
        (5, [-1.25, -0.625, 0.0, 0.625, 1.25]),
    ],
)
def test_tubes_are_spread_across_the_shorter_side(count, across):
    for one in (tubes(count), tubes(count, length_m=3.0, width_m=4.0)):
        at = laid(one)
        assert places(at.across) == across
        assert places(at.along) == [0.0] * count
        assert (at.long_m[0], at.short_m[0]) == (4.0, 3.0)


@pytest.mark.parametrize(
    ("count", "across", "along"),
    [
        (1, [0.0], [0.0]),
        (2, [-1.2, 1.2], [0.0, 0.0]),
        (3, [-1.2, 0.0, 1.2], [0.0, 0.0, 0.0]),
        (4, [-1.2, -1.2, 1.2, 1.2], [-1.5, -1.5, 1.5, 1.5]),
        (5, [-1.2, -1.2, 0.0, 1.2, 1.2], [-1.5, -1.5, 0.0, 1.5, 1.5]),
        (6, [-1.2, -1.2, -1.2, 1.2, 1.2, 1.2], [-1.5, -1.5, 0.0, 0.0, 1.5, 1.5]),
    ],
)
def test_billets_lie_in_two_rows_an_odd_one_in_the_middle(count, across, along):
    at = laid(billets(count))
    assert places(at.across) == across
    assert places(at.along) == along


def test_what_does_not_fit_touches():
    # three tubes of 0.5 m under a deck of 1.2 m; two rows of 0.6 m under one of 1 m
    assert places(laid(tubes(3, width_m=1.2)).across) == [-0.5, 0.0, 0.5]
    assert places(laid(billets(2, width_m=1.0)).across) == [-0.3, 0.3]
    assert places(laid(billets(6, length_m=2.5, width_m=2.5)).along) == [-1, -1, 0, 0, 1, 1]


DECK = st.tuples(
    st.floats(1.0, 6.0), st.floats(1.0, 6.0), st.integers(1, 9), st.booleans(), st.floats(0.1, 0.9)
)


@given(st.lists(DECK, min_size=1, max_size=5))
def test_all_at_once_are_each_as_alone_even_and_all_there(decks):
    floats = [
        (tubes(n, length_m=a, width_m=b, tube_diameter_m=size))
        if is_tubes
        else (billets(n, length_m=a, width_m=b, billet_width_m=size))
        for a, b, n, is_tubes, size in decks
    ]
    together = laid(*floats)
    for i, (one, (_, _, count, _, _)) in enumerate(zip(floats, decks, strict=True)):
        alone = laid(one)
        for way in ("across", "along"):
            found = places(getattr(together, way), i)
            assert found == places(getattr(alone, way))
            assert len(found) == count
            assert found == pytest.approx([-at for at in reversed(found)], abs=1e-9)


def test_no_floats():
    at = laid()
    assert at.long_m.shape == (0,)
    assert at.across.offset_m.shape[0] == at.along.pieces.shape[0] == 0
