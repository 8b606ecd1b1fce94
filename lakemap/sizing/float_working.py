"""The float and its circle, step by step: lift, steadiness, swing."""

from typing import Final

import numpy as np

from lakemap.basis.records import FloatArray
from lakemap.basis.working import Formula, Step, Term
from lakemap.rig.hook import RIG_SHARE
from lakemap.rig.line_formulas import REACH_TAUT, SWING_RADIUS
from lakemap.rig.records import Buoyancy, Placement
from lakemap.rig.stability import Stability
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


def float_working(
    buoyancy: Buoyancy, stability: Stability, placement: Placement, *, rigs: Rigs
) -> tuple[Step, ...]:
    """Return the working of the circles and of the float.

    Parameters
    ----------
    buoyancy, stability, placement : Buoyancy, Stability, Placement
        Of n floats.
    rigs : Rigs
        Of the same floats.

    Returns
    -------
    tuple of Step
        In the order of reading.
    """
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
    share = RIG_SHARE(
        weight_n_m=rigs.riser_weight_n_m, drop_m=np.minimum(rigs.drop_m[:, NORMAL], rigs.riser_m)
    )
    return (taut, swing, reserve, *stability.steps, share)
