"""Wind drag: UFC 4-159-03, Design: Moorings, 2005, table 4-1 and eq. 2."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lakemap.basis.errors import RangeError
from lakemap.loads.drag import (
    AIR_KG_M3,
    broadest_width,
    current_drag,
    frontal_width,
    wind_drag,
)

MPH, PSF = 0.44704, 47.880258980


@pytest.mark.parametrize(
    ("wind", "pascal", "psf"),
    [
        (15, 137.36, 2.869), (20, 244.20, 5.100), (50 * MPH, 305.01, 6.370), (25, 381.56, 7.969),
        (30, 549.45, 11.476), (70 * MPH, 597.83, 12.486), (35, 747.86, 15.619),
    ],
)  # fmt: skip
def test_pressure_of_the_wind(wind, pascal, psf):
    found = wind_drag(wind, area_m2=1.0, coefficient=1.0)
    assert found == pytest.approx(pascal, abs=0.006)
    assert found / PSF == pytest.approx(psf, abs=6e-4)


def test_the_printed_air_is_that_of_sixteen_degrees():
    # table 4-1 says 20 degrees C; dry air, p/(R T) with R = 287.05
    def air(celsius):
        return 101_325 / (287.05 * (273.15 + celsius))

    assert AIR_KG_M3.value == 1.221
    assert air(16) == pytest.approx(1.221, abs=1e-3)
    assert air(20) == pytest.approx(1.204, abs=1e-3)
    assert air(15) == pytest.approx(1.225, abs=1e-3)
    assert air(0) == pytest.approx(1.292, abs=1e-3)
    assert AIR_KG_M3.low == pytest.approx(air(20), abs=1e-3)


def test_breadth_of_a_turned_deck():
    # 4 by 3 m: end on 3, broadside 4, at most the diagonal
    assert frontal_width(4, width_m=3, angle_deg=[0, 90, 180]) == pytest.approx([3, 4, 3])
    assert broadest_width(4, width_m=3) == pytest.approx(5)
    turned = frontal_width(4, width_m=3, angle_deg=np.linspace(0, 90, 9001))
    assert turned.max() == pytest.approx(5, abs=1e-6)


def test_current():
    assert current_drag(1.0, area_m2=2.0, coefficient=1.2) == pytest.approx(1200)


@given(st.floats(0, 60), st.floats(1.0001, 2), st.floats(0.01, 5))
def test_more_wind_never_less_drag(wind, more, area):
    terms = {"area_m2": area, "coefficient": 1.2}
    assert wind_drag(more * wind, **terms) >= wind_drag(wind, **terms)


def test_what_lies_outside_is_refused():
    with pytest.raises(RangeError, match="area -1"):
        wind_drag(10.0, area_m2=-1.0, coefficient=1.2)
