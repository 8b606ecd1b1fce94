"""What the floats file left blank about a float's deck and flotation: defaults of ours, named."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from lakemap.basis.published import Published, exact
from lakemap.basis.quantities import INCH_M
from lakemap.basis.records import BoolArray, Float, FloatArray
from lakemap.rig.columns import column, filled

_OURS = "ours: a default, marked wherever it is used"
TUBE_DIAMETER_IN = exact(19.0, "in", _OURS, "a tube as practice has it")
TUBES = exact(2, "tubes", _OURS, "")
BILLETS = exact(4, "billets", _OURS, "two rows of two")
BILLET_WIDTH_IN = exact(20.0, "in", _OURS, "")
BILLET_HEIGHT_IN = exact(10.0, "in", _OURS, "")
WEIGHT_KG_M2 = Published(
    value=480 / 9,
    unit="kg/m2 of deck",
    low=35.0,
    high=80.0,
    source="ours: a wooden deck of 3 by 3 m with its tubes, 480 kg",
    locator="",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Flotation:
    """Deck and flotation of every float, nothing blank; shape [n]."""

    tubes: BoolArray  # True: tubes, False: billets
    count: FloatArray
    length_m: FloatArray  # of one tube or billet
    breadth_m: FloatArray  # tube diameter or billet width
    height_m: FloatArray  # tube diameter or billet height
    weight_kg: FloatArray  # deck and flotation, dry
    assumed: tuple[tuple[str, ...], ...]  # per float: columns that are defaults of ours


def fill_flotation(floats: Sequence[Float]) -> Flotation:
    """Fill in what is blank about the floats.

    Parameters
    ----------
    floats : sequence of Float
        As read.

    Returns
    -------
    Flotation
        Arrays in file order, and the names of what was assumed.
    """
    tubes = np.array([one.flotation != "billets" for one in floats], dtype=bool)
    long_side = np.array([max(one.length_m, one.width_m) for one in floats])
    area = np.array([one.length_m * one.width_m for one in floats])
    given = {
        "tubes": column(one.tubes for one in floats),
        "tube_diameter": column(one.tube_diameter_m for one in floats),
        "tube_length": column(one.tube_length_m for one in floats),
        "billets": column(one.billets for one in floats),
        "billet_length": column(one.billet_length_m for one in floats),
        "billet_width": column(one.billet_width_m for one in floats),
        "billet_height": column(one.billet_height_m for one in floats),
        "float_weight": column(one.float_weight_kg for one in floats),
    }
    blank = {name: np.isnan(column) for name, column in given.items()}
    blank["flotation"] = np.array([one.flotation is None for one in floats], dtype=bool)
    diameter = filled(given["tube_diameter"], TUBE_DIAMETER_IN.value * INCH_M.value)
    return Flotation(
        tubes=tubes,
        count=np.where(
            tubes, filled(given["tubes"], TUBES.value), filled(given["billets"], BILLETS.value)
        ),
        length_m=np.where(
            tubes,
            filled(given["tube_length"], long_side),
            filled(given["billet_length"], long_side / 2),
        ),
        breadth_m=np.where(
            tubes, diameter, filled(given["billet_width"], BILLET_WIDTH_IN.value * INCH_M.value)
        ),
        height_m=np.where(
            tubes, diameter, filled(given["billet_height"], BILLET_HEIGHT_IN.value * INCH_M.value)
        ),
        weight_kg=filled(given["float_weight"], WEIGHT_KG_M2.value * area),
        assumed=tuple(_assumed(blank, i, is_tubes) for i, is_tubes in enumerate(tubes.tolist())),
    )


def _assumed(blank: dict[str, BoolArray], i: int, tubes: bool) -> tuple[str, ...]:  # noqa: FBT001
    """Names of the columns that mattered for one float and were blank."""
    of_kind = (
        ("tubes", "tube_diameter", "tube_length")
        if tubes
        else ("billets", "billet_length", "billet_width", "billet_height")
    )
    return tuple(name for name in ("flotation", *of_kind, "float_weight") if blank[name][i])
