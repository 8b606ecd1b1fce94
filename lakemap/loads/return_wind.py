"""The wind of a return period from a record of hourly wind, all round and by direction."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lakemap.basis.errors import RangeError
from lakemap.basis.published import exact
from lakemap.basis.records import FloatArray
from lakemap.basis.working import Formula, Term

_CEM: Final = "Coastal Engineering Manual, EM 1110-2-1100, part II ch. 8, 2003, eq. II-8-3"
SECTORS: Final = 16
_SECTOR_DEG: Final = 360.0 / SECTORS
LEAST_MONTHS = exact(
    36, "months", "Coastal Engineering Manual, part II ch. 8: 3 years at least", ""
)
_FULL_MONTH: Final = 0.75  # of its hours, ours: a month with fewer may miss its strongest wind
_MONTHS_IN_SECTOR: Final = 0.75  # of all months, ours: the law counts twelve greatest winds a year


@dataclass(frozen=True, slots=True, kw_only=True)
class ReturnWind:
    """Winds of one return period; sectors of 22.5 degrees, the first about north."""

    years: float
    speed_m_s: float  # from wherever it blows
    error_m_s: float  # its standard error
    sector_speed_m_s: FloatArray  # [16]; NaN where too many months have no wind from there
    months: int  # whole ones that were used
    left_out: int  # months with too few hours


def gumbel_wind(mean_m_s: ArrayLike, *, spread_m_s: ArrayLike, years: ArrayLike) -> FloatArray:
    """Return the wind of a return period from monthly greatest winds.

    U_r = U_m + 0.78 s_m [ln(12 r) - 0.577], Gumbel's law by moments. Source: Coastal Engineering
    Manual, EM 1110-2-1100, part II ch. 8, 2003, eq. II-8-3.

    Parameters
    ----------
    mean_m_s, spread_m_s : array_like
        Mean U_m and standard deviation s_m of the monthly greatest winds [m/s].
    years : array_like
        Return period r [years], > 0.

    Returns
    -------
    ndarray
        Wind [m/s].
    """
    reduced = np.log(12 * np.asarray(years, dtype=np.float64)) - 0.577
    wind: FloatArray = np.asarray(mean_m_s) + 0.78 * np.asarray(spread_m_s) * reduced
    return wind


def gumbel_error(spread_m_s: ArrayLike, *, years: ArrayLike, months: ArrayLike) -> FloatArray:
    """Return the standard error of `gumbel_wind`.

    s_r = s_m/sqrt(N) sqrt(0.49 + 0.89 ln(12 r) + 0.67 [ln(12 r) - 0.577]^2), the variance of a
    Gumbel quantile. Source: Coastal Engineering Manual, EM 1110-2-1100, part II ch. 8, 2003; its
    worked example has the mean wind where the return period belongs.

    Parameters
    ----------
    spread_m_s : array_like
        Standard deviation s_m of the monthly greatest winds [m/s].
    years : array_like
        Return period r [years].
    months : array_like
        How many months N.

    Returns
    -------
    ndarray
        Standard error [m/s].
    """
    log = np.log(12 * np.asarray(years, dtype=np.float64))
    inner = 0.49 + 0.89 * log + 0.67 * (log - 0.577) ** 2
    error: FloatArray = np.asarray(spread_m_s) / np.sqrt(np.asarray(months)) * np.sqrt(inner)
    return error


def return_wind(
    time: NDArray[np.datetime64], *, speed_m_s: ArrayLike, from_deg: ArrayLike, years: float
) -> ReturnWind:
    """Return the wind that a record of hourly wind reaches once in a number of years.

    Each month's greatest wind, all of them and by sector, then Gumbel's law. A month with less
    than three quarters of its hours is left out. A fit to the peaks of storms over the whole
    record would be better where somebody has the time for it.

    Parameters
    ----------
    time : ndarray of datetime64, shape [m]
        When.
    speed_m_s, from_deg : array_like, shape [m]
        Wind [m/s] and the bearing it comes from [deg]; rows with NaN are left out.
    years : float
        Return period [years], > 0.

    Returns
    -------
    ReturnWind
        For all directions and by sector.

    Raises
    ------
    RangeError
        If there are fewer than 36 whole months, or the return period is not above 0.
    """
    speed = np.asarray(speed_m_s, dtype=np.float64)
    bearing = np.asarray(from_deg, dtype=np.float64)
    known = np.isfinite(speed)
    month = time.astype("datetime64[M]").astype(np.int64)
    months, count = np.unique(month[known], return_counts=True)
    whole = months[count >= _FULL_MONTH * _hours_expected(time[known], months)]
    if not years > 0:
        raise RangeError(f"return period {years:g} years: must be above 0 ({_CEM})")
    if len(whole) < LEAST_MONTHS.value:
        raise RangeError(
            f"the record has {len(whole)} months with enough hours; a return period needs 36"
            f" ({LEAST_MONTHS.source})"
        )
    used = known & np.isin(month, whole)
    greatest = _monthly(month[used], speed[used])
    sector = np.round(np.nan_to_num(bearing) / _SECTOR_DEG).astype(np.int64) % SECTORS
    by_sector = np.full(SECTORS, np.nan)
    for k in range(SECTORS):
        mine = used & (sector == k) & np.isfinite(bearing)
        found = _monthly(month[mine], speed[mine])
        if len(found) >= _MONTHS_IN_SECTOR * len(whole):
            by_sector[k] = _fit(found, years)
    return ReturnWind(
        years=years,
        speed_m_s=_fit(greatest, years),
        error_m_s=float(gumbel_error(np.std(greatest, ddof=1), years=years, months=len(greatest))),
        sector_speed_m_s=by_sector,
        months=len(whole),
        left_out=len(months) - len(whole),
    )


def _fit(greatest: FloatArray, years: float) -> float:
    return float(gumbel_wind(np.mean(greatest), spread_m_s=np.std(greatest, ddof=1), years=years))


def _monthly(month: NDArray[np.int64], speed: FloatArray) -> FloatArray:
    """Greatest wind of each month that has any."""
    if not len(month):
        return np.empty(0)
    order = np.argsort(month, kind="stable")
    starts = np.flatnonzero(np.diff(month[order], prepend=month[order][0] - 1))
    greatest: FloatArray = np.maximum.reduceat(speed[order], starts)
    return greatest


def _hours_expected(time: NDArray[np.datetime64], months: NDArray[np.int64]) -> FloatArray:
    """How many readings a whole month would have, at the record's own step."""
    steps = np.diff(np.sort(time)).astype("timedelta64[s]").astype(np.float64)
    step_s = float(np.median(steps[steps > 0])) if (steps > 0).any() else 3600.0
    start = months.astype("datetime64[M]")
    seconds = (start + 1).astype("datetime64[s]") - start.astype("datetime64[s]")
    expected: FloatArray = seconds.astype(np.float64) / step_s
    return expected


RETURN_WIND: Final = Formula(
    key="return_wind",
    name="Wind of the return period",
    symbol="U_r",
    words="U_r = U_m + 0.78 σ_m [ln(12 r) − 0.577]",
    unit="m/s",
    source=_CEM,
    terms={
        "mean_m_s": Term(symbol="U_m", name="mean of the monthly greatest winds", unit="m/s"),
        "spread_m_s": Term(symbol="σ_m", name="their standard deviation", unit="m/s"),
        "years": Term(symbol="r", name="return period in years", unit=""),
    },
    law=gumbel_wind,
    valid="3 whole years of record or more",
)
