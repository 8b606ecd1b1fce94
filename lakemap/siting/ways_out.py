"""The least change that ends a float's conflict: move it, shorten its line, change its deck."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from lakemap.basis.quantities import FOOT_M
from lakemap.basis.records import Float, FloatArray, Settings, Units
from lakemap.rig.lengths import round_up
from lakemap.siting.every_spare import every_spare, least_spare, rig_at, rigs_at
from lakemap.siting.nearest import Spare, nearest_allowed
from lakemap.siting.spots import SpotField

WITHIN_M: Final = 300.0  # nobody calls it a move that is farther
_STEPS_AT_ONCE_M: Final = 0.5  # ours: what blank lengths, longer by a step each, add to a radius
_FIGURES_M: Final = {"ft-lb": FOOT_M.value / 10, "m-kg": 0.01}  # of a length in a sentence
_TRIED: Final = 60  # figures above the least that a sentence may name
_TURNED_DEG: Final = 20
_SMALLEST_M: Final = 4 * FOOT_M.value  # ours: a deck shorter than that carries nobody
_SURE_M: Final = 1e-6
DECK: Final = (
    "length_m",
    "width_m",
    "flotation",
    "tubes",
    "tube_diameter_m",
    "tube_length_m",
    "billets",
    "billet_length_m",
    "billet_width_m",
    "billet_height_m",
    "float_weight_kg",
    "hook",
    "hook_depth_m",
)  # what goes with the deck; all else is the rig's or the place's


def spares_at(field: SpotField) -> Spare:
    """Return what the strictest rule leaves a float, as a function of the place.

    Parameters
    ----------
    field : SpotField
        What is to be laid, and where.

    Returns
    -------
    callable
        Places [n, 2] to metres [n].
    """
    return lambda xy: least_spare(field, rig_at(field, xy))


def nearest_move(field: SpotField, from_xy: FloatArray) -> FloatArray | None:
    """Return the nearest place where every rule holds for a float with its own rig.

    Parameters
    ----------
    field : SpotField
        The float and the others where they are.
    from_xy : ndarray, shape [2]
        Where its primary is [m].

    Returns
    -------
    ndarray, shape [2], or None
        None: there is none within 300 m.
    """
    like = field.like
    steps = like.riser_m is None or like.ground_m is None
    return nearest_allowed(
        spares_at(field),
        from_xy,
        within_m=WITHIN_M,
        slack_m=_STEPS_AT_ONCE_M if steps else 0.0,
    )


def bearing_of(way_xy: FloatArray) -> float:
    """Return the bearing of a way from north, clockwise, 0 to 360 degrees."""
    return float(np.degrees(np.arctan2(way_xy[0], way_xy[1])) % 360.0)


def spoken_move(
    spare: Spare, from_xy: FloatArray, to_xy: FloatArray, units: Units
) -> tuple[float, float] | None:
    """Return distance and bearing as a sentence gives them, such that they end the conflict too.

    Parameters
    ----------
    spare : callable
        Places to what the strictest rule leaves.
    from_xy, to_xy : ndarray, shape [2]
        The move [m].
    units : {'ft-lb', 'm-kg'}
        The distance is in whole tenths of a foot or whole centimetres.

    Returns
    -------
    tuple of float, or None
        Metres and whole degrees, no shorter than the move; None where none nearby does it.
    """
    way, step = to_xy - from_xy, _FIGURES_M[units]
    least = np.ceil(np.hypot(*way) / step - 1e-6)
    turns = np.array(sorted(range(-_TURNED_DEG, _TURNED_DEG + 1), key=abs), dtype=np.float64)
    far, turned = np.meshgrid((least + np.arange(_TRIED)) * step, turns, indexing="ij")
    bearing = np.radians(np.round(bearing_of(way)) + turned)
    ways = np.stack([far * np.sin(bearing), far * np.cos(bearing)], axis=-1)
    works = spare(from_xy + ways.reshape(-1, 2)) >= _SURE_M
    if not works.any():
        return None
    first = int(np.flatnonzero(works)[0])  # the least distance, the least turn
    degrees = float(np.round(np.degrees(bearing.ravel()[first])) % 360.0)
    return float(far.ravel()[first]), degrees


def shorter_lines(
    riser_m: float, ground_m: float, *, rise_high_m: float, units: Units
) -> list[tuple[float, float]]:
    """Return shorter lines, the least shortening first.

    The ground chain first, to one step; then the riser, for as long as it is longer than from bed
    to hook at high water: so the secondary lies on the bed in calm, if it did before.

    Parameters
    ----------
    riser_m, ground_m : float
        The line as it is [m].
    rise_high_m : float
        From bed to hook at high water, nobody aboard [m].
    units : {'ft-lb', 'm-kg'}
        Lengths come in half feet or in 10 cm.

    Returns
    -------
    list of pairs
        Riser and ground chain [m]; none where the line would pull the float under.
    """
    step = float(round_up(1e-6, units))
    lines = [(riser_m, ground) for ground in _below(ground_m, step)]
    lines += [(riser, step) for riser in _below(riser_m, step) if riser > rise_high_m]
    return [(riser, ground) for riser, ground in lines if riser + ground > rise_high_m]


def _below(length_m: float, step: float) -> Iterator[float]:
    """Whole steps below a length, down to one."""
    for count in range(int(np.ceil(length_m / step - 1e-9)) - 1, 0, -1):
        yield count * step


def shortest_cut(
    field: SpotField, at_xy: FloatArray, lines: Sequence[tuple[float, float]]
) -> tuple[float, float] | None:
    """Return the first of some lines with which every rule holds.

    Parameters
    ----------
    field : SpotField
        The float and the others where they are.
    at_xy : ndarray, shape [2]
        Where its primary is [m].
    lines : sequence of pairs
        Riser and ground chain [m].

    Returns
    -------
    pair or None
        None where none does it.
    """
    if not lines:
        return None
    at = rigs_at(field, np.repeat(at_xy[None], len(lines), axis=0), tuple(lines))
    works = np.flatnonzero(every_spare(field, at).min(axis=1) >= _SURE_M)
    return lines[works[0]] if works.size else None


def with_deck(one: Float, other: Float) -> Float:
    """Return a float with the deck of another: flotation, weight and hook go with it.

    Parameters
    ----------
    one, other : Float
        Whose rig and place; whose deck.

    Returns
    -------
    Float
        Of the first one's number.
    """
    return replace(one, **{name: getattr(other, name) for name in DECK})


def by_likeness(one: Float, others: Sequence[Float]) -> list[int]:
    """Return the order in which decks differ from a float's own, the most alike first.

    Parameters
    ----------
    one : Float
        Whose deck is to go.
    others : sequence of Float
        That may give theirs.

    Returns
    -------
    list of int
        Places in `others`, by the difference in area, then in length; its own kind left out.
    """

    def difference(k: int) -> tuple[float, float, int]:
        other = others[k]
        area = abs(other.length_m * other.width_m - one.length_m * one.width_m)
        return round(area, 9), round(abs(other.length_m - one.length_m), 9), k

    unlike = [
        k
        for k, other in enumerate(others)
        if any(getattr(other, name) != getattr(one, name) for name in DECK)
    ]
    return sorted(unlike, key=difference)


def smaller_decks(one: Float, units: Units) -> list[Float]:
    """Return a float with smaller decks of its shape, the largest first.

    Parameters
    ----------
    one : Float
        With its deck.
    units : {'ft-lb', 'm-kg'}
        Sides are whole tenths of a foot or whole centimetres, rounded down.

    Returns
    -------
    list of Float
        Tubes and billets as much shorter, the weight in proportion to the area; down to 4 ft.
    """
    step = _FIGURES_M[units]
    count = int(np.ceil(one.length_m / step - 1e-9)) - 1
    found = []
    for n in range(count, 0, -1):
        length = n * step
        scale = length / one.length_m
        width = float(np.floor(one.width_m * scale / step + 1e-9)) * step
        if min(length, width) < _SMALLEST_M:
            break
        found.append(
            replace(
                one,
                length_m=length,
                width_m=width,
                tube_length_m=_scaled(one.tube_length_m, scale),
                billet_length_m=_scaled(one.billet_length_m, scale),
                float_weight_kg=_scaled(one.float_weight_kg, length * width / _area(one)),
            )
        )
    return found


def _scaled(value: float | None, scale: float) -> float | None:
    return None if value is None else value * scale


def _area(one: Float) -> float:
    return one.length_m * one.width_m


def passes(field: SpotField, at_xy: FloatArray) -> bool:
    """Tell whether every rule holds for a float at a place.

    Parameters
    ----------
    field : SpotField
        The float and the others where they are.
    at_xy : ndarray, shape [2]
        Where its primary is [m].

    Returns
    -------
    bool
        By the strictest rule.
    """
    return bool(spares_at(field)(at_xy[None])[0] >= _SURE_M)


def too_large_a_deck(one: Float, settings: Settings) -> bool:
    """Tell whether a deck is larger than is allowed anywhere."""
    rule = settings.rules.get("deck_area_max")
    return rule is not None and _area(one) > rule.limit
