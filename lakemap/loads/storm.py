"""The design storm at every float: its wind, its waves and how hard they push, by bearing."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from lakemap.basis.published import exact
from lakemap.basis.records import BoolArray, FloatArray, IntArray
from lakemap.basis.working import Formula, Step, Term, read_off
from lakemap.loads.drag import (
    AIR_DRAG,
    CURRENT_DRAG,
    WATER_DRAG,
    WIND_DRAG,
    WIND_GUST_DRAG,
    broadest_width,
    frontal_width,
)
from lakemap.loads.drift import DRIFT, DRIFT_BOUND, REFLECTION
from lakemap.loads.growth_formulas import (
    DESIGN_HEIGHT,
    LEAST_DURATION,
    OTHER_HEIGHTS,
    SEA_HEIGHT,
    SEA_PERIOD,
    WIND_STRESS,
)
from lakemap.loads.waves import MODELS

GREATEST_WIND_M_S: Final = MODELS["spm"].wind_max_m_s
SHEER_DEG = exact(
    30.0, "deg", "ours: how far a float moored by an edge sheers about in a wind", "either side"
)
_ROUNDS: Final = 30  # halvings of a wind speed: to a ten-millionth of a metre a second


@dataclass(frozen=True, slots=True, kw_only=True)
class StormQuestion:
    """What the storm at n floats, from k bearings, rests on; NaN is unknown."""

    from_deg: FloatArray  # [k], true bearings the wind comes from
    wind_m_s: FloatArray  # [k], 10-minute mean 10 m above the water
    gust_m_s: FloatArray  # [k], 3 s
    current_m_s: float
    fetch_m: FloatArray  # [n, k]
    along_m: FloatArray  # [n, k], mean depth along the ray at high water; inf: deep
    depth_low_m: FloatArray  # [n], at the float; inf: deep
    depth_m: FloatArray  # [n], at normal level; inf: deep
    long_m: FloatArray  # [n], the deck's longer side
    short_m: FloatArray  # [n]
    at_edge: BoolArray  # [n], moored by an edge, so that it lies end on
    above_m: FloatArray  # [n], height that the wind meets, above the water
    draft_m: FloatArray  # [n]


@dataclass(frozen=True, slots=True, kw_only=True)
class Push:
    """What a wind does to floats; all of one shape."""

    height_m: FloatArray  # significant
    period_s: FloatArray
    highest_m: FloatArray
    mean_n: FloatArray  # wind, waves and current together


@dataclass(frozen=True, slots=True, kw_only=True)
class Storms:
    """The storm at every float, from the bearing with the largest mean pull; shape [n]."""

    question: StormQuestion
    worst: IntArray  # which bearing
    height_by_bearing_m: FloatArray  # [n, k], significant
    wind_m_s: FloatArray
    gust_m_s: FloatArray
    from_deg: FloatArray
    fetch_m: FloatArray
    height_m: FloatArray
    period_s: FloatArray
    highest_m: FloatArray
    duration_s: FloatArray  # how long the wind must blow for such waves
    least_ratio: FloatArray  # of all models' heights to the default's
    greatest_ratio: FloatArray
    wind_n: FloatArray
    gust_n: FloatArray
    drift_n: FloatArray
    drift_bound_n: FloatArray  # all of the wave thrown back
    current_n: FloatArray
    mean_n: FloatArray
    steps: tuple[Step, ...]


def _sum(wind_n: FloatArray, drift_n: FloatArray, current_n: FloatArray) -> FloatArray:
    return wind_n + drift_n + current_n


MEAN_PULL: Final = Formula(
    key="mean_pull",
    name="Steady pull in the storm",
    symbol="F",
    words="F = F_wind + F_drift + F_current",
    unit="N",
    source="ours: all taken to push the same way",
    terms={
        "wind_n": Term(symbol="F_wind", name="wind on the float", unit="N"),
        "drift_n": Term(symbol="F_drift", name="waves pushing", unit="N"),
        "current_n": Term(symbol="F_current", name="current pushing", unit="N"),
    },
    law=_sum,
)


OPEN_WATER: Final = Formula(
    key="fetch",
    name="Open water to windward",
    symbol="F",
    words="F = the straight way towards the wind to the first shore or island, exact",
    unit="m",
    source="Coastal Engineering Manual, EM 1110-2-1100, part II ch. 2, 2003, narrow fetches",
    terms={"from_deg": Term(symbol="β", name="bearing the wind comes from", unit="deg")},
    law=read_off,
)


def storms(question: StormQuestion) -> Storms:
    """Return the storm at every float, from the bearing with the largest mean pull.

    Parameters
    ----------
    question : StormQuestion
        Winds, open water and floats.

    Returns
    -------
    Storms
        Arrays in the order of the floats; NaN where the open water round one is not known.
    """
    q = question
    everywhere = _push(
        q, np.broadcast_to(q.wind_m_s, q.fetch_m.shape), q.fetch_m, q.along_m, _columns(q)
    )
    known = np.where(np.isnan(everywhere.mean_n), -np.inf, everywhere.mean_n)
    worst = np.argmax(known, axis=1)
    rows = np.arange(len(worst))
    wind, gust, bearing = q.wind_m_s[worst], q.gust_m_s[worst], q.from_deg[worst]
    fetch, along = q.fetch_m[rows, worst], q.along_m[rows, worst]
    unknown = np.isnan(fetch)
    told = _told(q, worst, fetch, along)
    ratios = _spread(told)
    return Storms(
        question=q,
        worst=worst,
        height_by_bearing_m=everywhere.height_m,
        wind_m_s=wind,
        gust_m_s=gust,
        from_deg=np.where(unknown, np.nan, bearing),
        fetch_m=fetch,
        height_m=told["height"].value,
        period_s=told["period"].value,
        highest_m=told["highest"].value,
        duration_s=told["duration"].value,
        least_ratio=ratios[0],
        greatest_ratio=ratios[1],
        wind_n=told["wind"].value,
        gust_n=told["gust"].value,
        drift_n=told["drift"].value,
        drift_bound_n=told["bound"].value,
        current_n=told["current"].value,
        mean_n=told["mean"].value,
        steps=tuple(told.values()),
    )


def push_at(found: Storms, wind_m_s: FloatArray) -> Push:
    """Return what another wind from the same bearing would do.

    Parameters
    ----------
    found : Storms
        Of n floats.
    wind_m_s : ndarray, shape [n]
        10-minute mean, 0 to the greatest that the growth law covers.

    Returns
    -------
    Push
        Shape [n]; NaN where the open water is not known.
    """
    q = found.question
    rows = np.arange(len(found.worst))
    along = q.along_m[rows, found.worst]
    return _push(q, wind_m_s, found.fetch_m, along, _flat(q))


def wind_that_pulls(found: Storms, pull_n: FloatArray) -> FloatArray:
    """Return the wind whose mean pull reaches a figure, from the storm's own bearing.

    Root by halving: more wind never pulls less.

    Parameters
    ----------
    found : Storms
        Of n floats.
    pull_n : ndarray, shape [n]
        Pull to reach [N].

    Returns
    -------
    ndarray, shape [n]
        10-minute mean [m/s]; inf where not even the greatest wind that the growth law covers does
        it, NaN where the pull or the open water is not known.
    """
    low, high = np.zeros(len(pull_n)), np.full(len(pull_n), GREATEST_WIND_M_S)
    never = push_at(found, high).mean_n < pull_n
    for _ in range(_ROUNDS):
        middle = (low + high) / 2
        short = push_at(found, middle).mean_n < pull_n
        low, high = np.where(short, middle, low), np.where(short, high, middle)
    unknown = np.isnan(pull_n) | np.isnan(found.fetch_m)
    return np.where(unknown, np.nan, np.where(never, np.inf, high))


@dataclass(frozen=True, slots=True)
class _Body:
    """The floats' own figures, shaped to go with the winds."""

    width: FloatArray  # across the wind
    along: FloatArray  # along it
    area: FloatArray  # that the wind meets
    draft: FloatArray
    depth: FloatArray
    depth_low: FloatArray


def _flat(q: StormQuestion) -> _Body:
    end_on = frontal_width(q.long_m, width_m=q.short_m, angle_deg=SHEER_DEG.value)
    width = np.where(q.at_edge, end_on, broadest_width(q.long_m, width_m=q.short_m))
    return _Body(
        width=width,
        along=q.long_m * q.short_m / width,
        area=width * q.above_m,
        draft=q.draft_m,
        depth=q.depth_m,
        depth_low=q.depth_low_m,
    )


def _columns(q: StormQuestion) -> _Body:
    flat = _flat(q)
    return _Body(*(getattr(flat, name)[:, None] for name in _Body.__slots__))


def _push(
    q: StormQuestion, wind: FloatArray, fetch: FloatArray, along: FloatArray, body: _Body
) -> Push:
    """The same laws as the working, without keeping it."""
    known = ~np.isnan(fetch)
    open_water = np.where(known, fetch, 0.0)
    height = SEA_HEIGHT.law(wind_m_s=wind, fetch_m=open_water, depth_m=along)
    period = SEA_PERIOD.law(wind_m_s=wind, fetch_m=open_water, depth_m=along)
    highest = DESIGN_HEIGHT.law(height_m=height, period_s=period, depth_m=body.depth_low)
    reflected = REFLECTION.law(period_s=period, breadth_m=body.along, draft_m=body.draft)
    drift = DRIFT.law(
        height_m=height,
        reflection2=reflected,
        width_m=body.width,
        period_s=period,
        depth_m=body.depth,
    )
    air = WIND_DRAG.law(speed_m_s=wind, area_m2=body.area, coefficient=AIR_DRAG.value)
    water = CURRENT_DRAG.law(
        speed_m_s=q.current_m_s, area_m2=body.width * body.draft, coefficient=WATER_DRAG.value
    )
    mean = np.where(known, air + drift + water, np.nan)
    return Push(
        height_m=np.where(known, height, np.nan),
        period_s=np.where(known, period, np.nan),
        highest_m=np.where(known, highest, np.nan),
        mean_n=mean,
    )


def _told(
    q: StormQuestion, worst: IntArray, fetch: FloatArray, along: FloatArray
) -> dict[str, Step]:
    """The storm of each float's worst bearing, step by step."""
    wind, gust, bearing = q.wind_m_s[worst], q.gust_m_s[worst], q.from_deg[worst]
    body = _flat(q)
    known = ~np.isnan(fetch)
    open_water = np.where(known, fetch, 0.0)
    sea = {"wind_m_s": wind, "fetch_m": open_water, "depth_m": along}
    told = {
        "fetch": OPEN_WATER.told(fetch, from_deg=bearing),
        "stress": WIND_STRESS(wind_m_s=wind),
        "height": SEA_HEIGHT(**sea),
        "period": SEA_PERIOD(**sea),
        **{formula.key: formula(**sea) for formula in OTHER_HEIGHTS},
        "duration": LEAST_DURATION(wind_m_s=wind, fetch_m=open_water),
    }
    height, period = told["height"].value, told["period"].value
    told["highest"] = DESIGN_HEIGHT(height_m=height, period_s=period, depth_m=body.depth_low)
    told["wind"] = WIND_DRAG(speed_m_s=wind, area_m2=body.area, coefficient=AIR_DRAG.value)
    told["gust"] = WIND_GUST_DRAG(speed_m_s=gust, area_m2=body.area, coefficient=AIR_DRAG.value)
    told["reflection"] = REFLECTION(period_s=period, breadth_m=body.along, draft_m=body.draft)
    waves = {"height_m": height, "width_m": body.width, "period_s": period, "depth_m": body.depth}
    told["drift"] = DRIFT(reflection2=told["reflection"].value, **waves)
    told["bound"] = DRIFT_BOUND(**waves)
    told["current"] = CURRENT_DRAG(
        speed_m_s=q.current_m_s, area_m2=body.width * body.draft, coefficient=WATER_DRAG.value
    )
    told["mean"] = MEAN_PULL(
        wind_n=told["wind"].value, drift_n=told["drift"].value, current_n=told["current"].value
    )
    return {name: step.where(known) for name, step in told.items()}


def _spread(told: dict[str, Step]) -> FloatArray:
    """Least and greatest height of all growth models over the default's, [2, n]; NaN: no waves."""
    default = told["height"].value
    heights = np.stack([default, *(told[formula.key].value for formula in OTHER_HEIGHTS)])
    ratios = np.divide(heights, default, out=np.full(heights.shape, np.nan), where=default > 0)
    return np.stack([ratios.min(axis=0), ratios.max(axis=0)])
