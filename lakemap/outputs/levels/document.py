"""A lake's levels as JSON: SI, unrounded, every key always there."""

from typing import Any, Final

from lakemap.lake.gauge import Gap, Reading, YearRead
from lakemap.mapping import Assessment
from lakemap.outputs.levels.notes import field_toml_lines, level_notes
from lakemap.season.levels import LakeLevels
from lakemap.season.low_water import AtLevel, Growth, LowWater

FORMAT: Final = "lakemap levels 1"
_VERDICTS: Final = ("conflict", "tight", "unknown", "clear")


def levels_document(assessment: Assessment, levels: LakeLevels, low: LowWater) -> dict[str, Any]:
    """Return the document of a lake's levels.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    levels : LakeLevels
        What its readings say.
    low : LowWater
        What low water did.

    Returns
    -------
    dict
        Ready for JSON: None for what is unknown; no key is ever absent, no list is null.
    """
    asked, given = levels.asked, levels.settings
    readings = levels.readings
    grown = low.lowest.circles.growth_from(low.low.circles)
    return {
        "format": FORMAT,
        "field": assessment.field.folder,
        "since": None if asked.since is None else asked.since.isoformat(),
        "until": None if asked.until is None else asked.until.isoformat(),
        "first": readings.date_of(0).isoformat(),
        "last": readings.date_of(len(readings.day) - 1).isoformat(),
        "readings": len(readings.day),
        "covered_days": levels.covered_days,
        "usual_days": levels.usual_days,
        "longest_gap": _gap(levels.gap),
        "low_share": asked.low_share,
        "high_share": asked.high_share,
        "levels_m": {"low": levels.low_m, "normal": levels.normal_m, "high": levels.high_m},
        "settings_m": {
            "low": given.low_m,
            "normal": given.normal_m,
            "high": given.high_m,
            "soundings": given.soundings_m,
        },
        "lowest": _reading(levels.lowest),
        "highest": _reading(levels.highest),
        "below_low": {
            "readings": levels.below,
            "grown": _growth(grown) if levels.below else None,
            "worse": list(low.lowest.worse_than(low.low)) if levels.below else [],
        },
        "above_high": {
            "readings": levels.above,
            "pulled_under": list(low.pulled_under) if levels.above else [],
        },
        "slips": [_reading(one) for one in levels.slips],
        "at_normal": _verdicts(low.normal),
        "at_low": _verdicts(low.low),
        "years": [_year(year, at, low.normal) for year, at in low.years],
        "field_toml": field_toml_lines(levels, assessment.field.settings.units),
        "notes": list(level_notes(assessment, levels, low)),
    }


def _year(year: YearRead, at: AtLevel, normal: AtLevel) -> dict[str, Any]:
    return {
        "year": year.year,
        "readings": year.count,
        "lowest": _reading(year.lowest),
        "highest": _reading(year.highest),
        "verdicts": _verdicts(at),
        "worse_than_normal": list(at.worse_than(normal)),
        "grown": _growth(at.circles.growth_from(normal.circles)),
    }


def _verdicts(at: AtLevel) -> dict[str, int]:
    return {verdict: at.verdicts.count(verdict) for verdict in _VERDICTS}


def _reading(one: Reading) -> dict[str, Any]:
    return {"date": one.on.isoformat(), "level_m": one.level_m}


def _growth(one: Growth | None) -> dict[str, Any] | None:
    return None if one is None else {"float_id": one.float_id, "radius_m": one.radius_m}


def _gap(one: Gap | None) -> dict[str, Any] | None:
    if one is None:
        return None
    return {"days": one.days, "start": one.start.isoformat(), "end": one.end.isoformat()}
