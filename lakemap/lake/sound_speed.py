"""Speed of sound in fresh water by its temperature: what a sounder should have reckoned with."""

import numpy as np
from numpy.typing import ArrayLike

from lakemap.basis.errors import RangeError
from lakemap.basis.records import FloatArray

_WARMEST_C = 95.0
_K = (1.402385e3, 5.038813, -5.799136e-2, 3.287156e-4, -1.398845e-6, 2.787860e-9)


def fresh_water_sound_speed(celsius: ArrayLike) -> FloatArray:
    """Return the speed of sound in pure water at one atmosphere.

    c = k0 + k1 T + k2 T^2 + k3 T^3 + k4 T^4 + k5 T^5. Source: Marczak, Water as a standard in the
    measurements of speed of sound in liquids, Journal of the Acoustical Society of America 102
    (1997) 2776-2779, T on the scale of 1990; residual scatter 0.02 m/s. The salts of a lake add
    less than 1 m/s, ten metres of depth 0.2 m/s.

    Parameters
    ----------
    celsius : array_like
        Temperature T [degrees C], 0 to 95.

    Returns
    -------
    ndarray
        Speed c [m/s].

    Raises
    ------
    RangeError
        If a temperature is outside the range of the fit.
    """
    t = np.asarray(celsius, dtype=np.float64)
    if not ((t >= 0) & (t <= _WARMEST_C)).all():
        raise RangeError(
            "water must have 0 to 95 degrees C (Marczak, J. Acoust. Soc. Am. 102, 1997)"
        )
    return np.asarray(np.polynomial.polynomial.polyval(t, _K), dtype=np.float64)
