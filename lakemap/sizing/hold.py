"""Whether the primary holds: three answers kept apart, and the winds at which two of them end."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from lakemap.basis.records import BoolArray, FloatArray
from lakemap.basis.working import Formula, Step, Term
from lakemap.loads.storm import GREATEST_WIND_M_S, Storms, wind_that_pulls
from lakemap.rig.bed import HOLDING_FACTOR
from lakemap.rig.holding import HOLDING_BURIED, HOLDING_UNBURIED
from lakemap.sizing.lines import primary_slides
from lakemap.sizing.rigs import Rigs
from lakemap.sizing.statics import NORMAL, RigStatics


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """What the bed gives a primary; shape [n]."""

    friction: FloatArray  # of the primary's blocks on it; 0: none to count on
    soil: Step  # what it adds in front of a settled primary; NaN: nothing settles

    @property
    def passive_n(self) -> FloatArray:
        """What the soil in front of a settled primary adds [N], shape [n]."""
        return self.soil.value


@dataclass(frozen=True, slots=True, kw_only=True)
class Holding:
    """The primary's answers at normal level; shape [n], NaN or None where not known."""

    unburied_n: FloatArray
    buried_n: FloatArray
    slides_unburied_m_s: FloatArray  # wind; inf: not in any wind that the laws cover
    slides_buried_m_s: FloatArray
    steps: tuple[Step, ...]

    def enough(self, holding_n: FloatArray, mean_n: FloatArray) -> tuple[FloatArray, BoolArray]:
        """Return what is asked of a holding [N], and whether it is there.

        Parameters
        ----------
        holding_n : ndarray, shape [n]
            One of the two.
        mean_n : ndarray, shape [n]
            Mean pull in the storm [N].

        Returns
        -------
        tuple of ndarray
            Asked [N] and whether the holding reaches it; False for NaN.
        """
        asked = HOLDING_FACTOR.value * mean_n
        return asked, holding_n >= asked


def _wind_to_pull(pull_n: FloatArray, wind_m_s: FloatArray) -> FloatArray:
    del pull_n
    return wind_m_s


SLIDES_AT: Final = Formula(
    key="slides_at_wind",
    name="Wind at which the primary would start to slide by friction alone",
    symbol="U_s",
    words="F(U_s) = H_s, with H_s = μ (W − V₀(H_s))",
    unit="m/s",
    source="ours: the steady pull of every wind against the friction left by its own uplift",
    terms={
        "pull_n": Term(symbol="H_s", name="pull at which it slides", unit="N"),
        "wind_m_s": Term(symbol="U_s", name="wind found by halving", unit="m/s"),
    },
    law=_wind_to_pull,
    valid=f"winds to {GREATEST_WIND_M_S:g} m/s; beyond, it does not slide in any we know laws for",
)


def holding(rigs: Rigs, statics: RigStatics, *, storm: Storms, ground: Ground) -> Holding:
    """Return what every primary holds under the mean pull.

    Parameters
    ----------
    rigs : Rigs
        Of n floats.
    statics : RigStatics
        Of the same rigs in the same storm.
    storm : Storms
        At the same floats.
    ground : Ground
        What the bed gives.

    Returns
    -------
    Holding
        Arrays in the order of the floats.
    """
    uplift = statics.states[NORMAL].primary_uplift_n
    wet = np.maximum(rigs.primary.wet_n, 0.0)
    rub = {"wet_n": wet, "uplift_n": uplift, "friction": ground.friction}
    unburied = HOLDING_UNBURIED(**rub)
    buried = HOLDING_BURIED(**rub, passive_n=ground.passive_n)
    line = rigs.line(NORMAL)
    slide = {
        name: primary_slides(ground.friction, line, wet_n=wet, passive_n=soil)
        for name, soil in (("unburied", np.zeros(len(wet))), ("buried", ground.passive_n))
    }
    winds = {name: wind_that_pulls(storm, pull) for name, pull in slide.items()}
    return Holding(
        unburied_n=unburied.value,
        buried_n=buried.value,
        slides_unburied_m_s=winds["unburied"],
        slides_buried_m_s=winds["buried"],
        steps=(
            unburied,
            ground.soil,
            buried,
            SLIDES_AT.told(winds["unburied"], pull_n=slide["unburied"], wind_m_s=winds["unburied"]),
        ),
    )
