"""Packings: every pair far enough apart, every centre in its place, and many of them."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize
from scipy.spatial.distance import pdist, squareform

from lakemap.siting import packing as packing_module
from lakemap.siting.packing import PackingQuestion, pack
from lakemap.siting.packing_grow import grow
from lakemap.siting.packing_search import chosen, spared

QUICK = 300_000


def same(radius):
    return lambda xy: np.full(len(xy), float(radius))


def sloping(xy):
    return 10 + 0.01 * xy[:, 0] + 0.004 * xy[:, 1]


def stepped(xy):
    return 8 + 0.5 * np.floor(np.abs(xy[:, 0]) / 40)


def blob(seed, radius=120.0, *, island=True):
    rng = np.random.default_rng(seed)
    angle = np.linspace(0, 2 * np.pi, 61)[:-1]
    bulge = sum(rng.uniform(-0.2, 0.2) * np.sin(k * angle + rng.uniform(0, 6)) for k in (2, 3, 5))
    r = radius * (1 + bulge)
    shore = shapely.Polygon(np.column_stack([r * np.cos(angle), r * np.sin(angle)]))
    return shore.difference(shapely.Point(15, 5).buffer(radius / 6)) if island else shore


def ribbon(width, radius=300.0):
    outer = shapely.Point(0, 0).buffer(radius, quad_segs=64)
    return outer.difference(shapely.Point(0, 0).buffer(radius - width, quad_segs=64))


def ask(region, radius_at, gap=1.5, **more):
    return PackingQuestion(region=region, radius_at=radius_at, gap_m=gap, **more)


def holds(question, packing, kept=None):
    """Every rule of the task, by brute force."""
    xy, radius = packing.xy, packing.radius_m
    assert xy.shape == (len(radius), 2)
    assert (radius == question.radius_at(xy)).all()
    inside = shapely.intersects_xy(question.region, xy[:, 0], xy[:, 1])
    assert inside[0 if kept is None else kept :].all()
    between = squareform(pdist(xy))
    needed = radius[:, None] + radius[None] + question.gap_m
    np.fill_diagonal(between, np.inf)
    return bool((between >= needed).all())


@pytest.mark.parametrize("radius_at", [same(12), sloping, stepped])
@pytest.mark.parametrize("region", [blob(1), ribbon(5), ribbon(25), blob(2, island=False)])
def test_holds_all_rules(region, radius_at):
    question = ask(region, radius_at)
    packing = pack(question, budget=QUICK)
    assert holds(question, packing)
    assert len(packing.xy) > 10


@settings(max_examples=15, deadline=None)
@given(
    st.integers(0, 10**6),
    st.floats(3.0, 60.0),
    st.floats(0.0, 20.0),
    st.floats(0.0, 0.04),
    st.floats(0.0, 2.0),
)
def test_holds_in_random_lakes(seed, radius, gap, slope, step):
    def radius_at(xy):
        smooth = radius * (1 + slope * np.sin(xy[:, 0] / 20))
        return smooth + step * (xy[:, 1] > 3)

    question = ask(blob(seed, 60.0), radius_at, gap, seed=seed)
    assert holds(question, pack(question, budget=50_000))


def test_one_answer_for_a_seed():
    question = ask(blob(3), stepped, seed=7)
    first, second = (pack(question, budget=QUICK) for _ in range(2))
    assert np.array_equal(first.xy, second.xy)


@pytest.mark.parametrize(
    ("region", "least"),
    [
        (shapely.Polygon(), 0),
        (shapely.MultiPolygon(), 0),
        (shapely.Point(3, 4), 1),
        (shapely.MultiPoint([(0, 0), (5, 0), (100, 0)]), 2),
        (shapely.box(0, 0, 0.3, 0.2), 1),
        (shapely.box(0, 0, 100, 1e-7), 1),
        (shapely.box(0, 0, 100, 1e-4), 5),
        (shapely.union_all([shapely.box(0, 0, 30, 30), shapely.box(900, 0, 900 + 1e-7, 30)]), 5),
        (shapely.union_all([shapely.box(900 * k, 0, 900 * k + 1, 1) for k in range(9)]), 9),
    ],
    ids=["none", "no parts", "point", "points", "tiny", "line", "sliver", "speck", "far apart"],
)
def test_degenerate_regions(region, least):
    question = ask(region, same(10), 1.0)
    packing = pack(question, budget=QUICK)
    assert holds(question, packing)
    assert len(packing.xy) >= least
    grown = grow(question)
    assert holds(question, grown)
    assert min(len(grown.xy), 1) == min(least, 1)


def test_a_region_of_parts_keeps_between_them():
    # two banks nearer to each other than a diameter: circles of one keep off the other's
    region = shapely.union_all([shapely.box(0, 0, 200, 2), shapely.box(0, 12, 200, 14)])
    question = ask(region, same(9.25))
    packing = pack(question, budget=QUICK)
    assert holds(question, packing)
    # zigzag between the outer edges, 14 m apart: a step of sqrt(20^2 - 14^2) = 14.3 m; 14 steps
    assert 13 <= len(packing.xy) <= 15


@pytest.mark.parametrize(("width", "step"), [(3.0, 19.77), (10.0, 17.32), (14.0, 14.28)])
def test_zigzag_in_a_strip(width, step):
    # one circle a step of sqrt(d^2 - w^2) along a strip narrower than sqrt(3)/2 d is the most
    region = shapely.box(0, 0, 20 * step + 1e-3, width)
    packing = pack(ask(region, same(10), 0.0), budget=1_000_000)
    assert step == pytest.approx(np.sqrt(400 - width**2), abs=5e-3)
    assert 20 <= len(packing.xy) <= 21


def test_exact_rule_is_asked_and_kept():
    region = shapely.box(0, 0, 100, 100)

    def allowed(xy):
        return (xy > 0.05).all(axis=1) & (xy < 99.95).all(axis=1)

    free = ask(region, same(10))
    asked = ask(region, same(10), allowed=allowed)
    packing = pack(asked, budget=QUICK)
    assert holds(asked, packing)
    assert allowed(packing.xy).all()
    assert len(packing.xy) >= len(pack(free, budget=QUICK).xy) - 2
    assert not pack(ask(region, same(10), allowed=lambda xy: xy[:, 0] < -1), budget=10_000).xy.size


def test_share_of_the_hexagonal_lattice():
    region = blob(5, 250.0)
    question = ask(region, sloping)
    packing = pack(question, budget=1_500_000)
    places = np.random.default_rng(0).uniform(-400, 400, (200_000, 2))
    places = places[shapely.contains_xy(region, places[:, 0], places[:, 1])]
    hexagons = region.area * np.mean(1 / (np.sqrt(12) * (sloping(places) + 0.75) ** 2))
    assert len(packing.xy) > 0.93 * hexagons


def test_no_worse_than_a_general_optimiser():
    """As many points as sequential quadratic programming spreads over a lens, from 8 starts."""
    region = shapely.Point(-20, 0).buffer(40, quad_segs=64)
    region = region.intersection(shapely.Point(20, 0).buffer(40, quad_segs=64))
    rng = np.random.default_rng(1)

    def inside(v):
        xy = v.reshape(-1, 2)
        return np.concatenate([39.9**2 - ((xy - (s, 0)) ** 2).sum(axis=1) for s in (-20, 20)])

    def spreads(count):
        for _ in range(8):
            start = rng.uniform((-15, -30), (15, 30), (count, 2)).ravel()
            done = minimize(
                lambda _: 0.0,
                start,
                constraints=[
                    {"type": "ineq", "fun": inside},
                    {"type": "ineq", "fun": lambda v: pdist(v.reshape(-1, 2)) - 17.0},
                ],
                method="SLSQP",
                options={"maxiter": 200},
            )
            if done.success:
                return True
        return False

    count = 3
    while spreads(count + 1):
        count += 1
    assert len(pack(ask(region, same(8.5), 0.0), budget=QUICK).xy) >= count


def test_grow_keeps_what_lies_there():
    question = ask(blob(4), sloping)
    first = grow(question, count=4)
    assert len(first.xy) == 4
    grown = grow(question, first)
    assert np.array_equal(grown.xy[:4], first.xy)
    assert holds(question, grown)
    assert len(grown.xy) >= 0.85 * len(pack(question, budget=QUICK).xy)
    again = grow(question, grown)
    assert len(again.xy) == len(grown.xy)
    assert np.array_equal(grow(question, first, count=1).xy, grown.xy[:5])


def test_grow_beside_a_circle_out_of_the_region():
    region = shapely.box(0, 0, 100, 100)
    outside = packing_module.Packing(xy=np.array([[-5.0, 50.0]]), radius_m=np.array([30.0]))
    grown = grow(ask(region, same(10)), outside)
    assert np.hypot(*(grown.xy[1:] - outside.xy[0]).T).min() >= 41.5
    assert np.hypot(*(grown.xy[1:] - outside.xy[0]).T).min() <= 41.6  # laid against it


def test_grow_sees_a_wide_circle_behind_small_ones():
    # ten small circles are nearer to the free places than the wide one's centre
    small = np.column_stack([np.full(10, 34.0), np.arange(10) * 2.5 + 39])
    xy = np.vstack([small, [[-50.0, 50.0]]])
    there = packing_module.Packing(xy=xy, radius_m=np.append(np.full(10, 0.5), 80.0))
    question = ask(shapely.box(0, 0, 60, 100), same(1), 0.0)
    grown = grow(question, there, count=150)
    away = np.hypot(*(grown.xy[11:] - xy[10]).T)
    assert len(away) == 150
    assert away.min() >= 81
    assert holds(
        ask(question.region, lambda p: p[:, 0] * 0 + 1, 0.0),
        packing_module.Packing(xy=grown.xy[11:], radius_m=grown.radius_m[11:]),
    )


def test_grow_asks_the_exact_rule():
    grown = grow(ask(shapely.box(0, 0, 100, 100), same(10), allowed=lambda xy: xy[:, 1] > 50))
    assert len(grown.xy) > 8
    assert (grown.xy[:, 1] > 50).all()


@given(st.integers(0, 10**6), st.integers(1, 30), st.integers(0, 60))
def test_chosen_exclude_each_other_and_are_as_many_as_can_be(seed, count, links):
    rng = np.random.default_rng(seed)
    pairs = rng.integers(0, count, (links, 2))
    pairs = pairs[pairs[:, 0] != pairs[:, 1]]
    score = rng.integers(0, 5, count).astype(float)  # with ties
    stays = chosen(score, pairs)
    assert not stays[pairs].all(axis=1).any()
    beaten = np.zeros(count, dtype=bool)
    for one, other in pairs:
        beaten[one] |= stays[other]
        beaten[other] |= stays[one]
    assert (stays | beaten).all()
    best = np.argmax(score + (np.arange(count) / 1e3))
    assert stays[best]


@given(st.integers(0, 10**6), st.integers(2, 30), st.integers(1, 60))
def test_spared_have_no_pair_left(seed, count, links):
    rng = np.random.default_rng(seed)
    pairs = rng.integers(0, count, (links, 2))
    pairs = pairs[pairs[:, 0] != pairs[:, 1]]
    stays = spared(count, pairs, rng.uniform(0.1, 1, len(pairs)))
    assert not stays[pairs].all(axis=1).any()
    untouched = np.setdiff1d(np.arange(count), pairs)
    assert stays[untouched].all()
