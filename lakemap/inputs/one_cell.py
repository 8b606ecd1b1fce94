"""One cell as text, a date or a moment, and whether what it says can be meant."""

from datetime import date, datetime

Cell = object  # str, int, float, bool, date, datetime or None
# what can be measured about a float or a lake, in SI: a thousand kilometres, a micrometre
_MOST_M, _MOST_SI, _LEAST_SI = 1e6, 1e9, 1e-6


def has_unit(cell: str) -> bool:
    """Tell whether a cell carries a unit of its own, or is no number at all."""
    return any(sign.isalpha() or sign in "'\"′″°" for sign in cell) or not any(
        sign.isdigit() for sign in cell
    )


def shown(cell: Cell) -> str:
    """Return a cell as a message shows it."""
    return repr(cell.strip()) if isinstance(cell, str) else str(cell)


def within(value: float, cell: Cell, least: float | None, *, above: bool) -> float:
    """Return the value; raises where it is below what is allowed."""
    if least is None or value > least or (value == least and not above):
        return value
    raise ValueError(f"{shown(cell)} must be {'above' if above else 'at least'} {least:g}")


def sane(value: float, cell: Cell, dimension: str) -> float:
    """The value, unless it is of a size that no sum survives: a slip of the keyboard."""
    most = _MOST_M if dimension == "length" else _MOST_SI
    if value and not _LEAST_SI <= abs(value) <= most:
        size = "large" if abs(value) > most else "small"
        raise ValueError(f"{shown(cell)} is too {size} to be meant; look at the number and unit")
    return value


def text_of(cell: Cell) -> str:
    """Text of a cell; a spreadsheet's 15.0 is 15."""
    if isinstance(cell, float) and cell.is_integer():
        return str(int(cell))
    return str(cell).strip()


def read_date(cell: Cell) -> date:
    """Read one date.

    Parameters
    ----------
    cell : object
        A date, or text in ISO 8601.

    Returns
    -------
    date
        Without a time.

    Raises
    ------
    ValueError
        If it is no date; the text says what would be right.
    """
    if isinstance(cell, datetime):
        return cell.date()
    if isinstance(cell, date):
        return cell
    text = text_of(cell)
    try:
        return datetime.fromisoformat(text).date()
    except ValueError:
        raise ValueError(f"{text} is no date; write year-month-day, as 2024-05-13") from None


def read_time(cell: Cell) -> datetime:
    """Read one moment; raises with what would be right."""
    try:
        moment = cell if isinstance(cell, datetime) else datetime.fromisoformat(text_of(cell))
    except ValueError:
        text = f"{text_of(cell)} is no time; write it as 2024-05-13T14:00"
        raise ValueError(text) from None
    return moment.replace(tzinfo=None)


def as_date(cell: Cell) -> date | None:
    """Return the date in a cell, if it is one; a plain number is none."""
    if isinstance(cell, (date, datetime)):
        return read_date(cell)
    if not isinstance(cell, str) or not _looks_dated(cell.strip()):
        return None
    try:
        return read_date(cell)
    except ValueError:
        return None


def _looks_dated(text: str) -> bool:
    """Tell whether a text begins as year-month-day does; 20240513 would be a number, too."""
    return len(text) >= len("2024-05-13") and text[:4].isdigit() and text[4] == "-" == text[7]
