"""What the field knows of a float whose fixes are averaged: where it is, what its line allows."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from lakemap.assessment import AssessedFloat
from lakemap.basis.errors import BadInputError
from lakemap.basis.records import Field, Float, FloatArray, Geometry
from lakemap.lake.projection import LakeProjection
from lakemap.lake.water import inside
from lakemap.mapping import assess
from lakemap.rig.fitted_circle import reach_band
from lakemap.rig.hydrostatics import float_buoyancy


@dataclass(frozen=True, slots=True, kw_only=True)
class Rigs:
    """A field's floats, placed; where they can't be, without what their lines allow."""

    field: Field
    projection: LakeProjection
    water: Geometry
    placed: Mapping[str, AssessedFloat]
    hook_empty_m: Mapping[str, float]  # hook depth with nobody aboard
    says: tuple[str, ...]  # why the floats can't be placed

    @classmethod
    def of(cls, field: Field) -> "Rigs":
        """Place a field's floats.

        Parameters
        ----------
        field : Field
            As read.

        Returns
        -------
        Rigs
            Of all its floats.
        """
        projection = LakeProjection.centred_on(field.lake)
        placed: dict[str, AssessedFloat] = {}
        says: tuple[str, ...] = ()
        try:
            placed = {one.record.float_id: one for one in assess(field).floats}
        except BadInputError as error:
            says = tuple(one.line() for one in error.problems if one.fatal)
        buoyancy = float_buoyancy(field.floats, people=field.settings.people)
        blank = (buoyancy.draft_m - buoyancy.height_m).tolist()
        hooks = {
            one.float_id: blank[i] if one.hook_depth_m is None else one.hook_depth_m
            for i, one in enumerate(field.floats)
        }
        return cls(
            field=field,
            projection=projection,
            water=projection.project(field.lake),
            placed=MappingProxyType(placed),
            hook_empty_m=MappingProxyType(hooks),
            says=says,
        )

    @property
    def sigma_m(self) -> float:
        """Standard uncertainty of one fix, one axis."""
        return self.field.settings.accuracy.position_m

    def record(self, float_id: str) -> Float:
        """Return a float's row."""
        return next(one for one in self.field.floats if one.float_id == float_id)

    def band(self, float_id: str) -> tuple[float, float] | None:
        """Return calm and taut reach of a float [m]; None where its lengths are not known."""
        one = self.placed.get(float_id)
        if one is None or one.riser_m is None or one.ground_m is None:
            return None
        deep = one.depth_m[2]
        return reach_band(
            one.riser_m + one.ground_m,
            drop_high_m=None if deep is None else deep - self.hook_empty_m[float_id],
            reach_low_m=one.reach_m[0],
        )

    def primary_xy(self, float_id: str) -> FloatArray | None:
        """Return where the floats file has the primary [m]; None: it is not located."""
        one, record = self.placed.get(float_id), self.record(float_id)
        if one is not None:
            return np.array([one.x_m, one.y_m]) if one.located else None
        if record.position_of != "primary":
            return None
        xy: FloatArray = self.xy(np.array([[record.lon, record.lat]]))[0]
        return xy

    def has_surer(self, float_id: str, error_m: float | None) -> bool:
        """Tell whether the floats file says of a position that it is better than an error [m]."""
        own = self.record(float_id).position_error_m
        return own is not None and own < (self.sigma_m if error_m is None else error_m)

    def xy(self, lonlat: FloatArray) -> FloatArray:
        """Turn degrees, shape [n, 2], to metres."""
        return np.column_stack(self.projection.to_xy(*lonlat.T))

    def is_wet(self, xy: FloatArray) -> bool:
        """Tell whether a place lies in the lake."""
        return bool(inside(self.water, xy.reshape(1, 2))[0])
