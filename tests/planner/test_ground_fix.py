"""Where a picture lies, as the page asks it: positions as pasted, answers in words."""

import numpy as np
import pytest

from lakemap.basis.errors import BadInputError
from lakemap.lake.projection import LakeProjection
from lakemap.planner.ground import Ground

HERE = LakeProjection(lon0=-37.0, lat0=41.0)
SIZE = [1000, 800]
# half a metre a pixel, north up, the middle of the picture in the middle
PIXELS = [(100, 100), (900, 150), (500, 700)]
GROUND = [(-200, 150), (200, 125), (0, -150)]


def place(x, y):
    lon, lat = HERE.to_lonlat([x], [y])
    return f"{lat[0]:.9f}, {lon[0]:.9f}"


def points(*places):
    return [{"u": u, "v": v, "place": text} for (u, v), text in zip(PIXELS, places, strict=False)]


PLACES = [place(*xy) for xy in GROUND]


def fix(given, tmp_path, **more):
    body = {"points": given, "size": SIZE, "kind": "similarity", "units": "ft-lb", "middle": None}
    return Ground(tmp_path).answer("ground-fix", body | more)


def test_three_points_fix_the_picture_and_tell_how_well(tmp_path):
    told = fix(points(*PLACES), tmp_path)
    lon, lat = told["middle"]
    # the mean of the three positions
    assert np.column_stack(HERE.to_xy([lon], [lat])) == pytest.approx(
        np.array([[0.0, 125 / 3]]), abs=0.01
    )
    a, b, c, d, e, f = told["matrix"]
    assert (a, b, c, d) == pytest.approx((0.5, 0, 0, -0.5), abs=1e-6)
    # the picture's middle lies 125/3 m south of that
    assert (a * 500 + c * 400 + e, b * 500 + d * 400 + f) == pytest.approx((0, -125 / 3), abs=0.01)
    assert told["rms"] == "0.0 ft"
    assert [one["residual"] for one in told["points"]] == ["0.0 ft"] * 3
    assert told["says"].startswith("The picture shows 1,640 ft by 1,312 ft. Its 3 points")
    assert told["scale"] == "1.64 ft a pixel"
    assert told["warnings"] == []


def test_metres_and_a_middle_that_is_given(tmp_path):
    told = fix(points(*PLACES), tmp_path, units="m-kg", middle=[-37.0, 41.0])
    assert told["middle"] == [-37.0, 41.0]
    assert told["matrix"][4:] == pytest.approx([-250, 200], abs=1e-3)
    assert told["scale"] == "0.5 m a pixel"
    assert told["rms"] == "0.00 m"


def test_residuals_of_a_point_that_is_off(tmp_path):
    # one of three is moved 30 m; numpy's own least squares says what is left where
    off = [GROUND[0], GROUND[1], (0, -180)]
    told = fix(points(*[place(*xy) for xy in off]), tmp_path, units="m-kg", middle=[-37.0, 41.0])
    u, v = np.array(PIXELS, dtype=float).T
    one, none = np.ones(3), np.zeros(3)
    rows = np.vstack([np.column_stack([u, v, one, none]), np.column_stack([-v, u, none, one])])
    truth = np.concatenate(np.array(off, dtype=float).T)
    found = np.linalg.lstsq(rows, truth, rcond=None)[0]
    left = np.hypot(*(rows @ found - truth).reshape(2, 3))
    assert [one["residual"] for one in told["points"]] == [f"{value:.2f} m" for value in left]
    assert told["rms"] == f"{np.sqrt(np.mean(left**2)):.2f} m"


def test_points_without_a_position_wait(tmp_path):
    told = fix(points(PLACES[0], "", PLACES[2]), tmp_path)
    assert told["matrix"] is not None
    assert [one["residual"] is None for one in told["points"]] == [False, True, False]
    assert any("2 points are met exactly" in text for text in told["warnings"])


@pytest.mark.parametrize(
    ("places", "says"),
    [
        ((), "Mark two points"),
        ((PLACES[0], ""), "Mark two points"),
        ((PLACES[0], "here"), "Mark two points"),
        ((PLACES[0], "", PLACES[0]), "Points 1 and 3 lie at one place on the ground"),
        ((PLACES[0], "41.0, 37.0"), "Is a minus missing"),
    ],
)
def test_what_does_not_fix_it_yet(tmp_path, places, says):
    told = fix(points(*places), tmp_path)
    assert told["matrix"] is None
    assert says in told["says"]


def test_a_position_that_cannot_be_read_is_told_at_its_point(tmp_path):
    told = fix(points(PLACES[0], "-137, 41", PLACES[2]), tmp_path)
    assert "looks swapped" in told["points"][1]["problem"]
    assert told["matrix"] is not None


def test_warnings_name_points_as_the_page_does(tmp_path):
    pixels = [(100, 100), (0, 0), (900, 150), (500, 700), (880, 720)]
    places = [PLACES[0], "", PLACES[1], PLACES[2], place(600, -500)]
    given = [{"u": u, "v": v, "place": text} for (u, v), text in zip(pixels, places, strict=True)]
    told = fix(given, tmp_path)
    said = next(text for text in told["warnings"] if "times as far apart" in text)
    assert "and 5" in said or "points 5" in said


def test_points_that_disagree_by_more_than_a_phone_are_told(tmp_path):
    # three points, four parameters: of 4.16 m an axis, sqrt(2 / 3) of it is left over, 3.40 m
    for off, is_told in ((10.0, False), (40.0, True)):
        places = [*PLACES[:2], place(GROUND[2][0] + off, GROUND[2][1])]
        told = fix(points(*places), tmp_path, units="m-kg")
        said = [text for text in told["warnings"] if "disagree" in text]
        assert bool(said) is is_told, told["rms"]
        assert (float(told["rms"].split()[0]) > 2 * 4.16 * (2 / 3) ** 0.5) is is_told


def test_a_picture_far_from_the_lake_is_told(tmp_path):
    told = fix(points(*PLACES), tmp_path, middle=[-38.0, 41.0])
    assert any("far from the lake" in text for text in told["warnings"])


@pytest.mark.parametrize(
    "more",
    [
        {"points": 7},
        {"points": [{"u": "x", "v": 0, "place": ""}]},
        {"size": [1]},
        {"middle": [0, 95]},
        {"middle": ["a", "b"]},
        {"size": None},
    ],
)
def test_what_no_page_sends_is_refused(tmp_path, more):
    with pytest.raises(BadInputError, match="can't be read"):
        fix(points(*PLACES), tmp_path, **more)


def test_a_plain_grid_begins_at_a_place(tmp_path):
    ground = Ground(tmp_path)
    told = ground.answer("ground-start", {"place": "44.5 N, 72.25 W", "size": "600", "units": "ft-lb"})  # fmt: skip
    assert told == {"middle": [-72.25, 44.5], "span_m": pytest.approx(182.88)}
    with pytest.raises(BadInputError) as refused:
        ground.answer("ground-start", {"place": "there", "size": "wide", "units": "ft-lb"})
    assert [problem.code for problem in refused.value.problems] == ["bad_place", "bad_size"]
    with pytest.raises(BadInputError, match="no size of a lake"):
        ground.answer("ground-start", {"place": "44, -72", "size": "0", "units": "m-kg"})
