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
_EULER: Final = 0.577  # Euler's constant as eq. II-8-3 prints it
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

    @property
    def sector_from_deg(self) -> FloatArray:
        """Bearings of the middles of the sectors [deg], shape [16]."""
        return np.arange(SECTORS, dtype=np.float64) * _SECTOR_DEG


def gumbel_wind(mean_m_s: ArrayLike, *, spread_m_s: ArrayLike, years: ArrayLike) -> FloatArray:
    """Return the wind of a return period from monthly greatest winds.

    U_r = U_m + 0.78 s_m [ln(12 r) - 0.577], Gumbel's law by moments. Source: Coastal Engineering
    Manual, EM 1110-2-1100, part II ch. 8, 2003, eq. II-8-3.

    Parameters
    ----------
    mean_m_s, spread_m_s : array_like
        Mean U_m and standard deviation s_m of the monthly greatest winds [m/s].
    years : array_like
        Return period r [years], above one month.

    Returns
    -------
    ndarray
        Wind [m/s].

    Raises
    ------
    RangeError
        If a return period is not above one month; names each.
    """
    reduced = _log_months(years) - _EULER
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
        Return period r [years], above one month.
    months : array_like
        How many months N, > 0.

    Returns
    -------
    ndarray
        Standard error [m/s].

    Raises
    ------
    RangeError
        If a return period is not above one month; names each.
    """
    log = _log_months(years)
    inner = 0.49 + 0.89 * log + 0.67 * (log - _EULER) ** 2
    error: FloatArray = np.asarray(spread_m_s) / np.sqrt(np.asarray(months)) * np.sqrt(inner)
    return error


def _log_months(years: ArrayLike) -> FloatArray:
    """Natural logarithm of the return period in months."""
    months = 12 * np.asarray(years, dtype=np.float64)
    wrong = np.flatnonzero(~(np.isfinite(months) & (months > 1)))
    if wrong.size:
        named = ", ".join(f"[{i}] {months.flat[i] / 12:g}" for i in wrong)
        raise RangeError(f"return period {named} years: must be above 0.083, one month ({_CEM})")
    log: FloatArray = np.log(months)
    return log


def return_wind(
    time: NDArray[np.datetime64], *, speed_m_s: ArrayLike, from_deg: ArrayLike, years: float
) -> ReturnWind:
    """Return the wind that a record of hourly wind reaches once in a number of years.

    Each month's greatest wind, all of them and by sector, then Gumbel's law. A month with readings
    in less than three quarters of its hours is left out and counted in `left_out`; 36 whole months
    are three years' worth, wherever they stand. A record without its stormy season gives too weak a
    wind. A fit to the peaks of storms over the whole record would be better where somebody has the
    time for it.

    Parameters
    ----------
    time : ndarray of datetime64, shape [m]
        When, in any order.
    speed_m_s : array_like, shape [m]
        Wind [m/s], >= 0; rows with NaN, or without a time, are left out.
    from_deg : array_like, shape [m]
        The bearing it comes from [deg]; a row with NaN counts for all directions only.
    years : float
        Return period [years], above one month.

    Returns
    -------
    ReturnWind
        For all directions and by sector.

    Raises
    ------
    RangeError
        If there are fewer than 36 whole months, a speed is negative, the columns differ in length,
        or the return period is not above one month.
    """
    speed, bearing = _columns(time, speed_m_s, from_deg)
    known = ~np.isnat(time) & np.isfinite(speed)
    month = time.astype("datetime64[M]").astype(np.int64)
    months, whole = _whole_months(time[known])
    if len(whole) < LEAST_MONTHS.value:
        raise RangeError(
            f"the record has {len(whole)} months with enough hours; a return period needs 36"
            f" ({LEAST_MONTHS.source})"
        )
    used = known & np.isin(month, whole)
    greatest = _monthly(month[used], speed[used])
    aimed = np.isfinite(bearing)
    sector = np.round(np.where(aimed, bearing, 0.0) / _SECTOR_DEG).astype(np.int64) % SECTORS
    by_sector = np.full(SECTORS, np.nan)
    for k in range(SECTORS):
        mine = used & (sector == k) & aimed
        found = _monthly(month[mine], speed[mine])
        if len(found) >= _MONTHS_IN_SECTOR * len(whole):
            by_sector[k] = _fit(found, years)
    return ReturnWind(
        years=years,
        speed_m_s=_fit(greatest, years),
        error_m_s=float(gumbel_error(np.std(greatest, ddof=1), years=years, months=len(greatest))),
        sector_speed_m_s=by_sector,
        months=len(whole),
        left_out=months - len(whole),
    )


def _columns(
    time: NDArray[np.datetime64], speed_m_s: ArrayLike, from_deg: ArrayLike
) -> tuple[FloatArray, FloatArray]:
    speed = np.asarray(speed_m_s, dtype=np.float64)
    bearing = np.asarray(from_deg, dtype=np.float64)
    if not len(time) == len(speed) == len(bearing):
        raise RangeError(f"{len(time)} times, {len(speed)} winds, {len(bearing)} bearings")
    wrong = np.flatnonzero(speed < 0)
    if wrong.size:
        named = "\n".join(f"[{i}] {speed[i]:g} m/s" for i in wrong)
        raise RangeError(f"{named}\na wind is 0 or more ({_CEM})")
    return speed, bearing


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


def _whole_months(time: NDArray[np.datetime64]) -> tuple[int, NDArray[np.int64]]:
    """How many months there are, and which of them are whole at the record's own step.

    Readings closer than an hour count once an hour: a record may be denser in some years.
    """
    hour = np.unique(time.astype("datetime64[h]"))
    step = float(np.median(np.diff(hour).astype(np.float64))) if len(hour) > 1 else 1.0
    months, count = np.unique(hour.astype("datetime64[M]"), return_counts=True)
    hours = (months + 1).astype("datetime64[h]") - months.astype("datetime64[h]")
    whole = months[count >= _FULL_MONTH * hours.astype(np.float64) / step]
    return len(months), whole.astype(np.int64)


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
