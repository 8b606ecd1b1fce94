"""The front door: place, check and size one field."""

from collections.abc import Callable

import numpy as np

from lakemap.assessment import AssessedFloat, Assessment, Secondary, Stages, gather
from lakemap.basis.errors import BadInputError, Problem, RangeError
from lakemap.basis.records import Field
from lakemap.clearances.check import check
from lakemap.clearances.records import CheckSubject, channels_of
from lakemap.laid_out import LaidOut, lay_out
from lakemap.loads.return_wind import ReturnWind
from lakemap.rig.float_defaults import fill_flotation
from lakemap.rig.hydrostatics import float_buoyancy
from lakemap.rig.parts import RigParts, rig_parts
from lakemap.rig.placement import PlacementQuestion, place
from lakemap.rig.records import Buoyancy, Placement
from lakemap.rig.stability import stability
from lakemap.sizing.size_rigs import Sized, SizingQuestion, size_rigs
from lakemap.sizing.weather import FieldStorms, Weather, Winds, settled, winds_of
from lakemap.sizing.wind_record import record_of_wind, wind_said

__all__ = ["AssessedFloat", "Assessment", "Secondary", "assess"]
Tell = Callable[[str], None]


def _no_telling(_step: str) -> None:
    """Tell nobody."""


def assess(field: Field, *, tell: Tell = _no_telling) -> Assessment:
    """Place, check and size every float of a field.

    Parameters
    ----------
    field : Field
        As `read_field` returns it.
    tell : callable, optional
        Is told in a word or two what the work is at.

    Returns
    -------
    Assessment
        Frozen; everything that the map, the tables and the JSON show is read from it.

    Raises
    ------
    BadInputError
        If a set or proposed float's primary turns out to lie outside the lake.
    """
    tell("laying out the lake")
    ground = lay_out(field)
    tell("placing the floats")
    buoyancy = float_buoyancy(field.floats, people=field.settings.people)
    blown = record_of_wind(field)
    placement, storms = place_floats(field, ground, buoyancy, blown)
    _refuse_outside(field, placement)
    tell("checking the clearances")
    checked = check(
        CheckSubject(
            floats=field.floats,
            placement=placement,
            draft_people_m=buoyancy.draft_people_m,
            water=ground.water,
            zones=ground.zones,
            surface=ground.surface,
            settings=field.settings,
        )
    )
    tell("sizing the rigs")
    sized = size_floats(field, placement, buoyancy, storms)
    return Assessment(
        field=field,
        projection=ground.projection,
        water=ground.water,
        zones=ground.zones,
        surface=ground.surface,
        soundings_xy=ground.soundings_xy,
        soundings_m=ground.soundings_m,
        floats=gather(Stages(field, ground.projection, placement, buoyancy, checked, sized)),
        problems=(*field.problems, *ground.problems, *wind_said(field, blown), *checked.problems),
        sized=sized,
    )


def place_floats(
    field: Field,
    ground: LaidOut,
    buoyancy: Buoyancy,
    blown: ReturnWind | None,
    *,
    beside: bool = True,
) -> tuple[Placement, FieldStorms]:
    """Place the floats in the storm at their primaries.

    Parameters
    ----------
    field : Field
        With the floats.
    ground : LaidOut
        Its lake.
    buoyancy : Buoyancy
        Of the floats.
    blown : ReturnWind or None
        The wind of the return period that the settings ask for.
    beside : bool
        False leaves out what stands beside the storm, which only the sizing tells.

    Returns
    -------
    tuple of Placement and FieldStorms
        Of the field's floats.
    """
    weather = weather_of(field, ground, buoyancy, winds_of(field.settings, blown))
    question, storms = settled(weather, placement_asked(field, ground, buoyancy), beside=beside)
    return place(question), storms


def weather_of(field: Field, ground: LaidOut, buoyancy: Buoyancy, winds: Winds) -> Weather:
    """Return what the storm at the floats rests on.

    Parameters
    ----------
    field : Field
        With the floats.
    ground : LaidOut
        Its lake.
    buoyancy : Buoyancy
        Of the floats.
    winds : Winds
        Of the design storm.

    Returns
    -------
    Weather
        Of the field's floats.
    """
    return Weather(
        floats=field.floats,
        buoyancy=buoyancy,
        settings=field.settings,
        winds=winds,
        water=ground.water,
        surface=ground.surface,
    )


def placement_asked(
    field: Field, ground: LaidOut, buoyancy: Buoyancy, *, how_sure: bool = True
) -> PlacementQuestion:
    """Ask for the placement of all floats of a field, no storm in it yet.

    Parameters
    ----------
    field : Field
        With the floats.
    ground : LaidOut
        Its lake.
    buoyancy : Buoyancy
        Of the floats.
    how_sure : bool
        False leaves out how sure the depths are, which takes longest.

    Returns
    -------
    PlacementQuestion
        With the fixes.
    """
    lon = np.array([one.lon for one in field.floats])
    lat = np.array([one.lat for one in field.floats])
    return PlacementQuestion(
        floats=field.floats,
        fix_xy=np.column_stack(ground.projection.to_xy(lon, lat)),
        buoyancy=buoyancy,
        water=ground.water,
        surface=ground.surface,
        channels=channels_of(ground.zones),
        settings=field.settings,
        how_sure=how_sure,
    )


def size_floats(
    field: Field, placement: Placement, buoyancy: Buoyancy, storms: FieldStorms
) -> Sized:
    """Size every rig.

    Parameters
    ----------
    field : Field
        With the floats.
    placement : Placement
        Of its floats.
    buoyancy : Buoyancy
        Of its floats.
    storms : FieldStorms
        At its floats.

    Returns
    -------
    Sized
        Of the field's floats.

    Raises
    ------
    BadInputError
        If a part has a size that is none.
    """
    flotation = fill_flotation(field.floats)
    return size_rigs(
        SizingQuestion(
            floats=field.floats,
            settings=field.settings,
            placement=placement,
            flotation=flotation,
            buoyancy=buoyancy,
            stability=stability(field.floats, flotation, people=field.settings.people),
            storms=storms,
            parts=_parts(field),
        )
    )


def _parts(field: Field) -> list[RigParts]:
    """The parts of every line, or every size that is none."""
    found, wrong = [], []
    for one in field.floats:
        try:
            found.append(rig_parts(one, units=field.settings.units))
        except RangeError as error:
            text = f"float {one.float_id}: {error}"
            wrong.append(Problem(code="bad_size", text=text, file=field.floats_file, row=one.row))
    if wrong:
        raise BadInputError([*wrong, *field.problems])
    return found


def _refuse_outside(field: Field, placement: Placement) -> None:
    """Refuse primaries on land; only one reckoned from a fix can show up this late."""
    wrong = [
        Problem(
            code="outside_lake",
            text=(
                f"float {one.float_id}: the primary reckoned from its {one.position_of}'s position"
                " lies outside the lake; look at the position, the bearing and the lengths"
            ),
            file=field.floats_file,
            row=one.row,
            column="position_of",
        )
        for one, outside in zip(field.floats, placement.outside, strict=True)
        if outside and one.status != "retired"
    ]
    if wrong:
        raise BadInputError([*wrong, *field.problems])
