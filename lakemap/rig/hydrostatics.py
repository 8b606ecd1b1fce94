"""What carries a float: tubes as partial cylinders, billets as boxes, exact."""

from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.published import FRESH_WATER_KG_M3, GRAVITY_M_S2
from lakemap.basis.records import Float, FloatArray
from lakemap.loads.people import PERSON_KG
from lakemap.rig.float_defaults import Flotation, fill_flotation
from lakemap.rig.records import Buoyancy

_HALVINGS = 60  # a draft of metres to the last bit of a double
_PARABOLA: Final = 0.6  # its centroid above the vertex, as a share of its height


def segment_area(depth_m: ArrayLike, *, diameter_m: ArrayLike) -> FloatArray:
    """Return the area of a circle segment of some depth.

    A = r^2 arccos((r - h)/r) - (r - h) sqrt(2 r h - h^2). Source: Euclidean geometry; Bronshtein,
    Semendyayev, Handbook of Mathematics, 1985, section 2.6.

    Parameters
    ----------
    depth_m : array_like
        Depth h of the segment [m], 0 to the diameter.
    diameter_m : array_like
        Diameter 2 r [m], > 0.

    Returns
    -------
    ndarray
        Area [m2].

    Raises
    ------
    RangeError
        If a depth lies outside the circle.
    """
    h, diameter = np.broadcast_arrays(
        np.asarray(depth_m, dtype=np.float64), np.asarray(diameter_m, dtype=np.float64)
    )
    if not ((h >= 0) & (h <= diameter) & (diameter > 0)).all():
        raise RangeError("a segment's depth must lie between 0 and the diameter")
    r = diameter / 2
    half_breadth = np.sqrt(h * (diameter - h))
    # the arc cosine by both legs: it loses half its digits near the rim otherwise
    area: FloatArray = r**2 * np.arctan2(half_breadth, r - h) - (r - h) * half_breadth
    return area


def segment_breadth(depth_m: ArrayLike, *, diameter_m: ArrayLike) -> FloatArray:
    """Return the breadth of a circle segment at its straight side: b = 2 sqrt(h (D - h)).

    Parameters
    ----------
    depth_m, diameter_m : array_like
        As in `segment_area`.

    Returns
    -------
    ndarray
        Breadth [m].
    """
    h, diameter = np.asarray(depth_m, dtype=np.float64), np.asarray(diameter_m, dtype=np.float64)
    breadth: FloatArray = 2 * np.sqrt(h * (diameter - h))
    return breadth


def segment_centroid(depth_m: ArrayLike, *, diameter_m: ArrayLike) -> FloatArray:
    """Return the height of a segment's centroid above the circle's lowest point.

    r - b^3/(12 A), b the breadth and A the area. Source: Bronshtein, Semendyayev, Handbook of
    Mathematics, 1985, section 2.6. A segment so thin that its area is lost in rounding is taken as
    the parabola that it comes to: 3/5 of its depth.

    Parameters
    ----------
    depth_m, diameter_m : array_like
        As in `segment_area`.

    Returns
    -------
    ndarray
        Height [m].
    """
    breadth = segment_breadth(depth_m, diameter_m=diameter_m)
    area = segment_area(depth_m, diameter_m=diameter_m)
    thin = _PARABOLA * np.asarray(depth_m, dtype=np.float64)
    below = np.divide(breadth**3, 12 * area, out=np.zeros_like(area), where=area > 0)
    return np.where(area > 0, np.asarray(diameter_m, dtype=np.float64) / 2 - below, thin)


def submerged_volume(draft_m: ArrayLike, flotation: Flotation) -> FloatArray:
    """Return the volume under water at a draft, with the float upright.

    Parameters
    ----------
    draft_m : array_like, shape [n]
        Draft [m], 0 to the flotation's height.
    flotation : Flotation
        Arrays of shape [n].

    Returns
    -------
    ndarray, shape [n]
        Volume [m3].
    """
    draft = np.asarray(draft_m, dtype=np.float64)
    box = flotation.breadth_m * draft
    round_ = segment_area(np.minimum(draft, flotation.breadth_m), diameter_m=flotation.breadth_m)
    volume: FloatArray = (
        flotation.count * flotation.length_m * np.where(flotation.tubes, round_, box)
    )
    return volume


def draft(mass_kg: ArrayLike, flotation: Flotation) -> FloatArray:
    """Return the draft at which the flotation carries a mass.

    Root of rho V(h) = m by bisection: V grows with h.

    Parameters
    ----------
    mass_kg : array_like, shape [n]
        Mass to carry [kg], >= 0.
    flotation : Flotation
        Arrays of shape [n].

    Returns
    -------
    ndarray, shape [n]
        Draft [m]; the flotation's whole height where it cannot carry the mass.
    """
    wanted = np.asarray(mass_kg, dtype=np.float64) / FRESH_WATER_KG_M3.value
    low, high = np.zeros(len(flotation.count)), flotation.height_m.copy()
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        short = submerged_volume(middle, flotation) < wanted
        low, high = np.where(short, middle, low), np.where(short, high, middle)
    return np.where(
        submerged_volume(flotation.height_m, flotation) <= wanted, flotation.height_m, high
    )


def float_buoyancy(floats: Sequence[Float], *, people: int) -> Buoyancy:
    """Return what carries every float, at its own weight with nothing hanging.

    Parameters
    ----------
    floats : sequence of Float
        As read; blanks take defaults of ours.
    people : int
        Aboard at once, 185 lb each.

    Returns
    -------
    Buoyancy
        Arrays in file order.
    """
    flotation = fill_flotation(floats)
    g = GRAVITY_M_S2.value
    capacity = FRESH_WATER_KG_M3.value * submerged_volume(flotation.height_m, flotation)
    loaded = flotation.weight_kg + people * PERSON_KG
    empty = draft(flotation.weight_kg, flotation)
    return Buoyancy(
        weight_n=flotation.weight_kg * g,
        buoyancy_n=capacity * g,
        reserve_n=(capacity - loaded) * g,
        draft_m=empty,
        freeboard_m=flotation.height_m - empty,
        draft_people_m=draft(loaded, flotation),
        height_m=flotation.height_m,
        sunk_by_people=loaded >= capacity,
        assumed=flotation.assumed,
    )
