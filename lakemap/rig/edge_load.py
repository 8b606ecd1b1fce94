"""People at a deck's edge: how far the float tips, and how many it takes there; exact."""

from collections.abc import Callable
from dataclasses import dataclass, fields, replace
from typing import Any, Final

import numpy as np

from lakemap.basis.published import FRESH_WATER_KG_M3, exact
from lakemap.basis.records import FloatArray, IntArray
from lakemap.rig.tilt import Profile, Tipping, under_water

GREATEST_TILT_DEG = exact(
    45.0, "deg", "ours: nobody stands on a steeper deck; a float that only rests there is over", ""
)
_RHO: Final = FRESH_WATER_KG_M3.value
# close where stiff floats rest; each root and hump is then closed in on
_ANGLES_RAD: Final = np.radians(
    [0.006, *(GREATEST_TILT_DEG.value * np.linspace(0, 1, 23)[1:] ** 1.5)]
)
_ROUNDS: Final = 60
_GOLDEN: Final = (np.sqrt(5) - 1) / 2
_GOLDEN_ROUNDS: Final = 14
_FINE: Final = 1e-9  # of the bracket


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeLoad:
    """What people at one edge do; shape [n]."""

    tilt_deg: FloatArray  # under the people asked for; NaN where it goes under
    freeboard_m: FloatArray  # of the edge there: deck top above water
    most_kg: FloatArray  # the greatest weight at the edge that floats with the edge dry; >= 0


def righting_arm(tipping: Tipping, angle_rad: FloatArray, *, people_kg: FloatArray) -> FloatArray:
    """Return the arm that rights a tipped float: positive turns it back.

    The level distance of the centroid of what is under water beyond the centre of all weight, at
    the level at which the float carries it. Source: any text on the stability of ships, such as
    Lewis (ed.), Principles of Naval Architecture, 2nd rev., SNAME 1988, vol. I, ch. 2.

    Parameters
    ----------
    tipping : Tipping
        Of n floats.
    angle_rad : ndarray, shape [n]
        How far each is tipped [rad], as in `under_water`.
    people_kg : ndarray, shape [n]
        Weight of the people at the edge [kg], >= 0.

    Returns
    -------
    ndarray, shape [n]
        Arm [m]; NaN where the flotation cannot carry the weight.
    """
    angle, people = np.asarray(angle_rad, dtype=np.float64), np.asarray(people_kg, dtype=np.float64)
    wanted = (tipping.weight_kg + people) / _RHO
    low, high = _levels(tipping.profile, angle)
    carried = under_water(tipping.profile, angle, level_m=high)[0] > wanted
    level = _root(lambda at: under_water(tipping.profile, angle, level_m=at)[0] - wanted, low, high)
    volume, moment = under_water(tipping.profile, angle, level_m=level)
    own, theirs = _outwards(tipping, angle)
    weights = (tipping.weight_kg * own + people * theirs) / (tipping.weight_kg + people)
    return np.where(carried, moment / volume - weights, np.nan)


def balanced_people(tipping: Tipping, angle_rad: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the weight of people at the edge that holds a float at an angle.

    About the line on which the people stand they have no moment: the level follows from
    rho (Y V - M) = W (Y - Y_W), V and M the volume under water and its moment, W the float's
    weight, Y and Y_W how far outwards people and weight stand. The people are rho V - W. Where
    `righting_arm` is 0 for some people, these are they.

    Parameters
    ----------
    tipping : Tipping
        Of n floats that carry their own weight.
    angle_rad : ndarray, shape [n]
        How far each is tipped [rad], as in `under_water`.

    Returns
    -------
    people_kg : ndarray, shape [n]
        Their weight [kg]; negative where the float would tip further by itself.
    freeboard_m : ndarray, shape [n]
        Height of the deck's top above the water at the edge [m]; negative is under.
    """
    own, theirs = _outwards(tipping, angle_rad)
    wanted = tipping.weight_kg / _RHO * (theirs - own)

    def short(level: FloatArray) -> FloatArray:
        volume, moment = under_water(tipping.profile, angle_rad, level_m=level)
        return theirs * volume - moment - wanted

    level = _root(short, *_levels(tipping.profile, angle_rad))
    volume, _ = under_water(tipping.profile, angle_rad, level_m=level)
    edge = tipping.deck_top_m * np.cos(angle_rad) - tipping.edge_m * np.sin(angle_rad)
    return _RHO * volume - tipping.weight_kg, edge - level


def edge_load(tipping: Tipping, *, people_kg: FloatArray) -> EdgeLoad:
    """Return how far people at the edge tip the floats, and what the edge takes.

    Follows the balance of `balanced_people` from level until the edge is under water, 45 degrees
    at most: a float that is loaded slowly rests at the first angle that balances the people. One
    that finds none goes under.

    Parameters
    ----------
    tipping : Tipping
        Of n floats.
    people_kg : ndarray, shape [n]
        Weight of the people at the edge [kg], >= 0.

    Returns
    -------
    EdgeLoad
        Arrays of shape [n]; a float that cannot carry itself takes nobody.
    """
    n = len(tipping.weight_kg)
    tilt, freeboard, most = np.full(n, np.nan), np.full(n, np.nan), np.zeros(n)
    afloat = np.flatnonzero(_capacity(tipping.profile) > tipping.weight_kg)
    if afloat.size:
        able = rows_of(tipping, afloat)
        tilt[afloat], freeboard[afloat], most[afloat] = _followed(able, people_kg[afloat])
    return EdgeLoad(tilt_deg=tilt, freeboard_m=freeboard, most_kg=most)


def rows_of(tipping: Tipping, index: IntArray) -> Tipping:
    """Return some of the floats.

    Parameters
    ----------
    tipping : Tipping
        Of n floats.
    index : ndarray of int, shape [k]
        Which.

    Returns
    -------
    Tipping
        Of k floats.
    """
    return replace(
        tipping,
        profile=replace(tipping.profile, **_picked(tipping.profile, index)),
        **_picked(tipping, index),
    )


def _picked(record: Profile | Tipping, index: IntArray) -> dict[str, Any]:
    arrays = ((one.name, getattr(record, one.name)) for one in fields(record))
    return {name: array[index] for name, array in arrays if isinstance(array, np.ndarray)}


def _followed(tipping: Tipping, people: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    balanced, edge = _curve(tipping)
    tilt, freeboard = _first_balance(tipping, people, balanced, edge)
    dry = np.where(edge >= 0, balanced, -np.inf)
    most = np.maximum(_greatest(tipping, dry), dry.max(axis=0))
    rests = freeboard >= 0
    return (
        np.where(rests, np.degrees(tilt), np.nan),
        np.where(rests, freeboard, np.nan),
        np.maximum(most, np.where(rests, people, 0.0)),
    )


def _curve(tipping: Tipping) -> tuple[FloatArray, FloatArray]:
    """Balance and edge by angle, [k, n], of each float until its edge is under water."""
    n = len(tipping.weight_kg)
    balanced, edge = np.full((2, len(_ANGLES_RAD), n), -np.inf)
    dry = np.arange(n)
    for step, angle in enumerate(_ANGLES_RAD):
        some = rows_of(tipping, dry)
        balanced[step, dry], edge[step, dry] = balanced_people(some, np.full(len(dry), angle))
        dry = dry[edge[step, dry] >= 0]
        if not dry.size:
            break
    return balanced, edge


def _first_balance(
    tipping: Tipping, people: FloatArray, balanced: FloatArray, edge: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """The least angle that balances the people, in the first step of the curve that passes them."""
    reached = balanced >= people
    first = reached.argmax(axis=0)
    tilt, freeboard = np.full(len(people), np.nan), np.full(len(people), np.nan)
    near = reached[0]  # a straight line from level
    share = people[near] / np.maximum(balanced[0, near], np.finfo(np.float64).tiny)
    tilt[near], freeboard[near] = _ANGLES_RAD[0] * share, edge[0, near]
    beyond = np.flatnonzero(reached.any(axis=0) & ~near)
    if beyond.size:
        some = rows_of(tipping, beyond)
        tilt[beyond] = _root(
            lambda angle: balanced_people(some, angle)[0] - people[beyond],
            _ANGLES_RAD[first[beyond] - 1],
            _ANGLES_RAD[first[beyond]],
        )
        freeboard[beyond] = balanced_people(some, tilt[beyond])[1]
    return tilt, freeboard


def _greatest(tipping: Tipping, dry: FloatArray) -> FloatArray:
    """The most people with the edge dry, by golden sections about the best angle of the curve."""

    def people(angle: FloatArray) -> FloatArray:
        balanced, edge = balanced_people(tipping, angle)
        return np.where(edge >= 0, balanced, -np.inf)

    best = dry.argmax(axis=0)
    low = _ANGLES_RAD[np.maximum(best - 1, 0)]
    high = _ANGLES_RAD[np.minimum(best + 1, len(_ANGLES_RAD) - 1)]
    left, right = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
    at_left, at_right = people(left), people(right)
    for _ in range(_GOLDEN_ROUNDS):
        upper = at_right > at_left  # both under: the edge is dry further down
        low, high = np.where(upper, left, low), np.where(upper, high, right)
        new = np.where(upper, low + _GOLDEN * (high - low), high - _GOLDEN * (high - low))
        at_new = people(new)
        left, right = np.where(upper, right, new), np.where(upper, new, left)
        at_left, at_right = np.where(upper, at_right, at_new), np.where(upper, at_new, at_left)
    return np.maximum(at_left, at_right)


def _outwards(tipping: Tipping, angle: FloatArray) -> tuple[FloatArray, FloatArray]:
    """How far outwards the float's own weight and the people stand, level."""
    c, s = np.cos(angle), np.sin(angle)
    return tipping.centre_m * s, tipping.stand_m * c + tipping.person_centre_m * s


def _levels(profile: Profile, angle: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Water levels with all of the flotation out of the water, and all under."""
    half = np.abs(profile.offset_m).max(axis=1) + profile.extent_m / 2
    reach = half * np.sin(angle)
    return -reach, reach + profile.height_m * np.cos(angle)


def _capacity(profile: Profile) -> FloatArray:
    """Weight of the water that all of the flotation displaces [kg]."""
    if profile.kind == "box":
        one = profile.span_m * profile.extent_m * profile.height_m
    else:
        length = profile.span_m if profile.kind == "end on" else profile.extent_m
        one = np.pi / 4 * profile.height_m**2 * length
    capacity: FloatArray = _RHO * one * profile.pieces.sum(axis=1)
    return capacity


def _root(law: Callable[[FloatArray], FloatArray], low: FloatArray, high: FloatArray) -> FloatArray:
    """Where a law changes its sign, each element in its own bracket.

    Inverse quadratic steps where they are safe, else halving: Chandrupatla, Advances in
    Engineering Software 28 (1997) 145-149.
    """
    new, far = low, high
    at_new, at_far = law(new), law(far)
    fine = _FINE * (high - low)
    share = np.full_like(low, 0.5)
    for _ in range(_ROUNDS):
        last, at_last = new, at_new
        new = last + share * (far - last)
        at_new = law(new)
        same = (at_new < 0) == (at_last < 0)
        old, at_old = np.where(same, last, far), np.where(same, at_last, at_far)
        far, at_far = np.where(same, far, last), np.where(same, at_far, at_last)
        least = fine / np.maximum(np.abs(far - new), fine)
        if ((least >= 1) | (at_new == 0)).all():
            break
        share = np.clip(_share((new, far, old), (at_new, at_far, at_old)), least / 2, 1 - least / 2)
    return new


def _share(
    at: tuple[FloatArray, FloatArray, FloatArray], law: tuple[FloatArray, FloatArray, FloatArray]
) -> FloatArray:
    """How far from the first towards the second point the next guess lies."""
    (a, b, c), (fa, fb, fc) = at, law
    apart = (fa != fb) & (fb != fc) & (fa != fc) & (b != c)
    ba, ca = np.where(apart, fb - fa, 1.0), np.where(apart, fc - fa, 1.0)
    cb, width = np.where(apart, fc - fb, 1.0), np.where(apart, c - b, 1.0)
    x, y = (a - b) / width, -ba / cb
    safe = apart & (y**2 < x) & ((1 - y) ** 2 < 1 - x)
    across = np.where(b != a, b - a, 1.0)
    inverse = -fa / ba * fc / cb + (c - a) / across * fa / ca * fb / cb
    return np.where(safe, inverse, 0.5)
