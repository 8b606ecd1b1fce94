"""field.toml as settings: every key known, every quantity with its unit, every slip told."""

import re
from collections.abc import Iterator
from pathlib import Path
from types import MappingProxyType
from typing import Final, Literal, cast, get_args

from lakemap.basis.errors import ProblemLog
from lakemap.basis.records import (
    Accuracy,
    Levels,
    Rule,
    Season,
    Settings,
    Storm,
    Units,
    Wake,
)
from lakemap.inputs.tables import decode, read_bytes
from lakemap.inputs.toml_reader import (
    DEPTH_RULES,
    DISTANCE_RULES,
    SITE_WEIGHTS,
    TomlReader,
    open_toml,
)
from lakemap.loads.wakes import NEAREST_M
from lakemap.loads.waves import MODELS

_FULL_TURN = 360.0
_NO_SOURCE = "no source given; check your local code"
PHONE_POSITION = "4.16 m"  # 16 ft read as a median radius, one axis: GPS.gov, GPS accuracy
# what `lakemap start` writes; standing there word for word, they are nobody's reading yet
GUESSED_LEVELS: Final = """\
low = "-1 ft"        # a guess until you write your own
normal = "0 ft"      # a guess until you write your own
high = "1 ft"        # a guess until you write your own
"""
_HOLDINGS = ("practice", "unburied", "buried")
_MODES = ("full_circle", "same_wind")
_MONTH_DAY = re.compile(r"(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])")


def read_settings(path: Path, log: ProblemLog, *, folder_name: str) -> Settings | None:
    """Read field.toml.

    Parameters
    ----------
    path : Path
        The file.
    log : ProblemLog
        Gains every problem.
    folder_name : str
        The field's name where the file has none.

    Returns
    -------
    Settings or None
        Defaults filled in; None where the file can't be read or the levels are missing.
    """
    data = read_bytes(path, log)
    text = None if data is None else decode(data, path, log)
    if text is None:
        return None
    reader = open_toml(text, path, log)
    if reader is None:
        return None
    reader.check_keys()
    levels = _levels(reader)
    if GUESSED_LEVELS in text.replace("\r\n", "\n"):
        said = "these are still the guesses that `lakemap start` wrote; write your gauge's readings"
        reader.tell("levels_guessed", said, "levels", fatal=False)
    storm, accuracy = _storm(reader), _accuracy(reader)
    rules = MappingProxyType(dict(_rules(reader)))
    wake, season, people = _wake(reader), _season(reader), _people(reader)
    weights = {
        key: reader.number(f"sites.weights.{key}", default) for key, default in SITE_WEIGHTS.items()
    }
    units = cast("Units", reader.choice("units", get_args(Units), "ft-lb"))
    holding = reader.choice("sizing.holding", _HOLDINGS, "practice")
    if levels is None:
        return None
    return Settings(
        name=reader.text("name", None) or folder_name,
        units=units,
        crs=reader.text("crs", "EPSG:4326") or "EPSG:4326",
        levels=levels,
        storm=storm,
        wake=wake,
        accuracy=accuracy,
        rules=rules,
        season=season,
        site_weights=MappingProxyType(weights),
        holding=cast('Literal["practice", "unburied", "buried"]', holding),
        people=people,
    )


def _levels(reader: TomlReader) -> Levels | None:
    """Levels of the lake; low, normal and high must be there."""
    found = {
        key: reader.quantity(f"levels.{key}", "length", None, least=None)
        for key in ("low", "normal", "high", "soundings")
    }
    for key in ("low", "normal", "high"):
        if reader.get(f"levels.{key}") in (None, ""):
            text = f'is missing; write the gauge at {key} water, as {key} = "0 ft"'
            reader.tell("level_missing", text, f"levels.{key}")
    low, normal, high = found["low"], found["normal"], found["high"]
    if low is None or normal is None or high is None:
        return None
    if not low <= normal <= high:
        text = "low, normal and high must rise in this order; up is +"
        reader.tell("levels_order", text, "levels")
    soundings = found["soundings"]
    return Levels(
        low_m=low,
        normal_m=normal,
        high_m=high,
        soundings_m=normal if soundings is None else soundings,
    )


def _storm(reader: TomlReader) -> Storm:
    wind = reader.si("storm.wind", "speed", "50 mph")
    if wind > MODELS["spm"].wind_max_m_s:
        text = f"{reader.get('storm.wind')!r} is above 134 mph (60 m/s): no law of waves covers it"
        reader.tell("wind_too_strong", text, "storm.wind")
    gust = reader.quantity("storm.gust", "speed", None)
    if gust is not None and gust < wind:
        text = f"{reader.get('storm.gust')!r} must not be below the mean wind"
        reader.tell("gust_below_wind", text, "storm.gust")
    years = reader.quantity("storm.return_period", "years", None)
    if years is not None and (reader.get("storm.wind") or reader.get("storm.gust")):
        text = "give either wind and gust, or a return_period with a wind file"
        reader.tell("two_winds", text, "storm.return_period")
    return Storm(
        wind_m_s=wind,
        gust_m_s=gust,
        current_m_s=reader.si("storm.current", "speed", "0 mph"),
        from_deg=_bearings(reader),
        return_period_years=years,
    )


def _bearings(reader: TomlReader) -> tuple[float, ...] | None:
    """Bearings that the storm may come from; None: all."""
    value = reader.get("storm.from_deg")
    if value is None or value == "all":
        return None
    listed = value if isinstance(value, list) else [value]
    sound = [
        float(one)
        for one in listed
        if isinstance(one, (int, float)) and not isinstance(one, bool) and 0 <= one <= _FULL_TURN
    ]
    if not listed or len(sound) < len(listed):
        text = f'{value!r} must be "all", or a list of true bearings from 0 to 360, as [225, 270]'
        reader.tell("bad_bearings", text, "storm.from_deg")
        return None
    return tuple(sound)


def _wake(reader: TomlReader) -> Wake:
    wake = Wake(
        height_m=reader.si("wake.height", "length", "2 ft"),
        period_s=reader.above("wake.period", "time", "2.2 s"),
        at_m=reader.above("wake.at", "length", "100 ft"),
        nearest_m=reader.above("wake.nearest", "length", "50 ft"),
    )
    if wake.nearest_m < min(wake.at_m, NEAREST_M) * (1 - 1e-9):
        text = (
            "boats pass nearer than 50 ft and nearer than where the wake's height is given: it is"
            " reckoned beyond what the law of its decay holds for; give its height there (`at`)"
        )
        reader.tell("wake_too_near", text, "wake.nearest", fatal=False)
    return wake


def _accuracy(reader: TomlReader) -> Accuracy:
    return Accuracy(
        position_m=reader.si("accuracy.position", "length", PHONE_POSITION),
        position_given=reader.get("accuracy.position") not in (None, ""),
        depth_m=reader.quantity("accuracy.depth", "length", None),
        level_m=reader.si("accuracy.level", "length", "0.25 ft"),
        line_m=reader.si("accuracy.line", "length", "0.5 ft"),
        layer_m=reader.si("accuracy.layer", "length", "5 ft"),
    )


def _rules(reader: TomlReader) -> Iterator[tuple[str, Rule]]:
    """Rules that have a table; one without its limit is told."""
    limits = {
        **dict.fromkeys(DISTANCE_RULES, ("distance", "length", "20 ft")),
        **dict.fromkeys(DEPTH_RULES, ("depth", "length", "8 ft")),
        "deck_area_max": ("area", "area", "100 ft2"),
    }
    for kind, (key, dimension, example) in limits.items():
        table = reader.get(f"rules.{kind}")
        if not isinstance(table, dict):
            continue
        path = f"rules.{kind}"
        if key not in table:
            reader.tell("rule_without_limit", f'needs {key}, as {key} = "{example}"', path)
            continue
        limit = reader.quantity(f"{path}.{key}", dimension, None)
        if limit is None:
            continue
        yield (
            kind,
            Rule(
                kind=kind,
                limit=limit,
                source=reader.text(f"{path}.source", None) or _NO_SOURCE,
                beyond_m=reader.si(f"{path}.beyond", "length", "0 ft"),
                mode=cast(
                    'Literal["full_circle", "same_wind"]',
                    reader.choice(f"{path}.mode", _MODES, "full_circle"),
                ),
            ),
        )


def _season(reader: TomlReader) -> Season:
    days = {}
    for key in ("set", "lift"):
        day = reader.text(f"season.{key}", None)
        if day and not _MONTH_DAY.fullmatch(day):
            text = f"{day!r} is no day of the year; write month-day, as 05-15"
            reader.tell("bad_date", text, f"season.{key}")
            day = None
        days[key] = day or None
    return Season(
        set_on=days["set"],
        lift_on=days["lift"],
        marking=reader.text("season.marking", None) or None,
    )


def _people(reader: TomlReader) -> int:
    value = reader.get("sizing.people")
    if value is None:
        return 4
    if isinstance(value, bool) or not isinstance(value, int) or value < 0:
        reader.tell("bad_number", f"{value!r} must be a whole number from 0 on", "sizing.people")
        return 4
    return value
