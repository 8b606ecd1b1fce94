"""The float and its circle, step by step: lift, steadiness, swing."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from lakemap.basis.records import Float, FloatArray
from lakemap.basis.working import Formula, Step, Term, read_off
from lakemap.rig.float_defaults import Flotation
from lakemap.rig.hook import RIG_SHARE, hook_trim_deg
from lakemap.rig.hydrostatics import draft
from lakemap.rig.line import LineState
from lakemap.rig.line_formulas import REACH_TAUT, SWING_RADIUS
from lakemap.rig.records import Buoyancy, Placement
from lakemap.rig.stability import DECK_M, Stability
from lakemap.sizing.rigs import Rigs
from lakemap.sizing.statics import NORMAL

LOW: Final = 0


def _left(buoyancy_n: FloatArray, weight_n: FloatArray, people_n: FloatArray) -> FloatArray:
    return buoyancy_n - weight_n - people_n


RESERVE: Final = Formula(
    key="reserve",
    name="Lift left with its people aboard",
    symbol="P",
    words="P = B − W − n m_p g",
    unit="N",
    source="Archimedes; 185 lb a person: 46 CFR 170.090(d)(1)",
    terms={
        "buoyancy_n": Term(symbol="B", name="lift of all flotation under water", unit="N"),
        "weight_n": Term(symbol="W", name="weight of the float, dry", unit="N"),
        "people_n": Term(symbol="n m_p g", name="people aboard", unit="N"),
    },
    law=_left,
)


DRAFT: Final = Formula(
    key="draft",
    name="Draft, nobody aboard and nothing hanging",
    symbol="h",
    words=(
        "ρ V(h) = m, V the part of tubes or billets below the water: segments of circles, or boxes"
    ),
    unit="m",
    source=(
        "Archimedes; segment of a circle: Bronshtein, Handbook of Mathematics, 1985, section 2.6"
    ),
    terms={
        "mass_kg": Term(symbol="m", name="weight of the float", unit="kg"),
        "tubes": Term(symbol="tubes", name="1 tubes, 0 billets", unit=""),
        "count": Term(symbol="n", name="how many", unit=""),
        "length_m": Term(symbol="L", name="length of one", unit="m"),
        "breadth_m": Term(symbol="b", name="tube diameter or billet width", unit="m"),
        "height_m": Term(symbol="D", name="tube diameter or billet height", unit="m"),
    },
    law=lambda mass_kg, tubes, **sizes: draft(
        mass_kg, Flotation(tubes=tubes > 0, weight_kg=mass_kg, assumed=(), **sizes)
    ),
)
LEAST_FREEBOARD: Final = Formula(
    key="least_freeboard",
    name="Deck's edge above water with half of the people there",
    symbol="f",
    words="f = height of the edge at the tilt φ, exact",
    unit="m",
    source="statics and Euclidean geometry; where the pieces lie is ours",
    terms={"tilt_deg": Term(symbol="φ", name="tilt with them at the worst edge", unit="deg")},
    law=read_off,
)
HOOK_TRIM: Final = Formula(
    key="hook_trim",
    name="Tilt by the pull at a hook in the middle of a short side",
    symbol="τ",
    words="tan τ = (V x − F z)/(W GM), + the hook's edge goes down",
    unit="deg",
    source="statics, small angles; the wind's push taken at the middle of what it meets",
    terms={
        "vertical_n": Term(symbol="V", name="pull down at the hook", unit="N"),
        "horizontal_n": Term(symbol="F", name="level pull at the hook", unit="N"),
        "out_m": Term(symbol="x", name="hook from the deck's middle", unit="m"),
        "lever_m": Term(symbol="z", name="middle of the wind above the hook", unit="m"),
        "stiffness_n_m": Term(symbol="W GM", name="weight times metacentric height", unit="N m"),
    },
    law=hook_trim_deg,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FloatFacts:
    """What is known of n floats before their rigs pull."""

    floats: Sequence[Float]
    flotation: Flotation
    buoyancy: Buoyancy
    stability: Stability
    placement: Placement


def hook_trim(facts: FloatFacts, state: LineState, mean_n: FloatArray) -> Step:
    """Return how far the steady pull tips floats that are moored by an edge.

    Parameters
    ----------
    facts : FloatFacts
        Of n floats.
    state : LineState
        Of their lines under the steady pull.
    mean_n : ndarray, shape [n]
        That pull [N].

    Returns
    -------
    Step
        NaN for a hook in the deck's centre.
    """
    at_edge = np.array([one.hook == "edge" for one in facts.floats], dtype=bool)
    out = np.array([max(one.length_m, one.width_m) / 2 for one in facts.floats])
    buoyancy = facts.buoyancy
    middle = (buoyancy.freeboard_m + DECK_M.value) / 2 + facts.placement.hook_depth_m
    down = state.hook_tension_n * np.sin(np.radians(state.hook_angle_deg))
    return HOOK_TRIM(
        vertical_n=np.where(at_edge, down, np.nan),
        horizontal_n=mean_n,
        out_m=out,
        lever_m=middle,
        stiffness_n_m=buoyancy.weight_n * facts.stability.gm_long_m,
    )


def float_working(facts: FloatFacts, *, rigs: Rigs) -> tuple[Step, ...]:
    """Return the working of the circles and of the float.

    Parameters
    ----------
    facts : FloatFacts
        Of n floats.
    rigs : Rigs
        Of the same floats.

    Returns
    -------
    tuple of Step
        In the order of reading.
    """
    buoyancy, stability, placement = facts.buoyancy, facts.stability, facts.placement
    flotation = facts.flotation
    reach = placement.reach_m[:, LOW]
    taut = REACH_TAUT.told(
        np.where(rigs.drop_m[:, LOW] > 0, reach, np.nan),
        drop_m=rigs.drop_m[:, LOW],
        line_m=rigs.riser_m + rigs.ground_m,
    )
    swing = SWING_RADIUS.told(
        placement.swing_radius_m[:, LOW],
        reach_m=reach,
        corner_m=placement.corner_m,
        extra_m=placement.extra_m,
    )
    people = buoyancy.buoyancy_n - buoyancy.weight_n - buoyancy.reserve_n
    reserve = RESERVE.told(
        buoyancy.reserve_n,
        buoyancy_n=buoyancy.buoyancy_n,
        weight_n=buoyancy.weight_n,
        people_n=people,
    )
    sinks = DRAFT.told(
        buoyancy.draft_m,
        mass_kg=flotation.weight_kg,
        tubes=flotation.tubes,
        count=flotation.count,
        length_m=flotation.length_m,
        breadth_m=flotation.breadth_m,
        height_m=flotation.height_m,
    )
    edge = LEAST_FREEBOARD.told(stability.least_freeboard_m, tilt_deg=stability.heel_deg)
    share = RIG_SHARE(
        weight_n_m=rigs.riser_weight_n_m, drop_m=np.minimum(rigs.drop_m[:, NORMAL], rigs.riser_m)
    )
    return (taut, swing, sinks, reserve, *stability.steps, edge, share)
