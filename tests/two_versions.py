"""Two versions of the square lake of the shared tests: what is not said to change stays as it is.

Every float there has a line of 10 m over 6 m of drop at low water: reach 8, swing radius 10.5 m.
"""

from dataclasses import replace
from functools import cache

import shapely
from conftest import HERE, make_field, make_float, make_zone

from lakemap.comparing import compare
from lakemap.mapping import assess

RADIUS_M = 10.5


def four_floats():
    """A in the middle, B 23 m east (gap 2.0), C 22 m north (gap 1.0, conflict), D far in the west."""
    places = {"A": (0.0, 0.0), "B": (23.0, 0.0), "C": (0.0, 22.0), "D": (-80.0, 0.0)}
    return {name: make_float(name, *xy) for name, xy in places.items()}


def beach():
    return make_zone("swim_area", shapely.box(-10, -60, 10, -25), label="Beach")


def at(x, y):
    """Where a float is put, as fields of its record."""
    lon, lat = HERE.to_lonlat([x], [y])
    return {"lon": float(lon[0]), "lat": float(lat[0])}


def changed(floats, **changes):
    """The same floats with some fields changed, by float; None takes it away."""
    return {
        name: replace(one, **changes.get(name) or {})
        for name, one in floats.items()
        if changes.get(name, {}) is not None
    }


def field_of(floats, **more):
    given = {"zones": [beach()]} | more
    return make_field(list(floats.values()), **given)


@cache
def as_it_was():
    """The four floats, assessed once."""
    return assess(field_of(four_floats()))


def versions(old_field, new_field, **options):
    return compare(assess(old_field), assess(new_field), **options)


def two(added=(), *, owners=False, old=None, new=None, floats=None, **changes):
    """The comparison of the four floats with the same after some changes to them.

    `old` and `new` are fields of the field in each version.
    """
    before = four_floats() if floats is None else floats
    after = changed(before, **changes) | {one.float_id: one for one in added}
    was = as_it_was() if floats is None and old is None else assess(field_of(before, **old or {}))
    return compare(was, assess(field_of(after, **new or old or {})), owners=owners)


def by_id(comparison):
    return {one.float_id: one for one in comparison.floats}


def gap_to(change, against):
    """Old and new clearance to one thing."""
    found = [gap for gap in change.gaps if gap.against == against]
    assert len(found) == 1
    return found[0].old, found[0].new
