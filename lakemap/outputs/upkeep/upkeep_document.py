"""The JSON document of `upkeep`: SI, unrounded, every key always there."""

from collections.abc import Sequence
from datetime import date
from typing import Any, Final

from lakemap.basis.records import Units
from lakemap.outputs.upkeep.float_texts import ends_text, misfit_text, moved_texts, touching_text
from lakemap.outputs.upkeep.part_texts import due_text
from lakemap.outputs.upkeep.shopping_table import shopping_document
from lakemap.season.buying.prices import Shopping
from lakemap.season.rig_inventory import RigPiece
from lakemap.season.upkeep.inspected import Seen
from lakemap.season.upkeep.mismatched import Misfit, Touching
from lakemap.season.upkeep.moved import Moved
from lakemap.season.upkeep.part_records import Due, PieceState, Worn
from lakemap.season.upkeep.part_states import due_state
from lakemap.season.upkeep.permits import Permit
from lakemap.season.upkeep.storms_passed import AfterStorm, StormPassed
from lakemap.season.upkeep.upkeep import FloatUpkeep, Upkeep

FORMAT: Final = "lakemap upkeep 1"


def upkeep_document(
    told: Upkeep, *, owners: bool = False, shopping: Shopping | None = None
) -> dict[str, Any]:
    """Return the document of a field's upkeep.

    Parameters
    ----------
    told : Upkeep
        Of a field.
    owners : bool
        True puts the texts of permits and who inspected into it; else they are null.
    shopping : Shopping or None
        What to buy, where it was asked for.

    Returns
    -------
    dict
        Ready for JSON: None for what is unknown, never NaN; no key is ever absent.
    """
    return {
        "format": FORMAT,
        "field": told.assessment.field.folder,
        "on": told.on.isoformat(),
        "season_ends": told.until.isoformat(),
        "floats": [_float(one, told, owners=owners) for one in told.floats],
        "season": [
            {"what": task.what, "on": _day(task.on), "text": task.text} for task in told.tasks
        ],
        "permits": [_permit(one, owners=owners) for one in told.permits],
        "after_storm": None if told.storm is None else _storm(told.storm),
        "shopping": None if shopping is None else shopping_document(shopping),
        "problems": [
            {
                "code": note.code,
                "text": note.text,
                "file": note.file,
                "row": note.row,
                "column": note.column,
            }
            for note in told.notes
        ],
    }


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def _float(one: FloatUpkeep, told: Upkeep, *, owners: bool) -> dict[str, Any]:
    units = told.assessment.field.settings.units
    return {
        "float_id": one.float_id,
        "state": one.state,
        "by": _day(one.by),
        "set_on": _day(one.one.record.set_on),
        "has_record": one.has_record,
        "parts": [_part(part, told) for part in one.parts],
        "inspections": [_row(row, one.parts, owners=owners) for row in one.seen],
        "moved": None if one.moved is None else _moved(one.moved, units),
        "unlike_metals": [_touching(each) for each in one.touching],
        "metal_not_told": [piece.name for piece in one.unknown_ends],
        "metal_not_told_text": ends_text(one) if one.unknown_ends else None,
        "misfits": [_misfit(each, units) for each in one.misfits],
    }


def _part(part: PieceState, told: Upkeep) -> dict[str, Any]:
    return {
        **_piece(part.piece),
        "state": part.state,
        "by": _day(part.by),
        "since": _day(part.since),
        "since_what": part.since_what,
        "last_inspected": _day(part.seen_on),
        "look_again": _day(part.look_by),
        "due": [_due(due, part, told) for due in part.dues],
        "worn": None if part.worn is None else _worn(part.worn),
    }


def _piece(piece: RigPiece) -> dict[str, Any]:
    return {
        "name": piece.name,
        "kind": piece.kind,
        "size": piece.size,
        "grade": piece.grade,
        "metal": piece.metal,
        "count": piece.count,
        "length_m": piece.length_m,
        "new_diameter_m": piece.new_diameter_m,
        "origin": piece.origin,
        "blank": list(piece.blank),
    }


def _due(due: Due, part: PieceState, told: Upkeep) -> dict[str, Any]:
    units = told.assessment.field.settings.units
    return {
        "what": due.what,
        "why": due.why,
        "state": due_state(due, on=told.on, until=told.until),
        "by": due.by.isoformat(),
        "at_most": _day(due.at_most),
        "basis": due.basis,
        "source": due.source,
        "text": due_text(due, part, on=told.on, units=units),
    }


def _worn(worn: Worn) -> dict[str, Any]:
    return {
        "new_m": worn.new_m,
        "least_m": worn.least_m,
        "measured_on": worn.measured_on.isoformat(),
        "measured": worn.measured,
        "replaced_at_m": worn.retired_m,
        "rate_m_a": worn.rate_m_a,
        "rate_error_m_a": worn.rate_error_m_a,
        "since_new": worn.since_new,
        "likely_on": _day(worn.likely_on),
        "safe_on": _day(worn.safe_on),
    }


def _row(row: Seen, parts: Sequence[PieceState], *, owners: bool) -> dict[str, Any]:
    lon, lat = row.lonlat or (None, None)
    return {
        "row": row.row,
        "date": row.on.isoformat(),
        "part": row.part,
        "finding": row.finding,
        "says": row.kind,
        "diameter_m": row.diameter_m,
        "broken_wires": row.broken_wires,
        "lon": lon,
        "lat": lat,
        "by": row.by if owners else None,
        "parts": [parts[i].piece.name for i in row.pieces],
        "either_part": row.unsure,
    }


def _moved(seen: Moved, units: Units) -> dict[str, Any]:
    return {
        "row": seen.row,
        "date": seen.on.isoformat(),
        "what": seen.what,
        "lon": seen.lon,
        "lat": seen.lat,
        "distance_m": seen.distance_m,
        "bearing_deg": seen.bearing_deg,
        "allowed_m": seen.allowed_m,
        "beyond_m": seen.beyond_m,
        "uncertainty_m": seen.uncertainty_m,
        "verdict": seen.verdict,
        "at_shore": seen.at_shore,
        "look_first": [
            {"name": one.name, "size": one.size or None, "why": one.why, "share": one.share}
            for one in seen.look_first
        ],
        "text": " ".join(moved_texts(seen, units)),
    }


def _touching(one: Touching) -> dict[str, Any]:
    return {
        "parts": [one.first.name, one.second.name],
        "goes": one.couple.goes,
        "stays": one.couple.stays,
        "apart_mv": one.couple.apart_mv,
        "level": one.couple.level,
        "advice": one.couple.advice,
        "text": touching_text(one),
    }


def _misfit(one: Misfit, units: Units) -> dict[str, Any]:
    return {
        "kind": one.kind,
        "name": one.name,
        "size": one.size or None,
        "has": one.has,
        "asked": one.asked,
        "worn": one.worn,
        "text": misfit_text(one, units),
    }


def _permit(one: Permit, *, owners: bool) -> dict[str, Any]:
    return {
        "float_id": one.float_id,
        "until": _day(one.until),
        "state": one.state,
        "permit": one.text if owners else None,
    }


def _storm(storm: AfterStorm) -> dict[str, Any]:
    return {
        "wind_m_s": storm.wind_m_s,
        "gust_m_s": storm.gust_m_s,
        "from_deg": None if storm.from_deg is None else list(storm.from_deg),
        "stronger": storm.stronger,
        "floats": [_passed(one) for one in storm.floats],
    }


def _passed(one: StormPassed) -> dict[str, Any]:
    return {
        "float_id": one.float_id,
        "from_deg": one.from_deg,
        "wave_height_m": one.wave_height_m,
        "mean_n": one.mean_n,
        "peak_n": one.peak_n,
        "sized_mean_n": one.sized_mean_n,
        "sized_peak_n": one.sized_peak_n,
        "above_sized": one.above_sized,
        "part": one.part,
        "size": one.size,
        "used": one.used,
        "lifts": one.lifts,
        "slides": one.slides,
        "slides_settled": one.slides_settled,
    }
