"""The line's shape ends where the statics put its ends, and keeps its lengths."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize

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
    assert lengths(shape.x_m[:, at:], shape.z_m[:, at:]) == pytest.approx(line.riser_m, rel=1e-3)


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


@given(st.floats(0.5, 20), st.floats(1e-6, 3))
def test_calm_keeps_the_length_of_the_riser_and_stays_on_the_bed(drop, spare):
    shape = line_shapes([0.0], rig=rig(drop, drop * (1 + spare), 4.0), points=2000)
    x, z = shape.x_m[:, shape.secondary :], shape.z_m[:, shape.secondary :]
    assert lengths(x, z) == pytest.approx(drop * (1 + spare), rel=1e-3)
    assert (x[0, 0], z[0, 0], z[0, -1]) == pytest.approx((4.0, 0.0, drop), abs=1e-6)
    assert (z >= -1e-9).all()
    assert (np.diff(x) >= -1e-9).all()
    # no farther than a taut riser, no nearer than its spare length laid out allows
    taut = drop * np.sqrt((1 + spare) ** 2 - 1)
    assert drop * spare - 1e-6 <= x[0, -1] - 4.0 <= taut + 1e-6


def test_calm_sags_as_a_chain_does():
    # an independent check of the curve: equal links between the same ends, on a bed, that weigh least
    shape = line_shapes([0.0], rig=rig(5.0, 6.5, 5.0), points=27)
    x, z = shape.x_m[0, shape.secondary :] - 5.0, shape.z_m[0, shape.secondary :]
    link = 6.5 / 26

    def at(angles):
        return link * np.cumsum(np.cos(angles)), link * np.cumsum(np.sin(angles))

    ends = {"type": "eq", "fun": lambda a: [at(a)[0][-1] - x[-1], at(a)[1][-1] - z[-1]]}
    bed = {"type": "ineq", "fun": lambda a: at(a)[1]}
    found = minimize(
        lambda a: at(a)[1].sum(), np.linspace(0.0, 1.5, 26), method="SLSQP",
        constraints=[ends, bed], options={"maxiter": 500, "ftol": 1e-10},
    )  # fmt: skip
    assert found.success
    assert at(found.x)[1] == pytest.approx(z[1:], abs=0.05)
    assert at(found.x)[0] == pytest.approx(x[1:], abs=0.05)


def test_hung_in_calm():
    shape = line_shapes([0.0], rig=rig(5.0, 4.2, 5.0))
    assert shape.z_m[0, shape.secondary] == pytest.approx(0.8)
    assert shape.x_m[0, shape.secondary] == pytest.approx(4.2)
    assert shape.x_m[0, -1] == pytest.approx(4.2)  # plumb
