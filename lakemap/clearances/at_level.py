"""A placed field as if its lake fell no lower than some level."""

from dataclasses import replace

import numpy as np

from lakemap.clearances.records import CheckSubject
from lakemap.sizing.lying import radius_at


def as_if_lowest(subject: CheckSubject, level_m: float) -> CheckSubject:
    """Return the same field if a level were its lowest.

    Primaries and lengths stay as they lie: they don't move when water falls.

    Parameters
    ----------
    subject : CheckSubject
        Floats, placed, and the lake.
    level_m : float
        On the lake's own gauge [m].

    Returns
    -------
    CheckSubject
        For `check`, whose verdicts are those of the lowest level.
    """
    levels, placement = subject.settings.levels, subject.placement
    rise = level_m - levels.soundings_m
    radius, depth = placement.swing_radius_m.copy(), placement.depth_m.copy()
    at_level = radius_at(placement, rise_m=rise)
    radius[:, 0] = np.where(np.isnan(radius[:, 0]), np.nan, at_level)
    depth[:, 0] = placement.sounding_depth_m + rise
    reach = placement.reach_m.copy()
    reach[:, 0] = at_level - placement.corner_m - placement.extra_m
    aground = depth[:, 0] - placement.hook_depth_m <= 0
    return replace(
        subject,
        settings=replace(subject.settings, levels=replace(levels, low_m=level_m)),
        placement=replace(
            placement, swing_radius_m=radius, reach_m=reach, depth_m=depth, aground=aground
        ),
    )
