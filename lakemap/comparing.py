"""The front door of `compare`: two versions of a field, what moved, and what that did."""

import shapely

from lakemap.assessment import Assessment
from lakemap.basis.errors import BadInputError, Problem
from lakemap.changes.causes import Grounds, with_cause
from lakemap.changes.floats import Versions, float_changes
from lakemap.changes.outlines import outline_changes
from lakemap.changes.records import Comparison
from lakemap.changes.settings import DECIDING, file_changes, settings_changes

__all__ = ["Comparison", "compare"]


def compare(old: Assessment, new: Assessment, *, owners: bool = False) -> Comparison:
    """Compare two versions of a field.

    Floats are matched by their number; where two rest on the same records they are not looked at.

    Parameters
    ----------
    old, new : Assessment
        Of one lake.
    owners : bool
        True also compares owners, permits, notes and columns of the file that we don't know; else
        the comparison holds no trace of a change in them.

    Returns
    -------
    Comparison
        What changed of the floats and of the field, and what that did.

    Raises
    ------
    BadInputError
        If they are two lakes.
    """
    _refuse_other_lake(old, new)
    outlines = outline_changes(old, new)
    field = (
        *settings_changes(old.field, new.field),
        *outlines.changes,
        *file_changes(old.field, new.field),
    )
    versions = Versions(old=old, new=new, owners=owners, outlines=outlines)
    changes = list(float_changes(versions))
    grounds = Grounds(
        changed={one.float_id: one for one in changes if one.kind != "affected"},
        zones=outlines.zones_changed,
        lake=outlines.lake_changed,
        topics=tuple(dict.fromkeys(c.topic for c in field if c.topic in DECIDING)),
    )
    floats = tuple(with_cause(one, grounds) if one.kind == "affected" else one for one in changes)
    return Comparison(old=old, new=new, floats=floats, field=field, owners=owners)


def _refuse_other_lake(old: Assessment, new: Assessment) -> None:
    """Two versions of one lake share water, however roughly one was drawn."""
    lakes = old.field.lake, new.field.lake
    if lakes[0] is lakes[1] or shapely.intersects(*lakes):
        return
    at = [f"{one.projection.lat0:.4f},{one.projection.lon0:.4f}" for one in (old, new)]
    text = (
        f"these are two lakes: {old.field.settings.name} at {at[0]}, {new.field.settings.name} at"
        f" {at[1]}, and no water in common; give two versions of one field"
    )
    raise BadInputError([Problem(code="different_lakes", text=text)])
