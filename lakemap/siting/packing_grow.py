"""One circle after another beside those that lie there already: how a field may grow."""

import numpy as np
import shapely
from scipy.spatial import cKDTree

from lakemap.basis.records import BoolArray, FloatArray
from lakemap.siting.packing import PackingQuestion
from lakemap.siting.packing_ground import INSET_M, Ground, crumbs, survey
from lakemap.siting.packing_search import TOUCH_M
from lakemap.siting.records import Packing

CONTACTS = 3  # nearest circles that a snug place is judged by
FAR = 6  # of the largest rho: circles beyond are out of touch
SNUG_M = 1e-4  # left between a new circle and those it is laid against


def grow(
    question: PackingQuestion, existing: Packing | None = None, *, count: int | None = None
) -> Packing:
    """Add circles one at a time, each in the snuggest place left; those that lie there stay.

    Parameters
    ----------
    question : PackingQuestion
        Region, radii and gap; the exact rule is asked for every place that is taken.
    existing : Packing or None
        Circles that stay where they are, in the region or not.
    count : int or None
        Circles to add at most; None: until no place is left.

    Returns
    -------
    Packing
        The existing circles, then the new in the order in which they were added.
    """
    start = question.packing(np.empty((0, 2))) if existing is None else existing
    lying = np.column_stack([start.xy, start.radius_m + question.gap_m / 2])
    shrunk = shapely.buffer(question.region, -INSET_M)
    ground = survey(shrunk, question.rho_at) if shrunk.area > 0 else None
    places = crumbs(question.region, shrunk)
    if ground is not None:
        places = np.concatenate([ground.spots, _against(ground, lying, lying), places])
    pool = _Pool(question, places, lying)
    while len(pool.lying) < len(lying) + (np.inf if count is None else count):
        place = pool.taken()
        if place is None:
            break
        if ground is not None:
            pool.widen(_against(ground, place[None], pool.near(place)), pool.near(place))
    new = question.packing(pool.lying[len(lying) :, :2])
    return Packing(
        xy=np.concatenate([start.xy, new.xy]),
        radius_m=np.concatenate([start.radius_m, new.radius_m]),
    )


class _Pool:
    """Places for one more circle, each with its least clearances; and the circles (x, y, rho)."""

    def __init__(self, question: PackingQuestion, xy: FloatArray, lying: FloatArray) -> None:
        self.question, self.lying = question, lying
        self.place, self.clear = np.empty((0, 3)), np.empty((0, CONTACTS))
        self.widen(xy, lying)

    def near(self, place: FloatArray) -> FloatArray:
        """Return the circles about a place."""
        away = np.abs(self.lying[:, :2] - place[:2]).max(axis=1)
        near: FloatArray = self.lying[away < FAR * max(place[2], float(self.lying[:, 2].max()))]
        return near

    def widen(self, xy: FloatArray, lying: FloatArray) -> None:
        """Take in those places that are clear of the circles given."""
        if not len(xy):
            return
        place = np.column_stack([xy, self.question.rho_at(xy)])
        clear = np.full((len(place), CONTACTS), np.inf)
        if len(lying):
            near = min(2 * CONTACTS, len(lying))
            away, who = cKDTree(lying[:, :2]).query(xy, k=[*range(1, near + 1)])
            gaps = np.sort(away - lying[who, 2] - place[:, 2:], axis=1)[:, :CONTACTS]
            clear[:, : gaps.shape[1]] = gaps
        keep = clear[:, 0] >= TOUCH_M
        self.place = np.concatenate([self.place, place[keep]])
        self.clear = np.concatenate([self.clear, clear[keep]])

    def taken(self) -> FloatArray | None:
        """Return the snuggest place that holds by the exact rules, now a circle; None if none."""
        while len(self.place):
            cap = FAR * float(self.place[:, 2].max())
            first = int(np.argmin(np.minimum(self.clear, cap).sum(axis=1)))
            place: FloatArray = self.place[first]
            if self._holds(place):
                self._meet(place)
                return place
            self.place = np.delete(self.place, first, axis=0)
            self.clear = np.delete(self.clear, first, axis=0)
        return None

    def _holds(self, place: FloatArray) -> bool:
        """Whether a place is clear of all circles, in the region and allowed."""
        allowed = self.question.allowed
        return bool(
            (_clearance(self.lying, place) >= TOUCH_M).all()
            and shapely.intersects_xy(self.question.region, *place[:2])
            and (allowed is None or allowed(place[None, :2])[0])
        )

    def _meet(self, place: FloatArray) -> None:
        """Make a place a circle and give up the places that it covers."""
        self.lying = np.concatenate([self.lying, place[None]])
        gap = _clearance(self.place, place)
        known = np.sort(np.column_stack([self.clear, gap]), axis=1)[:, :CONTACTS]
        keep = gap >= TOUCH_M
        self.place, self.clear = self.place[keep], known[keep]


def _clearance(circles: FloatArray, one: FloatArray) -> FloatArray:
    """Gaps between circles and one more; shape [n]."""
    away = np.hypot(circles[:, 0] - one[0], circles[:, 1] - one[1])
    return np.asarray(away - circles[:, 2] - one[2], dtype=float)


def _against(ground: Ground, some: FloatArray, others: FloatArray) -> FloatArray:
    """Places of the region where a circle touches one of some and one of others; shape [n, 2]."""
    if not len(some) or not len(others):
        return np.empty((0, 2))
    reach = 2 * float(max(some[:, 2].max(), others[:, 2].max()) + ground.spots_rho.max())
    pairs = cKDTree(some[:, :2]).query_ball_tree(cKDTree(others[:, :2]), reach)
    first = np.repeat(np.arange(len(some)), [len(one) for one in pairs])
    one, other = some[first], others[np.concatenate([*pairs, []]).astype(int)]
    apart = np.hypot(*(other[:, :2] - one[:, :2]).T)
    one, other = one[apart > TOUCH_M], other[apart > TOUCH_M]
    xy = np.concatenate([one[:, :2]] * 2)
    off = np.zeros(len(xy))
    for step in range(4):
        xy, good = _meeting(one, other, ground.rho(xy) + off + SNUG_M)
        one, other, xy = one[good], other[good], xy[np.tile(good, 2)]
        off = off[np.tile(good, 2)]
        if step == 1 and len(xy):
            xy = ground.pull_in(xy, np.full(len(xy), -1))
            off = ground.rho_at(xy) - ground.rho(xy)
    return xy[ground.inside(xy)]


def _meeting(one: FloatArray, other: FloatArray, rho: FloatArray) -> tuple[FloatArray, BoolArray]:
    """Both places [2 k, 2] where a circle touches two, and for which pairs [k] there are any."""
    way = other[:, :2] - one[:, :2]
    apart = np.hypot(*way.T)
    found, good = [], np.ones(len(one), dtype=bool)
    for side, mine in zip((1, -1), np.split(rho, 2), strict=True):
        near, far = one[:, 2] + mine, other[:, 2] + mine
        along = (apart**2 + near**2 - far**2) / (2 * apart)
        high = near**2 - along**2
        good &= high >= 0
        cross = side * np.column_stack([-way[:, 1], way[:, 0]])
        rise = np.sqrt(np.maximum(high, 0)) / apart
        found.append(one[:, :2] + way * (along / apart)[:, None] + cross * rise[:, None])
    return np.concatenate(found), good
