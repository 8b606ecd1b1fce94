"""Unlike metals in water: how far apart they are, which one goes, and what to do."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

from lakemap.basis.errors import RangeError
from lakemap.basis.published import Published, exact

_SERIES: Final = "galvanic series in flowing sea water, against a calomel electrode"
_CHART: Final = "galvanic series chart, against silver/silver chloride"
Level = Literal["good", "note", "warn"]
Advice = Literal["good", "watch", "isolate", "no"]


def _volts(value: float, locator: str) -> Published:
    return exact(value, "V", _SERIES, f"{locator}; printed without its sign")


# from the one that goes to the one that stays. In fresh water the order may differ and the damage
# stays nearer to the joint
POTENTIAL_V: Final[Mapping[str, Published]] = MappingProxyType(
    {
        "zinc": _volts(-1.03, "zinc"),
        "galvanised": _volts(-1.03, "zinc"),
        "aluminium": _volts(-0.79, "aluminium 3003, taken for 5052 and 6061"),
        "carbon steel": _volts(-0.61, "carbon steel"),
        "cast iron": _volts(-0.61, "cast iron"),
        "304 active": _volts(-0.53, "stainless 304 active"),
        "naval brass": _volts(-0.40, "naval brass"),
        "copper": _volts(-0.36, "copper"),
        "bronze": _volts(-0.31, "G bronze"),
        "cupronickel": _volts(-0.28, "90-10 cupronickel"),
        "316 active": _volts(-0.18, "316 active"),
        "304 passive": _volts(-0.08, "304 passive"),
        "316 passive": _volts(-0.05, "316 passive"),
        "stainless": _volts(-0.05, "316 passive, the farthest from zinc"),
        "graphite": _volts(0.25, "graphite"),
    }
)
# a second chart, up to 180 mV off the first; never mix the two
SECOND_CHART_MV: Final[Mapping[str, Published]] = MappingProxyType(
    {
        name: exact(value, "mV", _CHART, name)
        for name, value in (
            ("galvanised", -1140.0),
            ("zinc", -1050.0),
            ("aluminium", -820.0),
            ("carbon steel", -790.0),
            ("304 active", -550.0),
            ("naval brass", -450.0),
        )
    }
)
NOTE_MV: Final = exact(200.0, "mV", _CHART, "above it the one that gives way corrodes")
WARN_MV: Final = exact(250.0, "mV", "a maker's anodic-index guideline", "normal surroundings")

_STEELS: Final = ("carbon steel", "cast iron")
_STAINLESS: Final = ("stainless", "304 active", "304 passive", "316 active", "316 passive")
_COPPERS: Final = ("naval brass", "copper", "bronze", "cupronickel")
_ZINCS: Final = ("zinc", "galvanised")


@dataclass(frozen=True, slots=True, kw_only=True)
class Pairing:
    """What is said of two kinds of metal that touch under water."""

    goes: tuple[str, ...]
    stays: tuple[str, ...]
    small: bool | None  # whether the one that goes is the small one; None: either way
    advice: Advice
    why: str


# ours, from the millivolts and the area rule of MIL-STD-1250A, 5.6 and 5.7; the first that fits
PAIRINGS: Final = (
    Pairing(
        goes=_ZINCS,
        stays=_ZINCS,
        small=None,
        advice="good",
        why="the same potential; zinc is spent together",
    ),
    Pairing(
        goes=_ZINCS,
        stays=_STEELS,
        small=None,
        advice="watch",
        why="zinc protects the steel and goes early near the joint",
    ),
    Pairing(
        goes=_ZINCS,
        stays=_STAINLESS,
        small=False,
        advice="watch",
        why="a large part beside a small stainless one: its zinc goes next to the joint",
    ),
    Pairing(
        goes=_ZINCS,
        stays=_STAINLESS,
        small=True,
        advice="no",
        why="a small part on much stainless: first its zinc, then the part that holds corrodes",
    ),
    Pairing(
        goes=_ZINCS,
        stays=("aluminium",),
        small=None,
        advice="watch",
        why="zinc first, then it turns: aluminium beside bare steel pits",
    ),
    Pairing(
        goes=("aluminium",),
        stays=_STEELS,
        small=None,
        advice="watch",
        why="aluminium beside bare steel pits",
    ),
    Pairing(
        goes=("aluminium",),
        stays=_STAINLESS,
        small=None,
        advice="isolate",
        why="a stainless bolt is small, but wet crevices pit: sleeves and washers between",
    ),
    Pairing(
        goes=(*_ZINCS, *_STEELS, "aluminium"),
        stays=_COPPERS,
        small=None,
        advice="no",
        why="copper and its alloys eat zinc, steel and aluminium",
    ),
    Pairing(
        goes=_STAINLESS,
        stays=_STAINLESS,
        small=None,
        advice="good",
        why="in open water; in mud, weed and crevices it turns active and pits: never buried",
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Couple:
    """Two metals that touch under water."""

    goes: str  # the one that corrodes
    stays: str
    apart_mv: float
    level: Level
    advice: Advice
    why: str


def millivolts_apart(first: str, second: str) -> float:
    """Return how far two metals lie apart in the galvanic series.

    Source: galvanic series in flowing sea water; each water has its own order, and in a lake the
    damage is slower and nearer to the joint.

    Parameters
    ----------
    first, second : str
        Keys of `POTENTIAL_V`.

    Returns
    -------
    float
        Difference [mV], >= 0.

    Raises
    ------
    RangeError
        If a metal is not in the series; names those that are.
    """
    missing = [name for name in (first, second) if name not in POTENTIAL_V]
    if missing:
        raise RangeError(
            f"{', '.join(missing)} not in the series; there are {', '.join(POTENTIAL_V)}"
        )
    # whole millivolts: the series has hundredths of a volt
    return round(abs(POTENTIAL_V[first].value - POTENTIAL_V[second].value) * 1e3, 6)


def couple(first: str, second: str, *, goes_is_small: bool = False) -> Couple:
    """Return what two metals do to each other under water.

    Noted above 200 mV, warned of above 250 mV, and from 200 mV on where the part that goes is the
    small one or carries the load: ours, after the chart's and the guideline's limits.

    Parameters
    ----------
    first, second : str
        Keys of `POTENTIAL_V`.
    goes_is_small : bool
        Whether the part that corrodes is small, or carries the load.

    Returns
    -------
    Couple
        With what to do about it.

    Raises
    ------
    RangeError
        If a metal is not in the series.
    """
    apart = millivolts_apart(first, second)
    goes, stays = sorted((first, second), key=lambda name: POTENTIAL_V[name].value)
    noted = apart > NOTE_MV.value
    warned = apart > WARN_MV.value or (noted and goes_is_small)
    level: Level = "warn" if warned else "note" if noted else "good"
    pairing = _pairing(goes, stays, small=goes_is_small)
    if pairing is not None:
        advice, why = pairing.advice, pairing.why
    else:
        advice = "isolate" if warned else "watch" if noted else "good"
        why = f"{goes} corrodes beside {stays}" if noted else "close together in the series"
    return Couple(goes=goes, stays=stays, apart_mv=apart, level=level, advice=advice, why=why)


def _pairing(goes: str, stays: str, *, small: bool) -> Pairing | None:
    for one in PAIRINGS:
        if goes in one.goes and stays in one.stays and one.small in {None, small}:
            return one
    return None
