"""The assessment of a field: one frozen record of all that is known of each float."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from lakemap.basis.errors import BadInputError, Problem
from lakemap.basis.records import Field, Float, FloatArray, Geometry
from lakemap.basis.working import Step
from lakemap.clearances.records import CheckResult, Clearance, FloatCheck, PlacedZone, Verdict
from lakemap.lake.depth import DepthSurface
from lakemap.lake.projection import LakeProjection
from lakemap.rig.records import Buoyancy, Placement
from lakemap.sizing.answers import answers_of
from lakemap.sizing.pictures import pictures_of
from lakemap.sizing.records import Answers, RigPictures, Sizing
from lakemap.sizing.size_rigs import Sized
from lakemap.sizing.to_records import sizings_of

if TYPE_CHECKING:
    import geopandas as gpd


@dataclass(frozen=True, slots=True, kw_only=True)
class Secondary:
    """Where the secondary lies; bearing is true, from the primary."""

    x_m: float
    y_m: float
    lon: float
    lat: float
    bearing_deg: float | None
    assumed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class AssessedFloat:
    """All that is known of one float. Triples are at low, normal and high water; None unknown."""

    record: Float
    verdict: Verdict | None  # None: retired
    lon: float  # of the primary, or of the fix where that is not located
    lat: float
    x_m: float
    y_m: float
    located: bool
    extra_m: float
    designed: tuple[str, ...]  # names of what the tool chose, on a proposed float
    assumed: tuple[str, ...]  # the same, on a set one
    depth_m: tuple[float | None, float | None, float | None]
    depth_error_m: float | None
    hook_depth_m: float | None
    riser_m: float | None
    ground_m: float | None
    corner_m: float
    reach_m: tuple[float | None, float | None, float | None]
    swing_radius_m: tuple[float | None, float | None, float | None]
    walk_radius_m: float | None
    shallowest_m: float | None
    secondary: Secondary | None
    clearances: tuple[Clearance, ...]  # least spare first
    problems: tuple[Problem, ...]
    sizing: Sizing
    at: int = 0  # its place in the arrays of the working


@dataclass(frozen=True, slots=True, kw_only=True)
class Assessment:
    """A field, placed, checked and sized."""

    field: Field
    projection: LakeProjection
    water: Geometry  # multipolygon, x_m, y_m
    zones: tuple[PlacedZone, ...]
    surface: DepthSurface | None  # None: no soundings
    soundings_xy: FloatArray  # [k, 2], those kept
    soundings_m: FloatArray  # [k], at the soundings' level
    floats: tuple[AssessedFloat, ...]  # in file order, retired ones too
    problems: tuple[Problem, ...]  # of the field; cautions only
    sized: Sized  # arrays over all floats of the field

    def only(self, float_id: str) -> "Assessment":
        """Return the same with one float left.

        Parameters
        ----------
        float_id : str
            Its number or name, as in the floats file.

        Returns
        -------
        Assessment
            With one float; it was checked against all.

        Raises
        ------
        BadInputError
            If there is no such float; names the nearest.
        """
        from difflib import get_close_matches  # noqa: PLC0415 - only where a name is asked for

        kept = tuple(one for one in self.floats if one.record.float_id == float_id.strip())
        if not kept:
            names = [one.record.float_id for one in self.floats]
            near = get_close_matches(float_id, names, n=1) or names[:1]
            hint = f"; did you mean {near[0]}?" if near else "; the floats file has no rows"
            text = f"no float {float_id!r}{hint}"
            raise BadInputError([Problem(code="no_such_float", text=text, column="float_id")])
        return replace(self, floats=kept)

    @property
    def working(self) -> tuple[Step, ...]:
        """Every number of the sizing with its working, in the order of reading."""
        return self.sized.steps

    def answers(self, one: AssessedFloat) -> Answers:
        """Return what the sizing of one float says in sentences.

        Parameters
        ----------
        one : AssessedFloat
            Of this assessment.

        Returns
        -------
        Answers
            Whether the primary holds, what would turn an answer, three ways to build the rig.
        """
        return answers_of(self.sized, one.at)

    def rig_pictures(self) -> tuple[RigPictures, ...]:
        """Return what the floats' pictures are drawn from, one for each of `floats`.

        Returns
        -------
        tuple of RigPictures
            In the order of `floats`.
        """
        return pictures_of(self.sized, [one.at for one in self.floats])

    def floats_frame(self) -> "gpd.GeoDataFrame":
        """Return one row per float, a point at the primary, EPSG:4326."""
        from lakemap.frames import floats_frame  # noqa: PLC0415 - geopandas is slow to import

        return floats_frame(self)

    def circles_frame(self, level: str = "low") -> "gpd.GeoDataFrame":
        """Return one row per swing circle at a level, a polygon that contains it, EPSG:4326."""
        from lakemap.frames import circles_frame  # noqa: PLC0415 - geopandas is slow to import

        return circles_frame(self, level)


@dataclass(frozen=True, slots=True)
class Stages:
    """What each stage found, arrays over the floats in file order."""

    field: Field
    projection: LakeProjection
    placement: Placement
    buoyancy: Buoyancy
    checked: CheckResult
    sized: Sized | None  # None: the sizings are given


def gather(stages: Stages, *, sizings: Sequence[Sizing] | None = None) -> tuple[AssessedFloat, ...]:
    """Turn the stages' arrays into one record per float.

    Parameters
    ----------
    stages : Stages
        Of one field.
    sizings : sequence of Sizing or None
        In place of those of `stages.sized`.

    Returns
    -------
    tuple of AssessedFloat
        In file order.
    """
    where = stages.projection
    told = sizings_of(stages.sized) if stages.sized is not None else tuple(sizings or ())
    lon, lat = where.to_lonlat(*stages.placement.primary_xy.T)
    second_lon, second_lat = where.to_lonlat(*stages.placement.secondary_xy.T)
    return tuple(
        _one_float(stages, i, primary, second, told[i])
        for i, (primary, second) in enumerate(
            zip(
                zip(lon.tolist(), lat.tolist(), strict=True),
                zip(second_lon.tolist(), second_lat.tolist(), strict=True),
                strict=True,
            )
        )
    )


def _one_float(
    stages: Stages,
    i: int,
    primary: tuple[float, float],
    second: tuple[float, float],
    sizing: Sizing,
) -> AssessedFloat:
    record = stages.field.floats[i]
    at = stages.placement
    check_: FloatCheck = stages.checked.floats[i]
    chosen = _chosen(stages, i)
    return AssessedFloat(
        record=record,
        verdict=check_.verdict,
        lon=primary[0],
        lat=primary[1],
        x_m=float(at.primary_xy[i, 0]),
        y_m=float(at.primary_xy[i, 1]),
        located=bool(at.located[i]),
        extra_m=float(at.extra_m[i]),
        designed=chosen if record.status == "proposed" else (),
        assumed=() if record.status == "proposed" else chosen,
        depth_m=_triple(at.depth_m[i]),
        depth_error_m=_known(at.depth_error_m[i]),
        hook_depth_m=_known(at.hook_depth_m[i]),
        riser_m=_known(at.riser_m[i]),
        ground_m=_known(at.ground_m[i]),
        corner_m=float(at.corner_m[i]),
        reach_m=_triple(at.reach_m[i]),
        swing_radius_m=_triple(at.swing_radius_m[i]),
        walk_radius_m=_known(at.walk_radius_m[i]),
        shallowest_m=check_.shallowest_m,
        secondary=_secondary(at, i, second),
        clearances=check_.clearances,
        problems=check_.problems,
        sizing=sizing,
        at=i,
    )


def _chosen(stages: Stages, i: int) -> tuple[str, ...]:
    """Names of what the tool chose for one float, as the floats file would name them."""
    record, at = stages.field.floats[i], stages.placement
    blank = (
        ("hook_depth", record.hook_depth_m is None),
        ("riser_length", bool(at.riser_chosen[i])),
        ("ground_length", bool(at.ground_chosen[i])),
        ("bearing_deg", bool(at.bearing_assumed[i])),
        ("primary_blocks", record.primary_blocks is None and record.primary_weight_kg is None),
        (
            "secondary_blocks",
            record.secondary_blocks is None and record.secondary_weight_kg is None,
        ),
    )
    named = tuple(name for name, is_blank in blank if is_blank)
    return named + tuple(stages.buoyancy.assumed[i])


def _secondary(at: Placement, i: int, lonlat: tuple[float, float]) -> Secondary | None:
    x, y = at.secondary_xy[i].tolist()
    if np.isnan(x):
        return None
    return Secondary(
        x_m=x,
        y_m=y,
        lon=lonlat[0],
        lat=lonlat[1],
        bearing_deg=_known(at.bearing_deg[i]),
        assumed=bool(at.bearing_assumed[i]),
    )


def _known(value: float) -> float | None:
    """NaN is how arrays say unknown; records say None."""
    return None if np.isnan(value) else float(value)


def _triple(row: FloatArray) -> tuple[float | None, float | None, float | None]:
    low, normal, high = row.tolist()
    return _known(low), _known(normal), _known(high)
