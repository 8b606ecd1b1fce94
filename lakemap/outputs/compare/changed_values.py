"""An old and a new value as people read them, in as many digits as tell them apart."""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

from lakemap.basis.published import GRAVITY_M_S2
from lakemap.basis.quantities import FOOT_M, MILE_PER_HOUR_M_S, POUND_FORCE_N, POUND_KG
from lakemap.basis.records import Units
from lakemap.basis.wording import (
    area_text,
    figure,
    length_text,
    measure_text,
    speed_text,
    weight_text,
)
from lakemap.changes.records import Value

ARROW: Final = "→"
_BLANK: Final = "blank"
_DIGITS: Final = (0, 1, 2, 3, 4, 6)  # the last tells apart what no tape does
_Write = Callable[[float], str]
# unit in SI -> what people use instead of it, and how much that is
_FEET_AND_POUNDS: Final[Mapping[str, tuple[str, float]]] = MappingProxyType(
    {
        "m": ("ft", FOOT_M.value),
        "m2": ("ft²", FOOT_M.value**2),
        "kg": ("lb", POUND_KG.value),
        "kg/m3": ("lb/ft³", POUND_KG.value / FOOT_M.value**3),
        "N/m": ("lb/ft", POUND_FORCE_N.value / FOOT_M.value),
        "m/s": ("mph", MILE_PER_HOUR_M_S.value),
    }
)
_METRIC: Final[Mapping[str, str]] = MappingProxyType({"m2": "m²", "kg/m3": "kg/m³", "deg": "°"})


def value_pair(
    old: Value, new: Value, unit: str | None, units: Units, *, tape: bool = True
) -> tuple[str, str]:
    """Return two values in words that differ where the values do.

    Parameters
    ----------
    old, new : float, str, tuple of float, or None
        SI; None is blank.
    unit : str or None
        In SI; None: a word or a count.
    units : {'ft-lb', 'm-kg'}
        What people use.
    tape : bool
        True writes lengths as a tape shows them: 10 ft 6 in; False as rules have them: 10.5 ft.

    Returns
    -------
    tuple of str
        In the user's units.
    """
    ways = _ways(unit, units, tape=tape)
    if old == new:
        return _text(old, ways[0]), _text(new, ways[0])
    texts = ((_text(old, write), _text(new, write)) for write in ways)
    return next((pair for pair in texts if pair[0] != pair[1]), (str(old), str(new)))


def value_text(value: Value, unit: str | None, units: Units) -> str:
    """Return one value as people read it first: whole pounds, lengths as rules have them."""
    return _text(value, _ways(unit, units, tape=False)[0])


def arrow(pair: tuple[str, str]) -> str:
    """Return a change as `old → new`."""
    return f"{pair[0]} {ARROW} {pair[1]}"


def _text(value: Value, write: _Write) -> str:
    if value is None or value == "":
        return _BLANK
    if isinstance(value, tuple):
        return ", ".join(write(one) for one in value)
    return value if isinstance(value, str) else write(value)


def _ways(unit: str | None, units: Units, *, tape: bool) -> list[_Write]:
    """How a value may be written, the friendliest first."""
    friendly: dict[str, list[_Write]] = {
        "m": [lambda v: measure_text(v, units) if tape else _plain(v, units)],
        "m2": [lambda v: area_text(v, units)],
        "kg": [lambda v: weight_text(v * GRAVITY_M_S2.value, units)],
        "m/s": [lambda v: speed_text(v, units)],
    }
    return [*friendly.get(unit or "", ()), *(_exact(unit, units, digits) for digits in _DIGITS)]


def _plain(metres: float, units: Units) -> str:
    """A length without noughts that say nothing: `20 ft`, `−1.5 ft`."""
    number, unit = length_text(metres, units).split()
    return f"{number.rstrip('0').rstrip('.')} {unit}"


def _exact(unit: str | None, units: Units, digits: int) -> _Write:
    name, size = unit or "", 1.0
    if units == "ft-lb":
        name, size = _FEET_AND_POUNDS.get(name, (name, 1.0))
    name = _METRIC.get(name, name)
    space = "" if name in {"", "°"} else " "
    return lambda value: f"{figure(value / size, digits=digits)}{space}{name}"
