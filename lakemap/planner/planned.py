"""From what is typed and dragged on the page to floats: a plan as records."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any, Final

import numpy as np

from lakemap.assessment import Assessment
from lakemap.basis.errors import BadInputError, Problem, ProblemLog
from lakemap.basis.quantities import FOOT_M, parse_number
from lakemap.basis.records import Field, Float, Units
from lakemap.basis.wording import length_unit
from lakemap.inputs.cells import RawTable
from lakemap.inputs.floats import COLUMNS, read_floats
from lakemap.lake.projection import LakeProjection
from lakemap.outputs.sites.proposed_rows import new_ids
from lakemap.sites import template

DEGREE_DIGITS: Final = 9  # 0.1 mm: what is checked is what is saved
# the columns that the page changes, and what a float calls them
FIELDS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "length": "length_m",
        "width": "width_m",
        "depth": "depth_m",
        "riser_length": "riser_m",
        "ground_length": "ground_m",
        "primary_blocks": "primary_blocks",
        "secondary_blocks": "secondary_blocks",
        "lot": "lot",
        "status": "status",
    }
)
# ours: the deck of the first float of a lake, until somebody types another
FIRST_DECK_M: Final[Mapping[Units, float]] = MappingProxyType(
    {"ft-lb": 10 * FOOT_M.value, "m-kg": 3.0}
)
_NEEDED: Final = ("length", "width")
_MOST_CHANGES: Final = 5000  # floats
_FILLER: Final[Mapping[str, str]] = MappingProxyType(
    {"float_id": "1", "lon": "0", "lat": "0", "length": "1 m", "width": "1 m"}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wrong:
    """A value that can't be taken as it was typed."""

    float_id: str
    column: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """A plan's floats, by index into the field's; new ones from its count on."""

    floats: Mapping[int, Float]
    wrong: tuple[Wrong, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Base:
    """What changes are counted from."""

    field: Field
    projection: LakeProjection
    sounded: bool  # the field has soundings

    @property
    def places(self) -> dict[str, int]:
        """Each float's place in the field."""
        return {one.float_id: i for i, one in enumerate(self.field.floats)}


def planned(base: Base, changes: Mapping[str, Any]) -> Planned:
    """Return the floats that a set of changes makes of a field's.

    Parameters
    ----------
    base : Base
        The field as it is saved.
    changes : mapping
        By float: `x`, `y` in metres about the lake's centre, columns as text, `new` for a float
        that is not in the field.

    Returns
    -------
    Planned
        Floats that differ from the saved ones; a value that can't be read is left as it was.

    Raises
    ------
    BadInputError
        If the changes are not of that form.
    """
    places = base.places
    floats: dict[int, Float] = {}
    wrong: list[Wrong] = []
    if len(changes) > _MOST_CHANGES:
        raise _malformed(f"{len(changes):,} floats changed; at most {_MOST_CHANGES:,} are taken")
    count = len(base.field.floats)
    for name, change in changes.items():
        if not isinstance(change, Mapping):
            raise _malformed(f"float {name}: {change!r} is no set of columns")
        index = places.get(name)
        is_new = index is None
        if is_new and not change.get("new"):
            raise _malformed(f"there is no float {name} in the field")
        saved = _blank(name) if index is None else base.field.floats[index]
        one = _typed(base, _moved(base, saved, change), change, wrong)
        if is_new and not (one.length_m and one.width_m):
            continue  # nothing can be drawn of it until its deck is known
        if is_new or one != saved:
            floats[count if index is None else index] = one
            count += is_new
    return Planned(floats=floats, wrong=tuple(wrong))


def _malformed(text: str) -> BadInputError:
    return BadInputError([Problem(code="bad_plan", text=text)])


def _blank(name: str) -> Float:
    return Float(
        float_id=name, row=0, lon=0.0, lat=0.0, length_m=0.0, width_m=0.0, status="proposed"
    )


def _moved(base: Base, saved: Float, change: Mapping[str, Any]) -> Float:
    """The float with its primary where it was put; what was known of another place is dropped."""
    if "x" not in change and "y" not in change:
        return saved
    x, y = change.get("x"), change.get("y")
    if not all(isinstance(v, (int, float)) and not isinstance(v, bool) for v in (x, y)):
        raise _malformed(f"float {saved.float_id}: x and y are to be metres, not {x!r}, {y!r}")
    lon, lat = base.projection.to_lonlat(np.array([float(x)]), np.array([float(y)]))  # type: ignore[arg-type]
    if not np.isfinite([lon[0], lat[0]]).all():
        raise _malformed(f"float {saved.float_id}: {x!r}, {y!r} is nowhere near the lake")
    return replace(
        saved,
        lon=round(float(lon[0]), DEGREE_DIGITS),
        lat=round(float(lat[0]), DEGREE_DIGITS),
        position_of="primary",
        wind_from_deg=None,
        position_error_m=None,
        depth_m=None if base.sounded else saved.depth_m,
    )


def _typed(base: Base, one: Float, change: Mapping[str, Any], wrong: list[Wrong]) -> Float:
    """The float with the columns that were typed."""
    for column, attribute in FIELDS.items():
        if column not in change:
            continue
        try:
            value = read_typed(column, change[column], base.field.settings.units)
        except ValueError as error:
            wrong.append(Wrong(float_id=one.float_id, column=column, text=str(error)))
            continue
        one = replace(one, **{attribute: value})
    return one


def read_typed(column: str, text: object, units: Units) -> Any:  # noqa: ANN401 - as the column has it
    """Return the value of a cell as somebody typed it on the page.

    Parameters
    ----------
    column : str
        One of `FIELDS`.
    text : object
        As typed; a bare number is in the field's own units.
    units : str
        Of the field.

    Returns
    -------
    float, int, str or None
        In SI, by the rules of the floats file; None for a blank.

    Raises
    ------
    ValueError
        If it can't be read, or must not be blank; says what would be right.
    """
    if not isinstance(text, str):
        raise ValueError(f"{text!r} is no text")  # noqa: TRY004 - told like any other value
    cell = text.strip()
    if not cell:
        if column in _NEEDED:
            raise ValueError(f"a {column} is needed, such as {_example(units)}")
        return "set" if column == "status" else None
    if COLUMNS[column] == "length" and _is_bare(cell):
        cell = f"{cell} {length_unit(units)}"
    row = {**_FILLER, column: cell}
    log = ProblemLog()
    table = RawTable(file="", columns=tuple(row), rows=(tuple(row.values()),), row_numbers=(2,))
    found = read_floats(table, log, crs="EPSG:4326", lake=None)
    said = [problem.text for problem in log if problem.fatal]
    if said or not found:
        raise ValueError("; ".join(said) or f"{cell!r} can't be read")
    return getattr(found[0], FIELDS[column])


def _example(units: Units) -> str:
    return "10 ft" if units == "ft-lb" else "3 m"


def _is_bare(text: str) -> bool:
    try:
        parse_number(text)
    except ValueError:
        return False
    return True


def next_id(field: Field, taken: Sequence[str] = ()) -> str:
    """Return the number that the next new float gets.

    Parameters
    ----------
    field : Field
        With its floats, and those that were once, as inspections and fixes tell.
    taken : sequence of str
        Numbers that a plan has given already.

    Returns
    -------
    str
        One more than the greatest whole number.
    """
    return next(new_ids(field, taken))


def kind_of(assessment: Assessment, like: str | None) -> Float:
    """Return the kind of float that a new one is.

    Parameters
    ----------
    assessment : Assessment
        Of the plan.
    like : str or None
        A float whose kind is meant; None: the commonest deck of those that are set, else of those
        that are proposed, and in a field without floats one of 10 by 10 ft (3 by 3 m).

    Returns
    -------
    Float
        `proposed`.

    Raises
    ------
    BadInputError
        If there is no such float.
    """
    floats = assessment.field.floats
    if like is None and not any(one.status == "set" for one in floats):
        side = FIRST_DECK_M[assessment.field.settings.units]
        planned_ones = [(one.length_m, one.width_m) for one in floats if one.status == "proposed"]
        decks = Counter(planned_ones or [(side, side)])
        length, width = min(decks, key=lambda deck: (-decks[deck], deck))
        return template(assessment, length_m=length, width_m=width)
    return template(assessment, like=like)
