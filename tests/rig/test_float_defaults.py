"""Blanks of a float become defaults of ours, and are named."""

import pytest
from conftest import make_float

from lakemap.rig.float_defaults import fill_flotation


def test_a_bare_float():
    # ours: two tubes of 19 in as long as the longer side; 480 kg on 9 m2 of deck
    at = fill_flotation([make_float("1", length_m=3.0, width_m=4.0)])
    assert at.tubes.tolist() == [True]
    assert at.count.tolist() == [2]
    assert at.length_m.tolist() == [4.0]
    assert at.breadth_m[0] == at.height_m[0] == pytest.approx(0.4826)
    assert at.weight_kg[0] == pytest.approx(12 * 480 / 9)
    names = ("flotation", "tubes", "tube_diameter", "tube_length", "float_weight")
    assert at.assumed == (names,)


def test_bare_billets():
    # ours: four, half the longer side each, 20 by 10 in
    at = fill_flotation([make_float("1", length_m=4.0, width_m=3.0, flotation="billets")])
    assert (at.count[0], at.length_m[0]) == (4, 2)
    assert (at.breadth_m[0], at.height_m[0]) == pytest.approx((0.508, 0.254))
    names = ("billets", "billet_length", "billet_width", "billet_height", "float_weight")
    assert at.assumed == (names,)


@pytest.mark.parametrize(
    ("column", "value"),
    [
        ("tubes", 3),
        ("tube_diameter_m", 0.6),
        ("tube_length_m", 2.5),
        ("float_weight_kg", 321.0),
    ],
)
def test_what_is_given_stands_and_is_not_named(column, value):
    at = fill_flotation([make_float("1", flotation="tubes", **{column: value})])
    held = {
        "tubes": at.count,
        "tube_diameter_m": at.height_m,
        "tube_length_m": at.length_m,
        "float_weight_kg": at.weight_kg,
    }[column]
    assert held[0] == value
    name = column.removesuffix("_m").removesuffix("_kg")
    assert name not in at.assumed[0]
    assert len(at.assumed[0]) == 3


def test_columns_of_the_other_kind_do_not_matter():
    at = fill_flotation([make_float("1", flotation="billets", tubes=9, tube_diameter_m=2.0)])
    assert at.count[0] == 4
    assert at.height_m[0] == pytest.approx(0.254)
