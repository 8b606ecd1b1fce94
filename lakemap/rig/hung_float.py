"""A float with weights hung under its hook: draft, freeboard, tilt and steadiness, exact."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from lakemap.basis.errors import RangeError
from lakemap.basis.published import FRESH_WATER_KG_M3, GRAVITY_M_S2
from lakemap.basis.records import Float, FloatArray
from lakemap.loads.people import PERSON_KG
from lakemap.rig.edge_load import edge_load
from lakemap.rig.float_defaults import Flotation, fill_flotation
from lakemap.rig.hydrostatics import draft, submerged_volume
from lakemap.rig.layout import Layout, layout
from lakemap.rig.sidewise import sidewise_gm_m
from lakemap.rig.stability import DECK_M, PERSON_CENTRE_M, tippings
from lakemap.rig.tilt import Tipping
from lakemap.rig.upright import upright

_G: Final = GRAVITY_M_S2.value
_RHO: Final = FRESH_WATER_KG_M3.value
_LEAST_RAD: Final = np.radians(0.0061)  # tilts of edge loads are followed from 0.006 degrees on


@dataclass(frozen=True, slots=True, kw_only=True)
class HungFloat:
    """One float in calm water with a weight hung under its hook; NaN where it goes under."""

    crew: int
    floats: bool
    reserve_n: float  # all buoyancy less all weight; negative: missing
    draft_m: float  # of its lowest part
    freeboard_m: float  # deck's top above the water, at the lowest edge
    tilt_deg: float
    gm_m: float  # the lesser of both ways; as it lies, sidewise, for a hook at the edge
    steady: bool
    hook_depth_m: float  # below the water; negative: above


def hook_height_m(record: Float) -> float:
    """Return the height of a float's hook above its keel.

    Parameters
    ----------
    record : Float
        A blank hook depth is the underside of the deck.

    Returns
    -------
    float
        Metres; negative below the keel.
    """
    flotation = fill_flotation((record,))
    if record.hook_depth_m is None:
        return float(flotation.height_m[0])
    return float(draft(flotation.weight_kg, flotation)[0]) - record.hook_depth_m


def hung_float(record: Float, *, hung_n: float, crew: int) -> HungFloat:
    """Return how a float lies with a weight under its hook and people in its middle.

    A weight that hangs free acts at its hook. In the centre: the draft at which the flotation
    displaces all of it, and GM = KB + BM - KG with the weight at the hook and the people standing.
    At the edge (the middle of a short side): the angle at which weight and buoyancy balance, the
    flotation cut by the water as it is; it goes under where that takes the deck's edge under
    water, or beyond 45 degrees; its GM is the sidewise one as it lies. The deck is not counted as
    buoyant. Sources: Archimedes; Lewis (ed.), Principles of Naval Architecture, 2nd rev., SNAME
    1988, vol. I, ch. 2.

    Parameters
    ----------
    record : Float
        As read; blanks take defaults of ours.
    hung_n : float
        Weight in water of what hangs [N], >= 0.
    crew : int
        People aboard, 185 lb each.

    Returns
    -------
    HungFloat
        In calm water.

    Raises
    ------
    RangeError
        If the weight or the crew is below 0.
    """
    if not (hung_n >= 0 and crew >= 0):
        raise RangeError(f"{hung_n:g} N under the hook and {crew} aboard: need 0 or more of both")
    flotation = fill_flotation((record,))
    laid = layout(
        flotation, length_m=np.array([record.length_m]), width_m=np.array([record.width_m])
    )
    body = _Body(flotation=flotation, laid=laid, hook_m=hook_height_m(record))
    load = _Load(hung_kg=hung_n / _G, crew_kg=crew * PERSON_KG)
    capacity = _RHO * float(submerged_volume(flotation.height_m, flotation)[0])
    mass = float(flotation.weight_kg[0]) + load.hung_kg + load.crew_kg
    found = _level(body, load) if record.hook == "centre" else _at_edge(body, load)
    return replace(found, crew=crew, reserve_n=(capacity - mass) * _G)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Body:
    """One float; arrays of shape [1]."""

    flotation: Flotation
    laid: Layout
    hook_m: float  # above the keel

    @property
    def deck_top_m(self) -> float:
        return float(self.flotation.height_m[0]) + DECK_M.value


@dataclass(frozen=True, slots=True, kw_only=True)
class _Load:
    hung_kg: float
    crew_kg: float


_UNDER: Final = HungFloat(
    crew=0,
    floats=False,
    reserve_n=0.0,
    draft_m=np.nan,
    freeboard_m=np.nan,
    tilt_deg=np.nan,
    gm_m=np.nan,
    steady=False,
    hook_depth_m=np.nan,
)


def _with_crew(body: _Body, tipping: Tipping, load: _Load) -> tuple[FloatArray, FloatArray]:
    """Weight of float and crew, and its height above the keel."""
    standing = body.deck_top_m + PERSON_CENTRE_M.value
    weight = tipping.weight_kg + load.crew_kg
    return weight, (tipping.weight_kg * tipping.centre_m + load.crew_kg * standing) / weight


def _level(body: _Body, load: _Load) -> HungFloat:
    own, centre = _with_crew(body, tippings(body.flotation, body.laid)[0], load)
    mass = own + load.hung_kg
    kg = (own * centre + load.hung_kg * body.hook_m) / mass
    lies = upright(body.flotation, body.laid, mass_kg=mass, kg_m=kg)
    sinks = float(lies.draft_m[0])
    if np.isnan(sinks):
        return _UNDER
    gm = float(min(lies.gm_transverse_m[0], lies.gm_long_m[0]))
    return HungFloat(
        crew=0,
        floats=True,
        reserve_n=0.0,
        draft_m=sinks,
        freeboard_m=body.deck_top_m - sinks,
        tilt_deg=0.0,
        gm_m=gm,
        steady=gm > 0,
        hook_depth_m=sinks - body.hook_m,
    )


def _at_edge(body: _Body, load: _Load) -> HungFloat:
    """The weight takes the place of people at the edge, at the hook's height."""
    lengthwise = tippings(body.flotation, body.laid)[1]
    weight, centre = _with_crew(body, lengthwise, load)
    tipped = replace(
        lengthwise,
        weight_kg=weight,
        centre_m=centre,
        stand_m=lengthwise.edge_m,
        person_centre_m=np.array([body.hook_m]),
    )
    found = edge_load(tipped, people_kg=np.array([load.hung_kg]))
    tilt, freeboard = float(found.tilt_deg[0]), float(found.freeboard_m[0])
    if np.isnan(tilt):
        return _UNDER
    cosine, sine = np.cos(np.radians(tilt)), np.sin(np.radians(tilt))
    edge = float(lengthwise.edge_m[0])
    top = body.deck_top_m * cosine - edge * sine
    # hardly tipped, the freeboard that was found is that of the least angle
    hardly = np.radians(tilt) < _LEAST_RAD
    level = float(draft(weight + load.hung_kg, body.flotation)[0]) if hardly else top - freeboard
    profile = lengthwise.profile
    end = float(np.abs(profile.offset_m[0]).max() + profile.extent_m[0] / 2)
    hook = body.hook_m * cosine - edge * sine
    own = float(weight[0])
    up = (own * float(centre[0]) * cosine + load.hung_kg * hook) / (own + load.hung_kg)
    gm = sidewise_gm_m(
        body.flotation, body.laid, tilt_rad=np.radians(tilt), level_m=level, weight_up_m=up
    )
    return HungFloat(
        crew=0,
        floats=True,
        reserve_n=0.0,
        draft_m=level + end * sine,
        freeboard_m=top - level,
        tilt_deg=tilt,
        gm_m=gm,
        steady=gm > 0,
        hook_depth_m=level - hook,
    )
