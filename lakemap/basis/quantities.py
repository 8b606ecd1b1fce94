"""Quantities as people write them, in and out: `10 ft 6 in`, `-1.5 ft`, `50 mph`, `3,2 m`."""

import math
import re
from collections.abc import Mapping
from types import MappingProxyType

from lakemap.basis.published import Published, exact

_SP811 = "NIST Special Publication 811, Guide for the Use of the SI, 2008"


def _unit(value: float, unit: str) -> Published:
    return exact(value, unit, _SP811, "appendix B.8")


FOOT_M = _unit(0.3048, "m/ft")
INCH_M = _unit(0.0254, "m/in")
POUND_KG = _unit(0.45359237, "kg/lb")
POUND_FORCE_N = _unit(4.4482216152605, "N/lbf")
MILE_PER_HOUR_M_S = _unit(0.44704, "(m/s)/mph")
KNOT_M_S = _unit(1852 / 3600, "(m/s)/kn")

_FT, _IN, _LB, _LBF = FOOT_M.value, INCH_M.value, POUND_KG.value, POUND_FORCE_N.value

# dimension -> unit as written -> factor to SI. The first unit of each is the one named in advice.
UNITS: Mapping[str, Mapping[str, float]] = MappingProxyType(
    {
        "length": {
            "ft": _FT,
            "in": _IN,
            "m": 1.0,
            "mm": 1e-3,
            "cm": 1e-2,
            "km": 1e3,
            "yd": 3 * _FT,
            "mi": 5280 * _FT,
        },
        "mass": {"lb": _LB, "kg": 1.0},
        "angle": {"deg": 1.0, "°": 1.0},
        "density": {"lb/ft3": _LB / _FT**3, "kg/m3": 1.0},
        "stiffness": {"lb/ft": _LBF / _FT, "n/m": 1.0},
        "speed": {
            "mph": MILE_PER_HOUR_M_S.value,
            "kn": KNOT_M_S.value,
            "m/s": 1.0,
            "km/h": 1 / 3.6,
        },
        "area": {"ft2": _FT**2, "m2": 1.0},
        "time": {"s": 1.0, "min": 60.0},
        "years": {"years": 1.0, "year": 1.0},
    }
)

# the suffix of a column that carries its unit -> (dimension, unit)
SUFFIXES: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "ft": ("length", "ft"),
        "in": ("length", "in"),
        "m": ("length", "m"),
        "mm": ("length", "mm"),
        "lb": ("mass", "lb"),
        "kg": ("mass", "kg"),
        "deg": ("angle", "deg"),
        "lb_ft3": ("density", "lb/ft3"),
        "kg_m3": ("density", "kg/m3"),
        "lb_ft": ("stiffness", "lb/ft"),
        "n_m": ("stiffness", "n/m"),
        "mph": ("speed", "mph"),
        "kn": ("speed", "kn"),
        "m_s": ("speed", "m/s"),
        "km_h": ("speed", "km/h"),
    }
)

_ALIASES = MappingProxyType(
    {
        "'": "ft",
        "′": "ft",
        "’": "ft",
        "foot": "ft",
        "feet": "ft",
        '"': "in",
        "″": "in",
        "”": "in",
        "inch": "in",
        "inches": "in",
        "lbs": "lb",
        "knots": "kn",
        "degrees": "deg",
        "sec": "s",
        "kmh": "km/h",
        "ft²": "ft2",
        "m²": "m2",
        "sq ft": "ft2",
        "mile": "mi",
        "miles": "mi",
        "metres": "m",
        "meters": "m",
        "lb/ft³": "lb/ft3",
        "kg/m³": "kg/m3",
    }
)
_NUMBER = r"[-+−]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][-+]?\d+)?"
_PART = re.compile(rf"\s*({_NUMBER})\s*([^\d\s.,+−-][^\d+−]*?[23²³]?)(?=\s*[\d+−.,-]|\s*$)")
_PLAIN = re.compile(rf"\s*({_NUMBER})\s*$")


def parse_number(text: str, *, decimal_comma: bool = False) -> float:
    """Read a bare number; inf and nan are no numbers.

    Parameters
    ----------
    text : str
        Digits with an optional sign, decimal sign and exponent.
    decimal_comma : bool
        True where the file writes 3,2 for 3.2.

    Returns
    -------
    float
        Always finite.

    Raises
    ------
    ValueError
        If the text is no number.
    """
    found = _PLAIN.match(text)
    if found is None:
        raise ValueError(f"{text.strip()!r} is no number; write the figure alone, such as 12.5")
    number = found.group(1).replace("−", "-")
    if "," in number and not decimal_comma:
        raise ValueError(f"{text.strip()!r} is no number; write a point for the decimals")
    value = float(number.replace(",", "."))
    if not math.isfinite(value):
        raise ValueError(f"{text.strip()!r} is no finite number")
    return value


def parse_quantity(text: str, dimension: str, *, decimal_comma: bool = False) -> float:
    """Read a quantity that carries its unit and return it in SI.

    Parameters
    ----------
    text : str
        Such as `3.2 m`, `10 ft 6 in`, `50 mph`; parts add up and share the sign of the first.
    dimension : str
        A key of `UNITS`.
    decimal_comma : bool
        True where the file writes 3,2 for 3.2.

    Returns
    -------
    float
        In m, kg, degrees, kg/m3, N/m, m/s, m2, s or years; always finite.

    Raises
    ------
    ValueError
        If it has no unit, an unknown one, or is no number; the text says what would be right.
    """
    stripped = text.strip()
    if not stripped:
        raise ValueError(f"empty; write a number and one of {_choices(dimension)}")
    total, at, parts = 0.0, 0, 0
    while at < len(stripped):
        found = _PART.match(stripped, at)
        if found is None:
            raise ValueError(_no_quantity(stripped, dimension))
        value = parse_number(found.group(1), decimal_comma=decimal_comma)
        if parts and value < 0:
            raise ValueError(f"{stripped!r}: only the first part may carry a minus")
        total += abs(value) * _factor(found.group(2).strip(), dimension, stripped)
        at, parts = found.end(), parts + 1
    if parts > 1 and dimension != "length":
        raise ValueError(f"{stripped!r}: write one number and one unit")
    return -total if stripped[0] in "-−" else total


def _choices(dimension: str) -> str:
    return ", ".join(unit for unit in UNITS[dimension] if unit != "°")


def _no_quantity(text: str, dimension: str) -> str:
    """Tell a bare number from something that is no quantity at all."""
    if _PLAIN.match(text) is not None:
        return f"{text!r} has no unit; write one of {_choices(dimension)}"
    return f"{text!r} is no quantity; write a number and one of {_choices(dimension)}"


def _factor(written: str, dimension: str, text: str) -> float:
    """Factor to SI of a unit as written."""
    unit = _ALIASES.get(written.lower(), written.lower())
    if unit not in UNITS[dimension]:
        raise ValueError(f"{text!r}: unit {written!r} is not one of {_choices(dimension)}")
    return UNITS[dimension][unit]
