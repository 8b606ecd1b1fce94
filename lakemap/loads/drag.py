"""Wind and current on a float: how broad it stands to them, and how hard they push."""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.published import FRESH_WATER_KG_M3, Published
from lakemap.basis.records import FloatArray
from lakemap.basis.working import Formula, Term

_UFC: Final = "UFC 4-159-03, Design: Moorings, US Department of Defense, 2005"
_PLATES: Final = (
    "Aeronautical Engineer's Data Book, Matthews, 2002, fig. 5.13(b): square plate across the flow"
    " 1.17, endless plate 1.98"
)
AIR_KG_M3 = Published(
    value=1.221,
    unit="kg/m3",
    low=1.204,
    high=1.292,
    source=f"{_UFC}; printed for 20 degrees C, where dry air has 1.204: it is that of 16 degrees",
    locator="table 4-1; the ends are dry air at 20 and at 0 degrees C",
)
AIR_DRAG = Published(
    value=1.2,
    unit="drag/(pressure x area)",
    low=0.92,
    high=1.3,
    source=(
        f"{_PLATES}; Hoerner, Fluid-Dynamic Drag, 1965, ch. 3 (from memory): 1.05 for a cube, 1.2"
        f" for a plate; {_UFC}: 0.92 for ships broadside"
    ),
    locator="the deck and its tubes taken as one closed block",
)
WATER_DRAG = Published(
    value=1.2,
    unit="drag/(pressure x area)",
    low=1.0,
    high=1.3,
    source=f"{_PLATES}; Hoerner, Fluid-Dynamic Drag, 1965, ch. 3 (from memory): blocks alike",
    locator="the flotation under water taken as one closed block",
)


def frontal_width(length_m: ArrayLike, *, width_m: ArrayLike, angle_deg: ArrayLike) -> FloatArray:
    """Return how broad a rectangular deck stands to a flow: L |sin a| + W |cos a|.

    Source: Euclidean geometry, the projection of a rectangle.

    Parameters
    ----------
    length_m, width_m : array_like
        Sides L and W [m].
    angle_deg : array_like
        Angle a between the flow and the side L [deg].

    Returns
    -------
    ndarray
        Breadth across the flow [m].
    """
    angle = np.radians(np.asarray(angle_deg, dtype=np.float64))
    across: FloatArray = np.asarray(length_m, dtype=np.float64) * np.abs(np.sin(angle))
    return across + np.asarray(width_m, dtype=np.float64) * np.abs(np.cos(angle))


def broadest_width(length_m: ArrayLike, *, width_m: ArrayLike) -> FloatArray:
    """Return the broadest that a rectangular deck can stand to a flow: its diagonal.

    What is moored by its middle holds no heading. Source: the greatest of `frontal_width`.

    Parameters
    ----------
    length_m, width_m : array_like
        Sides [m].

    Returns
    -------
    ndarray
        Breadth [m].
    """
    across: FloatArray = np.hypot(
        np.asarray(length_m, dtype=np.float64), np.asarray(width_m, dtype=np.float64)
    )
    return across


def wind_drag(speed_m_s: ArrayLike, *, area_m2: ArrayLike, coefficient: ArrayLike) -> FloatArray:
    """Return the push of a wind: F = rho/2 U^2 C A.

    Source: UFC 4-159-03, Design: Moorings, 2005, eq. 2 and table 4-1 (air of 1.221 kg/m3).

    Parameters
    ----------
    speed_m_s : array_like
        Wind U [m/s], >= 0.
    area_m2 : array_like
        Area A that it meets [m2], >= 0.
    coefficient : array_like
        Drag coefficient C, >= 0.

    Returns
    -------
    ndarray
        Force [N].

    Raises
    ------
    RangeError
        If a number is below 0.
    """
    return _drag(speed_m_s, area_m2, coefficient, AIR_KG_M3.value)


def current_drag(speed_m_s: ArrayLike, *, area_m2: ArrayLike, coefficient: ArrayLike) -> FloatArray:
    """Return the push of a current of fresh water: F = rho/2 U^2 C A.

    Source: UFC 4-159-03, Design: Moorings, 2005, section 4-5, drag law.

    Parameters
    ----------
    speed_m_s, area_m2, coefficient : array_like
        As in `wind_drag`, under water.

    Returns
    -------
    ndarray
        Force [N].

    Raises
    ------
    RangeError
        If a number is below 0.
    """
    return _drag(speed_m_s, area_m2, coefficient, FRESH_WATER_KG_M3.value)


def _drag(
    speed: ArrayLike, area: ArrayLike, coefficient: ArrayLike, density_kg_m3: float
) -> FloatArray:
    u, a, c = (np.asarray(value, dtype=np.float64) for value in (speed, area, coefficient))
    for name, value in (("speed", u), ("area", a), ("coefficient", c)):
        if (value < 0).any():
            raise RangeError(f"{name} {value[value < 0].flat[0]:g}: need 0 or more ({_UFC})")
    force: FloatArray = density_kg_m3 / 2 * u**2 * c * a
    return force


def _formula(key: str, name: str, symbol: str, fluid: str) -> Formula:
    air = fluid == "air"
    density = AIR_KG_M3.value if air else FRESH_WATER_KG_M3.value
    return Formula(
        key=key,
        name=name,
        symbol=symbol,
        words=f"{symbol} = ½ ρ U² C A, ρ = {density:g} kg/m³",
        unit="N",
        source=f"{_UFC}, eq. 2 and table 4-1; C: {(AIR_DRAG if air else WATER_DRAG).source}",
        terms={
            "speed_m_s": Term(symbol="U", name=f"speed of the {fluid}", unit="m/s"),
            "area_m2": Term(symbol="A", name="area that it meets", unit="m2"),
            "coefficient": Term(symbol="C", name="drag coefficient", unit=""),
        },
        law=wind_drag if air else current_drag,
    )


WIND_DRAG: Final = _formula("wind_drag", "Wind on the float", "F_wind", "air")
WIND_GUST_DRAG: Final = _formula("gust_drag", "Gust on the float", "F_gust", "air")
CURRENT_DRAG: Final = _formula("current_drag", "Current pushing", "F_current", "water")
