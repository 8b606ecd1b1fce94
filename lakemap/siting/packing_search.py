"""Moves that pack circles tighter: push apart, squeeze, prune, fill; many trials at once.

A swarm holds the centres of several trials side by side; centres of different trials never meet.
"""

from dataclasses import dataclass, replace

import numpy as np
from scipy.spatial import cKDTree

from lakemap.basis.records import BoolArray, FloatArray, IntArray
from lakemap.siting.packing_ground import Ground

SKIN = 0.15  # pairs that may come to touch are listed this much beyond touching
PUSH, GLIDE = 0.3, 0.94  # of an overlap per step; of the last move kept
SWELL = 3e-4  # circles are pushed apart a little further than asked, so that steps may end
LOOSE = 0.01  # an overlap by this share of rho may still be pushed away
DROP, CROWD = 0.002, 1.0  # of the circles dropped at a time: a share, and this much of the mean lap
TOUCH_M = 1e-9  # kept between circles against rounding
HOLES, LOOKED_AT = 60_000, 40  # places looked at for more circles, at most and per circle


@dataclass(frozen=True, slots=True, kw_only=True)
class Swarm:
    """Centres of several trials."""

    xy: FloatArray  # [n, 2]
    trial: IntArray  # [n]
    off: FloatArray  # [n], exact rho less the grid's where last asked

    def keep(self, which: BoolArray | IntArray) -> "Swarm":
        """Return some of the centres."""
        return Swarm(xy=self.xy[which], trial=self.trial[which], off=self.off[which])


def swarm_of(xy: FloatArray, trial: IntArray | int = 0) -> Swarm:
    """Return a swarm of centres."""
    count = len(xy)
    return Swarm(
        xy=np.asarray(xy, dtype=float).reshape(count, 2),
        trial=np.broadcast_to(np.asarray(trial, dtype=np.int64), count).copy(),
        off=np.zeros(count),
    )


def joined(swarms: list[Swarm]) -> Swarm:
    """Return one swarm of all."""
    return Swarm(
        xy=np.concatenate([one.xy for one in swarms]),
        trial=np.concatenate([one.trial for one in swarms]),
        off=np.concatenate([one.off for one in swarms]),
    )


def rho_of(ground: Ground, swarm: Swarm) -> FloatArray:
    """Return rho of each centre, by the grid and what it was last found off by."""
    return np.maximum(ground.rho(swarm.xy) + swarm.off, ground.least_rho / 4)


def asked(ground: Ground, swarm: Swarm) -> Swarm:
    """Return the swarm with its rho exact where it now stands."""
    if not len(swarm.xy):
        return swarm
    return replace(swarm, off=ground.rho_at(swarm.xy) - ground.rho(swarm.xy))


def apart(xy: FloatArray, trial: IntArray, far_m: float) -> FloatArray:
    """Return points in space whose trials lie farther apart than any reach; shape [n, 3]."""
    return np.column_stack([xy, trial * far_m])


def near_pairs(swarm: Swarm, reach: FloatArray, skin: float) -> IntArray:
    """Pairs of one trial closer than the sum of their reaches, widened; shape [k, 2]."""
    if len(swarm.xy) < 2:  # noqa: PLR2004 - a pair
        return np.empty((0, 2), dtype=np.int64)
    far = 2 * float(reach.max()) * (1 + skin)
    tree = cKDTree(apart(swarm.xy, swarm.trial, 2 * far))
    pairs: IntArray = tree.query_pairs(far, output_type="ndarray")
    gap = np.hypot(*(swarm.xy[pairs[:, 0]] - swarm.xy[pairs[:, 1]]).T)
    close: IntArray = pairs[gap < reach[pairs].sum(axis=1) * (1 + skin)]
    return close


def settle(ground: Ground, swarm: Swarm, steps: int, swell: float = SWELL) -> Swarm:
    """Push overlapping circles apart, inside the region, until none overlap or the steps end."""
    xy, count = swarm.xy, len(swarm.xy)
    listed = speed = None
    for step in range(steps):
        if step % 4 == 0:
            reach = rho_of(ground, replace(swarm, xy=xy)) * (1 + swell)
            piece = np.full(count, -1)
            if listed is None or np.abs(xy - listed).max() > SKIN / 2 * ground.least_rho:
                first, second = near_pairs(replace(swarm, xy=xy), reach, SKIN).T
                listed = xy
        way = xy[first] - xy[second]
        length = np.sqrt((way**2).sum(axis=1))
        lap = reach[first] + reach[second] - length
        touch = np.flatnonzero(lap > 0)
        if not touch.size:
            break
        one, other = first[touch], second[touch]
        force = way[touch] * (PUSH * lap[touch] / np.maximum(length[touch], 1e-9))[:, None]
        push = np.empty_like(xy)
        for axis in (0, 1):
            push[:, axis] = np.bincount(one, force[:, axis], count)
            push[:, axis] -= np.bincount(other, force[:, axis], count)
        move = push if speed is None else GLIDE * speed + push
        moved = ground.pull_in(xy + move, piece)
        speed, xy = moved - xy, moved
    return replace(swarm, xy=xy)


def laps_of(xy: FloatArray, pairs: IntArray, reach: FloatArray) -> tuple[IntArray, FloatArray]:
    """Those of the pairs that overlap [k, 2], and by how much [k]."""
    lap = TOUCH_M + reach[pairs].sum(axis=1) - np.hypot(*(xy[pairs[:, 0]] - xy[pairs[:, 1]]).T)
    return pairs[lap > 0], lap[lap > 0]


def laps(ground: Ground, swarm: Swarm) -> tuple[IntArray, FloatArray]:
    """Overlapping pairs [k, 2] and by how much [k]."""
    reach = rho_of(ground, swarm)
    return laps_of(swarm.xy, near_pairs(swarm, reach, 1e-6), reach)


def chosen(score: FloatArray, pairs: IntArray) -> BoolArray:
    """Tell which of the things that exclude each other in pairs stay, higher scores first."""
    rank = np.empty(len(score), dtype=np.int64)
    rank[np.argsort(score, kind="stable")] = np.arange(len(score))
    stays, open_ = np.zeros(len(score), dtype=bool), np.ones(len(score), dtype=bool)
    while open_.any():
        wins = open_.copy()
        wins[np.where(rank[pairs[:, 0]] < rank[pairs[:, 1]], pairs[:, 0], pairs[:, 1])] = False
        stays |= wins
        open_ &= ~wins
        open_[pairs[wins[pairs].any(axis=1)]] = False
        pairs = pairs[open_[pairs].all(axis=1)]
    return stays


def spared(count: int, pairs: IntArray, lap: FloatArray) -> BoolArray:
    """Tell which circles stay when the most crowded go until no pair is left; shape [count]."""
    alive = np.ones(count, dtype=bool)
    while len(pairs):
        load = np.bincount(pairs.ravel(), np.repeat(lap, 2), count).astype(float)
        goes = chosen(load, pairs) & (load > 0)
        alive &= ~goes
        left = ~goes[pairs].any(axis=1)
        pairs, lap = pairs[left], lap[left]
    return alive


def pruned(ground: Ground, swarm: Swarm) -> Swarm:
    """Return the swarm without overlaps, the most crowded circles dropped."""
    return swarm.keep(spared(len(swarm.xy), *laps(ground, swarm)))


def best_of_each(score: FloatArray, trial: IntArray, quota: IntArray) -> IntArray:
    """Indices of the highest scores of every trial, as many as its quota."""
    order = np.lexsort((-score, trial))
    ordered = trial[order]
    place = np.arange(len(order)) - np.searchsorted(ordered, ordered)
    return order[place < quota[ordered]]


def squeezed(ground: Ground, swarm: Swarm, steps: int, rounds: int) -> Swarm:
    """Push apart, dropping the most crowded few again and again; ends without overlap."""
    for _ in range(rounds):
        swarm = settle(ground, asked(ground, swarm), steps)
        pairs, lap = laps(ground, swarm)
        if not len(pairs):
            break
        load = np.bincount(pairs.ravel(), np.repeat(lap, 2), len(swarm.xy)) / rho_of(ground, swarm)
        hot = np.flatnonzero(load > LOOSE)
        if hot.size:
            quota = DROP * np.bincount(swarm.trial) + np.bincount(swarm.trial, CROWD * load)
            drop = hot[best_of_each(load[hot], swarm.trial[hot], np.ceil(quota).astype(int))]
            swarm = swarm.keep(np.setdiff1d(np.arange(len(load)), drop))
    return pruned(ground, asked(ground, swarm))


def holes(ground: Ground, swarm: Swarm, trials: int, rng: np.random.Generator) -> Swarm:
    """Return places for one more circle of each trial; `off` is the clearance over rho there."""
    share = int(np.clip(LOOKED_AT * len(swarm.xy), 200 * trials, HOLES)) // trials
    some = np.arange(len(ground.spots))
    if len(some) > share:
        some = np.sort(rng.choice(len(some), share, replace=False))
    xy = np.tile(ground.spots[some], (trials, 1))
    trial = np.repeat(np.arange(trials), len(some))
    rho = np.tile(ground.spots_rho[some], trials)
    clear = np.full(len(xy), np.inf)
    if len(swarm.xy):
        reach = rho_of(ground, swarm)
        far = 4 * float(max(reach.max(), rho.max()))
        tree = cKDTree(apart(swarm.xy, swarm.trial, 2 * far))
        near = min(4, len(reach))
        away, who = tree.query(apart(xy, trial, 2 * far), k=[*range(1, near + 1)])
        known = np.append(reach, 0.0)[np.minimum(who, len(reach))]
        clear = np.minimum((away - known).min(axis=1), far)
    found = swarm_of(xy, trial)
    return replace(found, off=np.minimum((clear - rho) / rho, 3.0))


def added(
    ground: Ground, swarm: Swarm, quota: IntArray, rng: np.random.Generator, *, least: float = 0.0
) -> Swarm:
    """Return the swarm with new circles in its largest holes.

    Parameters
    ----------
    ground, swarm : Ground, Swarm
        Where, and the circles there are.
    quota : IntArray
        [trials] new circles at most.
    rng : Generator
        Shuffles holes that are nearly as good.
    least : float
        Clearance over rho that a hole must have; below 0 the new circle overlaps others.

    Returns
    -------
    Swarm
        The old circles, then the new.
    """
    found = holes(ground, swarm, len(quota), rng)
    fits = np.flatnonzero((found.off >= least) & (quota[found.trial] > 0))
    score = found.off[fits] + rng.uniform(0, 0.2, len(fits))
    top = fits[best_of_each(score, found.trial[fits], np.minimum(60 * quota, 6000))]
    new = replace(found.keep(top), off=np.zeros(len(top)))
    clear = chosen(
        found.off[top] + rng.uniform(0, 0.2, len(top)),
        near_pairs(new, rho_of(ground, new), 1e-6),
    )
    new, rank = new.keep(clear), found.off[top][clear]
    new = new.keep(best_of_each(rank, new.trial, quota))
    return joined([swarm, new])
