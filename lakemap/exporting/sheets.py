"""The sheets of a spreadsheet: floats, clearances, sizing and zones, in the user's units."""

from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import Any, Final

import shapely

from lakemap.assessment import AssessedFloat
from lakemap.basis.published import GRAVITY_M_S2
from lakemap.basis.quantities import FOOT_M, MILE_PER_HOUR_M_S, POUND_FORCE_N
from lakemap.basis.records import Units
from lakemap.exporting.floats_table import float_rows, twelve
from lakemap.exporting.records import Column, Kind, Table
from lakemap.mapping import Assessment

# what is measured -> the end of the column's name, and its unit in SI
_UNITS: Mapping[Units, Mapping[str, tuple[str, float]]] = MappingProxyType(
    {
        "ft-lb": {
            "length": ("_ft", FOOT_M.value),
            "area": ("_ft2", FOOT_M.value**2),
            "weight": ("_lb", POUND_FORCE_N.value),
            "force": ("_lb", POUND_FORCE_N.value),
            "speed": ("_mph", MILE_PER_HOUR_M_S.value),
        },
        "m-kg": {
            "length": ("_m", 1.0),
            "area": ("_m2", 1.0),
            "weight": ("_kg", GRAVITY_M_S2.value),
            "force": ("_n", 1.0),
            "speed": ("_m_s", 1.0),
        },
    }
)
_KINDS: Mapping[str, Kind] = MappingProxyType(
    {"text": "text", "name": "name", "count": "count", "flag": "flag"}
)
# name, what it measures or its kind, how to get it in SI
_Told = Sequence[tuple[str, str, Callable[[Any], object]]]


def _most_used(one: AssessedFloat) -> float | None:
    return max((part.used for part in one.sizing.line.parts if part.used is not None), default=None)


_CLEARANCE: Final[_Told] = (
    ("float_id", "name", lambda pair: pair[0].record.float_id),
    ("verdict", "text", lambda pair: pair[0].verdict),
    ("against", "name", lambda pair: pair[1].against),
    ("kind", "text", lambda pair: pair[1].kind),
    ("gap", "length", lambda pair: pair[1].gap_m),
    ("same_wind_gap", "length", lambda pair: pair[1].same_wind_gap_m),
    ("required", "length", lambda pair: pair[1].required_m),
    ("spare", "length", lambda pair: pair[1].spare_m),
    ("uncertainty", "length", lambda pair: pair[1].uncertainty_m),
    ("deck", "area", lambda pair: pair[1].value_m2),
    ("required", "area", lambda pair: pair[1].required_m2),
    ("spare", "area", lambda pair: pair[1].spare_m2),
    ("rule", "text", lambda pair: pair[1].rule),
)
_SIZING: Final[_Told] = (
    ("float_id", "name", lambda one: one.record.float_id),
    ("status", "text", lambda one: one.record.status),
    ("verdict", "text", lambda one: one.verdict),
    ("designed", "text", lambda one: ", ".join(one.designed) or None),
    ("assumed", "text", lambda one: ", ".join(one.assumed) or None),
    ("depth_low", "length", lambda one: one.depth_m[0]),
    ("depth_normal", "length", lambda one: one.depth_m[1]),
    ("depth_high", "length", lambda one: one.depth_m[2]),
    ("hook_depth", "length", lambda one: one.hook_depth_m),
    ("riser", "length", lambda one: one.riser_m),
    ("ground", "length", lambda one: one.ground_m),
    ("reach_low", "length", lambda one: one.reach_m[0]),
    ("swing_radius_low", "length", lambda one: one.swing_radius_m[0]),
    ("walk_radius", "length", lambda one: one.walk_radius_m),
    ("shallowest", "length", lambda one: one.shallowest_m),
    ("float_weight", "weight", lambda one: one.sizing.float.weight_n),
    ("draft", "length", lambda one: one.sizing.float.draft_m),
    ("freeboard", "length", lambda one: one.sizing.float.freeboard_m),
    ("buoyancy", "force", lambda one: one.sizing.float.buoyancy_n),
    ("reserve", "force", lambda one: one.sizing.float.reserve_n),
    ("gm", "length", lambda one: one.sizing.float.gm_m),
    ("heel_deg", "number", lambda one: one.sizing.float.heel_deg),
    ("edge_people_max", "count", lambda one: one.sizing.float.edge_people_max),
    ("heave_period_s", "number", lambda one: one.sizing.float.heave_period_s),
    ("wind", "speed", lambda one: one.sizing.storm.wind_m_s),
    ("gust", "speed", lambda one: one.sizing.storm.gust_m_s),
    ("wind_from_deg", "number", lambda one: one.sizing.storm.from_deg),
    ("fetch", "length", lambda one: one.sizing.storm.fetch_m),
    ("wave_height", "length", lambda one: one.sizing.storm.wave_height_m),
    ("wave_period_s", "number", lambda one: one.sizing.storm.wave_period_s),
    ("wave_height_max", "length", lambda one: one.sizing.storm.wave_height_max_m),
    ("wake_height", "length", lambda one: one.sizing.storm.wake_height_m),
    ("wind_pull", "force", lambda one: one.sizing.loads_n.wind),
    ("gust_pull", "force", lambda one: one.sizing.loads_n.gust),
    ("drift_pull", "force", lambda one: one.sizing.loads_n.drift),
    ("mean_pull", "force", lambda one: one.sizing.loads_n.mean),
    ("snap", "force", lambda one: one.sizing.loads_n.snap),
    ("peak_pull", "force", lambda one: one.sizing.loads_n.peak),
    ("primary_blocks", "count", lambda one: one.sizing.primary.blocks),
    ("primary_dry", "weight", lambda one: one.sizing.primary.dry_n),
    ("primary_wet", "force", lambda one: one.sizing.primary.wet_n),
    ("primary_uplift", "force", lambda one: one.sizing.primary.uplift_n),
    ("pull_angle_deg", "number", lambda one: one.sizing.primary.pull_angle_deg),
    ("holding_unburied", "force", lambda one: one.sizing.primary.holding_n.unburied),
    ("holding_buried", "force", lambda one: one.sizing.primary.holding_n.buried),
    ("primary_practice_blocks", "count", lambda one: one.sizing.primary.practice_blocks),
    ("enough_by_practice", "flag", lambda one: one.sizing.primary.enough.practice),
    ("enough_unburied", "flag", lambda one: one.sizing.primary.enough.unburied),
    ("enough_buried", "flag", lambda one: one.sizing.primary.enough.buried),
    ("secondary_blocks", "count", lambda one: one.sizing.secondary.blocks),
    ("secondary_dry", "weight", lambda one: one.sizing.secondary.dry_n),
    ("secondary_wet", "force", lambda one: one.sizing.secondary.wet_n),
    ("secondary_practice_blocks", "count", lambda one: one.sizing.secondary.practice_blocks),
    ("weak_link", "text", lambda one: one.sizing.line.weak_link),
    ("weak_link_used", "number", _most_used),
    ("cautions", "text", lambda one: "\n".join(one.sizing.cautions) or None),
)
_ZONE: Final[_Told] = (
    ("zone", "name", lambda placed: placed.zone.label),
    ("kind", "text", lambda placed: placed.zone.kind),
    ("lot", "name", lambda placed: placed.zone.lot),
    ("width", "length", lambda placed: placed.zone.width_m),
    ("clearance", "length", lambda placed: placed.zone.clearance_m),
    ("size", "area", lambda placed: _area(placed.shape)),
    ("length", "length", lambda placed: _line(placed.shape)),
    ("source", "text", lambda placed: placed.zone.source),
)


def sheets(assessment: Assessment, *, owners: bool) -> tuple[Table, ...]:
    """Return the sheets of a field.

    Parameters
    ----------
    assessment : Assessment
        Of the field.
    owners : bool
        True keeps owners, permits and notes.

    Returns
    -------
    tuple of Table
        Floats, as a floats file has them; clearances, sizing, zones.
    """
    units = assessment.field.settings.units
    floats = float_rows(assessment.field.floats, units=units, owners=owners, place=True)
    pairs = [(one, clearance) for one in assessment.floats for clearance in one.clearances]
    return (
        Table(name="floats", about="", columns=floats.columns, rows=floats.rows),
        _sheet("clearances", _CLEARANCE, pairs, units),
        _sheet("sizing", _SIZING, assessment.floats, units),
        _sheet("zones", _ZONE, assessment.zones, units),
    )


def _sheet(name: str, told: _Told, things: Sequence[object], units: Units) -> Table:
    columns = []
    getters = []
    for base, what, get in told:
        end, unit = _UNITS[units].get(what, ("", 1.0))
        columns.append(Column(name=f"{base}{end}", kind=_KINDS.get(what, "number")))
        getters.append((get, None if what in _KINDS else unit))
    rows = tuple(tuple(_cell(get(thing), unit) for get, unit in getters) for thing in things)
    return Table(name=name, about="", columns=tuple(columns), rows=rows)


def _cell(value: Any, unit: float | None) -> object:  # noqa: ANN401 - of any kind
    return value if unit is None or value is None else twelve(value / unit)


def _area(shape: Any) -> float | None:  # noqa: ANN401 - shapely is untyped
    return float(shapely.area(shape)) if shapely.get_dimensions(shape) > 1 else None


def _line(shape: Any) -> float | None:  # noqa: ANN401 - shapely is untyped
    return float(shapely.length(shape)) if shapely.get_dimensions(shape) == 1 else None
