"""The keys of field.toml, and a reader that asks for them one by one and tells every slip."""

import re
import tomllib
from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final, cast

from lakemap.basis.errors import Problem, ProblemLog
from lakemap.basis.quantities import parse_quantity
from lakemap.basis.records import ZONE_KINDS

DISTANCE_RULES = ("neighbour", "shore", "shore_max", *ZONE_KINDS)
DEPTH_RULES = ("bed", "jump_depth")
SITE_WEIGHTS: Mapping[str, float] = MappingProxyType(
    {"spare": 3.0, "shelter": 2.0, "depth": 1.0, "way": 1.0, "line": 1.0}
)
_KEYS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "": (
            "name", "units", "crs", "levels", "storm", "wake", "accuracy", "rules", "season",
            "sites", "sizing",
        ),
        "levels": ("low", "normal", "high", "soundings"),
        "storm": ("wind", "gust", "current", "from_deg", "return_period"),
        "wake": ("height", "period", "at", "nearest"),
        "accuracy": ("position", "depth", "level", "line", "layer"),
        "rules": (*DISTANCE_RULES, *DEPTH_RULES, "deck_area_max"),
        "season": ("set", "lift", "marking"),
        "sites": ("weights",),
        "sites.weights": tuple(SITE_WEIGHTS),
        "sizing": ("holding", "people"),
    }
)  # fmt: skip
_RULE_KEYS: Final = {
    **{f"rules.{kind}": ("distance", "source") for kind in DISTANCE_RULES},
    "rules.neighbour": ("distance", "mode", "source"),
    "rules.bed": ("depth", "source"),
    "rules.jump_depth": ("depth", "beyond", "source"),
    "rules.deck_area_max": ("area", "source"),
}


class TomlReader:
    """One TOML document, asked key by key; every slip goes to the log."""

    def __init__(self, document: Mapping[str, Any], text: str, file: str, log: ProblemLog) -> None:
        self._document = document
        self._lines = text.splitlines()
        self._file = file
        self._log = log

    def tell(self, code: str, text: str, path: str, *, fatal: bool = True) -> None:
        """Keep one problem at a key."""
        self._log.add(
            Problem(
                code=code,
                text=text,
                file=self._file,
                row=self._row(path),
                column=path,
                fatal=fatal,
            )
        )

    def _row(self, path: str) -> int | None:
        """Line of a key or of its table, as far as a plain look finds it."""
        table, _, key = path.rpartition(".")
        here = ""
        for number, line in enumerate(self._lines, start=1):
            bare = line.strip()
            if bare.startswith("["):
                here = bare.strip("[] \t").split("]")[0]
                if here == path:
                    return number
            elif here == table and re.match(rf"[\"']?{re.escape(key)}[\"']?\s*=", bare):
                return number
        return None

    def get(self, path: str) -> object:
        """Return what stands at a key; None where nothing does."""
        found: object = self._document
        for part in path.split("."):
            if not isinstance(found, dict):
                return None
            found = found.get(part)
        return found

    def check_keys(self) -> None:
        """Tell every key that is not known, with the nearest that is."""
        tables = {**_KEYS, **_RULE_KEYS}
        for path, keys in tables.items():
            table = self._document if not path else self.get(path)
            if table is None:
                continue
            if not isinstance(table, dict):
                self.tell("not_a_table", f"must be a table: [{path}] and keys below it", path)
                continue
            for key in table:
                if key not in keys:
                    full = f"{path}.{key}" if path else key
                    near = get_close_matches(key, keys, n=1, cutoff=0.0)
                    text = f"unknown key; the nearest known one is {near[0]!r}"
                    self.tell("unknown_key", text, full)

    def text(self, path: str, default: str | None) -> str | None:
        """Return a text, or its default."""
        value = self.get(path)
        if value is None:
            return default
        if not isinstance(value, str):
            self.tell("not_text", f'{value!r} must be text in quotes, as "{value}"', path)
            return default
        return value.strip()

    def choice(self, path: str, choices: Sequence[str], default: str) -> str:
        """Return one of some words, or the default."""
        value = self.text(path, default) or default
        if value in choices:
            return value
        near = get_close_matches(value, choices, n=1)
        hint = f"; did you mean {near[0]!r}?" if near else ""
        self.tell("bad_choice", f"{value!r} is none of {', '.join(choices)}{hint}", path)
        return default

    def quantity(
        self, path: str, dimension: str, default: str | None, *, least: float | None = 0.0
    ) -> float | None:
        """Return a quantity in SI, or its default; no less than `least`."""
        value = self.get(path)
        if value is None or value == "":
            return None if default is None else parse_quantity(default, dimension)
        try:
            return _quantity_of(value, dimension, default, least)
        except ValueError as error:
            self.tell("bad_quantity", str(error), path)
            return None if default is None else parse_quantity(default, dimension)

    def si(self, path: str, dimension: str, default: str) -> float:
        """Return a quantity that has a default, in SI; must be above 0 where it divides."""
        return cast("float", self.quantity(path, dimension, default))

    def above(self, path: str, dimension: str, default: str) -> float:
        """Return a quantity above 0, in SI."""
        value = self.si(path, dimension, default)
        if value > 0:
            return value
        self.tell("bad_quantity", f"{self.get(path)!r} must be above 0", path)
        return parse_quantity(default, dimension)

    def number(self, path: str, default: float) -> float:
        """Return a plain number of 0 or more."""
        value = self.get(path)
        if value is None:
            return default
        if isinstance(value, bool) or not isinstance(value, (int, float)) or not value >= 0:
            self.tell("bad_number", f"{value!r} must be a number from 0 on", path)
            return default
        return float(value)


def _quantity_of(value: object, dimension: str, default: str | None, least: float | None) -> float:
    """Read one quantity; raises with what would be right."""
    if not isinstance(value, str):
        example = default or {"length": "1.5 ft", "years": "25 years"}.get(dimension, "")
        raise ValueError(  # noqa: TRY004 - a slip in the file, not in the code
            f'{value!r} has no unit; write a quantity in quotes, as "{example}"'
        )
    found = parse_quantity(value, dimension)
    if least is not None and found < least:
        raise ValueError(f"{value!r} must not be below {least:g}")
    return found


def open_toml(text: str, path: Path, log: ProblemLog) -> TomlReader | None:
    """Parse TOML, or tell the line that can't be read.

    Parameters
    ----------
    text : str
        Of the file.
    path : Path
        For the messages.
    log : ProblemLog
        Gains every problem.

    Returns
    -------
    TomlReader or None
        None where a problem was told.
    """
    try:
        document = tomllib.loads(text.replace("\r\n", "\n"))
    except tomllib.TOMLDecodeError as error:
        found = re.search(r"at line (\d+)", str(error))
        words = re.sub(r"\s*\(at .*\)$", "", str(error))
        row = int(found.group(1)) if found else None
        hint = 'quantities stand in quotes, as wind = "50 mph"'
        log.add(
            Problem(
                code="bad_toml",
                text=f"this line can't be read ({words}); {hint}",
                file=path.name,
                row=row,
            )
        )
        return None
    return TomlReader(document, text, path.name, log)
