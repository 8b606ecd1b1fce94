"""How heavy a secondary must be for its primary, and how light for the line."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from lakemap.basis.published import GRAVITY_M_S2
from lakemap.basis.records import BoolArray, FloatArray
from lakemap.loads.storm import GREATEST_WIND_M_S, Storms, push_at, wind_that_pulls
from lakemap.rig.blocks import BlockWeight
from lakemap.rig.snatch import secondary_inertia
from lakemap.sizing.lines import pulls
from lakemap.sizing.loads import Moving, snap
from lakemap.sizing.rigs import Rigs, displaced_m3
from lakemap.sizing.statics import LEVELS

MOST_BLOCKS: Final = 60  # in one cluster; nobody lays more
_HALVINGS: Final = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class Strain:
    """What the bounds of a secondary rest on; shape [n]."""

    rigs: Rigs
    storm: Storms
    jerked: Moving
    wake_height_m: FloatArray
    wake_period_s: float
    unit: BlockWeight  # of one block of each float's kind
    working_n: FloatArray  # of the weakest part of each line


@dataclass(frozen=True, slots=True, kw_only=True)
class SecondaryBounds:
    """Counts of blocks and winds; shape [n]."""

    least: FloatArray  # blocks that leave no uplift at the primary; NaN: no count does
    most: FloatArray  # blocks whose snatch the line still carries; NaN: not even one
    uplift_from_m_s: FloatArray  # wind that lifts at the primary with the secondary as it is
    snatch_from_m_s: FloatArray  # wind whose snatch passes the weakest part's working strength


def secondary_bounds(strain: Strain) -> SecondaryBounds:
    """Return the least and the most blocks of a secondary, and where the one that is there fails.

    Parameters
    ----------
    strain : Strain
        Rigs in their storm.

    Returns
    -------
    SecondaryBounds
        Whole counts of each float's own kind of block.
    """
    full = _least_full_pull(strain.rigs, None)
    return SecondaryBounds(
        least=_least_blocks(strain),
        most=_most_blocks(strain),
        uplift_from_m_s=wind_that_pulls(strain.storm, full),
        snatch_from_m_s=_snatch_wind(strain),
    )


def _least_full_pull(rigs: Rigs, wet_n: FloatArray | None) -> FloatArray:
    """Pull from which the primary is lifted at, the least of the three lake levels."""
    found = [pulls(rigs.line(level, secondary_wet_n=wet_n)).full_n for level in LEVELS]
    least: FloatArray = np.minimum.reduce(found)
    return least


def _least_blocks(strain: Strain) -> FloatArray:
    """Fewest blocks that leave no uplift under the mean pull at any level; by halving counts."""
    mean = strain.storm.mean_n
    unit = np.maximum(strain.unit.wet_n, 0.0)

    def holds(count: FloatArray) -> BoolArray:
        return _least_full_pull(strain.rigs, count * unit) >= mean

    low, high = np.zeros(len(mean)), np.full(len(mean), float(MOST_BLOCKS))
    possible = holds(high)
    for _ in range(MOST_BLOCKS.bit_length()):
        middle = np.floor((low + high) / 2)
        good = holds(middle)
        high = np.where(good, middle, high)
        low = np.where(good, low, np.minimum(middle + 1, high))
    return np.where(possible, high, np.nan)


def snap_of_blocks(strain: Strain, blocks: FloatArray) -> FloatArray:
    """Return the larger snatch of storm and wake for counts of blocks in the secondary.

    Parameters
    ----------
    strain : Strain
        Rigs in their storm.
    blocks : ndarray, shape [n, m]
        Counts.

    Returns
    -------
    ndarray, shape [n, m]
        Pull [N]; NaN where neither is known.
    """
    unit = strain.unit
    inertia = secondary_inertia(unit.dry_n / GRAVITY_M_S2.value, volume_m3=displaced_m3(unit))
    jerked = Moving(
        mass_kg=strain.jerked.mass_kg[:, None],
        stiffness_n_m=strain.jerked.stiffness_n_m[:, None],
        secondary_kg=blocks * inertia[:, None],
        secondary_wet_n=blocks * np.maximum(unit.wet_n, 0.0)[:, None],
    )
    storm = snap(strain.storm.highest_m[:, None], strain.storm.period_s[:, None], jerked)
    wake = snap(strain.wake_height_m[:, None], strain.wake_period_s, jerked)
    return np.fmax(storm, wake)


def _most_blocks(strain: Strain) -> FloatArray:
    """Most blocks whose snatch stays within the weakest part's working strength."""
    counts = np.arange(1.0, MOST_BLOCKS + 1)
    within = snap_of_blocks(strain, np.broadcast_to(counts, (len(strain.working_n), len(counts))))
    fits = (within <= strain.working_n[:, None]).sum(axis=1)
    return np.where(fits > 0, fits.astype(np.float64), np.nan)


def _snatch_wind(strain: Strain) -> FloatArray:
    """Wind whose waves snatch as hard as the weakest part may carry; 0: a wake does it alone."""
    working = strain.working_n
    low, high = np.zeros(len(working)), np.full(len(working), GREATEST_WIND_M_S)

    def over(wind: FloatArray) -> BoolArray:
        push = push_at(strain.storm, wind)
        return snap(push.highest_m, push.period_s, strain.jerked) > working

    never = ~over(high)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        beyond = over(middle)
        low, high = np.where(beyond, low, middle), np.where(beyond, middle, high)
    wake = snap(strain.wake_height_m, strain.wake_period_s, strain.jerked) > working
    found = np.where(never, np.inf, high)
    found = np.where(np.isnan(strain.storm.fetch_m) | np.isnan(working), np.nan, found)
    return np.where(wake, 0.0, found)
