"""The answer to where a picture lies, in the words and units of its owner."""

from collections.abc import Mapping, Sequence
from typing import Any, Final

import numpy as np

from lakemap.basis.errors import BadInputError, Problem, RangeError
from lakemap.basis.quantities import FOOT_M, parse_quantity
from lakemap.basis.records import FloatArray, Units
from lakemap.basis.typed_places import read_position
from lakemap.basis.wording import length_text, length_unit
from lakemap.inputs.settings import PHONE_POSITION
from lakemap.lake.projection import LakeProjection
from lakemap.planner.ground_drawing import typed
from lakemap.planner.picture_fix import Kind, PictureFix, fix_picture

_LEAST: Final = 2
_WIDEST_M: Final = 200_000.0  # ours: no picture of a lake shows more
_FAR_M: Final = 20_000.0  # from the lake that stands already; ours
_TIMES: Final = 2.0  # what a phone's error leaves over, before we doubt a position; ours
_PARAMETERS: Final = {"similarity": 4, "affine": 6}
_DISAGREE: Final = (
    "The points disagree by more than a phone's error explains. Look again at those that are off"
    " most: is the right place marked, and its position typed right?"
)


def fix_answer(body: Mapping[str, Any]) -> dict[str, Any]:
    """Return where a picture lies, and how well its points agree.

    Parameters
    ----------
    body : mapping
        `points` (u, v, place as typed), `size` of the picture, `kind`, `units`, and `middle`
        (lon, lat) where the drawing has its middle already, else None.

    Returns
    -------
    dict
        `matrix` and `middle`, None where there are too few points; `points` with the residual or
        the fault of each; `rms`, `scale`, `says`, `warnings` for people.

    Raises
    ------
    BadInputError
        If it is not of the form that the page sends.
    """
    try:
        points = list(body["points"])
        pixels = np.array([[one["u"], one["v"]] for one in points], dtype=np.float64)
        places = [str(one["place"]) for one in points]
        width, height = (float(value) for value in body["size"])
        kind: Kind = "affine" if body["kind"] == "affine" else "similarity"
        units: Units = "m-kg" if body["units"] == "m-kg" else "ft-lb"
        middle = _middle(body["middle"])
    except (KeyError, TypeError, ValueError) as error:
        text = f"the picture's points can't be read ({error}); load the page again"
        raise BadInputError([Problem(code="bad_points", text=text)]) from error
    told: list[dict[str, Any]] = [{"residual": None, "problem": None} for _ in points]
    lonlat, used = _positions(places, told)
    if len(used) < _LEAST:
        return _unfixed(told, "Mark two points at least whose positions are known.")
    where = middle or LakeProjection(
        lon0=float(lonlat[:, 0].mean()), lat0=float(lonlat[:, 1].mean())
    )
    xy = np.column_stack(where.to_xy(lonlat[:, 0], lonlat[:, 1]))
    if not (np.hypot(*(xy - xy.mean(axis=0)).T) < _WIDEST_M).all():  # too far for a number, too
        return _unfixed(told, "These positions are hundreds of miles apart. Is a minus missing?")
    try:
        fixed = fix_picture(
            pixels[used], xy, size_px=(width, height), kind=kind, numbers=[k + 1 for k in used]
        )
    except RangeError as error:
        return _unfixed(told, f"{str(error)[:1].upper()}{str(error)[1:]}.")
    for k, left in zip(used, fixed.residuals_m.tolist(), strict=True):
        told[k]["residual"] = length_text(left, units)
    far = middle is not None and bool((np.hypot(*xy.T) > _FAR_M).any())
    return _fixed(fixed, where, units, size=(width, height)) | {
        "points": told,
        "warnings": [one.text for one in fixed.warnings]
        + ["The picture would lie far from the lake: are the positions right?"] * far
        + [_DISAGREE] * _disagrees(fixed),
    }


def _middle(given: Sequence[float] | None) -> LakeProjection | None:
    if given is None:
        return None
    lon, lat = (float(value) for value in given)
    if not (abs(lon) <= 180 and abs(lat) < 90):  # noqa: PLR2004 - degrees
        raise ValueError(f"middle {lat}, {lon}")
    return LakeProjection(lon0=lon, lat0=lat)


def _positions(places: list[str], told: list[dict[str, Any]]) -> tuple[FloatArray, list[int]]:
    """Positions that can be read, and which points they belong to."""
    lonlat, used = [], []
    for k, place in enumerate(places):
        if not place.strip():
            continue
        try:
            lat, lon = read_position(place)
        except ValueError as error:
            told[k]["problem"] = str(error)
        else:
            lonlat.append((lon, lat))
            used.append(k)
    return np.array(lonlat, dtype=np.float64).reshape(-1, 2), used


def _unfixed(told: list[dict[str, Any]], says: str) -> dict[str, Any]:
    return {
        "matrix": None, "middle": None, "rms": None, "scale": None, "says": says, "points": told,
        "warnings": [],
    }  # fmt: skip


def _fixed(
    fixed: PictureFix, where: LakeProjection, units: Units, *, size: tuple[float, float]
) -> dict[str, Any]:
    """The fix as the page takes it."""
    a, b, c, d = fixed.matrix[:4]
    across, up = np.hypot(a, b) * size[0], np.hypot(c, d) * size[1]
    count = len(fixed.residuals_m)
    rms = length_text(fixed.rms_m, units)
    return {
        "matrix": list(fixed.matrix),
        "middle": [where.lon0, where.lat0],
        "rms": rms,
        "scale": _scale(fixed.scale_m_px, units),
        "says": (
            f"The picture shows {_whole(across, units)} by {_whole(up, units)}. Its {count} points"
            f" agree to {rms} (rms)."
        ),
    }


def _disagrees(fixed: PictureFix) -> bool:
    """Tell whether more is left over than a phone's positions leave.

    With one axis's standard error s, the squares of 2 n coordinates that are left over by a fit of
    p parameters add up to (2 n - p) s**2 on average.
    """
    count = len(fixed.residuals_m)
    free = 2 * count - _PARAMETERS[fixed.kind]
    expected = parse_quantity(PHONE_POSITION, "length") * np.sqrt(free / count)
    return free > 0 and fixed.rms_m > _TIMES * float(expected)


def _whole(metres: float, units: Units) -> str:
    figure, unit = length_text(float(metres), units).split()
    return f"{figure.split('.')[0]} {unit}"


def _scale(metres_a_pixel: float, units: Units) -> str:
    value = metres_a_pixel / (FOOT_M.value if units == "ft-lb" else 1.0)
    return f"{value:.3g} {length_unit(units)} a pixel"


def start_answer(body: Mapping[str, Any]) -> dict[str, Any]:
    """Return where a plain grid lies.

    Parameters
    ----------
    body : mapping
        `place` and `size` as typed, and `units`.

    Returns
    -------
    dict
        `middle` (lon, lat) and `span_m`.

    Raises
    ------
    BadInputError
        With both slips at once.
    """
    unit = "m" if body.get("units") == "m-kg" else "ft"
    problems, lat, lon, span = [], 0.0, 0.0, 0.0
    try:
        lat, lon = read_position(str(body.get("place", "")))
    except ValueError as error:
        problems.append(Problem(code="bad_place", text=f"Position: {error}"))
    try:
        span = typed(str(body.get("size", "")), "length", unit)
    except ValueError as error:
        problems.append(Problem(code="bad_size", text=f"Size: {error}"))
    if not problems and not 0 < span <= _WIDEST_M:
        what = f"Size: {body['size']} is no size of a lake"
        text = f"{what}; write above 0 and at most 120 miles (200 km)"
        problems.append(Problem(code="bad_size", text=text))
    if problems:
        raise BadInputError(problems)
    return {"middle": [lon, lat], "span_m": span}
