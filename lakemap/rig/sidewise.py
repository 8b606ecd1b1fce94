"""How steady sidewise a float lies that is tipped lengthwise: GM at its own waterline."""

from typing import Final

import numpy as np

from lakemap.basis.records import FloatArray
from lakemap.rig.float_defaults import Flotation
from lakemap.rig.hydrostatics import segment_area, segment_breadth, segment_centroid
from lakemap.rig.layout import Layout

_POINTS: Final = 48  # of each even part of a piece
_LEVEL: Final = 1e-9  # sine of a tilt


def sidewise_gm_m(
    flotation: Flotation,
    laid: Layout,
    *,
    tilt_rad: float,
    level_m: float,
    weight_up_m: float,
) -> float:
    """Return the sidewise metacentric height of one float that is tipped lengthwise.

    GM = I/V + z_B - z_G, upright heights: I the second moment of the waterplane about its long
    middle line, V the volume under water. Integrals along each piece by Gauss's points, clustered
    where the water meets its keel or its top. Source: any text on the stability of ships, such as
    Lewis (ed.), Principles of Naval Architecture, 2nd rev., SNAME 1988, vol. I, ch. 2.

    Parameters
    ----------
    flotation : Flotation
        Of one float.
    laid : Layout
        Where it lies.
    tilt_rad : float
        How far it is tipped lengthwise [rad].
    level_m : float
        Water level above the middle of the keel [m].
    weight_up_m : float
        Height of the centre of all weight above the middle of the keel, upright [m].

    Returns
    -------
    float
        Metres; below 0 it falls over sidewise.
    """
    tubes, height = bool(flotation.tubes[0]), float(flotation.height_m[0])
    breadth = float(flotation.breadth_m[0])
    c, s = np.cos(tilt_rad), np.sin(tilt_rad)
    inertia = volume = moment = 0.0
    for out, pieces, aside2 in _rows(flotation, laid):
        x, dx = _points(out, float(flotation.length_m[0]), (level_m, height), (c, s))
        h = np.clip((level_m + x * s) / c, 0.0, height)
        cut = (h > 0) & (h < height)
        if tubes:
            wide = segment_breadth(h, diameter_m=height)
            area, up = segment_area(h, diameter_m=height), segment_centroid(h, diameter_m=height)
        else:
            wide, area, up = np.full_like(h, breadth), breadth * h, h / 2
        wide = np.where(cut, wide, 0.0)
        inertia += float((pieces * wide**3 / 12 + aside2 * wide) @ dx) / c
        volume += pieces * float(area @ dx)
        moment += pieces * float((area * (up * c - x * s)) @ dx)
    return inertia / volume + moment / volume - weight_up_m


def _rows(flotation: Flotation, laid: Layout) -> list[tuple[float, float, float]]:
    """Each row's place along the deck, its pieces, and their squared distances aside."""
    across = laid.across
    aside2 = float((across.pieces[0] * across.offset_m[0] ** 2).sum())
    rows = [
        (float(out), float(pieces))
        for out, pieces in zip(laid.along.offset_m[0], laid.along.pieces[0], strict=True)
        if pieces > 0
    ]
    if flotation.tubes[0]:
        return [(out, pieces, aside2) for out, pieces in rows]
    # billets lie in pairs; an odd one in the middle of the deck has none beside it
    pairs = sum(pieces > 1 for _, pieces in rows)
    return [(out, pieces, aside2 / pairs if pieces > 1 else 0.0) for out, pieces in rows]


def _points(
    out: float, length: float, water: tuple[float, float], turn: tuple[float, float]
) -> tuple[FloatArray, FloatArray]:
    """Gauss's points and weights along a piece, in parts where it is dry, cut, or all under."""
    (level, height), (c, s) = water, turn
    ends = (out - length / 2, out + length / 2)
    flat = s < _LEVEL  # the water meets neither keel nor top within the piece
    kinks = [] if flat else [-level / s, (height * c - level) / s]
    cuts = np.unique(np.clip([*ends, *kinks], *ends))
    node, weight = np.polynomial.legendre.leggauss(_POINTS)
    angle = (node + 1) * np.pi / 2
    middle, half = (cuts[1:] + cuts[:-1]) / 2, (cuts[1:] - cuts[:-1]) / 2
    x = middle[:, None] - half[:, None] * np.cos(angle)
    dx = half[:, None] * np.sin(angle) * weight * np.pi / 2
    return x.ravel(), dx.ravel()
