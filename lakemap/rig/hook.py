"""What the line at its hook does to a float: weight to carry, and a tilt."""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.records import FloatArray
from lakemap.basis.working import Formula, Term


def hook_trim_deg(
    vertical_n: ArrayLike,
    horizontal_n: ArrayLike,
    *,
    out_m: ArrayLike,
    lever_m: ArrayLike,
    stiffness_n_m: ArrayLike,
) -> FloatArray:
    """Return how far a pull at a hook tips a float, for small angles.

    tan t = (V x - H z)/(W GM). The pull down presses the hook's edge under; the level pull below
    the wind that it holds against lifts it. Source: statics; metacentre as in `upright`.

    Parameters
    ----------
    vertical_n, horizontal_n : array_like
        Pull V down and H level at the hook [N].
    out_m : array_like
        Distance x of the hook from the deck's middle [m].
    lever_m : array_like
        Height z of the wind's middle above the hook [m].
    stiffness_n_m : array_like
        W GM: weight afloat times metacentric height that way [N m], > 0.

    Returns
    -------
    ndarray
        Angle [deg]; + the hook's edge goes down.
    """
    down, level, out, lever, stiffness = (
        np.asarray(value, dtype=np.float64)
        for value in (vertical_n, horizontal_n, out_m, lever_m, stiffness_n_m)
    )
    angle: FloatArray = np.degrees(np.arctan((down * out - level * lever) / stiffness))
    return angle


def rig_share_n(weight_n_m: ArrayLike, *, drop_m: ArrayLike) -> FloatArray:
    """Return what a float carries of its riser in calm: w times the drop that hangs.

    Holds while the riser is longer than the drop, so that its end lies on the bed; the
    secondary's weight comes on top where it does not. Source: statics.

    Parameters
    ----------
    weight_n_m : array_like
        Weight w of the riser in water [N/m].
    drop_m : array_like
        Depth less hook depth [m]; aground, below 0, nothing hangs.

    Returns
    -------
    ndarray
        Weight [N].
    """
    hanging = np.maximum(np.asarray(drop_m, dtype=np.float64), 0.0)
    share: FloatArray = np.asarray(weight_n_m, dtype=np.float64) * hanging
    return share


RIG_SHARE: Final = Formula(
    key="rig_share",
    name="Riser that the float carries in calm",
    symbol="V",
    words="V = w d",
    unit="N",
    source="statics",
    terms={
        "weight_n_m": Term(symbol="w", name="weight of the riser in water", unit="N/m"),
        "drop_m": Term(symbol="d", name="drop from hook to bed", unit="m"),
    },
    law=rig_share_n,
)
