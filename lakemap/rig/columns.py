"""From records to arrays: blanks become NaN."""

from collections.abc import Iterable

import numpy as np

from lakemap.basis.records import FloatArray


def column(values: Iterable[float | None]) -> FloatArray:
    """Return numbers as an array, None as NaN.

    Parameters
    ----------
    values : iterable of float or None
        One per float.

    Returns
    -------
    ndarray, shape [n]
        NaN where blank.
    """
    return np.array([np.nan if value is None else value for value in values], dtype=np.float64)


def filled(given: FloatArray, default: FloatArray | float) -> FloatArray:
    """Return what was given, and the default where it is blank.

    Parameters
    ----------
    given : ndarray, shape [n]
        NaN is blank.
    default : ndarray, shape [n], or float
        Taken for a blank.

    Returns
    -------
    ndarray, shape [n]
        NaN only where the default is.
    """
    return np.where(np.isnan(given), default, given)
