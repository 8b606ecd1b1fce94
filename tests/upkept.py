"""A square lake of one or more floats with an inspections file, for the tests of the upkeep."""

from dataclasses import replace
from datetime import date
from types import MappingProxyType

from conftest import make_field, make_float

from lakemap.basis.quantities import FOOT_M, INCH_M
from lakemap.basis.records import Fitting
from lakemap.mapping import assess
from lakemap.season.upkeep.upkeep import upkeep

FT, IN = FOOT_M.value, INCH_M.value
ON = date(2026, 4, 20)
# a rig whose every column is given: chain of 10.0 mm bar, cable of 8 mm, shackles of 1/2 in
RIG = {
    "absorber_length_m": 1.2,
    "primary_blocks": 12,
    "secondary_blocks": 8,
    "block": "12-in hollow",
    "chain": "10 mm",
    "chain_grade": 30,
    "cable": "8 mm galvanised",
    "cable_parts": 2,
    "cable_ends": "sleeves",
    "fittings": (
        Fitting(name="eye bolt", size="5/8 in"),
        Fitting(name="shackle", size="1/2 in", count=2),
        Fitting(name="swivel", size="1/2 in"),
    ),
    "bottom": "sand",
}
BLANK = {
    "date": None, "float_id": "A", "part": None, "finding": None, "diameter_m": None,
    "broken_wires": None, "by": None, "lon": None, "lat": None, "row": None,
}  # fmt: skip


def row(day, part=None, finding=None, **more):
    """One row of the inspections."""
    given = {"date": None if day is None else date.fromisoformat(day)}
    return MappingProxyType(BLANK | given | {"part": part, "finding": finding} | more)


def numbered(rows):
    return tuple(MappingProxyType(dict(one) | {"row": k}) for k, one in enumerate(rows, start=2))


def field_of(rows=(), floats=None, settings=None, **columns):
    given = RIG | {"set_on": date(2020, 5, 15)} | columns
    built = floats if floats is not None else [make_float("A", **given)]
    more = {} if settings is None else {"settings": settings}
    return make_field(built, inspections=numbered(rows), **more)


ASSESSED = {}


def assessed(field):
    """Inspections change nothing of an assessment, so fields alike but for them share one."""
    key = repr((field.floats, field.settings))
    if key not in ASSESSED:
        ASSESSED[key] = assess(field)
    return replace(ASSESSED[key], field=field)


def told(rows=(), *, on=ON, floats=None, settings=None, storm=None, **columns):
    """The upkeep of a field of one float A, set 2020-05-15, with these inspections."""
    field = field_of(rows, floats=floats, settings=settings, **columns)
    return upkeep(assessed(field), on=on, storm=storm)


def part(upkept, name, at=0):
    """The state of one part of one float."""
    return next(one for one in upkept.floats[at].parts if one.piece.name == name)
