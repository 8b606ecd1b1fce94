"""What the beds of lakes give a weight: friction, soil, and the factors printed for holding."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np

from lakemap.basis.published import Published, exact
from lakemap.basis.records import FloatArray

FORMED: Final = (
    "NAVFAC DM 7.02, Foundations and Earth Structures, 1986, ch. 3 table 1, formed concrete (as a"
    " soil-property handbook prints it)"
)
_MASS: Final = (
    "NAVFAC DM 7.02, Foundations and Earth Structures, 1986, ch. 3 table 1; US Army ETL 1110-3-446,"
    " 1992, table C-1"
)
DEFAULT_BOTTOM: Final = "silt"


def _friction(low: float, high: float, locator: str, source: str = FORMED) -> Published:
    return Published(value=low, unit="tan δ", low=low, high=high, source=source, locator=locator)


# precast blocks slide on their formed faces: the low end of that row, of the softest bed named so
FRICTION: Final[Mapping[str, Published]] = MappingProxyType(
    {
        "gravel": _friction(0.40, 0.50, "clean gravel, well-graded rock fill"),
        "sand": _friction(0.30, 0.40, "clean sand, silty sand-gravel"),
        "silt": _friction(0.25, 0.25, "fine sandy silt"),
        "clay": _friction(
            0.30, 0.35, "medium stiff and stiff clay, cast on it; no row for formed faces", _MASS
        ),
        "rock": _friction(
            0.40, 0.50, "ours: as clean gravel; no row for formed faces on rock, 0.70 cast on it"
        ),
        "mud": exact(0.0, "tan δ", "ours: no friction is in print for soft mud", "soft mud"),
    }
)
# concrete cast on the bed: the optimistic rows, for comparison
MASS_FRICTION: Final[Mapping[str, Published]] = MappingProxyType(
    {
        "clean sound rock": _friction(0.70, 0.70, "row 1", _MASS),
        "clean gravel, gravel-sand, coarse sand": _friction(0.55, 0.60, "row 2", _MASS),
        "clean fine to medium sand, silty medium to coarse sand, silty or clayey gravel": _friction(
            0.45, 0.55, "row 3", _MASS
        ),
        "clean fine sand, silty or clayey fine to medium sand": _friction(
            0.35, 0.45, "row 4", _MASS
        ),
        "fine sandy silt, nonplastic silt": _friction(0.30, 0.35, "row 5", _MASS),
        "very stiff and hard residual or preconsolidated clay": _friction(
            0.40, 0.50, "row 6", _MASS
        ),
        "medium stiff and stiff clay, silty clay": _friction(0.30, 0.35, "row 7", _MASS),
    }
)
HOLDING_FACTOR = Published(
    value=1.5,
    unit="holding/steady pull",
    low=1.5,
    high=1.5,
    source=(
        "practice, on the friction bound in the design storm; UFC 4-159-03 gives none for"
        " deadweights (its 1.5 is for stockless anchors)"
    ),
    locator="",
)
BREAKOUT = Published(
    value=3.0,
    unit="lift/weight in water",
    low=2.0,
    high=3.0,
    source="common practice (from memory), for choosing lifting gear; never holding",
    locator="a block settled in mud",
)
_UFC: Final = "UFC 4-159-03, Design: Moorings, 3 October 2005, table 3-7"
SAFETY_FACTORS: Final[Mapping[str, Published]] = MappingProxyType(
    {
        "chain, straight": exact(3.0, "on new break strength", _UFC, "chain"),
        "chain round a bend": exact(4.0, "on new break strength", _UFC, "chain"),
        "wire rope": exact(3.0, "on new break strength", _UFC, "wire rope"),
        "synthetic line": exact(3.0, "on new break strength", _UFC, "wet nylon 15 % less first"),
        "stockless and balanced-fluke anchors": exact(1.5, "on holding", _UFC, "anchors"),
        "high-efficiency drag anchors": exact(2.0, "on holding", _UFC, "anchors"),
        "fixed anchors": exact(3.0, "on holding", _UFC, "row label cut off in the text read"),
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Soil:
    """What a bed gives a block that has settled in: angle and weight, or shear strength."""

    friction_deg: float  # angle φ; 0 for clay and mud
    weight_n_m3: float  # submerged unit weight γ'
    shear_pa: float  # undrained strength s_u; 0 for sand
    source: str


RANKINE: Final = "Rankine's passive pressure, textbooks (from memory)"
SOILS: Final[Mapping[str, Soil]] = MappingProxyType(
    {
        "gravel": Soil(
            friction_deg=32.0, weight_n_m3=9e3, shear_pa=0.0, source=f"{RANKINE}; ours: low ends"
        ),
        "sand": Soil(
            friction_deg=28.0, weight_n_m3=8e3, shear_pa=0.0, source=f"{RANKINE}; ours: low ends"
        ),
        "silt": Soil(
            friction_deg=25.0, weight_n_m3=8e3, shear_pa=0.0, source=f"{RANKINE}; ours: low ends"
        ),
        "clay": Soil(
            friction_deg=0.0, weight_n_m3=6e3, shear_pa=5e3, source=f"{RANKINE}; ours: soft clay"
        ),
        "mud": Soil(
            friction_deg=0.0, weight_n_m3=4e3, shear_pa=2e3, source=f"{RANKINE}; ours: soft mud"
        ),
    }
)
DISTURBED = exact(0.5, "of the wedge", "ours: soil that the block itself has disturbed", "halved")


def friction_of(bottoms: Sequence[str | None]) -> FloatArray:
    """Return the friction of precast blocks on each bottom; blank is silt.

    Parameters
    ----------
    bottoms : sequence of str or None
        As the floats file names them.

    Returns
    -------
    ndarray, shape [n]
        Coefficient; 0 on mud.
    """
    return np.array([FRICTION[one or DEFAULT_BOTTOM].value for one in bottoms], dtype=np.float64)
