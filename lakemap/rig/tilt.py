"""A tipped float, exact: what of its flotation is under water, and where the buoyancy acts."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

import numpy as np

from lakemap.basis.errors import RangeError
from lakemap.basis.records import FloatArray
from lakemap.rig.hydrostatics import segment_area

# Axes fixed in the float: y from its middle towards the edge that goes down, z up from the keel.
# Tipped by the angle a, a point stands z cos a - y sin a high and y cos a + z sin a out.

_LEAST_RAD: Final = 1e-4  # nearer to level, the wedges are lost in the digits
_GREATEST_RAD: Final = np.pi / 2 - 0.1
_ROUNDS: Final = 60

Kind = Literal["end on", "lengthwise", "box"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """Flotation of n floats, seen along the axis they tip about; shape [n] or [n, m]."""

    kind: Kind  # tubes tipped sidewise, tubes tipped lengthwise, billets either way
    offset_m: FloatArray  # [n, m]: of a piece's centre from the middle, + towards the edge
    pieces: FloatArray  # [n, m]: how many lie at that offset; 0 none
    extent_m: FloatArray  # of one piece, from the middle towards the edge
    span_m: FloatArray  # of one piece, along the axis
    height_m: FloatArray  # tube diameter or billet height


@dataclass(frozen=True, slots=True, kw_only=True)
class Tipping:
    """Floats that people tip, standing all at one place; shape [n]."""

    profile: Profile
    weight_kg: FloatArray  # deck and flotation
    centre_m: FloatArray  # of that weight, above the keel
    edge_m: FloatArray  # from the middle to the deck's edge
    deck_top_m: FloatArray  # above the keel
    stand_m: FloatArray  # from the middle to where the people stand
    person_centre_m: FloatArray  # theirs above the keel


def under_water(
    profile: Profile, angle_rad: FloatArray, *, level_m: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Return what of a tipped float is under water, and its moment.

    Exact: segments of a circle for tubes seen end on; for the others integrals of the section
    along the piece, which is cut obliquely and has square ends. Source: Euclidean geometry.

    Parameters
    ----------
    profile : Profile
        Of n floats.
    angle_rad : ndarray, shape [n]
        How far they are tipped [rad], 0.0001 to 1.47.
    level_m : ndarray, shape [n]
        Water level above the middle of the keel [m].

    Returns
    -------
    volume_m3 : ndarray, shape [n]
        Volume under water.
    moment_m4 : ndarray, shape [n]
        Volume times the distance of its centroid outwards, level, from the middle of the keel.

    Raises
    ------
    RangeError
        If an angle lies outside.
    """
    angle = np.asarray(angle_rad, dtype=np.float64)
    wrong = ~((angle >= _LEAST_RAD) & (angle <= _GREATEST_RAD))
    if wrong.any():
        listed = "; ".join(f"[{i}] {angle.flat[i]:g}" for i in np.flatnonzero(wrong))
        raise RangeError(
            f"tipped by {listed} rad: need {_LEAST_RAD:g} to {_GREATEST_RAD:.3g} (ours: geometry)"
        )
    return _BELOW[profile.kind](profile, angle[:, None], level_m[:, None])


def _end_on(
    profile: Profile, angle: FloatArray, level: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """A circle looks the same tipped: its segment's centroid stands under its centre."""
    diameter = profile.height_m[:, None]
    out, r = profile.offset_m, diameter / 2
    c, s = np.cos(angle), np.sin(angle)
    depth = np.clip(level + r - r * c + out * s, 0.0, diameter)
    area = segment_area(depth, diameter_m=diameter)
    volume = profile.pieces * profile.span_m[:, None] * area
    return np.einsum("nm->n", volume), np.einsum("nm->n", volume * (out * c + r * s))


def _oblique(
    profile: Profile, angle: FloatArray, level: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Integrals along each piece; h is the height of the water above its keel, slope tan a."""
    c, t = np.cos(angle), np.tan(angle)
    out = profile.offset_m
    middle = level / c + out * t
    reach = profile.extent_m[:, None] / 2 * t
    ends = np.stack([middle - reach, middle + reach])
    area, depth, height = (far - near for near, far in _integrals(profile, ends))
    volume = profile.pieces * area / t
    along = profile.pieces * (depth - middle * area) / t**2 + out * volume
    moment = along * c + profile.pieces * height * c  # sin a / tan a
    return np.einsum("nm->n", volume), np.einsum("nm->n", moment)


def _integrals(profile: Profile, water: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Over h from the keel to the water: of the section S, of S h, of S times its centroid."""
    full, span = profile.height_m[:, None], profile.span_m[:, None]
    h = np.clip(water, 0.0, full)
    over = np.maximum(water - full, 0.0)
    if profile.kind == "box":
        whole = span * full
        below = (span * h**2 / 2, span * h**3 / 3, span * h**3 / 6)
    else:
        whole = np.pi / 4 * full**2
        below = _round_integrals(h, full / 2)
    return (
        below[0] + whole * over,
        below[1] + whole * over * (full + over / 2),
        below[2] + whole * over * full / 2,
    )


def _round_integrals(h: FloatArray, r: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """With h = r (1 - cos u): S = r^2 (u - sin u cos u), S centroid = r S - (2/3) r^3 sin^3 u."""
    c = 1 - h / r
    s = np.sqrt(h * (2 * r - h)) / r
    u = np.arctan2(s, c)
    sc = s * c
    quarter = sc * (1 - 2 * s**2) / 8  # sin 4u / 32
    area = r**3 * (s - u * c - s**3 / 3)
    depth = r * area - r**4 * (-u * (1 - 2 * s**2) / 4 + sc / 4 - u / 8 + quarter)
    height = r * area - 2 / 3 * r**4 * (3 * u / 8 - sc / 2 + quarter)
    return area, depth, height


_BELOW: Final[
    Mapping[str, Callable[[Profile, FloatArray, FloatArray], tuple[FloatArray, FloatArray]]]
] = MappingProxyType({"end on": _end_on, "lengthwise": _oblique, "box": _oblique})
