"""What a price is for: a piece, a foot, a metre, or so many of them as one roll or box."""

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

from lakemap.basis.quantities import FOOT_M

SoldUnit = Literal["piece", "ft", "m"]
SOLD_BY: Final = "piece, ft, m, 100 ft, roll of 100 ft, roll of 50 m or box of 10"
_UNITS: Final[dict[str, SoldUnit]] = {
    "": "piece", "piece": "piece", "pieces": "piece", "each": "piece", "pc": "piece",
    "pcs": "piece", "ft": "ft", "foot": "ft", "feet": "ft", "m": "m", "metre": "m",
    "metres": "m", "meter": "m", "meters": "m",
}  # fmt: skip
_NUMBER: Final = r"(?P<number>\d+(?:\.\d+)?)"
_PER: Final = re.compile(rf"(?:(?P<lot>[a-z]+) of )?(?:{_NUMBER} ?)?(?P<unit>[a-z]*)")
_METRES: Final[dict[SoldUnit, float]] = {"ft": FOOT_M.value, "m": 1.0}


@dataclass(frozen=True, slots=True, kw_only=True)
class SoldBy:
    """What one price buys."""

    unit: SoldUnit
    amount: Fraction  # units that the price is for
    lot: str | None  # roll, box: they are sold whole

    @property
    def metres(self) -> float | None:
        """Length of one unit [m]; None: it is a piece."""
        return _METRES.get(self.unit)


def read_sold_by(text: str | None) -> SoldBy:
    """Read what a price is for.

    Parameters
    ----------
    text : str or None
        Such as `piece`, `ft`, `100 ft`, `roll of 50 m`, `box of 10`; blank is a piece.

    Returns
    -------
    SoldBy
        With an amount above 0.

    Raises
    ------
    ValueError
        If it is none of these; says what would be right.
    """
    written = " ".join((text or "").lower().split())
    found = _PER.fullmatch(written)
    unit = None if found is None else _UNITS.get(found["unit"])
    if found is None or unit is None or (found["lot"] and not found["number"]):
        raise ValueError(f"{text!r} is nothing that a price can be for; write {SOLD_BY}")
    amount = Fraction(found["number"] or 1)
    if amount <= 0:
        raise ValueError(f"{text!r}: need an amount above 0, such as roll of 100 ft")
    return SoldBy(unit=unit, amount=amount, lot=found["lot"])
