"""A person's weight: 46 CFR 170.090(d)(1), 185 lb since 1 December 2011."""

import pytest

from lakemap.loads.people import PERSON_KG, PERSON_N


def test_a_person():
    assert PERSON_KG == pytest.approx(83.9146, abs=5e-5)
    assert pytest.approx(185.0) == PERSON_N / 4.4482216152605
