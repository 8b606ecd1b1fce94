"""Floats whose primary would lie on land by a new shore."""

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import shapely

from lakemap.basis.errors import BadInputError, Problem, ProblemLog
from lakemap.basis.records import Field, Float, Geometry, Settings
from lakemap.basis.wording import length_text
from lakemap.gathering.fixes_rigs import Rigs
from lakemap.inputs.floats import read_floats
from lakemap.inputs.layers import TABLES, VECTORS, read_layer
from lakemap.lake.projection import LakeProjection
from lakemap.lake.water import inside, nearest_on_lines


def refuse_dry(outline: Geometry, field: Field | None, *, folder: Path, settings: Settings) -> None:
    """Refuse a lake in which a primary would lie on land.

    Parameters
    ----------
    outline : shapely MultiPolygon
        The new lake, lon, lat.
    field : Field or None
        With the floats; None: they are read from the folder.
    folder : Path
        Of the field.
    settings : Settings
        Of the field.

    Raises
    ------
    BadInputError
        With each float of which this is so.
    """
    centre = LakeProjection.centred_on(outline)
    water = centre.project(outline)
    shores = shapely.boundary(water)
    wrong = []
    for name, lon, lat in _primaries(field, folder, settings):
        xy = np.column_stack(centre.to_xy([lon], [lat]))
        if not inside(water, xy)[0]:
            far = length_text(float(nearest_on_lines(shores, xy)[0][0]), settings.units)
            text = (
                f"float {name} would lie on land, {far} from the new shore; look at the track,"
                " --inside, and the float's position"
            )
            wrong.append(Problem(code="outside_lake", text=text, file="lake"))
    if wrong:
        raise BadInputError(wrong)


def _primaries(
    field: Field | None, folder: Path, settings: Settings
) -> Iterator[tuple[str, float, float]]:
    """Floats that are set or proposed, with their primaries as far as those are located."""
    floats = _floats(folder, settings) if field is None else field.floats
    reckoned = any(one.position_of != "primary" for one in floats)
    rigs = Rigs.of(field) if reckoned and field is not None else None
    for one in floats:
        if one.status == "retired":
            continue
        if one.position_of == "primary":
            yield one.float_id, one.lon, one.lat
        elif rigs is not None and one.float_id in rigs.placed:
            placed = rigs.placed[one.float_id]
            if placed.located:
                yield one.float_id, placed.lon, placed.lat


def _floats(folder: Path, settings: Settings) -> tuple[Float, ...]:
    """The floats of a folder without a lake."""
    path = next(
        (
            one
            for one in sorted(folder.iterdir())
            if one.stem.lower() == "floats" and one.suffix.lower() in TABLES + VECTORS
        ),
        None,
    )
    log = ProblemLog()
    table = None if path is None else read_layer(path, log)
    if table is None:
        return ()
    return read_floats(table, log, crs=settings.crs, lake=None)
