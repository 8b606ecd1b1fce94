"""Until when permits run, as far as their texts say it."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final, Literal

from lakemap.basis.records import Float

PermitState = Literal["overdue", "due", "later", "no date", "unread"]
_DAY: Final = re.compile(r"(?<!\d)(\d{4})-(\d{2})-(\d{2})(?!\d)")
_UNTIL: Final = r"(?:until|till|through|thru|to|expires?|expiry|ends?|valid|renew(?:al)?|due)"
# the word, then the day, at most "on", "by" or "date" and signs between
_UNTIL_DAY: Final = re.compile(
    rf"\b{_UNTIL}\b[\s:.=]*(?:(?:on|by|date|the)\b[\s:.]*)*{_DAY.pattern}", re.IGNORECASE
)
_SPAN_DAY: Final = re.compile(rf"{_DAY.pattern}\s*(?:[-–—/]|\.\.)\s*{_DAY.pattern}")
_UNTIL_SOMETHING: Final = re.compile(
    r"\b(?:until|till|through|thru|expires?|expiry|valid\s+(?:to|until))\b", re.IGNORECASE
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Permit:
    """The permit of one float."""

    float_id: str
    text: str  # private
    until: date | None
    state: (
        PermitState  # no date: its text has none; unread: it seems to have one, not year-month-day
    )


def permits(floats: Sequence[Float], *, on: date, until: date) -> tuple[Permit, ...]:
    """Return the permits of a field's floats and when they run out.

    Parameters
    ----------
    floats : sequence of Float
        Retired ones have none that matters.
    on : date
        The day.
    until : date
        What runs out by then is `due`.

    Returns
    -------
    tuple of Permit
        In file order; floats without a permit have none.
    """
    return tuple(
        _permit(one.float_id, one.permit, on=on, until=until)
        for one in floats
        if one.permit and one.status != "retired"
    )


def _permit(float_id: str, text: str, *, on: date, until: date) -> Permit:
    day = runs_until(text)
    state: PermitState
    if day is not None:
        state = "overdue" if day < on else "due" if day <= until else "later"
    else:
        state = "unread" if _UNTIL_SOMETHING.search(text) else "no date"
    return Permit(float_id=float_id, text=text, until=day, state=state)


def runs_until(text: str) -> date | None:
    """Return the day until which a permit's text says that it runs.

    Parameters
    ----------
    text : str
        Such as `TL-2007 until 2027-05-01`, `expires 2027-05-01`, `2025-05-01 to 2027-05-01`.

    Returns
    -------
    date or None
        The latest such day; a day alone, which may be that of the grant, counts for none.
    """
    found = [match.groups()[-3:] for match in _UNTIL_DAY.finditer(text)]
    found += [match.groups()[-3:] for match in _SPAN_DAY.finditer(text)]
    days = []
    for year, month, day in found:
        try:
            days.append(date(int(year), int(month), int(day)))
        except ValueError:
            continue
    return max(days, default=None)
