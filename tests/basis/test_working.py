"""A formula gives its number and its working in one call."""

import numpy as np
import pytest

from lakemap.basis.working import Formula, Term

PRESSURE = Formula(
    key="pressure",
    name="Pressure of the wind",
    symbol="q",
    words="q = ½ ρ U²",
    unit="Pa",
    source="made up for this test",
    terms={
        "density": Term(symbol="ρ", name="density", unit="kg/m3"),
        "speed": Term(symbol="U", name="speed", unit="m/s"),
    },
    law=lambda density, speed: density * speed**2 / 2,
    valid="U to 10 m/s",
    holds=lambda speed, **_: speed <= 10,
)


def test_the_number_and_what_it_took_come_from_one_call():
    step = PRESSURE(density=2.0, speed=[3.0, 20.0])
    assert step.value.tolist() == [9.0, 400.0]
    assert step.given["density"].tolist() == [2.0, 2.0]
    assert step.inside.tolist() == [True, False]


def test_one_element_of_each_row_is_picked():
    step = PRESSURE(density=2.0, speed=np.array([[1.0, 2.0], [3.0, 4.0]]))
    picked = step.pick(np.arange(2), np.array([1, 0]))
    assert picked.value.tolist() == [4.0, 9.0]
    assert picked.given["speed"].tolist() == [2.0, 3.0]


def test_terms_that_are_missing_or_strange_are_refused():
    with pytest.raises(TypeError, match="takes density, speed; got speed"):
        PRESSURE.told(1.0, speed=2.0)
