"""A number from print, with its unit, range and source; and the numbers that all parts share."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Published:
    """One number from print, or one of ours that says so.

    Parameters
    ----------
    value : float
        The number, in `unit`.
    unit : str
        Its unit.
    low, high : float
        The printed range or spread, ends included; both equal to `value` for an exact number.
    source : str
        Title, body and year; "common practice, no published source"; or "ours" with the reason.
    locator : str
        Table, equation or page.
    """

    value: float
    unit: str
    low: float
    high: float
    source: str
    locator: str


def exact(value: float, unit: str, source: str, locator: str) -> Published:
    """Return a published number without a spread.

    Parameters
    ----------
    value : float
        The number.
    unit, source, locator : str
        As in `Published`.

    Returns
    -------
    Published
        With low and high equal to value.
    """
    return Published(value=value, unit=unit, low=value, high=value, source=source, locator=locator)


GRAVITY_M_S2 = exact(
    9.80665, "m/s2", "3rd General Conference on Weights and Measures, 1901", "standard gravity"
)
FRESH_WATER_KG_M3 = Published(
    value=1000.0,
    unit="kg/m3",
    low=995.65,
    high=999.975,
    source="ours: a round figure; Tanaka et al., Metrologia 38 (2001) 301-309, give the range",
    locator="density of water, 4 to 30 degrees C",
)
PERSON_LB = exact(
    185.0, "lb", "46 CFR 170.090(d)(1), assumed average weight since 1 December 2011", "(d)(1)"
)
