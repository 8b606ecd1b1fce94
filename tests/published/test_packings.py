"""Bounds and best packings of equal circles from print.

Bound: N. Oler, A finite packing problem, Canad. Math. Bull. 4 (1961) 153-155, worked by hand for a
rectangle, triangles and segments. Best packings in a circle and a square to n = 12: proved values
of the literature, re-found by numerical optimisation to 1e-5; n = 13 to 20 from memory, and
n = 13, 16, 17 and 20 re-found here by a general optimiser.
"""

import numpy as np
import pytest
import shapely
from scipy.optimize import minimize
from shapely.affinity import scale

from lakemap.siting.packing import PackingQuestion, pack
from lakemap.siting.packing_bounds import oler_bound, upper_bound

pytestmark = pytest.mark.slow

# n, enclosing radius over circle radius, its density, circle radius in a unit square, least distance of points
BEST = [
    (1, 1.0, 1.0, 0.500000, None),
    (2, 2.0, 0.5000, 0.292893, 1.414214),
    (3, 2.154701, 0.6462, 0.254333, 1.035276),
    (4, 2.414214, 0.6863, 0.250000, 1.0),
    (5, 2.701302, 0.6852, 0.207107, 0.707107),
    (6, 3.0, 0.6667, 0.187681, 0.600925),
    (7, 3.0, 0.7778, 0.174458, 0.535898),
    (8, 3.304765, 0.7325, 0.170541, 0.517638),
    (9, 3.613126, 0.6894, 0.166667, 0.5),
    (10, 3.813026, 0.6878, 0.148204, 0.421280),
    (11, 3.923804, 0.7145, 0.142399, 0.398207),
    (12, 4.029602, 0.7390, 0.139959, 0.388730),
]
# from memory
MORE = [
    (13, 4.236068, 0.133994),
    (14, 4.328429, 0.129332),
    (15, 4.521357, 0.127167),
    (16, 4.615426, 0.125000),
    (17, 4.792034, 0.117197),
    (18, 4.863703, 0.115521),
    (19, 4.863703, 0.112265),
    (20, 5.122321, 0.111382),
]
ALL = [(n, ratio, radius) for n, ratio, _, radius, _ in BEST] + MORE
LARGEST = 1 + 2e-6  # half a unit of the last printed digit, at most 5e-6 of the value


def square(radius, side=1000.0):
    """Where centres lie in a square that holds circles of that radius."""
    if radius > 0.5:
        return shapely.Polygon()
    return shapely.box(0, 0, side * (1 - 2 * radius), side * (1 - 2 * radius))


def disc(ratio, *, outside):
    """Where centres lie in a circle of radius 1000; a polygon inside it or about it."""
    reach = 1000 * (1 - 1 / ratio) / (np.cos(np.pi / 1024) if outside else 1)
    return shapely.Point(0, 0).buffer(reach, quad_segs=256)


def found(region, radius):
    question = PackingQuestion(
        region=region, radius_at=lambda xy: np.full(len(xy), radius), gap_m=0.0
    )
    return len(pack(question, budget=300_000).xy)


def most(region, radius):
    return upper_bound(region, radius_low=lambda _: radius).most


@pytest.mark.parametrize(
    ("width", "height", "apart", "printed"), [(200, 100, 20, 73.735), (300, 50, 30, 31.912)]
)
def test_worked_rectangles(width, height, apart, printed):
    bound = oler_bound(width * height, perimeter_m=2 * (width + height), apart_m=apart)
    assert bound == pytest.approx(printed, abs=5e-4)
    assert most(shapely.box(0, 0, width, height), apart / 2) == int(printed)


def test_rectangle_holds_the_printed_rows():
    # hexagonal rows along the short side of 200 x 100: 66; a hair wider, as rows fit exactly
    assert 66 <= found(shapely.box(0, 0, 200.001, 100.001), 10.0) <= 73


@pytest.mark.parametrize("k", range(1, 9))
def test_triangles_reach_the_bound(k):
    side, apart = 20.0 * k, 20.0
    corners = [(0, 0), (side, 0), (side / 2, side * np.sqrt(0.75))]
    printed = (k + 1) * (k + 2) / 2
    bound = oler_bound(side**2 * np.sqrt(3) / 4, perimeter_m=3 * side, apart_m=apart)
    assert bound == pytest.approx(printed, rel=1e-12)
    assert (
        most(shapely.Polygon(corners), apart / 2) == printed
    )  # without forgiving rounding: 5 of 6
    wider = scale(shapely.Polygon(corners), 1.0001, 1.0001)
    assert found(wider, apart / 2) == printed


@pytest.mark.parametrize(("length", "apart", "printed"), [(100, 25, 5), (99, 25, 4), (7, 8, 1)])
def test_segments_reach_the_bound(length, apart, printed):
    assert int(oler_bound(0.0, perimeter_m=2 * length, apart_m=apart)) == printed
    assert most(shapely.LineString([(0, 0), (length * 0.6, length * 0.8)]), apart / 2) == printed


def test_infinite_plane():
    # density pi / sqrt(12) = 0.906900; one point per 0.866025 d^2
    side, apart = 1e9, 1.0
    bound = oler_bound(side**2, perimeter_m=4 * side, apart_m=apart)
    assert side**2 / bound == pytest.approx(0.866025, abs=5e-7)
    assert bound * np.pi / 4 / side**2 == pytest.approx(0.906900, abs=5e-7)


@pytest.mark.parametrize(("n", "ratio", "density", "radius", "apart"), BEST)
def test_columns_agree(n, ratio, density, radius, apart):
    assert n / ratio**2 == pytest.approx(density, abs=5e-5)
    if apart is not None:
        assert 2 * radius / (1 - 2 * radius) == pytest.approx(apart, abs=2e-5)


@pytest.mark.parametrize(("n", "ratio", "radius"), ALL)
def test_bound_holds_the_best_packings(n, ratio, radius):
    shrunk = radius * (1 - 5e-6)
    assert most(square(shrunk), 1000 * shrunk) >= n
    assert most(disc(ratio * LARGEST, outside=True), 1000 / (ratio * LARGEST)) >= n


@pytest.mark.parametrize(("n", "ratio", "radius"), ALL)
def test_packing_never_beats_the_best(n, ratio, radius):
    # circles a little larger than the best n: fewer than n fit, 6 and 18 as 7 and 19 are as large
    larger = radius * (1 + 1e-4)
    assert found(square(larger), 1000 * larger) < n
    tighter = ratio * (1 - 1e-4)
    room = disc(tighter, outside=False) if tighter > 1 else shapely.Polygon()
    assert found(room, 1000 / tighter) < n


@pytest.mark.parametrize(("n", "ratio", "radius"), ALL)
def test_packing_finds_as_many_of_95_percent_radius(n, ratio, radius):
    small = 0.95 * radius
    assert found(square(small), 1000 * small) >= n
    wide = ratio / 0.95
    assert found(disc(wide, outside=False), 1000 / wide) >= n


def spread_points(n, inside, bounds, starts):
    """The largest least distance of n points, by sequential quadratic programming."""
    rng = np.random.default_rng(n)
    first, second = np.triu_indices(n, 1)
    best = 0.0
    for _ in range(starts):
        begin = np.append(rng.uniform(-1, 1, 2 * n) * 0.7, 0.1)
        walls = [{"type": "ineq", "fun": inside}] if inside else []

        def gaps(v):
            xy = v[:-1].reshape(-1, 2)
            return ((xy[first] - xy[second]) ** 2).sum(axis=1) - v[-1] ** 2

        done = minimize(
            lambda v: -v[-1],
            begin,
            constraints=[{"type": "ineq", "fun": gaps}, *walls],
            bounds=[bounds] * (2 * n) + [(0, 3)],
            method="SLSQP",
            options={"maxiter": 300},
        )
        if done.success and gaps(done.x).min() > -1e-9:
            best = max(best, done.x[-1])
    return best


@pytest.mark.parametrize("n", [4, 7, 9])
def test_square_found_again(n):
    apart = spread_points(n, None, (-1, 1), 12) / 2  # of a unit square
    radius = {m: r for m, _, r in ALL}[n]
    assert apart / (2 * (1 + apart)) == pytest.approx(radius, abs=1e-5)


@pytest.mark.parametrize("n", [5, 7, 8, 13])
def test_circle_found_again(n):
    apart = spread_points(n, lambda v: 1 - (v[:-1].reshape(-1, 2) ** 2).sum(axis=1), (-1, 1), 12)
    ratio = {m: q for m, q, _ in ALL}[n]
    assert 1 + 2 / apart == pytest.approx(ratio, abs=2e-5)


def test_three_legs_beat_the_bound_of_a_convex_region():
    """A trap: the convex bound with the region's own area and perimeter does not hold elsewhere.

    Three thin legs that meet at 120 degrees, ends one distance apart, hold three points; twice the
    length over two distances and one gives 2.73.
    """
    ends = np.column_stack([np.sin(np.radians([0, 120, 240])), np.cos(np.radians([0, 120, 240]))])
    legs = [shapely.LineString([(0, 0), end * 20 / np.sqrt(3)]) for end in ends]
    region = shapely.union_all(legs).buffer(1e-5)
    naive = oler_bound(region.area, perimeter_m=region.length, apart_m=20.0)
    assert naive == pytest.approx(2.732, abs=1e-3)
    assert most(region, 10.0) >= 3
    assert found(region, 10.0) == 3
