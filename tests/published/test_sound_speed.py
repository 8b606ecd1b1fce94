"""Speed of sound in fresh water against independent published fits, typed as they are printed."""

import numpy as np
import pytest

from lakemap.basis.errors import RangeError
from lakemap.lake.sound_speed import fresh_water_sound_speed

# Bilaniuk and Wong, Speed of sound in pure water as a function of temperature, J. Acoust. Soc. Am.
# 93 (1993) 1609-1612 with the erratum of 1996, fit to 148 points, scale of 1990, 0 to 100 degrees C
BILANIUK = (1.40238744e3, 5.03836171, -5.81172916e-2, 3.34638117e-4, -1.48259672e-6, 3.16585020e-9)
# Del Grosso and Mader, Speed of sound in pure water, J. Acoust. Soc. Am. 52 (1972) 1442-1446,
# table III, scale of 1968
DEL_GROSSO = (
    0.140238754e4, 0.503711129e1, -0.580852166e-1, 0.334198834e-3, -0.147800417e-5, 0.314643091e-8,
)  # fmt: skip
# whole m/s from the law of Greenspan and Tschiegg, J. Res. Nat. Bur. Stand. 59 (1957) 249-254,
# as tabulated by others; theirs is known to lie 0.3 m/s above the later measurements
GREENSPAN = {5: 1427, 10: 1448, 15: 1466, 20: 1483, 25: 1497, 30: 1509, 35: 1520, 40: 1529}


def by_hand(coefficients, t):
    return sum(k * t**power for power, k in enumerate(coefficients))


@pytest.mark.parametrize("coefficients", [BILANIUK, DEL_GROSSO])
def test_two_other_fits_within_their_scatter(coefficients):
    for t in range(0, 41, 5):  # what a lake may have
        assert fresh_water_sound_speed(t) == pytest.approx(by_hand(coefficients, t), abs=0.05)


def test_a_table_in_whole_metres_per_second():
    for t, printed in GREENSPAN.items():
        assert fresh_water_sound_speed(t) == pytest.approx(printed - 0.3, abs=0.55)


def test_sound_is_fastest_near_74_degrees():
    # the only maximum of a pure liquid; 74 degrees C by all three sources
    t = np.linspace(0, 95, 951)
    assert t[np.argmax(fresh_water_sound_speed(t))] == pytest.approx(74.0, abs=0.3)


@pytest.mark.parametrize("celsius", [-0.1, 95.1, float("nan")])
def test_no_other_temperature(celsius):
    with pytest.raises(RangeError, match="0 to 95 degrees C"):
        fresh_water_sound_speed(celsius)
