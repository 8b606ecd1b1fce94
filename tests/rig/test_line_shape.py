"""The line's shape ends where the statics put its ends, and keeps its lengths."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lakemap.rig.holding import LineRig
from lakemap.rig.line import two_cluster_line
from lakemap.rig.line_shape import line_shapes


def rig(drop, riser, ground, second=300.0):
    values = (drop, ground, riser, 40.0, 20.0, second)
    return LineRig(
        **{
            name: np.atleast_1d(np.asarray(value, dtype=float))
            for name, value in zip(LineRig.__slots__, np.broadcast_arrays(*values), strict=True)
        }
    )


def terms(line):
    return {name: getattr(line, name) for name in LineRig.__slots__}


def lengths(x, z):
    return np.hypot(np.diff(x), np.diff(z)).sum(axis=1)


@given(
    st.floats(0.5, 20),
    st.floats(0.05, 8),
    st.floats(0.5, 20),
    st.floats(0.1, 5000),
    st.floats(0, 2000),
)
def test_ends_and_lengths(drop, slack, ground, pull, second):
    line = rig(drop, max(drop + slack - ground / 2, 0.3), ground, second)
    state = two_cluster_line([pull], **terms(line))
    shape = line_shapes([pull], rig=line, points=400)
    at = shape.secondary
    assert (shape.x_m[0, 0], shape.z_m[0, 0]) == pytest.approx((0, 0), abs=1e-12)
    assert shape.x_m[0, -1] == pytest.approx(state.reach_m[0], abs=1e-6)
    assert shape.z_m[0, -1] == pytest.approx(drop, abs=1e-6)
    assert shape.x_m[0, at] == pytest.approx(state.secondary_x_m[0], abs=1e-6)
    assert shape.z_m[0, at] == pytest.approx(state.secondary_height_m[0], abs=1e-6)
    assert lengths(shape.x_m[:, : at + 1], shape.z_m[:, : at + 1]) == pytest.approx(
        ground, rel=1e-3
    )
    assert lengths(shape.x_m[:, at:], shape.z_m[:, at:]) == pytest.approx(line.riser_m, rel=3e-3)


def test_many_at_once_are_each_alone():
    line = rig([5.0, 3.0], [6.5, 2.0], [5.0, 4.0])
    both = line_shapes([600.0, 50.0], rig=line)
    for i in range(2):
        one = LineRig(**{name: getattr(line, name)[i : i + 1] for name in LineRig.__slots__})
        alone = line_shapes([[600.0, 50.0][i]], rig=one)
        assert alone.x_m[0] == pytest.approx(both.x_m[i])
        assert alone.z_m[0] == pytest.approx(both.z_m[i])


def test_calm():
    shape = line_shapes([0.0], rig=rig(5.0, 6.5, 5.0))
    assert shape.z_m[0, : shape.secondary + 1] == pytest.approx(0)
    assert shape.x_m[0, shape.secondary] == pytest.approx(5.0)
    assert shape.z_m[0, -1] == pytest.approx(5.0)
    # drifted a little beyond its secondary: 0.4 of sqrt(6.5^2 - 5^2)
    assert shape.x_m[0, -1] == pytest.approx(5 + 0.4 * np.sqrt(6.5**2 - 25))


def test_hung_in_calm():
    shape = line_shapes([0.0], rig=rig(5.0, 4.2, 5.0))
    assert shape.z_m[0, shape.secondary] == pytest.approx(0.8)
    assert shape.x_m[0, shape.secondary] == pytest.approx(4.2)
    assert shape.x_m[0, -1] == pytest.approx(4.2)  # plumb
