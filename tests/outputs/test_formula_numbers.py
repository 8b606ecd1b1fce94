"""Formulas with their numbers put in: they give the value, or they are left out."""

import math
import re

import pytest
from conftest import make_field, make_float

from lakemap.mapping import assess
from lakemap.outputs.words.formula_numbers import with_numbers
from lakemap.outputs.words.working_lines import number_text, worked_numbers

NUMBERS = {"S": "10 m", "d": "6 m"}


def test_each_symbol_becomes_its_number():
    assert with_numbers("R = √(S² − d²)", "R", NUMBERS) == "√((10 m)² − (6 m)²)"
    assert with_numbers("v = π H/T", "v", {"H": "1 m", "T": "2 s"}) == "π (1 m)/(2 s)"


def test_the_longest_symbol_wins():
    numbers = {"F": "1 N", "F_gust": "2 N", "n m_p g": "3 N"}
    assert with_numbers("P = F_gust − n m_p g + F", "P", numbers) == "(2 N) − (3 N) + (1 N)"
    assert with_numbers("P = W₂ W", "P", {"W": "1 N", "W₂": "2 N"}) == "(2 N) (1 N)"


@pytest.mark.parametrize(
    "words",
    [
        "R = √(S² − d²), S the whole",  # words
        "R = S d g",  # g is no input
        "R = S",  # d is not in it
        "R² = S − d",  # the left side is not the value
        "R = S − d = 4",
        "S and d by Pythagoras",
        "R = Sd + d",  # one name, not two
        "R = S_b − S − d",
        "R = S − d₁ − d",
    ],
)
def test_what_cannot_be_put_in_surely_is_left_out(words):
    assert with_numbers(words, "R", NUMBERS) == ""


def test_no_inputs():
    assert with_numbers("R = 2 π", "R", {}) == "2 π"


def value_of(told):
    """Reckon it as a reader with a pocket calculator would."""
    text = re.sub(r"\((−?[\d,.]+)(?: [^()]*)?\)", lambda m: "(" + m[1].replace(",", "") + ")", told)
    text = text.replace("^(−⅓)", "**(-1/3)").replace("−", "-").replace("·", "*").replace("π", "pi")
    text = text.replace("²", "**2").replace("√", "sqrt")
    text = re.sub(r"(?<=[\d)i]) +(?=[\d(ps])", "*", text)
    return eval(text, {"__builtins__": {}}, {"sqrt": math.sqrt, "pi": math.pi, "min": min, "max": max})  # noqa: S307 - our own text # fmt: skip


def test_the_numbers_give_the_value():
    floats = [
        make_float("1", riser_m=8.0, ground_m=6.5),
        make_float("2", 30.0, 0.0, riser_m=8.5, ground_m=6.5, secondary_blocks=2),
    ]
    assessment = assess(make_field(floats))
    told = 0
    for one in assessment.floats:
        for worked in worked_numbers(one, assessment):
            numbers = {t.symbol: number_text(v, t.unit, "m-kg") for t, v in worked.inputs}
            text = with_numbers(worked.words, worked.symbol, numbers)
            if text:
                told += 1
                # four digits went in; a difference loses some
                lost = 1e-3 * max(abs(v) for _, v in worked.inputs) if "−" in worked.words else 0.0
                assert value_of(text) == pytest.approx(worked.value, rel=2e-3, abs=lost)
    assert told >= 30
