"""What the planner page starts from, beside the map's own data."""

from typing import Any

from lakemap.planner.planned import next_id
from lakemap.planner.reading import Reading


def plan_block(reading: Reading) -> dict[str, Any]:
    """Return the page's block about the plan.

    Parameters
    ----------
    reading : Reading
        The folder as it was read for the page.

    Returns
    -------
    dict
        JSON-able.
    """
    field = reading.base.field
    settings = field.settings
    storm = settings.storm
    return {
        "stamp": reading.key,
        "next_id": next_id(field),
        "ids": [one.float_id for one in field.floats],
        "levels_m": {
            "low": settings.levels.low_m,
            "normal": settings.levels.normal_m,
            "high": settings.levels.high_m,
        },
        "storm": {
            "wind_m_s": storm.wind_m_s,
            "gust_m_s": storm.gust_m_s,
            "from_deg": list(storm.from_deg) if storm.from_deg is not None else None,
        },
        "units": settings.units,
        "folder": field.folder,
    }
