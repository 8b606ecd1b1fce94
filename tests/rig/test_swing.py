"""Laws of reach and corner."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lakemap.basis.errors import RangeError
from lakemap.rig.swing import corner, reach

LENGTH = st.floats(0.1, 50.0)
SHARE = st.floats(0.0, 1.0)


@given(LENGTH, SHARE, SHARE)
def test_lower_water_reaches_farther(line, share, fall):
    drop = line * share
    high, low = reach([drop, drop * (1 - fall)], line_m=line)
    assert 0 <= high <= low * (1 + 1e-12) <= line * (1 + 2e-12)


@given(LENGTH, SHARE, LENGTH)
def test_more_line_reaches_farther(line, share, more):
    short, long = reach(line * share, line_m=[line, line + more])
    assert long > short


@given(LENGTH, SHARE, st.sampled_from([1e-3, 1.0, 2e4]))
def test_lengths_scale(line, share, times):
    # at 1 mm, 1 m and 20 km
    assert reach(line * share * times, line_m=line * times) == pytest.approx(
        float(reach(line * share, line_m=line)) * times, rel=1e-9
    )


@given(LENGTH, st.floats(1e-9, 1e-3))
def test_digits_are_kept_where_the_line_is_nearly_upright(line, slack):
    drop = line * (1 - slack)
    exact = np.sqrt(np.longdouble(line) ** 2 - np.longdouble(drop) ** 2)
    assert float(reach(drop, line_m=line)) == pytest.approx(float(exact), rel=1e-12)


@given(LENGTH, LENGTH, st.booleans())
def test_a_deck_turned_by_a_right_angle_is_the_same_deck(length, width, at_edge):
    assert corner(length, width, at_edge=at_edge) == corner(width, length, at_edge=at_edge)


@given(LENGTH, LENGTH)
def test_no_corner_is_farther_than_the_one_named(length, width):
    long, short = max(length, width), min(length, width)
    for at_edge, hook in ((False, (0.0, 0.0)), (True, (-long / 2, 0.0))):
        corners = [(sx * long / 2, sy * short / 2) for sx in (-1, 1) for sy in (-1, 1)]
        far = max(np.hypot(x - hook[0], y - hook[1]) for x, y in corners)
        assert float(corner(length, width, at_edge=at_edge)) == pytest.approx(far, rel=1e-12)


@pytest.mark.parametrize(
    ("drop", "line"), [(-0.1, 5), (6, 5), (np.nan, 5), (1, np.nan), (1, np.inf)]
)
def test_out_of_range(drop, line):
    with pytest.raises(RangeError, match="need 0 <= drop <= riser \\+ ground"):
        reach(drop, line_m=line)
