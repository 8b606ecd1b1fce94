"""Numbers as people read them: user's units, a real minus, rounding that never flatters."""

import math
from fractions import Fraction
from typing import Literal

from lakemap.basis.published import GRAVITY_M_S2
from lakemap.basis.quantities import FOOT_M, INCH_M, MILE_PER_HOUR_M_S, POUND_FORCE_N
from lakemap.basis.records import Units

Rounding = Literal["nearest", "up", "down"]
MINUS = "−"
_POINTS = (
    "north",
    "north-northeast",
    "northeast",
    "east-northeast",
    "east",
    "east-southeast",
    "southeast",
    "south-southeast",
    "south",
    "south-southwest",
    "southwest",
    "west-southwest",
    "west",
    "west-northwest",
    "northwest",
    "north-northwest",
)
_FOOT_POUND_N_M = FOOT_M.value * POUND_FORCE_N.value
_ROUNDING = 1e-6  # of the last digit: 1.4 ft that became 1.39999999 on its way is still 1.4 ft


def figure(value: float, *, digits: int = 1, rounding: Rounding = "nearest") -> str:
    """Return a number with a fixed count of decimals.

    Parameters
    ----------
    value : float
        Finite.
    digits : int
        Decimals.
    rounding : {'nearest', 'up', 'down'}
        Up is towards +inf, down towards -inf.

    Returns
    -------
    str
        With a real minus; never a minus nought.
    """
    scaled = value * 10**digits
    whole = {
        "nearest": math.floor(scaled + 0.5),
        "up": math.ceil(scaled - _ROUNDING),
        "down": math.floor(scaled + _ROUNDING),
    }[rounding]
    text = f"{abs(whole) / 10**digits:,.{digits}f}"
    return f"{MINUS}{text}" if whole < 0 else text


def small_text(metres: float, units: Units, *, rounding: Rounding = "nearest") -> str:
    """Return the length of a small thing, as a rule shows it.

    Parameters
    ----------
    metres : float
        Length.
    units : {'ft-lb', 'm-kg'}
        What people use.
    rounding : {'nearest', 'up', 'down'}
        Of millimetres; inches go to the nearest sixteenth.

    Returns
    -------
    str
        `1 7/8 in`, `48 mm`.
    """
    if units == "m-kg":
        return f"{figure(metres * 1e3, digits=0, rounding=rounding)} mm"
    whole, rest = divmod(Fraction(metres / INCH_M.value).limit_denominator(16), 1)
    return f"{' '.join(str(part) for part in (whole, rest) if part)} in"


def torque_text(foot_pounds: float, units: Units) -> str:
    """Return how tight a nut is turned.

    Parameters
    ----------
    foot_pounds : float
        As the tables of clips print it.
    units : {'ft-lb', 'm-kg'}
        What people use.

    Returns
    -------
    str
        `30 ft·lb`, `41 N·m`.
    """
    if units == "ft-lb":
        return f"{foot_pounds:g} ft·lb"
    return f"{figure(foot_pounds * _FOOT_POUND_N_M, digits=0)} N·m"


def length_unit(units: Units) -> str:
    """Return the unit of lengths, `ft` or `m`."""
    return "ft" if units == "ft-lb" else "m"


def length_figure(metres: float, units: Units, *, rounding: Rounding = "nearest") -> str:
    """Return a length without its unit: tenths of a foot, or centimetres.

    Parameters
    ----------
    metres : float
        Length [m].
    units : {'ft-lb', 'm-kg'}
        What people use.
    rounding : {'nearest', 'up', 'down'}
        A shortfall rounds up, a spare rounds down.

    Returns
    -------
    str
        Such as `25.1` or `7.65`.
    """
    if units == "ft-lb":
        return figure(metres / FOOT_M.value, digits=1, rounding=rounding)
    return figure(metres, digits=2, rounding=rounding)


def length_text(metres: float, units: Units, *, rounding: Rounding = "nearest") -> str:
    """Return a length with its unit, such as `25.1 ft` or `7.65 m`.

    Parameters
    ----------
    metres : float
        Length [m].
    units : {'ft-lb', 'm-kg'}
        What people use.
    rounding : {'nearest', 'up', 'down'}
        A shortfall rounds up, a spare rounds down.

    Returns
    -------
    str
        Figure and unit.
    """
    return f"{length_figure(metres, units, rounding=rounding)} {length_unit(units)}"


def measure_text(metres: float, units: Units) -> str:
    """Return a length as a tape shows it, such as `10 ft 6 in` or `3.20 m`.

    Parameters
    ----------
    metres : float
        Length [m].
    units : {'ft-lb', 'm-kg'}
        What people use.

    Returns
    -------
    str
        Feet and whole inches, or metres and centimetres.
    """
    if units != "ft-lb":
        return length_text(metres, units)
    inches = math.floor(abs(metres) / INCH_M.value + 0.5)
    feet, rest = divmod(inches, 12)
    sign = MINUS if metres < 0 and inches else ""
    if feet and rest:
        return f"{sign}{feet} ft {rest} in"
    return f"{sign}{rest} in" if rest else f"{sign}{feet} ft"


def bar_text(metres: float, units: Units) -> str:
    """Return a thickness as a caliper shows it, such as `0.394 in` or `10.0 mm`.

    Parameters
    ----------
    metres : float
        Diameter [m].
    units : {'ft-lb', 'm-kg'}
        What people use.

    Returns
    -------
    str
        Thousandths of an inch, or tenths of a millimetre.
    """
    if units == "ft-lb":
        return f"{figure(metres / INCH_M.value, digits=3)} in"
    return f"{figure(metres * 1e3)} mm"


def weight_text(newtons: float, units: Units, *, rounding: Rounding = "nearest") -> str:
    """Return a dry weight as scales show it, `112 lb` or `51 kg`.

    Parameters
    ----------
    newtons : float
        Weight [N].
    units : {'ft-lb', 'm-kg'}
        What people use.
    rounding : {'nearest', 'up', 'down'}
        A shortfall rounds up, a spare rounds down.

    Returns
    -------
    str
        Whole pounds or kilograms.
    """
    if units == "ft-lb":
        return force_text(newtons, units, rounding=rounding)
    return f"{figure(newtons / GRAVITY_M_S2.value, digits=0, rounding=rounding)} kg"


def force_text(newtons: float, units: Units, *, rounding: Rounding = "nearest") -> str:
    """Return a force or a weight in water, `112 lb` or `498 N`.

    Parameters
    ----------
    newtons : float
        Force [N].
    units : {'ft-lb', 'm-kg'}
        What people use.
    rounding : {'nearest', 'up', 'down'}
        A shortfall rounds up, a spare rounds down.

    Returns
    -------
    str
        Whole pounds-force or newtons.
    """
    if units == "ft-lb":
        return f"{figure(newtons / POUND_FORCE_N.value, digits=0, rounding=rounding)} lb"
    return f"{figure(newtons, digits=0, rounding=rounding)} N"


def speed_text(metres_per_second: float, units: Units) -> str:
    """Return a wind speed, `50 mph` or `22 m/s`.

    Parameters
    ----------
    metres_per_second : float
        Speed [m/s].
    units : {'ft-lb', 'm-kg'}
        What people use.

    Returns
    -------
    str
        Whole miles per hour or metres per second.
    """
    if units == "ft-lb":
        return f"{figure(metres_per_second / MILE_PER_HOUR_M_S.value, digits=0)} mph"
    return f"{figure(metres_per_second, digits=0)} m/s"


def area_text(square_metres: float, units: Units, *, rounding: Rounding = "nearest") -> str:
    """Return an area, `100 ft²` or `9.3 m²`.

    Parameters
    ----------
    square_metres : float
        Area [m2].
    units : {'ft-lb', 'm-kg'}
        What people use.
    rounding : {'nearest', 'up', 'down'}
        A shortfall rounds up, a spare rounds down.

    Returns
    -------
    str
        Figure and unit.
    """
    if units == "ft-lb":
        return f"{figure(square_metres / FOOT_M.value**2, digits=0, rounding=rounding)} ft²"
    return f"{figure(square_metres, digits=1, rounding=rounding)} m²"


def compass_text(bearing_deg: float) -> str:
    """Return a true bearing in words, such as `west-southwest`.

    Parameters
    ----------
    bearing_deg : float
        True bearing [degrees].

    Returns
    -------
    str
        One of sixteen points.
    """
    return _POINTS[round(bearing_deg % 360 / (360 / len(_POINTS))) % len(_POINTS)]
