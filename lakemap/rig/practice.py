"""How many blocks practice puts into each cluster."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.published import FRESH_WATER_KG_M3, GRAVITY_M_S2, exact
from lakemap.basis.quantities import FOOT_M, INCH_M
from lakemap.basis.records import FloatArray

_PRACTICE = "common practice, no published source"
PRIMARY_BLOCKS = exact(5, "12-in hollow units", _PRACTICE, "deck 8 by 10 ft on two 19-in tubes")
SECONDARY_BLOCKS = exact(3, "12-in hollow units", _PRACTICE, "deck 8 by 10 ft on two 19-in tubes")
TOTAL_LINE_OVER_DEPTH = exact(2.0, "line/depth", _PRACTICE, "20 ft of line in 10 ft of water")
_TUBE_M = (19 * INCH_M.value, 10 * FOOT_M.value)
# gross buoyancy of the float that the rule was made for: two tubes of 19 in, 10 ft long
REFERENCE_N = (
    2 * np.pi / 4 * _TUBE_M[0] ** 2 * _TUBE_M[1] * FRESH_WATER_KG_M3.value * GRAVITY_M_S2.value
)
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class PracticeBlocks:
    """Counts of 12-in hollow units, shape [n]."""

    primary: FloatArray
    secondary: FloatArray


def practice_blocks(buoyancy_n: ArrayLike) -> PracticeBlocks:
    """Return the block counts of practice for a float's gross buoyancy.

    5 and 3 for a deck of 8 by 10 ft on two tubes of 19 in; other floats in proportion to gross
    buoyancy, at least that. Source: common practice, no published source.

    Parameters
    ----------
    buoyancy_n : array_like, shape [n]
        All flotation under water [N].

    Returns
    -------
    PracticeBlocks
        Whole numbers.
    """
    ratio = np.asarray(buoyancy_n, dtype=np.float64) / REFERENCE_N

    def count(least: float) -> FloatArray:
        whole: FloatArray = np.maximum(least, np.ceil(least * ratio - _ROUNDING))
        return whole

    return PracticeBlocks(
        primary=count(PRIMARY_BLOCKS.value), secondary=count(SECONDARY_BLOCKS.value)
    )
