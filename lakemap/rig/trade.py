"""Sizes and units of the trade, as print and people write them: 3/8 in, 8-mm, lbf, short tons."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import Final, Literal, TypeVar

from lakemap.basis.errors import RangeError
from lakemap.basis.published import GRAVITY_M_S2, Published, exact
from lakemap.basis.quantities import INCH_M, POUND_FORCE_N

_Row = TypeVar("_Row")

SHORT_TON_LBF: Final = exact(
    2000.0, "lbf", "NIST Special Publication 811, Guide for the Use of the SI, 2008", "appendix B.8"
)
# a catalogue's "kg" of a load is a mass: its weight counts
_NEWTONS: Mapping[str, float] = MappingProxyType(
    {
        "lbf": POUND_FORCE_N.value,
        "short ton": SHORT_TON_LBF.value * POUND_FORCE_N.value,
        "kN": 1e3,
        "kg": GRAVITY_M_S2.value,
    }
)
_INCHES = ("in", "inch", "inches", '"', "″", "”", "")  # a size without a unit is one in inches
_NUMBER = r"(?:(?P<whole>\d+)[\s-]+)?(?P<upper>\d+)/(?P<lower>\d+)|(?P<plain>\d*[.,]?\d+)"
_UNIT = r"(?P<unit>inches|inch|in|mm|[\"″”]|)"
_SIZE = re.compile(rf"\s*(?:{_NUMBER})\s*-?\s*{_UNIT}\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class TradeSize:
    """A size: a name first of all, and what it measures."""

    number: Fraction
    unit: Literal["in", "mm"]

    @property
    def name(self) -> str:
        """The size as the tables write it: `3/8 in`, `1 1/8 in`, `10 mm`."""
        if self.unit == "mm":
            return f"{float(self.number):g} mm"
        whole, rest = divmod(self.number, 1)
        shown = [str(part) for part in (whole, rest) if part]
        return f"{' '.join(shown)} in"

    @property
    def length_m(self) -> float:
        """What the name measures [m]; of chain not the bar."""
        return float(self.number) * (INCH_M.value if self.unit == "in" else 1e-3)


def trade_size(text: str) -> TradeSize:
    """Read a size.

    Parameters
    ----------
    text : str
        Such as `3/8 in`, `3/8`, `1 1/8"`, `10 mm`, `8-mm`; without a unit it is in inches.

    Returns
    -------
    TradeSize
        Above 0.

    Raises
    ------
    RangeError
        If it is no size.
    """
    found = _SIZE.fullmatch(text)
    if found is None or (found["lower"] and int(found["lower"]) == 0):
        raise RangeError(f"{text!r} is no size; write it as 3/8 in or 10 mm")
    if found["lower"]:
        number = int(found["whole"] or 0) + Fraction(int(found["upper"]), int(found["lower"]))
    else:
        number = Fraction(found["plain"].replace(",", "."))
    if number <= 0:
        raise RangeError(f"{text!r}: need a size above 0")
    return TradeSize(number=number, unit="in" if found["unit"].lower() in _INCHES else "mm")


def row_of(table: Mapping[str, _Row], size: str, *, what: str) -> _Row:
    """Return a table's row for a size.

    Parameters
    ----------
    table : mapping of str to row
        By the size's name.
    size : str
        As written.
    what : str
        What the table is about, for the message.

    Returns
    -------
    row
        Of that size.

    Raises
    ------
    RangeError
        If the table has no such size; names those that exist.
    """
    name = trade_size(size).name
    if name not in table:
        raise RangeError(
            f"no published strength for {what} {name}; there are {', '.join(table)}"
            if table
            else f"no published strength for {what} of any size"
        )
    return table[name]


def newtons(printed: Published) -> float:
    """Return a printed load in newtons.

    Parameters
    ----------
    printed : Published
        In lbf, short tons, kN, or kg of load.

    Returns
    -------
    float
        Force [N].
    """
    return printed.value * _NEWTONS[printed.unit]
