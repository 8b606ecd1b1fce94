"""Ways around a shore as rings: against the true shore, by hand, and the ways that are none."""

import numpy as np
import pytest
import shapely

from lakemap.gathering import shore_ring
from lakemap.gathering.shore_lake import difference, drawn_lake, merged_lake
from lakemap.gathering.shore_ring import NoRing, Ring, ring_of

TURN = 2 * np.pi
SIGMA = 3.0


def shore(angle):
    """A lake of some 400 by 240 m with three bays."""
    wide = 200 * (1 + 0.2 * np.sin(3 * angle))
    return np.column_stack([wide * np.cos(angle), 120 * np.sin(angle)])


def walked(start, end, count=1000, *, noise=2.0, seed=3):
    """A way along it with a phone's error, which drifts."""
    rng = np.random.default_rng(seed)
    steps = rng.normal(0, noise * np.sqrt(1 - 0.98**2), (count, 2))
    error = np.zeros((count, 2))
    for i in range(1, count):
        error[i] = 0.98 * error[i - 1] + steps[i]
    return shore(np.linspace(start, end, count)) + error


def ring(xy, sigma=SIGMA, **more):
    return ring_of(np.asarray(xy, dtype=float), sigma_m=sigma, thin_m=sigma / 2, **more)


TRUE = shapely.Polygon(shore(np.linspace(0, TURN, 4000)))


def apart(polygon):
    """The farthest corner of either from the other, the found one's sides cut to 2 m."""
    corners = shapely.get_coordinates(shapely.segmentize(polygon.exterior, 2.0))
    pairs = (
        (TRUE.exterior, corners),
        (polygon.exterior, shapely.get_coordinates(TRUE)),
    )
    return max(shapely.distance(line, shapely.points(xy)).max() for line, xy in pairs)


@pytest.mark.parametrize("share", [0.98, 1.0, 1.02, 1.1])
def test_once_around_and_a_little_more_or_less(share):
    found = ring(walked(0.0, share * TURN))
    assert isinstance(found, Ring)
    assert found.polygon.is_valid
    # a phone's error three times over and what was thinned; of the gap a chord
    assert apart(found.polygon) < 4 * 2 + SIGMA / 2 + 3
    assert found.polygon.area == pytest.approx(TRUE.area, rel=0.03)
    perimeter = TRUE.exterior.length
    over = (share - 1) * perimeter
    if over > 10:
        assert found.overlap_m == pytest.approx(over, abs=25)
    if share < 1:
        assert found.gap_m == pytest.approx(-over, abs=10)
        assert found.overlap_m == 0


def test_it_is_thinned_but_never_by_more_than_is_said():
    xy = shore(np.linspace(0, TURN, 4000, endpoint=False))
    found = ring(xy)
    assert len(found.polygon.exterior.coords) < 200
    away = shapely.distance(found.polygon.exterior, shapely.points(xy))
    assert away.max() <= SIGMA / 2 + 1e-9


def test_too_many_corners_are_thinned_more_and_that_is_said(monkeypatch):
    monkeypatch.setattr(shore_ring, "MOST_CORNERS", 30)
    xy = shore(np.linspace(0, TURN, 4000, endpoint=False))
    found = ring(xy, sigma=0.1)
    assert found.thin_m in {0.05 * 2**k for k in range(1, 9)}
    assert len(found.polygon.exterior.coords) <= 31
    away = shapely.distance(found.polygon.exterior, shapely.points(xy))
    assert found.thin_m / 8 < away.max() <= found.thin_m + 1e-9


def test_a_receiver_that_trembles_is_still_a_ring():
    rng = np.random.default_rng(1)
    xy = shore(np.linspace(0, 1.02 * TURN, 20_000)) + rng.normal(0, 1.0, (20_000, 2))
    found = ring(xy, sigma=1.0)
    assert apart(found.polygon) < 6
    # 2 % of the shore, not of the way, which the trembling makes thirty times as long
    assert found.overlap_m < 150


def test_spikes_are_left_out():
    xy = walked(0.0, TURN)
    xy[300] += (150, 80)  # one point
    xy[500:504] += (-300, 40)  # four in a row
    found = ring(xy)
    assert found.spikes == 5
    assert apart(found.polygon) < 12


def test_a_straight_way_that_goes_on_is_no_spike():
    # a track with a pause in it has one jump, not there and back
    xy = walked(0.0, TURN)
    assert ring(np.delete(xy, slice(400, 440), axis=0)).spikes == 0
    # corners that a person set far apart are no spikes
    assert ring([(0, 0), (300, 0), (300, 200), (0, 200)], drawn=True).spikes == 0


def test_the_way_to_the_shore_and_back_is_cut_off():
    spur = np.column_stack([np.linspace(320, 200, 50), np.linspace(90, 0, 50)])
    found = ring(np.vstack([spur, walked(0.0, TURN, noise=0.5), spur[::-1]]))
    assert apart(found.polygon) < 8
    assert found.overlap_m == pytest.approx(300, abs=40)  # 150 m there and back


def test_small_loops_are_taken_out():
    angle = np.concatenate(
        [np.linspace(0, 3, 500), np.linspace(3, 2.9, 30), np.linspace(2.9, TURN, 500)]
    )
    eddy = np.column_stack([np.cos(np.linspace(0, TURN, 30)), np.sin(np.linspace(0, TURN, 30))])
    xy = shore(angle)
    xy = np.vstack([xy[:200], xy[200] + 8 * (eddy - eddy[0]), xy[200:]])
    found = ring(xy)
    assert found.polygon.is_valid
    assert apart(found.polygon) < 18


def test_a_square_by_hand():
    found = ring([(0, 0), (300, 0), (300, 200), (0, 200), (0, 0)], sigma=1.0)
    assert found.polygon.equals(shapely.box(0, 0, 300, 200))
    assert (found.gap_m, found.longest_m, found.points) == (0, 300, 5)


def test_a_route_may_be_closed_by_one_more_side():
    corners = [(0, 0), (300, 0), (300, 200), (0, 200)]
    assert ring(corners, drawn=True).polygon.equals(shapely.box(0, 0, 300, 200))
    assert ring(corners) == NoRing(why="open", length_m=800, far_m=200)


def test_a_way_that_does_not_come_back():
    found = ring(walked(0.0, 0.8 * TURN))
    ends = shore(np.array([0.0, 0.8 * TURN]))
    assert (found.why, found.far_m) == (
        "open",
        pytest.approx(np.hypot(*np.diff(ends, axis=0)[0]), abs=9),
    )


@pytest.mark.parametrize(
    "xy", [[(0, 0)], [(0, 0), (9, 0), (9, 9)], [(0, 0)] * 50, np.empty((0, 2))]
)
def test_too_few_points(xy):
    assert ring(xy).why == "few"


def test_there_and_back_on_one_line_is_nothing():
    line = np.column_stack([np.linspace(0, 500, 300), np.zeros(300)])
    back = line[::-1] + np.array([0, 2.0])
    found = ring(np.vstack([line, back, line[:1]]))
    assert found.why in {"narrow", "crossed"}
    assert ring(np.vstack([line, line[::-1]])).why in {"narrow", "crossed", "open"}


def test_a_figure_of_eight_is_refused():
    t = np.linspace(0, TURN, 400)
    found = ring(np.column_stack([200 * np.sin(t), 100 * np.sin(2 * t)]))
    assert (found.why, found.share) == ("crossed", pytest.approx(0.5, abs=0.01))


def test_rings_become_shore_and_islands():
    big, one, two = (
        shapely.box(0, 0, 400, 300),
        shapely.box(50, 50, 90, 80),
        shapely.box(200, 100, 230, 190),
    )
    away, across = shapely.box(900, 0, 950, 50), shapely.box(380, 100, 440, 150)
    found = drawn_lake([one, away, big, across, two], inside_m=0, thin_m=1)
    assert found.outline.area == 400 * 300 - 40 * 30 - 30 * 90
    assert (found.islands, found.outside, found.lost) == (2, (1, 3), 0)


def test_a_boat_kept_off_shore_and_islands():
    # 3 m inside a circle of 200 m, and 3 m about an island of 20 m; another of 2 m is gone
    rings = [
        shapely.Point(0, 0).buffer(197, quad_segs=200),
        shapely.Point(60, 0).buffer(23, quad_segs=200),
        shapely.Point(-60, 0).buffer(2, quad_segs=200),
    ]
    found = drawn_lake(rings, inside_m=3.0, thin_m=0.05)
    wanted = np.pi * (200**2 - 20**2)
    assert found.outline.area == pytest.approx(wanted, rel=1e-3)
    assert (found.islands, found.lost) == (1, 1)
    shore_ = shapely.Point(0, 0).buffer(200, quad_segs=400).exterior
    drawn = shapely.LineString(found.outline.exterior)
    # each within 0.2 m of the other (hausdorff_distance of old versions errs with closed lines)
    assert shore_.buffer(0.2).contains(drawn)
    assert drawn.buffer(0.2).contains(shore_)


def test_how_far_two_shores_lie_apart_by_hand(square):
    # 200 m square; its east side moved out by 10 m over all its length
    from conftest import HERE

    wider = shapely.MultiPolygon([HERE.unproject(shapely.box(-100, -100, 110, 100))])
    found = difference(square.lake, wider)
    assert found.far_m == pytest.approx(10.0, abs=0.01)
    assert (found.before_m2, found.after_m2) == pytest.approx((40_000, 42_000), rel=1e-6)
    x, _ = HERE.to_xy([found.lon], [found.lat])
    assert x[0] == pytest.approx(110, abs=0.1)


def test_without_an_old_lake_the_new_one_stands_alone():
    drawn = shapely.Polygon(
        shapely.box(-37.01, 41.0, -37.0, 41.01).exterior,
        [shapely.box(-37.006, 41.004, -37.005, 41.005).exterior],
    )
    found = merged_lake(drawn, None)
    assert (found.names, found.kept, found.dropped) == ((None,), (), ())
    assert found.outline.equals(shapely.MultiPolygon([drawn]))


def test_a_slow_walk_of_very_small_steps_is_a_ring():
    # 300,000 steps of 4 mm round 200 m: each is less than what counts as standing still
    angle = np.linspace(0.0, 2 * np.pi, 300_001)
    found = ring_of(
        200.0 * np.column_stack([np.sin(angle), np.cos(angle)]), sigma_m=1.0, thin_m=0.5
    )
    assert isinstance(found, Ring)
    assert found.polygon.area == pytest.approx(np.pi * 200.0**2, rel=0.01)
