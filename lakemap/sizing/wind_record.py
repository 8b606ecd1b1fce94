"""A field's own record of hourly wind, and what is said of the wind reckoned from it."""

import numpy as np

from lakemap.basis.errors import BadInputError, Problem, RangeError
from lakemap.basis.records import Field
from lakemap.basis.wording import speed_text
from lakemap.loads.return_wind import RETURN_WIND, ReturnWind, return_wind
from lakemap.rig.columns import column


def record_of_wind(field: Field) -> ReturnWind | None:
    """Return the wind of the return period that the settings ask for.

    Parameters
    ----------
    field : Field
        With its record of hourly wind.

    Returns
    -------
    ReturnWind or None
        None where no return period is asked for.

    Raises
    ------
    BadInputError
        If the record is too short.
    """
    years = field.settings.storm.return_period_years
    if years is None:
        return None
    rows = [row for row in field.wind if row["time"] is not None and row["speed_m_s"] is not None]
    try:
        return return_wind(
            np.array([row["time"] for row in rows], dtype="datetime64[s]"),
            speed_m_s=np.array([row["speed_m_s"] for row in rows]),
            from_deg=column(row["from_deg"] for row in rows),
            years=years,
        )
    except RangeError as error:
        problem = Problem(code="wind_too_short", text=str(error), file="wind", column="time")
        raise BadInputError([problem, *field.problems]) from None


def wind_said(field: Field, blown: ReturnWind | None) -> tuple[Problem, ...]:
    """Return where the storm's wind comes from, if from a record.

    Parameters
    ----------
    field : Field
        For the units.
    blown : ReturnWind or None
        From its record.

    Returns
    -------
    tuple of Problem
        One caution, or none.
    """
    if blown is None:
        return ()
    units = field.settings.units
    text = (
        f"the wind of {blown.years:g} years is {speed_text(blown.speed_m_s, units)} as an hourly"
        f" mean, known to {speed_text(blown.error_m_s, units)} either way: Gumbel's law by moments"
        f" ({RETURN_WIND.source}) from {blown.months} months"
    )
    return (Problem(code="return_wind", text=text, file="wind", column="speed", fatal=False),)
