"""Decay of a boat's wake against worked values.

Havelock, Proc. R. Soc. A 81 (1908); Coastal Engineering Manual, EM 1110-2-1100 (2002), part II ch. 7:
cusp waves fall as x^(-1/3), transverse waves as x^(-1/2). Worked for 2 ft at 100 ft.
"""

import pytest

from lakemap.basis.errors import RangeError
from lakemap.loads.wakes import Decay, wake_height

FOOT = 0.3048
# distance ft, cusp height ft, transverse height ft
WAKE = [
    (25, 3.175, 4.000),
    (50, 2.520, 2.828),
    (100, 2.000, 2.000),
    (150, 1.747, 1.633),
    (200, 1.587, 1.414),
    (300, 1.387, 1.155),
    (425, 1.235, 0.970),
    (500, 1.170, 0.894),
    (600, 1.101, 0.816),
    (1000, 0.928, 0.632),
]


@pytest.mark.parametrize(("distance", "cusp", "transverse"), WAKE)
def test_decay(distance, cusp, transverse):
    given = {"height_m": 2 * FOOT, "at_m": 100 * FOOT, "extrapolate": distance < 50}
    for decay, height in ((Decay.CUSP, cusp), (Decay.TRANSVERSE, transverse)):
        found = wake_height(distance * FOOT, decay=decay, **given)
        assert float(found) / FOOT == pytest.approx(height, abs=6e-4)


def test_half_the_height_needs_eight_times_the_distance():
    assert float(wake_height(800, height_m=1, at_m=100)) == pytest.approx(0.5)


def test_too_near_is_told():
    with pytest.raises(RangeError, match=r"inside both 30.48 m and 15.24 m \(50 ft\)"):
        wake_height(10, height_m=0.6, at_m=100 * FOOT)
    with pytest.raises(RangeError, match="distances > 0"):
        wake_height(0.0, height_m=0.6, at_m=30)
    # stated near by, it may be asked from there outward
    assert float(wake_height(10, height_m=0.6, at_m=10)) == pytest.approx(0.6)
