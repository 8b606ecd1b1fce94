"""What the drawing page sends: shapes, depths, levels; read into frozen records, slips told."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, Final, cast, get_args

import numpy as np

from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.quantities import parse_number, parse_quantity
from lakemap.basis.records import ZONE_KINDS, FloatArray, Units
from lakemap.basis.wording import length_unit
from lakemap.lake.projection import LakeProjection

SHORE_KINDS: Final = ("outline", "island")
KIND_NAMES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "swim_area": "swim area",
        "channel": "boat channel",
        "intake": "water intake",
        "hazard": "hazard",
        "no_float": "no-float area",
        "ramp": "boat ramp",
        "dock": "dock",
        "frontage": "frontage",
    }
)
LINE_KINDS: Final = tuple(kind for kind in ZONE_KINDS if kind not in {"frontage", "swim_area"})
_KINDS: Final = (*SHORE_KINDS, *ZONE_KINDS)
_MOST_SHAPES, _MOST_POINTS, _MOST_LETTERS = 5_000, 200_000, 500  # ours: no lake needs as many
_FAR_M: Final = 500_000.0  # from the drawing's middle; ours, far beyond any lake


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """Something to say about a drawing."""

    text: str
    step: str  # of the page's guide: picture, outline, islands, areas, depths, levels
    shape: str | None = None  # its key
    at: tuple[float, float] | None = None  # where on the ground [m]
    stops: bool = True  # False: it can be saved all the same


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnShape:
    """One shape: rings, or lines with a width."""

    key: str
    kind: str  # outline, island, or a kind of zone
    is_line: bool
    lines: tuple[FloatArray, ...]  # each [k, 2], metres; a ring's first corner stands once
    name: str
    width_m: float | None
    clearance_m: float | None
    lot: str
    source: str
    row: int | None  # of the zones file, where it came from there


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A whole drawing."""

    middle: LakeProjection
    name: str
    units: Units
    shapes: tuple[DrawnShape, ...]
    depth_xy: FloatArray  # [n, 2], metres
    depth_m: FloatArray  # [n]; NaN: not typed, or told
    gone: tuple[int, ...]  # rows of the soundings file that are taken away
    levels_m: Mapping[str, float]  # low, normal, high, soundings: those that were typed
    storm_m_s: Mapping[str, float]  # wind, gust: those that were typed
    findings: tuple[Finding, ...]  # what was typed and can't be read

    def of_kind(self, *kinds: str) -> list[DrawnShape]:
        """Return the shapes of some kinds, as they come."""
        return [shape for shape in self.shapes if shape.kind in kinds]

    @property
    def zones(self) -> list[DrawnShape]:
        """The shapes that are zones."""
        return self.of_kind(*ZONE_KINDS)


def typed(text: str, dimension: str, unit: str) -> float:
    """Read a quantity as typed into a field; a bare number is in the page's unit.

    Parameters
    ----------
    text : str
        Such as `60`, `60 ft`, `10 ft 6 in` or `3.2 m`.
    dimension : str
        Such as `length`.
    unit : str
        Of a bare number.

    Returns
    -------
    float
        SI.

    Raises
    ------
    ValueError
        If it is no quantity; the text says what would be right.
    """
    try:
        number = parse_number(text)
    except ValueError:
        return parse_quantity(text, dimension)
    return parse_quantity(f"{number!r} {unit}", dimension)


def read_drawing(body: Mapping[str, Any]) -> Drawing:
    """Read what the page sent.

    Parameters
    ----------
    body : mapping
        JSON: `middle` (lon, lat), `name`, `units`, `shapes`, `depths`, `levels`, `storm`.

    Returns
    -------
    Drawing
        What was typed and can't be read stands in its findings.

    Raises
    ------
    BadInputError
        If it is not of the form that the page sends.
    """
    try:
        return _Reader(body).drawing()
    except (KeyError, TypeError, ValueError, OverflowError) as error:
        text = f"the drawing can't be read ({error}); load the page again"
        raise BadInputError([Problem(code="bad_drawing", text=text)]) from error


class _Reader:
    """Reads one drawing; typed values that can't be read are gathered."""

    def __init__(self, body: Mapping[str, Any]) -> None:
        self._body = body
        self._units = cast("Units", _one_of(body["units"], get_args(Units)))
        self._found: list[Finding] = []

    def drawing(self) -> Drawing:
        body = self._body
        lon, lat = _points([body["middle"]])[0].tolist()
        if not (-180 <= lon <= 180 and -90 < lat < 90):  # noqa: PLR2004 - degrees
            raise ValueError(f"its middle {lat}, {lon} is on no map")
        shapes, depths = body["shapes"], body["depths"]
        if len(shapes) > _MOST_SHAPES or len(depths) > _MOST_POINTS:
            raise ValueError(f"{len(shapes)} shapes and {len(depths)} depths are too many")
        drawn = tuple(self._shape(shape) for shape in shapes)
        if sum(len(line) for shape in drawn for line in shape.lines) > _MOST_POINTS:
            raise ValueError(f"more than {_MOST_POINTS:,} corners")
        levels = {
            key: self._typed(body["levels"], key, ("length", length_unit(self._units)), "levels")
            for key in ("low", "normal", "high", "soundings")
        }
        speed = "mph" if self._units == "ft-lb" else "m/s"
        storm = {
            key: self._typed(body["storm"], key, ("speed", speed), "levels")
            for key in ("wind", "gust")
        }
        depth_m = np.array([self._depth(one) for one in depths], dtype=np.float64)
        return Drawing(
            middle=LakeProjection(lon0=lon, lat0=lat),
            name=_words(body["name"]),
            units=self._units,
            shapes=drawn,
            depth_xy=_points([[one["x"], one["y"]] for one in depths]),
            depth_m=depth_m,
            gone=tuple(int(row) for row in body.get("gone", ())),
            levels_m={key: value for key, value in levels.items() if value is not None},
            storm_m_s={key: value for key, value in storm.items() if value is not None},
            findings=tuple(self._found),
        )

    def _shape(self, given: Mapping[str, Any]) -> DrawnShape:
        kind, key = _one_of(given["kind"], _KINDS), _words(given["key"])
        is_line = given["line"] is True
        step = {"outline": "outline", "island": "islands"}.get(kind, "areas")
        unit = ("length", length_unit(self._units))
        row = given.get("row")
        return DrawnShape(
            key=key,
            kind=kind,
            is_line=is_line,
            lines=tuple(_points(line) for line in given["lines"]),
            name=_words(given["name"]),
            width_m=self._typed(given, "width", unit, step, key) if is_line else None,
            clearance_m=self._typed(given, "clearance", unit, step, key),
            lot=_words(given["lot"]),
            source=_words(given["source"]),
            row=None if row is None else int(row),
        )

    def _typed(
        self,
        given: Mapping[str, Any],
        name: str,
        unit: tuple[str, str],
        step: str,
        shape: str | None = None,
    ) -> float | None:
        """A quantity as typed; None where blank or told."""
        text = _words(given.get(name) or "")
        if not text:
            return None
        try:
            value = typed(text, *unit)
        except ValueError as error:
            self._found.append(Finding(text=f"{name}: {error}", step=step, shape=shape))
            return None
        if value < 0 and name in {"width", "clearance", "wind", "gust"}:
            said = f"{name}: {text!r} is below 0"
            self._found.append(Finding(text=said, step=step, shape=shape))
            return None
        return value

    def _depth(self, given: Mapping[str, Any]) -> float:
        text = _words(given["depth"])
        at = _points([[given["x"], given["y"]]])[0].tolist()
        said = "a depth point without its depth: type it, or take the point away"
        if text:
            try:
                value = typed(text, "length", length_unit(self._units))
            except ValueError as error:
                said = f"depth {error}"
            else:
                if value >= 0:
                    return value
                said = f"depth {text!r}: depths are positive downward; take the minus away"
        self._found.append(Finding(text=said, step="depths", at=(at[0], at[1])))
        return math.nan


def _one_of(value: object, choices: Sequence[str]) -> str:
    if value not in choices:
        raise ValueError(f"{str(value)[:40]!r} is none of {', '.join(choices)}")
    return cast("str", value)


def _words(value: object) -> str:
    """Text of one line."""
    if not isinstance(value, str):
        raise TypeError(f"{type(value).__name__} in place of a text")
    if len(value) > _MOST_LETTERS:
        raise ValueError(f"a text of {len(value):,} letters")
    return " ".join("".join(sign if sign.isprintable() else " " for sign in value).split())


def _points(given: Sequence[Sequence[float]]) -> FloatArray:
    """Points in metres, or a place in degrees."""
    if len(given) > _MOST_POINTS:
        raise ValueError(f"{len(given):,} corners in one line")
    if any(isinstance(v, (str, bool)) or v is None for point in given for v in point):
        raise TypeError("a corner that is no pair of numbers")
    points = np.array(given, dtype=np.float64).reshape(-1, 2)
    if len(points) != len(given) or not (np.abs(points) <= _FAR_M).all():  # NaN compares false
        raise ValueError("a corner that is no pair of numbers, or far off")
    return points


def findings_json(findings: Iterator[Finding] | Sequence[Finding]) -> list[dict[str, Any]]:
    """Return findings as the page takes them.

    Parameters
    ----------
    findings : sequence of Finding
        In the order to be shown.

    Returns
    -------
    list of dict
        JSON-able.
    """
    return [
        {
            "text": one.text[:1].upper() + one.text[1:],
            "step": one.step,
            "shape": one.shape,
            "at": None if one.at is None else [round(v, 3) for v in one.at],
            "stops": one.stops,
        }
        for one in findings
    ]
