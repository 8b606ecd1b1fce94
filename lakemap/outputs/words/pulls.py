"""Pulls and the part that they ask most of, in words."""

from lakemap.basis.records import Units
from lakemap.basis.wording import figure, force_text
from lakemap.sizing.records import LineSizing


def pull_text(newtons: float | None, units: Units, *, unknown: str) -> str:
    """Return a pull, never said to be less than it is.

    Parameters
    ----------
    newtons : float or None
        The pull [N].
    units : {'ft-lb', 'm-kg'}
        What people use.
    unknown : str
        What stands where it is not known.

    Returns
    -------
    str
        As `1,204 lb`.
    """
    return unknown if newtons is None else force_text(newtons, units, rounding="up")


def used_text(share: float | None, *, unknown: str) -> str:
    """Return how much of a strength is used, never said to be less than it is.

    Parameters
    ----------
    share : float or None
        Of the strength that the part may work at.
    unknown : str
        What stands where it is not known.

    Returns
    -------
    str
        As `48 %`.
    """
    return unknown if share is None else f"{figure(100 * share, digits=0, rounding='up')} %"


def weakest_text(line: LineSizing, *, unknown: str) -> str:
    """Return the weakest part of a line, and how much of its strength is used.

    Parameters
    ----------
    line : LineSizing
        Of one float.
    unknown : str
        What stands where no part's strength is known.

    Returns
    -------
    str
        As `eye bolt, 48 % used`.
    """
    part = line.weakest
    if part is None or part.used is None:
        return unknown
    return f"{part.name}, {used_text(part.used, unknown=unknown)} used"
