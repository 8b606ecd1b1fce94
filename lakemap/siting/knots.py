"""Floats that conflict with each other: the least way that all of them together must move."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Final

import numpy as np
from scipy.optimize import minimize
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from lakemap.basis.records import FloatArray
from lakemap.clearances.pairs import same_wind_gap
from lakemap.siting.every_spare import every_spare, rig_at
from lakemap.siting.spots import SpotField

_LEFT_M: Final = 1e-3  # asked for over and above, so that what the solver gives does hold
_HOLDS_M: Final = 1e-6
_STEP_M: Final = 1e-4  # of the differences that slopes are taken from
_FAR_M: Final = 50.0  # a spare larger than this binds nowhere near
_ROUND_M: Final = 1e-3  # the length of no way at all, which has no slope
_ROUNDS: Final = 40
_STARTS: Final = 2  # at random, beside those that stand to reason
_MOST_TRIED: Final = 4  # floats of a knot of which every choice is tried; of more only all
_TURNS: Final = (0.0, np.pi / 3, -np.pi / 3)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mover:
    """A float of a knot that may move."""

    field: SpotField  # as it meets the floats that stay
    from_xy: FloatArray  # its primary [m]


def knots_of(pairs: Sequence[tuple[int, int]]) -> list[tuple[int, ...]]:
    """Return the knots: floats that conflict with each other, directly or by way of others.

    Parameters
    ----------
    pairs : sequence of pairs
        Floats in conflict with each other.

    Returns
    -------
    list of tuple of int
        Each in rising order; by their first float.
    """
    if not pairs:
        return []
    names = np.unique(np.array(pairs))
    first, second = np.searchsorted(names, np.array(pairs)).T
    size = len(names)
    graph = coo_array((np.ones(len(first)), (first, second)), shape=(size, size))
    count, label = connected_components(graph, directed=False)
    knots = [tuple(names[label == k].tolist()) for k in range(count)]
    return sorted(knots)


def who_may_move(
    knot: Sequence[int], pairs: Sequence[tuple[int, int]], must: frozenset[int]
) -> Iterator[tuple[int, ...]]:
    """Yield the choices of floats whose moving can end a knot, few before many.

    Parameters
    ----------
    knot : sequence of int
        The floats that may move.
    pairs : sequence of pairs
        Floats in conflict with each other.
    must : frozenset of int
        Those that are in conflict with something else too.

    Yields
    ------
    tuple of int
        One of every pair at least, and all that must.
    """
    fewest = 1 if len(knot) <= _MOST_TRIED else len(knot)
    for count in range(fewest, len(knot) + 1):
        for chosen in combinations(knot, count):
            some = set(chosen)
            if must <= some and all(one in some or other in some for one, other in pairs):
                yield chosen


def least_moves(
    movers: Sequence[Mover], *, required_m: float | None, within_m: float
) -> FloatArray | None:
    """Return the places whose ways, added up, are the shortest that end all conflicts.

    Sequential quadratic programming (scipy's SLSQP) on the exact spares, from several starts with
    a fixed seed; the best that holds. A local search: with obstacles all round it may miss a
    shorter way, but what it returns holds.

    Parameters
    ----------
    movers : sequence of Mover
        All that move, k of them.
    required_m : float or None
        Distance asked for between neighbours [m]; None: no rule.
    within_m : float
        No float goes farther [m].

    Returns
    -------
    ndarray, shape [k, 2], or None
        The primaries [m]; None where no start led to a place where all hold.
    """
    problem = _Problem(movers, required_m)
    best, best_m = None, np.inf
    for start in _starts(problem):
        found = minimize(
            problem.way,
            start,
            jac=problem.way_slope,
            bounds=[(-within_m, within_m)] * len(start),
            constraints={"type": "ineq", "fun": problem.spares, "jac": problem.spares_slope},
            method="SLSQP",
            options={"maxiter": _ROUNDS, "ftol": 1e-4},
        )
        holds = problem.spares(found.x).min() + _LEFT_M >= _HOLDS_M
        length = float(np.hypot(*found.x.reshape(-1, 2).T).sum())
        if holds and length < best_m - _ROUND_M:
            best, best_m = found.x, length
    return None if best is None else problem.origin + best.reshape(-1, 2)


def _starts(problem: "_Problem") -> Iterator[FloatArray]:
    """Apart from each other by what is missing, turned; then at random."""
    count = len(problem.origin)
    missing = max(float(-problem.spares(np.zeros(2 * count)).min()), 0.1)
    apart = problem.origin - problem.origin.mean(axis=0)
    far = np.hypot(*apart.T)[:, None]
    unit = np.where(far > 0, apart / np.where(far > 0, far, 1.0), [1.0, 0.0])
    for turn in _TURNS:
        cosine, sine = np.cos(turn), np.sin(turn)
        yield (missing / 2 * unit @ np.array([[cosine, sine], [-sine, cosine]])).ravel()
    random = np.random.default_rng(1)
    for _ in range(_STARTS):
        yield random.normal(scale=missing, size=2 * count)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Look:
    """One mover at a place: values and their slopes east and north."""

    spares: FloatArray
    spares_slope: FloatArray  # [m, 2]
    circle: FloatArray  # radius; reach; corner and what is added
    circle_slope: FloatArray  # [3, 2]


class _Problem:
    """The ways and the spares of all movers, asked once for each arrangement."""

    def __init__(self, movers: Sequence[Mover], required_m: float | None) -> None:
        self.movers = movers
        self.required_m = required_m
        self.same_wind = movers[0].field.same_wind
        self.origin = np.array([one.from_xy for one in movers])
        self._at: bytes = b""
        self._found: tuple[FloatArray, FloatArray] = (np.empty(0), np.empty((0, 0)))

    def way(self, moved: FloatArray) -> float:
        """All ways together, rounded at nought."""
        return float(np.sqrt((moved.reshape(-1, 2) ** 2).sum(axis=1) + _ROUND_M**2).sum())

    def way_slope(self, moved: FloatArray) -> FloatArray:
        ways = moved.reshape(-1, 2)
        lengths = np.sqrt((ways**2).sum(axis=1) + _ROUND_M**2)
        slope: FloatArray = (ways / lengths[:, None]).ravel()
        return slope

    def spares(self, moved: FloatArray) -> FloatArray:
        return self._asked(moved)[0]

    def spares_slope(self, moved: FloatArray) -> FloatArray:
        return self._asked(moved)[1]

    def _asked(self, moved: FloatArray) -> tuple[FloatArray, FloatArray]:
        if moved.tobytes() != self._at:
            self._at, self._found = moved.tobytes(), self._ask(moved)
        return self._found

    def _ask(self, moved: FloatArray) -> tuple[FloatArray, FloatArray]:
        xy = self.origin + moved.reshape(-1, 2)
        looks = [_look(one.field, place) for one, place in zip(self.movers, xy, strict=True)]
        values, slopes = [], []
        for k, look in enumerate(looks):
            slope = np.zeros((len(look.spares), moved.size))
            slope[:, 2 * k : 2 * k + 2] = look.spares_slope
            values.append(look.spares)
            slopes.append(slope)
        if self.required_m is not None:
            for one, other in combinations(range(len(looks)), 2):
                value, slope = self._pair(xy, looks, one, other)
                values.append(value)
                slopes.append(slope)
        return np.concatenate(values) - _LEFT_M, np.concatenate(slopes)

    def _pair(
        self, xy: FloatArray, looks: Sequence[_Look], one: int, other: int
    ) -> tuple[FloatArray, FloatArray]:
        """The spare between two movers, and its slope."""
        way = xy[one] - xy[other]
        distance = float(np.hypot(*way))
        unit = way / distance if distance > 0 else np.array([1.0, 0.0])
        slope = np.zeros((1, xy.size))
        for k, sign in ((one, 1.0), (other, -1.0)):
            slope[0, 2 * k : 2 * k + 2] = sign * unit
        circles = np.stack([looks[one].circle, looks[other].circle])
        if not self.same_wind:
            for k in (one, other):
                slope[0, 2 * k : 2 * k + 2] -= looks[k].circle_slope[0]
            return np.array([distance - circles[:, 0].sum() - (self.required_m or 0.0)]), slope
        gap = same_wind_gap(
            np.array([distance]), reach_m=circles[None, :, 1], deck_m=circles[None, :, 2]
        )
        # nested circles part by coming nearer
        nested = distance < abs(circles[0, 1] - circles[1, 1])
        return gap - (self.required_m or 0.0), -slope if nested else slope


def _look(field: SpotField, xy: FloatArray) -> _Look:
    """Values at a place and a hair east and north of it."""
    around = xy + _STEP_M * np.array([(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)])
    at = rig_at(field, around)
    spares = np.minimum(every_spare(field, at), _FAR_M)
    circle = np.nan_to_num(
        np.stack([at.swing_radius_m[:, 0], at.reach_m[:, 0], at.corner_m + at.extra_m], axis=1)
    )
    return _Look(
        spares=spares[0],
        spares_slope=((spares[1:] - spares[0]) / _STEP_M).T,
        circle=circle[0],
        circle_slope=((circle[1:] - circle[0]) / _STEP_M).T,
    )
