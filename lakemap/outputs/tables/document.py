"""The JSON document of `check` and `size`: SI, unrounded, every key always there."""

from collections.abc import Iterable
from dataclasses import asdict
from typing import Any, Final

from lakemap.basis.errors import Problem
from lakemap.clearances.records import Clearance
from lakemap.mapping import AssessedFloat, Assessment

FORMAT: Final = "lakemap 1"
_LEVELS = ("low", "normal", "high")


def document(assessment: Assessment) -> dict[str, Any]:
    """Return the document of an assessment.

    Parameters
    ----------
    assessment : Assessment
        Of a field; owners, permits and notes are left out.

    Returns
    -------
    dict
        Ready for JSON: None for what is unknown, never NaN; no key is ever absent.
    """
    field, levels = assessment.field, assessment.field.settings.levels
    return {
        "format": FORMAT,
        "field": field.folder,
        "projection": assessment.projection.text,
        "levels_m": {
            "low": levels.low_m,
            "normal": levels.normal_m,
            "high": levels.high_m,
            "soundings": levels.soundings_m,
        },
        "floats": [_float(one) for one in assessment.floats],
        "problems": [_problem(problem) for problem in assessment.problems],
    }


def problems_document(problems: Iterable[Problem]) -> dict[str, Any]:
    """Return the document of a run that failed.

    Parameters
    ----------
    problems : iterable of Problem
        All of the run.

    Returns
    -------
    dict
        `format` and `problems`.
    """
    return {"format": FORMAT, "problems": [_problem(problem) for problem in problems]}


def _problem(problem: Problem) -> dict[str, Any]:
    return {
        "code": problem.code,
        "text": problem.text,
        "file": problem.file,
        "row": problem.row,
        "column": problem.column,
    }


def _float(one: AssessedFloat) -> dict[str, Any]:
    second = one.secondary
    return {
        "float_id": one.record.float_id,
        "status": one.record.status,
        "verdict": one.verdict,
        "lon": one.lon,
        "lat": one.lat,
        "x_m": one.x_m,
        "y_m": one.y_m,
        "designed": list(one.designed),
        "assumed": list(one.assumed),
        "depth_m": dict(zip(_LEVELS, one.depth_m, strict=True)),
        "depth_error_m": one.depth_error_m,
        "hook_depth_m": one.hook_depth_m,
        "riser_m": one.riser_m,
        "ground_m": one.ground_m,
        "reach_m": one.reach_m[0],
        "swing_radius_m": one.swing_radius_m[0],
        "walk_radius_m": one.walk_radius_m,
        "shallowest_m": one.shallowest_m,
        "secondary": None
        if second is None
        else {
            "lon": second.lon,
            "lat": second.lat,
            "bearing_deg": second.bearing_deg,
            "assumed": second.assumed,
        },
        "clearances": [_clearance(clearance) for clearance in one.clearances],
        "problems": [{"code": problem.code, "text": problem.text} for problem in one.problems],
        "sizing": asdict(one.sizing),
    }


def _clearance(one: Clearance) -> dict[str, Any]:
    return {
        "against": one.against,
        "kind": one.kind,
        "gap_m": one.gap_m,
        "same_wind_gap_m": one.same_wind_gap_m,
        "required_m": one.required_m,
        "spare_m": one.spare_m,
        "uncertainty_m": one.uncertainty_m,
        "rule": one.rule,
        "value_m2": one.value_m2,
        "required_m2": one.required_m2,
        "spare_m2": one.spare_m2,
    }
