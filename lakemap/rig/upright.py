"""How steady a float lies level: metacentric heights."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from lakemap.basis.published import FRESH_WATER_KG_M3
from lakemap.basis.records import FloatArray
from lakemap.basis.working import Formula, Term
from lakemap.rig.float_defaults import Flotation
from lakemap.rig.hydrostatics import draft, segment_breadth, segment_centroid, submerged_volume
from lakemap.rig.layout import Layout

_RHO: Final = FRESH_WATER_KG_M3.value
_LEWIS: Final = "Lewis (ed.), Principles of Naval Architecture, 2nd rev., SNAME 1988, vol. I, ch. 2"


@dataclass(frozen=True, slots=True, kw_only=True)
class Upright:
    """Floats that lie level; shape [n]. NaN where the flotation cannot carry the weight."""

    draft_m: FloatArray
    volume_m3: FloatArray
    waterplane_m2: FloatArray
    inertia_transverse_m4: FloatArray  # of the waterplane, about the deck's long axis
    inertia_long_m4: FloatArray
    kb_m: FloatArray  # centre of buoyancy above the keel
    bm_transverse_m: FloatArray
    bm_long_m: FloatArray
    gm_transverse_m: FloatArray
    gm_long_m: FloatArray


def _radius(inertia_m4: FloatArray, volume_m3: FloatArray) -> FloatArray:
    return inertia_m4 / volume_m3


def _height(kb_m: FloatArray, bm_m: FloatArray, kg_m: FloatArray) -> FloatArray:
    return kb_m + bm_m - kg_m


BM: Final = Formula(
    key="bm",
    name="Metacentre above the centre of buoyancy",
    symbol="BM",
    words="BM = I/∇",
    unit="m",
    source=_LEWIS,
    terms={
        "inertia_m4": Term(symbol="I", name="second moment of the water's plane", unit="m4"),
        "volume_m3": Term(symbol="∇", name="volume under water", unit="m3"),
    },
    law=_radius,
)
GM: Final = Formula(
    key="gm",
    name="Metacentric height, the lesser of sidewise and lengthwise",
    symbol="GM",
    words="GM = KB + BM − KG",
    unit="m",
    source=_LEWIS,
    terms={
        "kb_m": Term(symbol="KB", name="centre of buoyancy above the keel", unit="m"),
        "bm_m": Term(symbol="BM", name="metacentre above the centre of buoyancy", unit="m"),
        "kg_m": Term(symbol="KG", name="centre of the weight above the keel", unit="m"),
    },
    law=_height,
    valid="small angles: with a tube near full under it says nothing",
)


def upright(
    flotation: Flotation, laid: Layout, *, mass_kg: FloatArray, kg_m: FloatArray
) -> Upright:
    """Return how steady floats lie level: GM = KB + BM - KG, BM = I/V.

    I is the second moment of the waterplane about the middle axis, V the volume under water.
    Source: any text on the stability of ships, such as Lewis (ed.), Principles of Naval
    Architecture, 2nd rev., SNAME 1988, vol. I, ch. 2.

    Parameters
    ----------
    flotation : Flotation
        Of n floats.
    laid : Layout
        Where it lies.
    mass_kg : ndarray, shape [n]
        All weight aboard [kg], > 0.
    kg_m : ndarray, shape [n]
        Its centre above the keel [m].

    Returns
    -------
    Upright
        Arrays of shape [n].
    """
    mass = np.asarray(mass_kg, dtype=np.float64)
    afloat = _RHO * submerged_volume(flotation.height_m, flotation) > mass
    h = np.where(afloat, draft(mass, flotation), flotation.height_m / 2)
    tubes, diameter = flotation.tubes, flotation.breadth_m
    in_circle = np.where(tubes, h, diameter / 2)
    wide = np.where(tubes, segment_breadth(in_circle, diameter_m=diameter), diameter)
    kb = np.where(tubes, segment_centroid(in_circle, diameter_m=diameter), h / 2)
    volume = np.where(afloat, mass / _RHO, np.nan)
    one = wide * flotation.length_m
    across, along = laid.across, laid.along
    inertia_t = one * (
        flotation.count * wide**2 / 12 + (across.pieces * across.offset_m**2).sum(axis=1)
    )
    inertia_l = one * (
        flotation.count * flotation.length_m**2 / 12
        + (along.pieces * along.offset_m**2).sum(axis=1)
    )
    known = np.where(afloat, 1.0, np.nan)
    bm_t, bm_l = _radius(inertia_t, volume), _radius(inertia_l, volume)
    return Upright(
        draft_m=h * known,
        volume_m3=volume,
        waterplane_m2=flotation.count * one * known,
        inertia_transverse_m4=inertia_t * known,
        inertia_long_m4=inertia_l * known,
        kb_m=kb * known,
        bm_transverse_m=bm_t,
        bm_long_m=bm_l,
        gm_transverse_m=_height(kb, bm_t, kg_m),
        gm_long_m=_height(kb, bm_l, kg_m),
    )
