"""How many more floats of one kind fit: circles packed tightly, the same every time for a seed."""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
import shapely

from lakemap.basis.records import BoolArray, FloatArray, Geometry, IntArray
from lakemap.siting.packing_bounds import oler_bound
from lakemap.siting.packing_ground import INSET_M, Ground, crumbs, survey
from lakemap.siting.packing_search import (
    Swarm,
    added,
    asked,
    best_of_each,
    joined,
    laps_of,
    near_pairs,
    pruned,
    spared,
    squeezed,
    swarm_of,
)
from lakemap.siting.packing_starts import lattice_starts, rim_starts
from lakemap.siting.records import Packing

BUDGET = 5_000_000  # moves of one circle
AT_ONCE, TRIALS = 2400, 24  # circles in all trials that run side by side; trials at most
PATIENCE = 14  # rounds without one more
ZEAL = (0.001, 0.02)  # circles forced in at a time, as a share; halved where it fails
LEAST = 300  # circles whose moves cost as much as any fewer
PUSHES = 120  # steps of one push
NARROW = 8  # widths under so many rho are also packed along the shore
DEEP = -0.6  # clearance over rho of a hole that one more circle is forced into
WITHDRAW_M = 0.06  # from the edge, where the exact rules deny some: regions are right to 5 cm


@dataclass(frozen=True, slots=True, kw_only=True)
class PackingQuestion:
    """What is packed.

    Parameters
    ----------
    region : Geometry
        Where centres may lie: polygon or multipolygon [m], holes and all.
    radius_at : callable
        Points [n, 2] of the region to swing radius [n], m; above 0.
    gap_m : float
        Distance kept between circles.
    allowed : callable or None
        Points [n, 2] to whether the exact rules allow them [n]; asked at the end.
    seed : int
        Of the search.
    """

    region: Geometry
    radius_at: Callable[[FloatArray], FloatArray]
    gap_m: float
    allowed: Callable[[FloatArray], BoolArray] | None = None
    seed: int = 1

    def rho_at(self, xy: FloatArray) -> FloatArray:
        """Return the radius plus half the gap; shape [n]."""
        return np.asarray(self.radius_at(xy), dtype=float) + self.gap_m / 2

    def packing(self, xy: FloatArray) -> Packing:
        """Return the record of some centres."""
        if not len(xy):
            return Packing(xy=np.empty((0, 2)), radius_m=np.empty(0))
        return Packing(xy=xy, radius_m=np.asarray(self.radius_at(xy), dtype=float))


def pack(question: PackingQuestion, *, budget: int = BUDGET) -> Packing:
    """Pack as many circles as can be found.

    Hexagonal lattices in many turns and phases, and rows along the shore where the water is narrow,
    are pushed apart; then circles are forced into the largest holes, everything pushed apart again
    and what stays crowded dropped, over and over, several trials side by side.

    Parameters
    ----------
    question : PackingQuestion
        Region, radii, gap and seed.
    budget : int
        Moves of one circle, the measure of effort: no clock is asked, so that a seed gives one
        answer; the usual is good for about three seconds.

    Returns
    -------
    Packing
        Centres of the region, every two at least the sum of their radii and the gap apart.
    """
    rng = np.random.default_rng(question.seed)
    shrunk = shapely.buffer(question.region, -INSET_M)
    loose = crumbs(question.region, shrunk)
    best = np.empty((0, 2))
    if shrunk.area > 0:
        ground = survey(shrunk, question.rho_at)
        best = _searched(ground, rng, budget)
    return _certain(question, np.concatenate([best, loose]))


def _searched(ground: Ground, rng: np.random.Generator, budget: int) -> FloatArray:
    """Centres of the best trial."""
    swarm, trials = _begun(ground, rng)
    counts = _counts(swarm, trials)
    spent = waited = 0
    zeal = np.full(trials, ZEAL[1])
    hull = shapely.convex_hull(ground.region)
    most = oler_bound(hull.area, perimeter_m=hull.length, apart_m=2 * ground.least_rho)
    while spent < budget and waited < PATIENCE and counts.max() < np.floor(most):
        tried = _round(ground, swarm, zeal, rng)
        spent += 3 * PUSHES * max(LEAST, len(swarm.xy)) * (2 if _narrow(ground) else 1)
        now = _counts(tried, trials)
        waited = 0 if now.max() > counts.max() else waited + 1
        zeal = np.clip(zeal * np.where(now > counts, 1.4, 0.5), *ZEAL)
        better = now >= counts
        swarm = joined([swarm.keep(~better[swarm.trial]), tried.keep(better[tried.trial])])
        swarm = _culled(swarm, trials)
        counts = _counts(swarm, trials)
    return swarm.keep(swarm.trial == np.argmax(counts)).xy


def _narrow(ground: Ground) -> bool:
    """Tell whether most circles lie by the shore: there a move costs twice as much."""
    width = 2 * ground.region.area / ground.region.length
    return bool(width < NARROW * float(ground.spots_rho.mean()))


def _counts(swarm: Swarm, trials: int) -> IntArray:
    """Circles of each trial."""
    return np.bincount(swarm.trial, minlength=trials)


def _begun(ground: Ground, rng: np.random.Generator) -> tuple[Swarm, int]:
    """The best of several starts, pushed apart and filled; and how many trials they are."""
    rho = ground.spots_rho
    guess = ground.region.area * float(np.mean(rho**-2)) / np.sqrt(12)
    guess += ground.region.length / 4 / float(rho.mean()) + 1
    trials = int(np.clip(AT_ONCE // guess, 1, TRIALS))
    starts = lattice_starts(ground, rng, trials)
    if _narrow(ground):
        starts += rim_starts(ground, rng, (trials + 1) // 2)
    swarm = joined([swarm_of(xy, k) for k, xy in enumerate(starts)])
    swarm = _filled(ground, squeezed(ground, swarm, PUSHES, 4), len(starts), rng)
    first = np.argsort(-_counts(swarm, len(starts)), kind="stable")[:trials]
    place = np.full(len(starts), -1)
    place[first] = np.arange(len(first))
    swarm = swarm.keep(place[swarm.trial] >= 0)
    return replace(swarm, trial=place[swarm.trial]), trials


def _filled(ground: Ground, swarm: Swarm, trials: int, rng: np.random.Generator) -> Swarm:
    """The swarm with a circle in every hole that takes one as it is."""
    everywhere = np.full(trials, len(ground.spots))
    before = -1
    while len(swarm.xy) > before:
        before = len(swarm.xy)
        swarm = pruned(ground, asked(ground, added(ground, swarm, everywhere, rng)))
    return swarm


def _round(ground: Ground, swarm: Swarm, zeal: FloatArray, rng: np.random.Generator) -> Swarm:
    """One more try of every trial: some circles taken out, more forced in."""
    trials = len(zeal)
    counts = _counts(swarm, trials)
    taken = rng.integers(0, 4, trials) * (counts > 3)  # noqa: PLR2004 - as many as are taken
    out = best_of_each(rng.uniform(size=len(swarm.xy)), swarm.trial, taken)
    left = swarm.keep(np.setdiff1d(np.arange(len(swarm.xy)), out))
    more = taken + np.maximum(1, np.floor(counts * zeal)).astype(int)
    tried = squeezed(ground, added(ground, left, more, rng, least=DEEP), PUSHES, 3)
    return _filled(ground, tried, trials, rng)


def _culled(swarm: Swarm, trials: int) -> Swarm:
    """The swarm, trials that lag by two or more given up for the best one."""
    counts = _counts(swarm, trials)
    lag = np.flatnonzero(counts <= counts.max() - 2)
    best = swarm.keep(swarm.trial == np.argmax(counts))
    kept = swarm.keep(~np.isin(swarm.trial, lag))
    return joined([kept, *(replace(best, trial=np.full(len(best.xy), k)) for k in lag)])


def _certain(question: PackingQuestion, xy: FloatArray) -> Packing:
    """The packing of centres that the region and the exact rules allow, no two too near."""
    good = _allowed(question, xy)
    if not good.all():
        withdrawn = _withdrawn(question, xy)
        again = _allowed(question, withdrawn)
        if np.count_nonzero(again) > np.count_nonzero(good):
            xy, good = withdrawn, again
    return question.packing(_clear(question, xy[good]))


def _allowed(question: PackingQuestion, xy: FloatArray) -> BoolArray:
    """Tell which centres lie in the region and pass the exact rules; shape [n]."""
    good = np.asarray(shapely.intersects_xy(question.region, xy[:, 0], xy[:, 1]), dtype=bool)
    if question.allowed is not None and good.any():
        good[good] = question.allowed(xy[good])
    return good


def _withdrawn(question: PackingQuestion, xy: FloatArray) -> FloatArray:
    """The centres pushed a little from the region's edge, as few dropped as may be."""
    inner = shapely.buffer(question.region, -WITHDRAW_M)
    if not inner.area > 0:
        return xy
    rng = np.random.default_rng(question.seed)
    ground = survey(inner, question.rho_at)
    pulled = ground.pull_in(xy, np.full(len(xy), -1))
    return _filled(ground, squeezed(ground, swarm_of(pulled), PUSHES, 4), 1, rng).xy


def _clear(question: PackingQuestion, xy: FloatArray) -> FloatArray:
    """The centres without the fewest that are too near others."""
    if not len(xy):
        return xy
    rho = question.rho_at(xy)
    return xy[spared(len(xy), *laps_of(xy, near_pairs(swarm_of(xy), rho, 1e-6), rho))]
