"""What the storm and a passing boat ask of the line: snatches, gusts, the highest pull."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from lakemap.basis.published import GRAVITY_M_S2
from lakemap.basis.records import FloatArray, IntArray, Wake
from lakemap.basis.working import Formula, Step, Term
from lakemap.loads.growth_formulas import WAKE_HEIGHT
from lakemap.loads.storm import Push, Storms
from lakemap.rig.records import Buoyancy
from lakemap.rig.snatch import SNATCH, SNATCH_FIXED, TAKE_UP_SPEED
from lakemap.rig.stability import Stability
from lakemap.sizing.rigs import Rigs

CASES: Final = ("the storm's waves", "the storm's gust", "a boat's wake")


@dataclass(frozen=True, slots=True, kw_only=True)
class RigLoads:
    """Pulls at the hook [N]; shape [n]."""

    storm_snap_n: FloatArray
    wake_snap_n: FloatArray
    fixed_snap_n: FloatArray  # the larger case, were the riser's foot fixed: a bound
    snap_n: FloatArray  # the larger of storm and wake
    peak_n: FloatArray
    case: IntArray  # which of `CASES` has the peak
    steps: tuple[Step, ...]


def _worst_case(  # noqa: PLR0913 - the pulls of the three cases
    *,
    mean_n: FloatArray,
    storm_snap_n: FloatArray,
    gust_n: FloatArray,
    drift_n: FloatArray,
    current_n: FloatArray,
    wake_snap_n: FloatArray,
) -> FloatArray:
    storm = np.maximum(mean_n + storm_snap_n, gust_n + drift_n + current_n)
    peak: FloatArray = np.maximum(storm, wake_snap_n)
    return peak


PEAK: Final = Formula(
    key="peak",
    name="Highest pull in the line",
    symbol="P",
    words="P = max( F + S_storm,  F_gust + F_drift + F_current,  S_wake )",
    unit="N",
    source="ours: storm and wake are separate cases, the worse of the two, never their sum",
    terms={
        "mean_n": Term(symbol="F", name="steady pull", unit="N"),
        "storm_snap_n": Term(symbol="S_storm", name="snatch of the storm's highest wave", unit="N"),
        "gust_n": Term(symbol="F_gust", name="gust on the float", unit="N"),
        "drift_n": Term(symbol="F_drift", name="waves pushing", unit="N"),
        "current_n": Term(symbol="F_current", name="current pushing", unit="N"),
        "wake_snap_n": Term(symbol="S_wake", name="snatch of a wake", unit="N"),
    },
    law=_worst_case,
)


_OF_WAVES: Final = {
    "storm": (
        replace(TAKE_UP_SPEED, key="storm_take_up", name="Take-up speed, the storm's highest wave"),
        replace(SNATCH, key="storm_snatch", name="Snatch of the storm's highest wave"),
    ),
    "wake": (
        replace(TAKE_UP_SPEED, key="wake_take_up", name="Take-up speed, a boat's wake"),
        replace(SNATCH, key="wake_snatch", name="Snatch of a boat's wake"),
    ),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Moving:
    """What is jerked: shape [n]."""

    mass_kg: FloatArray  # the float and the water that heaves with it
    stiffness_n_m: FloatArray
    secondary_kg: FloatArray
    secondary_wet_n: FloatArray


def moving(rigs: Rigs, buoyancy: Buoyancy, stability: Stability) -> Moving:
    """Return what a snatch sets in motion, nobody aboard.

    Parameters
    ----------
    rigs : Rigs
        Of n floats.
    buoyancy, stability : Buoyancy, Stability
        Of the same floats.

    Returns
    -------
    Moving
        Arrays.
    """
    return Moving(
        mass_kg=buoyancy.weight_n / GRAVITY_M_S2.value + stability.added_mass_kg,
        stiffness_n_m=rigs.stiffness_n_m,
        secondary_kg=rigs.secondary_kg,
        secondary_wet_n=np.maximum(rigs.secondary.wet_n, 0.0),
    )


def snap(height_m: FloatArray, period_s: FloatArray | float, jerked: Moving) -> FloatArray:
    """Return the snatch of a wave, without keeping the working.

    Parameters
    ----------
    height_m : ndarray
        Of the one wave [m].
    period_s : ndarray or float
        Its period [s].
    jerked : Moving
        Arrays that broadcast with the height.

    Returns
    -------
    ndarray
        Pull [N].
    """
    period = np.broadcast_to(np.asarray(period_s, dtype=np.float64), np.shape(height_m))
    speed = TAKE_UP_SPEED.law(height_m=height_m, period_s=period)
    found: FloatArray = SNATCH.law(speed_m_s=speed, **_terms(jerked))
    return found


def storm_peak(push: Push, jerked: Moving) -> FloatArray:
    """Return the pull of a storm's highest wave on top of its steady pull.

    Parameters
    ----------
    push : Push
        Of some wind.
    jerked : Moving
        Of the same floats.

    Returns
    -------
    ndarray
        Pull [N].
    """
    return push.mean_n + snap(push.highest_m, push.period_s, jerked)


def rig_loads(storm: Storms, jerked: Moving, *, wake: Wake, passing_m: FloatArray) -> RigLoads:
    """Return the pulls at every hook.

    Parameters
    ----------
    storm : Storms
        At the same floats.
    jerked : Moving
        Of the same floats.
    wake : Wake
        Of a passing boat.
    passing_m : ndarray, shape [n]
        How close boats pass [m].

    Returns
    -------
    RigLoads
        Arrays in the order of the floats; NaN where the storm is not known.
    """
    heights = WAKE_HEIGHT(distance_m=passing_m, height_m=wake.height_m, at_m=wake.at_m)
    cases = {}
    for name, height, period in (
        ("storm", storm.highest_m, storm.period_s),
        ("wake", heights.value, np.full(len(passing_m), wake.period_s)),
    ):
        take_up, snatch = _OF_WAVES[name]
        speed = take_up(height_m=height, period_s=period)
        cases[name] = (speed, snatch(speed_m_s=speed.value, **_terms(jerked)))
    storm_snap, wake_snap = cases["storm"][1].value, cases["wake"][1].value
    fixed = SNATCH_FIXED(
        speed_m_s=np.fmax(cases["storm"][0].value, cases["wake"][0].value),
        stiffness_n_m=jerked.stiffness_n_m,
        mass_kg=jerked.mass_kg,
        pull_n=0.0,
    )
    peak = PEAK(
        mean_n=storm.mean_n,
        storm_snap_n=storm_snap,
        gust_n=storm.gust_n,
        drift_n=storm.drift_n,
        current_n=storm.current_n,
        wake_snap_n=wake_snap,
    )
    gust = storm.gust_n + storm.drift_n + storm.current_n
    of_case = np.stack([storm.mean_n + storm_snap, gust, wake_snap])
    return RigLoads(
        storm_snap_n=storm_snap,
        wake_snap_n=wake_snap,
        fixed_snap_n=fixed.value,
        snap_n=np.fmax(storm_snap, wake_snap),
        peak_n=peak.value,
        case=np.argmax(np.nan_to_num(of_case, nan=-1.0), axis=0),
        steps=(heights, *cases["storm"], *cases["wake"], fixed, peak),
    )


def _terms(jerked: Moving) -> dict[str, FloatArray]:
    return {
        "stiffness_n_m": jerked.stiffness_n_m,
        "mass_kg": jerked.mass_kg,
        "secondary_kg": jerked.secondary_kg,
        "secondary_wet_n": jerked.secondary_wet_n,
    }
