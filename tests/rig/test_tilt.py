"""What of a tipped float is under water, against polygons clipped by a general library."""

import numpy as np
import pytest
from clipped import wet
from hypothesis import given, settings
from hypothesis import strategies as st

from lakemap.basis.errors import RangeError
from lakemap.rig.tilt import Profile, under_water

KINDS = ("end on", "lengthwise", "box")
ANGLE = st.floats(0.002, 1.2)
LEVEL = st.integers(-1500, 2000).map(lambda mm: mm / 1000)  # clipping fails at subnormal numbers


def profile(kind, offsets=(-1.2, 0.3, 1.2), pieces=(1, 0, 2), extent=0.9, span=1.4, height=0.5):
    if kind == "end on":
        extent = height
    if kind == "lengthwise":
        span = height
    return Profile(
        kind=kind,
        offset_m=np.array([offsets]),
        pieces=np.array([pieces], dtype=float),
        extent_m=np.array([extent]),
        span_m=np.array([span]),
        height_m=np.array([height]),
    )


def at(one, angle, level):
    volume, moment = under_water(one, np.array([angle]), level_m=np.array([level]))
    return float(volume[0]), float(moment[0])


@pytest.mark.parametrize("kind", KINDS)
@settings(max_examples=40)
@given(angle=ANGLE, level=LEVEL)
def test_clipped_by_shapely(kind, angle, level):
    one = profile(kind)
    volume, moment = at(one, angle, level)
    wanted, outwards, _ = wet(one, angle, level)
    near = 2e-4 if kind == "lengthwise" else 1e-8  # as good as slices and corners are
    assert volume == pytest.approx(wanted, abs=near)
    assert moment == pytest.approx(outwards, abs=near)


@pytest.mark.parametrize("kind", KINDS)
@given(angle=ANGLE)
def test_all_under_is_the_whole_and_none_is_nothing(kind, angle):
    one = profile(kind)
    whole = {"end on": np.pi / 4 * 0.25 * 1.4, "lengthwise": np.pi / 4 * 0.25 * 0.9, "box": 0.63}
    volume, moment = at(one, angle, 5.0)
    assert volume == pytest.approx(3 * whole[kind], rel=1e-9)
    # its centroid is that of the pieces: (2 x 1.2 - 1.2)/3 out, half the height up
    out = 0.4 * np.cos(angle) + 0.25 * np.sin(angle)
    assert moment == pytest.approx(volume * out, rel=1e-7)
    assert at(one, angle, -5.0) == (0.0, 0.0)


@pytest.mark.parametrize("kind", KINDS)
@given(angle=ANGLE, level=LEVEL, times=st.floats(0.2, 5.0))
def test_volume_grows_with_the_cube(kind, angle, level, times):
    small = profile(kind)
    large = profile(
        kind,
        offsets=tuple(np.array([-1.2, 0.3, 1.2]) * times),
        extent=0.9 * times,
        span=1.4 * times,
        height=0.5 * times,
    )
    (v, m), (volume, moment) = at(small, angle, level), at(large, angle, level * times)
    assert volume == pytest.approx(v * times**3, rel=1e-6, abs=1e-9 * times**3)
    assert moment == pytest.approx(m * times**4, rel=1e-6, abs=1e-9 * times**4)


@pytest.mark.parametrize("kind", KINDS)
@given(angle=ANGLE, level=LEVEL, more=st.floats(0.001, 0.5))
def test_more_water_covers_more(kind, angle, level, more):
    one = profile(kind)
    assert at(one, angle, level + more)[0] >= at(one, angle, level)[0] - 1e-12  # of the digits


@pytest.mark.parametrize("kind", KINDS)
def test_nearly_level_is_level(kind):
    # 0.02 m of tilt over the float: the volume of the level float, by the segment or the box
    one = profile(kind, offsets=(-1.0, 0.0, 1.0), pieces=(1, 1, 1))
    volume, moment = at(one, 1e-4, 0.2)
    r, h = 0.25, 0.2
    segment = r * r * np.arccos((r - h) / r) - (r - h) * np.sqrt(2 * r * h - h * h)
    wanted = {"end on": 3 * 1.4 * segment, "lengthwise": 3 * 0.9 * segment, "box": 3 * 1.26 * 0.2}
    assert volume == pytest.approx(wanted[kind], rel=1e-6)
    # the centroid moves by (KB + BM) sin a
    breadth = 2 * np.sqrt(h * (2 * r - h))
    wide, along = {
        "end on": (breadth, 1.4), "lengthwise": (0.9, breadth), "box": (0.9, 1.4)
    }[kind]  # fmt: skip
    inertia = along * (3 * wide**3 / 12 + 2 * wide)
    kb = h / 2 if kind == "box" else r - breadth**3 / (12 * segment)
    assert moment / volume == pytest.approx((kb + inertia / volume) * 1e-4, rel=1e-4)


@pytest.mark.parametrize("angle", [0.0, -0.1, 1.5, np.nan])
def test_angles_outside_are_named(angle):
    with pytest.raises(RangeError, match=r"\[0\] .* rad: need 0\.0001 to 1\.47"):
        at(profile("box"), angle, 0.2)
