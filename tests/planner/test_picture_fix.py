"""How a picture lies on the ground, against numpy's and scipy's own ways and by hand."""

import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial import procrustes
from scipy.spatial.transform import Rotation

from lakemap.basis.errors import RangeError
from lakemap.planner.picture_fix import fix_picture

SIZE = (1000, 800)
FOUR = np.array([[100.0, 120.0], [900.0, 90.0], [820.0, 700.0], [150.0, 640.0]])


def laid(uv, *, scale=0.4, turn_deg=25.0, shift=(300.0, -50.0)):
    """Lay points of a picture on the ground by the textbook's matrix, v turned up first."""
    turn = np.radians(turn_deg)
    matrix = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    return scale * (np.asarray(uv) * [1, -1]) @ matrix.T + shift


def rough(uv, spread, seed=7):
    return laid(uv) + np.random.default_rng(seed).normal(0, spread, np.shape(uv))


def codes(fixed):
    return [one.code for one in fixed.warnings]


def test_two_points_are_met_exactly_by_hand():
    # 100 px east on the picture are 50 m north on the ground: half a metre a pixel, turned left
    fixed = fix_picture([[0, 0], [100, 0]], [[10, 20], [10, 70]], size_px=SIZE, kind="similarity")
    assert fixed.matrix == pytest.approx((0, 0.5, 0.5, 0, 10, 20), abs=1e-12)
    # down on the picture is then east
    assert fixed.to_ground([[0, 40]]) == pytest.approx(np.array([[30, 20]]), abs=1e-12)
    assert fixed.residuals_m == pytest.approx([0, 0], abs=1e-12)
    assert fixed.scale_m_px == pytest.approx(0.5)
    assert "not_tested" in codes(fixed)


@pytest.mark.parametrize("scale", [1e-3, 0.4, 30.0])
@pytest.mark.parametrize("far", [0.0, 2e4])
def test_a_similarity_is_found_again(scale, far):
    truth = laid(FOUR, scale=scale, turn_deg=-130, shift=(far, -far))
    fixed = fix_picture(FOUR, truth, size_px=SIZE, kind="similarity")
    assert fixed.to_ground(FOUR) == pytest.approx(truth, abs=1e-9 * (1 + far))
    assert fixed.scale_m_px == pytest.approx(scale, rel=1e-9)
    assert fixed.rms_m == pytest.approx(0, abs=1e-9 * (1 + far))
    assert codes(fixed) == []


@given(seed=st.integers(0, 10_000), count=st.integers(3, 9), spread=st.floats(0.0, 20.0))
def test_similarity_is_the_least_squares_of_its_linear_form(seed, count, spread):
    draw = np.random.default_rng(seed)
    uv = draw.uniform((0, 0), SIZE, (count, 2))
    xy = rough(uv, spread, seed)
    fixed = fix_picture(uv, xy, size_px=SIZE, kind="similarity")
    # x = r u + s v + e and y = s u - r v + f, unknown r, s, e, f
    u, v, one, none = *uv.T, np.ones(count), np.zeros(count)
    rows = np.vstack([np.column_stack([u, v, one, none]), np.column_stack([-v, u, none, one])])
    (r, s, e, f), *_ = np.linalg.lstsq(rows, np.concatenate(xy.T), rcond=None)
    assert fixed.matrix == pytest.approx((r, s, s, -r, e, f), rel=1e-6, abs=1e-6)


@given(seed=st.integers(0, 10_000), count=st.integers(4, 9))
def test_affine_is_the_least_squares_of_both_coordinates(seed, count):
    draw = np.random.default_rng(seed)
    uv = draw.uniform((0, 0), SIZE, (count, 2))
    xy = rough(uv, 10.0, seed) * [1.0, 1.3]
    fixed = fix_picture(uv, xy, size_px=SIZE, kind="affine")
    rows = np.column_stack([uv, np.ones(count)])
    (a, b), (c, d), (e, f) = np.linalg.lstsq(rows, xy, rcond=None)[0]
    assert fixed.matrix == pytest.approx((a, b, c, d, e, f), rel=1e-6, abs=1e-6)
    left = np.linalg.norm(rows @ np.array([[a, b], [c, d], [e, f]]) - xy, axis=1)
    assert fixed.residuals_m == pytest.approx(left, abs=1e-6)
    assert fixed.rms_m == pytest.approx((left @ left / count) ** 0.5, abs=1e-6)


@given(seed=st.integers(0, 10_000))
def test_similarity_leaves_what_procrustes_leaves_and_turns_as_its_rotation(seed):
    uv = np.random.default_rng(seed).uniform((0, 0), SIZE, (5, 2))
    xy = rough(uv, 5.0, seed)
    fixed = fix_picture(uv, xy, size_px=SIZE, kind="similarity")
    up = uv * [1, -1]
    centred_up, centred_xy = up - up.mean(axis=0), xy - xy.mean(axis=0)
    # scipy's disparity is the share of the squares that is left over
    _, _, disparity = procrustes(xy, up)
    left = (fixed.residuals_m**2).sum() / (centred_xy**2).sum()
    assert left == pytest.approx(disparity, rel=1e-6, abs=1e-12)
    # and its alignment in space, both laid flat, is the turn
    flat = [np.column_stack([one, np.zeros(5)]) for one in (centred_xy, centred_up)]
    turn = Rotation.align_vectors(*flat)[0].as_matrix()[:2, :2]
    a, b = fixed.matrix[:2]
    assert np.array([a, b]) / np.hypot(a, b) == pytest.approx(turn[:, 0], abs=1e-6)


def test_affine_of_three_is_met_exactly_and_says_so():
    uv, xy = FOUR[:3], laid(FOUR[:3]) * [1.0, 1.05]
    fixed = fix_picture(uv, xy, size_px=SIZE, kind="affine")
    assert fixed.residuals_m == pytest.approx([0, 0, 0], abs=1e-9)
    assert codes(fixed) == ["not_tested"]


@pytest.mark.parametrize(
    ("uv", "xy", "kind", "says"),
    [
        ([[0, 0]], [[0, 0]], "similarity", "1 of the 2 points"),
        ([[0, 0], [9, 0]], [[0, 0], [1, 1]], "affine", "2 of the 3 points"),
        ([[0, 0], [0, 0]], [[0, 0], [1, 1]], "similarity", "points 1 and 2 lie at one place on the picture"),
        ([[0, 0], [5, 5], [9, 0]], [[0, 0], [1, 1], [0, 0]], "similarity", "points 1 and 3 lie at one place on the ground"),
        ([[0, 0], [5, 5]], [[0, 0], [np.nan, 1]], "similarity", "no finite number"),
        ([[0, 0], [5, 5], [9, 9]], [[0, 0], [5, 5], [9, 9]], "affine", "on one line"),
        ([[0, 0], [5, 5]], [[0, 0]], "similarity", "2 points of the picture but 1"),
    ],
)  # fmt: skip
def test_what_fixes_nothing_is_refused(uv, xy, kind, says):
    with pytest.raises(RangeError, match=says):
        fix_picture(uv, xy, size_px=SIZE, kind=kind)


def test_near_points_are_told_with_how_much_their_error_grows():
    # mean (500, 400), 50 px each side: the far corner is 640.3 px away, sqrt(1/2 + 640.3^2 / 5000)
    uv = np.array([[450.0, 400.0], [550.0, 400.0]])
    fixed = fix_picture(uv, laid(uv), size_px=SIZE, kind="similarity")
    said = next(one.text for one in fixed.warnings if one.code == "points_near")
    assert f"{(0.5 + (500**2 + 400**2) / 5000) ** 0.5:.1f} times" in said
    assert "9.1 times" in said


def test_points_on_a_line_are_told():
    uv = np.array([[50.0, 50.0], [500.0, 402.0], [950.0, 748.0]])
    assert "points_in_line" in codes(fix_picture(uv, laid(uv), size_px=SIZE, kind="similarity"))
    assert "mirrored" not in codes(fix_picture(uv, laid(uv), size_px=SIZE, kind="similarity"))


@pytest.mark.parametrize("kind", ["similarity", "affine"])
def test_a_mirrored_picture_is_told(kind):
    fixed = fix_picture(FOUR, laid(FOUR * [-1, 1]), size_px=SIZE, kind=kind)
    assert "mirrored" in codes(fixed)


def test_a_wrong_position_is_named_by_its_scale():
    xy = laid(FOUR)
    xy[2] += xy[2] - xy[0]  # point 3 twice as far from point 1
    fixed = fix_picture(FOUR, xy, size_px=SIZE, kind="similarity")
    said = next(one.text for one in fixed.warnings if one.code == "scale_differs")
    assert re.search(r"points (\d and 3|3 and 4) ", said)
    assert fixed.residuals_m.argmax() == 2


def test_a_stretched_affine_is_told():
    fixed = fix_picture(FOUR, laid(FOUR, turn_deg=0) * [1, 1.5], size_px=SIZE, kind="affine")
    said = next(one.text for one in fixed.warnings if one.code == "stretched")
    assert "1.50 times" in said


@given(seed=st.integers(0, 1000), kind=st.sampled_from(["similarity", "affine"]))
def test_moving_and_turning_the_ground_changes_no_residual(seed, kind):
    xy = rough(FOUR, 5.0, seed)
    turned = xy @ np.array([[0.6, 0.8], [-0.8, 0.6]]) + (1e3, -2e3)
    one, two = (fix_picture(FOUR, where, size_px=SIZE, kind=kind) for where in (xy, turned))
    assert one.residuals_m == pytest.approx(two.residuals_m, abs=1e-6)
