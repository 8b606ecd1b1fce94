"""The line's statics and circles as formulas that show their working."""

from typing import Any, Final

import numpy as np

from lakemap.basis.records import FloatArray
from lakemap.basis.working import Formula, Term
from lakemap.rig.line import line_pulls, slide_pull, two_cluster_line
from lakemap.rig.swing import reach

_MIT: Final = (
    "one catenary: MIT OpenCourseWare 2.019, Design of Ocean Systems, 2011, lectures 13 and 14; put"
    " together for a secondary on a level, frictionless bed by us"
)
_DROP: Final = Term(symbol="d", name="drop from hook to primary", unit="m")
_GROUND: Final = Term(symbol="L_c", name="ground chain", unit="m")
_RISER: Final = Term(symbol="L_b", name="riser", unit="m")
_LINE: Final = {
    "drop_m": _DROP,
    "ground_m": _GROUND,
    "riser_m": _RISER,
    "ground_weight_n_m": Term(symbol="w_c", name="ground chain in water", unit="N/m"),
    "riser_weight_n_m": Term(symbol="w_b", name="riser in water", unit="N/m"),
    "secondary_wet_n": Term(symbol="W₂", name="secondary in water", unit="N"),
}
_PULLED: Final = {"pull_n": Term(symbol="F", name="steady pull", unit="N")} | _LINE
_WEBS: Final = (
    "Δx = (F/w)[arsinh(V_b/F) − arsinh(V_a/F)], Δz = [√(F²+V_b²) − √(F²+V_a²)]/w for each piece off"
    " the bed; Δz of chain and riser together = d"
)


def _of_state(name: str) -> Any:  # noqa: ANN401 - a law of a formula
    def law(**terms: FloatArray) -> FloatArray:
        found: FloatArray = getattr(two_cluster_line(**terms), name)
        return found

    return law


REACH_TAUT: Final = Formula(
    key="reach_taut",
    name="Reach with the whole line taut, low water",
    symbol="R",
    words="R = √(S² − d²)",
    unit="m",
    source="Euclid, Elements, book I, proposition 47; a bound: sag and the secondary shorten it",
    terms={
        "drop_m": _DROP,
        "line_m": Term(symbol="S", name="riser and ground chain together", unit="m"),
    },
    law=lambda drop_m, line_m: reach(drop_m, line_m=line_m),
    valid="0 ≤ d ≤ S",
)
SWING_RADIUS: Final = Formula(
    key="swing_radius",
    name="Swing circle, low water",
    symbol="r",
    words="r = R + c + e",
    unit="m",
    source="ours: the circle that the farthest corner of the deck stays in",
    terms={
        "reach_m": Term(symbol="R", name="reach", unit="m"),
        "corner_m": Term(symbol="c", name="hook to the deck's farthest corner", unit="m"),
        "extra_m": Term(symbol="e", name="for a primary that is not located", unit="m"),
    },
    law=lambda reach_m, corner_m, extra_m: reach_m + corner_m + extra_m,
)
REACH_IN_STORM: Final = Formula(
    key="reach_in_storm",
    name="Reach under the steady pull",
    symbol="X",
    words=f"X = what lies on the bed + Σ Δx; {_WEBS}",
    unit="m",
    source=_MIT,
    terms=_PULLED,
    law=_of_state("reach_m"),
)
HOOK_TENSION: Final = Formula(
    key="hook_tension",
    name="Tension at the hook under the steady pull",
    symbol="T",
    words="T = √(F² + V²), V the weight of line and secondary off the bed",
    unit="N",
    source=_MIT,
    terms=_PULLED,
    law=_of_state("hook_tension_n"),
)
UPLIFT: Final = Formula(
    key="uplift",
    name="Uplift at the primary under the steady pull",
    symbol="V₀",
    words=f"V₀ = V₁ − w_c L_c, not below 0, V₁ the chain's pull on the secondary; {_WEBS}",
    unit="N",
    source=_MIT,
    terms=_PULLED,
    law=_of_state("primary_uplift_n"),
)
PULL_ANGLE: Final = Formula(
    key="pull_angle",
    name="Angle of the chain at the primary, from the bed",
    symbol="β",
    words="tan β = V₀/F",
    unit="deg",
    source=_MIT,
    terms=_PULLED,
    law=_of_state("primary_angle_deg"),
)
SECONDARY_SLIDES: Final = Formula(
    key="secondary_slides",
    name="Pull at which the secondary slides",
    symbol="F_s",
    words="F_s = μ [W₂ − V(F_s)], V the riser's pull at its foot",
    unit="N",
    source="Coulomb's friction under the catenary of the riser; ours",
    terms={
        "friction": Term(symbol="μ", name="friction on the bed", unit=""),
        "drop_m": _DROP,
        "riser_m": _RISER,
        "riser_weight_n_m": _LINE["riser_weight_n_m"],
        "secondary_wet_n": _LINE["secondary_wet_n"],
    },
    law=lambda friction, **line: np.where(
        friction > 0, slide_pull(np.where(friction > 0, friction, 1.0), **line), 0.0
    ),
)
SECONDARY_LIFTS: Final = Formula(
    key="secondary_lifts",
    name="Pull at which the secondary lifts off the bed",
    symbol="F_l",
    words="√(F_l² + (W₂ + w_b L_b)²) − √(F_l² + W₂²) = w_b d",
    unit="N",
    source=_MIT,
    terms=_LINE,
    law=lambda **line: line_pulls(**line).lift_n,
)
UPLIFT_BEGINS: Final = Formula(
    key="uplift_begins",
    name="Pull at which the primary is first lifted at",
    symbol="F_u",
    words=(
        "[√(F_u² + V₁²) − F_u]/w_c + [√(F_u² + (V₁ + W₂ + w_b L_b)²) − √(F_u² + (V₁ + W₂)²)]/w_b"
        " = d, V₁ = w_c L_c"
    ),
    unit="N",
    source=_MIT,
    terms=_LINE,
    law=lambda **line: line_pulls(**line).full_n,
)
LIFT_CREST: Final = Formula(
    key="lift_crest",
    name="Crest above calm water that lifts the secondary",
    symbol="a",
    words="a = L_b − d, not below 0",
    unit="m",
    source="ours: the riser plumb and just taut, nobody aboard",
    terms={"riser_m": _RISER, "drop_m": Term(symbol="d", name="drop, nobody aboard", unit="m")},
    law=lambda riser_m, drop_m: np.maximum(riser_m - drop_m, 0.0),
)
