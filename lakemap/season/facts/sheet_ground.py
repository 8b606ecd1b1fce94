"""A field made ready for its sheets: what all floats' facts share, worked out once."""

from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

import numpy as np
import shapely
from scipy.spatial import cKDTree

from lakemap.assessment import AssessedFloat, Assessment
from lakemap.basis.records import FloatArray, Geometry
from lakemap.lake.along import AlongWays
from lakemap.lake.deep_way import WayNet
from lakemap.lake.depth import DepthSurface
from lakemap.lake.water import inside, nearest_on_shore
from lakemap.lake.way_net import way_net
from lakemap.rechecked import Ground, ground_of
from lakemap.season.facts.marks import Mark, named_marks, shore_points

_ONE_PLACE_M: Final = 1.0  # soundings nearer than that to a float with its own depth give way
_RAMP_STEP_M: Final = 1.0
_SHORE: Final = "the nearest shore"


@dataclass(frozen=True, slots=True, kw_only=True)
class Landing:
    """Where a float may be taken out of the water."""

    name: str
    is_ramp: bool
    node: int  # of the net


@dataclass(frozen=True, slots=True, kw_only=True)
class TowNet:
    """The net of ways over the lake, and where floats and landings are in it."""

    net: WayNet
    node_of: dict[int, int]  # by the float's place in the field
    landings_of: dict[int, tuple[Landing, ...]]  # the ramps, or the nearest shore of each float


@dataclass(frozen=True, kw_only=True)
class SheetGround:
    """A field ready for its sheets; each part is worked out when first asked for."""

    assessment: Assessment

    @cached_property
    def surface(self) -> DepthSurface | None:
        """The depth surface with the depths that floats' own rows give; None: no soundings."""
        one = self.assessment
        if one.surface is None:
            return None
        own = [each for each in one.floats if each.record.depth_m is not None]
        at = np.array([(each.x_m, each.y_m) for each in own], dtype=np.float64).reshape(-1, 2)
        wet = inside(one.water, at)
        if not wet.any():
            return one.surface
        depth = np.array([each.record.depth_m for each in own], dtype=np.float64)
        # what was sounded right there says less than the float's own row
        kept = cKDTree(at[wet]).query(one.soundings_xy)[0] >= _ONE_PLACE_M
        return DepthSurface.from_soundings(
            np.concatenate([one.soundings_xy[kept], at[wet]]),
            np.concatenate([one.soundings_m[kept], depth[wet]]),
            one.water,
            shore_depth_m=one.surface.shore_depth_m,
        )

    @cached_property
    def rules(self) -> Ground:
        """The field as its rules see it, with that surface."""
        ground = ground_of(self.assessment)
        return replace(ground, lake=replace(ground.lake, surface=self.surface))

    @cached_property
    def marks(self) -> tuple[tuple[Mark, ...], tuple[Mark, ...]]:
        """Marks that have a name, and points of the shore."""
        return named_marks(self.assessment), shore_points(self.assessment)

    @cached_property
    def tow(self) -> TowNet | None:
        """The net of ways; None: no soundings."""
        surface, one = self.surface, self.assessment
        if surface is None:
            return None
        at = np.array([(each.x_m, each.y_m) for each in one.floats], dtype=np.float64)
        at = at.reshape(-1, 2)
        ramps = [placed for placed in one.zones if placed.zone.kind == "ramp"]
        feet = [_foot(placed.shape, surface) for placed in ramps]
        ends = np.array(feet).reshape(-1, 2) if ramps else nearest_on_shore(one.water, at)[1]
        net = way_net(surface, np.concatenate([at, ends]))
        nodes = net.points.tolist()
        here, there = nodes[: len(at)], nodes[len(at) :]
        if ramps:
            every = tuple(
                Landing(name=placed.zone.label, is_ramp=True, node=node)
                for placed, node in zip(ramps, there, strict=True)
            )
            landings = [every] * len(at)
        else:
            landings = [(Landing(name=_SHORE, is_ramp=False, node=node),) for node in there]
        places = [each.at for each in one.floats]
        return TowNet(
            net=net,
            node_of=dict(zip(places, here, strict=True)),
            landings_of=dict(zip(places, landings, strict=True)),
        )

    def float_of(self, float_id: str) -> AssessedFloat:
        """Return one float.

        Parameters
        ----------
        float_id : str
            Its number or name, as in the floats file.

        Returns
        -------
        AssessedFloat
            As assessed.

        Raises
        ------
        BadInputError
            If there is no such float; names the nearest.
        """
        return self.assessment.only(float_id).floats[0]


def sheet_ground(assessment: Assessment) -> SheetGround:
    """Make a field ready for its sheets.

    Parameters
    ----------
    assessment : Assessment
        Of a whole field.

    Returns
    -------
    SheetGround
        To be shared by the facts of all its floats.
    """
    return SheetGround(assessment=assessment)


def _foot(ramp: Geometry, surface: DepthSurface) -> FloatArray:
    """The deepest point of a ramp, or the water nearest to one that is drawn on land."""
    xy = shapely.get_coordinates(shapely.segmentize(ramp, _RAMP_STEP_M))
    wet = xy[inside(surface.water, xy)]
    if not len(wet):
        return np.array(shapely.shortest_line(surface.water, ramp).coords[0], dtype=np.float64)[:2]
    depth = AlongWays(surface=surface).depths_at(wet)
    deepest: FloatArray = wet[int(depth.argmax())]
    return deepest
