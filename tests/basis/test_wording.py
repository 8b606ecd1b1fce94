"""Numbers as people read them: rounding that never flatters, a real minus, sixteen points."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lakemap.basis.wording import (
    compass_text,
    figure,
    force_text,
    length_figure,
    length_text,
    measure_text,
    weight_text,
)

LB_N = 4.4482216152605


@pytest.mark.parametrize(
    ("metres", "units", "rounding", "text"),
    [
        (7.65, "m-kg", "nearest", "7.65 m"),
        (25.1 * 0.3048, "ft-lb", "nearest", "25.1 ft"),
        (25.11 * 0.3048, "ft-lb", "up", "25.2 ft"),
        (25.19 * 0.3048, "ft-lb", "down", "25.1 ft"),
        # a length that is whole in its own unit stays so in both directions
        (1.4 * 0.3048, "ft-lb", "up", "1.4 ft"),
        (1.4 * 0.3048, "ft-lb", "down", "1.4 ft"),
        (-0.111, "m-kg", "down", "−0.12 m"),
        (-0.111, "m-kg", "up", "−0.11 m"),
        (-0.001, "m-kg", "nearest", "0.00 m"),
    ],
)
def test_lengths(metres, units, rounding, text):
    assert length_text(metres, units, rounding=rounding) == text


@pytest.mark.parametrize(
    ("inches", "text"),
    [(126, "10 ft 6 in"), (120, "10 ft"), (11, "11 in"), (11.6, "1 ft"), (0, "0 ft"),
     (-18, "−1 ft 6 in"), (-0.4, "0 ft"), (119.6, "10 ft")],
)  # fmt: skip
def test_a_tape_in_feet_and_inches(inches, text):
    assert measure_text(inches * 0.0254, "ft-lb") == text


def test_a_tape_in_metres():
    assert measure_text(3.2, "m-kg") == "3.20 m"


@pytest.mark.parametrize(
    ("pounds", "rounding", "text"),
    [(111.9, "nearest", "112 lb"), (111.9, "down", "111 lb"), (111.1, "up", "112 lb"),
     (-3.2, "down", "−4 lb"), (1234.0, "nearest", "1,234 lb")],
)  # fmt: skip
def test_weights_and_forces_in_pounds(pounds, rounding, text):
    assert weight_text(pounds * LB_N, "ft-lb", rounding=rounding) == text
    assert force_text(pounds * LB_N, "ft-lb", rounding=rounding) == text


def test_a_dry_weight_is_a_mass_and_a_wet_one_a_force_in_metric():
    assert weight_text(9.80665 * 50.9, "m-kg", rounding="down") == "50 kg"
    assert weight_text(9.80665 * 50.1, "m-kg", rounding="up") == "51 kg"
    assert force_text(497.9, "m-kg", rounding="down") == "497 N"
    assert force_text(497.1, "m-kg", rounding="up") == "498 N"


@pytest.mark.parametrize(
    ("bearing", "words"),
    [(0, "north"), (45, "northeast"), (90, "east"), (180, "south"), (247.5, "west-southwest"),
     (348.8, "north"), (348.7, "north-northwest"), (360, "north"), (-90, "west")],
)  # fmt: skip
def test_sixteen_points(bearing, words):
    assert compass_text(bearing) == words


def number(text):
    return float(text.replace("−", "-").replace(",", ""))


@given(st.floats(-1e5, 1e5), st.sampled_from(["ft-lb", "m-kg"]))
def test_down_never_exceeds_and_up_never_falls_short(metres, units):
    per = 0.3048 if units == "ft-lb" else 1.0
    down = number(length_figure(metres, units, rounding="down")) * per
    up = number(length_figure(metres, units, rounding="up")) * per
    slack = 1e-6 * per  # a millionth of a unit: what SI and back may cost
    assert down <= metres + slack
    assert up >= metres - slack
    assert up - down <= 0.1 * per + slack


@given(st.floats(-1e6, 1e6))
def test_nearest_is_nearest(value):
    assert number(figure(value)) == pytest.approx(value, abs=0.05 + 1e-9)
