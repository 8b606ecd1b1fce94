"""Frontages: a lot's piece of water that its float must stay inside."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import get_close_matches

import numpy as np

from lakemap.basis.errors import Problem
from lakemap.basis.records import Settings
from lakemap.clearances.against import Found, union_of
from lakemap.clearances.circles import Circles
from lakemap.clearances.records import CheckSubject, Clearance, PlacedZone
from lakemap.clearances.rules import Ask, ask_of, ask_of_zone
from lakemap.clearances.shapes import Shape, signed_distance

_TOUCH_M = 1e-6  # frontages share their borders; a circle that ends there is not over the next one


def lot_key(lot: str) -> str:
    """Return a lot's name as it is compared: case and outer blanks ignored."""
    return lot.strip().casefold()


@dataclass(frozen=True, slots=True, kw_only=True)
class Frontage:
    """What one lot asks of its float."""

    shape: Shape  # all its frontages together
    ask: Ask
    label: str


def frontage_of(zones: Sequence[PlacedZone], settings: Settings, lot: str) -> Frontage | None:
    """Return a lot's frontage.

    Parameters
    ----------
    zones : sequence of PlacedZone
        Of any kind.
    settings : Settings
        With the rules.
    lot : str
        Its name; case and outer blanks ignored.

    Returns
    -------
    Frontage or None
        None: the lot has none.
    """
    mine = by_lot(zones).get(lot_key(lot))
    if mine is None:
        return None
    return Frontage(shape=union_of(mine), ask=_ask(mine, settings), label=mine[0].zone.label)


def by_lot(zones: Sequence[PlacedZone]) -> dict[str, list[PlacedZone]]:
    """Return the frontages of each lot, by `lot_key`.

    Parameters
    ----------
    zones : sequence of PlacedZone
        Of any kind.

    Returns
    -------
    dict
        In the order of the zones.
    """
    lots: dict[str, list[PlacedZone]] = {}
    for placed in zones:
        if placed.zone.kind == "frontage" and placed.zone.lot is not None:
            lots.setdefault(lot_key(placed.zone.lot), []).append(placed)
    return lots


def _ask(zones: list[PlacedZone], settings: Settings) -> Ask:
    """Return the largest clearance that a lot's frontages ask for, else the rule."""
    own = [placed.zone for placed in zones if placed.zone.clearance_m is not None]
    if not own:
        return ask_of(settings.rules.get("frontage"))
    strictest = max(own, key=lambda zone: zone.clearance_m or 0.0)
    return ask_of_zone(strictest, settings)


def against_frontage(subject: CheckSubject, circles: Circles) -> Found:
    """Yield each float's clearance to the edge of its own lot's frontage, from inside.

    Parameters
    ----------
    subject : CheckSubject
        With the zones.
    circles : Circles
        Those that take part.

    Yields
    ------
    tuple of int and Clearance
        For floats whose lot has a frontage.
    """
    lots = by_lot(subject.zones)
    members: dict[str, list[int]] = {}
    for k, i in enumerate(circles.index.tolist()):
        lot = subject.floats[i].lot
        if lot is not None and lot_key(lot) in lots:
            members.setdefault(lot_key(lot), []).append(k)
    for key, ks in members.items():
        zones, ask = lots[key], _ask(lots[key], subject.settings)
        xy = circles.xy[ks]
        distance, nearest = signed_distance(union_of(zones), xy)
        labels = _labels(zones, xy)
        for n, k in enumerate(ks):
            gap = -float(distance[n]) - float(circles.radius_m[k])
            yield (
                k,
                Clearance(
                    against=labels[n],
                    kind="frontage",
                    gap_m=gap,
                    required_m=ask.required_m,
                    spare_m=None if ask.required_m is None else gap - ask.required_m,
                    uncertainty_m=float(circles.layer_uncertainty_m[k]),
                    rule=ask.source,
                    nearest_xy=(float(nearest[n, 0]), float(nearest[n, 1])),
                ),
            )


def _labels(zones: list[PlacedZone], xy: np.ndarray) -> list[str]:
    """Label of the frontage that holds each point, or is nearest to it."""
    away = [signed_distance(Shape(geometry=placed.shape), xy)[0] for placed in zones]
    return [zones[k].zone.label for k in np.argmin(away, axis=0).tolist()]


def frontage_cautions(subject: CheckSubject, circles: Circles) -> Iterator[tuple[int, Problem]]:
    """Yield cautions: a lot without a frontage, a circle over another lot's frontage.

    Parameters
    ----------
    subject : CheckSubject
        With the zones.
    circles : Circles
        Those that take part.

    Yields
    ------
    tuple of int and Problem
        Place in `Circles`, and what to say.
    """
    lots = by_lot(subject.zones)
    if not lots:
        return
    spelled = {key: zones[0].zone.lot or key for key, zones in lots.items()}
    for k, i in enumerate(circles.index.tolist()):
        lot = subject.floats[i].lot
        if lot is not None and lot_key(lot) not in lots:
            near = get_close_matches(lot_key(lot), lots, n=1, cutoff=0.0)
            hint = f"; the nearest spelling is {spelled[near[0]]!r}" if near else ""
            text = f"lot {lot!r} has no frontage among the zones, so none is checked{hint}"
            yield k, Problem(code="lot_without_frontage", text=text, fatal=False)
    for key, zones in lots.items():
        distance, _ = signed_distance(union_of(zones), circles.xy)
        over = distance - circles.radius_m < -_TOUCH_M
        for k in np.flatnonzero(over).tolist():
            lot = subject.floats[circles.index[k]].lot
            if lot is None or lot_key(lot) != key:
                text = f"its circle reaches over the frontage of lot {spelled[key]}"
                yield k, Problem(code="over_other_frontage", text=text, fatal=False)
