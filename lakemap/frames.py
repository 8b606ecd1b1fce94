"""An assessment as GeoDataFrames."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Final

import numpy as np
import shapely
from numpy.typing import NDArray

if TYPE_CHECKING:
    import geopandas as gpd

    from lakemap.assessment import AssessedFloat, Assessment

_LEVELS = ("low", "normal", "high")
SIDES: Final = 128
_CRS: Final = "EPSG:4326"


def floats_frame(assessment: "Assessment") -> "gpd.GeoDataFrame":
    """Return one row per float.

    Parameters
    ----------
    assessment : Assessment
        Of a field.

    Returns
    -------
    GeoDataFrame
        A point at each primary (or at the fix where that is not located), EPSG:4326; lengths in m.
    """
    import geopandas as gpd  # noqa: PLC0415 - slow to import

    floats = assessment.floats
    return gpd.GeoDataFrame(
        {
            "float_id": [one.record.float_id for one in floats],
            "status": [one.record.status for one in floats],
            "lot": [one.record.lot for one in floats],
            "verdict": [one.verdict for one in floats],
            "depth_low_m": [one.depth_m[0] for one in floats],
            "riser_m": [one.riser_m for one in floats],
            "ground_m": [one.ground_m for one in floats],
            "reach_m": [one.reach_m[0] for one in floats],
            "swing_radius_m": [one.swing_radius_m[0] for one in floats],
            "walk_radius_m": [one.walk_radius_m for one in floats],
            "least_spare_m": [
                min((c.spare_m for c in one.clearances if c.spare_m is not None), default=None)
                for one in floats
            ],
        },
        geometry=gpd.points_from_xy([one.lon for one in floats], [one.lat for one in floats]),
        crs=_CRS,
    )


def circles_frame(assessment: "Assessment", level: str = "low") -> "gpd.GeoDataFrame":
    """Return one row per swing circle.

    Parameters
    ----------
    assessment : Assessment
        Of a field.
    level : {'low', 'normal', 'high'}
        Lake level; low is the one that decides.

    Returns
    -------
    GeoDataFrame
        Polygons of 128 sides that contain the true circle, EPSG:4326: for drawing, not for gaps.

    Raises
    ------
    ValueError
        If the level is none of the three.
    """
    import geopandas as gpd  # noqa: PLC0415 - slow to import

    if level not in _LEVELS:
        raise ValueError(f"level {level!r} is none of {', '.join(_LEVELS)}")
    at = _LEVELS.index(level)
    known = [one for one in assessment.floats if one.swing_radius_m[at] is not None]
    return gpd.GeoDataFrame(
        {
            "float_id": [one.record.float_id for one in known],
            "verdict": [one.verdict for one in known],
            "swing_radius_m": [one.swing_radius_m[at] for one in known],
        },
        geometry=list(circle_polygons(assessment, known, at=at)),
        crs=_CRS,
    )


def circle_polygons(
    assessment: "Assessment",
    floats: Sequence["AssessedFloat"],
    *,
    at: int = 0,
    margin_m: float = 0.0,
) -> NDArray[Any]:
    """Return swing circles as polygons that contain them.

    Parameters
    ----------
    assessment : Assessment
        For the projection.
    floats : sequence of AssessedFloat
        Whose swing radius at that level is known.
    at : int
        Lake level: 0 low, 1 normal, 2 high.
    margin_m : float
        Put to every radius, so that coordinates may be rounded [m].

    Returns
    -------
    ndarray of shapely polygons
        In lon, lat, anticlockwise: 128 sides, each touching the true circle where no margin is.
    """
    angle = 2 * np.pi * np.arange(SIDES) / SIDES
    around = np.column_stack([np.cos(angle), np.sin(angle)]) / np.cos(np.pi / SIDES)
    middle = np.array([(one.x_m, one.y_m) for one in floats], dtype=np.float64).reshape(-1, 1, 2)
    radius = np.array([one.swing_radius_m[at] for one in floats], dtype=np.float64) + margin_m
    rings = middle + radius.reshape(-1, 1, 1) * around
    polygons = np.asarray(shapely.polygons(rings), dtype=object).reshape(-1)
    found: NDArray[Any] = assessment.projection.unproject(polygons)
    return found
